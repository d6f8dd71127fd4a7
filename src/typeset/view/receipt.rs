//! What the layout of the buyer's receipt is given, and of the credit receipt, which is the same page
//! with other words. Filled by `typeset` alone.

use super::common::{LabelRow, Sheet};
use super::ledger::Row;
use schemars::JsonSchema;
use serde::Serialize;

/// What a buyer is given for a sale, or for what came back.
#[derive(Clone, Debug, JsonSchema, Serialize)]
#[serde(rename_all = "kebab-case")]
pub struct ReceiptView {
    #[serde(flatten)]
    pub sheet: Sheet,
    /// `sheet`, or `half` for half of the shop's paper.
    pub size: String,
    /// "Receipt", or "Credit receipt".
    pub heading: String,
    /// Right end of the running head: "No. 2025–017", else the piece's number and the day.
    pub number: String,
    /// "7 December 2024".
    pub on: String,
    /// "Sold to a buyer"; nothing where no name is written.
    pub buyer: Option<String>,
    pub piece: String,
    /// "No. 24–014, two of a set of four".
    pub what: String,
    /// What is asked, or given back; the last row is the total.
    pub amounts: Vec<Row>,
    /// What was paid and how; empty on a credit receipt.
    pub paid: Vec<Row>,
    /// "Still to pay by 21 December 2024: $213.40.", or that nothing is owed.
    pub balance: String,
    /// "What was disclosed".
    pub disclosed_heading: String,
    /// Changes, condition and cautions in short words.
    pub disclosed: Vec<LabelRow>,
    /// Where the cautions come from; may be empty.
    pub sources: String,
    /// "As stated by the seller".
    pub stated_heading: String,
    /// How it was sold and handed over, returns and deposits, in the owner's own words.
    pub stated: Vec<LabelRow>,
    /// Under the two lines to sign on: "for the shop", "the buyer".
    pub signatures: Vec<String>,
}
