//! The one rule by which a piece may be offered: every paper for a buyer asks it.

use super::Subject;
use crate::describe::Document;
use crate::model::Money;
use crate::reckon::payments::Accounts;
use crate::reckon::state::State;

/// Why a piece may not be offered, in words that follow a colon; nothing where it may be. What is
/// sold, no longer stock, promised to a buyer who paid a deposit, or held back by a caution is not.
pub fn not_offered(subject: &Subject) -> Option<String> {
    let state = subject.tally.map(|tally| tally.state);
    match state {
        Some(State::Sold) => return Some("sold".to_owned()),
        Some(State::Withdrawn) => return Some("no longer for sale: withdrawn".to_owned()),
        _ => {}
    }
    if is_reserved(subject) {
        return Some("reserved: a deposit was paid for it".to_owned());
    }
    let needed =
        |lack: &&crate::describe::Lack| lack.needed && lack.document == Document::Description;
    subject.words.lacks.iter().find(needed).map(|lack| format!("held; state {}", lack.what))
}

/// Whether a buyer's deposit is kept for it and no sale is written yet.
fn is_reserved(subject: &Subject) -> bool {
    if subject.piece.payment.is_empty() {
        return false;
    }
    let accounts = Accounts::of(subject.piece, subject.shop.currency.decimals);
    let moved = accounts.deposits.iter().map(|event| event.moved().without_tax());
    moved.fold(Money::ZERO, |all, paid| all + paid) > Money::ZERO
}

/// Whether a piece is listed and may be offered: what stands in papers of everything for sale.
pub fn is_for_sale(subject: &Subject) -> bool {
    subject.tally.is_some_and(|tally| tally.state == State::Listed)
        && not_offered(subject).is_none()
}
