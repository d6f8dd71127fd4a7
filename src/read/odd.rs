//! The limits of what is odd, a table: see the file for the reason of each.

use crate::model::Code;
use rust_decimal::Decimal;
use serde::Deserialize;
use std::sync::LazyLock;

/// One rule: what it counts, and up to how much of it nothing is said.
#[derive(Debug, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Odd {
    pub code: Code,
    /// What `sure = [KEY]` confirms.
    pub key: String,
    pub limit: u32,
    pub unit: String,
    pub why: String,
}

#[derive(Deserialize)]
struct Table {
    odd: Vec<Odd>,
}

static ODD: LazyLock<Vec<Odd>> = LazyLock::new(|| {
    toml::from_str::<Table>(include_str!("tables/odd.toml")).expect("embedded").odd
});

/// Every rule, in the order of the table.
pub fn odd_rules() -> &'static [Odd] {
    &ODD
}

/// Up to how much nothing is said.
pub(super) fn limit(code: Code) -> Decimal {
    let rule = ODD.iter().find(|rule| rule.code == code);
    rule.expect("a row of the table").limit.into()
}

/// How an entry is confirmed: "where it is right, add `sure = ["price"]` to this `[[sale]]`".
pub(super) fn confirm(table: &str, key: &str) -> String {
    let to = match table {
        "" => "at the top of the file".to_owned(),
        table => format!("to this `{table}`"),
    };
    format!("where it is right, add `sure = [\"{key}\"]` {to}")
}
