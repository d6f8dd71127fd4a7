//! What the stock sheet gets: every piece for sale.

use super::common::{Drawing, Sheet};
use schemars::JsonSchema;
use serde::Serialize;

/// The pieces for sale, grouped, in one table with the drawings at one scale.
#[derive(Clone, Debug, JsonSchema, Serialize)]
#[serde(rename_all = "kebab-case")]
pub struct StockView {
    #[serde(flatten)]
    pub sheet: Sheet,
    /// "Pieces for sale", the heading of the sheet.
    pub heading: String,
    /// "Stock sheet", at the right of the running head.
    pub matter: String,
    /// "Fourteen pieces." under the heading.
    pub opening: Option<String>,
    /// "14 March 2026".
    pub dated: Option<String>,
    pub columns: StockColumns,
    /// Groups by kind, none of them empty.
    pub groups: Vec<StockGroup>,
    /// What all pieces with a price ask together; nothing for less than two of them.
    pub total: Option<StockTotal>,
    /// "Drawings at {scale}, so that sizes can be compared by eye.": under the table.
    pub note: String,
    /// "No pieces for sale.", in place of an empty table.
    pub nothing: String,
}

/// The heads of the columns.
#[derive(Clone, Debug, JsonSchema, Serialize)]
#[serde(rename_all = "kebab-case")]
pub struct StockColumns {
    /// "At {scale}": the layout puts the scale for `{scale}`.
    pub drawing: String,
    pub number: String,
    pub piece: String,
    pub stands: String,
    pub since: String,
    /// "Price, $".
    pub price: String,
    /// "Seen": a box to tick when the stock is counted.
    pub tick: String,
}

/// The foot of the table.
#[derive(Clone, Debug, JsonSchema, Serialize)]
#[serde(rename_all = "kebab-case")]
pub struct StockTotal {
    /// "All three", or "The three with a price".
    pub label: String,
    /// "735.00".
    pub amount: String,
}

/// Pieces of one kind.
#[derive(Clone, Debug, JsonSchema, Serialize)]
#[serde(rename_all = "kebab-case")]
pub struct StockGroup {
    /// "Chests of drawers"; nothing prints the rows without a sub-head.
    pub name: Option<String>,
    pub rows: Vec<StockRow>,
}

/// One piece for sale.
#[derive(Clone, Debug, JsonSchema, Serialize)]
#[serde(rename_all = "kebab-case")]
pub struct StockRow {
    /// "25–001".
    pub number: String,
    pub title: String,
    /// "36¼ × 18 × 29½ in", with "each" after it for a set.
    pub size: Option<String>,
    /// Where it stands; a dash where it is not written.
    pub stands: String,
    /// "14 Mar", with the year where it is not this year's; a dash where it is not written.
    pub since: String,
    /// "485.00" without a currency symbol, or "on request".
    pub price: String,
    /// How many pieces alike are drawn side by side: the count of a set, else 1.
    pub count: u32,
    pub drawing: Option<Drawing>,
}
