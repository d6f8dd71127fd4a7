//! How to look after a piece: the lines of its finish, then those that hold for it alone.

use super::Care;
use super::finishes::Finish;
use super::schedule::{care_finish, dates};
use super::subject::Subject;
use super::table::embedded;
use super::when::{When, first_reasons};
use serde::Deserialize;
use std::sync::LazyLock;

#[derive(Clone, Copy, PartialEq, Eq, Deserialize)]
#[serde(rename_all = "kebab-case")]
enum On {
    Care,
    Never,
}

#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
struct Line {
    on: On,
    text: String,
    when: Vec<When>,
}

#[derive(Deserialize)]
#[serde(rename_all = "kebab-case", deny_unknown_fields)]
struct Table {
    line: Vec<Line>,
    no_coat: NoCoat,
    slow: Slow,
}

#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
struct NoCoat {
    says: String,
}

/// What lengthens the days of a finish.
#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
struct Slow {
    says: String,
    #[expect(dead_code, reason = "for whoever reads the table")]
    source: String,
}

static TABLE: LazyLock<Table> =
    LazyLock::new(|| embedded("care", include_str!("tables/care.toml")));

/// The care of a piece: from its last protecting layer; the most delicate where none is known.
pub(crate) fn care(subject: &Subject) -> Care {
    let finish = care_finish(subject);
    let dates = dates(subject);
    let more = |on: On| {
        let lines = TABLE.line.iter().filter(move |line| line.on == on);
        lines
            .filter(|line| first_reasons(&line.when, subject).is_some())
            .map(|line| line.text.clone())
    };
    Care {
        finish: Some(about(finish, subject)),
        care: finish.care.iter().cloned().chain(more(On::Care)).collect(),
        never: finish.never.iter().cloned().chain(more(On::Never)).collect(),
        spill: finish.spill.clone(),
        renewal: finish.renewal.clone(),
        until: dates.hard.filter(|_| !finish.until.is_empty()).map(|_| finish.until.clone()),
        slow: dates.hard.map(|_| TABLE.slow.says.clone()),
        light_use_from: dates.light_use,
        fully_hard_on: dates.hard,
    }
}

fn about(finish: &Finish, subject: &Subject) -> String {
    match subject.piece.coat.is_empty() {
        true => format!("{} {}", TABLE.no_coat.says, finish.about),
        false => finish.about.clone(),
    }
}
