//! What brings a caution and what keeps it away, worked from the rule and not from its row; and what
//! of its source a buyer may read.

use super::pieces::*;
use dovetally::describe::{Caution, Seen, Strength, card_lines, caution_rows, english, finish};
use dovetally::describe::{finishes, language, sources, sources_line, sources_of, words_in};
use dovetally::model::*;

fn has(country: &str, p: &Piece, id: &str) -> bool {
    told(country, p).0.cautions.iter().any(|caution| caution.id == id)
}

fn us(p: &Piece, id: &str) -> bool {
    has("us", p, id)
}

#[test]
fn lead_in_paint_holds_what_was_made_after_the_ban() {
    // 16 CFR 1303.4: furniture made after 27 February 1978 that bears lead-containing paint is banned.
    let found = |made: &str, facts: &[(&str, &str)]| {
        let p = with_facts(kind_of("Desk", "desk", made), &[("lead-test", "laboratory-positive")]);
        with_facts(p, facts)
    };
    for made in ["1978", "1979", "2005", "unknown"] {
        assert!(us(&found(made, &[]), "lead-banned"), "{made}");
    }
    assert!(!us(&found("1977", &[]), "lead-banned") && us(&found("1977", &[]), "lead-found"));
    assert!(!us(&found("1990", &[("old-paint", "removed")]), "lead-banned"));
    assert!(!has("gb", &found("1990", &[]), "lead-banned"));
    // Surface Coating Materials Regulations as amended by SOR/2022-122: furniture of any age.
    for made in ["1900", "2010", "unknown"] {
        assert!(has("ca", &found(made, &[]), "lead-banned-canada"), "{made}");
    }
    assert!(!has("ca", &found("1900", &[("old-paint", "removed")]), "lead-banned-canada"));
    assert!(!us(&found("1900", &[]), "lead-banned-canada"));
}

#[test]
fn old_paint_on_a_childs_piece_is_asked_about_at_any_age() {
    for made in ["1900", "1995", "2024", "unknown"] {
        let chair = kind_of("Chair", "high chair", made);
        assert!(us(&chair, "lead-child"), "{made}");
        assert!(!us(&with_facts(chair, &[("old-paint", "none")]), "lead-child"), "{made}");
    }
}

#[test]
fn a_latch_that_is_known_is_not_called_unknown() {
    let chest = |latch: &str| {
        let p = with_facts(kind_of("Chest", "blanket chest", "1950"), &[("latch", latch)]);
        told("us", &p).0.cautions.into_iter().find(|c| c.id.starts_with("latch")).unwrap()
    };
    let (locks, unknown) = (chest("self-latching"), chest("unknown"));
    assert!(locks.text.contains("locks by itself") && !locks.text.contains("not recorded"));
    assert!(unknown.text.contains("not recorded"));
    assert_eq!((locks.strength, unknown.strength), (Strength::Hold, Strength::Hold));
}

#[test]
fn a_bed_for_a_baby_is_held_by_law_or_by_the_shops_own_rule() {
    // 16 CFR 1219, 1220 (cribs, resale) and 1218 (cradles); Health Canada on second-hand products.
    let cradle = kind_of("Cradle", "cradle", "1890");
    for (country, id) in [("us", "crib"), ("ca", "crib-canada"), ("gb", "crib-elsewhere")] {
        let words = told(country, &cradle).0;
        let held: Vec<&Caution> =
            words.cautions.iter().filter(|c| c.id.starts_with("crib")).collect();
        assert_eq!(held.len(), 1, "{country}");
        assert_eq!((held[0].id.as_str(), held[0].strength), (id, Strength::Hold));
        assert_eq!(held[0].text.contains("The shop does not sell"), country == "gb");
    }
}

#[test]
fn ivory_tortoiseshell_and_horn_are_held_until_stated() {
    let mut p = kind_of("Writing box", "desk", "1840");
    assert!(!us(&p, "animal-parts-said"));
    for said in ["ivory escutcheons", "tortoiseshell veneer lifting", "Rhinoceros horn knobs"] {
        p.flaw = vec![flaw(said)];
        assert!(us(&p, "animal-parts-said"), "{said}");
    }
    let colour = Piece { flaw: vec![], coat: vec![coat("", "ivory paint", 2, "")], ..p.clone() };
    assert!(!us(&colour, "animal-parts-said"), "a colour of paint");
    let none = with_facts(p.clone(), &[("animal-parts", "none")]);
    assert!(told("us", &none).0.cautions.iter().all(|c| !c.id.starts_with("animal-parts")));
    // 50 CFR 17.40(e) in the United States, the Ivory Act 2018 in the United Kingdom.
    let present = with_facts(p.clone(), &[("animal-parts", "present")]);
    for (country, id) in
        [("us", "animal-parts-us"), ("gb", "animal-parts-uk"), ("fr", "animal-parts-elsewhere")]
    {
        assert!(has(country, &present, id) && told(country, &present).0.held(), "{country}");
    }
    let documented = with_facts(p, &[("animal-parts", "documented")]);
    assert!(us(&documented, "animal-parts-documented") && !told("us", &documented).0.held());
}

#[test]
fn kinds_with_dangers_of_their_own_are_asked_about() {
    // CPSC document 5072 and its document on entrapment, which names ice boxes.
    let ice_box = kind_of("Oak ice box", "ice box", "1910");
    assert!(us(&ice_box, "airtight"));
    assert!(!us(&with_facts(ice_box, &[("latch", "removed")]), "airtight"));
    // 16 CFR 1213.3: guard rails on both sides of the upper bunk.
    let bunk = kind_of("Bunk bed", "bunk bed", "1985");
    assert!(us(&bunk, "bunk-rails") && us(&bunk, "bunk-rule") && has("gb", &bunk, "bunk-rails"));
    assert!(us(&with_facts(bunk.clone(), &[("guard-rails", "one-side")]), "bunk-rails"));
    assert!(!us(&with_facts(bunk, &[("guard-rails", "both-sides")]), "bunk-rails"));
    let mirror = |weight: &str| Piece {
        weight: Some(parse_weight(weight).unwrap()),
        ..kind_of("Mirror", "mirror", "1950")
    };
    assert!(us(&mirror("20 lb"), "mirror-hanging") && !us(&mirror("19 lb"), "mirror-hanging"));
    assert!(us(&mirror("50 lb"), "lifting") && !us(&mirror("49 lb"), "lifting"));
}

#[test]
fn what_is_stated_of_damp_insects_pads_and_dials_is_told() {
    let with = |made: &str, facts: &[(&str, &str)]| {
        with_facts(kind_of("Armchair", "armchair", made), facts)
    };
    for (key, value, id) in [
        ("mould", "present", "mould-found"),
        ("mould", "cleaned", "mould-cleaned"),
        ("flooded", "yes", "flooded"),
        ("bed-bugs", "found", "bed-bugs-found"),
        ("bed-bugs", "treated", "bed-bugs-treated"),
        ("heat-pad", "old", "asbestos"),
        ("luminous-dial", "present", "radium"),
    ] {
        assert!(us(&with("1950", &[(key, value)]), id), "{id}");
        assert!(!us(&with("1950", &[]), id), "{id} needs to be stated");
    }
    assert!(us(
        &with("1950", &[("flooded", "yes"), ("upholstery", "as-found")]),
        "flooded-padding"
    ));
    assert!(!us(
        &with("1950", &[("flooded", "yes"), ("upholstery", "renewed")]),
        "flooded-padding"
    ));
    assert!(us(&with("1950", &[("upholstery", "as-found")]), "bed-bugs-look"));
    assert!(!us(&with("1995", &[("heat-pad", "old")]), "asbestos"));
    let holes = told("us", &with("1900", &[("insect-holes", "unknown")])).0;
    let holes = holes.cautions.iter().find(|c| c.id == "insects-unknown").unwrap();
    assert!(holes.text.contains("winter proves nothing"));
}

#[test]
fn what_was_used_asks_the_shop_for_care() {
    let used = |task: &str| Piece { work: vec![work(task)], ..kind_of("Table", "table", "1990") };
    for (task, id) in [
        ("spray lacquer", "spraying"),
        ("top coat: two-part polyurethane", "isocyanates"),
        ("dip in caustic soda", "lye"),
        ("two-part wood bleach", "bleach"),
        ("oxalic acid on the ring", "oxalic-acid"),
        ("methylene chloride", "stripper-methylene"),
    ] {
        assert!(us(&used(task), id), "{task}");
        assert!(!us(&used("wax"), id), "{id}");
    }
    // 84 FR 11420 and 40 CFR 751.
    let words = told("us", &used("dichloromethane")).0;
    let note = words.cautions.iter().find(|c| c.id == "stripper-methylene").unwrap();
    for day in ["22 November 2019", "5 May 2025", "28 April 2026", "8 May 2029"] {
        assert!(note.text.contains(day), "{day}");
    }
}

#[test]
fn renewed_upholstery_meets_its_rule_and_its_state() {
    let renewed = with_facts(kind_of("Chair", "chair", "1990"), &[("upholstery", "renewed")]);
    let held = told("us", &renewed).0;
    let held = held.cautions.iter().find(|c| c.id == "re-covered-record").unwrap();
    // 16 CFR 1640: the rule from 25 June 2021, the label from 25 June 2022.
    assert!(held.text.contains("25 June 2021") && held.text.contains("25 June 2022"));
    for (state, id) in
        [("ca", "flame-retardants-ca"), ("oh", "flame-retardants"), ("", "flame-retardants")]
    {
        let told: Vec<String> =
            told_in(state, &renewed).0.cautions.into_iter().map(|c| c.id).collect();
        let own: Vec<&String> = told.iter().filter(|id| id.starts_with("flame")).collect();
        assert_eq!(own, [id], "{state}");
    }
}

#[test]
fn every_row_rests_on_something_and_what_is_weak_says_what_to_read() {
    for row in caution_rows() {
        assert!(sources_of(&row.sources).next().is_some(), "{} rests on nothing", row.id);
    }
    for source in sources() {
        let weak = matches!(source.seen, Seen::Secondary | Seen::Memory);
        assert!(!weak || source.again.is_some(), "{} does not say what to read", source.id);
    }
}

#[test]
fn a_source_is_found_by_its_day_its_year_or_its_number() {
    let found = |id: &str| sources_of(&[id.to_owned()]).next().unwrap().can_be_found();
    for id in ["cpsc-anchor", "cpsc-lids", "state-oh"] {
        assert!(found(id), "{id}");
    }
    for id in ["shop", "cpsc-units", "cites-list"] {
        assert!(!found(id), "{id}");
    }
}

#[test]
fn advice_without_a_publishers_text_stands_alone_and_sources_stand_once() {
    let mut p = kind_of("Chest", "blanket chest", "1900");
    p = with_facts(
        p,
        &[
            ("latch", "removed"),
            ("lid-support", "none"),
            ("wiring", "untested"),
            ("insect-holes", "fresh-powder"),
            ("lead-test", "swab-negative"),
        ],
    );
    let (words, _) = told("us", &p);
    let printed = || words.cautions.iter().filter(|c| c.strength != Strength::ShopNote);
    let line = sources_line(printed(), english()).unwrap().replace('\u{a0}', " ");
    // The Commission's own page gives 5 March 2014; another site reprinted it on 25 March.
    let warning = "warning on storage and toy chests, 5 March 2014";
    assert_eq!(line.matches(warning).count(), 1, "{line}");
    assert!(line.starts_with("Sources: ") && line.ends_with("."), "{line}");
    for id in ["wiring-untested", "lead-swab"] {
        let caution = printed().find(|c| c.id == id).unwrap();
        assert!(caution.sources.is_empty(), "{id}: {:?}", caution.sources);
    }
    // One text read only in a page about it, or beside one that was: neither is named.
    let seat = with_facts(kind_of("Armchair", "armchair", "1960"), &[("upholstery", "as-found")]);
    let oiled =
        Piece { coat: vec![coat("", "danish oil", 1, "")], ..kind_of("Desk", "desk", "1990") };
    for (country, p, id) in [("gb", seat, "uk-fire-label"), ("us", oiled, "oily-rags-buyer")] {
        let words = told(country, &p).0;
        let caution = words.cautions.iter().find(|c| c.id == id).unwrap();
        assert!(caution.sources.is_empty(), "{id}: {:?}", caution.sources);
    }
    for weak in ["memory", "no source", "a page", "common practice", "own test", "2026"] {
        assert!(!line.contains(weak), "{weak}: {line}");
    }
}

#[test]
fn nothing_a_buyer_reads_speaks_of_how_well_it_is_known() {
    for line in card_lines() {
        for weak in ["from memory", "no source", "a page about", "public repositor", "secondary"] {
            assert!(!line.to_lowercase().contains(weak), "{weak}: {line}");
        }
    }
}

#[test]
fn the_card_names_what_was_put_on() {
    let mut p = kind_of("Dresser", "dresser", "1990");
    p.coat = vec![
        coat("case", "chalk paint", 2, "2025-06-03"),
        Coat {
            sheen: Some("Satin".into()),
            ..coat("case", "water-based polyurethane", 3, "2025-06-05")
        },
        coat("drawer runners", "paste wax", 1, ""),
    ];
    let care = told("us", &p).0.care;
    let said: Vec<String> = care.put_on.iter().map(|line| line.replace('\u{a0}', " ")).collect();
    assert_eq!(
        said,
        [
            "Case: chalk paint (2 coats), then satin water-based polyurethane (3 coats), last coat 5 June 2025.",
            "Drawer runners: paste wax."
        ]
    );
    let about = care.finish.unwrap();
    assert!(
        about.starts_with("It is painted, and what you touch is the coat over the paint."),
        "{about}"
    );
    assert!(about.contains("film"), "{about}");
    p.coat = vec![coat("doors, over the old paint", "paste wax", 1, "")];
    assert!(told("us", &p).0.care.finish.unwrap().contains("It is painted, and"));
    p.coat = vec![coat("case", "chalk paint", 2, "2025-06-03")];
    assert!(!told("us", &p).0.care.finish.unwrap().contains("It is painted, and"));
    let spanish = language("es").unwrap();
    let words = words_in(spanish, &shop("us", vec![p.clone()]), &p, &told("us", &p).0);
    assert!(words.care.put_on[0].contains("chalk paint (2 manos), última mano el"));
}

#[test]
fn renewal_names_the_product_that_was_put_on() {
    for (product, said) in [
        ("Danish oil", "wipe on a thin coat of Danish oil and"),
        ("hard wax oil", "wipe on a thin coat of hard wax oil and"),
        ("latex paint", "touched up with latex paint."),
    ] {
        let mut p = kind_of("Table", "table", "1990");
        p.coat = vec![coat("top", product, 2, "2025-06-03")];
        let renewal = told("us", &p).0.care.renewal.join(" ");
        assert!(renewal.contains(said), "{renewal}");
    }
    for finish in finishes() {
        for line in &finish.renewal {
            assert!(!line.contains("the same kind") && !line.contains("matching"), "{line}");
        }
    }
}

#[test]
fn an_oil_that_never_hardens_is_told_from_one_that_does() {
    for name in ["furniture oil", "lemon oil"] {
        assert!(finish(name).unwrap().is("non-drying-oil"), "{name}");
    }
    assert!(finish("danish oil").unwrap().is("drying-oil"));
    let over = |lower: &str, upper: &str, days: (&str, &str)| {
        let mut p = kind_of("Table", "table", "1990");
        p.coat = vec![coat("top", lower, 1, days.0), coat("top", upper, 1, days.1)];
        codes(&p).contains(&"layers")
    };
    assert!(over("mineral oil", "lacquer", ("2024-01-01", "2025-01-01")));
    assert!(over("danish oil", "acrylic paint", ("2025-01-01", "2025-01-07")));
    assert!(!over("danish oil", "acrylic paint", ("2025-01-01", "2025-01-08")));
}

#[test]
fn woods_that_are_confused_are_told_apart() {
    let names = |word: &str| -> Vec<String> {
        let meant = dovetally::describe::wood(word).unwrap_or_else(|| panic!("{word}"));
        meant.rows.iter().map(|row| row.botanical.clone()).collect()
    };
    assert_eq!(names("Cuban mahogany"), ["Swietenia mahagoni"]);
    assert_eq!(names("kingwood"), ["Dalbergia cearensis"]);
    assert_eq!(names("tulipwood"), ["Liriodendron tulipifera", "Dalbergia decipularis"]);
    let listed = |word: &str| {
        dovetally::describe::wood(word).unwrap().rows[0]
            .traits
            .iter()
            .any(|t| t.starts_with("cites"))
    };
    assert!(listed("primavera") && listed("kingwood") && !listed("Parana pine"));
}

#[test]
fn a_mirror_or_glass_told_of_anywhere_is_asked_about() {
    let plain = || kind_of("Dresser", "dresser", "1890");
    assert!(!us(&plain(), "mirror-mercury") && !us(&plain(), "glass"));
    let titled = Piece { title: here("Dresser with swing mirror".into()), ..plain() };
    assert!(us(&titled, "mirror-mercury"));
    assert!(us(
        &Piece { flaw: vec![flaw("the mirror has lost some silver")], ..plain() },
        "mirror-mercury"
    ));
    assert!(us(&Piece { work: vec![work("resilver")], ..plain() }, "mirror-mercury"));
    assert!(!us(&with_facts(titled, &[("mirror", "none")]), "mirror-mercury"));
    assert!(us(&Piece { work: vec![work("reglaze both doors")], ..plain() }, "glass"));
    assert!(us(&Piece { title: here("Dresser with glass doors".into()), ..plain() }, "glass"));
}
