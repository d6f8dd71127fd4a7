//! Honest names of woods, changes and parts.

use super::pieces::*;
use dovetally::describe::{families, finish, finishes, kind_of as resolved, wood as row, woods};
use dovetally::model::*;

fn line(entries: Vec<Wood>) -> String {
    let mut p = piece("Table");
    p.wood = entries;
    told("us", &p).0.made_of.unwrap()
}

#[test]
fn wood_is_named_from_form_certainty_part_and_stain() {
    let unsure = |entry: Wood| Wood { sure: false, ..entry };
    let stained = |entry: Wood, stain: &str| Wood { stained: Some(stain.into()), ..entry };
    let over = |entry: Wood, core: &str| Wood { over: Some(core.into()), ..entry };
    use WoodForm::*;
    let cases = [
        (wood("", "white oak", Solid), "Solid white oak."),
        (wood("", "White Oak", Unstated), "White oak."),
        (wood("top", "walnut", Solid), "Top in solid walnut."),
        (wood("drawer sides", "pine", Unstated), "Drawer sides in pine."),
        (unsure(wood("", "elm", Solid)), "Appears to be solid elm."),
        (unsure(wood("legs", "ash", Unstated)), "Legs appear to be ash."),
        (unsure(wood("top", "ash", Unstated)), "Top appears to be ash."),
        (wood("", "unknown", Unstated), "Wood not identified."),
        (wood("back", "unknown", Unstated), "Back in a wood not identified."),
        (over(wood("", "mahogany", Veneer), "pine"), "Mahogany veneer over pine."),
        (wood("", "mahogany", Veneer), "Mahogany veneer over an unidentified core."),
        (stained(wood("", "basswood", Solid), "dark"), "Solid basswood, stained dark."),
        (
            stained(wood("", "basswood", Solid), "dark walnut"),
            "Solid basswood, stained a dark walnut colour.",
        ),
        (wood("back", "birch", Plywood), "Back in birch plywood."),
        (wood("back", "oak", Particleboard), "Back in particleboard."),
        (wood("", "white walnut", Solid), "Solid butternut."),
        (wood("", "white mahogany", Solid), "Solid primavera."),
        (wood("", "swamp mahogany", Unstated), "A wood sold as “swamp mahogany”."),
        (wood("", "American cherry", Solid), "Solid American cherry."),
    ];
    for (entry, says) in cases {
        assert_eq!(line(vec![entry]), says);
    }
}

#[test]
fn every_name_of_every_wood_is_understood_and_printed_honestly() {
    for species in woods() {
        for name in species.aliases.iter().chain([&species.name]) {
            let meant = row(name).unwrap_or_else(|| panic!("{name}"));
            assert!(meant.rows.iter().any(|r| r.name == species.name) && !meant.misleads, "{name}");
        }
        for name in &species.misleading {
            let meant = row(name).unwrap();
            assert!(meant.misleads && meant.printed == species.name, "{name}");
        }
    }
    for family in families() {
        assert_eq!(row(&family.name).unwrap().rows.len(), family.members.len(), "{}", family.name);
    }
}

#[test]
fn changes_read_as_sentences() {
    let mut p = piece("Table");
    use ChangeKind::*;
    let cases = [
        (change("towel rail", Replaced, "ash"), "The towel rail has been replaced, in ash."),
        (
            change("two of the knobs", Replaced, "brass ones"),
            "Two of the knobs have been replaced with brass ones.",
        ),
        (change("felt under the feet", Added, ""), "The felt under the feet is a later addition."),
        (change("castors", Added, ""), "The castors are later additions."),
        (change("glass", Removed, ""), "The glass has been removed."),
        (change("rear feet", Reshaped, ""), "The rear feet have been reshaped."),
        (change("", Replaced, ""), "Some parts have been replaced."),
    ];
    p.change = cases.iter().map(|(change, _)| change.clone()).collect();
    let says: Vec<&str> = cases.iter().map(|(_, says)| *says).collect();
    assert_eq!(told("us", &p).0.not_original, says);
}

#[test]
fn work_is_told_as_done_and_only_once() {
    let mut p = piece("Table");
    p.work = [
        "strip and sand",
        "Re-glue joints",
        "repair of the leg",
        "new runners",
        "photos",
        "sanding",
        "sanding",
    ]
    .map(work)
    .into();
    let says = [
        "stripped and sanded",
        "re-glued the joints",
        "repair of the leg",
        "new runners",
        "sanded",
    ];
    assert_eq!(told("us", &p).0.done, says);
}

#[test]
fn what_was_worked_on_gets_its_article_and_nothing_else_does() {
    let mut p = piece("Table");
    p.work = [
        "wax legs",
        "clean, oil drawer runners",
        "repair two rails",
        "sand smooth",
        "clean thoroughly",
        "strip by hand",
        "fit new hinges",
        "add felt pads",
        "polish and wax top",
        "sand 120, 220",
        "repair Windsor back",
    ]
    .map(work)
    .into();
    let says = [
        "waxed the legs",
        "cleaned, oiled the drawer runners",
        "repaired two rails",
        "sanded smooth",
        "cleaned thoroughly",
        "stripped by hand",
        "fitted new hinges",
        "added felt pads",
        "polished and waxed the top",
        "sanded",
        "repaired Windsor back",
    ];
    assert_eq!(told("us", &p).0.done, says);
}

#[test]
fn a_title_tells_the_kind_by_its_last_word() {
    let kind = |title: &str| resolved(&piece(title)).map(|kind| kind.name.as_str());
    assert_eq!(kind("Desk chair in oak"), Some("desk chair"));
    assert_eq!(kind("Oak chest of drawers"), Some("chest of drawers"));
    assert_eq!(kind("Dresser with mirror"), Some("dresser"));
    assert_eq!(kind("Painted armoire"), Some("wardrobe"));
    assert_eq!(kind("Something odd"), None);
}

#[test]
fn every_name_of_every_finish_is_understood() {
    for row in finishes() {
        for name in &row.names {
            assert_eq!(finish(name).map(|found| &found.name), Some(&row.name), "{name}");
        }
    }
    assert_eq!(
        finish("Satin water-based polyurethane, quick").unwrap().name,
        "water-based polyurethane"
    );
    assert!(finish("moon dust").is_none());
}

#[test]
fn every_kind_is_known_by_each_of_its_names() {
    let names = kinds().iter().flat_map(|kind| {
        kind.aliases.iter().chain([&kind.name, &kind.plural]).map(move |name| (name, kind))
    });
    let mut seen = 0;
    for (name, kind) in names {
        let found = resolved(&Piece { kind: Some(here(name.clone())), ..piece("It") });
        assert_eq!(found.map(|found| &found.name), Some(&kind.name), "{name}");
        seen += 1;
    }
    assert!(seen >= 120, "{seen} names");
    assert!(kinds().iter().all(|kind| !kind.source.is_empty()));
}

#[test]
fn work_that_was_not_done_is_not_told() {
    let asks = |task: &str| {
        let mut p = kind_of("Table", "table", "1990");
        p.work = vec![work(task)];
        ids(&p).contains(&"wood-dust".to_owned())
    };
    assert!(asks("sand the top") && !asks("nothing sanded") && !asks("oil, without sanding"));
    let mut lamp = kind_of("Lamp", "lamp", "1990");
    lamp.work = vec![work("Wire")];
    assert_eq!(told("us", &lamp).0.done, ["wired"]);
    lamp.work = vec![work("Hinges")];
    assert!(told("us", &lamp).0.done.is_empty());
    assert!(ids(&lamp).contains(&"wiring-unstated".to_owned()));
}

#[test]
fn all_of_a_piece_is_no_part_of_it() {
    let mut p = kind_of("Table", "table", "1990");
    p.wood = vec![wood("all", "white oak", WoodForm::Solid)];
    assert_eq!(told("us", &p).0.opening.unwrap(), "A table in solid white oak, made in 1990.");
}

#[test]
fn a_piece_is_called_by_the_owners_own_word_for_its_kind() {
    let opening = |title: &str, kind: Option<&str>| {
        let mut p = piece(title);
        p.kind = kind.map(|kind| here(kind.into()));
        p.made = here(Made::Year(1970));
        told("us", &p).0.opening.unwrap().replace('\u{a0}', " ")
    };
    for (title, kind, said) in [
        ("Brass bar cart", None, "A bar cart, made in 1970."),
        ("Oak thing", Some("bar cart"), "A bar cart, made in 1970."),
        ("Windsor chair in ash", None, "A Windsor chair, made in 1970."),
        ("Two-door wardrobe", None, "A wardrobe, made in 1970."),
        ("Desk with mirror", None, "A desk, made in 1970."),
    ] {
        assert_eq!(opening(title, kind), said);
    }
}
