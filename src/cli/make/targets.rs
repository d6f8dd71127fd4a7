//! Which files a piece, the stock and a year have, and what goes into each.

use super::super::args::DocumentName;
use super::super::opened::{Known, KnownPiece};
use super::super::receipts::ReceiptFiles;
use super::outcome::Made;
use crate::describe::{Document, ENGLISH, description, english, html, language};
use crate::model::{Finding, Order, Place, Sources, languages_of};
use crate::reckon::year::{Quarter, Year};
use crate::typeset::{
    Credit, Draft, OrderPaper, ReceiptSize, Shot, Subject, before_and_after, box_label,
    buyers_receipt, care_card, care_card_large_print, care_cards_four_up, catalogue,
    credit_receipt, hang_tag, hang_tags, income_summary, income_summary_parts, listing_sheet,
    not_offered, order_paper, quarter_json, quarter_sheet, quarter_table, receipt_index,
    review_sheet, shop_record, stock_sheet, year_tables,
};
use std::sync::Arc;

/// A file to make: its place below the output folder and what goes into it.
pub struct Target {
    pub name: DocumentName,
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
    of: Option<Place>,
}

impl Plan {
    pub fn paper(&mut self, name: DocumentName, path: String, draft: Draft) {
        let body = Body::Paper(Box::new(draft), Form::Pdf);
        self.targets.push(Target { name, path, body, of: self.of });
    }

    fn picture(&mut self, path: String, draft: Draft, pixels: u32) {
        let body = Body::Paper(Box::new(draft), Form::Png(pixels));
        self.targets.push(Target { name: DocumentName::Picture, path, body, of: self.of });
    }

    pub fn text(&mut self, name: DocumentName, path: String, text: impl Into<Arc<String>>) {
        self.targets.push(Target { name, path, body: Body::Text(text.into()), of: self.of });
    }

    pub fn leave_out(&mut self, what: String, findings: Vec<Finding>) {
        self.left_out.push(Made::LeftOut { what, findings });
    }
}

/// A piece as the sheets take it.
pub fn subject<'a>(known: &'a Known, piece: KnownPiece<'a>, shots: &'a [Shot<'a>]) -> Subject<'a> {
    let words = known.words(piece.index);
    Subject { shop: &known.shop, piece: piece.piece, tally: piece.tally, words, shots }
}

/// The files of one piece, in a folder of its own.
pub fn of_piece(known: &Known, subject: &Subject, folder: &str) -> Plan {
    let words = subject.words;
    let ready = |document| !words.lacks.iter().any(|l| l.needed && l.document == document);
    let path = |name: &str| format!("pieces/{folder}/{name}");
    let mut plan = Plan { of: Some(subject.piece.title.place), ..Plan::default() };
    if let Some(why) = not_offered(subject) {
        let piece = subject.piece.name().to_owned();
        plan.left_out.push(Made::NotOffered { piece, why });
    } else {
        let sheet = listing_sheet(subject);
        add_pictures(subject, &sheet, &path, &mut plan);
        plan.paper(DocumentName::Listing, path("listing-sheet.pdf"), sheet);
        plan.paper(DocumentName::Tag, path("hang-tag.pdf"), hang_tag(subject));
        add_descriptions(known, subject, &path, &mut plan);
    }
    plan.paper(DocumentName::BoxLabel, path("box-label.pdf"), box_label(subject));
    if ready(Document::CareCard) {
        add_cards(subject, &path, &mut plan);
    }
    if ready(Document::ShopRecord) && subject.tally.is_some() {
        plan.paper(DocumentName::ShopRecord, path("shop-record.pdf"), shop_record(subject));
    }
    add_receipts(subject, &path, &mut plan);
    plan
}

/// What each buyer is given, on a sheet and on half of one.
fn add_receipts(subject: &Subject, path: &impl Fn(&str) -> String, plan: &mut Plan) {
    let mut add = |name: String, of: &dyn Fn(ReceiptSize) -> Draft| {
        for (size, ending) in [(ReceiptSize::Sheet, ""), (ReceiptSize::Half, "-half-sheet")] {
            let path = path(&format!("{name}{ending}.pdf"));
            plan.paper(DocumentName::BuyersReceipt, path, of(size));
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
fn add_cards(subject: &Subject, path: &impl Fn(&str) -> String, plan: &mut Plan) {
    let chosen = languages_of(subject.shop, subject.piece);
    let languages = std::iter::once(english()).chain(chosen.into_iter().filter_map(language));
    for language in languages {
        let name = match language.code {
            ENGLISH => "care-card".to_owned(),
            code => format!("care-card-{code}"),
        };
        let one = care_card(subject, language);
        plan.paper(DocumentName::CareCard, path(&format!("{name}.pdf")), one);
        let four = care_cards_four_up(subject, language);
        plan.paper(DocumentName::CareCard, path(&format!("{name}-four-up.pdf")), four);
        let large = care_card_large_print(subject, language);
        plan.paper(DocumentName::CareCard, path(&format!("{name}-large-print.pdf")), large);
    }
}

/// Pixels of the longer side of a listing picture where the shop says nothing: about 145 to the
/// inch of a sheet, which is read on a screen without enlarging it.
const PICTURE_PIXELS: u32 = 1600;

fn add_pictures(subject: &Subject, sheet: &Draft, path: &impl Fn(&str) -> String, plan: &mut Plan) {
    let pixels = subject.shop.picture_pixels.unwrap_or(PICTURE_PIXELS);
    plan.picture(path("listing-picture.png"), sheet.clone(), pixels);
    if let Some(both) = before_and_after(subject) {
        plan.picture(path("before-and-after.png"), both, pixels);
    }
}

/// One description without limits, and one for each channel of the shop, as text and as HTML. One
/// that does not fit its channel's limits is left out with the reason; where the shop's own wording
/// has errors, all are.
fn add_descriptions(
    known: &Known,
    subject: &Subject,
    path: &impl Fn(&str) -> String,
    plan: &mut Plan,
) {
    let shop = &known.shop;
    let asked = subject.piece.listing.as_ref().and_then(|listing| listing.price);
    let channels = std::iter::once(None).chain(shop.channels.values().map(Some));
    for channel in channels {
        let name = channel
            .map_or("description".to_owned(), |channel| format!("description-{}", channel.key));
        let file = |ending: &str| path(&format!("{name}.{ending}"));
        let template = match &known.template {
            // What is wrong with it is shown with the findings of the shop's files.
            Some(Err(_)) => {
                plan.leave_out(file("txt"), Vec::new());
                continue;
            }
            template => template.as_ref().and_then(|template| template.as_ref().ok()),
        };
        let price = asked.map(|at| at.value);
        let said = description(shop, subject.piece, subject.words, price, channel, template);
        if said.headline.is_empty() || said.body.is_empty() {
            plan.leave_out(file("txt"), said.findings);
            continue;
        }
        let text = format!("{}\n\n{}\n", said.headline, said.body);
        plan.text(DocumentName::Description, file("txt"), text);
        plan.text(DocumentName::Description, file("html"), html(&said));
    }
}

/// Everything for sale on one sheet.
pub fn of_stock(subjects: &[Subject]) -> Plan {
    let mut plan = Plan::default();
    if let Some(sheet) = stock_sheet(subjects) {
        plan.paper(DocumentName::StockSheet, "stock-sheet.pdf".to_owned(), sheet);
    }
    plan
}

/// The shop looked at as a whole.
pub fn of_review(known: &Known) -> Plan {
    let mut plan = Plan::default();
    if let Some(sheet) = review_sheet(&known.shop, &known.review()) {
        plan.paper(DocumentName::Review, "review.pdf".to_owned(), sheet);
    }
    plan
}

/// The tags of everything for sale.
pub fn of_tags(subjects: &[Subject]) -> Plan {
    let mut plan = Plan::default();
    if let Some(tags) = hang_tags(subjects) {
        plan.paper(DocumentName::Tag, "tags.pdf".to_owned(), tags);
    }
    plan
}

/// The catalogue of pieces, given with their photos.
pub fn of_catalogue(subjects: &[Subject]) -> Plan {
    let mut plan = Plan::default();
    if let Some(book) = catalogue(subjects) {
        plan.paper(DocumentName::Catalogue, "catalogue.pdf".to_owned(), book);
    }
    plan
}

/// The income summary, its tables, and the index of receipts.
pub fn of_year(known: &Known, books: &Year, sources: &Sources, receipts: &ReceiptFiles) -> Plan {
    let shop = &known.shop;
    let mut tables = year_tables(shop, books, sources);
    let (name, index) = receipt_index(shop, books, sources, receipts);
    tables.files.push((name, index.into()));
    let path = |name: &str| format!("years/{}/{name}", books.year);
    let mut plan = Plan::default();
    let summary = income_summary(shop, books, &tables, sources);
    plan.paper(DocumentName::IncomeSummary, path("income-summary.pdf"), summary);
    for (name, part) in income_summary_parts(shop, books, sources) {
        plan.paper(DocumentName::IncomeSummary, path(&name), part);
    }
    for (name, text) in tables.files {
        plan.text(DocumentName::IncomeSummary, path(name), text);
    }
    plan
}

/// The estimate of an order; once it is done, the customer's receipt and the record.
pub fn of_order(known: &Known, order: &Order, folder: &str) -> Plan {
    let papers: &[(OrderPaper, &str)] = match order.done {
        None => &[(OrderPaper::Estimate, "estimate-sheet")],
        Some(_) => &[(OrderPaper::Receipt, "receipt"), (OrderPaper::Record, "order-record")],
    };
    let mut plan = Plan { of: Some(order.title.place), ..Plan::default() };
    for (paper, name) in papers {
        let path = format!("orders/{folder}/{name}.pdf");
        plan.paper(DocumentName::Order, path, order_paper(&known.shop, order, *paper));
    }
    plan
}

/// A quarter on one page, as a table and as JSON.
pub fn of_quarter(known: &Known, quarter: &Quarter, sources: &Sources) -> Plan {
    let shop = &known.shop;
    let path =
        |ending: &str| format!("years/{}/quarter-{}.{ending}", quarter.own.year, quarter.nth);
    let name = DocumentName::QuarterSheet;
    let mut plan = Plan::default();
    plan.paper(name, path("pdf"), quarter_sheet(shop, quarter, sources));
    plan.text(name, path("csv"), quarter_table(shop, quarter));
    plan.text(name, path("json"), format!("{:#}\n", quarter_json(shop, quarter, sources)));
    plan
}
