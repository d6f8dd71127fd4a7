//! How fast the program is against the least that the same work can take, in one run.
//!
//!     cargo bench                        # a shop of 400 pieces
//!     cargo bench -- 2000                # of 2,000
//!     cargo bench -- 2000 --json         # the same, each ratio a line of JSON
//!     cargo bench -- write 2000 FOLDER   # only the shop, to run the program on
//!     cargo bench -- papers [LAYOUT]     # each paper against a lean layout of the same words
//!     cargo bench -- profile LAYOUT [demo|longest|FOLDER]   # where a paper's time goes
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
        Some("write") => shop::write(Path::new(&words[2]), words[1].parse().expect("a number")),
        _ => against_the_least(&words),
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
        Some(folder) => papers::profile(Path::new(folder), layout),
        None => papers::profile(plain.path(), layout),
    }
}

fn against_the_least(words: &[String]) {
    let pieces: usize = words.iter().find_map(|word| word.parse().ok()).unwrap_or(400);
    let folder = tempfile::tempdir().expect("a temporary folder");
    shop::write(folder.path(), pieces);
    let told = Told { json: words.iter().any(|word| word == "--json"), pieces };
    told.line(&format!("a shop of {pieces} pieces; {} at a time", jobs()));
    tally_against_reading(folder.path(), &told);
    make_against_typesetting(folder.path(), &told);
    unchanged_against_reading(folder.path(), &told);
    told.line(&format!("peak memory {:>20} MB", peak_megabytes()));
}

/// How the rows are told: for people, or each as a line of JSON.
struct Told {
    json: bool,
    pieces: usize,
}

impl Told {
    fn ratio(&self, what: &str, part: Duration, whole: Duration, aim: &str) {
        let [part, whole] = [part, whole].map(|time| time.as_secs_f64() * 1000.0);
        let ratio = part / whole;
        if self.json {
            let row = serde_json::json!({ "pieces": self.pieces, "what": what, "ratio": ratio,
                "milliseconds": part, "against": whole, "aim": aim });
            println!("{row}");
        } else {
            let aim = if aim.is_empty() { String::new() } else { format!("  (aim: {aim})") };
            println!("{what:<32} {ratio:>6.2}   {part:>8.1} ms / {whole:.1} ms{aim}");
        }
    }

    fn line(&self, words: &str) {
        if self.json {
            println!("{}", serde_json::json!({ "pieces": self.pieces, "what": words }));
        } else {
            println!("{words}");
        }
    }
}

/// `tally` and `check` against walking, reading and parsing the same files.
fn tally_against_reading(folder: &Path, told: &Told) {
    let base = best(|| {
        read_and_parse(folder);
    });
    let tally = best(|| typed(folder, &["tally", "--json"]));
    let check = best(|| typed(folder, &["check"]));
    let reading = best(|| drop(read(folder).expect("a readable folder")));
    told.ratio("read ÷ walk and parse", reading, base, "");
    told.ratio("tally ÷ walk and parse", tally, base, "at most 1.5");
    told.ratio("check ÷ walk and parse", check, base, "at most 1.5");
}

/// `make` from nothing against a loop that only typesets the same data with the same layouts, and
/// against what it would take if every core were busy from the first paper to the last.
fn make_against_typesetting(folder: &Path, told: &Told) {
    let out = folder.join("out");
    let alone = once(|| typed(folder, &["make", "--jobs", "1"]));
    fs::remove_dir_all(&out).expect("what was made");
    let make = once(|| typed(folder, &["make"]));
    let drafts = shop::drafts(folder);
    let press = Press::new(&[]);
    let bare = once(|| typeset_all(&press, &drafts));
    let papers = drafts.len();
    told.ratio("bare typesetting ÷ make", bare, make, "at least 0.8");
    told.ratio("one core's time ÷ all cores'", alone / jobs() as u32, make, "at least 0.85");
    let each = make.as_secs_f64() * 1000.0 / papers as f64;
    told.line(&format!("  {papers} papers, {each:.2} ms each with everything"));
    assert!(out.is_dir());
}

/// `make` when nothing changed against walking, reading and hashing the same tree.
fn unchanged_against_reading(folder: &Path, told: &Told) {
    let base = best(|| {
        hash_tree(folder);
    });
    let again = best(|| typed(folder, &["make"]));
    told.ratio("unchanged make ÷ walk and hash", again, base, "at most 2");
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
