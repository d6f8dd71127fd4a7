//! The dated costs of each piece: what both views add up. Both views use it.

use super::stock::StockRun;
use crate::model::{CostKind, Lot, Money, Piece, Place, Shop, TripPurpose, split};
use chrono::NaiveDate;
use rust_decimal::Decimal;
use std::collections::HashMap;

/// What a cost entry is.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum CostEntryKind {
    /// The price paid with premium and tax, or a share of a lot.
    Purchase,
    Material,
    Hardware,
    PaidWork,
    /// Carriage that was paid for.
    FreightIn,
    /// Drawn from shop stock.
    Drawn,
}

/// One dated cost of one piece, with the entry it comes from.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct CostEntry {
    pub on: NaiveDate,
    pub what: String,
    pub kind: CostEntryKind,
    pub amount: Money,
    pub place: Place,
}

/// A piece's share of a trip: miles, for the rate of that day to be put on.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct TripShare {
    pub on: NaiveDate,
    pub purpose: TripPurpose,
    pub miles: Decimal,
    pub place: Place,
}

/// Everything a piece cost, in order of time. Trips are apart: the books view counts them as car
/// expense, never as cost of goods.
#[derive(Clone, Debug, Default)]
pub struct PieceCosts {
    pub entries: Vec<CostEntry>,
    pub trips: Vec<TripShare>,
}

/// The costs of every piece, in the order of [`Shop::pieces`].
pub fn piece_costs(shop: &Shop, run: &StockRun) -> Vec<PieceCosts> {
    let mut draws = run.draws_by_piece(shop.pieces.len());
    let mut costs: Vec<PieceCosts> = shop
        .pieces
        .iter()
        .enumerate()
        .map(|(i, piece)| own_costs(piece, &std::mem::take(&mut draws[i])))
        .collect();
    add_lots_and_trips(shop, &mut costs);
    for cost in &mut costs {
        cost.entries.sort_by(|a, b| {
            (a.on, a.kind, &a.what, a.amount).cmp(&(b.on, b.kind, &b.what, b.amount))
        });
        cost.trips.sort_by_key(|trip| (trip.on, trip.miles));
    }
    costs
}

/// What the years' books say of single pieces.
fn add_lots_and_trips(shop: &Shop, costs: &mut [PieceCosts]) {
    let positions = positions(shop);
    let position = |name: &str| positions.get(name).copied();
    for book in shop.years.values() {
        for lot in &book.lot {
            let shares = lot_shares(lot, shop.currency.decimals);
            for ((name, _), share) in lot.pieces.iter().zip(shares) {
                if let Some(i) = position(name) {
                    costs[i].entries.push(lot_entry(lot, share, name.place));
                }
            }
        }
        for trip in &book.trip {
            if let Some(i) = trip.piece.as_ref().and_then(|name| position(name)) {
                let (on, place) = (trip.on.value, trip.place);
                let (purpose, miles) = (trip.purpose, trip.miles);
                costs[i].trips.push(TripShare { on, purpose, miles, place });
            }
        }
    }
}

/// Where each piece stands in [`Shop::pieces`], by its name and by its folder.
pub fn positions(shop: &Shop) -> HashMap<&str, usize> {
    let folders = shop.pieces.iter().enumerate().map(|(i, piece)| (piece.folder.as_str(), i));
    let names = shop.pieces.iter().enumerate().map(|(i, piece)| (piece.name(), i));
    folders.chain(names).collect()
}

/// What each piece of a lot cost, in the order of the lot, adding up to the cent.
pub fn lot_shares(lot: &Lot, decimals: u32) -> Vec<Money> {
    let weights: Vec<Decimal> = lot.pieces.iter().map(|(_, share)| *share).collect();
    split(lot.price.value + lot.premium + lot.tax, &weights, decimals)
}

fn lot_entry(lot: &Lot, amount: Money, place: Place) -> CostEntry {
    let what = format!("share of {}", lot.what);
    CostEntry { on: lot.on.value, what, kind: CostEntryKind::Purchase, amount, place }
}

fn own_costs(piece: &Piece, draws: &[(usize, Money)]) -> PieceCosts {
    let mut entries = Vec::new();
    if let Some(bought) = &piece.bought {
        entries.push(CostEntry {
            on: bought.on.value,
            what: bought.from.clone().unwrap_or_else(|| "bought".to_owned()),
            kind: CostEntryKind::Purchase,
            amount: bought.price.value + bought.premium + bought.tax,
            place: bought.place,
        });
    }
    for cost in &piece.cost {
        entries.push(CostEntry {
            on: cost.on.value,
            what: cost.what.clone(),
            kind: entry_kind(cost.kind),
            amount: cost.amount.value,
            place: cost.place,
        });
    }
    for &(used, amount) in draws {
        let draw = &piece.used[used];
        let what = draw.stock.value.clone();
        let (on, place) = (draw.on.value, draw.place);
        entries.push(CostEntry { on, what, kind: CostEntryKind::Drawn, amount, place });
    }
    PieceCosts { entries, trips: Vec::new() }
}

fn entry_kind(kind: CostKind) -> CostEntryKind {
    match kind {
        CostKind::Material => CostEntryKind::Material,
        CostKind::Hardware => CostEntryKind::Hardware,
        CostKind::PaidWork => CostEntryKind::PaidWork,
        CostKind::FreightIn => CostEntryKind::FreightIn,
    }
}
