//! `make`: writes every document that is out of date under the output folder.

use super::args::{DocumentName, MakeArgs};
use super::files::{Fingerprint, Output, write_whole};
use super::folders::piece_folders;
use super::opened::{Known, Opened};
use super::pictures::{Pictures, PieceShots};
use super::workers::{cores, spread};
use super::{Screen, Status, findings};
use crate::describe::{Document, Strength, description};
use crate::model::{Failure, FileId, Finding, Place, Sources, counted};
use crate::reckon::year::{self, Year};
use crate::typeset::{
    Draft, LayoutFault, Press, Subject, care_card, care_cards_four_up, income_summary,
    listing_sheet, shop_record, stock_sheet, year_tables,
};
use std::panic::{AssertUnwindSafe, catch_unwind};
use std::sync::OnceLock;
use std::time::{Duration, Instant};

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
    let output = Output::open(&opened.folder);
    let bench = Bench::new(args, opened, known, &output);
    let jobs = args.jobs.map_or_else(cores, usize::from);
    let mut tally = Outcome::default();
    let mut progress = Progress::new(items.len(), screen.shows_progress());
    spread(
        items.len(),
        jobs,
        |i| bench.make(items[i]),
        |_, made| {
            progress.step(screen);
            tally.take(made)
        },
    );
    progress.end(screen);
    drop(bench);
    finish(args, opened, tally, output, screen)
}

/// What is made in one go by one worker.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
enum Item {
    Piece(usize),
    StockSheet,
    Year(i32),
}

fn items(args: &MakeArgs, known: &Known) -> Result<Vec<Item>, String> {
    let wants = |names: &[DocumentName]| {
        args.only.is_empty() || args.only.iter().any(|name| names.contains(name))
    };
    let mut items = Vec::new();
    if args.year.is_none() && wants(&PIECE_DOCUMENTS) {
        match &args.piece {
            Some(name) => items.push(Item::Piece(known.find(name)?.index)),
            None => items.extend((0..known.shop.pieces.len()).map(Item::Piece)),
        }
    }
    if args.piece.is_none() && args.year.is_none() && wants(&[DocumentName::StockSheet]) {
        items.push(Item::StockSheet);
    }
    if args.piece.is_none() && wants(&[DocumentName::IncomeSummary]) {
        let years = year::years(&known.shop);
        match args.year {
            Some(year) => items.push(Item::Year(year)),
            None => items.extend(years.into_iter().map(Item::Year)),
        }
    }
    Ok(items)
}

const PIECE_DOCUMENTS: [DocumentName; 4] = [
    DocumentName::Listing,
    DocumentName::Description,
    DocumentName::CareCard,
    DocumentName::ShopRecord,
];

/// What became of one file.
enum Made {
    Kept(String),
    Wrote {
        path: String,
        from: String,
        bytes: usize,
    },
    /// Nothing was written, for these reasons.
    LeftOut {
        what: String,
        findings: Vec<Finding>,
    },
}

/// A file to make: its place below the output folder and what goes into it.
struct Target {
    name: DocumentName,
    path: String,
    body: Body,
}

enum Body {
    Text(String),
    Paper(Box<Draft>),
}

/// Everything the workers share.
struct Bench<'a> {
    args: &'a MakeArgs,
    opened: &'a Opened,
    known: &'a Known,
    output: &'a Output,
    /// Built with the first document that is out of date.
    press: OnceLock<Press>,
    /// Of the shop's own layouts and the built-in ones.
    layouts: String,
    folders: Vec<String>,
    pictures: Pictures<'a>,
}

impl<'a> Bench<'a> {
    fn new(
        args: &'a MakeArgs,
        opened: &'a Opened,
        known: &'a Known,
        output: &'a Output,
    ) -> Bench<'a> {
        let mut print = Fingerprint::new();
        for (name, text) in crate::typeset::LAYOUTS.iter().map(|l| (l.name, l.text)) {
            print.add(name.as_bytes());
            print.add(text.as_bytes());
        }
        for (name, text) in opened.own_layouts() {
            print.add(name.as_bytes());
            print.add(text.as_bytes());
        }
        Bench {
            args,
            opened,
            known,
            output,
            press: OnceLock::new(),
            layouts: print.text(),
            folders: piece_folders(&known.shop),
            pictures: Pictures::new(&opened.folder, output.folder()),
        }
    }

    fn make(&self, item: Item) -> Result<Vec<Made>, Failure> {
        match item {
            Item::Piece(index) => self.piece(index),
            Item::StockSheet => self.stock_sheet(),
            Item::Year(year) => self.year(year),
        }
    }

    fn piece(&self, index: usize) -> Result<Vec<Made>, Failure> {
        let piece = self.known.at(index);
        let photos = self.pictures.of(piece.piece)?;
        let shots = photos.shots(piece.piece);
        let subject = Subject {
            shop: &self.known.shop,
            piece: piece.piece,
            tally: piece.tally,
            words: piece.words,
            shots: &shots,
        };
        let mut made = Vec::new();
        if !photos.findings.is_empty() {
            let what = format!("pictures of {}", piece.piece.name());
            made.push(Made::LeftOut { what, findings: photos.findings.clone() });
        }
        let (targets, left_out) = self.piece_targets(&subject, &self.folders[index]);
        made.extend(left_out);
        for target in targets.into_iter().filter(|target| self.wants(target.name)) {
            made.push(self.target(&target, Some(&photos))?);
        }
        Ok(made)
    }

    fn wants(&self, name: DocumentName) -> bool {
        self.args.only.is_empty() || self.args.only.contains(&name)
    }

    /// The files of one piece, and what is held back or cannot be made.
    fn piece_targets(&self, subject: &Subject, folder: &str) -> (Vec<Target>, Vec<Made>) {
        let words = subject.words;
        let held = words.cautions.iter().any(|caution| caution.strength == Strength::Hold);
        let lacking = |document| words.lacks.iter().any(|l| l.needed && l.document == document);
        let path = |name: &str| format!("pieces/{folder}/{name}");
        let mut targets = Vec::new();
        let mut left_out = Vec::new();
        let mut add = |name, file: &str, body| {
            targets.push(Target { name, path: path(file), body });
        };
        let paper = |draft| Body::Paper(Box::new(draft));
        if !held && !lacking(Document::ListingSheet) {
            add(DocumentName::Listing, "listing-sheet.pdf", paper(listing_sheet(subject)));
        }
        if !held && !lacking(Document::Description) {
            for (file, text, findings) in self.descriptions(subject) {
                if findings.iter().any(Finding::is_error) {
                    left_out.push(Made::LeftOut { what: path(&file), findings });
                } else {
                    add(DocumentName::Description, &file, Body::Text(text));
                }
            }
        }
        if !lacking(Document::CareCard) {
            add(DocumentName::CareCard, "care-card.pdf", paper(care_card(subject)));
            let four_up = paper(care_cards_four_up(subject));
            add(DocumentName::CareCard, "care-card-four-up.pdf", four_up);
        }
        if !lacking(Document::ShopRecord) && subject.tally.is_some() {
            add(DocumentName::ShopRecord, "shop-record.pdf", paper(shop_record(subject)));
        }
        if held {
            left_out.push(Made::LeftOut { what: path("listing-sheet.pdf"), findings: Vec::new() });
        }
        (targets, left_out)
    }

    /// One description without limits, and one for each channel of the shop.
    fn descriptions(&self, subject: &Subject) -> Vec<(String, String, Vec<Finding>)> {
        let shop = &self.known.shop;
        let price = subject.piece.listing.as_ref().and_then(|listing| listing.price);
        let one = |channel| {
            let made =
                description(shop, subject.piece, subject.words, price.map(|at| at.value), channel);
            (format!("{}\n\n{}\n", made.headline, made.body), made.findings)
        };
        let (text, findings) = one(None);
        let mut all = vec![("description.txt".to_owned(), text, findings)];
        for channel in shop.channels.values() {
            let (text, findings) = one(Some(channel));
            all.push((format!("description-{}.txt", channel.key), text, findings));
        }
        all
    }

    fn stock_sheet(&self) -> Result<Vec<Made>, Failure> {
        let subjects: Vec<Subject> = self
            .known
            .pieces()
            .map(|p| Subject {
                shop: &self.known.shop,
                piece: p.piece,
                tally: p.tally,
                words: p.words,
                shots: &[],
            })
            .collect();
        let Some(draft) = stock_sheet(&subjects) else { return Ok(Vec::new()) };
        let body = Body::Paper(Box::new(draft));
        let path = "stock-sheet.pdf".to_owned();
        Ok(vec![self.target(&Target { name: DocumentName::StockSheet, path, body }, None)?])
    }

    fn year(&self, year: i32) -> Result<Vec<Made>, Failure> {
        let reckoned = &self.known.reckoned;
        match year::year(&self.known.shop, &reckoned.run, &reckoned.costs, year) {
            Ok(books) => self.year_files(&books),
            Err(findings) => {
                let what = format!("the income summary of {year}");
                Ok(vec![Made::LeftOut { what, findings }])
            }
        }
    }

    fn year_files(&self, books: &Year) -> Result<Vec<Made>, Failure> {
        let tables =
            year_tables(&self.known.shop, &self.known.reckoned, books, &self.opened.sources);
        let draft = income_summary(
            &self.known.shop,
            &self.known.reckoned,
            books,
            &tables,
            &self.opened.sources,
        );
        let file = |name: &str, body| Target {
            name: DocumentName::IncomeSummary,
            path: format!("years/{}/{name}", books.year),
            body,
        };
        let mut targets = vec![file("income-summary.pdf", Body::Paper(Box::new(draft)))];
        targets
            .extend(tables.files.iter().map(|(name, text)| file(name, Body::Text(text.clone()))));
        targets.iter().map(|target| self.target(target, None)).collect()
    }

    /// Keeps a file that is up to date, else makes it.
    fn target(&self, target: &Target, photos: Option<&PieceShots>) -> Result<Made, Failure> {
        let from = self.fingerprint(target, photos);
        if !self.args.force && self.output.is_up_to_date(&target.path, &from) {
            return Ok(Made::Kept(target.path.clone()));
        }
        let bytes = match &target.body {
            Body::Text(text) => text.clone().into_bytes(),
            Body::Paper(draft) => {
                let pictures = match photos {
                    Some(photos) => self.pictures.print(&draft.pictures, photos)?,
                    None => Vec::new(),
                };
                match self.print(draft, &pictures) {
                    Ok(pdf) => pdf,
                    Err(faults) => {
                        let findings = faults.iter().map(|f| self.layout_finding(f)).collect();
                        return Ok(Made::LeftOut { what: target.path.clone(), findings });
                    }
                }
            }
        };
        write_whole(&self.output.folder().join(&target.path), &bytes)?;
        Ok(Made::Wrote { path: target.path.clone(), from, bytes: bytes.len() })
    }

    /// Typesets one document. A typesetter that gives up on one takes no other down with it.
    fn print(&self, draft: &Draft, pictures: &[Vec<u8>]) -> Result<Vec<u8>, Vec<LayoutFault>> {
        let press = self.press();
        let printed = catch_unwind(AssertUnwindSafe(|| press.print(draft, pictures)));
        match printed {
            Ok(printed) => printed.map(|paper| paper.pdf),
            Err(_) => Err(vec![LayoutFault {
                layout: draft.layout.to_owned(),
                range: None,
                message: "the typesetter gave up on this document".to_owned(),
                hints: Vec::new(),
            }]),
        }
    }

    fn fingerprint(&self, target: &Target, photos: Option<&PieceShots>) -> String {
        let mut print = Fingerprint::new();
        match &target.body {
            Body::Text(text) => print.add(text.as_bytes()),
            Body::Paper(draft) => {
                print.add(self.layouts.as_bytes());
                print.add(draft.layout.as_bytes());
                print.add(&draft.data);
                for used in &draft.pictures {
                    print.add(photos.map_or("", |photos| photos.hash(used.photo)).as_bytes());
                }
            }
        }
        print.text()
    }

    fn press(&self) -> &Press {
        self.press.get_or_init(|| {
            let own: Vec<(String, String)> = self
                .opened
                .own_layouts()
                .map(|(name, text)| (name.to_owned(), text.to_owned()))
                .collect();
            Press::new(&own)
        })
    }

    /// An error in a layout, placed in the shop's own file where it is one.
    fn layout_finding(&self, fault: &LayoutFault) -> Finding {
        let own = self.opened.layouts.iter().find(|(name, _)| *name == fault.layout);
        let place =
            own.map_or(Place::NOWHERE, |(_, file)| place_in(*file, fault, &self.opened.sources));
        let message = match own {
            Some(_) => fault.message.clone(),
            None => format!("the built-in layout {}: {}", fault.layout, fault.message),
        };
        let finding = Finding::error("layout", place, message);
        match fault.hints.first() {
            Some(hint) => finding.hint(hint.clone()),
            None => finding,
        }
    }
}

fn place_in(file: FileId, fault: &LayoutFault, sources: &Sources) -> Place {
    let end = sources.get(file).map_or(0, |source| source.text.len());
    Place::new(file, fault.range.clone().unwrap_or(0..end.min(1)))
}

/// What a run came to.
#[derive(Default)]
struct Outcome {
    kept: Vec<String>,
    wrote: Vec<(String, String, usize)>,
    left_out: Vec<(String, Vec<Finding>)>,
    failure: Option<Failure>,
}

impl Outcome {
    /// Takes what one item came to; says whether to go on.
    fn take(&mut self, made: Result<Vec<Made>, Failure>) -> bool {
        let made = match made {
            Ok(made) => made,
            Err(failure) => {
                self.failure.get_or_insert(failure);
                return false;
            }
        };
        for one in made {
            match one {
                Made::Kept(path) => self.kept.push(path),
                Made::Wrote { path, from, bytes } => self.wrote.push((path, from, bytes)),
                Made::LeftOut { what, findings } => self.left_out.push((what, findings)),
            }
        }
        true
    }
}

/// Records what was made, and says so.
fn finish(
    args: &MakeArgs,
    opened: &Opened,
    mut outcome: Outcome,
    mut output: Output,
    screen: &mut Screen,
) -> Result<Status, Failure> {
    for path in &outcome.kept {
        output.keep(path);
    }
    let written = outcome.wrote.len();
    for (path, from, bytes) in std::mem::take(&mut outcome.wrote) {
        output.wrote(&path, from, bytes);
    }
    let all = args.only.is_empty()
        && args.piece.is_none()
        && args.year.is_none()
        && outcome.failure.is_none()
        && !opened.has_errors();
    let removed = output.close(all)?;
    if let Some(failure) = outcome.failure {
        return Err(failure);
    }
    outcome.left_out.sort_by(|a, b| a.0.cmp(&b.0));
    let mut errors = false;
    for (what, found) in &outcome.left_out {
        for finding in found {
            errors |= finding.is_error();
            screen.complain(&findings::show(finding, &opened.sources, screen.color()));
        }
        screen.complain(&format!("left out: {what}\n"));
    }
    let mut said = format!("{} written", counted(written, "file", "files"));
    if !outcome.kept.is_empty() {
        said += &format!(", {} up to date", outcome.kept.len());
    }
    if !removed.is_empty() {
        said += &format!(", {} removed that no piece needs any more", removed.len());
    }
    screen.note(&format!("{said}, under {}\n", output_words(opened)));
    Ok(if errors { Status::Errors } else { Status::Done })
}

fn output_words(opened: &Opened) -> String {
    opened.folder.join(super::files::OUT).display().to_string()
}

/// One line on a terminal, and only once the work has taken a moment.
struct Progress {
    total: usize,
    done: usize,
    shown: bool,
    since: Instant,
}

impl Progress {
    fn new(total: usize, wanted: bool) -> Progress {
        Progress {
            total: if wanted { total } else { 0 },
            done: 0,
            shown: false,
            since: Instant::now(),
        }
    }

    fn step(&mut self, screen: &mut Screen) {
        self.done += 1;
        let due = Duration::from_millis(if self.shown { 100 } else { 700 });
        if self.total > 0 && self.since.elapsed() >= due {
            screen.note(&format!("\r{} of {}", self.done, self.total));
            self.shown = true;
            self.since = Instant::now();
        }
    }

    fn end(&self, screen: &mut Screen) {
        if self.shown {
            screen.note("\r\u{1b}[K");
        }
    }
}
