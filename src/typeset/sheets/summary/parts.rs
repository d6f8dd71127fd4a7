//! Very many pieces, in parts: what the typesetter holds grows with the rows of a document, so that a
//! table of thousands is several documents of some hundred rows, each carrying on the sums of the one
//! before it.

use super::Books;
use crate::describe::wording::capital;
use crate::model::{Hours, Money, Period};
use crate::reckon::year::SoldPiece;
use crate::typeset::press::Draft;
use crate::typeset::sheets::common::sheet;
use crate::typeset::sheets::{draft, layouts};
use crate::typeset::view::{MonthRow, PiecesPart, PiecesSold, PiecesUnsold, SoldMonths};

/// The most pieces the summary itself lists in one table.
pub(super) const MOST: usize = 400;

/// The sales of the year by month, for a summary that lists no piece by itself.
pub(super) fn months(books: &Books, sold: &PiecesSold) -> SoldMonths {
    let rows = books.period.months().map(|month| of_month(books, month));
    SoldMonths {
        rows: rows.collect(),
        total: sold.total.clone(),
        total_label: sold.total_label.clone(),
        note: format!(
            "Every sale stands in pieces-sold-1.pdf to pieces-sold-{}.pdf beside this summary.",
            sold.rows.len().div_ceil(MOST)
        ),
    }
}

fn of_month(books: &Books, month: Period) -> MonthRow {
    let sales: Vec<_> = books.year.sold.iter().filter(|sale| month.contains(sale.sold)).collect();
    let sum = |of: fn(&SoldPiece) -> Money| -> String {
        books.amount(sales.iter().map(|sale| of(sale)).sum())
    };
    let hours: Vec<Hours> = sales.iter().filter_map(|sale| sale.hours).collect();
    MonthRow {
        month: month.first.format("%B").to_string(),
        sales: sales.len().to_string(),
        cost: sum(|sale| sale.cost),
        price: sum(|sale| sale.price),
        gross_profit: sum(|sale| sale.margin),
        hours: super::pieces::in_tenths((!hours.is_empty()).then(|| hours.into_iter().sum())),
    }
}

/// The documents of a long table, each with its file name; none where the summary lists the pieces.
pub(super) fn drafts(
    books: &Books,
    sold: Option<PiecesSold>,
    unsold: Option<PiecesUnsold>,
) -> Vec<(String, Draft)> {
    let mut drafts = Vec::new();
    if let Some(sold) = sold.filter(|sold| sold.rows.len() > MOST) {
        let count = sold.rows.len().div_ceil(MOST);
        for (i, rows) in sold.rows.chunks(MOST).enumerate() {
            let before = i.checked_sub(1).map(|at| sold.rows[(at + 1) * MOST - 1].so_far.clone());
            let part = PiecesSold {
                rows: rows.to_vec(),
                total_label: sold.total_label.clone(),
                total: sold.total.clone(),
                order: sold.order.clone(),
                notes: Vec::new(),
                per_hour: None,
            };
            let head = head(books, "pieces sold", i, count);
            let view = PiecesPart { sold: Some(part), sold_before: before, ..head };
            drafts.push(document(books, "pieces-sold", i, &view));
        }
    }
    if let Some(unsold) = unsold.filter(|unsold| unsold.rows.len() > MOST) {
        let count = unsold.rows.len().div_ceil(MOST);
        for (i, rows) in unsold.rows.chunks(MOST).enumerate() {
            let before = i.checked_sub(1).map(|at| unsold.rows[(at + 1) * MOST - 1].so_far.clone());
            let part = PiecesUnsold {
                rows: rows.to_vec(),
                total_label: unsold.total_label.clone(),
                total: unsold.total.clone(),
                order: unsold.order.clone(),
                notes: Vec::new(),
            };
            let head = head(books, "pieces in stock", i, count);
            let view = PiecesPart { unsold: Some(part), unsold_before: before, ..head };
            drafts.push(document(books, "pieces-in-stock", i, &view));
        }
    }
    drafts
}

fn head(books: &Books, what: &str, i: usize, count: usize) -> PiecesPart {
    let (year, name) = (books.year.year, &books.shop.name);
    let part = format!("{what}, part {} of {count}", i + 1);
    PiecesPart {
        sheet: sheet(books.shop, format!("{} {year}, {name}", capital(&part))),
        year,
        head: books.head(),
        foot: format!("{name} · {part}"),
        ends: i + 1 == count,
        sold: None,
        sold_before: None,
        unsold: None,
        unsold_before: None,
    }
}

fn document(books: &Books, name: &str, i: usize, view: &PiecesPart) -> (String, Draft) {
    let ident = format!("{} / {name} {} part {}", books.shop.name, books.year.year, i + 1);
    let made = draft(layouts::PIECES_PART, view, Vec::new(), ident);
    (format!("{name}-{}.pdf", i + 1), Draft { archival: true, ..made })
}
