//! What every part of the year's reckoning looks at: the shop, its form, and the year's two ends.

use super::ledger::Contribution;
use crate::model::{
    Basis, Entry, Form, Line, Money, Period, Rate, Shop, Supplies, UnitMove, YearBook,
};
use crate::reckon::costs::{CostEntry, CostEntryKind, PieceCosts, positions};
use crate::reckon::payments::Accounts;
use crate::reckon::stock::StockRun;
use chrono::NaiveDate;
use rust_decimal::Decimal;

pub(super) struct Books<'a> {
    pub shop: &'a Shop,
    pub run: &'a StockRun,
    pub costs: &'a [PieceCosts],
    pub form: &'a Form,
    /// The tax year it is of, or the period lies in.
    pub year: i32,
    /// What is reckoned: the year, or a part of it.
    pub period: Period,
    pub last_day: NaiveDate,
    /// What is known of how the books were kept before the period's year.
    pub known_before: bool,
    /// The moves of every piece, in the order of [`Shop::pieces`].
    pub moves: Vec<Vec<UnitMove>>,
    /// The accounts of every piece's sales, with what came back up to the last day.
    pub accounts: Vec<Accounts>,
    /// What each piece is called in the names of figures: unique.
    pub keys: Vec<String>,
    /// Every dated entry of the shop.
    pub all: Vec<Entry<'a>>,
}

impl<'a> Books<'a> {
    pub fn in_year(&self, on: NaiveDate) -> bool {
        self.period.contains(on)
    }

    /// The day before the period begins.
    pub fn day_before(&self) -> NaiveDate {
        self.period.eve()
    }

    /// The entries of the period.
    pub fn of_period(&self) -> impl Iterator<Item = Entry<'a>> {
        self.all.iter().copied().filter(|entry| self.in_year(entry.on))
    }

    /// What an entry adds to a figure, said with its piece.
    pub fn part(&self, entry: &Entry, amount: Money) -> Contribution {
        let words = entry.words();
        let what = match entry.piece {
            Some(piece) => format!("{}: {words}", self.title(piece)),
            None => words,
        };
        Contribution::new(entry.place, entry.on, what, amount)
    }

    /// The first day of the tax year, whatever part of it is reckoned.
    pub fn year_begins(&self) -> NaiveDate {
        self.shop.tax_year(self.year).first
    }

    /// Whether it is the year that is reckoned, and not a part of it. What belongs to no day (the
    /// workspace, thresholds, what channels report, the tax on the whole profit) is in no part.
    pub fn is_whole_year(&self) -> bool {
        self.period == self.shop.tax_year(self.year)
    }

    /// The year's book where the year is reckoned as a whole.
    pub fn book_of_whole_year(&self) -> Option<&'a YearBook> {
        self.shop.years.get(&self.year).filter(|_| self.is_whole_year())
    }

    pub fn when_used(&self) -> bool {
        self.shop.supplies(self.year) == Supplies::WhenUsed
    }

    /// Money counts on the day it is paid.
    pub fn cash(&self) -> bool {
        self.shop.basis(self.year) == Basis::Cash
    }

    pub fn decimals(&self) -> u32 {
        self.shop.currency.decimals
    }

    /// The costs of a piece that the books know, by day: draws are among them only where supplies
    /// count when used.
    pub fn entries(&self, piece: usize) -> Vec<&'a CostEntry> {
        self.entries_kept(piece, self.when_used())
    }

    /// The same, with or without draws, whatever the method says.
    pub fn entries_kept(&self, piece: usize, drawn: bool) -> Vec<&'a CostEntry> {
        let known = |entry: &&CostEntry| drawn || entry.kind != CostEntryKind::Drawn;
        self.costs[piece].entries.iter().filter(known).collect()
    }

    /// The rate of a name as it stands at the end of the year.
    pub fn rate(&self, name: &str) -> Option<&'a Rate> {
        self.form.rate(name, self.shop.tax_year(self.year).last)
    }

    /// The share that a line takes in of an expense of a category.
    pub fn portion(&self, line: &Line, category: &str) -> Decimal {
        let rate = line.portions.get(category).and_then(|name| self.rate(name));
        rate.map_or(Decimal::ONE, |rate| rate.value)
    }

    /// "Oak washstand, 25-014": how a piece is called in what a contribution says.
    pub fn title(&self, piece: usize) -> String {
        let piece = &self.shop.pieces[piece];
        format!("{}, {}", piece.title.value, piece.name())
    }
}

/// A piece's own name where it is the only one of that name, else its folder.
pub(super) fn piece_keys(shop: &Shop) -> Vec<String> {
    let positions = positions(shop);
    let key = |(i, piece): (usize, &crate::model::Piece)| match positions.get(piece.name()) {
        Some(&first) if first == i => piece.name().to_owned(),
        _ => piece.folder.clone(),
    };
    shop.pieces.iter().enumerate().map(key).collect()
}
