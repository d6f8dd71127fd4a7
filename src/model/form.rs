//! A tax form as data: lines, what feeds them, dated rates, and the published source of each.
//!
//! A new year or a new country is a new file in `tables/forms` and its name in the list of `lookup.rs`; no other
//! code knows a line number or a rate. Every floor may use it.

mod differences;
mod lookup;

pub use lookup::{OWN_ACCOUNT, built_in_forms, form_for, form_years};

use chrono::NaiveDate;
use rust_decimal::Decimal;
use serde::{Deserialize, Deserializer, de::Error};
use std::collections::BTreeMap;

/// What a line asks when it is about a change in how stock is counted or valued.
pub const METHOD_CHANGED: &str = "method-changed";

/// One form for the years in which its lines stay the same.
#[derive(Clone, Debug, Deserialize)]
#[serde(rename_all = "kebab-case", deny_unknown_fields)]
pub struct Form {
    /// `us-schedule-c`: what `[books] form` names. Several tables may share it, for other years.
    pub name: String,
    pub title: String,
    /// ISO 3166 code in lower case; nothing for an account that is of no country.
    pub country: Option<String>,
    /// ISO 4217 code of the money it is filled in with; any, where nothing is said.
    pub currency: Option<String>,
    /// Every year, where there are none.
    #[serde(default)]
    pub years: Vec<i32>,
    /// Where the lines were taken from.
    pub source: String,
    pub seen: Seen,
    #[serde(rename = "part")]
    pub parts: Vec<Part>,
    #[serde(rename = "line")]
    pub lines: Vec<Line>,
    #[serde(rename = "rate", default)]
    pub rates: Vec<Rate>,
    /// Days on which estimated tax falls due.
    #[serde(rename = "due", default)]
    pub dues: Vec<Due>,
    /// What is paid to people for work and for rent: totals per payee are drawn up.
    #[serde(default)]
    pub payees: Vec<PayeeRule>,
    /// Categories listed for the preparer, and put on no line, above a limit.
    #[serde(default)]
    pub apart: Vec<Apart>,
    /// How a form that is filled in with whole units rounds them.
    pub rounding: Option<Rounding>,
}

/// What the office says of rounding.
#[derive(Clone, Debug, Deserialize)]
#[serde(rename_all = "kebab-case", deny_unknown_fields)]
pub struct Rounding {
    pub label: String,
    /// In our own words.
    pub how: String,
    pub source: String,
    pub seen: Seen,
}

/// How a value came into the table.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Deserialize)]
#[serde(rename_all = "kebab-case")]
pub enum Seen {
    /// Read in a publication of the office that issues it.
    Read,
    /// Read elsewhere than with the office that issues it.
    Secondary,
    /// Read as for [`Seen::Read`], but for another year: nothing was read that changes it.
    Carried,
    /// Not read anywhere: from memory, and marked wherever it is printed.
    Memory,
}

/// A part of the form.
#[derive(Clone, Debug, Deserialize)]
#[serde(rename_all = "kebab-case", deny_unknown_fields)]
pub struct Part {
    pub number: String,
    pub title: String,
}

/// A line of the form: fed by categories and entries, or a formula of other lines.
#[derive(Clone, Debug, Deserialize)]
#[serde(rename_all = "kebab-case", deny_unknown_fields)]
pub struct Line {
    /// As printed: `24b`.
    pub number: String,
    /// The [`Part::number`] it stands in.
    pub part: String,
    /// In our own words.
    pub label: String,
    #[serde(default)]
    pub unit: LineUnit,
    /// Categories of `[[expense]]` it takes.
    #[serde(default)]
    pub categories: Vec<String>,
    /// Entries other than expenses it takes.
    #[serde(default)]
    pub feeds: Vec<Feed>,
    /// By category, the name of the rate that says which share of each entry counts; all of it where
    /// none is named.
    #[serde(default)]
    pub portions: BTreeMap<String, String>,
    /// Numbers of lines it adds.
    #[serde(default)]
    pub plus: Vec<String>,
    /// Numbers of lines it takes away.
    #[serde(default)]
    pub less: Vec<String>,
    /// What is written on it where the table knows: only on lines of [`LineUnit::Answer`].
    pub answer: Option<String>,
    /// What it asks of the owner: a key of `[vehicle]`, or [`METHOD_CHANGED`].
    pub asks: Option<String>,
    /// Where this line was taken from, if not from the form's own source.
    pub source: Option<String>,
    pub seen: Option<Seen>,
}

impl Line {
    /// Whether it is made of other lines.
    pub fn is_total(&self) -> bool {
        !(self.plus.is_empty() && self.less.is_empty())
    }
}

/// What stands on a line.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Default, Deserialize)]
#[serde(rename_all = "kebab-case")]
pub enum LineUnit {
    #[default]
    Money,
    Distance,
    /// Words, a date or yes and no: the owner answers where the table does not.
    Answer,
}

/// What can feed a line besides expenses of a category.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash, Deserialize)]
#[serde(rename_all = "kebab-case")]
pub enum Feed {
    /// Price and delivery charged of every sale.
    Receipts,
    /// Work for others.
    ServiceIncome,
    OtherIncome,
    /// What was refunded of sales.
    Refunds,
    OpeningStock,
    /// What pieces cost to buy, less what was withdrawn.
    Purchases,
    PaidLabour,
    /// Material and hardware for pieces, and shop stock bought where it counts when used.
    Materials,
    OtherCosts,
    ClosingStock,
    /// Business miles at the rate of each day.
    Trips,
    /// What channels kept, less what they gave back.
    ChannelFees,
    /// Carriage to buyers and back.
    Delivery,
    /// Shop stock bought where it counts when bought.
    SuppliesBought,
    Workspace,
    BusinessMiles,
    CommutingMiles,
    OtherMiles,
    /// What the state lets the shop keep of the sales tax it collects.
    TaxKept,
}

impl Feed {
    /// Whether what it brings is an expense, not a receipt, a cost of goods or miles.
    pub fn is_expense(self) -> bool {
        matches!(
            self,
            Feed::Trips
                | Feed::ChannelFees
                | Feed::Delivery
                | Feed::SuppliesBought
                | Feed::Workspace
        )
    }
}

/// A rate, limit or threshold and the days it holds for.
#[derive(Clone, Debug, Deserialize)]
#[serde(rename_all = "kebab-case", deny_unknown_fields)]
pub struct Rate {
    pub name: String,
    pub label: String,
    #[serde(deserialize_with = "date")]
    pub from: NaiveDate,
    /// The last day; the end of the year of `from` when not said, so that no rate slides into a
    /// year for which it was not looked up.
    #[serde(default, deserialize_with = "some_date")]
    pub to: Option<NaiveDate>,
    /// It holds for what is above this much of the year; else from nothing on.
    #[serde(default, deserialize_with = "some_decimal")]
    pub above: Option<Decimal>,
    #[serde(deserialize_with = "decimal")]
    pub value: Decimal,
    /// "dollars a mile".
    pub unit: String,
    pub source: String,
    pub seen: Seen,
}

/// A day on which estimated tax falls due.
#[derive(Clone, Debug, Deserialize)]
#[serde(rename_all = "kebab-case", deny_unknown_fields)]
pub struct Due {
    /// The year the tax is for.
    pub year: i32,
    #[serde(deserialize_with = "date")]
    pub on: NaiveDate,
    pub source: String,
    pub seen: Seen,
}

/// Categories of `[[expense]]` that are paid to people.
#[derive(Clone, Debug, Deserialize)]
#[serde(rename_all = "kebab-case", deny_unknown_fields)]
pub struct PayeeRule {
    /// The form they are reported on once a payee's sum reaches the rate `payee-report`; wages are
    /// only listed.
    pub form: Option<String>,
    pub categories: Vec<String>,
    /// Paid work on pieces belongs to them.
    #[serde(default)]
    pub paid_work: bool,
}

/// Entries of some categories above a limit go to the preparer and on no line.
#[derive(Clone, Debug, Deserialize)]
#[serde(rename_all = "kebab-case", deny_unknown_fields)]
pub struct Apart {
    pub categories: Vec<String>,
    /// Name of the rate that is the limit.
    pub above: String,
    /// Why, in a sentence.
    pub why: String,
}

/// A number written as text, so that its digits are exact.
fn decimal<'de, D: Deserializer<'de>>(from: D) -> Result<Decimal, D::Error> {
    let text = String::deserialize(from)?;
    Decimal::from_str_exact(&text).map_err(|_| D::Error::custom(format!("`{text}` is no number")))
}

fn some_decimal<'de, D: Deserializer<'de>>(from: D) -> Result<Option<Decimal>, D::Error> {
    decimal(from).map(Some)
}

fn date<'de, D: Deserializer<'de>>(from: D) -> Result<NaiveDate, D::Error> {
    let written = toml::value::Datetime::deserialize(from)?;
    written
        .date
        .and_then(|day| NaiveDate::from_ymd_opt(day.year.into(), day.month.into(), day.day.into()))
        .ok_or_else(|| D::Error::custom(format!("`{written}` is no day")))
}

fn some_date<'de, D: Deserializer<'de>>(from: D) -> Result<Option<NaiveDate>, D::Error> {
    date(from).map(Some)
}
