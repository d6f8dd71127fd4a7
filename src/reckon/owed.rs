//! Who owes: pieces kept for a buyer, deposits held, sales not paid in full, and deposits the shop
//! kept. Decided from the accounts of the sales; the tally prints it.

use super::payments::{Accounts, Amounts, EventKind};
use crate::model::{Money, Order, Payment, Piece, Place, Shop};
use chrono::NaiveDate;

/// One thing that stands open between the shop and a buyer.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Open {
    pub of: OpenOf,
    pub kind: OpenKind,
    /// The day of the sale or the deposit; of a piece that is kept, the last day it is.
    pub on: Option<NaiveDate>,
    /// Owed by the buyer, or held for him; nothing of a piece kept without a deposit.
    pub amounts: Amounts,
    pub place: Place,
}

/// Whose it is, by its position in the shop's pieces or orders.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum OpenOf {
    Piece(usize),
    Order(usize),
}

impl OpenOf {
    /// Number and title.
    pub fn names(self, shop: &Shop) -> (&str, &str) {
        match self {
            OpenOf::Piece(at) => (shop.pieces[at].name(), &shop.pieces[at].title.value),
            OpenOf::Order(at) => (shop.orders[at].name(), &shop.orders[at].title.value),
        }
    }
}

/// What it is, in the order it is printed.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum OpenKind {
    /// Sold, and not paid in full.
    Owed,
    /// Paid for what is not sold yet: owed to the buyer until it is.
    Deposit,
    /// Paid more than was asked: owed back.
    TooMuch,
    Reserved,
    /// A deposit that became the shop's own, the sale having fallen through: income.
    Kept,
}

impl OpenKind {
    pub fn word(self) -> &'static str {
        match self {
            OpenKind::Owed => "owed",
            OpenKind::Deposit => "deposit",
            OpenKind::TooMuch => "paid-too-much",
            OpenKind::Reserved => "reserved",
            OpenKind::Kept => "deposit-kept",
        }
    }
}

/// Everything open, by piece, sales first, then by order. `whole` says of a piece whether its figures can be
/// trusted: of another nothing is said of money.
pub fn open(shop: &Shop, whole: impl Fn(usize) -> bool) -> Vec<Open> {
    let mut all = Vec::new();
    for (at, piece) in shop.pieces.iter().enumerate() {
        let mut add = |kind, on, amounts, place| {
            all.push(Open { of: OpenOf::Piece(at), kind, on, amounts, place });
        };
        if whole(at) {
            for (kind, on, amounts, place) in of_money(shop, piece) {
                add(kind, Some(on), amounts, place);
            }
        }
        if let Some(reserved) = &piece.reserved {
            let until = reserved.until.map(|on| on.value);
            add(OpenKind::Reserved, until, Amounts::default(), reserved.place);
        }
    }
    let orders = shop.orders.iter().enumerate();
    all.extend(orders.filter_map(|(at, order)| of_order(OpenOf::Order(at), order)));
    all
}

/// What is owed for work that is done, or was paid for work that is not.
fn of_order(of: OpenOf, order: &Order) -> Option<Open> {
    let (kind, on, amount) = match order.done {
        None => (OpenKind::Deposit, order.payment.first()?.on, order.paid()),
        Some(done) if order.owed() < Money::ZERO => (OpenKind::TooMuch, done, -order.owed()),
        Some(done) => (OpenKind::Owed, done, order.owed()),
    };
    let amounts = Amounts { price: amount, ..Amounts::default() };
    let open = Open { of, kind, on: Some(on.value), amounts, place: order.place };
    (!amount.is_zero()).then_some(open)
}

fn of_money(shop: &Shop, piece: &Piece) -> Vec<(OpenKind, NaiveDate, Amounts, Place)> {
    let accounts = Accounts::of(piece, shop.currency.decimals);
    let mut all = Vec::new();
    for (sale, account) in piece.sale.iter().zip(&accounts.sales) {
        let owed = account.at(NaiveDate::MAX).owed();
        let tax = if shop.collects_tax(sale) { owed.tax } else { Money::ZERO };
        let owed = Amounts { tax, ..owed };
        if owed != Amounts::default() {
            all.push((OpenKind::Owed, sale.on.value, owed, sale.place));
        }
    }
    let of_price = |price| Amounts { price, ..Amounts::default() };
    for paid in accounts.deposits.iter().filter(|event| event.kind == EventKind::Payment) {
        let gone = |event: &&super::payments::Event| event.place == paid.place;
        let held: Money = accounts.deposits.iter().filter(gone).map(|e| e.paid.price).sum();
        let kept = accounts.kept.iter().find(|kept| kept.place == paid.place);
        match kept {
            Some(kept) => all.push((OpenKind::Kept, kept.on, of_price(kept.amount), kept.place)),
            None if held.is_zero() => {}
            None => {
                let over = |one: &Payment| one.place == paid.place && one.over.is_some();
                let too_much = piece.payment.iter().any(over);
                let kind = if too_much { OpenKind::TooMuch } else { OpenKind::Deposit };
                all.push((kind, paid.on, of_price(held), paid.place));
            }
        }
    }
    all
}
