//! The shop's own wording of a description: a text in which words in braces stand for what is known
//! of a piece. It may leave out what it likes but no disclosure, and promises no more than the
//! program does.

use super::age;
use super::banned::banned_in;
use super::limits::REQUIRED;
use super::wording::says;
use crate::model::{Code, FileId, Finding, Place, and_list, nearest};
use std::ops::Range;

/// A word that can stand in braces.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Placeholder {
    pub name: &'static str,
    /// What goes in first where space is short; 0 is always said, and must stand in the template.
    pub weight: u8,
    /// What it stands for.
    pub says: &'static str,
}

const fn word(name: &'static str, weight: u8, says: &'static str) -> Placeholder {
    Placeholder { name, weight, says }
}

/// Every placeholder; those that must stand in a template first.
pub const PLACEHOLDERS: [Placeholder; 18] = [
    word("changes", REQUIRED, "what is no longer as found, in sentences"),
    word("condition", REQUIRED, "flaws and repairs, in sentences"),
    word("cautions", REQUIRED, "the cautions, a line each, and that they are general information"),
    word("title", 1, "the title"),
    word("size", 1, "the size in both systems"),
    word("weight", 1, "the weight in both systems"),
    word("wood", 2, "the wood, in sentences"),
    word("finish", 3, "the finish, in sentences"),
    word("age", 3, "when it was made"),
    word("opening", 4, "the opening sentence, yours or the one made from the facts"),
    word("price", 5, "the price asked"),
    word("done", 6, "what was done, in a sentence"),
    word("number", 7, "its number"),
    word("count", 7, "how many there are of a set; nothing for a single piece"),
    word("shop", 7, "the name of the shop"),
    word("contact", 7, "the lines of `contact`"),
    word("story", 8, "your story, as written"),
    word("care", 9, "how to look after it, in sentences"),
];

/// A template that was read and found whole.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Template {
    pub(crate) lines: Vec<Line>,
}

/// A line, and which block of lines it is of: an empty line ends a block.
#[derive(Clone, Debug, PartialEq, Eq)]
pub(crate) struct Line {
    pub block: usize,
    pub bits: Vec<Bit>,
}

#[derive(Clone, Debug, PartialEq, Eq)]
pub(crate) enum Bit {
    Plain(String),
    Word(Placeholder),
}

/// Reads a template.
///
/// # Errors
/// Findings in the file: a brace that is not closed, an unknown word in braces, a disclosure
/// that is left out, and words that are never printed.
pub fn template(file: FileId, text: &str) -> Result<Template, Vec<Finding>> {
    let mut reader = Reader { file, findings: Vec::new() };
    let mut lines = Vec::new();
    let (mut start, mut block) = (0, 0);
    for written in text.split_inclusive('\n') {
        let line = written.trim_end();
        let skipped = line.len() - line.trim_start_matches('\u{feff}').len();
        let bits = reader.bits(start + skipped, &line[skipped..]);
        match bits.is_empty() {
            true => block += 1,
            false => lines.push(Line { block, bits }),
        }
        start += written.len();
    }
    reader.promises(text);
    reader.left_out(text, &lines);
    if reader.findings.is_empty() { Ok(Template { lines }) } else { Err(reader.findings) }
}

struct Reader {
    file: FileId,
    findings: Vec<Finding>,
}

impl Reader {
    fn find(&mut self, code: Code, span: Range<usize>, message: String) -> &mut Finding {
        let finding = Finding::error(code, Place::new(self.file, span), message);
        self.findings.push(finding);
        self.findings.last_mut().expect("just added")
    }

    /// A line as its plain words and its placeholders; `at` is where it begins in the file.
    fn bits(&mut self, at: usize, line: &str) -> Vec<Bit> {
        let mut bits = Vec::new();
        let mut plain = String::new();
        let mut rest = line;
        while let Some(index) = rest.find(['{', '}']) {
            let here = at + line.len() - rest.len() + index;
            plain += &rest[..index];
            let brace = &rest[index..];
            let (bit, taken) = self.brace(here, brace);
            match bit {
                Some(Bit::Plain(text)) => plain += &text,
                Some(word) => {
                    bits.extend(plain_bit(std::mem::take(&mut plain)));
                    bits.push(word);
                }
                None => {}
            }
            rest = &brace[taken..];
        }
        plain += rest;
        bits.extend(plain_bit(plain));
        bits
    }

    /// What begins with a brace, and how many bytes it takes.
    fn brace(&mut self, at: usize, text: &str) -> (Option<Bit>, usize) {
        if text.starts_with("{{") || text.starts_with("}}") {
            return (Some(Bit::Plain(text[..1].to_owned())), 2);
        }
        if text.starts_with('}') {
            let message = "this brace closes nothing".to_owned();
            let finding = self.find(Code::Brace, at..at + 1, message);
            finding.hint = Some("write `}}` for a brace itself, or open it: `{wood}`".into());
            return (None, 1);
        }
        let end = text[1..].find(['{', '}']).map(|end| end + 1);
        let Some(end) = end.filter(|&end| text[end..].starts_with('}')) else {
            let message = "this brace is not closed on its line".to_owned();
            let finding = self.find(Code::Brace, at..at + 1, message);
            finding.hint =
                Some("close it, as in `{wood}`, or write `{{` for a brace itself".into());
            return (None, 1);
        };
        (self.word(at..at + end + 1, text[1..end].trim()), end + 1)
    }

    fn word(&mut self, span: Range<usize>, name: &str) -> Option<Bit> {
        let known = PLACEHOLDERS.iter().find(|placeholder| placeholder.name == name);
        if known.is_none() {
            let near = nearest(name, PLACEHOLDERS.iter().map(|placeholder| placeholder.name));
            let near = near.map(|near| format!("write `{{{near}}}`; ")).unwrap_or_default();
            let message = format!("`{{{name}}}` stands for nothing known of a piece");
            let finding = self.find(Code::UnknownPlaceholder, span, message);
            finding.label = "not a placeholder".to_owned();
            finding.hint = Some(format!("{near}the placeholders are {}", names(|_| true)).into());
        }
        known.map(|placeholder| Bit::Word(*placeholder))
    }

    /// Words that are never printed, and words of age, which only a piece can earn.
    fn promises(&mut self, text: &str) {
        let mut start = 0;
        for line in text.split_inclusive('\n') {
            let span = start..start + line.trim_end().len();
            start += line.len();
            if let Some((word, row)) = banned_in(line) {
                let message = format!("`{word}` is never printed: {}", row.why);
                self.find(Code::BannedWord, span.clone(), message).hint =
                    Some(format!("say {}", row.say).into());
            }
            if let Some(word) = age::words().find(|word| says(line, word)) {
                let message = format!("`{word}` would be said of every piece, whatever its age");
                self.find(Code::AgeWord, span, message).hint = Some(
                    format!("leave `{word}` out: `{{opening}}` says it where it is earned").into(),
                );
            }
        }
    }

    fn left_out(&mut self, text: &str, lines: &[Line]) {
        let bits = || lines.iter().flat_map(|line| &line.bits);
        let there = |wanted: &Placeholder| {
            bits().any(|bit| matches!(bit, Bit::Word(word) if word.name == wanted.name))
        };
        let lacks = names(|placeholder| placeholder.weight == REQUIRED && !there(placeholder));
        if lacks.is_empty() {
            return;
        }
        let end = text.trim_end().len();
        let last = text[..end].char_indices().next_back().map_or(0, |(index, _)| index);
        let message = format!("the template leaves out {lacks}, which a buyer must be told");
        let finding = self.find(Code::DisclosureLeftOut, last..end, message);
        finding.label = "nothing after this".to_owned();
        finding.hint =
            Some(format!("add lines with {lacks}; a line with nothing to say is left out").into());
    }
}

fn plain_bit(text: String) -> Option<Bit> {
    (!text.is_empty()).then_some(Bit::Plain(text))
}

/// "`{wood}`, `{finish}` and `{care}`".
fn names(which: impl Fn(&Placeholder) -> bool) -> String {
    let chosen = PLACEHOLDERS.iter().filter(|placeholder| which(placeholder));
    and_list(&chosen.map(|placeholder| format!("`{{{}}}`", placeholder.name)).collect::<Vec<_>>())
}
