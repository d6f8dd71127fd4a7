//! What came into the bank account against what should have come in for sales.
//!
//! Deposits and sales of all years are matched at once, so that a sale of late December is found
//! in the January after it; a year then shows its own deposits and its own sales. No line of the
//! form is made from a deposit.

mod expected;
mod matching;

use super::books::Books;
use super::ledger::{Contribution, Ledger};
use super::names::Rare;
use crate::model::{BankDeposit, Money, Place};
use chrono::NaiveDate;
use expected::{Payout, expected};
use matching::Matching;
use std::collections::BTreeSet;

/// The deposits of a year beside what should have come in.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct BankMatch {
    /// All of the year: `bank-deposits`, equal to `bank-matched` and `bank-extra` together.
    pub deposits: Money,
    /// Deposits explained by sales: `bank-matched`.
    pub matched: Money,
    /// Deposits nothing explains: `bank-extra`.
    pub extra: Money,
    /// What should have come in for the year's sales and payments, before fees: `bank-expected`,
    /// equal to `bank-found` and `bank-missing` together.
    pub expected: Money,
    /// What of it is in some deposit, of this year or another: `bank-found`.
    pub found: Money,
    /// What of it is in no deposit: `bank-missing`.
    pub missing: Money,
    /// By day; deposits first.
    pub rows: Vec<BankRow>,
}

/// A deposit, or a sale no deposit was found for.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct BankRow {
    pub outcome: BankOutcome,
    /// Of the deposit; of what is missing, the day it was sold or paid.
    pub on: NaiveDate,
    /// Of the deposit; of what is missing, before fees.
    pub amount: Money,
    /// What the bank says of it; empty for what is missing.
    pub text: String,
    /// The sales and payments it is for, by day; nothing for what is extra.
    pub sales: Vec<String>,
    /// Before fees, all its sales together; nothing for what is extra.
    pub expected: Option<Money>,
    pub place: Place,
}

#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum BankOutcome {
    Matched,
    Missing,
    Extra,
}

/// Nothing where the year's book names no export, or one that could not be read.
pub(super) fn enter(books: &Books, ledger: &mut Ledger) -> Option<BankMatch> {
    books.book_of_whole_year()?.bank.as_ref()?.deposits.as_ref()?;
    let matching = Matching::of(deposits(books), expected(books));
    Some(matching.told(books, ledger))
}

/// Every deposit of every export, by day. A row that two books name is one deposit.
fn deposits<'a>(books: &Books<'a>) -> Vec<&'a BankDeposit> {
    let exports = books.shop.years.values().filter_map(|book| book.bank.as_ref());
    let mut all: Vec<&BankDeposit> =
        exports.filter_map(|bank| bank.deposits.as_ref()).flatten().collect();
    all.sort_by_key(|deposit| (deposit.on, deposit.place, deposit.amount));
    let mut seen = BTreeSet::new();
    all.retain(|deposit| deposit.place.is_nowhere() || seen.insert(deposit.place));
    all
}

impl Matching<'_> {
    fn told(&self, books: &Books, ledger: &mut Ledger) -> BankMatch {
        let own = |explained: Option<bool>| -> Vec<Contribution> {
            let of_year = self.deposits.iter().zip(&self.of).filter(|(d, _)| books.in_year(d.on));
            let asked = of_year.filter(|(_, of)| explained.is_none_or(|yes| yes != of.is_empty()));
            asked.map(|(d, _)| Contribution::new(d.place, d.on, said(d), d.amount)).collect()
        };
        let due = |found: Option<bool>| -> Vec<Contribution> {
            let all = self.expected.iter().zip(&self.used).filter(|(one, _)| books.in_year(one.on));
            let asked = all.filter(|(_, used)| found.is_none_or(|yes| yes == **used));
            asked.map(|(e, _)| Contribution::new(e.place, e.on, e.what.as_str(), e.gross)).collect()
        };
        let mut put = |name: Rare, label: &str, parts| ledger.put(name, label, parts);
        BankMatch {
            deposits: put(Rare::BankDeposits, "Deposits in the bank's export", own(None)),
            matched: put(Rare::BankMatched, "Deposits explained by sales", own(Some(true))),
            extra: put(Rare::BankExtra, "Deposits nothing explains", own(Some(false))),
            expected: put(Rare::BankExpected, "Due from buyers, before fees", due(None)),
            found: put(Rare::BankFound, "Of what was due, in some deposit", due(Some(true))),
            missing: put(Rare::BankMissing, "Of what was due, in no deposit", due(Some(false))),
            rows: self.rows(books),
        }
    }

    fn rows(&self, books: &Books) -> Vec<BankRow> {
        let own = (0..self.deposits.len()).filter(|&at| books.in_year(self.deposits[at].on));
        let due = self.expected.iter().zip(&self.used);
        let missing = due.filter(|(one, used)| !**used && books.in_year(one.on));
        let mut rows: Vec<BankRow> = own.map(|at| self.of_deposit(at)).collect();
        rows.extend(missing.map(|(one, _)| BankRow {
            outcome: BankOutcome::Missing,
            on: one.on,
            amount: one.gross,
            text: String::new(),
            sales: vec![one.what.clone()],
            expected: Some(one.gross),
            place: one.place,
        }));
        rows.sort_by_key(|row| row.on);
        rows
    }

    fn of_deposit(&self, at: usize) -> BankRow {
        let (deposit, of) = (self.deposits[at], &self.of[at]);
        let some = !of.is_empty();
        BankRow {
            outcome: if some { BankOutcome::Matched } else { BankOutcome::Extra },
            on: deposit.on,
            amount: deposit.amount,
            text: deposit.text.clone(),
            sales: of.iter().map(|&at| self.expected[at].what.clone()).collect(),
            expected: some.then(|| self.sum(of, Payout::Gross)),
            place: deposit.place,
        }
    }
}

/// What a contribution says of a deposit.
fn said(deposit: &BankDeposit) -> &str {
    if deposit.text.is_empty() { "deposit" } else { &deposit.text }
}
