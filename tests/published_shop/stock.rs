//! Published examples of what stock costs when it leaves; the source is named beside each.

use super::on;
use crate::shops::{book, bought, count, dec, piece, sale, shop, stock_item, supply, used};
use dovetally::model::{Money, Piece, Shop, StockCost, round};
use dovetally::reckon::reckon;
use dovetally::reckon::stock::{MovementKind, StockRun, run_stock};
use rust_decimal::Decimal;

/// The units of one published example, bought, and drawn for two sales.
fn units_through(method: StockCost) -> StockRun {
    let mut shop = shop();
    shop.books.stock_cost = method;
    shop.stock.insert("unit".to_owned(), stock_item("unit", "each"));
    book(&mut shop, 2025).supply = vec![
        supply(on("07-25"), "unit", "210 each", dec("6930")),
        supply(on("07-01"), "unit", "150 each", dec("3150")),
        supply(on("07-10"), "unit", "225 each", dec("6075")),
    ];
    let draws = vec![used(on("07-05"), "unit", "120 each"), used(on("07-15"), "unit", "180 each")];
    shop.pieces.push(Piece { used: draws, ..piece("a") });
    run_stock(&shop)
}

fn drawn(run: &StockRun) -> Money {
    run.draws_by_piece(1)[0].iter().map(|draw| draw.1).sum()
}

#[test]
fn first_in_first_out() {
    // OpenStax Financial Accounting, sec. 10.3: goods sold 7,200, left 8,955.
    let run = units_through(StockCost::Fifo);
    assert_eq!(drawn(&run), dec("7200"));
    assert_eq!(run.left["unit"].cost, dec("8955"));
    assert_eq!(run.left["unit"].quantity, dec("285"));
}

#[test]
fn moving_average() {
    // OpenStax Financial Accounting, sec. 10.3, in whole dollars as printed: goods sold 7,253,
    // left 8,902; unit costs 26.29 after the second lot, 31.24 after the third.
    let run = units_through(StockCost::Average);
    assert_eq!(round(drawn(&run), 0), dec("7253"));
    assert_eq!(round(run.left["unit"].cost, 0), dec("8902"));
    assert_eq!(round(run.left["unit"].cost / run.left["unit"].quantity, 2), dec("31.24"));
    let second = run.movements.iter().rfind(|m| matches!(m.kind, MovementKind::Drawn { .. }));
    assert_eq!(round(second.unwrap().cost / dec("180"), 2), dec("26.29"));
}

#[test]
fn specific_identification() {
    // OpenStax Financial Accounting, secs. 10.2 and 10.3: of lots at 21, 27 and 33 a unit, 120
    // and 20 of the first and 160 of the second are sold; goods sold 7,260, left 8,895, margin
    // 4,080. Each part of a lot that is sold together is a piece with its own cost.
    let part = |units: i64, each: i64, price: Option<i64>| {
        let cost = bought(on("07-01"), Decimal::from(units * each));
        let sale = price.map(|p| sale(on("07-15"), Decimal::from(units * p)));
        Piece { bought: Some(cost), sale: sale.into_iter().collect(), ..piece("part") }
    };
    let sold = [part(120, 21, Some(36)), part(20, 21, Some(39)), part(160, 27, Some(39))];
    let left = [part(10, 21, None), part(65, 27, None), part(210, 33, None)];
    let shop = Shop { pieces: sold.into_iter().chain(left).collect(), ..shop() };
    let totals = reckon(&shop).totals;
    assert_eq!(totals.cost_of_goods, dec("16155"));
    assert_eq!((totals.cost_sold, totals.tied_up), (dec("7260"), dec("8895")));
    assert_eq!((totals.price, totals.gross_profit), (dec("11340"), dec("4080")));
}

#[test]
fn materials_used_are_what_is_missing() {
    // OpenStax Managerial Accounting, sec. 4.5: 2,500 on hand and 10,500 bought, 11,600 left: 1,400
    // were used. At one a unit a count finds the same.
    let mut shop = shop();
    shop.stock.insert("unit".to_owned(), stock_item("unit", "each"));
    let book = book(&mut shop, 2025);
    book.supply = vec![
        supply(on("01-01"), "unit", "2500 each", dec("2500")),
        supply(on("02-01"), "unit", "10500 each", dec("10500")),
    ];
    book.count = vec![count(on("12-31"), "unit", "11600 each")];
    let run = run_stock(&shop);
    let gone = run.movements.iter().find(|m| m.kind == MovementKind::Shrunk).unwrap();
    assert_eq!((gone.quantity, gone.cost), (dec("1400"), dec("1400")));
    assert_eq!(run.left["unit"].cost, dec("11600"));
}
