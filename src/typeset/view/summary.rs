//! What the income summary's layout is given: every figure a ready string, every note a ready
//! sentence, every bar a ready length. The layout places them and decides nothing; an absent part
//! is `None` or an empty list and leaves no trace on paper. Filled by `typeset` alone.

use super::common::Sheet;
use super::glance::{Glance, Verdict};
use super::ledger::{Row, RowKind};
use super::pieces::{DaysHeld, PiecesSold, PiecesUnsold, SoldMonths};
use schemars::JsonSchema;
use serde::Serialize;

/// The whole income summary of one complete year.
#[derive(Clone, Debug, JsonSchema, Serialize)]
#[serde(rename_all = "kebab-case")]
pub struct IncomeSummary {
    #[serde(flatten)]
    pub sheet: Sheet,
    /// The year it is of; its last day is the date of the document.
    pub year: i32,
    /// Right end of the running head: "Income summary 2025".
    pub head: String,
    /// Left end of the footer: "Quayside Furniture · income summary, 1 January – 31 December 2025".
    pub foot: String,
    /// Page 1.
    pub glance: Glance,
    /// How the books are kept, and the questions of the form.
    pub preparer: Preparer,
    /// The lines of the tax form.
    pub form: Form,
    /// Cost of goods sold with both sides of the proof in full; none when there was neither stock
    /// nor a purchase nor a sale.
    pub goods: Option<Goods>,
    /// Expenses by category; none when there were none.
    pub expenses: Option<Expenses>,
    /// Trips at the rates in force; none when there were none.
    pub trips: Option<Trips>,
    /// Further short ledgers in this order: workspace, sales tax, vehicle, equipment, who was paid
    /// and whatever the form of a country asks for. May be empty.
    pub blocks: Vec<Block>,
    /// What each channel reported against the books; none when nothing was reported.
    pub reconciliation: Option<Reconciliation>,
    /// The self-employment estimate and what to set aside; none where the form has none.
    pub self_employment: Option<SelfEmployment>,
    /// Every piece sold, with carried sums; none when nothing was sold, or too much for one table.
    pub sold: Option<PiecesSold>,
    /// The sales by month in its place, where they are too many.
    pub sold_months: Option<SoldMonths>,
    /// Every piece in stock at the year's end, at cost; none when there is none, or too many.
    pub unsold: Option<PiecesUnsold>,
    /// How long pieces were held; none when no day of purchase is known.
    pub held: Option<DaysHeld>,
    /// Entries that lack a record, largest first; none when none does.
    pub records: Option<Records>,
    /// What a record must show, by what it is of, each with its published source. May be empty.
    pub record_shows: Vec<Rule>,
    /// Rules and rates used, each with its published source. May be empty.
    pub rules: Vec<Rule>,
    /// What the dagger asks of the preparer, where any rule or record bears it.
    pub unread: Option<String>,
    /// Every expense by its entry, in the order of the form and by day. May be empty.
    pub entries: Vec<EntryRow>,
    /// The tables as files inside the document. May be empty.
    pub attachments: Vec<Attachment>,
}

/// What a preparer asks first.
#[derive(Clone, Debug, JsonSchema, Serialize)]
#[serde(rename_all = "kebab-case")]
pub struct Preparer {
    /// Period, accounting method, shop stock: without a line's number.
    pub method: Vec<Answer>,
    /// The lines of the form that are no money: answered from the entries, or open.
    pub questions: Vec<Answer>,
    /// That this is a summary for a preparer and not advice: a sentence or short paragraph each.
    pub words: Vec<String>,
}

/// A question and its answer.
#[derive(Clone, Debug, JsonSchema, Serialize)]
#[serde(rename_all = "kebab-case")]
pub struct Answer {
    /// The line's number as printed on the form; empty for what is on no line.
    pub line: String,
    pub question: String,
    pub answer: String,
}

/// An expense by its entry.
#[derive(Clone, Debug, JsonSchema, Serialize)]
#[serde(rename_all = "kebab-case")]
pub struct EntryRow {
    pub line: String,
    pub category: String,
    /// "14 Mar".
    pub on: String,
    pub what: String,
    /// File and line: "books/2025.toml:41".
    pub place: String,
    pub amount: String,
}

/// A file inside the document: the document has it under its name.
#[derive(Clone, Debug, JsonSchema, Serialize)]
#[serde(rename_all = "kebab-case")]
pub struct Attachment {
    /// "expenses.csv".
    pub name: String,
    /// "text/csv".
    pub mime: String,
    /// "Expenses by category of 2025".
    pub description: String,
}

/// The tax form as a table.
#[derive(Clone, Debug, JsonSchema, Serialize)]
#[serde(rename_all = "kebab-case")]
pub struct Form {
    /// Which form and year: "Schedule C (Form 1040), 2025, in our own words".
    pub name: String,
    /// Head of the rounded column: "whole dollars".
    pub whole_head: String,
    /// Parts of the form in its own order.
    pub parts: Vec<FormPart>,
    /// Sentences under the table: where a whole sum differs from the exact one rounded, what the
    /// preparer must decide, a change of method. May be empty.
    pub notes: Vec<String>,
}

/// One part of the form.
#[derive(Clone, Debug, JsonSchema, Serialize)]
#[serde(rename_all = "kebab-case")]
pub struct FormPart {
    /// "Income", "Expenses", "Cost of goods sold".
    pub name: String,
    pub lines: Vec<FormLine>,
}

/// One line of the form.
#[derive(Clone, Debug, JsonSchema, Serialize)]
#[serde(rename_all = "kebab-case")]
pub struct FormLine {
    /// The line's number as printed on the form: "20b".
    pub line: String,
    /// What it is, in our own words.
    pub label: String,
    /// The exact amount, no currency symbol; "–" when not recorded.
    pub exact: String,
    /// The amount entered on the form.
    pub whole: String,
    /// Item, subtotal (hairline above) or total (rule below).
    pub kind: RowKind,
}

/// Both sides of the proof in full.
#[derive(Clone, Debug, JsonSchema, Serialize)]
#[serde(rename_all = "kebab-case")]
pub struct Goods {
    /// Opening stock, purchases, withdrawn for own use, paid labour, materials, other costs,
    /// closing stock, and the total.
    pub stock_side: Vec<Row>,
    /// Cost of pieces sold, less pieces that came back, written off, late costs, and the total.
    pub pieces_side: Vec<Row>,
    /// The same verdict as on page 1.
    pub verdict: Verdict,
    /// Sentences under both sides: opening equals last year's closing, how stock is valued.
    pub notes: Vec<String>,
}

/// Expenses by category.
#[derive(Clone, Debug, JsonSchema, Serialize)]
#[serde(rename_all = "kebab-case")]
pub struct Expenses {
    pub rows: Vec<ExpenseRow>,
    /// "All expenses" and its amount.
    pub total: Row,
    pub notes: Vec<String>,
}

/// The expenses of one category.
#[derive(Clone, Debug, JsonSchema, Serialize)]
#[serde(rename_all = "kebab-case")]
pub struct ExpenseRow {
    /// The owner's word for it: "rent of the workshop".
    pub category: String,
    /// The form's line it goes to: "20b".
    pub line: String,
    /// How many entries: "12".
    pub entries: String,
    pub amount: String,
}

/// Trips of the year.
#[derive(Clone, Debug, JsonSchema, Serialize)]
#[serde(rename_all = "kebab-case")]
pub struct Trips {
    /// One row per purpose and rate in force, or one per trip.
    pub rows: Vec<TripRow>,
    /// "All trips".
    pub total_label: String,
    /// What a distance is in: "miles".
    pub unit: String,
    /// All of it: "1,344".
    pub total_miles: String,
    /// What they come to.
    pub total_amount: String,
    /// Commuting and other distances, parking, which line it goes to. May be empty.
    pub notes: Vec<String>,
}

/// Trips of one purpose at one rate.
#[derive(Clone, Debug, JsonSchema, Serialize)]
#[serde(rename_all = "kebab-case")]
pub struct TripRow {
    /// A day "14 Mar" or a span "1 Jan – 30 Jun".
    pub on: String,
    /// "fetching pieces".
    pub what: String,
    pub miles: String,
    /// Per mile, all digits published: "0.70", "0.625".
    pub rate: String,
    pub amount: String,
}

/// A short ledger under its own head.
#[derive(Clone, Debug, JsonSchema, Serialize)]
#[serde(rename_all = "kebab-case")]
pub struct Block {
    /// "Sales tax", "Workspace at home", "Equipment for the preparer".
    pub heading: String,
    pub rows: Vec<Row>,
    pub notes: Vec<String>,
}

/// What was reported against what the books say.
#[derive(Clone, Debug, JsonSchema, Serialize)]
#[serde(rename_all = "kebab-case")]
pub struct Reconciliation {
    pub rows: Vec<ReconciliationRow>,
    pub notes: Vec<String>,
}

/// One channel.
#[derive(Clone, Debug, JsonSchema, Serialize)]
#[serde(rename_all = "kebab-case")]
pub struct ReconciliationRow {
    /// The channel's label, with the form received: "online market, 1099-K".
    pub channel: String,
    /// Gross as reported.
    pub reported: String,
    /// Prices of its sales.
    pub price: String,
    /// Delivery charged.
    pub delivery: String,
    /// Sales tax collected, whoever passed it on.
    pub tax: String,
    /// Price + delivery + tax: what should have been reported.
    pub expected: String,
    /// Reported less expected; "0.00" when all is explained.
    pub unexplained: String,
    /// One plain sentence: what explains the difference to the payout, or where to look.
    pub sentence: String,
}

/// The self-employment estimate, and what to set aside.
#[derive(Clone, Debug, JsonSchema, Serialize)]
#[serde(rename_all = "kebab-case")]
pub struct SelfEmployment {
    /// Net profit, the part of it that counts, the two parts of the tax, the total, the deductible
    /// half.
    pub rows: Vec<Row>,
    /// One row per quarter: the due date "15 April 2025" and the amount, then the total.
    pub set_aside: Vec<Row>,
    /// That it is an estimate, and what it leaves out.
    pub notes: Vec<String>,
}

/// Entries that lack a record.
#[derive(Clone, Debug, JsonSchema, Serialize)]
#[serde(rename_all = "kebab-case")]
pub struct Records {
    /// Largest first.
    pub rows: Vec<RecordRow>,
    /// "All 7 entries" and their sum.
    pub total: Row,
    pub notes: Vec<String>,
}

/// One entry without a record.
#[derive(Clone, Debug, JsonSchema, Serialize)]
#[serde(rename_all = "kebab-case")]
pub struct RecordRow {
    /// "14 Mar".
    pub on: String,
    /// What it was: "lot of four chairs".
    pub what: String,
    /// What it lacks: "no receipt named", "receipts/scan-12.jpg is missing", "receipts/sale.txt is
    /// the receipt of books/2025.toml:12, of another day".
    pub lacks: String,
    /// File and line: "books/2025.toml:41".
    pub place: String,
    pub amount: String,
}

/// A rule or rate used.
#[derive(Clone, Debug, JsonSchema, Serialize)]
#[serde(rename_all = "kebab-case")]
pub struct Rule {
    /// "Standard mileage rate"; with a dagger where it was not read in the office's own text.
    pub name: String,
    /// "0.70 a mile from 1 January 2025".
    pub value: String,
    /// The published source.
    pub source: String,
}
