//! Contradictions and references across the files, once each was read by itself.
//!
//! Only values that are the owner's own are looked at, so that no finding follows from another: of a
//! file with a stand-in among its values, only its dates where those stand. A contradiction inside
//! a piece breaks that piece; one between two files breaks both.

mod early;
mod life;
mod names;
mod odd;
mod origin;
mod receipts;
mod trips;

pub(super) use names::Unread;
pub(super) use odd::Confirmed;

use crate::model::{At, FileId, Finding, Order, Piece, Shop, YearBook};
use origin::Origin;
use std::collections::BTreeSet;

/// What the checks found, and which files no figure may be made from.
#[derive(Default)]
pub(super) struct Across {
    pub findings: Vec<Finding>,
    pub broken: BTreeSet<FileId>,
}

impl Across {
    /// A fault of the file it is placed in, or a warning.
    fn say(&mut self, finding: Finding) {
        if finding.is_error() {
            self.broken.insert(finding.place.file);
        }
        self.findings.push(finding);
    }

    /// Two files that cannot both be right.
    fn clash(&mut self, finding: Finding) {
        self.broken.extend(finding.second.as_ref().map(|(place, _)| place.file));
        self.say(finding);
    }

    /// What the dates of a piece alone can say: so that a fault elsewhere in its file hides none
    /// of them. A purchase in a lot is not looked for, as the piece's own number may be unread.
    pub fn days_of(&mut self, piece: &Piece) {
        let bought = piece.bought.as_ref().map(|bought| At::new(bought.on.value, bought.place));
        if let Some(origin) = bought {
            early::check(piece, &origin, self);
        }
    }
}

/// What of the files is the owner's own, each read by itself.
pub(super) struct Written<'a> {
    pub shop: Option<&'a Shop>,
    pub pieces: &'a [&'a Piece],
    pub books: &'a [&'a YearBook],
    /// Books whose names of pieces are the owner's own, though other entries may have errors.
    pub named: &'a [&'a YearBook],
    pub orders: &'a [&'a Order],
}

/// Checks the pieces and books against each other. Naming a piece whose file has errors leads
/// somewhere all the same.
pub(super) fn across(
    written: &Written,
    unread: Unread,
    unread_books: usize,
    confirmed: &Confirmed,
) -> Across {
    let Written { shop, pieces, books, named, orders } = *written;
    let mut across = Across::default();
    let names = names::Names::of(pieces, unread, &mut across);
    let origins = origin::origins(pieces, named, &names, &mut across);
    for (piece, origin) in pieces.iter().zip(&origins) {
        life::check(piece, &mut across);
        if let Some(origin) = origin {
            early::check(piece, origin, &mut across);
        }
    }
    let known: Vec<(&Piece, Option<Origin>)> = pieces.iter().copied().zip(origins).collect();
    // A piece may have come in by a lot of a book that was not read to its end.
    let all_books = named.len() == books.len() && unread_books == 0;
    odd::check(shop, &known, books, orders, all_books, confirmed, &mut across);
    receipts::check(pieces, books, orders, &mut across);
    trips::check(books, &mut across);
    across
}
