//! Random shops with every feature the books view knows, each entry at a place of its own.

use super::expense;
use crate::shops::random::{after_start, random_shop};
use crate::shops::{book, cost, lot, trip};
use chrono::Datelike;
use dovetally::model::{CostKind, FileId, Place, Shop, TripPurpose};
use proptest::prelude::*;
use rust_decimal::Decimal;

type Lots = Vec<(u64, i64, Vec<u32>)>;
type Later = Vec<(usize, u64, usize, i64)>;
type Trips = Vec<(u64, u32, usize)>;
type Expenses = Vec<(u64, usize, i64)>;

const CATEGORIES: [&str; 5] = ["advertising", "meals", "equipment", "insurance", "postage"];
const KINDS: [CostKind; 4] =
    [CostKind::Material, CostKind::Hardware, CostKind::PaidWork, CostKind::FreightIn];
const PURPOSES: [TripPurpose; 3] = [TripPurpose::Fetch, TripPurpose::Deliver, TripPurpose::Other];

/// Three years of a shop: bought alone and in lots, with late costs, trips, expenses and tax.
pub fn rich_shop() -> impl Strategy<Value = Shop> {
    let lots =
        prop::collection::vec((0u64..900, 0i64..90_000, prop::collection::vec(0u32..5, 10)), 0..3);
    let later = prop::collection::vec((0usize..10, 0u64..1_090, 0usize..4, 0i64..9_000), 0..8);
    let trips = prop::collection::vec((0u64..1_090, 0u32..900, 0usize..3), 0..6);
    let expenses = prop::collection::vec((0u64..1_090, 0usize..5, 0i64..400_000), 0..8);
    (random_shop(10), lots, later, trips, expenses, 0i64..900).prop_map(
        |(mut made, lots, later, trips, expenses, tax)| {
            add_lots(&mut made, &lots);
            add_costs(&mut made, &later);
            add_trips(&mut made, &trips);
            add_expenses(&mut made, &expenses);
            for sale in made.pieces.iter_mut().flat_map(|piece| &mut piece.sale) {
                sale.tax_collected = Decimal::new(tax, 2);
            }
            made.channels.get_mut("online").unwrap().collects_tax = true;
            place(&mut made);
            made
        },
    )
}

fn add_lots(made: &mut Shop, lots: &Lots) {
    let names: Vec<String> = made.pieces.iter().map(|piece| piece.name().to_owned()).collect();
    for (days, price, shares) in lots {
        let on = after_start(*days);
        let named = names.iter().zip(shares);
        let shares: Vec<(&str, Decimal)> =
            named.map(|(name, share)| (name.as_str(), (*share).into())).collect();
        if !shares.is_empty() {
            book(made, on.year()).lot.push(lot(on, Decimal::new(*price, 2), &shares));
        }
    }
}

fn add_costs(made: &mut Shop, later: &Later) {
    for &(piece, days, kind, amount) in later {
        if let Some(piece) = made.pieces.get_mut(piece) {
            piece.cost.push(cost(after_start(days), KINDS[kind], Decimal::new(amount, 2)));
        }
    }
}

fn add_trips(made: &mut Shop, trips: &Trips) {
    for &(days, tenths, purpose) in trips {
        let (on, miles) = (after_start(days), Decimal::new(tenths.into(), 1));
        book(made, on.year()).trip.push(trip(on, miles, PURPOSES[purpose], None));
    }
}

fn add_expenses(made: &mut Shop, expenses: &Expenses) {
    for &(days, category, amount) in expenses {
        let on = after_start(days);
        let mut entry = expense("2023-01-01", CATEGORIES[category], "0");
        (entry.on, entry.amount) = (on.into(), Decimal::new(amount, 2).into());
        book(made, on.year()).expense.push(entry);
    }
}

/// Gives every entry a place of its own.
fn place(made: &mut Shop) {
    let mut next = 0;
    let mut put = |place: &mut Place| {
        next += 1;
        *place = Place { file: FileId(0), start: next, end: next };
    };
    for piece in &mut made.pieces {
        piece.bought.iter_mut().for_each(|entry| put(&mut entry.place));
        piece.cost.iter_mut().for_each(|entry| put(&mut entry.place));
        piece.used.iter_mut().for_each(|entry| put(&mut entry.place));
        piece.sale.iter_mut().for_each(|entry| put(&mut entry.place));
        piece.returned.iter_mut().for_each(|entry| put(&mut entry.place));
    }
    for year in made.years.values_mut() {
        year.supply.iter_mut().for_each(|entry| put(&mut entry.place));
        year.trip.iter_mut().for_each(|entry| put(&mut entry.place));
        year.expense.iter_mut().for_each(|entry| put(&mut entry.place));
        for lot in &mut year.lot {
            put(&mut lot.place);
            lot.pieces.iter_mut().for_each(|(name, _)| put(&mut name.place));
        }
    }
}
