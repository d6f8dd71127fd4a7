//! One file from the disk to a value: its text, its TOML, and what its keys say.

use super::document::Document;
use super::setting::Setting;
use super::syntax;
use super::table::Table;
use super::tried::Trial;
use crate::model::{Code, FileId, Finding, Place};
use chrono::NaiveDate;
use std::collections::BTreeSet;
use std::fs;
use std::path::Path;
use toml::de::{DeTable, DeValue};

/// No file an owner types by hand is larger.
const LARGEST: u64 = 1024 * 1024;

/// A file to read: its place among the sources, and its path below the shop folder.
#[derive(Clone)]
pub(super) struct FileRef {
    pub id: FileId,
    pub path: String,
}

/// A file that was read, as far as it could be.
pub(super) struct Taken<T> {
    pub file: FileRef,
    pub text: String,
    /// Nothing where the file could not be read as text.
    pub value: Option<T>,
    pub findings: Vec<Finding>,
    /// Every value is what the owner wrote; none is a stand-in.
    pub sound: bool,
    /// Its TOML could be read whole.
    pub whole: bool,
    /// The earliest date in it, where all of its dates could be read.
    pub since: Option<NaiveDate>,
    /// Files it names that are not there, by their paths below the shop folder.
    pub lost: BTreeSet<String>,
    /// Entries with keys the owner is sure of.
    pub confirmed: BTreeSet<(Place, String)>,
}

impl<T> Taken<T> {
    fn unread(file: &FileRef, text: String, finding: Finding) -> Taken<T> {
        Taken {
            file: file.clone(),
            text,
            value: None,
            findings: vec![finding],
            sound: false,
            whole: false,
            since: None,
            lost: BTreeSet::new(),
            confirmed: BTreeSet::new(),
        }
    }

    pub fn has_errors(&self) -> bool {
        self.findings.iter().any(Finding::is_error)
    }

    /// The value where checks across files can trust it.
    pub fn sound(&self) -> Option<&T> {
        self.value.as_ref().filter(|_| self.sound)
    }

    /// The value where something else in it is a stand-in, but every date is the owner's own.
    pub fn only_dated(&self) -> Option<&T> {
        self.value.as_ref().filter(|_| !self.sound && self.since.is_some())
    }
}

/// Reads a file and takes its keys in with `read`. Whatever is wrong with it is a finding.
pub(super) fn take<T>(
    setting: &Setting,
    file: &FileRef,
    read: impl Fn(&DeTable, &Document) -> T,
) -> Taken<T> {
    match text_of(&setting.folder, file) {
        (text, None) => take_text(setting, file, text, read),
        (text, Some(finding)) => Taken::unread(file, text, finding),
    }
}

/// A file that is taken in as it is: a layout.
pub(super) fn take_whole(setting: &Setting, file: &FileRef) -> Taken<()> {
    take_text_as(setting, file, |_| ((), Vec::new()))
}

/// A file that is not TOML, with what `read` makes of its text and finds in it.
pub(super) fn take_text_as<T>(
    setting: &Setting,
    file: &FileRef,
    read: impl FnOnce(&str) -> (T, Vec<Finding>),
) -> Taken<T> {
    match text_of(&setting.folder, file) {
        (text, Some(finding)) => Taken::unread(file, text, finding),
        (text, None) => {
            let (value, findings) = read(&text);
            let sound = !findings.iter().any(Finding::is_error);
            let (file, value) = (file.clone(), Some(value));
            let (lost, confirmed) = (BTreeSet::new(), BTreeSet::new());
            Taken { file, text, value, findings, sound, whole: true, since: None, lost, confirmed }
        }
    }
}

/// As [`take`], where the keys are read from the file's own table.
pub(super) fn take_keys<T>(
    setting: &Setting,
    file: &FileRef,
    read: impl Fn(&Table) -> T,
) -> Taken<T> {
    take(setting, file, |keys, document| read(&Table::root(document, keys)))
}

fn take_text<T>(
    setting: &Setting,
    file: &FileRef,
    text: String,
    read: impl Fn(&DeTable, &Document) -> T,
) -> Taken<T> {
    let mut taken = take_once(setting, file, text, &read);
    let findings = std::mem::take(&mut taken.findings);
    let findings_of = |text: &str| take_once(setting, file, text.to_owned(), &read).findings;
    let trial = Trial { text: &taken.text, currency: &setting.currency, findings_of: &findings_of };
    taken.findings = trial.tried(findings);
    taken
}

fn take_once<T>(
    setting: &Setting,
    file: &FileRef,
    text: String,
    read: &impl Fn(&DeTable, &Document) -> T,
) -> Taken<T> {
    let folder = file.path.rsplit_once('/').map_or("", |(folder, _)| folder);
    let document = Document::new(file.id, folder, setting);
    let (keys, errors) = DeTable::parse_recoverable(&text);
    let (value, since, errors) = match syntax::past_stops(&text, &errors) {
        None => (read(keys.get_ref(), &document), earliest(keys.get_ref()), errors),
        Some((readable, errors)) => {
            let keys = DeTable::parse_recoverable(&readable).0;
            (read(keys.get_ref(), &document), earliest(keys.get_ref()), errors)
        }
    };
    let verdict = document.close();
    let whole = errors.is_empty();
    let since = since.filter(|_| verdict.dates_known && whole);
    let findings = syntax::with_errors(file.id, &text, &errors, verdict.findings);
    let sound = verdict.sound && whole;
    let (file, value) = (file.clone(), Some(value));
    let (lost, confirmed) = (verdict.lost, verdict.confirmed);
    Taken { file, value, findings, sound, whole, since, lost, confirmed, text }
}

/// The text of a file, or as much of it as can be shown and what is wrong with it.
fn text_of(folder: &Path, file: &FileRef) -> (String, Option<Finding>) {
    let path = folder.join(&file.path);
    let start = Place::new(file.id, 0..0);
    let unreadable = |error: std::io::Error| {
        let message = format!("`{}` cannot be read: {error}", file.path);
        let finding = Finding::error(Code::Unreadable, start, message);
        (String::new(), Some(finding.hint("give yourself the right to read the file")))
    };
    match fs::metadata(&path) {
        Err(error) => return unreadable(error),
        Ok(about) if about.len() > LARGEST => {
            let message = format!("`{}` is larger than 1 MiB", file.path);
            let finding = Finding::error(Code::TooLarge, start, message);
            let hint = "an entry file holds a few hundred lines; put pictures beside it";
            return (String::new(), Some(finding.hint(hint)));
        }
        Ok(_) => {}
    }
    match fs::read(&path).map(String::from_utf8) {
        Err(error) => unreadable(error),
        Ok(Ok(text)) => (text, None),
        Ok(Err(not_text)) => {
            let at = not_text.utf8_error().valid_up_to();
            let shown = String::from_utf8_lossy(not_text.as_bytes()).into_owned();
            let place = Place::new(file.id, at..at + '\u{FFFD}'.len_utf8());
            let finding = Finding::error(Code::NotUtf8, place, "this is not text in UTF-8");
            (shown, Some(finding.label("not readable").hint("save the file as UTF-8")))
        }
    }
}

/// The earliest date anywhere in a table.
fn earliest(keys: &DeTable) -> Option<NaiveDate> {
    keys.values().filter_map(|value| earliest_in(value.get_ref())).min()
}

fn earliest_in(value: &DeValue) -> Option<NaiveDate> {
    match value {
        DeValue::Datetime(written) => written.date.and_then(|day| {
            NaiveDate::from_ymd_opt(day.year.into(), day.month.into(), day.day.into())
        }),
        DeValue::Array(items) => items.iter().filter_map(|item| earliest_in(item.get_ref())).min(),
        DeValue::Table(keys) => earliest(keys),
        _ => None,
    }
}
