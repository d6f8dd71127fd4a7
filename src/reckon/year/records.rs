//! What lacks a record, which receipts there are, and which pieces have no purchase written.

use super::books::Books;
use super::ledger::{Contribution, Ledger};
use super::names::Total;
use crate::model::{At, Code, Entry, Finding, Place, What, WithdrawalKind};
use crate::reckon::costs::CostEntryKind;
use std::collections::BTreeMap;

/// An entry with the receipt it names, if any.
struct Record<'a> {
    part: Contribution,
    receipt: Option<&'a At<String>>,
}

/// An entry of the year that lacks a record.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct MissingRecord {
    pub part: Contribution,
    pub fault: RecordFault,
}

/// What is wrong with the record of an entry.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum RecordFault {
    /// No receipt is named.
    Unnamed,
    /// The receipt of this path is named and not there.
    NotThere(String),
    /// The receipt of this path is that of an entry of an earlier day: one of the two names the
    /// wrong one. Entries of one day may share a receipt.
    OfOtherDay(String, Place),
}

/// An entry of the year and the receipt it names.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct ReceiptUse {
    /// Below the shop folder.
    pub path: String,
    pub part: Contribution,
}

/// Enters `missing-records`: entries of the year with money in them and no receipt of their own,
/// the largest first.
pub(super) fn missing(books: &Books, ledger: &mut Ledger) -> Vec<MissingRecord> {
    let all = records(books);
    let mut first: BTreeMap<&str, &Contribution> = BTreeMap::new();
    for (path, part) in all.iter().filter_map(|r| Some((r.receipt?.as_str(), &r.part))) {
        let earliest = first.entry(path).or_insert(part);
        if part.on < earliest.on {
            *earliest = part;
        }
    }
    let mut missing: Vec<MissingRecord> = all
        .iter()
        .filter(|record| record.is_of(books) && !record.part.amount.is_zero())
        .filter_map(|record| {
            let fault = fault(books, record, &first)?;
            Some(MissingRecord { part: record.part.clone(), fault })
        })
        .collect();
    missing.sort_by(|a, b| {
        let (a, b) = (&a.part, &b.part);
        (b.amount, a.on, &a.what).cmp(&(a.amount, b.on, &b.what))
    });
    let parts = missing.iter().map(|one| one.part.clone()).collect();
    ledger.put(Total::MissingRecords, "Entries that lack a record", parts);
    missing
}

/// What is wrong with a record, given the earliest entry of each receipt.
fn fault(
    books: &Books,
    record: &Record,
    first: &BTreeMap<&str, &Contribution>,
) -> Option<RecordFault> {
    let Some(path) = record.receipt.map(|receipt| receipt.value.clone()) else {
        return Some(RecordFault::Unnamed);
    };
    if books.shop.missing_receipts.contains(&path) {
        return Some(RecordFault::NotThere(path));
    }
    let earliest = first.get(path.as_str()).filter(|part| part.on != record.part.on)?;
    Some(RecordFault::OfOtherDay(path, earliest.place))
}

/// Every entry of the year that names a receipt, by receipt and day.
pub(super) fn receipts(books: &Books) -> Vec<ReceiptUse> {
    let of_year = records(books).into_iter().filter(|record| record.is_of(books));
    let mut uses: Vec<ReceiptUse> = of_year
        .filter_map(|r| Some(ReceiptUse { path: r.receipt?.value.clone(), part: r.part }))
        .collect();
    uses.sort_by(|a, b| {
        (&a.path, a.part.on, a.part.place).cmp(&(&b.path, b.part.on, b.part.place))
    });
    uses
}

impl Record<'_> {
    fn is_of(&self, books: &Books) -> bool {
        self.part.on.is_some_and(|on| books.in_year(on))
    }
}

/// Every entry of the shop that needs a record, of any year. Where payments are written for a sale,
/// each of them needs it, and not the sale.
fn records<'a>(books: &Books<'a>) -> Vec<Record<'a>> {
    let paid_later = |entry: &Entry| match (entry.what, entry.piece) {
        (What::Sold(at, _), Some(piece)) => books.accounts[piece].sales[at].has_payments,
        _ => false,
    };
    let of_entry = |entry: &Entry<'a>| {
        let amount = entry.to_record().filter(|_| !paid_later(entry))?;
        Some(Record { part: books.part(entry, amount), receipt: entry.receipt() })
    };
    books.all.iter().filter_map(of_entry).collect()
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
            notes.push(Finding::warning(Code::SoldWithoutPurchase, sale.place, message).hint(hint));
        }
        let given = piece
            .withdrawn
            .as_ref()
            .filter(|gone| gone.how == WithdrawalKind::Given && books.in_year(gone.on.value));
        if let Some(gone) = given {
            let message = format!(
                "`{}` was given away: what of its cost was in the opening stock is in no cost of \
                 goods sold, what it cost this year is; whether a gift can be deducted is for the \
                 preparer",
                piece.name()
            );
            notes.push(Finding::warning(Code::GivenAway, gone.place, message));
        }
    }
    notes
}
