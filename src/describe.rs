//! Decides what a sheet or card may say of a piece, from facts of the piece and data tables with
//! sources. Words only: no figure is reckoned here and nothing is placed on paper.

mod age;
mod banned;
mod before_after;
mod care;
mod cautions;
mod checks;
mod condition;
mod filled;
mod finishes;
mod fit;
mod grits;
mod html;
mod kinds;
mod lacks;
mod languages;
mod limits;
mod materials;
mod naming;
mod opening;
mod own_finishes;
mod passage;
mod phrases;
mod put_on;
mod schedule;
mod size;
mod sources;
mod subject;
mod table;
mod template;
mod text;
mod used;
mod weight_estimate;
mod when;
mod woods;
pub mod wording;

pub use banned::{Banned, banned_in, banned_rows};
pub use cautions::{CautionRow, caution_rows, sources_line};
pub use finishes::{Conflict, Finish, Layer, Resists, conflicts, finish, finishes};
pub use html::html;
pub use kinds::{kind_name, kind_of};
pub use languages::{ENGLISH, Language, english, language, languages};
pub use naming::wood_in_index;
pub use passage::{Clear, Sides, Stands, Way};
pub use schedule::finish_name;
pub use sources::{Source, sources, sources_of};
pub use table::Seen;
pub use template::{PLACEHOLDERS, Placeholder, Template, template};
pub use text::{Description, Paragraph, ParagraphKind, description};
pub use used::{RestsOn, UsedRow, rows_used};
pub use when::When;
pub use woods::{Meant, Panel, Species, WoodFamily, families, panels, wood, woods};

use crate::model::{Finding, LengthUnit, Piece, Shop, in_order};
use crate::reckon::sold::sold;
use chrono::NaiveDate;
use own_finishes::Finishes;
use serde::Deserialize;
use subject::Subject;

/// What stands in the way of every piece's papers, and what was found on the way. Their words are made
/// by [`words_of`], for those that are asked for.
///
/// Never fails: what is missing is asked for in `lacks`, what is odd is a finding.
pub fn survey(shop: &Shop) -> Survey {
    let finishes = Finishes::of(shop);
    let looked_at = in_order(&shop.pieces, |piece| {
        let subject = Subject::new(piece, &finishes);
        let decided = decide(shop, &subject);
        let mut findings = banned::refused(piece, decided.kept);
        findings.extend(checks::checks(&subject, &decided.standing.cautions));
        (decided.standing, findings)
    });
    let (pieces, findings): (Vec<Standing>, Vec<Vec<Finding>>) = looked_at.into_iter().unzip();
    let of_shop = own_finishes::checks(shop);
    Survey { pieces, findings: of_shop.into_iter().chain(findings.into_iter().flatten()).collect() }
}

/// The words for every piece of the shop, in its order, and what was found on the way.
pub fn describe(shop: &Shop) -> Described {
    let pieces = in_order(&shop.pieces, |piece| words_of(shop, piece));
    Described { pieces, findings: survey(shop).findings }
}

/// What is decided of a piece before any of its words is made.
struct Decided {
    standing: Standing,
    care: Care,
    kept: Vec<Finding>,
}

fn decide(shop: &Shop, subject: &Subject) -> Decided {
    let cautions = in_units(shop, cautions::decide(subject, shop, english()));
    let mut care = care::care(subject, english());
    care.slow = care.slow.map(|slow| in_units_of(shop, slow));
    let kept = banned::not_left_out(subject.piece);
    let lacks = lacks::lacks(subject.piece, &cautions, &care, &kept);
    Decided { standing: Standing { cautions, lacks }, care, kept }
}

/// The words for one piece of the shop.
pub fn words_of(shop: &Shop, piece: &Piece) -> Words {
    let finishes = Finishes::of(shop);
    let subject = Subject::new(piece, &finishes);
    let Decided { standing: Standing { cautions, lacks }, care, .. } = decide(shop, &subject);
    let count = offered(shop, piece);
    Words {
        count,
        opening: opening::opening(&subject, count),
        story: opening::story(&subject),
        made_of: naming::made_of(piece),
        made_of_label: if piece.material.is_empty() { "Wood" } else { "Made of" },
        finish: schedule::finish_line(piece),
        done: condition::done(piece),
        not_original: condition::not_original(piece),
        condition: condition::condition(piece),
        size: size::size(piece, shop.units),
        weight: piece.weight.map(|weight| size::weight(weight, shop.units)),
        moving: moving(shop, &subject),
        before_after: before_after::before_after(piece),
        age: Some(age::age(piece.made.value)),
        lacks,
        cautions_tail: cautions::tail(&cautions, english()),
        notes_tail: cautions::notes_tail(&cautions),
        recipe: schedule::recipe(&subject),
        care,
        cautions,
    }
}

fn moving(shop: &Shop, subject: &Subject) -> Vec<String> {
    let fit = fit::fit(subject.piece, shop.units).into_iter();
    fit.chain(weight_estimate::estimate(subject, shop.units)).collect()
}

/// Words of the tables, which are written in customary units first, in the shop's own. Translations are
/// metric first as they are.
fn in_units_of(shop: &Shop, text: String) -> String {
    match shop.units {
        LengthUnit::Inch => text,
        LengthUnit::Centimetre => wording::metric_first(&text),
    }
}

fn in_units(shop: &Shop, cautions: Vec<Caution>) -> Vec<Caution> {
    let told = |one: Caution| Caution { text: in_units_of(shop, one.text), ..one };
    cautions.into_iter().map(told).collect()
}

/// How many of a set a buyer is told of: those left of one sold in part, else all of them.
fn offered(shop: &Shop, piece: &Piece) -> u32 {
    let left = sold(shop, piece).map_or(0, |sold| sold.units.left());
    if left > 0 { left } else { piece.count.max(1) }
}

/// The words of a piece with what its card says, care and cautions, in another language. The rest
/// stays in English.
pub fn words_in(language: &Language, shop: &Shop, piece: &Piece, words: &Words) -> Words {
    let finishes = Finishes::of(shop);
    let subject = Subject::new(piece, &finishes);
    let cautions = cautions::decide(&subject, shop, language);
    Words {
        care: care::care(&subject, language),
        cautions_tail: cautions::tail(&cautions, language),
        cautions,
        ..words.clone()
    }
}

/// Every line of the tables that can reach a card, in English and each once: what a phrase file
/// translates.
pub fn card_lines() -> Vec<&'static str> {
    let of_finish = |finish: &'static Finish| {
        let lists = [&finish.care, &finish.never, &finish.spill, &finish.renewal];
        let lists = lists.into_iter().flatten().map(String::as_str);
        lists.chain([finish.about.as_str(), finish.until.as_str()])
    };
    let finishes = finishes().iter().flat_map(of_finish);
    let mut lines: Vec<&str> = care::lines().chain(finishes).chain(cautions::lines()).collect();
    lines.retain(|line| !line.is_empty());
    lines.sort_unstable();
    lines.dedup();
    lines
}

/// Everything there is to say of one piece, ready to be placed.
#[derive(Clone, Debug, Default)]
pub struct Words {
    /// How many the words speak of: of a set sold in part those that are left.
    pub count: u32,
    /// One sentence under the title: the owner's own, else made from kind, age and wood.
    pub opening: Option<String>,
    /// The owner's story as written; nothing where it holds a word that is never printed.
    pub story: Option<String>,
    /// "Case and top in solid white oak; drawer sides appear to be pine."
    pub made_of: Option<String>,
    /// What stands before it: "Wood" where it is of nothing else.
    pub made_of_label: &'static str,
    /// "Three coats of satin water-based polyurethane on the outside."
    pub finish: Option<String>,
    /// What was done, from the work entries: one phrase each, in order.
    pub done: Vec<String>,
    /// What is no longer as found: one sentence each.
    pub not_original: Vec<String>,
    /// Flaws and repairs: one sentence each, the most telling first.
    pub condition: Vec<String>,
    pub size: Option<Size>,
    /// "about 64 lb (29 kg)", as scaled.
    pub weight: Option<String>,
    /// The doorway and the turn it needs, with and without what comes off, and its weight as
    /// estimated where it was not weighed: whole sentences.
    pub moving: Vec<String>,
    /// Its way from as found to finished.
    pub before_after: BeforeAfter,
    /// "about 1910", "1920s", "between 1905 and 1915", "age not known".
    pub age: Option<String>,
    /// Holds first, then cautions, then shop notes. A hold is printed on what is still made.
    pub cautions: Vec<Caution>,
    /// Printed once under the cautions where one of them is about law.
    pub cautions_tail: Option<String>,
    /// The same words under the shop notes, where there are any.
    pub notes_tail: Option<String>,
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

/// The way of a piece from as found to finished, as far as it is stated; sentences.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct BeforeAfter {
    /// What the pictures before show.
    pub before: Vec<String>,
    /// What was done.
    pub work: Vec<String>,
    /// "The work was done between 6 and 11 March 2025."
    pub days: Option<String>,
    /// What was changed, and what was put on.
    pub after: Vec<String>,
}

impl BeforeAfter {
    pub fn is_empty(&self) -> bool {
        self.before.is_empty() && self.work.is_empty() && self.after.is_empty()
    }
}

/// Overall size, always width × depth × height.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Size {
    /// `36¼ × 18 × 29½ in`, with no-break spaces.
    pub inches: String,
    /// `92 × 46 × 75 cm`, whole centimetres.
    pub centimetres: String,
    /// For a screen reader, in the shop's unit: "36 and a quarter inches wide, 18 inches deep, …".
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
    /// For a shop note: the head it stands under, "Oily rags".
    pub topic: Option<String>,
    /// What is printed, in whole sentences.
    pub text: String,
    /// The same warning for where space is short.
    pub short: Option<String>,
    /// Whose rule or advice it is, with its day or number; none where no publisher's own text was
    /// read. A block of cautions names its sources once.
    pub sources: Vec<String>,
    /// Why it applies: "kind is blanket chest and latch is not stated".
    pub reason: String,
    /// For a hold: the key to state, as it can be typed: `latch = "none"` in `[safety]`.
    pub state: Option<String>,
}

/// How to look after the piece.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Care {
    /// What was put on, by part: a sentence each, with product, sheen, coats and the last day.
    pub put_on: Vec<String>,
    /// What the finish is, in one or two sentences for the buyer.
    pub finish: Option<String>,
    pub care: Vec<String>,
    pub never: Vec<String>,
    pub spill: Vec<String>,
    pub renewal: Vec<String>,
    /// What to keep from until it is fully hard: "no hot cup, and nothing heavy left on it";
    /// nothing where the day is not known.
    pub until: Option<String>,
    /// That cold and damp lengthen the days; nothing where the day is not known.
    pub slow: Option<String>,
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

/// What stands in the way of a piece's papers.
#[derive(Clone, Debug, Default)]
pub struct Standing {
    /// As in [`Words`].
    pub cautions: Vec<Caution>,
    /// As in [`Words`].
    pub lacks: Vec<Lack>,
}

/// The standing of every piece of the shop, in its order, and what was found on the way.
#[derive(Clone, Debug, Default)]
pub struct Survey {
    pub pieces: Vec<Standing>,
    pub findings: Vec<Finding>,
}
