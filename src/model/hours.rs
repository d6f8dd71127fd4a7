//! Hours of work as people write them, exact.

use super::round;
use rust_decimal::Decimal;
use std::cmp::Ordering;
use std::iter::Sum;
use std::ops::{Add, AddAssign};

/// A time worked, exact: 20 minutes stay 20 minutes, and the hours in two of a set of three stay
/// two thirds. It becomes a decimal of an hour only where it is printed.
#[derive(Clone, Copy, Debug)]
pub struct Hours {
    minutes: Decimal,
    /// Over this many: 1 but for a share of a set.
    over: u64,
}

/// An hour, in minutes.
const HOUR: Decimal = Decimal::from_parts(60, 0, 0, false, 0);

/// More than any denominator that comes of sets in a shop; beyond it a sum is kept to ten places.
const FINEST: u64 = 1_000_000_000;

impl Hours {
    pub const ZERO: Hours = Hours { minutes: Decimal::ZERO, over: 1 };

    pub fn from_minutes(minutes: Decimal) -> Hours {
        Hours { minutes, over: 1 }
    }

    /// In minutes, to the last digit there is.
    pub fn minutes(self) -> Decimal {
        self.minutes / Decimal::from(self.over)
    }

    /// From a decimal of an hour: `1.5` is an hour and a half.
    pub fn from_decimal(hours: Decimal) -> Hours {
        Hours::from_minutes(hours * HOUR)
    }

    pub fn is_zero(self) -> bool {
        self.minutes.is_zero()
    }

    /// The hours in some of a set.
    pub fn share(self, units: u32, of: u32) -> Hours {
        Hours {
            minutes: self.minutes * Decimal::from(units),
            over: self.over * u64::from(of.max(1)),
        }
        .reduced()
    }

    /// As a decimal of an hour, to so many places.
    pub fn decimal(self, places: u32) -> Decimal {
        round(self.minutes / (HOUR * Decimal::from(self.over)), places)
    }

    /// What they come to at a rate an hour; nothing where that is too large to reckon with.
    pub fn at_rate(self, rate: Decimal) -> Option<Decimal> {
        self.minutes.checked_mul(rate)?.checked_div(HOUR * Decimal::from(self.over))
    }

    /// What each hour gets of an amount, divided once; nothing where there are no hours.
    pub fn each_of(self, amount: Decimal) -> Option<Decimal> {
        amount.checked_mul(HOUR * Decimal::from(self.over))?.checked_div(self.minutes)
    }

    fn reduced(self) -> Hours {
        let common = gcd(self.over, whole_minutes(self.minutes).unwrap_or(1));
        Hours { minutes: self.minutes / Decimal::from(common), over: self.over / common }
    }
}

fn whole_minutes(minutes: Decimal) -> Option<u64> {
    let minutes = minutes.normalize();
    (minutes.scale() == 0).then(|| u64::try_from(minutes.mantissa()).ok()).flatten()
}

fn gcd(a: u64, b: u64) -> u64 {
    if b == 0 { a } else { gcd(b, a % b) }
}

impl Default for Hours {
    fn default() -> Hours {
        Hours::ZERO
    }
}

impl Add for Hours {
    type Output = Hours;
    fn add(self, other: Hours) -> Hours {
        let common = (self.over / gcd(self.over, other.over)).saturating_mul(other.over);
        if common > FINEST {
            return Hours::from_decimal(self.decimal(10) + other.decimal(10));
        }
        let scaled = |hours: Hours| hours.minutes * Decimal::from(common / hours.over);
        Hours { minutes: scaled(self) + scaled(other), over: common }.reduced()
    }
}

impl AddAssign for Hours {
    fn add_assign(&mut self, other: Hours) {
        *self = *self + other;
    }
}

impl Sum for Hours {
    fn sum<I: Iterator<Item = Hours>>(hours: I) -> Hours {
        hours.fold(Hours::ZERO, Add::add)
    }
}

impl Ord for Hours {
    fn cmp(&self, other: &Hours) -> Ordering {
        let crossed = |hours: &Hours, by: &Hours| hours.minutes * Decimal::from(by.over);
        crossed(self, other).cmp(&crossed(other, self))
    }
}

impl PartialOrd for Hours {
    fn partial_cmp(&self, other: &Hours) -> Option<Ordering> {
        Some(self.cmp(other))
    }
}

impl PartialEq for Hours {
    fn eq(&self, other: &Hours) -> bool {
        self.cmp(other).is_eq()
    }
}

impl Eq for Hours {}

/// Reads `1.5`, `1h30`, `1 h 30 min`, `90 min`, `2h`, `1:30`. The error is a sentence for the
/// owner.
pub fn parse_hours(text: &str) -> Result<Hours, String> {
    let complaint = || format!("`{text}` is not a number of hours");
    let plain = text.trim().to_lowercase().replace(':', "h");
    let (hours, minutes) = match plain.split_once('h') {
        Some((hours, rest)) => (hours.trim(), after_hours(rest)),
        None if plain.ends_with(|c: char| c.is_alphabetic()) => ("0", plain.as_str()),
        None => (plain.as_str(), ""),
    };
    let unit = minutes.trim_start_matches(|c: char| !c.is_alphabetic());
    if !matches!(unit, "" | "m" | "min" | "mins" | "minutes") {
        return Err(complaint());
    }
    let minutes = minutes[..minutes.len() - unit.len()].trim();
    let hours = decimal(hours).ok_or_else(complaint)?;
    let minutes = if minutes.is_empty() { Some(Decimal::ZERO) } else { decimal(minutes) };
    let minutes = minutes.ok_or_else(complaint)?;
    // "2h 90" may be an hour more or a slip; either way there is a plainer way to write it.
    if !hours.is_zero() && minutes >= HOUR {
        return Err(complaint());
    }
    let total = hours * HOUR + minutes;
    if total.is_sign_negative() || total > Decimal::from(10_000) * HOUR {
        return Err(complaint());
    }
    Ok(Hours::from_minutes(total.normalize()))
}

/// What follows the `h`: minutes, after the rest of the word "hours" if it was spelt out.
fn after_hours(rest: &str) -> &str {
    rest.strip_prefix("ours")
        .or_else(|| rest.strip_prefix("our"))
        .or_else(|| rest.strip_prefix("rs"))
        .or_else(|| rest.strip_prefix('r'))
        .unwrap_or(rest)
        .trim()
}

fn decimal(text: &str) -> Option<Decimal> {
    let plain = text.bytes().all(|b| b.is_ascii_digit() || b == b'.');
    (plain && text.len() <= 12).then(|| Decimal::from_str_exact(text).ok()).flatten()
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_spellings_people_use_mean_the_same_time() {
        for text in ["1.5", "1h30", "1 h 30", "90 min", "1:30", "1h 30min", "1 hour 30 minutes"] {
            assert_eq!(parse_hours(text).unwrap().decimal(2), Decimal::new(150, 2), "{text}");
        }
        assert_eq!(parse_hours("2h").unwrap(), Hours::from_decimal(Decimal::from(2)));
        assert_eq!(parse_hours("3 hours").unwrap(), Hours::from_decimal(Decimal::from(3)));
        assert_eq!(parse_hours("20 min").unwrap().decimal(4), Decimal::new(3_333, 4));
    }

    #[test]
    fn thirds_of_an_hour_and_of_a_set_stay_exact() {
        let third = parse_hours("20 min").unwrap();
        let whole = Hours::from_decimal(Decimal::ONE);
        assert_eq!(third + third + third, whole);
        assert_eq!(whole.share(1, 3), third);
        assert_eq!(whole.share(1, 7) + whole.share(2, 7) + whole.share(4, 7), whole);
        // 217.05 for 40 minutes are 325.575 an hour.
        let each = parse_hours("40 min").unwrap().each_of(Decimal::new(21_705, 2));
        assert_eq!(each, Some(Decimal::new(325_575, 3)));
        assert_eq!(third.at_rate(Decimal::from(30)), Some(Decimal::from(10)));
        assert_eq!(Hours::ZERO.each_of(Decimal::ONE), None);
    }

    #[test]
    fn what_is_not_a_time_is_refused() {
        for text in ["", "h", "soon", "-1", "1.5 days", "99999", "1h30h", "1e2", "٣"] {
            assert!(parse_hours(text).is_err(), "{text}");
        }
    }
}
