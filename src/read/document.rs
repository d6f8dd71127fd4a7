//! One of the owner's files while it is being read: what was found in it so far.
//!
//! Only the modules of this floor use it. A required value that is missing or wrong is replaced by
//! a stand-in so that reading goes on and every fault of the file is found in one run; a file in
//! which anything was found wrong is set aside whole, so that a stand-in never leaves this floor.

use super::known_keys::{belongs, known_in};
use super::setting::Setting;
use super::words::{meant, ticked};
use crate::model::{Code, FileId, Finding, Hint, Place, Severity, counted};
use std::cell::{Cell, RefCell};
use std::collections::{BTreeMap, BTreeSet};
use std::ops::Range;
use std::sync::LazyLock;

/// More findings of a file than these are counted and not shown.
const MOST_TOLD: usize = 60;

/// A file being read.
pub(super) struct Document<'a> {
    pub id: FileId,
    /// The folder it stands in, below the shop folder, with `/`; empty for the shop folder.
    pub folder: &'a str,
    pub setting: &'a Setting,
    findings: RefCell<Vec<Finding>>,
    unknown: RefCell<Vec<UnknownKey>>,
    /// Further unknown keys, which are only counted.
    more_unknown: Cell<usize>,
    lost: RefCell<BTreeSet<String>>,
    /// The keys each table was asked for, by its name as it is typed; the file's own has none.
    asked: RefCell<BTreeMap<String, BTreeSet<&'static str>>>,
    /// Entries with keys the owner is sure of, however odd they are.
    confirmed: RefCell<BTreeSet<(Place, String)>>,
    stood_in: Cell<bool>,
    date_unread: Cell<bool>,
    /// What is read now only changes how the paper looks.
    taste: Cell<bool>,
}

/// What is known of a file once it was read.
pub(super) struct Verdict {
    pub findings: Vec<Finding>,
    /// Every value is what the owner wrote; none is a stand-in.
    pub sound: bool,
    /// No date in it was missing or wrong.
    pub dates_known: bool,
    /// Files it names that are not there, by their paths below the shop folder.
    pub lost: BTreeSet<String>,
    /// Entries with keys the owner is sure of.
    pub confirmed: BTreeSet<(Place, String)>,
}

/// An unknown key, with the keys known there.
pub(super) struct UnknownKey {
    pub key: String,
    pub place: Place,
    /// Empty for the file itself, else `[bought]`.
    pub table: String,
    pub known: Vec<&'static str>,
    /// The keys that are there beside it.
    pub there: Vec<String>,
    /// It heads tables that may come several times.
    pub several: bool,
}

impl<'a> Document<'a> {
    pub fn new(id: FileId, folder: &'a str, setting: &'a Setting) -> Document<'a> {
        Document {
            id,
            folder,
            setting,
            findings: RefCell::default(),
            unknown: RefCell::default(),
            more_unknown: Cell::new(0),
            lost: RefCell::default(),
            asked: RefCell::default(),
            confirmed: RefCell::default(),
            stood_in: Cell::new(false),
            date_unread: Cell::new(false),
            taste: Cell::new(false),
        }
    }

    pub fn place(&self, span: Range<usize>) -> Place {
        Place::new(self.id, span)
    }

    /// Something about a value that was read all the same.
    pub fn say(&self, finding: Finding) {
        self.findings.borrow_mut().push(finding);
    }

    /// A file that is named and not there.
    pub fn lost(&self, path: String, finding: Finding) {
        self.lost.borrow_mut().insert(path);
        self.say(finding);
    }

    /// Something about a value that could not be read: what follows is a stand-in.
    pub fn stand_in(&self, finding: Finding) {
        if self.taste.get() {
            return self.say(Finding { severity: Severity::Warning, ..finding });
        }
        self.stood_in.set(true);
        self.say(finding);
    }

    /// Reads what only changes how the paper looks: what is wrong with it is a warning, and the
    /// stand-in is what the house does by itself.
    pub fn taste<T>(&self, read: impl FnOnce() -> T) -> T {
        self.taste.set(true);
        let found = read();
        self.taste.set(false);
        found
    }

    pub fn asked(&self, table: &str, keys: &[&'static str]) {
        self.asked.borrow_mut().entry(table.to_owned()).or_default().extend(keys);
    }

    pub fn confirm(&self, entry: Place, key: &str) {
        self.confirmed.borrow_mut().insert((entry, key.to_owned()));
    }

    pub fn all_asked(&self) -> BTreeMap<String, BTreeSet<&'static str>> {
        self.asked.borrow().clone()
    }

    /// Whether a further unknown key is told of, or only counted.
    pub fn takes_unknown_keys(&self) -> bool {
        self.unknown.borrow().len() < MOST_TOLD
    }

    pub fn count_unknown_key(&self) {
        self.more_unknown.set(self.more_unknown.get() + 1);
    }

    pub fn unknown_key(&self, unknown: UnknownKey) {
        self.unknown.borrow_mut().push(unknown);
    }

    /// A date is missing or wrong: the file may reach further back than its other dates say.
    pub fn date_unread(&self) {
        self.date_unread.set(true);
    }

    pub fn close(self) -> Verdict {
        let asked = self.asked.into_inner();
        let mut findings = self.findings.into_inner();
        findings.extend(self.unknown.into_inner().iter().map(|u| u.finding(&asked)));
        let findings = few(self.id, findings, self.more_unknown.get());
        let (sound, dates_known) = (!self.stood_in.get(), !self.date_unread.get());
        let (lost, confirmed) = (self.lost.into_inner(), self.confirmed.into_inner());
        Verdict { findings, sound, dates_known, lost, confirmed }
    }
}

/// Of a file with very many findings only the first ones, the errors before the others: each takes
/// time to judge and to show, and an owner reads no more of them.
fn few(file: FileId, mut findings: Vec<Finding>, uncounted: usize) -> Vec<Finding> {
    let more = findings.len().saturating_sub(MOST_TOLD) + uncounted;
    if more == 0 {
        return findings;
    }
    findings.sort_by_key(|finding| (finding.severity, finding.place));
    let severity = match uncounted {
        0 => findings[MOST_TOLD].severity,
        // An unknown key is an error.
        _ => Severity::Error,
    };
    findings.truncate(MOST_TOLD);
    let message =
        format!("{} more of this file are not shown", counted(more, "finding", "findings"));
    let hint = "see whether this is the file you meant; fix those shown first";
    let rest = Finding::error(Code::ManyFindings, Place::new(file, 0..0), message).hint(hint);
    findings.push(Finding { severity, ..rest });
    findings
}

/// By key, what people call it in lists of their own.
static OTHER_WORDS: LazyLock<BTreeMap<String, Vec<String>>> =
    LazyLock::new(|| toml::from_str(include_str!("tables/other_words.toml")).expect("embedded"));

fn is_other_word(typed: &str, key: &str) -> bool {
    let typed = typed.to_lowercase().replace('_', "-");
    OTHER_WORDS.get(key).is_some_and(|words| words.contains(&typed))
}

impl UnknownKey {
    fn finding(&self, asked: &BTreeMap<String, BTreeSet<&'static str>>) -> Finding {
        let key = &self.key;
        let message = match self.table.as_str() {
            "" => format!("this file has no key `{key}`"),
            table => format!("`{table}` has no key `{key}`"),
        };
        Finding::error(Code::UnknownKey, self.place, message)
            .label("not known here")
            .hint(self.hint(asked))
    }

    fn hint(&self, asked: &BTreeMap<String, BTreeSet<&'static str>>) -> Hint {
        let (key, table) = (&self.key, &self.table);
        let at_top = asked.get("").is_some_and(|top| top.contains(key.as_str()));
        if !table.is_empty() && at_top {
            let words = format!("move the line to the top of the file, above the first `{table}`");
            return Hint::say(words);
        }
        let typed = |near: &str| (near.to_owned(), near.to_owned());
        let near = meant(key, self.place, self.known.iter().copied(), typed);
        let there = near.as_ref().and_then(Hint::edit).map(|edit| &edit.text);
        if let Some(there) = there.filter(|near| !self.several && self.there.contains(near)) {
            return Hint::say(format!("`{there}` is there already: one of the two is too many"));
        }
        let other_word = || {
            let is_free = |known: &str| !self.there.iter().any(|there| there == known);
            let mut known = self.known.iter().filter(|known| is_free(known));
            let known = known.find(|known| is_other_word(key, known))?;
            Some(Hint::say(format!("perhaps `{known}` instead of `{key}`")))
        };
        match near.or_else(other_word) {
            Some(hint) if hint.edit().is_some() => hint.and(&format!(" instead of `{key}`")),
            Some(hint) => hint,
            None => Hint::say(
                belongs(key, &known_in(asked))
                    .unwrap_or_else(|| format!("the keys here are {}", ticked(&self.known))),
            ),
        }
    }
}
