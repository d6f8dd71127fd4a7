//! A shop's own layouts: what they may do, and what is said of an error in one.

use crate::shell::{dovetally, files_below, shop_of};
use dovetally::cli::Status;
use dovetally::typeset::LAYOUTS;
use std::fs;

const SHOP: (&str, &str) = ("shop.toml", "name = \"Test Shop\"\n");
const PIECE: (&str, &str) = (
    "pieces/pine/piece.toml",
    "title = \"Pine washstand\"\nwidth = \"30 in\"\nheight = \"29 in\"\nhours = 5\n\
     bought = { on = 2025-02-01, price = 35 }\nsale = [{ on = 2025-03-01, price = 240 }]\n",
);

#[test]
fn a_built_in_layout_is_the_same_as_the_shops_own() {
    let (usual, own) = (shop_of(&[SHOP, PIECE]), shop_of(&[SHOP, PIECE]));
    fs::create_dir(own.path().join("layouts")).unwrap();
    for layout in LAYOUTS {
        fs::write(own.path().join("layouts").join(layout.name), layout.text).unwrap();
    }
    for shop in [&usual, &own] {
        let said = dovetally(shop.path(), &["make"]);
        assert_eq!(said.status, Status::Done, "{}", said.err);
    }
    let papers = |shop: &tempfile::TempDir| {
        let files = files_below(&shop.path().join("out")).into_iter();
        files.filter(|(path, _)| path.ends_with(".pdf")).collect::<Vec<_>>()
    };
    assert_eq!(papers(&usual).len(), 13);
    assert!(papers(&usual) == papers(&own), "typesetting apart changed what a layout makes");
}

#[test]
fn a_layout_the_engine_stops_is_a_finding_and_the_other_papers_are_made() {
    for (layout, place) in [
        ("#let i = 0\n#while i < 1 {}\n", ":2:"),
        ("#let f(n) = f(n + 1)\n#f(0)\n", ":1:13"),
        ("#show \"a\": it => it + \"a\"\na\n", ":1:"),
    ] {
        let shop = shop_of(&[SHOP, PIECE, ("layouts/care-card.typ", layout)]);
        let said = dovetally(shop.path(), &["make"]);
        assert_eq!(said.status, Status::Errors, "{layout}: {}", said.err);
        let place = format!("layouts/care-card.typ{place}");
        assert!(said.err.contains(&place), "{layout}: {}", said.err);
        assert!(shop.path().join("out/pieces/pine/shop-record.pdf").is_file(), "{}", said.err);
    }
}

#[test]
fn an_error_says_what_the_layout_was_given() {
    let own = ("layouts/care-card.typ", "#let data = json(\"data.json\")\n#data.missing\n");
    let shop = shop_of(&[SHOP, PIECE, own]);
    let said = dovetally(shop.path(), &["make"]);
    assert!(said.err.contains("layouts/care-card.typ:2:7"), "{}", said.err);
    let given = "care-card was given `card`, `lang`, `marks`, `paper`, `shop`, `size`, `title` and";
    let one_line = said.err.split_whitespace().collect::<Vec<_>>().join(" ");
    assert!(one_line.contains(given), "{}", said.err);
    assert!(one_line.contains("--explain-layout care-card"), "{}", said.err);
}
