//! What is odd in the years' books and in shop.toml: an entry written twice, a slipped point.

use super::super::super::odd::limit;
use super::sale::{any_rate, far_apart};
use super::{Asked, Entry};
use crate::model::{
    At, Closed, Code, Expense, Finding, Money, Order, Place, Shop, Supply, Trip, TripPurpose,
    YearBook,
};
use chrono::NaiveDate;
use rust_decimal::Decimal;
use std::collections::BTreeMap;

/// A premium or a tax that no auction and no place takes.
pub(super) fn purchase(
    shop: Option<&Shop>,
    entry: Entry,
    price: At<Money>,
    premium: Money,
    tax: Money,
    asked: &mut Asked,
) {
    let half = limit(Code::PremiumHigh) / Decimal::ONE_HUNDRED;
    if premium > price.value * half {
        let message = format!("a premium of {premium} on {}", price.value);
        let finding = Finding::warning(Code::PremiumHigh, price.place, message);
        let finding = finding.label("a slipped point?").hint("fix `premium`");
        asked.ask(entry, "premium", finding);
    }
    let rate = shop.map_or(Decimal::ONE, any_rate);
    if tax > (price.value + premium) * rate + Decimal::ONE {
        let message = format!("{tax} of tax on {}: more than any rate gives", price.value);
        let finding = Finding::warning(Code::TaxAboveRate, price.place, message);
        asked.ask(entry, "tax", finding.label("taxed too much?").hint("fix `tax`"));
    }
}

/// What the shop sold for in each tax year, and the days of each piece that trips go for.
#[derive(Default)]
pub(super) struct Around<'a> {
    pub sold: BTreeMap<i32, Money>,
    pub days: BTreeMap<&'a str, Days>,
}

/// When a piece came in and when it first went out.
#[derive(Clone, Copy, Default)]
pub(super) struct Days {
    pub bought: Option<NaiveDate>,
    pub sold: Option<NaiveDate>,
}

pub(super) fn check(shop: Option<&Shop>, books: &[&YearBook], around: &Around, asked: &mut Asked) {
    for book in books {
        twice(book, asked);
        amounts(book, around, asked);
        for lot in &book.lot {
            let entry = Entry { place: lot.place, table: "[[lot]]" };
            purchase(shop, entry, lot.price, lot.premium, lot.tax, asked);
        }
        for trip in &book.trip {
            off_day(trip, around, asked);
            if trip.distance > limit(Code::TripLong) {
                let unit = shop.map_or("miles", |shop| shop.home().distance.word());
                let message = format!("a trip of {} {unit}", trip.distance.normalize());
                let finding = Finding::warning(Code::TripLong, trip.on.place, message);
                let entry = Entry { place: trip.place, table: "[[trip]]" };
                let fix = format!("fix `{unit}`");
                asked.ask(entry, unit, finding.label("a slipped point?").hint(fix));
            }
            if trip.parking > limit(Code::ParkingHigh) {
                let message = format!("{} for parking and tolls of one trip", trip.parking);
                let finding = Finding::warning(Code::ParkingHigh, trip.on.place, message);
                let entry = Entry { place: trip.place, table: "[[trip]]" };
                let finding = finding.label("a slipped point?").hint("fix `parking`");
                asked.ask(entry, "parking", finding);
            }
        }
    }
    supply_prices(books, asked);
}

/// Nothing paid, next to nothing of it for the business, or more than the shop could bear.
fn amounts(book: &YearBook, around: &Around, asked: &mut Asked) {
    for supply in &book.supply {
        zero(supply.amount, Entry { place: supply.place, table: "[[supply]]" }, asked);
    }
    let sold = around.sold.get(&book.year).copied().unwrap_or_default();
    let bounded = format!("in a year in which {sold} was sold");
    for expense in &book.expense {
        let entry = Entry { place: expense.place, table: "[[expense]]" };
        spent(expense, entry, asked);
        large(Code::ExpenseOverSales, expense.amount, entry, (sold, &bounded), asked);
    }
    for income in &book.income {
        let entry = Entry { place: income.place, table: "[[income]]" };
        zero(income.amount, entry, asked);
        large(Code::IncomeOverSales, income.amount, entry, (sold, &bounded), asked);
    }
}

/// What was spent on an order is measured by what the order brings.
pub(super) fn orders(orders: &[&Order], asked: &mut Asked) {
    for order in orders {
        let brings = order.price();
        let bounded = format!("for work that brings {brings}");
        for cost in &order.cost {
            let entry = Entry { place: cost.place, table: "[[cost]]" };
            spent(cost, entry, asked);
            large(Code::CostOverPrice, cost.amount, entry, (brings, &bounded), asked);
        }
        for paid in &order.payment {
            zero(paid.amount, Entry { place: paid.place, table: "[[payment]]" }, asked);
        }
    }
}

fn spent(expense: &Expense, entry: Entry, asked: &mut Asked) {
    zero(expense.amount, entry, asked);
    if expense.share < limit(Code::ShareLow) / Decimal::ONE_HUNDRED {
        let percent = (expense.share * Decimal::ONE_HUNDRED).normalize();
        let message = format!("a business share of {percent} %");
        let finding = Finding::warning(Code::ShareLow, expense.place, message);
        asked.ask(entry, "share", finding.label("a slipped point?").hint("fix `share`"));
    }
}

/// An amount many times what bounds it; nothing is known of a bound of nothing.
fn large(code: Code, amount: At<Money>, entry: Entry, bound: (Money, &str), asked: &mut Asked) {
    let (most, words) = bound;
    if !most.is_zero() && amount.value > most * limit(code) {
        let finding = Finding::warning(code, amount.place, format!("{} {words}", amount.value));
        asked.ask(entry, "amount", finding.label("a slipped point?").hint("fix the amount"));
    }
}

/// Asks about an entry of nothing.
pub(super) fn zero(amount: At<Money>, entry: Entry, asked: &mut Asked) {
    if amount.value.is_zero() {
        let finding = Finding::warning(Code::AmountZero, amount.place, "an entry of 0.00");
        let hint = "write what was paid, or remove the entry";
        asked.ask(entry, "amount", finding.label("nothing was paid?").hint(hint));
    }
}

/// To fetch what was not bought for weeks, or to deliver what was not sold.
fn off_day(trip: &Trip, around: &Around, asked: &mut Asked) {
    let days = trip.pieces.iter().filter_map(|piece| around.days.get(piece.value.as_str()));
    let Some(days) = days.min_by_key(|days| (days.bought, days.sold)).copied() else { return };
    let (day, what) = match trip.purpose {
        TripPurpose::Fetch => (days.bought, "bought"),
        TripPurpose::Deliver => (days.sold, "sold"),
        TripPurpose::Other => return,
    };
    let Some(day) = day else { return };
    let before = (day - trip.on.value).num_days();
    if before > i64::try_from(limit(Code::TripOffDay)).unwrap_or(i64::MAX) {
        let message = format!("{before} days before the piece was {what}, on {day}");
        let finding = Finding::warning(Code::TripOffDay, trip.on.place, message);
        let entry = Entry { place: trip.place, table: "[[trip]]" };
        asked.ask(entry, "on", finding.label("which day?").hint("fix the day or the `purpose`"));
    }
}

/// An entry as far as a copy of it is the same, and where it stands.
struct Copied<'a> {
    table: &'static str,
    on: NaiveDate,
    /// Who was paid, else what for.
    whom: &'a str,
    amount: At<Money>,
    place: Place,
}

fn entries(book: &YearBook) -> Vec<Copied<'_>> {
    let expense = book.expense.iter().map(|e| Copied {
        table: "[[expense]]",
        on: e.on.value,
        whom: e.to.as_deref().unwrap_or(&e.what),
        amount: e.amount,
        place: e.place,
    });
    let supply = book.supply.iter().map(|s| Copied {
        table: "[[supply]]",
        on: s.on.value,
        whom: &s.stock.value,
        amount: s.amount,
        place: s.place,
    });
    let lot = book.lot.iter().map(|l| Copied {
        table: "[[lot]]",
        on: l.on.value,
        whom: l.from.as_deref().unwrap_or(&l.what),
        amount: l.price,
        place: l.place,
    });
    let remitted = book.remitted.iter().map(|r| Copied {
        table: "[[remitted]]",
        on: r.on.value,
        whom: &r.to,
        amount: r.amount,
        place: r.place,
    });
    expense.chain(supply).chain(lot).chain(remitted).collect()
}

/// The same day, payee and amount.
fn twice(book: &YearBook, asked: &mut Asked) {
    let mut first: BTreeMap<(&str, NaiveDate, &str, Money), Place> = BTreeMap::new();
    for entry in entries(book) {
        let same = (entry.table, entry.on, entry.whom, entry.amount.value);
        if let Some(place) = first.get(&same) {
            let message = format!("{} to {} on {} twice", entry.amount.value, entry.whom, entry.on);
            let finding = Finding::warning(Code::EntryTwice, entry.amount.place, message);
            let finding = finding.label("again here").second(*place, "already here");
            let key = if entry.table == "[[lot]]" { "price" } else { "amount" };
            let entry = Entry { place: entry.place, table: entry.table };
            asked.ask(entry, key, finding.hint("remove one of the two"));
        } else {
            first.insert(same, entry.place);
        }
    }
}

/// What as much of a stock item cost before.
fn supply_prices(books: &[&YearBook], asked: &mut Asked) {
    let mut before: BTreeMap<&str, (&Supply, Decimal)> = BTreeMap::new();
    for supply in books.iter().flat_map(|book| &book.supply) {
        let quantity = supply.quantity.value.in_base();
        let Some(price) = supply.amount.value.checked_div(quantity) else { continue };
        let family = |other: &Supply| other.quantity.value.unit.family;
        let known = before.get(supply.stock.value.as_str());
        if let Some((earlier, earlier_price)) = known.filter(|(e, _)| family(e) == family(supply))
            && far_apart(price, *earlier_price, limit(Code::SupplyPriceOff))
        {
            let message = format!("`{}` at a far other price than before", supply.stock.value);
            let finding = Finding::warning(Code::SupplyPriceOff, supply.amount.place, message);
            let finding = finding.label("a slipped point?").second(earlier.place, "before");
            let entry = Entry { place: supply.place, table: "[[supply]]" };
            let hint = "fix the amount or the quantity of one of the two";
            asked.ask(entry, "amount", finding.hint(hint));
            continue;
        }
        before.insert(&supply.stock.value, (supply, price));
    }
}

/// Fees and taxes of shop.toml that no channel and no place takes.
pub(super) fn rates(shop: &Shop, asked: &mut Asked) {
    let half = limit(Code::RateHigh) / Decimal::ONE_HUNDRED;
    for channel in shop.channels.values().filter(|channel| channel.fee >= half) {
        let entry = Entry { place: channel.place, table: "[channel]" };
        asked.ask(entry, "fee", rate_is(Code::RateHigh, "fee", channel.fee, channel.place));
    }
    for tax in shop.taxes.values() {
        let entry = Entry { place: tax.place, table: "[tax]" };
        if tax.rate > any_rate(shop) {
            asked.ask(entry, "rate", rate_is(Code::RateHigh, "rate", tax.rate, tax.place));
        }
        if tax.rate * Decimal::ONE_THOUSAND < limit(Code::RateLow) && !tax.rate.is_zero() {
            asked.ask(entry, "rate", rate_is(Code::RateLow, "rate", tax.rate, tax.place));
        }
    }
    for channel in shop.channels.values().filter(|c| c.fixed_fee > limit(Code::FixedFeeHigh)) {
        let message = format!("{} kept of each sale", channel.fixed_fee);
        let finding = Finding::warning(Code::FixedFeeHigh, channel.place, message);
        let entry = Entry { place: channel.place, table: "[channel]" };
        let finding = finding.label("a slipped point?").hint("fix `fixed-fee`");
        asked.ask(entry, "fixed-fee", finding);
    }
    if let Some(rate) = shop.shop_rate.filter(|rate| rate.value > limit(Code::ShopRateHigh)) {
        let finding = Finding::warning(
            Code::ShopRateHigh,
            rate.place,
            format!("{} for an hour of yours", rate.value),
        );
        // Of the file's own table no place is kept: the key is in no other table of the file.
        let own =
            |(place, key): &&(Place, String)| place.file == rate.place.file && key == "shop-rate";
        let place = asked.confirmed.iter().find(own).map_or(rate.place, |(place, _)| *place);
        let entry = Entry { place, table: "" };
        let finding = finding.label("a slipped point?").hint("fix `shop-rate`");
        asked.ask(entry, "shop-rate", finding);
    }
}

fn rate_is(code: Code, key: &str, share: Decimal, place: Place) -> Finding {
    let percent = (share * Decimal::ONE_HUNDRED).normalize();
    Finding::warning(code, place, format!("a `{key}` of {percent} %"))
        .label("a slipped point?")
        .hint(format!("fix `{key}`"))
}
