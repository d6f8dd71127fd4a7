//! The flow of page 1: from one unit of money received to what is left of it.

use super::Books;
use super::glance::parts;
use super::ledger::spent;
use crate::model::{Money, grouped, round, split};
use crate::reckon::year::{TaxFigure, Total};
use crate::typeset::view::{Dollar, DollarStep, StepKind};
use rust_decimal::Decimal;
use std::cmp::Reverse;

/// Expenses with a step of their own, beside the cost of goods sold.
const OWN_STEPS: usize = 4;

/// "dollar": what one unit of the shop's money is called.
pub(super) fn unit<'a>(books: &Books<'a>) -> &'a str {
    books.shop.currency.unit()
}

pub(super) fn dollar(books: &Books) -> Dollar {
    let unit = unit(books);
    let year = books.year;
    let gone = gone(books);
    let received = received(books);
    let without = if received.is_zero() {
        Some(format!("Nothing was received in {}, so there is no {unit} to follow.", year.year))
    } else if received.is_sign_negative() {
        Some(format!("More was given back than was received in {}.", year.year))
    } else if gone.iter().any(|(_, amount)| amount.is_sign_negative()) {
        Some(format!("More came back than went out in {}, so no flow is drawn.", year.year))
    } else {
        None
    };
    match without {
        Some(note) => Dollar {
            heading: format!("From one {unit} received"),
            finding: note.clone(),
            steps: Vec::new(),
            zero: 0,
            note,
        },
        None => Flow { books, gone }.view(unit),
    }
}

/// Receipts less refunds, sales tax kept and other income: what the net profit is left of.
fn received(books: &Books) -> Money {
    let other = books.year.tax(TaxFigure::Kept) + books.year.total(Total::OtherIncome);
    books.year.total(Total::NetReceipts) + other
}

/// What went out: cost of goods sold, the largest expenses, and all others together.
fn gone(books: &Books) -> Vec<(String, Money)> {
    let mut expenses: Vec<(String, Money)> =
        spent(books).into_iter().map(|expense| (expense.words, expense.amount)).collect();
    expenses.sort_by_key(|(_, amount)| Reverse(*amount));
    // One more than have a step of their own is shown as itself, not as "all other".
    let own = if expenses.len() == OWN_STEPS + 1 { OWN_STEPS + 1 } else { OWN_STEPS };
    let others: Vec<(String, Money)> = expenses.drain(own.min(expenses.len())..).collect();
    let mut gone =
        vec![("cost of goods sold".to_owned(), books.year.total(Total::CostOfGoodsSold))];
    gone.append(&mut expenses);
    if !others.is_empty() {
        let rest = others.iter().map(|(_, amount)| *amount).sum();
        gone.push(("all other expenses".to_owned(), rest));
    }
    gone.retain(|(_, amount)| !amount.is_zero());
    gone
}

struct Flow<'a, 'b> {
    books: &'a Books<'b>,
    gone: Vec<(String, Money)>,
}

impl Flow<'_, '_> {
    fn received(&self) -> Money {
        received(self.books)
    }

    fn left(&self) -> Money {
        self.received() - self.gone.iter().map(|(_, amount)| *amount).sum::<Money>()
    }

    /// What the whole width of the chart stands for: all that came in, from whatever pocket.
    fn width(&self) -> Money {
        self.received() + (-self.left()).max(Money::ZERO)
    }

    fn view(&self, unit: &str) -> Dollar {
        let (cents, last) = self.cents();
        let short = self.left().is_sign_negative();
        let shown = self.per_unit(last.abs());
        let finding = if short {
            format!("For one {unit} received {shown} more went out.")
        } else {
            format!("Of one {unit} received {shown} was left.")
        };
        Dollar {
            heading: format!("From one {unit} received"),
            finding,
            steps: self.steps(&cents, last),
            zero: parts(-self.left(), self.width()),
            note: format!(
                "An open bar is money in hand, a solid bar money gone out. Cents are rounded so \
                 that they add to one {unit}."
            ),
        }
    }

    /// Of one unit received, what went out step by step and what is left, to the cent: with what
    /// came in they add up exactly.
    fn cents(&self) -> (Vec<Decimal>, Decimal) {
        let (one, places) = (Decimal::ONE, self.books.shop.currency.decimals);
        let mut weights: Vec<Decimal> = self.gone.iter().map(|(_, amount)| *amount).collect();
        let left = self.left();
        if left.is_sign_negative() {
            let short = round(left / self.received(), places);
            return (split(one - short, &weights, places), short);
        }
        weights.push(left);
        let mut cents = split(one, &weights, places);
        let last = cents.pop().unwrap_or_default();
        (cents, last)
    }

    fn steps(&self, cents: &[Decimal], last: Decimal) -> Vec<DollarStep> {
        let width = self.width();
        let zero = parts(-self.left(), width);
        let mut steps = vec![DollarStep {
            label: "Received".to_owned(),
            amount: self.per_unit(Decimal::ONE),
            from: zero,
            to: parts(width, width),
            kind: StepKind::Received,
        }];
        let mut hand = width;
        for ((label, amount), cents) in self.gone.iter().zip(cents) {
            let to = parts(hand, width);
            hand -= amount;
            let amount = grouped(-*cents, self.books.shop.currency.decimals);
            let kind = StepKind::Gone;
            steps.push(DollarStep {
                label: label.clone(),
                amount,
                from: parts(hand, width),
                to,
                kind,
            });
        }
        steps.push(self.last_step(last, zero, parts(hand, width)));
        steps
    }

    fn last_step(&self, last: Decimal, zero: u32, left: u32) -> DollarStep {
        let short = self.left().is_sign_negative();
        let (label, to, kind) = if short {
            ("Short, from other money", zero, StepKind::Short)
        } else {
            ("Left for the owner", left, StepKind::Left)
        };
        DollarStep { label: label.to_owned(), amount: self.per_unit(last), from: 0, to, kind }
    }

    fn per_unit(&self, amount: Decimal) -> String {
        self.books.money(amount)
    }
}
