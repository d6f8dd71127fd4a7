//! The kinds of furniture and the facts about a piece that cautions are decided from: two tables,
//! so that a new kind or a new fact is a row and no code.

use serde::Deserialize;
use std::collections::HashMap;
use std::sync::LazyLock;

/// How a piece is drawn when only its kind and size are known.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Deserialize)]
#[serde(rename_all = "kebab-case")]
pub enum Shape {
    Case,
    Lidded,
    Table,
    Seat,
    Shelves,
    Other,
}

/// A kind of furniture: `kind = "washstand"`.
#[derive(Clone, Debug, Deserialize)]
#[serde(rename_all = "kebab-case", deny_unknown_fields)]
pub struct Kind {
    pub name: String,
    pub plural: String,
    #[serde(default)]
    pub aliases: Vec<String>,
    pub shape: Shape,
    /// What the cautions ask about: `clothes`, `tall`, `lidded`, `seating`, `padded`, `low-top`,
    /// `glass`, `mirror`, `child`, `child-lid`, `sleeping-child`, `bed`, `bunk`, `airtight`,
    /// `wired`, `dial`.
    #[serde(default)]
    pub traits: Vec<String>,
    /// Where the usage of the name was read.
    pub source: String,
}

impl Kind {
    pub fn is(&self, name: &str) -> bool {
        self.traits.iter().any(|t| t == name)
    }
}

/// A key of `[safety]` and the values it may take.
#[derive(Clone, Debug, Deserialize)]
#[serde(rename_all = "kebab-case", deny_unknown_fields)]
pub struct Fact {
    pub key: String,
    pub values: Vec<String>,
    /// What the fact is, for the owner: "whether paint older than your finish is on the piece".
    pub says: String,
}

#[derive(Deserialize)]
struct KindTable {
    kind: Vec<Kind>,
}

#[derive(Deserialize)]
struct FactTable {
    fact: Vec<Fact>,
}

static KINDS: LazyLock<Vec<Kind>> = LazyLock::new(|| {
    toml::from_str::<KindTable>(include_str!("tables/kinds.toml")).expect("embedded").kind
});

static FACTS: LazyLock<Vec<Fact>> = LazyLock::new(|| {
    toml::from_str::<FactTable>(include_str!("tables/facts.toml")).expect("embedded").fact
});

/// All kinds of furniture, in the order of the table.
pub fn kinds() -> &'static [Kind] {
    &KINDS
}

/// The kind of a word, by its name, plural or another name, in any case.
pub fn kind(word: &str) -> Option<&'static Kind> {
    KIND_NAMES.get(&word.trim().to_lowercase()).copied()
}

/// Every name in lower case; what two kinds are called is the earlier one's.
static KIND_NAMES: LazyLock<HashMap<String, &'static Kind>> = LazyLock::new(|| {
    let mut names = HashMap::new();
    for kind in kinds() {
        for name in [&kind.name, &kind.plural].into_iter().chain(&kind.aliases) {
            names.entry(name.to_lowercase()).or_insert(kind);
        }
    }
    names
});

/// All keys of `[safety]`, in the order of the table.
pub fn facts() -> &'static [Fact] {
    &FACTS
}

/// The fact of a key.
pub fn fact(key: &str) -> Option<&'static Fact> {
    FACTS.iter().find(|fact| fact.key == key)
}
