//! The languages of the care card: a phrase file each, which holds its labels, how it writes a day,
//! and every line of the tables in its own words. English is the source, so its lines are the keys.

use super::table::embedded;
use super::wording::NO_BREAK;
use chrono::{Datelike, NaiveDate};
use serde::Deserialize;
use std::collections::BTreeMap;
use std::sync::LazyLock;

/// The code of the language the tables, and the owner's own words, are written in.
pub const ENGLISH: &str = "en";

/// A language as far as a care card needs it.
#[derive(Debug, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Language {
    /// ISO 639-1.
    #[serde(skip)]
    pub code: &'static str,
    /// The words that stand on every card, by their ids; `{title}` and the like are filled in.
    pub label: BTreeMap<String, String>,
    date: DateWords,
    /// Lines of the tables, by their English.
    #[serde(default)]
    pub line: BTreeMap<String, String>,
}

#[derive(Debug, Deserialize)]
#[serde(deny_unknown_fields)]
struct DateWords {
    pattern: String,
    first: String,
    months: Vec<String>,
}

const FILES: [(&str, &str); 3] = [
    (ENGLISH, include_str!("tables/en.toml")),
    ("es", include_str!("tables/es.toml")),
    ("fr", include_str!("tables/fr.toml")),
];

static LANGUAGES: LazyLock<Vec<Language>> =
    LazyLock::new(|| FILES.iter().map(|(code, text)| read(code, text)).collect());

fn read(code: &'static str, text: &str) -> Language {
    let mut language = Language { code, ..embedded(code, text) };
    for said in language.label.values_mut().chain(language.line.values_mut()) {
        *said = with_no_breaks(said, code);
    }
    language
}

/// English first, then the others.
pub fn languages() -> &'static [Language] {
    &LANGUAGES
}

/// The language of a code.
pub fn language(code: &str) -> Option<&'static Language> {
    LANGUAGES.iter().find(|language| language.code == code)
}

/// English, which the other languages translate.
pub fn english() -> &'static Language {
    &LANGUAGES[0]
}

impl Language {
    /// A line of the tables in this language. What is not in the phrase file stays as written.
    pub fn say(&self, line: &str) -> String {
        self.line.get(line).cloned().unwrap_or_else(|| line.to_owned())
    }

    /// A label by its id, with what stands in braces filled in.
    ///
    /// A label that no phrase file has is a fault of the program; a test asks for every one.
    pub fn label(&self, id: &str, fill: &[(&str, &str)]) -> String {
        let label = self.label.get(id).or_else(|| english().label.get(id));
        let fill_in =
            |text: String, (name, word): &(&str, &str)| text.replace(&format!("{{{name}}}"), word);
        fill.iter().fold(label.cloned().unwrap_or_default(), fill_in)
    }

    /// "11 March 2026", "11 de marzo de 2026", "1er mars 2026"; day and month stay together.
    pub fn date(&self, on: NaiveDate) -> String {
        let day = if on.day() == 1 { self.date.first.clone() } else { on.day().to_string() };
        let month = &self.date.months[on.month0() as usize];
        let written = self.date.pattern.replace("{day}", &day).replace("{month}", month);
        written.replace("{year}", &on.year().to_string())
    }
}

/// Characters that French sets off from the word before them, and every language from a figure.
const SET_OFF: [char; 6] = [':', ';', '!', '?', '%', '»'];

/// Those that French sets off by a narrow space.
const NARROWLY: [char; 3] = [';', '!', '?'];

/// A space that is narrow and does not break.
const NARROW_NO_BREAK: char = '\u{202f}';

/// With no break where a character is set off by a space, and with typeset apostrophes.
fn with_no_breaks(text: &str, code: &str) -> String {
    let mut told = String::with_capacity(text.len());
    for character in text.chars() {
        if SET_OFF.contains(&character) && told.ends_with(' ') {
            told.pop();
            let narrow = code == "fr" && NARROWLY.contains(&character);
            told.push(if narrow { NARROW_NO_BREAK } else { NO_BREAK });
        }
        let after_mark = character == ' ' && told.ends_with(['«', '°', 'º', '§']);
        told.push(match character {
            '\'' => '’',
            _ if after_mark => NO_BREAK,
            _ => character,
        });
    }
    told
}
