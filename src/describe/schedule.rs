//! The finish schedule of a piece: in plain words, its dates, and the recipe to repeat it.

use super::Step;
use super::finishes::{Finish, finish, unknown_finish};
use super::subject::Subject;
use super::wording::{capital, is_secondary, number, says, uncapital, with_the};
use crate::model::{Coat, Piece, and_list};
use chrono::{Days, NaiveDate};

/// The coat that decides care: the last that protects on the main part, which is the first part
/// of the schedule that is not inside or behind.
pub(crate) fn care_coat(piece: &Piece, finishes: &[Option<&Finish>]) -> Option<usize> {
    let protects = |index: &usize| finishes[*index].is_none_or(Finish::protects);
    let main = piece.coat.iter().find(|coat| !is_secondary(&coat.part)).or(piece.coat.first())?;
    let on_main = |index: &usize| on_same_part(&piece.coat[*index].part, &main.part);
    let all = || (0..piece.coat.len()).rev();
    all().find(|i| protects(i) && on_main(i)).or_else(|| all().find(on_main))
}

/// What the finish that decides a piece's care is called: by the table, else as written; nothing
/// where no coat is recorded.
pub fn finish_name(piece: &Piece) -> Option<String> {
    let finishes: Vec<_> = piece.coat.iter().map(|coat| finish(&coat.product.value)).collect();
    let index = care_coat(piece, &finishes)?;
    let written = || piece.coat[index].product.value.clone();
    Some(finishes[index].map_or_else(written, |row| row.name.clone()))
}

/// Coats on the same part, or one of them on the whole piece, meet.
pub(crate) fn on_same_part(one: &str, other: &str) -> bool {
    one.is_empty() || other.is_empty() || one.eq_ignore_ascii_case(other)
}

/// The finish line: "Three coats of satin lacquer over oil stain on the outside; paste wax on the
/// drawer runners."
pub(crate) fn finish_line(piece: &Piece) -> Option<String> {
    let mut parts: Vec<&str> = Vec::new();
    for coat in &piece.coat {
        if !parts.contains(&coat.part.as_str()) {
            parts.push(&coat.part);
        }
    }
    let lines: Vec<String> = parts.iter().map(|part| part_line(piece, part)).collect();
    (!lines.is_empty()).then(|| format!("{}.", capital(&lines.join("; "))))
}

/// The top layer over those below it, downwards.
fn part_line(piece: &Piece, part: &str) -> String {
    let coats = piece.coat.iter().rev().filter(|coat| coat.part == part);
    let layers: Vec<String> = coats.map(layer_words).collect();
    let below = layers.get(1..).filter(|below| !below.is_empty());
    let below = below.map(|below| format!(" over {}", and_list(below))).unwrap_or_default();
    let place = if part.is_empty() { String::new() } else { format!(" on {}", with_the(part)) };
    let stop = if layers.len() > 2 && !place.is_empty() { "," } else { "" };
    format!("{}{below}{stop}{place}", layers.first().map_or("", String::as_str))
}

/// "three coats of satin water-based polyurethane"; one coat is named without a number.
pub(crate) fn layer_words(coat: &Coat) -> String {
    let product = match &coat.sheen {
        Some(sheen) if says(&coat.product.value, sheen) => uncapital(&coat.product.value),
        Some(sheen) if sheen.contains(' ') => {
            format!("{}, {sheen},", uncapital(&coat.product.value))
        }
        Some(sheen) => format!("{} {}", sheen.to_lowercase(), uncapital(&coat.product.value)),
        None => uncapital(&coat.product.value),
    };
    match coat.coats {
        0 | 1 => product,
        n => format!("{} coats of {product}", number(n)),
    }
}

/// When a piece may be used lightly, and when its finish is fully hard.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub(crate) struct Dates {
    pub light_use: Option<NaiveDate>,
    pub hard: Option<NaiveDate>,
}

/// The latest date of all layers: last coat plus the upper end of the table's range, or the days
/// on the owner's can. Nothing unless every part's last protecting coat has its day and its days.
pub(crate) fn dates(subject: &Subject) -> Dates {
    let coats = &subject.piece.coat;
    let last = |index: usize| {
        let later =
            (index + 1..coats.len()).filter(|&i| subject.finishes[i].is_none_or(Finish::protects));
        !later.into_iter().any(|i| coats[i].part == coats[index].part)
    };
    let hardening = |index: &usize| subject.finishes[*index].is_none_or(Finish::hardens);
    let asked: Vec<usize> = (0..coats.len()).filter(hardening).collect();
    let certain = |pick: fn(&Coat, Option<&Finish>) -> Option<NaiveDate>| {
        let mut latest = None;
        for &index in &asked {
            match pick(&coats[index], subject.finishes[index]) {
                Some(day) => latest = latest.max(Some(day)),
                None if last(index) => return None,
                None => {}
            }
        }
        latest
    };
    let light_use =
        certain(|coat, finish| after(coat, coat.light_use_days, finish, |f| f.light_use_days[1]));
    let hard = certain(|coat, finish| after(coat, coat.cure_days, finish, |f| f.cure_days[1]));
    Dates { light_use, hard }
}

fn after(
    coat: &Coat,
    own: Option<u32>,
    finish: Option<&Finish>,
    table: fn(&Finish) -> u32,
) -> Option<NaiveDate> {
    let days = own.or_else(|| finish.filter(|finish| !finish.fallback).map(table))?;
    coat.last.as_ref()?.value.checked_add_days(Days::new(days.into()))
}

/// The finish that decides care; the most delicate where none is recorded or known.
pub(crate) fn care_finish<'a>(subject: &Subject<'a>) -> &'a Finish {
    subject.care.unwrap_or(unknown_finish())
}

/// The schedule as numbered steps, in the order of the file.
pub(crate) fn recipe(subject: &Subject) -> Vec<Step> {
    let steps = subject.piece.coat.iter().zip(&subject.finishes);
    let step = |(coat, finish): (&Coat, &Option<&Finish>)| Step {
        text: step_text(coat, *finish),
        on: coat.last.as_ref().map(|on| on.value),
    };
    steps.map(step).collect()
}

fn step_text(coat: &Coat, finish: Option<&Finish>) -> String {
    let mut text = capital(&layer_words(coat));
    if !coat.part.is_empty() {
        text += &format!(" on {}", with_the(&coat.part));
    }
    if let Some(between) = &coat.between {
        text += &format!("; {} between coats", uncapital(between));
    }
    let next = finish.filter(|finish| coat.coats > 1 && !finish.recoat.is_empty());
    if let Some(finish) = next {
        text += &format!("; next coat: {}", finish.recoat);
    }
    if let Some(note) = &coat.note {
        text += &format!("; {}", uncapital(note.trim_end_matches('.')));
    }
    format!("{text}.")
}
