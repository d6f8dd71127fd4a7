//! Random shops of sales alone: several of a set, paid at once, in parts, by cheques that bounce,
//! with deposits given back, allowances, returns of a named sale, and tax of several places.

use super::random::after_start;
use super::{allowance, book, bought, channel, payment, piece, returned, sale, shop};
use chrono::{Datelike, NaiveDate};
use dovetally::model::{
    Basis, Money, Payment, Piece, Place, Remitted, Return, Sale, SalesTax, Shop, TaxOwed,
};
use proptest::prelude::*;
use rust_decimal::Decimal;

/// Keys of the places of every such shop; the last leaves the day its tax is owed to the books.
pub const PLACES: [&str; 3] = ["sold", "paid", "plain"];

fn cents(cents: i64) -> Money {
    Decimal::new(cents, 2)
}

/// One sale; amounts in cents, days after the sale.
#[derive(Clone, Debug)]
struct SaleSeed {
    gap: u64,
    asked: [i64; 3],
    channel: usize,
    place: usize,
    /// Day after the sale less 40, hundredths of all that is asked, and how it ends.
    paid: Vec<(u64, i64, u8)>,
    /// Hundredths of the price, of the tax; nothing below 10.
    allowed: (i64, i64),
    /// Hundredths of what was paid; units; days after the last payment. Nothing below 40.
    back: (i64, u32, u64),
}

fn sale_seed() -> impl Strategy<Value = SaleSeed> {
    let paid = prop::collection::vec((0u64..160, 0i64..34, 0u8..5), 0..4);
    (
        (1u64..70, 1i64..40_000, 0i64..4_000, 0i64..3_000),
        (0usize..3, 0usize..4, paid),
        ((0i64..60, 0i64..100), (0i64..101, 1u32..3, 1u64..120)),
    )
        .prop_map(|((gap, price, delivery, tax), (channel, place, paid), (allowed, back))| {
            let asked = [price, delivery, tax];
            SaleSeed { gap, asked, channel, place, paid, allowed, back }
        })
}

const LAST_PAYMENT: u64 = 130;

/// Adds a sale of one or more units with all that follows it. Returns the units it leaves out.
fn add(made: &mut Piece, seed: &SaleSeed, on: NaiveDate, units: u32, alone: bool) {
    let days = |days: u64| on + chrono::Days::new(days);
    let [price, delivery, tax] = seed.asked;
    made.sale.push(Sale {
        delivery_charged: cents(delivery),
        tax_collected: cents(tax),
        channel: [Some("online"), Some("stall"), None][seed.channel]
            .map(|key| key.to_owned().into()),
        tax_place: PLACES.get(seed.place).map(|key| (*key).to_owned().into()),
        count: Some(units.into()),
        ..sale(on, cents(price))
    });
    let total = price + delivery + tax;
    let sale_on = (!alone).then(|| on.into());
    let (mut in_all, mut any) = (0, false);
    for &(day, of, ends) in &seed.paid {
        let (amount, paid_on) = (total * of / 100, days(day) - chrono::Days::new(40));
        let mut one = Payment { sale_on, ..payment(paid_on, cents(amount)) };
        match ends {
            // It bounces, and is paid again.
            0 => {
                one.back = Some((paid_on + chrono::Days::new(4)).into());
                let again = paid_on + chrono::Days::new(9);
                made.payment.push(Payment { sale_on, ..payment(again, cents(amount)) });
                in_all += amount;
            }
            // It bounces, and that is all.
            1 => one.back = Some((paid_on + chrono::Days::new(4)).into()),
            _ => in_all += amount,
        }
        // What is given back before the sale is a deposit of no sale.
        any |= ends != 1 || !alone || paid_on + chrono::Days::new(4) >= on;
        made.payment.push(one);
    }
    let paid = if any { in_all } else { total };
    let mut left = price + delivery;
    let (of_price, of_tax) = seed.allowed;
    let mut tax_left = tax;
    let mut paid = paid;
    if of_price >= 10 {
        let (amount, back) = (price * of_price / 100, tax * of_tax / 100);
        let mut one = allowance(days(LAST_PAYMENT), cents(amount));
        (one.tax_returned, one.sale_on) = (cents(back), sale_on);
        made.allowance.push(one);
        (left, tax_left) = (left - amount, tax_left - back);
        paid = paid.min(left + tax_left);
    }
    let (of_paid, count, wait) = seed.back;
    if of_paid >= 40 {
        // Money is of the price and the delivery first.
        let most = paid.min(left);
        made.returned.push(Return {
            sale_on: Some(on.into()),
            count: Some(count.min(units).into()),
            tax_returned: cents(tax_left * of_paid / 100),
            ..returned(days(LAST_PAYMENT + wait), cents(most * of_paid / 100))
        });
    }
}

fn places() -> [SalesTax; 3] {
    let owed = [Some(TaxOwed::WhenSold), Some(TaxOwed::WhenPaid), None];
    std::array::from_fn(|i| SalesTax {
        key: PLACES[i].to_owned(),
        label: PLACES[i].to_owned(),
        rate: Decimal::new(8, 2),
        on_delivery: false,
        owed: owed[i],
        files: None,
        place: Place::NOWHERE,
    })
}

fn remitted(seed: &(u64, usize, i64, i64)) -> Remitted {
    let &(days, place, amount, kept) = seed;
    Remitted {
        on: after_start(days).into(),
        to: "the state".to_owned(),
        place_key: PLACES.get(place).map(|key| (*key).to_owned().into()),
        amount: cents(amount).into(),
        kept: cents(kept),
        period: None,
        receipt: None,
        place: Place::NOWHERE,
    }
}

/// Up to six pieces or sets of up to four, each with up to three sales.
pub fn shop_of_buyers() -> impl Strategy<Value = Shop> {
    let pieces = prop::collection::vec((0u64..500, prop::collection::vec(sale_seed(), 1..4)), 1..6);
    let passed_on = prop::collection::vec((0u64..1_090, 0usize..4, 0i64..5_000, 0i64..99), 0..5);
    (pieces, passed_on, any::<bool>()).prop_map(|(pieces, passed_on, accrual)| {
        let mut made = shop();
        made.books.basis = if accrual { Basis::Accrual } else { Basis::Cash };
        let mut online = channel("online", Decimal::new(1, 1), cents(30));
        online.collects_tax = true;
        let stall = channel("stall", Decimal::ZERO, cents(100));
        made.channels = [online, stall].map(|c| (c.key.clone(), c)).into();
        made.taxes = places().map(|tax| (tax.key.clone(), tax)).into();
        for (i, (start, sales)) in pieces.iter().enumerate() {
            let mut own = piece(&format!("pieces/{i:04}"));
            own.bought = Some(bought(after_start(*start), cents(1_000)));
            own.count = 2 * u32::try_from(sales.len()).unwrap();
            let (mut on, alone) = (*start, sales.len() == 1);
            for seed in sales {
                on += seed.gap;
                add(&mut own, seed, after_start(on), 2, alone);
            }
            made.pieces.push(own);
        }
        for seed in &passed_on {
            book(&mut made, after_start(seed.0).year()).remitted.push(remitted(seed));
        }
        made
    })
}
