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
    let mut group =
        Group::with_title(level.primary_title(&finding.message).id(finding.code.word()));
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
        let beside = second.filter(|second| second.0.file == finding.place.file);
        let beside = beside.map(|(place, label, _)| (place, label, AnnotationKind::Context));
        let own = (finding.place, finding.label.as_str(), AnnotationKind::Primary);
        list.push(snippet(source, std::iter::once(own).chain(beside).collect()));
    }
    if let Some((place, label, source)) = second.filter(|s| s.0.file != finding.place.file) {
        let kind = if first.is_some() { AnnotationKind::Context } else { AnnotationKind::Primary };
        list.push(snippet(source, vec![(place, label, kind)]));
    }
    list
}

/// The marked lines of a file. Only the lines from the first mark to the last are handed on: each
/// finding of a long file would take as long as the file.
fn snippet<'a>(
    source: &'a Source,
    marks: Vec<(Place, &'a str, AnnotationKind)>,
) -> Snippet<'a, Annotation<'a>> {
    let text = source.text.as_str();
    let spans = marks.iter().map(|(place, ..)| {
        let end = (place.end as usize).min(text.len());
        (place.start as usize).min(end)..end
    });
    let spans: Vec<_> = spans.collect();
    let first = spans.iter().map(|span| span.start).min().unwrap_or(0);
    let last = spans.iter().map(|span| span.end).max().unwrap_or(0);
    let from = text[..first].rfind('\n').map_or(0, |at| at + 1);
    let to = text[last..].find('\n').map_or(text.len(), |at| last + at + 1);
    let line = text[..from].matches('\n').count() + 1;
    let marks = marks.into_iter().zip(spans).map(|((_, label, kind), span)| {
        let mark = kind.span(span.start - from..span.end - from);
        if label.is_empty() { mark } else { mark.label(label) }
    });
    let snippet = Snippet::source(&text[from..to]).line_start(line);
    snippet.path(plain(&source.path, false)).annotations(marks.collect::<Vec<_>>())
}
