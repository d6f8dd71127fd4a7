//! What `check` says, for programs.

use super::super::opened::{KnownPiece, Opened};
use super::Told;
use super::papers::readiness;
use crate::model::{Finding, Hint, Offer, Place, Severity, Sources};
use serde_json::{Value, json};

pub(super) fn json(told: &Told, opened: &Opened, only: Option<KnownPiece>) -> Value {
    let of = |severity| told.count(severity);
    let findings = told.findings.iter().map(|finding| finding_json(finding, &opened.sources));
    let papers = opened.known.iter().flat_map(|known| {
        let meant = |one: &KnownPiece| only.is_none_or(|only| only.index == one.index);
        known.pieces().filter(meant).flat_map(|one| {
            let ready = readiness(known.standing(one.index)).into_iter();
            ready.map(move |(paper, state)| {
                json!({ "piece": one.piece.name(), "paper": paper, "state": state.word() })
            })
        })
    });
    json!({
        "errors": of(Severity::Error),
        "warnings": of(Severity::Warning),
        "findings": findings.collect::<Vec<_>>(),
        "papers": papers.collect::<Vec<_>>(),
    })
}

fn finding_json(finding: &Finding, sources: &Sources) -> Value {
    let severity = match finding.severity {
        Severity::Error => "error",
        Severity::Warning => "warning",
        Severity::Advice => "advice",
    };
    let second = finding.second.as_ref();
    json!({
        "severity": severity,
        "code": finding.code.word(),
        "message": finding.message,
        "label": finding.label,
        "place": place_json(finding.place, sources),
        "second": second.map(|(place, label)| json!({
            "label": label,
            "place": place_json(*place, sources),
        })),
        "hint": finding.hint.as_ref().map(|hint| hint_json(hint, sources)),
    })
}

/// Nothing for a finding about no place in a file.
fn place_json(place: Place, sources: &Sources) -> Value {
    let (Some(source), Some((line, column))) =
        (sources.get(place.file), sources.line_column(place))
    else {
        return Value::Null;
    };
    json!({
        "file": source.path, "line": line, "column": column,
        "start": place.start, "end": place.end,
    })
}

fn hint_json(hint: &Hint, sources: &Sources) -> Value {
    let offer = match &hint.offer {
        Offer::Write(_) => "write",
        Offer::Either => "either",
        Offer::SuchAs => "such-as",
        Offer::Say => "say",
    };
    let edit = hint
        .edit()
        .map(|edit| json!({ "place": place_json(edit.place, sources), "text": edit.text }));
    json!({ "offer": offer, "words": &**hint, "edit": edit })
}
