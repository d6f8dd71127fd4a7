//! A piece of furniture: everything its file says.

use super::{At, Hours, Length, Made, Money, Place, Quantity};
use chrono::NaiveDate;
use std::collections::BTreeMap;

/// One piece (or one set: `count` above 1) and all that was written about it.
#[derive(Clone, Debug)]
pub struct Piece {
    /// The path of its folder below the shop, with `/`: unique, and the piece's key everywhere.
    pub folder: String,
    /// Its number in the shop's own numbering, if it has one.
    pub number: Option<At<String>>,
    pub title: At<String>,
    pub kind: Option<At<String>>,
    pub made: At<Made>,
    /// How many the set holds; 1 for a single piece.
    pub count: u32,
    pub width: Option<At<Length>>,
    pub depth: Option<At<Length>>,
    pub height: Option<At<Length>>,
    pub weight: Option<Quantity>,
    pub wood: Vec<Wood>,
    pub bought: Option<Bought>,
    pub cost: Vec<Cost>,
    pub used: Vec<Used>,
    /// Hours by task. The short form `hours = 5` is one entry with an empty task.
    pub work: Vec<Work>,
    pub coat: Vec<Coat>,
    pub change: Vec<Change>,
    pub flaw: Vec<Flaw>,
    pub photo: Vec<Photo>,
    /// The facts of `[safety]` by key; keys and values are those of the facts table.
    pub safety: BTreeMap<String, At<String>>,
    /// What a seat or drawer is filled and covered with, when it was renewed.
    pub upholstered_on: Option<At<NaiveDate>>,
    pub outline: Option<Outline>,
    /// Codes of the languages its care card is also made in; the shop's where nothing is said.
    pub card_languages: Option<Vec<String>>,
    pub listing: Option<Listing>,
    /// In the order of the file; a piece that came back may be sold again.
    pub sale: Vec<Sale>,
    pub returned: Vec<Return>,
    pub withdrawn: Option<Withdrawal>,
    /// The place of the file's first key, for findings about the piece as a whole.
    pub place: Place,
}

impl Piece {
    /// The number if it has one, else the folder's own name: what is printed and typed.
    pub fn name(&self) -> &str {
        match &self.number {
            Some(number) => &number.value,
            None => self.folder.rsplit('/').next().unwrap_or(&self.folder),
        }
    }

    /// All hours of the owner's own work.
    pub fn hours(&self) -> Hours {
        self.work.iter().map(|work| work.hours).sum()
    }
}

/// What one part is made of.
#[derive(Clone, Debug)]
pub struct Wood {
    /// "top", "case and top"; empty for the whole piece.
    pub part: String,
    /// As written; `None` is `species = "unknown"`.
    pub species: Option<At<String>>,
    pub form: WoodForm,
    /// What a veneer lies on, if known.
    pub over: Option<String>,
    /// False prints as "appears to be".
    pub sure: bool,
    /// A colour the wood was stained, "dark walnut colour".
    pub stained: Option<String>,
    pub place: Place,
}

#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum WoodForm {
    Solid,
    Veneer,
    Plywood,
    Particleboard,
    Fibreboard,
    /// Not stated: the wood is named without saying "solid".
    Unstated,
}

/// How the piece came into the shop. A share of a lot stands in the year's book instead.
#[derive(Clone, Debug)]
pub struct Bought {
    pub on: At<NaiveDate>,
    /// 0.00 for a piece found or given.
    pub price: At<Money>,
    /// Buyer's premium of an auction.
    pub premium: Money,
    /// Sales tax paid on it; part of its cost.
    pub tax: Money,
    pub from: Option<String>,
    pub receipt: Option<At<String>>,
    pub place: Place,
}

#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum CostKind {
    Material,
    Hardware,
    PaidWork,
    FreightIn,
}

/// Something bought for this piece alone.
#[derive(Clone, Debug)]
pub struct Cost {
    pub on: At<NaiveDate>,
    pub what: String,
    pub kind: CostKind,
    pub amount: At<Money>,
    /// Who was paid, for paid work.
    pub to: Option<String>,
    pub receipt: Option<At<String>>,
    pub place: Place,
}

/// A draw from the shop's stock.
#[derive(Clone, Debug)]
pub struct Used {
    pub on: At<NaiveDate>,
    /// A key of `stock.toml`.
    pub stock: At<String>,
    pub quantity: At<Quantity>,
    pub place: Place,
}

/// The owner's own work.
#[derive(Clone, Debug)]
pub struct Work {
    pub on: Option<At<NaiveDate>>,
    pub task: String,
    pub hours: Hours,
    pub note: Option<String>,
    pub place: Place,
}

/// A step of the finish schedule; the order of the file is the order on the wood.
#[derive(Clone, Debug)]
pub struct Coat {
    /// "outside", "top"; empty for the whole piece.
    pub part: String,
    /// As written; matched to the finishes table.
    pub product: At<String>,
    pub sheen: Option<String>,
    pub coats: u32,
    /// What was done between coats.
    pub between: Option<String>,
    /// The day of the last coat.
    pub last: Option<At<NaiveDate>>,
    /// The owner's can: days until fully hard, over the table's.
    pub cure_days: Option<u32>,
    /// The owner's can: days until light use, over the table's.
    pub light_use_days: Option<u32>,
    pub note: Option<String>,
    pub place: Place,
}

#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum ChangeKind {
    Repaired,
    Replaced,
    Added,
    Removed,
    Reshaped,
}

/// Something no longer as found; always disclosed.
#[derive(Clone, Debug)]
pub struct Change {
    pub part: String,
    pub what: ChangeKind,
    pub with: Option<String>,
    pub place: Place,
}

/// Something wrong with the piece; always disclosed.
#[derive(Clone, Debug)]
pub struct Flaw {
    pub note: String,
    pub place: Place,
}

#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Moment {
    Before,
    During,
    After,
}

#[derive(Clone, Debug)]
pub struct Photo {
    /// Below the shop folder, with `/`: already resolved against the piece's folder.
    pub path: At<String>,
    /// The picture's text alternative and caption.
    pub shows: Option<String>,
    pub moment: Moment,
    pub on: Option<At<NaiveDate>>,
    pub place: Place,
}

/// What the outline drawing shows; nothing is drawn that is not stated here.
#[derive(Clone, Debug, Default)]
pub struct Outline {
    /// Rows from the top down; each row is parts from left to right: `drawer`, `door`, `shelf`,
    /// `panel`, `open`.
    pub rows: Vec<Vec<String>>,
    /// Height of the legs or plinth.
    pub legs: Option<Length>,
    /// Thickness of the top or lid.
    pub top: Option<Length>,
    /// Height of a seat.
    pub seat: Option<Length>,
}

/// How the piece is offered.
#[derive(Clone, Debug)]
pub struct Listing {
    pub on: Option<At<NaiveDate>>,
    pub price: Option<At<Money>>,
    /// A key of `[channel]` in shop.toml.
    pub channel: Option<At<String>>,
    /// One sentence under the title.
    pub opening: Option<At<String>>,
    /// In the owner's own words; kept as written.
    pub story: Option<At<String>>,
    /// Where it stands in the shop.
    pub stands: Option<String>,
    pub place: Place,
}

#[derive(Clone, Debug)]
pub struct Sale {
    pub on: At<NaiveDate>,
    pub price: At<Money>,
    /// A key of `[channel]` in shop.toml.
    pub channel: Option<At<String>>,
    /// What was really charged; else reckoned from the channel.
    pub fee: Option<At<Money>>,
    pub delivery_charged: Money,
    pub delivery_cost: Money,
    /// Collected by the shop, or by the channel where the channel remits it itself.
    pub tax_collected: Money,
    /// How many of a set; the whole set when not said.
    pub count: Option<At<u32>>,
    pub receipt: Option<At<String>>,
    pub place: Place,
}

/// The buyer brought it back: money out, the piece is stock again.
#[derive(Clone, Debug)]
pub struct Return {
    pub on: At<NaiveDate>,
    /// Of the price and the delivery charged; without the tax.
    pub refunded: At<Money>,
    /// Of the channel's fee.
    pub fee_returned: Money,
    /// What fetching it back cost.
    pub delivery_cost: Money,
    pub tax_returned: Money,
    /// How many of a set; all that were sold last when not said.
    pub count: Option<At<u32>>,
    pub place: Place,
}

#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum WithdrawalKind {
    Scrapped,
    /// For the owner's own use.
    Kept,
    /// To a charity.
    Given,
}

/// Not sold, and no longer stock.
#[derive(Clone, Debug)]
pub struct Withdrawal {
    pub on: At<NaiveDate>,
    pub how: WithdrawalKind,
    pub note: Option<String>,
    pub place: Place,
}
