//! `check`: every finding, and per piece which documents are ready and what each still lacks.

use super::args::CheckArgs;
use super::check_sources::sources;
use super::make::amiss;
use super::opened::{KnownPiece, Opened};
use super::{Screen, Status, findings};
use crate::describe::{Caution, Document, Lack, Strength, Words};
use crate::model::{Failure, Finding, Severity, and_list, counted};

const DOCUMENTS: [(Document, &str); 4] = [
    (Document::ListingSheet, "listing sheet"),
    (Document::Description, "description"),
    (Document::CareCard, "care card"),
    (Document::ShopRecord, "shop record"),
];

/// Shows everything there is to say about the shop's files.
pub fn check(args: &CheckArgs, opened: &Opened, screen: &mut Screen) -> Result<Status, Failure> {
    if args.sources {
        screen.data(&opened.known.as_ref().map(sources).unwrap_or_default());
        return Ok(if opened.has_errors() { Status::Errors } else { Status::Done });
    }
    let findings = all_findings(opened)?;
    for finding in &findings {
        if args.advice || finding.severity != Severity::Advice {
            screen.complain(&findings::show(finding, &opened.sources, screen.color()));
        }
    }
    if let Some(known) = &opened.known {
        for piece in known.pieces() {
            screen.data(&readiness(piece, known.words(piece.index), args.advice));
        }
        for broken in &known.shop.broken {
            screen.data(&format!("{}: has errors; nothing is made from it\n", broken.path));
        }
    }
    screen.note(&summary(opened, &findings, args.advice));
    let has_errors = findings.iter().any(Finding::is_error);
    Ok(if has_errors { Status::Errors } else { Status::Done })
}

/// What was found in the files, and what `make` would find while it makes the papers.
fn all_findings(opened: &Opened) -> Result<Vec<Finding>, Failure> {
    let mut findings = opened.findings.clone();
    if let Some(known) = &opened.known {
        for finding in amiss(opened, known)? {
            if !findings.contains(&finding) {
                findings.push(finding);
            }
        }
    }
    Ok(findings)
}

fn readiness(piece: KnownPiece, words: &Words, advice: bool) -> String {
    let is_held = |d| holds(&words.cautions).next().is_some() && is_for_buyers(d);
    let stopped = |d| words.lacks.iter().any(|lack| lack.document == d && lack.needed);
    let (ready, not): (Vec<_>, Vec<_>) =
        DOCUMENTS.iter().partition(|(document, _)| !is_held(*document) && !stopped(*document));
    let names = |list: &[&(Document, &str)]| -> Vec<String> {
        list.iter().map(|(_, name)| (*name).to_owned()).collect()
    };
    let mut text = format!("{}  {}\n", piece.piece.name(), piece.piece.title.value);
    if !ready.is_empty() {
        text += &format!("    ready: {}\n", and_list(&names(&ready)));
    }
    if !not.is_empty() {
        text += &format!("    not ready: {}\n", and_list(&names(&not)));
    }
    for hold in holds(&words.cautions) {
        let state = hold.state.as_deref().unwrap_or("the fact");
        text += &format!("    held: {}; state {state}\n", hold.reason);
    }
    for caution in words.cautions.iter().filter(|c| c.strength != Strength::Hold) {
        let strength = if caution.strength == Strength::Caution { "caution" } else { "shop note" };
        text += &format!("    {strength} {}: {}\n", caution.id, caution.reason);
    }
    for lack in words.lacks.iter().filter(|lack| lack.needed || advice) {
        text += &lacking(lack);
    }
    text
}

fn holds(cautions: &[Caution]) -> impl Iterator<Item = &Caution> {
    cautions.iter().filter(|caution| caution.strength == Strength::Hold)
}

/// A hold stops what a buyer reads before buying; the card and the record are still made.
fn is_for_buyers(document: Document) -> bool {
    matches!(document, Document::ListingSheet | Document::Description)
}

fn lacking(lack: &Lack) -> String {
    let name = DOCUMENTS.iter().find(|(d, _)| *d == lack.document).map_or("", |(_, name)| name);
    let verb = if lack.needed { "needs" } else { "would gain from" };
    format!("    {name} {verb} {}\n", lack.what)
}

fn summary(opened: &Opened, findings: &[Finding], advice: bool) -> String {
    let of = |severity| findings.iter().filter(|f| f.severity == severity).count();
    let (errors, warnings, hints) =
        (of(Severity::Error), of(Severity::Warning), of(Severity::Advice));
    let mut said = format!(
        "\n{}, {}",
        counted(errors, "error", "errors"),
        counted(warnings, "warning", "warnings")
    );
    let lacks: usize =
        opened.known.iter().flat_map(|k| &k.described().pieces).map(|w| w.lacks.len()).sum();
    if !advice && hints + lacks > 0 {
        said += "; --advice also shows what would make better sheets";
    }
    said + "\n"
}
