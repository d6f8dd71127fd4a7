//! What came in and what it cost, month by month.

use super::ledger::{Contribution, Ledger};
use crate::model::Money;
use chrono::Datelike;

/// A month of the year; figures `month-MM-received` and `month-MM-cost`.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Month {
    /// 1 to 12.
    pub month: u32,
    /// Receipts less refunds.
    pub received: Money,
    /// Cost of goods sold and expenses that have a day; the workspace at home belongs to no month.
    pub cost: Money,
}

/// Enters the twelve months. They add up to receipts less refunds, and to cost of goods sold and
/// all expenses with a day.
pub(super) fn enter(ledger: &mut Ledger) -> Vec<Month> {
    let received = by_month(ledger, &["net-receipts"]);
    let cost = by_month(ledger, &["cost-from-pieces", "total-expenses"]);
    let pairs = received.into_iter().zip(cost).zip(1..);
    pairs
        .map(|((received, cost), month)| Month {
            month,
            received: ledger.put(
                &format!("month-{month:02}-received"),
                &format!("Received in month {month}"),
                received,
            ),
            cost: ledger.put(
                &format!("month-{month:02}-cost"),
                &format!("Cost in month {month}"),
                cost,
            ),
        })
        .collect()
}

fn by_month(ledger: &Ledger, figures: &[&str]) -> Vec<Vec<Contribution>> {
    let mut months = vec![Vec::new(); 12];
    for part in figures.iter().flat_map(|name| ledger.parts(name)) {
        if let Some(on) = part.on {
            months[on.month0() as usize].push(part.clone());
        }
    }
    months
}
