//! Sales tax as a balance: what was held for the state at the start of the year, what was
//! collected, passed on and kept in it, and what is held at its end, in all and by place.
//!
//! When tax is owed is the place's rule: on the day of the sale, or as buyers pay. What a channel
//! collects and passes on itself is in no balance.

use super::books::Books;
use super::ledger::{Contribution, Ledger};
use super::names::{FigureName, TaxFigure, Total};
use crate::model::{At, Money, Place, Remitted, Sale, YearBook};
use crate::reckon::payments::{Account, EventKind};
use chrono::NaiveDate;
use rust_decimal::Decimal;
use std::collections::BTreeSet;

const PLUS: Decimal = Decimal::ONE;
const LESS: Decimal = Decimal::NEGATIVE_ONE;

/// Sales tax of one place. Each amount is a figure `tax-KEY-at-start`, `-collected`, `-remitted`,
/// `-kept`, `-held` and `-marketplace`.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct TaxPlace {
    /// A key of `[tax]`; `elsewhere` for tax that names no place.
    pub key: String,
    pub label: String,
    /// As a fraction; nothing where no place is named.
    pub rate: Option<Decimal>,
    /// Held for the state when the year began.
    pub at_start: Money,
    /// Collected by the shop, less what was returned.
    pub collected: Money,
    pub remitted: Money,
    pub kept: Money,
    /// Held for the state at the end of the year.
    pub held: Money,
    /// Collected and passed on by channels.
    pub marketplace: Money,
}

impl TaxPlace {
    fn is_empty(&self) -> bool {
        let moved =
            [self.at_start, self.collected, self.remitted, self.kept, self.held, self.marketplace];
        moved.iter().all(Decimal::is_zero)
    }
}

/// One amount of sales tax on the day it counts.
struct TaxEntry<'a> {
    by_channel: bool,
    /// Key of `[tax]`.
    place_key: Option<&'a str>,
    part: Contribution,
}

/// Every amount of sales tax up to a year's end.
pub(super) struct SalesTaxes<'a> {
    entries: Vec<TaxEntry<'a>>,
    remitted: Vec<&'a Remitted>,
}

/// Everything, or one place; nothing inside is what names no place.
type Which<'a> = Option<Option<&'a str>>;

impl<'a> SalesTaxes<'a> {
    pub fn of(books: &Books<'a>) -> SalesTaxes<'a> {
        let mut entries = Vec::new();
        for (i, piece) in books.shop.pieces.iter().enumerate() {
            for (sale, account) in piece.sale.iter().zip(&books.accounts[i].sales) {
                entries.extend(of_sale(books, i, sale, account));
            }
        }
        entries.extend(books.shop.years.values().flat_map(|book| held_at_first(books, book)));
        entries.retain(|entry| entry.part.on.is_some_and(|on| on <= books.last_day));
        let remitted = books.shop.years.values().flat_map(|book| &book.remitted);
        let remitted = remitted.filter(|one| one.on.value <= books.last_day).collect();
        SalesTaxes { entries, remitted }
    }

    /// What is held of the entries that count.
    pub fn held_by(&self, which: Which, counts: impl Fn(NaiveDate) -> bool) -> Vec<Contribution> {
        let mut held = self.parts(which, false, &counts);
        for amount in [|one: &Remitted| one.amount.value, |one: &Remitted| one.kept] {
            let gone = self.passed_on(which, amount, &counts);
            held.extend(gone.iter().map(|part| part.times(LESS)));
        }
        held
    }

    fn parts(
        &self,
        which: Which,
        by_channel: bool,
        counts: impl Fn(NaiveDate) -> bool,
    ) -> Vec<Contribution> {
        let own = self.entries.iter().filter(|entry| {
            entry.by_channel == by_channel && which.is_none_or(|key| entry.place_key == key)
        });
        let parts = own.map(|entry| &entry.part);
        parts.filter(|part| part.on.is_some_and(&counts)).cloned().collect()
    }

    fn passed_on(
        &self,
        which: Which,
        amount: fn(&Remitted) -> Money,
        counts: impl Fn(NaiveDate) -> bool,
    ) -> Vec<Contribution> {
        let key = |one: &Remitted| one.place_key.as_ref().map(|key| key.value.clone());
        let own = self.remitted.iter().filter(|one| {
            counts(one.on.value) && which.is_none_or(|place| key(one).as_deref() == place)
        });
        own.map(|one| Contribution::new(one.place, one.on.value, one.to.as_str(), amount(one)))
            .collect()
    }
}

/// What was held when the books began: on the day before the first of that year.
fn held_at_first<'a>(books: &Books, book: &'a YearBook) -> Vec<TaxEntry<'a>> {
    let eve = books.shop.tax_year(book.year).eve();
    let held = book.opening.iter().flat_map(|opening| &opening.sales_tax);
    let entry = |(key, amount): &'a (At<String>, Money)| TaxEntry {
        by_channel: false,
        place_key: Some(key.value.as_str()),
        part: Contribution::new(key.place, eve, "held when the books began", *amount),
    };
    held.map(entry).collect()
}

/// The tax of a sale on the days it counts.
fn of_sale<'a>(
    books: &Books<'a>,
    piece: usize,
    sale: &'a Sale,
    account: &Account,
) -> Vec<TaxEntry<'a>> {
    let when_paid = books.shop.tax_when_paid(sale);
    let mut entries = Vec::new();
    let mut add = |place: Place, on, said: &str, amount: Money| {
        let part = Contribution::new(place, on, format!("{}: {said}", books.title(piece)), amount);
        let place_key = sale.tax_place.as_ref().map(|key| key.value.as_str());
        entries.push(TaxEntry { by_channel: !books.shop.collects_tax(sale), place_key, part });
    };
    if !when_paid {
        add(sale.place, sale.on.value, "sales tax", account.asked.tax);
    }
    for event in &account.events {
        let amount = if when_paid { event.moved().tax } else { -event.lowers().tax };
        let said = match event.kind {
            EventKind::Payment if account.has_payments => "payment",
            EventKind::Payment => "sales tax",
            EventKind::Back => "went back",
            EventKind::Allowance => "sales tax of an allowance",
            EventKind::Return => "sales tax returned",
        };
        add(event.place, event.on, said, amount);
    }
    entries
}

/// Enters `tax-at-start`, `tax-collected`, `tax-remitted`, `tax-kept`, `tax-held` and
/// `tax-marketplace`, and `tax-unpaid`: what buyers still owe of it.
pub(super) fn enter_totals(books: &Books, taxes: &SalesTaxes, ledger: &mut Ledger) {
    enter_balance(books, taxes, ledger, None, &FigureName::Tax, "Sales tax");
    ledger.put(
        Total::TaxUnpaid,
        "Sales tax buyers still owe at the end of the year",
        unpaid(books),
    );
}

/// The places of `[tax]` by key, then what names none; places nothing happened in are left out.
pub(super) fn enter(books: &Books, taxes: &SalesTaxes, ledger: &mut Ledger) -> Vec<TaxPlace> {
    let shop = books.shop;
    if shop.taxes.is_empty() {
        return Vec::new();
    }
    let mut places: Vec<Option<&str>> = shop.taxes.keys().map(|key| Some(key.as_str())).collect();
    places.push(None);
    let found = places.into_iter().map(|place| {
        let tax = place.and_then(|key| shop.taxes.get(key));
        let key = place.map_or_else(|| unnamed(books), str::to_owned);
        let label = tax.map_or("no place named".to_owned(), |tax| tax.label.clone());
        let name = |what| FigureName::TaxOf(key.clone(), what);
        let said = format!("Sales tax, {label}");
        let [at_start, collected, remitted, kept, held, marketplace] =
            enter_balance(books, taxes, ledger, Some(place), &name, &said);
        let rate = tax.map(|tax| tax.rate);
        TaxPlace { key, label, rate, at_start, collected, remitted, kept, held, marketplace }
    });
    found.filter(|place| !place.is_empty()).collect()
}

/// Opening, collected, remitted, kept, closing and what channels passed on.
fn enter_balance(
    books: &Books,
    taxes: &SalesTaxes,
    ledger: &mut Ledger,
    which: Which,
    name: &dyn Fn(TaxFigure) -> FigureName,
    said: &str,
) -> [Money; 6] {
    let now = |on: NaiveDate| books.in_year(on);
    let opening = taxes.held_by(which, |on| on <= books.day_before());
    let mut put = |what: TaxFigure, label: &str, parts| {
        ledger.put(name(what), &format!("{said}: {label}"), parts)
    };
    let at_start = put(TaxFigure::AtStart, "held at the start of the year", opening);
    let collected = put(
        TaxFigure::Collected,
        "collected by the shop, less returned",
        taxes.parts(which, false, now),
    );
    let remitted =
        put(TaxFigure::Remitted, "passed on", taxes.passed_on(which, |one| one.amount.value, now));
    let kept =
        put(TaxFigure::Kept, "kept for collecting it", taxes.passed_on(which, |one| one.kept, now));
    let marketplace = put(
        TaxFigure::Marketplace,
        "collected and passed on by channels",
        taxes.parts(which, true, now),
    );
    let of = [
        (TaxFigure::AtStart, PLUS),
        (TaxFigure::Collected, PLUS),
        (TaxFigure::Remitted, LESS),
        (TaxFigure::Kept, LESS),
    ];
    let of = of.map(|(what, sign)| (name(what), sign));
    let label = format!("{said}: held at the end of the year");
    let held = ledger.put_sum(name(TaxFigure::Held), &label, &of);
    [at_start, collected, remitted, kept, held, marketplace]
}

/// What buyers still owe of the tax the shop collects.
fn unpaid(books: &Books) -> Vec<Contribution> {
    let mut parts = Vec::new();
    for (i, piece) in books.shop.pieces.iter().enumerate() {
        for (sale, account) in piece.sale.iter().zip(&books.accounts[i].sales) {
            if sale.on.value <= books.last_day && books.shop.collects_tax(sale) {
                let owed = account.at(books.last_day).owed().tax;
                parts.push(Contribution::new(sale.place, sale.on.value, books.title(i), owed));
            }
        }
    }
    parts
}

/// What the accounts of all sales hold for the state at the year's end, less all that was passed on
/// or kept: the balance by another way than adding up the years.
pub(super) fn held_by_accounts(books: &Books, taxes: &SalesTaxes) -> Money {
    let mut held = Money::ZERO;
    for (i, piece) in books.shop.pieces.iter().enumerate() {
        for (sale, account) in piece.sale.iter().zip(&books.accounts[i].sales) {
            let end = account.at(books.last_day);
            let sold = sale.on.value <= books.last_day;
            held += match books.shop.tax_when_paid(sale) {
                _ if !books.shop.collects_tax(sale) => Money::ZERO,
                true => end.kept().tax,
                false if sold => (end.due - end.refunded).tax,
                false => Money::ZERO,
            };
        }
    }
    let at_first = books.shop.years.values().flat_map(|book| held_at_first(books, book));
    let known = |entry: &TaxEntry| entry.part.on.is_some_and(|on| on <= books.last_day);
    held += at_first.filter(known).map(|entry| entry.part.amount).sum::<Money>();
    held - taxes.remitted.iter().map(|one| one.amount.value + one.kept).sum::<Money>()
}

/// A key no place has.
fn unnamed(books: &Books) -> String {
    let taken: BTreeSet<&str> = books.shop.taxes.keys().map(String::as_str).collect();
    let mut key = "elsewhere".to_owned();
    while taken.contains(key.as_str()) {
        key.push('-');
    }
    key
}
