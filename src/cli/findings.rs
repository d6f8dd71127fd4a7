//! Findings as a good compiler shows them.

use super::screen::plain;
use crate::model::{Finding, Hint, Place, Severity, Source, Sources};
use annotate_snippets::{Annotation, AnnotationKind, Group, Level, Renderer, Snippet};

/// One finding as text: code, message, file, line, the marked source, a second place, a hint.
pub fn show(finding: &Finding, sources: &Sources, color: bool) -> String {
    // Before colours come in: those of a stranger's file name would be taken for the program's.
    let finding = &Finding {
        message: plain(&finding.message, false),
        label: plain(&finding.label, false),
        second: finding.second.as_ref().map(|(place, label)| (*place, plain(label, false))),
        hint: finding.hint.as_ref().map(|hint| Hint::say(plain(hint, false))),
        ..finding.clone()
    };
    let renderer = if color { Renderer::styled() } else { Renderer::plain() };
    let level = match finding.severity {
        Severity::Error => Level::ERROR,
        Severity::Warning => Level::WARNING,
        Severity::Advice => Level::NOTE.with_name("advice"),
    };
    let mut group = Group::with_title(level.primary_title(&finding.message).id(finding.code));
    let marked = snippets(finding, sources);
    if marked.is_empty() {
        // Without a marked line the gutter would be empty: the hint stands by itself.
        let hint = finding.hint.iter().map(|hint| format!("  help: {hint}\n"));
        return format!("{}\n{}\n", renderer.render(&[group]), hint.collect::<String>());
    }
    for snippet in marked {
        group = group.element(snippet);
    }
    if let Some(hint) = &finding.hint {
        group = group.element(Level::HELP.message(&**hint));
    }
    format!("{}\n\n", renderer.render(&[group]))
}

/// The marked places: one snippet, or two when they stand in different files.
fn snippets<'a>(finding: &'a Finding, sources: &'a Sources) -> Vec<Snippet<'a, Annotation<'a>>> {
    let first = sources.get(finding.place.file);
    let second = finding
        .second
        .as_ref()
        .and_then(|(place, label)| Some((*place, label.as_str(), sources.get(place.file)?)));
    let mut list = Vec::new();
    if let Some(source) = first {
        let mut marks = vec![mark(finding.place, &finding.label, source, AnnotationKind::Primary)];
        if let Some((place, label, _)) = second.filter(|s| s.0.file == finding.place.file) {
            marks.push(mark(place, label, source, AnnotationKind::Context));
        }
        list.push(
            Snippet::source(&source.text).path(plain(&source.path, false)).annotations(marks),
        );
    }
    if let Some((place, label, source)) = second.filter(|s| s.0.file != finding.place.file) {
        let kind = if first.is_some() { AnnotationKind::Context } else { AnnotationKind::Primary };
        let marks = [mark(place, label, source, kind)];
        list.push(
            Snippet::source(&source.text).path(plain(&source.path, false)).annotations(marks),
        );
    }
    list
}

fn mark<'a>(place: Place, label: &'a str, source: &Source, kind: AnnotationKind) -> Annotation<'a> {
    let end = (place.end as usize).min(source.text.len());
    let start = (place.start as usize).min(end);
    let mark = kind.span(start..end);
    if label.is_empty() { mark } else { mark.label(label) }
}
