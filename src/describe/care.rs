//! How to look after a piece: the lines of its finish, then those that hold for it alone.

use super::Care;
use super::finishes::Finish;
use super::languages::Language;
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

/// Every line of the table, for the phrase files.
pub(crate) fn lines() -> impl Iterator<Item = &'static str> {
    let own = TABLE.line.iter().map(|line| line.text.as_str());
    own.chain([TABLE.no_coat.says.as_str(), TABLE.slow.says.as_str()])
}

/// The care of a piece in a language: from its last protecting layer; the most delicate where none
/// is known.
pub(crate) fn care(subject: &Subject, language: &Language) -> Care {
    let finish = care_finish(subject);
    let dates = dates(subject);
    let say = |lines: &[String]| lines.iter().map(|line| language.say(line)).collect::<Vec<_>>();
    let more = |on: On| {
        let lines = TABLE.line.iter().filter(move |line| line.on == on);
        lines
            .filter(|line| first_reasons(&line.when, subject).is_some())
            .map(|line| language.say(&line.text))
    };
    Care {
        finish: Some(about(finish, subject, language)),
        care: say(&finish.care).into_iter().chain(more(On::Care)).collect(),
        never: say(&finish.never).into_iter().chain(more(On::Never)).collect(),
        spill: say(&finish.spill),
        renewal: say(&finish.renewal),
        until: dates.hard.filter(|_| !finish.until.is_empty()).map(|_| language.say(&finish.until)),
        slow: dates.hard.map(|_| language.say(&TABLE.slow.says)),
        light_use_from: dates.light_use,
        fully_hard_on: dates.hard,
    }
}

fn about(finish: &Finish, subject: &Subject, language: &Language) -> String {
    let about = language.say(&finish.about);
    match subject.piece.coat.is_empty() {
        true => format!("{} {about}", language.say(&TABLE.no_coat.says)),
        false => about,
    }
}
