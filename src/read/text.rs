//! Texts, dates, counts and words out of a fixed set.

use super::table::Table;
use super::value::{Fault, Reader, Value};
use super::words::ticked;
use crate::model::{At, nearest};
use chrono::{Datelike, NaiveDate};
use toml::de::DeValue;

/// Dates outside of these are slips of the hand: no entry of a working shop is older, and none is
/// written this far ahead.
const YEARS: std::ops::RangeInclusive<i32> = 1990..=2100;

/// A title is refused above this many characters.
const LONGEST_TITLE: usize = 200;

/// One line of text.
pub(super) const TEXT: Reader<String> = Reader {
    what: "text in quotation marks",
    example: "\"…\"",
    stand_in: String::new,
    read: |value| line(value).map(str::to_owned),
};

/// Text of several lines.
pub(super) const STORY: Reader<String> = Reader {
    what: "text in quotation marks",
    example: "\"…\"",
    stand_in: String::new,
    read: |value| {
        without_controls(value, |c| c != '\n' && c != '\r' && c != '\t')
            .map(|text| text.replace("\r\n", "\n"))
    },
};

/// The title of a piece.
pub(super) const TITLE: Reader<String> = Reader {
    what: "text in quotation marks",
    example: "\"Pine washstand\"",
    stand_in: String::new,
    read: title,
};

pub(super) const DATE: Reader<NaiveDate> =
    Reader { what: "a date", example: "2025-03-02", stand_in: NaiveDate::default, read: date };

fn without_controls<'a>(value: &'a Value, refused: fn(char) -> bool) -> Result<&'a str, Fault> {
    let text = value.text()?.trim();
    if let Some(c) = text.chars().find(|&c| c.is_control() && refused(c)) {
        let message = format!("`{}` holds a control character (U+{:04X})", value.key, c as u32);
        let fault = Fault::new("control-character", message).label("cannot be printed");
        return Err(fault.hint("take the character out, or write the text anew"));
    }
    if text.is_empty() {
        let message = format!("`{}` is empty", value.key);
        let fault = Fault::new("empty-text", message).label("no text");
        return Err(fault.hint("write the text, or take the line out"));
    }
    Ok(text)
}

fn line<'a>(value: &'a Value) -> Result<&'a str, Fault> {
    without_controls(value, |_| true)
}

fn title(value: &Value) -> Result<String, Fault> {
    let title = line(value)?;
    let length = title.chars().count();
    if length > LONGEST_TITLE {
        let message =
            format!("the title has {length} characters; a title has at most {LONGEST_TITLE}");
        let hint = "write a short title; what more there is to say goes into `[listing]` `story`";
        return Err(Fault::new("title-too-long", message).label("too long").hint(hint));
    }
    Ok(title.to_owned())
}

fn date(value: &Value) -> Result<NaiveDate, Fault> {
    let DeValue::Datetime(written) = value.value else { return Err(not_a_date(value)) };
    let day = written.date.and_then(|day| {
        NaiveDate::from_ymd_opt(i32::from(day.year), u32::from(day.month), u32::from(day.day))
    });
    match day {
        Some(day) if written.time.is_some() => {
            let message = format!("`{}` is a date with a time of day", value.key);
            Err(Fault::new("wrong-type", message).label("only the day").hint(value.write(day)))
        }
        Some(day) if !YEARS.contains(&day.year()) => {
            let message = format!("`{}` is in the year {}", value.key, day.year());
            let hint = format!("write a day from {} to {}", YEARS.start(), YEARS.end());
            Err(Fault::new("absurd-date", message).label("which year?").hint(hint))
        }
        Some(day) => Ok(day),
        None => Err(value.wrong_type()),
    }
}

/// A date in quotation marks only needs them taken off.
fn not_a_date(value: &Value) -> Fault {
    let fault = value.wrong_type();
    match value.value.as_str().and_then(|text| text.trim().parse::<NaiveDate>().ok()) {
        Some(day) => fault.hint(format!("{} without quotation marks", value.write(day))),
        None => fault,
    }
}

impl Table<'_> {
    /// A whole number from 1 to `most`.
    pub fn number(&self, key: &'static str, most: u32) -> Option<At<u32>> {
        let reader = Reader {
            what: "a whole number",
            example: "4",
            stand_in: || 1,
            read: |value| match value.value {
                DeValue::Integer(number) => {
                    number.to_string().parse().map_err(|_| not_a_count(value, number))
                }
                _ => Err(value.wrong_type()),
            },
        };
        let number: At<u32> = self.may(key, &reader)?;
        if (1..=most).contains(&number.value) {
            return Some(number);
        }
        let message = format!("`{key}` is {}; it can be from 1 to {most}", number.value);
        let finding = crate::model::Finding::error("number", number.place, message);
        self.document.stand_in(finding.label("out of range").hint(format!("write `{key} = 1`")));
        Some(At::new(1, number.place))
    }

    /// One of a fixed set of words, and what it stands for.
    pub fn one_of<T: Copy>(&self, key: &'static str, words: &[(&str, T)]) -> Option<At<T>> {
        let word = self.may(key, &WORD)?;
        let found = words.iter().find(|(known, _)| *known == word.value).or(words.first())?;
        if found.0 != word.value && !word.value.is_empty() {
            self.not_a_word(key, &word, words.iter().map(|(known, _)| *known));
        }
        Some(At::new(found.1, word.place))
    }

    /// As [`Table::one_of`], where the key must be there.
    pub fn need_one_of<T: Copy>(&self, key: &'static str, words: &[(&str, T)]) -> T {
        match self.one_of(key, words) {
            Some(found) => found.value,
            None => {
                let known: Vec<&str> = words.iter().map(|(word, _)| *word).collect();
                self.missing(key, &format!("\"{}\"", known[0]));
                words[0].1
            }
        }
    }

    /// Says that a word is none of those that can stand here.
    pub fn not_a_word<'w>(
        &self,
        key: &str,
        written: &At<String>,
        known: impl Iterator<Item = &'w str>,
    ) {
        let known: Vec<&str> = known.collect();
        let message = format!("`{}` is not something `{key}` can be", written.value);
        let hint = match nearest(&written.value, known.iter().copied()) {
            Some(near) => format!("write `{key} = \"{near}\"`"),
            None => format!("the words for `{key}` are {}", ticked(&known)),
        };
        let finding = crate::model::Finding::error("unknown-word", written.place, message);
        self.document.stand_in(finding.label("not a word known here").hint(hint));
    }
}

fn not_a_count(value: &Value, number: &toml::de::DeInteger) -> Fault {
    Fault::new("number", format!("`{}` cannot be {number}", value.key)).label("not a count")
}

/// A word out of a set; the set is looked at by the table.
pub(super) const WORD: Reader<String> = TEXT;
