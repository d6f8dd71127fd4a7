//! A generated shop of so many pieces: plain, varied enough to use every figure, without photos.

use dovetally::cli::{Need, Opened};
use dovetally::describe::english;
use dovetally::typeset::{
    Draft, Subject, care_card, care_cards_four_up, listing_sheet, shop_record,
};
use std::fs;
use std::path::Path;

/// Writes the shop's files.
pub fn write(folder: &Path, pieces: usize) {
    put(folder, "shop.toml", SHOP);
    put(folder, "stock.toml", "[topcoat]\nlabel = \"topcoat\"\nunit = \"fl oz\"\n");
    put(folder, "books/2025.toml", &books(pieces));
    for i in 0..pieces {
        put(folder, &format!("pieces/piece-{i:05}/piece.toml"), &piece(i));
    }
}

const SHOP: &str = r#"name = "Bench Furniture"
contact = ["bench@shop.example"]
shop-rate = 30.00

[channel.porch]
label = "porch pick-up"

[channel.online]
label = "online"
fee = "12.5%"
fixed-fee = 0.40
"#;

fn books(pieces: usize) -> String {
    let mut text = String::new();
    for month in 1..=12 {
        let gallons = pieces / 12 + 1;
        text += &format!(
            "[[supply]]\non = 2025-{month:02}-01\nstock = \"topcoat\"\nquantity = \"{gallons} gal\"\n\
             amount = {}.00\n\n[[expense]]\non = 2025-{month:02}-03\nwhat = \"rent\"\n\
             category = \"rent\"\namount = 200.00\n\n",
            gallons * 60
        );
    }
    text
}

fn piece(i: usize) -> String {
    let month = i % 11 + 1;
    let (kind, wood) = [
        ("washstand", "white oak"),
        ("side table", "black walnut"),
        ("chest of drawers", "black cherry"),
        ("bookcase", "sugar maple"),
    ][i % 4];
    let (cost, price) = (20 + i % 70, 180 + i % 300);
    let sale = format!(
        "\n[[sale]]\non = 2025-{:02}-20\nprice = {price}.00\nchannel = \"online\"\n",
        month + 1
    );
    format!(
        r#"number = "25-{i:05}"
title = "Restored {wood} {kind} number {i}"
kind = "{kind}"
made = "about 1920"
width = "36 {eighths}/8 in"
depth = "18 in"
height = "29 1/2 in"
bought = {{ on = 2025-{month:02}-02, price = {cost}.50, from = "estate sale" }}

[[wood]]
species = "{wood}"
form = "solid"

[[cost]]
on = 2025-{month:02}-04
what = "pulls"
kind = "hardware"
amount = 7.25

[[used]]
on = 2025-{month:02}-06
stock = "topcoat"
quantity = "6 fl oz"

[[work]]
on = 2025-{month:02}-05
task = "strip and sand"
hours = "2h30"

[[coat]]
part = "outside"
product = "water-based polyurethane"
sheen = "satin"
coats = 3
last = 2025-{month:02}-08

[[flaw]]
note = "a ring on the top, still faintly visible"

[safety]
old-paint = "none"
anti-tip = "supplied"

[listing]
on = 2025-{month:02}-15
price = {asked}.00
channel = "online"
{sale}"#,
        eighths = i % 7 + 1,
        asked = price + 20,
        sale = if i.is_multiple_of(5) { "" } else { &sale },
    )
}

fn put(folder: &Path, path: &str, text: &str) {
    let path = folder.join(path);
    fs::create_dir_all(path.parent().expect("a folder")).expect("a writable folder");
    fs::write(path, text).expect("a writable file");
}

/// The drafts of every piece's papers, as `make` builds them.
pub fn drafts(folder: &Path) -> Vec<Draft> {
    let opened = Opened::open(folder, Need::FiguresAndWords).expect("a readable folder");
    let known = opened.known.expect("a shop without errors");
    known
        .pieces()
        .flat_map(|p| {
            let subject = Subject {
                shop: &known.shop,
                piece: p.piece,
                tally: p.tally,
                words: known.words(p.index),
                shots: &[],
            };
            [
                listing_sheet(&subject),
                care_card(&subject, english()),
                care_cards_four_up(&subject, english()),
                shop_record(&subject),
            ]
        })
        .collect()
}
