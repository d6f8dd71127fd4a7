//! Files of any bytes for every reader, from a seed: no panic, and no finding that points nowhere.
//! And whole random shops, whose figures must be those of a sum made here, apart from the program.
//!
//! `FUZZ_RUNS=100000 cargo test fuzz` runs each that often, `FUZZ_SEED` chooses other bytes; a few
//! hundred without it.

use crate::folders::Folder;
use crate::shell::{dovetally, shop_of};
use dovetally::cli::Status;
use dovetally::model::{
    LengthUnit, parse_amount, parse_hours, parse_length, parse_made, parse_quantity, parse_weight,
};
use dovetally::read::read;
use dovetally::typeset::{Fit, fit_picture, measure_picture};
use image::{DynamicImage, ImageFormat, Rgb, RgbImage};
use rust_decimal::Decimal;
use serde_json::Value;
use std::collections::BTreeMap;
use std::fs;
use std::io::Cursor;
use std::panic::{AssertUnwindSafe, catch_unwind};
use std::path::Path;

/// As in `kills`: the same bytes for the same seed.
struct Chance(u64);

impl Chance {
    fn below(&mut self, most: usize) -> usize {
        self.0 = self.0.wrapping_add(0x9e37_79b9_7f4a_7c15);
        let mut mixed = self.0;
        mixed = (mixed ^ (mixed >> 30)).wrapping_mul(0xbf58_476d_1ce4_e5b9);
        mixed = (mixed ^ (mixed >> 27)).wrapping_mul(0x94d0_49bb_1331_11eb);
        (mixed ^ (mixed >> 31)) as usize % most.max(1)
    }

    fn of<'a, T: ?Sized>(&mut self, these: &[&'a T]) -> &'a T {
        these[self.below(these.len())]
    }
}

fn number(name: &str, usual: u64) -> u64 {
    std::env::var(name).ok().and_then(|n| n.parse().ok()).unwrap_or(usual)
}

/// What breaks readers.
const SPICE: [&str; 42] = [
    "",
    " ",
    "\n",
    "\r",
    "\0",
    "\"",
    "'",
    "\"\"\"",
    "\\",
    "#",
    "=",
    "[",
    "]",
    "[[",
    "]]",
    "{",
    "}",
    ",",
    ".",
    "..",
    "-",
    "+",
    "%",
    "/",
    "1/0",
    "0",
    "00",
    "9999999999999999999999999999999",
    "-0",
    "1e9",
    "inf",
    "nan",
    "true",
    "2025-02-30",
    "0000-00-00",
    "\u{202e}",
    "\u{feff}",
    "é",
    "漢",
    "½",
    "12' 7\"",
    "79228162514264337593543950335",
];

/// Some bytes changed: put in, removed, doubled, turned over, or taken from another sample.
fn spoiled(chance: &mut Chance, samples: &[Vec<u8>]) -> Vec<u8> {
    let mut bytes = samples[chance.below(samples.len())].clone();
    for _ in 0..=chance.below(4) {
        let at = chance.below(bytes.len() + 1);
        let end = (at + 1 + chance.below(24)).min(bytes.len());
        match chance.below(6) {
            0 => drop(bytes.splice(at..at, chance.of(&SPICE).bytes())),
            1 => drop(bytes.splice(at..end.max(at), chance.of(&SPICE).bytes())),
            2 => drop(bytes.drain(at..end.max(at))),
            3 => {
                let again = bytes[at..end.max(at)].to_vec();
                bytes.splice(at..at, again);
            }
            4 if at < bytes.len() => bytes[at] ^= 1 << chance.below(8),
            _ => {
                let other = &samples[chance.below(samples.len())];
                let from = chance.below(other.len() + 1);
                let to = (from + chance.below(200)).min(other.len());
                bytes.splice(at..at, other[from..to].iter().copied());
            }
        }
    }
    bytes
}

/// Tries the samples, then spoiled ones; what fails is kept and shown with how to run it again.
fn try_out(name: &str, usual: u64, samples: &[Vec<u8>], take: impl Fn(&[u8])) {
    samples.iter().for_each(|sample| take(sample));
    let seed = number("FUZZ_SEED", 1);
    let mut chance = Chance(seed);
    for run in 0..number("FUZZ_RUNS", usual) {
        let bytes = spoiled(&mut chance, samples);
        if catch_unwind(AssertUnwindSafe(|| take(&bytes))).is_err() {
            let path = std::env::temp_dir().join(format!("crash-{name}-{seed}-{run}"));
            fs::write(&path, &bytes).unwrap();
            panic!("{name}, seed {seed}, run {run}: its bytes are {}", path.display());
        }
    }
}

fn texts(samples: &[&str]) -> Vec<Vec<u8>> {
    samples.iter().map(|sample| sample.as_bytes().to_vec()).collect()
}

#[test]
fn amounts_lengths_hours_quantities_and_years() {
    let samples = texts(&[
        "1,250.00",
        "$12.40",
        "35",
        "0.005",
        "34 1/2 in",
        "5' 11 7/16\"",
        "87.5 cm",
        "1 h 30 min",
        "2:45",
        "1.5",
        "40 min",
        "1 qt",
        "12.5 fl oz",
        "3/4 lb",
        "1.2 kg",
        "about 1910",
        "1890s",
        "1885-1892",
        "before 1900",
        "12.5%",
    ]);
    try_out("values", 3000, &samples, |bytes| {
        let text = String::from_utf8_lossy(bytes);
        for places in [0, 2, 3] {
            if let Ok(amount) = parse_amount(&text, places) {
                let again = parse_amount(&amount.to_string(), places);
                assert_eq!(again.as_ref(), Ok(&amount), "{text}");
            }
        }
        for bare in [LengthUnit::Inch, LengthUnit::Centimetre] {
            let _ = parse_length(&text, bare);
        }
        let _ = (
            parse_hours(&text),
            parse_quantity(&text, None),
            parse_weight(&text),
            parse_made(&text),
        );
    });
}

/// Every file of the demo and of the cases of findings, by what it is.
fn owners_files(ending: &str) -> Vec<Vec<u8>> {
    let root = Path::new(env!("CARGO_MANIFEST_DIR"));
    let mut files = Vec::new();
    let mut open = vec![root.join("projects-demo"), root.join("tests/cases")];
    while let Some(folder) = open.pop() {
        let mut entries: Vec<_> =
            fs::read_dir(folder).unwrap().map(|e| e.unwrap().path()).collect();
        entries.sort();
        for path in entries {
            match path.is_dir() {
                true if !path.ends_with("out") => open.push(path),
                false if path.to_string_lossy().ends_with(ending) => {
                    files.push(fs::read(path).unwrap())
                }
                _ => {}
            }
        }
    }
    assert!(!files.is_empty());
    files
}

/// Reads a folder in which one file is of these bytes; every finding points into its file.
fn read_with(path: &str, bytes: &[u8]) {
    let shop = shop_of(&[
        ("shop.toml", "name = \"Test Shop\"\n[bank]\ndate = \"Date\"\namount = \"Amount\"\n"),
        ("books/2025.toml", "[bank]\nfile = \"bank.csv\"\n"),
        ("books/bank.csv", "Date,Amount\n2025-01-02,5.00\n"),
        ("stock.toml", "[topcoat]\nunit = \"fl oz\"\n"),
        ("pieces/pine/piece.toml", "title = \"Pine\"\n"),
    ]);
    fs::write(shop.path().join(path), bytes).unwrap();
    let reading = read(shop.path()).unwrap();
    for finding in &reading.findings {
        if let Some(source) = reading.sources.get(finding.place.file) {
            let (start, end) = (finding.place.start as usize, finding.place.end as usize);
            assert!(source.text.get(start..end).is_some(), "{finding:?}");
        }
    }
    let broken = reading.findings.iter().any(|finding| finding.is_error());
    assert!(broken || reading.shop.is_some());
}

#[test]
fn owners_files_of_any_bytes() {
    let samples = owners_files(".toml");
    for path in ["shop.toml", "stock.toml", "books/2025.toml", "pieces/pine/piece.toml"] {
        try_out("toml", 100, &samples, |bytes| read_with(path, bytes));
    }
}

#[test]
fn exports_of_any_bytes() {
    let mut samples = owners_files(".csv");
    samples.push(b"Date;Amount\n2025-01-02;\"5,00\"\n".to_vec());
    samples.push(b"Date,Amount\n2025-01-02,(5.00)\n2025-01-03,\"5.00\"\n".to_vec());
    try_out("exports", 300, &samples, |bytes| read_with("books/bank.csv", bytes));
}

#[test]
fn pictures_of_any_bytes() {
    let picture =
        DynamicImage::ImageRgb8(RgbImage::from_fn(40, 30, |x, y| Rgb([x as u8, y as u8, 9])));
    let mut samples: Vec<Vec<u8>> = [ImageFormat::Jpeg, ImageFormat::Png, ImageFormat::WebP]
        .into_iter()
        .map(|format| {
            let mut bytes = Cursor::new(Vec::new());
            picture.write_to(&mut bytes, format).unwrap();
            bytes.into_inner()
        })
        .collect();
    let folder = Path::new(env!("CARGO_MANIFEST_DIR")).join("tests/paper/photos");
    samples.extend(
        fs::read_dir(folder).unwrap().map(|entry| fs::read(entry.unwrap().path()).unwrap()),
    );
    samples.retain(|sample| sample.len() < 100_000);
    try_out("pictures", 300, &samples, |bytes| {
        let Ok(size) = measure_picture(bytes) else { return };
        // A head may promise more pixels than a test has time for.
        if size.pixels() < 1_000_000
            && let Ok(picture) = fit_picture(bytes, Fit::Column)
        {
            assert_eq!((picture.width, picture.height), size.within(Fit::Column));
            assert!(measure_picture(&picture.jpeg).is_ok());
        }
    });
}

/// Nothing but the paper itself changes whatever the record says, and the texts are right after.
#[test]
fn records_of_any_bytes() {
    let shop = shop_of(&[
        ("shop.toml", "name = \"Test Shop\"\n"),
        ("pieces/pine/piece.toml", "title = \"Pine washstand\"\n"),
    ]);
    let make = || dovetally(shop.path(), &["make", "--only", "description"]);
    assert_eq!(make().status, Status::Done);
    let out = shop.path().join("out");
    let text = fs::read(out.join("pieces/pine/description.txt")).unwrap();
    let record = fs::read(out.join(".made.json")).unwrap();
    let journal =
        b"\n[\"pieces/pine/description.txt\",\"a\",\"b\"]\n[\"../x\",\"a\",\"b\"]\n".to_vec();
    let owners = fs::read(shop.path().join("pieces/pine/piece.toml")).unwrap();
    try_out("records", 60, &[record, journal], |bytes| {
        for name in [".made.json", ".made.log"] {
            fs::write(out.join(name), bytes).unwrap();
            let said = make();
            assert_eq!(said.status, Status::Done, "{}", said.err);
            assert!(fs::read(out.join("pieces/pine/description.txt")).unwrap() == text);
            assert!(fs::read(shop.path().join("pieces/pine/piece.toml")).unwrap() == owners);
        }
    });
}

/// Whole folders of spoiled files under names that are and are not read: every verb ends, and says
/// nothing but findings.
#[test]
fn whole_folders_of_anything() {
    let (samples, names) = (
        owners_files(".toml"),
        [
            "shop.toml",
            "stock.toml",
            "books/2024.toml",
            "books/2025.toml",
            "books/bank.csv",
            "pieces/a/piece.toml",
            "pieces/b/piece.toml",
            "pieces/c/Piece.toml",
            "layouts/description.txt",
            "layouts/card.typ",
            "note.txt",
        ],
    );
    let (runs, seed) = (number("FUZZ_RUNS", 40), number("FUZZ_SEED", 1));
    let mut chance = Chance(seed);
    for run in 0..runs {
        let shop = tempfile::tempdir().unwrap();
        for name in names {
            if chance.below(3) == 0 && name != "shop.toml" {
                continue;
            }
            let path = shop.path().join(name);
            fs::create_dir_all(path.parent().unwrap()).unwrap();
            let bytes = match chance.below(3) {
                0 => spoiled(&mut chance, &samples),
                _ if name == "shop.toml" => b"name = \"Test Shop\"\n".to_vec(),
                _ => samples[chance.below(samples.len())].clone(),
            };
            fs::write(path, bytes).unwrap();
        }
        for words in
            [&["check", "--advice"][..], &["tally", "--json"], &["year", "2025"], &["review"]]
        {
            let ended = catch_unwind(AssertUnwindSafe(|| dovetally(shop.path(), words).status));
            let Ok(status) = ended else {
                panic!("{words:?}, seed {seed}, run {run}: {}", shop.keep().display())
            };
            assert_ne!(status, Status::Failed, "{words:?}, seed {seed}, run {run}");
        }
    }
}

/// Categories of expenses and the line of Schedule C (Form 1040) for 2025 that each goes to. Source:
/// the form itself (from memory).
const LINES: [(&str, &str); 7] = [
    ("advertising", "8"),
    ("insurance", "15"),
    ("office", "18"),
    ("rent", "20b"),
    ("repairs", "21"),
    ("supplies", "22"),
    ("utilities", "25"),
];

fn cents(cents: u64) -> String {
    format!("{}.{:02}", cents / 100, cents % 100)
}

fn dollars(cents: u64) -> Decimal {
    Decimal::new(cents as i64, 2)
}

/// Pieces bought and sold, with costs, and a book of expenses, written as a folder; what they come
/// to is summed here in cents while it is written.
#[test]
fn a_random_shop_has_the_figures_of_an_independent_sum() {
    let (runs, seed) = (number("FUZZ_RUNS", 40), number("FUZZ_SEED", 1));
    let mut chance = Chance(seed);
    for run in 0..runs {
        let mut shop = Folder::new();
        let (mut receipts, mut goods_sold, mut costs_of) = (0, 0, BTreeMap::new());
        for i in 0..=chance.below(6) {
            let bought = 100 + chance.below(50_000) as u64;
            let mut cost = bought;
            let mut lines =
                format!("bought = {{ on = 2025-01-{:02}, price = {} }}\n", i + 1, cents(bought));
            for _ in 0..chance.below(4) {
                let amount = 1 + chance.below(9_000) as u64;
                cost += amount;
                lines += &format!(
                    "[[cost]]\non = 2025-02-03\nwhat = \"pulls\"\nkind = \"hardware\"\namount = {}\n",
                    cents(amount)
                );
            }
            if chance.below(3) > 0 {
                let price = 100 + chance.below(90_000) as u64;
                receipts += price;
                goods_sold += cost;
                lines +=
                    &format!("[[sale]]\non = 2025-05-{:02}\nprice = {}\n", i + 1, cents(price));
            }
            costs_of.insert(format!("p{i}"), cost);
            shop = shop.piece(&format!("p{i}"), &lines);
        }
        let (mut book, mut spent) = (String::new(), BTreeMap::new());
        for _ in 0..chance.below(12) {
            let (category, line) = LINES[chance.below(LINES.len())];
            let amount = 1 + chance.below(80_000) as u64;
            *spent.entry(line).or_insert(0) += amount;
            book += &format!(
                "[[expense]]\non = 2025-{:02}-11\nwhat = \"it\"\ncategory = \"{category}\"\namount = {}\n",
                1 + chance.below(12),
                cents(amount)
            );
        }
        let written = shop.book(2025, &book).written();
        let year = written.year(2025);
        let at = format!("seed {seed}, run {run}");
        let amount = |number: &str| -> Decimal {
            let lines = year["lines"].as_array().unwrap();
            let line = lines.iter().find(|line| line["line"] == number);
            line.and_then(|line| line["amount"].as_str())
                .map_or(Decimal::ZERO, |a| a.parse().unwrap())
        };
        assert_eq!(amount("1"), dollars(receipts), "receipts, {at}");
        assert_eq!(amount("4"), dollars(goods_sold), "cost of goods sold, {at}");
        for (_, line) in LINES {
            assert_eq!(
                amount(line),
                dollars(spent.get(line).copied().unwrap_or(0)),
                "line {line}, {at}"
            );
        }
        let all: u64 = spent.values().sum();
        assert_eq!(amount("28"), dollars(all), "expenses, {at}");
        let profit = dollars(receipts) - dollars(goods_sold) - dollars(all);
        assert_eq!(amount("29"), profit, "tentative profit, {at}");
        for (piece, cost) in costs_of {
            let row: Value = written.tally(&piece);
            let shown: Decimal = row["cost_of_goods"].as_str().unwrap().parse().unwrap();
            assert_eq!(shown, dollars(cost), "{piece}, {at}");
        }
    }
}
