//! The workspace at home by the simplified method: the average area of the months in use, up to the
//! limit of each, at a rate a year.

use super::books::Books;
use super::ledger::{Contribution, Ledger};
use super::names::Total;
use crate::model::{Money, Workspace, round};
use chrono::{Months, NaiveDate};
use rust_decimal::Decimal;

/// The workspace of a year.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct WorkspaceUse {
    /// As written; the last where it changed.
    pub area: Decimal,
    /// Months that count.
    pub months: u32,
    /// What counts of each month's area, on average over the twelve.
    pub average: Decimal,
    /// What counts: no more than the profit before it.
    pub amount: Money,
    /// What is over the profit, and counts in no year.
    pub over: Money,
}

/// The area that counts in each of the twelve months from a day on.
///
/// Source: IRS Pub. 587, the average of what is allowed in each month, where a month with fewer than
/// so many days of use counts nothing, as quoted on two pages with its two examples. Where the area
/// changes within a month, the month has the area that was in use on so many days of it.
pub fn months_allowed(
    space: &Workspace,
    first_day: NaiveDate,
    limit: Decimal,
    least_days: usize,
) -> Vec<Decimal> {
    if let Some(months) = space.months {
        let area = space.uses.last().map_or(Decimal::ZERO, |used| used.area.min(limit));
        return vec![area; months as usize];
    }
    let month = |number| {
        let begins = first_day.checked_add_months(Months::new(number))?;
        let ends = first_day.checked_add_months(Months::new(number + 1))?;
        let days = begins.iter_days().take_while(|day| *day < ends);
        let mut areas: Vec<Decimal> = days.map(|day| area_on(space, day)).collect();
        areas.sort_by(|a, b| b.cmp(a));
        Some(areas.get(least_days.saturating_sub(1))?.min(&limit).to_owned())
    };
    (0..12).filter_map(month).filter(|area| !area.is_zero()).collect()
}

fn area_on(space: &Workspace, day: NaiveDate) -> Decimal {
    let begun = space.uses.iter().rfind(|used| used.from.is_none_or(|from| from <= day));
    let in_use = begun.filter(|used| used.to.is_none_or(|to| day <= to));
    in_use.map_or(Decimal::ZERO, |used| used.area)
}

/// Enters `workspace`: what it comes to, without `over`, the part above the profit.
pub(super) fn enter(books: &Books, over: Money, ledger: &mut Ledger) -> Option<WorkspaceUse> {
    let used = books.book_of_whole_year().and_then(|book| book.workspace.as_ref());
    let found = used.and_then(|space| Some((space, reckoned(books, space, over)?)));
    let parts = found.as_ref().map(|(space, used)| {
        let part = |what: String, amount| Contribution {
            place: space.place,
            on: None,
            what: what.into(),
            amount,
        };
        let average = round(used.average, 2).normalize();
        let what = format!("{average} square feet on average, in use for {} months", used.months);
        vec![part(what, used.amount + over), part("over the profit before it".into(), -over)]
    });
    ledger.put(Total::Workspace, "Workspace at home, simplified method", parts.unwrap_or_default());
    found.map(|(_, used)| used)
}

fn reckoned(books: &Books, space: &Workspace, over: Money) -> Option<WorkspaceUse> {
    let rate = |name: &str| Some(books.rate(name)?.value);
    let first_day = books.day_before().succ_opt()?;
    let least_days = usize::try_from(rate("workspace-days")?).ok()?;
    let allowed = months_allowed(space, first_day, rate("workspace-limit")?, least_days);
    let twelve: Decimal = allowed.iter().sum();
    let amount = round(twelve * rate("workspace-rate")? / Decimal::from(12), books.decimals());
    Some(WorkspaceUse {
        area: space.uses.last()?.area,
        months: u32::try_from(allowed.len()).ok()?,
        average: twelve / Decimal::from(12),
        amount: amount - over,
        over,
    })
}
