//! Which parts of a description go into a limit: everything required, then as much of the rest as
//! fits, by weight, and never half a part.

use super::text::Paragraph;

/// A paragraph at the given weight; the lowest weight goes in first.
pub(crate) struct Part {
    pub weight: u8,
    pub paragraph: Paragraph,
    /// Said instead where space is short.
    pub short: Option<Paragraph>,
}

/// The weight of what is always said.
pub(crate) const REQUIRED: u8 = 0;

/// Between paragraphs, and between the lines of one.
const GAP: &str = "\n\n";
const LINE: &str = "\n";

/// The paragraphs that go into a limit; the error is the characters the required needs at its
/// shortest.
pub(crate) fn fit(parts: Vec<Part>, limit: Option<usize>) -> Result<Vec<Paragraph>, usize> {
    let Some(limit) = limit else {
        return Ok(parts.into_iter().map(|part| part.paragraph).collect());
    };
    let short = |part: &Part| part.short.as_ref().unwrap_or(&part.paragraph).clone();
    let mut chosen: Vec<Option<Paragraph>> =
        parts.iter().map(|part| (part.weight == REQUIRED).then(|| short(part))).collect();
    let needs = length(&chosen);
    if needs > limit {
        return Err(needs);
    }
    let mut order: Vec<usize> = (0..parts.len()).collect();
    order.sort_by_key(|&index| parts[index].weight);
    for index in order {
        let before = chosen[index].replace(parts[index].paragraph.clone());
        if length(&chosen) > limit {
            chosen[index] = before;
        }
    }
    Ok(chosen.into_iter().flatten().collect())
}

/// Characters of the chosen paragraphs with their gaps.
fn length(chosen: &[Option<Paragraph>]) -> usize {
    let chosen: Vec<&Paragraph> = chosen.iter().flatten().collect();
    joined(&chosen).chars().count()
}

/// Paragraphs as plain text, with an empty line between; lines of one block stand together.
pub(crate) fn joined(paragraphs: &[&Paragraph]) -> String {
    let mut text = String::new();
    let mut before = None;
    for paragraph in paragraphs {
        match before {
            None => {}
            Some(block) if block == paragraph.block => text += LINE,
            Some(_) => text += GAP,
        }
        text += &paragraph.said();
        before = Some(paragraph.block);
    }
    text
}
