//! The way of a piece from as found to finished, in sentences made only of what is stated: what the
//! pictures before show, the work with its days, the changes, and what was put on.

use super::BeforeAfter;
use super::condition::{change_sentence, is_grit, is_skipped, participle, takes_particle};
use super::schedule::layer_words;
use super::wording::{agree, capital, date, is_preposition, says, sentence, with_the, words};
use crate::model::{Coat, Moment, Piece, Work, and_list};
use chrono::{Datelike, NaiveDate};

/// Pictures before that are told; more would be a list.
const MOST_BEFORE: usize = 2;

/// The way of a piece; empty parts where nothing is stated.
pub(crate) fn before_after(piece: &Piece) -> BeforeAfter {
    let shown = piece.photo.iter().filter(|photo| photo.moment == Moment::Before);
    let shown = shown.filter_map(|photo| photo.shows.as_deref()).take(MOST_BEFORE);
    let changed = piece.change.iter().map(change_sentence);
    let told: Vec<&Work> = piece.work.iter().filter(|work| !is_skipped(&work.task)).collect();
    BeforeAfter {
        before: shown.map(sentence).collect(),
        work: work(&told, piece.count > 1),
        days: days(&told),
        after: changed.chain(coats(piece)).collect(),
    }
}

/// What a task says was done: to the whole piece, to a part of it, or in words that name no work of
/// the table.
#[derive(Debug, PartialEq, Eq)]
enum Deed {
    Whole(String),
    Part(String),
    Other(String),
}

/// "It was stripped and sanded. The long drawer was re-glued."
fn work(told: &[&Work], several: bool) -> Vec<String> {
    let (mut whole, mut parts, mut other) = (Vec::new(), Vec::new(), Vec::new());
    for deed in told.iter().flat_map(|work| deeds(&work.task)) {
        let (list, text) = match deed {
            Deed::Whole(text) => (&mut whole, text),
            Deed::Part(text) => (&mut parts, text),
            Deed::Other(text) => (&mut other, text),
        };
        if !list.contains(&text) {
            list.push(text);
        }
    }
    let they = if several { "they were" } else { "it was" };
    let whole = (!whole.is_empty()).then(|| format!("{they} {}", and_list(&whole)));
    let parts = (!parts.is_empty()).then(|| and_list(&parts));
    let other = (!other.is_empty()).then(|| format!("further work: {}", and_list(&other)));
    whole.into_iter().chain(parts).chain(other).map(|text| sentence(&text)).collect()
}

/// The deeds of one task: "sand and paint the top" is two.
fn deeds(task: &str) -> Vec<Deed> {
    let spaced = task.replace([',', ';'], " and ");
    let mut deeds: Vec<Deed> = Vec::new();
    for clause in spaced.split(" and ").map(str::trim).filter(|clause| !clause.is_empty()) {
        deeds.extend(deed(clause));
    }
    deeds
}

/// "re-glue long drawer" is a deed to a part, "strip" one to the whole; nothing for a grit alone.
fn deed(clause: &str) -> Option<Deed> {
    let mut written: Vec<&str> = clause.trim_end_matches('.').split_whitespace().collect();
    while written.last().is_some_and(|word| is_grit(word)) {
        written.pop();
    }
    let (first, rest) = written.split_first()?;
    let Some(done) = participle(first).filter(|_| rest.first() != Some(&"of")) else {
        return Some(Deed::Other(super::wording::uncapital(&written.join(" "))));
    };
    // "old paint from the back": what follows the part's own name tells where it was done.
    let own = |word: &&str| **word == *"of" || !is_preposition(word);
    let name = rest.iter().take_while(|word| own(word)).count();
    let (part, how) = (rest[..name].join(" "), rest[name..].join(" "));
    let adverb = rest.first().is_some_and(|word| takes_particle(word));
    if part.is_empty() || adverb {
        return Some(Deed::Whole(format!("{done} {}", rest.join(" ")).trim_end().to_owned()));
    }
    let new = words(&part).next().as_deref() == Some("new");
    let part = if new { part } else { with_the(&part) };
    let deed = format!("{part} {} {done} {how}", agree(&part, "was", "were"));
    Some(Deed::Part(deed.trim_end().to_owned()))
}

/// "The work was done between 6 and 11 March 2025."; nothing unless every task has its day.
fn days(works: &[&Work]) -> Option<String> {
    let days: Option<Vec<NaiveDate>> =
        works.iter().map(|work| work.on.as_ref().map(|on| on.value)).collect();
    let days = days?;
    let (first, last) = (*days.iter().min()?, *days.iter().max()?);
    Some(match first == last {
        true => format!("The work was done on {}.", date(first)),
        false => {
            format!("The work was done between {} and {}.", short(first, last), date(last))
        }
    })
}

/// The first day without what the last one says too.
fn short(first: NaiveDate, last: NaiveDate) -> String {
    let told = date(first);
    let keep = match (first.year() == last.year(), first.month() == last.month()) {
        (true, true) => 1,
        (true, false) => 2,
        _ => 3,
    };
    let apart: Vec<&str> = told.split(super::wording::NO_BREAK).take(keep).collect();
    apart.join(&super::wording::NO_BREAK.to_string())
}

/// "Oil stain, then three coats of satin lacquer, were applied to the outside, the last on 11 March
/// 2025.": one sentence for each part, in the order of the file, without finishes left as found.
fn coats(piece: &Piece) -> Vec<String> {
    let put_on: Vec<&Coat> = piece.coat.iter().filter(|coat| !is_as_found(coat)).collect();
    let mut parts: Vec<&str> = Vec::new();
    for coat in &put_on {
        if !parts.contains(&coat.part.as_str()) {
            parts.push(&coat.part);
        }
    }
    let of = |part: &str| put_on.iter().copied().filter(|c| c.part == part).collect::<Vec<_>>();
    parts.into_iter().map(|part| coats_of(part, &of(part))).collect()
}

fn is_as_found(coat: &Coat) -> bool {
    let told = |text: &str| says(text, "as found") || says(text, "original");
    told(&coat.product.value) || coat.note.as_deref().is_some_and(told)
}

fn coats_of(part: &str, coats: &[&Coat]) -> String {
    let layers: Vec<String> = coats.iter().map(|coat| layer_words(coat)).collect();
    let place = if part.is_empty() { String::new() } else { format!(" to {}", with_the(part)) };
    let last = coats.last().and_then(|coat| coat.last.as_ref()).map(|last| date(last.value));
    let single = coats.len() == 1 && coats[0].coats <= 1;
    let day = match (last, single) {
        (None, _) => String::new(),
        (Some(day), true) => format!(" on {day}"),
        (Some(day), false) => format!(", the last on {day}"),
    };
    let comma = if coats.len() > 1 { "," } else { "" };
    let were = if single { "was" } else { "were" };
    let layers = capital(&layers.join(", then "));
    sentence(&format!("{layers}{comma} {were} applied{place}{day}"))
}
