//! Whether a group of pieces is worth doing again: by two medians, and never from a few pieces.

use super::Group;
use crate::model::Money;
use crate::reckon::spread::Spread;
use rust_decimal::Decimal;

/// The fewest pieces a verdict is given from: with five there are two on either side of the
/// median, so that no single piece makes it. Our own choice, from no source.
pub const FEWEST: usize = 5;

/// What groups are compared with.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub struct Measure {
    /// The shop rate, else the median of all wholly sold pieces; nothing where those are too few.
    pub per_hour: Option<Money>,
    /// Whether it is the shop rate.
    pub is_shop_rate: bool,
    /// The median days all wholly sold pieces were held; nothing where those are too few.
    pub days_held: Option<Decimal>,
}

/// What two medians of a group say.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Verdict {
    /// It earns the measure or more an hour, and is held no longer than the shop's median.
    Again,
    /// It earns as much, and is held longer.
    EarnsButSits,
    /// It earns less, and is held no longer.
    SellsButEarnsLess,
    /// It earns less and is held longer.
    NotAgain,
    /// Fewer than [`FEWEST`] pieces have the figures it takes, in the group or in the shop.
    TooFew,
}

impl Verdict {
    /// The word for machines.
    pub fn word(self) -> &'static str {
        match self {
            Verdict::Again => "again",
            Verdict::EarnsButSits => "earns-but-sits",
            Verdict::SellsButEarnsLess => "sells-but-earns-less",
            Verdict::NotAgain => "not-again",
            Verdict::TooFew => "too-few",
        }
    }
}

impl Measure {
    pub(super) fn of(shop_rate: Option<Money>, all: &Group) -> Measure {
        Measure {
            per_hour: shop_rate.or(enough(all.per_hour)),
            is_shop_rate: shop_rate.is_some(),
            days_held: enough(all.days_held),
        }
    }

    /// What a group's medians say against the measure.
    pub(super) fn verdict(&self, group: &Group) -> Verdict {
        let earns = compare(earned(group), self.per_hour, |median, measure| median >= measure);
        let sells =
            compare(enough(group.days_held), self.days_held, |median, measure| median <= measure);
        match (earns, sells) {
            (Some(true), Some(true)) => Verdict::Again,
            (Some(true), Some(false)) => Verdict::EarnsButSits,
            (Some(false), Some(true)) => Verdict::SellsButEarnsLess,
            (Some(false), Some(false)) => Verdict::NotAgain,
            _ => Verdict::TooFew,
        }
    }
}

/// What a group earned per hour, where enough pieces say.
pub(super) fn earned(group: &Group) -> Option<Money> {
    enough(group.per_hour)
}

fn enough(spread: Option<Spread>) -> Option<Decimal> {
    spread.filter(|spread| spread.pieces >= FEWEST).map(|spread| spread.median)
}

fn compare(
    median: Option<Decimal>,
    measure: Option<Decimal>,
    holds: impl Fn(Decimal, Decimal) -> bool,
) -> Option<bool> {
    Some(holds(median?, measure?))
}
