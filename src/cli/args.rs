//! What can be typed. Every option's words stand here and nowhere else.

use super::make::papers::names;
use crate::reckon::state::State;
use chrono::NaiveDate;
use clap::builder::{PossibleValuesParser, TypedValueParser};
use clap::{Args, Parser, Subcommand, ValueEnum};
use std::path::PathBuf;

/// Reads a folder of furniture-restoring project files and reports on it: what each piece cost
/// and earned, what to ask for it, the paper that goes with it, and the year's income summary.
#[derive(Debug, Parser)]
#[command(name = "dovetally", version, max_term_width = 100, arg_required_else_help = true)]
#[command(after_help = "`dovetally --licenses` prints the licences of the works it is made with.")]
pub struct Arguments {
    /// The shop folder; else the nearest folder upwards that holds shop.toml
    #[arg(long, global = true, value_name = "DIR")]
    pub shop: Option<PathBuf>,
    /// Say only what went wrong
    #[arg(long, short, global = true)]
    pub quiet: bool,
    /// Colour on the screen
    #[arg(long, global = true, value_name = "WHEN", default_value = "auto")]
    pub color: Color,
    #[command(subcommand)]
    pub verb: Verb,
}

#[derive(Clone, Copy, Debug, PartialEq, Eq, ValueEnum)]
pub enum Color {
    Auto,
    Always,
    Never,
}

#[derive(Debug, Subcommand)]
pub enum Verb {
    /// Show everything there is to say about the shop's files, and what each document still lacks
    Check(CheckArgs),
    /// A row per piece: cost, price, what it left, hours; and the totals
    Tally(TallyArgs),
    /// The shop as a whole: its years, and its pieces by kind, source and finish
    Review(ReviewArgs),
    /// The lowest and the suggested asking price of a piece, per channel
    Price(PriceArgs),
    /// The most to pay for a piece not yet bought
    Offer(OfferArgs),
    /// Write every document that is out of date under out/
    Make(MakeArgs),
    /// The year's books: form lines, cost of goods sold and its proof
    Year(YearArgs),
    /// The entries a figure of the year is made of, with file and line
    Trace(TraceArgs),
    /// Write a new piece file whose comments teach the format
    Start(StartArgs),
    /// Print the JSON Schema of a file kind, for an editor
    Schema(SchemaArgs),
}

#[derive(Debug, Args)]
pub struct CheckArgs {
    /// Also show advice: what would make a better sheet
    #[arg(long)]
    pub advice: bool,
    /// Only this piece, by its number or folder, with everything about its papers
    #[arg(long, value_name = "PIECE")]
    pub piece: Option<String>,
    /// For programs
    #[arg(long)]
    pub json: bool,
    /// Exit status 4 where there are warnings and no errors
    #[arg(long)]
    pub strict: bool,
    /// Only list every row of the tables that is used, what is known of its source, and what to
    /// read again
    #[arg(long, conflicts_with = "advice")]
    pub sources: bool,
    /// Only say what a code means, such as unknown-key, with an example; or `all` of them
    #[arg(long, value_name = "CODE", conflicts_with_all = ["advice", "sources"])]
    pub explain: Option<String>,
}

#[derive(Debug, Args)]
pub struct TallyArgs {
    /// Only pieces sold in this year
    #[arg(long, value_name = "YEAR")]
    pub year: Option<i32>,
    /// Only pieces in this state
    #[arg(long, value_name = "STATE", value_parser = states())]
    pub state: Option<State>,
    /// The order of the rows
    #[arg(long, value_name = "BY", default_value = "number")]
    pub sort: Sort,
    /// Who owes what instead: not paid, deposits, reserved
    #[arg(long, conflicts_with_all = ["year", "state"])]
    pub owed: bool,
    /// As JSON
    #[arg(long, conflicts_with = "csv")]
    pub json: bool,
    /// As CSV
    #[arg(long)]
    pub csv: bool,
}

#[derive(Debug, Args)]
pub struct ReviewArgs {
    /// As JSON
    #[arg(long, conflicts_with = "csv")]
    pub json: bool,
    /// As CSV
    #[arg(long)]
    pub csv: bool,
}

/// The states as `tally` prints them.
fn states() -> impl TypedValueParser<Value = State> {
    PossibleValuesParser::new(State::ALL.map(State::word)).map(|typed| {
        let named = State::ALL.into_iter().find(|state| state.word() == typed);
        named.expect("one of the values above")
    })
}

#[derive(Clone, Copy, Debug, PartialEq, Eq, ValueEnum)]
pub enum Sort {
    Number,
    Cost,
    Price,
    Net,
    Hours,
    PerHour,
    Held,
}

#[derive(Debug, Args)]
pub struct PriceArgs {
    /// The piece's number, or its folder's name
    pub piece: String,
    /// Also the price that leaves this gross margin, such as 45%
    #[arg(long, value_name = "PERCENT")]
    pub margin: Option<String>,
    /// Also the price that earns this much an hour
    #[arg(long, value_name = "AMOUNT")]
    pub hourly: Option<String>,
    /// Also the price that leaves this net
    #[arg(long, value_name = "AMOUNT")]
    pub net: Option<String>,
    /// Work on, or sell as it is for this much?
    #[arg(long, value_name = "AMOUNT")]
    pub as_found: Option<String>,
    /// With --as-found: the price once the work is done; else what is asked or suggested
    #[arg(long, value_name = "AMOUNT", requires = "as_found")]
    pub after: Option<String>,
    /// With --as-found: what the further work will cost in goods
    #[arg(long, value_name = "AMOUNT", requires = "as_found")]
    pub costs: Option<String>,
    /// With --as-found: the hours the further work will take
    #[arg(long, value_name = "HOURS", requires = "as_found")]
    pub hours: Option<String>,
    /// Only this channel
    #[arg(long, value_name = "CHANNEL")]
    pub channel: Option<String>,
    /// As JSON
    #[arg(long)]
    pub json: bool,
}

#[derive(Debug, Args)]
pub struct OfferArgs {
    /// The price it will sell for; else the median of the shop's own sold pieces of the kind
    #[arg(long, value_name = "AMOUNT")]
    pub expect: Option<String>,
    /// The kind of piece, such as dresser
    #[arg(long, value_name = "KIND")]
    pub kind: Option<String>,
    /// The hours it will take
    #[arg(long, value_name = "HOURS")]
    pub hours: Option<String>,
    /// What it will cost in goods and carriage
    #[arg(long, value_name = "AMOUNT")]
    pub costs: Option<String>,
    /// The channel it will sell on
    #[arg(long, value_name = "CHANNEL")]
    pub channel: Option<String>,
    /// What an hour should earn; else the shop rate
    #[arg(long, value_name = "AMOUNT")]
    pub hourly: Option<String>,
    /// As JSON
    #[arg(long)]
    pub json: bool,
}

#[derive(Debug, Default, Args)]
pub struct MakeArgs {
    /// Only these documents, separated by commas
    #[arg(long, value_name = "DOCUMENTS", value_delimiter = ',', value_parser = PossibleValuesParser::new(names()))]
    pub only: Vec<String>,
    /// Only the documents of this piece
    #[arg(long, value_name = "PIECE")]
    pub piece: Option<String>,
    /// Only the income summary and the quarter sheets of this year
    #[arg(long, value_name = "YEAR", conflicts_with = "piece")]
    pub year: Option<i32>,
    /// Only what is of a day: the inventory and the count sheet, as of this one; else they are of the
    /// day of the last entry
    #[arg(long, value_name = "DAY", conflicts_with_all = ["piece", "year"])]
    pub on: Option<NaiveDate>,
    /// How many documents are typeset at a time; else one per core
    #[arg(long, value_name = "N", value_parser = clap::value_parser!(u16).range(1..=256))]
    pub jobs: Option<u16>,
    /// Write even what is up to date
    #[arg(long)]
    pub force: bool,
    /// Write nothing, but print every field this layout is given, such as listing-sheet
    #[arg(long, value_name = "LAYOUT")]
    pub explain_layout: Option<String>,
}

#[derive(Debug, Args)]
pub struct YearArgs {
    /// The year of the books
    pub year: i32,
    /// Only a quarter of it, 1 to 4
    #[arg(long, value_name = "NUMBER", value_parser = clap::value_parser!(u32).range(1..=4))]
    pub quarter: Option<u32>,
    /// Only a month of it, 1 to 12 from the first of the tax year
    #[arg(long, value_name = "NUMBER", value_parser = clap::value_parser!(u32).range(1..=12), conflicts_with = "quarter")]
    pub month: Option<u32>,
    /// As JSON
    #[arg(long)]
    pub json: bool,
}

#[derive(Debug, Args)]
pub struct TraceArgs {
    /// The year of the books
    pub year: i32,
    /// The figure's name, such as line-1 or closing-stock; left out, the names there are
    pub figure: Option<String>,
}

#[derive(Debug, Args)]
pub struct StartArgs {
    /// The piece's title, such as "Oak washstand"
    pub title: String,
}

#[derive(Debug, Args)]
pub struct SchemaArgs {
    /// The kind of file
    pub file_kind: FileKind,
}

#[derive(Clone, Copy, Debug, PartialEq, Eq, ValueEnum)]
pub enum FileKind {
    Shop,
    Stock,
    Books,
    Piece,
    Order,
}
