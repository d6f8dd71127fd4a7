//! What stands between the shop and its buyers: an account for each sale, with what it asks, what
//! was paid and when, what was let off and what was given back. Both views are made from it.
//!
//! A sale without payments was paid in full on its day. Where there are payments, money counts
//! towards the price first, then the delivery charged, then the sales tax, so that a later entry
//! never changes what an earlier payment was. An allowance lowers what is still owed first; only
//! what exceeds that was given back. What a buyer still owed when all of a sale came back is given
//! up; a refund is of the price first, then of the delivery charged.

use super::payment_faults;
use crate::model::{
    Allowance, Finding, Money, MoveKind, Payment, Piece, Place, Sale, UnitMove, split, unit_moves,
};
use chrono::NaiveDate;
use rust_decimal::Decimal;
use std::ops::{Add, Neg, Sub};

/// Money of one sale by what it is for.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub struct Amounts {
    pub price: Money,
    pub delivery: Money,
    pub tax: Money,
}

impl Amounts {
    /// What a sale asks of its buyer.
    pub fn asked(sale: &Sale) -> Amounts {
        let (price, delivery) = (sale.price.value, sale.delivery_charged);
        Amounts { price, delivery, tax: sale.tax_collected }
    }

    /// Price and delivery: what is the shop's own.
    pub fn without_tax(self) -> Money {
        self.price + self.delivery
    }

    pub fn all(self) -> Money {
        self.price + self.delivery + self.tax
    }
}

impl Add for Amounts {
    type Output = Amounts;

    fn add(self, other: Amounts) -> Amounts {
        Amounts {
            price: self.price + other.price,
            delivery: self.delivery + other.delivery,
            tax: self.tax + other.tax,
        }
    }
}

impl Neg for Amounts {
    type Output = Amounts;

    fn neg(self) -> Amounts {
        Amounts { price: -self.price, delivery: -self.delivery, tax: -self.tax }
    }
}

impl Sub for Amounts {
    type Output = Amounts;

    fn sub(self, other: Amounts) -> Amounts {
        self + -other
    }
}

impl std::iter::Sum for Amounts {
    fn sum<I: Iterator<Item = Amounts>>(all: I) -> Amounts {
        all.fold(Amounts::default(), Add::add)
    }
}

/// What an event of a sale is; on one day they happen in this order.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum EventKind {
    Payment,
    /// It bounced, or was given back.
    Back,
    Allowance,
    /// All or some of what was sold came back.
    Return,
}

/// One event of a sale, and what it changed.
#[derive(Clone, Debug)]
pub struct Event {
    pub on: NaiveDate,
    pub kind: EventKind,
    pub place: Place,
    /// Of what was paid: below zero where money went back to the buyer by it.
    pub paid: Amounts,
    /// Of what is due: below zero for what was let off, or is owed no more after a return.
    pub due: Amounts,
    /// Given back for what came back.
    pub refunded: Amounts,
    /// Of the channel's fee.
    pub fee_returned: Money,
    /// What fetching it back cost.
    pub delivery_cost: Money,
}

impl Event {
    /// What of what was owed is owed no more without having been paid.
    pub fn given_up(&self) -> Amounts {
        match self.kind {
            EventKind::Allowance => self.paid - self.due,
            EventKind::Return => -self.due,
            EventKind::Payment | EventKind::Back => Amounts::default(),
        }
    }

    /// By how much it lowers what the sale had charged, whether that was paid or not.
    pub fn lowers(&self) -> Amounts {
        self.refunded - self.due
    }

    /// What it moved in money: in above zero, out below.
    pub fn moved(&self) -> Amounts {
        self.paid - self.refunded
    }
}

/// Which sale a payment or an allowance is applied to.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum AppliesTo {
    /// The sale at this position.
    Sale(usize),
    /// A deposit: nothing is sold yet, or it was given back before the sale, or the piece came back.
    Deposit,
    /// More than one sale comes into question.
    Unclear,
    /// There is no sale on the day that is named.
    NoSuchDay,
}

/// One sale and its buyer.
#[derive(Clone, Debug)]
pub struct Account {
    pub sold_on: NaiveDate,
    pub asked: Amounts,
    /// Whether payments are written for it: else it was paid in full on its day.
    pub has_payments: bool,
    /// In order of time.
    pub events: Vec<Event>,
}

/// How a sale and its buyer stand at the end of a day.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub struct Standing {
    /// Asked, less what was let off or is owed no more.
    pub due: Amounts,
    pub paid: Amounts,
    /// By returns.
    pub refunded: Amounts,
}

impl Standing {
    /// What the buyer still has to pay; below zero what was paid too much.
    pub fn owed(self) -> Amounts {
        self.due - self.paid
    }

    /// What the shop has of it.
    pub fn kept(self) -> Amounts {
        self.paid - self.refunded
    }
}

impl Account {
    /// How it stands at the end of a day, as if it were sold from the first day on.
    pub fn at(&self, day: NaiveDate) -> Standing {
        let mut standing = Standing { due: self.asked, ..Standing::default() };
        for event in self.events.iter().filter(|event| event.on <= day) {
            standing.due = standing.due + event.due;
            standing.paid = standing.paid + event.paid;
            standing.refunded = standing.refunded + event.refunded;
        }
        standing
    }
}

/// The accounts of a piece's sales.
#[derive(Clone, Debug)]
pub struct Accounts {
    /// In the order of the piece's sales.
    pub sales: Vec<Account>,
    /// Paid for no sale that is written, or paid too much for one, and given back: all of it is price.
    pub deposits: Vec<Event>,
    /// Deposits that became the shop's own, since the sale fell through.
    pub kept: Vec<Kept>,
}

/// A deposit the shop kept.
#[derive(Clone, Copy, Debug)]
pub struct Kept {
    pub on: NaiveDate,
    pub place: Place,
    pub amount: Money,
}

impl Accounts {
    /// Every sale with all that is written of it.
    pub fn of(piece: &Piece, decimals: u32) -> Accounts {
        Accounts::with(piece, &unit_moves(piece, NaiveDate::MAX).moves, decimals)
    }

    /// Deposits that were neither given back nor kept by the shop.
    pub fn deposits_held(&self) -> Money {
        let paid: Money = self.deposits.iter().map(|event| event.paid.price).sum();
        paid - self.kept.iter().map(|kept| kept.amount).sum::<Money>()
    }

    /// The same from moves that are known; what comes after the last of them may be left out.
    pub fn with(piece: &Piece, moves: &[UnitMove], decimals: u32) -> Accounts {
        let buyers = Buyers { piece, moves, decimals };
        Accounts {
            sales: (0..piece.sale.len()).map(|sale| buyers.account(sale)).collect(),
            deposits: buyers.deposits(),
            kept: piece.payment.iter().filter_map(kept).collect(),
        }
    }
}

fn kept(payment: &Payment) -> Option<Kept> {
    let (place, amount) = (payment.place, payment.amount.value);
    payment.kept.map(|on| Kept { on: on.value, place, amount })
}

/// What is wrong with the payments, allowances and refunds of a piece, up to a day.
pub fn faults(piece: &Piece, last_day: NaiveDate, decimals: u32) -> Vec<Finding> {
    let moves = unit_moves(piece, last_day).moves;
    payment_faults::faults(&Buyers { piece, moves: &moves, decimals }, last_day)
}

/// A piece and where its units went.
pub(super) struct Buyers<'a> {
    pub piece: &'a Piece,
    pub moves: &'a [UnitMove],
    pub decimals: u32,
}

/// A raw entry before it is applied.
pub(super) struct Entry {
    pub on: NaiveDate,
    pub kind: EventKind,
    pub place: Place,
    /// Without tax, but for a payment.
    pub amount: Money,
    /// Given back with it.
    pub tax: Money,
    pub fee_returned: Money,
    pub delivery_cost: Money,
    /// Of a return: all that was out of the sale is back.
    pub all_back: bool,
}

impl Entry {
    fn new(on: NaiveDate, kind: EventKind, place: Place, amount: Money) -> Entry {
        let (tax, fee_returned, delivery_cost) = (Money::ZERO, Money::ZERO, Money::ZERO);
        Entry { on, kind, place, amount, tax, fee_returned, delivery_cost, all_back: false }
    }
}

impl Buyers<'_> {
    pub fn payment(&self, payment: &Payment) -> AppliesTo {
        if payment.kept.is_some() {
            return AppliesTo::Deposit;
        }
        let given_back = payment.back.map(|back| back.value);
        self.applies_to(payment.on.value, payment.sale_on.map(|on| on.value), given_back)
    }

    pub fn allowance(&self, one: &Allowance) -> AppliesTo {
        self.applies_to(one.on.value, one.sale_on.map(|on| on.value), None)
    }

    /// The sale of the day an entry names, else the only one there is. Once all of that came back,
    /// what is paid later is a deposit for another sale; so is what was given back before it.
    fn applies_to(
        &self,
        on: NaiveDate,
        named: Option<NaiveDate>,
        given_back: Option<NaiveDate>,
    ) -> AppliesTo {
        let sales = || self.piece.sale.iter().enumerate();
        if let Some(day) = named {
            let mut own = sales().filter(|(_, sale)| sale.on.value == day);
            return match (own.next(), own.next()) {
                (Some((i, _)), None) => AppliesTo::Sale(i),
                (Some(_), Some(_)) => AppliesTo::Unclear,
                (None, _) => AppliesTo::NoSuchDay,
            };
        }
        let before_all = |back: NaiveDate| sales().all(|(_, sale)| back < sale.on.value);
        match self.piece.sale.as_slice() {
            [] => AppliesTo::Deposit,
            _ if given_back.is_some_and(before_all) => AppliesTo::Deposit,
            [_] if self.all_back(0, |back| back < on) => AppliesTo::Deposit,
            [_] => AppliesTo::Sale(0),
            _ => AppliesTo::Unclear,
        }
    }

    /// Whether all of a sale came back on days that count.
    fn all_back(&self, of: usize, counts: impl Fn(NaiveDate) -> bool) -> bool {
        let (mut sold, mut back) = (0, 0);
        for step in self.moves {
            match step.kind {
                MoveKind::Sold { sale } if sale == of => sold += step.units(),
                MoveKind::Returned { sale, .. } if sale == of && counts(step.on) => {
                    back += step.units();
                }
                _ => {}
            }
        }
        sold > 0 && back >= sold
    }

    fn account(&self, at: usize) -> Account {
        let sale = &self.piece.sale[at];
        let asked = Amounts::asked(sale);
        let has_payments = self.has_payments(at);
        let mut running = Standing { due: asked, ..Standing::default() };
        let entries = self.entries(at);
        let events = entries.iter().map(|entry| apply(&mut running, entry)).collect();
        Account { sold_on: sale.on.value, asked, has_payments, events }
    }

    fn has_payments(&self, sale: usize) -> bool {
        self.piece.payment.iter().any(|one| self.payment(one) == AppliesTo::Sale(sale))
    }

    fn deposits(&self) -> Vec<Event> {
        let mut running = Standing::default();
        let mut entries = self.paid(AppliesTo::Deposit);
        entries.extend(self.paid_too_much());
        entries.sort_by_key(|entry| (entry.on, entry.kind, entry.amount, entry.place));
        entries.iter().map(|entry| apply(&mut running, entry)).collect()
    }

    /// Everything that is written of a sale, in order of time.
    pub fn entries(&self, sale: usize) -> Vec<Entry> {
        let mut all = self.paid(AppliesTo::Sale(sale));
        if all.is_empty() {
            let sold = &self.piece.sale[sale];
            let total = Amounts::asked(sold).all();
            all.push(Entry::new(sold.on.value, EventKind::Payment, sold.place, total));
        }
        let allowed = self.piece.allowance.iter();
        let allowed = allowed.filter(|one| self.allowance(one) == AppliesTo::Sale(sale));
        all.extend(allowed.map(|one| Entry {
            tax: one.tax_returned,
            fee_returned: one.fee_returned,
            ..Entry::new(one.on.value, EventKind::Allowance, one.place, one.amount.value)
        }));
        all.extend(self.returns(sale));
        all.sort_by_key(|entry| (entry.on, entry.kind, entry.amount, entry.tax, entry.place));
        all
    }

    fn paid(&self, to: AppliesTo) -> Vec<Entry> {
        let own = self.piece.payment.iter().filter(|one| self.payment(one) == to);
        let paid = own.flat_map(|one| {
            let amount = one.amount.value - one.too_much();
            let entry = |on, kind| Entry::new(on, kind, one.place, amount);
            let back = one.back.as_ref().map(|back| entry(back.value, EventKind::Back));
            std::iter::once(entry(one.on.value, EventKind::Payment)).chain(back)
        });
        paid.collect()
    }

    /// What buyers paid too much: held for them like a deposit until it goes back.
    fn paid_too_much(&self) -> Vec<Entry> {
        let over = self.piece.payment.iter().filter(|one| one.over.is_some());
        let entries = over.flat_map(|one| {
            let entry = |on, kind| Entry::new(on, kind, one.place, one.too_much());
            let back = one.over_back.as_ref().map(|back| entry(back.value, EventKind::Back));
            std::iter::once(entry(one.on.value, EventKind::Payment)).chain(back)
        });
        entries.collect()
    }

    /// What came back of a sale. A return of several sales is of each by the units that came back.
    fn returns(&self, of: usize) -> Vec<Entry> {
        let mut found = Vec::new();
        for (at, step) in self.moves.iter().enumerate() {
            let MoveKind::Returned { returned, sale } = step.kind else { continue };
            if sale != of {
                continue;
            }
            let back = &self.piece.returned[returned];
            let share = |amount| self.share_of(returned, at, amount);
            found.push(Entry {
                tax: share(back.tax_returned),
                fee_returned: share(back.fee_returned),
                delivery_cost: share(back.delivery_cost),
                all_back: Buyers { moves: &self.moves[..=at], ..*self }.all_back(of, |_| true),
                ..Entry::new(step.on, EventKind::Return, back.place, share(back.refunded.value))
            });
        }
        found
    }

    /// A move's part of an amount of its return.
    fn share_of(&self, returned: usize, step: usize, amount: Money) -> Money {
        let same =
            |kind| matches!(kind, MoveKind::Returned { returned: own, .. } if own == returned);
        let steps: Vec<usize> =
            (0..self.moves.len()).filter(|&at| same(self.moves[at].kind)).collect();
        let weights: Vec<Decimal> = steps.iter().map(|&at| self.moves[at].units().into()).collect();
        let place = steps.iter().position(|&at| at == step);
        place.map_or(Money::ZERO, |place| split(amount, &weights, self.decimals)[place])
    }
}

/// How a sum paid is divided: the price first, then delivery, then tax; what exceeds all of it is
/// price (a finding says so).
fn divided(sum: Money, due: Amounts) -> Amounts {
    let price = sum.min(due.price);
    let delivery = (sum - price).min(due.delivery);
    let tax = (sum - price - delivery).min(due.tax);
    Amounts { price: sum - delivery - tax, delivery, tax }
}

/// Applies an entry to how a sale stands.
pub(super) fn apply(standing: &mut Standing, entry: &Entry) -> Event {
    let before = *standing;
    let paid = standing.paid.all();
    match entry.kind {
        EventKind::Payment => standing.paid = divided(paid + entry.amount, standing.due),
        EventKind::Back => standing.paid = divided(paid - entry.amount, standing.due),
        EventKind::Allowance => {
            let of_price = entry.amount.min(standing.due.price);
            let delivery = entry.amount - of_price;
            standing.due = standing.due - Amounts { price: of_price, delivery, tax: entry.tax };
            standing.paid = divided(paid.min(standing.due.all()), standing.due);
        }
        EventKind::Return => {
            let kept = standing.kept();
            let price = entry.amount.min(kept.price.max(Money::ZERO));
            let refund = Amounts { price, delivery: entry.amount - price, tax: entry.tax };
            standing.refunded = standing.refunded + refund;
            if entry.all_back {
                standing.due = standing.paid;
            }
        }
    }
    Event {
        on: entry.on,
        kind: entry.kind,
        place: entry.place,
        paid: standing.paid - before.paid,
        due: standing.due - before.due,
        refunded: standing.refunded - before.refunded,
        fee_returned: entry.fee_returned,
        delivery_cost: entry.delivery_cost,
    }
}
