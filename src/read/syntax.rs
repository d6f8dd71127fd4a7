//! What the TOML parser says, in words an owner can act on.

use super::codes::FOLLOWS_FROM_SYNTAX;
use crate::model::{Code, FileId, Finding, Place, counted};
use std::collections::BTreeSet;
use std::ops::Range;
use toml::de::{DeTable, Error};

/// More lines than this are not shown one by one: the file is probably no entry file at all.
const MOST_SHOWN: usize = 20;

/// A file with more errors than this is not looked at to its end.
const MOST_LOOKED_AT: usize = 1000;

/// What stops the parser; after anything else it goes on with the next line.
const STOPS: &str = "key with no value";

/// The parser's words, by what they begin with or hold, and what they mean to an owner.
const PLAIN: &[(&str, &str)] = &[
    ("string values must be quoted", "text must stand in quotation marks"),
    ("invalid date", "there is no such day"),
    ("escape", "a `\\` stands alone between double quotation marks"),
    ("basic string", "a quotation mark is missing, or there is one too many"),
    ("literal string", "a quotation mark is missing, or there is one too many"),
    ("unclosed", "a bracket is opened and never closed"),
    (STOPS, "there is no `=` between a key and its value"),
    ("unexpected key or value", "the line goes on after its value"),
    ("missing comma", "a comma is missing"),
    ("leading zero", "a number begins with 0"),
    ("missing value", "there is no value"),
];

/// A text without the lines that stop the parser, and the errors of all its lines.
///
/// Such a line is blanked byte for byte, so that every line after it is read in the same run and
/// keeps its place. Nothing where no line stops the parser.
pub(super) fn past_stops(text: &str, errors: &[Error]) -> Option<(String, Vec<Error>)> {
    let stops = |error: &Error| error.message().contains(STOPS);
    let (mut text, mut all) = (text.to_owned(), Vec::new());
    while let Some(line) = (!errors.is_empty()).then(|| unclosed(&text)).flatten() {
        all.extend(errors_of_line(&text, line.clone()));
        blank(&mut text, line);
    }
    let mut now = match all.is_empty() {
        true => errors.to_vec(),
        false => DeTable::parse_recoverable(&text).1,
    };
    if all.is_empty() && !now.iter().any(stops) {
        return None;
    }
    for _ in 0..MOST_SHOWN {
        let (stopping, others): (Vec<Error>, Vec<Error>) = now.into_iter().partition(stops);
        if stopping.is_empty() {
            all.extend(others);
            break;
        }
        for error in &stopping {
            let line = line_around_error(&text, error);
            blank(&mut text, line);
        }
        all.extend(stopping);
        now = DeTable::parse_recoverable(&text).1;
    }
    all.sort_by_key(|error| error.span().map_or(0, |span| span.start));
    Some((text, all))
}

/// What the parser says of a line that stands by itself, at the line's own place.
fn errors_of_line(text: &str, line: Range<usize>) -> Vec<Error> {
    let alone = " ".repeat(line.start) + &text[line];
    DeTable::parse_recoverable(&alone).1
}

/// The first line that opens a bracket which is still open where the next head begins, or where the
/// file ends: the parser would take every line after it for a part of its value.
fn unclosed(text: &str) -> Option<Range<usize>> {
    let mut opened: Option<(Range<usize>, i32)> = None;
    let mut at = 0;
    for whole in text.split_inclusive('\n') {
        let line = at..at + whole.trim_end_matches(['\n', '\r']).len();
        at += whole.len();
        // A text of several lines may hold anything.
        if whole.contains("\"\"\"") || whole.contains("'''") {
            return None;
        }
        opened = match opened {
            Some((first, _)) if is_head(whole) => return Some(first),
            Some((first, depth)) => Some((first, depth + depth_of(whole))),
            None if is_head(whole) => None,
            None => Some((line, depth_of(whole))),
        };
        opened = opened.filter(|(_, depth)| *depth > 0);
    }
    opened.map(|(first, _)| first)
}

/// `[bought]` or `[[sale]]`, in bare words alone: a row of a list is in quotation marks.
fn is_head(line: &str) -> bool {
    let line = line.split('#').next().unwrap_or_default().trim();
    let name = line.strip_prefix('[').and_then(|rest| rest.strip_suffix(']'));
    let name = name.map(|name| name.trim_start_matches('[').trim_end_matches(']'));
    name.is_some_and(|name| {
        let bare = |c: char| c.is_ascii_alphanumeric() || matches!(c, '-' | '_' | '.');
        name.starts_with(|c: char| c.is_ascii_alphabetic()) && name.chars().all(bare)
    })
}

/// How many more brackets a line opens than it closes.
fn depth_of(line: &str) -> i32 {
    brackets(line).map(|character| if matches!(character, '[' | '{') { 1 } else { -1 }).sum()
}

/// The brackets a line opens and does not close.
pub(super) fn open_brackets(line: &str) -> Vec<char> {
    let mut open = Vec::new();
    for character in brackets(line) {
        match character {
            '[' | '{' => open.push(character),
            _ => drop(open.pop()),
        }
    }
    open
}

/// Its brackets, outside of texts and remarks.
fn brackets(line: &str) -> impl Iterator<Item = char> {
    let (mut found, mut within, mut escaped) = (Vec::new(), None, false);
    for character in line.chars() {
        match (within, character) {
            (Some('"'), '\\') if !escaped => {
                escaped = true;
                continue;
            }
            (Some(mark), _) if character == mark && !escaped => within = None,
            (Some(_), _) => {}
            (None, '"' | '\'') => within = Some(character),
            (None, '#') => break,
            (None, '[' | '{' | ']' | '}') => found.push(character),
            (None, _) => {}
        }
        escaped = false;
    }
    found.into_iter()
}

fn blank(text: &mut String, line: Range<usize>) {
    text.replace_range(line.clone(), &" ".repeat(line.len()));
}

/// The parser's errors, and of the other findings only those that do not follow from them: where
/// the file could not be read whole, a key that seems to be missing may well be there.
pub(super) fn with_errors(
    file: FileId,
    text: &str,
    errors: &[Error],
    mut findings: Vec<Finding>,
) -> Vec<Finding> {
    let mut lines: BTreeSet<usize> = BTreeSet::new();
    let mut said = Vec::new();
    for error in errors.iter().take(MOST_LOOKED_AT) {
        let line = line_around_error(text, error);
        if lines.insert(line.start) && said.len() < MOST_SHOWN {
            said.push(finding(file, text, error, line));
        }
    }
    if lines.len() > MOST_SHOWN {
        said.push(many_more(file, lines.len() - MOST_SHOWN));
        return said;
    }
    let spoiled = |place: Place| lines.contains(&line_around(text, place.start as usize).start);
    if !errors.is_empty() {
        findings.retain(|f| !FOLLOWS_FROM_SYNTAX.contains(&f.code) && !spoiled(f.place));
    }
    said.extend(findings);
    said
}

fn many_more(file: FileId, lines: usize) -> Finding {
    let lines = counted(lines, "more line", "more lines");
    let message = format!("{lines} of this file cannot be read");
    let hint = "see whether this is the file you meant; fix the lines shown first";
    Finding::error(Code::Syntax, Place::new(file, 0..0), message).hint(hint)
}

fn line_around_error(text: &str, error: &Error) -> Range<usize> {
    line_around(text, error.span().map_or(0, |span| span.start))
}

/// From the line's first byte to its last, without its end.
pub(super) fn line_around(text: &str, at: usize) -> Range<usize> {
    let bytes = text.as_bytes();
    let at = at.min(bytes.len());
    let start = bytes[..at].iter().rposition(|&b| b == b'\n').map_or(0, |i| i + 1);
    let end = bytes[at..].iter().position(|&b| b == b'\n').map_or(bytes.len(), |i| at + i);
    start..end
}

fn finding(file: FileId, text: &str, error: &Error, line: Range<usize>) -> Finding {
    let says = error.message().lines().next().unwrap_or_default();
    let span = error.span().unwrap_or(0..0);
    if says.contains("duplicate key") {
        return twice(file, text, span, line);
    }
    let words = PLAIN.iter().find(|(theirs, _)| says.contains(theirs)).map_or(says, |(_, w)| w);
    Finding::error(
        Code::Syntax,
        Place::new(file, span),
        format!("this line cannot be read: {words}"),
    )
    .label("cannot be read")
}

/// A key, or a head in single brackets, that stands in the file a second time.
fn twice(file: FileId, text: &str, span: Range<usize>, line: Range<usize>) -> Finding {
    let written = text[line.clone()].trim();
    let is_head = written.starts_with('[');
    let key = written.split('=').next().unwrap_or(written).trim();
    let finding =
        Finding::error(Code::KeyTwice, Place::new(file, span), "this key is written twice")
            .label("again here")
            .hint(if is_head {
                "put the lines of both under one head; only heads in double brackets, such as \
             `[[sale]]`, come several times"
                    .to_owned()
            } else {
                format!("keep one of the lines `{key} = …`")
            });
    match earlier(text, line.start, key, is_head) {
        Some(first) => finding.second(Place::new(file, first), "first here"),
        None => finding,
    }
}

/// Where a key stands before, in the same table; or a head, anywhere before.
fn earlier(text: &str, before: usize, key: &str, is_head: bool) -> Option<Range<usize>> {
    let mut end = before;
    while let Some(above) = end.checked_sub(1) {
        let line = line_around(text, above);
        let written = text[line.clone()].trim();
        if written.split('=').next().is_some_and(|own| own.trim() == key) {
            let indent = text[line.clone()].len() - text[line.clone()].trim_start().len();
            let start = line.start + indent;
            return Some(start..start + key.len());
        }
        if written.starts_with('[') && !is_head {
            return None;
        }
        end = line.start;
    }
    None
}
