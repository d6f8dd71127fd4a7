//! What was done to a piece: costs, draws from stock, hours, the finish schedule, and what must be
//! disclosed.

use super::amount::AMOUNT;
use super::odd::limit;
use super::table::Table;
use super::text::{DATE, STORY, TEXT};
use super::value::{HOURS, Reader};
use crate::model::{
    At, Change, ChangeKind, Coat, Code, Cost, CostKind, Finding, Flaw, Hint, Hours, Used, Work,
};

pub(super) const COST_KINDS: [(&str, CostKind); 4] = [
    ("material", CostKind::Material),
    ("hardware", CostKind::Hardware),
    ("paid-work", CostKind::PaidWork),
    ("freight-in", CostKind::FreightIn),
];

const CHANGES: [(&str, ChangeKind); 5] = [
    ("repaired", ChangeKind::Repaired),
    ("replaced", ChangeKind::Replaced),
    ("added", ChangeKind::Added),
    ("removed", ChangeKind::Removed),
    ("reshaped", ChangeKind::Reshaped),
];

/// More coats than this are a slip of the hand.
const MOST_COATS: u32 = 50;
/// No finish takes longer than a year to cure.
pub(super) const LONGEST_CURE: u32 = 365;

pub(super) fn cost(table: &Table) -> Cost {
    Cost {
        on: table.need("on", &DATE),
        what: table.need("what", &Reader { example: "\"bail pulls\"", ..TEXT }).value,
        kind: table.need_one_of("kind", &COST_KINDS),
        amount: table.need("amount", &AMOUNT),
        to: table.may("to", &TEXT).map(|to| to.value),
        how: table.word_of("how"),
        receipt: table.receipt(),
        place: table.place,
    }
}

pub(super) fn used(table: &Table) -> Used {
    let on = table.need("on", &DATE);
    let (stock, quantity) = table.stock_and_quantity();
    Used { on, stock, quantity, place: table.place }
}

/// `[[work]]`, or all of it as `hours = 5`.
pub(super) fn work(file: &Table) -> Vec<Work> {
    let mut work: Vec<Work> = file.tables("work").iter().map(task).collect();
    let Some(hours) = file.may("hours", &Reader { example: "5", ..HOURS }) else { return work };
    many_hours(file, Code::HoursManyInAll, &hours);
    if let Some(first) = work.first() {
        let message = "the hours are written twice: as `hours` and as `[[work]]`";
        let finding = Finding::error(Code::SaidTwice, hours.place, message).label("all hours here");
        let hint = "remove the line `hours`, or the `[[work]]` tables";
        file.document.stand_in(finding.second(first.place, "and by task here").hint(hint));
    }
    let (hours, place) = (hours.value, hours.place);
    work.push(Work { on: None, task: String::new(), hours, note: None, place });
    work
}

/// A number without a unit that is more than a day, or than a piece takes, is probably of minutes.
fn many_hours(table: &Table, code: Code, hours: &At<Hours>) {
    let bare = table.is_bare_number("hours");
    let number = hours.value.decimal(4).normalize();
    if !bare || number <= limit(code) || table.is_sure_of("hours") {
        return;
    }
    let finding = Finding::warning(code, hours.place, format!("{number} hours, or minutes?"));
    let readings = ["min", "h"].map(|unit| format!("hours = \"{number} {unit}\""));
    table.document.say(finding.label("no unit").hint(Hint::either(&readings)));
}

fn task(table: &Table) -> Work {
    let hours = table.need("hours", &HOURS);
    many_hours(table, Code::HoursMany, &hours);
    Work {
        on: table.may("on", &DATE),
        task: table.need("task", &Reader { example: "\"strip and sand\"", ..TEXT }).value,
        hours: hours.value,
        note: table.may("note", &STORY).map(|note| note.value),
        place: table.place,
    }
}

pub(super) fn coat(table: &Table) -> Coat {
    let count = |key, most| table.number(key, most).map(|days| days.value);
    Coat {
        part: table.or("part", &TEXT, String::new()),
        product: table.need("product", &Reader { example: "\"water-based polyurethane\"", ..TEXT }),
        sheen: table.may("sheen", &TEXT).map(|sheen| sheen.value),
        coats: count("coats", MOST_COATS).unwrap_or(1),
        between: table.may("between", &TEXT).map(|between| between.value),
        last: table.may("last", &DATE),
        cure_days: count("cure-days", LONGEST_CURE),
        light_use_days: count("light-use-days", LONGEST_CURE),
        note: table.may("note", &STORY).map(|note| note.value),
        place: table.place,
    }
}

pub(super) fn change(table: &Table) -> Change {
    Change {
        part: table.need("part", &Reader { example: "\"left rear leg\"", ..TEXT }).value,
        what: table.need_one_of("what", &CHANGES),
        with: table.may("with", &TEXT).map(|with| with.value),
        place: table.place,
    }
}

pub(super) fn flaw(table: &Table) -> Flaw {
    let note = Reader { example: "\"ring mark on the top, still visible\"", ..STORY };
    Flaw { note: table.need("note", &note).value, place: table.place }
}
