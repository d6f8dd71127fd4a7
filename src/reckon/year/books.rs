//! What every part of the year's reckoning looks at: the shop, its form, and the year's two ends.

use super::units::UnitMove;
use crate::model::{Basis, Form, Line, Rate, Shop, Supplies};
use crate::reckon::costs::{CostEntry, CostEntryKind, PieceCosts, positions};
use crate::reckon::payments::Accounts;
use crate::reckon::stock::StockRun;
use chrono::{Datelike, NaiveDate};
use rust_decimal::Decimal;

pub(super) struct Books<'a> {
    pub shop: &'a Shop,
    pub run: &'a StockRun,
    pub costs: &'a [PieceCosts],
    pub form: &'a Form,
    pub year: i32,
    pub last_day: NaiveDate,
    /// The moves of every piece, in the order of [`Shop::pieces`].
    pub moves: Vec<Vec<UnitMove>>,
    /// The accounts of every piece's sales, with what came back up to the last day.
    pub accounts: Vec<Accounts>,
    /// What each piece is called in the names of figures: unique.
    pub keys: Vec<String>,
}

impl<'a> Books<'a> {
    pub fn in_year(&self, on: NaiveDate) -> bool {
        on.year() == self.year
    }

    /// The day the year before ended.
    pub fn day_before(&self) -> NaiveDate {
        NaiveDate::from_ymd_opt(self.year - 1, 12, 31).unwrap_or(NaiveDate::MIN)
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
        let drawn = self.when_used();
        let known = |entry: &&CostEntry| drawn || entry.kind != CostEntryKind::Drawn;
        self.costs[piece].entries.iter().filter(known).collect()
    }

    /// The rate of a name as it stands at the end of the year.
    pub fn rate(&self, name: &str) -> Option<&'a Rate> {
        self.form.rate(name, self.last_day)
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
