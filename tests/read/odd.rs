//! What is odd is asked about once, and an owner who is sure is not asked again.

use super::cases::case_named;
use dovetally::read::odd_rules;
use std::collections::BTreeMap;

/// Every rule of the table is asked about in the case `odd`, and every piece whose folder ends in
/// `-sure` has the same oddities as another and is not asked about them.
#[test]
fn every_rule_asks_and_a_confirmed_entry_is_not_asked_about() {
    let reading = case_named("odd");
    let mut asked: BTreeMap<&str, Vec<String>> = BTreeMap::new();
    for finding in &reading.findings {
        let place = reading.sources.name(finding.place).unwrap();
        asked.entry(finding.code.word()).or_default().push(place);
    }
    for rule in odd_rules() {
        let places = asked.get(rule.code.word());
        let places = places.unwrap_or_else(|| panic!("no case is odd as {} says", rule.code));
        let sure: Vec<&String> = places.iter().filter(|place| place.contains("-sure/")).collect();
        assert!(sure.is_empty(), "{}: {sure:?}", rule.code);
        assert!(!rule.why.is_empty() && !rule.unit.is_empty() && !rule.key.is_empty());
    }
}

#[test]
fn a_rate_of_the_shop_is_confirmed_at_the_top_of_its_file() {
    let asked = |top: &str| {
        let shop = crate::folders::Folder::shop(&format!("shop-rate = 3200\n{top}")).written();
        shop.run(&["check"]).err.contains("[shop-rate-high]")
    };
    assert!(asked("") && !asked("sure = [\"shop-rate\"]"));
}
