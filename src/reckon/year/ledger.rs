//! The ledger of a year: every figure by its name, with the entries it is made of.
//!
//! Nothing of the books view is printed that does not stand here.

use super::names::{FigureName, Total};
use crate::model::{Money, Place};
use chrono::NaiveDate;
use rust_decimal::Decimal;
use std::collections::BTreeMap;
use std::sync::Arc;

/// What one entry adds to a figure.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Contribution {
    /// The entry; [`Place::NOWHERE`] for what is reckoned from another figure, which `what` names.
    pub place: Place,
    /// The day it counts on; nothing for what belongs to the year as a whole.
    pub on: Option<NaiveDate>,
    pub what: Arc<str>,
    /// In the figure's unit, exact; below zero where it takes away.
    pub amount: Decimal,
}

impl Contribution {
    pub(super) fn new(
        place: Place,
        on: NaiveDate,
        what: impl Into<Arc<str>>,
        amount: Money,
    ) -> Contribution {
        Contribution { place, on: Some(on), what: what.into(), amount }
    }

    /// Part of a figure that is reckoned and not entered.
    pub(super) fn reckoned(what: impl Into<Arc<str>>, amount: Decimal) -> Contribution {
        Contribution { place: Place::NOWHERE, on: None, what: what.into(), amount }
    }

    pub(super) fn times(&self, factor: Decimal) -> Contribution {
        Contribution { amount: self.amount * factor, ..self.clone() }
    }
}

/// What a figure counts.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum FigureUnit {
    Money,
    Distance,
    Hours,
}

/// A printed figure: its name, its value, and what it is made of.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Figure {
    pub name: FigureName,
    pub label: String,
    pub unit: FigureUnit,
    /// Exact; the sum of [`Figure::parts`].
    pub amount: Decimal,
    /// In the order of reckoning: by piece or book, then by day.
    pub parts: Vec<Contribution>,
}

/// All figures of a year, in the order of their names as they are printed.
#[derive(Clone, Debug, Default)]
pub struct Ledger {
    figures: BTreeMap<String, Figure>,
}

impl Ledger {
    pub fn get(&self, name: &FigureName) -> Option<&Figure> {
        self.figures.get(&name.to_string())
    }

    /// Every figure, by name.
    pub fn iter(&self) -> impl Iterator<Item = &Figure> {
        self.figures.values()
    }

    /// The value of a figure; nothing for one that was never put, which is not 0.00.
    pub fn amount(&self, name: impl Into<FigureName>) -> Option<Decimal> {
        self.get(&name.into()).map(|figure| figure.amount)
    }

    /// The value of a figure that every year has.
    pub fn total(&self, total: Total) -> Decimal {
        self.amount(total).expect("every year has it")
    }

    /// What a figure is made of: nothing where it was never put, as there was nothing to put.
    pub(super) fn parts(&self, name: impl Into<FigureName>) -> &[Contribution] {
        self.get(&name.into()).map_or(&[], |figure| &figure.parts)
    }

    /// Enters a sum of money.
    pub(super) fn put(
        &mut self,
        name: impl Into<FigureName>,
        label: &str,
        parts: Vec<Contribution>,
    ) -> Money {
        self.put_in(FigureUnit::Money, name, label, parts)
    }

    pub(super) fn put_in(
        &mut self,
        unit: FigureUnit,
        name: impl Into<FigureName>,
        label: &str,
        mut parts: Vec<Contribution>,
    ) -> Decimal {
        parts.retain(|part| !part.amount.is_zero());
        let amount = parts.iter().map(|part| part.amount).sum();
        let (name, label) = (name.into(), label.to_owned());
        self.figures.insert(name.to_string(), Figure { name, label, unit, amount, parts });
        amount
    }

    /// Enters a sum of other figures, each added (1) or taken away (−1).
    pub(super) fn put_sum(
        &mut self,
        name: impl Into<FigureName>,
        label: &str,
        of: &[(FigureName, Decimal)],
    ) -> Money {
        let parts = of
            .iter()
            .flat_map(|(from, sign)| self.parts(from.clone()).iter().map(|part| part.times(*sign)))
            .collect();
        self.put(name, label, parts)
    }
}
