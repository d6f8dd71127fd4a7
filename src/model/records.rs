//! Records: what they must show, as published, in a table, so that another country is rows and no
//! code; and the file of a receipt. Any floor may use it.

use super::Seen;
use serde::Deserialize;
use std::sync::LazyLock;

/// What the record of one kind of entry must show.
#[derive(Clone, Debug, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct RecordRule {
    /// ISO 3166 code in lower case: the country of a form.
    pub country: String,
    /// What the record is of: "purchases of stock".
    pub of: String,
    pub shows: String,
    pub source: String,
    pub seen: Seen,
}

/// The file of a receipt as it was when it was read.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct ReceiptFile {
    /// SHA-256 of its bytes, 64 hexadecimal digits in lower case (FIPS 180).
    pub sha256: String,
    pub bytes: u64,
}

#[derive(Deserialize)]
struct Table {
    record: Vec<RecordRule>,
}

static TABLE: LazyLock<Table> =
    LazyLock::new(|| toml::from_str(include_str!("tables/records.toml")).expect("embedded"));

/// The rules of a country, in the order of the table; none where nothing was published or read.
pub fn record_rules(country: &str) -> impl Iterator<Item = &'static RecordRule> {
    TABLE.record.iter().filter(move |rule| rule.country == country)
}
