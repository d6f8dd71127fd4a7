//! Decides what a sheet or card may say of a piece, from facts of the piece and data tables with
//! sources. Words only: no figure is reckoned here and nothing is placed on paper.

use crate::model::Finding;
use chrono::NaiveDate;

/// Everything there is to say of one piece, ready to be placed.
#[derive(Clone, Debug, Default)]
pub struct Words {
    /// One sentence under the title: the owner's own, else made from kind, age and wood.
    pub opening: Option<String>,
    /// "Appears to be white oak; drawer sides pine."
    pub wood: Option<String>,
    /// "Water-based polyurethane, satin, three coats on the outside."
    pub finish: Option<String>,
    /// What was done, from the work entries: one phrase each, in order.
    pub done: Vec<String>,
    /// What is no longer as found: one sentence each.
    pub not_original: Vec<String>,
    /// Flaws and repairs: one sentence each, the most telling first.
    pub condition: Vec<String>,
    pub size: Option<Size>,
    /// "about 64 lb (29 kg)".
    pub weight: Option<String>,
    /// "about 1910", "1920 to 1929", "age not known".
    pub age: Option<String>,
    pub cautions: Vec<Caution>,
    pub care: Care,
    /// The finish schedule to repeat or match it, in order.
    pub recipe: Vec<Step>,
    /// What each document still lacks; a document not named is ready.
    pub lacks: Vec<Lack>,
}

/// Overall size, always width × depth × height.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Size {
    /// `36¼ × 18 × 29½ in`, with no-break spaces.
    pub inches: String,
    /// `92 × 46 × 75 cm`, whole centimetres.
    pub centimetres: String,
    /// For a screen reader: "36 and a quarter inches wide, 18 inches deep, …".
    pub spoken: String,
}

/// How strongly a caution acts.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Strength {
    /// No listing sheet and no description until the owner states a fact.
    Hold,
    /// Printed for the buyer.
    Caution,
    /// On the owner's own page only.
    ShopNote,
}

/// One caution that applies to the piece.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Caution {
    /// The row of the cautions table.
    pub id: String,
    pub strength: Strength,
    /// What is printed, in whole sentences.
    pub text: String,
    /// Whose rule or advice it is; printed after "Source:".
    pub source: String,
    pub as_of: NaiveDate,
    /// Why it applies: "kind is blanket chest and latch is not stated".
    pub reason: String,
    /// For a hold: the key to state, as it can be typed: `latch = "none"` in `[safety]`.
    pub state: Option<String>,
}

/// How to look after the piece.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Care {
    /// What the finish is, in one or two sentences for the buyer.
    pub finish: Option<String>,
    pub care: Vec<String>,
    pub never: Vec<String>,
    pub spill: Vec<String>,
    pub renewal: Vec<String>,
    /// What to keep from until it is fully hard.
    pub until: Option<String>,
    pub light_use_from: Option<NaiveDate>,
    pub fully_hard_on: Option<NaiveDate>,
}

/// One step of the finish recipe.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Step {
    pub text: String,
    pub on: Option<NaiveDate>,
}

/// A paper for one piece.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Document {
    ListingSheet,
    Description,
    CareCard,
    ShopRecord,
}

/// What a document lacks.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Lack {
    pub document: Document,
    /// A key to add, as it can be typed, and what for: "`height`: the size and the scale drawing".
    pub what: String,
    /// True when the document cannot be made without it; else it is only poorer.
    pub needed: bool,
}

/// The words for every piece of the shop, in its order, and what was found on the way.
#[derive(Clone, Debug, Default)]
pub struct Described {
    pub pieces: Vec<Words>,
    pub findings: Vec<Finding>,
}
