//! Short ledgers: sales and receipts, workspace, sales tax, vehicle, equipment set apart, who was
//! paid for work and rent, the bank.

use super::ledger::digits;
use super::{Books, bare, per_cent, row};
use crate::describe::wording::{capital, sentence};
use crate::model::{Basis, Closed, Money, and_list, round};
use crate::reckon::year::{Filing, Payee, TaxFigure, TaxPlace, Total};
use crate::typeset::view::{Block, Row, RowKind};

pub(super) fn blocks(books: &Books) -> Vec<Block> {
    let all = [
        owing(books),
        workspace(books),
        sales_tax(books),
        filings(books),
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
    let mut rows = vec![plain(&format!("Area, {}", books.shop.home().area), bare(space.area))];
    rows.push(plain("Months in use", space.months.to_string()));
    rows.push(plain("Average of what counts in each month", bare(round(space.average, 2))));
    let rate = books.rate("workspace-rate")?;
    let mut notes = Vec::new();
    if !space.over.is_zero() {
        rows.push(books.item("less what is over the profit before it", -space.over));
        notes.push("It counts up to the profit before it; the rest counts in no year.".to_owned());
    }
    rows.push(books.total(format!("At {} {}", digits(rate.value), rate.unit), space.amount));
    Some(block("Workspace at home", rows, notes))
}

fn sales_tax(books: &Books) -> Option<Block> {
    let year = books.year;
    let of_shop = [
        year.tax(TaxFigure::AtStart),
        year.tax(TaxFigure::Collected),
        year.tax(TaxFigure::Remitted),
        year.tax(TaxFigure::Kept),
        year.tax(TaxFigure::Held),
    ];
    let mut rows = Vec::new();
    if of_shop.iter().any(|amount| !amount.is_zero()) {
        rows.push(books.item(
            format!("Held for the state on {}", books.begin()),
            year.tax(TaxFigure::AtStart),
        ));
        rows.push(books.item("Collected by the shop", year.tax(TaxFigure::Collected)));
        rows.push(books.item("less passed on in the year", -year.tax(TaxFigure::Remitted)));
        if !year.tax(TaxFigure::Kept).is_zero() {
            rows.push(
                books.item(
                    "less kept for collecting it, which is income",
                    -year.tax(TaxFigure::Kept),
                ),
            );
        }
        rows.push(
            books
                .total(format!("Held for the state on {}", books.end()), year.tax(TaxFigure::Held)),
        );
    }
    if !year.total(Total::TaxUnpaid).is_zero() {
        rows.push(books.item("Sales tax buyers still owe", year.total(Total::TaxUnpaid)));
    }
    if !year.tax(TaxFigure::Marketplace).is_zero() {
        rows.push(books.item("Passed on by channels themselves", year.tax(TaxFigure::Marketplace)));
    }
    let mut notes =
        vec!["Tax collected for the state is neither a receipt nor an expense.".to_owned()];
    notes.extend(year.tax_places.iter().map(|place| of_place(books, place)));
    (!rows.is_empty()).then(|| block("Sales tax", rows, notes))
}

/// What is filed for each period, and what of it was not taxed and why.
fn filings(books: &Books) -> Option<Block> {
    let all = &books.year.filings;
    let rows = all.iter().map(|one| {
        let taxable = books.amount(one.taxable);
        let label = format!("{}, {}: tax on {taxable}", one.label, one.name);
        books.item(&label, one.tax)
    });
    let notes = all.iter().map(|one| of_filing(books, one)).collect();
    (!all.is_empty()).then(|| block("Sales tax by filing period", rows.collect(), notes))
}

/// "2025-q1: 300.00 sold, 50.00 of it exempt (resale); owed on the day of the sale. 0.00 is still
/// due."
fn of_filing(books: &Books, one: &Filing) -> String {
    let mut said = vec![format!("{} sold", books.amount(one.gross))];
    let mut add = |amount: Money, words: String| {
        if !amount.is_zero() {
            said.push(format!("{} {words}", books.amount(amount)));
        }
    };
    add(one.by_channels, "of it through channels that collect the tax".to_owned());
    for (reason, amount) in &one.exempt {
        add(*amount, format!("of it exempt ({})", reason.word()));
    }
    add(one.delivery, "of it delivery that is not taxed".to_owned());
    add(one.remitted, "passed on for it".to_owned());
    add(one.kept, "kept for collecting it".to_owned());
    let rule = if one.when_paid { "as buyers pay" } else { "on the day of the sale" };
    let due = books.amount(one.due);
    let said = and_list(&said);
    sentence(&format!("{}: {said}; owed {rule}; {due} is still due", one.name))
}

/// "Alder County at 8.25 per cent: 12.40 collected, 10.00 passed on, 2.40 held at the end."
fn of_place(books: &Books, place: &TaxPlace) -> String {
    let rate = place.rate.map_or(String::new(), |rate| format!(" at {}", per_cent(rate)));
    let amounts = [
        (place.at_start, "held at the start"),
        (place.collected, "collected"),
        (place.remitted, "passed on"),
        (place.kept, "kept"),
        (place.held, "held at the end"),
        (place.marketplace, "passed on by channels"),
    ];
    let said = amounts.iter().filter(|(amount, _)| !amount.is_zero());
    let said: Vec<String> =
        said.map(|(amount, words)| format!("{} {words}", books.amount(*amount))).collect();
    sentence(&format!("{}{rate}: {}", place.label, and_list(&said)))
}

/// How the sales of the year and its receipts differ, where buyers paid on other days.
fn owing(books: &Books) -> Option<Block> {
    let owing = books.year.owing.as_ref()?;
    let cash = books.shop.basis(books.year.year) == Basis::Cash;
    let (begin, end) = (books.begin(), books.end());
    let mut rows = vec![books.item("Sales of the year, price and delivery", owing.sales)];
    let mut add = |label: &str, amount: Money| {
        if !amount.is_zero() {
            rows.push(books.item(label, amount));
        }
    };
    add("Parts sold by themselves", owing.parts);
    if cash {
        add(&format!("Owed by buyers on {begin}"), owing.owed.0);
        add(&format!("less owed by buyers on {end}"), -owing.owed.1);
        add(&format!("Deposits held on {end}"), owing.deposits.1);
        add(&format!("less deposits held on {begin}"), -owing.deposits.0);
        add("less given up of what was owed", -owing.given_up);
        add("Deposits kept after a sale fell through", owing.kept);
        rows.push(books.total("Receipts", owing.received));
    } else {
        add("Deposits kept after a sale fell through", owing.kept);
        rows.push(books.total("Receipts", owing.sales + owing.parts + owing.kept));
        rows.push(books.item(format!("Owed by buyers on {end}"), owing.owed.1));
        rows.push(books.item(format!("Deposits held on {end}"), owing.deposits.1));
    }
    let note = if cash {
        "On cash basis money counts on the day it is paid; each payment is of the price first, then \
         of the delivery, then of the tax."
    } else {
        "On accrual basis a sale counts on its day, whenever it is paid."
    };
    Some(block("Sales and receipts", rows, vec![note.to_owned()]))
}

fn vehicle(books: &Books) -> Option<Block> {
    let vehicle = books.shop.years.get(&books.year.year)?.vehicle.as_ref()?;
    let unit = books.shop.home().distance.word();
    let driven = |label: &str, distance, kind| row(label, bare(distance), kind);
    let mut rows = vec![driven("For the business", books.year.trips.distance, RowKind::Item)];
    let told = [("Commuting", vehicle.commuting), ("Other", vehicle.other)];
    rows.extend(told.iter().filter_map(|(l, m)| Some(driven(l, (*m)?, RowKind::Item))));
    rows.extend(
        vehicle
            .total
            .map(|total| driven(&format!("All {unit}, as written"), total, RowKind::Total)),
    );
    Some(block(&format!("{} of the vehicle", capital(unit)), rows, Vec::new()))
}

/// What the form's table keeps off every line, with the reason once for each category.
fn apart(books: &Books) -> Option<Block> {
    let apart = &books.year.apart;
    let mut rows: Vec<Row> =
        apart.iter().map(|one| books.item(one.what.as_str(), one.amount)).collect();
    rows.push(books.total("On no line, for the preparer", books.year.total(Total::Apart)));
    let mut notes: Vec<String> =
        apart.iter().map(|one| sentence(&format!("On no line because {}", one.why))).collect();
    notes.dedup();
    (!apart.is_empty()).then(|| block("Equipment set apart", rows, notes))
}

fn helpers(books: &Books) -> Option<Block> {
    let payees = &books.year.payees;
    let rows: Vec<Row> = payees
        .iter()
        .map(|payee| books.item(payee.name.as_deref().unwrap_or("payee not named"), payee.paid))
        .collect();
    let rate = books.rate("payee-report").filter(|_| !rows.is_empty());
    let notes = rate.map(|rate| {
        format!("{}: {}. {}.", rate.label, books.amount(rate.value), to_report(payees))
    });
    (!rows.is_empty()).then(|| block("Paid for work and rent", rows, notes.into_iter().collect()))
}

/// Who reached the threshold, and on which form; that none did is said only where it is sure.
fn to_report(payees: &[Payee]) -> String {
    let reached = |payee: &&Payee| payee.to_report() == Some(true);
    let named: Vec<String> = payees
        .iter()
        .filter(reached)
        .filter_map(|payee| {
            let forms = payee.reports.iter().filter(|report| report.reached == Some(true));
            let forms: Vec<&str> = forms.map(|report| report.form.as_str()).collect();
            Some(format!("{} ({})", payee.name.as_ref()?, and_list(&forms)))
        })
        .collect();
    let unnamed = payees.iter().any(|payee| payee.name.is_none() && !payee.reported().is_zero());
    let said = match named.as_slice() {
        [] if unnamed => "None of those named was paid as much".to_owned(),
        [] => "None was paid as much".to_owned(),
        names => {
            format!("Reached by {}; whether one is due is for the preparer", and_list(names))
        }
    };
    let doubt = if unnamed { "; whom the rest was paid to is not written down" } else { "" };
    format!("{said}{doubt}. What was paid by card or payment service is not counted")
}
