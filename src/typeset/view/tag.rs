//! What hang tags and box labels get.

use super::common::{Drawing, Sheet};
use super::listing::Price;
use schemars::JsonSchema;
use serde::Serialize;

/// Hang tags, for folding (front beside back) or for printing on both sides.
#[derive(Clone, Debug, JsonSchema, Serialize)]
#[serde(rename_all = "kebab-case")]
pub struct TagsView {
    #[serde(flatten)]
    pub sheet: Sheet,
    /// In order of their places; one that follows another with the same number is a copy, and is
    /// read aloud only once.
    pub tags: Vec<Tag>,
}

/// The words of one tag.
#[derive(Clone, Debug, PartialEq, Eq, JsonSchema, Serialize)]
#[serde(rename_all = "kebab-case")]
pub struct Tag {
    /// The piece's title.
    pub heading: String,
    /// "25–001".
    pub number: String,
    /// Wood, then finish, in sentences; left out where a long title takes their place.
    pub lines: Vec<String>,
    /// Decoration, since the size is said: its `alt` is not used.
    pub drawing: Option<Drawing>,
    /// The size in the shop's unit, then in the other: "36¼ × 18 × 29½ in".
    pub size: Vec<String>,
    /// "$485", without the cents where there are none, or "Price on request".
    pub price: Price,
    /// "25–001: what to know": the head of the back.
    pub back: String,
    /// Not original, condition, care, in this order, each only if there is something to say.
    pub rows: Vec<TagRow>,
    pub cautions: Option<TagCautions>,
}

/// The cautions in short words; they give way last of all.
#[derive(Clone, Debug, PartialEq, Eq, JsonSchema, Serialize)]
#[serde(rename_all = "kebab-case")]
pub struct TagCautions {
    /// "Caution", or "Cautions" when there are several.
    pub label: String,
    /// Never empty.
    pub entries: Vec<String>,
    /// "More on the listing sheet.", under all of them.
    pub sources: String,
    /// "More cautions on the listing sheet.", where not all of them fit.
    pub more: String,
}

/// A label and its words, and what is said where they do not fit.
#[derive(Clone, Debug, PartialEq, Eq, JsonSchema, Serialize)]
#[serde(rename_all = "kebab-case")]
pub struct TagRow {
    pub label: String,
    pub text: String,
    /// The gravest entry and how many more there are, then only how many: "A part is missing. Three
    /// more on the listing sheet.", "Four entries, on the listing sheet."; nothing for a row that may
    /// be left out.
    pub shorter: Vec<String>,
}

/// Box labels, two to a sheet: the same label twice, for two sides of a box.
#[derive(Clone, Debug, JsonSchema, Serialize)]
#[serde(rename_all = "kebab-case")]
pub struct BoxLabelView {
    #[serde(flatten)]
    pub sheet: Sheet,
    /// One for each sheet.
    pub labels: Vec<BoxLabel>,
}

/// The words of one box label.
#[derive(Clone, Debug, PartialEq, Eq, JsonSchema, Serialize)]
#[serde(rename_all = "kebab-case")]
pub struct BoxLabel {
    pub heading: String,
    /// "25–001".
    pub number: String,
    /// "1 of 4", for a set.
    pub of: Option<String>,
    /// Size, weight, fully hard on, each only if it is known: what the mover needs, in large type.
    pub rows: Vec<BoxRow>,
    /// "From".
    pub from: String,
    /// "To": lines to write on stand under it.
    pub to: String,
}

/// A label and what stands under it in large type, and smaller.
#[derive(Clone, Debug, PartialEq, Eq, JsonSchema, Serialize)]
#[serde(rename_all = "kebab-case")]
pub struct BoxRow {
    /// "Size".
    pub label: String,
    /// "36¼ × 18 × 29½ in".
    pub text: String,
    /// The size in the other unit.
    pub small: Option<String>,
}
