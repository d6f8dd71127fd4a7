//! Random shops with every feature the books view knows, each entry at a place of its own.

use super::expense;
use crate::shops::random::{after_start, random_shop};
use crate::shops::{
    allowance, book, cost, count, income, lot, on_hand, payment, refund, salvaged, stock_item,
    supply, trip, used,
};
use chrono::{Datelike, Days, NaiveDate};
use dovetally::model::{
    Basis, CostKind, FileId, IncomeKind, Order, OrderLine, OrderPayment, Payment, Piece, Place,
    RefundOf, Remitted, SalvagedTo, Shop, Supplies, TripPurpose, YearMethod,
};
use proptest::prelude::*;
use rust_decimal::Decimal;

type Lots = Vec<(u64, i64, Vec<u32>)>;
type Later = Vec<(usize, u64, usize, i64)>;
type Trips = Vec<(u64, u32, usize)>;
type Expenses = Vec<(u64, usize, i64)>;

const CATEGORIES: [&str; 5] = ["advertising", "meals", "equipment", "insurance", "postage"];
const KINDS: [CostKind; 4] =
    [CostKind::Material, CostKind::Hardware, CostKind::PaidWork, CostKind::FreightIn];
const PURPOSES: [TripPurpose; 3] = [TripPurpose::Fetch, TripPurpose::Deliver, TripPurpose::Other];

/// Three years of a shop: bought alone and in lots, with late costs, trips, expenses and tax.
pub fn rich_shop() -> impl Strategy<Value = Shop> {
    let lots =
        prop::collection::vec((0u64..900, 0i64..90_000, prop::collection::vec(0u32..5, 10)), 0..3);
    let later = prop::collection::vec((0usize..10, 0u64..1_090, 0usize..4, 0i64..9_000), 0..8);
    let trips = prop::collection::vec((0u64..1_090, 0u32..900, 0usize..3), 0..6);
    let expenses = prop::collection::vec((0u64..1_090, 0usize..5, 0i64..400_000), 0..8);
    let money = prop::collection::vec(money_seed(), 10);
    let changes = (any::<bool>(), any::<bool>());
    let wax =
        (wax_seed(), prop::collection::vec((0u64..1_090, 0usize..10, 0usize..4, 1i64..900), 0..5));
    (random_shop(10), lots, later, trips, (expenses, changes, wax), (0i64..900, money)).prop_map(
        |(mut made, lots, later, trips, (expenses, changes, (wax, refunds)), (tax, money))| {
            add_lots(&mut made, &lots);
            add_costs(&mut made, &later);
            add_trips(&mut made, &trips);
            add_expenses(&mut made, &expenses);
            for sale in made.pieces.iter_mut().flat_map(|piece| &mut piece.sale) {
                sale.tax_collected = Decimal::new(tax, 2);
            }
            made.channels.get_mut("online").unwrap().collects_tax = true;
            add_money(&mut made, &money);
            add_parts(&mut made, &money);
            add_remitted(&mut made, tax);
            add_wax(&mut made, &wax);
            add_refunds(&mut made, &refunds);
            if changes.0 || changes.1 {
                change_method(&mut made, changes);
            }
            place(&mut made);
            made
        },
    )
}

fn add_lots(made: &mut Shop, lots: &Lots) {
    let names: Vec<String> = made.pieces.iter().map(|piece| piece.name().to_owned()).collect();
    for (days, price, shares) in lots {
        let on = after_start(*days);
        let named = names.iter().zip(shares);
        let shares: Vec<(&str, Decimal)> =
            named.map(|(name, share)| (name.as_str(), (*share).into())).collect();
        if !shares.is_empty() {
            book(made, on.year()).lot.push(lot(on, Decimal::new(*price, 2), &shares));
        }
    }
}

fn add_costs(made: &mut Shop, later: &Later) {
    for &(piece, days, kind, amount) in later {
        if let Some(piece) = made.pieces.get_mut(piece) {
            piece.cost.push(cost(after_start(days), KINDS[kind], Decimal::new(amount, 2)));
        }
    }
}

/// How a piece is paid for and what is taken from it; amounts in hundredths of the price.
#[derive(Clone, Debug)]
struct MoneySeed {
    /// Day after the sale, from 60 before it on, and hundredths paid.
    payments: Vec<(u64, i64)>,
    bounces: bool,
    deposit: bool,
    allowance: (u64, i64),
    /// Hundredths of the purchase that go with a part, into the next piece or sold for as much.
    part: Option<(i64, bool)>,
}

fn money_seed() -> impl Strategy<Value = MoneySeed> {
    let payments = prop::collection::vec((0u64..600, 0i64..23), 0..4);
    let part = prop::option::of((0i64..60, any::<bool>()));
    (payments, any::<bool>(), any::<bool>(), (0u64..400, 0i64..30), part).prop_map(
        |(payments, bounces, deposit, allowance, part)| MoneySeed {
            payments,
            bounces,
            deposit,
            allowance,
            part,
        },
    )
}

/// Hundredths of an amount, to the cent below.
fn hundredths(amount: Decimal, of: i64) -> Decimal {
    (amount * Decimal::from(of) / Decimal::ONE_HUNDRED).trunc_with_scale(2)
}

/// Payments and allowances of pieces sold once; deposits for pieces not sold.
fn add_money(made: &mut Shop, seeds: &[MoneySeed]) {
    for (piece, seed) in made.pieces.iter_mut().zip(seeds) {
        let kept = piece.returned.is_empty();
        match piece.sale.as_slice() {
            [sale] => {
                let on = |days: u64| sale.on.value + Days::new(days) - Days::new(60);
                let price = sale.price.value;
                let paid = seed.payments.iter();
                let paid = paid.map(|&(days, of)| payment(on(days), hundredths(price, of)));
                let mut paid: Vec<_> = paid.collect();
                if let Some(first) = paid.first_mut().filter(|_| seed.bounces) {
                    first.back = Some((first.on.value + Days::new(9)).into());
                }
                let (days, of) = seed.allowance;
                if of > 0 && kept {
                    let lowered = allowance(sale.on.value + Days::new(days), hundredths(price, of));
                    piece.allowance.push(lowered);
                }
                // A payment after a return would be a deposit for another sale.
                let back = piece.returned.first().map(|back| back.on.value);
                paid.retain(|one| back.is_none_or(|back| one.on.value <= back));
                piece.payment = paid;
                refund_what_was_paid(piece);
            }
            [] if seed.deposit && piece.withdrawn.is_none() => {
                piece.payment.push(payment(after_start(500), Decimal::new(4_000, 2)));
            }
            _ => {}
        }
    }
}

/// A buyer who did not pay all gets back what he paid.
fn refund_what_was_paid(piece: &mut Piece) {
    let [sale] = piece.sale.as_slice() else { return };
    let Some(back) = piece.returned.first_mut() else { return };
    let given_back = |one: &&Payment| one.back.is_none_or(|on| on.value >= sale.on.value);
    let of_sale: Vec<&Payment> = piece.payment.iter().filter(given_back).collect();
    let bounced = |one: &&&Payment| one.back.is_some_and(|on| on.value <= back.on.value);
    let paid: Decimal = of_sale.iter().map(|one| one.amount.value).sum();
    let gone: Decimal = of_sale.iter().filter(bounced).map(|one| one.amount.value).sum();
    if !of_sale.is_empty() {
        back.refunded = (paid - gone).min(back.refunded.value).into();
    }
}

/// Parts taken out some time after a piece was bought: into the piece after it, or sold.
fn add_parts(made: &mut Shop, seeds: &[MoneySeed]) {
    let names: Vec<String> = made.pieces.iter().map(|piece| piece.name().to_owned()).collect();
    for (i, (piece, seed)) in made.pieces.iter_mut().zip(seeds).enumerate() {
        let Some((of, sold)) = seed.part else { continue };
        let Some(bought) = piece.bought.as_ref().filter(|_| names.len() > 1) else { continue };
        let cost = hundredths(bought.price.value, of);
        let next = names[(i + 1) % names.len()].clone();
        let to = match sold {
            true => SalvagedTo::Sold((cost + Decimal::ONE).into()),
            false => SalvagedTo::Piece(next.into()),
        };
        let latest = if piece.withdrawn.is_some() { 199 } else { 119 };
        let on = bought.on.value + Days::new((of.unsigned_abs() * 37) % latest);
        piece.salvaged.push(salvaged(on, cost, to));
    }
}

fn add_remitted(made: &mut Shop, tax: i64) {
    let on = after_start(700);
    book(made, on.year()).remitted.push(Remitted {
        on: on.into(),
        to: "the state".to_owned(),
        place_key: None,
        amount: Decimal::new(tax, 2).into(),
        kept: Decimal::new(tax / 40, 2),
        period: None,
        receipt: None,
        place: Place::NOWHERE,
    });
}

/// The last year's books are kept the other way round: their basis, their supplies, or both.
fn change_method(made: &mut Shop, (basis, supplies): (bool, bool)) {
    let other_basis = match made.books.basis {
        Basis::Cash => Basis::Accrual,
        Basis::Accrual => Basis::Cash,
    };
    let other_supplies = match made.books.supplies {
        Supplies::WhenUsed => Supplies::WhenBought,
        Supplies::WhenBought => Supplies::WhenUsed,
    };
    let method = YearMethod {
        basis: basis.then_some(other_basis),
        supplies: supplies.then_some(other_supplies),
        place: Place::NOWHERE,
    };
    book(made, 2025).method = Some(method);
}

/// Wax from the start of 2024 on: what is bought, drawn and counted, several entries on a day.
#[derive(Clone, Debug)]
struct WaxSeed {
    /// Day from the start of 2024, ounces, cents.
    bought: Vec<(u64, u32, i64)>,
    /// Day, piece, quarters of an ounce.
    drawn: Vec<(u64, usize, u32)>,
    /// Day, and quarters of an ounce more than the books say.
    counted: Vec<(u64, i64)>,
}

/// Few days, so that entries fall together.
const WAX_DAYS: u64 = 40;

fn wax_day(day: u64) -> u64 {
    365 + day * 18
}

fn wax_seed() -> impl Strategy<Value = WaxSeed> {
    (
        prop::collection::vec((0..WAX_DAYS, 1u32..30, 0i64..4_000), 0..8),
        prop::collection::vec((0..WAX_DAYS, 0usize..10, 0u32..30), 0..14),
        prop::collection::vec((0..WAX_DAYS, -30i64..30), 0..5),
    )
        .prop_map(|(bought, drawn, counted)| WaxSeed { bought, drawn, counted })
}

fn ounces(quarters: i64) -> String {
    format!("{quarters}/4 oz")
}

fn add_wax(made: &mut Shop, seed: &WaxSeed) {
    made.stock.insert("wax".to_owned(), stock_item("wax", "oz"));
    book(made, 2024).on_hand.push(on_hand("wax", "200 oz", Decimal::new(33_333, 2)));
    for &(day, amount, paid) in &seed.bought {
        let on = after_start(wax_day(day));
        let bought = supply(on, "wax", &format!("{amount} oz"), Decimal::new(paid, 2));
        book(made, on.year()).supply.push(bought);
    }
    let pieces = made.pieces.len();
    let drawn: Vec<_> = seed.drawn.iter().filter(|(_, piece, _)| *piece < pieces).collect();
    for (day, piece, quarters) in &drawn {
        let on = after_start(wax_day(*day));
        made.pieces[*piece].used.push(used(on, "wax", &ounces((*quarters).into())));
    }
    // What the books say by the end of each day, corrected by every count.
    let (mut quarters, mut ever) = (800, 800);
    for day in 0..WAX_DAYS {
        let of_day = seed.bought.iter().filter(|(on, ..)| *on == day);
        let came: i64 = of_day.map(|(_, ounces, _)| i64::from(*ounces) * 4).sum();
        let went = drawn.iter().filter(|(on, ..)| *on == day);
        quarters += came - went.map(|(_, _, quarters)| i64::from(*quarters)).sum::<i64>();
        ever += came;
        if let Some((_, more)) = seed.counted.iter().find(|(on, _)| *on == day) {
            quarters = (quarters + more).min(ever);
            let on = after_start(wax_day(day));
            book(made, on.year()).count.push(count(on, "wax", &ounces(quarters)));
        }
    }
}

/// Refunds: day, piece, what of, hundredths of a purchase or cents.
fn add_refunds(made: &mut Shop, refunds: &[(u64, usize, usize, i64)]) {
    let mut refunded = std::collections::BTreeSet::new();
    for &(days, piece, of, amount) in refunds {
        let on = after_start(days);
        let bought = made.pieces.get(piece).and_then(|piece| piece.bought.clone());
        let (of, amount) = match (of, bought) {
            (0, _) => {
                let (category, share) = ("advertising".to_owned().into(), Decimal::new(75, 2));
                (RefundOf::Expense { category, share }, Decimal::new(amount, 2))
            }
            (1, _) if days > 365 => {
                let (stock, quantity) = ("wax".to_owned().into(), used(on, "wax", "0 oz").quantity);
                (RefundOf::Stock { stock, quantity }, Decimal::new(amount, 2))
            }
            (_, Some(bought)) if bought.on.value <= on && refunded.insert(piece) => {
                let name = made.pieces[piece].name().to_owned();
                let part = hundredths(bought.price.value, amount % 30);
                (RefundOf::Piece(name.into(), None), part)
            }
            _ => continue,
        };
        book(made, on.year()).refund.push(refund(on, amount, of));
    }
}

/// Some for no piece, some for several.
fn add_trips(made: &mut Shop, trips: &Trips) {
    let names: Vec<String> = made.pieces.iter().map(|piece| piece.name().to_owned()).collect();
    for &(days, tenths, purpose) in trips {
        let (on, miles) = (after_start(days), Decimal::new(tenths.into(), 1));
        let mut driven = trip(on, miles, PURPOSES[purpose], None);
        driven.parking = Decimal::from(tenths % 7);
        let shared = names.iter().take(usize::try_from(tenths % 4).unwrap());
        driven.pieces = shared.map(|name| name.clone().into()).collect();
        book(made, on.year()).trip.push(driven);
    }
}

fn add_expenses(made: &mut Shop, expenses: &Expenses) {
    for &(days, category, amount) in expenses {
        let on = after_start(days);
        let mut entry = expense("2023-01-01", CATEGORIES[category], "0");
        entry.share = Decimal::new(25 + amount % 76, 2);
        (entry.on, entry.amount) = (on.into(), Decimal::new(amount, 2).into());
        book(made, on.year()).expense.push(entry);
        if amount % 3 == 0 {
            let kind = if amount % 2 == 0 { IncomeKind::Service } else { IncomeKind::Other };
            book(made, on.year()).income.push(income(on, Decimal::new(amount, 2), kind));
        }
        // Its last day is within the three years.
        if amount % 4 == 0 && days < 970 {
            made.orders.push(order(on, Decimal::new(amount, 2)));
        }
    }
}

/// Asked, half of it paid at once and the rest a month later, when the work is done; the first payment
/// of some bounced, and was given up.
fn order(on: NaiveDate, asked: Decimal) -> Order {
    let (at, later) = (Place::NOWHERE, on + Days::new(31));
    let half = (asked / Decimal::TWO).round_dp(2);
    let bounced = (asked.mantissa() % 8 == 0).then_some(later);
    let paid = |on: NaiveDate, amount: Decimal, back: Option<NaiveDate>| OrderPayment {
        on: on.into(),
        amount: amount.into(),
        back: back.map(Into::into),
        how: None,
        receipt: None,
        place: at,
    };
    let mut glue = expense("2023-01-01", "supplies", "3.10");
    glue.on = later.into();
    Order {
        folder: format!("orders/{on}-{asked}"),
        number: None,
        title: "work".to_owned().into(),
        piece: None,
        received: None,
        customer: None,
        on: on.into(),
        until: None,
        line: vec![OrderLine { what: "work".to_owned(), amount: asked.into() }],
        charged: None,
        work: Vec::new(),
        cost: vec![glue],
        payment: vec![paid(on, half, bounced), paid(later, asked - half, None)],
        done: Some(later.into()),
        given_up: bounced.map(|on| (on + Days::new(90)).into()),
        counted: Vec::new(),
        moved: Vec::new(),
        place: at,
    }
}

/// Gives every entry a place of its own.
fn place(made: &mut Shop) {
    let mut next = 0;
    let mut put = |place: &mut Place| {
        next += 1;
        *place = Place { file: FileId(0), start: next, end: next };
    };
    for piece in &mut made.pieces {
        piece.bought.iter_mut().for_each(|entry| put(&mut entry.place));
        piece.cost.iter_mut().for_each(|entry| put(&mut entry.place));
        piece.used.iter_mut().for_each(|entry| put(&mut entry.place));
        piece.sale.iter_mut().for_each(|entry| put(&mut entry.place));
        piece.returned.iter_mut().for_each(|entry| put(&mut entry.place));
        piece.payment.iter_mut().for_each(|entry| put(&mut entry.place));
        piece.allowance.iter_mut().for_each(|entry| put(&mut entry.place));
        piece.salvaged.iter_mut().for_each(|entry| put(&mut entry.place));
    }
    for order in &mut made.orders {
        order.cost.iter_mut().for_each(|entry| put(&mut entry.place));
        order.payment.iter_mut().for_each(|entry| put(&mut entry.place));
        order.done.iter_mut().for_each(|day| put(&mut day.place));
        order.given_up.iter_mut().for_each(|day| put(&mut day.place));
    }
    let mut orders = std::mem::take(&mut made.orders);
    orders.iter_mut().for_each(|order| order.count(|on| made.basis(made.tax_year_of(on))));
    made.orders = orders;
    for year in made.years.values_mut() {
        year.supply.iter_mut().for_each(|entry| put(&mut entry.place));
        year.trip.iter_mut().for_each(|entry| put(&mut entry.place));
        year.expense.iter_mut().for_each(|entry| put(&mut entry.place));
        year.income.iter_mut().for_each(|entry| put(&mut entry.place));
        year.refund.iter_mut().for_each(|entry| put(&mut entry.place));
        year.on_hand.iter_mut().for_each(|entry| put(&mut entry.place));
        year.count.iter_mut().for_each(|entry| put(&mut entry.place));
        for lot in &mut year.lot {
            put(&mut lot.place);
            lot.pieces.iter_mut().for_each(|(name, _)| put(&mut name.place));
        }
    }
}
