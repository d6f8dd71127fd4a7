//! Every folder of `tests/cases` read, and what is said about it compared with its `expected.txt`.
//! `ACCEPT=1 cargo test` writes what is said now; read it as its owner first.

use super::folder::page;
use dovetally::read::{Reading, read};
use std::fs;
use std::path::{Path, PathBuf};

pub fn cases() -> Vec<PathBuf> {
    let folder = Path::new(env!("CARGO_MANIFEST_DIR")).join("tests/cases");
    let entries = fs::read_dir(folder).unwrap();
    let mut cases: Vec<PathBuf> = entries.map(|entry| entry.unwrap().path()).collect();
    cases.sort();
    cases
}

pub fn case_named(name: &str) -> Reading {
    case(&Path::new(env!("CARGO_MANIFEST_DIR")).join("tests/cases").join(name))
}

fn case(folder: &Path) -> Reading {
    read(folder).unwrap()
}

#[test]
fn every_case_says_what_is_expected() {
    let mut differ = Vec::new();
    for case in cases() {
        let now = page(&self::case(&case)).replace(case.to_str().unwrap(), "SHOP");
        let path = case.join("expected.txt");
        if std::env::var_os("ACCEPT").is_some() {
            fs::write(&path, &now).unwrap();
        }
        let then = fs::read(&path).map(|bytes| String::from_utf8(bytes).unwrap());
        if then.unwrap_or_default() != now {
            differ.push(format!("{} says now (ACCEPT=1 accepts it):\n{now}", case.display()));
        }
    }
    assert!(differ.is_empty(), "{}", differ.join("\n"));
}

/// A hint can be typed; a message is a sentence without a full stop; a place is inside its file.
#[test]
fn every_finding_is_whole() {
    for path in cases() {
        let reading = case(&path);
        for finding in &reading.findings {
            assert!(finding.hint.is_some(), "{}: {finding:?}", path.display());
            assert!(!finding.message.ends_with('.'), "{finding:?}");
            if let Some(source) = reading.sources.get(finding.place.file) {
                assert!(finding.place.end as usize <= source.text.len(), "{finding:?}");
                assert!(finding.place.start <= finding.place.end, "{finding:?}");
            }
        }
    }
}
