//! Finding a form's table, its lines and its rates.

use super::differences::whole;
use super::{Form, Line, Rate};
use crate::model::Shop;
use chrono::{Datelike, NaiveDate};
use rust_decimal::Decimal;

/// The account of a year that has no form.
pub const OWN_ACCOUNT: &str = "own-account";

/// Names tables in `tables/forms`, each with its text.
macro_rules! tables {
    ($($name:literal),* $(,)?) => {
        &[$(($name, include_str!(concat!("../tables/forms/", $name, ".toml")))),*]
    };
}

/// The tables that ship with the program.
const TABLES: &[(&str, &str)] = tables![
    "own-account",
    "gb-own-account",
    "us-schedule-c-2022",
    "us-schedule-c-2023",
    "us-schedule-c-2024",
    "us-schedule-c-2025",
    "us-schedule-c-2026",
];

impl Form {
    /// A form by the name of its table among others.
    ///
    /// # Errors
    /// A sentence saying what is wrong with the table.
    pub fn of_table(name: &str, tables: &[(&str, &str)]) -> Result<Form, String> {
        whole(name, tables)?.try_into().map_err(|error: toml::de::Error| error.to_string())
    }

    /// The categories an expense may have, in the order of the lines.
    pub fn categories(&self) -> impl Iterator<Item = &str> {
        self.lines.iter().flat_map(|line| line.categories.iter().map(String::as_str))
    }

    /// The line that takes a category.
    pub fn line_of(&self, category: &str) -> Option<&Line> {
        self.lines.iter().find(|line| line.categories.iter().any(|own| own == category))
    }

    /// The lines an expense goes to: those fed by a category or by an entry that is neither
    /// receipts nor goods nor miles.
    pub fn expense_lines(&self) -> impl Iterator<Item = &Line> {
        self.lines.iter().filter(|line| {
            !line.categories.is_empty() || line.feeds.iter().any(|feed| feed.is_expense())
        })
    }

    /// The rate of a name that holds on a day, from nothing on.
    pub fn rate(&self, name: &str, on: NaiveDate) -> Option<&Rate> {
        self.holding(name, on).filter(|rate| rate.above.is_none()).max_by_key(|rate| rate.from)
    }

    fn holding(&self, name: &str, on: NaiveDate) -> impl Iterator<Item = &Rate> {
        let holds = move |rate: &&Rate| rate.from <= on && on <= rate.last_day();
        self.rates.iter().filter(move |rate| rate.name == name).filter(holds)
    }

    /// Whether a rate of a name is another one above some amount of a year.
    pub fn has_bands(&self, name: &str) -> bool {
        self.rates.iter().any(|rate| rate.name == name && rate.above.is_some())
    }

    /// Whether there is a rate of a name on any day.
    pub fn knows(&self, name: &str) -> bool {
        self.rates.iter().any(|rate| rate.name == name)
    }

    /// What an amount comes to at the rate of a day and, where the rate goes by bands, at those
    /// above it: `before` is what came earlier in the year. Nothing where no rate holds.
    pub fn at_rate(
        &self,
        name: &str,
        on: NaiveDate,
        before: Decimal,
        amount: Decimal,
    ) -> Option<Decimal> {
        let mut bands = vec![(Decimal::ZERO, self.rate(name, on)?.value)];
        bands.extend(self.holding(name, on).filter_map(|rate| Some((rate.above?, rate.value))));
        bands.sort_by_key(|(above, _)| *above);
        let upper = |i: usize| bands.get(i + 1).map(|(above, _)| *above);
        let mut sum = Decimal::ZERO;
        for (i, (above, value)) in bands.iter().enumerate() {
            let (from, to) = (before.max(*above), before.checked_add(amount)?);
            let within = upper(i).map_or(to, |upper| to.min(upper)) - from;
            sum += within.max(Decimal::ZERO).checked_mul(*value)?;
        }
        Some(sum)
    }

    /// Whether it can be filled in for a year and with a currency.
    pub fn is_for(&self, year: i32, currency: &str) -> bool {
        let of_year = self.years.is_empty() || self.years.contains(&year);
        of_year && self.currency.as_ref().is_none_or(|own| own == currency)
    }

    /// Positions of the lines such that every formula comes after the lines it adds.
    ///
    /// # Errors
    /// A sentence naming the first line whose formula leads nowhere or back to itself.
    pub fn order(&self) -> Result<Vec<usize>, String> {
        let mut order: Vec<usize> = Vec::with_capacity(self.lines.len());
        let mut done: Vec<&str> = Vec::with_capacity(self.lines.len());
        while order.len() < self.lines.len() {
            let ready = self.lines.iter().enumerate().find(|(i, line)| {
                !order.contains(i)
                    && line.plus.iter().chain(&line.less).all(|n| done.contains(&n.as_str()))
            });
            let Some((i, line)) = ready else {
                let stuck = (0..self.lines.len()).find(|i| !order.contains(i)).unwrap_or(0);
                let number = &self.lines[stuck].number;
                return Err(format!("line {number} adds a line that is missing or leads back"));
            };
            order.push(i);
            done.push(&line.number);
        }
        Ok(order)
    }

    /// What is wrong with the table as a whole, in sentences; nothing for a sound one.
    pub fn faults(&self) -> Vec<String> {
        let mut faults: Vec<String> = self.order().err().into_iter().collect();
        let twice = |words: Vec<&str>, what: &str, faults: &mut Vec<String>| {
            for (i, word) in words.iter().enumerate() {
                if words[..i].contains(word) {
                    faults.push(format!("{what} `{word}` stands in the table twice"));
                }
            }
        };
        twice(self.lines.iter().map(|l| l.number.as_str()).collect(), "line", &mut faults);
        twice(self.categories().collect(), "category", &mut faults);
        for line in &self.lines {
            if !self.parts.iter().any(|part| part.number == line.part) {
                faults.push(format!("line {} stands in no part of the form", line.number));
            }
        }
        for name in self.lines.iter().flat_map(|line| line.portions.values()) {
            if !self.rates.iter().any(|rate| &rate.name == name) {
                faults.push(format!("there is no rate `{name}`"));
            }
        }
        faults
    }
}

impl Rate {
    /// The last day it holds.
    pub fn last_day(&self) -> NaiveDate {
        self.to.unwrap_or_else(|| {
            NaiveDate::from_ymd_opt(self.from.year(), 12, 31).unwrap_or(self.from)
        })
    }
}

/// The forms that ship with the program.
pub fn built_in_forms() -> Vec<Form> {
    TABLES.iter().map(|(name, _)| Form::of_table(name, TABLES).expect("embedded")).collect()
}

/// The table of a form for a year. Of several the last one counts, so that a shop's own goes
/// before a built-in one.
pub fn form_for<'a>(forms: &'a [Form], name: &str, year: i32) -> Option<&'a Form> {
    let of_year = |form: &&Form| form.years.is_empty() || form.years.contains(&year);
    forms.iter().rev().filter(|form| form.name == name).find(of_year)
}

/// The years there are tables of a form for, in order.
pub fn form_years(forms: &[Form], name: &str) -> Vec<i32> {
    let named = forms.iter().filter(|form| form.name == name);
    let mut years: Vec<i32> = named.flat_map(|form| form.years.iter().copied()).collect();
    years.sort_unstable();
    years.dedup();
    years
}

impl Shop {
    /// What a year is reckoned on: the shop's form, or where there is no table for that year and
    /// the shop's currency, an account of the year on no form.
    pub fn form(&self, year: i32) -> Option<&Form> {
        self.own_form(year).or_else(|| form_for(&self.forms, OWN_ACCOUNT, year))
    }

    /// The table of the shop's own form for a year.
    pub fn own_form(&self, year: i32) -> Option<&Form> {
        let form = form_for(&self.forms, &self.books.form.value, year)?;
        form.is_for(year, &self.currency.code).then_some(form)
    }

    /// Whether the shop's form has a rate of a name in any year.
    pub fn knows_rate(&self, name: &str) -> bool {
        let own = self.forms.iter().filter(|form| form.name == self.books.form.value);
        own.into_iter().any(|form| form.knows(name))
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::model::same_but_for_spelling;

    #[test]
    fn the_built_in_tables_are_sound() {
        for form in built_in_forms() {
            assert_eq!(form.faults(), Vec::<String>::new(), "{} {:?}", form.name, form.years);
        }
    }

    #[test]
    fn a_rate_never_slides_into_a_year_it_was_not_looked_up_for() {
        let forms = built_in_forms();
        let day = |text: &str| text.parse::<NaiveDate>().unwrap();
        let first = form_for(&forms, "us-schedule-c", 2022).unwrap();
        assert_eq!(first.rate("mileage", day("2022-06-30")).unwrap().value, Decimal::new(585, 3));
        assert_eq!(first.rate("mileage", day("2022-07-01")).unwrap().value, Decimal::new(625, 3));
        assert!(first.rate("mileage", day("2023-01-01")).is_none());
        assert!(form_for(&forms, "us-schedule-c", 2021).is_none());
        // Announcement 2026-11: another rate from 1 July 2026.
        let last = form_for(&forms, "us-schedule-c", 2026).unwrap();
        assert_eq!(last.rate("mileage", day("2026-06-30")).unwrap().value, Decimal::new(725, 3));
        assert_eq!(last.rate("mileage", day("2026-07-01")).unwrap().value, Decimal::new(76, 2));
    }

    #[test]
    fn the_account_on_no_form_takes_every_category() {
        let forms = built_in_forms();
        let own = form_for(&forms, OWN_ACCOUNT, 1999).unwrap();
        for form in &forms {
            for category in form.categories() {
                let known = own.categories().any(|own| same_but_for_spelling(own, category));
                assert!(known, "no line of the account takes `{category}`");
            }
        }
    }

    #[test]
    fn miles_above_a_band_have_its_rate() {
        // gov.uk, simplified expenses, vehicles: 11,000 miles come to 4,500 and 250.
        let forms = built_in_forms();
        let form = form_for(&forms, "gb-own-account", 2025).unwrap();
        let day: NaiveDate = "2025-05-01".parse().unwrap();
        let cost = |before: i64, miles: i64| {
            form.at_rate("mileage", day, Decimal::from(before), Decimal::from(miles)).unwrap()
        };
        assert_eq!(cost(0, 11_000), Decimal::from(4750));
        assert_eq!(cost(9_999, 2), Decimal::new(70, 2));
        assert_eq!(cost(10_000, 4), Decimal::ONE);
        assert_eq!(cost(0, 10), Decimal::new(450, 2));
        assert!(
            form.at_rate("mileage", "2027-05-01".parse().unwrap(), 0.into(), 1.into()).is_none()
        );
    }

    #[test]
    fn a_formula_that_leads_back_is_a_fault() {
        let text = include_str!("../tables/forms/us-schedule-c-2023.toml")
            .replace("plus = [\"42\"]", "plus = [\"5\"]");
        let faults = Form::of_table("own", &[("own", &text)]).unwrap().faults();
        assert!(faults[0].contains("leads back"), "{faults:?}");
    }
}
