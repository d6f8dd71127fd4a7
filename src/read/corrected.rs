//! A line that is not TOML, as it may have been meant: the guesses, the surest first. Which of them
//! is offered is decided by reading the file with each in place (see [`super::tried`]).

use super::amount::readings;
use super::days;
use super::syntax::open_brackets;
use super::table::quoted;
use crate::model::Currency;
use std::ops::Range;

/// What to say of a line that may mean anything.
pub(super) const GENERAL: &str = "a line is `key = value`, `[table]` or `[[table]]`; text stands in \"…\", and a remark after `#`";

/// One stretch of the line and what stands there instead.
#[derive(Clone, Debug, PartialEq, Eq)]
pub(super) struct Guess {
    pub range: Range<usize>,
    pub text: String,
    /// As much of the line as shows what is meant.
    pub shown: String,
}

/// The guesses in groups: those of one group are readings of equal right.
pub(super) fn guesses(line: &str, at: usize, currency: &Currency) -> Vec<Vec<Guess>> {
    let bare = line.trim();
    if bare.is_empty() {
        return Vec::new();
    }
    let start = line.len() - line.trim_start().len();
    let whole =
        |text: String| Guess { range: start..start + bare.len(), shown: text.clone(), text };
    if bare.starts_with('[') {
        let name = bare.trim_matches(['[', ']', '{', '}', '(', ')', ' ']);
        return vec![vec![whole(format!("[[{name}]]"))], vec![whole(format!("[{name}]"))]];
    }
    match Field::around(line, at) {
        Some(field) => {
            let brackets = with_brackets(bare).map(|text| vec![whole(text)]);
            let comma = with_comma(line, at, &whole).map(|guess| vec![guess]);
            brackets.into_iter().chain(field.guesses(currency)).chain(comma).collect()
        }
        None => match with_equals(bare) {
            Some(text) => {
                let field = Field::around(&text, text.len());
                let of_field = field.map(|field| field.guesses(currency)).unwrap_or_default();
                let moved = of_field.into_iter().map(|group| {
                    let made = |guess: Guess| whole(guess.applied(&text));
                    group.into_iter().map(made).collect()
                });
                std::iter::once(vec![whole(text.clone())]).chain(moved).collect()
            }
            None => Vec::new(),
        },
    }
}

/// Keys that hold a day.
const DAYS: [&str; 6] = ["on", "last", "back", "sale-on", "in-service", "upholstered-on"];

/// The key of a day that is none.
pub(super) fn dated(line: &str, at: usize) -> Option<&str> {
    Field::around(line, at).map(|field| field.key).filter(|key| DAYS.contains(key))
}

impl Guess {
    fn applied(&self, line: &str) -> String {
        let mut line = line.to_owned();
        line.replace_range(self.range.clone(), &self.text);
        line
    }
}

/// `{ a = 3 b = 1 }` was meant with a comma where the parser stopped.
fn with_comma(line: &str, at: usize, whole: &impl Fn(String) -> Guess) -> Option<Guess> {
    let (before, after) = (line.get(..at)?.trim(), line.get(at..)?.trim());
    let listed = before.contains(['{', '[']) && !before.ends_with([',', '=', '{', '[']);
    (listed && !after.is_empty()).then(|| whole(format!("{before}, {after}")))
}

/// `["a", "b"` was meant with the brackets that close it.
fn with_brackets(bare: &str) -> Option<String> {
    let open = open_brackets(bare);
    let closing = open.iter().rev().map(|open| if *open == '[' { "]" } else { " }" });
    (!open.is_empty()).then(|| bare.trim_end_matches(',').to_owned() + &closing.collect::<String>())
}

/// `height: "34 in"` and `height "34 in"` were meant with `=`.
fn with_equals(bare: &str) -> Option<String> {
    let (key, value) = bare.split_once(':').or_else(|| bare.split_once(char::is_whitespace))?;
    let (key, value) = (key.trim(), value.trim());
    let is_key = |c: char| c.is_ascii_alphanumeric() || matches!(c, '-' | '_');
    let plain = !key.is_empty() && key.chars().all(is_key) && !value.is_empty();
    plain.then(|| format!("{key} = {value}"))
}

/// A key and its value, which may be inside of braces.
struct Field<'a> {
    key: &'a str,
    value: &'a str,
    /// Where the value stands in the line.
    range: Range<usize>,
    inside: bool,
}

impl<'a> Field<'a> {
    fn around(line: &'a str, at: usize) -> Option<Field<'a>> {
        let before = line.get(..at).unwrap_or(line);
        let equals = before.rfind('=').or_else(|| line.find('='))?;
        let (left, right) = (&line[..equals], &line[equals + 1..]);
        let inside = left.contains('{');
        let key = left.rsplit(['{', ',']).next().unwrap_or(left).trim();
        let end = match inside {
            true => right.find([',', '}']).unwrap_or(right.len()),
            false => comment(right).unwrap_or(right.len()),
        };
        let value = right[..end].trim();
        let start = equals + 1 + (right.len() - right.trim_start().len()).min(end);
        (!value.is_empty() && !key.is_empty()).then(|| Field {
            key,
            value,
            range: start..start + value.len(),
            inside,
        })
    }

    fn guess(&self, value: String) -> Guess {
        let shown = format!("{} = {value}", self.key);
        Guess { range: self.range.clone(), text: value, shown }
    }

    fn group(&self, values: impl IntoIterator<Item = String>) -> Vec<Guess> {
        values.into_iter().map(|value| self.guess(value)).collect()
    }

    fn guesses(&self, currency: &Currency) -> Vec<Vec<Guess>> {
        let value = self.value;
        let plain = value.trim_end_matches([',', ';', '.']);
        let mut groups = vec![
            self.group(days::readings(value).iter().map(ToString::to_string)),
            self.group(readings(plain, currency)),
            self.group(yes_or_no(plain)),
            self.group((plain != value).then(|| plain.to_owned())),
            self.group(straight(value)),
            self.group(single_quoted(value)),
            self.group(closed(value)),
            self.group(bare(value).then(|| quoted(plain))),
        ];
        if !self.inside {
            groups.extend(self.remark().map(|guess| vec![guess]));
        }
        groups.into_iter().filter(|group| !group.is_empty()).collect()
    }

    /// `25 // cash` was meant as `25 # cash`.
    fn remark(&self) -> Option<Guess> {
        let marks = ["//", "--", ";", "("];
        let (at, mark) = marks.iter().filter_map(|m| Some((self.value.find(m)?, *m))).min()?;
        let (value, rest) = self.value.split_at(at);
        let rest = rest.trim_start_matches(mark).trim_matches([')', ' ', '/']);
        Some(self.guess(format!("{} # {rest}", value.trim())))
    }
}

/// Where a remark begins that is not inside of quotation marks.
fn comment(right: &str) -> Option<usize> {
    let mut open = None;
    for (at, c) in right.char_indices() {
        match (open, c) {
            (None, '#') => return Some(at),
            (None, '"' | '\'') => open = Some(c),
            (Some(mark), c) if mark == c => open = None,
            _ => {}
        }
    }
    None
}

fn yes_or_no(value: &str) -> Option<String> {
    match value.to_lowercase().as_str() {
        "yes" | "true" => Some("true".to_owned()),
        "no" | "false" => Some("false".to_owned()),
        _ => None,
    }
}

/// Curled quotation marks around a text, as word processors put them.
fn straight(value: &str) -> Option<String> {
    let curled = ['“', '”', '„', '‟', '‘', '’', '«', '»'];
    let inner = value.trim_matches(|c| curled.contains(&c));
    (inner.len() < value.len()).then(|| quoted(inner.trim_matches('"')))
}

/// `"C:\photos"`: what stands in single marks needs no escapes.
fn single_quoted(value: &str) -> Option<String> {
    let inner = value.strip_prefix('"')?.strip_suffix('"')?;
    (inner.contains('\\') && !inner.contains(['\'', '"'])).then(|| format!("'{inner}'"))
}

/// A text whose mark is missing at one end, is another at the other, or stands inside as well.
fn closed(value: &str) -> Option<String> {
    let marks = ['"', '\''];
    let starts = value.starts_with(marks);
    let ends = value.len() > 1 && value.ends_with(marks);
    let text = value.strip_prefix(marks).unwrap_or(value);
    let text = if ends { &text[..text.len() - 1] } else { text };
    (starts || ends).then(|| quoted(text.trim_end_matches(',')))
}

/// A value that is neither a text already nor a list or a table.
fn bare(value: &str) -> bool {
    !value.starts_with(['"', '\'', '[', '{'])
}
