//! Days as people write them, where the files want `2025-03-02`.

use chrono::{Datelike, NaiveDate};

/// No entry of a working shop is older, and none is written this far ahead.
pub(super) const YEARS: std::ops::RangeInclusive<i32> = 1990..=2100;

const MONTHS: [&str; 12] =
    ["jan", "feb", "mar", "apr", "may", "jun", "jul", "aug", "sep", "oct", "nov", "dec"];

/// Every day that was perhaps meant; one only where there is no other way to read it.
pub(super) fn readings(typed: &str) -> Vec<NaiveDate> {
    let lower = typed.trim().trim_matches(['"', '\'']).to_lowercase();
    let splits = |c: char| c.is_whitespace() || matches!(c, '/' | '-' | '.' | ',');
    let words: Vec<&str> = lower.split(splits).filter(|word| !word.is_empty()).collect();
    let mut days = match words.as_slice() {
        [digits] if digits.len() == 8 && is_number(digits) => {
            day(&digits[..4], &digits[4..6], &digits[6..]).into_iter().collect()
        }
        [a, b, c] => match words.iter().position(|word| month(word).is_some()) {
            Some(at) => by_name([a, b, c], at),
            // "45 1/2" is a length.
            None if lower.contains(char::is_whitespace) => Vec::new(),
            None => by_numbers(a, b, c),
        },
        _ => Vec::new(),
    };
    days.retain(|day| YEARS.contains(&day.year()));
    days.dedup();
    days
}

fn is_number(word: &str) -> bool {
    word.bytes().all(|b| b.is_ascii_digit())
}

/// The month of a name or of its first three letters.
fn month(word: &str) -> Option<String> {
    let at = MONTHS.iter().position(|name| word.starts_with(name))?;
    let spelt = word.len() <= 9 && word.chars().all(char::is_alphabetic);
    spelt.then(|| (at + 1).to_string())
}

/// "March 5, 2025", "5th March 2025", "2025 Mar 5".
fn by_name(words: [&str; 3], at: usize) -> Vec<NaiveDate> {
    let Some(month) = month(words[at]) else { return Vec::new() };
    let others: Vec<&str> = (0..3).filter(|i| *i != at).map(|i| words[i]).collect();
    let date = |word: &str| word.trim_end_matches(char::is_alphabetic).to_owned();
    match others[0] {
        year if year.len() == 4 && is_number(year) => day(others[0], &month, &date(others[1])),
        _ => day(others[1], &month, &date(others[0])),
    }
    .into_iter()
    .collect()
}

/// Month first or day first where the year is last; a year of two digits is of this century.
fn by_numbers(a: &str, b: &str, c: &str) -> Vec<NaiveDate> {
    if ![a, b, c].into_iter().all(is_number) {
        return Vec::new();
    }
    let orders: Vec<Option<NaiveDate>> = match (a.len(), c.len()) {
        (4, _) => vec![day(a, b, c).or_else(|| day(a, c, b))],
        (_, 4) => vec![day(c, a, b), day(c, b, a)],
        _ => match (day(c, a, b), day(c, b, a)) {
            (None, None) => vec![day(a, b, c)],
            (month_first, day_first) => vec![month_first, day_first],
        },
    };
    orders.into_iter().flatten().collect()
}

fn day(year: &str, month: &str, day: &str) -> Option<NaiveDate> {
    let written: i32 = year.parse().ok().filter(|_| matches!(year.len(), 2 | 4))?;
    let year = if year.len() == 2 { 2000 + written } else { written };
    NaiveDate::from_ymd_opt(year, month.parse().ok()?, day.parse().ok()?)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_day_has_as_many_readings_as_it_has() {
        for (typed, meant) in [
            ("6/21/2025", "2025-06-21"),
            ("21/6/2025", "2025-06-21"),
            ("21.06.25", "2025-06-21"),
            ("2025-6-21", "2025-06-21"),
            ("2025/06/21", "2025-06-21"),
            ("20250621", "2025-06-21"),
            ("June 21, 2025", "2025-06-21"),
            ("21st Jun 2025", "2025-06-21"),
            ("2025-21-06", "2025-06-21"),
            ("5/6/2025", "2025-05-06 2025-06-05"),
            ("5/5/2025", "2025-05-05"),
            ("2025-02-30", ""),
            ("1/2/1850", ""),
            ("45 1/2", ""),
            ("soon", ""),
        ] {
            let told: Vec<String> = readings(typed).iter().map(NaiveDate::to_string).collect();
            assert_eq!(told.join(" "), meant, "{typed}");
        }
    }
}
