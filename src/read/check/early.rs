//! Entries of a piece dated before the day it was bought: a sale or a withdrawal cannot be, anything
//! else is at least odd.

use super::Across;
use super::origin::Origin;
use crate::model::{At, Finding, Piece};
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
            Finding::error("sold-before-bought", sale.on.place, message).label("sold here")
        ));
    }
    if let Some(withdrawn) = piece.withdrawn.as_ref().filter(|withdrawn| early(&withdrawn.on)) {
        let message = "withdrawn before it was bought";
        let finding = Finding::error("withdrawn-before-bought", withdrawn.on.place, message);
        across.say(at(finding.label("withdrawn here")));
    }
    let listed = piece.listing.iter().filter_map(|l| Some(("listed", l.on.as_ref()?)));
    let paid = piece.cost.iter().map(|cost| ("paid for", &cost.on));
    let used = piece.used.iter().map(|used| ("drawn from stock", &used.on));
    let work = piece.work.iter().filter_map(|w| Some(("worked on", w.on.as_ref()?)));
    let coat = piece.coat.iter().filter_map(|c| Some(("finished", c.last.as_ref()?)));
    let payment = piece.payment.iter().map(|payment| ("paid by a buyer", &payment.on));
    let away = piece.consigned.iter().map(|gone| ("given to somebody to be sold", &gone.on));
    let taken = piece.salvaged.iter().map(|part| ("taken apart", &part.on));
    let days = listed.chain(paid).chain(used).chain(work).chain(coat);
    for (what, on) in days.chain(payment).chain(away).chain(taken) {
        if early(on) {
            let message = format!("{what} before the piece was bought");
            across.say(at(Finding::warning("before-bought", on.place, message).label("earlier")));
        }
    }
}
