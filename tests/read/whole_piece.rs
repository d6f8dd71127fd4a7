//! A full piece, as an owner would write it: no findings, and every value with its place.

use super::folder::{SHOP, codes, reading};
use dovetally::model::*;
use dovetally::read::Reading;
use rust_decimal::Decimal;

const STOCK: &str = "[satin-topcoat]\nlabel = \"satin topcoat\"\nunit = \"fl oz\"\n";

const BOOK: &str = r#"
[[expense]]
on = 2025-01-05
what = "newspaper notice"
category = "advertising"
amount = "1,012.50"

[[supply]]
on = 2025-01-06
stock = "satin-topcoat"
quantity = "1 qt"
amount = 24.99

[[trip]]
on = 2025-03-02
miles = 12.4
purpose = "fetch"
piece = "25-014"

[workspace]
area = 180
"#;

const PIECE: &str = r#"number = "25-014"
title  = 'Oak washstand #$@*_\ "as found"'
kind   = "washstand"
made   = "about 1910"
count  = 2
width  = "36 1/4 in"
depth  = 18
height = "75 cm"
weight = "64 lb"

bought = { on = 2025-03-02, price = 45.10, premium = 6.77, receipt = "till.txt" }

[[wood]]
part = "top"
species = "white oak"
form = "veneer"
over = "pine"
sure = false

[[wood]]
species = "unknown"

[[cost]]
on = 2025-03-05
what = "bail pulls"
kind = "hardware"
amount = "1_250.00"

[[used]]
on = 2025-03-09
stock = "satin-topcoat"
quantity = "1/2 pt"

[[work]]
on = 2025-03-06
task = "strip"
hours = "2h30"

[[work]]
task = "sand"
hours = "45 min"

[[coat]]
product = "polyurethane"
coats = 3
last = 2025-03-11

[[change]]
part = "top board"
what = "replaced"
with = "ash"

[[photo]]
file = "../oak/front.txt"
moment = "before"

[safety]
old-paint = "none"
ships-abroad = "no"

[outline]
front = ["drawer", "door  door"]
legs = 5.5

[[sale]]
on = 2025-03-22
price = 400
count = 1
fee = 50.40

[[return]]
on = 2025-03-25
refunded = 400.00

[[sale]]
on = 2025-04-01
price = 380
"#;

fn whole() -> Reading {
    reading(&[
        SHOP,
        ("stock.toml", STOCK),
        ("books/2025.toml", BOOK),
        ("pieces/oak/piece.toml", PIECE),
        ("pieces/oak/till.txt", "paid"),
        ("pieces/oak/front.txt", "RIFF0000WEBP"),
    ])
}

#[test]
fn a_full_piece_has_no_findings_and_every_value_is_what_was_written() {
    let reading = whole();
    assert_eq!(codes(&reading), Vec::<&str>::new());
    let shop = reading.shop.unwrap();
    let piece = shop.piece("25-014").unwrap();
    assert_eq!(piece.folder, "pieces/oak");
    assert_eq!(piece.title.value, "Oak washstand #$@*_\\ \"as found\"");
    assert_eq!(piece.made.value, Made::About(1910));
    assert_eq!(piece.count, 2);
    let inches = |length: &Option<At<Length>>| length.as_ref().unwrap().inches().to_string();
    assert_eq!(inches(&piece.width), "145/4");
    assert_eq!(inches(&piece.depth), "18");
    assert_eq!(inches(&piece.height), "3750/127");
    assert_eq!(piece.weight.unwrap().amount, Decimal::from(64));
    let outline = piece.outline.as_ref().unwrap();
    assert_eq!(outline.rows, [vec!["drawer"], vec!["door", "door"]]);
    assert_eq!(outline.legs.unwrap().inches().to_string(), "11/2");
    assert_eq!(piece.safety["ships-abroad"].value, "no");
    assert_eq!(piece.photo[0].path.value, "pieces/oak/front.txt");
    assert_eq!(piece.photo[0].moment, Moment::Before);
}

#[test]
fn money_hours_and_quantities_are_exact() {
    let reading = whole();
    let shop = reading.shop.unwrap();
    let piece = shop.piece("25-014").unwrap();
    let bought = piece.bought.as_ref().unwrap();
    assert_eq!(bought.price.value.to_string(), "45.10");
    assert_eq!(bought.premium.to_string(), "6.77");
    assert_eq!(bought.receipt.as_ref().unwrap().value, "pieces/oak/till.txt");
    assert_eq!(piece.cost[0].amount.value, Decimal::from(1250));
    assert_eq!(piece.hours(), Some(Hours::from_decimal(Decimal::new(325, 2))));
    let gallon_16th = parse_quantity("1 gal", None).unwrap().in_base() / Decimal::from(16);
    assert_eq!(piece.used[0].quantity.in_base(), gallon_16th);
    assert_eq!(piece.sale.len(), 2);
    assert_eq!(piece.sale[0].fee.as_ref().unwrap().value, Decimal::new(5040, 2));
    let book = &shop.years[&2025];
    assert_eq!(book.expense[0].amount.value, Decimal::new(101_250, 2));
    assert_eq!(book.trip[0].distance, Decimal::new(124, 1));
    assert_eq!(book.workspace.as_ref().unwrap().months, None);
}

#[test]
fn values_know_their_places() {
    let reading = whole();
    let shop = reading.shop.unwrap();
    let piece = shop.piece("25-014").unwrap();
    let name = |place| reading.sources.name(place).unwrap();
    assert_eq!(name(piece.title.place), "pieces/oak/piece.toml:2:10");
    assert_eq!(name(piece.width.as_ref().unwrap().place), "pieces/oak/piece.toml:6:10");
    let bought = piece.bought.as_ref().unwrap();
    assert_eq!(name(bought.price.place), "pieces/oak/piece.toml:11:37");
    assert_eq!(name(piece.sale[1].place), "pieces/oak/piece.toml:75:1");
    assert_eq!(name(shop.years[&2025].expense[0].amount.place), "books/2025.toml:6:10");
    let written = &reading.sources.get(piece.title.place.file).unwrap().text;
    let span = piece.title.place.start as usize..piece.title.place.end as usize;
    assert_eq!(&written[span], r#"'Oak washstand #$@*_\ "as found"'"#);
}
