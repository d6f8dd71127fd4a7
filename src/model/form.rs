//! A tax form as data: lines, what feeds them, dated rates, and the published source of each.

use serde::Deserialize;

/// One form for the years it holds for.
#[derive(Clone, Debug, Deserialize)]
#[serde(rename_all = "kebab-case", deny_unknown_fields)]
pub struct Form {
    /// `us-schedule-c`: what `[books] form` names.
    pub name: String,
    pub years: Vec<i32>,
}

impl Form {
    /// Reads a form table; the error carries the span of what is wrong.
    pub fn parse(text: &str) -> Result<Form, toml::de::Error> {
        toml::from_str(text)
    }

    /// The categories an expense may have, in the order of the lines.
    pub fn categories(&self) -> impl Iterator<Item = &str> {
        std::iter::empty()
    }
}

/// The forms that ship with the program.
pub fn built_in_forms() -> Vec<Form> {
    Vec::new()
}

impl super::Shop {
    /// What a business mile is worth on a day by the shop's form; nothing if no table knows.
    pub fn mileage_rate(&self, _on: chrono::NaiveDate) -> Option<rust_decimal::Decimal> {
        None
    }
}
