//! The care card one up, four up and in large print, in English and in the languages of the phrase files.

use super::common::{cautions_on_card, drawing, sheet_in, stock_number};
use super::{Subject, draft, layouts};
use crate::describe::{Care, ENGLISH, Language, english, words_in};
use crate::model::CardSize;
use crate::typeset::press::Draft;
use crate::typeset::view::{Card, CardDate, CardRow, CardSheetView, CardView, LargeCardView};
use chrono::NaiveDate;

/// Cards on one sheet of the four-up.
const UP: usize = 4;

/// The draft of a piece's care card in a language, front and back.
pub fn care_card(subject: &Subject, language: &Language) -> Draft {
    let title = language.label("title", &[("title", &subject.piece.title.value)]);
    let sheet = sheet_in(language, subject.shop, title);
    let size = match subject.shop.card_size {
        CardSize::A6 => "a6",
        CardSize::FourBySix => "4x6in",
    };
    let view = CardView {
        sheet,
        size: size.to_owned(),
        marks: subject.shop.card_marks,
        card: card(subject, language),
    };
    draft(layouts::CARE_CARD, &view, Vec::new(), ident(subject, "care card", language))
}

/// The draft of a piece's care card in large print, on the shop's paper.
pub fn care_card_large_print(subject: &Subject, language: &Language) -> Draft {
    let title = language.label("title-large-print", &[("title", &subject.piece.title.value)]);
    let number = stock_number(subject.piece);
    let view = LargeCardView {
        sheet: sheet_in(language, subject.shop, title),
        number_continued: language.label("number-continued", &[("number", &number)]),
        card: card(subject, language),
    };
    let ident = ident(subject, "care card large print", language);
    draft(layouts::CARE_CARD_LARGE_PRINT, &view, Vec::new(), ident)
}

/// The draft of a sheet of the same card four times, with cut marks; a set gets as many sheets as
/// its members need.
pub fn care_cards_four_up(subject: &Subject, language: &Language) -> Draft {
    let copies = (subject.piece.count as usize).div_ceil(UP) * UP;
    let title = language.label("title-four-up", &[("title", &subject.piece.title.value)]);
    let sheet = sheet_in(language, subject.shop, title);
    let view = CardSheetView { sheet, cards: vec![card(subject, language)], copies };
    let ident = ident(subject, "care card four up", language);
    draft(layouts::CARE_CARD_FOUR_UP, &view, Vec::new(), ident)
}

fn ident(subject: &Subject, document: &str, language: &Language) -> String {
    match language.code {
        ENGLISH => subject.ident(document),
        code => subject.ident(&format!("{document} {code}")),
    }
}

fn card(subject: &Subject, language: &Language) -> Card {
    let translated;
    let words = if language.code == ENGLISH {
        subject.words
    } else {
        translated = words_in(language, subject.shop, subject.piece, subject.words);
        &translated
    };
    let label = |id: &str| language.label(id, &[]);
    let care = &words.care;
    let finish = care.finish.clone();
    Card {
        heading: subject.piece.title.value.clone(),
        own_lang: english().code.to_owned(),
        number: language.label("number", &[("number", &stock_number(subject.piece))]),
        care_of: label("care-of"),
        back: label("back"),
        drawing: drawing(subject),
        finish: finish.map(|about| CardRow {
            label: label("finish"),
            sentences: care.put_on.iter().cloned().chain([about]).collect(),
        }),
        dates: dates(care, language),
        until: until(care, language),
        rows: rows(care, language),
        cautions: cautions_on_card(words, language),
    }
}

/// What to keep from until the finish is hard, and what makes that later.
fn until(care: &Care, language: &Language) -> Option<String> {
    let words = care.until.as_ref()?.trim_end_matches('.');
    let until = language.label("until", &[("words", words)]);
    Some(match &care.slow {
        Some(slow) => format!("{until} {slow}"),
        None => until,
    })
}

/// A card never leaves a date blank, to be read as "now".
/// Nothing for what has no finish that gets hard.
fn dates(care: &Care, language: &Language) -> Vec<CardDate> {
    if care.finish.is_none() {
        return Vec::new();
    }
    let dated = |with_day: &str, without: &str, on: Option<NaiveDate>| match on {
        Some(on) => {
            CardDate { label: language.label(with_day, &[]), text: language.date(on), stated: true }
        }
        None => CardDate {
            label: language.label(without, &[]),
            text: language.label("ask-us", &[]),
            stated: false,
        },
    };
    vec![
        dated("light-use-from", "light-use", care.light_use_from),
        dated("fully-hard-on", "fully-hard", care.fully_hard_on),
    ]
}

fn rows(care: &Care, language: &Language) -> Vec<CardRow> {
    let all = [
        ("care", &care.care),
        ("never", &care.never),
        ("spill", &care.spill),
        ("renewal", &care.renewal),
    ];
    let said = all.into_iter().filter(|(_, sentences)| !sentences.is_empty());
    said.map(|(id, sentences)| CardRow {
        label: language.label(id, &[]),
        sentences: sentences.clone(),
    })
    .collect()
}
