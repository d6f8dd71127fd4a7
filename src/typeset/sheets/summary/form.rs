//! The lines of the form, exact and in whole units, and what the preparer should know of them.

use super::records::{marked, unread_note};
use super::{Books, DASH, dollar};
use crate::describe::wording::sentence;
use crate::model::{Finding, LineUnit, Seen, and_list, grouped};
use crate::reckon::year::{self, WholeNote};
use crate::typeset::view::{Form, FormLine, FormPart, RowKind};

pub(super) fn form(books: &Books) -> Form {
    let unit = dollar::unit(books);
    let year = books.shop.home().year_name(books.year.year);
    let title = format!("{}, {year}", books.year.title);
    let parts = parts(books);
    let labels = parts.iter().flat_map(|part| &part.lines).map(|line| line.label.as_str());
    let unread = unread_note(labels.chain([marked("", books.year.seen).as_str()]));
    Form {
        name: format!("{}, each line in our own words", marked(&title, books.year.seen)),
        whole_head: format!("whole {unit}s"),
        notes: unread.into_iter().chain(notes(books)).collect(),
        parts,
    }
}

pub(super) fn parts(books: &Books) -> Vec<FormPart> {
    let parts = books.form.map_or(&[][..], |form| &form.parts);
    parts
        .iter()
        .map(|part| {
            let own = books.year.lines.iter().filter(|line| line.part == part.number);
            let lines = own.filter(|line| is_shown(books, line)).map(|line| view(books, line));
            FormPart { name: part.title.clone(), lines: lines.collect() }
        })
        .filter(|part| !part.lines.is_empty())
        .collect()
}

/// Sums, and lines with something on them; notes name the others.
fn is_shown(books: &Books, line: &year::FormLine) -> bool {
    // Miles are no money: they stand with the questions of the form.
    line.unit == LineUnit::Money && (sums(books, &line.number) > 1 || is_recorded(books, line))
}

/// Whether any entry stands behind a line.
fn is_recorded(books: &Books, line: &year::FormLine) -> bool {
    books.year.ledger.get(&line.figure).is_some_and(|figure| !figure.parts.is_empty())
}

/// How many lines a line adds or takes away.
fn sums(books: &Books, number: &str) -> usize {
    let line = books.form.and_then(|form| form.lines.iter().find(|line| line.number == number));
    line.map_or(0, |line| line.plus.len() + line.less.len())
}

fn view(books: &Books, line: &year::FormLine) -> FormLine {
    let exact = line.amount.map(|amount| books.amount(amount));
    FormLine {
        line: line.number.clone(),
        label: label(books, line),
        exact: exact.unwrap_or_else(|| DASH.to_owned()),
        whole: line.whole.map_or(DASH.to_owned(), |whole| grouped(whole, 0)),
        kind: kind(books, line),
    }
}

/// A line of a form that was read bears the mark where the line itself was not; a form that was not
/// read bears it once, in its name.
fn label(books: &Books, line: &year::FormLine) -> String {
    match books.year.seen {
        Seen::Read => marked(&line.label, line.seen),
        _ => line.label.clone(),
    }
}

/// A sum that no other line of its part adds up further is a total.
fn kind(books: &Books, line: &year::FormLine) -> RowKind {
    if sums(books, &line.number) < 2 {
        return RowKind::Item;
    }
    let lines = books.form.map_or(&[][..], |form| &form.lines);
    let goes_on = lines
        .iter()
        .filter(|other| other.part == line.part)
        .any(|other| other.plus.contains(&line.number) || other.less.contains(&line.number));
    if goes_on { RowKind::Subtotal } else { RowKind::Total }
}

fn notes(books: &Books) -> Vec<String> {
    let mut notes = vec![rounding(books)];
    notes.extend(left_out(books));
    notes.extend(books.year.notes.iter().map(|finding| note(books, finding)));
    notes
}

fn rounding(books: &Books) -> String {
    let unit = dollar::unit(books);
    let rule =
        format!("Each line is rounded by itself, and a whole-{unit} sum adds the rounded lines.");
    let said: Vec<String> = books.year.whole_notes.iter().map(whole_note).collect();
    if said.is_empty() {
        return rule;
    }
    let differs = "Where that is not the exact amount rounded, the form takes the first";
    format!("{rule} {differs}: {}.", said.join("; "))
}

/// "line 28, 6,074 against 6,075".
fn whole_note(note: &WholeNote) -> String {
    let (taken, exact) = (grouped(note.of_wholes, 0), grouped(note.of_exact, 0));
    format!("line {}, {taken} against {exact}", note.line)
}

fn left_out(books: &Books) -> Option<String> {
    let numbers = numbers(books, |line| line.unit == LineUnit::Money);
    let said = and_list(&numbers);
    (!numbers.is_empty())
        .then(|| format!("Lines with nothing recorded are left out above: {said}."))
}

/// Numbers of the lines of a kind that are not shown.
fn numbers<'a>(books: &'a Books, of: impl Fn(&year::FormLine) -> bool) -> Vec<&'a str> {
    let lines = books.year.lines.iter().filter(|line| of(line) && !is_shown(books, line));
    lines.map(|line| line.number.as_str()).collect()
}

/// A finding as a sentence, with its file and line.
fn note(books: &Books, finding: &Finding) -> String {
    let said = finding.message.replace('`', "");
    match books.places.line(finding.place) {
        Some(place) => sentence(&format!("{said} ({place}).")),
        None => sentence(&said),
    }
}
