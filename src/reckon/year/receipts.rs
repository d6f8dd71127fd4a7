//! What sales brought in and cost: receipts, refunds, fees and delivery, for the year and for each
//! channel. What of the sales tax is owed to the state is reckoned in `tax`.

use super::books::Books;
use super::ledger::{Contribution, Ledger};
use super::names::Total;
use crate::model::{Money, Piece, Place};
use crate::reckon::fee::sale_fee;
use crate::reckon::payments::{Account, Event, EventKind};
use chrono::NaiveDate;
use std::collections::BTreeMap;

/// The kinds of money a sale moves.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub(super) enum Flow {
    Price,
    DeliveryCharged,
    /// Paid with them, whoever passes it on: never income, but a channel may report it.
    Tax,
    /// Given back with a return or an allowance.
    TaxReturned,
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
        let books = self.books;
        let accounts = &books.accounts[self.piece];
        for (sale, account) in accounts.sales.iter().enumerate() {
            self.sold(sale, account);
            for event in account.events.iter().filter(|event| books.in_year(event.on)) {
                self.event(sale, account, event);
            }
        }
        if books.cash() {
            let deposits = accounts.deposits.iter().filter(|event| books.in_year(event.on));
            deposits.for_each(|event| self.deposit(event));
        } else {
            for kept in accounts.kept.iter().filter(|kept| books.in_year(kept.on)) {
                let mut entries = self.entries(None, kept.place, kept.on);
                entries.add(Flow::Price, "deposit kept, the sale fell through", kept.amount);
            }
        }
        self.parts();
    }

    fn entries(&mut self, sale: Option<usize>, place: Place, on: NaiveDate) -> Entries<'_> {
        let sale = sale.map(|sale| &self.file().sale[sale]);
        let channel = sale.and_then(|sale| sale.channel.as_ref()).map(|key| key.value.clone());
        let title = self.books.title(self.piece);
        Entries { channel, title, place, on, into: self.into }
    }

    /// What counts on the day of the sale: fee and delivery on both bases, what it asks on accrual.
    fn sold(&mut self, at: usize, account: &Account) {
        let (books, sale) = (self.books, &self.file().sale[at]);
        if !books.in_year(sale.on.value) {
            return;
        }
        let mut entries = self.entries(Some(at), sale.place, sale.on.value);
        if !books.cash() {
            entries.add(Flow::Price, "price", account.asked.price);
            entries.add(Flow::DeliveryCharged, "delivery charged", account.asked.delivery);
            entries.add(Flow::Tax, "sales tax", account.asked.tax);
        }
        entries.add(Flow::Fee, "fee", sale_fee(books.shop, sale).unwrap_or_default());
        entries.add(Flow::DeliveryCost, "delivery", sale.delivery_cost);
    }

    fn event(&mut self, sale: usize, account: &Account, event: &Event) {
        let cash = self.books.cash();
        let mut entries = self.entries(Some(sale), event.place, event.on);
        match event.kind {
            EventKind::Payment | EventKind::Back if cash => entries.paid(event, account),
            EventKind::Payment | EventKind::Back => {}
            EventKind::Allowance => {
                let back = if cash { -event.moved() } else { event.lowers() };
                entries.add(Flow::Refund, "allowance", back.without_tax());
                entries.add(Flow::TaxReturned, "sales tax of an allowance", -back.tax);
            }
            EventKind::Return => {
                let given_up = if cash { Money::ZERO } else { event.given_up().without_tax() };
                let tax = if cash { event.refunded.tax } else { event.lowers().tax };
                entries.add(Flow::Refund, "refund", event.refunded.without_tax());
                entries.add(Flow::Refund, "still owed when it came back", given_up);
                entries.add(Flow::TaxReturned, "sales tax returned", -tax);
            }
        }
        entries.add(Flow::Fee, "fee returned", -event.fee_returned);
        entries.add(Flow::DeliveryCost, "fetched back", event.delivery_cost);
    }

    fn deposit(&mut self, event: &Event) {
        let said = if event.kind == EventKind::Back { "went back" } else { "deposit" };
        self.entries(None, event.place, event.on).add(Flow::Price, said, event.paid.price);
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

    /// Money for a sale, or a payment that bounced.
    fn paid(&mut self, event: &Event, account: &Account) {
        let said = match (event.kind, account.has_payments) {
            (EventKind::Back, _) => ["went back"; 3],
            (_, true) => ["payment"; 3],
            (_, false) => ["price", "delivery charged", "sales tax"],
        };
        self.add(Flow::Price, said[0], event.paid.price);
        self.add(Flow::DeliveryCharged, said[1], event.paid.delivery);
        self.add(Flow::Tax, said[2], event.paid.tax);
    }
}

/// The figures made of sales, and which flows each takes.
const FIGURES: &[(Total, &str, &[Flow])] = &[
    (Total::Receipts, "Price and delivery charged", &[Flow::Price, Flow::DeliveryCharged]),
    (Total::Refunds, "Refunded to buyers", &[Flow::Refund]),
    (Total::ChannelFees, "Fees of channels, less what was returned", &[Flow::Fee]),
    (Total::Delivery, "Delivery paid, to buyers and back", &[Flow::DeliveryCost]),
];

/// Enters receipts, refunds, fees and delivery.
pub(super) fn enter(sales: &[SaleEntry], ledger: &mut Ledger) {
    for (name, label, flows) in FIGURES {
        let taken = sales.iter().filter(|entry| flows.contains(&entry.flow));
        ledger.put(*name, label, taken.map(|entry| entry.part.clone()).collect());
    }
}

/// The entries of each channel; sales through none are under `None`.
pub(super) fn by_channel(sales: &[SaleEntry]) -> BTreeMap<Option<&str>, Vec<&SaleEntry>> {
    let mut channels: BTreeMap<Option<&str>, Vec<&SaleEntry>> = BTreeMap::new();
    for entry in sales {
        channels.entry(entry.channel.as_deref()).or_default().push(entry);
    }
    channels
}
