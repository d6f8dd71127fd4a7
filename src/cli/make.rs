//! `make`: writes every document that is out of date under the output folder.

mod amiss;
mod bench;
mod outcome;
pub mod papers;
mod targets;

use super::args::MakeArgs;
use super::findings;
use super::opened::{Known, Opened};
use super::output::{OUT, Output};
use super::progress::Progress;
use super::workers::{cores, spread};
use super::{Screen, Status};
use crate::model::Failure;
use crate::reckon::year::quarters;
pub use amiss::amiss;
use bench::Bench;
pub use bench::DraftedPaper;
use outcome::{Outcome, finish};
use papers::{MadeOfShop, Of, wanted};
use std::error::Error;
use std::path::Path;

/// Writes what is out of date, says what was left out and why.
pub fn make(
    args: &MakeArgs,
    opened: &Opened,
    known: &Known,
    screen: &mut Screen,
) -> Result<Status, Failure> {
    let items = match items(args, known) {
        Ok(items) => items,
        Err(words) => {
            screen.complain(&words);
            return Ok(Status::Usage);
        }
    };
    start_pool()?;
    let waits = || screen.note("another run is at work in the folder `out`; waiting for its end\n");
    let output = match Output::open(&opened.folder, waits)? {
        Ok(output) => output,
        Err(finding) => {
            screen.complain(&findings::show(&finding, &opened.sources, screen.color()));
            return Ok(Status::Errors);
        }
    };
    let bench = Bench::new(args, opened, known, &output);
    let jobs = args.jobs.map_or_else(cores, usize::from);
    let mut outcome = Outcome::default();
    let mut progress = Progress::new(items.len(), screen.shows_progress());
    spread(
        items.len(),
        jobs,
        |i| bench.make(items[i]),
        |_, made| {
            progress.step(screen, |next| items[next].name(known));
            outcome.take(made)
        },
    )?;
    progress.end(screen);
    let pictures = bench.into_pictures();
    if outcome.is_whole(args, opened) {
        pictures.prune()?;
    }
    finish(args, opened, outcome, output, screen)
}

/// Starts the threads the exporter works on; once for all runs of a process.
fn start_pool() -> Result<(), Failure> {
    match rayon::ThreadPoolBuilder::new().build_global() {
        // Without a source it is only that they are there already.
        Err(e) if e.source().is_some() => {
            Err(Failure::new("start a thread for", Path::new(OUT), e))
        }
        _ => Ok(()),
    }
}

/// Every paper of a shop as `make` would typeset it, for whoever wants to look at the pages
/// themselves. Reduced photos are kept under the output folder, as by `make`.
///
/// # Errors
/// The machine failed while reading a photo or keeping a reduced one.
pub fn papers(opened: &Opened, known: &Known) -> Result<Vec<DraftedPaper>, Failure> {
    let args = MakeArgs::default();
    let output = Output::open(&opened.folder, || ())?
        .map_err(|finding| Failure::new("open", &opened.folder, finding.message))?;
    let bench = Bench::new(&args, opened, known, &output);
    let mut papers = Vec::new();
    for item in items(&args, known).unwrap_or_default() {
        papers.extend(bench.papers(item)?);
    }
    Ok(papers)
}

/// What is made in one go by one worker, the longest first, so that no core waits at the end for one
/// long paper.
#[derive(Clone, Copy)]
pub enum Item {
    Year(i32),
    /// A quarter of a year, 1 to 4.
    Quarter(i32, u32),
    /// A paper of the whole shop, with the words for it.
    Shop(&'static str, MadeOfShop),
    Order(usize),
    Piece(usize),
}

impl Item {
    /// What is made, for who waits for it.
    fn name(self, known: &Known) -> String {
        match self {
            Item::Year(of) => format!("the papers of {of}"),
            Item::Quarter(of, nth) => format!("the sheet of quarter {nth} of {of}"),
            Item::Shop(words, _) => words.to_owned(),
            Item::Order(index) => format!("the papers of {}", known.shop.orders[index].name()),
            Item::Piece(index) => format!("the papers of {}", known.at(index).piece.name()),
        }
    }

    fn rank(&self) -> u8 {
        match self {
            Item::Year(_) => 0,
            Item::Quarter(..) => 1,
            Item::Shop(..) => 2,
            Item::Order(_) => 3,
            Item::Piece(_) => 4,
        }
    }
}

/// What a run is to make, the longest first.
fn items(args: &MakeArgs, known: &Known) -> Result<Vec<Item>, String> {
    let shop = &known.shop;
    let years = || args.year.map_or_else(|| shop.active_years(), |year| vec![year]);
    let quarters_of = |year| quarters(shop, year).into_iter().map(move |n| Item::Quarter(year, n));
    let mut items: Vec<Item> = Vec::new();
    let mut of_pieces = false;
    for paper in wanted(args) {
        match paper.of {
            Of::Year(_) => items.extend(years().into_iter().map(Item::Year)),
            Of::Quarter(_) => items.extend(years().into_iter().flat_map(quarters_of)),
            Of::Shop(words, add) | Of::Day(words, add) => items.push(Item::Shop(words, add)),
            Of::Order(_) => items.extend((0..shop.orders.len()).map(Item::Order)),
            // All papers of a piece are made in one go.
            Of::Piece(..) => of_pieces = true,
        }
    }
    match &args.piece {
        Some(name) if of_pieces => items.push(Item::Piece(known.find(name)?.index)),
        None if of_pieces => items.extend((0..shop.pieces.len()).map(Item::Piece)),
        _ => {}
    }
    items.sort_by_key(Item::rank);
    Ok(items)
}
