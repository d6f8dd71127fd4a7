//! `check --sources`: every row of the tables that the shop's papers use, what is known of it, and
//! what should be read again.

use super::opened::Known;
use crate::describe::wording::date;
use crate::describe::{self, RestsOn, UsedRow, rows_used};
use crate::model::{Form, Seen, and_list, record_rules};

/// The heads, from what needs no second look to what does.
const HEADS: [(describe::Seen, &str); 4] = [
    (describe::Seen::Own, "Read in the publisher's own text"),
    (describe::Seen::Shop, "The shop's own word"),
    (describe::Seen::Secondary, "Read only in pages about it: read the publisher's own text"),
    (describe::Seen::Memory, "From memory: read a published text before you rely on it"),
];

/// Pieces named before the others are counted.
const MOST: usize = 5;

/// The whole list, as text.
pub fn sources(known: &Known) -> String {
    let used = rows_used(&known.shop);
    let mut text = String::new();
    for (seen, head) in HEADS {
        let rows: Vec<&UsedRow> = used.iter().filter(|row| row.weakest() == seen).collect();
        if !rows.is_empty() {
            text += &format!("{head}\n");
            text += &rows.into_iter().map(row).collect::<String>();
            text += "\n";
        }
    }
    for year in known.shop.years.keys() {
        text += &known.shop.form(*year).map(|form| of_form(form, *year)).unwrap_or_default();
    }
    text
}

fn row(used: &UsedRow) -> String {
    let on: String = used.rests_on.iter().map(rests_on).collect();
    format!("  {} ({})\n{on}", used.row, pieces(&used.by))
}

/// "24-001, 24-002, 24-004 and 12 more".
fn pieces(by: &[String]) -> String {
    match by.get(MOST..) {
        Some(more) if !more.is_empty() => {
            format!("{} and {} more", by[..MOST].join(", "), more.len())
        }
        _ => and_list(by),
    }
}

/// "16 CFR 1261 (88 FR 28403), 4 May 2023; read 25 November 2026 (Federal Register text)".
fn rests_on(on: &RestsOn) -> String {
    let how = match on.seen {
        describe::Seen::Own => format!("; read {}", date(on.as_of)),
        describe::Seen::Shop => String::new(),
        describe::Seen::Secondary => format!("; read elsewhere {}", date(on.as_of)),
        describe::Seen::Memory => format!("; written down {}", date(on.as_of)),
    };
    let place = on.place.as_ref().map(|place| format!(" ({place})")).unwrap_or_default();
    let again = on.again.as_ref().map(|what| format!("        read again: {what}\n"));
    format!("      {}{how}{place}\n{}", on.name, again.unwrap_or_default())
}

/// The lines, rates, days and records of a year's form that were not read in the office's own text,
/// and how many were.
fn of_form(form: &Form, year: i32) -> String {
    let lines = form.lines.iter().map(|line| {
        let source = line.source.as_ref().unwrap_or(&form.source);
        (format!("line {}", line.number), source, line.seen.unwrap_or(form.seen))
    });
    let rates = form
        .rates
        .iter()
        .map(|rate| (format!("{} from {}", rate.label, date(rate.from)), &rate.source, rate.seen));
    let dues =
        form.dues.iter().map(|due| (format!("tax due {}", date(due.on)), &due.source, due.seen));
    let records = record_rules(form.country.as_deref().unwrap_or_default())
        .map(|rule| (rule.of.clone(), &rule.source, rule.seen));
    let all: Vec<(String, &String, Seen)> = lines.chain(rates).chain(dues).chain(records).collect();
    let read = all.iter().filter(|(_, _, seen)| *seen == Seen::Read).count();
    let mut text =
        format!("{year}, {}: {read} of {} read in the office's own text\n", form.title, all.len());
    for (what, source, seen) in all.iter().filter(|(_, _, seen)| *seen != Seen::Read) {
        let how = match seen {
            Seen::Read => "read",
            Seen::Carried => "read for another year",
            Seen::Secondary => "read elsewhere",
            Seen::Memory => "from memory",
        };
        text += &format!(
            "  {what}: {source}; {how}\n        read again: the published form or publication\n"
        );
    }
    text + "\n"
}
