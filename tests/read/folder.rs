//! Shop folders written for one test, and findings as text.

use dovetally::model::{Finding, Place, Severity, Sources};
use dovetally::read::{Reading, read};
use std::fmt::Write;
use std::fs;
use std::path::Path;
use tempfile::TempDir;

pub const SHOP: (&str, &str) = ("shop.toml", "name = \"Quayside Furniture\"\n");

/// A folder that holds these files and goes with the test.
pub fn folder(files: &[(&str, &str)]) -> TempDir {
    let folder = tempfile::tempdir().unwrap();
    for (path, text) in files {
        write(folder.path(), path, text.as_bytes());
    }
    folder
}

pub fn write(folder: &Path, path: &str, bytes: &[u8]) {
    let path = folder.join(path);
    fs::create_dir_all(path.parent().unwrap()).unwrap();
    fs::write(path, bytes).unwrap();
}

/// What is read of these files.
pub fn reading(files: &[(&str, &str)]) -> Reading {
    read(folder(files).path()).unwrap()
}

pub fn codes(reading: &Reading) -> Vec<&'static str> {
    reading.findings.iter().map(|finding| finding.code.word()).collect()
}

/// Every finding as a line with what belongs to it below, then what of the shop stands.
pub fn page(reading: &Reading) -> String {
    let mut page: String = reading.findings.iter().map(|f| told(f, &reading.sources)).collect();
    let Some(shop) = &reading.shop else { return page + "no shop\n" };
    for piece in &shop.pieces {
        writeln!(page, "piece {}", piece.name()).unwrap();
    }
    for year in shop.years.keys() {
        writeln!(page, "book {year}").unwrap();
    }
    for broken in &shop.broken {
        let since = broken.since.map_or("unknown".to_owned(), |day| day.to_string());
        writeln!(page, "broken {} since {since}", broken.path).unwrap();
    }
    page
}

fn told(finding: &Finding, sources: &Sources) -> String {
    let severity = match finding.severity {
        Severity::Error => "error",
        Severity::Warning => "warning",
        Severity::Advice => "advice",
    };
    let at = |place: Place| sources.name(place).unwrap_or_else(|| "(no place)".to_owned());
    let mut told =
        format!("{severity} {} {} {}\n", finding.code.word(), at(finding.place), finding.message);
    if !finding.label.is_empty() {
        writeln!(told, "    label: {}", finding.label).unwrap();
    }
    if let Some((place, label)) = &finding.second {
        writeln!(told, "    second: {} {label}", at(*place)).unwrap();
    }
    if let Some(hint) = &finding.hint {
        writeln!(told, "    hint: {hint}").unwrap();
    }
    told
}
