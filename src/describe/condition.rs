//! What was done, what is no longer as found, and what is wrong: sentences of the owner's entries.

use super::table::embedded;
use super::woods::{panel, wood};
use super::wording::{agree, capital, is_preposition, says, sentence, uncapital, with_the, words};
use crate::model::{
    At, Change, ChangeKind, Code, Completeness, Finding, Flaw, Function, Piece, Place, and_list,
};
use serde::Deserialize;
use std::collections::BTreeMap;
use std::sync::LazyLock;

/// A respect in which a flaw tells of the piece.
#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
struct Axis {
    name: String,
    words: Vec<String>,
    /// Words of a flaw that contradict a statement that all is well.
    #[serde(default)]
    against: Vec<String>,
}

/// What is printed for each value the owner may state.
#[derive(Deserialize)]
#[serde(rename_all = "kebab-case", deny_unknown_fields)]
struct FunctionSays {
    works: String,
    sticks: String,
    fails: String,
    not_tried: String,
}

#[derive(Deserialize)]
#[serde(rename_all = "kebab-case", deny_unknown_fields)]
struct CompletenessSays {
    complete: String,
    part_missing: String,
    not_known: String,
}

#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
struct Axes {
    axis: Vec<Axis>,
    function: FunctionSays,
    completeness: CompletenessSays,
}

#[derive(Deserialize)]
#[serde(rename_all = "kebab-case", deny_unknown_fields)]
struct Tasks {
    skip: Vec<String>,
    /// Words after one of work that tell how, and are no part: "rub down".
    particles: Vec<String>,
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

/// What does not work or is missing, flaws with the most telling first, repairs, and last what is
/// well or not known: one sentence each.
pub(crate) fn condition(piece: &Piece) -> Vec<String> {
    let mut flaws: Vec<String> = piece.flaw.iter().map(|flaw| sentence(&flaw.note)).collect();
    flaws.sort_by_key(|flaw| axis(flaw));
    let repaired = piece.change.iter().filter(|change| change.what == ChangeKind::Repaired);
    let stated = [function_said(piece), completeness_said(piece)].into_iter().flatten();
    let (bad, rest): (Vec<_>, Vec<_>) = stated.partition(|(bad, _)| *bad);
    let bad = bad.into_iter().map(|(_, text)| text.clone());
    let rest = rest.into_iter().map(|(_, text)| text.clone());
    let told = bad.chain(flaws).chain(repaired.map(change_sentence)).chain(rest);
    told.filter(|s| !s.is_empty()).collect()
}

/// What is printed of how it works, and whether that is a fault.
fn function_said(piece: &Piece) -> Option<(bool, &'static String)> {
    let says = &AXES.function;
    Some(match piece.function.as_ref()?.value {
        Function::Works => (false, &says.works),
        Function::Sticks => (true, &says.sticks),
        Function::Fails => (true, &says.fails),
        Function::NotTried => (false, &says.not_tried),
    })
}

/// What is printed of what is missing, and whether that is a fault.
fn completeness_said(piece: &Piece) -> Option<(bool, &'static String)> {
    let says = &AXES.completeness;
    Some(match piece.completeness.as_ref()?.value {
        Completeness::Complete => (false, &says.complete),
        Completeness::PartMissing => (true, &says.part_missing),
        Completeness::NotKnown => (false, &says.not_known),
    })
}

/// A statement that all is well against a flaw that says otherwise, and a fault that no flaw tells.
pub(crate) fn contradictions(piece: &Piece) -> Vec<Finding> {
    let stated = |at: Option<Place>, said: Option<(bool, &'static String)>, well: bool| {
        Some((at?, said?.0, well))
    };
    let works = piece.function.as_ref().is_some_and(|f| f.value == Function::Works);
    let complete = piece.completeness.as_ref().is_some_and(|c| c.value == Completeness::Complete);
    let function = stated(piece.function.as_ref().map(place), function_said(piece), works);
    let parts = stated(piece.completeness.as_ref().map(place), completeness_said(piece), complete);
    let axes = [("function", function), ("completeness", parts)];
    axes.into_iter().filter_map(|(name, stated)| against(piece, name, stated?)).collect()
}

fn place<T>(at: &At<T>) -> Place {
    at.place
}

/// One axis: where it stands, whether a fault is stated, and whether all is said to be well.
fn against(piece: &Piece, name: &str, stated: (Place, bool, bool)) -> Option<Finding> {
    let (place, bad, well) = stated;
    let axis = AXES.axis.iter().find(|axis| axis.name == name)?;
    let tells = |words: &[String]| {
        let of = |flaw: &&Flaw| words.iter().any(|word| says(&flaw.note, word));
        piece.flaw.iter().find(of)
    };
    match (well, bad, tells(&axis.against)) {
        (true, _, Some(flaw)) => Some(
            Finding::warning(
                Code::Contradiction,
                place,
                format!("`{name}` says all is well, but a flaw does not"),
            )
            .second(flaw.place, "this flaw")
            .hint(format!("fix `{name}`, or the flaw")),
        ),
        (_, true, None) => Some(
            Finding::advice(
                Code::FaultNotTold,
                place,
                format!("`{name}` states a fault that no flaw tells"),
            )
            .hint("add `[[flaw]]` with `note = \"…\"`: what it is, and where"),
        ),
        _ => None,
    }
}

/// Which axis a flaw is of, the first the most telling.
fn axis(flaw: &str) -> usize {
    let of = |axis: &Axis| axis.words.iter().any(|word| says(flaw, word));
    AXES.axis.iter().position(of).unwrap_or(AXES.axis.len())
}

/// "The towel rail has been replaced, in ash."
pub(crate) fn change_sentence(change: &Change) -> String {
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
        if says_work(&phrase) && !is_skipped(&work.task) && !phrases.contains(&phrase) {
            phrases.push(phrase);
        }
    }
    phrases
}

/// Whether a task, told as done, says what was done: one word that is no word of work does not.
fn says_work(told: &str) -> bool {
    told.contains(' ') || TASKS.done.values().any(|done| done == told)
}

/// Whether a task is no work on the piece.
pub(crate) fn is_skipped(task: &str) -> bool {
    TASKS.skip.iter().any(|skip| says(task, skip))
}

/// A word of work as done: "strip" is "stripped"; nothing for any other word.
pub(crate) fn participle(word: &str) -> Option<&'static str> {
    TASKS.done.get(&words(word).next()?).map(String::as_str)
}

/// Whether a word after one of work tells how: "down" in "rub down".
pub(crate) fn takes_particle(word: &str) -> bool {
    TASKS.particles.iter().any(|particle| particle == word)
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
pub(crate) fn is_grit(word: &str) -> bool {
    let word = word.trim_end_matches([',', ';', '.']);
    let numbers = word.len() > 1 && word.chars().all(|c| c.is_ascii_digit() || "/-–>".contains(c));
    numbers || matches!(word, "grit" | "grits" | "to" | "through")
}

/// "Stripped and sanded; rear leg replaced."; of single words "Cleaned, sanded and finished."
pub(crate) fn done_line(done: &[String]) -> Option<String> {
    let words = done.iter().all(|phrase| !phrase.contains([' ', ',', ';']));
    let said = if words { and_list(done) } else { done.join("; ") };
    (!done.is_empty()).then(|| format!("{}.", capital(&said)))
}
