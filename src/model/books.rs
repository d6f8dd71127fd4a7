//! What belongs to a year and not to one piece: `books/YEAR.toml`.

use super::closed::closed;
use super::{At, Basis, CostKind, Money, Period, Place, Quantity, Sale, Supplies};
use chrono::NaiveDate;
use rust_decimal::Decimal;
use std::collections::BTreeMap;

/// The entries of one `books/YEAR.toml`.
#[derive(Clone, Debug, Default)]
pub struct YearBook {
    pub year: i32,
    pub expense: Vec<Expense>,
    pub income: Vec<Income>,
    pub estimate_paid: Vec<EstimatePaid>,
    pub supply: Vec<Supply>,
    pub refund: Vec<Refund>,
    pub count: Vec<Count>,
    pub trip: Vec<Trip>,
    pub lot: Vec<Lot>,
    pub bundle: Vec<Bundle>,
    pub reported: Vec<Reported>,
    pub remitted: Vec<Remitted>,
    /// Shop stock on hand when the books begin, at the start of this year.
    pub on_hand: Vec<OnHandStock>,
    pub opening: Option<Opening>,
    /// Where this year's books are kept differently from shop.toml.
    pub method: Option<YearMethod>,
    pub workspace: Option<Workspace>,
    pub vehicle: Option<Vehicle>,
    pub bank: Option<BankExport>,
}

/// A bank's list of what went through the account, as the bank exports it.
#[derive(Clone, Debug)]
pub struct BankExport {
    /// Its path below the shop folder.
    pub file: At<String>,
    /// Every row with money coming in, in the order of the file; nothing where the file could not
    /// be read, which a finding says.
    pub deposits: Option<Vec<BankDeposit>>,
    pub place: Place,
}

/// Money that came into the account.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct BankDeposit {
    pub on: NaiveDate,
    /// Exact; always above zero.
    pub amount: Money,
    /// What the bank says of it; may be empty.
    pub text: String,
    /// Its row of the export.
    pub place: Place,
}

#[derive(Clone, Debug)]
pub struct Expense {
    pub on: At<NaiveDate>,
    pub what: String,
    /// A category of the form's table, such as `advertising`.
    pub category: At<String>,
    pub amount: At<Money>,
    /// The business share of a mixed expense, as a fraction; 1 where nothing is said.
    pub share: Decimal,
    /// Who was paid.
    pub to: Option<String>,
    pub how: Option<PaidBy>,
    pub receipt: Option<At<String>>,
    pub place: Place,
}

/// Money earned in other ways than by selling a piece.
#[derive(Clone, Debug)]
pub struct Income {
    pub on: At<NaiveDate>,
    pub what: String,
    pub amount: At<Money>,
    pub kind: IncomeKind,
    /// Earned on its day, and paid on another: no money came in.
    pub earned: bool,
    /// Who paid.
    pub from: Option<String>,
    pub how: Option<PaidBy>,
    pub receipt: Option<At<String>>,
    pub place: Place,
}

closed! {
    /// Which receipt of the form it is.
    pub enum IncomeKind {
        /// Work for somebody: a workshop day, a repair of a customer's own piece.
        Service = "service",
        /// Everything else the business brought in.
        Other = "other",
    }
}

/// A payment of the owner's own estimated tax for the year: no expense of the business.
#[derive(Clone, Debug)]
pub struct EstimatePaid {
    pub on: At<NaiveDate>,
    pub amount: At<Money>,
    /// Which of the year's due days it is for, counted from 1; else the next one.
    pub part: Option<At<u32>>,
    pub to: Option<String>,
    pub receipt: Option<At<String>>,
    pub place: Place,
}

/// What a supplier paid back: it lowers what it was paid for, on the day it was paid back.
#[derive(Clone, Debug)]
pub struct Refund {
    pub on: At<NaiveDate>,
    pub what: Option<String>,
    /// Who paid it back.
    pub from: Option<String>,
    pub amount: At<Money>,
    pub of: RefundOf,
    pub receipt: Option<At<String>>,
    pub place: Place,
}

/// What a refund lowers.
#[derive(Clone, Debug)]
pub enum RefundOf {
    /// A cost of a piece, by its number or folder: of that kind, else what was paid for the piece.
    Piece(At<String>, Option<CostKind>),
    /// Shop stock: so much was sent back, or nothing where only the price was lowered.
    Stock { stock: At<String>, quantity: At<Quantity> },
    /// An expense of a category, by the business share of it.
    Expense { category: At<String>, share: Decimal },
}

impl Refund {
    /// "refund of a card reader".
    pub fn words(&self) -> String {
        let of = match &self.of {
            RefundOf::Piece(..) => self.what.as_deref().unwrap_or("what was paid"),
            RefundOf::Stock { stock, .. } => self.what.as_deref().unwrap_or(&stock.value),
            RefundOf::Expense { category, .. } => self.what.as_deref().unwrap_or(&category.value),
        };
        format!("refund of {of}")
    }
}

closed! {
    /// How money changed hands.
    pub enum PaidBy {
        Cash = "cash",
        Check = "check",
        Transfer = "transfer",
        Card = "card",
        /// A payment service that stands between payer and payee.
        Service = "service",
    }
}

impl PaidBy {
    /// Whoever carries the payment reports it, not the one who pays.
    pub fn is_reported_by_others(self) -> bool {
        matches!(self, PaidBy::Card | PaidBy::Service)
    }
}

/// Shop stock bought.
#[derive(Clone, Debug)]
pub struct Supply {
    pub on: At<NaiveDate>,
    /// A key of `stock.toml`.
    pub stock: At<String>,
    pub quantity: At<Quantity>,
    pub amount: At<Money>,
    pub receipt: Option<At<String>>,
    pub place: Place,
}

/// A physical count of shop stock; the difference from the books is shrinkage.
#[derive(Clone, Debug)]
pub struct Count {
    pub on: At<NaiveDate>,
    pub stock: At<String>,
    pub quantity: At<Quantity>,
    pub place: Place,
}

/// Shop stock on hand when the books begin: counted and valued, and bought before any book.
#[derive(Clone, Debug)]
pub struct OnHandStock {
    /// A key of `stock.toml`.
    pub stock: At<String>,
    pub quantity: At<Quantity>,
    /// What it had cost.
    pub amount: At<Money>,
    pub place: Place,
}

/// What the year before closed with, as it was filed.
#[derive(Clone, Debug)]
pub struct Opening {
    /// Closing stock on the return of the year before.
    pub stock: Option<At<Money>>,
    /// Sales tax held for the state when the books begin, by key of `[tax]`.
    pub sales_tax: Vec<(At<String>, Money)>,
    pub place: Place,
}

/// How one year's books are kept, where that differs from the shop's own way.
#[derive(Clone, Debug)]
pub struct YearMethod {
    pub basis: Option<Basis>,
    pub supplies: Option<Supplies>,
    pub place: Place,
}

#[derive(Clone, Debug)]
pub struct Trip {
    pub on: At<NaiveDate>,
    /// In the unit of the shop's country.
    pub distance: Decimal,
    /// Parking and tolls on the way: they count beside the rate.
    pub parking: Money,
    pub purpose: TripPurpose,
    pub what: String,
    /// The numbers or folders of the pieces it was for, which share it equally.
    pub pieces: Vec<At<String>>,
    pub place: Place,
}

/// What a trip was for; decides where the shop view counts it.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum TripPurpose {
    /// To bring a piece in: freight-in of that piece.
    Fetch,
    /// To bring a piece to its buyer: delivery cost of that piece.
    Deliver,
    /// Everything else of the business.
    Other,
}

/// Several pieces bought for one price, split by shares.
#[derive(Clone, Debug)]
pub struct Lot {
    pub on: At<NaiveDate>,
    pub what: String,
    pub price: At<Money>,
    pub premium: Money,
    pub tax: Money,
    /// Piece number (or folder name) and its share, in the order of the file.
    pub pieces: Vec<(At<String>, Decimal)>,
    pub from: Option<String>,
    pub receipt: Option<At<String>>,
    pub place: Place,
}

impl Lot {
    /// The price with premium and tax.
    pub fn paid(&self) -> Money {
        self.price.value + self.premium + self.tax
    }
}

/// Several pieces sold for one price, split by shares: reading puts a sale into each piece.
#[derive(Clone, Debug)]
pub struct Bundle {
    /// Of all of them together.
    pub sale: Sale,
    /// Piece number (or folder name) and its share, in the order of the file.
    pub pieces: Vec<(At<String>, Decimal)>,
    pub place: Place,
}

/// What a channel or payment processor reported for the year.
#[derive(Clone, Debug)]
pub struct Reported {
    /// A key of `[channel]` in shop.toml.
    pub channel: At<String>,
    /// The name of the form it came on.
    pub form: Option<String>,
    pub gross: At<Money>,
    pub place: Place,
}

/// Sales tax passed on to a state or town.
#[derive(Clone, Debug)]
pub struct Remitted {
    pub on: At<NaiveDate>,
    pub to: String,
    /// A key of `[tax]` in shop.toml: the place it was collected for.
    pub place_key: Option<At<String>>,
    pub amount: At<Money>,
    /// What the state lets the shop keep for collecting: income.
    pub kept: Money,
    /// What it was filed for; else the filing period that ended last before its day.
    pub period: Option<At<Period>>,
    pub receipt: Option<At<String>>,
    pub place: Place,
}

/// Part of the home used as the workshop, for the simplified method.
#[derive(Clone, Debug)]
pub struct Workspace {
    /// Each area with its days, in order.
    pub uses: Vec<SpaceUse>,
    /// Full months of the year it was used, where these are written and no days.
    pub months: Option<u32>,
    pub place: Place,
}

/// An area in use, from a day on and up to the next one.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct SpaceUse {
    /// In the unit of the form's rate: square feet.
    pub area: Decimal,
    /// The first day; the year's own where none is written.
    pub from: Option<NaiveDate>,
    /// The last day; the year's own where none is written.
    pub to: Option<NaiveDate>,
}

/// The other miles of the vehicle, which the form asks for.
#[derive(Clone, Debug)]
pub struct Vehicle {
    pub total: Option<Decimal>,
    pub commuting: Option<Decimal>,
    pub other: Option<Decimal>,
    /// What the form asks in words, by the key of the answer: see [`VEHICLE_ANSWERS`].
    pub answers: BTreeMap<&'static str, String>,
    pub place: Place,
}

/// Keys of `[vehicle]` that answer a line of the form in words.
pub const VEHICLE_ANSWERS: [&str; 5] =
    ["in-service", "private-use", "another-vehicle", "evidence", "written-evidence"];
