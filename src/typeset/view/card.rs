//! What the care card gets, one up and four up.

use super::common::{Cautions, Drawing, Sheet};
use schemars::JsonSchema;
use serde::Serialize;

/// One card, front and back on two pages.
#[derive(Clone, Debug, JsonSchema, Serialize)]
#[serde(rename_all = "kebab-case")]
pub struct CardView {
    #[serde(flatten)]
    pub sheet: Sheet,
    /// Its trim: `a6` or `4x6in`.
    pub size: String,
    /// Bleed and crop marks around it.
    pub marks: bool,
    pub card: Card,
}

/// One card in large print, on the shop's paper.
#[derive(Clone, Debug, JsonSchema, Serialize)]
#[serde(rename_all = "kebab-case")]
pub struct LargeCardView {
    #[serde(flatten)]
    pub sheet: Sheet,
    /// "No. 25–001, continued": the head of every page but the first.
    pub number_continued: String,
    pub card: Card,
}

/// Cards four to a sheet with cut marks; every page of fronts is followed by its backs, for
/// printing on both sides and turning on the long edge.
#[derive(Clone, Debug, JsonSchema, Serialize)]
#[serde(rename_all = "kebab-case")]
pub struct CardSheetView {
    #[serde(flatten)]
    pub sheet: Sheet,
    /// Different cards, in order of their places.
    pub cards: Vec<Card>,
    /// How often each card stands on the sheets; it is read aloud only once.
    pub copies: usize,
}

/// The words of one card.
#[derive(Clone, Debug, PartialEq, Eq, JsonSchema, Serialize)]
#[serde(rename_all = "kebab-case")]
pub struct Card {
    /// The piece's title.
    pub heading: String,
    /// The language of the owner's words, heading and contact: `en`.
    pub own_lang: String,
    /// "No. 25–001".
    pub number: String,
    /// "Care of the": before the title.
    pub care_of: String,
    /// "Keeping it well": the head of the back.
    pub back: String,
    /// Decoration here, since no size is said: its `alt` is not used.
    pub drawing: Option<Drawing>,
    /// "The finish": what was put on, a sentence for each part, then what it is.
    pub finish: Option<CardRow>,
    /// "Light use from", "Fully hard on"; empty when nothing on the piece has to cure.
    pub dates: Vec<CardDate>,
    /// "Until then: no wet cloth, nothing hot, nothing left on it."
    pub until: Option<String>,
    /// Care, never, a spill, renewal, in this order, each only if there is something to say.
    pub rows: Vec<CardRow>,
    pub cautions: Cautions,
}

/// A date the buyer waits for.
#[derive(Clone, Debug, PartialEq, Eq, JsonSchema, Serialize)]
#[serde(rename_all = "kebab-case")]
pub struct CardDate {
    pub label: String,
    /// "11 April 2026", or "ask us" when it is not known.
    pub text: String,
    /// False for "ask us".
    pub stated: bool,
}

/// A label and its sentences; a long card may break between two of them.
#[derive(Clone, Debug, PartialEq, Eq, JsonSchema, Serialize)]
#[serde(rename_all = "kebab-case")]
pub struct CardRow {
    pub label: String,
    pub sentences: Vec<String>,
}
