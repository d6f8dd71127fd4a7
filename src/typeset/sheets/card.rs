//! The care card, one up and four up.

use super::common::{cautions_on_card, drawing, numbered, sheet};
use super::{Subject, draft};
use crate::describe::Care;
use crate::describe::wording::date;
use crate::typeset::press::Draft;
use crate::typeset::view::{Card, CardDate, CardRow, CardSheetView, CardView};
use chrono::NaiveDate;

/// Cards on one sheet of the four-up.
const UP: usize = 4;

/// The draft of a piece's care card, front and back.
pub fn care_card(subject: &Subject) -> Draft {
    let view = CardView { sheet: sheet(subject.shop, title(subject)), card: card(subject) };
    draft("care-card.typ", &view, Vec::new(), subject.ident("care card"))
}

/// The draft of a sheet of the same card four times, with cut marks; a set gets as many sheets as
/// its members need.
pub fn care_cards_four_up(subject: &Subject) -> Draft {
    let copies = (subject.piece.count as usize).div_ceil(UP) * UP;
    let view = CardSheetView {
        sheet: sheet(subject.shop, format!("{}, four up", title(subject))),
        cards: vec![card(subject); copies],
    };
    draft("care-card-four-up.typ", &view, Vec::new(), subject.ident("care card four up"))
}

fn title(subject: &Subject) -> String {
    format!("Care of the {}", subject.piece.title.value)
}

fn card(subject: &Subject) -> Card {
    let care = &subject.words.care;
    Card {
        heading: subject.piece.title.value.clone(),
        number: numbered(subject.piece),
        care_of: "Care of the".to_owned(),
        back: "Keeping it well".to_owned(),
        drawing: drawing(subject),
        finish: care
            .finish
            .clone()
            .map(|text| CardRow { label: "The finish".to_owned(), sentences: vec![text] }),
        dates: dates(care),
        until: until(care),
        rows: rows(care),
        cautions: cautions_on_card(subject.words),
    }
}

/// What to keep from until the finish is hard, and what makes that later.
fn until(care: &Care) -> Option<String> {
    let words = care.until.as_ref()?;
    let until = format!("Until then: {}.", words.trim_end_matches('.'));
    Some(match &care.slow {
        Some(slow) => format!("{until} {slow}"),
        None => until,
    })
}

/// A card never leaves a date blank, to be read as "now".
fn dates(care: &Care) -> Vec<CardDate> {
    let dated = |label: &str, on: Option<NaiveDate>| CardDate {
        label: label.to_owned(),
        text: on.map_or("ask us".to_owned(), date),
        stated: on.is_some(),
    };
    vec![dated("Light use from", care.light_use_from), dated("Fully hard on", care.fully_hard_on)]
}

fn rows(care: &Care) -> Vec<CardRow> {
    let all = [
        ("Care", &care.care),
        ("Never", &care.never),
        ("A spill", &care.spill),
        ("Renewal", &care.renewal),
    ];
    all.into_iter()
        .filter(|(_, sentences)| !sentences.is_empty())
        .map(|(label, sentences)| CardRow { label: label.to_owned(), sentences: sentences.clone() })
        .collect()
}
