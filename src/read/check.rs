//! Contradictions and references across the files, once each was read by itself.
//!
//! Only files whose every value is the owner's own are looked at, so that no finding follows from
//! another. A contradiction inside a piece breaks that piece; one between two files breaks both.

mod life;
mod names;
mod origin;
mod receipts;

use crate::model::{FileId, Finding, Piece, YearBook};
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
}

/// Checks the pieces and books against each other. `unread` are the names and folders of pieces
/// whose files have errors: naming one of them leads somewhere all the same.
pub(super) fn across(pieces: &[&Piece], books: &[&YearBook], unread: Vec<String>) -> Across {
    let mut across = Across::default();
    let names = names::Names::of(pieces, unread, &mut across);
    let origins = origin::origins(pieces, books, &names, &mut across);
    for (piece, origin) in pieces.iter().zip(origins) {
        life::check(piece, origin, &mut across);
    }
    receipts::check(pieces, books, &mut across);
    across
}
