//! The listing sheet: one piece for a buyer.

use super::common::{cautions, drawing, label_text, numbered, pictures, sheet, size_block};
use super::{Subject, draft};
use crate::describe::Words;
use crate::describe::wording::{capital, date, money, number, run_on};
use crate::model::{Moment, Piece};
use crate::typeset::code::link_code;
use crate::typeset::press::Draft;
use crate::typeset::view::{Care, Condition, LabelRow, LinkCode, ListingView, Paragraphs, Price};

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
        rows: rows(subject),
        condition: condition(&words.condition),
        moving: moving(words),
        story: story(words),
        cautions: cautions(words),
        size: size_block(subject),
        drawing: drawing(subject),
        care: care(subject),
        link: link(piece),
        dated: dated(piece),
    };
    draft("listing-sheet.typ", &view, uses, subject.ident("listing sheet"))
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
        None => Price { text: "Price on asking".to_owned(), stated: false, note: None },
    }
}

fn rows(subject: &Subject) -> Vec<LabelRow> {
    let words = subject.words;
    let one = |text: &Option<String>| text.iter().cloned().collect::<Vec<_>>();
    let all = [
        ("Age", one(&words.age)),
        ("Wood", one(&words.wood)),
        ("Finish", one(&words.finish)),
        ("The work", before_and_after(words)),
        ("Not original", words.not_original.clone()),
    ];
    let told = all.into_iter().filter(|(_, parts)| !parts.is_empty());
    told.map(|(label, parts)| LabelRow { label: label.to_owned(), text: label_text(&parts) })
        .collect()
}

/// How it was found, and what was done; what was changed and put on has rows of its own.
fn before_and_after(words: &Words) -> Vec<String> {
    let told = &words.before_after;
    told.before.iter().take(1).chain(&told.work).cloned().collect()
}

fn condition(entries: &[String]) -> Option<Condition> {
    if entries.is_empty() {
        return None;
    }
    let bare = |entry: &String| entry.trim_end_matches('.').to_owned();
    let telling: Vec<String> = entries.iter().take(3).map(bare).collect();
    let count = u32::try_from(entries.len()).unwrap_or(u32::MAX);
    let summary = format!(
        "{} entries, listed in full on sheet {{sheet}}. The three to know: {}.",
        capital(&number(count)),
        telling.join("; "),
    );
    Some(Condition {
        label: "Condition".to_owned(),
        entries: entries.to_vec(),
        summary,
        heading: "Condition in full".to_owned(),
    })
}

/// What moving it takes, in one paragraph.
fn moving(words: &Words) -> Option<Paragraphs> {
    (!words.moving.is_empty()).then(|| Paragraphs {
        label: "Moving".to_owned(),
        heading: "Moving the piece".to_owned(),
        paragraphs: vec![run_on(&words.moving)],
    })
}

fn story(words: &Words) -> Option<Paragraphs> {
    let story = words.story.as_ref()?;
    let paragraphs: Vec<String> = story
        .split("\n\n")
        .map(|text| text.split_whitespace().collect::<Vec<_>>().join(" "))
        .filter(|text| !text.is_empty())
        .collect();
    (!paragraphs.is_empty()).then(|| Paragraphs {
        label: "Story".to_owned(),
        heading: "The story of the piece".to_owned(),
        paragraphs,
    })
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
        let condition = condition(&entries).unwrap();
        assert_eq!(
            condition.summary,
            "Six entries, listed in full on sheet {sheet}. The three to know: Mark 1; Mark 2; Mark 3."
        );
        assert!(super::condition(&[]).is_none());
    }
}
