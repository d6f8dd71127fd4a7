//! Will it fit: doorways, turns, what comes apart, and a weight estimated, at values worked by hand.

use super::pieces::*;
use dovetally::describe::{Sides, Stands, Way};
use dovetally::model::*;
use num_rational::Ratio;
use proptest::prelude::*;

fn sides(width: &str, depth: &str, height: &str) -> Sides {
    let side = |text: &str| length(text).unwrap().value;
    Sides { width: side(width), depth: side(depth), height: side(height) }
}

/// Doorway and turn in quarters of an inch.
fn quarters(way: Way) -> (i64, i64, i64) {
    (way.wide.quarters, way.high.quarters, way.turn.quarters)
}

#[test]
fn doorways_and_turns_worked_by_hand() {
    // 40 × 20 × 48 in, upright: 20 wide, 48 high. Turned on the way it reaches 40 + 2 × 20 = 80, and
    // 80 ÷ 2.8284 is 28.28, so 28½; pushed round it would need 40.
    let dresser = sides("40", "20", "48");
    assert_eq!(quarters(dresser.upright()), (80, 192, 114));
    // On its side 20 × 40; the flat sides are 48 and 20: 88 ÷ 2.8284 is 31.11, so 31¼.
    assert_eq!(dresser.lying().stands, Stands::OnSide);
    assert_eq!(quarters(dresser.lying()), (80, 160, 125));
    // A table 60 × 36 × 30 in: upright 132 ÷ 2.8284 is 46.67, so 46¾; on end the flat sides are 36
    // and 30, 96 ÷ 2.8284 is 33.94, so 34.
    let table = sides("60", "36", "30");
    assert_eq!(quarters(table.upright()), (144, 120, 187));
    assert_eq!(table.lying().stands, Stands::OnEnd);
    assert_eq!(quarters(table.lying()), (120, 240, 136));
    // A square top of 30 in is never turned: 90 ÷ 2.8284 is 31.82, more than its own 30.
    assert_eq!(sides("30", "30", "20").upright().turn.quarters, 120);
    // A low bench, 20 × 12 × 60 in tall on its back: 12 stands up, the flat sides are 20 and 60.
    assert_eq!(sides("60", "12", "20").lying().stands, Stands::OnEnd);
    // Centimetres are rounded up by themselves: 20 in are 50.8 cm, 48 in 121.92, 28.28 in 71.84.
    let upright = dresser.upright();
    let cm = (upright.wide.centimetres, upright.high.centimetres, upright.turn.centimetres);
    assert_eq!(cm, (51, 122, 72));
    // A quarter that is met exactly stays, and the least more goes up.
    assert_eq!(sides("20 1/4", "20 1/4", "30").upright().wide.quarters, 81);
    assert_eq!(sides("20 1/16", "20 1/16", "30").upright().wide.quarters, 81);
    assert_eq!(sides("20 5/16", "20 5/16", "30").upright().wide.quarters, 82);
}

#[test]
fn a_wardrobe_too_tall_for_a_door_is_told_laid_down() {
    let wardrobe = sized(kind_of("Wardrobe", "wardrobe", "1920"), "48", "24", "84");
    let moving = told("us", &wardrobe).0.moving.join(" ").replace('\u{a0}', " ");
    // Upright 48 + 48 = 96 ÷ 2.8284 is 33.94 in, 86.2 cm; on its side 84 + 48 = 132 ÷ 2.8284 is 46.67.
    assert_eq!(
        moving,
        "Upright it needs a clear doorway of 24 × 84 in (61 × 214 cm), width × height, and a passage \
         of 34 in (87 cm) to turn a corner; on its side, 24 × 48 in (61 × 122 cm) and 46¾ in \
         (119 cm). Allow room for hands."
    );
}

#[test]
fn what_goes_anywhere_is_not_told_and_nothing_without_its_facts() {
    let stool = sized(kind_of("Stool", "stool", "1990"), "16", "16", "18");
    assert!(told("us", &stool).0.moving.is_empty());
    let mut flat = kind_of("Dining table", "dining table", "1990");
    (flat.width, flat.depth) = (length("60"), length("36"));
    assert!(told("us", &flat).0.moving.is_empty(), "no height, no doorway");
}

#[test]
fn what_comes_apart_is_told_as_far_as_its_sizes_are_known() {
    let mut p = sized(kind_of("Wardrobe", "wardrobe", "1920"), "48", "24", "84");
    p.apart = vec![loose("cornice", None, "")];
    let (words, _) = told("us", &p);
    assert!(words.moving.contains(&"The cornice comes off.".to_owned()), "{:?}", words.moving);
    let asked = |words: &dovetally::describe::Words| -> Vec<String> {
        words.lacks.iter().map(|lack| lack.what.clone()).collect()
    };
    assert!(asked(&words).iter().any(|what| what.contains("in every `[[apart]]`")));
    p.apart = vec![loose("cornice", Some(("50 in", "26 in", "6 in")), "")];
    let (words, _) = told("us", &p);
    assert!(asked(&words).iter().any(|what| what.starts_with("`[remains]`")));
    p.apart = vec![loose("cornice", Some(("48", "24", "6")), "")];
    p.remains = Some(LoosePart { height: length("78"), ..loose("", None, "") });
    let (words, findings) = told("us", &p);
    let moving = words.moving.join(" ").replace('\u{a0}', " ");
    // What is left is 48 × 24 × 78 in: upright 24 × 78 and 34; the cornice is no more than that.
    assert!(
        moving.contains(
            "With the cornice off, it needs 24 × 78 in (61 × 199 cm) and 34 in (87 cm); the largest \
             single part is then the rest, 48 × 24 × 78 in (122 × 61 × 198 cm)."
        ),
        "{moving}"
    );
    assert!(findings.iter().all(|finding| finding.code.word() != "apart"));
    assert!(asked(&words).iter().all(|what| !what.contains("apart")));
}

#[test]
fn parts_larger_or_heavier_than_the_whole_are_found() {
    let mut p = sized(kind_of("Wardrobe", "wardrobe", "1920"), "48", "24", "84");
    p.weight = Some(parse_weight("150 lb").unwrap());
    p.remains = Some(LoosePart { height: length("85"), ..loose("", None, "") });
    let messages = |p: &Piece| -> Vec<String> {
        let findings = told("us", p).1.into_iter().filter(|finding| finding.code == "apart");
        findings.map(|finding| finding.message).collect()
    };
    assert_eq!(
        messages(&p),
        [
            "what is left is stated, but not what comes off",
            "the height of what is left is more than that of the whole piece"
        ]
    );
    p.remains = None;
    p.apart = vec![loose("cornice", Some(("90", "24", "6")), "151 lb")];
    assert_eq!(
        messages(&p),
        [
            "the cornice is heavier than the whole piece",
            "the cornice is longer than the whole piece"
        ]
    );
    p.apart = vec![loose("cornice", Some(("84", "24", "6")), "150 lb")];
    assert!(messages(&p).is_empty());
}

#[test]
fn a_weight_is_estimated_only_from_all_its_facts() {
    // 36 × 18 × 30 in are 11.25 cubic feet; red alder is 28.7 lb a cubic foot at 12 % moisture (Wood
    // Handbook, FPL-GTR-282, table 5-3b, by the formula in the table of woods). 12 % of the box weigh
    // 38.745 lb (17.57 kg), 25 % 80.72 lb (36.61 kg).
    let mut p = sized(kind_of("Dresser", "dresser", "1930"), "36", "18", "30");
    p.wood = vec![wood("", "red alder", WoodForm::Solid)];
    let estimate = |p: &Piece| {
        let moving = told("us", p).0.moving;
        moving.into_iter().find(|text| text.contains("estimated")).map(|t| t.replace('\u{a0}', " "))
    };
    assert_eq!(
        estimate(&p).unwrap(),
        "The weight, estimated from size and wood and not scaled, is 35 to 85 lb (17 to 37 kg)."
    );
    let scaled = Piece { weight: Some(parse_weight("60 lb").unwrap()), ..p.clone() };
    assert_eq!(estimate(&scaled), None);
    let unknown = Piece { wood: vec![wood("", "unknown", WoodForm::Solid)], ..p.clone() };
    assert_eq!(estimate(&unknown), None);
    let no_core = Piece { wood: vec![wood("", "walnut", WoodForm::Veneer)], ..p.clone() };
    assert_eq!(estimate(&no_core), None);
    let glazed = with_facts(p.clone(), &[("glass", "unmarked")]);
    assert_eq!(estimate(&glazed), None);
    let top = Material { part: "top".into(), of: here("marble".into()), place: Place::NOWHERE };
    assert_eq!(estimate(&Piece { material: vec![top], ..p.clone() }), None, "a slab of stone");
    let table = Piece { kind: Some(here("table".into())), ..p.clone() };
    assert_eq!(estimate(&table), None, "a table is no case");
    let sizeless = Piece { depth: None, ..p.clone() };
    assert_eq!(estimate(&sizeless), None);
    // A veneer weighs as what it lies on: particleboard is 38 to 48 lb (from memory, trade ranges):
    // 51.3 lb and 135 lb.
    let on_board = Wood { over: Some("particleboard".into()), ..wood("", "oak", WoodForm::Veneer) };
    let veneered = Piece { wood: vec![on_board], ..p };
    assert!(estimate(&veneered).unwrap().contains("50 to 135 lb (23 to 62 kg)"));
}

proptest! {
    #[test]
    fn an_opening_is_never_less_than_what_goes_through(
        width in 1i64..2000, depth in 1i64..2000, height in 1i64..2000, part in 1i64..50,
    ) {
        let of = |n: i64| Length::from_inches(Ratio::new(n, part) + 1);
        let sides = Sides { width: of(width), depth: of(depth), height: of(height) };
        for way in [sides.upright(), sides.lying(), sides.best()] {
            let flat = if way.stands == Stands::Upright { [sides.width, sides.depth] } else { [sides.height, match way.stands {
                Stands::OnBack => sides.width,
                _ => sides.depth,
            }] };
            let (long, short) = (flat[0].max(flat[1]).inches(), flat[0].min(flat[1]).inches());
            let wide = way.wide.inches().inches();
            prop_assert!(wide >= short && wide - short < Ratio::new(1, 4));
            // Wide enough to push round, or to turn: 8 × turn² ≥ (long + 2 × short)², and a quarter of
            // an inch less would be neither.
            let enough = |turn: Ratio<i64>| {
                turn >= long || turn * turn * 8 >= (long + short * 2) * (long + short * 2)
            };
            let turn = way.turn.inches().inches();
            prop_assert!(enough(turn) && !enough(turn - Ratio::new(1, 4)));
            prop_assert!(Ratio::new(way.turn.centimetres * 50, 127) >= short);
        }
    }
}
