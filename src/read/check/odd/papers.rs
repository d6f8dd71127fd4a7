//! What the buyers' receipts are numbered by, and what was taken in part payment: a number given
//! twice, one passed over, a piece traded in that was not bought that day.

use super::{Asked, Entry};
use crate::model::{At, Code, Finding, Piece};
use chrono::NaiveDate;
use std::collections::BTreeMap;

/// A number given to a receipt, with the entry it is of.
struct Numbered<'a> {
    number: &'a At<String>,
    entry: Entry,
}

pub(super) fn check(pieces: &[&Piece], asked: &mut Asked) {
    let numbered: Vec<Numbered> = pieces.iter().flat_map(|piece| numbered(piece)).collect();
    twice(&numbered, asked);
    gaps(&numbered, asked);
    let by_name: BTreeMap<&str, &Piece> =
        pieces.iter().flat_map(|p| [(p.name(), *p), (p.folder.as_str(), *p)]).collect();
    for piece in pieces {
        for sale in &piece.sale {
            let entry = Entry { place: sale.place, table: "[[sale]]" };
            if let Some(due) = sale.paper.due.as_ref().filter(|due| due.value < sale.on.value) {
                let message = format!("to be paid by {}, before the day of the sale", due.value);
                let finding = Finding::warning(Code::DueBeforeSale, due.place, message);
                let finding = finding.label("which day?").second(sale.on.place, "sold here");
                asked.ask(entry, "due", finding.hint("fix the day"));
            }
            if let Some(name) = &sale.paper.traded_in
                && let Some(taken) = by_name.get(name.value.as_str())
            {
                traded_in(sale.on, sale.total(), name, taken, entry, asked);
            }
        }
    }
}

fn numbered(piece: &Piece) -> Vec<Numbered<'_>> {
    let of = |number, place, table| Numbered { number, entry: Entry { place, table } };
    let sales = piece.sale.iter();
    let mut all: Vec<Numbered> = sales
        .filter_map(|one| Some(of(one.paper.number.as_ref()?, one.place, "[[sale]]")))
        .collect();
    let back = piece.returned.iter();
    all.extend(back.filter_map(|one| Some(of(one.number.as_ref()?, one.place, "[[return]]"))));
    let given = piece.allowance.iter();
    all.extend(given.filter_map(|one| Some(of(one.number.as_ref()?, one.place, "[[allowance]]"))));
    all
}

/// A number is that of one receipt for good.
fn twice(numbered: &[Numbered], asked: &mut Asked) {
    let mut first: BTreeMap<&str, &Numbered> = BTreeMap::new();
    for one in numbered.iter().filter(|one| !one.number.is_empty()) {
        // The pieces of a bundle share its number.
        let other = first.insert(&one.number.value, one);
        if let Some(earlier) = other.filter(|other| other.number.place != one.number.place) {
            let message = format!("`{}` is the number of two receipts", one.number.value);
            let finding = Finding::warning(Code::ReceiptNumberTwice, one.number.place, message);
            let finding = finding.label("again here").second(earlier.number.place, "already here");
            asked.across.say(finding.hint("give one of them the next number"));
        }
    }
}

/// Numbers of one series follow each other: what stands before the last figures is the series.
fn gaps(numbered: &[Numbered], asked: &mut Asked) {
    let mut series: BTreeMap<&str, BTreeMap<u64, &Numbered>> = BTreeMap::new();
    for one in numbered {
        let number = one.number.value.as_str();
        let digits = number.trim_end_matches(|c: char| c.is_ascii_digit());
        if let Ok(nth) = number[digits.len()..].parse() {
            series.entry(digits).or_default().insert(nth, one);
        }
    }
    for (before, all) in series {
        for ((&last, _), (&next, one)) in all.iter().zip(all.iter().skip(1)) {
            if next - last < 2 {
                continue;
            }
            let width = one.number.value.len() - before.len();
            let missing = format!("{before}{:0width$}", last + 1);
            let message = format!("no receipt has the number `{missing}`");
            let finding = Finding::warning(Code::ReceiptNumberGap, one.number.place, message);
            let finding = finding.label("one was passed over");
            asked.ask(one.entry, "receipt-number", finding.hint("numbers follow each other"));
        }
    }
}

/// What was taken in part payment is bought on that day, for what it counted for.
fn traded_in(
    sold: At<NaiveDate>,
    total: crate::model::Money,
    name: &At<String>,
    taken: &Piece,
    entry: Entry,
    asked: &mut Asked,
) {
    let bought = taken.bought.as_ref();
    let (code, message, place) = match bought {
        None => {
            (Code::TradedInUnbought, "nothing says what it counted for".to_owned(), taken.place)
        }
        Some(bought) if bought.on.value != sold.value => (
            Code::TradedInUnbought,
            format!("it was bought on {}, and this was sold on {}", bought.on.value, sold.value),
            bought.on.place,
        ),
        Some(bought) if bought.paid() > total => (
            Code::TradedInUnbought,
            format!("it counted for {}, and all of the sale is {total}", bought.paid()),
            bought.price.place,
        ),
        Some(_) => return,
    };
    let finding = Finding::warning(
        code,
        name.place,
        format!("`{}` was taken in part payment: {message}", name.value),
    );
    let finding = finding.label("traded in").second(place, "here");
    let hint = format!(
        "put `bought = {{ on = {}, price = … }}` into its file: what it counted for",
        sold.value
    );
    asked.ask(entry, "traded-in", finding.hint(hint));
}
