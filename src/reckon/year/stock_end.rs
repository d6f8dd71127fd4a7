//! Cost of goods sold, the second way: what was in stock, what came in, what is left.
//!
//! What came in is read from the entries as they stand in the files; what is in stock is read from
//! where the units are at the end of a day. Nothing here walks through the days.

use super::books::Books;
use super::ledger::Contribution;
use super::shares::shares;
use super::units::Units;
use crate::model::{CostKind, WithdrawalKind};
use crate::reckon::costs::CostEntry;
use crate::reckon::stock::MovementKind;
use chrono::NaiveDate;

/// Stock at the end of a day: the costs up to then of units not yet sold or withdrawn, and shop
/// stock on hand where supplies count when used. The same function gives the opening stock of a
/// year and the closing stock of the year before it.
pub(super) fn stock_at(books: &Books, day: NaiveDate) -> Vec<Contribution> {
    let pieces = (0..books.shop.pieces.len()).flat_map(|piece| piece_at(books, piece, day));
    pieces.chain(shop_stock_at(books, day)).collect()
}

/// What the units of one piece still in stock at the end of a day cost.
pub(super) fn piece_at(books: &Books, piece: usize, day: NaiveDate) -> Vec<Contribution> {
    let units = Units::at(&books.shop.pieces[piece], &books.moves[piece], day);
    borne(books, piece, (units.sold, units.limit), day)
}

fn borne(books: &Books, piece: usize, range: (u32, u32), day: NaiveDate) -> Vec<Contribution> {
    if range.0 == range.1 {
        return Vec::new();
    }
    let mut entries: Vec<&CostEntry> = books.entries(piece);
    entries.retain(|entry| entry.on <= day);
    let count = books.shop.pieces[piece].count.max(1);
    let title = books.title(piece);
    let said = |entry: &CostEntry| format!("{title}: {}", entry.what);
    shares(&entries, range, count, books.decimals())
        .into_iter()
        .zip(entries)
        .map(|(share, entry)| Contribution::new(entry.place, entry.on, said(entry), share))
        .collect()
}

/// Every movement of shop stock up to the end of a day; together, what is on hand at cost.
pub(super) fn shop_stock_at(books: &Books, day: NaiveDate) -> Vec<Contribution> {
    if books.when_used() { shop_stock_kept(books, day) } else { Vec::new() }
}

/// The same, whatever the method says.
pub(super) fn shop_stock_kept(books: &Books, day: NaiveDate) -> Vec<Contribution> {
    let movements = books.run.movements.iter().filter(|movement| movement.on <= day);
    movements
        .map(|movement| {
            let (said, cost) = match movement.kind {
                MovementKind::Bought => ("bought", movement.cost),
                MovementKind::Drawn { .. } => ("drawn", -movement.cost),
                MovementKind::Shrunk => ("missing at the count", -movement.cost),
            };
            let what = format!("{}, {said}", movement.stock);
            Contribution::new(movement.place, movement.on, what, cost)
        })
        .collect()
}

/// What leaves purchases with pieces kept or given away: of pieces kept, all they cost, and what
/// arrives for them later; of pieces given away, what was in the opening stock. Cost of the same
/// year stays in the cost of goods sold.
///
/// Source: IRS Pub. 334 (2023 returns) ch. 6 p. 28, donation of inventory.
pub(super) fn withdrawn(books: &Books, how: WithdrawalKind) -> Vec<Contribution> {
    let mut parts = Vec::new();
    for (piece, file) in books.shop.pieces.iter().enumerate() {
        let gone = |day| {
            let units = Units::at(file, &books.moves[piece], day);
            let range = (units.limit, units.count);
            if units.withdrawn == Some(how) { borne(books, piece, range, day) } else { Vec::new() }
        };
        let already = gone(books.day_before()).len();
        // Costs are in order of time and the withdrawn units stay the same, so what was there a
        // year before is the head of what is there now.
        let leaving = gone(books.last_day).into_iter().skip(already);
        let opening = |part: &Contribution| part.on.is_some_and(|on| on <= books.day_before());
        parts.extend(leaving.filter(|part| how != WithdrawalKind::Given || opening(part)));
    }
    parts
}

/// What was paid for pieces in the year, alone or in lots, with premium and tax.
pub(super) fn purchases(books: &Books) -> Vec<Contribution> {
    let mut parts = Vec::new();
    for (i, piece) in books.shop.pieces.iter().enumerate() {
        if let Some(bought) = piece.bought.as_ref().filter(|b| books.in_year(b.on.value)) {
            let paid = bought.price.value + bought.premium + bought.tax;
            parts.push(Contribution::new(bought.place, bought.on.value, books.title(i), paid));
        }
    }
    for lot in books.shop.years.values().flat_map(|book| &book.lot) {
        if books.in_year(lot.on.value) {
            let paid = lot.price.value + lot.premium + lot.tax;
            parts.push(Contribution::new(lot.place, lot.on.value, lot.what.as_str(), paid));
        }
    }
    parts
}

/// What was paid in the year for pieces alone, of some kinds.
pub(super) fn own_costs(books: &Books, kinds: &[CostKind]) -> Vec<Contribution> {
    let mut parts = Vec::new();
    for (i, piece) in books.shop.pieces.iter().enumerate() {
        for cost in &piece.cost {
            if kinds.contains(&cost.kind) && books.in_year(cost.on.value) {
                let what = format!("{}: {}", books.title(i), cost.what);
                parts.push(Contribution::new(cost.place, cost.on.value, what, cost.amount.value));
            }
        }
    }
    parts
}

/// What was paid in the year for shop stock.
pub(super) fn supplies(books: &Books) -> Vec<Contribution> {
    let bought = books.shop.years.values().flat_map(|book| &book.supply);
    bought
        .filter(|supply| books.in_year(supply.on.value))
        .map(|supply| {
            let what = supply.stock.value.as_str();
            Contribution::new(supply.place, supply.on.value, what, supply.amount.value)
        })
        .collect()
}
