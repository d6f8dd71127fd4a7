//! The chart of how long pieces were held: those sold in the year up to the sale, those in stock up
//! to the year's end.

use super::Books;
use super::glance::parts;
use super::pieces::{Sold, number};
use crate::model::{Piece, counted, grouped};
use crate::reckon::spread::{Spread, spread};
use crate::typeset::view::{DaysHeld, HeldBar};
use chrono::NaiveDate;
use rust_decimal::Decimal;
use std::cmp::Reverse;

/// The most bars that are drawn: half of them the longest held, half the shortest.
const MOST: usize = 24;

/// A piece, or part of a set, with the days it was held.
struct Held<'a> {
    piece: &'a Piece,
    days: i64,
    in_stock: bool,
}

/// Nothing when no day of purchase is known.
pub(super) fn chart(books: &Books, sold: &[Sold]) -> Option<DaysHeld> {
    let mut known: Vec<Held> = sold.iter().filter_map(of_sale).chain(of_stock(books)).collect();
    known.sort_by_key(|held| Reverse(held.days));
    let longest = known.first()?.days;
    let middle = spread(days(&known, false));
    let many = known.len() > MOST;
    let end = known.len().saturating_sub(MOST / 2);
    let drawn = known.iter().enumerate().filter(|(i, _)| !many || *i < MOST / 2 || *i >= end);
    let part = |days: Decimal| parts(days, Decimal::from(longest));
    let bar = |held: &Held| HeldBar {
        number: number(held.piece),
        title: held.piece.title.value.clone(),
        days: grouped(Decimal::from(held.days), 0),
        length: part(Decimal::from(held.days)),
        in_stock: held.in_stock,
    };
    Some(DaysHeld {
        heading: "How many days pieces were held".to_owned(),
        finding: finding(&known, middle),
        bars: drawn.map(|(_, held)| bar(held)).collect(),
        sold: "sold".to_owned(),
        in_stock: "in stock".to_owned(),
        middle: middle.map(|of| part(of.median)),
        middle_label: middle
            .map_or(String::new(), |of| format!("half sold within {}", in_days(of.median))),
        note: if many {
            format!("The twelve held longest and the twelve held shortest of {}.", known.len())
        } else {
            String::new()
        },
    })
}

/// From the purchase to the sale; one that came back is in stock again or sold again later.
fn of_sale<'a>(one: &Sold<'a>) -> Option<Held<'a>> {
    let bought = one.sale.bought.filter(|_| !one.sale.came_back)?;
    let days = days_between(bought, one.sale.sold)?;
    Some(Held { piece: one.piece, days, in_stock: false })
}

/// From the purchase to the end of the year.
fn of_stock<'a>(books: &Books<'a>) -> impl Iterator<Item = Held<'a>> {
    let (shop, last) = (books.shop, books.last_day());
    books.year.unsold.iter().filter_map(move |one| {
        let days = days_between(one.bought?, last)?;
        Some(Held { piece: &shop.pieces[one.piece], days, in_stock: true })
    })
}

/// Nothing where the later day is written as the earlier one.
fn days_between(from: NaiveDate, to: NaiveDate) -> Option<i64> {
    Some((to - from).num_days()).filter(|days| *days >= 0)
}

fn days(known: &[Held], in_stock: bool) -> Vec<Decimal> {
    let of_kind = known.iter().filter(|held| held.in_stock == in_stock);
    of_kind.map(|held| Decimal::from(held.days)).collect()
}

/// Whole days, half a day up.
fn in_days(days: Decimal) -> String {
    format!("{} days", grouped(days, 0))
}

fn finding(known: &[Held], middle: Option<Spread>) -> String {
    let mut said = Vec::new();
    if let Some(of) = middle {
        let sales = counted(of.pieces, "sale", "sales");
        said.push(format!("Half of {sales} came within {} of the purchase.", in_days(of.median)));
    }
    if let Some(longest) = days(known, true).into_iter().max() {
        let days = in_days(longest);
        said.push(format!("Of the pieces in stock one has been held for {days}, none longer."));
    }
    said.join(" ")
}
