//! What each paper takes, against a lean layout of the same words: processor time, passes over the
//! document, and paragraphs broken into lines.

use dovetally::cli::{DraftedPaper, Need, Opened, papers};
use dovetally::typeset::{Brand, LAYOUTS, Press};
use std::collections::BTreeMap;
use std::fs;
use std::num::NonZeroU64;
use std::path::{Path, PathBuf};
use std::time::{Duration, Instant};
use typst::syntax::{RootedPath, Source, Span, VirtualPath, VirtualRoot};

/// How long one layout is printed over and over, at least.
const LONG_ENOUGH: Duration = Duration::from_millis(1500);

/// Prints a row for each layout of a shop: its papers as they are, and as the lean layout of its
/// name sets them where there is one.
pub fn compare(folder: &Path, what: &str, only: Option<&str>) {
    let opened = Opened::open(folder, Need::FiguresAndWords).expect("a readable folder");
    let known = opened.known.as_ref().expect("a shop without errors");
    let mut kinds: BTreeMap<&str, Vec<DraftedPaper>> = BTreeMap::new();
    for paper in papers(&opened, known).expect("readable photos") {
        kinds.entry(paper.draft.layout).or_default().push(paper);
    }
    println!("{what:<29}  ms each  lean  ratio  passes  paragraphs  lean");
    for (layout, papers) in kinds.iter().filter(|(name, _)| only.is_none_or(|o| name.contains(o))) {
        let press = opened.press();
        let ours = timed(&press, papers);
        let counts = counted(&press, papers);
        let lean = lean_press(layout).map(|lean| (timed(&lean, papers), counted(&lean, papers)));
        let name = layout.trim_end_matches(".typ");
        print!("{name:<24}{:>5}  {ours:>7.2}", papers.len());
        match lean {
            Some((lean, few)) => println!(
                "  {lean:>4.1}  {:>5.2}  {:>6.1}  {:>10.1}  {:>4.1}",
                ours / lean,
                counts.passes,
                counts.paragraphs,
                few.paragraphs
            ),
            None => {
                println!("     –      –  {:>6.1}  {:>10.1}     –", counts.passes, counts.paragraphs)
            }
        }
    }
}

/// A press whose layout of that name is the lean one.
fn lean_press(layout: &str) -> Option<Press> {
    let at = PathBuf::from(env!("CARGO_MANIFEST_DIR")).join("tests/bench/lean").join(layout);
    let text = fs::read_to_string(at).ok()?;
    Some(Press::new(&[(layout.to_owned(), text)]).with(&Brand::default()))
}

/// Milliseconds of processor time of one paper. Different papers follow each other, so that the
/// memo of one is not the next one's gain; of one or two papers alone nothing is remembered.
fn timed(press: &Press, papers: &[DraftedPaper]) -> f64 {
    let one = |paper: &DraftedPaper| {
        press.print(&paper.draft, &paper.pictures).expect("the layouts hold");
        if papers.len() < 3 {
            typst::comemo::evict(0);
        }
    };
    papers.iter().for_each(one);
    let (from, start) = (processor_time(), Instant::now());
    let mut printed = 0;
    while start.elapsed() < LONG_ENOUGH {
        papers.iter().for_each(one);
        printed += papers.len();
    }
    (processor_time() - from).as_secs_f64() * 1000.0 / printed as f64
}

/// Of this process with all its threads, in hundredths of a second, as Linux tells it.
fn processor_time() -> Duration {
    let stat = fs::read_to_string("/proc/self/stat").unwrap_or_default();
    let after = stat.rsplit(')').next().unwrap_or_default();
    let ticks: u64 =
        after.split_whitespace().skip(11).take(2).filter_map(|n| n.parse::<u64>().ok()).sum();
    Duration::from_millis(ticks * 10)
}

struct Counts {
    passes: f64,
    paragraphs: f64,
}

/// Passes over the document and paragraphs broken into lines, per paper.
fn counted(press: &Press, papers: &[DraftedPaper]) -> Counts {
    let mut counts = Counts { passes: 0.0, paragraphs: 0.0 };
    for event in events(press, papers).iter().filter(|event| event.begins) {
        counts.passes += f64::from(u8::from(event.name.starts_with("iter (")));
        counts.paragraphs += f64::from(u8::from(event.name == "prepare"));
    }
    counts.passes /= papers.len() as f64;
    counts.paragraphs /= papers.len() as f64;
    counts
}

struct Event {
    name: String,
    /// File and line, where there is one.
    place: String,
    begins: bool,
    micros: f64,
    thread: u64,
}

/// What the typesetter says it did for each of the papers.
fn events(press: &Press, papers: &[DraftedPaper]) -> Vec<Event> {
    typst_timing::enable();
    typst_timing::clear();
    for paper in papers {
        press.print(&paper.draft, &paper.pictures).expect("the layouts hold");
    }
    typst_timing::disable();
    let mut json = Vec::new();
    let sources = sources();
    typst_timing::export_json(&mut json, |span| place_of(span, &sources)).expect("memory");
    let list: Vec<serde_json::Value> = serde_json::from_slice(&json).expect("what it wrote");
    list.iter()
        .map(|event| Event {
            name: event["name"].as_str().unwrap_or_default().to_owned(),
            place: event["args"]["file"]
                .as_str()
                .map_or(String::new(), |file| format!("{file}:{}", event["args"]["line"])),
            begins: event["ph"] == "B",
            micros: event["ts"].as_f64().unwrap_or_default(),
            thread: event["tid"].as_u64().unwrap_or_default(),
        })
        .collect()
}

fn sources() -> Vec<Source> {
    let of = |name: &str, text: &str| {
        let path = VirtualPath::new(name).ok()?;
        Some(Source::new(RootedPath::new(VirtualRoot::Project, path).intern(), text.to_owned()))
    };
    LAYOUTS.iter().filter_map(|layout| of(layout.name, layout.text)).collect()
}

fn place_of(span: NonZeroU64, sources: &[Source]) -> (String, u32) {
    let span = Span::from_raw(span);
    let source = sources.iter().find(|source| Some(source.id()) == span.id());
    let line = source.and_then(|source| {
        let range = source.find(span)?.range();
        source.lines().byte_to_line(range.start)
    });
    let name = source.map(|source| source.id().vpath().get_without_slash().to_owned());
    (name.unwrap_or_default(), line.map_or(0, |line| line as u32 + 1))
}

/// Where the time of one layout's papers goes: the work itself, without what it calls, by name and
/// by place in the layouts.
pub fn profile(folder: &Path, layout: &str) {
    let opened = Opened::open(folder, Need::FiguresAndWords).expect("a readable folder");
    let known = opened.known.as_ref().expect("a shop without errors");
    let all = papers(&opened, known).expect("readable photos");
    let papers: Vec<DraftedPaper> =
        all.into_iter().filter(|paper| paper.draft.layout.contains(layout)).collect();
    let press = opened.press();
    papers.iter().for_each(|p| drop(press.print(&p.draft, &p.pictures)));
    let events = events(&press, &papers);
    let (mut by_name, mut by_place) = (BTreeMap::new(), BTreeMap::new());
    let mut open: BTreeMap<u64, Vec<(&Event, f64)>> = BTreeMap::new();
    for event in &events {
        let stack = open.entry(event.thread).or_default();
        if event.begins {
            stack.push((event, 0.0));
            continue;
        }
        let Some((begun, inner)) = stack.pop() else { continue };
        let whole = event.micros - begun.micros;
        if let Some((_, inner)) = stack.last_mut() {
            *inner += whole;
        }
        let own = whole - inner;
        for (table, key) in [(&mut by_name, &begun.name), (&mut by_place, &begun.place)] {
            let entry: &mut (f64, f64, usize) = table.entry(key.clone()).or_default();
            *entry = (entry.0 + own, entry.1 + whole, entry.2 + 1);
        }
    }
    for table in [by_name, by_place] {
        let mut rows: Vec<_> = table.into_iter().collect();
        rows.sort_by(|a, b| b.1.0.total_cmp(&a.1.0));
        println!("   own ms  with inner   times");
        for (name, (own, whole, times)) in rows.into_iter().take(25) {
            let each = papers.len() as f64 * 1000.0;
            println!(
                "{:>9.3}  {:>10.3}  {:>6.1}  {name}",
                own / each,
                whole / each,
                times as f64 / papers.len() as f64
            );
        }
    }
}
