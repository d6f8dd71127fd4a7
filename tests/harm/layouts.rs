//! Layouts of the shop that do not end or take without measure: each ends as a finding of its own
//! paper, and every other paper is made. Logos programmed to do the same.

use crate::shell::{dovetally, shop_of};
use dovetally::cli::Status;
use std::fs;
use std::time::{Duration, Instant};

const SHOP: (&str, &str) = ("shop.toml", "name = \"Test Shop\"\n");
const PIECE: (&str, &str) = ("pieces/pine/piece.toml", "title = \"Pine washstand\"\n");

/// Makes the care card of a shop with this layout of it; what is said.
fn card_by(layout: &str) -> String {
    let shop = shop_of(&[SHOP, PIECE, ("layouts/care-card.typ", layout)]);
    let begun = Instant::now();
    let said = dovetally(shop.path(), &["make", "--only", "care-card"]);
    assert_eq!(said.status, Status::Errors, "{layout}: {}", said.err);
    assert!(begun.elapsed() < Duration::from_secs(120), "{layout}");
    let out = shop.path().join("out/pieces/pine");
    assert!(!out.join("care-card.pdf").exists() && out.join("care-card-four-up.pdf").is_file());
    assert!(said.err.contains("layouts/care-card.typ:1:1"), "{layout}: {}", said.err);
    said.err
}

/// Each takes the seconds it is given, so they are few.
#[test]
fn a_layout_without_an_end_is_stopped_after_its_seconds() {
    for layout in [
        "#eval(\"for a in range(9000) { for b in range(9000) { for c in range(9000) { let x = a } } }\")",
        "#lorem(1000000000)",
    ] {
        let said = card_by(layout);
        assert!(said.contains("stopped after 10 seconds"), "{layout}: {said}");
    }
}

#[test]
fn a_layout_without_measure_is_stopped_by_its_bounds() {
    for layout in [
        "#range(10000000000).len()",
        "#range(100000000).map(str).len()",
        "#(\"a\" * 100000000000).len()",
        "#let v = ()\n#for i in range(100000) { v = (v,) }\n#repr(v).len()",
        "#let b = [x]\n#for i in range(100000) { b = box(b) }\n#b",
    ] {
        let said = card_by(layout);
        assert!(said.contains("more than 2 GB of memory, or nests too deep"), "{layout}: {said}");
    }
}

#[test]
fn a_layout_reads_nothing_but_what_it_is_given() {
    for (layout, words) in [
        ("#read(\"/etc/passwd\")", "file not found"),
        ("#read(\"../shop.toml\")", "would escape"),
        ("#read(\"shop.toml\")", "file not found"),
        ("#image(\"/pieces/pine/piece.toml\")", "file not found"),
        ("#import \"@preview/example:0.1.0\": *", "not found"),
    ] {
        let shop = shop_of(&[SHOP, PIECE, ("layouts/care-card.typ", layout)]);
        let said = dovetally(shop.path(), &["make", "--only", "care-card"]);
        assert_eq!(said.status, Status::Errors, "{layout}: {}", said.err);
        assert!(said.err.contains(words), "{layout}: {}", said.err);
    }
}

/// A file that built-in layouts take in is bounded in each of them.
#[test]
fn a_shared_file_of_the_shop_is_bounded_wherever_it_is_taken_in() {
    let marks = format!(
        "#range(10000000000).len()\n{}",
        dovetally::typeset::LAYOUTS.iter().find(|layout| layout.name == "marks.typ").unwrap().text
    );
    let shop = shop_of(&[SHOP, PIECE, ("layouts/marks.typ", &marks)]);
    let said = dovetally(shop.path(), &["make"]);
    assert_eq!(said.status, Status::Errors, "{}", said.err);
    assert!(said.err.contains("layouts/marks.typ:1:"), "{}", said.err);
    let out = shop.path().join("out/pieces/pine");
    assert!(out.join("listing-sheet.pdf").is_file() && !out.join("hang-tag.pdf").exists());
}

#[test]
fn a_logo_without_measure_is_said_and_the_papers_are_made() {
    let mut nested = String::from("<g id='a0'><path d='M0 0h9v9z'/></g>");
    for i in 1..40 {
        let before = i - 1;
        nested += &format!("<g id='a{i}'><use href='#a{before}'/><use href='#a{before}'/></g>");
    }
    let logo = format!(
        "<svg xmlns='http://www.w3.org/2000/svg' width='80' height='20'>{nested}<use href='#a39'/></svg>"
    );
    let shop = shop_of(&[("shop.toml", "name = \"Test Shop\"\nlogo = \"logo.svg\"\n"), PIECE]);
    fs::write(shop.path().join("logo.svg"), logo).unwrap();
    let said = dovetally(shop.path(), &["make", "--only", "care-card"]);
    assert_eq!(said.status, Status::Errors, "{}", said.err);
    assert!(said.err.contains("logo-unusable"), "{}", said.err);
    assert!(shop.path().join("out/pieces/pine/care-card.pdf").is_file());
}
