//! Finding a form's table, its lines and its rates.

use super::differences::whole;
use super::{Form, Line, Rate};
use crate::model::{Money, Shop};
use chrono::{Datelike, NaiveDate};

/// Names tables in `tables/forms`, each with its text.
macro_rules! tables {
    ($($name:literal),* $(,)?) => {
        &[$(($name, include_str!(concat!("../tables/forms/", $name, ".toml")))),*]
    };
}

/// The tables that ship with the program.
const TABLES: &[(&str, &str)] = tables![
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

    /// The rate of a name that holds on a day.
    pub fn rate(&self, name: &str, on: NaiveDate) -> Option<&Rate> {
        self.rates
            .iter()
            .filter(|rate| rate.name == name && rate.from <= on && on <= rate.last_day())
            .max_by_key(|rate| rate.from)
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
    forms.iter().rev().find(|form| form.name == name && form.years.contains(&year))
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
    /// The shop's form for a year; nothing if there is no table for it.
    pub fn form(&self, year: i32) -> Option<&Form> {
        form_for(&self.forms, &self.books.form.value, year)
    }

    /// What a business mile is worth on a day by the shop's form; nothing if no table knows.
    pub fn mileage_rate(&self, on: NaiveDate) -> Option<Money> {
        self.form(on.year())?.rate("mileage", on).map(|rate| rate.value)
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use rust_decimal::Decimal;

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
    fn a_formula_that_leads_back_is_a_fault() {
        let text = include_str!("../tables/forms/us-schedule-c-2023.toml")
            .replace("plus = [\"42\"]", "plus = [\"5\"]");
        let faults = Form::of_table("own", &[("own", &text)]).unwrap().faults();
        assert!(faults[0].contains("leads back"), "{faults:?}");
    }
}
