//! The shop's own wording: what is refused, and where; and that nothing required is ever dropped.

use super::pieces::*;
use dovetally::describe::{Description, PLACEHOLDERS, description, template};
use dovetally::model::{ChangeKind, FileId, Finding, Piece, Sources};

const ALL: &str = "{changes}\n{condition}\n{cautions}\n";

/// The findings of a template, each with its line and column.
fn refused(text: &str) -> Vec<(&'static str, (usize, usize), Finding)> {
    let mut sources = Sources::default();
    let file = sources.add("layouts/description.txt".into(), text.into());
    let findings = template(file, text).err().unwrap_or_default();
    let placed = |finding: Finding| {
        (finding.code.word(), sources.line_column(finding.place).unwrap(), finding)
    };
    findings.into_iter().map(placed).collect()
}

fn told_as(text: &str, p: &Piece, limit: Option<u32>) -> Description {
    let own = template(FileId(0), text).unwrap();
    let (words, _) = told("us", p);
    let channel = channel(None, limit);
    description(
        &shop("us", vec![p.clone()]),
        p,
        &words,
        Some(125.into()),
        Some(&channel),
        Some(&own),
    )
}

#[test]
fn a_placeholder_nobody_knows_is_placed_and_the_nearest_named() {
    let found = refused(&format!("{ALL}é {{wod}} and {{ wood }}\n{{colour}}\n"));
    assert_eq!((found[0].0, found[0].1), ("unknown-placeholder", (4, 3)));
    let hint = found[0].2.hint.as_deref().unwrap();
    assert!(hint.starts_with("write `{wood}`; the placeholders are "), "{hint}");
    for placeholder in PLACEHOLDERS {
        assert!(hint.contains(&format!("`{{{}}}`", placeholder.name)), "{hint}");
    }
    assert_eq!((found[1].0, found[1].1, found.len()), ("unknown-placeholder", (5, 1), 2));
}

#[test]
fn a_brace_must_be_closed_on_its_line() {
    let found = refused(&format!("{ALL}Made of {{wood\nand }} so {{size {{wood}}\n"));
    let places: Vec<_> = found.iter().map(|found| (found.0, found.1)).collect();
    assert_eq!(places, [("brace", (4, 9)), ("brace", (5, 5)), ("brace", (5, 10))]);
    assert!(found.iter().all(|found| found.2.hint.is_some() && found.2.is_error()));
    let p = kind_of("Desk", "desk", "1990");
    assert_eq!(told_as(&format!("{ALL}{{{{so}}}} {{title}}"), &p, None).body, "{so} Desk");
}

#[test]
fn a_disclosure_left_out_is_named_at_the_end() {
    let found = refused("{title}\n{condition}\n");
    assert_eq!((found[0].0, found[0].1), ("disclosure-left-out", (2, 11)));
    assert!(found[0].2.message.contains("leaves out `{changes}` and `{cautions}`"));
    for empty in ["", "\n\n", "Only words."] {
        assert_eq!(refused(empty).last().unwrap().0, "disclosure-left-out", "{empty:?}");
    }
}

#[test]
fn a_wording_promises_no_more_than_the_program_does() {
    let found = refused(&format!("{ALL}Good as new, guaranteed.\nAn antique {{title}}.\n"));
    let places: Vec<_> = found.iter().map(|found| (found.0, found.1)).collect();
    assert_eq!(places, [("banned-word", (4, 1)), ("age-word", (5, 1))]);
}

#[test]
fn every_placeholder_says_something_of_a_piece_that_has_everything() {
    let mut p =
        sized(kind_of("Oak blanket chest", "blanket chest", "about 1900"), "40", "20", "22");
    p.count = 2;
    p.weight = Some(dovetally::model::parse_weight("64 lb").unwrap());
    p.wood = vec![wood("", "white oak", dovetally::model::WoodForm::Solid)];
    p.work = vec![work("strip")];
    p.coat = vec![coat("", "danish oil", 2, "2025-03-11")];
    p.change = vec![change("lid", ChangeKind::Replaced, "oak")];
    p.flaw = vec![flaw("one corner is worn")];
    p = with_facts(p, &[("latch", "none"), ("lid-support", "holds")]);
    let mut offered = listing("2025-01-01");
    offered.story = Some(here("It came from a farm.".into()));
    p.listing = Some(offered);
    let (words, _) = told("us", &p);
    let mut shop = shop("us", vec![p.clone()]);
    shop.contact = vec!["3 Quay".into()];
    for placeholder in PLACEHOLDERS {
        let text = format!("[{{{}}}]\n\n{ALL}", placeholder.name);
        let own = template(FileId(0), &text).unwrap();
        let said = description(&shop, &p, &words, Some(125.into()), None, Some(&own)).body;
        assert!(said.starts_with('[') && !said.starts_with("[]"), "{}: {said}", placeholder.name);
    }
}

#[test]
fn lines_with_nothing_to_say_are_left_out_and_required_ones_stay_in_any_limit() {
    let mut p = kind_of("Oak desk", "desk", "1990");
    p.flaw = vec![flaw("one drawer sticks")];
    let own = "{title}\n\nIt weighs {weight}.\nKnow this: {changes} {condition} {cautions}\n\nCare: {care}\n";
    let whole = told_as(own, &p, None).body;
    assert!(whole.starts_with("Oak desk\n\nKnow this: One drawer sticks.\n\nCare: "), "{whole}");
    assert_eq!(told_as(own, &p, Some(44)).body, "Oak desk\n\nKnow this: One drawer sticks.");
    assert_eq!(told_as(own, &p, Some(29)).body, "Know this: One drawer sticks.");
    let none = told_as(own, &p, Some(28));
    assert!(none.body.is_empty() && none.findings[0].code == "description-limit");
}
