//! A limit on what the shop's own layouts may do, so that one without an end becomes an error and
//! no wait: every round of a loop and every call of a function in them is counted, and too many end
//! the document. The count is of steps and not of seconds, so the same layout gives the same answer
//! on every machine.
//!
//! The typesetter has no such limit itself (it stops one `while` loop at 10,000 rounds, but not
//! loops inside of loops), so each counted body first reads an empty file of its own that only the
//! press has, and the press counts how often such files are read.

use std::ops::Range;
use typst::syntax::ast;
use typst::syntax::{LinkedNode, Source, SyntaxKind};

/// The most steps of one document: hundreds of times what the longest built-in one takes.
pub const MOST_STEPS: u64 = 1_000_000;

/// A layout with its steps counted, and where its text was put in.
pub struct Counted {
    pub text: String,
    /// The bodies: the name of the file each reads, and where it stands in the original.
    pub bodies: Vec<(String, Range<usize>)>,
    /// Where each addition begins in the original, and how long it is; in order.
    added: Vec<(usize, usize)>,
}

/// The text of a layout so that its steps are counted. One with a mistake in its grammar stays as
/// it is: it runs no step.
pub fn counted(name: &str, source: &Source) -> Counted {
    let mut found = Vec::new();
    if source.root().errors_and_warnings().0.is_empty() {
        find_bodies(&LinkedNode::new(source.root()), &mut found);
    }
    let bodies: Vec<(String, Range<usize>)> =
        found.into_iter().map(|body| (format!("step/{name}/{}", body.start), body)).collect();
    let mut additions: Vec<(usize, String)> = bodies
        .iter()
        .flat_map(|(file, body)| {
            [(body.start, format!("{{let _=std.read(\"/{file}\");(")), (body.end, ")}".to_owned())]
        })
        .collect();
    additions.sort_by_key(|(at, _)| *at);
    let (mut text, mut from) = (String::new(), 0);
    for (at, addition) in &additions {
        text += &source.text()[from..*at];
        text += addition;
        from = *at;
    }
    text += &source.text()[from..];
    let added = additions.iter().map(|(at, added)| (*at, added.len())).collect();
    Counted { text, bodies, added }
}

/// The body of every loop and function.
fn find_bodies(node: &LinkedNode, found: &mut Vec<Range<usize>>) {
    found.extend(body_of(node));
    for child in node.children() {
        find_bodies(&child, found);
    }
}

/// The body of a loop or a function: its last expression.
fn body_of(node: &LinkedNode) -> Option<Range<usize>> {
    let counts =
        matches!(node.kind(), SyntaxKind::ForLoop | SyntaxKind::WhileLoop | SyntaxKind::Closure);
    let mut expressions = node.children().filter(|child| child.cast::<ast::Expr>().is_some());
    let body = if counts { expressions.next_back() } else { None };
    body.map(|body| body.range())
}

impl Counted {
    /// A place in the original for a place in the counted text.
    pub fn original(&self, range: Range<usize>) -> Range<usize> {
        self.original_at(range.start)..self.original_at(range.end)
    }

    fn original_at(&self, at: usize) -> usize {
        let mut before = 0;
        for (start, length) in &self.added {
            if at < start + before {
                break;
            }
            // Within an addition: where it stands.
            if at < start + before + length {
                return *start;
            }
            before += length;
        }
        at - before
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn bodies_are_counted_and_places_found_again() {
        let text = "#let f(x) = x + 1\n#for i in range(3) [a #f(i)]\n#(1, 2).map(y => z => {y})\n";
        let counted = counted("a.typ", &Source::detached(text));
        assert_eq!(counted.text.matches("/step/a.typ/").count(), 4);
        let again = Source::detached(counted.text.clone());
        assert!(again.root().errors_and_warnings().0.is_empty(), "{}", counted.text);
        for (word, at) in [("x + 1", 12), ("a #f", 38), ("range", 28), ("map", 55)] {
            let place = counted.text.find(word).unwrap();
            assert_eq!(counted.original(place..place + word.len()), at..at + word.len(), "{word}");
        }
    }

    #[test]
    fn a_layout_with_a_mistake_stays_as_it_is() {
        let text = "#for i in (1, 2) {\n";
        assert_eq!(counted("a.typ", &Source::detached(text)).text, text);
    }
}
