//! Which sales each deposit is made of: each deposit and each amount due is used once.

use super::expected::{Expected, Payout};
use crate::model::{BankDeposit, Money};
use chrono::{Days, NaiveDate};
use std::collections::BTreeSet;

/// How long money may be on its way to the account (common practice, no source).
const DAYS_ON_THE_WAY: u64 = 10;

/// The longest span of sales a channel pays out together (common practice, no source).
const DAYS_OF_A_PAYOUT: u64 = 31;

/// How a deposit may be made up.
#[derive(Clone, Copy)]
enum Way {
    Single,
    OneDay,
    Span,
}

/// Which amounts each deposit is made of; each deposit and each amount is used once.
pub(super) struct Matching<'a> {
    pub deposits: Vec<&'a BankDeposit>,
    pub expected: Vec<Expected>,
    /// By deposit: positions in `expected`; empty for one nothing explains.
    pub of: Vec<Vec<usize>>,
    /// By expected amount: whether it is in a deposit.
    pub used: Vec<bool>,
}

impl<'a> Matching<'a> {
    /// The surest way first: one sale to one deposit, then a day's sales of one channel, then a
    /// span of them; before fees, then less fees; the earliest first.
    pub fn of(deposits: Vec<&'a BankDeposit>, expected: Vec<Expected>) -> Matching<'a> {
        let (of, used) = (vec![Vec::new(); deposits.len()], vec![false; expected.len()]);
        let mut matching = Matching { deposits, expected, of, used };
        for way in [Way::Single, Way::OneDay, Way::Span] {
            for payout in [Payout::Gross, Payout::Net] {
                matching.pass(way, payout);
            }
        }
        matching
    }

    fn pass(&mut self, way: Way, payout: Payout) {
        for deposit in 0..self.deposits.len() {
            if self.of[deposit].is_empty() {
                let found = match way {
                    Way::Single => self.single(deposit, payout),
                    Way::OneDay => self.one_day(deposit, payout),
                    Way::Span => self.span(deposit, payout),
                };
                found.iter().for_each(|&at| self.used[at] = true);
                self.of[deposit] = found;
            }
        }
    }

    /// Unused amounts from so many days before a deposit up to its day, by day.
    fn open(&self, deposit: usize, days: u64) -> Vec<usize> {
        let to = self.deposits[deposit].on;
        let from = to.checked_sub_days(Days::new(days)).unwrap_or(NaiveDate::MIN);
        let first = self.expected.partition_point(|one| one.on < from);
        let end = self.expected.partition_point(|one| one.on <= to);
        (first..end).filter(|&at| !self.used[at]).collect()
    }

    /// One amount by itself.
    fn single(&self, deposit: usize, payout: Payout) -> Vec<usize> {
        let amount = self.deposits[deposit].amount;
        let fits = |at: &usize| self.expected[*at].paid_out(payout) == amount;
        self.open(deposit, DAYS_ON_THE_WAY).into_iter().find(fits).into_iter().collect()
    }

    /// All that is left of one day through one channel.
    fn one_day(&self, deposit: usize, payout: Payout) -> Vec<usize> {
        let open = self.open(deposit, DAYS_ON_THE_WAY);
        let key = |at: usize| (self.expected[at].on, &self.expected[at].channel);
        let mut days = open.chunk_by(|a, b| key(*a) == key(*b));
        let fits = |day: &&[usize]| {
            day.len() > 1 && self.sum(day, payout) == self.deposits[deposit].amount
        };
        days.find(fits).unwrap_or_default().to_vec()
    }

    /// One after the other through one channel, none between them paid by another deposit, and the
    /// last of them not long before this one.
    fn span(&self, deposit: usize, payout: Payout) -> Vec<usize> {
        let open = self.open(deposit, DAYS_ON_THE_WAY + DAYS_OF_A_PAYOUT);
        let channels: BTreeSet<&Option<String>> =
            open.iter().map(|&at| &self.expected[at].channel).collect();
        let mut found = channels.into_iter().filter_map(|channel| {
            let own: Vec<usize> =
                open.iter().copied().filter(|&at| &self.expected[at].channel == channel).collect();
            let mut runs = own.chunk_by(|a, b| !self.paid_between(*a, *b, channel));
            runs.find_map(|run| self.stretch(run, deposit, payout))
        });
        found.next().unwrap_or_default()
    }

    /// Whether an amount of a channel that lies between two others is in a deposit already.
    fn paid_between(&self, a: usize, b: usize, channel: &Option<String>) -> bool {
        (a + 1..b).any(|at| self.used[at] && &self.expected[at].channel == channel)
    }

    /// The part of a run, without a gap, that makes up a deposit: the earliest, and two at least.
    fn stretch(&self, run: &[usize], deposit: usize, payout: Payout) -> Option<Vec<usize>> {
        let BankDeposit { on, amount, .. } = self.deposits[deposit];
        let recent = on.checked_sub_days(Days::new(DAYS_ON_THE_WAY)).unwrap_or(NaiveDate::MIN);
        (0..run.len()).find_map(|from| {
            let mut sum = Money::ZERO;
            let end = (from..run.len()).find(|&to| {
                let last = &self.expected[run[to]];
                sum += last.paid_out(payout);
                to > from && sum == *amount && last.on >= recent
            })?;
            Some(run[from..=end].to_vec())
        })
    }

    pub fn sum(&self, of: &[usize], payout: Payout) -> Money {
        of.iter().map(|&at| self.expected[at].paid_out(payout)).sum()
    }
}
