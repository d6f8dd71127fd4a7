//! What the listing sheet gets.

use super::common::{Drawing, Photo, Sheet};
use super::link::LinkCode;
use schemars::JsonSchema;
use serde::Serialize;

/// One piece for a buyer. The sheet composes itself by how many photos there are.
#[derive(Clone, Debug, JsonSchema, Serialize)]
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
    /// Age, wood, finish, the work, not original, condition, moving, story, in this order, each only
    /// if there is something to say.
    pub rows: Vec<ListingRow>,
    pub cautions: ListingCautions,
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
#[derive(Clone, Debug, PartialEq, Eq, JsonSchema, Serialize)]
#[serde(rename_all = "kebab-case")]
pub struct Price {
    /// "$485.00", or "Price on request".
    pub text: String,
    /// False for "Price on request".
    pub stated: bool,
    /// "for the set of four", under the price of a set.
    pub note: Option<String>,
}

/// A label and what stands beside it, and what becomes of it where sheet 1 has no room.
#[derive(Clone, Debug, PartialEq, Eq, JsonSchema, Serialize)]
#[serde(rename_all = "kebab-case")]
pub struct ListingRow {
    /// "Condition".
    pub label: String,
    /// Whole sentences; never empty.
    pub paragraphs: Vec<String>,
    /// In which turn it leaves sheet 1 where room is short: 1 is the first. Nothing stays.
    pub leaves: Option<u32>,
    /// "Condition in full", "The story of the piece": the head over it on a further sheet.
    pub heading: Option<String>,
    /// What is said one by one on a further sheet, the gravest first.
    pub entries: Vec<String>,
    /// What sheet 1 then says of the entries, the longest first: how many there are, on which sheet
    /// (the layout puts its number for `{sheet}`), and the gravest of them.
    pub summaries: Vec<String>,
}

/// The cautions of a piece, which never leave sheet 1.
#[derive(Clone, Debug, PartialEq, Eq, JsonSchema, Serialize)]
#[serde(rename_all = "kebab-case")]
pub struct ListingCautions {
    /// "Caution", or "Cautions" when there are several.
    pub label: String,
    /// Empty when nothing applies: the label is then left out.
    pub entries: Vec<ListingCaution>,
    /// Whether one of them has short words, for where they find no room on sheet 1.
    pub shortens: bool,
    /// "Sources: …; …." of all of them, and that such words are general information.
    pub sources: Option<String>,
    /// "In full, with the sources, on sheet 2.", under short words.
    pub elsewhere: String,
}

/// One caution.
#[derive(Clone, Debug, PartialEq, Eq, JsonSchema, Serialize)]
#[serde(rename_all = "kebab-case")]
pub struct ListingCaution {
    pub text: String,
    /// The same in few words.
    pub short: Option<String>,
}

/// The overall size in words.
#[derive(Clone, Debug, PartialEq, Eq, JsonSchema, Serialize)]
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
#[derive(Clone, Debug, PartialEq, Eq, JsonSchema, Serialize)]
#[serde(rename_all = "kebab-case")]
pub struct Care {
    /// "Care".
    pub label: String,
    /// Up to four short sentences.
    pub lines: Vec<String>,
}
