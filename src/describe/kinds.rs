//! Which kind of furniture a piece is: as stated, else the last kind its title names.

use super::wording::{flat, last_end};
use crate::model::{Kind, Piece, kind, kinds};

/// The kind of a piece; nothing when neither `kind` nor the title names one of the table.
pub fn kind_of(piece: &Piece) -> Option<&'static Kind> {
    match &piece.kind {
        Some(stated) => kind(&stated.value).or_else(|| kind_in(&stated.value)),
        None => kind_in(&piece.title.value),
    }
}

/// What the kind of a piece is called, several of them: "washstands"; an unknown kind as written.
/// Nothing where no kind is stated or named.
pub fn kind_name(piece: &Piece) -> Option<String> {
    let stated = || piece.kind.as_ref().map(|stated| stated.value.trim().to_owned());
    kind_of(piece).map(|kind| kind.plural.clone()).or_else(stated)
}

/// The kind a phrase names last, and of those the longest: "chair desk" is a desk. What comes
/// after "with" is not the piece.
fn kind_in(phrase: &str) -> Option<&'static Kind> {
    let text = flat(phrase);
    let text = format!("{} ", text.split(" with ").next().unwrap_or("").trim_end());
    let found = kinds().iter().filter_map(|kind| Some((best_place(&text, kind)?, kind)));
    found.max_by_key(|(place, _)| *place).map(|(_, kind)| kind)
}

fn best_place(text: &str, kind: &Kind) -> Option<(usize, usize)> {
    let names = kind.aliases.iter().chain([&kind.name, &kind.plural]);
    names.filter_map(|name| Some((last_end(text, name)?, name.len()))).max()
}
