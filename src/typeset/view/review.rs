//! What the review of the shop gets: tables of ready strings, and what an hour earned by kind.

use super::common::Sheet;
use super::pieces::PerHour;
use schemars::JsonSchema;
use serde::Serialize;

/// The shop looked at as a whole, on one page or a few.
#[derive(Clone, Debug, JsonSchema, Serialize)]
#[serde(rename_all = "kebab-case")]
pub struct ReviewView {
    #[serde(flatten)]
    pub sheet: Sheet,
    /// "Review of the shop", at the right of the running head.
    pub head: String,
    /// At the left of the foot: the shop, and the last day entered.
    pub foot: String,
    /// "What earned, and what sat".
    pub heading: String,
    /// How many pieces, up to which day, and what was left out; one sentence each.
    pub opening: Vec<String>,
    /// Years, kinds, sources, finishes: in this order, none without rows.
    pub tables: Vec<ReviewTable>,
    /// What an hour earned by kind, where at least two kinds have enough pieces.
    pub chart: Option<ReviewChart>,
    /// What the columns and the verdicts mean, one sentence each.
    pub notes: Vec<String>,
}

/// The pieces put together by one thing.
#[derive(Clone, Debug, JsonSchema, Serialize)]
#[serde(rename_all = "kebab-case")]
pub struct ReviewTable {
    /// "By kind of piece".
    pub heading: String,
    /// Years have other columns than the rest.
    pub columns: ReviewColumns,
    /// A head for each column.
    pub heads: Vec<String>,
    /// A figure, or a word, for each column.
    pub rows: Vec<Vec<String>>,
    /// "All pieces" and the figures of the whole shop.
    pub total: Vec<String>,
}

/// Which columns a table has.
#[derive(Clone, Copy, Debug, PartialEq, Eq, JsonSchema, Serialize)]
#[serde(rename_all = "kebab-case")]
pub enum ReviewColumns {
    /// Name, sold, price, cost, net, hours, per hour, median per hour, days held.
    Years,
    /// Name, sold, net, per hour, median per hour, days held, tied up, verdict.
    Groups,
}

/// The chart with its heading.
#[derive(Clone, Debug, JsonSchema, Serialize)]
#[serde(rename_all = "kebab-case")]
pub struct ReviewChart {
    /// "What an hour earned, by kind".
    pub heading: String,
    /// A bar for each kind; where a piece's number stands, how many pieces it is of.
    pub bars: PerHour,
}
