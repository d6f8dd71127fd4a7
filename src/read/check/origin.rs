//! How each piece came into the shop: bought by itself or in a lot, and not both.

use super::Across;
use super::names::{Led, Names};
use crate::model::{
    At, Code, Edit, Finding, Hint, Lot, Piece, Place, RefundOf, SalvagedTo, YearBook,
};
use chrono::NaiveDate;

/// The day a piece was bought, at the place that says so.
pub(super) type Origin = At<NaiveDate>;

/// The origin of each piece, where it has one. Names that lead nowhere are faults of the book.
pub(super) fn origins(
    pieces: &[&Piece],
    books: &[&YearBook],
    names: &Names,
    across: &mut Across,
) -> Vec<Option<Origin>> {
    let own = |piece: &&Piece| piece.bought.as_ref().map(|b| At::new(b.on.value, b.place));
    let mut origins: Vec<Option<Origin>> = pieces.iter().map(own).collect();
    for lot in books.iter().flat_map(|book| &book.lot) {
        add_lot(lot, names, &mut origins, across);
    }
    for trip in books.iter().flat_map(|book| &book.trip) {
        let taken: Vec<&str> = trip.pieces.iter().map(|piece| piece.value.as_str()).collect();
        for piece in trip.pieces.iter().filter(|piece| !piece.is_empty()) {
            lead(piece, &taken, names, across);
        }
    }
    for bundle in books.iter().flat_map(|book| &book.bundle) {
        let taken: Vec<&str> = bundle.pieces.iter().map(|(name, _)| name.value.as_str()).collect();
        for (name, _) in &bundle.pieces {
            lead(name, &taken, names, across);
        }
    }
    for refund in books.iter().flat_map(|book| &book.refund) {
        if let RefundOf::Piece(name, _) = &refund.of
            && !name.is_empty()
        {
            lead(name, &[], names, across);
        }
    }
    for name in
        pieces.iter().flat_map(|piece| &piece.sale).filter_map(|s| s.paper.traded_in.as_ref())
    {
        if !name.is_empty() {
            lead(name, &[], names, across);
        }
    }
    for piece in pieces {
        salvaged(piece, names, pieces, across);
    }
    on_hand(books, across);
    tax_held(books, across);
    origins
}

/// Parts lead to another piece.
fn salvaged(piece: &Piece, names: &Names, pieces: &[&Piece], across: &mut Across) {
    for part in &piece.salvaged {
        let SalvagedTo::Piece(name) = &part.to else { continue };
        let Some(index) = (!name.is_empty()).then(|| lead(name, &[], names, across)).flatten()
        else {
            continue;
        };
        if pieces[index].folder == piece.folder {
            let message = "this part went into the piece it was taken from";
            let finding = Finding::error(Code::SalvagedItself, name.place, message);
            across.say(finding.label("the piece itself").hint("name the other piece"));
        }
    }
}

/// Stock on hand when the books begin has no entries in an earlier book: it would count twice.
fn on_hand(books: &[&YearBook], across: &mut Across) {
    for book in books {
        for first in &book.on_hand {
            let earlier = books.iter().filter(|earlier| earlier.year < book.year);
            let entries = earlier.flat_map(|earlier| {
                let bought = earlier.supply.iter().map(|entry| (&entry.stock, entry.place));
                bought.chain(earlier.on_hand.iter().map(|entry| (&entry.stock, entry.place)))
            });
            let mut own = entries.filter(|(stock, _)| stock.value == first.stock.value);
            if let Some((_, place)) = own.next() {
                let stock = &first.stock.value;
                let message = format!("`{stock}` is on hand at the start, and was bought before");
                let finding = Finding::error(Code::OnHandWithHistory, first.place, message);
                let finding = finding.label("counts twice").second(place, "already here");
                across.say(finding.hint("put a `[[count]]` instead, or remove one of them"));
            }
        }
    }
}

/// Sales tax held when the books begin is known of every later year from its entries.
fn tax_held(books: &[&YearBook], across: &mut Across) {
    for book in books {
        let held = book.opening.iter().flat_map(|opening| &opening.sales_tax);
        let earlier = books.iter().any(|other| other.year < book.year);
        for (key, _) in held.filter(|_| earlier) {
            let message = "sales tax held when the books begin, in a book that is not the first";
            let finding = Finding::error(Code::OpeningTax, key.place, message);
            let hint = "remove it: what is held is reckoned from the book before on";
            across.say(finding.label("counts twice").hint(hint));
        }
    }
}

fn add_lot(lot: &Lot, names: &Names, origins: &mut [Option<Origin>], across: &mut Across) {
    let in_it: Vec<&str> = lot.pieces.iter().map(|(name, _)| name.value.as_str()).collect();
    for (name, _) in &lot.pieces {
        let Some(index) = lead(name, &in_it, names, across) else { continue };
        match &origins[index] {
            Some(first) => across.clash(bought_twice(name, first.place)),
            None => origins[index] = Some(At::new(lot.on.value, name.place)),
        }
    }
}

fn bought_twice(name: &At<String>, first: Place) -> Finding {
    Finding::error(Code::BoughtTwice, name.place, format!("`{}` is bought twice", name.value))
        .label("in this lot")
        .second(first, "and already here")
        .hint("remove the piece from the lot, or remove its other purchase")
}

/// The piece a name leads to. A name of `taken` was not meant: the entry has it already.
fn lead(name: &At<String>, taken: &[&str], names: &Names, across: &mut Across) -> Option<usize> {
    match names.lead(&name.value) {
        Led::To(index) => Some(index),
        Led::Unread => None,
        Led::Nowhere => {
            let message = format!("there is no piece `{}`", name.value);
            let finding = Finding::error(Code::UnknownPiece, name.place, message);
            across
                .say(finding.label("leads nowhere").hint(match names.nearest(&name.value, taken) {
                Some(near) => {
                    let text = format!("\"{near}\"");
                    Hint::write(&text, Edit { place: name.place, text: text.clone() })
                }
                None => Hint::say(
                    "a piece is named by its `number`, or by its folder; `dovetally start` begins \
                     a new one",
                ),
            }));
            None
        }
    }
}
