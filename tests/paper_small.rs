//! Tags, labels, link codes, listing pictures and the catalogue: where things stand on the laid-out
//! page, what a reader of the paper or a phone makes of it, and that nothing is cut off.

mod places;

use crate::pdf;
use crate::shell::{copy_of, demo, dovetally, files_below};
use crate::shops::{day, dec, listing, of_pieces, piece, shop};
use dovetally::cli::Status;
use dovetally::model::{
    At, Flaw, Length, LengthUnit, Listing, Paper, Piece, Place, Shop, Wood, WoodForm, parse_length,
};
use dovetally::typeset::{Draft, Press, box_label, catalogue, hang_tag, hang_tags, listing_sheet};
use places::{Laid, lay};
use std::collections::BTreeSet;
use std::fs;
use std::path::Path;
use std::sync::LazyLock;

static PRESS: LazyLock<Press> = LazyLock::new(|| Press::new(&[]));

const LINK: &str = "https://quayside.example/pieces/25-001?from=sheet";

/// A piece for sale with a size, a wood and one flaw that names it.
fn listed(number: &str, title: &str, kind: &str) -> Piece {
    let side = |text: &str| -> Option<At<Length>> {
        Some(parse_length(text, LengthUnit::Inch).unwrap().into())
    };
    let oak = Wood {
        part: String::new(),
        species: Some("white oak".to_owned().into()),
        form: WoodForm::Solid,
        over: None,
        sure: true,
        stained: None,
        place: Place::NOWHERE,
    };
    let listing =
        Listing { link: Some(LINK.to_owned().into()), ..listing(Some("2025-03-15"), Some("485")) };
    Piece {
        number: Some(number.to_owned().into()),
        title: title.to_owned().into(),
        kind: Some(kind.to_owned().into()),
        width: side("36 1/4"),
        depth: side("18"),
        height: side("29 1/2"),
        wood: vec![oak],
        flaw: vec![Flaw { note: format!("mark of {number}"), place: Place::NOWHERE }],
        listing: Some(listing),
        ..piece(number)
    }
}

fn shop_with(pieces: Vec<Piece>, paper: Paper) -> Shop {
    Shop { pieces, paper, contact: vec!["555 0142".to_owned()], ..shop() }
}

fn pages_of(draft: &Draft) -> Vec<Laid> {
    let printed = PRESS.print(draft, &[]).unwrap_or_else(|faults| panic!("{faults:?}"));
    assert_eq!(pdf::faults(&printed.pdf, false), Vec::<String>::new(), "{}", draft.layout);
    let pages = lay(draft);
    for page in &pages {
        assert_eq!(page.outside(), Vec::<&str>::new(), "{}", draft.layout);
    }
    pages
}

/// Within a hundredth of a millimetre.
fn near(a: f64, b: f64) -> bool {
    (a - b).abs() < 0.028
}

/// The places of the marks of a page: x of the upright ones, y of the level ones, each once.
fn marks(page: &Laid) -> [Vec<f64>; 2] {
    let mut marks = [Vec::new(), Vec::new()];
    for &[x, y, across, down] in &page.lines {
        let (which, at) = if near(across, 0.0) && down <= 18.1 {
            (0, x)
        } else if near(down, 0.0) && across <= 18.1 {
            (1, y)
        } else {
            continue;
        };
        if !marks[which].iter().any(|&known| near(known, at)) {
            marks[which].push(at);
        }
    }
    for list in &mut marks {
        list.sort_by(f64::total_cmp);
    }
    marks
}

fn are(found: &[f64], wanted: &[f64]) -> bool {
    found.len() == wanted.len() && found.iter().zip(wanted).all(|(a, b)| near(*a, *b))
}

// 2¼ × 4 in is 162 × 288 points; three across and two down in the middle of 612 × 792 leave
// (612 − 486) / 2 = 63 and (792 − 576) / 2 = 108; of 595.28 × 841.89 they leave 54.64 and 132.945.
#[test]
fn tags_stand_exactly_on_their_places_and_backs_behind_their_fronts() {
    for (paper, x, y) in [(Paper::UsLetter, 63.0, 108.0), (Paper::A4, 54.64, 132.945)] {
        let numbers: Vec<String> = (1..=8).map(|n| format!("25-00{n}")).collect();
        let pieces = numbers.iter().map(|n| listed(n, &format!("Piece {n}"), "washstand"));
        let shop = shop_with(pieces.collect(), paper);
        let pages = pages_of(&of_pieces(&shop, hang_tags).unwrap());
        assert_eq!(pages.len(), 4, "eight tags are two sheets, both sides");
        let columns: Vec<f64> = (0..4).map(|i| x + 162.0 * f64::from(i)).collect();
        let rows: Vec<f64> = (0..3).map(|i| y + 288.0 * f64::from(i)).collect();
        for page in &pages {
            let [across, down] = marks(page);
            assert!(are(&across, &columns), "{across:?}");
            assert!(are(&down, &rows), "{down:?}");
        }
        for (i, number) in numbers.iter().enumerate() {
            let (front, back) = (&pages[i / 6 * 2], &pages[i / 6 * 2 + 1]);
            let (front_x, front_y) = front.places_of("Piece")[i % 6];
            let (back_x, back_y) = back.places_of(&format!("Mark of {number}"))[0];
            let column = (i % 3) as f64;
            assert!(near(front_x, x + column * 162.0 + 16.0), "{number}: {front_x}");
            assert!(near(back_x, x + (2.0 - column) * 162.0 + 16.0), "{number}: {back_x}");
            let row = y + 288.0 * (i % 6 / 3) as f64;
            assert!((row..row + 288.0).contains(&front_y) && (row..row + 288.0).contains(&back_y));
        }
    }
}

#[test]
fn a_tag_says_number_title_price_and_size_and_a_set_has_one_for_each() {
    let set = Piece { count: 3, ..listed("25-001", "Three chairs", "chair") };
    let shop = shop_with(vec![set], Paper::UsLetter);
    let pages = pages_of(&of_pieces(&shop, |subjects| hang_tag(&subjects[0])));
    assert_eq!(pages.len(), 2, "two folded tags to a sheet");
    for words in ["25–001", "Three chairs", "$485", "for the set of three", "36¼", "white oak"] {
        assert!(pages[0].says(words), "{words}");
    }
    assert_eq!((pages[0].places_of("$485").len(), pages[1].places_of("$485").len()), (2, 1));
    let labels = pages_of(&of_pieces(&shop, |subjects| box_label(&subjects[0])));
    assert_eq!(labels.len(), 3);
    let numbers = labels[2].places_of("25–001");
    assert!(near(numbers[1].1 - numbers[0].1, 396.0), "half a sheet apart: {numbers:?}");
    assert!(labels[2].says("3\u{a0}of\u{a0}3"));
}

/// Words that fit nowhere: the longest title, in one word and in many, and twelve long flaws.
fn hostile(title: String) -> Piece {
    let flaw = |n: u32| Flaw {
        note: format!("{n}: {}", "a deep scratch beside the other one ".repeat(6)),
        place: Place::NOWHERE,
    };
    let mut made = listed("25-001", &title, "blanket chest");
    made.number = Some("N".repeat(60).into());
    made.flaw = (1..=12).map(flaw).collect();
    made.listing.as_mut().unwrap().price = Some(dec("123456789.99").into());
    made
}

#[test]
fn the_longest_words_stay_inside_and_no_caution_goes_unsaid() {
    for title in ["W".repeat(200), "Wide chest of many words ".repeat(8).trim().to_owned()] {
        let mut held = hostile(title);
        // A chest is held back until its catch is stated; then the caution is printed.
        held.safety.insert("latch".to_owned(), "removed".to_owned().into());
        held.safety.insert("lid-support".to_owned(), "none".to_owned().into());
        let shop = shop_with(vec![held], Paper::UsLetter);
        let pages = pages_of(&of_pieces(&shop, |subjects| hang_tag(&subjects[0])));
        let x = (612.0 - 324.0) / 2.0;
        for (from, _, to, text) in &pages[0].words {
            assert!(*from >= x && *to <= x + 324.0, "{text} leaves its tag");
        }
        assert!(pages[0].says("Caution"), "{:?}", pages[0].words);
        assert!(pages[0].says("on the listing sheet"), "{:?}", pages[0].words);
        pages_of(&of_pieces(&shop, |subjects| box_label(&subjects[0])));
        pages_of(&of_pieces(&shop, catalogue).unwrap());
    }
}

#[test]
fn a_phone_reads_the_link_code_back_off_the_picture_of_the_sheet() {
    let shop = shop_with(vec![listed("25-001", "Oak washstand", "washstand")], Paper::UsLetter);
    let draft = of_pieces(&shop, |subjects| listing_sheet(&subjects[0]));
    let page = &pages_of(&draft)[0];
    assert!(page.says("quayside.example/"), "the address stands beside it as text");
    let png = PRESS.picture(&draft, &[], 1600).unwrap();
    let picture = image::load_from_memory(&png).unwrap().to_luma8();
    let (width, height) = (picture.width() as usize, picture.height() as usize);
    let mut seen = rqrr::PreparedImage::prepare_from_greyscale(width, height, |x, y| {
        picture.get_pixel(x as u32, y as u32).0[0]
    });
    let found: Vec<String> =
        seen.detect_grids().iter().filter_map(|grid| Some(grid.decode().ok()?.1)).collect();
    assert_eq!(found, [LINK]);
}

/// The kinds of the chunks of a PNG, in order.
fn chunks(png: &[u8]) -> Vec<String> {
    let mut kinds = Vec::new();
    let mut at = 8;
    while at + 8 <= png.len() {
        let length = u32::from_be_bytes(png[at..at + 4].try_into().unwrap()) as usize;
        kinds.push(String::from_utf8_lossy(&png[at + 4..at + 8]).into_owned());
        at += 12 + length;
    }
    kinds.dedup();
    kinds
}

fn pictures_of(shop: &Path) -> Vec<(String, Vec<u8>)> {
    let said = dovetally(shop, &["make", "--only", "picture", "--piece", "24-005"]);
    assert_eq!(said.status, Status::Done, "{}", said.err);
    let made = files_below(&shop.join("out"));
    made.into_iter().filter(|(path, _)| path.ends_with(".png")).collect()
}

#[test]
fn listing_pictures_have_the_size_that_was_asked_for_and_hold_nothing_else() {
    let shop = copy_of(&demo());
    let name = |files: &[(String, Vec<u8>)]| -> Vec<String> {
        files.iter().map(|(path, _)| path.rsplit('/').next().unwrap().to_owned()).collect()
    };
    let first = pictures_of(shop.path());
    assert_eq!(name(&first), ["before-and-after.png", "listing-picture.png"]);
    let toml = shop.path().join("shop.toml");
    let text = fs::read_to_string(&toml).unwrap();
    fs::write(&toml, text.replace("[books]", "picture-pixels = 900\n\n[books]")).unwrap();
    let second = pictures_of(shop.path());
    for (files, longer) in [(&first, 1600), (&second, 900)] {
        for (path, png) in files {
            let picture = image::load_from_memory(png).unwrap();
            assert_eq!(picture.width().max(picture.height()), longer, "{path}");
            assert_eq!(chunks(png), ["IHDR", "IDAT", "IEND"], "{path}");
        }
    }
    assert!(first[0].1 != second[0].1);
}

#[test]
fn every_page_number_of_the_catalogue_is_the_page_and_leads_there() {
    let kinds = ["washstand", "chair", "blanket chest", "desk", "trunk", "mirror", "table"];
    let pieces = (0..20).map(|n| {
        let kind = kinds[n % kinds.len()];
        let mut made = listed(&format!("25-0{n:02}"), &format!("Number {n:02} of all"), kind);
        made.safety.insert("latch".to_owned(), "none".to_owned().into());
        made.safety.insert("lid-support".to_owned(), "fitted".to_owned().into());
        made
    });
    let shop = shop_with(pieces.collect(), Paper::UsLetter);
    let pages = pages_of(&of_pieces(&shop, catalogue).unwrap());
    let last = pages.last().unwrap();
    let mut with_oak = BTreeSet::new();
    for n in 0..20 {
        let title = format!("Number {n:02} of all");
        let (x, y) = *last.places_of(&title).last().unwrap();
        let stands = 1 + pages.iter().position(|page| page.says(&title)).unwrap();
        with_oak.insert(stands);
        let (from, to) = if x < 300.0 { (0.0, 300.0) } else { (300.0, 612.0) };
        assert_eq!(last.line_at(y, from, to), format!("{title} {stands}"));
        let leads = last
            .links
            .iter()
            .find(|(at, top, _)| *at >= from && *at < to && (*top..*top + 14.0).contains(&y));
        assert_eq!(leads.map(|(_, _, page)| *page), Some(stands), "{title}");
    }
    let wood = last.places_of("white oak")[0];
    let line = last.line_at(wood.1, if wood.0 < 300.0 { 0.0 } else { 300.0 }, 612.0);
    let told = line.strip_prefix("white oak").unwrap();
    let told: Vec<usize> = told.split([',', ' ']).filter_map(|page| page.parse().ok()).collect();
    assert_eq!(told, with_oak.into_iter().collect::<Vec<_>>(), "every page with oak: {line}");
    assert!(pages[0].says("20 pieces") && pages[0].says("Contents"));
}

#[test]
fn a_piece_that_is_held_back_or_gone_is_on_no_tag_and_in_no_catalogue() {
    let held = listed("25-001", "Held back", "blanket chest");
    let mut gone = listed("25-002", "Gone away", "washstand");
    gone.sale = vec![crate::shops::sale(day("2025-04-01"), dec("400"))];
    let there = listed("25-003", "Still there", "washstand");
    let shop = shop_with(vec![held.clone(), gone.clone(), there], Paper::UsLetter);
    for draft in [of_pieces(&shop, hang_tags).unwrap(), of_pieces(&shop, catalogue).unwrap()] {
        let pages = pages_of(&draft);
        let says = |words: &str| pages.iter().any(|page| page.says(words));
        assert!(says("Still there") && !says("Held back") && !says("Gone away"));
    }
    let shop = shop_with(vec![held, gone], Paper::UsLetter);
    assert!(of_pieces(&shop, hang_tags).is_none() && of_pieces(&shop, catalogue).is_none());
}
