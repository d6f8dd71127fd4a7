//! What the trips of a piece come to in the shop view: miles at the rate of their day. Only the
//! tally uses it; the books view adds up all trips of a year by itself.

use super::costs::TripShare;
use crate::model::{Finding, Money, TripPurpose};
use chrono::NaiveDate;
use rust_decimal::Decimal;

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

/// Miles × the rate in force on the day of each trip, with parking and tolls; trips for anything else count nothing here.
pub fn trip_costs(trips: &[TripShare], rate: impl Fn(NaiveDate) -> Option<Decimal>) -> TripCosts {
    let mut costs = TripCosts::default();
    for trip in trips {
        let sum = match trip.purpose {
            TripPurpose::Fetch => &mut costs.fetch,
            TripPurpose::Deliver => &mut costs.deliver,
            TripPurpose::Other => continue,
        };
        match trip_amount(trip, &rate) {
            Some(amount) => *sum += amount,
            None => costs.findings.push(no_rate(trip)),
        }
    }
    costs
}

/// One trip, with parking and tolls; nothing where no rate is known for its day.
pub fn trip_amount(trip: &TripShare, rate: impl Fn(NaiveDate) -> Option<Decimal>) -> Option<Money> {
    let driven = rate(trip.on).and_then(|rate| trip.miles.checked_mul(rate))?;
    Some(driven + trip.parking)
}

fn no_rate(trip: &TripShare) -> Finding {
    let message = format!("no mileage rate is known for {}", trip.on);
    Finding::error("no-mileage-rate", trip.place, message)
        .label(format!("miles driven: {}", trip.miles.normalize()))
        .hint("correct the day, or name a form in `[books]` whose table has a rate for it")
}
