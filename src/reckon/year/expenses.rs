//! Expenses by category, and trips at the rate of their day.

use super::books::Books;
use super::ledger::{Contribution, FigureUnit, Ledger};
use super::names::{FigureName, Total};
use crate::model::{
    Closed, Code, Entry, Finding, Money, PaidBy, RefundOf, Trip, TripPurpose, What, round,
};
use crate::reckon::trips::TripCost;
use rust_decimal::Decimal;
use std::collections::BTreeMap;

/// An expense the form's table keeps off every line: for the preparer to decide.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct SetApart {
    pub category: String,
    pub what: String,
    pub amount: Money,
    /// Why, in a sentence of the form's table.
    pub why: String,
    pub place: crate::model::Place,
}

/// Something paid for the business, or paid back of it (below zero).
pub(super) struct Spent<'a> {
    pub category: &'a str,
    pub what: String,
    /// Who was paid, or paid back.
    pub to: Option<&'a str>,
    pub how: Option<PaidBy>,
    /// All of it, whatever the share of the business.
    pub whole: Money,
    pub part: Contribution,
}

/// The expenses of the period, and what was paid back of expenses.
pub(super) fn spent<'a>(books: &Books<'a>) -> Vec<Spent<'a>> {
    let spent = books.of_period().filter_map(|entry| match entry.what {
        What::Expense(one) => Some(Spent {
            category: &one.category.value,
            what: one.what.clone(),
            to: one.to.as_deref(),
            how: one.how,
            whole: one.amount.value,
            part: shared(books, &entry, one.amount.value, one.share),
        }),
        What::Refund(one) => match &one.of {
            RefundOf::Expense { category, share } => Some(Spent {
                category: &category.value,
                what: one.words(),
                to: one.from.as_deref(),
                how: None,
                whole: -one.amount.value,
                part: shared(books, &entry, -one.amount.value, *share),
            }),
            _ => None,
        },
        _ => None,
    });
    spent.collect()
}

/// The business share of an amount, to the cent.
fn shared(books: &Books, entry: &Entry, amount: Money, share: Decimal) -> Contribution {
    let part = books.part(entry, round(amount * share, books.decimals()));
    if share == Decimal::ONE {
        return part;
    }
    let hundredths = (share * Decimal::ONE_HUNDRED).normalize();
    Contribution {
        what: format!("{}, {hundredths} per cent of {amount}", part.what).into(),
        ..part
    }
}

/// Enters `expense-CATEGORY` for every category that occurs, and `apart`; gives what was set
/// apart, the largest first.
pub(super) fn enter_expenses(books: &Books, ledger: &mut Ledger) -> Vec<SetApart> {
    let mut categories: BTreeMap<&str, Vec<Contribution>> = BTreeMap::new();
    let (mut apart, mut apart_parts) = (Vec::new(), Vec::new());
    for spent in spent(books) {
        match set_apart(books, &spent) {
            Some(one) => {
                apart.push(one);
                apart_parts.push(spent.part);
            }
            None => categories.entry(spent.category).or_default().push(spent.part),
        }
    }
    for (category, parts) in categories {
        let name = FigureName::Expense(category.to_owned());
        ledger.put(name, &format!("Expense: {category}"), parts);
    }
    ledger.put(Total::Apart, "On no line, for the preparer", apart_parts);
    apart.sort_by(|a, b| b.amount.cmp(&a.amount).then_with(|| a.what.cmp(&b.what)));
    apart
}

fn set_apart(books: &Books, spent: &Spent) -> Option<SetApart> {
    let rule = books
        .form
        .apart
        .iter()
        .find(|rule| rule.categories.iter().any(|own| own == spent.category))?;
    let limit = books.form.rate(&rule.above, spent.part.on?)?.value;
    (spent.whole.abs() > limit).then(|| SetApart {
        category: spent.category.to_owned(),
        what: spent.what.clone(),
        amount: spent.part.amount,
        why: rule.why.clone(),
        place: spent.part.place,
    })
}

/// The trips of the year.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Trips {
    /// In the unit of the shop's country.
    pub distance: Decimal,
    /// At the rate of each day.
    pub amount: Money,
    /// Parking and tolls, beside the rate.
    pub parking: Money,
    /// Purpose as written in the file, its miles and its amount.
    pub by_purpose: Vec<(&'static str, Decimal, Money)>,
}

const PURPOSES: &[(TripPurpose, &str)] = &[
    (TripPurpose::Fetch, "fetch"),
    (TripPurpose::Deliver, "deliver"),
    (TripPurpose::Other, "other"),
];

/// Enters `trips`, `trip-miles` and the same for each purpose.
pub(super) fn enter_trips(books: &Books, ledger: &mut Ledger) -> Trips {
    let trips: Vec<&Trip> = books
        .of_period()
        .filter_map(|entry| match entry.what {
            What::Trip(trip) => Some(trip),
            _ => None,
        })
        .collect();
    let mut found = Trips::default();
    for &(purpose, word) in PURPOSES {
        let own: Vec<&Trip> = trips.iter().copied().filter(|t| t.purpose == purpose).collect();
        let (distance, amount) = {
            let of_miles = FigureName::TripMilesOf(word.to_owned());
            let of_money = FigureName::TripsOf(word.to_owned());
            enter_some_trips(books, &own, (of_miles, of_money), ledger)
        };
        found.by_purpose.push((word, distance, amount));
    }
    (found.distance, found.amount) =
        enter_some_trips(books, &trips, (Total::TripMiles.into(), Total::Trips.into()), ledger);
    let parking = trips.iter().map(|trip| {
        let what = format!("{}: parking and tolls", trip.what);
        Contribution::new(trip.place, trip.on.value, what, trip.parking)
    });
    found.parking = ledger.put(Total::Parking, "Parking and tolls of trips", parking.collect());
    found
}

fn enter_some_trips(
    books: &Books,
    trips: &[&Trip],
    (of_miles, of_money): (FigureName, FigureName),
    ledger: &mut Ledger,
) -> (Decimal, Money) {
    let part = |trip: &Trip, value: Decimal| {
        Contribution::new(trip.place, trip.on.value, trip.what.as_str(), value)
    };
    let unit = books.shop.home().distance.word();
    let driven = trips.iter().map(|trip| part(trip, trip.distance)).collect();
    let amounts = trips.iter().map(|trip| {
        let cost = TripCost::of(books.shop, trip.on.value, trip.place, trip.distance);
        // A trip without a rate, where the form has some, was refused before.
        let mut amount = part(trip, cost.amount().unwrap_or_default());
        if let TripCost::Known(_, rate) = cost {
            let rate = rate.map_or("the rates of its bands".to_owned(), |rate| rate.to_string());
            let distance = trip.distance.normalize();
            amount.what = format!("{}: {distance} {unit} at {rate}", trip.what).into();
        }
        amount
    });
    let amounts = amounts.collect();
    (
        ledger.put_in(FigureUnit::Distance, of_miles, &format!("Business {unit}"), driven),
        ledger.put(of_money, &format!("Business {unit} at the rate of their day"), amounts),
    )
}

/// Enters the miles the form asks for besides business miles; a note if they do not add up.
pub(super) fn enter_vehicle(books: &Books, ledger: &mut Ledger) -> Option<Finding> {
    let vehicle = books.book_of_whole_year().and_then(|book| book.vehicle.as_ref());
    let mut enter = |name: Total, label: &str, miles: Option<Decimal>| {
        let place = vehicle.map(|vehicle| vehicle.place).unwrap_or(crate::model::Place::NOWHERE);
        let part = |amount| Contribution { place, on: None, what: label.into(), amount };
        let parts = miles.map(part).into_iter().collect();
        ledger.put_in(FigureUnit::Distance, name, label, parts)
    };
    let commuting =
        enter(Total::CommutingMiles, "Commuting miles", vehicle.and_then(|v| v.commuting));
    let other = enter(Total::OtherMiles, "Other miles", vehicle.and_then(|v| v.other));
    let total = vehicle.and_then(|v| v.total)?;
    let business = ledger.total(Total::TripMiles);
    let told = business + commuting + other;
    let place = vehicle.map(|v| v.place)?;
    (told != total).then(|| {
        let message = format!(
            "the vehicle's miles do not add up: {} in all, but {} for the business, {} commuting \
             and {} other",
            total.normalize(),
            business.normalize(),
            commuting.normalize(),
            other.normalize()
        );
        Finding::warning(Code::VehicleMiles, place, message)
    })
}
