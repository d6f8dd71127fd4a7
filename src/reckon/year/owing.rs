//! How the sales of a year and what was received in it differ: what buyers owed and had paid in
//! advance at both ends of the year, and what was given up.

use super::books::Books;
use super::ledger::{Contribution, Ledger};
use super::units::MoveKind;
use crate::model::{Money, Piece, Place};
use crate::reckon::payments::{self, Event, EventKind};
use chrono::NaiveDate;
use rust_decimal::Decimal;

/// Sales of the year against receipts, without tax. On cash basis the figures add up: sales, and
/// parts sold by themselves, and what was owed at the start, and deposits at the end, less what is
/// owed at the end, deposits at the start and what was given up, are the receipts.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Owing {
    /// `sales`: price and delivery of the sales of the year, whenever they are paid.
    pub sales: Money,
    /// `parts-sold`.
    pub parts: Money,
    /// `owed-at-start`, `owed-at-end`.
    pub owed: (Money, Money),
    /// `deposits-at-start`, `deposits-at-end`: paid for what was not sold yet.
    pub deposits: (Money, Money),
    /// `given-up`: allowances taken off what was owed, and what was owed when a piece came back.
    pub given_up: Money,
    /// `receipts-from-sales`: the receipts by this way.
    pub received: Money,
}

/// Enters the figures named above; nothing where no payment is written in the whole shop.
pub(super) fn enter(books: &Books, ledger: &mut Ledger) -> Option<Owing> {
    let (start, end) = (books.day_before(), books.last_day);
    let sales = ledger.put("sales", "Price and delivery of the sales of the year", sales(books));
    let parts = ledger.put("parts-sold", "Parts sold by themselves", parts(books));
    let mut stands = |day, when: &str| {
        let (owed, deposits) = stands(books, day);
        let label = format!("Owed by buyers at the {when} of the year");
        let owed = ledger.put(&format!("owed-at-{when}"), &label, owed);
        let label = format!("Deposits at the {when} of the year");
        (owed, ledger.put(&format!("deposits-at-{when}"), &label, deposits))
    };
    let at_start = stands(start, "start");
    let at_end = stands(end, "end");
    let given_up = ledger.put("given-up", "Owed and given up", given_up(books));
    let (plus, less) = (Decimal::ONE, Decimal::NEGATIVE_ONE);
    let ways = [
        ("sales", plus),
        ("parts-sold", plus),
        ("owed-at-start", plus),
        ("owed-at-end", less),
        ("deposits-at-end", plus),
        ("deposits-at-start", less),
        ("given-up", less),
    ];
    let received = ledger.put_sum("receipts-from-sales", "Receipts, from the sales", &ways);
    let any = books.shop.pieces.iter().any(|piece| !piece.payment.is_empty());
    let (owed, deposits) = ((at_start.0, at_end.0), (at_start.1, at_end.1));
    any.then_some(Owing { sales, parts, owed, deposits, given_up, received })
}

fn sales(books: &Books) -> Vec<Contribution> {
    let pieces = books.shop.pieces.iter().enumerate();
    let all = pieces.flat_map(|(i, piece)| piece.sale.iter().map(move |sale| (i, sale)));
    all.filter(|(_, sale)| books.in_year(sale.on.value))
        .map(|(i, sale)| {
            let asked = sale.price.value + sale.delivery_charged;
            Contribution::new(sale.place, sale.on.value, books.title(i), asked)
        })
        .collect()
}

fn parts(books: &Books) -> Vec<Contribution> {
    let sold = books.costs.iter().flat_map(|costs| &costs.parts_sold);
    sold.filter(|part| books.in_year(part.on))
        .map(|part| Contribution::new(part.place, part.on, part.what.as_str(), part.price))
        .collect()
}

/// What buyers owe, and what they paid in advance, at the end of a day.
fn stands(books: &Books, day: NaiveDate) -> (Vec<Contribution>, Vec<Contribution>) {
    let (mut owed, mut deposits) = (Vec::new(), Vec::new());
    for (i, piece) in books.shop.pieces.iter().enumerate().filter(|(_, p)| !p.payment.is_empty()) {
        let mut add = |place, on, amount: Money| {
            let into = if amount.is_sign_negative() { &mut deposits } else { &mut owed };
            into.push(Contribution::new(place, on, books.title(i), amount.abs()));
        };
        for sale in (0..piece.sale.len()).filter(|&sale| payments::has_payments(piece, sale)) {
            add(piece.sale[sale].place, piece.sale[sale].on.value, stands_of(books, i, sale, day));
        }
        for event in payments::deposits(piece).iter().filter(|event| event.on <= day) {
            add(event.place, event.on, -event.paid.received());
        }
    }
    (owed, deposits)
}

/// What the buyer of a sale owes at the end of a day; below zero what he has paid in advance.
fn stands_of(books: &Books, piece: usize, sale: usize, day: NaiveDate) -> Money {
    let file = &books.shop.pieces[piece];
    let sold = file.sale[sale].on.value <= day;
    let asked = file.sale[sale].price.value + file.sale[sale].delivery_charged;
    let past = payments::events(file, sale).into_iter().filter(|event| event.on <= day);
    let paid: Money = past.map(|event| settled(&event)).sum();
    let left = if sold { asked } else { Money::ZERO } - paid;
    left - given_up_by_returns(books, piece, sale, day)
}

/// How much of what is owed an event settles.
fn settled(event: &Event) -> Money {
    match event.kind {
        EventKind::Payment | EventKind::Back => event.paid.received(),
        EventKind::Allowance => event.given_up,
    }
}

fn returns_of(books: &Books, piece: usize, of: usize) -> Vec<(usize, NaiveDate)> {
    let back = books.moves[piece].iter().filter_map(|step| match step.kind {
        MoveKind::Returned { returned, sale } if sale == of => Some((returned, step.on)),
        _ => None,
    });
    back.collect()
}

fn given_up_by_returns(books: &Books, piece: usize, sale: usize, day: NaiveDate) -> Money {
    let file: &Piece = &books.shop.pieces[piece];
    let back = returns_of(books, piece, sale).into_iter().filter(|(_, on)| *on <= day);
    back.map(|(returned, _)| books.given_up_by(piece, sale, &file.returned[returned])).sum()
}

fn given_up(books: &Books) -> Vec<Contribution> {
    let mut parts = Vec::new();
    for (i, piece) in books.shop.pieces.iter().enumerate().filter(|(_, p)| !p.payment.is_empty()) {
        let mut add = |place: Place, on, amount| {
            if books.in_year(on) {
                parts.push(Contribution::new(place, on, books.title(i), amount));
            }
        };
        for sale in (0..piece.sale.len()).filter(|&sale| payments::has_payments(piece, sale)) {
            let events = payments::events(piece, sale);
            let allowed = events.iter().filter(|event| event.kind == EventKind::Allowance);
            allowed.for_each(|event| add(event.place, event.on, event.given_up));
            for (returned, on) in returns_of(books, i, sale) {
                let back = &piece.returned[returned];
                add(back.place, on, books.given_up_by(i, sale, back));
            }
        }
    }
    parts
}
