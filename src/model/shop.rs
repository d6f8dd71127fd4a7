//! The shop as a whole: what `shop.toml` and `stock.toml` say, and every piece and year.

use super::{At, Currency, Form, LengthUnit, Money, Piece, Place, Unit, YearBook};
use chrono::NaiveDate;
use rust_decimal::Decimal;
use std::collections::BTreeMap;

/// Everything that was written, ready to be reckoned with.
#[derive(Clone, Debug)]
pub struct Shop {
    /// Printed at the head of every sheet.
    pub name: String,
    /// Printed at the foot; each entry one line or phrase.
    pub contact: Vec<String>,
    pub currency: Currency,
    pub units: LengthUnit,
    pub paper: Paper,
    /// The accent colour as `#RRGGBB`; the house's own when not set.
    pub accent: Option<At<String>>,
    /// A picture that stands for the name at the head of sheets: its path below the shop folder,
    /// with `/`.
    pub logo: Option<At<String>>,
    /// The family the paper is set in: one of the house's, or of the shop's own `fonts/`.
    pub font: Option<At<String>>,
    /// ISO 3166 code in lower case: decides which cautions apply. `us` when not said.
    pub country: String,
    /// What an hour of the owner's work should earn.
    pub shop_rate: Option<At<Money>>,
    /// Suggested prices are rounded up to a multiple of this.
    pub price_step: Option<Money>,
    pub books: BooksMethod,
    pub channels: BTreeMap<String, Channel>,
    pub stock: BTreeMap<String, StockItem>,
    /// Sorted by [`Piece::name`], then folder; never one with errors.
    pub pieces: Vec<Piece>,
    pub years: BTreeMap<i32, YearBook>,
    /// The built-in forms, and the shop's own if it brings one.
    pub forms: Vec<Form>,
    /// Files that could not be taken in; what needs them is refused.
    pub broken: Vec<Broken>,
}

impl Shop {
    /// The piece of a number or folder name.
    pub fn piece(&self, name: &str) -> Option<&Piece> {
        self.pieces.iter().find(|piece| piece.name() == name || piece.folder == name)
    }
}

#[derive(Clone, Copy, Debug, PartialEq, Eq, Default)]
pub enum Paper {
    #[default]
    UsLetter,
    A4,
}

/// How the books are kept.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct BooksMethod {
    /// The name of a form table.
    pub form: At<String>,
    pub basis: Basis,
    pub supplies: Supplies,
    pub stock_cost: StockCost,
}

#[derive(Clone, Copy, Debug, PartialEq, Eq, Default)]
pub enum Basis {
    #[default]
    Cash,
    Accrual,
}

/// When shop stock becomes a cost.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Default)]
pub enum Supplies {
    /// It is stock until drawn.
    #[default]
    WhenUsed,
    /// It is an expense on the day it is paid for; draws are shop view only.
    WhenBought,
}

/// What a draw from shop stock costs.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Default)]
pub enum StockCost {
    /// Moving weighted average.
    #[default]
    Average,
    /// First in, first out.
    Fifo,
}

/// A way to sell.
#[derive(Clone, Debug)]
pub struct Channel {
    pub key: String,
    pub label: String,
    /// Of price plus delivery charged, as a fraction: `"12.5%"` is 0.125.
    pub fee: Decimal,
    pub fixed_fee: Money,
    /// It remits sales tax itself: such tax never touches the shop's books.
    pub collects_tax: bool,
    /// Delivery a buyer is usually charged here.
    pub delivery_charged: Money,
    /// What that delivery usually costs.
    pub delivery_cost: Money,
    /// Characters a headline may have.
    pub headline_limit: Option<u32>,
    /// Characters a description may have.
    pub description_limit: Option<u32>,
    pub place: Place,
}

/// A consumable kept in the shop.
#[derive(Clone, Debug)]
pub struct StockItem {
    pub key: String,
    pub label: String,
    /// The unit it is counted in.
    pub unit: Unit,
    pub place: Place,
}

/// A file that could not be taken in.
#[derive(Clone, Debug)]
pub struct Broken {
    /// Below the shop folder, with `/`.
    pub path: String,
    /// The earliest day its entries can have, where that much could be read: years that ended
    /// before it do not need the file.
    pub since: Option<NaiveDate>,
}
