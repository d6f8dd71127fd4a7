//! What a trip comes to: its distance at the rate of its day, to the cent, with parking and tolls. The
//! tally counts the trips of a piece, the books view all trips of a year.

use super::costs::TripShare;
use crate::model::{Closed, Code, Finding, Money, Place, Shop, TripPurpose, round, split};
use chrono::NaiveDate;
use rust_decimal::Decimal;

/// What a trip comes to, without parking and tolls.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum TripCost {
    /// To the cent; at one rate, where it lies within one band.
    Known(Money, Option<Decimal>),
    /// The form has rates, and none for that day.
    NotThatDay,
    /// The form knows no rate at all: trips are listed and cost nothing.
    NotInForm,
}

impl TripCost {
    /// What a distance driven on a day comes to; `place` tells two trips of a day apart.
    pub fn of(shop: &Shop, on: NaiveDate, place: Place, distance: Decimal) -> TripCost {
        if !shop.knows_rate(RATE) {
            return TripCost::NotInForm;
        }
        let Some(form) = shop.form(shop.tax_year_of(on)) else { return TripCost::NotThatDay };
        let before = if form.has_bands(RATE) { before(shop, on, place) } else { Decimal::ZERO };
        match form.at_rate(RATE, on, before, distance) {
            None => TripCost::NotThatDay,
            Some(exact) => {
                let rate = form.rate(RATE, on).map(|rate| rate.value);
                let rate = rate.filter(|rate| rate.checked_mul(distance) == Some(exact));
                TripCost::Known(round(exact, shop.currency.decimals), rate)
            }
        }
    }

    /// The money; nothing where no rate is known for that day.
    pub fn amount(self) -> Option<Money> {
        match self {
            TripCost::Known(amount, _) => Some(amount),
            TripCost::NotThatDay => None,
            TripCost::NotInForm => Some(Money::ZERO),
        }
    }
}

/// The name of the rate of a distance.
const RATE: &str = "mileage";

/// What was driven earlier in the tax year: of one day, what is written first.
fn before(shop: &Shop, on: NaiveDate, place: Place) -> Decimal {
    let year = shop.tax_year(shop.tax_year_of(on));
    let trips = shop.years.values().flat_map(|book| &book.trip);
    let earlier = trips
        .filter(|trip| year.contains(trip.on.value) && (trip.on.value, trip.place) < (on, place));
    earlier.map(|trip| trip.distance).sum()
}

/// The trips of a piece in money, by what they were for.
#[derive(Clone, Debug, Default)]
pub struct TripCosts {
    /// Bringing it in, before or after a sale that came back.
    pub fetch: Money,
    /// Bringing it to a buyer.
    pub deliver: Money,
    /// One for every trip whose day no rate is known for; the amounts are then not whole.
    pub findings: Vec<Finding>,
}

/// Miles at the rate in force on the day of each trip, with parking and tolls; trips for anything
/// else count nothing here.
pub fn trip_costs(shop: &Shop, trips: &[TripShare]) -> TripCosts {
    let mut costs = TripCosts::default();
    for trip in trips {
        let sum = match trip.purpose {
            TripPurpose::Fetch => &mut costs.fetch,
            TripPurpose::Deliver => &mut costs.deliver,
            TripPurpose::Other => continue,
        };
        match trip_amount(shop, trip) {
            Some(amount) => *sum += amount,
            None => costs.findings.push(no_rate(trip.on, trip.distance, trip.place)),
        }
    }
    costs
}

/// One trip of a piece; nothing where no rate is known for its day.
pub fn trip_amount(shop: &Shop, trip: &TripShare) -> Option<Money> {
    let driven = TripCost::of(shop, trip.on, trip.place, trip.distance).amount()?;
    let (nth, of) = trip.part;
    let parts = split(driven, &vec![Decimal::ONE; of], shop.currency.decimals);
    Some(parts.get(nth)? + trip.parking)
}

/// Says of a day that no rate is known for it, where the form has rates for others.
pub fn no_rate(on: NaiveDate, distance: Decimal, place: Place) -> Finding {
    let message = format!("no mileage rate is known for {on}");
    Finding::error(Code::NoMileageRate, place, message)
        .label(format!("driven: {}", distance.normalize()))
        .hint("correct the day, or name a form in `[books]` whose table has a rate for it")
}

/// Says once that the trips of the shop are in no figure of money, where its form has no rate.
pub fn unrated(shop: &Shop) -> Option<Finding> {
    let trips =
        || shop.years.values().flat_map(|book| &book.trip).filter(|t| !t.distance.is_zero());
    let first = trips().next().filter(|_| !shop.knows_rate(RATE))?;
    let driven: Decimal = trips().map(|trip| trip.distance).sum();
    let message = format!(
        "no rate is known for what is driven: {} {} are listed and are in no cost",
        driven.normalize(),
        shop.home().distance.word()
    );
    let finding = Finding::warning(Code::MilesWithoutRate, first.place, message);
    Some(finding.hint("what the vehicle costs can be written as expenses; parking and tolls count"))
}
