//! What came in and what it cost, month by month.

use super::books::Books;
use super::ledger::{Contribution, Ledger};
use super::names::{FigureName, MonthFigure, Total};
use crate::model::{Money, Period};
use chrono::Datelike;

/// A month of the year; figures `month-MM-received` and `month-MM-cost`.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Month {
    /// The calendar month it begins in, 1 to 12.
    pub month: u32,
    /// Receipts less refunds.
    pub received: Money,
    /// Cost of goods sold and expenses that have a day; the workspace at home belongs to no month.
    pub cost: Money,
}

/// Enters the months of the period. They add up to receipts less refunds, and to cost of goods sold and
/// all expenses with a day.
pub(super) fn enter(books: &Books, ledger: &mut Ledger) -> Vec<Month> {
    let year = books.shop.tax_year(books.year);
    let months = (1..=12).map(|nth| year.part(nth, 12));
    let months: Vec<Period> = months
        .filter(|month| month.first <= books.last_day && month.last >= books.period.first)
        .collect();
    let received = by_month(&months, ledger, &[Total::NetReceipts]);
    let cost = by_month(&months, ledger, &[Total::CostFromPieces, Total::TotalExpenses]);
    let pairs = received.into_iter().zip(cost).zip(months.iter().map(|month| month.first.month()));
    pairs
        .map(|((received, cost), month)| Month {
            month,
            received: ledger.put(
                FigureName::Month(month, MonthFigure::Received),
                &format!("Received in month {month}"),
                received,
            ),
            cost: ledger.put(
                FigureName::Month(month, MonthFigure::Cost),
                &format!("Cost in month {month}"),
                cost,
            ),
        })
        .collect()
}

fn by_month(months: &[Period], ledger: &Ledger, figures: &[Total]) -> Vec<Vec<Contribution>> {
    let parts = || figures.iter().flat_map(|name| ledger.parts(*name));
    let of = |month: &Period| {
        let own = parts().filter(|part| part.on.is_some_and(|on| month.contains(on)));
        own.cloned().collect()
    };
    months.iter().map(of).collect()
}
