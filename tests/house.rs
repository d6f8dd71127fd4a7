//! The rules of the house that the compiler does not keep: who may use whom, who opens files, where
//! no binary float may stand, and that every file begins with its role.

use std::fs;
use std::path::{Path, PathBuf};

/// The floors from left to right.
const FLOORS: [&str; 6] = ["model", "read", "reckon", "describe", "typeset", "cli"];

/// Every source file with its floor and its text without tests.
fn sources() -> Vec<(PathBuf, String, String)> {
    let src = root().join("src");
    let mut files = Vec::new();
    let mut open = vec![src.clone()];
    while let Some(folder) = open.pop() {
        for entry in fs::read_dir(folder).unwrap() {
            let path = entry.unwrap().path();
            if path.is_dir() {
                open.push(path);
            } else if path.extension().is_some_and(|e| e == "rs") {
                let below = path.strip_prefix(&src).unwrap().to_owned();
                let first = below.components().next().unwrap().as_os_str().to_string_lossy();
                let floor = first.trim_end_matches(".rs").to_owned();
                let text = fs::read_to_string(&path).unwrap();
                let text = text.split("#[cfg(test)]").next().unwrap().to_owned();
                files.push((below, floor, text));
            }
        }
    }
    files.sort();
    files
}

fn root() -> &'static Path {
    Path::new(env!("CARGO_MANIFEST_DIR"))
}

#[test]
fn each_floor_uses_only_floors_to_its_left() {
    for (path, floor, text) in sources() {
        let Some(at) = FLOORS.iter().position(|f| *f == floor) else { continue };
        // In braces, or from above, a floor would be named unseen.
        let from_above = "super::".repeat(path.components().count());
        for unseen in ["crate::{", from_above.as_str()] {
            assert!(!text.contains(unseen), "{} names floors by `{unseen}`", path.display());
        }
        for right in &FLOORS[at + 1..] {
            assert!(!text.contains(&format!("crate::{right}")), "{} uses {right}", path.display());
        }
        if matches!(floor.as_str(), "reckon" | "describe" | "typeset") {
            assert!(!text.contains("crate::read"), "{} uses read", path.display());
        }
    }
}

#[test]
fn only_read_and_cli_touch_files_and_nobody_asks_the_clock() {
    for (path, floor, text) in sources() {
        let path = path.display();
        if !matches!(floor.as_str(), "read" | "cli") {
            assert!(!text.contains("fs::") && !text.contains("File::"), "{path} touches a file");
        }
        for clock in ["SystemTime", "Utc::now", "Local::now"] {
            assert!(!text.contains(clock), "{path} asks the clock");
        }
        if floor != "cli" && floor != "main" {
            assert!(!text.contains("println!"), "{path} prints");
        }
    }
}

#[test]
fn no_binary_float_stands_near_a_figure() {
    for (path, floor, text) in sources() {
        if matches!(floor.as_str(), "model" | "read" | "reckon" | "describe") {
            let floats = text.contains("f64") || text.contains("f32");
            assert!(!floats, "{} has a binary float", path.display());
        }
    }
}

#[test]
fn every_layout_is_compiled_in() {
    let mut there: Vec<String> = fs::read_dir(root().join("layouts"))
        .unwrap()
        .map(|entry| entry.unwrap().file_name().to_string_lossy().into_owned())
        .collect();
    let mut known: Vec<String> =
        dovetally::typeset::LAYOUTS.iter().map(|layout| layout.name.to_owned()).collect();
    there.sort();
    known.sort();
    assert_eq!(there, known);
}

#[test]
fn every_file_begins_with_its_role() {
    let mut open = ["src", "layouts", "tests"].map(|folder| root().join(folder)).to_vec();
    let mut seen = 0;
    while let Some(folder) = open.pop() {
        for entry in fs::read_dir(folder).unwrap() {
            let path = entry.unwrap().path();
            let kind = path.extension().unwrap_or_default().to_string_lossy().into_owned();
            let mark = match kind.as_str() {
                _ if path.is_dir() => {
                    open.push(path);
                    continue;
                }
                "rs" => "//! ",
                "typ" => "// ",
                _ => continue,
            };
            seen += 1;
            let text = fs::read_to_string(&path).unwrap();
            let first = text.lines().next().unwrap_or_default();
            let role = first.strip_prefix(mark).unwrap_or_default();
            assert!(role.len() > 10, "{} does not begin with its role", path.display());
        }
    }
    assert!(seen > 200, "only {seen} files were looked at");
}

/// Crates that share the reason of the one above them, and those whose use everybody knows.
const WITHOUT_OWN_REASON: [&str; 5] =
    ["typst-layout", "typst-pdf", "typst-assets", "serde", "unicode-properties"];

#[test]
fn every_dependency_has_its_reason() {
    let [program, photo] = ["Cargo.toml", "src/photo/Cargo.toml"]
        .map(|manifest| fs::read_to_string(root().join(manifest)).unwrap());
    let mut reason = false;
    let mut within = false;
    let mut without = Vec::new();
    for line in program.lines().chain(photo.lines()) {
        if line.starts_with('[') {
            within = line.contains("dependencies");
        } else if within && !reason && !line.starts_with('#') {
            without.extend(line.split_once(" = ").map(|(name, _)| name));
        }
        // A reason above the head of a table is that of its first line.
        reason = line.starts_with('#') || (reason && line.starts_with('['));
    }
    assert_eq!(without, WITHOUT_OWN_REASON);
}
