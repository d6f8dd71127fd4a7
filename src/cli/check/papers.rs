//! Which papers are ready: a line per paper and state, and everything about one piece's.

use super::super::opened::{Known, KnownPiece};
use super::MOST_NAMED;
use crate::describe::{Caution, Document, Lack, Standing, Strength};
use crate::model::{and_list, counted};

const DOCUMENTS: [(Document, &str); 4] = [
    (Document::ListingSheet, "listing sheet"),
    (Document::Description, "description"),
    (Document::CareCard, "care card"),
    (Document::ShopRecord, "shop record"),
];

/// How far a paper of a piece is.
#[derive(Clone, Copy, PartialEq, Eq)]
pub(super) enum Readiness {
    Ready,
    /// A fact must be stated first.
    Held,
    /// Something else is needed first.
    NotReady,
}

impl Readiness {
    pub fn word(self) -> &'static str {
        match self {
            Readiness::Ready => "ready",
            Readiness::Held => "held",
            Readiness::NotReady => "not ready",
        }
    }
}

/// Every paper of a piece by its name, and how far it is.
pub(super) fn readiness(standing: &Standing) -> Vec<(&'static str, Readiness)> {
    let held = holds(&standing.cautions).next().is_some();
    let stopped = |d| standing.lacks.iter().any(|lack| lack.document == d && lack.needed);
    let state = |document| match held && is_for_buyers(document) {
        true => Readiness::Held,
        false if stopped(document) => Readiness::NotReady,
        false => Readiness::Ready,
    };
    DOCUMENTS.iter().map(|(document, name)| (*name, state(*document))).collect()
}

/// A line per paper and state, of the pieces still in the shop.
pub(super) fn paper_lines(known: &Known) -> String {
    let here = |one: &KnownPiece| one.tally.is_none_or(|tally| tally.units.left() > 0);
    let pieces: Vec<KnownPiece> = known.pieces().filter(here).collect();
    let mut text = String::new();
    for (position, (_, name)) in DOCUMENTS.iter().enumerate() {
        for state in [Readiness::Ready, Readiness::Held, Readiness::NotReady] {
            let is = |one: &&KnownPiece| readiness(known.standing(one.index))[position].1 == state;
            let named: Vec<&str> = pieces.iter().filter(is).map(|one| one.piece.name()).collect();
            if !named.is_empty() {
                text += &format!("{name:<14} {:<10} {}\n", state.word(), names(&named));
            }
        }
    }
    text
}

fn names(named: &[&str]) -> String {
    match named.len() {
        0..=MOST_NAMED => and_list(named),
        many => format!(
            "{}, from {} to {}",
            counted(many, "piece", "pieces"),
            named[0],
            named[many - 1]
        ),
    }
}

/// Everything about the papers of one piece.
pub(super) fn piece_words(piece: KnownPiece, standing: &Standing, advice: bool) -> String {
    let mut text = format!("{}  {}\n", piece.piece.name(), piece.piece.title.value);
    let papers = readiness(standing);
    for state in [Readiness::Ready, Readiness::Held, Readiness::NotReady] {
        let of_state = papers.iter().filter(|(_, is)| *is == state).map(|(name, _)| *name);
        let of_state: Vec<&str> = of_state.collect();
        if !of_state.is_empty() {
            text += &format!("    {}: {}\n", state.word(), and_list(&of_state));
        }
    }
    for hold in holds(&standing.cautions) {
        let state = hold.state.as_deref().unwrap_or("the fact");
        text += &format!("    held because {}; state what is so: {state}\n", hold.reason);
    }
    for caution in standing.cautions.iter().filter(|c| c.strength != Strength::Hold) {
        let strength = if caution.strength == Strength::Caution { "caution" } else { "shop note" };
        text += &format!("    {strength} {}: {}\n", caution.id, caution.reason);
    }
    for lack in standing.lacks.iter().filter(|lack| lack.needed || advice) {
        text += &lacking(lack);
    }
    text
}

fn holds(cautions: &[Caution]) -> impl Iterator<Item = &Caution> {
    cautions.iter().filter(|caution| caution.strength == Strength::Hold)
}

/// A hold stops what a buyer reads before buying; the card and the record are still made.
fn is_for_buyers(document: Document) -> bool {
    matches!(document, Document::ListingSheet | Document::Description)
}

fn lacking(lack: &Lack) -> String {
    let name = DOCUMENTS.iter().find(|(d, _)| *d == lack.document).map_or("", |(_, name)| name);
    let verb = if lack.needed { "needs" } else { "would gain from" };
    format!("    {name} {verb} {}\n", lack.what)
}
