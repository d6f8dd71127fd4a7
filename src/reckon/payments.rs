//! What buyers paid and when: deposits, instalments, cheques that bounced, and allowances.
//!
//! A sale nobody wrote a payment for was paid in full on its day. Where there are payments, money
//! counts towards the price first, then the delivery charged, then the sales tax, so that a later
//! entry never changes what an earlier payment was. An allowance lowers what is still owed first;
//! only what exceeds that was given back. Both views may use it.

use crate::model::{Finding, Money, Payment, Piece, Place, Sale};
use chrono::NaiveDate;

/// Money that came in or went back for one sale, by what it was for; below zero where it went.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Paid {
    pub price: Money,
    pub delivery: Money,
    pub tax: Money,
}

impl Paid {
    /// Price and delivery: what is a receipt.
    pub fn received(&self) -> Money {
        self.price + self.delivery
    }

    fn all(&self) -> Money {
        self.price + self.delivery + self.tax
    }

    fn less(&self, other: &Paid) -> Paid {
        Paid {
            price: self.price - other.price,
            delivery: self.delivery - other.delivery,
            tax: self.tax - other.tax,
        }
    }
}

/// What an event of a sale is.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum EventKind {
    Payment,
    /// It bounced, or was given back.
    Back,
    Allowance,
}

/// One event of a sale, and what it moved.
#[derive(Clone, Debug)]
pub struct Event {
    pub on: NaiveDate,
    pub kind: EventKind,
    pub place: Place,
    /// Of an allowance: what was given back in money; else what came in.
    pub paid: Paid,
    /// How much of an allowance was taken off what was still owed, without tax.
    pub given_up: Money,
}

/// Which sale a payment or an allowance is of.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Of {
    /// The sale at this position.
    Sale(usize),
    /// A deposit: nothing is sold yet.
    NoSale,
    /// More than one sale comes into question.
    Unclear,
    /// There is no sale on the day that is named.
    NoSuchDay,
}

/// The sale an entry of a day is of: the one of the day it names, else the only one there is. Once
/// the piece came back, what is paid later is a deposit for another sale.
pub fn of(piece: &Piece, on: NaiveDate, named: Option<NaiveDate>) -> Of {
    let sales = || piece.sale.iter().enumerate();
    if let Some(day) = named {
        let mut own = sales().filter(|(_, sale)| sale.on.value == day);
        return match (own.next(), own.next()) {
            (Some((i, _)), None) => Of::Sale(i),
            (Some(_), Some(_)) => Of::Unclear,
            (None, _) => Of::NoSuchDay,
        };
    }
    let came_back = piece.returned.iter().any(|back| back.on.value < on);
    match piece.sale.as_slice() {
        [] => Of::NoSale,
        [_] if came_back => Of::NoSale,
        [_] => Of::Sale(0),
        _ => Of::Unclear,
    }
}

/// Whether payments are written for a sale: else it was paid in full on its day.
pub fn has_payments(piece: &Piece, sale: usize) -> bool {
    piece.payment.iter().any(|payment| payment_of(piece, payment) == Of::Sale(sale))
}

fn payment_of(piece: &Piece, payment: &Payment) -> Of {
    of(piece, payment.on.value, payment.sale_on.map(|on| on.value))
}

/// What a sale asks of its buyer.
fn asked(sale: &Sale) -> Paid {
    Paid { price: sale.price.value, delivery: sale.delivery_charged, tax: sale.tax_collected }
}

/// How a sum paid is divided: the price first, then delivery, then tax; what exceeds all of it is
/// price (a finding says so).
fn divided(sum: Money, due: &Paid) -> Paid {
    let price = sum.min(due.price);
    let delivery = (sum - price).min(due.delivery);
    let tax = (sum - price - delivery).min(due.tax);
    Paid { price: sum - delivery - tax, delivery, tax }
}

/// A raw entry before it is applied: its amount, and of an allowance the tax given back with it.
struct Entry {
    on: NaiveDate,
    kind: EventKind,
    place: Place,
    amount: Money,
    tax: Money,
}

fn entries(piece: &Piece, of_sale: Of) -> Vec<Entry> {
    let own = piece.payment.iter().filter(|payment| payment_of(piece, payment) == of_sale);
    let paid = own.flat_map(|payment| {
        let entry = |on, kind| {
            let (place, amount) = (payment.place, payment.amount.value);
            Entry { on, kind, place, amount, tax: Money::ZERO }
        };
        let back = payment.back.as_ref().map(|back| entry(back.value, EventKind::Back));
        std::iter::once(entry(payment.on.value, EventKind::Payment)).chain(back)
    });
    let allowed = piece.allowance.iter().filter(|one| {
        of(piece, one.on.value, one.sale_on.map(|on| on.value)) == of_sale && of_sale != Of::NoSale
    });
    let allowed = allowed.map(|one| Entry {
        on: one.on.value,
        kind: EventKind::Allowance,
        place: one.place,
        amount: one.amount.value,
        tax: one.tax_returned,
    });
    let mut all: Vec<Entry> = paid.chain(allowed).collect();
    all.sort_by_key(|entry| (entry.on, entry.kind, entry.amount, entry.tax, entry.place));
    all
}

/// What stands between the shop and one buyer.
struct Account {
    due: Paid,
    paid: Money,
}

impl Account {
    fn apply(&mut self, entry: &Entry) -> Event {
        let before = divided(self.paid, &self.due);
        let mut given_up = Money::ZERO;
        match entry.kind {
            EventKind::Payment => self.paid += entry.amount,
            EventKind::Back => self.paid -= entry.amount,
            EventKind::Allowance => {
                let of_price = entry.amount.min(self.due.price);
                self.due.price -= of_price;
                self.due.delivery -= entry.amount - of_price;
                self.due.tax -= entry.tax;
                self.paid = self.paid.min(self.due.all());
            }
        }
        let paid = divided(self.paid, &self.due).less(&before);
        if entry.kind == EventKind::Allowance {
            given_up = entry.amount + paid.received();
        }
        Event { on: entry.on, kind: entry.kind, place: entry.place, paid, given_up }
    }
}

/// The events of a sale with payments, in order of time.
pub fn events(piece: &Piece, sale: usize) -> Vec<Event> {
    let mut account = Account { due: asked(&piece.sale[sale]), paid: Money::ZERO };
    entries(piece, Of::Sale(sale)).iter().map(|entry| account.apply(entry)).collect()
}

/// Deposits for no sale that is written yet: all of them are price.
pub fn deposits(piece: &Piece) -> Vec<Event> {
    let mut account = Account { due: Paid::default(), paid: Money::ZERO };
    entries(piece, Of::NoSale).iter().map(|entry| account.apply(entry)).collect()
}

/// What the buyer of a sale with payments still owes at the end of a day, without tax: nothing
/// where no payments are written.
pub fn owed(piece: &Piece, sale: usize, day: NaiveDate) -> Money {
    if !has_payments(piece, sale) {
        return Money::ZERO;
    }
    let past = events(piece, sale).into_iter().filter(|event| event.on <= day);
    let asked = asked(&piece.sale[sale]).received();
    past.fold(asked, |owed, event| match event.kind {
        // What an allowance gave back was lowered and paid out alike.
        EventKind::Allowance => owed - event.given_up,
        EventKind::Payment | EventKind::Back => owed - event.paid.received(),
    })
}

/// What is wrong with the payments and allowances of a piece, up to a day.
pub fn faults(piece: &Piece, last_day: NaiveDate) -> Vec<Finding> {
    let mut found = Vec::new();
    for payment in piece.payment.iter().filter(|payment| payment.on.value <= last_day) {
        match payment_of(piece, payment) {
            Of::NoSuchDay => found.push(no_such_day(payment.place, payment.sale_on)),
            Of::Unclear => found.push(unclear(piece, payment.place)),
            Of::Sale(_) | Of::NoSale => {}
        }
    }
    for one in piece.allowance.iter().filter(|one| one.on.value <= last_day) {
        match of(piece, one.on.value, one.sale_on.map(|on| on.value)) {
            Of::NoSuchDay => found.push(no_such_day(one.place, one.sale_on)),
            Of::Unclear => found.push(unclear(piece, one.place)),
            Of::Sale(sale) if piece.sale[sale].on.value <= one.on.value => {}
            Of::Sale(_) | Of::NoSale => {
                let message = "an allowance, and nothing was sold by that day";
                let finding = Finding::error("allowance-without-sale", one.on.place, message);
                found.push(finding.label("of which sale?").hint("write the `[[sale]]` it is of"));
            }
        }
    }
    found.extend((0..piece.sale.len()).filter_map(|sale| overpaid(piece, sale, last_day)));
    found.extend((0..piece.sale.len()).filter_map(|sale| over_allowed(piece, sale, last_day)));
    found
}

fn no_such_day(place: Place, named: Option<crate::model::At<NaiveDate>>) -> Finding {
    let place = named.map_or(place, |on| on.place);
    let message = "nothing was sold on the day `sale-on` names";
    Finding::error("payment-without-sale", place, message)
        .label("no such sale")
        .hint("write the day of the `[[sale]]`, or take `sale-on` out")
}

fn unclear(piece: &Piece, place: Place) -> Finding {
    let days: Vec<String> = piece.sale.iter().map(|sale| sale.on.value.to_string()).collect();
    let message = format!("`{}` was sold more than once: which sale is this of?", piece.name());
    Finding::error("which-sale", place, message)
        .label("of which sale?")
        .hint(format!("write `sale-on`, one of {}", crate::model::and_list(&days)))
}

/// A payment that brings what was paid above what the sale asks.
fn overpaid(piece: &Piece, sale: usize, last_day: NaiveDate) -> Option<Finding> {
    let mut account = Account { due: asked(&piece.sale[sale]), paid: Money::ZERO };
    let mut known = entries(piece, Of::Sale(sale)).into_iter().filter(|entry| entry.on <= last_day);
    let over = known.find(|entry| {
        account.apply(entry);
        account.paid > account.due.all()
    })?;
    let (paid, due) = (account.paid, account.due.all());
    let message = format!("{paid} paid of {due}, price, delivery and tax together");
    let finding = Finding::error("payment-over-price", over.place, message);
    let finding =
        finding.label("more than is owed").second(piece.sale[sale].price.place, "sold here");
    Some(finding.hint("correct the amount; what is for another sale needs `sale-on`"))
}

/// Allowances, and refunds of the only sale, of more than the price and delivery.
fn over_allowed(piece: &Piece, sale: usize, last_day: NaiveDate) -> Option<Finding> {
    let most = asked(&piece.sale[sale]).received();
    let own = entries(piece, Of::Sale(sale));
    let own: Vec<&Entry> =
        own.iter().filter(|e| e.kind == EventKind::Allowance && e.on <= last_day).collect();
    let allowed: Money = own.iter().map(|entry| entry.amount).sum();
    let refunded: Money = match piece.sale.as_slice() {
        [_] => piece.returned.iter().map(|back| back.refunded.value).sum(),
        _ => Money::ZERO,
    };
    let last = own.last().filter(|_| allowed + refunded > most)?;
    let message = format!("{} given back of {most} asked", allowed + refunded);
    let finding = Finding::error("allowance-over-price", last.place, message);
    let finding =
        finding.label("more than was asked").second(piece.sale[sale].price.place, "sold here");
    Some(finding.hint("correct the amount; tax given back is `tax-returned`"))
}
