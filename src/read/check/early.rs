//! Entries of a piece dated before the day it was bought: a sale or a withdrawal cannot be, anything
//! else is at least odd.

use super::Across;
use super::origin::Origin;
use crate::model::{At, Code, Entry, Finding, Piece, What};
use chrono::NaiveDate;

/// Entries of a piece dated before the day it was bought.
pub(super) fn check(piece: &Piece, origin: &Origin, across: &mut Across) {
    let early = |day: &At<NaiveDate>| day.value < origin.value;
    let at = |finding: Finding| {
        finding
            .second(origin.place, format!("bought on {}", origin.value))
            .hint(format!("write a day from {} on, or fix the day it was bought", origin.value))
    };
    for sale in piece.sale.iter().filter(|sale| early(&sale.on)) {
        let message = "sold before it was bought";
        across.say(at(
            Finding::error(Code::SoldBeforeBought, sale.on.place, message).label("sold here")
        ));
    }
    if let Some(withdrawn) = piece.withdrawn.as_ref().filter(|withdrawn| early(&withdrawn.on)) {
        let message = "withdrawn before it was bought";
        let finding = Finding::error(Code::WithdrawnBeforeBought, withdrawn.on.place, message);
        across.say(at(finding.label("withdrawn here")));
    }
    for (what, on) in piece.entries(0).iter().filter_map(odd_before) {
        if early(on) {
            let message = format!("{what} before the piece was bought");
            across
                .say(at(Finding::warning(Code::BeforeBought, on.place, message).label("earlier")));
        }
    }
}

/// What is odd before the purchase, in words, and its day.
fn odd_before<'a>(entry: &Entry<'a>) -> Option<(&'static str, &'a At<NaiveDate>)> {
    match entry.what {
        What::Listed(one) => Some(("listed", one.on.as_ref()?)),
        What::Cost(one) => Some(("paid for", &one.on)),
        What::Used(_, one) => Some(("drawn from stock", &one.on)),
        What::Worked(one) => Some(("worked on", one.on.as_ref()?)),
        What::Coated(one) => Some(("finished", one.last.as_ref()?)),
        What::Paid(one) => Some(("paid by a buyer", &one.on)),
        What::Consigned(one) => Some(("given to somebody to be sold", &one.on)),
        What::Salvaged(one) => Some(("taken apart", &one.on)),
        _ => None,
    }
}
