//! `check`: everything there is to say about the shop's files, each thing once and grouped by what to
//! do, and which papers are ready.

mod json;
mod papers;

use super::args::CheckArgs;
use super::check_sources::sources;
use super::make::amiss;
use super::opened::{KnownPiece, Opened};
use super::{Screen, Status, findings};
use crate::model::{Code, Failure, Finding, Severity, and_list, counted};
use papers::{paper_lines, piece_words};
use std::collections::BTreeMap;

/// Where more than this say the same, only their number is shown.
const MOST_NAMED: usize = 6;

/// Shows everything there is to say about the shop's files, or about one piece.
pub fn check(args: &CheckArgs, opened: &Opened, screen: &mut Screen) -> Result<Status, Failure> {
    if args.sources {
        screen.data(&opened.known.as_ref().map(sources).unwrap_or_default());
        return Ok(if opened.has_errors() { Status::Errors } else { Status::Done });
    }
    let only = match args.piece.as_deref().map(|name| one_piece(name, opened)) {
        None => None,
        Some(Ok(piece)) => Some(piece),
        Some(Err(words)) => {
            screen.complain(&words);
            return Ok(Status::Usage);
        }
    };
    let findings = all_findings(opened)?;
    let told = Told::of(args, opened, &findings, only);
    if args.json {
        screen.data(&format!("{:#}\n", json::json(&told, opened, only)));
    } else {
        show(args, &told, opened, only, screen);
    }
    Ok(told.status(args))
}

/// What was found in the files, and what `make` would find while it makes the papers.
fn all_findings(opened: &Opened) -> Result<Vec<Finding>, Failure> {
    let mut findings = opened.findings.clone();
    if let Some(known) = &opened.known {
        for finding in amiss(opened, known)? {
            // Why a photo cannot be shown is said already where its file was looked at.
            let said = |known: &Finding| {
                *known == finding
                    || finding.code == Code::PhotoUnusable && known.place == finding.place
            };
            if !findings.iter().any(said) {
                findings.push(finding);
            }
        }
    }
    Ok(findings)
}

fn one_piece<'a>(name: &str, opened: &'a Opened) -> Result<KnownPiece<'a>, String> {
    let Some(known) = &opened.known else {
        return Err("there is no shop to look for a piece in: fix shop.toml first\n".to_owned());
    };
    known.find(name)
}

/// What is to be told, and what is kept quiet.
struct Told<'a> {
    findings: Vec<&'a Finding>,
    /// About papers of pieces that are sold or gone.
    quiet: usize,
    advice: usize,
}

impl<'a> Told<'a> {
    fn of(
        args: &CheckArgs,
        opened: &Opened,
        findings: &'a [Finding],
        only: Option<KnownPiece>,
    ) -> Told<'a> {
        let mut told = Told { findings: Vec::new(), quiet: 0, advice: 0 };
        for finding in findings {
            match only {
                Some(piece) if !is_about(finding, piece) => {}
                None if is_of_gone(finding, opened) => told.quiet += 1,
                _ if finding.severity == Severity::Advice && !args.advice => told.advice += 1,
                _ => told.findings.push(finding),
            }
        }
        told
    }

    fn count(&self, severity: Severity) -> usize {
        self.findings.iter().filter(|finding| finding.severity == severity).count()
    }

    /// By the worst that was found; warnings count where they are asked to.
    fn status(&self, args: &CheckArgs) -> Status {
        match (self.count(Severity::Error), self.count(Severity::Warning)) {
            (0, 0) => Status::Done,
            (0, _) if args.strict => Status::Warnings,
            (0, _) => Status::Done,
            _ => Status::Errors,
        }
    }
}

fn is_about(finding: &Finding, piece: KnownPiece) -> bool {
    let second = finding.second.as_ref().map(|(place, _)| place.file);
    let file = piece.piece.place.file;
    finding.place.file == file || second == Some(file)
}

/// Whether it is about the papers of a piece that is sold or gone: no figure hangs on it.
fn is_of_gone(finding: &Finding, opened: &Opened) -> bool {
    let Some(known) = &opened.known else { return false };
    let gone = known.pieces().any(|one| {
        one.piece.place.file == finding.place.file
            && one.tally.is_some_and(|tally| tally.units.left() == 0)
    });
    gone && !finding.is_error() && known.survey().findings.contains(finding)
}

/// What there is to do, the costly first, each with what it means.
const GROUPS: [(Severity, bool, &str); 4] = [
    (Severity::Error, false, "To fix: figures wait for it"),
    (Severity::Warning, false, "To look at: the figures stand, and may not be what was meant"),
    (Severity::Warning, true, "To state: papers for buyers wait for it"),
    (Severity::Advice, false, "For better sheets"),
];

/// Code of a hold, which stops the papers a buyer reads.
const HELD: Code = Code::Held;

fn show(
    args: &CheckArgs,
    told: &Told,
    opened: &Opened,
    only: Option<KnownPiece>,
    screen: &mut Screen,
) {
    for (severity, held, title) in GROUPS {
        let of_group =
            told.findings.iter().filter(|f| f.severity == severity && (f.code == HELD) == held);
        let group: Vec<&Finding> = of_group.copied().collect();
        if !group.is_empty() {
            screen.complain(&format!("{title}\n\n"));
            show_group(&group, opened, screen);
        }
    }
    if let Some(known) = &opened.known {
        match only {
            Some(piece) => {
                screen.data(&piece_words(piece, known.standing(piece.index), args.advice))
            }
            None => screen.data(&paper_lines(known)),
        }
        for broken in known.shop.broken.iter().filter(|_| only.is_none()) {
            let has_errors = opened.has_errors_in(&broken.path);
            let why = if has_errors { "has errors" } else { "needs a file with errors" };
            screen.data(&format!("{}: {why}; nothing is made from it\n", broken.path));
        }
    }
    screen.note(&summary(told, opened, args.advice));
}

/// Each thing once: what is said in the same words of several places is shown at the first.
fn show_group(group: &[&Finding], opened: &Opened, screen: &mut Screen) {
    let mut same: BTreeMap<(Code, &str), Vec<&Finding>> = BTreeMap::new();
    for finding in group {
        same.entry((finding.code, &finding.message)).or_default().push(finding);
    }
    let mut shown: Vec<&Vec<&Finding>> = same.values().collect();
    shown.sort_by_key(|findings| findings[0].place);
    for findings in shown {
        let first = findings[0];
        screen.complain(&findings::show(first, &opened.sources, screen.color()));
        let others: Vec<String> =
            findings[1..].iter().filter_map(|f| opened.sources.name(f.place)).collect();
        match others.len() {
            0 => {}
            1..=MOST_NAMED => screen.complain(&format!("the same at {}\n\n", and_list(&others))),
            many => screen.complain(&format!("the same at {many} more places\n\n")),
        }
    }
}

fn summary(told: &Told, opened: &Opened, advice: bool) -> String {
    let (errors, warnings) = (told.count(Severity::Error), told.count(Severity::Warning));
    let mut said = format!(
        "\n{}, {}",
        counted(errors, "error", "errors"),
        counted(warnings, "warning", "warnings")
    );
    if told.quiet > 0 {
        let quiet = counted(told.quiet, "thing", "things");
        said +=
            &format!("; {quiet} about pieces sold or gone left out (--piece NUMBER shows them)");
    }
    let lacks: usize =
        opened.known.iter().flat_map(|k| &k.survey().pieces).map(|w| w.lacks.len()).sum();
    if !advice && told.advice + lacks > 0 {
        said += "; --advice also shows what would make better sheets";
    }
    said + "\n"
}
