//! The care card as paper: how many sides it takes, what it holds, and where it is cut. Places are
//! taken from the laid-out pages and from the PDF, never from the layouts' own figures.

use crate::pages::{Page, Run, mm, pages, sorted_words};
use dovetally::describe::{Described, Language, describe, english, language};
use dovetally::model::{CardSize, Paper, Shop};
use dovetally::typeset::{
    Draft, Press, Subject, care_card, care_card_large_print, care_cards_four_up,
};
use lopdf::{Document, Object};
use serde_json::Value;
use std::path::Path;
use std::sync::LazyLock;

/// A tenth of a millimetre.
const EXACT: f64 = 0.1;

static PRESS: LazyLock<Press> = LazyLock::new(|| Press::new(&[]));

/// The demo shop and its words, on a paper and with cards of a size.
fn demo(paper: Paper, card_size: CardSize) -> (Shop, Described) {
    let folder = Path::new(env!("CARGO_MANIFEST_DIR")).join("projects-demo");
    let read = dovetally::read::read(&folder).expect("a readable folder");
    let shop = Shop { paper, card_size, ..read.shop.expect("a shop") };
    let described = describe(&shop);
    (shop, described)
}

/// A way to make a card.
type Card = fn(&Subject, &Language) -> Draft;

/// The drafts that `make` gives of every piece that has a care card: its name beside it.
fn drafts(demo: &(Shop, Described), of: Card) -> Vec<(String, Draft)> {
    drafts_in(english(), demo, of)
}

fn drafts_in(language: &Language, demo: &(Shop, Described), of: Card) -> Vec<(String, Draft)> {
    let (shop, described) = demo;
    let with_words = shop.pieces.iter().zip(&described.pieces);
    let subject = |piece, words| Subject { shop, piece, tally: None, words, shots: &[] };
    with_words
        .map(|(piece, words)| (piece.name().to_owned(), of(&subject(piece, words), language)))
        .collect()
}

fn laid_out(draft: &Draft) -> Vec<Page> {
    let document = PRESS.lay_out(draft, &[]).unwrap_or_else(|faults| panic!("{faults:?}"));
    let pages = pages(&document);
    typst::comemo::evict(1);
    pages
}

/// The names of the pieces whose draft has not just two pages.
fn not_two_sided(drafts: &[(String, Draft)]) -> Vec<String> {
    assert!(drafts.len() > 20, "only {} cards", drafts.len());
    let others = drafts.iter().filter(|(_, draft)| laid_out(draft).len() != 2);
    others.map(|(name, _)| name.clone()).collect()
}

fn near(a: f64, b: f64) -> bool {
    (a - b).abs() < EXACT
}

fn all_near(found: &[f64], wanted: &[f64]) -> bool {
    found.len() == wanted.len() && found.iter().zip(wanted).all(|(a, b)| near(*a, *b))
}

/// The draft's data with a change made to it.
fn changed(draft: &Draft, change: impl FnOnce(&mut Value)) -> Draft {
    let mut data: Value = serde_json::from_slice(&draft.data).unwrap();
    change(&mut data);
    Draft { data: serde_json::to_vec(&data).unwrap(), ..draft.clone() }
}

#[test]
fn every_demo_card_has_two_sides() {
    for size in [CardSize::A6, CardSize::FourBySix] {
        let demo = demo(Paper::UsLetter, size);
        let one_up = drafts(&demo, care_card);
        assert_eq!(not_two_sided(&one_up), [""; 0], "{size:?}");
    }
    for paper in [Paper::UsLetter, Paper::A4] {
        let four_up = drafts(&demo(paper, CardSize::A6), care_cards_four_up);
        assert_eq!(not_two_sided(&four_up), [""; 0], "{paper:?}");
    }
}

#[test]
fn every_demo_card_has_two_sides_in_spanish_and_in_french() {
    for code in ["es", "fr"] {
        let language = language(code).expect("a language of the cards");
        let demo = demo(Paper::A4, CardSize::A6);
        for of in [care_card as Card, care_cards_four_up] {
            let drafts = drafts_in(language, &demo, of);
            assert_eq!(not_two_sided(&drafts), [""; 0], "{code}");
        }
    }
}

/// Every sentence a quarter longer, by words of its own.
fn a_quarter_longer(value: &mut Value) {
    match value {
        Value::String(text) if text.contains(' ') && !text.starts_with("No.") => {
            let words: Vec<&str> = text.split(' ').collect();
            let more = words[..words.len().div_ceil(4)].join(" ");
            *text = format!("{text} {more}");
        }
        Value::Array(list) => list.iter_mut().for_each(a_quarter_longer),
        _ => {}
    }
}

/// The words of care in another language, which are longer: rows, finish and cautions.
fn longer_words(data: &mut Value) {
    let card = &mut data["card"];
    a_quarter_longer(&mut card["finish"]["sentences"]);
    for row in card["rows"].as_array_mut().unwrap() {
        a_quarter_longer(&mut row["sentences"]);
    }
    for caution in card["cautions"]["entries"].as_array_mut().unwrap() {
        a_quarter_longer(&mut caution["text"]);
        a_quarter_longer(&mut caution["source"]);
    }
}

#[test]
fn two_sides_hold_words_that_are_a_quarter_longer() {
    for size in [CardSize::A6, CardSize::FourBySix] {
        let drafts = drafts(&demo(Paper::A4, size), care_card);
        let longer = drafts.iter().map(|(name, d)| (name.clone(), changed(d, longer_words)));
        assert_eq!(not_two_sided(&longer.collect::<Vec<_>>()), [""; 0], "{size:?}");
    }
}

/// The four trims on a sheet: left, top, right, bottom; of 3¾ × 5 in, round the sheet's centre.
fn four_places(page: &Page) -> Vec<(f64, f64, f64, f64)> {
    let (wide, high) = (25.4 * 3.75, 25.4 * 5.0);
    let (x, y) = (page.width / 2.0, page.height / 2.0);
    let place = |dx: f64, dy: f64| (x + dx * wide, y + dy * high);
    [(-1.0, -1.0), (0.0, -1.0), (-1.0, 0.0), (0.0, 0.0)]
        .map(|(dx, dy)| place(dx, dy))
        .map(|(left, top)| (left, top, left + wide, top + high))
        .to_vec()
}

#[test]
fn four_up_holds_what_one_up_holds() {
    let demo = demo(Paper::UsLetter, CardSize::A6);
    let four_up = drafts(&demo, care_cards_four_up);
    for ((name, one), (_, four)) in drafts(&demo, care_card).iter().zip(&four_up) {
        let (one, four) = (laid_out(one), laid_out(four));
        let whole = |page: &Page| (0.0, 0.0, page.width, page.height);
        let gather = |pages: &[Page], place: &dyn Fn(&Page) -> (f64, f64, f64, f64)| {
            let words = pages.iter().flat_map(|page| page.words_in(place(page)));
            sorted_words(&words.collect::<Vec<_>>().join(" "))
        };
        let said = gather(&one, &whole);
        for place in 0..4 {
            // A card's back lies behind its front: left and right change with every page.
            let on = |page: &Page| four_places(page)[place];
            assert_eq!(gather(&four[..2], &on), said, "{name}, place {place}");
        }
    }
}

#[test]
fn the_sheet_of_four_is_cut_where_its_marks_say() {
    for paper in [Paper::UsLetter, Paper::A4] {
        let drafts = drafts(&demo(paper, CardSize::A6), care_cards_four_up);
        for page in laid_out(&drafts[0].1) {
            let places = four_places(&page);
            let (left, top, right, bottom) = (places[0].0, places[0].1, places[3].2, places[3].3);
            let (xs, ys) = page.marks_outside((left, top, right, bottom));
            assert!(all_near(&xs, &[left, (left + right) / 2.0, right]), "{paper:?} {xs:?}");
            assert!(all_near(&ys, &[top, (top + bottom) / 2.0, bottom]), "{paper:?} {ys:?}");
            for run in &page.runs {
                let inside = |place: &(f64, f64, f64, f64)| {
                    run.at.0 > place.0 + 6.0
                        && run.at.0 + run.width < place.2 - 6.0
                        && run.at.1 > place.1 + 6.0
                        && run.at.1 < place.3 - 6.0
                };
                assert!(places.iter().any(inside), "{paper:?}: {run:?} is too near a cut");
            }
        }
    }
}

#[test]
fn backs_lie_behind_their_fronts() {
    for paper in [Paper::UsLetter, Paper::A4] {
        let drafts = drafts(&demo(paper, CardSize::A6), care_cards_four_up);
        let different: Vec<Value> = drafts[..4]
            .iter()
            .map(|(_, d)| serde_json::from_slice::<Value>(&d.data).unwrap()["cards"][0].clone())
            .collect();
        let numbers: Vec<String> =
            different.iter().map(|card| card["number"].as_str().unwrap().to_owned()).collect();
        let sheet = changed(&drafts[0].1, |data| {
            data["cards"] = different.into();
            data["copies"] = 1.into();
        });
        let sides = laid_out(&sheet);
        assert_eq!(sides.len(), 2);
        for (i, number) in numbers.iter().enumerate() {
            let only = |page: &Page| match page.places_of(number)[..] {
                [place] => place,
                ref other => panic!("{number} stands {} times", other.len()),
            };
            let (front, back) = (only(&sides[0]), only(&sides[1]));
            let on = |page: &Page, (x, y): (f64, f64)| {
                four_places(page).iter().position(|p| x > p.0 && x < p.2 && y > p.1 && y < p.3)
            };
            assert_eq!(on(&sides[0], front), Some(i));
            // Turned on the long edge, the right half of the back is behind the left of the front.
            assert_eq!(on(&sides[1], back), Some([1, 0, 3, 2][i]), "{number} on {paper:?}");
            let (from_left, from_right) =
                (four_places(&sides[0])[i], four_places(&sides[1])[[1, 0, 3, 2][i]]);
            assert!(near(from_left.0, sides[1].width - from_right.2));
            assert!(near(front.1 - from_left.1, back.1 - from_right.1), "heads at one height");
            assert!(near(front.0 - from_left.0, back.0 - from_right.0), "and at one margin");
        }
    }
}

/// A box of the first page of a PDF: left, bottom, right, top in millimetres.
fn page_box(pdf: &[u8], name: &[u8]) -> [f64; 4] {
    let document = Document::load_mem(pdf).unwrap();
    let first = document.get_pages()[&1];
    let page = document.get_dictionary(first).unwrap();
    let (_, list) = document.dereference(page.get(name).unwrap()).unwrap();
    let sides = list.as_array().unwrap().iter().map(|side| match side {
        Object::Integer(n) => mm(*n as f64),
        other => mm(f64::from(other.as_float().unwrap())),
    });
    sides.collect::<Vec<f64>>().try_into().unwrap()
}

#[test]
fn a_card_one_up_has_its_size_and_its_crop_marks() {
    let sizes = [(CardSize::A6, 105.0, 148.0), (CardSize::FourBySix, 101.6, 152.4)];
    for (size, width, height) in sizes {
        let mut demo = demo(Paper::UsLetter, size);
        let plain = laid_out(&drafts(&demo, care_card)[0].1);
        assert!(plain.iter().all(|page| near(page.width, width) && near(page.height, height)));
        assert_eq!(plain[0].marks_outside((0.0, 0.0, width, height)).0, [0.0; 0]);

        demo.0.card_marks = true;
        let draft = &drafts(&demo, care_card)[0].1;
        let paper = PRESS.print(draft, &[]).unwrap();
        let [left, bottom, right, top] = page_box(&paper.pdf, b"TrimBox");
        assert!(near(right - left, width) && near(top - bottom, height), "{size:?}");
        let media = page_box(&paper.pdf, b"MediaBox");
        assert!(near(media[2], right + left) && near(media[3], top + bottom), "centred");

        for page in laid_out(draft) {
            // Beyond 3 mm of bleed there are marks, on the lines of the trim, and nothing else.
            let (xs, ys) =
                page.marks_outside((-3.0 + 1e-6, -3.0 + 1e-6, width + 2.999, height + 2.999));
            assert!(all_near(&xs, &[0.0, width]), "{size:?} {xs:?}");
            assert!(all_near(&ys, &[0.0, height]), "{size:?} {ys:?}");
            let within = |run: &Run| run.at.0 > 6.0 && run.at.0 + run.width < width - 6.0;
            assert!(page.runs.iter().all(within));
        }
    }
}

#[test]
fn large_print_says_the_whole_card_in_large_type() {
    for paper in [Paper::UsLetter, Paper::A4] {
        let demo = demo(paper, CardSize::A6);
        let large = drafts(&demo, care_card_large_print);
        for ((name, one), (_, large)) in drafts(&demo, care_card).iter().zip(&large) {
            let sheets = laid_out(large);
            // The running head and the foot are small, and no part of the reading.
            let body = |page: &Page| (0.0, mm(77.0), page.width, page.height - mm(64.0));
            for page in &sheets {
                let (_, top, _, bottom) = body(page);
                let small = page
                    .runs
                    .iter()
                    .find(|run| (top..bottom).contains(&run.at.1) && run.size < 15.0);
                assert!(small.is_none(), "{name}: {small:?}");
            }
            let said: Vec<String> =
                sheets.iter().flat_map(|page| page.words_in(body(page))).collect();
            for word in laid_out(one).iter().flat_map(Page::words) {
                let elsewhere = ["No.", "Keeping", "it", "well", "·"].contains(&word.as_str());
                let number = word.chars().all(|c| c.is_ascii_digit() || c == '–');
                assert!(elsewhere || number || said.contains(&word), "{name} lacks {word}");
            }
        }
    }
}

/// A lamp of brass has no finish that gets hard: its card says nothing of light use.
#[test]
fn the_card_of_what_has_no_finish_has_no_dates() {
    let piece = "title = \"Brass lamp\"\nkind = \"lamp\"\nmaterial = [{ of = \"brass\" }]\n";
    let shop =
        crate::shell::shop_of(&[("shop.toml", "name = \"T\"\n"), ("pieces/a/piece.toml", piece)]);
    let shop = dovetally::read::read(shop.path()).unwrap().shop.unwrap();
    let described = describe(&shop);
    for of in [care_card, care_card_large_print, care_cards_four_up] as [Card; 3] {
        let drafts = drafts(&(shop.clone(), described.clone()), of);
        let text = String::from_utf8(drafts[0].1.data.clone()).unwrap();
        assert!(text.contains("Rub the brass") && text.contains("\"dates\":[]"), "{text}");
        assert!(PRESS.print(&drafts[0].1, &[]).is_ok());
    }
}
