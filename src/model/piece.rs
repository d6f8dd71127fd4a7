//! A piece of furniture: everything its file says.

use super::closed::closed;
use super::{At, Hours, Length, Made, Money, PaidBy, Place, Quantity};
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
    /// What comes off to move the piece.
    pub apart: Vec<LoosePart>,
    /// What is left when all of it is off; a side not stated is as large as the whole piece's.
    pub remains: Option<LoosePart>,
    /// How what opens or moves works; never assumed.
    pub function: Option<At<Function>>,
    /// Whether anything is missing; never assumed.
    pub completeness: Option<At<Completeness>>,
    pub wood: Vec<Wood>,
    /// What other parts are made of.
    pub material: Vec<Material>,
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
    /// What buyers paid and when, where a sale was not paid in full on its day.
    pub payment: Vec<Payment>,
    /// Part of a price given back, the piece staying sold.
    pub allowance: Vec<Allowance>,
    /// Parts taken from it for other pieces or sold by themselves.
    pub salvaged: Vec<Salvaged>,
    /// Kept for a buyer, whether or not a deposit was paid.
    pub reserved: Option<Reserved>,
    /// Where it stood with somebody else to be sold.
    pub consigned: Vec<Consigned>,
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

    /// All hours of the owner's own work; nothing where none are written.
    pub fn hours(&self) -> Option<Hours> {
        (!self.work.is_empty()).then(|| self.work.iter().map(|work| work.hours).sum())
    }
}

/// A part by itself once the piece is taken apart, or what is then left of it.
#[derive(Clone, Debug)]
pub struct LoosePart {
    /// "mirror", "two drawers"; may be empty for what is left.
    pub part: At<String>,
    pub width: Option<At<Length>>,
    pub depth: Option<At<Length>>,
    pub height: Option<At<Length>>,
    pub weight: Option<At<Quantity>>,
    pub place: Place,
}

/// How what opens, shuts or moves works, as stated.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Function {
    Works,
    Sticks,
    Fails,
    NotTried,
}

/// Whether anything is missing, as stated.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Completeness {
    Complete,
    PartMissing,
    NotKnown,
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

/// What a part is made of that is not of wood: `[[material]]`.
#[derive(Clone, Debug)]
pub struct Material {
    /// "seat"; empty for the whole piece.
    pub part: String,
    /// As written: "cane", "marble".
    pub of: At<String>,
    pub place: Place,
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

impl Bought {
    /// The price with premium and tax.
    pub fn paid(&self) -> Money {
        self.price.value + self.premium + self.tax
    }
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
    pub how: Option<PaidBy>,
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
    /// The address of the listing, `http://…` or `https://…`; printed as a link code.
    pub link: Option<At<String>>,
    pub place: Place,
}

#[derive(Clone, Debug)]
pub struct Sale {
    /// The day it changed hands.
    pub on: At<NaiveDate>,
    /// Without sales tax: where the file says that the price includes it, reading took it out.
    pub price: At<Money>,
    /// A key of `[channel]` in shop.toml.
    pub channel: Option<At<String>>,
    /// What was really charged; else reckoned from the channel.
    pub fee: Option<At<Money>>,
    pub delivery_charged: Money,
    pub delivery_cost: Money,
    /// Collected by the shop, or by the channel where the channel remits it itself. Reckoned by
    /// reading from the rate of `tax_place` where only that is written.
    pub tax_collected: Money,
    /// A key of `[tax]` in shop.toml.
    pub tax_place: Option<At<String>>,
    /// Why no sales tax was charged.
    pub exempt: Option<At<Exempt>>,
    /// How it was paid, where it was paid at once.
    pub how: Option<PaidBy>,
    /// How many of a set; the whole set when not said.
    pub count: Option<At<u32>>,
    pub paper: SalePaper,
    pub receipt: Option<At<String>>,
    pub place: Place,
}

/// What the buyer's receipt says beside the money.
#[derive(Clone, Debug, Default)]
pub struct SalePaper {
    /// In the shop's own numbering of its receipts.
    pub number: Option<At<String>>,
    /// On no other paper.
    pub buyer: Option<String>,
    /// By when the balance is to be paid.
    pub due: Option<At<NaiveDate>>,
    pub handed_over: Option<HandedOver>,
    /// The piece that was taken in part payment, by its number or folder: its price in `[bought]` is
    /// what it counted for.
    pub traded_in: Option<At<String>>,
}

closed! {
    /// How a buyer got it.
    pub enum HandedOver {
        Collected = "collected",
        Delivered = "delivered",
        Shipped = "shipped",
    }
}

impl Sale {
    /// Price and delivery, without sales tax: what the shop earns by it.
    pub fn asked(&self) -> Money {
        self.price.value + self.delivery_charged
    }

    /// All the buyer has to pay: price, delivery and sales tax.
    pub fn total(&self) -> Money {
        self.asked() + self.tax_collected
    }
}

closed! {
    /// Why a sale bears no sales tax.
    #[derive(PartialOrd, Ord)]
    pub enum Exempt {
        /// To a dealer with a resale certificate.
        Resale = "resale",
        OutOfState = "out-of-state",
        Other = "other",
    }
}

/// Kept for a buyer.
#[derive(Clone, Debug)]
pub struct Reserved {
    /// For whom; never on a paper for anybody else.
    pub name: Option<String>,
    /// The last day it is kept.
    pub until: Option<At<NaiveDate>>,
    pub place: Place,
}

/// The buyer brought it back: money out, the piece is stock again.
#[derive(Clone, Debug)]
pub struct Return {
    pub on: At<NaiveDate>,
    /// The day of the sale it undoes; the latest that is not wholly back when not said.
    pub sale_on: Option<At<NaiveDate>>,
    /// Of the price and the delivery charged; without the tax.
    pub refunded: At<Money>,
    /// Of the channel's fee.
    pub fee_returned: Money,
    /// What fetching it back cost.
    pub delivery_cost: Money,
    pub tax_returned: Money,
    /// How many of a set; all of its sale that are still out when not said.
    pub count: Option<At<u32>>,
    /// Of the credit receipt, in the shop's own numbering.
    pub number: Option<At<String>>,
    pub place: Place,
}

/// Money from a buyer: a deposit, an instalment, a cheque.
#[derive(Clone, Debug)]
pub struct Payment {
    pub on: At<NaiveDate>,
    pub amount: At<Money>,
    /// The day of the sale it is for, where the piece was sold more than once.
    pub sale_on: Option<At<NaiveDate>>,
    /// The day it bounced, or was given back.
    pub back: Option<At<NaiveDate>>,
    /// The day a deposit became the shop's own, since the sale fell through.
    pub kept: Option<At<NaiveDate>>,
    /// How much of it was too much: the shop owes it back.
    pub over: Option<At<Money>>,
    /// The day that was given back.
    pub over_back: Option<At<NaiveDate>>,
    pub how: Option<PaidBy>,
    pub receipt: Option<At<String>>,
    pub place: Place,
}

impl Payment {
    /// What of it was too much.
    pub fn too_much(&self) -> Money {
        self.over.as_ref().map_or(Money::ZERO, |over| over.value)
    }
}

/// Part of the price of a sale given back; the piece stays sold.
#[derive(Clone, Debug)]
pub struct Allowance {
    pub on: At<NaiveDate>,
    /// Of price and delivery, without tax.
    pub amount: At<Money>,
    /// Of the channel's fee.
    pub fee_returned: Money,
    pub tax_returned: Money,
    /// The day of the sale it is of, where the piece was sold more than once.
    pub sale_on: Option<At<NaiveDate>>,
    pub what: Option<String>,
    /// Of the credit receipt, in the shop's own numbering.
    pub number: Option<At<String>>,
    pub receipt: Option<At<String>>,
    pub place: Place,
}

/// A part taken from a piece: its cost goes with it.
#[derive(Clone, Debug)]
pub struct Salvaged {
    pub on: At<NaiveDate>,
    pub what: String,
    /// How much of the piece's cost goes with the part.
    pub cost: At<Money>,
    pub to: SalvagedTo,
    pub receipt: Option<At<String>>,
    pub place: Place,
}

/// Where a salvaged part went.
#[derive(Clone, Debug)]
pub enum SalvagedTo {
    /// Into another piece, by its number or folder.
    Piece(At<String>),
    /// Sold by itself, for this much.
    Sold(At<Money>),
}

/// With somebody else to be sold: still the shop's own stock.
#[derive(Clone, Debug)]
pub struct Consigned {
    pub on: At<NaiveDate>,
    pub to: String,
    /// The day it came back unsold.
    pub back: Option<At<NaiveDate>>,
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
