//! The table of woods, and which row an owner's word means.

use super::table::{date, decimal, embedded};
use super::wording::flat;
use chrono::NaiveDate;
use rust_decimal::Decimal;
use serde::Deserialize;
use std::collections::HashMap;
use std::sync::LazyLock;

/// A wood, with its figures and where they are from.
#[derive(Clone, Debug, Deserialize)]
#[serde(rename_all = "kebab-case", deny_unknown_fields)]
pub struct Species {
    pub name: String,
    /// Other names for the same wood, printed as the owner wrote them.
    #[serde(default)]
    pub aliases: Vec<String>,
    /// Names that promise another wood: understood, never printed.
    #[serde(default)]
    pub misleading: Vec<String>,
    pub botanical: String,
    /// Whether the botanical name was read in a copy of a published page; false is from memory.
    pub botanical_seen: bool,
    /// `hardwood` or `softwood`.
    pub group: String,
    /// Oven-dry mass by volume at 12 % moisture.
    #[serde(deserialize_with = "decimal")]
    pub sg_12: Decimal,
    /// `table`, `computed` or `memory`.
    pub basis: String,
    /// Side hardness in pounds-force; nothing where the table prints a dash.
    pub janka_lbf: Option<u32>,
    /// Moisture of the hardness figure in percent.
    pub moisture: u32,
    /// At 12 % moisture.
    #[serde(deserialize_with = "decimal")]
    pub density_lb_ft3: Decimal,
    pub density_kg_m3: u32,
    pub colour: String,
    pub grain: String,
    pub colour_seen: bool,
    /// What matters for finished furniture that crosses a border.
    pub trade: String,
    pub trade_seen: bool,
    /// `sensitiser`, `cites-1`, `cites-2`, `cites-2-small-lots`, `cites-verify`.
    #[serde(default)]
    pub traits: Vec<String>,
    pub source: String,
    #[serde(deserialize_with = "date")]
    pub as_of: NaiveDate,
    pub seen: bool,
}

/// Upper ends of the bands of side hardness in pounds-force (our own bands, from memory).
const BANDS: [(u32, &str); 3] = [(499, "soft"), (900, "medium"), (1300, "hard")];

impl Species {
    /// One plain word: soft, medium, hard, very hard; nothing where no hardness is printed.
    pub fn hardness(&self) -> Option<&'static str> {
        let janka = self.janka_lbf?;
        let band = BANDS.iter().find(|(upper, _)| janka <= *upper);
        Some(band.map_or("very hard", |(_, word)| word))
    }
}

/// A name for several woods of the table.
#[derive(Clone, Debug, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct WoodFamily {
    pub name: String,
    pub members: Vec<String>,
}

/// A panel product: never solid wood.
#[derive(Clone, Debug, Deserialize)]
#[serde(rename_all = "kebab-case", deny_unknown_fields)]
pub struct Panel {
    pub name: String,
    #[serde(default)]
    pub aliases: Vec<String>,
    /// Lowest and highest pounds per cubic foot.
    pub density_lb_ft3: [u32; 2],
    pub source: String,
    #[serde(deserialize_with = "date")]
    pub as_of: NaiveDate,
    pub seen: bool,
}

#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
struct Words {
    words: Vec<String>,
}

#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
struct Table {
    species: Vec<Species>,
    family: Vec<WoodFamily>,
    cuts: Words,
    protected: Words,
    panel: Vec<Panel>,
}

static TABLE: LazyLock<Table> =
    LazyLock::new(|| embedded("woods", include_str!("tables/woods.toml")));

/// All woods, in the order of the table.
pub fn woods() -> &'static [Species] {
    &TABLE.species
}

/// All names for several woods.
pub fn families() -> &'static [WoodFamily] {
    &TABLE.family
}

/// All panel products.
pub fn panels() -> &'static [Panel] {
    &TABLE.panel
}

/// What an owner's word for a wood means.
#[derive(Clone, Debug)]
pub struct Meant {
    /// The rows it may be; more than one for a name such as oak.
    pub rows: Vec<&'static Species>,
    /// What may be printed: the owner's word, or the row's name where that word misleads.
    pub printed: String,
    /// Whether the owner's word promises another wood.
    pub misleads: bool,
}

/// Row and whether the word misleads, by flattened name.
static INDEX: LazyLock<HashMap<String, (&'static Species, bool)>> = LazyLock::new(|| {
    let mut index = HashMap::new();
    for row in &TABLE.species {
        index.extend(row.misleading.iter().map(|name| (flat(name), (row, true))));
        let names = row.aliases.iter().chain([&row.name]);
        index.extend(names.map(|name| (flat(name), (row, false))));
    }
    index
});

/// Families by their flattened names.
static FAMILIES: LazyLock<Vec<(String, &'static WoodFamily)>> =
    LazyLock::new(|| families().iter().map(|family| (flat(&family.name), family)).collect());

/// Words for a cut or figure, and names kept for certain woods, each flattened.
static CUTS: LazyLock<Vec<(String, usize)>> =
    LazyLock::new(|| TABLE.cuts.words.iter().map(|cut| (flat(cut), cut.len())).collect());
static PROTECTED: LazyLock<Vec<(String, &'static str)>> = LazyLock::new(|| {
    TABLE.protected.words.iter().map(|word| (flat(word), word.as_str())).collect()
});

/// The rows of a word, in any case, with or without a word for cut or figure before it.
pub fn wood(written: &str) -> Option<Meant> {
    let (cut, name) = without_cut(written);
    let named = flat(name);
    if let Some(&(row, misleads)) = INDEX.get(&named) {
        let printed =
            if misleads { format!("{cut}{}", row.name) } else { written.trim().to_owned() };
        return Some(Meant { rows: vec![row], printed, misleads });
    }
    let family = FAMILIES.iter().find(|(name, _)| *name == named).map(|(_, family)| family)?;
    let rows = TABLE.species.iter().filter(|row| family.members.contains(&row.name)).collect();
    Some(Meant { rows, printed: written.trim().to_owned(), misleads: false })
}

/// Takes "quarter-sawn " off "quarter-sawn oak", unless the whole is a wood by itself.
fn without_cut(written: &str) -> (&str, &str) {
    let written = written.trim();
    let whole = flat(written);
    if INDEX.contains_key(&whole) {
        return ("", written);
    }
    let cuts = CUTS.iter().filter(|(cut, _)| whole.starts_with(cut));
    let cut = cuts.map(|(_, long)| *long).max().unwrap_or(0);
    match written.get(cut..) {
        Some(rest) if cut > 0 && rest.starts_with([' ', '-']) => written.split_at(cut + 1),
        _ => ("", written),
    }
}

/// Every word a wood is known by, for near misses.
pub(crate) fn wood_words() -> impl Iterator<Item = &'static str> {
    let names = TABLE.species.iter().flat_map(|row| row.aliases.iter().chain([&row.name]));
    names.chain(TABLE.family.iter().map(|family| &family.name)).map(String::as_str)
}

/// A name kept for certain woods that stands in a word for another one.
pub(crate) fn protected_in(written: &str) -> Option<&'static str> {
    let flat_written = flat(written);
    let found = PROTECTED.iter().find(|(word, _)| flat_written.contains(word));
    found.map(|(_, word)| *word)
}

/// Whether a phrase begins with a word for a panel product.
pub(crate) fn panel(phrase: &str) -> Option<&'static Panel> {
    let phrase = flat(phrase);
    TABLE.panel.iter().find(|panel| {
        panel.aliases.iter().chain([&panel.name]).any(|name| phrase.contains(&flat(name)))
    })
}
