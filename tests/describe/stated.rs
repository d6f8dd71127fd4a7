//! What the shop and the owner state beside the tables: finishes of the shop's own, how a piece works
//! and what it lacks, the order of coats, the rules of a state, and the way from as found to finished.

use super::pieces::*;
use dovetally::describe::{Caution, Strength, Words, caution_rows, describe, finish};
use dovetally::model::*;

fn with_finish(own: OwnFinish, piece: Piece) -> (Words, Vec<Finding>) {
    let mut shop = shop("us", vec![piece]);
    shop.finishes = vec![own];
    let mut described = describe(&shop);
    (described.pieces.remove(0), described.findings)
}

fn oiled() -> Piece {
    let mut p = kind_of("Table", "table", "1990");
    p.coat = vec![coat("top", "bench oil, warmed", 2, "2025-04-01")];
    p
}

#[test]
fn a_finish_of_the_shops_own_gives_its_days_and_its_words() {
    let (words, findings) = with_finish(own_oil(), oiled());
    assert!(findings.iter().all(|finding| finding.code.word() != "unknown-finish"), "{findings:?}");
    let care = &words.care;
    // 1 April + 4 days and + 40 days.
    assert_eq!(care.light_use_from, Some(day("2025-04-05")));
    assert_eq!(care.fully_hard_on, Some(day("2025-05-11")));
    assert_eq!(care.finish.as_deref(), Some("Our own oil, rubbed into the wood."));
    assert_eq!(care.never, ["No standing water."]);
    let like = finish("Danish oil").unwrap();
    assert_eq!(care.spill, like.spill);
    assert!(words.recipe[0].text.contains("next coat: overnight"));
    assert!(words.cautions.iter().any(|c| c.id == "oily-rags-work"), "like an oil that dries");
}

#[test]
fn the_owners_days_on_the_coat_still_go_first() {
    let mut p = oiled();
    p.coat[0].cure_days = Some(50);
    assert_eq!(with_finish(own_oil(), p).0.care.fully_hard_on, Some(day("2025-05-21")));
}

#[test]
fn a_finish_like_nothing_known_is_said_and_gets_the_most_delicate_care() {
    let odd = OwnFinish { like: here("moonlight".into()), ..own_oil() };
    let (words, findings) = with_finish(odd, oiled());
    let found = findings.iter().find(|f| f.code == "unknown-finish").unwrap();
    assert!(found.hint.as_deref().unwrap().contains("`shellac`"), "{found:?}");
    assert!(found.message.contains("moonlight"));
    assert_eq!(words.care.fully_hard_on, Some(day("2025-05-11")), "its own days hold");
    let slip = OwnFinish { like: here("danish oyl".into()), ..own_oil() };
    let (_, findings) = with_finish(slip, oiled());
    let found = findings.iter().find(|f| f.code == "unknown-finish").unwrap();
    assert!(found.hint.as_deref().unwrap().starts_with("`like = \""), "{found:?}");
}

#[test]
fn days_that_cannot_be_are_found() {
    let swapped = OwnFinish { light_use_days: 30, cure_days: 3, ..own_oil() };
    let (_, findings) = with_finish(swapped, oiled());
    assert!(findings.iter().any(|finding| finding.code == "cure-days"));
    let mut p = oiled();
    p.coat.push(coat("top", "paste wax", 1, "2025-03-30"));
    let found = codes(&p);
    assert!(found.contains(&"coat-order"), "{found:?}");
    p.coat[1] = coat("legs", "paste wax", 1, "2025-03-30");
    assert!(!codes(&p).contains(&"coat-order"), "another part");
}

#[test]
fn cold_and_damp_are_said_beside_a_day_and_nowhere_else() {
    // A page on drying times: below 18 °C or above 70 % humidity times stretch up to twofold.
    let (words, _) = with_finish(own_oil(), oiled());
    assert!(words.care.slow.as_deref().unwrap().contains("65\u{a0}°F (18\u{a0}°C)"));
    assert_eq!(told("us", &piece("Table")).0.care.slow, None);
}

#[test]
fn how_it_works_and_what_is_missing_is_printed_as_stated_and_else_asked_for() {
    let said = |function: Function, completeness: Completeness| {
        let mut p = piece("Table");
        p.function = Some(here(function));
        p.completeness = Some(here(completeness));
        p.flaw = vec![flaw("a burn on the top")];
        told("us", &p).0.condition
    };
    assert_eq!(
        said(Function::Works, Completeness::Complete),
        [
            "A burn on the top.",
            "Everything works as it should.",
            "Nothing is missing, as far as is known."
        ]
    );
    assert_eq!(
        said(Function::Fails, Completeness::PartMissing),
        ["Not everything works.", "A part is missing.", "A burn on the top."]
    );
    assert_eq!(
        said(Function::Sticks, Completeness::NotKnown),
        [
            "Not everything moves freely.",
            "A burn on the top.",
            "Whether anything is missing is not known."
        ]
    );
    assert!(said(Function::NotTried, Completeness::Complete)[1].contains("has not been tried"));
    let (words, _) = told("us", &piece("Table"));
    assert!(words.condition.is_empty());
    for key in ["`function`", "`completeness`"] {
        let papers = words.lacks.iter().filter(|lack| lack.what.starts_with(key) && !lack.needed);
        assert_eq!(papers.count(), 2, "{key} is asked for on both papers for buyers");
    }
}

#[test]
fn a_statement_against_a_flaw_and_a_fault_no_flaw_tells_are_found() {
    let mut p = kind_of("Desk", "desk", "1990");
    p.function = Some(here(Function::Works));
    p.completeness = Some(here(Completeness::Complete));
    p.flaw = vec![flaw("the left drawer sticks"), flaw("one knob is missing")];
    assert_eq!(codes(&p), ["contradiction", "contradiction"]);
    p.function = Some(here(Function::Sticks));
    p.completeness = Some(here(Completeness::PartMissing));
    assert!(codes(&p).is_empty(), "{:?}", codes(&p));
    p.flaw.clear();
    assert_eq!(codes(&p), ["fault-not-told", "fault-not-told"]);
}

#[test]
fn the_rule_of_the_shops_state_is_told_to_the_owner_alone() {
    let chair = with_facts(kind_of("Chair", "chair", "1990"), &[("upholstery", "as-found")]);
    let tags = |state: &str| -> Vec<Caution> {
        let cautions = told_in(state, &chair).0.cautions.into_iter();
        cautions.filter(|caution| caution.id.starts_with("upholstery-tags")).collect()
    };
    for (state, id) in [
        ("", "upholstery-tags"),
        ("ct", "upholstery-tags-ct"),
        ("pa", "upholstery-tags-pa"),
        ("oh", "upholstery-tags-oh"),
        ("ny", "upholstery-tags-ny"),
        ("ca", "upholstery-tags-ca"),
        ("me", "upholstery-tags-elsewhere"),
    ] {
        let told = tags(state);
        assert_eq!(told.len(), 1, "{state}");
        assert_eq!(told[0].id, id);
        assert_eq!(told[0].strength, Strength::ShopNote);
    }
    // Ohio Adm. Code 4101:6-1-08: a yellow tag of at least 3 × 5 in, type of at least ¼ in.
    assert!(tags("oh")[0].text.contains("3 by 5 in") && tags("oh")[0].text.contains("¼ in"));
    // NY GBS 389-a: at least 15 square inches.
    assert!(tags("ny")[0].text.contains("15 square inches"));
    assert!(told("gb", &chair).0.cautions.iter().all(|c| !c.id.starts_with("upholstery-tags")));
}

#[test]
fn every_shop_note_has_its_topic_and_defers_to_the_rules_of_the_place() {
    for row in caution_rows() {
        assert_eq!(row.strength == Strength::ShopNote, row.topic.is_some(), "{}", row.id);
    }
    let mut p = kind_of("Table", "table", "1990");
    assert_eq!(told("us", &p).0.notes_tail, None);
    p.work = vec![work("sand")];
    assert!(told("us", &p).0.notes_tail.unwrap().contains("local codes"));
}

#[test]
fn before_and_after_says_only_what_is_stated() {
    assert!(told("us", &piece("Table")).0.before_after.is_empty());
    let mut p = piece("Table");
    p.work = vec![
        work("strip and sand the top"),
        work("re-glue joints of the frame with hide glue"),
        work("fit new castors"),
        work("French polishing"),
        work("rub down 320, 400"),
        work("photographs"),
        work("sand 120, 180"),
    ];
    let told_of = told("us", &p).0.before_after;
    assert_eq!(
        told_of.work,
        [
            "It was stripped, rubbed down and sanded.",
            "The top was sanded, the joints of the frame were re-glued with hide glue and new castors \
             were fitted.",
            "Further work: French polishing.",
        ]
    );
    p.count = 2;
    p.work = vec![Work { on: Some(here(day("2025-03-31"))), ..work("clean") }];
    let days = |p: &Piece| told("us", p).0.before_after.days.map(|d| d.replace('\u{a0}', " "));
    assert_eq!(told("us", &p).0.before_after.work, ["They were cleaned."]);
    assert_eq!(days(&p).unwrap(), "The work was done on 31 March 2025.");
    p.work.push(Work { on: Some(here(day("2025-04-02"))), ..work("wax") });
    assert_eq!(days(&p).unwrap(), "The work was done between 31 March and 2 April 2025.");
    p.work.push(work("oil"));
    assert_eq!(told("us", &p).0.before_after.work, ["They were cleaned, waxed and oiled."]);
    assert_eq!(days(&p), None, "one day is not known");
    p.work.clear();
    p.coat = vec![coat("", "old varnish, as found", 1, "")];
    assert!(told("us", &p).0.before_after.after.is_empty(), "what was found was not put on");
}
