//! The pieces sold in the year and those still there at its end, at cost.

use super::books::Books;
use super::goods::PieceGoods;
use super::ledger::{Contribution, FigureUnit, Ledger};
use super::names::{FigureName, SoldFigure};
use super::net;
use super::stock_end::piece_at;
use super::units::{MoveKind, UnitMove, Units};
use crate::model::{Closed, Hours, Money, Sale, round};
use crate::reckon::costs::CostEntryKind;
use crate::reckon::fee::sale_fee;
use chrono::NaiveDate;

/// A sale of the year. Its amounts are figures `sold-PIECE-cost` and so on.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct SoldPiece {
    /// Position in the shop's pieces.
    pub piece: usize,
    /// What its figures are named by, after `sold-`.
    pub key: String,
    pub bought: Option<NaiveDate>,
    pub sold: NaiveDate,
    /// Units of the set.
    pub count: u32,
    /// What they had cost up to the day of the sale; trips are car expense and not in it.
    pub cost: Money,
    /// Price and delivery charged.
    pub price: Money,
    /// Price less cost.
    pub margin: Money,
    /// Margin less fee and delivery paid.
    pub left: Money,
    /// What the sale earned as the shop view reckons it, by the year's end: what was paid of it
    /// less all that the units still out have cost, with trips, fees and delivery. Nothing where a
    /// trip has no rate.
    pub net: Option<Money>,
    /// The owner's hours, by the units' share of the set; nothing where none are written.
    pub hours: Option<Hours>,
    /// `net` ÷ hours, to the cent; nothing without hours, or where it came back in the year.
    pub per_hour: Option<Money>,
    /// All of it, or part, came back within the year.
    pub came_back: bool,
}

/// A piece, or what is left of a set, in stock at the end of the year: figure `unsold-PIECE`.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct UnsoldPiece {
    pub piece: usize,
    /// The name of its figure.
    pub figure: FigureName,
    pub bought: Option<NaiveDate>,
    /// Units left.
    pub count: u32,
    pub cost: Money,
}

/// The sales of the year, by day, and their figures.
pub(super) fn sold(books: &Books, goods: &[PieceGoods], ledger: &mut Ledger) -> Vec<SoldPiece> {
    let mut rows = Vec::new();
    for (piece, goods) in goods.iter().enumerate() {
        for (nth, (sale, step, range)) in goods.by_sale.iter().enumerate() {
            let cost = goods.parts[range.clone()].to_vec();
            let suffix = if nth == 0 { String::new() } else { format!("-{}", nth + 1) };
            let key = format!("{}{suffix}", books.keys[piece]);
            rows.push(row(books, piece, *sale, step, key, cost, ledger));
        }
    }
    rows.sort_by(|a, b| (a.sold, &a.key).cmp(&(b.sold, &b.key)));
    rows
}

fn row(
    books: &Books,
    piece: usize,
    sale: usize,
    step: &UnitMove,
    key: String,
    cost: Vec<Contribution>,
    ledger: &mut Ledger,
) -> SoldPiece {
    let file = &books.shop.pieces[piece];
    let sale_file = &file.sale[sale];
    let price = price_parts(sale_file);
    let spent = selling_parts(books, sale_file);
    let mut margin = price.clone();
    margin.extend(cost.iter().map(|part| part.times(-Money::ONE)));
    let mut left = margin.clone();
    left.extend(spent);
    let name = |what: SoldFigure| FigureName::Sold(key.clone(), what);
    let mut put = |what: SoldFigure, parts| {
        ledger.put(name(what), &format!("{key}, sold {}: {}", step.on, what.word()), parts)
    };
    let (cost, price) = (put(SoldFigure::Cost, cost), put(SoldFigure::Price, price));
    let (margin, left) = (put(SoldFigure::Margin, margin), put(SoldFigure::Left, left));
    let net = net::parts(books, piece, sale).map(|parts| put(SoldFigure::Net, parts));
    let hours = enter_hours(books, piece, step, &key, ledger);
    let came_back = came_back(books, piece, sale);
    let by_hour = net.filter(|_| !came_back).and_then(|net| hours?.each_of(net));
    let by_hour = by_hour.map(|each| round(each, books.decimals()));
    if let Some(amount) = by_hour {
        let what = format!("`{}` ÷ `{}`", name(SoldFigure::Net), name(SoldFigure::Hours));
        let label = format!("{key}, sold {}: per hour", step.on);
        let parts = vec![Contribution::reckoned(what, amount)];
        ledger.put(name(SoldFigure::PerHour), &label, parts);
    }
    SoldPiece {
        piece,
        bought: bought_on(books, piece),
        sold: step.on,
        count: step.units(),
        key,
        cost,
        price,
        margin,
        left,
        net,
        hours,
        per_hour: by_hour,
        came_back,
    }
}

fn price_parts(sale: &Sale) -> Vec<Contribution> {
    let part = |what, amount| Contribution::new(sale.place, sale.on.value, what, amount);
    vec![part("price", sale.price.value), part("delivery charged", sale.delivery_charged)]
}

fn selling_parts(books: &Books, sale: &Sale) -> Vec<Contribution> {
    let part = |what, amount: Money| Contribution::new(sale.place, sale.on.value, what, -amount);
    let fee = sale_fee(books.shop, sale).unwrap_or_default();
    vec![part("fee", fee), part("delivery", sale.delivery_cost)]
}

fn enter_hours(
    books: &Books,
    piece: usize,
    step: &UnitMove,
    key: &str,
    ledger: &mut Ledger,
) -> Option<Hours> {
    let file = &books.shop.pieces[piece];
    let all = file.hours()?;
    let of_sale = |hours: Hours| hours.share(step.units(), file.count.max(1));
    let part = |work: &crate::model::Work| Contribution {
        place: work.place,
        on: work.on.as_ref().map(|on| on.value),
        what: work.task.as_str().into(),
        amount: of_sale(work.hours).decimal(10).normalize(),
    };
    let parts = file.work.iter().map(part).collect();
    let name = FigureName::Sold(key.to_owned(), SoldFigure::Hours);
    let label = format!("{key}, sold {}: hours", step.on);
    ledger.put_in(FigureUnit::Hours, name, &label, parts);
    Some(of_sale(all))
}

fn came_back(books: &Books, piece: usize, of: usize) -> bool {
    books.moves[piece].iter().any(|step| {
        matches!(step.kind, MoveKind::Returned { sale, .. } if sale == of) && books.in_year(step.on)
    })
}

/// The day of the first purchase entry.
fn bought_on(books: &Books, piece: usize) -> Option<NaiveDate> {
    let entries = &books.costs[piece].entries;
    entries.iter().find(|entry| entry.kind == CostEntryKind::Purchase).map(|entry| entry.on)
}

/// What is in stock at the end of the year: pieces that are in the shop by then, the oldest first.
pub(super) fn unsold(books: &Books, ledger: &mut Ledger) -> Vec<UnsoldPiece> {
    let mut rows = Vec::new();
    for (piece, file) in books.shop.pieces.iter().enumerate() {
        let count = Units::at(file, &books.moves[piece], books.last_day).left();
        let entries = &books.costs[piece].entries;
        let here = entries.first().is_some_and(|entry| entry.on <= books.last_day);
        if count == 0 || !here {
            continue;
        }
        let figure = FigureName::Unsold(books.keys[piece].clone());
        let label = format!("{}, in stock at the end of the year", books.title(piece));
        let cost = ledger.put(figure.clone(), &label, piece_at(books, piece, books.last_day));
        rows.push(UnsoldPiece { piece, figure, bought: bought_on(books, piece), count, cost });
    }
    rows.sort_by_key(|row| (row.bought, row.figure.to_string()));
    rows
}
