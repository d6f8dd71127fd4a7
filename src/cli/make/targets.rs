//! Which files a piece, the stock and a year have, and what goes into each.

use super::super::args::DocumentName;
use super::super::opened::{Known, KnownPiece};
use super::outcome::Made;
use crate::describe::{Description, Document, description};
use crate::model::{Finding, Place, Sources};
use crate::reckon::year::Year;
use crate::typeset::{
    Draft, Shot, Subject, care_card, care_cards_four_up, income_summary, listing_sheet,
    shop_record, stock_sheet, year_tables,
};

/// A file to make: its place below the output folder and what goes into it.
pub struct Target {
    pub name: DocumentName,
    pub path: String,
    pub body: Body,
    /// The title of the one piece it is of; nothing for a paper of many.
    pub of: Option<Place>,
}

pub enum Body {
    Text(String),
    Paper(Box<Draft>),
}

/// What there is to make, and what is held back or cannot be made.
#[derive(Default)]
pub struct Plan {
    pub targets: Vec<Target>,
    pub left_out: Vec<Made>,
    of: Option<Place>,
}

impl Plan {
    fn paper(&mut self, name: DocumentName, path: String, draft: Draft) {
        let body = Body::Paper(Box::new(draft));
        self.targets.push(Target { name, path, body, of: self.of });
    }

    fn text(&mut self, name: DocumentName, path: String, text: String) {
        self.targets.push(Target { name, path, body: Body::Text(text), of: self.of });
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
    if words.held() {
        // Why it is held is said by `check`; here it only must not go unsaid.
        plan.leave_out(path("listing-sheet.pdf"), Vec::new());
    }
    if ready(Document::ListingSheet) {
        let sheet = listing_sheet(subject);
        plan.paper(DocumentName::Listing, path("listing-sheet.pdf"), sheet);
    }
    if ready(Document::Description) {
        add_descriptions(known, subject, &path, &mut plan);
    }
    if ready(Document::CareCard) {
        plan.paper(DocumentName::CareCard, path("care-card.pdf"), care_card(subject));
        let four_up = care_cards_four_up(subject);
        plan.paper(DocumentName::CareCard, path("care-card-four-up.pdf"), four_up);
    }
    if ready(Document::ShopRecord) && subject.tally.is_some() {
        plan.paper(DocumentName::ShopRecord, path("shop-record.pdf"), shop_record(subject));
    }
    plan
}

/// One description without limits, and one for each channel of the shop. One that does not fit its
/// channel's limits is left out with the reason.
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
        let file = channel.map_or("description.txt".to_owned(), |channel| {
            format!("description-{}.txt", channel.key)
        });
        let price = asked.map(|at| at.value);
        let Description { headline, body, findings } =
            description(shop, subject.piece, subject.words, price, channel);
        if headline.is_empty() || body.is_empty() {
            plan.leave_out(path(&file), findings);
        } else {
            let text = format!("{headline}\n\n{body}\n");
            plan.text(DocumentName::Description, path(&file), text);
        }
    }
}

/// Everything for sale on one sheet.
pub fn of_stock(known: &Known) -> Plan {
    let subjects: Vec<Subject> = known.pieces().map(|piece| subject(known, piece, &[])).collect();
    let mut plan = Plan::default();
    if let Some(sheet) = stock_sheet(&subjects) {
        plan.paper(DocumentName::StockSheet, "stock-sheet.pdf".to_owned(), sheet);
    }
    plan
}

/// The income summary and its tables.
pub fn of_year(known: &Known, books: &Year, sources: &Sources) -> Plan {
    let (shop, reckoned) = (&known.shop, &known.reckoned);
    let tables = year_tables(shop, reckoned, books, sources);
    let path = |name: &str| format!("years/{}/{name}", books.year);
    let mut plan = Plan::default();
    let summary = income_summary(shop, reckoned, books, &tables, sources);
    plan.paper(DocumentName::IncomeSummary, path("income-summary.pdf"), summary);
    for (name, text) in tables.files {
        plan.text(DocumentName::IncomeSummary, path(name), text);
    }
    plan
}
