//! The dated costs of each piece: what both views add up. Both views use it.

use super::stock::StockRun;
use crate::model::{
    CostKind, Finding, Lot, Money, Piece, Place, Salvaged, SalvagedTo, Shop, TripPurpose, split,
};
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
    /// A part taken from another piece; below zero for the piece it was taken from.
    Salvaged,
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
    /// Parking and tolls.
    pub parking: Money,
    pub place: Place,
}

/// Everything a piece cost, in order of time. Trips are apart: the books view counts them as car
/// expense, never as cost of goods.
#[derive(Clone, Debug, Default)]
pub struct PieceCosts {
    pub entries: Vec<CostEntry>,
    pub trips: Vec<TripShare>,
    /// Parts taken from it and sold by themselves.
    pub parts_sold: Vec<PartSold>,
}

/// A part that was sold by itself. Its cost has left the piece it was taken from.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct PartSold {
    pub on: NaiveDate,
    pub what: String,
    pub price: Money,
    pub cost: Money,
    pub place: Place,
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
    add_salvaged(shop, &mut costs);
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
                let (purpose, miles, parking) = (trip.purpose, trip.miles, trip.parking);
                costs[i].trips.push(TripShare { on, purpose, miles, parking, place });
            }
        }
    }
}

/// What parts took with them from the pieces they came from, and to those they went into.
fn add_salvaged(shop: &Shop, costs: &mut [PieceCosts]) {
    let positions = positions(shop);
    for (from, piece) in shop.pieces.iter().enumerate() {
        for part in &piece.salvaged {
            costs[from].entries.push(salvaged(
                part,
                format!("{}, taken out", part.what),
                -part.cost.value,
            ));
            match &part.to {
                SalvagedTo::Piece(name) => {
                    if let Some(&to) = positions.get(name.value.as_str()) {
                        let what = format!("{}, from {}", part.what, piece.name());
                        costs[to].entries.push(salvaged(part, what, part.cost.value));
                    }
                }
                SalvagedTo::Sold(price) => costs[from].parts_sold.push(PartSold {
                    on: part.on.value,
                    what: part.what.clone(),
                    price: price.value,
                    cost: part.cost.value,
                    place: part.place,
                }),
            }
        }
    }
}

fn salvaged(part: &Salvaged, what: String, amount: Money) -> CostEntry {
    let kind = CostEntryKind::Salvaged;
    CostEntry { on: part.on.value, what, kind, amount, place: part.place }
}

/// Parts that, up to a day, take more cost with them than the piece had come to.
pub fn over_salvaged(piece: &Piece, costs: &PieceCosts, last_day: NaiveDate) -> Vec<Finding> {
    let known = piece.salvaged.iter().filter(|part| part.on.value <= last_day);
    let over = known.filter_map(|part| {
        let past = costs.entries.iter().filter(|entry| entry.on <= part.on.value);
        let left: Money = past.map(|entry| entry.amount).sum();
        (left < Money::ZERO).then_some((part, left + part.cost.value))
    });
    over.map(|(part, had)| {
        let message = format!(
            "a part takes {} with it, and the piece had cost {had} by that day",
            part.cost.value
        );
        let finding = Finding::error("salvaged-over-cost", part.cost.place, message);
        finding.label("more than there is").hint("write the part's share of what the piece cost")
    })
    .collect()
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
    PieceCosts { entries, ..PieceCosts::default() }
}

fn entry_kind(kind: CostKind) -> CostEntryKind {
    match kind {
        CostKind::Material => CostEntryKind::Material,
        CostKind::Hardware => CostEntryKind::Hardware,
        CostKind::PaidWork => CostEntryKind::PaidWork,
        CostKind::FreightIn => CostEntryKind::FreightIn,
    }
}
