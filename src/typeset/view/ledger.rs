//! The rows every money table shares: a label, an amount as a ready string, and how heavy it is.
//! Used by the views of the income summary and the shop record.

use schemars::JsonSchema;
use serde::Serialize;

/// One row of a ledger.
#[derive(Clone, Debug, PartialEq, Eq, JsonSchema, Serialize)]
#[serde(rename_all = "kebab-case")]
pub struct Row {
    /// "less cost of goods sold".
    pub label: String,
    /// The amount, rounded and signed with a true minus; "–" when not recorded.
    pub amount: String,
    /// How the row is set.
    pub kind: RowKind,
}

/// How a row of money is set.
#[derive(Clone, Copy, Debug, PartialEq, Eq, JsonSchema, Serialize)]
#[serde(rename_all = "kebab-case")]
pub enum RowKind {
    /// An ordinary row.
    Item,
    /// A sum on the way: a hairline above it.
    Subtotal,
    /// The sum a table ends in: semibold, with its rules.
    Total,
}
