//! The stock sheet: everything for sale.

use super::common::{drawing, sheet, stock_number};
use super::offered::is_for_sale;
use super::{Subject, draft, layouts};
use crate::describe::kind_of;
use crate::describe::wording::{capital, date, money, number};
use crate::model::{LengthUnit, Money, Shop};
use crate::typeset::press::Draft;
use crate::typeset::view::{StockColumns, StockGroup, StockRow, StockTotal, StockView};
use chrono::{Datelike, NaiveDate};

/// Below this many pieces heads by kind would only be in the way.
const FEW: usize = 9;

/// The draft of the stock sheet of the pieces given: those that are listed.
///
/// They are grouped by kind once there are enough of them for groups to help.
pub fn stock_sheet(subjects: &[Subject]) -> Option<Draft> {
    let shop = subjects.first()?.shop;
    let listed: Vec<&Subject> = subjects.iter().filter(|s| is_for_sale(s)).collect();
    let newest = listed.iter().filter_map(|s| listed_on(s)).max();
    let count = u32::try_from(listed.len()).unwrap_or(u32::MAX);
    let pieces = if count == 1 { "piece" } else { "pieces" };
    let view = StockView {
        sheet: sheet(shop, format!("Pieces for sale, {}", shop.name)),
        heading: "Pieces for sale".to_owned(),
        matter: "Stock sheet".to_owned(),
        opening: (count > 0).then(|| format!("{} {pieces}.", capital(&number(count)))),
        dated: newest.map(date),
        columns: columns(shop),
        total: total(&listed),
        groups: if listed.len() < FEW {
            one_group(&listed, newest)
        } else {
            groups(&listed, newest)
        },
        note: "Drawings at {scale}, so that sizes can be compared by eye.".to_owned(),
        nothing: "No pieces for sale.".to_owned(),
    };
    Some(draft(layouts::STOCK_SHEET, &view, Vec::new(), format!("{} / stock sheet", shop.name)))
}

/// The day a piece was listed.
pub fn listed_on(subject: &Subject) -> Option<NaiveDate> {
    subject.piece.listing.as_ref()?.on.map(|on| on.value)
}

fn columns(shop: &Shop) -> StockColumns {
    let text = |words: &str| words.to_owned();
    StockColumns {
        drawing: text("At {scale}"),
        number: text("No."),
        piece: text("Piece"),
        stands: text("Stands"),
        since: text("Since"),
        price: format!("Price, {}", shop.currency.symbol.trim()),
        tick: text("Seen"),
    }
}

/// What is asked for all of them together; a piece on request is not in it, and the label says so.
fn total(listed: &[&Subject]) -> Option<StockTotal> {
    let asked = |s: &&&Subject| s.piece.listing.as_ref()?.price.map(|price| price.value);
    let prices: Vec<Money> = listed.iter().filter_map(|s| asked(&s)).collect();
    let first = listed.first().filter(|_| prices.len() > 1)?;
    let count = number(u32::try_from(prices.len()).unwrap_or(u32::MAX));
    let label = match prices.len() == listed.len() {
        true => format!("All {count}"),
        false => format!("The {count} with a price"),
    };
    let sum = prices.iter().fold(Money::ZERO, |sum, price| sum + *price);
    Some(StockTotal { label, amount: bare_money(first, sum) })
}

fn one_group(listed: &[&Subject], newest: Option<NaiveDate>) -> Vec<StockGroup> {
    let rows: Vec<StockRow> = listed.iter().map(|subject| row(subject, newest)).collect();
    if rows.is_empty() { Vec::new() } else { vec![StockGroup { name: None, rows }] }
}

fn groups(listed: &[&Subject], newest: Option<NaiveDate>) -> Vec<StockGroup> {
    let mut groups: Vec<(String, Vec<StockRow>)> = Vec::new();
    for subject in listed {
        let name = group_name(subject);
        let row = row(subject, newest);
        match groups.iter_mut().find(|(group, _)| *group == name) {
            Some((_, rows)) => rows.push(row),
            None => groups.push((name, vec![row])),
        }
    }
    groups.sort_by(|a, b| a.0.cmp(&b.0));
    groups.into_iter().map(|(name, rows)| StockGroup { name: Some(name), rows }).collect()
}

/// "Chests of drawers"; pieces of no known kind stand under "Other pieces".
pub fn group_name(subject: &Subject) -> String {
    let known = kind_of(subject.piece);
    known.map_or("Other pieces".to_owned(), |kind| capital(&kind.plural))
}

fn row(subject: &Subject, newest: Option<NaiveDate>) -> StockRow {
    let piece = subject.piece;
    let listing = piece.listing.as_ref();
    let asked = listing.and_then(|listing| listing.price);
    StockRow {
        number: stock_number(piece),
        title: piece.title.value.clone(),
        size: size(subject),
        stands: listing.and_then(|listing| listing.stands.clone()).unwrap_or_else(dash),
        since: listed_on(subject).map_or_else(dash, |on| short_date(on, newest)),
        price: asked.map_or("on request".to_owned(), |at| bare_money(subject, at.value)),
        count: piece.count,
        drawing: drawing(subject),
    }
}

/// Stands for what is not written.
fn dash() -> String {
    "–".to_owned()
}

fn bare_money(subject: &Subject, amount: crate::model::Money) -> String {
    let currency = &subject.shop.currency;
    money(amount, currency).replacen(&currency.symbol, "", 1)
}

fn size(subject: &Subject) -> Option<String> {
    let size = subject.words.size.as_ref()?;
    let text = match subject.shop.units {
        LengthUnit::Inch => &size.inches,
        LengthUnit::Centimetre => &size.centimetres,
    };
    let each = if subject.piece.count > 1 { " each" } else { "" };
    Some(format!("{text}{each}"))
}

/// "14 Mar", with "’25" where the year is not that of the newest row.
pub fn short_date(on: NaiveDate, among: Option<NaiveDate>) -> String {
    let day = format!("{}\u{a0}{}", on.day(), on.format("%b"));
    match among {
        Some(other) if other.year() == on.year() => day,
        _ => format!("{day}\u{a0}’{:02}", on.year().rem_euclid(100)),
    }
}
