//! The licences of what the program is made with: named, shipped and printed.

use crate::shell::typed_as;
use dovetally::cli::Status;
use std::fs;
use std::path::Path;
use std::process::{Command, Output};

/// Licences that ask for no more than to be handed on.
const ALLOWED: [&str; 12] = [
    "MIT",
    "Apache-2.0",
    "BSD-2-Clause",
    "BSD-3-Clause",
    "0BSD",
    "ISC",
    "Zlib",
    "Unicode-3.0",
    "CC0-1.0",
    "Unlicense",
    "BSL-1.0",
    "LLVM-exception",
];

/// What the program is made with, as `cargo` tells it.
fn tree(of: &[&str]) -> Output {
    let words = ["tree", "--locked", "--offline", "-e", "normal", "--prefix", "none"];
    Command::new(env!("CARGO"))
        .args(words)
        .args(["-f", "{p}|{l}"])
        .args(of)
        .current_dir(env!("CARGO_MANIFEST_DIR"))
        .output()
        .unwrap()
}

/// Name, version and licence of every crate of the program itself: on any system where the crates of
/// all are downloaded, else on this one, for which a build has downloaded them.
fn shipped() -> Vec<(String, String)> {
    let all = tree(&["--target", "all"]);
    let tree = if all.status.success() { all } else { tree(&[]) };
    assert!(tree.status.success(), "{}", String::from_utf8_lossy(&tree.stderr));
    let text = String::from_utf8(tree.stdout).unwrap();
    let crates = text.lines().filter_map(|line| {
        let (package, licence) = line.split_once('|')?;
        let mut words = package.split_whitespace();
        let (name, version) = (words.next()?, words.next()?.trim_start_matches('v'));
        (!name.starts_with("dovetally"))
            .then(|| (format!("{name} {version}:"), licence.replace(" (*)", "")))
    });
    let mut crates: Vec<_> = crates.collect();
    crates.sort();
    crates.dedup();
    crates
}

#[test]
fn every_crate_is_named_with_a_licence_that_may_be_handed_on() {
    let notices =
        fs::read_to_string(Path::new(env!("CARGO_MANIFEST_DIR")).join("src/cli/notices.txt"))
            .unwrap();
    let crates = shipped();
    assert!(crates.len() > 100);
    for (name, licence) in &crates {
        assert!(notices.contains(&format!("\n{name} ")), "run .ci/notices: it lacks {name}");
        let words = licence.split(|c: char| c.is_whitespace() || "()/".contains(c));
        let known = words.filter(|word| !word.is_empty() && !["OR", "AND", "WITH"].contains(word));
        // One of several may be chosen; none asks for the program's own text.
        assert!(known.clone().any(|word| ALLOWED.contains(&word)), "{name} {licence}");
        assert!(
            licence.contains("OR")
                || licence.contains('/')
                || known.clone().all(|w| ALLOWED.contains(&w)),
            "{name} {licence}"
        );
    }
}

#[test]
fn the_program_prints_its_notices() {
    let said = typed_as(vec!["dovetally".into(), "--licenses".into()]);
    assert_eq!(said.status, Status::Done);
    assert!(
        said.out.contains("SIL OPEN FONT LICENSE") || said.out.contains("SIL Open Font License")
    );
    assert!(said.out.lines().count() > 1000);
}
