//! What should have come into the account for each sale, payment and part sold.

use crate::model::{Money, Place, What};
use crate::reckon::fee::sale_fee;
use crate::reckon::payments::{Amounts, Event, EventKind};
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
            all.extend(of_sale(books, at, sale, &title));
        }
        all.extend(deposits_paid(&books.accounts[at].deposits, &title));
        all.extend(
            books.costs[at].parts_sold.iter().map(|part| {
                plain(part.on, part.price, format!("{title}: {}", part.what), part.place)
            }),
        );
    }
    all.extend(books.all.iter().filter_map(|entry| match entry.what {
        What::Income(one) | What::Moved(one) if !one.earned => {
            Some(plain(entry.on, one.amount.value, one.what.clone(), entry.place))
        }
        _ => None,
    }));
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

/// Each payment of a sale, which may be all of it on its day. The fee comes off the first of them
/// (common practice, no source).
fn of_sale(books: &Books, piece: usize, at: usize, title: &str) -> Vec<Expected> {
    let sale = &books.shop.pieces[piece].sale[at];
    let fee = sale_fee(books.shop, sale).unwrap_or_default();
    let came_in = |paid: Amounts| match books.shop.collects_tax(sale) {
        true => paid.all(),
        false => paid.without_tax(),
    };
    let events = books.accounts[piece].sales[at].events.iter();
    let paid = events.filter(|event| event.kind == EventKind::Payment).enumerate();
    paid.map(|(i, event)| {
        let gross = came_in(event.paid);
        let net = if i == 0 { gross - fee } else { gross };
        let channel = sale.channel.as_ref().map(|key| key.value.clone());
        let (on, what, place) = (event.on, title.to_owned(), event.place);
        Expected { on, channel, gross, net, what, place }
    })
    .collect()
}

/// What was paid for no sale yet.
fn deposits_paid(deposits: &[Event], title: &str) -> Vec<Expected> {
    let paid = deposits.iter().filter(|event| event.kind == EventKind::Payment);
    paid.map(|event| plain(event.on, event.paid.price, title.to_owned(), event.place)).collect()
}
