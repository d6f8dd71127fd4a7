//! What the layouts of the inventory and of the count sheet are given. Filled by `typeset` alone.

use super::common::{Photo, Sheet};
use super::ledger::Row;
use schemars::JsonSchema;
use serde::Serialize;

/// What was in the shop on a day, for an insurer.
#[derive(Clone, Debug, JsonSchema, Serialize)]
#[serde(rename_all = "kebab-case")]
pub struct InventoryView {
    #[serde(flatten)]
    pub sheet: Sheet,
    /// "Inventory".
    pub heading: String,
    /// Right end of the running head: "Inventory on 31 March 2026".
    pub head: String,
    pub foot: String,
    /// "Eight pieces on 31 March 2026, at cost."
    pub opening: String,
    /// Words over the columns: picture, number, piece, place, asked, cost.
    pub columns: Vec<String>,
    pub rows: Vec<InventoryRow>,
    /// All pieces together; nothing where there is none.
    pub total: Option<Row>,
    /// Shop stock by item with its cost, and the total; empty where there is none.
    pub stock: Vec<Row>,
    pub stock_heading: String,
    /// Tools and equipment as they were paid for, and the total; empty where there are none.
    pub tools: Vec<Row>,
    pub tools_heading: String,
    pub notes: Vec<String>,
}

/// A piece, or what is left of a set.
#[derive(Clone, Debug, JsonSchema, Serialize)]
#[serde(rename_all = "kebab-case")]
pub struct InventoryRow {
    pub photo: Option<Photo>,
    pub number: String,
    pub title: String,
    /// Where it stands, or with whom; "–" where nothing is written.
    pub place: String,
    /// The price asked, "–" where none is.
    pub asked: String,
    /// What it had cost by then.
    pub cost: String,
}

/// A sheet to count by hand.
#[derive(Clone, Debug, JsonSchema, Serialize)]
#[serde(rename_all = "kebab-case")]
pub struct CountSheetView {
    #[serde(flatten)]
    pub sheet: Sheet,
    /// "Count sheet".
    pub heading: String,
    pub foot: String,
    /// "What the books have on 31 March 2026."
    pub opening: String,
    /// Words over the columns of pieces: number, piece, place, seen.
    pub piece_columns: Vec<String>,
    /// Number, piece, place.
    pub pieces: Vec<Vec<String>>,
    /// Words over the columns of shop stock: key, item, in the books, counted.
    pub stock_columns: Vec<String>,
    /// Key of stock.toml, item, quantity in the books.
    pub stock: Vec<Vec<String>>,
    /// How a count is typed in.
    pub how: Vec<String>,
}
