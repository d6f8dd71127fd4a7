//! What belongs to a year and not to one piece: `books/YEAR.toml`.

use super::{At, Money, Place, Quantity};
use chrono::NaiveDate;
use rust_decimal::Decimal;

/// The entries of one `books/YEAR.toml`.
#[derive(Clone, Debug, Default)]
pub struct YearBook {
    pub year: i32,
    pub expense: Vec<Expense>,
    pub supply: Vec<Supply>,
    pub count: Vec<Count>,
    pub trip: Vec<Trip>,
    pub lot: Vec<Lot>,
    pub reported: Vec<Reported>,
    pub remitted: Vec<Remitted>,
    pub workspace: Option<Workspace>,
    pub vehicle: Option<Vehicle>,
}

#[derive(Clone, Debug)]
pub struct Expense {
    pub on: At<NaiveDate>,
    pub what: String,
    /// A category of the form's table, such as `advertising`.
    pub category: At<String>,
    pub amount: At<Money>,
    pub receipt: Option<At<String>>,
    pub place: Place,
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

#[derive(Clone, Debug)]
pub struct Trip {
    pub on: At<NaiveDate>,
    pub miles: Decimal,
    pub purpose: TripPurpose,
    pub what: String,
    /// The number or folder of the piece it was for.
    pub piece: Option<At<String>>,
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
    pub amount: At<Money>,
    pub receipt: Option<At<String>>,
    pub place: Place,
}

/// Part of the home used as the workshop, for the simplified method.
#[derive(Clone, Debug)]
pub struct Workspace {
    /// Square feet.
    pub area: Decimal,
    /// Full months of the year it was used.
    pub months: u32,
    pub place: Place,
}

/// The other miles of the vehicle, which the form asks for.
#[derive(Clone, Debug)]
pub struct Vehicle {
    pub total: Option<Decimal>,
    pub commuting: Option<Decimal>,
    pub other: Option<Decimal>,
    pub place: Place,
}
