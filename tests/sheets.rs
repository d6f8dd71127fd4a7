//! What a buyer's papers must say and never say, and how they are read: disclosures, what may be
//! offered, characters and fractions, and the structure a screen reader follows.

use crate::pages::{Page, pages};
use crate::pdf;
use crate::shops::{day, dec, listing, of_pieces, payment, piece, sale, shop};
use dovetally::model::{
    At, Change, ChangeKind, Flaw, Length, LengthUnit, Piece, Place, Reserved, Shop, Withdrawal,
    WithdrawalKind, parse_length,
};
use dovetally::typeset::{Brand, Draft, Press, hang_tag, listing_sheet, not_offered, stock_sheet};
use std::sync::LazyLock;

static PRESS: LazyLock<Press> = LazyLock::new(|| Press::new(&[]));

fn side(text: &str) -> Option<At<Length>> {
    Some(parse_length(text, LengthUnit::Inch).unwrap().into())
}

fn flaw(note: String) -> Flaw {
    Flaw { note, place: Place::NOWHERE }
}

/// A washstand for sale, 18 5/16 wide.
fn listed(number: &str) -> Piece {
    Piece {
        number: Some(number.to_owned().into()),
        title: format!("Stand {number}").into(),
        kind: Some("washstand".to_owned().into()),
        width: side("18 5/16"),
        depth: side("14"),
        height: side("29 1/2"),
        flaw: vec![flaw("a ring on the top".to_owned())],
        listing: Some(listing(Some("2025-03-15"), Some("485"))),
        ..piece(number)
    }
}

fn shop_with(pieces: Vec<Piece>) -> Shop {
    Shop { pieces, contact: vec!["555 0142".to_owned(), "bench@shop.example".to_owned()], ..shop() }
}

fn laid(press: &Press, draft: &Draft) -> Vec<Page> {
    let document = press.lay_out(draft, &[]).unwrap_or_else(|faults| panic!("{faults:?}"));
    let pages = pages(&document);
    typst::comemo::evict(1);
    pages
}

fn words_of(page: &Page) -> String {
    page.runs.iter().map(|run| run.words.clone() + " ").collect()
}

/// Everything a PDF says with its roles, and the roles of its tree; it must be valid.
fn read_aloud(draft: &Draft) -> (Vec<pdf::aloud::Said>, Vec<String>) {
    let paper = PRESS.print(draft, &[]).unwrap_or_else(|faults| panic!("{faults:?}"));
    assert_eq!(pdf::faults(&paper.pdf, false), Vec::<String>::new());
    let document = lopdf::Document::load_mem(&paper.pdf).unwrap();
    let roles = pdf::tags(&document).into_iter().map(|tag| tag.role).collect();
    (pdf::aloud::aloud(&document), roles)
}

/// Thirty flaws of three lines, changes and a long story.
fn full_of_flaws() -> Piece {
    let mut made = listed("25-001");
    made.flaw = (1..=30)
        .map(|n| {
            flaw(format!(
                "flaw {n} is a long scratch across the left side, {}",
                "deep and wide, ".repeat(8)
            ))
        })
        .collect();
    let change = |n: u32| Change {
        part: format!("the {n}. slat of the back, which was broken in three places and lost"),
        what: ChangeKind::Replaced,
        with: Some("poplar".to_owned()),
        place: Place::NOWHERE,
    };
    made.change = (1..=12).map(change).collect();
    made.listing.as_mut().unwrap().story =
        Some("It stood in a hall for longer than anyone could tell us. ".repeat(40).into());
    made
}

#[test]
fn what_is_wrong_is_announced_on_sheet_one_and_said_once_in_full_in_one_order() {
    let shop = shop_with(vec![full_of_flaws()]);
    let sheets = laid(&PRESS, &of_pieces(&shop, |subjects| listing_sheet(&subjects[0])));
    let said: Vec<String> = sheets.iter().map(words_of).collect();
    for label in ["Not original", "Condition"] {
        assert!(said[0].contains(label), "{label}: {}", said[0]);
    }
    assert_eq!(said[0].matches("entries, listed in full on sheet 2").count(), 2, "{}", said[0]);
    assert!(!said[0].contains("It stood in a hall"), "the story leaves first");
    let later = said[1..].concat();
    assert!(!later.contains("listed in full"), "sheet 2 does not announce them again");
    assert_eq!(later.matches("Condition in full").count(), 1);
    let at = |n: u32| later.find(&format!("Flaw {n} is")).unwrap_or_else(|| panic!("{n}: {later}"));
    assert!((1..30).all(|n| at(n) < at(n + 1)), "read in one order");
}

#[test]
fn every_way_not_to_be_offered_has_its_reason_and_its_papers_are_none() {
    let mut sold = listed("25-001");
    sold.sale = vec![sale(day("2025-04-01"), dec("400"))];
    let withdrawn = Piece {
        withdrawn: Some(Withdrawal {
            on: day("2025-04-01").into(),
            how: WithdrawalKind::Kept,
            note: None,
            place: Place::NOWHERE,
        }),
        ..listed("25-002")
    };
    let reserved =
        Piece { payment: vec![payment(day("2025-04-01"), dec("50"))], ..listed("25-003") };
    let mut free_again = reserved.clone();
    free_again.number = Some("25-006".to_owned().into());
    free_again.payment[0].back = Some(day("2025-04-09").into());
    let mut fell_through = reserved.clone();
    fell_through.number = Some("25-007".to_owned().into());
    fell_through.payment[0].kept = Some(day("2025-04-09").into());
    let promised = Reserved {
        name: Some("Somebody".to_owned()),
        until: Some(day("2025-05-01").into()),
        place: Place::NOWHERE,
    };
    let promised = Piece { reserved: Some(promised), ..listed("25-008") };
    let held = Piece { kind: Some("blanket chest".to_owned().into()), ..listed("25-004") };
    let shop = shop_with(vec![
        sold,
        withdrawn,
        reserved,
        held,
        listed("25-005"),
        free_again,
        fell_through,
        promised,
    ]);
    let why = of_pieces(&shop, |subjects| subjects.iter().map(not_offered).collect::<Vec<_>>());
    for (why, word) in why.iter().zip(["sold", "withdrawn", "deposit", "held"]) {
        assert!(why.as_ref().is_some_and(|why| why.contains(word)), "{word}: {why:?}");
    }
    assert_eq!(why[4..7], [None, None, None], "the deposit was given back, or kept");
    assert_eq!(why[7].as_deref(), Some("reserved: its file says so, until 2025-05-01"));
    let stock = of_pieces(&shop, |subjects| stock_sheet(subjects).unwrap());
    let said = words_of(&laid(&PRESS, &stock)[0]);
    for (number, there) in [
        ("25–001", false),
        ("25–002", false),
        ("25–003", false),
        ("25–004", false),
        ("25–005", true),
        ("25–008", false),
    ] {
        assert_eq!(said.contains(number), there, "{number}: {said}");
    }
}

#[test]
fn a_fraction_stands_apart_from_its_whole_number_in_every_font() {
    let plain = Brand { family: Some("DejaVu Sans Mono".to_owned()), ..Brand::default() };
    let without = Press::new(&[]).with(&plain);
    for (press, font) in [(&*PRESS, None), (&without, plain.family.clone())] {
        let shop = Shop { font: font.map(At::from), ..shop_with(vec![listed("25-001")]) };
        for draft in
            of_pieces(&shop, |s| [listing_sheet(&s[0]), hang_tag(&s[0]), stock_sheet(s).unwrap()])
        {
            // A built fraction is laid out in runs of its own.
            let said = words_of(&laid(press, &draft)[0]).replace(' ', "");
            assert!(said.contains("18\u{202f}5\u{2044}16"), "{}: {said}", draft.layout);
            assert!(!said.contains("5/16") && !said.contains("185"), "{}: {said}", draft.layout);
        }
    }
}

#[test]
fn a_tag_says_price_and_number_apart_and_its_back_by_name() {
    let shop = shop_with(vec![listed("25-001")]);
    let (said, _) = read_aloud(&of_pieces(&shop, |subjects| hang_tag(&subjects[0])));
    let has = |role: Option<&str>, text: &str| {
        // A letter of the small capitals is the same for large and small.
        let same = |said: &pdf::aloud::Said| said.text.to_lowercase() == text;
        said.iter().any(|said| same(said) && role.is_none_or(|role| said.role == role))
    };
    assert!(has(None, "$485") && has(None, "25–001"), "{said:#?}");
    assert!(has(Some("H2"), "25–001: what to know"), "{said:#?}");
}

#[test]
fn a_stock_sheet_names_its_rows_and_its_total_and_leaves_no_cell_empty() {
    let shop = shop_with(vec![listed("25-001"), listed("25-002"), listed("25-003")]);
    let (said, roles) = read_aloud(&of_pieces(&shop, |subjects| stock_sheet(subjects).unwrap()));
    // The row's head is a paragraph within its cell, so it is looked for by its words and by count.
    assert_eq!(roles.iter().filter(|role| *role == "TH").count(), 7 + 3 + 1, "{roles:?}");
    assert!(said.iter().any(|said| said.text == "25–002"), "{said:#?}");
    assert!(said.iter().any(|said| said.text == "All three"), "{said:#?}");
    assert!(said.iter().any(|said| said.text == "1,455.00"), "{said:#?}");
    assert!(said.iter().any(|said| said.text.to_lowercase() == "price, $"), "{said:#?}");
    assert!(
        said.iter().filter(|said| said.text == "–").count() == 3,
        "where it stands is not known"
    );
}

#[test]
fn a_long_condition_is_a_list_and_the_shop_can_be_written_to() {
    let shop = shop_with(vec![full_of_flaws()]);
    let (said, roles) = read_aloud(&of_pieces(&shop, |subjects| listing_sheet(&subjects[0])));
    let items = roles.iter().filter(|role| *role == "LI").count();
    assert_eq!(items, 12 + 30, "{roles:?}");
    assert!(roles.iter().filter(|role| *role == "Link").count() >= 2, "telephone and e-mail");
    assert!(said.iter().any(|said| said.text.contains("bench@shop.example")));
}
