//! What each paper still lacks, by the key to type.

use super::kinds::kind_of;
use super::size::missing_sides;
use super::subject::is_woodless;
use super::{Care, Caution, Document, Lack, Strength};
use crate::model::{Finding, Moment, Piece, and_list};

/// The lacks of a piece, what is needed before what would only make it better.
pub(crate) fn lacks(
    piece: &Piece,
    cautions: &[Caution],
    care: &Care,
    refused: &[Finding],
) -> Vec<Lack> {
    let mut lacks = needed(cautions, refused);
    for document in [Document::ListingSheet, Document::Description] {
        lacks.extend(for_buyers(piece, document).into_iter().map(|what| better(document, what)));
    }
    lacks.extend(for_card(piece, care).map(|what| better(Document::CareCard, what)));
    lacks.extend(for_record(piece).into_iter().map(|what| better(Document::ShopRecord, what)));
    lacks
}

fn better(document: Document, what: impl Into<String>) -> Lack {
    Lack { document, what: what.into(), needed: false }
}

/// Holds, and words that cannot be printed, keep both papers for buyers back.
fn needed(cautions: &[Caution], refused: &[Finding]) -> Vec<Lack> {
    let held = cautions.iter().filter(|caution| caution.strength == Strength::Hold);
    let held = held.map(|caution| {
        format!("{}: {}", caution.state.as_deref().unwrap_or("the fact"), caution.reason)
    });
    let words = refused.iter().map(|finding| format!("other words: {}", finding.message));
    let all: Vec<String> = held.chain(words).collect();
    let papers = [Document::ListingSheet, Document::Description];
    let lack =
        |document| all.iter().map(move |what| Lack { document, what: what.clone(), needed: true });
    papers.into_iter().flat_map(lack).collect()
}

fn for_buyers(piece: &Piece, document: Document) -> Vec<String> {
    let mut lacks = Vec::new();
    let mut lack = |missing: bool, what: &str| {
        if missing {
            lacks.push(what.to_owned());
        }
    };
    let photo = piece.photo.iter().any(|photo| photo.moment == Moment::After);
    lack(!photo && document == Document::ListingSheet, "`[[photo]]`: a picture");
    let made_of = piece.wood.len() + piece.material.len();
    lack(made_of == 0, "`[[wood]]`, or `[[material]]`: what it is made of");
    lack(needs_coat(piece), "`[[coat]]`: the finish and its care");
    let priced = piece.listing.as_ref().is_some_and(|listing| listing.price.is_some());
    lack(!priced, "`price` in `[listing]`: the price");
    lack(kind_of(piece).is_none(), "`kind`: the opening and the cautions of its kind");
    lack(piece.made.value.latest().is_none(), "`made`: its age");
    let sides: Vec<String> = missing_sides(piece).iter().map(|key| format!("`{key}`")).collect();
    if !sides.is_empty() {
        lacks.push(format!("{}: the size and the scale drawing", and_list(&sides)));
    }
    let mut lack = |missing: bool, what: &str| {
        if missing {
            lacks.push(what.to_owned());
        }
    };
    lack(piece.weight.is_none(), "`weight`: what it weighs, as scaled");
    lack(piece.function.is_none(), "`function`: whether everything works");
    lack(piece.completeness.is_none(), "`completeness`: whether anything is missing");
    lacks.extend(super::fit::lack(piece).map(str::to_owned));
    lacks
}

/// What has no wood may have no finish.
fn needs_coat(piece: &Piece) -> bool {
    piece.coat.is_empty() && !is_woodless(piece)
}

fn for_card(piece: &Piece, care: &Care) -> Option<&'static str> {
    match (piece.coat.is_empty(), care.fully_hard_on) {
        (true, _) if is_woodless(piece) => None,
        (true, _) => Some("`[[coat]]`: the finish, its care and the day it is hard"),
        (false, None) => Some("`last` in `[[coat]]`: the day it is fully hard"),
        (false, Some(_)) => None,
    }
}

fn for_record(piece: &Piece) -> Vec<&'static str> {
    let before = piece.photo.iter().any(|photo| photo.moment == Moment::Before);
    let lacking = [
        (piece.bought.is_none(), "`[bought]`: what it cost, unless it is in a lot"),
        (piece.work.is_empty(), "`hours`: what an hour earned"),
        (needs_coat(piece), "`[[coat]]`: the recipe to repeat the finish"),
        (!before, "`[[photo]]` with `moment = \"before\"`: before and after"),
    ];
    lacking.into_iter().filter(|(missing, _)| *missing).map(|(_, what)| what).collect()
}
