//! What lacks a record, and which pieces have no purchase written.

use super::books::Books;
use super::ledger::{Contribution, Ledger};
use crate::model::{At, Finding, WithdrawalKind};
use crate::reckon::costs::CostEntryKind;
use chrono::NaiveDate;

/// An entry of the year with the receipt it names, if any.
struct Record<'a> {
    part: Contribution,
    receipt: Option<&'a At<String>>,
}

/// Enters `missing-records`: entries of the year with money in them and no receipt, the largest
/// first.
pub(super) fn missing(books: &Books, ledger: &mut Ledger) -> Vec<Contribution> {
    let mut parts: Vec<Contribution> =
        records(books).into_iter().filter(|r| r.receipt.is_none()).map(|r| r.part).collect();
    parts.retain(|part| !part.amount.is_zero());
    parts.sort_by(|a, b| (b.amount, a.on, &a.what).cmp(&(a.amount, b.on, &b.what)));
    ledger.put("missing-records", "Entries without a receipt", parts.clone());
    parts
}

fn records<'a>(books: &Books<'a>) -> Vec<Record<'a>> {
    let mut found = Vec::new();
    let mut add = |place, on: NaiveDate, what: String, amount, receipt| {
        if books.in_year(on) {
            found.push(Record { part: Contribution::new(place, on, what, amount), receipt });
        }
    };
    for (i, piece) in books.shop.pieces.iter().enumerate() {
        let title = || books.title(i);
        if let Some(b) = &piece.bought {
            let paid = b.price.value + b.premium + b.tax;
            add(b.place, b.on.value, format!("{}: bought", title()), paid, b.receipt.as_ref());
        }
        for c in &piece.cost {
            let what = format!("{}: {}", title(), c.what);
            add(c.place, c.on.value, what, c.amount.value, c.receipt.as_ref());
        }
        for s in &piece.sale {
            let got = s.price.value + s.delivery_charged;
            add(s.place, s.on.value, format!("{}: sold", title()), got, s.receipt.as_ref());
        }
    }
    for book in books.shop.years.values() {
        for l in &book.lot {
            let paid = l.price.value + l.premium + l.tax;
            add(l.place, l.on.value, l.what.clone(), paid, l.receipt.as_ref());
        }
        for e in &book.expense {
            add(e.place, e.on.value, e.what.clone(), e.amount.value, e.receipt.as_ref());
        }
        for s in &book.supply {
            add(s.place, s.on.value, s.stock.value.clone(), s.amount.value, s.receipt.as_ref());
        }
        for r in &book.remitted {
            let what = format!("sales tax to {}", r.to);
            add(r.place, r.on.value, what, r.amount.value, r.receipt.as_ref());
        }
    }
    found
}

/// Notes on pieces: sold in the year without a purchase, or given away.
pub(super) fn piece_notes(books: &Books) -> Vec<Finding> {
    let mut notes = Vec::new();
    for (i, piece) in books.shop.pieces.iter().enumerate() {
        let entries = &books.costs[i].entries;
        let purchased = entries.iter().any(|entry| entry.kind == CostEntryKind::Purchase);
        let sale = piece.sale.iter().find(|sale| books.in_year(sale.on.value));
        if let Some(sale) = sale.filter(|_| !purchased) {
            let message =
                format!("no purchase of `{}` is written: it counts as 0.00", piece.name());
            let hint = "write `bought`, with `price = 0` for a piece found or given";
            notes.push(Finding::warning("sold-without-purchase", sale.place, message).hint(hint));
        }
        let given = piece
            .withdrawn
            .as_ref()
            .filter(|gone| gone.how == WithdrawalKind::Given && books.in_year(gone.on.value));
        if let Some(gone) = given {
            let message = format!(
                "`{}` was given away: its cost is out of purchases, and whether a gift can be \
                 deducted is for the preparer",
                piece.name()
            );
            notes.push(Finding::warning("given-away", gone.place, message));
        }
    }
    notes
}
