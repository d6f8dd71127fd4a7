//! A receipt is of one day: where entries of two days name the same one, one of them is probably
//! a slip. Several entries of one day may well share a receipt.

use super::Across;
use crate::model::{At, Code, Finding, Order, Piece, YearBook};
use chrono::NaiveDate;
use std::collections::BTreeMap;

/// An entry's receipt and its day.
type Named<'a> = (&'a At<String>, NaiveDate);

pub(super) fn check(
    pieces: &[&Piece],
    books: &[&YearBook],
    orders: &[&Order],
    across: &mut Across,
) {
    let of_pieces = pieces.iter().flat_map(|piece| piece.entries(0));
    // Which day stock on hand counts on is all the same: it names no receipt.
    let of_books = books.iter().flat_map(|book| book.entries(NaiveDate::MIN));
    let entries = of_pieces.chain(of_books);
    let named = entries.filter_map(|entry| Some((entry.receipt()?, entry.on)));
    let of_orders = orders.iter().flat_map(|order| order.receipts());
    let named = named.chain(of_orders.map(|(receipt, on)| (receipt, on.value)));
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
    Finding::warning(Code::ReceiptTwice, receipt.place, message)
        .label(format!("for {day}"))
        .second(first.place, format!("for {first_day}"))
        .hint("name the other entry's own receipt, or remove one of the lines")
}
