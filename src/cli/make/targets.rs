//! Which files a piece, an order, a quarter and a year have, and what goes into each.

use super::super::opened::{Known, KnownPiece};
use super::super::pictures::PieceShots;
use super::super::receipts::ReceiptFiles;
use super::bench::Bench;
use super::outcome::Made;
use crate::describe::{ENGLISH, description, english, html, language};
use crate::model::{Finding, Order, Place, Sources, languages_of};
use crate::reckon::year::{Quarter, Year};
use crate::typeset::{
    Credit, Draft, OrderPaper, ReceiptSize, Shot, Subject, before_and_after, buyers_receipt,
    care_card, care_card_large_print, care_cards_four_up, credit_receipt, income_summary,
    income_summary_parts, listing_sheet, order_paper, quarter_json, quarter_sheet, quarter_table,
    receipt_index, year_tables,
};
use std::sync::Arc;

/// A file to make: its place below the output folder and what goes into it.
pub struct Target {
    pub path: String,
    pub body: Body,
    /// The title of the one piece it is of; nothing for a paper of many.
    pub of: Option<Place>,
}

pub enum Body {
    Text(Arc<String>),
    Paper(Box<Draft>, Form),
}

/// What a paper is written as.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Form {
    Pdf,
    /// The first page as a PNG with this many pixels on its longer side.
    Png(u32),
}

/// What there is to make, and what is held back or cannot be made.
#[derive(Default)]
pub struct Plan {
    pub targets: Vec<Target>,
    pub left_out: Vec<Made>,
    /// What the papers show.
    pub photos: Option<PieceShots>,
    folder: String,
    of: Option<Place>,
}

impl Plan {
    /// Of files in a folder below the output folder, with its stroke at the end.
    pub fn within(folder: String) -> Plan {
        Plan { folder, ..Plan::default() }
    }

    /// Of what has one title.
    pub fn of(title: Place, folder: String) -> Plan {
        Plan { of: Some(title), ..Plan::within(folder) }
    }

    pub fn paper(&mut self, file: &str, draft: Draft) {
        self.add(file, Body::Paper(Box::new(draft), Form::Pdf));
    }

    fn picture(&mut self, file: &str, draft: Draft, pixels: u32) {
        self.add(file, Body::Paper(Box::new(draft), Form::Png(pixels)));
    }

    pub fn text(&mut self, file: &str, text: impl Into<Arc<String>>) {
        self.add(file, Body::Text(text.into()));
    }

    fn add(&mut self, file: &str, body: Body) {
        self.targets.push(Target { path: format!("{}{file}", self.folder), body, of: self.of });
    }

    pub fn leave_out(&mut self, what: impl Into<String>, findings: Vec<Finding>) {
        self.left_out.push(Made::LeftOut { what: what.into(), findings });
    }

    fn leave_out_file(&mut self, file: &str, findings: Vec<Finding>) {
        self.leave_out(format!("{}{file}", self.folder), findings);
    }
}

/// A piece as the sheets take it.
pub fn subject<'a>(known: &'a Known, piece: KnownPiece<'a>, shots: &'a [Shot<'a>]) -> Subject<'a> {
    let words = known.words(piece.index);
    Subject { shop: &known.shop, piece: piece.piece, tally: piece.tally, words, shots }
}

/// What each buyer is given, on a sheet and on half of one.
pub fn add_receipts(_: &Known, subject: &Subject, plan: &mut Plan) {
    let mut add = |name: String, of: &dyn Fn(ReceiptSize) -> Draft| {
        for (size, ending) in [(ReceiptSize::Sheet, ""), (ReceiptSize::Half, "-half-sheet")] {
            plan.paper(&format!("{name}{ending}.pdf"), of(size));
        }
    };
    for at in 0..subject.piece.sale.len() {
        let name = format!("buyers-receipt-{}", at + 1);
        add(name, &|size| buyers_receipt(subject, at, size));
    }
    for (at, credit) in Credit::all(subject.piece).enumerate() {
        let name = format!("credit-receipt-{}", at + 1);
        add(name, &|size| credit_receipt(subject, at, credit, size));
    }
}

/// The care card one up, four up and in large print, in English and in every language chosen for the piece.
pub fn add_cards(_: &Known, subject: &Subject, plan: &mut Plan) {
    let chosen = languages_of(subject.shop, subject.piece);
    let languages = std::iter::once(english()).chain(chosen.into_iter().filter_map(language));
    for language in languages {
        let name = match language.code {
            ENGLISH => "care-card".to_owned(),
            code => format!("care-card-{code}"),
        };
        plan.paper(&format!("{name}.pdf"), care_card(subject, language));
        plan.paper(&format!("{name}-four-up.pdf"), care_cards_four_up(subject, language));
        let large = care_card_large_print(subject, language);
        plan.paper(&format!("{name}-large-print.pdf"), large);
    }
}

/// Pixels of the longer side of a listing picture where the shop says nothing: about 145 to the
/// inch of a sheet, which is read on a screen without enlarging it.
const PICTURE_PIXELS: u32 = 1600;

fn pixels(subject: &Subject) -> u32 {
    subject.shop.picture_pixels.unwrap_or(PICTURE_PIXELS)
}

/// The first listing sheet as a picture.
pub fn add_listing_picture(_: &Known, subject: &Subject, plan: &mut Plan) {
    plan.picture("listing-picture.png", listing_sheet(subject), pixels(subject));
}

pub fn add_before_and_after(_: &Known, subject: &Subject, plan: &mut Plan) {
    if let Some(both) = before_and_after(subject) {
        plan.picture("before-and-after.png", both, pixels(subject));
    }
}

/// One description without limits, and one for each channel of the shop, as text and as HTML. One
/// that does not fit its channel's limits is left out with the reason; where the shop's own wording
/// has errors, all are.
pub fn add_descriptions(known: &Known, subject: &Subject, plan: &mut Plan) {
    let shop = &known.shop;
    let asked = subject.piece.listing.as_ref().and_then(|listing| listing.price);
    let channels = std::iter::once(None).chain(shop.channels.values().map(Some));
    for channel in channels {
        let name = channel
            .map_or("description".to_owned(), |channel| format!("description-{}", channel.key));
        let file = |ending: &str| format!("{name}.{ending}");
        let template = match &known.template {
            // What is wrong with it is shown with the findings of the shop's files.
            Some(Err(_)) => {
                plan.leave_out_file(&file("txt"), Vec::new());
                continue;
            }
            template => template.as_ref().and_then(|template| template.as_ref().ok()),
        };
        let price = asked.map(|at| at.value);
        let said = description(shop, subject.piece, subject.words, price, channel, template);
        if said.headline.is_empty() || said.body.is_empty() {
            plan.leave_out_file(&file("txt"), said.findings);
            continue;
        }
        plan.text(&file("txt"), format!("{}\n\n{}\n", said.headline, said.body));
        plan.text(&file("html"), html(&said));
    }
}

/// The income summary, its tables, and the index of receipts.
pub fn add_year(
    known: &Known,
    books: &Year,
    sources: &Sources,
    receipts: &ReceiptFiles,
    plan: &mut Plan,
) {
    let shop = &known.shop;
    let mut tables = year_tables(shop, books, sources);
    let (name, index) = receipt_index(shop, books, sources, receipts);
    tables.files.push((name, index.into()));
    plan.paper("income-summary.pdf", income_summary(shop, books, &tables, sources));
    for (name, part) in income_summary_parts(shop, books, sources) {
        plan.paper(&name, part);
    }
    for (name, text) in tables.files {
        plan.text(name, text);
    }
}

/// The estimate of an order; once it is done, the customer's receipt and the record.
pub fn add_order_papers(known: &Known, order: &Order, plan: &mut Plan) {
    let papers: &[(OrderPaper, &str)] = match order.done {
        None => &[(OrderPaper::Estimate, "estimate-sheet.pdf")],
        Some(_) => {
            &[(OrderPaper::Receipt, "receipt.pdf"), (OrderPaper::Record, "order-record.pdf")]
        }
    };
    for (paper, file) in papers {
        plan.paper(file, order_paper(&known.shop, order, *paper));
    }
}

/// A quarter on one page, as a table and as JSON.
pub fn add_quarter(bench: &Bench, quarter: &Quarter, plan: &mut Plan) {
    let (shop, sources) = (bench.shop(), bench.sources());
    let file = |ending: &str| format!("quarter-{}.{ending}", quarter.nth);
    plan.paper(&file("pdf"), quarter_sheet(shop, quarter, sources));
    plan.text(&file("csv"), quarter_table(shop, quarter));
    plan.text(&file("json"), format!("{:#}\n", quarter_json(shop, quarter, sources)));
}
