//! Cost of goods sold by both ways, side by side.

use super::books::Books;
use super::goods::PieceGoods;
use super::ledger::Ledger;
use super::names::Total;
use super::stock_end::{piece_at, withdrawn};
use crate::model::{Money, WithdrawalKind};
use std::collections::HashMap;

/// The two sides of the proof; each is a figure, `cost-from-pieces` and `cost-from-stock`.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Proof {
    /// Cost of the pieces sold, less what came back, plus what was written off and late costs.
    pub from_pieces: Money,
    /// Opening stock + purchases − withdrawn + paid labour + materials + other costs − closing.
    pub from_stock: Money,
    /// They agree to the last digit.
    pub holds: bool,
    /// Where they differ: the piece (its name) or matter to look at first.
    pub look_at: Option<String>,
}

/// Enters `cost-from-pieces` and compares it with `cost-from-stock`.
pub(super) fn prove(books: &Books, goods: &[PieceGoods], ledger: &Ledger) -> Proof {
    let from_pieces = ledger.total(Total::CostFromPieces);
    let from_stock = ledger.total(Total::CostFromStock);
    let holds = from_pieces == from_stock;
    let look_at = (!holds).then(|| look_at(books, goods));
    Proof { from_pieces, from_stock, holds, look_at }
}

/// The piece whose own two sides differ most; else what belongs to no single piece.
fn look_at(books: &Books, goods: &[PieceGoods]) -> String {
    let total = |parts: Vec<super::Contribution>| -> Money { parts.iter().map(|p| p.amount).sum() };
    let mut gone: HashMap<crate::model::Place, Money> = HashMap::new();
    for how in [WithdrawalKind::Kept, WithdrawalKind::Given] {
        for part in withdrawn(books, how) {
            *gone.entry(part.place).or_default() += part.amount;
        }
    }
    let gap = |piece: usize| -> Money {
        let came: Vec<_> = books.entries(piece);
        let came = came.iter().filter(|entry| books.in_year(entry.on));
        let came: Money = came.map(|entry| entry.amount).sum();
        let mut places: Vec<_> = books.entries(piece).iter().map(|entry| entry.place).collect();
        places.sort_unstable();
        places.dedup();
        let gone: Money = places.iter().filter_map(|place| gone.get(place)).sum();
        let opening = total(piece_at(books, piece, books.day_before()));
        let closing = total(piece_at(books, piece, books.last_day));
        let sold: Money = goods[piece].parts.iter().map(|part| part.amount).sum();
        opening + came - gone - closing - sold
    };
    let widest = (0..goods.len()).max_by_key(|&piece| gap(piece).abs());
    match widest.filter(|&piece| !gap(piece).is_zero()) {
        Some(piece) => books.keys[piece].clone(),
        None => "the lots and the shop stock".to_owned(),
    }
}
