//! What a trip comes to: miles at the rate of its day, to the cent, with parking and tolls. The tally
//! counts the trips of a piece, the books view all trips of a year.

use super::costs::TripShare;
use crate::model::{Finding, Money, Place, Shop, TripPurpose, round};
use chrono::NaiveDate;
use rust_decimal::Decimal;

/// What the shop's form says of a mile.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum MileageRate {
    Known(Decimal),
    /// The form has rates, and none for that day.
    NotThatDay,
    /// The form knows no rate of a mile in the shop's currency: miles are listed and cost nothing.
    NotInForm,
}

impl MileageRate {
    /// The rate of a day.
    pub fn of(shop: &Shop, on: NaiveDate) -> MileageRate {
        let own = shop.forms.iter().filter(|form| {
            form.name == shop.books.form.value && form.currency == shop.currency.code
        });
        let mut rates = own.flat_map(|form| &form.rates);
        if !rates.any(|rate| rate.name == "mileage") {
            return MileageRate::NotInForm;
        }
        shop.mileage_rate(on).map_or(MileageRate::NotThatDay, MileageRate::Known)
    }

    /// What so many miles come to, to the cent; nothing where no rate is known for them.
    pub fn cost(self, miles: Decimal, decimals: u32) -> Option<Money> {
        match self {
            MileageRate::Known(rate) => Some(round(miles.checked_mul(rate)?, decimals)),
            MileageRate::NotThatDay => None,
            MileageRate::NotInForm => Some(Money::ZERO),
        }
    }
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
            None => costs.findings.push(no_rate(trip.on, trip.miles, trip.place)),
        }
    }
    costs
}

/// One trip of a piece; nothing where no rate is known for its day.
pub fn trip_amount(shop: &Shop, trip: &TripShare) -> Option<Money> {
    let driven = MileageRate::of(shop, trip.on).cost(trip.miles, shop.currency.decimals)?;
    Some(driven + trip.parking)
}

/// Says of a day that no rate is known for it, where the form has rates for others.
pub fn no_rate(on: NaiveDate, miles: Decimal, place: Place) -> Finding {
    let message = format!("no mileage rate is known for {on}");
    Finding::error("no-mileage-rate", place, message)
        .label(format!("miles driven: {}", miles.normalize()))
        .hint("correct the day, or name a form in `[books]` whose table has a rate for it")
}

/// Says once that the miles of the shop are in no figure of money, where its form has no rate.
pub fn unrated(shop: &Shop) -> Option<Finding> {
    let trips = || shop.years.values().flat_map(|book| &book.trip).filter(|t| !t.miles.is_zero());
    let first = trips().next()?;
    (MileageRate::of(shop, first.on.value) == MileageRate::NotInForm).then(|| {
        let miles: Decimal = trips().map(|trip| trip.miles).sum();
        let message = format!(
            "no rate of a mile is known in {}: {} miles are listed and are in no cost",
            shop.currency.code,
            miles.normalize()
        );
        Finding::warning("miles-without-rate", first.place, message)
            .hint("name a form in `[books]` that has a rate; parking and tolls count all the same")
    })
}
