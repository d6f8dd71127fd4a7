//! A stretch of days that is reckoned by itself: a tax year, a quarter or a month of it.

use super::Shop;
use chrono::{Days, Months, NaiveDate};

/// From one day to another, both in it.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub struct Period {
    pub first: NaiveDate,
    pub last: NaiveDate,
}

impl Period {
    /// A number of months from a day on; cut at the last day there is a calendar for.
    pub fn months(first: NaiveDate, months: u32) -> Period {
        let after = first.checked_add_months(Months::new(months));
        Period { first, last: after.and_then(|day| day.pred_opt()).unwrap_or(NaiveDate::MAX) }
    }

    pub fn contains(self, on: NaiveDate) -> bool {
        (self.first..=self.last).contains(&on)
    }

    /// The day before it begins.
    pub fn eve(self) -> NaiveDate {
        self.first.checked_sub_days(Days::new(1)).unwrap_or(NaiveDate::MIN)
    }

    /// One of so many equal parts of a year, counted from 1: quarters are four, months twelve.
    pub fn part(self, nth: u32, of: u32) -> Period {
        let each = 12 / of;
        let first = self.first.checked_add_months(Months::new(each * (nth - 1)));
        Period::months(first.unwrap_or(NaiveDate::MAX), each)
    }
}

impl Shop {
    /// The tax year of a number, which its books are named after.
    pub fn tax_year(&self, year: i32) -> Period {
        self.home().tax_year(year)
    }

    /// The number of the tax year a day lies in.
    pub fn tax_year_of(&self, on: NaiveDate) -> i32 {
        self.home().tax_year_of(on)
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn parts_of_a_year_follow_each_other_and_fill_it() {
        for first in ["2024-01-01", "2024-04-06"] {
            let year = Period::months(first.parse().unwrap(), 12);
            for of in [4, 12] {
                let parts: Vec<Period> = (1..=of).map(|nth| year.part(nth, of)).collect();
                assert_eq!(parts[0].first, year.first);
                assert_eq!(parts.last().unwrap().last, year.last);
                for pair in parts.windows(2) {
                    assert_eq!(pair[1].eve(), pair[0].last);
                }
            }
        }
    }
}
