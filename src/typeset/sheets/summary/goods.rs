//! Cost of goods sold with both sides of the proof in full.

use super::{Books, glance};
use crate::model::{Money, StockCost, Supplies, counted, round};
use crate::typeset::view::{Goods, Row};

/// Nothing where there was neither stock nor a purchase nor a sale.
pub(super) fn goods(books: &Books) -> Option<Goods> {
    let year = books.year;
    let moved = stock_amounts(books).iter().any(|(_, amount)| !amount.is_zero());
    (moved || !year.sold.is_empty()).then(|| Goods {
        stock_side: side(
            books,
            &stock_amounts(books),
            ("Cost of goods sold, from the stock", year.proof.from_stock),
        ),
        pieces_side: side(
            books,
            &piece_amounts(books),
            ("Cost of goods sold, piece by piece", year.proof.from_pieces),
        ),
        verdict: glance::verdict(books),
        notes: notes(books),
    })
}

/// How many pieces were sold, one sold twice counted once.
pub(super) fn pieces_sold(books: &Books) -> usize {
    let mut pieces: Vec<usize> = books.year.sold.iter().map(|sold| sold.piece).collect();
    pieces.sort_unstable();
    pieces.dedup();
    pieces.len()
}

/// Opening stock, what came in and out, and closing stock: together the cost of goods sold.
pub(super) fn stock_amounts(books: &Books) -> [(String, Money); 7] {
    let year = books.year;
    [
        (format!("Stock on {}", books.begin()), year.opening_stock),
        ("Purchases".to_owned(), year.purchases),
        ("less kept or given away".to_owned(), -year.withdrawn),
        (books.spelled("Paid labour"), year.paid_labour),
        ("Materials".to_owned(), year.materials),
        ("Other costs".to_owned(), year.other_costs),
        (format!("less stock on {}", books.end()), -year.closing_stock),
    ]
}

/// The same sum by what left the shop; parts sold by themselves only where there are any.
pub(super) fn piece_amounts(books: &Books) -> Vec<(String, Money)> {
    let pieces = counted(pieces_sold(books), "piece", "pieces");
    let amounts = [
        (format!("Cost of {pieces} sold"), "pieces-sold"),
        ("Cost of parts sold by themselves".to_owned(), "parts-cost"),
        ("less cost of pieces that came back".to_owned(), "pieces-returned"),
        ("Scrapped or given away, and stock missing at a count".to_owned(), "written-off"),
        ("Late costs on pieces that had left".to_owned(), "late-costs"),
    ]
    .map(|(label, figure)| (label, figure, books.year.ledger.amount(figure)));
    let shown =
        amounts.into_iter().filter(|(_, name, sum)| *name != "parts-cost" || !sum.is_zero());
    shown.map(|(label, _, amount)| (label, amount)).collect()
}

fn side(books: &Books, amounts: &[(String, Money)], total: (&str, Money)) -> Vec<Row> {
    let rows = amounts.iter().map(|(label, amount)| books.item(label.as_str(), *amount));
    rows.chain([books.total(total.0, total.1)]).collect()
}

fn notes(books: &Books) -> Vec<String> {
    let eve = books.shop.tax_year(books.year.year).eve().format("%-d %B %Y");
    let mut notes = vec![format!(
        "Stock on {begin} equals stock on {eve}, both summed up by the same rule from \
         the same entries, unless a change of method is called out. Each piece carries its own cost; the owner’s own hours are in \
         no line.",
        begin = books.begin()
    )];
    notes.push(shop_stock(books).to_owned());
    if !foots(books, &stock_amounts(books)) || !foots(books, &piece_amounts(books)) {
        notes.push(
            "Each figure is rounded by itself, so that a sum may differ by a cent from the rounded \
             figures above it."
                .to_owned(),
        );
    }
    notes
}

fn shop_stock(books: &Books) -> &'static str {
    let supplies = books.shop.supplies(books.year.year);
    match (supplies, books.shop.books.stock_cost) {
        (Supplies::WhenBought, _) => {
            "Shop stock is an expense on the day it is bought and is in none of these figures."
        }
        (Supplies::WhenUsed, StockCost::Average) => {
            "Shop stock counts when it is used, at its moving average cost."
        }
        (Supplies::WhenUsed, StockCost::Fifo) => {
            "Shop stock counts when it is used, the oldest first."
        }
    }
}

/// Whether rounded amounts add up to their rounded sum.
fn foots(books: &Books, amounts: &[(String, Money)]) -> bool {
    let places = books.shop.currency.decimals;
    let rounded: Money = amounts.iter().map(|(_, amount)| round(*amount, places)).sum();
    let exact: Money = amounts.iter().map(|(_, amount)| *amount).sum();
    rounded == round(exact, places)
}
