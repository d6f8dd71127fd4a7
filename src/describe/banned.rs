//! Words that are never printed, and where the owner wrote them.

use super::age;
use super::phrases::Phrases;
use super::table::embedded;
use super::wording::flat;
use crate::model::{Code, Finding, Piece, Place};
use serde::Deserialize;
use std::sync::LazyLock;

/// Words of one promise, why they are refused and what to write instead.
#[derive(Clone, Debug, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Banned {
    /// In lower case with spaces; `%` at the end stands for any ending.
    pub words: Vec<String>,
    pub say: String,
    pub why: String,
}

#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
struct Table {
    banned: Vec<Banned>,
}

static TABLE: LazyLock<Table> =
    LazyLock::new(|| embedded("banned", include_str!("tables/banned.toml")));

/// All rows, in the order of the table.
pub fn banned_rows() -> &'static [Banned] {
    &TABLE.banned
}

/// Every word of the table with its row, in order.
fn all_words() -> impl Iterator<Item = (&'static str, &'static Banned)> {
    TABLE.banned.iter().flat_map(|row| row.words.iter().map(move |word| (word.as_str(), row)))
}

static WORDS: LazyLock<Phrases> = LazyLock::new(|| Phrases::new(all_words().map(|(word, _)| word)));

/// The banned word a text says that stands first in the table, and its row.
pub fn banned_in(text: &str) -> Option<(&'static str, &'static Banned)> {
    let first = WORDS.said(&flat(text)).min()?;
    all_words().nth(first).map(|(word, row)| (word.trim_end_matches('%'), row))
}

/// Whether the owner's text may be printed: no banned word and no word of age not earned.
pub(crate) fn may_print(piece: &Piece, text: &str) -> bool {
    banned_in(text).is_none() && age::unearned(piece, text).next().is_none()
}

/// Every place where the owner's words cannot be printed: `kept` is what no paper can leave out.
pub(crate) fn refused(piece: &Piece, kept: Vec<Finding>) -> Vec<Finding> {
    let listing = piece.listing.iter().flat_map(|listing| [&listing.opening, &listing.story]);
    let own = listing.flatten().map(|text| (text.value.as_str(), text.place));
    let mut findings = of_texts(piece, &own.collect::<Vec<_>>());
    findings.extend(kept);
    findings
}

/// Those of them that no paper can leave out: an opening or a story can be dropped, a title or a
/// flaw cannot.
pub(crate) fn not_left_out(piece: &Piece) -> Vec<Finding> {
    of_texts(piece, &printed_texts(piece))
}

fn of_texts(piece: &Piece, texts: &[(&str, Place)]) -> Vec<Finding> {
    let banned = texts.iter().filter_map(|(text, place)| {
        let (word, row) = banned_in(text)?;
        let message = format!("`{word}` is never printed: {}", row.why);
        let finding = Finding::error(Code::BannedWord, *place, message);
        Some(finding.label(format!("says `{word}`")).hint(format!("say {}", row.say)))
    });
    let age = texts.iter().flat_map(|(text, place)| {
        age::unearned(piece, text).map(|row| unearned(row, *place)).collect::<Vec<_>>()
    });
    banned.chain(age).collect()
}

fn unearned(row: &age::AgeWord, place: Place) -> Finding {
    let original = if row.mostly_original { " and must be mostly original" } else { "" };
    let message = format!(
        "`{}` needs {} years by `made` and the day it was listed, sold or bought{original}",
        row.word, row.years
    );
    Finding::error(Code::AgeWord, place, message)
        .label(format!("says `{}`", row.word))
        .hint(format!("leave `{}` out, or state `made`: the sheet prints the age itself", row.word))
}

/// Everything of the owner's that is printed for a buyer beside opening and story.
fn printed_texts(piece: &Piece) -> Vec<(&str, Place)> {
    let mut texts = vec![(piece.title.value.as_str(), piece.title.place)];
    texts.extend(piece.flaw.iter().map(|flaw| (flaw.note.as_str(), flaw.place)));
    texts.extend(piece.work.iter().map(|work| (work.task.as_str(), work.place)));
    let apart = piece.apart.iter().chain(&piece.remains);
    texts.extend(apart.map(|part| (part.part.value.as_str(), part.part.place)));
    for coat in &piece.coat {
        texts.push((&coat.part, coat.place));
        texts.push((&coat.product.value, coat.product.place));
        texts.extend(coat.sheen.iter().map(|sheen| (sheen.as_str(), coat.place)));
    }
    for change in &piece.change {
        texts.push((&change.part, change.place));
        texts.extend(change.with.iter().map(|with| (with.as_str(), change.place)));
    }
    for wood in &piece.wood {
        let told = [Some(&wood.part), wood.over.as_ref(), wood.stained.as_ref()];
        texts.extend(told.into_iter().flatten().map(|t| (t.as_str(), wood.place)));
    }
    for material in &piece.material {
        texts.push((&material.part, material.place));
        texts.push((&material.of.value, material.of.place));
    }
    for photo in &piece.photo {
        texts.extend(photo.shows.iter().map(|shows| (shows.as_str(), photo.place)));
    }
    texts
}
