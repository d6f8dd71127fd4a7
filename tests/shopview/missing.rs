//! What is shared out, drawn or missing: lots, stock, trips without a rate and files not read.

use super::{codes, costing, with};
use crate::shops::{book, cost, count, day, dec, lot, piece, sale, stock_item, supply, trip, used};
use dovetally::model::{Broken, CostKind, Money, Piece, StockCost, TripPurpose};
use dovetally::reckon::price::{PriceAsk, price};
use dovetally::reckon::reckon;
use dovetally::reckon::stock::MovementKind;

#[test]
fn a_lot_is_split_to_the_cent() {
    let mut shop = with(vec![piece("a"), piece("b"), piece("c")]);
    let shares = [("a", dec("1")), ("b", dec("1")), ("c", dec("1"))];
    book(&mut shop, 2025).lot = vec![lot(day("2025-01-05"), dec("100"), &shares)];
    let reckoned = reckon(&shop);
    let paid: Vec<Money> = reckoned.tallies.iter().flatten().map(|tally| tally.purchase).collect();
    assert_eq!(paid, [dec("33.34"), dec("33.33"), dec("33.33")]);
    assert_eq!(reckoned.tallies[1].as_ref().unwrap().bought, Some(day("2025-01-05")));
}

#[test]
fn drawing_more_than_there_is_names_the_draw_and_leaves_the_piece_out() {
    let draw = vec![used(day("2025-03-01"), "oil", "9 fl oz")];
    let mut shop = with(vec![Piece { used: draw, ..costing("a", "5") }, costing("b", "7")]);
    shop.stock.insert("oil".to_owned(), stock_item("oil", "fl oz"));
    book(&mut shop, 2025).supply = vec![supply(day("2025-01-01"), "oil", "8 fl oz", dec("8"))];
    let reckoned = reckon(&shop);
    assert_eq!(codes(&reckoned), ["drawn-too-much"]);
    assert!(reckoned.findings[0].message.contains("8 fl oz on hand"));
    assert!(reckoned.tallies[0].is_none() && reckoned.tallies[1].is_some());
    assert_eq!((reckoned.totals.pieces, reckoned.totals.left_out), (1, 1));
    assert_eq!(reckoned.totals.cost_of_goods, dec("7"));
    assert!(price(&shop, &reckoned, 0, &PriceAsk::default()).is_err());
}

#[test]
fn a_count_corrects_and_is_held_to_what_was_bought() {
    let mut shop = with(vec![]);
    shop.stock.insert("oil".to_owned(), stock_item("oil", "fl oz"));
    let year = book(&mut shop, 2025);
    year.supply = vec![supply(day("2025-01-01"), "oil", "8 fl oz", dec("8"))];
    year.count = vec![
        count(day("2025-02-01"), "oil", "6 fl oz"),
        count(day("2025-03-01"), "oil", "7 fl oz"),
        count(day("2025-04-01"), "oil", "9 fl oz"),
    ];
    let reckoned = reckon(&shop);
    assert_eq!(codes(&reckoned), ["counted-too-much"]);
    let left = reckoned.run.left["oil"];
    // 2 fl oz are missing, and one of them is found again at its cost (IRS Pub. 538: stock at cost).
    assert_eq!(left.cost, dec("7"));
    let shrunk = reckoned.run.movements.iter().filter(|m| m.kind == MovementKind::Shrunk);
    let shrunk: Vec<_> = shrunk.map(|m| m.cost).collect();
    assert_eq!(shrunk, [dec("2"), dec("-1")]);
    assert_eq!(shop.stock["oil"].unit.words(left.quantity), "7 fl oz");
}

#[test]
fn a_draw_costs_what_the_shop_s_method_says() {
    let draw = vec![used(day("2025-03-01"), "oil", "1 pt"), used(day("2025-03-02"), "oil", "1 pt")];
    for (method, materials, left) in
        [(StockCost::Fifo, "50", "40"), (StockCost::Average, "45", "45")]
    {
        let mut shop = with(vec![Piece { used: draw.clone(), ..piece("a") }]);
        shop.books.stock_cost = method;
        shop.stock.insert("oil".to_owned(), stock_item("oil", "fl oz"));
        book(&mut shop, 2025).supply = vec![
            supply(day("2025-02-01"), "oil", "1 qt", dec("40")),
            supply(day("2025-01-01"), "oil", "32 fl oz", dec("50")),
        ];
        let reckoned = reckon(&shop);
        assert_eq!(reckoned.tallies[0].as_ref().unwrap().materials, dec(materials));
        assert_eq!(reckoned.run.left["oil"].cost, dec(left));
    }
}

#[test]
fn the_costs_of_a_piece_are_in_order_of_time() {
    let mut late_first = costing("a", "5");
    for on in ["2025-06-01", "2025-01-05", "2025-03-01"] {
        late_first.cost.push(cost(day(on), CostKind::Material, dec("1")));
    }
    late_first.used.push(used(day("2025-05-01"), "oil", "1 qt"));
    let mut shop = with(vec![late_first]);
    shop.stock.insert("oil".to_owned(), stock_item("oil", "qt"));
    book(&mut shop, 2025).supply = vec![supply(day("2025-01-01"), "oil", "1 qt", dec("40"))];
    let days: Vec<String> =
        reckon(&shop).costs[0].entries.iter().map(|entry| entry.on.to_string()).collect();
    assert_eq!(days, ["2025-01-05", "2025-02-01", "2025-03-01", "2025-05-01", "2025-06-01"]);
}

#[test]
fn draws_of_one_day_cost_the_same_in_any_order_of_files() {
    let draw = vec![used(day("2025-03-01"), "oil", "1 qt")];
    let one = |folder: &str| Piece { used: draw.clone(), ..piece(folder) };
    for pieces in [vec![one("a"), one("b")], vec![one("b"), one("a")]] {
        let mut shop = with(pieces);
        shop.books.stock_cost = StockCost::Fifo;
        shop.stock.insert("oil".to_owned(), stock_item("oil", "qt"));
        book(&mut shop, 2025).supply = vec![
            supply(day("2025-01-01"), "oil", "1 qt", dec("40")),
            supply(day("2025-02-01"), "oil", "1 qt", dec("50")),
        ];
        let reckoned = reckon(&shop);
        // They share what was paid for both, so that no folder decides which is the dearer one.
        for tally in reckoned.tallies {
            assert_eq!(tally.unwrap().materials, dec("45"));
        }
    }
}

#[test]
fn a_trip_without_a_rate_is_refused() {
    let mut shop = with(vec![costing("a", "5"), costing("b", "5")]);
    let fetch = trip(day("1950-01-05"), dec("10"), TripPurpose::Fetch, Some("a"));
    let other = trip(day("1950-01-05"), dec("10"), TripPurpose::Other, Some("b"));
    book(&mut shop, 1950).trip = vec![fetch, other];
    let reckoned = reckon(&shop);
    assert_eq!(codes(&reckoned), ["year-without-table", "no-mileage-rate"]);
    assert!(reckoned.tallies[0].is_none() && reckoned.tallies[1].is_some());
}

#[test]
fn a_book_that_was_not_read_leaves_out_what_it_may_name() {
    let sold_before = Piece { sale: vec![sale(day("2025-03-01"), dec("9"))], ..costing("a", "5") };
    let sold_after = Piece { sale: vec![sale(day("2026-03-01"), dec("9"))], ..costing("b", "5") };
    let draws = vec![used(day("2026-03-01"), "oil", "1 fl oz")];
    let mut shop =
        with(vec![sold_before, sold_after, costing("c", "5"), Piece { used: draws, ..piece("d") }]);
    shop.stock.insert("oil".to_owned(), stock_item("oil", "fl oz"));
    let since = Some(day("2026-01-01"));
    shop.broken.push(Broken { path: "books/2026.toml".to_owned(), since, lacks: None });
    let reckoned = reckon(&shop);
    let there: Vec<bool> = reckoned.tallies.iter().map(Option::is_some).collect();
    assert_eq!(there, [true, false, false, false]);
    assert!(codes(&reckoned).is_empty(), "the unread book is the fault, not the draw");
}

#[test]
fn a_piece_that_was_not_read_is_said_where_stock_is_drawn() {
    let mut shop = with(vec![costing("a", "5")]);
    shop.broken.push(Broken { path: "pieces/x/piece.toml".to_owned(), since: None, lacks: None });
    assert!(codes(&reckon(&shop)).is_empty());
    shop.stock.insert("oil".to_owned(), stock_item("oil", "fl oz"));
    book(&mut shop, 2025).supply = vec![supply(day("2025-01-01"), "oil", "8 fl oz", dec("8"))];
    shop.pieces[0].used.push(used(day("2025-03-01"), "oil", "1 fl oz"));
    let reckoned = reckon(&shop);
    assert_eq!(codes(&reckoned), ["draws-not-read"]);
    assert!(reckoned.tallies[0].is_some() && !reckoned.findings[0].is_error());
}
