//! What the units of a set cost: one rule, for every day.
//!
//! The first `k` of `n` units cost the part of the whole cost up to that day that largest
//! remainder gives `k` against `n − k`; the rest stays with the others. Every other range of units
//! is a difference of two such parts. So whatever is sold, comes back or is withdrawn, and however
//! costs arrive in between, the parts always add up to the whole to the last digit.

use crate::model::{Money, split};
use crate::reckon::costs::CostEntry;
use chrono::NaiveDate;
use rust_decimal::Decimal;

/// What the first `k` of `n` units cost of a whole.
pub fn first_units(cost: Money, k: u32, n: u32, decimals: u32) -> Money {
    match k {
        0 => Money::ZERO,
        k if k >= n => cost,
        k => split(cost, &[Decimal::from(k), Decimal::from(n - k)], decimals)[0],
    }
}

/// What the units `from..to` of `n` bear of each entry, in the order of the entries; the sum is
/// what those units cost of all entries together.
pub fn shares(entries: &[&CostEntry], (from, to): (u32, u32), n: u32, decimals: u32) -> Vec<Money> {
    let range = |cost| first_units(cost, to, n, decimals) - first_units(cost, from, n, decimals);
    let (mut whole, mut borne) = (Money::ZERO, Money::ZERO);
    entries
        .iter()
        .map(|entry| {
            whole += entry.amount;
            let before = std::mem::replace(&mut borne, range(whole));
            borne - before
        })
        .collect()
}

/// Which shares of a gift leave the opening stock with it: those of costs the shop bore before the
/// year began, less what was taken off these since. Where more was taken off than there was, none.
///
/// Source: IRS Pub. 334 (2023 returns) ch. 6 p. 28, donation of inventory.
pub fn left_opening_stock(
    entries: &[&CostEntry],
    shares: &[Money],
    year_begins: NaiveDate,
) -> Vec<bool> {
    let before: Vec<bool> = entries.iter().map(|entry| entry.since < year_begins).collect();
    let opening: Money =
        shares.iter().zip(&before).filter(|(_, before)| **before).map(|(share, _)| *share).sum();
    before.into_iter().map(|before| before && opening > Money::ZERO).collect()
}
