//! The first page of the income summary: the year in one ledger, the proof in short, the chart by month
//! and where one unit received went. Lengths are ten-thousandths; every figure is a ready string.

use super::ledger::Row;
use schemars::JsonSchema;
use serde::Serialize;

/// The year at a glance.
#[derive(Clone, Debug, JsonSchema, Serialize)]
#[serde(rename_all = "kebab-case")]
pub struct Glance {
    /// Receipts, less cost of goods sold, gross profit, less expenses, net profit or net loss. The
    /// currency symbol stands on the first and the last amount only.
    pub ledger: Vec<Row>,
    /// The proof in short: from the stock, in as many rows as needed, ending in its total.
    pub stock_side: Vec<Row>,
    /// The other side in one row: "Cost of 42 pieces, added one by one".
    pub pieces_side: Vec<Row>,
    /// Whether and by how much the two sides differ.
    pub verdict: Verdict,
    /// Received and cost for each month.
    pub months: Months,
    /// Where a received unit of money went.
    pub dollar: Dollar,
}

/// What the proof shows.
#[derive(Clone, Debug, JsonSchema, Serialize)]
#[serde(rename_all = "kebab-case")]
pub struct Verdict {
    /// True when the difference is zero, to the cent.
    pub agrees: bool,
    /// "The two sides agree; difference 0.00." or "The two sides differ by 12.40."
    pub sentence: String,
    /// Where to look first when they differ: "Look first at No. 25-014, …"
    pub look_first: Option<String>,
}

/// The chart by month and the table under it.
#[derive(Clone, Debug, JsonSchema, Serialize)]
#[serde(rename_all = "kebab-case")]
pub struct Months {
    /// One sentence of finding, the chart's text alternative: "Receipts were highest in November …"
    pub finding: String,
    /// Twelve months, January first.
    pub months: Vec<Month>,
    /// How far the base stands above the foot of the chart, in ten-thousandths of its height: 0
    /// where no month is below zero.
    pub below: u32,
    /// What is in the cost, in the line under the table.
    pub note: String,
}

/// One month.
#[derive(Clone, Debug, JsonSchema, Serialize)]
#[serde(rename_all = "kebab-case")]
pub struct Month {
    /// Three letters: "Jan".
    pub name: String,
    /// Received, in whole units: "1,125"; "0" when nothing came in, with a minus when more went
    /// back than came.
    pub received: String,
    /// Cost of goods sold and expenses of that month, in whole units.
    pub cost: String,
    /// Height of the received bar in ten-thousandths of the chart's; below zero it hangs from the
    /// base.
    pub received_bar: i32,
    /// Height of the cost bar in the same measure.
    pub cost_bar: i32,
}

/// The flow from one unit received to what is left.
#[derive(Clone, Debug, JsonSchema, Serialize)]
#[serde(rename_all = "kebab-case")]
pub struct Dollar {
    /// "From one dollar received", in the unit of the shop's currency.
    pub heading: String,
    /// The text alternative in one sentence: "Of one dollar received 0.38 was left."
    pub finding: String,
    /// Received, at most five largest steps, all other expenses, left or short; empty without
    /// receipts.
    pub steps: Vec<DollarStep>,
    /// Where the zero line stands, in ten-thousandths of the chart's width from its left edge: 0
    /// with a profit, further right with a loss.
    pub zero: u32,
    /// The line under the chart; without receipts the one sentence that stands in its place.
    pub note: String,
}

/// One row of the flow.
#[derive(Clone, Debug, JsonSchema, Serialize)]
#[serde(rename_all = "kebab-case")]
pub struct DollarStep {
    /// "Received", "cost of goods sold", "rent", "all other expenses", "Left for the owner".
    pub label: String,
    /// Signed amount; cents by largest remainder so that they add to 1.00. Currency symbol on the
    /// first and the last only.
    pub amount: String,
    /// Left edge of the bar in ten-thousandths of the chart's width.
    pub from: u32,
    /// Right edge of the bar, in the same measure; never below `from`.
    pub to: u32,
    /// How the bar is drawn.
    pub kind: StepKind,
}

/// How a bar of the flow is drawn.
#[derive(Clone, Copy, Debug, PartialEq, Eq, JsonSchema, Serialize)]
#[serde(rename_all = "kebab-case")]
pub enum StepKind {
    /// Money that came in: open.
    Received,
    /// Money gone out: solid.
    Gone,
    /// What is left: open with a heavy line.
    Left,
    /// What was short and came from other money: solid with a heavy line.
    Short,
}
