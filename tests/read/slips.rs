//! The catalogue of slips: each made by itself in one sound shop. What is said of it is kept in
//! `tests/slips/caught.txt`; `ACCEPT=1` writes what is said now.

use super::folder::write;
use super::hints::{broken_law, copy};
use dovetally::describe::describe;
use dovetally::model::{Finding, Offer, Severity};
use dovetally::read::{Reading, read};
use dovetally::reckon::reckon;
use std::collections::BTreeMap;
use std::fmt::Write;
use std::fs;
use std::ops::RangeInclusive;
use std::path::{Path, PathBuf};

fn slips_folder() -> PathBuf {
    Path::new(env!("CARGO_MANIFEST_DIR")).join("tests/slips")
}

/// A row of the catalogue.
struct Slip {
    row: String,
    file: String,
    was: String,
    is: String,
    /// Why nothing is said of it.
    silent: Option<String>,
    /// What is said of it stands at another place, which needs what was lost here.
    elsewhere: bool,
}

fn slips() -> Vec<Slip> {
    let text = fs::read_to_string(slips_folder().join("slips.txt")).unwrap();
    let rows = text.lines().filter(|line| !line.starts_with('#') && !line.is_empty());
    rows.map(slip).collect()
}

fn slip(row: &str) -> Slip {
    let (file, rest) = row.split_once(": ").unwrap_or_else(|| panic!("no file: {row}"));
    let (rest, elsewhere) = match rest.split_once(" # elsewhere: ") {
        Some((rest, _)) => (rest, true),
        None => (rest, false),
    };
    let (made, silent) = match rest.split_once(" # silent: ") {
        Some((made, why)) => (made, Some(why.to_owned())),
        None => (rest, None),
    };
    let (was, is) = made.split_once(" →").unwrap_or_else(|| panic!("no arrow: {row}"));
    let lines = |text: &str| text.replace('↵', "\n");
    let is = is.strip_prefix(' ').unwrap_or(is);
    Slip {
        row: row.to_owned(),
        file: file.to_owned(),
        was: lines(was),
        is: lines(is),
        silent,
        elsewhere,
    }
}

/// Everything said of a shop by the floors below the year, advice left out.
fn said(reading: &Reading) -> Vec<Finding> {
    let mut found = reading.findings.clone();
    if let Some(shop) = &reading.shop {
        found.extend(reckon(shop).findings);
        found.extend(describe(shop).findings);
    }
    found.retain(|finding| finding.severity != Severity::Advice);
    found
}

/// The tallies of a shop by piece, as text; nothing for one without figures.
pub fn figures(reading: &Reading) -> BTreeMap<String, Option<String>> {
    let Some(shop) = &reading.shop else { return BTreeMap::new() };
    let tallies = reckon(shop).tallies;
    let told = tallies.iter().map(|tally| tally.as_ref().map(|tally| format!("{tally:?}")));
    shop.pieces.iter().map(|piece| piece.folder.clone()).zip(told).collect()
}

/// The lines that an edit may be said to be in: its own, and those of the entry up to its head.
fn lines_of(text: &str, at: usize, length: usize) -> RangeInclusive<usize> {
    let line = |to: usize| text[..to].matches('\n').count() + 1;
    let head = text[..at].rfind("\n[").map_or(1, |head| line(head + 1));
    head..=line(at + length)
}

#[derive(Default)]
struct Count {
    helped: usize,
    caught: usize,
    silent: usize,
}

struct Told {
    page: String,
    amiss: Vec<String>,
    counts: BTreeMap<String, Count>,
}

fn try_slip(folder: &Path, slip: &Slip, sound: &BTreeMap<String, Option<String>>, told: &mut Told) {
    let path = folder.join(&slip.file);
    let text = fs::read_to_string(&path).unwrap();
    let Some(at) = text.find(&slip.was) else { panic!("not in the shop: {}", slip.row) };
    let slipped = text.replacen(&slip.was, &slip.is, 1);
    fs::write(&path, &slipped).unwrap();
    let reading = read(folder).unwrap();
    let found = said(&reading);
    let lines = lines_of(&slipped, at, slip.is.len());
    let in_place = |finding: &&Finding| {
        let second = finding.second.as_ref().map(|(place, _)| *place);
        [Some(finding.place), second].into_iter().flatten().any(|place| {
            let there = reading.sources.get(place.file).is_some_and(|s| s.path == slip.file);
            there
                && reading.sources.line_column(place).is_some_and(|(line, _)| lines.contains(&line))
        })
    };
    let placed: Vec<&Finding> =
        found.iter().filter(|finding| slip.elsewhere || in_place(finding)).collect();
    writeln!(told.page, "{}", slip.row.replace(" # silent", "\n    silent")).unwrap();
    for finding in &placed {
        let place = reading.sources.name(finding.place).unwrap();
        let hint = finding.hint.as_deref().unwrap_or("–");
        let line = place.rsplit('/').next().unwrap();
        let code = finding.code.word();
        writeln!(told.page, "    {code} {line} {}\n        {hint}", finding.message).unwrap();
    }
    let kind = slip.file.rsplit('/').next().unwrap();
    let kind = if kind.starts_with("20") { "books" } else { kind };
    let count = told.counts.entry(kind.to_owned()).or_default();
    match (placed.is_empty(), &slip.silent) {
        (true, None) => {
            let all: Vec<&str> = found.iter().map(|finding| finding.code.word()).collect();
            told.amiss.push(format!("nothing names the place: {} {all:?}", slip.row));
        }
        (false, Some(_)) => told.amiss.push(format!("not silent any more: {}", slip.row)),
        (true, Some(_)) => count.silent += 1,
        (false, None) => {
            let restored = |finding: &&&Finding| restores(folder, &reading, finding, sound);
            match placed.iter().any(|finding| restored(&finding)) {
                true => count.helped += 1,
                false => count.caught += 1,
            }
        }
    }
    let laws = reading.findings.iter().filter_map(|f| broken_law(folder, &reading, f));
    told.amiss.extend(laws.map(|law| format!("{}\n    {law}", slip.row)));
    fs::write(&path, text).unwrap();
}

/// Whether a hint leads back to the figures of the sound shop, or shows what was meant beside what
/// was typed.
fn restores(
    folder: &Path,
    reading: &Reading,
    finding: &Finding,
    sound: &BTreeMap<String, Option<String>>,
) -> bool {
    let Some(hint) = &finding.hint else { return false };
    let Offer::Write(edit) = &hint.offer else { return hint.offer == Offer::Either };
    let source = reading.sources.get(edit.place.file).unwrap();
    let mut text = source.text.clone();
    text.replace_range(edit.place.start as usize..edit.place.end as usize, &edit.text);
    write(folder, &source.path, text.as_bytes());
    let restored = figures(&read(folder).unwrap()) == *sound;
    write(folder, &source.path, source.text.as_bytes());
    restored
}

#[test]
fn every_slip_is_caught_or_rightly_silent() {
    let folder = tempfile::tempdir().unwrap();
    copy(&slips_folder().join("shop"), folder.path());
    let sound = read(folder.path()).unwrap();
    let amiss: Vec<String> = said(&sound).iter().map(|f| format!("{f:?}")).collect();
    assert!(amiss.is_empty(), "the sound shop is not: {}", amiss.join("\n"));
    let sound = figures(&sound);
    assert!(sound.len() == 4 && sound.values().all(Option::is_some), "{sound:?}");
    let mut told = Told { page: String::new(), amiss: Vec::new(), counts: BTreeMap::new() };
    let slips = slips();
    assert!(slips.len() >= 200, "only {} slips", slips.len());
    slips.iter().for_each(|slip| try_slip(folder.path(), slip, &sound, &mut told));
    let mut page = "file: caught with the right help / caught / silent\n".to_owned();
    for (kind, count) in &told.counts {
        let Count { helped, caught, silent } = count;
        writeln!(page, "{kind}: {helped} / {caught} / {silent}").unwrap();
    }
    let page = format!("{page}\n{}", told.page);
    let path = slips_folder().join("caught.txt");
    if std::env::var_os("ACCEPT").is_some() {
        fs::write(&path, &page).unwrap();
    }
    assert!(told.amiss.is_empty(), "{}", told.amiss.join("\n"));
    let then = fs::read_to_string(&path).unwrap_or_default();
    assert!(then == page, "tests/slips/caught.txt says otherwise now (ACCEPT=1 accepts it)");
}
