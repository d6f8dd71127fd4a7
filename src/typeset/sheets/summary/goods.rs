//! Cost of goods sold with both sides of the proof in full.

use super::{Books, glance};
use crate::model::{Money, StockCost, Supplies, counted};
use crate::reckon::year::Total;
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
        (format!("Stock on {}", books.begin()), year.total(Total::OpeningStock)),
        ("Purchases".to_owned(), year.total(Total::Purchases)),
        ("less kept or given away".to_owned(), -year.total(Total::Withdrawn)),
        (books.spelled("Paid labour"), year.total(Total::PaidLabour)),
        ("Materials".to_owned(), year.total(Total::Materials)),
        ("Other costs".to_owned(), year.total(Total::OtherCosts)),
        (format!("less stock on {}", books.end()), -year.total(Total::ClosingStock)),
    ]
}

/// The same sum by what left the shop; parts sold by themselves only where there are any.
pub(super) fn piece_amounts(books: &Books) -> Vec<(String, Money)> {
    let pieces = counted(pieces_sold(books), "piece", "pieces");
    let amounts = [
        (format!("Cost of {pieces} sold"), Total::PiecesSold),
        ("Cost of parts sold by themselves".to_owned(), Total::PartsCost),
        ("less cost of pieces that came back".to_owned(), Total::PiecesReturned),
        ("Scrapped or given away, and stock missing at a count".to_owned(), Total::WrittenOff),
        ("Late costs on pieces that had left".to_owned(), Total::LateCosts),
    ]
    .map(|(label, figure)| (label, figure, books.year.total(figure)));
    let shown =
        amounts.into_iter().filter(|(_, name, sum)| *name != Total::PartsCost || !sum.is_zero());
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
