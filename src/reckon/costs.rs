//! The dated costs of each piece: what both views add up. Both views use it.

use super::stock::StockRun;
use crate::model::{
    At, Code, CostKind, Finding, Lot, Money, Piece, Place, Refund, RefundOf, SalvagedTo, Shop,
    TripPurpose, split,
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
    /// Whole cents.
    pub amount: Money,
    pub place: Place,
    /// The day the shop first bore it: that of the entry, but where a part was taken from a piece or
    /// a supplier paid back, the day of what it is taken off.
    pub since: NaiveDate,
}

/// A trip of a piece: a distance, for the rate of that day to be put on.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct TripShare {
    pub on: NaiveDate,
    pub purpose: TripPurpose,
    /// Of the whole trip.
    pub distance: Decimal,
    /// Which of how many equal parts of it is the piece's, counted from 0.
    pub part: (usize, usize),
    /// Parking and tolls: the piece's part.
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
    add_refunds(shop, &mut costs);
    add_salvaged(shop, &mut costs);
    for cost in &mut costs {
        cost.entries.sort_by(|a, b| {
            (a.on, a.kind, &a.what, a.amount).cmp(&(b.on, b.kind, &b.what, b.amount))
        });
        cost.trips.sort_by_key(|trip| (trip.on, trip.distance));
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
            let equal = vec![Decimal::ONE; trip.pieces.len()];
            let parking = split(trip.parking, &equal, shop.currency.decimals);
            for (nth, (name, parking)) in trip.pieces.iter().zip(parking).enumerate() {
                if let Some(i) = position(name) {
                    let (on, place) = (trip.on.value, trip.place);
                    let (purpose, distance) = (trip.purpose, trip.distance);
                    let part = (nth, trip.pieces.len());
                    costs[i].trips.push(TripShare { on, purpose, distance, part, parking, place });
                }
            }
        }
    }
}

/// The refunds of what pieces had cost, with the position of each piece.
pub fn refunds_of_pieces(shop: &Shop) -> Vec<(usize, Option<CostKind>, &Refund)> {
    let positions = positions(shop);
    let refunds = shop.years.values().flat_map(|book| &book.refund);
    let of_piece = refunds.filter_map(|refund| match &refund.of {
        RefundOf::Piece(name, kind) => Some((*positions.get(name.value.as_str())?, *kind, refund)),
        _ => None,
    });
    of_piece.collect()
}

/// What suppliers paid back lowers a piece's cost from the day it was paid back.
fn add_refunds(shop: &Shop, costs: &mut [PieceCosts]) {
    for (piece, kind, refund) in refunds_of_pieces(shop) {
        let kind = kind.map_or(CostEntryKind::Purchase, entry_kind);
        let of_kind = costs[piece].entries.iter().filter(|entry| entry.kind == kind);
        let first = of_kind.map(|entry| entry.since).min();
        let on = refund.on.value;
        costs[piece].entries.push(CostEntry {
            on,
            what: refund.words(),
            kind,
            amount: -refund.amount.value,
            place: refund.place,
            since: first.unwrap_or(on).min(on),
        });
    }
}

/// What parts took with them from the pieces they came from, and to those they went into.
fn add_salvaged(shop: &Shop, costs: &mut [PieceCosts]) {
    let positions = positions(shop);
    let first = |costs: &PieceCosts| costs.entries.iter().map(|entry| entry.since).min();
    let since: Vec<Option<NaiveDate>> = costs.iter().map(first).collect();
    for (from, piece) in shop.pieces.iter().enumerate() {
        for part in &piece.salvaged {
            let entry = |what: String, amount| CostEntry {
                on: part.on.value,
                what,
                kind: CostEntryKind::Salvaged,
                amount,
                place: part.place,
                since: since[from].unwrap_or(part.on.value).min(part.on.value),
            };
            let taken_out = format!("{}, taken out", part.what);
            costs[from].entries.push(entry(taken_out, -part.cost.value));
            match &part.to {
                SalvagedTo::Piece(name) => {
                    if let Some(&to) = positions.get(name.value.as_str()) {
                        let what = format!("{}, from {}", part.what, piece.title.value);
                        costs[to].entries.push(entry(what, part.cost.value));
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

/// Parts and refunds that, up to a day, take more off a piece than it had come to cost.
pub fn over_cost(
    piece: &Piece,
    refunds: &[&Refund],
    costs: &PieceCosts,
    last_day: NaiveDate,
) -> Vec<Finding> {
    let parts = piece.salvaged.iter().map(|part| {
        let hint = "write the part's share of what the piece cost";
        (&part.on, &part.cost, Code::SalvagedOverCost, "a part takes", "with it", hint)
    });
    let refunds = refunds.iter().map(|refund| {
        let hint = "correct the amount, or name the piece the refund is of";
        (&refund.on, &refund.amount, Code::RefundOverCost, "a supplier paid", "back", hint)
    });
    let known = parts.chain(refunds).filter(|(on, ..)| on.value <= last_day);
    let over = known.filter_map(|(on, amount, code, took, how, hint)| {
        let past = costs.entries.iter().filter(|entry| entry.on <= on.value);
        let left: Money = past.map(|entry| entry.amount).sum();
        let had = left + amount.value;
        let message =
            format!("{took} {} {how}, and the piece had cost {had} by that day", amount.value);
        (left < Money::ZERO).then(|| {
            Finding::error(code, amount.place, message).label("more than there is").hint(hint)
        })
    });
    over.collect()
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
    split(lot.paid(), &weights, decimals)
}

fn lot_entry(lot: &Lot, amount: Money, place: Place) -> CostEntry {
    let what = format!("share of {}", lot.what);
    entry(&lot.on, what, CostEntryKind::Purchase, amount, place)
}

fn own_costs(piece: &Piece, draws: &[(usize, Money)]) -> PieceCosts {
    let mut entries = Vec::new();
    if let Some(bought) = &piece.bought {
        let what = bought.from.clone().unwrap_or_else(|| "bought".to_owned());
        let kind = CostEntryKind::Purchase;
        entries.push(entry(&bought.on, what, kind, bought.paid(), bought.place));
    }
    for cost in &piece.cost {
        let kind = entry_kind(cost.kind);
        entries.push(entry(&cost.on, cost.what.clone(), kind, cost.amount.value, cost.place));
    }
    for &(used, amount) in draws {
        let draw = &piece.used[used];
        let (what, kind) = (draw.stock.value.clone(), CostEntryKind::Drawn);
        entries.push(entry(&draw.on, what, kind, amount, draw.place));
    }
    PieceCosts { entries, ..PieceCosts::default() }
}

fn entry(
    on: &At<NaiveDate>,
    what: String,
    kind: CostEntryKind,
    amount: Money,
    place: Place,
) -> CostEntry {
    CostEntry { on: on.value, what, kind, amount, place, since: on.value }
}

fn entry_kind(kind: CostKind) -> CostEntryKind {
    match kind {
        CostKind::Material => CostEntryKind::Material,
        CostKind::Hardware => CostEntryKind::Hardware,
        CostKind::PaidWork => CostEntryKind::PaidWork,
        CostKind::FreightIn => CostEntryKind::FreightIn,
    }
}
