//! What sales brought in and cost: receipts, refunds, fees, delivery and sales tax, for the year
//! and for each channel.

use super::books::Books;
use super::ledger::{Contribution, Ledger};
use super::units::MoveKind;
use crate::model::{Money, Piece, Place, Remitted, Return, Sale};
use crate::reckon::fee::sale_fee;
use crate::reckon::payments::{self, Event, EventKind, Of};
use chrono::NaiveDate;
use std::collections::BTreeMap;

/// The kinds of money a sale moves.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub(super) enum Flow {
    Price,
    DeliveryCharged,
    /// Collected by the shop for the state: a debt, never income.
    TaxCollected,
    /// Collected by a channel that remits it itself: never in the books, only in its report.
    TaxOfMarketplace,
    Fee,
    DeliveryCost,
    Refund,
}

/// One amount of one sale or return of the year.
pub(super) struct SaleEntry {
    /// Key of the channel; nothing for a sale through none.
    pub channel: Option<String>,
    /// Key of the place whose sales tax it was sold under.
    pub tax_place: Option<String>,
    pub flow: Flow,
    pub part: Contribution,
}

/// Every amount that a sale, a payment, an allowance or a return moved in the year.
pub(super) fn sale_entries(books: &Books) -> Vec<SaleEntry> {
    let mut entries = Vec::new();
    for piece in 0..books.shop.pieces.len() {
        Selling { books, piece, into: &mut entries }.year();
    }
    entries
}

/// The sales of one piece.
struct Selling<'a> {
    books: &'a Books<'a>,
    piece: usize,
    into: &'a mut Vec<SaleEntry>,
}

impl<'a> Selling<'a> {
    fn file(&self) -> &'a Piece {
        &self.books.shop.pieces[self.piece]
    }

    fn year(&mut self) {
        let (books, file) = (self.books, self.file());
        for step in books.moves[self.piece].iter().filter(|step| books.in_year(step.on)) {
            match step.kind {
                MoveKind::Sold { sale } => self.sold(sale),
                MoveKind::Returned { returned, sale } => {
                    self.came_back(&file.returned[returned], sale);
                }
                MoveKind::Withdrawn(_) => {}
            }
        }
        if !file.payment.is_empty() {
            self.payments();
        }
        self.allowances();
        self.parts();
    }

    /// Whether money for a sale counts on the days it was paid.
    fn by_payment(&self, sale: usize) -> bool {
        self.books.cash() && payments::has_payments(self.file(), sale)
    }

    fn entries(&mut self, sale: Option<usize>, place: Place, on: NaiveDate) -> Entries<'_> {
        let sale = sale.map(|sale| &self.file().sale[sale]);
        let channel = sale.and_then(|sale| sale.channel.as_ref()).map(|key| key.value.clone());
        let tax_place = sale.and_then(|sale| sale.tax_place.as_ref()).map(|key| key.value.clone());
        let tax = sale.map_or(Flow::TaxCollected, |sale| tax_flow(self.books, sale));
        let title = self.books.title(self.piece);
        Entries { channel, tax_place, tax, title, place, on, into: self.into }
    }

    fn sold(&mut self, at: usize) {
        let (sale, shop) = (&self.file().sale[at], self.books.shop);
        let later = self.by_payment(at);
        let mut entries = self.entries(Some(at), sale.place, sale.on.value);
        if !later {
            entries.add(Flow::Price, "price", sale.price.value);
            entries.add(Flow::DeliveryCharged, "delivery charged", sale.delivery_charged);
            entries.tax("sales tax", sale.tax_collected);
        }
        entries.add(Flow::Fee, "fee", sale_fee(shop, sale).unwrap_or_default());
        entries.add(Flow::DeliveryCost, "delivery", sale.delivery_cost);
    }

    fn came_back(&mut self, back: &Return, sale: usize) {
        let given_up = match self.books.cash() {
            true => Money::ZERO,
            false => self.books.given_up_by(self.piece, sale, back),
        };
        let mut entries = self.entries(Some(sale), back.place, back.on.value);
        entries.add(Flow::Refund, "refund", back.refunded.value);
        entries.add(Flow::Refund, "still owed when it came back", given_up);
        entries.tax("sales tax returned", -back.tax_returned);
        entries.add(Flow::Fee, "fee returned", -back.fee_returned);
        entries.add(Flow::DeliveryCost, "fetched back", back.delivery_cost);
    }

    /// On cash basis: what was paid in the year, for sales of any year and as deposits.
    fn payments(&mut self) {
        let file = self.file();
        if !self.books.cash() {
            return;
        }
        for sale in (0..file.sale.len()).filter(|&sale| payments::has_payments(file, sale)) {
            self.events(Some(sale), payments::events(file, sale));
        }
        self.events(None, payments::deposits(file));
    }

    fn events(&mut self, sale: Option<usize>, events: Vec<Event>) {
        let books = self.books;
        for event in events.into_iter().filter(|event| books.in_year(event.on)) {
            let mut entries = self.entries(sale, event.place, event.on);
            match event.kind {
                EventKind::Allowance => {
                    entries.add(Flow::Refund, "allowance", -event.paid.received());
                    entries.tax("sales tax of an allowance", event.paid.tax);
                }
                EventKind::Payment | EventKind::Back => {
                    let said = if sale.is_none() { "deposit" } else { "payment" };
                    let said = if event.kind == EventKind::Back { "went back" } else { said };
                    entries.add(Flow::Price, said, event.paid.price);
                    entries.add(Flow::DeliveryCharged, said, event.paid.delivery);
                    entries.tax(said, event.paid.tax);
                }
            }
        }
    }

    /// Allowances: in full, but where the sale's money counts by payment, which has said so.
    fn allowances(&mut self) {
        let (books, file) = (self.books, self.file());
        for one in file.allowance.iter().filter(|one| books.in_year(one.on.value)) {
            let of = payments::of(file, one.on.value, one.sale_on.map(|on| on.value));
            let Of::Sale(sale) = of else { continue };
            let by_payment = self.by_payment(sale);
            let mut entries = self.entries(Some(sale), one.place, one.on.value);
            if !by_payment {
                entries.add(Flow::Refund, "allowance", one.amount.value);
                entries.tax("sales tax of an allowance", -one.tax_returned);
            }
            entries.add(Flow::Fee, "fee returned", -one.fee_returned);
        }
    }

    fn parts(&mut self) {
        let books = self.books;
        for part in books.costs[self.piece].parts_sold.iter().filter(|p| books.in_year(p.on)) {
            let said = format!("{}, sold by itself", part.what);
            self.entries(None, part.place, part.on).add(Flow::Price, &said, part.price);
        }
    }
}

struct Entries<'a> {
    channel: Option<String>,
    tax_place: Option<String>,
    /// Who remits the sales tax of this sale.
    tax: Flow,
    title: String,
    place: Place,
    on: NaiveDate,
    into: &'a mut Vec<SaleEntry>,
}

impl Entries<'_> {
    fn add(&mut self, flow: Flow, said: &str, amount: Money) {
        if amount.is_zero() {
            return;
        }
        let what = format!("{}: {said}", self.title);
        let part = Contribution::new(self.place, self.on, what, amount);
        let (channel, tax_place) = (self.channel.clone(), self.tax_place.clone());
        self.into.push(SaleEntry { channel, tax_place, flow, part });
    }

    fn tax(&mut self, said: &str, amount: Money) {
        self.add(self.tax, said, amount);
    }
}

fn tax_flow(books: &Books, sale: &Sale) -> Flow {
    let channel = sale.channel.as_ref().and_then(|key| books.shop.channels.get(&key.value));
    match channel {
        Some(channel) if channel.collects_tax => Flow::TaxOfMarketplace,
        _ => Flow::TaxCollected,
    }
}

/// The figures made of sales, and which flows each takes.
const FIGURES: &[(&str, &str, &[Flow])] = &[
    ("receipts", "Price and delivery charged", &[Flow::Price, Flow::DeliveryCharged]),
    ("refunds", "Refunded to buyers", &[Flow::Refund]),
    ("channel-fees", "Fees of channels, less what was returned", &[Flow::Fee]),
    ("delivery", "Delivery paid, to buyers and back", &[Flow::DeliveryCost]),
    ("tax-collected", "Sales tax collected by the shop", &[Flow::TaxCollected]),
    ("tax-marketplace", "Sales tax collected and remitted by channels", &[Flow::TaxOfMarketplace]),
];

/// Enters receipts, refunds, fees, delivery and sales tax.
pub(super) fn enter(books: &Books, sales: &[SaleEntry], ledger: &mut Ledger) {
    for (name, label, flows) in FIGURES {
        let taken = sales.iter().filter(|entry| flows.contains(&entry.flow));
        ledger.put(name, label, taken.map(|entry| entry.part.clone()).collect());
    }
    let remitted = remitted(books);
    let passed_on = remitted.iter().map(|r| remitted_part(r, r.amount.value)).collect();
    ledger.put("tax-remitted", "Sales tax passed on", passed_on);
    let kept = remitted.iter().map(|r| remitted_part(r, r.kept)).collect();
    ledger.put("tax-kept", "Sales tax the shop may keep for collecting it", kept);
}

/// What was passed on in the year.
pub(super) fn remitted<'a>(books: &Books<'a>) -> Vec<&'a Remitted> {
    let all = books.shop.years.values().flat_map(|book| &book.remitted);
    all.filter(|remitted| books.in_year(remitted.on.value)).collect()
}

pub(super) fn remitted_part(remitted: &Remitted, amount: Money) -> Contribution {
    Contribution::new(remitted.place, remitted.on.value, remitted.to.as_str(), amount)
}

/// The entries of each channel; sales through none are under `None`.
pub(super) fn by_channel(sales: &[SaleEntry]) -> BTreeMap<Option<&str>, Vec<&SaleEntry>> {
    let mut channels: BTreeMap<Option<&str>, Vec<&SaleEntry>> = BTreeMap::new();
    for entry in sales {
        channels.entry(entry.channel.as_deref()).or_default().push(entry);
    }
    channels
}
