//! Work on a customer's own piece: `order.toml`. It is income for work and never stock.

use super::{At, Basis, Expense, Hours, Income, IncomeKind, Money, PaidBy, Place, Work};
use chrono::NaiveDate;

/// One order, from the day it was asked for to the day it is paid.
#[derive(Clone, Debug)]
pub struct Order {
    /// Its folder below the shop folder, with `/`.
    pub folder: String,
    pub number: Option<At<String>>,
    /// What is to be done.
    pub title: At<String>,
    /// The customer's piece, and how it was when it came.
    pub piece: Option<String>,
    pub received: Option<String>,
    /// On the order's own papers alone.
    pub customer: Option<String>,
    /// The day of the estimate.
    pub on: At<NaiveDate>,
    /// The last day the estimate holds.
    pub until: Option<At<NaiveDate>>,
    /// What is asked, line by line.
    pub line: Vec<OrderLine>,
    /// What was charged in the end, where it is not the lines together.
    pub charged: Option<At<Money>>,
    pub work: Vec<Work>,
    pub cost: Vec<Expense>,
    pub payment: Vec<OrderPayment>,
    /// The day the work was done and the piece handed back.
    pub done: Option<At<NaiveDate>>,
    /// The day the shop gave up what is still owed.
    pub given_up: Option<At<NaiveDate>>,
    /// What it adds to the income of its years, as they are kept; see [`Order::count`].
    pub counted: Vec<Income>,
    /// Money that moved and is no income on its day: on accrual the payments.
    pub moved: Vec<Income>,
    pub place: Place,
}

/// A line of the estimate.
#[derive(Clone, Debug)]
pub struct OrderLine {
    pub what: String,
    pub amount: At<Money>,
}

/// Money from a customer.
#[derive(Clone, Debug)]
pub struct OrderPayment {
    pub on: At<NaiveDate>,
    pub amount: At<Money>,
    /// The day it bounced or was given back.
    pub back: Option<At<NaiveDate>>,
    pub how: Option<PaidBy>,
    pub receipt: Option<At<String>>,
    pub place: Place,
}

impl Order {
    /// Its number, else the name of its folder.
    pub fn name(&self) -> &str {
        let last = self.folder.rsplit('/').next().unwrap_or(&self.folder);
        self.number.as_ref().map_or(last, |number| &number.value)
    }

    /// What is asked for the work, exact.
    pub fn price(&self) -> Money {
        let lines = self.line.iter().map(|line| line.amount.value).sum();
        self.charged.as_ref().map_or(lines, |charged| charged.value)
    }

    /// What the customer paid and did not get back, exact.
    pub fn paid(&self) -> Money {
        self.payment.iter().filter(|one| one.back.is_none()).map(|one| one.amount.value).sum()
    }

    /// What is still to pay once the work is done; below zero what was paid too much.
    pub fn owed(&self) -> Money {
        let owed = self.price() - self.paid();
        if self.given_up.is_some() { owed.min(Money::ZERO) } else { owed }
    }

    /// What its materials and paid work cost, by their business share.
    pub fn costs(&self, decimals: u32) -> Money {
        self.cost.iter().map(|one| super::round(one.amount.value * one.share, decimals)).sum()
    }

    /// Nothing where no work is written.
    pub fn hours(&self) -> Option<Hours> {
        (!self.work.is_empty()).then(|| self.work.iter().map(|work| work.hours).sum())
    }

    /// The receipts it names, with the days they are of.
    pub fn receipts(&self) -> impl Iterator<Item = (&At<String>, At<NaiveDate>)> {
        let bought = self.cost.iter().map(|one| (one.receipt.as_ref(), one.on));
        let paid = self.payment.iter().map(|one| (one.receipt.as_ref(), one.on));
        bought.chain(paid).filter_map(|(receipt, on)| Some((receipt?, on)))
    }

    /// Every day on which money moved or was earned.
    pub fn days(&self) -> impl Iterator<Item = NaiveDate> {
        let paid = self.payment.iter().flat_map(|one| [Some(one.on), one.back]);
        paid.chain([self.done, self.given_up]).flatten().map(|on| on.value)
    }

    /// Says what counts as income and when: on cash the money on its day; on accrual what is asked on the
    /// day the work is done, and what is given up on that day (IRS Pub. 334, accounting methods and bad
    /// debts).
    pub fn count(&mut self, basis: impl Fn(NaiveDate) -> Basis) {
        let (mut counted, mut moved) = (Vec::new(), Vec::new());
        for one in &self.payment {
            let came = self.income("payment", one.on, one.amount.value, one.receipt.clone(), one);
            let went = one
                .back
                .map(|back| self.income("payment went back", back, -one.amount.value, None, one));
            for entry in std::iter::once(came).chain(went) {
                match basis(entry.on.value) {
                    Basis::Cash => counted.push(entry),
                    Basis::Accrual => moved.push(entry),
                }
            }
        }
        let lost = self.price() - self.paid();
        let earned = [
            self.done.map(|on| ("work done", on, self.price())),
            self.given_up.filter(|_| lost > Money::ZERO).map(|on| ("given up", on, -lost)),
        ];
        for (what, on, amount) in earned.into_iter().flatten() {
            if basis(on.value) == Basis::Accrual {
                counted.push(Income {
                    on,
                    what: self.entry_words(what),
                    amount: At::new(amount, on.place),
                    kind: IncomeKind::Service,
                    earned: true,
                    from: self.customer.clone(),
                    how: None,
                    receipt: None,
                    place: on.place,
                });
            }
        }
        (self.counted, self.moved) = (counted, moved);
    }

    fn income(
        &self,
        what: &str,
        on: At<NaiveDate>,
        amount: Money,
        receipt: Option<At<String>>,
        of: &OrderPayment,
    ) -> Income {
        Income {
            on,
            what: self.entry_words(what),
            amount: At::new(amount, of.amount.place),
            kind: IncomeKind::Service,
            earned: false,
            from: self.customer.clone(),
            how: of.how,
            receipt,
            place: of.place,
        }
    }

    /// "Re-cane two chairs, O-03: payment".
    fn entry_words(&self, what: &str) -> String {
        format!("{}, {}: {what}", self.title.value, self.name())
    }
}
