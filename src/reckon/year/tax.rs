//! Sales tax of the year by place: collected by the shop, passed on, kept, and still held.

use super::books::Books;
use super::ledger::{Contribution, Ledger};
use super::receipts::{Flow, SaleEntry, remitted, remitted_part};
use crate::model::{Money, Remitted};
use rust_decimal::Decimal;

/// Sales tax of one place. Each amount is a figure `tax-KEY-collected`, `-remitted`, `-kept`,
/// `-held` and `-marketplace`.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct TaxPlace {
    /// A key of `[tax]`; `elsewhere` for tax that names no place.
    pub key: String,
    pub label: String,
    /// As a fraction; nothing where no place is named.
    pub rate: Option<Decimal>,
    /// Collected by the shop, less what was returned.
    pub collected: Money,
    pub remitted: Money,
    pub kept: Money,
    /// Collected, less remitted and kept, in the year.
    pub held: Money,
    /// Collected and passed on by channels.
    pub marketplace: Money,
}

/// The places of `[tax]` by key, then what names none; places nothing happened in are left out.
pub(super) fn enter(books: &Books, sales: &[SaleEntry], ledger: &mut Ledger) -> Vec<TaxPlace> {
    if books.shop.taxes.is_empty() {
        return Vec::new();
    }
    let remitted = remitted(books);
    let mut places: Vec<Option<&str>> =
        books.shop.taxes.keys().map(|key| Some(key.as_str())).collect();
    places.push(None);
    let found = places.into_iter().map(|place| enter_place(books, place, sales, &remitted, ledger));
    found.filter(|place| !place.is_empty()).collect()
}

impl TaxPlace {
    fn is_empty(&self) -> bool {
        let moved = [self.collected, self.remitted, self.kept, self.marketplace];
        moved.iter().all(Decimal::is_zero)
    }
}

fn enter_place(
    books: &Books,
    place: Option<&str>,
    sales: &[SaleEntry],
    remitted: &[&Remitted],
    ledger: &mut Ledger,
) -> TaxPlace {
    let tax = place.and_then(|key| books.shop.taxes.get(key));
    let key = place.map_or_else(|| unnamed(books), str::to_owned);
    let label = tax.map_or("no place named".to_owned(), |tax| tax.label.clone());
    let flow = |flow: Flow| -> Vec<Contribution> {
        let own = sales.iter().filter(|entry| entry.tax_place.as_deref() == place);
        own.filter(|entry| entry.flow == flow).map(|entry| entry.part.clone()).collect()
    };
    let own: Vec<&Remitted> = remitted
        .iter()
        .copied()
        .filter(|r| r.place_key.as_ref().map(|key| key.value.as_str()) == place)
        .collect();
    let passed_on = own.iter().map(|r| remitted_part(r, r.amount.value)).collect();
    let kept = own.iter().map(|r| remitted_part(r, r.kept)).collect();
    let mut put = |what: &str, parts| {
        ledger.put(&format!("tax-{key}-{what}"), &format!("Sales tax, {label}: {what}"), parts)
    };
    let collected = put("collected", flow(Flow::TaxCollected));
    let remitted = put("remitted", passed_on);
    let kept = put("kept", kept);
    let marketplace = put("marketplace", flow(Flow::TaxOfMarketplace));
    let names = ["collected", "remitted", "kept"].map(|what| format!("tax-{key}-{what}"));
    let signs = [Decimal::ONE, Decimal::NEGATIVE_ONE, Decimal::NEGATIVE_ONE];
    let of: Vec<(&str, Decimal)> = names.iter().map(String::as_str).zip(signs).collect();
    let held =
        ledger.put_sum(&format!("tax-{key}-held"), &format!("Sales tax, {label}: held"), &of);
    let rate = tax.map(|tax| tax.rate);
    TaxPlace { key, label, rate, collected, remitted, kept, held, marketplace }
}

/// A key no place has.
fn unnamed(books: &Books) -> String {
    let mut key = "elsewhere".to_owned();
    while books.shop.taxes.contains_key(&key) {
        key.push('-');
    }
    key
}
