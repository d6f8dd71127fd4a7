//! What the catalogue gets: every piece for sale with its picture, by kind, and an index.

use super::common::{Drawing, LabelRow, Photo, Sheet};
use super::listing::Price;
use schemars::JsonSchema;
use serde::Serialize;

/// Cover, contents, pieces by kind, index.
#[derive(Clone, Debug, JsonSchema, Serialize)]
#[serde(rename_all = "kebab-case")]
pub struct CatalogueView {
    #[serde(flatten)]
    pub sheet: Sheet,
    /// "Pieces for sale", the heading of the cover.
    pub heading: String,
    /// "Catalogue", at the right of the running head.
    pub matter: String,
    /// "Fourteen pieces."
    pub opening: String,
    /// "14 March 2026": the day the newest piece was listed.
    pub dated: Option<String>,
    /// "Contents".
    pub contents: String,
    /// By kind, none of them empty; never no group.
    pub groups: Vec<CatalogueGroup>,
    /// "Index".
    pub index: String,
    /// Empty in a small catalogue, where the contents are enough.
    pub index_parts: Vec<IndexPart>,
    /// "Drawings at {scale}.": the layout puts the scale of the cover's drawings for `{scale}`.
    pub note: String,
}

/// Pieces of one kind.
#[derive(Clone, Debug, JsonSchema, Serialize)]
#[serde(rename_all = "kebab-case")]
pub struct CatalogueGroup {
    /// "Chests of drawers".
    pub name: String,
    pub entries: Vec<CatalogueEntry>,
}

/// One piece.
#[derive(Clone, Debug, PartialEq, Eq, JsonSchema, Serialize)]
#[serde(rename_all = "kebab-case")]
pub struct CatalogueEntry {
    /// Names the entry: contents and index refer to it.
    pub at: usize,
    /// "25–001".
    pub number: String,
    pub heading: String,
    pub price: Price,
    /// The sentence under the title.
    pub opening: Option<String>,
    /// The size in the shop's unit, then in the other, with "each" for a set.
    pub size: Vec<String>,
    /// The first picture of the finished piece.
    pub photo: Option<Photo>,
    /// Stands in the place of a picture that is not there.
    pub drawing: Option<Drawing>,
    /// Wood, finish, not original, condition, caution in short words, in this order, each only if there is something to say.
    pub rows: Vec<LabelRow>,
    pub link: Option<CatalogueLink>,
}

/// The address of a listing, as text to follow.
#[derive(Clone, Debug, PartialEq, Eq, JsonSchema, Serialize)]
#[serde(rename_all = "kebab-case")]
pub struct CatalogueLink {
    pub address: String,
    /// The address as it is printed.
    pub shown: String,
}

/// One way to look a piece up.
#[derive(Clone, Debug, PartialEq, Eq, JsonSchema, Serialize)]
#[serde(rename_all = "kebab-case")]
pub struct IndexPart {
    /// "By title".
    pub heading: String,
    pub entries: Vec<IndexEntry>,
}

/// What to look up, and the entries whose pages are printed beside it.
#[derive(Clone, Debug, PartialEq, Eq, JsonSchema, Serialize)]
#[serde(rename_all = "kebab-case")]
pub struct IndexEntry {
    /// "Oak washstand", "white oak".
    pub text: String,
    /// The `at` of each entry, in the order of the pages.
    pub pieces: Vec<usize>,
}
