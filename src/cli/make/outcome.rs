//! What a run of `make` came to: recorded, and said.

use super::super::args::MakeArgs;
use super::super::files::{OUT, Output};
use super::super::opened::Opened;
use super::super::{Screen, Status, findings};
use crate::model::{Failure, Finding, and_list, counted};
use std::collections::BTreeMap;

/// What became of one file.
pub enum Made {
    Kept(String),
    Wrote {
        path: String,
        from: String,
        bytes: usize,
    },
    /// Nothing was written, for these reasons.
    LeftOut {
        what: String,
        findings: Vec<Finding>,
    },
    /// Nothing that offers the piece was made, for this reason.
    NotOffered {
        piece: String,
        why: String,
    },
}

/// What a run came to.
#[derive(Default)]
pub struct Outcome {
    kept: Vec<String>,
    wrote: Vec<(String, String, usize)>,
    left_out: Vec<(String, Vec<Finding>)>,
    /// The pieces that may not be offered, by the reason.
    not_offered: BTreeMap<String, Vec<String>>,
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
                Made::Wrote { path, from, bytes } => self.wrote.push((path, from, bytes)),
                Made::LeftOut { what, findings } => self.left_out.push((what, findings)),
                Made::NotOffered { piece, why } => {
                    self.not_offered.entry(why).or_default().push(piece);
                }
            }
        }
        true
    }
}

/// Records what was made, and says so.
pub fn finish(
    args: &MakeArgs,
    opened: &Opened,
    mut outcome: Outcome,
    mut output: Output,
    screen: &mut Screen,
) -> Result<Status, Failure> {
    for path in &outcome.kept {
        output.keep(path);
    }
    let written = outcome.wrote.len();
    for (path, from, bytes) in std::mem::take(&mut outcome.wrote) {
        output.wrote(&path, from, bytes);
    }
    let all = args.only.is_empty()
        && args.piece.is_none()
        && args.year.is_none()
        && outcome.failure.is_none()
        && !opened.has_errors();
    let removed = output.close(all)?;
    if let Some(failure) = outcome.failure {
        return Err(failure);
    }
    outcome.left_out.sort_by(|a, b| a.0.cmp(&b.0));
    let mut errors = false;
    let mut shown: Vec<&Finding> = Vec::new();
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
    for (why, pieces) in &mut outcome.not_offered {
        pieces.sort();
        screen.complain(&format!("left out: what offers {}: {why}\n", some_of(pieces)));
    }
    let mut said = format!("{} written", counted(written, "file", "files"));
    if !outcome.kept.is_empty() {
        said += &format!(", {} up to date", outcome.kept.len());
    }
    if !removed.is_empty() {
        said += &format!(", {} removed that no piece needs any more", removed.len());
    }
    screen.note(&format!("{said}, under {}\n", opened.folder.join(OUT).display()));
    Ok(if errors { Status::Errors } else { Status::Done })
}

/// "24-001, 24-002, 24-003 and 14 more": the whole shop's are no list to read.
fn some_of(pieces: &[String]) -> String {
    const NAMED: usize = 3;
    let mut named: Vec<String> = pieces.iter().take(NAMED).cloned().collect();
    if pieces.len() > NAMED {
        named.push(format!("{} more", pieces.len() - NAMED));
    }
    and_list(&named)
}
