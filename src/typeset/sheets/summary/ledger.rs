//! Expenses by category, and trips at the rates in force.

use super::{Books, bare, in_words};
use crate::describe::wording::{NO_BREAK, capital};
use crate::model::{Closed, Feed, Money, Rate, grouped, round};
use crate::reckon::year::{Figure, FigureName, Total};
use crate::typeset::view::{ExpenseRow, Expenses, TripRow, Trips};
use chrono::{Datelike, NaiveDate};
use rust_decimal::Decimal;

/// What was spent on one thing, as far as it counts on its line.
pub(super) struct Spent {
    pub words: String,
    pub line: String,
    pub entries: usize,
    /// As paid.
    pub paid: Money,
    /// The share of it that counts.
    pub amount: Money,
}

/// Entries other than expenses that a line may take: their figure, and how they are called.
const FEEDS: &[(Feed, Total, &str)] = &[
    (Feed::Trips, Total::Trips, "business miles"),
    (Feed::Trips, Total::Parking, "parking and tolls of trips"),
    (Feed::ChannelFees, Total::ChannelFees, "channel fees"),
    (Feed::Delivery, Total::Delivery, "delivery paid"),
    (Feed::SuppliesBought, Total::SuppliesBought, "shop stock bought"),
    (Feed::Workspace, Total::Workspace, "workspace at home"),
];

/// Everything that stands on an expense line, in the order of the form; together it is the total
/// of expenses.
pub(super) fn spent(books: &Books) -> Vec<Spent> {
    let mut all = Vec::new();
    for line in books.form.into_iter().flat_map(|form| form.expense_lines()) {
        let mut add = |figure: FigureName, words: String, share: Decimal| {
            let found = books.year.ledger.get(&figure).filter(|found| !found.parts.is_empty());
            all.extend(found.map(|found| of(books, found, words, &line.number, share)));
        };
        for category in &line.categories {
            let portion = line.portions.get(category).and_then(|name| books.rate(name));
            let share = portion.map_or(Decimal::ONE, |rate| rate.value);
            add(FigureName::Expense(category.clone()), in_words(category), share);
        }
        for (feed, figure, words) in FEEDS {
            if line.feeds.contains(feed) {
                add((*figure).into(), (*words).to_owned(), Decimal::ONE);
            }
        }
    }
    all
}

fn of(books: &Books, figure: &Figure, words: String, line: &str, share: Decimal) -> Spent {
    let (entries, paid) = (figure.parts.len(), figure.amount);
    // As on the line: the share of each entry in whole cents.
    let places = books.shop.currency.decimals;
    let amount = figure.parts.iter().map(|part| round(part.amount * share, places)).sum();
    Spent { words, line: line.to_owned(), entries, paid, amount }
}

pub(super) fn expenses(books: &Books) -> Option<Expenses> {
    let spent = spent(books);
    let rows = spent.iter().map(|one| ExpenseRow {
        category: one.words.clone(),
        line: one.line.clone(),
        entries: one.entries.to_string(),
        amount: books.amount(one.amount),
    });
    let in_part = spent.iter().filter(|one| one.paid != one.amount).map(|one| {
        let (paid, counts) = (books.amount(one.paid), books.amount(one.amount));
        format!("{}: {paid} was paid, of which {counts} counts.", capital(&one.words))
    });
    (!spent.is_empty()).then(|| Expenses {
        rows: rows.collect(),
        total: books.total("All expenses", books.year.total(Total::TotalExpenses)),
        notes: in_part.collect(),
    })
}

const PURPOSES: &[(&str, &str)] =
    &[("fetch", "fetching pieces"), ("deliver", "delivering"), ("other", "other business trips")];

pub(super) fn trips(books: &Books) -> Option<Trips> {
    let trips = &books.year.trips;
    let spans = spans(books);
    let of_purpose = |(word, what): &(&str, &str)| -> Vec<TripRow> {
        spans.iter().filter_map(|span| trip_row(books, span, word, what)).collect()
    };
    let line = books.line_of(Feed::Trips);
    (!trips.distance.is_zero()).then(|| Trips {
        rows: PURPOSES.iter().flat_map(of_purpose).collect(),
        total_label: "All trips".to_owned(),
        unit: books.shop.home().distance.word().to_owned(),
        total_miles: bare(trips.distance),
        total_amount: books.amount(trips.amount),
        notes: line.map(|line| format!("They go to {line}.")).into_iter().collect(),
    })
}

/// A mileage rate and the days of the year it holds for.
struct Span<'a> {
    rate: &'a Rate,
    from: NaiveDate,
    to: NaiveDate,
}

fn spans<'a>(books: &Books<'a>) -> Vec<Span<'a>> {
    let last = books.last_day();
    let first = last.with_month(1).and_then(|day| day.with_day(1)).unwrap_or(last);
    let rates = books.form.into_iter().flat_map(|form| &form.rates);
    rates
        .filter(|rate| rate.name == "mileage" && rate.above.is_none())
        .map(|rate| Span { rate, from: rate.from.max(first), to: rate.last_day().min(last) })
        .filter(|span| span.from <= span.to)
        .collect()
}

fn trip_row(books: &Books, span: &Span, word: &str, what: &str) -> Option<TripRow> {
    let sum = |figure: FigureName| -> Decimal {
        let parts = books.year.ledger.get(&figure).map_or(&[][..], |figure| &figure.parts);
        let in_span = |on: &NaiveDate| (span.from..=span.to).contains(on);
        let own = parts.iter().filter(|part| part.on.as_ref().is_some_and(in_span));
        own.map(|part| part.amount).sum()
    };
    let miles = sum(FigureName::TripMilesOf(word.to_owned()));
    (!miles.is_zero()).then(|| TripRow {
        on: format!("{} – {}", day(span.from), day(span.to)),
        what: what.to_owned(),
        miles: bare(miles),
        rate: digits(span.rate.value),
        amount: books.amount(sum(FigureName::TripsOf(word.to_owned()))),
    })
}

fn day(on: NaiveDate) -> String {
    format!("{}{NO_BREAK}{}", on.day(), on.format("%b"))
}

/// A rate of money with all its digits, at least two: "0.70", "0.625".
pub(super) fn digits(value: Decimal) -> String {
    let value = value.normalize();
    grouped(value, value.scale().max(2))
}
