//! What the business earned in other ways than by selling pieces: work for others, which is a receipt like
//! a sale, and other income. Both count on the day they are written with, on both bases.

use super::books::Books;
use super::ledger::{Contribution, Ledger};
use super::names::Total;
use crate::model::{IncomeKind, What};

pub(super) fn enter(books: &Books, ledger: &mut Ledger) {
    ledger.put(Total::ServiceIncome, "Received for work", of(books, IncomeKind::Service));
    ledger.put(Total::OtherIncome, "Other income", of(books, IncomeKind::Other));
}

fn of(books: &Books, kind: IncomeKind) -> Vec<Contribution> {
    let own = books.of_period().filter_map(|entry| match entry.what {
        What::Income(one) if one.kind == kind => Some(books.part(&entry, one.amount.value)),
        _ => None,
    });
    own.collect()
}
