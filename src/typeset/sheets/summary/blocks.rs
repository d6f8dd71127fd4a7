//! Short ledgers: workspace, sales tax, vehicle, equipment set apart, paid helpers, the bank.

use super::ledger::digits;
use super::{Books, bare, row};
use crate::describe::wording::sentence;
use crate::model::{Money, and_list};
use crate::typeset::view::{Block, Row, RowKind};

pub(super) fn blocks(books: &Books) -> Vec<Block> {
    let all = [
        workspace(books),
        sales_tax(books),
        vehicle(books),
        apart(books),
        helpers(books),
        super::bank::deposits(books),
    ];
    all.into_iter().flatten().collect()
}

pub(super) fn block(heading: &str, rows: Vec<Row>, notes: Vec<String>) -> Block {
    Block { heading: heading.to_owned(), rows, notes }
}

fn workspace(books: &Books) -> Option<Block> {
    let space = books.year.workspace.as_ref()?;
    let plain = |label: &str, number| row(label, number, RowKind::Item);
    let mut rows = vec![plain("Area, square feet", bare(space.area))];
    if space.counted != space.area {
        rows.push(plain("of it counted", bare(space.counted)));
    }
    rows.push(plain("Months in use", space.months.to_string()));
    let rate = books.rate("workspace-rate").map_or(Money::ZERO, |rate| rate.value);
    rows.push(books.total(format!("At {} a square foot a year", digits(rate)), space.amount));
    Some(block("Workspace at home", rows, Vec::new()))
}

fn sales_tax(books: &Books) -> Option<Block> {
    let year = books.year;
    let of_shop = [year.tax_collected, year.tax_remitted];
    let mut rows = Vec::new();
    if of_shop.iter().any(|amount| !amount.is_zero()) {
        rows.push(books.item("Collected by the shop", year.tax_collected));
        rows.push(books.item("less passed on in the year", -year.tax_remitted));
        rows.push(books.total("Not passed on in the year", year.tax_held));
    }
    if !year.tax_marketplace.is_zero() {
        rows.push(books.item("Passed on by channels themselves", year.tax_marketplace));
    }
    let note = "Tax collected for the state is neither a receipt nor an expense.".to_owned();
    (!rows.is_empty()).then(|| block("Sales tax", rows, vec![note]))
}

fn vehicle(books: &Books) -> Option<Block> {
    let vehicle = books.shop.years.get(&books.year.year)?.vehicle.as_ref()?;
    let miles = |label: &str, miles, kind| row(label, bare(miles), kind);
    let mut rows = vec![miles("For the business", books.year.trips.miles, RowKind::Item)];
    let told = [("Commuting", vehicle.commuting), ("Other", vehicle.other)];
    rows.extend(told.iter().filter_map(|(l, m)| Some(miles(l, (*m)?, RowKind::Item))));
    rows.extend(vehicle.total.map(|total| miles("All miles, as written", total, RowKind::Total)));
    Some(block("Miles of the vehicle", rows, Vec::new()))
}

/// What the form's table keeps off every line, with the reason once for each category.
fn apart(books: &Books) -> Option<Block> {
    let apart = &books.year.apart;
    let mut rows: Vec<Row> =
        apart.iter().map(|one| books.item(one.what.as_str(), one.amount)).collect();
    rows.push(books.total("On no line, for the preparer", books.year.ledger.amount("apart")));
    let mut notes: Vec<String> =
        apart.iter().map(|one| sentence(&format!("On no line because {}", one.why))).collect();
    notes.dedup();
    (!apart.is_empty()).then(|| block("Equipment set apart", rows, notes))
}

fn helpers(books: &Books) -> Option<Block> {
    let payees = &books.year.payees;
    let rows = payees.iter().map(|payee| books.item(payee.name.as_str(), payee.paid)).collect();
    let notes = books.rate("payee-report").map(|rate| {
        let reached = payees.iter().filter(|payee| payee.to_report == Some(true));
        let reached: Vec<&str> = reached.map(|payee| payee.name.as_str()).collect();
        let said = match reached.as_slice() {
            [] => "None was paid as much".to_owned(),
            names => {
                format!("Reached by {}; whether one is due is for the preparer", and_list(names))
            }
        };
        format!("{}: {}. {said}.", rate.label, books.amount(rate.value))
    });
    (!payees.is_empty()).then(|| block("Paid helpers", rows, notes.into_iter().collect()))
}
