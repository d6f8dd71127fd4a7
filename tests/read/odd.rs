//! What is odd is asked about once, and an owner who is sure is not asked again.

use super::cases::case_named;
use super::hints::copy;
use dovetally::model::{Code, Finding};
use dovetally::read::{Reading, odd_rules, read};
use std::collections::BTreeMap;
use std::fs;
use std::path::Path;

/// Every rule of the table is asked about in the case `odd`, and no piece or order whose folder ends
/// in `-sure` is: each has the oddities of another and confirms them.
#[test]
fn every_rule_asks_and_what_is_sure_is_not_asked_about() {
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

fn asked(reading: &Reading, code: Code) -> usize {
    reading.findings.iter().filter(|finding| finding.code == code).count()
}

/// The text with `sure = [KEY]` in the table that a place stands in, or at the top of the file.
fn confirmed(text: &str, at: usize, key: &str, at_the_top: bool) -> String {
    let line = text[..at].rfind('\n').map_or(0, |end| end + 1);
    let inline = text[line..at].find('{').map(|brace| line + brace + 1);
    let head = text[..=at].rfind("\n[").map(|end| end + 1).or(text.starts_with('[').then_some(0));
    let below = head.map_or(0, |head| head + text[head..].find('\n').unwrap() + 1);
    let (from, end) = match (at_the_top, inline) {
        (true, _) => (0, "\n"),
        (false, Some(brace)) => (brace, ","),
        (false, None) => (below, "\n"),
    };
    let table = &text[from..text[from..].find("\n[").map_or(text.len(), |next| from + next)];
    match table.find("sure = [") {
        Some(own) => format!("{}\"{key}\", {}", &text[..from + own + 8], &text[from + own + 8..]),
        None => format!("{}sure = [\"{key}\"]{end}{}", &text[..from], &text[from..]),
    }
}

/// The finding's hint, or else the rule's row, says what is confirmed.
fn confirm(folder: &Path, reading: &Reading, finding: &Finding, key: &str) -> Reading {
    let hint = finding.hint.as_ref().unwrap();
    let key = hint.split("sure = [\"").nth(1).map_or(key, |rest| rest.split('"').next().unwrap());
    let source = reading.sources.get(finding.place.file).unwrap();
    let at = finding.place.start as usize;
    let text = confirmed(&source.text, at, key, hint.contains("at the top of the file"));
    fs::write(folder.join(&source.path), text).unwrap();
    let after = read(folder).unwrap();
    fs::write(folder.join(&source.path), &source.text).unwrap();
    after
}

#[test]
fn whatever_is_asked_about_is_not_asked_once_it_is_confirmed() {
    let folder = tempfile::tempdir().unwrap();
    copy(&Path::new(env!("CARGO_MANIFEST_DIR")).join("tests/cases/odd"), folder.path());
    let reading = read(folder.path()).unwrap();
    for rule in odd_rules() {
        for finding in reading.findings.iter().filter(|finding| finding.code == rule.code) {
            let after = confirm(folder.path(), &reading, finding, &rule.key);
            let left = asked(&reading, rule.code) - 1;
            assert_eq!(asked(&after, rule.code), left, "still asked: {finding:?}");
            assert!(after.findings.len() < reading.findings.len(), "said instead: {finding:?}");
        }
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
