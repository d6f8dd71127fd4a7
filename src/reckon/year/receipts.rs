//! What sales brought in and cost: receipts, refunds, fees, delivery and sales tax, for the year
//! and for each channel.

use super::books::Books;
use super::ledger::{Contribution, Ledger};
use super::units::MoveKind;
use crate::model::{Money, Place, Return, Sale};
use crate::reckon::fee::sale_fee;
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
    pub flow: Flow,
    pub part: Contribution,
}

/// Every amount that a sale or a return of the year moved.
pub(super) fn sale_entries(books: &Books) -> Vec<SaleEntry> {
    let mut entries = Vec::new();
    for (piece, moves) in books.moves.iter().enumerate() {
        let file = &books.shop.pieces[piece];
        for step in moves.iter().filter(|step| books.in_year(step.on)) {
            match step.kind {
                MoveKind::Sold { sale } => sold(books, piece, &file.sale[sale], &mut entries),
                MoveKind::Returned { returned, sale } => {
                    let (back, sale) = (&file.returned[returned], &file.sale[sale]);
                    came_back(books, piece, back, sale, &mut entries);
                }
                MoveKind::Withdrawn(_) => {}
            }
        }
    }
    entries
}

struct Entries<'a> {
    channel: Option<String>,
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
        self.into.push(SaleEntry { channel: self.channel.clone(), flow, part });
    }
}

fn sold(books: &Books, piece: usize, sale: &Sale, into: &mut Vec<SaleEntry>) {
    let (channel, title) = (channel_of(sale), books.title(piece));
    let mut entries = Entries { channel, title, place: sale.place, on: sale.on.value, into };
    entries.add(Flow::Price, "price", sale.price.value);
    entries.add(Flow::DeliveryCharged, "delivery charged", sale.delivery_charged);
    entries.add(tax_flow(books, sale), "sales tax", sale.tax_collected);
    entries.add(Flow::Fee, "fee", sale_fee(books.shop, sale).unwrap_or_default());
    entries.add(Flow::DeliveryCost, "delivery", sale.delivery_cost);
}

fn came_back(books: &Books, piece: usize, back: &Return, sale: &Sale, into: &mut Vec<SaleEntry>) {
    let (channel, title) = (channel_of(sale), books.title(piece));
    let mut entries = Entries { channel, title, place: back.place, on: back.on.value, into };
    entries.add(Flow::Refund, "refund", back.refunded.value);
    entries.add(tax_flow(books, sale), "sales tax returned", -back.tax_returned);
    entries.add(Flow::Fee, "fee returned", -back.fee_returned);
    entries.add(Flow::DeliveryCost, "fetched back", back.delivery_cost);
}

fn channel_of(sale: &Sale) -> Option<String> {
    sale.channel.as_ref().map(|key| key.value.clone())
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
    ("receipts", "Price and delivery charged of all sales", &[Flow::Price, Flow::DeliveryCharged]),
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
    let remitted = books.shop.years.values().flat_map(|book| &book.remitted);
    let parts = remitted
        .filter(|remitted| books.in_year(remitted.on.value))
        .map(|r| Contribution::new(r.place, r.on.value, r.to.as_str(), r.amount.value))
        .collect();
    ledger.put("tax-remitted", "Sales tax passed on", parts);
}

/// The entries of each channel; sales through none are under `None`.
pub(super) fn by_channel(sales: &[SaleEntry]) -> BTreeMap<Option<&str>, Vec<&SaleEntry>> {
    let mut channels: BTreeMap<Option<&str>, Vec<&SaleEntry>> = BTreeMap::new();
    for entry in sales {
        channels.entry(entry.channel.as_deref()).or_default().push(entry);
    }
    channels
}
