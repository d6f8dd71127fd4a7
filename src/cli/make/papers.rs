//! Every paper there is, declared once: its name, what it is of, when it is left out and what makes
//! it. What `--only` takes and every run of `make` follow from this table.

use super::super::args::MakeArgs;
use super::super::opened::Known;
use super::bench::Bench;
use super::outcome::Made;
use super::targets::{
    Plan, add_before_and_after, add_cards, add_descriptions, add_listing_picture, add_order_papers,
    add_quarter, add_receipts,
};
use crate::model::{Failure, Order};
use crate::reckon::year::{Quarter, Year};
use crate::typeset::{
    Subject, box_label, hang_tag, hang_tags, listing_sheet, not_offered, shop_record, stock_sheet,
};

/// A paper, or a group of them that is asked for by one name.
pub struct Paper {
    /// As `--only` takes it; a paper of each piece and one of all of them may share it.
    pub name: &'static str,
    pub of: Of,
}

/// What a paper is of, and what puts its files into a plan.
pub enum Of {
    Piece(Option<&'static LeftOut>, fn(&Known, &Subject, &mut Plan)),
    Order(fn(&Known, &Order, &mut Plan)),
    /// The shop as a whole; the words say what is made.
    Shop(&'static str, MadeOfShop),
    /// The shop as of a day.
    Day(&'static str, MadeOfShop),
    Year(fn(&Bench, &Year, &mut Plan) -> Result<(), Failure>),
    Quarter(fn(&Bench, &Quarter, &mut Plan)),
}

pub type MadeOfShop = fn(&Bench, &mut Plan) -> Result<(), Failure>;

/// When a paper of a piece is left out.
pub struct LeftOut {
    /// What is left out, in words that the piece's number follows.
    pub what: &'static str,
    /// Why, in words that follow a colon; nothing where it is made.
    pub why: fn(&Subject) -> Option<String>,
}

const OFFERS: LeftOut = LeftOut { what: "what offers", why: not_offered };
const RECORD: LeftOut = LeftOut { what: "the shop record of", why: not_reckoned };

fn not_reckoned(subject: &Subject) -> Option<String> {
    subject.tally.is_none().then(|| "its files have errors, so it has no figures".to_owned())
}

pub const PAPERS: &[Paper] = &[
    of_piece("listing", Some(&OFFERS), |_, subject, plan| {
        plan.paper("listing-sheet.pdf", listing_sheet(subject));
    }),
    of_piece("picture", Some(&OFFERS), add_listing_picture),
    of_piece("picture", Some(&OFFERS), add_before_and_after),
    of_piece("description", Some(&OFFERS), add_descriptions),
    of_piece("care-card", None, add_cards),
    of_piece("shop-record", Some(&RECORD), |_, subject, plan| {
        plan.paper("shop-record.pdf", shop_record(subject));
    }),
    of_piece("tag", Some(&OFFERS), |_, subject, plan| {
        plan.paper("hang-tag.pdf", hang_tag(subject));
    }),
    Paper {
        name: "tag",
        of: Of::Shop("the hang tags", |bench, plan| {
            bench.add_for_sale("tags.pdf", hang_tags, plan);
            Ok(())
        }),
    },
    of_piece("box-label", None, |_, subject, plan| {
        plan.paper("box-label.pdf", box_label(subject));
    }),
    of_piece("buyers-receipt", None, add_receipts),
    Paper { name: "order", of: Of::Order(add_order_papers) },
    Paper {
        name: "stock-sheet",
        of: Of::Shop("the stock sheet", |bench, plan| {
            bench.add_for_sale("stock-sheet.pdf", stock_sheet, plan);
            Ok(())
        }),
    },
    Paper {
        name: "inventory",
        of: Of::Day("the inventory", |bench, plan| bench.add_inventory(plan)),
    },
    Paper {
        name: "count-sheet",
        of: Of::Day("the count sheet", |bench, plan| bench.add_count_sheet(plan)),
    },
    Paper { name: "review", of: Of::Shop("the review", |bench, plan| bench.add_review(plan)) },
    Paper {
        name: "catalogue",
        of: Of::Shop("the catalogue", |bench, plan| bench.add_catalogue(plan)),
    },
    Paper {
        name: "income-summary",
        of: Of::Year(|bench, books, plan| bench.add_summary(books, plan)),
    },
    Paper { name: "quarter-sheet", of: Of::Quarter(add_quarter) },
];

const fn of_piece(
    name: &'static str,
    left_out: Option<&'static LeftOut>,
    add: fn(&Known, &Subject, &mut Plan),
) -> Paper {
    Paper { name, of: Of::Piece(left_out, add) }
}

/// The names `--only` takes, in the order of the table.
pub fn names() -> Vec<&'static str> {
    let mut names: Vec<&str> = PAPERS.iter().map(|paper| paper.name).collect();
    names.dedup();
    names
}

/// The papers a run is asked for.
pub fn wanted(args: &MakeArgs) -> Vec<&'static Paper> {
    let named = |paper: &Paper| args.only.is_empty() || args.only.iter().any(|n| n == paper.name);
    PAPERS.iter().filter(|paper| named(paper) && paper.of.is_within(args)).collect()
}

/// The files of one piece, in a folder of its own.
pub fn piece_plan(known: &Known, subject: &Subject, folder: &str, papers: &[&Paper]) -> Plan {
    let mut plan = Plan::of(subject.piece.title.place, format!("pieces/{folder}/"));
    for paper in papers {
        let Of::Piece(left_out, add) = paper.of else { continue };
        match left_out.and_then(|rule| Some((rule.what, (rule.why)(subject)?))) {
            None => add(known, subject, &mut plan),
            Some((what, why)) => {
                let piece = subject.piece.name().to_owned();
                plan.left_out.push(Made::NotOf { what, piece, why });
            }
        }
    }
    plan
}

impl Of {
    /// Whether what is asked for is of the one piece, year or day that was named, if any was.
    fn is_within(&self, args: &MakeArgs) -> bool {
        match self {
            Of::Day(..) if args.on.is_some() => true,
            Of::Piece(..) if args.piece.is_some() => true,
            Of::Year(_) | Of::Quarter(_) if args.year.is_some() => true,
            _ => args.on.is_none() && args.piece.is_none() && args.year.is_none(),
        }
    }
}
