//! Countries: what follows for a shop from where it is, as a table. Nothing else knows a country.

use super::closed::closed;
use super::{Closed, Currency, LengthUnit, Paper, Period, Seen, currency};
use chrono::{Datelike, NaiveDate};
use serde::{Deserialize, Deserializer, de::Error};
use std::sync::LazyLock;

/// What is usual in a country, where a shop says nothing else.
#[derive(Clone, Debug, Deserialize)]
#[serde(rename_all = "kebab-case", deny_unknown_fields)]
pub struct Country {
    /// ISO 3166 code in lower case; empty for a country without a row.
    pub code: String,
    /// As it stands in a sentence: "the United States".
    pub name: String,
    /// ISO 4217 code.
    pub currency: String,
    #[serde(deserialize_with = "word")]
    pub units: LengthUnit,
    #[serde(deserialize_with = "word")]
    pub paper: Paper,
    /// First day of the tax year, as month and day.
    year_begins: MonthAndDay,
    #[serde(default, deserialize_with = "word")]
    named_after: NamedAfter,
    /// The name of the form's tables.
    pub form: String,
    #[serde(deserialize_with = "word")]
    pub distance: Distance,
    /// What a workspace is measured in.
    pub area: String,
    /// What the tax on a sale is called.
    pub tax: String,
    #[serde(deserialize_with = "word")]
    pub spelling: Spelling,
    /// Of the first day of the tax year.
    pub source: String,
    pub seen: Seen,
}

closed! {
    /// What trips are written in.
    #[derive(Default)]
    pub enum Distance {
        #[default]
        Miles = "miles",
        Kilometres = "km",
    }
}

closed! {
    /// Which day of a tax year has the calendar year that the tax year is called after.
    #[derive(Default)]
    pub enum NamedAfter {
        #[default]
        FirstDay = "first-day",
        LastDay = "last-day",
    }
}

closed! {
    /// How the words of the program are spelled.
    #[derive(Default)]
    pub enum Spelling {
        #[default]
        American = "american",
        British = "british",
    }
}

/// A day of every year.
#[derive(Clone, Copy, Debug)]
struct MonthAndDay(u32, u32);

impl<'de> Deserialize<'de> for MonthAndDay {
    fn deserialize<D: Deserializer<'de>>(from: D) -> Result<MonthAndDay, D::Error> {
        let text = String::deserialize(from)?;
        // A leap year, so that any day may be named.
        let day: Option<NaiveDate> = format!("2024-{text}").parse().ok();
        let day = day.ok_or_else(|| D::Error::custom(format!("`{text}` is no month and day")))?;
        Ok(MonthAndDay(day.month(), day.day()))
    }
}

/// A word of a closed set.
fn word<'de, D: Deserializer<'de>, T: Closed>(from: D) -> Result<T, D::Error> {
    let text = String::deserialize(from)?;
    T::of_word(&text).ok_or_else(|| D::Error::custom(format!("`{text}` is not a known word")))
}

impl Country {
    /// The tax year of a number.
    pub fn tax_year(&self, number: i32) -> Period {
        let MonthAndDay(month, day) = self.year_begins;
        let begins = |year| NaiveDate::from_ymd_opt(year, month, day).unwrap_or(NaiveDate::MIN);
        let of_first = Period::months(begins(number), 12);
        let wanted = match self.named_after {
            NamedAfter::FirstDay => of_first.first,
            NamedAfter::LastDay => begins(number - (of_first.last.year() - number)),
        };
        Period::months(wanted, 12)
    }

    /// What a tax year is called: "2025", or "2025–26" where it lies in two calendar years.
    pub fn year_name(&self, number: i32) -> String {
        let Period { first, last } = self.tax_year(number);
        match first.year() == last.year() {
            true => first.year().to_string(),
            false => format!("{}–{:02}", first.year(), last.year() % 100),
        }
    }

    /// The number of the tax year that a day lies in.
    pub fn tax_year_of(&self, on: NaiveDate) -> i32 {
        let near = [on.year() - 1, on.year(), on.year() + 1];
        near.into_iter().find(|year| self.tax_year(*year).contains(on)).unwrap_or(on.year())
    }

    /// Its money.
    pub fn money(&self) -> &'static Currency {
        currency(&self.currency).expect("a test looks at every row")
    }
}

#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
struct Table {
    country: Vec<Country>,
}

static TABLE: LazyLock<Vec<Country>> = LazyLock::new(|| {
    toml::from_str::<Table>(include_str!("tables/countries.toml")).expect("embedded").country
});

/// Every country of the table.
pub fn countries() -> impl Iterator<Item = &'static Country> {
    TABLE.iter().filter(|country| !country.code.is_empty())
}

/// The country of a code; what holds elsewhere for one without a row.
pub fn country(code: &str) -> &'static Country {
    TABLE.iter().find(|country| country.code == code).unwrap_or(&TABLE[0])
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::model::{built_in_forms, form_for};

    #[test]
    fn every_row_is_sound() {
        let forms = built_in_forms();
        assert!(TABLE[0].code.is_empty());
        for country in TABLE.iter() {
            assert!(currency(&country.currency).is_some(), "{}", country.code);
            assert!(forms.iter().any(|form| form.name == country.form), "{}", country.code);
            for year in [2023, 2024, 2025] {
                let period = country.tax_year(year);
                assert_eq!(country.tax_year_of(period.first), year, "{}", country.code);
                assert_eq!(country.tax_year_of(period.last), year, "{}", country.code);
            }
        }
        assert!(form_for(&forms, "own-account", 1999).is_some());
    }

    #[test]
    fn a_tax_year_begins_on_its_own_day() {
        let days = |code: &str| {
            let period = country(code).tax_year(2025);
            (period.first.to_string(), period.last.to_string())
        };
        let pair = |first: &str, last: &str| (first.to_owned(), last.to_owned());
        assert_eq!(days("us"), pair("2025-01-01", "2025-12-31"));
        assert_eq!(days("gb"), pair("2025-04-06", "2026-04-05"));
        assert_eq!(days("nz"), pair("2024-04-01", "2025-03-31"));
        assert_eq!(country("gb").tax_year_of("2026-04-05".parse().unwrap()), 2025);
        assert_eq!(country("xx").form, "own-account");
        let names = ["us", "gb", "nz"].map(|code| country(code).year_name(2025));
        assert_eq!(names, ["2025", "2025–26", "2024–25"]);
    }
}
