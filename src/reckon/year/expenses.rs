//! Expenses by category, and trips at the rate of their day.

use super::books::Books;
use super::ledger::{Contribution, FigureUnit, Ledger};
use crate::model::{Expense, Finding, Money, Trip, TripPurpose};
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

/// Enters `expense-CATEGORY` for every category that occurs, and `apart`; gives what was set
/// apart, the largest first.
pub(super) fn enter_expenses(books: &Books, ledger: &mut Ledger) -> Vec<SetApart> {
    let mut categories: BTreeMap<&str, Vec<Contribution>> = BTreeMap::new();
    let (mut apart, mut apart_parts) = (Vec::new(), Vec::new());
    let all = books.shop.years.values().flat_map(|book| &book.expense);
    for expense in all.filter(|expense| books.in_year(expense.on.value)) {
        let part = business_part(expense);
        match set_apart(books, expense) {
            Some(one) => {
                apart.push(one);
                apart_parts.push(part);
            }
            None => categories.entry(&expense.category.value).or_default().push(part),
        }
    }
    for (category, parts) in categories {
        ledger.put(&expense_figure(category), &format!("Expense: {category}"), parts);
    }
    ledger.put("apart", "On no line, for the preparer", apart_parts);
    apart.sort_by(|a, b| b.amount.cmp(&a.amount).then_with(|| a.what.cmp(&b.what)));
    apart
}

/// What an expense adds to its category: its business share.
pub(super) fn business_part(expense: &Expense) -> Contribution {
    let (on, amount) = (expense.on.value, expense.of_business());
    let hundredths = (expense.share * Decimal::ONE_HUNDRED).normalize();
    let what = match expense.share == Decimal::ONE {
        true => expense.what.clone(),
        false => format!("{}, {hundredths} per cent of {}", expense.what, expense.amount.value),
    };
    Contribution::new(expense.place, on, what, amount)
}

/// The name of the figure of a category.
pub(super) fn expense_figure(category: &str) -> String {
    format!("expense-{category}")
}

fn set_apart(books: &Books, expense: &Expense) -> Option<SetApart> {
    let category = &expense.category.value;
    let rule = books.form.apart.iter().find(|rule| rule.categories.contains(category))?;
    let limit = books.form.rate(&rule.above, expense.on.value)?.value;
    (expense.amount.value > limit).then(|| SetApart {
        category: category.clone(),
        what: expense.what.clone(),
        amount: expense.of_business(),
        why: rule.why.clone(),
        place: expense.place,
    })
}

/// The trips of the year.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Trips {
    pub miles: Decimal,
    /// Miles at the rate of each day.
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
    let all = books.shop.years.values().flat_map(|book| &book.trip);
    let trips: Vec<&Trip> = all.filter(|trip| books.in_year(trip.on.value)).collect();
    let mut found = Trips::default();
    for &(purpose, word) in PURPOSES {
        let own: Vec<&Trip> = trips.iter().copied().filter(|t| t.purpose == purpose).collect();
        let (miles, amount) = enter_some_trips(books, &own, &format!("-{word}"), ledger);
        found.by_purpose.push((word, miles, amount));
    }
    (found.miles, found.amount) = enter_some_trips(books, &trips, "", ledger);
    let parking = trips.iter().map(|trip| {
        let what = format!("{}: parking and tolls", trip.what);
        Contribution::new(trip.place, trip.on.value, what, trip.parking)
    });
    found.parking = ledger.put("parking", "Parking and tolls of trips", parking.collect());
    found
}

fn enter_some_trips(
    books: &Books,
    trips: &[&Trip],
    suffix: &str,
    ledger: &mut Ledger,
) -> (Decimal, Money) {
    let part = |trip: &Trip, value: Decimal| {
        Contribution::new(trip.place, trip.on.value, trip.what.as_str(), value)
    };
    let miles = trips.iter().map(|trip| part(trip, trip.miles)).collect();
    let amounts = trips.iter().map(|trip| {
        let rate = books.form.rate("mileage", trip.on.value).map_or(Decimal::ZERO, |r| r.value);
        let mut amount = part(trip, trip.miles * rate);
        amount.what = format!("{}: {} miles at {rate}", trip.what, trip.miles.normalize()).into();
        amount
    });
    let amounts = amounts.collect();
    let (of_miles, of_money) = (format!("trip-miles{suffix}"), format!("trips{suffix}"));
    (
        ledger.put_in(FigureUnit::Miles, &of_miles, "Business miles", miles),
        ledger.put(&of_money, "Business miles at the rate of their day", amounts),
    )
}

/// Enters the miles the form asks for besides business miles; a note if they do not add up.
pub(super) fn enter_vehicle(books: &Books, ledger: &mut Ledger) -> Option<Finding> {
    let vehicle = books.shop.years.get(&books.year).and_then(|book| book.vehicle.as_ref());
    let mut enter = |name: &str, label: &str, miles: Option<Decimal>| {
        let place = vehicle.map(|vehicle| vehicle.place).unwrap_or(crate::model::Place::NOWHERE);
        let part = |amount| Contribution { place, on: None, what: label.into(), amount };
        let parts = miles.map(part).into_iter().collect();
        ledger.put_in(FigureUnit::Miles, name, label, parts)
    };
    let commuting = enter("commuting-miles", "Commuting miles", vehicle.and_then(|v| v.commuting));
    let other = enter("other-miles", "Other miles", vehicle.and_then(|v| v.other));
    let total = vehicle.and_then(|v| v.total)?;
    let business = ledger.amount("trip-miles");
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
        Finding::warning("vehicle-miles", place, message)
    })
}
