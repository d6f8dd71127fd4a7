//! Which entries of a file with errors still stand: the file is cut at its heads, and whatever has
//! an error in it is lost, with all that may have slid into it. Nothing else is.

use crate::model::Place;
use std::collections::BTreeSet;
use std::ops::Range;

/// From one head to the next.
struct Segment {
    /// `expense` of `[[expense]]`; empty above the first head, and where the head is none.
    head: String,
    range: Range<usize>,
    lost: bool,
}

/// The text of a file, and which stretches of it cannot be relied on.
pub(super) struct Damage<'a> {
    text: &'a str,
    segments: Vec<Segment>,
}

impl<'a> Damage<'a> {
    /// `errors` are where the errors are, `entries` where an entry was read. A head without an entry
    /// was swallowed by something above it that never ends.
    pub fn of(text: &'a str, errors: &[Place], entries: &BTreeSet<u32>) -> Damage<'a> {
        let mut segments = cut(text);
        for at in errors.iter().map(|place| place.start as usize) {
            let after = segments.partition_point(|segment| segment.range.start <= at);
            let Some(index) = after.checked_sub(1) else { continue };
            segments[index].lost = true;
            // The keys below a head that cannot be read count to the table above it.
            let line = text[..at].rfind('\n').map_or(0, |end| end + 1);
            let in_head = text[line..].trim_start().starts_with('[');
            if in_head && index > 0 {
                segments[index - 1].lost = true;
            }
        }
        for segment in segments.iter_mut().filter(|segment| !segment.head.is_empty()) {
            let read = |range: &Range<usize>| entries.range(range.start as u32..range.end as u32);
            segment.lost |= read(&segment.range).next().is_none();
        }
        Damage { text, segments }
    }

    /// Whether what stands at a place is lost.
    pub fn touches(&self, place: Place) -> bool {
        let at = place.start as usize;
        let after = self.segments.partition_point(|segment| segment.range.start <= at);
        after.checked_sub(1).is_some_and(|index| self.segments[index].lost)
    }

    /// The head and the text of every stretch that is lost.
    pub fn lost(&self) -> impl Iterator<Item = (&str, &'a str)> {
        let lost = self.segments.iter().filter(|segment| segment.lost);
        lost.map(|segment| (segment.head.as_str(), &self.text[segment.range.clone()]))
    }
}

fn cut(text: &str) -> Vec<Segment> {
    let mut segments = vec![Segment { head: String::new(), range: 0..text.len(), lost: false }];
    let mut at = 0;
    for line in text.split_inclusive('\n') {
        if let Some(head) = head_of(line) {
            if let Some(last) = segments.last_mut() {
                last.range.end = at;
            }
            segments.push(Segment { head, range: at..text.len(), lost: false });
        }
        at += line.len();
    }
    segments
}

/// The name in a head: plain letters, digits, hyphens and points in one or two brackets. A line of
/// a list has other marks in it.
fn head_of(line: &str) -> Option<String> {
    let line = line.split('#').next().unwrap_or(line).trim();
    let inner = line.strip_prefix('[')?.trim_matches(['[', ']', ' ']);
    let plain = |c: char| c.is_ascii_alphanumeric() || matches!(c, '-' | '_' | '.');
    (!inner.is_empty() && inner.chars().all(plain)).then(|| inner.to_owned())
}

/// Whether a name stands in a text as a word of its own.
pub(super) fn names(text: &str, name: &str) -> bool {
    let inside = |c: Option<char>| c.is_some_and(|c| c.is_alphanumeric() || c == '-' || c == '_');
    !name.is_empty()
        && text.match_indices(name).any(|(at, _)| {
            let before = text[..at].chars().next_back();
            let after = text[at + name.len()..].chars().next();
            !inside(before) && !inside(after)
        })
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::model::FileId;

    const BOOK: &str = "[[trip]]\non = 2025-01-02\n\n[[expense]]\namount = 12,50\n[[lot]\nx = 1\n";

    fn lost(errors: &[&str], entries: &[&str]) -> Vec<&'static str> {
        let at = |mark: &&str| BOOK.find(mark).unwrap();
        let place = |mark: &&str| Place::new(FileId(0), at(mark)..at(mark));
        let errors: Vec<Place> = errors.iter().map(place).collect();
        let entries = entries.iter().map(|mark| at(mark) as u32).collect();
        let heads = ["", "trip", "expense", "lot"];
        let damage = Damage::of(BOOK, &errors, &entries);
        damage.lost().map(|(head, _)| *heads.iter().find(|h| **h == head).unwrap()).collect()
    }

    #[test]
    fn an_error_costs_its_own_entry_and_a_broken_head_the_one_above_it() {
        let all = ["[[trip]]", "[[expense]]", "[[lot]"];
        assert_eq!(lost(&["12,50"], &all), ["expense"]);
        assert_eq!(lost(&["[[lot]"], &all), ["expense", "lot"]);
        assert_eq!(lost(&["2025"], &all[..1]), ["trip", "expense", "lot"]);
    }

    #[test]
    fn a_name_is_a_word_of_its_own() {
        assert!(names("piece = \"25-014\"", "25-014") && names("25-014 = 1", "25-014"));
        assert!(!names("piece = \"25-0142\"", "25-014") && !names("x-25-014", "25-014"));
    }
}
