//! What a piece is called in books: its number, or the name of its folder.

use super::Across;
use crate::model::{Code, Finding, Piece, nearest};
use std::collections::{BTreeMap, BTreeSet};

/// Every name a piece can be called by.
pub(super) struct Names<'a> {
    known: BTreeMap<&'a str, usize>,
    unread: Unread,
}

/// What the pieces are called whose files have errors.
#[derive(Default)]
pub(in super::super) struct Unread {
    pub names: BTreeSet<String>,
    /// There is one whose number could not be read: any name may be its own.
    pub nameless: bool,
}

/// Where a name leads.
pub(super) enum Led {
    /// To the piece at this position.
    To(usize),
    /// To a piece whose file has errors, which are said there.
    Unread,
    Nowhere,
}

impl<'a> Names<'a> {
    /// Two pieces of one name are a contradiction between their files.
    pub fn of(pieces: &[&'a Piece], unread: Unread, across: &mut Across) -> Names<'a> {
        let mut known: BTreeMap<&str, usize> = BTreeMap::new();
        for (index, piece) in pieces.iter().enumerate() {
            match known.get(piece.name()) {
                Some(&first) => across.clash(twice(pieces[first], piece)),
                None => drop(known.insert(piece.name(), index)),
            }
        }
        for (index, piece) in pieces.iter().enumerate() {
            known.entry(&piece.folder).or_insert(index);
        }
        Names { known, unread }
    }

    pub fn lead(&self, name: &str) -> Led {
        match self.known.get(name) {
            Some(&index) => Led::To(index),
            None if self.unread.nameless || self.unread.names.contains(name) => Led::Unread,
            None => Led::Nowhere,
        }
    }

    /// The name that was meant, of those that are not `taken`.
    pub fn nearest(&self, written: &str, taken: &[&str]) -> Option<&str> {
        let unread = self.unread.names.iter().map(String::as_str);
        let names = self.known.keys().copied().chain(unread);
        nearest(written, names.filter(|name| !taken.contains(name)))
    }
}

fn twice(first: &Piece, second: &Piece) -> Finding {
    let place = |piece: &Piece| piece.number.as_ref().map_or(piece.place, |number| number.place);
    let message = format!("two pieces are called `{}`", second.name());
    Finding::error(Code::NameTwice, place(second), message)
        .label("the same name again")
        .second(place(first), "first here")
        .hint("give one of the two files a `number` of its own")
}
