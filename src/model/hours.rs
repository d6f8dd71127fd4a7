//! Hours of work as people write them.

use super::{Money, round};
use rust_decimal::Decimal;

/// Hours as an exact decimal: `1.5` is an hour and a half.
pub type Hours = Decimal;

/// What an hour earns of an amount, where the hours are `part` of a set of `of`: nothing for no
/// hours. Minutes that are no finite decimal of an hour come out whole again, so that a third of
/// an hour is one here.
pub fn per_hour(amount: Money, hours: Hours, (part, of): (u32, u32)) -> Option<Money> {
    let minutes = round(hours * Decimal::from(60), 6) * Decimal::from(part);
    (amount * Decimal::from(60) * Decimal::from(of)).checked_div(minutes)
}

/// Reads `1.5`, `1h30`, `1 h 30 min`, `90 min`, `2h`, `1:30`. The error is a sentence for the
/// owner. Minutes that are no finite decimal of an hour are kept to ten places.
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
    let total = hours + (minutes / Decimal::from(60)).round_dp(10);
    if total.is_sign_negative() || total > Decimal::from(10_000) {
        return Err(complaint());
    }
    Ok(total.normalize())
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
            assert_eq!(parse_hours(text).unwrap(), Decimal::new(15, 1), "{text}");
        }
        assert_eq!(parse_hours("2h").unwrap(), Decimal::from(2));
        assert_eq!(parse_hours("3 hours").unwrap(), Decimal::from(3));
        assert_eq!(parse_hours("20 min").unwrap(), Decimal::new(3_333_333_333, 10));
    }

    #[test]
    fn what_is_not_a_time_is_refused() {
        for text in ["", "h", "soon", "-1", "1.5 days", "99999", "1h30h", "1e2", "٣"] {
            assert!(parse_hours(text).is_err(), "{text}");
        }
    }
}
