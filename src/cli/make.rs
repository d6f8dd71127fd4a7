//! `make`: writes every document that is out of date under the output folder.

mod amiss;
mod bench;
mod outcome;
mod targets;

use super::args::{DocumentName, MakeArgs};
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

/// What is made in one go by one worker.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
enum Item {
    Piece(usize),
    Order(usize),
    StockSheet,
    Inventory,
    CountSheet,
    Review,
    HangTags,
    Catalogue,
    Year(i32),
    /// A quarter of a year, 1 to 4.
    Quarter(i32, u32),
}

impl Item {
    fn is_of_a_day(self) -> bool {
        matches!(self, Item::Inventory | Item::CountSheet)
    }

    /// What is made, for who waits for it.
    fn name(self, known: &Known) -> String {
        match self {
            Item::Piece(index) => format!("the papers of {}", known.at(index).piece.name()),
            Item::Order(index) => format!("the papers of {}", known.shop.orders[index].name()),
            Item::StockSheet => "the stock sheet".to_owned(),
            Item::Inventory => "the inventory".to_owned(),
            Item::CountSheet => "the count sheet".to_owned(),
            Item::Review => "the review".to_owned(),
            Item::HangTags => "the hang tags".to_owned(),
            Item::Catalogue => "the catalogue".to_owned(),
            Item::Year(of) => format!("the papers of {of}"),
            Item::Quarter(of, nth) => format!("the sheet of quarter {nth} of {of}"),
        }
    }
}

/// What a run is to make, the longest first, so that no core waits at the end for one long paper.
fn items(args: &MakeArgs, known: &Known) -> Result<Vec<Item>, String> {
    let wants = |names: &[DocumentName]| {
        args.only.is_empty() || args.only.iter().any(|name| names.contains(name))
    };
    let mut items = Vec::new();
    if args.on.is_some() {
        let of_day =
            SHOP_DOCUMENTS.into_iter().filter(|(name, item)| wants(&[*name]) && item.is_of_a_day());
        return Ok(of_day.map(|(_, item)| item).collect());
    }
    let years = || args.year.map_or_else(|| known.shop.active_years(), |year| vec![year]);
    if args.piece.is_none() && wants(&[DocumentName::IncomeSummary]) {
        items.extend(years().into_iter().map(Item::Year));
    }
    if args.piece.is_none() && wants(&[DocumentName::QuarterSheet]) {
        let of_year = |year| quarters(&known.shop, year).into_iter().map(move |n| (year, n));
        let all = years().into_iter().flat_map(of_year);
        items.extend(all.map(|(year, nth)| Item::Quarter(year, nth)));
    }
    if args.piece.is_none() && args.year.is_none() {
        let of_all = SHOP_DOCUMENTS.into_iter().filter(|(name, _)| wants(&[*name]));
        items.extend(of_all.map(|(_, item)| item));
        if wants(&[DocumentName::Order]) {
            items.extend((0..known.shop.orders.len()).map(Item::Order));
        }
    }
    if args.year.is_none() && wants(&PIECE_DOCUMENTS) {
        match &args.piece {
            Some(name) => items.push(Item::Piece(known.find(name)?.index)),
            None => items.extend((0..known.shop.pieces.len()).map(Item::Piece)),
        }
    }
    Ok(items)
}

const PIECE_DOCUMENTS: [DocumentName; 8] = [
    DocumentName::Listing,
    DocumentName::Picture,
    DocumentName::Description,
    DocumentName::CareCard,
    DocumentName::ShopRecord,
    DocumentName::Tag,
    DocumentName::BoxLabel,
    DocumentName::BuyersReceipt,
];

const SHOP_DOCUMENTS: [(DocumentName, Item); 6] = [
    (DocumentName::Catalogue, Item::Catalogue),
    (DocumentName::Inventory, Item::Inventory),
    (DocumentName::CountSheet, Item::CountSheet),
    (DocumentName::Tag, Item::HangTags),
    (DocumentName::StockSheet, Item::StockSheet),
    (DocumentName::Review, Item::Review),
];
