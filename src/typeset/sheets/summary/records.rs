//! What lacks a record, the rules used with their sources, and what the paper is.

use super::ledger::digits;
use super::{Books, DASH, bare};
use crate::describe::wording::{NO_BREAK, capital, date};
use crate::model::{Rate, Seen, and_list, counted, record_rules};
use crate::reckon::year::{MissingRecord, RecordFault, Total};
use crate::typeset::view::{RecordRow, Records, Rule};
use chrono::Datelike;

/// The mark of a rate or line that was not read in the office's own text.
const UNREAD: char = '†';

/// The most entries that are listed on paper; the attached table has them all.
const MOST: usize = 100;

/// Nothing where every entry names a receipt.
pub(super) fn records(books: &Books) -> Option<Records> {
    let missing = &books.year.missing_records;
    let all = match missing.len() {
        1 => "One entry".to_owned(),
        n => format!("All {}", counted(n, "entry", "entries")),
    };
    let sum = books.year.total(Total::MissingRecords);
    (!missing.is_empty()).then(|| Records {
        rows: rows(books, missing),
        total: books.total(all, sum),
        notes: Vec::new(),
    })
}

/// Every entry, or the largest and one row for all others.
fn rows(books: &Books, missing: &[MissingRecord]) -> Vec<RecordRow> {
    let shown = if missing.len() > MOST { MOST - 1 } else { missing.len() };
    let (largest, others) = missing.split_at(shown);
    let mut rows: Vec<RecordRow> = largest.iter().map(|one| record(books, one)).collect();
    if !others.is_empty() {
        rows.push(RecordRow {
            on: DASH.to_owned(),
            what: format!("{} smaller entries", others.len()),
            lacks: DASH.to_owned(),
            place: "missing-records.csv, attached".to_owned(),
            amount: books.amount(others.iter().map(|one| one.part.amount).sum()),
        });
    }
    rows
}

fn record(books: &Books, one: &MissingRecord) -> RecordRow {
    let part = &one.part;
    RecordRow {
        on: part.on.map_or(DASH.to_owned(), |on| books.day(on)),
        what: part.what.to_string(),
        lacks: lacks(books, &one.fault),
        place: books.places.line(part.place).unwrap_or_else(|| DASH.to_owned()),
        amount: books.amount(part.amount),
    }
}

fn lacks(books: &Books, fault: &RecordFault) -> String {
    match fault {
        RecordFault::Unnamed => "no receipt named".to_owned(),
        RecordFault::NotThere(path) => format!("{path} is missing"),
        RecordFault::OfOtherDay(path, other) => {
            let other = books.places.line(*other).unwrap_or_else(|| DASH.to_owned());
            format!("{path} is the receipt of {other}, of another day")
        }
    }
}

/// What a record must show, as the office of the shop's country publishes it.
pub(super) fn record_shows(books: &Books) -> Vec<Rule> {
    let rules = record_rules(&books.shop.country);
    rules.map(|r| rule(&capital(&r.of), capital(&r.shows), &r.source, r.seen)).collect()
}

/// The form, every rate of the year, the days on which tax is due, and how lines are rounded.
pub(super) fn rules(books: &Books) -> Vec<Rule> {
    let year = books.year;
    let mut rules = vec![rule("Lines of the form", year.title.clone(), &year.source, year.seen)];
    rules.extend(
        year.rules.iter().map(|rate| rule(&rate.label, value(rate), &rate.source, rate.seen)),
    );
    rules.extend(due_days(books));
    let rounding = books.form.and_then(|form| form.rounding.as_ref());
    rules.extend(rounding.map(|r| rule(&r.label, r.how.clone(), &r.source, r.seen)));
    rules
}

fn rule(name: &str, value: String, source: &str, seen: Seen) -> Rule {
    Rule { name: marked(name, seen), value, source: source.to_owned() }
}

/// A name with the mark of what was not read in the office's own text for the year.
pub(super) fn marked(name: &str, seen: Seen) -> String {
    if seen == Seen::Read { name.to_owned() } else { format!("{name}{NO_BREAK}{UNREAD}") }
}

/// What the mark asks of whoever sees it, where any of some names bears it.
pub(super) fn unread_note<'a>(mut names: impl Iterator<Item = &'a str>) -> Option<String> {
    let any = names.any(|name| name.ends_with(UNREAD));
    any.then(|| format!("{UNREAD} To be checked against the published form before it is used."))
}

/// "0.70 dollars a mile from 1 January 2025", with its last day where that is within a year.
fn value(rate: &Rate) -> String {
    let number = if rate.value.is_integer() { bare(rate.value) } else { digits(rate.value) };
    let last = rate.last_day();
    let to = match (last.month(), last.day()) {
        (12, 31) => String::new(),
        _ => format!(" to {}", date(last)),
    };
    format!("{number} {} from {}{to}", rate.unit, date(rate.from))
}

/// The due days, one rule for each source.
fn due_days(books: &Books) -> Vec<Rule> {
    let dues = &books.year.set_aside;
    let mut sources: Vec<(&str, Seen)> =
        dues.iter().map(|due| (due.source.as_str(), due.seen)).collect();
    sources.dedup();
    let of = |(source, seen): (&str, Seen)| {
        let own = dues.iter().filter(|due| due.source == source && due.seen == seen);
        let days: Vec<String> = own.map(|due| date(due.on)).collect();
        rule("Days on which estimated tax is due", and_list(&days), source, seen)
    };
    sources.into_iter().map(of).collect()
}

pub(super) fn disclaimer() -> Vec<String> {
    let words = [
        "This is a summary of what the shop wrote down, put together for a preparer. It is not tax \
         advice, and it decides nothing that needs a judgement.",
        "Every figure can be followed to the entries it is made of, with file and line, in the \
         ledger attached to this document; keep the receipts beside it.",
    ];
    words.map(str::to_owned).to_vec()
}
