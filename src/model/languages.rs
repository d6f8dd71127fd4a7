//! The languages a care card can be made in beside English: a table, so that a new one is a row
//! here and a phrase file of its code.

use super::{Piece, Shop};
use serde::Deserialize;
use std::sync::LazyLock;

/// A language by its ISO 639-1 code.
#[derive(Clone, Debug, PartialEq, Eq, Deserialize)]
pub struct CardLanguage {
    pub code: String,
    /// In English.
    pub name: String,
    /// Other words people write for it.
    pub names: Vec<String>,
}

#[derive(Deserialize)]
struct Table {
    language: Vec<CardLanguage>,
}

static TABLE: LazyLock<Vec<CardLanguage>> = LazyLock::new(|| {
    toml::from_str::<Table>(include_str!("tables/languages.toml")).expect("embedded").language
});

/// All languages beside English, in the order of the table.
pub fn card_languages() -> &'static [CardLanguage] {
    &TABLE
}

/// The codes of the languages a piece's care card is also made in, each once: its own choice, else
/// that of the shop.
pub fn languages_of<'a>(shop: &'a Shop, piece: &'a Piece) -> Vec<&'a str> {
    let chosen = piece.card_languages.as_ref().unwrap_or(&shop.card_languages);
    let mut codes: Vec<&str> = Vec::new();
    for code in chosen {
        if !codes.contains(&code.as_str()) {
            codes.push(code);
        }
    }
    codes
}
