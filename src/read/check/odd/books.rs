//! What is odd in the years' books and in shop.toml: an entry written twice, a slipped point.

use super::super::super::odd::limit;
use super::sale::{any_rate, far_apart};
use super::{Asked, Entry};
use crate::model::{At, Closed, Code, Finding, Money, Place, Shop, Supply, YearBook};
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
    let half = limit("premium-high") / Decimal::ONE_HUNDRED;
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

pub(super) fn check(shop: Option<&Shop>, books: &[&YearBook], asked: &mut Asked) {
    for book in books {
        twice(book, asked);
        for lot in &book.lot {
            let entry = Entry { place: lot.place, table: "[[lot]]" };
            purchase(shop, entry, lot.price, lot.premium, lot.tax, asked);
        }
        for trip in &book.trip {
            if trip.distance > limit("trip-long") {
                let unit = shop.map_or("miles", |shop| shop.home().distance.word());
                let message = format!("a trip of {} {unit}", trip.distance.normalize());
                let finding = Finding::warning(Code::TripLong, trip.on.place, message);
                let entry = Entry { place: trip.place, table: "[[trip]]" };
                let fix = format!("fix `{unit}`");
                asked.ask(entry, unit, finding.label("a slipped point?").hint(fix));
            }
            if trip.parking > limit("parking-high") {
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
            && far_apart(price, *earlier_price, limit("supply-price-off"))
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
    let half = limit("rate-high") / Decimal::ONE_HUNDRED;
    for channel in shop.channels.values().filter(|channel| channel.fee >= half) {
        let entry = Entry { place: channel.place, table: "[channel]" };
        asked.ask(entry, "fee", rate_is("fee", channel.fee, channel.place));
    }
    for tax in shop.taxes.values().filter(|tax| tax.rate > any_rate(shop)) {
        let entry = Entry { place: tax.place, table: "[tax]" };
        asked.ask(entry, "rate", rate_is("rate", tax.rate, tax.place));
    }
}

fn rate_is(key: &str, share: Decimal, place: Place) -> Finding {
    let percent = (share * Decimal::ONE_HUNDRED).normalize();
    Finding::warning(Code::RateHigh, place, format!("a `{key}` of {percent} %"))
        .label("a slipped point?")
        .hint(format!("fix `{key}`"))
}
