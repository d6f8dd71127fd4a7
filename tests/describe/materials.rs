//! What is said of parts that are not of wood.

use super::pieces::{here, kind_of, told};
use dovetally::model::{Material, Piece, Place, Severity};

fn of(part: &str, of: &str) -> Material {
    Material { part: part.into(), of: here(of.into()), place: Place::NOWHERE }
}

fn made_of(piece: Piece, material: Vec<Material>) -> Piece {
    Piece { material, ..piece }
}

#[test]
fn a_part_of_another_material_is_named_and_its_care_told() {
    let chair = kind_of("Side chair", "chair", "1900");
    for (part, what, care) in [
        ("seat", "cane", "Dust the woven parts"),
        ("seat", "Danish cord", "Dust the paper cord"),
        ("seat", "leather", "Dust the leather"),
        ("back", "velvet", "Vacuum the cloth"),
        ("top", "marble", "Wipe a spill off the stone"),
        ("base", "cast iron", "Keep the iron and steel dry"),
        ("handles", "brass", "Rub the brass"),
        ("top", "laminate", "Wipe the laminate"),
        ("back", "wicker", "Dust the woven parts"),
    ] {
        let (words, findings) = told("us", &made_of(chair.clone(), vec![of(part, what)]));
        let made = words.made_of.unwrap();
        assert!(
            made.to_lowercase().ends_with(&format!("{part} in {}.", what.to_lowercase())),
            "{made}"
        );
        assert_eq!(words.made_of_label, "Made of");
        assert!(words.care.care.iter().any(|line| line.starts_with(care)), "{what}");
        assert!(!findings.iter().any(|f| f.code == "unknown-material"), "{what}");
    }
    let (words, _) = told("us", &chair);
    assert!(words.care.care.iter().all(|line| !line.contains("woven")));
}

#[test]
fn what_has_no_wood_and_no_coat_is_given_no_care_of_a_finish() {
    let lamp = made_of(kind_of("Brass lamp", "lamp", "1930"), vec![of("", "brass")]);
    let (words, _) = told("us", &lamp);
    assert_eq!(words.made_of.as_deref(), Some("Brass."));
    assert_eq!(words.care.finish, None);
    let [only] = words.care.care.as_slice() else { panic!("{:?}", words.care.care) };
    assert!(only.starts_with("Rub the brass"));
    assert!(words.care.never.is_empty() && words.care.renewal.is_empty());
    let lacks: Vec<&str> = words.lacks.iter().map(|lack| lack.what.as_str()).collect();
    assert!(!lacks.iter().any(|what| what.contains("[[coat]]")), "{lacks:?}");
}

#[test]
fn a_material_the_table_has_not_is_said() {
    let said = |what: &str| {
        let (_, findings) =
            told("us", &made_of(kind_of("Desk", "desk", "1900"), vec![of("top", what)]));
        findings.into_iter().find(|f| f.code == "unknown-material").unwrap()
    };
    assert_eq!(said("marbel").severity, Severity::Warning);
    assert_eq!(said("marbel").hint.as_deref(), Some("`of = \"marble\"`?"));
    assert_eq!(said("horsehair").severity, Severity::Advice);
}

/// What is printed of a material is held to the same words as all else, and is told of the piece.
#[test]
fn a_material_promises_nothing_and_may_be_of_an_animal() {
    let desk = || kind_of("Desk", "desk", "1900");
    let (_, findings) = told("us", &made_of(desk(), vec![of("top", "waterproof cloth")]));
    assert!(findings.iter().any(|f| f.code == "banned-word"), "{findings:?}");
    let (words, _) = told("us", &made_of(desk(), vec![of("knobs", "ivory")]));
    assert!(words.held() && words.cautions.iter().any(|c| c.id == "animal-parts-said"));
}

/// A word brings only the care of what it is.
#[test]
fn care_names_what_is_there() {
    for what in ["linoleum", "bronze", "plastic", "zinc"] {
        let (words, _) =
            told("us", &made_of(kind_of("Desk", "desk", "1900"), vec![of("top", what)]));
        assert_eq!(words.care.care.len(), 0, "{what}: {:?}", words.care.care);
    }
}
