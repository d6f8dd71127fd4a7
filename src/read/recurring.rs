//! An expense that comes again: written once with `every` and `until`, and read as one expense for
//! each day it was paid.

use super::amount::AMOUNT;
use super::table::Table;
use super::text::{DATE, TEXT};
use super::value::Reader;
use crate::model::{At, Code, Expense, Finding, Hint, Money, Period, closed};
use chrono::{Months, NaiveDate};

closed! {
    /// How often it is paid.
    enum Every {
        Month = "month",
        Quarter = "quarter",
        Year = "year",
    }
}

impl Every {
    fn months(self) -> u32 {
        match self {
            Every::Month => 1,
            Every::Quarter => 3,
            Every::Year => 12,
        }
    }
}

/// The expense for each day it was paid: once, where nothing says that it comes again.
pub(super) fn occurrences(table: &Table, first: Expense, year: Period) -> Vec<Expense> {
    let every = table.word_of::<Every>("every");
    let until = table.may("until", &DATE);
    let changes: Vec<_> = table.tables("change").iter().map(change).collect();
    let receipts = receipts(table);
    let Some(every) = every else {
        let alone = until.is_some() || !changes.is_empty() || !receipts.is_empty();
        if alone {
            table.missing("every", "\"month\"");
        }
        return vec![first];
    };
    let Some(until) = until else {
        table.missing("until", &year.last.to_string());
        return vec![first];
    };
    let days = days(table, &first.on, &until, every, year);
    say_off_days(table, &days, &changes, &receipts);
    let one = |on: NaiveDate| {
        let changed = changes.iter().filter(|(from, _)| from.value <= on);
        let amount = changed.max_by_key(|(from, _)| from.value).map_or(first.amount, |(_, a)| *a);
        let own = receipts.iter().find(|(month, _)| month.value == named(on));
        let receipt = own.map(|(_, path)| path.clone()).or_else(|| first.receipt.clone());
        Expense { on: At::new(on, first.on.place), amount, receipt, ..first.clone() }
    };
    days.into_iter().map(one).collect()
}

/// `change = [{ from = 2025-07-01, amount = 45 }]`.
fn change(table: &Table) -> (At<NaiveDate>, At<Money>) {
    (table.need("from", &DATE), table.need("amount", &AMOUNT))
}

/// `receipts = { 2025-03 = "receipts/march.pdf" }`: by the month it was paid in.
fn receipts(table: &Table) -> Vec<(At<String>, At<String>)> {
    let Some(receipts) = table.table("receipts") else { return Vec::new() };
    let reader = Reader { example: "\"receipts/2025-03.pdf\"", ..TEXT };
    let read = receipts.own_keys();
    let read = read.iter().map(|own| {
        let place = table.document.place(own.value.span());
        let path = receipts.read(own.key.value, own.value.get_ref(), place, &reader);
        let month = At::new(own.key.value.to_owned(), own.key.place);
        (month, receipts.record(own.key.value, At::new(path, place)))
    });
    read.collect()
}

/// "2025-03".
fn named(on: NaiveDate) -> String {
    on.format("%Y-%m").to_string()
}

/// From the first day to the last, all of them in the book's year.
fn days(
    table: &Table,
    first: &At<NaiveDate>,
    until: &At<NaiveDate>,
    every: Every,
    year: Period,
) -> Vec<NaiveDate> {
    if until.value < first.value || until.value > year.last {
        let message = format!("`until` is {}, and the first day is {}", until.value, first.value);
        let finding = Finding::error(Code::Until, until.place, message).label("not a last day");
        let hint =
            format!("a day from {} to {}; the next year's are in its book", first.value, year.last);
        table.document.stand_in(finding.hint(hint));
        return vec![first.value];
    }
    let nth = |n: u32| first.value.checked_add_months(Months::new(n * every.months()));
    (0..12).map_while(nth).take_while(|on| *on <= until.value).collect()
}

/// A change or a receipt that is of no day it was paid on would be passed over in silence.
fn say_off_days(
    table: &Table,
    days: &[NaiveDate],
    changes: &[(At<NaiveDate>, At<Money>)],
    receipts: &[(At<String>, At<String>)],
) {
    let (first, last) = (days.first(), days.last());
    let outside = changes.iter().filter(|(from, _)| {
        first.is_some_and(|first| from.value <= *first)
            || last.is_some_and(|last| from.value > *last)
    });
    for (from, _) in outside {
        let message = format!("an amount from {} changes no payment", from.value);
        let finding = Finding::error(Code::Until, from.place, message).label("changes nothing");
        let all: Vec<String> = days.iter().skip(1).map(NaiveDate::to_string).collect();
        table
            .document
            .stand_in(finding.hint(Hint::say(format!("it was paid on {}", all.join(", ")))));
    }
    for (month, _) in
        receipts.iter().filter(|(month, _)| !days.iter().any(|on| named(*on) == month.value))
    {
        let message = format!("a receipt for `{}`, and it was not paid in that month", month.value);
        let finding = Finding::error(Code::Until, month.place, message).label("not a month of it");
        let all: Vec<String> = days.iter().map(|on| named(*on)).collect();
        table
            .document
            .stand_in(finding.hint(Hint::say(format!("its months are {}", all.join(", ")))));
    }
}
