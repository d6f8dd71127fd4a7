//! The days a summary is of: the whole year, or the part of it up to the last entry.

use crate::model::{Period, Shop};
use crate::reckon::year::Year;
use chrono::{Datelike, NaiveDate};

/// From the first day of the year up to a day.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) struct Covered {
    whole: Period,
    pub last: NaiveDate,
    pub finished: bool,
}

/// A year is finished where anything was written of a later one, or of its last month; nothing here
/// asks the clock.
pub(super) fn covered(shop: &Shop, year: &Year) -> Covered {
    let whole = shop.tax_year(year.year);
    let entries = shop.entries();
    let later = entries.iter().any(|entry| entry.on > whole.last);
    let newest = entries.iter().map(|entry| entry.on).filter(|on| whole.contains(*on)).max();
    let newest = newest.unwrap_or(whole.last);
    let finished = later || whole.part(12, 12).contains(newest);
    Covered { whole, last: if finished { whole.last } else { newest }, finished }
}

impl Covered {
    /// The months of the year that have begun.
    pub fn months(self) -> impl Iterator<Item = Period> {
        let months = (1..=12).map(move |nth| self.whole.part(nth, 12));
        months.filter(move |month| month.first <= self.last)
    }

    /// Whether a month has begun, by the number of the calendar month it begins in.
    pub fn has(self, month: u32) -> bool {
        self.months().any(|begun| begun.first.month() == month)
    }
}
