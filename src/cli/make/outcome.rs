//! What a run of `make` came to: recorded, and said.

use super::super::args::MakeArgs;
use super::super::opened::Opened;
use super::super::output::{Closed, OUT, Output};
use super::super::{Screen, Status, findings};
use crate::model::{Failure, Finding, and_list, counted};
use std::collections::{BTreeMap, BTreeSet};

/// What became of one file.
pub enum Made {
    Kept(String),
    Wrote(String),
    /// Nothing was written, for these reasons.
    LeftOut {
        what: String,
        findings: Vec<Finding>,
    },
    /// What is odd in a paper that was made all the same.
    Odd(Vec<Finding>),
    /// Papers of a piece that were not made, for this reason.
    NotOf {
        what: &'static str,
        piece: String,
        why: String,
    },
}

/// What a run came to.
#[derive(Default)]
pub struct Outcome {
    kept: Vec<String>,
    wrote: Vec<String>,
    left_out: Vec<(String, Vec<Finding>)>,
    odd: Vec<Finding>,
    /// The pieces without some of their papers, by what was not made and why.
    not_of: BTreeMap<(&'static str, String), BTreeSet<String>>,
    failure: Option<Failure>,
}

impl Outcome {
    /// Takes what one item came to; says whether to go on.
    pub fn take(&mut self, made: Result<Vec<Made>, Failure>) -> bool {
        let made = match made {
            Ok(made) => made,
            Err(failure) => {
                self.failure.get_or_insert(failure);
                return false;
            }
        };
        for one in made {
            match one {
                Made::Kept(path) => self.kept.push(path),
                Made::Wrote(path) => self.wrote.push(path),
                Made::LeftOut { what, findings } => self.left_out.push((what, findings)),
                Made::Odd(findings) => self.odd.extend(findings),
                Made::NotOf { what, piece, why } => {
                    self.not_of.entry((what, why)).or_default().insert(piece);
                }
            }
        }
        true
    }
}

impl Outcome {
    /// Whether everything was asked for and could be read, so that what was not made is not needed.
    pub fn is_whole(&self, args: &MakeArgs, opened: &Opened) -> bool {
        args.only.is_empty()
            && args.piece.is_none()
            && args.year.is_none()
            && args.on.is_none()
            && self.failure.is_none()
            && !opened.has_errors()
    }

    fn left_out(&self, path: &str) -> bool {
        // A description is left out by the name of its text, and its HTML goes with it.
        let stem = |path: &str| path.rsplit_once('.').map_or(path, |(stem, _)| stem).to_owned();
        self.left_out.iter().any(|(what, _)| stem(what) == stem(path))
    }
}

/// Records what was made, and says so.
pub fn finish(
    args: &MakeArgs,
    opened: &Opened,
    mut outcome: Outcome,
    output: Output,
    screen: &mut Screen,
) -> Result<Status, Failure> {
    let made: BTreeSet<&str> =
        outcome.kept.iter().chain(&outcome.wrote).map(String::as_str).collect();
    let closed = output.close(&made, outcome.is_whole(args, opened))?;
    if let Some(failure) = outcome.failure {
        return Err(failure);
    }
    outcome.left_out.sort_by(|a, b| a.0.cmp(&b.0));
    let errors = show_left_out(&outcome, opened, screen);
    let said = summary(&outcome, &closed);
    screen.note(&format!("{said}, under {}\n", opened.folder.join(OUT).display()));
    Ok(if errors { Status::Errors } else { Status::Done })
}

/// Says what was left out and why; whether an error was among the reasons.
fn show_left_out(outcome: &Outcome, opened: &Opened, screen: &mut Screen) -> bool {
    let mut errors = false;
    let mut shown: Vec<&Finding> = Vec::new();
    for finding in &outcome.odd {
        if !shown.contains(&finding) {
            shown.push(finding);
            screen.complain(&findings::show(finding, &opened.sources, screen.color()));
        }
    }
    for (what, found) in &outcome.left_out {
        for finding in found {
            errors |= finding.is_error();
            // Several papers may be left out for one reason.
            if shown.contains(&finding) {
                continue;
            }
            shown.push(finding);
            screen.complain(&findings::show(finding, &opened.sources, screen.color()));
        }
        screen.complain(&format!("left out: {what}\n"));
    }
    for ((what, why), pieces) in &outcome.not_of {
        screen.complain(&format!("left out: {what} {}: {why}\n", some_of(pieces)));
    }
    errors
}

/// "2 files written, 5 up to date, 1 removed that no piece needs any more".
fn summary(outcome: &Outcome, closed: &Closed) -> String {
    let mut said = format!("{} written", counted(outcome.wrote.len(), "file", "files"));
    if !outcome.kept.is_empty() {
        said += &format!(", {} up to date", outcome.kept.len());
    }
    let (left_out, unneeded): (Vec<&String>, Vec<&String>) =
        closed.removed.iter().partition(|path| outcome.left_out(path));
    if !unneeded.is_empty() {
        said += &format!(", {} removed that no piece needs any more", unneeded.len());
    }
    if !left_out.is_empty() {
        said += &format!(", {} removed that could not be made anew", left_out.len());
    }
    let changed: Vec<String> = closed
        .left
        .iter()
        .filter(|path| !outcome.left_out(path))
        .map(|path| format!("`{OUT}/{path}`"))
        .collect();
    if !changed.is_empty() {
        said += &format!(
            ", {} left that no piece needs any more, as it was changed since",
            and_list(&changed)
        );
    }
    said
}

/// "24-001, 24-002, 24-003 and 14 more": the whole shop's are no list to read.
fn some_of(pieces: &BTreeSet<String>) -> String {
    const NAMED: usize = 3;
    let mut named: Vec<String> = pieces.iter().take(NAMED).cloned().collect();
    if pieces.len() > NAMED {
        named.push(format!("{} more", pieces.len() - NAMED));
    }
    and_list(&named)
}
