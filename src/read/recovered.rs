//! What still stands of a book with errors, and what may be missing with the rest: one broken entry
//! costs only itself.

use super::assemble::names as names_of;
use super::damage::{Damage, names};
use super::load::Taken;
use crate::model::{Lacks, Piece, Place, YearBook};
use chrono::NaiveDate;
use std::collections::{BTreeMap, BTreeSet};

/// Tables of a book that no piece is reckoned from.
const APART: [&str; 10] = [
    "expense",
    "income",
    "estimate-paid",
    "reported",
    "remitted",
    "opening",
    "method",
    "workspace",
    "vehicle",
    "bank",
];
/// Tables that add to what stock there is.
const STOCK: [&str; 4] = ["supply", "refund", "count", "on-hand"];

/// A book with errors: its text, where they are, and its year.
pub(super) struct BrokenBook<'a> {
    book: &'a YearBook,
    /// The first day of its year.
    first: NaiveDate,
    damage: Damage<'a>,
}

impl<'a> BrokenBook<'a> {
    pub fn of(
        book: &'a YearBook,
        first: NaiveDate,
        text: &'a str,
        errors: &[Place],
    ) -> BrokenBook<'a> {
        BrokenBook { book, first, damage: Damage::of(text, errors, &starts(book)) }
    }

    /// The entries without an error.
    pub fn sound(&self) -> YearBook {
        let mut book = self.book.clone();
        let lost = |place: Place| self.damage.touches(place);
        book.expense.retain(|entry| !lost(entry.place));
        book.income.retain(|entry| !lost(entry.place));
        book.estimate_paid.retain(|entry| !lost(entry.place));
        book.supply.retain(|entry| !lost(entry.place));
        book.refund.retain(|entry| !lost(entry.place));
        book.count.retain(|entry| !lost(entry.place));
        book.trip.retain(|entry| !lost(entry.place));
        book.lot.retain(|entry| !lost(entry.place));
        book.bundle.retain(|entry| !lost(entry.place));
        book.reported.retain(|entry| !lost(entry.place));
        book.remitted.retain(|entry| !lost(entry.place));
        book.on_hand.retain(|entry| !lost(entry.place));
        book.opening = book.opening.filter(|entry| !lost(entry.place));
        book.method = book.method.filter(|entry| !lost(entry.place));
        book.workspace = book.workspace.filter(|entry| !lost(entry.place));
        book.vehicle = book.vehicle.filter(|entry| !lost(entry.place));
        book.bank = book.bank.filter(|entry| !lost(entry.place));
        book
    }

    /// What the lost entries may have been about.
    pub fn lacks(&self, pieces: &[&Taken<Piece>], in_lots: &BTreeSet<&str>) -> Lacks {
        let mut lacks = Lacks::default();
        let called = Called::of(pieces);
        let unbought = self.unbought(pieces, in_lots);
        let values = pieces.iter().filter_map(|piece| piece.value.as_ref());
        let drawn: BTreeSet<String> = values.flat_map(drawn).collect();
        if self.damage.lost().any(|(head, text)| may_be(head, text, &["lot"])) {
            lacks.pieces.extend(unbought);
        }
        // Of a book with errors no bundle was taken, sound as it may be.
        let bundled = self.book.bundle.iter().flat_map(|bundle| &bundle.pieces);
        lacks
            .pieces
            .extend(bundled.filter_map(|(name, _)| called.folders.get(&name.value).cloned()));
        for (head, text) in self.damage.lost() {
            let named = called.named_in(text);
            if may_be(head, text, &["trip"]) && named.is_empty() && names(text, "piece") {
                lacks.pieces.extend(called.folders());
            }
            if !APART.contains(&head) {
                lacks.pieces.extend(named);
            }
            if may_be(head, text, &STOCK) {
                let any = names_no_stock(text);
                let meant = drawn.iter().filter(|key| any || names(text, key));
                lacks.stock.extend(meant.cloned());
            }
        }
        lacks
    }

    /// Pieces that nothing says how they came in, and that may have come in this year.
    fn unbought(&self, pieces: &[&Taken<Piece>], in_lots: &BTreeSet<&str>) -> Vec<String> {
        let later = |piece: &Taken<Piece>| piece.since.is_none_or(|day| day >= self.first);
        let in_lot =
            |piece: &Taken<Piece>| names_of(piece).iter().any(|n| in_lots.contains(n.as_str()));
        let unbought = pieces.iter().filter(|piece| later(piece) && !in_lot(piece));
        let values = unbought.filter_map(|piece| piece.value.as_ref());
        values.filter(|value| value.bought.is_none()).map(|value| value.folder.clone()).collect()
    }
}

/// The folder of each piece by every name it can be called by.
struct Called {
    folders: BTreeMap<String, String>,
}

impl Called {
    fn of(pieces: &[&Taken<Piece>]) -> Called {
        let folder =
            |piece: &&&Taken<Piece>| piece.value.as_ref().map(|value| value.folder.clone());
        let called = pieces.iter().filter_map(|piece| Some((piece, folder(&piece)?)));
        let folders = called.flat_map(|(piece, folder)| {
            names_of(piece).into_iter().map(move |name| (name, folder.clone()))
        });
        Called { folders: folders.collect() }
    }

    fn folders(&self) -> impl Iterator<Item = String> {
        self.folders.values().cloned()
    }

    /// The pieces whose names stand in a text.
    fn named_in(&self, text: &str) -> Vec<String> {
        let part = |c: char| c.is_alphanumeric() || matches!(c, '-' | '_' | '/' | '.');
        let words = text.split(|c| !part(c)).filter_map(|word| self.folders.get(word));
        let spaced = self.folders.iter().filter(|(name, _)| !name.chars().all(part));
        let spaced = spaced.filter(|(name, _)| names(text, name)).map(|(_, folder)| folder);
        words.chain(spaced).cloned().collect()
    }
}

/// Whether a lost stretch may hold an entry of one of these tables: by its head, and where that
/// says nothing, by the words in it.
fn may_be(head: &str, text: &str, tables: &[&str]) -> bool {
    match head {
        "" => tables.iter().any(|table| names(text, table)),
        head if APART.contains(&head) => false,
        "lot" | "trip" => tables.contains(&head),
        head if STOCK.contains(&head) => tables.contains(&head),
        _ => true,
    }
}

/// Whether a lost purchase of stock does not even say of which: then it may be of any.
fn names_no_stock(text: &str) -> bool {
    let stock = text.lines().find(|line| line.trim_start().starts_with("stock"));
    let closed = |line: &str| line.matches('"').count() == 2;
    !stock.is_some_and(closed)
}

fn drawn(piece: &Piece) -> impl Iterator<Item = String> {
    piece.used.iter().map(|used| used.stock.value.clone())
}

/// Where each entry that was read begins.
fn starts(book: &YearBook) -> BTreeSet<u32> {
    let mut places: Vec<Place> = Vec::new();
    places.extend(book.expense.iter().map(|entry| entry.place));
    places.extend(book.income.iter().map(|entry| entry.place));
    places.extend(book.estimate_paid.iter().map(|entry| entry.place));
    places.extend(book.supply.iter().map(|entry| entry.place));
    places.extend(book.refund.iter().map(|entry| entry.place));
    places.extend(book.count.iter().map(|entry| entry.place));
    places.extend(book.trip.iter().map(|entry| entry.place));
    places.extend(book.lot.iter().map(|entry| entry.place));
    places.extend(book.bundle.iter().map(|entry| entry.place));
    places.extend(book.reported.iter().map(|entry| entry.place));
    places.extend(book.remitted.iter().map(|entry| entry.place));
    places.extend(book.on_hand.iter().map(|entry| entry.place));
    places.extend(book.opening.iter().map(|entry| entry.place));
    places.extend(book.method.iter().map(|entry| entry.place));
    places.extend(book.workspace.iter().map(|entry| entry.place));
    places.extend(book.vehicle.iter().map(|entry| entry.place));
    places.extend(book.bank.iter().map(|entry| entry.place));
    places.into_iter().map(|place| place.start).collect()
}
