//! The one rule by which a piece may be offered: every paper for a buyer asks it.

use super::Subject;
use crate::describe::Document;
use crate::model::Money;
use crate::reckon::payments::Accounts;
use crate::reckon::state::State;

/// Why a piece may not be offered, in words that follow a colon; nothing where it may be. What is
/// sold, no longer stock, kept for a buyer, or held back by a caution is not.
pub fn not_offered(subject: &Subject) -> Option<String> {
    let state = subject.tally.map(|tally| tally.state);
    match state {
        Some(State::Sold) => return Some("sold".to_owned()),
        Some(State::Withdrawn) => return Some("no longer for sale: withdrawn".to_owned()),
        _ => {}
    }
    if let Some(why) = reserved(subject) {
        return Some(format!("reserved: {why}"));
    }
    let needed =
        |lack: &&crate::describe::Lack| lack.needed && lack.document == Document::Description;
    subject.words.lacks.iter().find(needed).map(|lack| format!("held; state {}", lack.what))
}

/// Why it is kept for a buyer: his deposit is held and no sale is written yet, or its file says so.
/// For whom stands on no paper.
fn reserved(subject: &Subject) -> Option<String> {
    let piece = subject.piece;
    if !piece.payment.is_empty()
        && Accounts::of(piece, subject.shop.currency.decimals).deposits_held() > Money::ZERO
    {
        return Some("a deposit was paid for it".to_owned());
    }
    let until = piece.reserved.as_ref()?.until.map(|on| on.value);
    Some(until.map_or("its file says so".to_owned(), |on| format!("its file says so, until {on}")))
}

/// Whether a piece is listed and may be offered: what stands in papers of everything for sale.
pub fn is_for_sale(subject: &Subject) -> bool {
    subject.tally.is_some_and(|tally| tally.state == State::Listed)
        && not_offered(subject).is_none()
}
