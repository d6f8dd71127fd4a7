//! Which kind of furniture a piece is: as stated, else the last kind its title names.

use super::wording::{flat, last_end};
use crate::model::{Kind, Piece, kind, kinds};
use std::sync::LazyLock;

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

/// The kind a phrase names last, and of those the longest: "chair desk" is a desk.
fn kind_in(phrase: &str) -> Option<&'static Kind> {
    let text = of_the_piece(phrase);
    let ends = |name: &Name| Some((text.rfind(&name.flat)? + name.flat.len(), name.flat.len()));
    let found = NAMES.iter().filter_map(|name| Some((ends(name)?, name.kind)));
    found.max_by_key(|(place, _)| *place).map(|(_, kind)| kind)
}

/// A name of a kind as it is looked for.
struct Name {
    flat: String,
    kind: &'static Kind,
}

/// Every name of every kind, in the order of the table.
static NAMES: LazyLock<Vec<Name>> = LazyLock::new(|| {
    let names = |kind: &'static Kind| {
        let all = kind.aliases.iter().chain([&kind.name, &kind.plural]);
        all.map(move |name| Name { flat: flat(name), kind })
    };
    kinds().iter().flat_map(names).collect()
});

/// What one piece of a kind is called: by the owner's own word where that is one of the kind's names,
/// so that a bar cart is not called a tea cart.
pub(crate) fn kind_word<'a>(piece: &Piece, kind: &'a Kind) -> &'a str {
    let text = of_the_piece(piece.kind.as_ref().map_or(&piece.title.value, |stated| &stated.value));
    let names = kind.aliases.iter().chain([&kind.name]);
    let said = names.filter_map(|name| Some((last_end(&text, name)?, name.len(), name)));
    // The row's own name before another way to write it.
    let said = said.max_by_key(|(end, length, name)| (*end, *length, *name == &kind.name));
    said.map_or(&kind.name, |(_, _, name)| name)
}

/// A phrase, flattened, without what comes after "with": that is not the piece.
fn of_the_piece(phrase: &str) -> String {
    let text = flat(phrase);
    format!("{} ", text.split(" with ").next().unwrap_or("").trim_end())
}
