//! The table of sources: what the rows of the other tables rest on, and what of it may be printed
//! for a buyer.

use super::languages::Language;
use super::table::{Seen, date, embedded, some_date};
use chrono::NaiveDate;
use serde::Deserialize;
use std::collections::HashMap;
use std::sync::LazyLock;

/// One text, by its publisher's name for it.
#[derive(Clone, Debug, Deserialize)]
#[serde(rename_all = "kebab-case", deny_unknown_fields)]
pub struct Source {
    pub id: String,
    pub name: String,
    /// The day of the law or the page.
    #[serde(default, deserialize_with = "some_date")]
    pub dated: Option<NaiveDate>,
    /// Its year, where only that is known.
    pub year: Option<i32>,
    pub seen: Seen,
    /// The day it was read or, from memory, written down.
    #[serde(deserialize_with = "date")]
    pub as_of: NaiveDate,
    /// Where it was read.
    #[serde(rename = "where")]
    pub place: Option<String>,
    /// What should be read again before it is relied on.
    pub again: Option<String>,
}

#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
struct Table {
    source: Vec<Source>,
}

static TABLE: LazyLock<Table> =
    LazyLock::new(|| embedded("sources", include_str!("tables/sources.toml")));

static BY_ID: LazyLock<HashMap<&str, &Source>> =
    LazyLock::new(|| TABLE.source.iter().map(|source| (source.id.as_str(), source)).collect());

/// All sources, in the order of the table.
pub fn sources() -> &'static [Source] {
    &TABLE.source
}

/// The sources of some ids; an id that is not there is a fault of the program.
pub fn sources_of(ids: &[String]) -> impl Iterator<Item = &'static Source> {
    ids.iter().map(|id| *BY_ID.get(id.as_str()).unwrap_or_else(|| panic!("no source {id}")))
}

impl Source {
    /// Whether it can be found by a day or a number of its own.
    pub fn can_be_found(&self) -> bool {
        let numbered = self.name.contains(|c: char| c.is_ascii_digit());
        self.dated.is_some() || self.year.is_some() || numbered
    }

    /// "16 CFR 1261; 88 FR 28403, 4 May 2023".
    pub fn named(&self, language: &Language) -> String {
        let day = self.dated.map(|on| language.date(on)).or(self.year.map(|year| year.to_string()));
        let name = language.say(&self.name);
        day.map_or(name.clone(), |day| format!("{name}, {day}"))
    }
}

/// What a buyer's page may name of a row's sources: nothing, unless every one of them was read in its
/// publisher's own text; then those that can be found by a day or a number.
pub(crate) fn printed(ids: &[String]) -> impl Iterator<Item = &'static Source> {
    let all_read = sources_of(ids).all(|source| source.seen == Seen::Own);
    sources_of(ids).filter(move |source| all_read && source.can_be_found())
}
