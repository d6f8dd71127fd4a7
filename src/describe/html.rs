//! The description as HTML: one small, well-formed article that can be pasted whole. It is plain
//! ASCII, so that no page it lands in can read its characters wrongly.

use super::languages::ENGLISH;
use super::text::{Description, Paragraph, ParagraphKind};
use std::fmt::Write;

/// A description as one `article`; every word of it is text, never markup.
pub fn html(description: &Description) -> String {
    let mut page = format!("<article lang=\"{ENGLISH}\">\n");
    element(&mut page, "h1", &escaped(&description.headline));
    let paragraphs = &description.paragraphs;
    for run in paragraphs.chunk_by(|one, next| one.kind == next.kind && one.kind.runs_on(one, next))
    {
        match run[0].kind {
            ParagraphKind::Fact => facts(&mut page, run),
            ParagraphKind::Disclosures => list(&mut page, &run[0].sentences),
            ParagraphKind::Caution => labelled(&mut page, &run[0]),
            ParagraphKind::Prose => prose(&mut page, run),
        }
    }
    page + "</article>\n"
}

impl ParagraphKind {
    /// Whether two neighbours of this kind are one element: a list of facts, a block of lines.
    fn runs_on(self, one: &Paragraph, next: &Paragraph) -> bool {
        self == ParagraphKind::Fact || one.block == next.block
    }
}

fn facts(page: &mut String, run: &[Paragraph]) {
    page.push_str("<dl>\n");
    for fact in run {
        element(page, "dt", &escaped(fact.label.unwrap_or_default()));
        element(page, "dd", &escaped(&fact.sentences.join(" ")));
    }
    page.push_str("</dl>\n");
}

fn list(page: &mut String, sentences: &[String]) {
    page.push_str("<ul>\n");
    for sentence in sentences {
        element(page, "li", &escaped(sentence));
    }
    page.push_str("</ul>\n");
}

fn labelled(page: &mut String, paragraph: &Paragraph) {
    let label = escaped(paragraph.label.unwrap_or_default());
    let text = escaped(&paragraph.sentences.join(" "));
    element(page, "p", &format!("<strong>{label}:</strong> {text}"));
}

/// The lines of one block; an empty line within, as in a story, begins a new paragraph.
fn prose(page: &mut String, run: &[Paragraph]) {
    let text = run.iter().map(Paragraph::said).collect::<Vec<_>>().join("\n");
    let mut lines: Vec<String> = Vec::new();
    for line in text.lines().map(str::trim).chain([""]) {
        match line {
            "" if !lines.is_empty() => {
                element(page, "p", &std::mem::take(&mut lines).join("<br/>\n"))
            }
            "" => {}
            line => lines.push(escaped(line)),
        }
    }
}

/// One element on a line of its own; `inner` is markup already.
fn element(page: &mut String, name: &str, inner: &str) {
    page.push_str(&format!("<{name}>{inner}</{name}>\n"));
}

/// Text as it may stand in markup; what is not ASCII by its number.
fn escaped(text: &str) -> String {
    let mut safe = String::with_capacity(text.len());
    for character in text.chars() {
        match character {
            '&' => safe.push_str("&amp;"),
            '<' => safe.push_str("&lt;"),
            '>' => safe.push_str("&gt;"),
            '"' => safe.push_str("&quot;"),
            '\n' | '\t' => safe.push(' '),
            character if character.is_control() => {}
            character if character.is_ascii() => safe.push(character),
            // Writing to a string cannot fail.
            character => _ = write!(safe, "&#{};", character as u32),
        }
    }
    safe
}
