//! How to look after a piece: the lines of its finish, then those that hold for it alone.

use super::Care;
use super::finishes::Finish;
use super::languages::Language;
use super::put_on::{is_over_paint, product, put_on};
use super::schedule::{care_finish, dates};
use super::subject::Subject;
use super::table::embedded;
use super::when::{When, first_reasons};
use super::wording::says;
use crate::model::Shape;
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
    /// Ids of the table of sources.
    sources: Vec<String>,
    when: Vec<When>,
}

#[derive(Deserialize)]
#[serde(rename_all = "kebab-case", deny_unknown_fields)]
struct Table {
    tops: Tops,
    line: Vec<Line>,
    no_coat: Says,
    over_paint: Says,
    slow: Slow,
}

/// What is said of things set down on a top, and the shapes that have one.
#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
struct Tops {
    words: Vec<String>,
    shapes: Vec<Shape>,
}

#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
struct Says {
    says: String,
}

/// What lengthens the days of a finish.
#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
struct Slow {
    says: String,
    sources: Vec<String>,
}

static TABLE: LazyLock<Table> =
    LazyLock::new(|| embedded("care", include_str!("tables/care.toml")));

/// Every line of the table, for the phrase files.
pub(crate) fn lines() -> impl Iterator<Item = &'static str> {
    let own = TABLE.line.iter().map(|line| line.text.as_str());
    let once = [&TABLE.no_coat.says, &TABLE.over_paint.says, &TABLE.slow.says];
    own.chain(once.map(String::as_str))
}

/// The lines of the table said of a piece, by their text, with the sources of each.
pub(crate) fn used(subject: &Subject) -> Vec<(&'static str, &'static [String])> {
    let lines = TABLE.line.iter().filter(|line| first_reasons(&line.when, subject).is_some());
    let slow = dates(subject).hard.map(|_| (TABLE.slow.says.as_str(), &TABLE.slow.sources[..]));
    lines.map(|line| (line.text.as_str(), &line.sources[..])).chain(slow).collect()
}

/// The care of a piece in a language: from its last protecting layer; the most delicate where none
/// is known.
pub(crate) fn care(subject: &Subject, language: &Language) -> Care {
    let finish = care_finish(subject);
    let dates = dates(subject);
    // What has no wood and no coat has no finish to look after.
    let has_finish = !subject.is_bare();
    let fits = |line: &&String| has_finish && (!is_of_tops(line) || has_top(subject));
    let say = |lines: &[String]| {
        lines.iter().filter(fits).map(|line| language.say(line)).collect::<Vec<_>>()
    };
    let more = |on: On| {
        let lines = TABLE.line.iter().filter(move |line| line.on == on);
        lines
            .filter(|line| first_reasons(&line.when, subject).is_some())
            .map(|line| language.say(&line.text))
    };
    Care {
        put_on: put_on(subject.piece, language),
        finish: has_finish.then(|| about(finish, subject, language)),
        care: say(&finish.care).into_iter().chain(more(On::Care)).collect(),
        never: say(&finish.never).into_iter().chain(more(On::Never)).collect(),
        spill: say(&finish.spill),
        renewal: if has_finish { renewal(finish, subject, language) } else { Vec::new() },
        until: dates.hard.filter(|_| !finish.until.is_empty()).map(|_| language.say(&finish.until)),
        slow: dates.hard.map(|_| language.say(&TABLE.slow.says)),
        light_use_from: dates.light_use,
        fully_hard_on: dates.hard,
    }
}

fn is_of_tops(line: &str) -> bool {
    TABLE.tops.words.iter().any(|word| says(line, word))
}

/// Whether things are set down on it; a piece of unknown kind may have a top.
fn has_top(subject: &Subject) -> bool {
    subject.kind.is_none_or(|kind| TABLE.tops.shapes.contains(&kind.shape))
}

/// How to renew it, with the product that was put on.
fn renewal(finish: &Finish, subject: &Subject, language: &Language) -> Vec<String> {
    let product = product(subject).unwrap_or_else(|| finish.name.clone());
    let lines = finish.renewal.iter().map(|line| language.say(line));
    lines.map(|line| line.replace("{product}", &product)).collect()
}

fn about(finish: &Finish, subject: &Subject, language: &Language) -> String {
    let about = language.say(&finish.about);
    let before = match subject.piece.coat.is_empty() {
        true => Some(&TABLE.no_coat.says),
        false => is_over_paint(subject).then_some(&TABLE.over_paint.says),
    };
    before.map_or(about.clone(), |before| format!("{} {about}", language.say(before)))
}
