//! What the shop record's layout is given: the owner's own page of one piece, with money, hours, the
//! finish recipe and notes never shown to a customer. Filled by `typeset` alone.

use super::common::{LabelRow, Photo, Sheet};
use super::ledger::Row;
use schemars::JsonSchema;
use serde::Serialize;

/// The shop record of one piece.
#[derive(Clone, Debug, JsonSchema, Serialize)]
#[serde(rename_all = "kebab-case")]
pub struct ShopRecord {
    #[serde(flatten)]
    pub sheet: Sheet,
    /// Left end of the running head: "Shop record".
    pub head: String,
    /// Right end of the running head: "No. 25-014".
    pub number: String,
    /// The piece's title, as it stands on paper; `sheet.title` is that of the document.
    pub piece: String,
    /// Left end of the footer: "Quayside Furniture · shop record, not for the customer".
    pub foot: String,
    /// Right end of the footer: the last day of the record, "14 March 2025"; may be empty.
    pub as_of: String,
    /// None, one or two pictures: before, then after.
    pub pictures: Vec<RecordPicture>,
    /// The money of the piece; none when nothing is recorded.
    pub money: Option<RecordMoney>,
    /// The owner's hours; none when nothing is recorded.
    pub hours: Option<RecordHours>,
    /// The finish recipe in order; empty when there is none.
    pub recipe: Vec<RecipeStep>,
    /// The way from as found to finished, in whole sentences; may be empty.
    pub story: String,
    /// What was written of it, by label: bought, costs, wood, condition, sold, receipts and the like.
    pub facts: Vec<LabelRow>,
    /// Shop notes: what the materials and tasks of the piece ask of the owner only.
    pub notes: Vec<OwnerNote>,
    /// Printed once under the notes, deferring to the rules of the place; empty without notes.
    pub notes_tail: String,
}

/// A picture before or after.
#[derive(Clone, Debug, JsonSchema, Serialize)]
#[serde(rename_all = "kebab-case")]
pub struct RecordPicture {
    /// Its own caption is not printed: the moment and the caption below stand in its place.
    pub photo: Photo,
    /// Set in italic before the caption: "Before,".
    pub moment: String,
    /// The rest of the caption: "9 January 2025. Three coats of paint; two knobs gone."
    pub caption: String,
}

/// The money of one piece, in two ledgers one under the other.
#[derive(Clone, Debug, JsonSchema, Serialize)]
#[serde(rename_all = "kebab-case")]
pub struct RecordMoney {
    /// Purchase, freight-in, materials, paid work, and cost of goods as total.
    pub cost: Vec<Row>,
    /// Price, less cost of goods, gross profit, less selling costs, net, less labour, net after
    /// labour; empty when there is neither a sale nor a price asked.
    pub result: Vec<Row>,
    /// Ratios under the ledger: earned per hour, gross margin, markup; "–" where nothing is under
    /// the ratio. Always `RowKind::Item`.
    pub ratios: Vec<Row>,
}

/// The owner's hours by task.
#[derive(Clone, Debug, JsonSchema, Serialize)]
#[serde(rename_all = "kebab-case")]
pub struct RecordHours {
    /// Largest first.
    pub tasks: Vec<TaskHours>,
    /// "Together".
    pub total_label: String,
    /// All hours.
    pub total: HoursText,
    /// The text alternative of the chart in one sentence.
    pub finding: String,
}

/// The hours of one task.
#[derive(Clone, Debug, JsonSchema, Serialize)]
#[serde(rename_all = "kebab-case")]
pub struct TaskHours {
    pub task: String,
    pub hours: HoursText,
    /// Length of the bar in ten-thousandths of the largest task's.
    pub bar: u32,
}

/// Hours whose units align and whose fraction hangs behind.
#[derive(Clone, Debug, PartialEq, Eq, JsonSchema, Serialize)]
#[serde(rename_all = "kebab-case")]
pub struct HoursText {
    /// "14", or with decimals where no quarter fits ("2.35"); empty below one hour.
    pub whole: String,
    /// "¼", "½", "¾" or empty.
    pub fraction: String,
}

/// One step of the finish recipe.
#[derive(Clone, Debug, JsonSchema, Serialize)]
#[serde(rename_all = "kebab-case")]
pub struct RecipeStep {
    /// One sentence.
    pub text: String,
    /// "8 Mar", or "8 Mar · 11 Mar"; empty when not recorded.
    pub on: String,
}

/// A note for the owner.
#[derive(Clone, Debug, JsonSchema, Serialize)]
#[serde(rename_all = "kebab-case")]
pub struct OwnerNote {
    /// The head it stands under: "Oily rags".
    pub topic: String,
    /// Whole sentences.
    pub text: String,
    /// Why and, where a publisher's own text was read, whose: "Because …. Source: 16 CFR 1640, ….".
    pub source: String,
}
