//! Where a piece stands, decided from its entries alone: there is no clock. The tally uses it.

use super::sold::Units;
use crate::model::{CostKind, Moment, Piece};

/// Where a piece stands. The first that holds, from the bottom up.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum State {
    /// Nothing was done to it yet.
    #[default]
    Bought,
    /// Work, a draw from stock, a coat, a change, or a cost other than carriage is entered.
    InWork,
    /// Every coat of its finish has its last day, or it has an after photo, or it came back from
    /// a buyer.
    Ready,
    /// Its listing has a day, and that is not before the piece last came back.
    Listed,
    /// All of it is sold and did not come back.
    Sold,
    /// What was not sold is no longer stock.
    Withdrawn,
}

impl State {
    /// The word it is printed and typed as.
    pub fn word(self) -> &'static str {
        match self {
            State::Bought => "bought",
            State::InWork => "in-work",
            State::Ready => "ready",
            State::Listed => "listed",
            State::Sold => "sold",
            State::Withdrawn => "withdrawn",
        }
    }

    /// Every state, in the order a piece goes through them.
    pub const ALL: [State; 6] =
        [State::Bought, State::InWork, State::Ready, State::Listed, State::Sold, State::Withdrawn];
}

/// Where the piece stands.
pub fn state(piece: &Piece, units: Units) -> State {
    if piece.withdrawn.is_some() {
        State::Withdrawn
    } else if units.left() == 0 {
        State::Sold
    } else if listed(piece) {
        State::Listed
    } else if ready(piece) {
        State::Ready
    } else if in_work(piece) {
        State::InWork
    } else {
        State::Bought
    }
}

fn listed(piece: &Piece) -> bool {
    let on = piece.listing.as_ref().and_then(|listing| listing.on.as_ref());
    let back = piece.returned.iter().map(|back| back.on.value).max();
    on.is_some_and(|on| back.is_none_or(|back| on.value >= back))
}

fn ready(piece: &Piece) -> bool {
    let finished = !piece.coat.is_empty() && piece.coat.iter().all(|coat| coat.last.is_some());
    let shown = piece.photo.iter().any(|photo| photo.moment == Moment::After);
    finished || shown || !piece.returned.is_empty()
}

fn in_work(piece: &Piece) -> bool {
    let worked = !piece.work.is_empty() || !piece.used.is_empty();
    let changed = !piece.coat.is_empty() || !piece.change.is_empty();
    worked || changed || piece.cost.iter().any(|cost| cost.kind != CostKind::FreightIn)
}
