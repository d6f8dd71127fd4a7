//! Words of age, and which of them a piece has earned.

use super::table::embedded;
use super::wording::says;
use crate::model::{Change, ChangeKind, Made, Piece};
use chrono::Datelike;
use serde::Deserialize;
use std::sync::LazyLock;

/// A word that must be earned.
#[derive(Clone, Debug, Deserialize)]
#[serde(rename_all = "kebab-case", deny_unknown_fields)]
pub struct AgeWord {
    pub word: String,
    /// The youngest the piece may be.
    pub years: i32,
    pub mostly_original: bool,
}

#[derive(Deserialize)]
#[serde(rename_all = "kebab-case", deny_unknown_fields)]
struct Original {
    changes: usize,
    main_parts: Vec<String>,
}

#[derive(Deserialize)]
#[serde(rename_all = "kebab-case", deny_unknown_fields)]
struct Table {
    original: Original,
    age_word: Vec<AgeWord>,
}

static TABLE: LazyLock<Table> = LazyLock::new(|| embedded("age", include_str!("tables/age.toml")));

/// "about 1910", "1920s", "between 1905 and 1915", "age not known".
pub(crate) fn age(made: Made) -> String {
    match made {
        Made::Unknown => "age not known".to_owned(),
        Made::Year(year) => year.to_string(),
        Made::About(year) => format!("about {year}"),
        Made::Between(first, last) if first % 10 == 0 && last == first + 9 => format!("{first}s"),
        Made::Between(first, last) if first == last => first.to_string(),
        Made::Between(first, last) => format!("between {first} and {last}"),
    }
}

/// After a noun: "made about 1910", "made in the 1920s", "made between 1905 and 1915".
pub(crate) fn made_when(made: Made) -> Option<String> {
    match made {
        Made::Unknown => None,
        Made::Year(year) => Some(format!("made in {year}")),
        Made::Between(first, last) if first % 10 == 0 && last == first + 9 => {
            Some(format!("made in the {first}s"))
        }
        made => Some(format!("made {}", age(made))),
    }
}

/// Every word that must be earned.
pub(crate) fn words() -> impl Iterator<Item = &'static str> {
    TABLE.age_word.iter().map(|row| row.word.as_str())
}

/// The words a text uses that the piece has not earned.
pub(crate) fn unearned<'a>(
    piece: &'a Piece,
    text: &'a str,
) -> impl Iterator<Item = &'static AgeWord> + 'a {
    TABLE.age_word.iter().filter(move |row| says(text, &row.word) && !earned(piece, row))
}

/// Whether a piece has earned a word by the year it was offered, sold or bought; with none of
/// these, by no year at all: the clock is never asked.
pub(crate) fn earned(piece: &Piece, row: &AgeWord) -> bool {
    let listed = piece.listing.as_ref().and_then(|listing| listing.on.as_ref());
    let sold = piece.sale.last().map(|sale| &sale.on);
    let bought = piece.bought.as_ref().map(|bought| &bought.on);
    let year = listed.or(sold).or(bought).map(|on| on.value.year());
    let old = year.zip(piece.made.latest()).is_some_and(|(now, made)| now - made >= row.years);
    old && (!row.mostly_original || mostly_original(piece))
}

/// The word of the table a piece has earned first: the oldest.
pub(crate) fn earned_word(piece: &Piece) -> Option<&'static AgeWord> {
    TABLE.age_word.iter().find(|row| earned(piece, row))
}

fn mostly_original(piece: &Piece) -> bool {
    let changed = |change: &&Change| change.what != ChangeKind::Repaired;
    let changes: Vec<_> = piece.change.iter().filter(changed).collect();
    let main = |change: &&Change| {
        let part = change.part.to_lowercase();
        TABLE.original.main_parts.iter().any(|main| *main == part.trim())
    };
    changes.len() <= TABLE.original.changes && !changes.iter().any(main)
}
