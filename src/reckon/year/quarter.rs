//! A quarter of a tax year beside the year so far, and what of the owner's own estimated tax was
//! paid. The estimate is made from the profit so far, never from a quarter of it times four.

use super::{SelfEmployment, Total, Year, part_of_year, self_employment};
use crate::model::{At, EstimatePaid, Finding, Form, Money, Period, Seen, Shop, round};
use crate::reckon::costs::PieceCosts;
use crate::reckon::stock::StockRun;
use chrono::NaiveDate;

/// The figures of a quarter.
#[derive(Clone, Debug)]
pub struct Quarter {
    /// 1 to 4.
    pub nth: u32,
    pub own: Year,
    /// From the first day of the year to the last of the quarter.
    pub so_far: Year,
    /// Nothing where the form's table has no such tax or no days.
    pub estimate: Option<Estimate>,
}

/// The owner's own tax on the profit so far, and what was paid of it.
#[derive(Clone, Debug)]
pub struct Estimate {
    pub tax: SelfEmployment,
    /// Below this much owed for the year no payment is due; source: the rate of the form's table.
    pub floor: Option<Money>,
    pub dues: Vec<DueDay>,
}

/// A day on which a payment is due.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct DueDay {
    pub on: NaiveDate,
    pub source: String,
    pub seen: Seen,
    /// Paid for it, on whatever day.
    pub paid: Money,
}

impl Estimate {
    pub fn paid(&self) -> Money {
        self.dues.iter().map(|due| due.paid).sum()
    }
}

/// The quarter of a number.
///
/// # Errors
/// As of [`part_of_year`].
pub fn quarter(
    shop: &Shop,
    run: &StockRun,
    costs: &[PieceCosts],
    year: i32,
    nth: u32,
) -> Result<Quarter, Vec<Finding>> {
    let whole = shop.tax_year(year);
    let period = whole.part(nth, 4);
    let so_far = Period { first: whole.first, last: period.last };
    let own = part_of_year(shop, run, costs, year, period)?;
    let so_far = part_of_year(shop, run, costs, year, so_far)?;
    let estimate = shop.form(year).and_then(|form| estimate(shop, form, year, &so_far));
    Ok(Quarter { nth, own, so_far, estimate })
}

/// The quarters of a year that any of its entries lies in.
pub fn quarters(shop: &Shop, year: i32) -> Vec<u32> {
    let whole = shop.tax_year(year);
    let entries = shop.entries();
    let days: Vec<NaiveDate> =
        entries.iter().filter(|entry| entry.is_of_the_books()).map(|entry| entry.on).collect();
    let has = |nth: &u32| days.iter().any(|on| whole.part(*nth, 4).contains(*on));
    (1..=4).filter(has).collect()
}

fn estimate(shop: &Shop, form: &Form, year: i32, so_far: &Year) -> Option<Estimate> {
    let decimals = shop.currency.decimals;
    let wages = shop.wages.get(&year).copied().unwrap_or_default();
    let net = so_far.total(Total::NetProfit);
    let tax = self_employment(form, year, net, wages)?.in_cents(decimals);
    let days: Vec<_> = form.dues.iter().filter(|due| due.year == year).collect();
    let paid = shop.years.get(&year).map_or(&[][..], |book| &book.estimate_paid);
    let last = so_far.period.last;
    let counts = |one: &&EstimatePaid, nth: usize| {
        part_of(one, days.iter().map(|due| due.on)) == nth && is_known(one, last, nth)
    };
    let dues = days.iter().enumerate().map(|(nth, due)| DueDay {
        on: due.on,
        source: due.source.clone(),
        seen: due.seen,
        paid: paid.iter().filter(|one| counts(one, nth)).map(|one| one.amount.value).sum(),
    });
    let dues: Vec<DueDay> = dues.collect();
    let floor = form.rate("estimated-tax-needed", last).map(|rate| round(rate.value, decimals));
    (!dues.is_empty()).then_some(Estimate { tax, floor, dues })
}

/// What was paid up to the end of the quarter; the last payment of the year is made after its end.
fn is_known(one: &EstimatePaid, last: NaiveDate, nth: usize) -> bool {
    one.on.value <= last || nth == 3
}

/// Which due day a payment is for, from 0: as it says, else the next one, and the last for what
/// comes after all.
fn part_of(one: &EstimatePaid, mut days: impl ExactSizeIterator<Item = NaiveDate>) -> usize {
    let last = days.len().saturating_sub(1);
    match one.part.as_ref().map(|At { value, .. }| *value) {
        Some(part) => (part as usize).saturating_sub(1).min(last),
        None => days.position(|on| one.on.value <= on).unwrap_or(last),
    }
}

/// The year up to a day: what is in stock then is what it closes with.
///
/// # Errors
/// As of [`part_of_year`].
pub fn year_to(
    shop: &Shop,
    run: &StockRun,
    costs: &[PieceCosts],
    day: NaiveDate,
) -> Result<Year, Vec<Finding>> {
    let year = shop.tax_year_of(day);
    let period = Period { first: shop.tax_year(year).first, last: day };
    part_of_year(shop, run, costs, year, period)
}

/// The last day anything happened in the shop, by its entries.
pub fn newest_day(shop: &Shop) -> Option<NaiveDate> {
    let entries = shop.entries().into_iter().filter(|entry| entry.is_of_the_books());
    entries.map(|entry| entry.on).max()
}
