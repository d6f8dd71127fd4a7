//! What the TOML parser says, in words an owner can act on.

use super::codes::FOLLOWS_FROM_SYNTAX;
use crate::model::{FileId, Finding, Place};
use std::ops::Range;
use toml::de::Error;

/// The parser's errors, and of the other findings only those that do not follow from them: where
/// the file could not be read whole, a key that seems to be missing may well be there.
pub(super) fn with_errors(
    file: FileId,
    text: &str,
    errors: &[Error],
    mut findings: Vec<Finding>,
) -> Vec<Finding> {
    let mut spans: Vec<Range<usize>> = Vec::new();
    let mut said = Vec::new();
    for error in errors {
        let span = error.span().unwrap_or(0..0);
        let line = line_around(text, &span);
        if !spans.contains(&line) {
            said.push(finding(file, text, error.message(), span));
            spans.push(line);
        }
    }
    let spoiled = |place: Place| spans.iter().any(|line| line.contains(&(place.start as usize)));
    if !errors.is_empty() {
        findings.retain(|f| !FOLLOWS_FROM_SYNTAX.contains(&f.code) && !spoiled(f.place));
    }
    said.extend(findings);
    said
}

/// From the line's first byte to one past its last.
fn line_around(text: &str, span: &Range<usize>) -> Range<usize> {
    let at = span.start.min(text.len());
    let bytes = text.as_bytes();
    let start = bytes[..at].iter().rposition(|&b| b == b'\n').map_or(0, |i| i + 1);
    let end = bytes[at..].iter().position(|&b| b == b'\n').map_or(text.len(), |i| at + i);
    start..end + 1
}

fn finding(file: FileId, text: &str, says: &str, span: Range<usize>) -> Finding {
    let line = line_around(text, &span);
    let written = text.get(line.start..line.end.min(text.len()).max(line.start)).unwrap_or("");
    let key_and_value = written.trim().split_once('=').map(|(k, v)| (k.trim(), v.trim()));
    let place = Place::new(file, span);
    if says.contains("duplicate key") {
        let finding = Finding::error("key-twice", place, "this key is written twice");
        return finding.label("again here").hint(match key_and_value {
            Some((key, _)) => format!("keep one of the lines `{key} = …`"),
            None => "put the lines of both under one head, or write the head in `[[ ]]`".to_owned(),
        });
    }
    let message = format!("this is not TOML: {}", says.lines().next().unwrap_or(says));
    let finding = Finding::error("syntax", place, message).label("cannot be read");
    finding
        .hint(key_and_value.and_then(|(k, v)| mended(k, v)).unwrap_or_else(|| GENERAL.to_owned()))
}

const GENERAL: &str = "a line is `key = value`, `[table]` or `[[table]]`; text stands in \"…\"";

/// The line as it was probably meant.
fn mended(key: &str, value: &str) -> Option<String> {
    let value = value.split('#').next().unwrap_or("").trim();
    let first = value.chars().next()?;
    let slashed = value.split('/').count() == 3 && first.is_ascii_digit();
    if slashed || (value.matches('-').count() == 2 && first.is_ascii_digit()) {
        return Some(format!("write the day as `{key} = 2025-03-02`: year, month, day"));
    }
    if value.contains(['"', '\'']) && !first.is_ascii_digit() {
        return Some(format!("write `{key} = \"…\"`, with one quotation mark at each end"));
    }
    if first == '$' || (value.contains(',') && first.is_ascii_digit()) {
        return Some(format!("write `{key} = \"{value}\"`, in quotation marks"));
    }
    let bare = !matches!(first, '"' | '\'' | '[' | '{');
    bare.then(|| format!("write `{key} = \"{}\"`, in quotation marks", value.replace('"', "")))
}
