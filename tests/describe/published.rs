//! Published figures, each with its source beside it.

use super::pieces::*;
use chrono::Days;
use dovetally::describe::finishes;
use dovetally::model::*;

#[test]
fn the_scope_of_the_stability_rule() {
    // 16 CFR 1261 by 88 FR 28403: 27 in, 30 lb and 3.2 cubic ft (5,529.6 cubic in), all three.
    let dresser = |w: &str, d: &str, h: &str, lb: &str| {
        let mut p = sized(kind_of("Dresser", "dresser", "1990"), w, d, h);
        p.weight = Some(parse_weight(lb).unwrap());
        ids(&p).contains(&"tip-rule-us".to_owned())
    };
    assert!(dresser("40 in", "20 in", "27 in", "30 lb"));
    assert!(dresser("40 in", "20 in", "686 mm", "13.7 kg"), "27 in is 685.8 mm");
    assert!(!dresser("40 in", "20 in", "26 15/16 in", "30 lb"));
    assert!(!dresser("40 in", "20 in", "27 in", "29.9 lb"));
    assert!(dresser("12 in", "17 1/8 in", "27 in", "30 lb"), "5,548.5 cubic in");
    assert!(!dresser("12 in", "17 in", "27 in", "30 lb"), "5,508 cubic in");
}

#[test]
fn the_years_of_lead_paint() {
    // 16 CFR 1303: furniture made after 27 February 1978, so the year 1978 may be older.
    let lead = |country: &str, made: &str| {
        let p = with_facts(kind_of("Desk", "desk", made), &[("old-paint", "remains")]);
        told(country, &p).0.cautions.iter().any(|caution| caution.id.starts_with("lead-paint"))
    };
    assert!(lead("us", "1978") && !lead("us", "1979") && lead("us", "unknown"));
    // SI 1992/31, in force on 28 February 1992.
    assert!(lead("gb", "1992") && !lead("gb", "1993"));
    // Health Canada, news release 2005-38: 0.5 % of lead was lawful until 19 April 2005.
    assert!(lead("ca", "2005") && !lead("ca", "2006"));
}

#[test]
fn the_days_of_upholstery_and_fire_labels() {
    // 16 CFR 1640: reupholstered on or after 25 June 2021.
    let seat = |on: &str| {
        let mut p =
            with_facts(kind_of("Armchair", "armchair", "1940"), &[("upholstery", "renewed")]);
        p.upholstered_on = Some(here(day(on)));
        p
    };
    let held = |p: &Piece| ids(p).contains(&"re-covered-record".to_owned());
    assert!(held(&seat("2021-06-25")) && !held(&seat("2021-06-24")));
    // Furniture and Furnishings (Fire) (Safety) Regulations 1988: made before 1 January 1950 is out.
    let uk = |made: &str| {
        let p = with_facts(kind_of("Armchair", "armchair", made), &[("upholstery", "as-found")]);
        told("gb", &p).0.cautions.iter().any(|caution| caution.id == "uk-fire-label")
    };
    assert!(uk("1950") && !uk("1949") && uk("unknown"));
}

#[test]
fn antique_means_a_hundred_years_and_mostly_original() {
    // United States customs line of 100 years, and the note of 1993 on restoration (secondary page).
    let chest = |made: &str, changes: Vec<Change>| {
        let mut p = kind_of("Antique desk", "desk", made);
        p.listing = Some(listing("2025-01-01"));
        p.change = changes;
        !codes(&p).contains(&"age-word")
    };
    assert!(chest("1925", vec![]) && !chest("1926", vec![]) && !chest("unknown", vec![]));
    assert!(!chest("about 1920", vec![]), "about 1920 may be 1930");
    let knob = change("knob", ChangeKind::Replaced, "");
    assert!(chest("1900", vec![knob.clone(), knob.clone()]));
    assert!(!chest("1900", vec![knob.clone(), knob.clone(), knob.clone()]));
    assert!(!chest("1900", vec![change("top", ChangeKind::Replaced, "")]));
    assert!(chest("1900", vec![change("top", ChangeKind::Repaired, "")]));
}

#[test]
fn no_clock_is_asked_for_an_age() {
    let p = kind_of("Antique desk", "desk", "1850");
    assert!(
        codes(&p).contains(&"age-word"),
        "no listing, sale or purchase day: no year to count to"
    );
}

#[test]
fn every_finish_gives_its_dates_care_and_words() {
    let last = day("2025-03-11");
    for row in finishes() {
        let mut p = kind_of("Table", "table", "1990");
        p.coat = vec![coat("top", &row.names[0], 2, "2025-03-11")];
        let (words, _) = told("us", &p);
        let expected = row.hardens().then(|| last + Days::new(row.cure_days[1].into()));
        assert_eq!(words.care.fully_hard_on, expected, "{}", row.name);
        assert!(!words.care.care.is_empty() && !words.care.never.is_empty(), "{}", row.name);
        assert!(words.care.finish.unwrap().starts_with(&row.about), "{}", row.name);
        assert!(words.finish.unwrap().to_lowercase().contains(&row.names[0].to_lowercase()));
    }
}

#[test]
fn the_owners_can_overrules_and_the_last_layer_decides() {
    let mut p = kind_of("Table", "table", "1990");
    let own = Coat {
        cure_days: Some(10),
        light_use_days: Some(4),
        ..coat("", "shellac", 2, "2025-03-11")
    };
    p.coat = vec![own.clone()];
    let care = told("us", &p).0.care;
    assert_eq!(
        (care.light_use_from, care.fully_hard_on),
        (Some(day("2025-03-15")), Some(day("2025-03-21")))
    );
    p.coat.push(coat("", "paste wax", 1, "2025-03-20"));
    let waxed = told("us", &p).0.care;
    assert_eq!(waxed.fully_hard_on, Some(day("2025-05-01")));
    assert!(waxed.finish.unwrap().contains("wax"));
    p.coat[1].last = None;
    assert_eq!(told("us", &p).0.care.fully_hard_on, None, "the last coat has no day");
    p.coat = vec![coat("", "moon dust", 1, "2025-03-11")];
    let (words, findings) = told("us", &p);
    assert_eq!(words.care.fully_hard_on, None);
    assert!(words.care.finish.unwrap().contains("not been identified"));
    assert!(findings.iter().any(|finding| finding.code == "unknown-finish"));
}

#[test]
fn layers_that_do_not_hold_are_found() {
    let over = |lower: Coat, upper: Coat| {
        let mut p = kind_of("Table", "table", "1990");
        p.coat = vec![lower, upper];
        codes(&p).contains(&"layers")
    };
    let on = |product: &str, day: &str| coat("top", product, 1, day);
    // From memory, common practice: the rows of the conflict table.
    assert!(over(on("oil stain", "2025-01-01"), on("water-based polyurethane", "2025-01-03")));
    assert!(!over(on("oil stain", "2025-01-01"), on("water-based polyurethane", "2025-01-04")));
    assert!(over(on("oil stain", ""), on("water-based polyurethane", "")), "no day known");
    assert!(over(on("alkyd varnish", ""), on("lacquer", "")));
    assert!(over(on("paste wax", ""), on("shellac", "")));
    assert!(over(on("shellac", ""), on("oil-based polyurethane", "")));
    assert!(!over(on("dewaxed shellac", ""), on("oil-based polyurethane", "")));
    assert!(over(on("lacquer", ""), on("tung oil", "")));
    assert!(!over(on("shellac", ""), coat("legs", "oil-based polyurethane", 1, "")), "other parts");
}

#[test]
fn grits_get_advice() {
    let sanded = |task: &str| {
        let mut p = kind_of("Table", "table", "1990");
        p.work = vec![work(task)];
        codes(&p).contains(&"grit")
    };
    // The usual ladder: a woodworker's page and a spray-equipment seller's page.
    assert!(!sanded("sand 120, 150, 180, 220"));
    assert!(sanded("sand 80, 220"), "a long step");
    assert!(sanded("sand 220, 320"), "fine to begin with");
    assert!(sanded("sand 36, 50, 80"), "coarse to begin with");
    assert!(sanded("sand 150, 220, 320"), "past 220 under a film");
    assert!(!sanded("move 80 boards in 220 minutes"), "no sanding");
}

#[test]
fn facts_that_contradict_each_other_are_found() {
    let mut p = with_facts(kind_of("Wardrobe", "wardrobe", "1990"), &[("cedar-lining", "bare")]);
    p.coat = vec![coat("inside", "alkyd varnish", 1, "")];
    assert!(codes(&p).contains(&"contradiction"));
    let mut solid = kind_of("Solid oak desk", "desk", "1990");
    solid.wood = vec![wood("", "oak", WoodForm::Veneer)];
    assert!(codes(&solid).contains(&"not-solid"));
    let mut stained = kind_of("Walnut desk", "desk", "1990");
    stained.wood =
        vec![Wood { stained: Some("walnut".into()), ..wood("", "basswood", WoodForm::Solid) }];
    assert!(codes(&stained).contains(&"title-wood"));
    stained.wood[0].species = Some(here("black walnut".into()));
    assert!(!codes(&stained).contains(&"title-wood"));
    let slip = kind_of("Desk", "desk", "1990");
    let slip = Piece { wood: vec![wood("", "mahoganny", WoodForm::Solid)], ..slip };
    let unknown = told("us", &slip).1.into_iter().find(|f| f.code == "unknown-wood").unwrap();
    assert_eq!(unknown.hint.as_deref(), Some("`species = \"mahogany\"`?"));
}
