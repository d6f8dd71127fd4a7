//! Deposits in the bank beside what should have come in for sales: a short ledger, with what does
//! not fit named below it, and the table of all of it.

use super::Books;
use super::blocks::block;
use super::rows::{Rows, iso};
use crate::model::counted;
use crate::reckon::year::{BankOutcome, BankRow};
use crate::typeset::view::Block;

/// The most deposits and sales that are named on paper; the table has them all.
const MOST_NAMED: usize = 8;

/// Nothing where the year has no bank export.
pub(super) fn deposits(books: &Books) -> Option<Block> {
    let bank = books.year.bank.as_ref()?;
    let rows = vec![
        books.item("Deposits explained by sales", bank.matched),
        books.item("Deposits nothing in the books explains", bank.extra),
        books.total("Deposits in the bank’s export", bank.deposits),
        books.item("Due from buyers, before fees", bank.expected),
        books.item("less what is in a deposit", -bank.found),
        books.total("Due and in no deposit", bank.missing),
    ];
    Some(block("Deposits in the bank", rows, notes(books, &bank.rows)))
}

fn notes(books: &Books, rows: &[BankRow]) -> Vec<String> {
    let open: Vec<&BankRow> =
        rows.iter().filter(|row| row.outcome != BankOutcome::Matched).collect();
    let mut notes: Vec<String> = open.iter().take(MOST_NAMED).map(|row| note(books, row)).collect();
    let more = open.len().saturating_sub(MOST_NAMED);
    if more > 0 {
        notes.push(format!("{} in bank.csv.", counted(more, "more is", "more are")));
    }
    let kept = |row: &BankRow| row.expected.is_some_and(|due| due != row.amount);
    if rows.iter().any(kept) {
        let fees = "A channel that keeps its fee back pays in that much less than was due.";
        notes.push(fees.to_owned());
    }
    if open.iter().any(|row| row.outcome == BankOutcome::Missing) {
        let late = "What was due late in the year may have come in after it, and cash may never \
                    have been paid in.";
        notes.push(late.to_owned());
    }
    notes
}

/// "3 Mar, 40.00, “paid in”: no sale explains it."
fn note(books: &Books, row: &BankRow) -> String {
    let (day, amount) = (books.day(row.on), books.amount(row.amount));
    match row.outcome {
        BankOutcome::Missing => {
            format!("{day}, {amount}, {}: in no deposit.", row.sales.join("; "))
        }
        _ if row.text.is_empty() => format!("{day}, {amount}: no sale explains this deposit."),
        _ => format!("{day}, {amount}, “{}”: no sale explains this deposit.", row.text),
    }
}

/// What became of a row, as a word for machines.
pub(super) fn outcome(row: &BankRow) -> &'static str {
    match row.outcome {
        BankOutcome::Matched => "matched",
        BankOutcome::Missing => "missing",
        BankOutcome::Extra => "extra",
    }
}

/// Every deposit, and every sale in none.
pub(super) fn table(books: &Books) -> Rows {
    let rows = books.year.bank.iter().flat_map(|bank| &bank.rows).map(|row| {
        vec![
            outcome(row).to_owned(),
            iso(Some(row.on)),
            books.plain(row.amount),
            books.plain_or_none(row.expected),
            row.text.clone(),
            row.sales.join("; "),
            books.places.line(row.place).unwrap_or_default(),
        ]
    });
    rows.collect()
}
