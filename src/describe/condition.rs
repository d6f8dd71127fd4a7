//! What was done, what is no longer as found, and what is wrong: sentences of the owner's entries.

use super::table::embedded;
use super::woods::{panel, wood};
use super::wording::{agree, capital, is_preposition, says, sentence, uncapital, with_the, words};
use crate::model::{Change, ChangeKind, Piece};
use serde::Deserialize;
use std::collections::BTreeMap;
use std::sync::LazyLock;

/// The row's name is for whoever reads the table.
#[derive(Deserialize)]
struct Axis {
    words: Vec<String>,
}

#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
struct Axes {
    axis: Vec<Axis>,
}

#[derive(Deserialize)]
#[serde(rename_all = "kebab-case", deny_unknown_fields)]
struct Tasks {
    skip: Vec<String>,
    no_the: Vec<String>,
    makes: Vec<String>,
    done: BTreeMap<String, String>,
}

static AXES: LazyLock<Axes> =
    LazyLock::new(|| embedded("condition", include_str!("tables/condition.toml")));
static TASKS: LazyLock<Tasks> =
    LazyLock::new(|| embedded("tasks", include_str!("tables/tasks.toml")));

/// Everything replaced, added, removed or reshaped: one sentence each, in the order of the file.
pub(crate) fn not_original(piece: &Piece) -> Vec<String> {
    let changed = piece.change.iter().filter(|change| change.what != ChangeKind::Repaired);
    changed.map(change_sentence).collect()
}

/// Flaws, the most telling first, then repairs: one sentence each.
pub(crate) fn condition(piece: &Piece) -> Vec<String> {
    let mut flaws: Vec<String> = piece.flaw.iter().map(|flaw| sentence(&flaw.note)).collect();
    flaws.sort_by_key(|flaw| axis(flaw));
    let repaired = piece.change.iter().filter(|change| change.what == ChangeKind::Repaired);
    flaws.into_iter().chain(repaired.map(change_sentence)).filter(|s| !s.is_empty()).collect()
}

/// Which axis a flaw is of, the first the most telling.
fn axis(flaw: &str) -> usize {
    let of = |axis: &Axis| axis.words.iter().any(|word| says(flaw, word));
    AXES.axis.iter().position(of).unwrap_or(AXES.axis.len())
}

/// "The left rear leg has been replaced, in poplar."
fn change_sentence(change: &Change) -> String {
    let part = change.part.trim();
    let subject = match (part, change.what) {
        ("", ChangeKind::Repaired | ChangeKind::Reshaped) => "the piece".to_owned(),
        ("", _) => "some parts".to_owned(),
        (part, _) => with_the(part),
    };
    let has = agree(&subject, "has", "have");
    let told = match change.what {
        ChangeKind::Repaired => format!("{has} been repaired"),
        ChangeKind::Replaced => format!("{has} been replaced"),
        ChangeKind::Removed => format!("{has} been removed"),
        ChangeKind::Reshaped => format!("{has} been reshaped"),
        ChangeKind::Added => {
            agree(&subject, "is a later addition", "are later additions").to_owned()
        }
    };
    sentence(&format!("{subject} {told}{}", with_what(change)))
}

/// A wood is what a new part is made "in"; everything else comes "with" it.
fn with_what(change: &Change) -> String {
    let Some(with) = change.with.as_deref().map(str::trim).filter(|with| !with.is_empty()) else {
        return String::new();
    };
    let material = wood(with).is_some() || panel(with).is_some();
    let made_new = matches!(change.what, ChangeKind::Replaced | ChangeKind::Added);
    match (material && made_new, change.what) {
        (true, _) => format!(", in {}", uncapital(with)),
        (false, ChangeKind::Added) => format!(": {}", uncapital(with)),
        (false, _) => format!(" with {}", uncapital(with)),
    }
}

/// What was done, one phrase per task in the order of the file, each only once.
pub(crate) fn done(piece: &Piece) -> Vec<String> {
    let mut phrases: Vec<String> = Vec::new();
    for work in &piece.work {
        let phrase = as_done(&work.task);
        let skipped = TASKS.skip.iter().any(|skip| says(&work.task, skip));
        if !phrase.is_empty() && !skipped && !phrases.contains(&phrase) {
            phrases.push(phrase);
        }
    }
    phrases
}

/// "strip and sand" told as "stripped and sanded", "wax legs" as "waxed the legs": the first word
/// of each clause, where it is a word of the table and no noun follows it with "of".
fn as_done(task: &str) -> String {
    let mut told: Vec<String> = Vec::new();
    let (mut at_start, mut at_thing) = (true, false);
    let mut written = task.split_whitespace().peekable();
    while let Some(word) = written.next() {
        let bare = word.trim_end_matches([',', ';', '.']);
        let key = words(bare).next().unwrap_or_default();
        let noun = written.peek().is_some_and(|next| *next == "of");
        let done = TASKS.done.get(&key).filter(|_| at_start && !noun);
        match done {
            Some(done) => told.push(format!("{done}{}", &word[bare.len()..])),
            None if at_thing => told.push(with_the(word)),
            None => told.push(word.to_owned()),
        }
        let thing = |next: &&str| word == bare && is_thing(next) && !TASKS.makes.contains(&key);
        at_thing = done.is_some() && written.peek().is_some_and(thing);
        at_start = word.len() > bare.len() || key == "and";
    }
    while told.last().is_some_and(|word| is_grit(word)) {
        told.pop();
    }
    uncapital(told.join(" ").trim_end_matches(['.', ',', ';']))
}

/// Whether a word after one of work begins the name of what was worked on.
fn is_thing(word: &str) -> bool {
    let key = words(word).next().unwrap_or_default();
    let small = word.starts_with(char::is_lowercase);
    let other = is_preposition(&key) || TASKS.no_the.contains(&key) || key.ends_with("ly");
    small && !other && !is_grit(word)
}

/// Grits at the end of a task are for the shop, not for the buyer.
fn is_grit(word: &str) -> bool {
    let word = word.trim_end_matches([',', ';', '.']);
    let numbers = word.len() > 1 && word.chars().all(|c| c.is_ascii_digit() || "/-–>".contains(c));
    numbers || matches!(word, "grit" | "grits" | "to" | "through")
}

/// "Stripped and sanded; rear leg replaced."
pub(crate) fn done_line(done: &[String]) -> Option<String> {
    (!done.is_empty()).then(|| format!("{}.", capital(&done.join("; "))))
}
