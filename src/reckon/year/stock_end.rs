//! Cost of goods sold, the second way: what was in stock, what came in, what is left.
//!
//! What came in is read from the entries as they stand in the files; what is in stock is read from
//! where the units are at the end of a day. Nothing here walks through the days.

use super::books::Books;
use super::goods::shrunk_how;
use super::ledger::Contribution;
use super::shares::{left_opening_stock, shares};
use super::units::Units;
use crate::model::{CostKind, Money, RefundOf, What, WithdrawalKind};
use crate::reckon::costs::{CostEntry, CostEntryKind};
use crate::reckon::stock::{Movement, MovementKind};
use chrono::NaiveDate;

/// Stock when the period begins: that at the end of the day before, and shop stock that is on hand
/// when the books begin. It equals the closing stock of the period before but for the latter.
pub(super) fn opening_stock(books: &Books) -> Vec<Contribution> {
    let mut parts = stock_at(books, books.day_before());
    let begun = |m: &&Movement| m.kind == MovementKind::OnHand && m.on == books.period.first;
    if books.when_used() {
        parts.extend(books.run.movements.iter().filter(begun).map(moved));
    }
    parts
}

/// Stock at the end of a day: the costs up to then of units not yet sold or withdrawn, and shop
/// stock on hand where supplies count when used.
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
    let (entries, shares) = shared(books, books.entries(piece), piece, range, day);
    let title = books.title(piece);
    let said = |entry: &CostEntry| format!("{title}: {}", entry.what);
    let parts = entries.into_iter().zip(shares);
    parts
        .map(|(entry, share)| Contribution::new(entry.place, entry.on, said(entry), share))
        .collect()
}

/// What a range of units bears of entries up to the end of a day.
fn shared<'a>(
    books: &Books,
    mut entries: Vec<&'a CostEntry>,
    piece: usize,
    range: (u32, u32),
    day: NaiveDate,
) -> (Vec<&'a CostEntry>, Vec<Money>) {
    if range.0 == range.1 {
        return (Vec::new(), Vec::new());
    }
    entries.retain(|entry| entry.on <= day);
    let count = books.shop.pieces[piece].count.max(1);
    let shares = shares(&entries, range, count, books.decimals());
    (entries, shares)
}

/// What the method of counting shop stock makes of the stock at the end of a day: what is on hand,
/// and what pieces in stock have drawn.
pub(super) fn supplies_in_stock(books: &Books, day: NaiveDate) -> Vec<Contribution> {
    let mut parts = shop_stock_kept(books, day);
    for (piece, file) in books.shop.pieces.iter().enumerate() {
        let units = Units::at(file, &books.moves[piece], day);
        let range = (units.sold, units.limit);
        let (with, shares) = shared(books, books.entries_kept(piece, true), piece, range, day);
        let (_, without) = shared(books, books.entries_kept(piece, false), piece, range, day);
        let mut left = shares.iter().sum::<Money>() - without.iter().sum::<Money>();
        let mut drawn = with.iter().zip(&shares);
        while let Some((entry, share)) = drawn.rfind(|(e, _)| e.kind == CostEntryKind::Drawn) {
            // A set's cents may fall otherwise without the draws: the first of them takes the rest.
            let first = !drawn.clone().any(|(e, _)| e.kind == CostEntryKind::Drawn);
            let amount = if first { left } else { *share };
            left -= amount;
            let what = format!("{}: {}, drawn", books.title(piece), entry.what);
            parts.push(Contribution::new(entry.place, entry.on, what, amount));
        }
    }
    parts
}

/// Every movement of shop stock up to the end of a day; together, what is on hand at cost.
pub(super) fn shop_stock_at(books: &Books, day: NaiveDate) -> Vec<Contribution> {
    if books.when_used() { shop_stock_kept(books, day) } else { Vec::new() }
}

/// The same, whatever the method says.
pub(super) fn shop_stock_kept(books: &Books, day: NaiveDate) -> Vec<Contribution> {
    books.run.movements.iter().filter(|movement| movement.on <= day).map(moved).collect()
}

fn moved(movement: &Movement) -> Contribution {
    let said = match movement.kind {
        MovementKind::OnHand => "on hand when the books begin",
        MovementKind::Bought => "bought",
        MovementKind::Refunded => "paid back",
        MovementKind::Drawn { .. } => "drawn",
        MovementKind::Shrunk => shrunk_how(movement),
    };
    let what = format!("{}, {said}", movement.stock);
    Contribution::new(movement.place, movement.on, what, movement.adds())
}

/// What leaves purchases with pieces kept or given away: of pieces kept, all they cost, and what
/// arrives for them later; of pieces given away, what was in the opening stock. Other cost of theirs
/// stays in the cost of goods sold.
pub(super) fn withdrawn(books: &Books, how: WithdrawalKind) -> Vec<Contribution> {
    let gone = books.shop.pieces.iter().enumerate();
    let gone = gone.filter_map(|(i, file)| Some((i, file.withdrawn.as_ref()?)));
    let of_kind = gone.filter(|(_, gone)| gone.how == how);
    of_kind
        .flat_map(|(piece, gone)| match how {
            WithdrawalKind::Given if books.in_year(gone.on.value) => {
                given(books, piece, gone.on.value)
            }
            WithdrawalKind::Kept => kept(books, piece),
            _ => Vec::new(),
        })
        .collect()
}

/// What a piece given away in the period had in the opening stock of its year.
fn given(books: &Books, piece: usize, on: NaiveDate) -> Vec<Contribution> {
    let units = Units::at(&books.shop.pieces[piece], &books.moves[piece], on);
    let range = (units.limit, units.count);
    let (entries, shares) = shared(books, books.entries(piece), piece, range, on);
    let left = left_opening_stock(&entries, &shares, books.year_begins());
    let parts = borne(books, piece, range, on).into_iter().zip(left);
    parts.filter(|(_, left)| *left).map(|(part, _)| part).collect()
}

/// What a piece kept in the period, or before it, cost in the period.
fn kept(books: &Books, piece: usize) -> Vec<Contribution> {
    let gone = |day| {
        let units = Units::at(&books.shop.pieces[piece], &books.moves[piece], day);
        match units.withdrawn {
            Some(_) => borne(books, piece, (units.limit, units.count), day),
            None => Vec::new(),
        }
    };
    // Costs are in order of time and the withdrawn units stay the same, so what was there before
    // is the head of what is there now.
    let already = gone(books.day_before()).len();
    gone(books.last_day).into_iter().skip(already).collect()
}

/// What was paid for pieces in the period, alone or in lots, with premium and tax, less what was
/// paid back.
pub(super) fn purchases(books: &Books) -> Vec<Contribution> {
    let paid = books.of_period().filter_map(|entry| match entry.what {
        What::Bought(bought) => Some(books.part(&entry, bought.paid())),
        What::Lot(lot) => Some(books.part(&entry, lot.paid())),
        What::Refund(refund) => match refund.of {
            RefundOf::Piece(_, None) => Some(books.part(&entry, -refund.amount.value)),
            _ => None,
        },
        _ => None,
    });
    paid.collect()
}

/// What was paid in the period for pieces alone, of some kinds, less what was paid back.
pub(super) fn own_costs(books: &Books, kinds: &[CostKind]) -> Vec<Contribution> {
    let paid = books.of_period().filter_map(|entry| {
        let (kind, amount) = match entry.what {
            What::Cost(cost) => (cost.kind, cost.amount.value),
            What::Refund(refund) => match refund.of {
                RefundOf::Piece(_, Some(kind)) => (kind, -refund.amount.value),
                _ => return None,
            },
            _ => return None,
        };
        kinds.contains(&kind).then(|| books.part(&entry, amount))
    });
    paid.collect()
}

/// What was paid in the period for shop stock, less what was paid back.
pub(super) fn supplies(books: &Books) -> Vec<Contribution> {
    let paid = books.of_period().filter_map(|entry| match entry.what {
        What::Supply(supply) => Some(books.part(&entry, supply.amount.value)),
        What::Refund(refund) => match refund.of {
            RefundOf::Stock { .. } => Some(books.part(&entry, -refund.amount.value)),
            _ => None,
        },
        _ => None,
    });
    paid.collect()
}
