//! The command line: opens a shop, does one verb, writes files and shows what was found.
//!
//! A verb is a file with one function. Data goes to standard output, everything else to standard
//! error; only this floor prints and writes.

mod apart;
mod args;
mod brand;
mod check;
mod check_sources;
mod explain;
mod figures;
mod files;
mod findings;
mod folders;
mod gate;
mod make;
mod offer;
mod opened;
mod output;
mod owed;
mod pictures;
mod price;
mod progress;
mod receipts;
mod record;
mod review;
mod schema;
mod screen;
mod start;
mod table;
mod tally;
mod trace;
mod typed;
mod workers;
mod year;

pub use apart::{serve, set_program};
pub use args::{Arguments, FileKind, Verb};
pub use make::{DraftedPaper, papers};
pub use opened::{Known, KnownPiece, Need, Opened};
pub use screen::Screen;

use crate::model::{Code, Failure, counted};
use crate::read::find_shop;
use clap::Parser;
use std::ffi::OsString;
use std::path::PathBuf;
use std::process::ExitCode;

/// How a run ended, as its exit status.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Status {
    Done,
    /// The shop's files have errors.
    Errors,
    /// What was typed does not make sense.
    Usage,
    /// The machine failed.
    Failed,
    /// There are warnings, which were asked to count, and no errors.
    Warnings,
}

impl Status {
    pub fn code(self) -> u8 {
        match self {
            Status::Done => 0,
            Status::Errors => 1,
            Status::Usage => 2,
            Status::Failed => 3,
            Status::Warnings => 4,
        }
    }
}

impl From<Status> for ExitCode {
    fn from(status: Status) -> ExitCode {
        ExitCode::from(status.code())
    }
}

/// The licences of everything the program is made with.
const NOTICES: &str = include_str!("cli/notices.txt");

/// Runs what was typed. The first argument is the program's own name.
pub fn run(typed: impl IntoIterator<Item = OsString>, screen: &mut Screen) -> Status {
    let typed: Vec<OsString> = typed.into_iter().collect();
    if typed.len() == 2 && typed[1] == "--licenses" {
        screen.data(NOTICES);
        return finish(Status::Done, screen);
    }
    let arguments = match Arguments::try_parse_from(typed) {
        Ok(arguments) => arguments,
        Err(e) => return show_usage(&e, screen),
    };
    screen.configure(arguments.color, arguments.quiet);
    let status = carry_out(&arguments, screen).unwrap_or_else(|failure| {
        screen.complain(&format!("failure: {failure}\n"));
        Status::Failed
    });
    finish(status, screen)
}

/// Help and version are data; a misuse is not.
fn show_usage(e: &clap::Error, screen: &mut Screen) -> Status {
    let words = e.render().to_string();
    let status = if e.use_stderr() {
        screen.complain(&words);
        Status::Usage
    } else {
        screen.data(&words);
        Status::Done
    };
    finish(status, screen)
}

/// What could not be written, as to a full disk, is said and fails the run.
fn finish(status: Status, screen: &mut Screen) -> Status {
    match screen.finish() {
        Ok(()) => status,
        Err(e) => {
            screen.complain(&format!("failure: could not write what was asked for: {e}\n"));
            Status::Failed
        }
    }
}

fn carry_out(arguments: &Arguments, screen: &mut Screen) -> Result<Status, Failure> {
    if let Verb::Schema(args) = &arguments.verb {
        screen.data(&format!("{:#}\n", schema::schema(args.file_kind)));
        return Ok(Status::Done);
    }
    if let Verb::Check(args) = &arguments.verb
        && let Some(code) = &args.explain
    {
        return Ok(explain::code(code, screen));
    }
    if let Verb::Make(args) = &arguments.verb
        && let Some(layout) = &args.explain_layout
    {
        return Ok(explain::explain(layout, screen));
    }
    let Some(folder) = shop_folder(arguments)? else {
        screen.complain(
            "there is no shop.toml here or in any folder above; go to your shop folder, or name \
             it with --shop DIR\n",
        );
        return Ok(Status::Usage);
    };
    let opened = Opened::open(&folder, need(&arguments.verb))?;
    match &arguments.verb {
        Verb::Check(args) => return check::check(args, &opened, screen),
        Verb::Start(args) => return start::start(args, &opened, screen),
        _ => {}
    }
    let status = match &opened.known {
        Some(known) => report(&arguments.verb, known, &opened, screen)?,
        None => Status::Done,
    };
    if matches!(arguments.verb, Verb::Make(_)) && status != Status::Usage {
        show_looks(&opened, screen);
    }
    if opened.has_errors() && status != Status::Usage {
        let in_full = matches!(arguments.verb, Verb::Make(_)) || opened.known.is_none();
        show_errors(&opened, in_full, screen);
        return Ok(Status::Errors);
    }
    Ok(status)
}

fn need(verb: &Verb) -> Need {
    match verb {
        Verb::Check(_) | Verb::Make(_) => Need::FiguresAndWords,
        _ => Need::Figures,
    }
}

/// The verbs that need figures.
fn report(
    verb: &Verb,
    known: &Known,
    opened: &Opened,
    screen: &mut Screen,
) -> Result<Status, Failure> {
    Ok(match verb {
        Verb::Tally(args) => tally::tally(args, known, screen),
        Verb::Review(args) => review::review(args, known, screen),
        Verb::Price(args) => price::price(args, known, screen),
        Verb::Offer(args) => offer::offer(args, known, screen),
        Verb::Make(args) => make::make(args, opened, known, screen)?,
        Verb::Year(args) => year::year(args, known, opened, screen),
        Verb::Trace(args) => trace::trace(args, known, opened, screen),
        Verb::Check(_) | Verb::Start(_) | Verb::Schema(_) => Status::Done,
    })
}

fn shop_folder(arguments: &Arguments) -> Result<Option<PathBuf>, Failure> {
    match &arguments.shop {
        Some(folder) => Ok(Some(folder.clone())),
        None => {
            let here = std::env::current_dir()
                .map_err(|e| Failure::new("find", std::path::Path::new("."), e))?;
            Ok(find_shop(&here))
        }
    }
}

/// What shop.toml says of the look of the paper and could not be followed: the papers are made all
/// the same, and not what was asked for.
fn show_looks(opened: &Opened, screen: &mut Screen) {
    let of_shop = |file| opened.sources.get(file).is_some_and(|source| source.path == "shop.toml");
    for finding in opened.findings.iter().filter(|finding| !finding.is_error()) {
        if of_shop(finding.place.file) || finding.code == Code::LayoutUnused {
            screen.complain(&findings::show(finding, &opened.sources, screen.color()));
        }
    }
}

/// What makes the figures incomplete: each error, or how many there are and where to see them.
fn show_errors(opened: &Opened, in_full: bool, screen: &mut Screen) {
    let errors: Vec<_> = opened.findings.iter().filter(|f| f.is_error()).collect();
    let count = counted(errors.len(), "error in the shop's files", "errors in the shop's files");
    if in_full {
        for finding in &errors {
            screen.complain(&findings::show(finding, &opened.sources, screen.color()));
        }
        screen.complain(&format!("{count}; what needs them was left out\n"));
    } else {
        screen.complain(&format!(
            "{count}; what needs them was left out. `dovetally check` shows them\n"
        ));
    }
}
