//! How fast the program is against the least that the same work can take, in one run.
//!
//!     cargo bench                        # a shop of 400 pieces
//!     cargo bench -- 2000                # of 2,000
//!     cargo bench -- papers [LAYOUT]     # each paper against a lean layout of the same words
//!     cargo bench -- profile LAYOUT      # where a paper's time goes
//!
//! Ratios count, not seconds: each line sets the program against a baseline timed beside it. The
//! goals are printed; nothing here fails a build, since machines are noisy.

use dovetally::cli::{Screen, Status, run};
use dovetally::read::read;
use dovetally::typeset::{Draft, Press};
use std::ffi::OsString;
use std::fs;
use std::path::Path;
use std::sync::atomic::{AtomicUsize, Ordering};
use std::time::{Duration, Instant};

#[path = "papers.rs"]
mod papers;
#[path = "../shell.rs"]
#[allow(dead_code)]
mod shell;
#[path = "shop.rs"]
mod shop;
#[path = "../paper/torture.rs"]
#[allow(dead_code)]
mod torture;

fn main() {
    let words: Vec<String> = std::env::args().skip(1).filter(|word| word != "--bench").collect();
    match words.first().map(String::as_str) {
        Some("papers") => papers_against_lean(words.get(1).map(String::as_str)),
        Some("profile") => profile(words.get(1).expect("a layout"), words.get(2)),
        _ => against_the_least(),
    }
}

/// Papers of the demo, of plain pieces and of the ones that ask the most.
fn papers_against_lean(only: Option<&str>) {
    let plain = tempfile::tempdir().expect("a temporary folder");
    shop::write(plain.path(), 60);
    papers::compare(plain.path(), "plain pieces", only);
    papers::compare(shell::copy_of(&shell::demo()).path(), "the demo", only);
    papers::compare(torture::longest("us-letter").path(), "the longest of everything", only);
}

fn profile(layout: &str, of: Option<&String>) {
    let plain = tempfile::tempdir().expect("a temporary folder");
    shop::write(plain.path(), 60);
    match of.map(String::as_str) {
        Some("demo") => papers::profile(shell::copy_of(&shell::demo()).path(), layout),
        Some("longest") => papers::profile(torture::longest("us-letter").path(), layout),
        _ => papers::profile(plain.path(), layout),
    }
}

fn against_the_least() {
    let asked = std::env::args().skip(1).find_map(|word| word.parse().ok());
    let pieces: usize = asked.unwrap_or(400);
    let folder = tempfile::tempdir().expect("a temporary folder");
    shop::write(folder.path(), pieces);
    println!("a shop of {pieces} pieces; {} at a time", jobs());
    tally_against_reading(folder.path());
    make_against_typesetting(folder.path());
    unchanged_against_reading(folder.path());
    println!(
        "peak memory            {:>8} MB  (aim: at most 150 at 10,000 pieces)",
        peak_megabytes()
    );
}

/// `tally` and `check` against walking, reading and parsing the same files.
fn tally_against_reading(folder: &Path) {
    let base = best(|| {
        read_and_parse(folder);
    });
    let tally = best(|| typed(folder, &["tally", "--json"]));
    let check = best(|| typed(folder, &["check"]));
    let reading = best(|| drop(read(folder).expect("a readable folder")));
    print_ratio("read ÷ walk and parse", reading, base, "");
    print_ratio("tally ÷ walk and parse", tally, base, "aim: at most 1.5");
    print_ratio("check ÷ walk and parse", check, base, "aim: at most 1.5");
}

/// `make` from nothing against a loop that only typesets the same data with the same layouts.
fn make_against_typesetting(folder: &Path) {
    let out = folder.join("out");
    let make = once(|| typed(folder, &["make"]));
    let drafts = shop::drafts(folder);
    let press = Press::new(&[]);
    let bare = once(|| typeset_all(&press, &drafts));
    let papers = drafts.len();
    print_ratio("bare typesetting ÷ make", bare, make, "aim: at least 0.8");
    let each = make.as_secs_f64() * 1000.0 / papers as f64;
    println!("  {papers} papers, {each:.2} ms each with everything");
    assert!(out.is_dir());
}

/// `make` when nothing changed against walking, reading and hashing the same tree.
fn unchanged_against_reading(folder: &Path) {
    let base = best(|| {
        hash_tree(folder);
    });
    let again = best(|| typed(folder, &["make"]));
    print_ratio("unchanged make ÷ walk and hash", again, base, "aim: at most 2");
}

fn typeset_all(press: &Press, drafts: &[Draft]) {
    let next = AtomicUsize::new(0);
    std::thread::scope(|scope| {
        for _ in 0..jobs() {
            scope.spawn(|| {
                while let Some(draft) = drafts.get(next.fetch_add(1, Ordering::Relaxed)) {
                    press.print(draft, &[]).expect("the layouts hold");
                }
            });
        }
    });
}

fn read_and_parse(folder: &Path) -> usize {
    let files = walkdir::WalkDir::new(folder)
        .into_iter()
        .filter_entry(|entry| entry.file_name() != "out")
        .flatten()
        .filter(|entry| entry.path().extension().is_some_and(|e| e == "toml"));
    files
        .map(|entry| {
            let text = fs::read(entry.path()).expect("a file");
            let text = String::from_utf8(text).expect("text");
            toml::de::DeTable::parse(&text).expect("toml").get_ref().len()
        })
        .sum()
}

fn hash_tree(folder: &Path) -> u64 {
    use std::hash::Hasher;
    let mut hash = siphasher::sip128::SipHasher13::new();
    for entry in walkdir::WalkDir::new(folder).sort_by_file_name().into_iter().flatten() {
        if entry.file_type().is_file() {
            hash.write(&fs::read(entry.path()).expect("a file"));
        }
    }
    hash.finish()
}

/// Runs the program in this process, its words thrown away.
fn typed(folder: &Path, words: &[&str]) {
    let mut typed: Vec<OsString> = vec!["dovetally".into(), "--shop".into(), folder.into()];
    typed.extend(words.iter().map(OsString::from));
    let mut screen = Screen::new(Box::new(std::io::sink()), Box::new(std::io::sink()));
    let status = run(typed, &mut screen);
    assert_eq!(status, Status::Done, "{words:?}");
}

fn once(work: impl FnOnce()) -> Duration {
    let start = Instant::now();
    work();
    start.elapsed()
}

/// The quickest of five: the run that the rest of the machine disturbed least.
fn best(work: impl Fn()) -> Duration {
    (0..5).map(|_| once(&work)).min().unwrap_or_default()
}

fn print_ratio(what: &str, part: Duration, whole: Duration, aim: &str) {
    let ratio = part.as_secs_f64() / whole.as_secs_f64();
    let aim = if aim.is_empty() { String::new() } else { format!("  ({aim})") };
    println!(
        "{what:<32} {ratio:>6.2}   {:>8.1} ms / {:.1} ms{aim}",
        part.as_secs_f64() * 1000.0,
        whole.as_secs_f64() * 1000.0
    );
}

fn jobs() -> usize {
    std::thread::available_parallelism().map_or(2, usize::from)
}

/// The most memory this process ever held, where the system says so.
fn peak_megabytes() -> String {
    let status = fs::read("/proc/self/status").unwrap_or_default();
    let status = String::from_utf8_lossy(&status).into_owned();
    let line = status.lines().find_map(|line| line.strip_prefix("VmHWM:"));
    let kilobytes = line.and_then(|l| l.trim().trim_end_matches(" kB").parse::<u64>().ok());
    kilobytes.map_or("–".to_owned(), |kb| (kb / 1024).to_string())
}
