//! A receipt is of one day: where entries of two days name the same one, one of them is probably
//! a slip. Several entries of one day may well share a receipt.

use super::Across;
use crate::model::{At, Finding, Piece, YearBook};
use chrono::NaiveDate;
use std::collections::BTreeMap;

/// An entry's receipt and its day.
type Named<'a> = (&'a At<String>, NaiveDate);

pub(super) fn check(pieces: &[&Piece], books: &[&YearBook], across: &mut Across) {
    let named = pieces.iter().flat_map(|piece| of_piece(piece));
    let named = named.chain(books.iter().flat_map(|book| of_book(book)));
    let mut first: BTreeMap<&str, Named> = BTreeMap::new();
    for (receipt, day) in named {
        match first.get(receipt.value.as_str()) {
            Some((earlier, its_day)) if *its_day != day => {
                across.say(twice(receipt, day, earlier, *its_day));
            }
            Some(_) => {}
            None => drop(first.insert(&receipt.value, (receipt, day))),
        }
    }
}

fn twice(
    receipt: &At<String>,
    day: NaiveDate,
    first: &At<String>,
    first_day: NaiveDate,
) -> Finding {
    let message = format!("`{}` is the receipt of entries of two days", receipt.value);
    Finding::warning("receipt-twice", receipt.place, message)
        .label(format!("for {day}"))
        .second(first.place, format!("for {first_day}"))
        .hint("name the other entry's own receipt, or take one of the lines out")
}

fn of_piece(piece: &Piece) -> Vec<Named<'_>> {
    let bought = piece.bought.iter().map(|e| (e.receipt.as_ref(), e.on.value));
    let cost = piece.cost.iter().map(|e| (e.receipt.as_ref(), e.on.value));
    let sale = piece.sale.iter().map(|e| (e.receipt.as_ref(), e.on.value));
    let paid = piece.payment.iter().map(|e| (e.receipt.as_ref(), e.on.value));
    let allowed = piece.allowance.iter().map(|e| (e.receipt.as_ref(), e.on.value));
    let parts = piece.salvaged.iter().map(|e| (e.receipt.as_ref(), e.on.value));
    with_receipt(bought.chain(cost).chain(sale).chain(paid).chain(allowed).chain(parts))
}

fn of_book(book: &YearBook) -> Vec<Named<'_>> {
    let expense = book.expense.iter().map(|e| (e.receipt.as_ref(), e.on.value));
    let supply = book.supply.iter().map(|e| (e.receipt.as_ref(), e.on.value));
    let lot = book.lot.iter().map(|e| (e.receipt.as_ref(), e.on.value));
    let remitted = book.remitted.iter().map(|e| (e.receipt.as_ref(), e.on.value));
    with_receipt(expense.chain(supply).chain(lot).chain(remitted))
}

fn with_receipt<'a>(
    entries: impl Iterator<Item = (Option<&'a At<String>>, NaiveDate)>,
) -> Vec<Named<'a>> {
    entries.filter_map(|(receipt, day)| Some((receipt?, day))).collect()
}
