//! What was put on a piece, by part, as its care card names it: product, sheen, coats, last day. The
//! products stay in the owner's words.

use super::finishes::{Finish, Layer};
use super::languages::Language;
use super::schedule::{care_coat, on_same_part};
use super::subject::Subject;
use super::wording::{capital, says, sentence, uncapital};
use crate::model::{Coat, Piece};

/// "Case: chalk paint (2 coats), then satin lacquer (3 coats), last coat 5 June 2025.": one sentence
/// for each part, in the order of the file.
pub(crate) fn put_on(piece: &Piece, language: &Language) -> Vec<String> {
    let mut parts: Vec<&str> = Vec::new();
    for coat in &piece.coat {
        if !parts.contains(&coat.part.as_str()) {
            parts.push(&coat.part);
        }
    }
    parts.into_iter().map(|part| on_part(piece, part, language)).collect()
}

fn on_part(piece: &Piece, part: &str, language: &Language) -> String {
    let coats: Vec<&Coat> = piece.coat.iter().filter(|coat| coat.part == part).collect();
    let layers = coats.iter().map(|coat| layer(coat, language));
    let layers = layers.reduce(|one, next| {
        language.label("then", &[("first", one.as_str()), ("next", next.as_str())])
    });
    let mut said = layers.unwrap_or_default();
    if let Some(last) = coats.iter().filter_map(|coat| coat.last.as_ref()).map(|on| on.value).max()
    {
        let date = language.date(last);
        said = language.label("last-coat", &[("layers", said.as_str()), ("date", date.as_str())]);
    }
    if !part.is_empty() {
        let part = capital(part);
        said = language.label("on-part", &[("part", part.as_str()), ("layers", said.as_str())]);
    }
    sentence(&said)
}

/// "satin lacquer (3 coats)"; one coat is named without a number.
fn layer(coat: &Coat, language: &Language) -> String {
    let product = with_sheen(coat);
    let count = coat.coats.to_string();
    match coat.coats {
        0 | 1 => product,
        _ => language.label("coats", &[("product", product.as_str()), ("count", count.as_str())]),
    }
}

fn with_sheen(coat: &Coat) -> String {
    let product = uncapital(&coat.product.value);
    match &coat.sheen {
        Some(sheen) if says(&product, sheen) => product,
        Some(sheen) if sheen.contains(' ') => format!("{product}, {sheen}"),
        Some(sheen) => format!("{} {product}", sheen.to_lowercase()),
        None => product,
    }
}

/// The product a buyer touches, in the owner's words.
pub(crate) fn product(subject: &Subject) -> Option<String> {
    let index = care_coat(subject.piece, &subject.finishes)?;
    Some(uncapital(&subject.piece.coat[index].product.value))
}

/// Whether what a buyer touches is a clear coat, an oil or a wax over paint: over a coat of paint, or
/// on a part that is called painted.
pub(crate) fn is_over_paint(subject: &Subject) -> bool {
    let coats = &subject.piece.coat;
    let Some(top) = care_coat(subject.piece, &subject.finishes) else { return false };
    let clear = |finish: &Finish| matches!(finish.layer, Layer::Film | Layer::Oil | Layer::Wax);
    let paint = |index: &usize| subject.finishes[*index].is_some_and(|f| f.layer == Layer::Paint);
    let under = (0..top).filter(|&index| on_same_part(&coats[index].part, &coats[top].part));
    let called = ["paint", "painted"].iter().any(|word| says(&coats[top].part, word));
    subject.finishes[top].is_some_and(clear) && (called || under.into_iter().any(|i| paint(&i)))
}
