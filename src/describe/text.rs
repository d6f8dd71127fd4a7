//! The description of a piece for pasting: a headline and plain paragraphs within a channel's
//! limits. What must be disclosed is always in; the rest goes in by its weight as far as it fits.

use super::condition::done_line;
use super::limits::{Part, REQUIRED, fit, joined};
use super::template::Template;
use super::{Strength, Words, wording};
use crate::model::{Channel, Code, Finding, Money, Piece, Place, Shop};

/// A description ready to be pasted.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Description {
    /// Empty where nothing honest fits the limit.
    pub headline: String,
    /// Paragraphs with an empty line between; empty where what must be said does not fit, or the
    /// piece is held.
    pub body: String,
    /// What the body is made of, in its order.
    pub paragraphs: Vec<Paragraph>,
    pub findings: Vec<Finding>,
}

/// A paragraph, or one line of the shop's own wording.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Paragraph {
    pub kind: ParagraphKind,
    /// "Wood", before what is said of it.
    pub label: Option<&'static str>,
    /// One after the other, with a space between.
    pub sentences: Vec<String>,
    /// Lines of one block stand together; a paragraph is a block of its own.
    pub block: usize,
}

/// What a paragraph is, for those who mark it up.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum ParagraphKind {
    /// Running text; the owner's may have lines and paragraphs of its own.
    Prose,
    /// A label and what it is: size, wood, finish.
    Fact,
    /// Changes and flaws.
    Disclosures,
    Caution,
}

impl Paragraph {
    /// As plain text: "Wood: Solid oak."
    pub fn said(&self) -> String {
        let text = wording::run_on(&self.sentences);
        self.label.map_or(text.clone(), |label| format!("{label}: {text}"))
    }
}

/// Headline and body of a piece for a channel, in the shop's own wording where it has one; without
/// a channel there is no limit.
///
/// Limits count characters. A held piece gets neither; a body that cannot hold every disclosure
/// is left empty, with a finding that names both numbers.
pub fn description(
    shop: &Shop,
    piece: &Piece,
    words: &Words,
    price: Option<Money>,
    channel: Option<&Channel>,
    template: Option<&Template>,
) -> Description {
    if words.held() {
        return Description::default();
    }
    let mut findings = Vec::new();
    let headline = headline(piece, words, channel, &mut findings);
    let price = price.map(|price| of_all(wording::money(price, &shop.currency), words.count));
    let parts = match template {
        Some(template) => template.parts(shop, piece, words, price.as_deref()),
        None => parts(words, price),
    };
    let limit = channel.and_then(|channel| channel.description_limit);
    let paragraphs = fit(parts, limit.map(|limit| limit as usize)).unwrap_or_else(|needs| {
        let message = format!(
            "changes, flaws and cautions need {needs} characters, more than the {} of {}",
            limit.unwrap_or(0),
            channel.map_or("the channel", |channel| &channel.label),
        );
        findings.push(limited(Code::DescriptionLimit, piece, channel, message));
        Vec::new()
    });
    let body = joined(&paragraphs.iter().collect::<Vec<_>>());
    Description { headline, body, paragraphs, findings }
}

/// A price of a set is for all of it.
fn of_all(price: String, count: u32) -> String {
    match count {
        0 | 1 => price,
        count => format!("{price} for the set of {}", wording::number(count)),
    }
}

fn limited(code: Code, piece: &Piece, channel: Option<&Channel>, message: String) -> Finding {
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
        findings.push(limited(Code::HeadlineLimit, piece, channel, message));
        String::new()
    })
}

/// The paragraphs in the order they are read, each with its weight.
fn parts(words: &Words, price: Option<String>) -> Vec<Part> {
    let mut parts = Parts::default();
    parts.prose(4, &words.opening);
    parts.prose(8, &words.story);
    let label = if words.count > 1 { "Size of each" } else { "Size" };
    match (size(words), &words.weight) {
        (None, Some(weight)) => parts.fact(1, "Weight", [format!("{weight}.")]),
        (Some(size), Some(weight)) => parts.fact(1, label, [format!("{size}; weight {weight}.")]),
        (size, None) => parts.fact(1, label, size.map(|size| format!("{size}."))),
    }
    parts.named(2, words.made_of_label, &words.made_of);
    parts.named(3, "Finish", &words.finish);
    parts.fact(6, "What was done", done_line(&words.done));
    parts.fact(7, "Moving", words.moving.clone());
    let disclosed = words.not_original.iter().chain(&words.condition).cloned();
    parts.add(REQUIRED, ParagraphKind::Disclosures, None, disclosed);
    for caution in words.cautions.iter().filter(|c| c.strength == Strength::Caution) {
        parts.add(REQUIRED, ParagraphKind::Caution, Some("Caution"), [caution.text.clone()]);
        parts.or_short(caution.short.as_ref());
    }
    parts.prose(1, &words.cautions_tail);
    parts.fact(9, "Care", words.care.care.clone());
    parts.fact(5, "Price", price.map(|price| format!("{price}.")));
    parts.0
}

#[derive(Default)]
struct Parts(Vec<Part>);

impl Parts {
    /// Adds a paragraph, unless there is nothing to say.
    fn add(
        &mut self,
        weight: u8,
        kind: ParagraphKind,
        label: Option<&'static str>,
        sentences: impl IntoIterator<Item = String>,
    ) {
        let sentences: Vec<String> = sentences.into_iter().collect();
        let block = self.0.len();
        if !sentences.is_empty() {
            let paragraph = Paragraph { kind, label, sentences, block };
            self.0.push(Part { weight, paragraph, short: None });
        }
    }

    fn prose(&mut self, weight: u8, text: &Option<String>) {
        self.add(weight, ParagraphKind::Prose, None, text.clone());
    }

    fn fact(
        &mut self,
        weight: u8,
        label: &'static str,
        sentences: impl IntoIterator<Item = String>,
    ) {
        self.add(weight, ParagraphKind::Fact, Some(label), sentences);
    }

    /// A fact whose text may name itself: "Wood not identified."
    fn named(&mut self, weight: u8, label: &'static str, text: &Option<String>) {
        match text {
            Some(said) if said.starts_with(label) => self.prose(weight, text),
            _ => self.fact(weight, label, text.clone()),
        }
    }

    /// What the paragraph added last says where space is short.
    fn or_short(&mut self, short: Option<&String>) {
        let Some(last) = self.0.last_mut() else { return };
        last.short = short
            .map(|short| Paragraph { sentences: vec![short.clone()], ..last.paragraph.clone() });
    }
}

/// "36¼ × 18 × 29½ in (92 × 46 × 75 cm), width × depth × height"; without an order where each side
/// says which it is.
pub(crate) fn size(words: &Words) -> Option<String> {
    let size = words.size.as_ref()?;
    let order = if size.inches.contains('×') { ", width × depth × height" } else { "" };
    Some(format!("{} ({}){order}", size.inches, size.centimetres))
}
