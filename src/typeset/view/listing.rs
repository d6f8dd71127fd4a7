//! What the listing sheet gets.

use super::common::{Cautions, Drawing, LabelRow, Paragraphs, Photo, Sheet};
use super::link::LinkCode;
use serde::Serialize;

/// One piece for a buyer. The sheet composes itself by how many photos there are.
#[derive(Clone, Debug, Serialize)]
#[serde(rename_all = "kebab-case")]
pub struct ListingView {
    #[serde(flatten)]
    pub sheet: Sheet,
    /// The piece's title, the heading of the sheet.
    pub heading: String,
    /// "No. 25–001".
    pub number: String,
    /// "No. 25–001, continued": the head of every further sheet.
    pub number_continued: String,
    pub price: Price,
    /// The sentence under the title.
    pub opening: Option<String>,
    /// The whole piece first.
    pub photos: Vec<Photo>,
    /// "More pictures": above what does not go on sheet 1.
    pub more_pictures: String,
    /// Wood, finish, done, not original, in this order, each only if there is something to say.
    pub rows: Vec<LabelRow>,
    pub condition: Option<Condition>,
    /// What moving it takes; on sheet 2 where sheet 1 has no room for it.
    pub moving: Option<Paragraphs>,
    /// The owner's story; up to 60 words it stands on sheet 1.
    pub story: Option<Paragraphs>,
    pub cautions: Cautions,
    pub size: Option<SizeBlock>,
    /// Nothing when no height, or neither width nor depth, is known.
    pub drawing: Option<Drawing>,
    pub care: Option<Care>,
    /// The code of the listing's address, where the owner gave one.
    pub link: Option<LinkCode>,
    /// "sheet of 14 March 2026": the foot of a single sheet. Nothing prints no date.
    pub dated: Option<String>,
}

/// The price, or the words in its place.
#[derive(Clone, Debug, PartialEq, Eq, Serialize)]
#[serde(rename_all = "kebab-case")]
pub struct Price {
    /// "$485.00", or "Price on asking".
    pub text: String,
    /// False for "Price on asking".
    pub stated: bool,
    /// "for the set of four", under the price of a set.
    pub note: Option<String>,
}

/// What is wrong with the piece, in full and in short.
#[derive(Clone, Debug, PartialEq, Eq, Serialize)]
#[serde(rename_all = "kebab-case")]
pub struct Condition {
    /// "Condition".
    pub label: String,
    /// One sentence each, the most telling first; never empty.
    pub entries: Vec<String>,
    /// "Twenty-five marks, listed in full on sheet {sheet}. The three to know: …": stands on
    /// sheet 1 when the entries do not fit; the layout puts the number of the sheet for `{sheet}`.
    pub summary: String,
    /// "Condition in full".
    pub heading: String,
}

/// The overall size in words.
#[derive(Clone, Debug, PartialEq, Eq, Serialize)]
#[serde(rename_all = "kebab-case")]
pub struct SizeBlock {
    /// "Size".
    pub label: String,
    /// "36¼ × 18 × 29½ in", the shop's unit first, no-break spaces within.
    pub first: String,
    /// "92 × 46 × 75 cm".
    pub second: String,
    /// "width × depth × height", or of those that are known; "each" is said here for a set.
    pub order: String,
    /// "about 64 lb (29 kg)".
    pub weight: Option<String>,
}

/// How to look after the piece, in short.
#[derive(Clone, Debug, PartialEq, Eq, Serialize)]
#[serde(rename_all = "kebab-case")]
pub struct Care {
    /// "Care".
    pub label: String,
    /// Up to four short sentences.
    pub lines: Vec<String>,
}
