//! The days a summary is of: the whole year, or the part of it up to the last entry.

use crate::model::Shop;
use crate::reckon::year::{Year, years};
use chrono::{Datelike, NaiveDate};

/// From 1 January up to a day.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) struct Period {
    pub last: NaiveDate,
    pub finished: bool,
}

/// A year is finished where anything was written of a later one, or of its last month; nothing here
/// asks the clock.
pub(super) fn period(shop: &Shop, year: &Year) -> Period {
    let end = NaiveDate::from_ymd_opt(year.year, 12, 31).unwrap_or(NaiveDate::MAX);
    let days = year.ledger.iter().flat_map(|figure| figure.parts.iter().filter_map(|part| part.on));
    let newest = days.filter(|on| on.year() == year.year).max().unwrap_or(end);
    let finished = newest.month() == 12 || years(shop).iter().any(|other| *other > year.year);
    Period { last: if finished { end } else { newest }, finished }
}

impl Period {
    /// "31 December".
    pub fn closing_day(self) -> String {
        format!("{}\u{a0}{}", self.last.day(), self.last.format("%B"))
    }

    /// Whether a month of the year has begun.
    pub fn has(self, month: u32) -> bool {
        month <= self.last.month()
    }
}
