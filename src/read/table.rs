//! A TOML table that remembers which keys were asked for, so that unknown ones fall out by
//! themselves, and that turns whatever is wrong with a value into a finding.

use super::document::{Document, UnknownKey};
use super::text::{DATE, TEXT};
use super::value::{Cure, Fault, Reader, Value};
use super::words::{called, meant};
use crate::model::{At, Code, Edit, Finding, Hint, Place};
use std::cell::{Cell, RefCell};
use toml::Spanned;
use toml::de::{DeTable, DeValue};

/// Any table may confirm what is odd in it: `sure = ["price"]`.
const SURE: &str = "sure";

/// A table of one of the owner's files.
pub(super) struct Table<'a> {
    pub document: &'a Document<'a>,
    /// Empty for the file itself, else as the owner writes it: `[bought]`, `[[sale]]`.
    name: String,
    entries: &'a DeTable<'a>,
    pub place: Place,
    asked: RefCell<Vec<&'static str>>,
    keys_are_the_owners: Cell<bool>,
}

/// A key whose name is the owner's own, such as that of a channel.
pub(super) struct OwnKey<'a> {
    pub key: At<&'a str>,
    pub value: &'a Spanned<DeValue<'a>>,
}

impl<'a> Table<'a> {
    /// The file's own table; its place is that of the first key.
    pub fn root(document: &'a Document<'a>, entries: &'a DeTable<'a>) -> Table<'a> {
        let first = entries.keys().map(Spanned::span).min_by_key(|span| span.start);
        let place = document.place(first.unwrap_or(0..0));
        Table::new(document, String::new(), entries, place)
    }

    fn new(
        document: &'a Document<'a>,
        name: String,
        entries: &'a DeTable<'a>,
        place: Place,
    ) -> Table<'a> {
        let asked = RefCell::default();
        Table { document, name, entries, place, asked, keys_are_the_owners: Cell::new(false) }
    }

    /// As the owner writes it: `[bought]`, `[[sale]]`.
    pub fn name(&self) -> &str {
        &self.name
    }

    /// The value of a key; from now on the key is a known one.
    pub fn find(&self, key: &'static str) -> Option<&'a Spanned<DeValue<'a>>> {
        self.asked.borrow_mut().push(key);
        self.entries.get(key)
    }

    /// A value that may be left out.
    pub fn may<T>(&self, key: &'static str, reader: &Reader<T>) -> Option<At<T>> {
        let found = self.find(key)?;
        let place = self.document.place(found.span());
        Some(At::new(self.read(key, found.get_ref(), place, reader), place))
    }

    /// A value that must be there.
    pub fn need<T>(&self, key: &'static str, reader: &Reader<T>) -> At<T> {
        self.may(key, reader).unwrap_or_else(|| {
            self.missing(key, reader.example);
            self.note_date(reader);
            At::new((reader.stand_in)(), self.place)
        })
    }

    /// A value, and what holds when it is left out.
    pub fn or<T>(&self, key: &'static str, reader: &Reader<T>, otherwise: T) -> T {
        self.may(key, reader).map_or(otherwise, |at| at.value)
    }

    /// Reads any value of this table as `reader` says; a fault becomes a finding and a stand-in.
    pub fn read<T>(&self, key: &str, value: &DeValue, place: Place, reader: &Reader<T>) -> T {
        self.read_as(key, key, value, place, reader)
    }

    /// As [`Table::read`], where a hint calls the key `shown`.
    fn read_as<T>(
        &self,
        key: &str,
        shown: &str,
        value: &DeValue,
        place: Place,
        reader: &Reader<T>,
    ) -> T {
        let value = Value {
            key,
            value,
            setting: self.document.setting,
            what: reader.what,
            example: reader.example,
        };
        (reader.read)(&value).unwrap_or_else(|fault| {
            self.fault(shown, place, fault, reader.example);
            self.note_date(reader);
            (reader.stand_in)()
        })
    }

    /// The place of a key that this table must not have, and that is not called unknown; what stands below it
    /// is not looked at.
    pub fn turn_away(&self, key: &'static str) -> Option<Place> {
        let found = self.entries.get(key)?;
        self.asked.borrow_mut().push(key);
        Some(self.document.place(found.span()))
    }

    fn note_date<T>(&self, reader: &Reader<T>) {
        if reader.what == DATE.what {
            self.document.date_unread();
        }
    }

    fn fault(&self, key: &str, place: Place, fault: Fault, example: &str) {
        let cure = fault.cure.unwrap_or_else(|| Cure::SuchAs(example.to_owned()));
        let finding = Finding::error(fault.code, place, fault.message).label(fault.label);
        self.document.stand_in(finding.hint(hint(key, place, cure)));
    }

    /// Says that a key is not there; `example` is a value for it.
    pub fn missing(&self, key: &str, example: &str) {
        let finding = self.lacks(key);
        self.document.stand_in(finding.hint(format!("add it, such as `{key} = {example}`")));
    }

    pub fn lacks(&self, key: &str) -> Finding {
        let message = match self.name.as_str() {
            "" => format!("this file has no `{key}`"),
            table => format!("this `{table}` has no `{key}`"),
        };
        let finding = Finding::error(Code::MissingKey, self.place, message);
        finding.label(format!("`{key}` is missing here"))
    }

    /// A table that may be left out: `[bought]` or `bought = { … }`.
    pub fn table(&self, key: &'static str) -> Option<Table<'a>> {
        let found = self.find(key)?;
        self.inner(key, format!("[{key}]"), found)
    }

    /// The table of a key whose name is the owner's own.
    pub fn own_table(&self, own: &OwnKey<'a>) -> Option<Table<'a>> {
        let name = match self.name.trim_matches(['[', ']']) {
            "" => format!("[{}]", own.key.value),
            outer => format!("[{outer}.{}]", own.key.value),
        };
        self.inner(own.key.value, name, own.value)
    }

    fn inner(&self, key: &str, name: String, found: &'a Spanned<DeValue<'a>>) -> Option<Table<'a>> {
        let place = self.document.place(found.span());
        match found.get_ref() {
            DeValue::Table(entries) => Some(Table::new(self.document, name, entries, place)),
            other => {
                let called = called(other);
                let message = format!("`{key}` must be one table of keys, and this is {called}");
                let hint = match other {
                    DeValue::Array(_) => format!("put `{name}` once, and in single brackets"),
                    _ => format!("put `{name}` on a line of its own, and its keys below it"),
                };
                self.wrong_shape(place, message, hint.into());
                None
            }
        }
    }

    /// Tables that may come several times: `[[sale]]` or `sale = [{ … }]`, in the file's order.
    pub fn tables(&self, key: &'static str) -> Vec<Table<'a>> {
        let Some(found) = self.find(key) else { return Vec::new() };
        let name = format!("[[{key}]]");
        let DeValue::Array(items) = found.get_ref() else {
            self.not_several(key, found);
            return Vec::new();
        };
        items.iter().filter_map(|item| self.inner(key, name.clone(), item)).collect()
    }

    /// Says where a list is longer than any piece needs. The papers would take hours to set.
    pub fn at_most(&self, key: &'static str, most: usize) {
        let Some(DeValue::Array(items)) = self.entries.get(key).map(Spanned::get_ref) else {
            return;
        };
        if let Some(first) = items.get(most) {
            let message = format!("there are {} `{key}`, and at most {most} are read", items.len());
            let finding = Finding::error(Code::TooMany, self.document.place(first.span()), message);
            let hint = "see whether this is the file you meant; put together what belongs together";
            self.document.stand_in(finding.label("one too many").hint(hint));
        }
    }

    fn not_several(&self, key: &str, found: &Spanned<DeValue>) {
        let called = called(found.get_ref());
        let message = format!("`{key}` may come several times, and this is {called}");
        let hint =
            format!("put `[[{key}]]`, in double brackets, on a line of its own above its keys");
        self.wrong_shape(self.document.place(found.span()), message, hint.into());
    }

    fn wrong_shape(&self, place: Place, message: String, hint: Hint) {
        self.document.date_unread();
        self.document.stand_in(Finding::error(Code::WrongType, place, message).hint(hint));
    }

    /// The items of a list, each read by `reader`; empty when left out.
    pub fn list<T>(&self, key: &'static str, reader: &Reader<T>) -> Vec<At<T>> {
        let Some(found) = self.find(key) else { return Vec::new() };
        let DeValue::Array(items) = found.get_ref() else {
            let place = self.document.place(found.span());
            let message =
                format!("`{key}` must be a list, and this is {}", called(found.get_ref()));
            let listed = match found.get_ref() {
                DeValue::String(text) => Cure::Write(format!("[{}]", quoted(text))),
                _ => Cure::SuchAs(format!("[{}]", reader.example)),
            };
            self.wrong_shape(place, message, hint(key, place, listed));
            return Vec::new();
        };
        let read = |item: &Spanned<DeValue>| {
            let place = self.document.place(item.span());
            At::new(self.read_as(key, "", item.get_ref(), place, reader), place)
        };
        items.iter().map(read).collect()
    }

    /// Whether a key is there as a number without a unit.
    pub fn is_bare_number(&self, key: &str) -> bool {
        let digits = |text: &str| text.bytes().all(|b| b.is_ascii_digit() || b == b'.');
        self.entries.get(key).is_some_and(|value| match value.get_ref() {
            DeValue::String(text) => digits(text.trim()),
            value => matches!(value, DeValue::Integer(_) | DeValue::Float(_)),
        })
    }

    /// Whether the owner has confirmed a key of this table: `sure = ["price"]`.
    pub fn is_sure_of(&self, key: &str) -> bool {
        let sure = self.entries.get(SURE).and_then(|sure| sure.get_ref().as_array());
        sure.is_some_and(|keys| keys.iter().any(|sure| sure.get_ref().as_str() == Some(key)))
    }

    /// The keys the owner has confirmed, each of which must be one this table may have.
    fn confirmations(&self, asked: &[&'static str]) {
        for key in self.list(SURE, &Reader { example: "\"price\"", ..TEXT }) {
            if key.value.is_empty() || asked.contains(&key.value.as_str()) {
                self.document.confirm(self.place, &key.value);
                continue;
            }
            let message = format!("`{}` is no key here that one can be sure of", key.value);
            let typed = |near: &str| (quoted(near), quoted(near));
            let finding =
                Finding::error(Code::UnknownWord, key.place, message).label("not a key here");
            let near = meant(&key.value, key.place, asked.iter().copied(), typed);
            let hint = near.unwrap_or_else(|| Hint::say("name the key whose value is right"));
            self.document.stand_in(finding.hint(hint));
        }
    }

    /// Every key, in the file's order, where their names are the owner's own.
    pub fn own_keys(&self) -> Vec<OwnKey<'a>> {
        self.keys_are_the_owners.set(true);
        let mut keys: Vec<OwnKey> = self
            .entries
            .iter()
            .map(|(key, value)| OwnKey {
                key: At::new(key.get_ref().as_ref(), self.document.place(key.span())),
                value,
            })
            .collect();
        keys.sort_by_key(|own| own.key.place);
        keys
    }
}

/// A hint about the value of a key; an item of a list has none.
pub(super) fn hint(key: &str, place: Place, cure: Cure) -> Hint {
    let line = |value: &String| match key {
        "" => value.clone(),
        key => format!("{} = {value}", bare_or_quoted(key)),
    };
    match cure {
        Cure::Write(value) => Hint::write(&line(&value), Edit { place, text: value }),
        Cure::Either(values) => Hint::either(&values.iter().map(line).collect::<Vec<_>>()),
        Cure::SuchAs(value) => Hint::such_as(&line(&value)),
        Cure::Say(words) => Hint::say(words),
    }
}

fn bare_or_quoted(key: &str) -> String {
    let bare = |c: char| c.is_ascii_alphanumeric() || matches!(c, '-' | '_');
    if key.chars().all(bare) { key.to_owned() } else { quoted(key) }
}

/// A text as TOML, in the marks that need no escapes where there are such.
pub(super) fn quoted(text: &str) -> String {
    let plain = !text.contains(['\\', '\'']) && !text.contains(char::is_control);
    match text.contains('"') && plain {
        true => format!("'{text}'"),
        false => toml::Value::String(text.to_owned()).to_string(),
    }
}

/// Whatever key was not asked for is unknown.
impl Drop for Table<'_> {
    fn drop(&mut self) {
        let mut asked = self.asked.take();
        self.document.asked(&self.name, &asked);
        if self.keys_are_the_owners.get() {
            return;
        }
        if !asked.contains(&SURE) {
            self.confirmations(&asked);
            asked.push(SURE);
        }
        asked.sort_unstable();
        asked.dedup();
        let keys = || self.entries.keys().map(|key| (key.get_ref().as_ref(), key.span()));
        for (key, span) in keys().filter(|(key, _)| !asked.contains(key)) {
            if !self.document.takes_unknown_keys() {
                self.document.count_unknown_key();
                continue;
            }
            self.document.unknown_key(UnknownKey {
                key: key.to_owned(),
                place: self.document.place(span),
                table: self.name.clone(),
                known: asked.clone(),
                there: keys().map(|(key, _)| key.to_owned()).collect(),
                several: self.entries.get(key).is_some_and(|value| heads_several(value.get_ref())),
            });
        }
    }
}

/// `[[sale]]`, or the owner's own names below one key: `[channel.online]`.
fn heads_several(value: &DeValue) -> bool {
    let is_table = |value: &Spanned<DeValue>| value.get_ref().is_table();
    match value {
        DeValue::Table(table) => !table.is_empty() && table.values().all(is_table),
        value => value.is_array(),
    }
}
