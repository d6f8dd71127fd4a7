//! The table of finishes, and which row an owner's product means.

use super::table::{Seen, date, embedded};
use super::wording::{flat, says};
use chrono::NaiveDate;
use serde::Deserialize;
use std::sync::LazyLock;

/// What a layer does: decides which layers protect, and so give dates and care.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Deserialize)]
#[serde(rename_all = "kebab-case")]
pub enum Layer {
    Film,
    Oil,
    Wax,
    Paint,
    Bare,
    /// Stain and dye: colours, protects nothing.
    Colour,
    /// Primer, sealer, filler: under other layers.
    Ground,
}

/// Resistance from 0 poor to 3 good (trade consensus).
#[derive(Clone, Copy, Debug, PartialEq, Eq, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Resists {
    pub water: u8,
    pub heat: u8,
    pub alcohol: u8,
    pub alkali: u8,
    pub abrasion: u8,
}

/// A kind of finish, how long it takes and how it is looked after.
#[derive(Clone, Debug, Deserialize)]
#[serde(rename_all = "kebab-case", deny_unknown_fields)]
pub struct Finish {
    pub name: String,
    /// The words people write for it.
    pub names: Vec<String>,
    pub layer: Layer,
    #[serde(default)]
    pub traits: Vec<String>,
    /// Until it can be touched, as told; at about 21 °C and 50 % humidity.
    pub touch: String,
    pub recoat: String,
    pub coats: String,
    /// Days from the last coat, shortest and longest; 0 where nothing has to dry.
    pub light_use_days: [u32; 2],
    pub cure_days: [u32; 2],
    pub resists: Resists,
    /// What it is, in one or two sentences for the buyer.
    pub about: String,
    pub care: Vec<String>,
    pub never: Vec<String>,
    pub spill: Vec<String>,
    pub renewal: Vec<String>,
    /// What to keep from until it is fully hard: "no hot cup, and …"; empty where nothing.
    pub until: String,
    pub source: String,
    #[serde(deserialize_with = "date")]
    pub as_of: NaiveDate,
    pub seen: Seen,
    /// The row that stands for every unknown finish: the most delicate.
    #[serde(default)]
    pub fallback: bool,
}

impl Finish {
    pub fn is(&self, name: &str) -> bool {
        self.traits.iter().any(|t| t == name)
    }

    /// Whether it is what a buyer touches, so that care and dates follow it.
    pub fn protects(&self) -> bool {
        !matches!(self.layer, Layer::Colour | Layer::Ground)
    }

    /// Whether something has to harden after the last coat.
    pub fn hardens(&self) -> bool {
        self.cure_days[1] > 0
    }
}

/// What must not lie on what.
#[derive(Clone, Debug, Deserialize)]
#[serde(rename_all = "kebab-case", deny_unknown_fields)]
pub struct Conflict {
    /// Traits of the upper layer.
    pub over: Vec<String>,
    /// Traits of the lower layer.
    pub under: Vec<String>,
    /// No trouble once so many days lie between the last coats.
    pub wait_days: Option<i64>,
    /// No trouble where the lower product says one of these.
    #[serde(default)]
    pub unless_under_says: Vec<String>,
    pub says: String,
}

#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
struct Table {
    finish: Vec<Finish>,
    conflict: Vec<Conflict>,
}

static TABLE: LazyLock<Table> =
    LazyLock::new(|| embedded("finishes", include_str!("tables/finishes.toml")));

/// Every word with its row, flattened, the longest first.
static NAMES: LazyLock<Vec<(String, &'static Finish)>> = LazyLock::new(|| {
    let rows = TABLE.finish.iter();
    let named = |row: &'static Finish| row.names.iter().map(move |name| (flat(name), row));
    let mut names: Vec<_> = rows.flat_map(named).collect();
    names.sort_by_key(|(name, _)| std::cmp::Reverse(name.len()));
    names
});

/// All finishes, in the order of the table.
pub fn finishes() -> &'static [Finish] {
    &TABLE.finish
}

/// All layer conflicts, in the order of the table.
pub fn conflicts() -> &'static [Conflict] {
    &TABLE.conflict
}

/// The finish of the table a product means: the longest known word in it, or nothing.
pub fn finish(product: &str) -> Option<&'static Finish> {
    let product = flat(product);
    let exact = NAMES.iter().find(|(name, _)| *name == product);
    exact.or_else(|| NAMES.iter().find(|(name, _)| product.contains(name))).map(|(_, row)| *row)
}

/// The row for an unknown finish.
pub fn unknown_finish() -> &'static Finish {
    TABLE.finish.iter().find(|row| row.fallback).expect("the table has a row for the unknown")
}

/// Every word a finish is known by, for near misses.
pub(crate) fn finish_words() -> impl Iterator<Item = &'static str> {
    TABLE.finish.iter().flat_map(|row| &row.names).map(String::as_str)
}

impl Conflict {
    /// Whether an upper finish lies badly on a lower one, days between their last coats known or
    /// not; nothing known of the days counts as too soon.
    pub(crate) fn arises(
        &self,
        upper: &Finish,
        lower: &Finish,
        lower_product: &str,
        days: Option<i64>,
    ) -> bool {
        let on = self.over.iter().any(|name| upper.is(name));
        let under = self.under.iter().any(|name| lower.is(name));
        let waited = self.wait_days.is_some_and(|wait| days.is_some_and(|days| days >= wait));
        let excused = self.unless_under_says.iter().any(|word| says(lower_product, word));
        on && under && !waited && !excused
    }
}
