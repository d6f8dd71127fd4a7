//! Days and amounts as banks write them in an export: not as the owner's own files have them, so
//! with readers of their own. Only `bank_file` uses them.

use crate::model::{DateOrder, Money, parse_amount};
use chrono::NaiveDate;

/// Exports are of the years the books are of.
const YEARS: std::ops::RangeInclusive<i32> = 1990..=2100;

/// A day out of three numbers with `-`, `/` or `.` between, in the order said; a time of day after
/// it is passed over. A year of two digits is one of this century.
pub(super) fn day(text: &str, order: DateOrder) -> Option<NaiveDate> {
    let day = text.trim().split([' ', 'T']).next()?;
    let parts: Vec<&str> = day.split(['-', '/', '.']).collect();
    let [a, b, c] = parts[..] else { return None };
    let (year, month, day) = match order {
        DateOrder::YearMonthDay => (a, b, c),
        DateOrder::MonthDayYear => (c, a, b),
        DateOrder::DayMonthYear => (c, b, a),
    };
    let of_century = match year.len() {
        2 => 2000,
        4 => 0,
        _ => return None,
    };
    let year = of_century + i32::try_from(digits(year)?).ok()?;
    YEARS.contains(&year).then(|| NaiveDate::from_ymd_opt(year, digits(month)?, digits(day)?))?
}

fn digits(text: &str) -> Option<u32> {
    let plain = (1..=4).contains(&text.len()) && text.bytes().all(|b| b.is_ascii_digit());
    plain.then(|| text.parse().ok())?
}

/// An amount with its sign: before it, after it, or as brackets around it.
///
/// # Errors
/// A sentence for the owner.
pub(super) fn amount(text: &str, decimals: u32, decimal_comma: bool) -> Result<Money, String> {
    let bare: String = text.chars().filter(|c| !c.is_whitespace()).collect();
    let (out, digits) = signed(&bare);
    let digits = if decimal_comma { points_for_commas(digits) } else { digits.to_owned() };
    if !digits.starts_with(|c: char| c.is_ascii_digit() || ['.', '$', '£', '€'].contains(&c)) {
        return Err(format!("`{text}` is not an amount of money"));
    }
    // The words of a fault show what the bank wrote, not what was made of it.
    let amount = parse_amount(&digits, decimals).map_err(|says| says.replace(&digits, text))?;
    Ok(if out { -amount } else { amount })
}

/// Whether an amount went out, and the amount without the sign that says so.
fn signed(text: &str) -> (bool, &str) {
    let minus = ['-', '\u{2212}'];
    if let Some(inner) = text.strip_prefix('(').and_then(|rest| rest.strip_suffix(')')) {
        return (true, inner);
    }
    match text.strip_prefix(minus).or_else(|| text.strip_suffix(minus)) {
        Some(rest) => (true, rest),
        None => (false, text.strip_prefix('+').unwrap_or(text)),
    }
}

/// `1.250,00` as `1,250.00`.
fn points_for_commas(text: &str) -> String {
    let swap = |c| match c {
        ',' => '.',
        '.' => ',',
        c => c,
    };
    text.chars().map(swap).collect()
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn days_in_every_order() {
        let of = |text, order| day(text, order).map(|day| day.to_string());
        let april = Some("2025-04-03".to_owned());
        assert_eq!(of("2025-04-03", DateOrder::YearMonthDay), april);
        assert_eq!(of("2025-04-03T10:20:00Z", DateOrder::YearMonthDay), april);
        assert_eq!(of("4/3/2025", DateOrder::MonthDayYear), april);
        assert_eq!(of("04/03/25 10:20", DateOrder::MonthDayYear), april);
        assert_eq!(of("03.04.2025", DateOrder::DayMonthYear), april);
        for text in ["", "today", "2025-04", "2025-13-01", "2025-02-29", "25-4-3-1", "+025-4-3"] {
            assert_eq!(of(text, DateOrder::YearMonthDay), None, "{text}");
        }
        assert_eq!(of("1989-12-31", DateOrder::YearMonthDay), None);
    }

    #[test]
    fn amounts_with_every_sign() {
        let of = |text, comma| amount(text, 2, comma).map(|amount| amount.to_string());
        for (text, comma, worth) in [
            ("1,250.00", false, "1250.00"),
            ("+ 12.40", false, "12.40"),
            ("$12.40", false, "12.40"),
            ("-$12.40", false, "-12.40"),
            ("\u{2212}12.40", false, "-12.40"),
            ("12.40-", false, "-12.40"),
            ("(12.40)", false, "-12.40"),
            ("1.250,40", true, "1250.40"),
            ("-1 250,40", true, "-1250.40"),
        ] {
            assert_eq!(of(text, comma), Ok(worth.to_owned()), "{text}");
        }
        for text in ["--5", "12,40", "12.405", "5 EUR", "1e3", "-", "()", "twelve"] {
            assert!(of(text, false).is_err(), "{text}");
        }
        assert_eq!(of("1.25,40", true), Err("`1.25,40` is not grouped in thousands".to_owned()));
    }
}
