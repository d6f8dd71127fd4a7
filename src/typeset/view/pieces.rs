//! The long tables of the income summary: pieces sold with carried sums, pieces unsold at cost, and
//! the chart of what an hour earned. Every running sum is a ready string, so that the layout can
//! print it at the foot of any page without adding.

use super::common::Sheet;
use schemars::JsonSchema;
use serde::Serialize;

/// Every piece sold in the year, in order of the day sold.
#[derive(Clone, Debug, JsonSchema, Serialize)]
#[serde(rename_all = "kebab-case")]
pub struct PiecesSold {
    pub rows: Vec<SoldRow>,
    /// "All 42 pieces".
    pub total_label: String,
    /// The sums of the whole table; equal to the last row's `so_far`.
    pub total: SoldSums,
    /// "In order of the day sold."
    pub order: String,
    /// What the columns mean, and the pieces a sum leaves out, by number.
    pub notes: Vec<String>,
    /// What an hour earned, piece by piece; none when no piece has hours.
    pub per_hour: Option<PerHour>,
}

/// One piece sold.
#[derive(Clone, Debug, JsonSchema, Serialize)]
#[serde(rename_all = "kebab-case")]
pub struct SoldRow {
    /// The stock number, "25-014".
    pub number: String,
    pub title: String,
    /// "14 Mar", with "’25" added when the year is not the year of the summary; "–" when not
    /// recorded.
    pub bought: String,
    /// The same for the day sold.
    pub sold: String,
    /// Cost of goods; "–" when not recorded.
    pub cost: String,
    pub price: String,
    /// Price less cost of goods.
    pub gross_profit: String,
    /// Owner's hours in decimal, one place; "–" when not recorded.
    pub hours: String,
    /// Earned per hour: net over hours; "–" without hours.
    pub per_hour: String,
    /// The sums of all rows down to and with this one.
    pub so_far: SoldSums,
}

/// Sums of a run of pieces sold. Sums leave out what is not recorded.
#[derive(Clone, Debug, PartialEq, Eq, JsonSchema, Serialize)]
#[serde(rename_all = "kebab-case")]
pub struct SoldSums {
    pub cost: String,
    pub price: String,
    pub gross_profit: String,
    pub hours: String,
    /// Net of the pieces with hours over those hours; "–" without hours.
    pub per_hour: String,
}

/// Every piece in stock at the year's end, in order of the day bought.
#[derive(Clone, Debug, JsonSchema, Serialize)]
#[serde(rename_all = "kebab-case")]
pub struct PiecesUnsold {
    pub rows: Vec<UnsoldRow>,
    /// "All 9 pieces".
    pub total_label: String,
    /// Cost of them all; equal to the last row's `so_far`.
    pub total: String,
    /// "In order of the day bought."
    pub order: String,
    /// What else is in the closing stock (shop stock on hand), and how it is valued.
    pub notes: Vec<String>,
}

/// One piece unsold.
#[derive(Clone, Debug, JsonSchema, Serialize)]
#[serde(rename_all = "kebab-case")]
pub struct UnsoldRow {
    pub number: String,
    pub title: String,
    /// "14 Mar ’24".
    pub bought: String,
    /// The day it was first listed; "–" when it is not.
    pub listed: String,
    /// Days held to the year's end: "212".
    pub held: String,
    /// Price asked; "–" when none is.
    pub asked: String,
    /// Costs dated up to the year's end.
    pub cost: String,
    /// The cost of all rows down to and with this one.
    pub so_far: String,
}

/// The sales of a year by month, where they are too many for one table.
#[derive(Clone, Debug, JsonSchema, Serialize)]
#[serde(rename_all = "kebab-case")]
pub struct SoldMonths {
    /// The months of the period, January first.
    pub rows: Vec<MonthRow>,
    pub total_label: String,
    pub total: SoldSums,
    /// Where every sale stands.
    pub note: String,
}

/// The sales of one month.
#[derive(Clone, Debug, JsonSchema, Serialize)]
#[serde(rename_all = "kebab-case")]
pub struct MonthRow {
    pub month: String,
    pub sales: String,
    pub cost: String,
    pub price: String,
    pub gross_profit: String,
    pub hours: String,
}

/// A part of a long table of pieces, as a document of its own: sold ones or those in stock.
#[derive(Clone, Debug, JsonSchema, Serialize)]
#[serde(rename_all = "kebab-case")]
pub struct PiecesPart {
    #[serde(flatten)]
    pub sheet: Sheet,
    /// The year it is of; its last day is the date of the document.
    pub year: i32,
    pub head: String,
    /// Left end of the footer: "Quayside Furniture · pieces sold, part 3 of 20".
    pub foot: String,
    /// It is the last part: its foot is the sum of all.
    pub ends: bool,
    pub sold: Option<PiecesSold>,
    /// The sums of all parts before it; none in the first.
    pub sold_before: Option<SoldSums>,
    pub unsold: Option<PiecesUnsold>,
    pub unsold_before: Option<String>,
}

/// The chart of what an hour earned against the shop rate.
#[derive(Clone, Debug, JsonSchema, Serialize)]
#[serde(rename_all = "kebab-case")]
pub struct PerHour {
    /// The text alternative in one sentence.
    pub finding: String,
    /// Best first. With many pieces the best and the least only: the note says so.
    pub bars: Vec<HourBar>,
    /// Where zero stands, in ten-thousandths of the chart's width from its left edge.
    pub zero: u32,
    /// Where the shop rate stands, in the same measure; none without a shop rate.
    pub rate: Option<u32>,
    /// "shop rate 32.00"; empty without one.
    pub rate_label: String,
    /// The line under the chart; may be empty.
    pub note: String,
}

/// One piece of the chart.
#[derive(Clone, Debug, JsonSchema, Serialize)]
#[serde(rename_all = "kebab-case")]
pub struct HourBar {
    pub number: String,
    pub title: String,
    /// "39.94".
    pub amount: String,
    /// Left edge of the bar in ten-thousandths of the chart's width.
    pub from: u32,
    /// Right edge, in the same measure.
    pub to: u32,
}

/// The chart of how long pieces were held, sold ones up to the sale and others up to the year's end.
#[derive(Clone, Debug, JsonSchema, Serialize)]
#[serde(rename_all = "kebab-case")]
pub struct DaysHeld {
    /// "How many days pieces were held".
    pub heading: String,
    /// The text alternative in a sentence or two.
    pub finding: String,
    /// Longest first. With many pieces the longest and the shortest only: the note says so.
    pub bars: Vec<HeldBar>,
    /// "sold": said once, at the first bar of a piece sold.
    pub sold: String,
    /// "in stock": said once, at the first bar of a piece in stock.
    pub in_stock: String,
    /// Where the median of the sales stands, in ten-thousandths of the chart's width; none without
    /// a sale.
    pub middle: Option<u32>,
    /// "half sold within 84 days"; empty without a sale.
    pub middle_label: String,
    /// The line under the chart; may be empty.
    pub note: String,
}

/// One piece of the chart of days.
#[derive(Clone, Debug, JsonSchema, Serialize)]
#[serde(rename_all = "kebab-case")]
pub struct HeldBar {
    pub number: String,
    pub title: String,
    /// "212".
    pub days: String,
    /// In ten-thousandths of the chart's width.
    pub length: u32,
    /// Not sold by the year's end.
    pub in_stock: bool,
}
