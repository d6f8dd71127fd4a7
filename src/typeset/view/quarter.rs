//! What the quarter sheet's layout is given: the year's lines for a quarter and so far, the sales tax to
//! file, and the owner's own estimated tax. Filled by `typeset` alone.

use super::common::Sheet;
use super::ledger::{Row, RowKind};
use schemars::JsonSchema;
use serde::Serialize;

/// A quarter on one page.
#[derive(Clone, Debug, JsonSchema, Serialize)]
#[serde(rename_all = "kebab-case")]
pub struct QuarterSheet {
    #[serde(flatten)]
    pub sheet: Sheet,
    /// Right end of the running head: "Quarter 2 of 2025".
    pub head: String,
    /// "1 April to 30 June 2025"; with "up to the last entry, 14 May 2025" where it goes on.
    pub days: String,
    pub foot: String,
    pub lines: QuarterLines,
    /// One for each return of a place that says how often it files.
    pub returns: Vec<TaxReturn>,
    pub estimate: Option<QuarterEstimate>,
    /// Sentences at the end.
    pub notes: Vec<String>,
}

/// The lines of the form with something on them.
#[derive(Clone, Debug, JsonSchema, Serialize)]
#[serde(rename_all = "kebab-case")]
pub struct QuarterLines {
    /// "Profit so far".
    pub heading: String,
    /// Four words over the columns: "line", "what it is", "the quarter", "the year so far".
    pub heads: Vec<String>,
    pub rows: Vec<QuarterLine>,
}

/// A line of the form.
#[derive(Clone, Debug, JsonSchema, Serialize)]
#[serde(rename_all = "kebab-case")]
pub struct QuarterLine {
    pub line: String,
    pub label: String,
    pub quarter: String,
    pub so_far: String,
    pub kind: RowKind,
}

/// Sales tax as it is filed for one place and period.
#[derive(Clone, Debug, JsonSchema, Serialize)]
#[serde(rename_all = "kebab-case")]
pub struct TaxReturn {
    /// "Sales tax, Alder County", and the month where it is filed by the month.
    pub heading: String,
    /// From gross sales to what is still due.
    pub rows: Vec<Row>,
    /// What is held for the place, and by which day the tax is owed.
    pub note: String,
}

/// The owner's own estimated tax.
#[derive(Clone, Debug, JsonSchema, Serialize)]
#[serde(rename_all = "kebab-case")]
pub struct QuarterEstimate {
    /// "Your own estimated tax".
    pub heading: String,
    /// Net profit so far, and the self-employment tax on it.
    pub rows: Vec<Row>,
    /// Each due day with what was paid for it, and their sum.
    pub paid: Vec<Row>,
    /// What the estimate is and what it is not.
    pub notes: Vec<String>,
}
