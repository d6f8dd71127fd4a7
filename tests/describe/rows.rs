//! Every row of the cautions table: reached, kept away by a stated fact, and reached again when
//! that fact is not known. The cases are made from the rows, so a new row is tested by itself.

use super::pieces::*;
use dovetally::describe::{CautionRow, Strength, When, caution_rows, finishes, woods};
use dovetally::model::*;

fn decided(row: &CautionRow, piece: &Piece) -> bool {
    let elsewhere = if row.except.contains(&"us".to_owned()) { "nz" } else { "us" };
    let country = row.countries.first().map_or(elsewhere, String::as_str);
    // A row that leaves states out is tried in one it does not name.
    let by_state = !row.states.is_empty() || !row.except_states.is_empty();
    let state = row.states.first().map_or("zz", String::as_str);
    let (words, _) = if by_state { told_in(state, piece) } else { told(country, piece) };
    words.cautions.iter().any(|caution| caution.id == row.id)
}

/// A piece that meets every condition of a row by what is stated.
fn meets(when: &When) -> Piece {
    let with_trait = |kind: &&Kind| when.kind_trait.iter().any(|name| kind.is(name));
    let mut p = piece("Thing");
    p.kind = kinds().iter().find(with_trait).map(|kind| here(kind.name.clone()));
    if when.kind_known == Some(true) {
        p.kind = Some(here("desk".into()));
    }
    let year = match (when.made_before, when.made_after) {
        (Some(before), None) => Some(before - 1),
        (_, Some(after)) => Some(after + 1),
        (None, None) => None,
    };
    p.made = here(year.map_or(Made::Unknown, Made::Year));
    if let Some(height) = when.height_at_least {
        p = sized(p, "40 in", "24 in", "48 in");
        p.height = Some(here(height.max(p.height.as_ref().unwrap().value)));
        p.weight = when.weight_at_least;
    }
    for (key, values) in &when.fact {
        if let Some(value) = values.iter().find(|value| !value.is_empty()) {
            p.safety.insert(key.clone(), here(value.clone()));
        }
    }
    p.work.extend(when.task.first().map(|task| work(task)));
    p.work.extend(when.mentions.first().map(|word| work(word)));
    p.flaw.extend(when.words.first().map(|word| flaw(word)));
    p.weight = p.weight.or(when.weight_stated_at_least);
    let with = |name: &String| finishes().iter().find(|finish| finish.is(name)).unwrap();
    for name in when.coat_trait.first().iter().chain(&when.care_trait.first()) {
        p.coat.push(coat("", &with(name).names[0], 1, "2025-01-01"));
    }
    p.change
        .extend(when.change_with.first().map(|with| change("back", ChangeKind::Replaced, with)));
    if let Some(name) = when.wood_trait.first() {
        let species = woods().iter().find(|row| row.traits.contains(name)).unwrap();
        p.wood.push(wood("", &species.name, WoodForm::Solid));
    }
    if when.wood_form.contains(&"veneer".to_owned()) {
        p.wood.push(wood("", "oak", WoodForm::Veneer));
    }
    p.material.extend(when.material.first().map(|of| Material {
        part: String::new(),
        of: here(of.clone()),
        place: Place::NOWHERE,
    }));
    p.upholstered_on = when.upholstered_since.map(here);
    p
}

#[test]
fn every_row_of_conditions_is_met_by_what_is_stated() {
    for row in caution_rows() {
        for when in &row.when {
            assert!(decided(row, &meets(when)), "{}: {when:?}", row.id);
        }
    }
}

#[test]
fn a_safe_fact_keeps_a_caution_away_and_an_unknown_one_brings_it_back() {
    for row in caution_rows() {
        for when in &row.when {
            for (key, values) in &when.fact {
                let met = meets(when);
                let kept_away = |value: &&String| {
                    let mut p = met.clone();
                    p.safety.insert(key.clone(), here((*value).clone()));
                    !decided(row, &p)
                };
                let away = fact(key).unwrap().values.iter().filter(kept_away).count();
                assert!(away > 0, "{}: no value of {key} keeps it away", row.id);
                let mut unknown = met.clone();
                unknown.safety.remove(key);
                if values.contains(&String::new()) {
                    assert!(decided(row, &unknown), "{}: {key} not stated", row.id);
                }
            }
        }
    }
}

#[test]
fn ages_and_sizes_keep_cautions_away_only_when_they_are_known() {
    for row in caution_rows() {
        for when in &row.when {
            let met = meets(when);
            let mut changed = Vec::new();
            let mut unknown = met.clone();
            unknown.made = here(Made::Unknown);
            if let Some(before) = when.made_before {
                changed.push(Piece { made: here(Made::Year(before.max(2025))), ..met.clone() });
            }
            if let Some(after) = when.made_after {
                changed.push(Piece { made: here(Made::Year(after)), ..met.clone() });
            }
            if when.height_at_least.is_some() {
                changed.push(Piece { height: length("26 7/8 in"), ..met.clone() });
                unknown.height = None;
            }
            if when.weight_at_least.is_some() {
                changed.push(Piece { weight: Some(parse_weight("29 lb").unwrap()), ..met.clone() });
                unknown.weight = None;
            }
            if when.upholstered_since.is_some() {
                changed
                    .push(Piece { upholstered_on: Some(here(day("2021-06-24"))), ..met.clone() });
                unknown.upholstered_on = None;
            }
            for piece in changed {
                assert!(!decided(row, &piece), "{}: {when:?}", row.id);
            }
            assert!(decided(row, &unknown), "{}: unknown age and size", row.id);
        }
    }
}

#[test]
fn every_value_that_lifts_a_hold_lifts_it() {
    for row in caution_rows().iter().filter(|row| row.strength == Strength::Hold) {
        let key = row.state.as_ref().expect("a hold says what to state");
        assert!(!row.safe.is_empty(), "{}", row.id);
        for when in &row.when {
            for value in &row.safe {
                let mut p = meets(when);
                p.safety.insert(key.clone(), here(value.clone()));
                assert!(fact(key).unwrap().values.contains(value), "{}: {value}", row.id);
                assert!(!decided(row, &p), "{}: {value} does not lift it", row.id);
            }
        }
    }
}

#[test]
fn every_fact_a_row_asks_for_is_in_the_facts_table() {
    for row in caution_rows() {
        for (key, values) in row.when.iter().flat_map(|when| &when.fact) {
            let known = &fact(key).unwrap_or_else(|| panic!("{}: {key}", row.id)).values;
            assert!(values.iter().all(|v| v.is_empty() || known.contains(v)), "{}: {key}", row.id);
        }
        for name in row.when.iter().flat_map(|when| &when.kind_trait) {
            assert!(kinds().iter().any(|kind| kind.is(name)), "{}: {name}", row.id);
        }
    }
}

#[test]
fn rows_of_one_country_stay_in_it() {
    for row in caution_rows().iter().filter(|row| !row.countries.is_empty()) {
        for when in &row.when {
            let words = told("nz", &meets(when)).0;
            assert!(words.cautions.iter().all(|caution| caution.id != row.id), "{}", row.id);
        }
    }
}

#[test]
fn a_hold_stops_the_papers_for_buyers_and_names_the_key() {
    let p = kind_of("Blanket chest", "blanket chest", "1960");
    let (words, findings) = told("us", &p);
    assert!(words.held());
    let held = findings.iter().find(|finding| finding.code == "held").unwrap();
    assert_eq!(held.severity, Severity::Warning);
    assert!(held.hint.as_ref().unwrap().contains("`latch` in `[safety]`: `none`, "));
    assert!(held.message.contains("kind is blanket chest and latch is not stated"));
    let stated = with_facts(p, &[("latch", "none")]);
    assert!(!told("us", &stated).0.held());
}

#[test]
fn old_paint_is_asked_about_only_where_an_old_surface_was_worked_on() {
    let lead = |p: &Piece| ids(p).iter().any(|id| id.starts_with("lead-paint"));
    let mut p = kind_of("Oak desk", "desk", "about 1910");
    p.coat = vec![coat("", "paste wax", 1, "2025-01-01")];
    assert!(!lead(&p), "waxed, nothing says paint");
    p.work = vec![work("sand the top")];
    assert!(lead(&p), "sanded, and paint is not spoken of");
    assert!(!lead(&with_facts(p.clone(), &[("old-paint", "none")])));
    p.made = here(Made::Year(1990));
    assert!(!lead(&p), "after the rule");
    let mut painted = kind_of("Desk", "desk", "2001");
    painted.coat = vec![coat("", "acrylic paint", 2, "2025-01-01")];
    assert!(!lead(&painted), "the owner's own paint is not old paint");
}
