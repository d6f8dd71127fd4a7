//! The listing sheet: one piece for a buyer.

use super::common::{drawing, label_text, numbered, pictures, sheet, size_block};
use super::{Subject, draft, layouts};
use crate::describe::wording::{capital, date, money, number, run_on};
use crate::describe::{Strength, Words, english, sources_line};
use crate::model::{Moment, Piece};
use crate::typeset::code::link_code;
use crate::typeset::press::Draft;
use crate::typeset::view::{
    Care, LinkCode, ListingCaution, ListingCautions, ListingRow, ListingView, Price,
};

/// Characters of care beside the drawing: six lines of two columns.
const CARE_ROOM: usize = 150;

/// The draft of a piece's listing sheet.
pub fn listing_sheet(subject: &Subject) -> Draft {
    let (piece, words) = (subject.piece, subject.words);
    let (photos, uses) = pictures(subject, subject.shots_of(Moment::After));
    let number = numbered(piece);
    let view = ListingView {
        sheet: sheet(subject.shop, piece.title.value.clone()),
        heading: piece.title.value.clone(),
        number_continued: format!("{number}, continued"),
        number,
        price: price(subject),
        opening: words.opening.clone(),
        photos,
        more_pictures: "More pictures".to_owned(),
        rows: rows(words),
        cautions: cautions(words),
        size: size_block(subject),
        drawing: drawing(subject),
        care: care(subject),
        link: link(piece),
        dated: dated(piece),
    };
    draft(layouts::LISTING_SHEET, &view, uses, subject.ident("listing sheet"))
}

pub fn price(subject: &Subject) -> Price {
    let piece = subject.piece;
    let asked = piece.listing.as_ref().and_then(|listing| listing.price);
    let count = subject.words.count;
    let set = (count > 1).then(|| format!("for the set of {}", number(count)));
    match asked {
        Some(asked) => {
            Price { text: money(asked.value, &subject.shop.currency), stated: true, note: set }
        }
        None => Price { text: "Price on request".to_owned(), stated: false, note: None },
    }
}

/// What stands beside the labels. Where room is short the story leaves sheet 1 first, then moving,
/// the work and the age.
fn rows(words: &Words) -> Vec<ListingRow> {
    let one = |text: &Option<String>| text.iter().cloned().collect::<Vec<_>>();
    let moving = if words.moving.is_empty() { None } else { Some(run_on(&words.moving)) };
    let rows = [
        plain("Age", one(&words.age), Some(4)),
        plain(words.made_of_label, one(&words.made_of), None),
        plain("Finish", one(&words.finish), None),
        plain("The work", words.before_after.work.clone(), Some(3)),
        disclosed("Not original", "Not original, in full", &words.not_original),
        disclosed("Condition", "Condition in full", &words.condition),
        moving.and_then(|text| row("Moving", vec![text], Some(2), None)),
        story(words),
    ];
    rows.into_iter().flatten().collect()
}

fn row(
    label: &str,
    paragraphs: Vec<String>,
    leaves: Option<u32>,
    heading: Option<&str>,
) -> Option<ListingRow> {
    (!paragraphs.is_empty()).then(|| ListingRow {
        label: label.to_owned(),
        paragraphs,
        leaves,
        heading: heading.map(str::to_owned),
        entries: Vec::new(),
        summaries: Vec::new(),
    })
}

fn plain(label: &str, parts: Vec<String>, leaves: Option<u32>) -> Option<ListingRow> {
    let text = if parts.is_empty() { Vec::new() } else { vec![label_text(&parts)] };
    row(label, text, leaves, None)
}

/// What must never go unsaid on sheet 1: in full, or how many entries there are and where.
fn disclosed(label: &str, heading: &str, entries: &[String]) -> Option<ListingRow> {
    let whole = plain(label, entries.to_vec(), None)?;
    Some(ListingRow {
        heading: Some(heading.to_owned()),
        entries: entries.to_vec(),
        summaries: summaries(entries),
        ..whole
    })
}

/// "Thirty entries, listed in full on sheet {sheet}. The three to know: …", and shorter.
fn summaries(entries: &[String]) -> Vec<String> {
    let count = u32::try_from(entries.len()).unwrap_or(u32::MAX);
    let noun = if count == 1 { "entry" } else { "entries" };
    let listed = format!("{} {noun}, listed in full on sheet {{sheet}}.", capital(&number(count)));
    let bare = |entry: &String| entry.trim_end_matches('.').to_owned();
    let three: Vec<String> = entries.iter().take(3).map(bare).collect();
    let mut said = Vec::new();
    if entries.len() > 3 {
        said.push(format!("{listed} The three to know: {}.", three.join("; ")));
    }
    if entries.len() > 1 {
        said.push(format!("{listed} The first to know: {}.", three[0]));
    }
    said.push(listed);
    said
}

/// The cautions a buyer reads; after the last one, once, their sources and that such words are general
/// information.
fn cautions(words: &Words) -> ListingCautions {
    let printed = words.cautions.iter().filter(|c| c.strength != Strength::ShopNote);
    let sources = sources_line(printed.clone(), english());
    let sources: Vec<String> = sources.into_iter().chain(words.cautions_tail.clone()).collect();
    let entry = |c: &crate::describe::Caution| ListingCaution {
        text: c.text.clone(),
        short: c.short.clone(),
    };
    let entries: Vec<ListingCaution> = printed.map(entry).collect();
    ListingCautions {
        label: if entries.len() > 1 { "Cautions" } else { "Caution" }.to_owned(),
        shortens: entries.iter().any(|entry| entry.short.is_some()),
        entries,
        sources: (!sources.is_empty()).then(|| sources.join(" ")),
        elsewhere: "In full, with the sources, on sheet 2.".to_owned(),
    }
}

fn story(words: &Words) -> Option<ListingRow> {
    let story = words.story.as_ref()?;
    let paragraphs: Vec<String> = story
        .split("\n\n")
        .map(|text| text.split_whitespace().collect::<Vec<_>>().join(" "))
        .filter(|text| !text.is_empty())
        .collect();
    row("Story", paragraphs, Some(1), Some("The story of the piece"))
}

/// The first line of each kind of care, as long as they are short: the card has all of them.
fn care(subject: &Subject) -> Option<Care> {
    let care = &subject.words.care;
    let firsts = [&care.care, &care.spill, &care.never, &care.renewal];
    let mut room = CARE_ROOM;
    let mut lines = Vec::new();
    for line in firsts.into_iter().filter_map(|sentences| sentences.first()) {
        let length = line.chars().count();
        if length <= room {
            room -= length;
            lines.push(line.clone());
        }
    }
    (!lines.is_empty()).then(|| Care { label: "Care".to_owned(), lines })
}

fn link(piece: &Piece) -> Option<LinkCode> {
    link_code("Online", &piece.listing.as_ref()?.link.as_ref()?.value)
}

/// The day it was listed; nothing asks the clock.
fn dated(piece: &Piece) -> Option<String> {
    let on = piece.listing.as_ref()?.on?;
    Some(format!("sheet of {}", date(on.value)))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_long_condition_is_summed_up_in_words() {
        let entries: Vec<String> = (1..=6).map(|i| format!("Mark {i}.")).collect();
        let row = disclosed("Condition", "Condition in full", &entries).unwrap();
        assert_eq!(
            row.summaries,
            [
                "Six entries, listed in full on sheet {sheet}. The three to know: Mark 1; Mark 2; Mark 3.",
                "Six entries, listed in full on sheet {sheet}. The first to know: Mark 1.",
                "Six entries, listed in full on sheet {sheet}.",
            ]
        );
        assert!(disclosed("Condition", "Condition in full", &[]).is_none());
    }
}
