//! The description of a piece for pasting: a headline and plain paragraphs within a channel's
//! limits. What must be disclosed is always in; the rest goes in by its weight as far as it fits.

use super::condition::done_line;
use super::{Strength, Words, wording};
use crate::model::{Channel, Finding, Money, Piece, Place, Shop};

/// A description ready to be pasted.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Description {
    /// Empty where nothing honest fits the limit.
    pub headline: String,
    /// Paragraphs with an empty line between; empty where what must be said does not fit, or the
    /// piece is held.
    pub body: String,
    pub findings: Vec<Finding>,
}

/// Words a piece of text at the given weight; the lowest weight goes in first.
struct Part {
    weight: u8,
    text: String,
    /// Said instead where space is short.
    short: Option<String>,
}

/// The weight of what is always said.
const REQUIRED: u8 = 0;

/// Headline and body of a piece for a channel; without a channel there is no limit.
///
/// Limits count characters. A held piece gets neither; a body that cannot hold every disclosure
/// is left empty, with a finding that names both numbers.
pub fn description(
    shop: &Shop,
    piece: &Piece,
    words: &Words,
    price: Option<Money>,
    channel: Option<&Channel>,
) -> Description {
    if words.held() {
        return Description::default();
    }
    let mut findings = Vec::new();
    let headline = headline(piece, words, channel, &mut findings);
    let price = price.map(|price| format!("Price: {}.", wording::money(price, &shop.currency)));
    let limit = channel.and_then(|channel| channel.description_limit);
    let body = fit(parts(piece, words, price), limit.map(|limit| limit as usize)).unwrap_or_else(
        |needs| {
            let message = format!(
                "changes, flaws and cautions need {needs} characters, more than the {} of {}",
                limit.unwrap_or(0),
                channel.map_or("the channel", |channel| &channel.label),
            );
            findings.push(limited("description-limit", piece, channel, message));
            String::new()
        },
    );
    Description { headline, body, findings }
}

fn limited(
    code: &'static str,
    piece: &Piece,
    channel: Option<&Channel>,
    message: String,
) -> Finding {
    let place = channel.map_or(Place::NOWHERE, |channel| channel.place);
    let finding = Finding::warning(code, piece.title.place, message).label("does not fit");
    finding
        .second(place, "the limit")
        .hint("use the listing sheet here, or a channel with more room")
}

/// The title, with age where that fits too; else the made opening's noun; else nothing.
fn headline(
    piece: &Piece,
    words: &Words,
    channel: Option<&Channel>,
    findings: &mut Vec<Finding>,
) -> String {
    let limit = channel.and_then(|channel| channel.headline_limit).map(|limit| limit as usize);
    let fits = |text: &String| limit.is_none_or(|limit| text.chars().count() <= limit);
    let title = piece.title.value.trim().to_owned();
    let known = piece.made.value.latest().is_some();
    let age = words.age.as_deref().filter(|age| known && !wording::says(&title, age));
    let with_age = age.map(|age| format!("{title}, {age}"));
    let kind = super::kinds::kind_of(piece).map(|kind| wording::capital(&kind.name));
    let choices = [with_age, Some(title), kind];
    choices.into_iter().flatten().find(fits).unwrap_or_else(|| {
        let message = format!("no headline fits into {} characters", limit.unwrap_or(0));
        findings.push(limited("headline-limit", piece, channel, message));
        String::new()
    })
}

/// The paragraphs in the order they are read, each with its weight.
fn parts(piece: &Piece, words: &Words, price: Option<String>) -> Vec<Part> {
    let labelled = |label: &str, text: &Option<String>| {
        let text = text.as_ref()?;
        let says_so = text.starts_with(label);
        Some(if says_so { text.clone() } else { format!("{label}: {text}") })
    };
    let done = done_line(&words.done).map(|done| format!("What was done: {done}"));
    let care = (!words.care.care.is_empty())
        .then(|| format!("Care: {}", wording::run_on(&words.care.care)));
    let mut parts = Vec::new();
    let mut add = |weight: u8, text: Option<String>| {
        parts.extend(text.map(|text| Part { weight, text, short: None }));
    };
    add(4, words.opening.clone());
    add(8, words.story.clone());
    add(1, size_sentence(piece, words));
    add(2, labelled("Wood", &words.wood));
    add(3, labelled("Finish", &words.finish));
    add(6, done);
    let moving = Some(wording::run_on(&words.moving)).filter(|moving| !moving.is_empty());
    add(7, moving.map(|moving| format!("Moving: {moving}")));
    let disclosed = words.not_original.iter().chain(&words.condition);
    add(REQUIRED, Some(wording::run_on(&disclosed.collect::<Vec<_>>())).filter(|t| !t.is_empty()));
    parts.extend(cautions(words));
    parts.extend(words.cautions_tail.clone().map(|text| Part { weight: 1, text, short: None }));
    parts.extend(care.map(|text| Part { weight: 9, text, short: None }));
    parts.extend(price.map(|text| Part { weight: 5, text, short: None }));
    parts
}

fn cautions(words: &Words) -> impl Iterator<Item = Part> + '_ {
    let printed = words.cautions.iter().filter(|caution| caution.strength == Strength::Caution);
    printed.map(|caution| Part {
        weight: REQUIRED,
        text: format!("Caution: {}", caution.text),
        short: caution.short.as_ref().map(|short| format!("Caution: {short}")),
    })
}

/// "Size: 36¼ × 18 × 29½ in (92 × 46 × 75 cm), width × depth × height; weight about 64 lb (29 kg)."
fn size_sentence(piece: &Piece, words: &Words) -> Option<String> {
    let label = if piece.count > 1 { "Size of each" } else { "Size" };
    let size = words.size.as_ref();
    let order = |text: &str| if text.contains('×') { ", width × depth × height" } else { "" };
    let size =
        size.map(|s| format!("{label}: {} ({}){}", s.inches, s.centimetres, order(&s.inches)));
    let weight = words.weight.as_ref();
    match (size, weight) {
        (Some(size), Some(weight)) => Some(format!("{size}; weight {weight}.")),
        (Some(size), None) => Some(format!("{size}.")),
        (None, weight) => weight.map(|weight| format!("Weight: {weight}.")),
    }
}

const GAP: &str = "\n\n";

/// Everything required, then as much of the rest as fits, by weight; the error is the characters
/// the required needs at its shortest.
fn fit(parts: Vec<Part>, limit: Option<usize>) -> Result<String, usize> {
    let Some(limit) = limit else {
        return Ok(parts.iter().map(|part| part.text.as_str()).collect::<Vec<_>>().join(GAP));
    };
    let short = |part: &Part| part.short.as_ref().unwrap_or(&part.text).clone();
    let mut chosen: Vec<Option<String>> =
        parts.iter().map(|part| (part.weight == REQUIRED).then(|| short(part))).collect();
    let needs = length(&chosen);
    if needs > limit {
        return Err(needs);
    }
    let mut order: Vec<usize> = (0..parts.len()).collect();
    order.sort_by_key(|&index| parts[index].weight);
    for index in order {
        let before = chosen[index].replace(parts[index].text.clone());
        if length(&chosen) > limit {
            chosen[index] = before;
        }
    }
    Ok(chosen.into_iter().flatten().collect::<Vec<_>>().join(GAP))
}

/// Characters of the chosen paragraphs with their gaps.
fn length(chosen: &[Option<String>]) -> usize {
    let lengths: Vec<usize> = chosen.iter().flatten().map(|text| text.chars().count()).collect();
    lengths.iter().sum::<usize>() + lengths.len().saturating_sub(1) * GAP.len()
}
