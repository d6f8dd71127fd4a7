//! What should have come into the account for each sale, payment and part sold.

use crate::model::{Money, Piece, Place, Sale};
use crate::reckon::fee::sale_fee;
use crate::reckon::payments::{self, EventKind, Paid};
use crate::reckon::year::books::Books;
use chrono::NaiveDate;

/// An amount that should have come in.
pub(super) struct Expected {
    pub on: NaiveDate,
    pub channel: Option<String>,
    pub gross: Money,
    /// Less the channel's fee.
    pub net: Money,
    pub what: String,
    pub place: Place,
}

/// Whether a channel pays out what buyers paid, or keeps its fee back.
#[derive(Clone, Copy)]
pub(super) enum Payout {
    Gross,
    Net,
}

impl Expected {
    pub fn paid_out(&self, payout: Payout) -> Money {
        match payout {
            Payout::Gross => self.gross,
            Payout::Net => self.net,
        }
    }
}

/// Everything that should have come in, by day.
pub(super) fn expected(books: &Books) -> Vec<Expected> {
    let mut all = Vec::new();
    for (at, piece) in books.shop.pieces.iter().enumerate() {
        let title = books.title(at);
        for sale in 0..piece.sale.len() {
            all.extend(of_sale(books, piece, sale, &title));
        }
        all.extend(deposits_paid(piece, &title));
        all.extend(
            books.costs[at].parts_sold.iter().map(|part| {
                plain(part.on, part.price, format!("{title}: {}", part.what), part.place)
            }),
        );
    }
    all.retain(|one| one.gross > Money::ZERO);
    all.sort_by(|a, b| {
        (a.on, &a.channel, a.place, &a.what).cmp(&(b.on, &b.channel, b.place, &b.what))
    });
    all
}

/// Through no channel, so without a fee.
fn plain(on: NaiveDate, amount: Money, what: String, place: Place) -> Expected {
    Expected { on, channel: None, gross: amount, net: amount, what, place }
}

/// A sale that was paid at once, or each of its payments. The fee comes off the first of them
/// (common practice, no source).
fn of_sale(books: &Books, piece: &Piece, at: usize, title: &str) -> Vec<Expected> {
    let sale = &piece.sale[at];
    let fee = sale_fee(books.shop, sale).unwrap_or_default();
    let channel = sale.channel.as_ref().map(|key| key.value.clone());
    let of = |on, gross: Money, fee, place| {
        let (channel, what) = (channel.clone(), title.to_owned());
        Expected { on, channel, gross, net: gross - fee, what, place }
    };
    if !payments::has_payments(piece, at) {
        let asked = sale.price.value + sale.delivery_charged;
        let tax = if remits(books, sale) { Money::ZERO } else { sale.tax_collected };
        return vec![of(sale.on.value, asked + tax, fee, sale.place)];
    }
    let came_in = |paid: &Paid| match remits(books, sale) {
        true => paid.received(),
        false => paid.received() + paid.tax,
    };
    let events = payments::events(piece, at).into_iter();
    let paid = events.filter(|event| event.kind == EventKind::Payment).enumerate();
    paid.map(|(i, event)| {
        let fee = if i == 0 { fee } else { Money::ZERO };
        of(event.on, came_in(&event.paid), fee, event.place)
    })
    .collect()
}

/// What was paid for no sale yet.
fn deposits_paid(piece: &Piece, title: &str) -> Vec<Expected> {
    let paid = payments::deposits(piece).into_iter();
    let paid = paid.filter(|event| event.kind == EventKind::Payment);
    paid.map(|event| plain(event.on, event.paid.received(), title.to_owned(), event.place))
        .collect()
}

/// Whether the channel keeps the sales tax and passes it on itself.
fn remits(books: &Books, sale: &Sale) -> bool {
    let channel = sale.channel.as_ref().and_then(|key| books.shop.channels.get(&key.value));
    channel.is_some_and(|channel| channel.collects_tax)
}
