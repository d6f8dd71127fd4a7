//! The table of cautions, and which of them apply to a piece, with the reason.

use super::languages::Language;
use super::sources::printed;
use super::subject::Subject;
use super::table::embedded;
use super::when::{When, first_reasons};
use super::{Caution, Strength};
use crate::model::{At, Shop, and_list, fact};
use chrono::NaiveDate;
use serde::Deserialize;
use std::sync::LazyLock;

/// One row of the table.
#[derive(Clone, Debug, Deserialize)]
#[serde(rename_all = "kebab-case", deny_unknown_fields)]
pub struct CautionRow {
    pub id: String,
    /// Countries it is for, in lower case; none named means all.
    #[serde(default)]
    pub countries: Vec<String>,
    /// Countries it is not for.
    #[serde(default)]
    pub except: Vec<String>,
    pub strength: Strength,
    /// States it is for, in lower case, "" where the shop states none; none named means all.
    #[serde(default)]
    pub states: Vec<String>,
    /// States it is not for.
    #[serde(default)]
    pub except_states: Vec<String>,
    /// For a shop note: the head it stands under.
    pub topic: Option<String>,
    /// Whether it is about law, so that the tail is printed.
    #[serde(default)]
    pub legal: bool,
    pub text: String,
    /// What is said where space is short.
    pub short: Option<String>,
    /// Ids of the table of sources.
    pub sources: Vec<String>,
    /// For a hold: the fact to state, and the values that lift it.
    pub state: Option<String>,
    #[serde(default)]
    pub safe: Vec<String>,
    /// Any of these rows of conditions.
    pub when: Vec<When>,
}

#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
struct Tail {
    text: String,
}

#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
struct Table {
    tail: Tail,
    caution: Vec<CautionRow>,
}

static TABLE: LazyLock<Table> =
    LazyLock::new(|| embedded("cautions", include_str!("tables/cautions.toml")));

/// All rows, in the order of the table.
pub fn caution_rows() -> &'static [CautionRow] {
    &TABLE.caution
}

/// Every line that can reach a buyer, for the phrase files.
pub(crate) fn lines() -> impl Iterator<Item = &'static str> {
    let for_buyers = || TABLE.caution.iter().filter(|row| row.strength != Strength::ShopNote);
    let words = for_buyers().flat_map(|row| [Some(&row.text), row.short.as_ref()]);
    let named = for_buyers().flat_map(|row| printed(&row.sources)).map(|source| &source.name);
    let lines = words.flatten().chain(named).map(String::as_str);
    lines.chain([TABLE.tail.text.as_str()])
}

/// The sources of a row by its id.
pub(crate) fn sources_of_row(id: &str) -> &'static [String] {
    TABLE.caution.iter().find(|row| row.id == id).map_or(&[], |row| &row.sources)
}

/// The cautions of a piece in a shop's country and state, said in a language: holds first, else in
/// the order of the table.
pub(crate) fn decide(subject: &Subject, shop: &Shop, language: &Language) -> Vec<Caution> {
    let state = shop.state.as_deref().unwrap_or_default();
    let there = |row: &&CautionRow| row.is_for(&shop.country) && row.is_for_state(state);
    let rows = TABLE.caution.iter().filter(there);
    let mut decided: Vec<Caution> = rows.filter_map(|row| row.decide(subject, language)).collect();
    decided.sort_by_key(|caution| caution.strength);
    decided
}

/// The line that defers to the rules of the place, once, where a printed caution is about law.
pub(crate) fn tail(cautions: &[Caution], language: &Language) -> Option<String> {
    let legal = |caution: &Caution| {
        let row = TABLE.caution.iter().find(|row| row.id == caution.id);
        row.is_some_and(|row| row.legal) && caution.strength != Strength::ShopNote
    };
    cautions.iter().any(legal).then(|| language.say(&TABLE.tail.text))
}

/// The same line under the shop notes, whatever they are about.
pub(crate) fn notes_tail(cautions: &[Caution]) -> Option<String> {
    let note = |caution: &Caution| caution.strength == Strength::ShopNote;
    cautions.iter().any(note).then(|| TABLE.tail.text.clone())
}

/// "Sources: 16 CFR 1261; 88 FR 28403, 4 May 2023; …." of some cautions, each source once; nothing
/// where no publisher's own text was read.
pub fn sources_line<'a>(
    cautions: impl Iterator<Item = &'a Caution>,
    language: &Language,
) -> Option<String> {
    let mut sources: Vec<&str> = Vec::new();
    for source in cautions.flat_map(|caution| &caution.sources) {
        if !sources.contains(&source.as_str()) {
            sources.push(source);
        }
    }
    let label = if sources.len() > 1 { "sources" } else { "source" };
    let all = sources.into_iter().map(str::to_owned).reduce(|first, next| {
        language.label("source-and", &[("first", first.as_str()), ("next", next.as_str())])
    });
    all.map(|all| language.label(label, &[("source", &all)]))
}

impl CautionRow {
    /// Whether the row is for shops of a country.
    pub fn is_for(&self, country: &str) -> bool {
        let country = country.to_lowercase();
        let named = self.countries.is_empty() || self.countries.contains(&country);
        named && !self.except.contains(&country)
    }

    /// Whether the row is for shops of a state; "" is a shop that states none.
    pub fn is_for_state(&self, state: &str) -> bool {
        let is = |named: &String| named == state;
        let named = self.states.is_empty() || self.states.iter().any(is);
        named && !self.except_states.iter().any(is)
    }

    fn decide(&self, subject: &Subject, language: &Language) -> Option<Caution> {
        let reasons = first_reasons(&self.when, subject)?;
        let reason = if reasons.is_empty() {
            "the shop is in this country".to_owned()
        } else {
            and_list(&reasons)
        };
        Some(Caution {
            id: self.id.clone(),
            strength: self.strength,
            topic: self.topic.clone(),
            text: fill(&language.say(&self.text), subject, language),
            short: self.short.as_ref().map(|short| fill(&language.say(short), subject, language)),
            sources: printed(&self.sources).map(|source| source.named(language)).collect(),
            reason,
            state: self.state.as_ref().map(|key| Self::to_type(key)),
        })
    }

    /// "`latch` in `[safety]`: `none`, `removed` or `unknown`": every value, the safe ones and the
    /// others alike, since nobody is led to state what was not looked at.
    fn to_type(key: &str) -> String {
        let values = fact(key).map_or(&[][..], |fact| fact.values.as_slice());
        let values: Vec<String> = values.iter().map(|value| format!("`{value}`")).collect();
        format!("`{key}` in `[safety]`: {}", and_list(&values).replace(" and ", " or "))
    }
}

fn fill(text: &str, subject: &Subject, language: &Language) -> String {
    let on = subject.piece.upholstered_on.as_ref();
    let said =
        |on: &At<NaiveDate>| language.label("re-covered", &[("date", &language.date(on.value))]);
    let on = on.map(said).unwrap_or_default();
    text.replace("{re-covered}", &on)
}
