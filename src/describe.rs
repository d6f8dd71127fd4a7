//! Decides what a sheet or card may say of a piece, from facts of the piece and data tables with
//! sources. Words only: no figure is reckoned here and nothing is placed on paper.

mod age;
mod banned;
mod care;
mod cautions;
mod checks;
mod condition;
mod finishes;
mod grits;
mod kinds;
mod lacks;
mod naming;
mod opening;
mod schedule;
mod size;
mod subject;
mod table;
mod text;
mod when;
mod woods;
pub mod wording;

pub use banned::{Banned, banned_in, banned_rows};
pub use cautions::{CautionRow, caution_rows};
pub use finishes::{Conflict, Finish, Layer, Resists, conflicts, finish, finishes};
pub use kinds::{kind_name, kind_of};
pub use schedule::finish_name;
pub use table::Seen;
pub use text::{Description, description};
pub use when::When;
pub use woods::{Meant, Panel, Species, WoodFamily, families, panels, wood, woods};

use crate::model::{Finding, Piece, Shop, in_order};
use chrono::NaiveDate;
use serde::Deserialize;
use subject::Subject;

/// The words for every piece of the shop, in its order, and what was found on the way.
///
/// Never fails: what is missing is asked for in `lacks`, what is odd is a finding.
pub fn describe(shop: &Shop) -> Described {
    let said = in_order(&shop.pieces, |piece| words(shop, piece));
    let (pieces, findings): (Vec<Words>, Vec<Vec<Finding>>) = said.into_iter().unzip();
    Described { pieces, findings: findings.into_iter().flatten().collect() }
}

fn words(shop: &Shop, piece: &Piece) -> (Words, Vec<Finding>) {
    let subject = Subject::new(piece);
    let cautions = cautions::decide(&subject, &shop.country);
    let care = care::care(&subject);
    let words = Words {
        opening: opening::opening(&subject),
        story: opening::story(&subject),
        wood: naming::wood_line(&piece.wood),
        finish: schedule::finish_line(piece),
        done: condition::done(piece),
        not_original: condition::not_original(piece),
        condition: condition::condition(piece),
        size: size::size(piece),
        weight: piece.weight.map(size::weight),
        age: Some(age::age(piece.made.value)),
        lacks: lacks::lacks(piece, &cautions, &care, &banned::not_left_out(piece)),
        cautions_tail: cautions::tail(&cautions),
        recipe: schedule::recipe(piece),
        care,
        cautions,
    };
    let mut findings = banned::refused(piece);
    findings.extend(checks::checks(&subject, &words.cautions));
    (words, findings)
}

/// Everything there is to say of one piece, ready to be placed.
#[derive(Clone, Debug, Default)]
pub struct Words {
    /// One sentence under the title: the owner's own, else made from kind, age and wood.
    pub opening: Option<String>,
    /// The owner's story as written; nothing where it holds a word that is never printed.
    pub story: Option<String>,
    /// "Case and top in solid white oak; drawer sides appear to be pine."
    pub wood: Option<String>,
    /// "Three coats of satin water-based polyurethane on the outside."
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
    /// "about 1910", "1920s", "between 1905 and 1915", "age not known".
    pub age: Option<String>,
    /// Holds first, then cautions, then shop notes. A hold is printed on what is still made.
    pub cautions: Vec<Caution>,
    /// Printed once under the cautions where one of them is about law.
    pub cautions_tail: Option<String>,
    pub care: Care,
    /// The finish schedule to repeat or match it, in order.
    pub recipe: Vec<Step>,
    /// What each document still lacks; a document not named is ready.
    pub lacks: Vec<Lack>,
}

impl Words {
    /// Whether the papers for buyers cannot be made: a hold, or words that are never printed.
    pub fn held(&self) -> bool {
        self.lacks.iter().any(|lack| lack.needed && lack.document == Document::Description)
    }
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
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Deserialize)]
#[serde(rename_all = "kebab-case")]
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
    /// The same warning for where space is short.
    pub short: Option<String>,
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
    /// What to keep from until it is fully hard: "no hot cup, and nothing heavy left on it";
    /// nothing where the day is not known.
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
