//! Texts, dates, counts and words out of a fixed set.

use super::days::{self, YEARS};
use super::table::Table;
use super::table::hint;
use super::value::{Cure, Fault, Reader, Value};
use super::words::{as_value, called, meant, typed_choice};
use crate::model::{At, Closed, Code, Finding, Hint, Place, turns_direction};
use chrono::{Datelike, NaiveDate};
use std::ops::RangeInclusive;
use toml::de::DeValue;

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
    if text.contains(['\n', '\r']) && refused('\n') {
        let message = format!("`{}` goes over several lines", value.key);
        let fault = Fault::new(Code::ControlCharacter, message).label("must be one line");
        return Err(fault.say(format!(
            "put the text of `{}` in one line; a path is written with `/`",
            value.key
        )));
    }
    if let Some(c) = text.chars().find(|&c| c.is_control() && refused(c)) {
        let message = format!(
            "`{}` holds a character that cannot be printed (U+{:04X})",
            value.key, c as u32
        );
        let fault = Fault::new(Code::ControlCharacter, message).label("somewhere in here");
        return Err(fault.say("delete the text and type it anew; do not paste it"));
    }
    if let Some(c) = text.chars().find(|&c| turns_direction(c)) {
        let message = format!(
            "`{}` holds a character that turns the direction of what follows (U+{:04X})",
            value.key, c as u32
        );
        let fault = Fault::new(Code::ControlCharacter, message).label("somewhere in here");
        return Err(
            fault.say("delete the text and type it anew; no character is needed to turn a script")
        );
    }
    if text.is_empty() {
        return Err(value.empty());
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
        let words = "shorten it; what more there is to say goes into `[listing]` `story`";
        return Err(Fault::new(Code::TitleTooLong, message).label("too long").say(words));
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
            Err(Fault::new(Code::WrongType, message).label("only the day").write(day))
        }
        Some(day) if !YEARS.contains(&day.year()) => {
            let message = format!("`{}` is in the year {}", value.key, day.year());
            let fault = Fault::new(Code::AbsurdDate, message).label("which year?");
            Err(match day.year() {
                year @ 0..100 => fault.write(format!("20{year:02}{}", day.format("-%m-%d"))),
                _ => fault.say(format!("days are from {} to {}", YEARS.start(), YEARS.end())),
            })
        }
        Some(day) => Ok(day),
        None => Err(value.wrong_type()),
    }
}

/// A date in quotation marks, or in another order, only needs writing as the files want it.
fn not_a_date(value: &Value) -> Fault {
    let typed = value.number_or_text().unwrap_or_default();
    let days = days::readings(&typed).iter().map(NaiveDate::to_string).collect();
    value.wrong_type().cure(Cure::of(days))
}

impl Table<'_> {
    /// A whole number from 1 to `most`.
    pub fn number(&self, key: &'static str, most: u32) -> Option<At<u32>> {
        self.between(key, 1..=most)
    }

    /// A whole number within a range.
    pub fn between(&self, key: &'static str, range: RangeInclusive<u32>) -> Option<At<u32>> {
        let found = self.find(key)?;
        let place = self.document.place(found.span());
        let (least, most) = (*range.start(), *range.end());
        let fault = match found.get_ref() {
            DeValue::Integer(number) => match number.to_string().parse() {
                Ok(number) if range.contains(&number) => return Some(At::new(number, place)),
                _ => {
                    let message = format!("`{key}` is from {least} to {most}, and not {number}");
                    Fault::new(Code::Number, message)
                }
            },
            other => {
                let called = called(other);
                let message = format!("`{key}` must be a whole number, and this is {called}");
                let fault = Fault::new(Code::WrongType, message);
                let whole = whole_number(other).filter(|number| range.contains(number));
                fault.cure(whole.map(|number| Cure::Write(number.to_string())))
            }
        };
        let example = Cure::SuchAs(most.min(least * 2).to_string());
        let finding = Finding::error(fault.code, place, fault.message).label("not a count");
        self.document.stand_in(finding.hint(hint(key, place, fault.cure.unwrap_or(example))));
        Some(At::new(least, place))
    }

    /// One of a fixed set of words, and what it stands for.
    pub fn one_of<T: Copy>(&self, key: &'static str, words: &[(&str, T)]) -> Option<At<T>> {
        let found = self.find(key)?;
        let (place, first) = (self.document.place(found.span()), words.first()?);
        let Some(word) = found.get_ref().as_str() else {
            self.must_be_a_word(key, found.get_ref(), place, words);
            return Some(At::new(first.1, place));
        };
        let word = At::new(word.to_owned(), place);
        let found = words.iter().find(|(known, _)| *known == word.value);
        if found.is_none() {
            self.not_a_word(key, &word, words.iter().map(|(known, _)| *known));
        }
        Some(At::new(found.unwrap_or(first).1, place))
    }

    /// A word of a closed set, where it may be left out.
    pub fn word_of<T: Closed>(&self, key: &'static str) -> Option<T> {
        self.one_of(key, T::ALL).map(|found| found.value)
    }

    fn must_be_a_word<T>(&self, key: &str, value: &DeValue, place: Place, words: &[(&str, T)]) {
        let known: Vec<&str> = words.iter().map(|(word, _)| *word).collect();
        let called = called(value);
        let message = format!("`{key}` must be a word in quotation marks, and this is {called}");
        let finding = Finding::error(Code::WrongType, place, message).label("not a word");
        self.document.stand_in(finding.hint(format!("one of {}", typed_choice(key, &known))));
    }

    /// As [`Table::one_of`], where the key must be there.
    pub fn need_one_of<T: Copy>(&self, key: &'static str, words: &[(&str, T)]) -> T {
        match self.one_of(key, words) {
            Some(found) => found.value,
            None => {
                let known: Vec<&str> = words.iter().map(|(word, _)| *word).collect();
                let one_of = format!("add it: one of {}", typed_choice(key, &known));
                self.document.stand_in(self.lacks(key).hint(one_of));
                words[0].1
            }
        }
    }

    /// As [`Table::word_of`], where the key must be there.
    pub fn need_word_of<T: Closed>(&self, key: &'static str) -> T {
        self.need_one_of(key, T::ALL)
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
        let near = meant(&written.value, written.place, known.iter().copied(), as_value(key));
        let choice = || Hint::say(format!("one of {}", typed_choice(key, &known)));
        let hint = near.unwrap_or_else(choice);
        let finding = Finding::error(Code::UnknownWord, written.place, message);
        self.document.stand_in(finding.label("not a word known here").hint(hint));
    }
}

/// What whole numbers count, as people write it behind them.
const COUNTED: [&str; 6] = ["days", "coats", "characters", "pixels", "months", "pieces"];

/// A whole number that was written as a text, or with decimals of zero.
fn whole_number(value: &DeValue) -> Option<u32> {
    let typed = match value {
        DeValue::String(text) => {
            let text = text.trim();
            COUNTED.iter().find_map(|of| text.strip_suffix(of)).unwrap_or(text).trim_end()
        }
        DeValue::Float(number) => number.as_str(),
        _ => return None,
    };
    typed
        .split_once('.')
        .map_or(
            typed,
            |(whole, zeros)| {
                if zeros.bytes().all(|b| b == b'0') { whole } else { typed }
            },
        )
        .parse()
        .ok()
}

/// A word out of a set; the set is looked at by the table.
pub(super) const WORD: Reader<String> = TEXT;
