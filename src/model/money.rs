//! Exact money: the one place that rounds, and the one place that splits.

use rust_decimal::{Decimal, RoundingStrategy};

/// An amount of the shop's currency as an exact decimal; never a binary float.
pub type Money = Decimal;

/// Rounds half away from zero: 0.125 → 0.13, −0.125 → −0.13. Every printed figure passes here.
///
/// Source: IRS Pub. 17 (2023) p. 14 for whole dollars (50 cents and over go up); the same rule
/// to the cent in OpenStax Contemporary Mathematics 6.2.
#[expect(clippy::disallowed_methods, reason = "the one place that rounds")]
pub fn round(amount: Decimal, places: u32) -> Decimal {
    let mut rounded = amount.round_dp_with_strategy(places, RoundingStrategy::MidpointAwayFromZero);
    rounded.rescale(places);
    if rounded.is_zero() { rounded.abs() } else { rounded }
}

/// Rounds to whole units of the currency, as a form line is entered.
pub fn whole(amount: Money) -> Decimal {
    round(amount, 0)
}

/// The least multiple of a step that is not below the amount: 12.341 in steps of 0.01 → 12.35,
/// −12.341 → −12.34. With no step (zero or below) the amount itself; nothing where it is too
/// large to say.
pub fn round_up(amount: Decimal, step: Decimal) -> Option<Decimal> {
    if step <= Decimal::ZERO {
        return Some(amount);
    }
    amount.checked_div(step)?.ceil().checked_mul(step)
}

/// Splits an amount in proportion to weights so that the parts add up to it to the last digit.
///
/// Largest remainder (Hamilton): every part gets its quota rounded down to `places`, then the
/// units left over go to the largest remainders, ties to the earlier part; what the amount has
/// below a unit goes to the remainder that is next. Quotas and remainders are whole numbers, so
/// that a tie is a tie whatever the quota's decimals. Weights below zero count as zero; with no
/// weight at all the amount is split evenly.
///
/// Source: OpenStax Contemporary Mathematics 11.4.
pub fn split(amount: Money, weights: &[Decimal], places: u32) -> Vec<Money> {
    if weights.is_empty() {
        return Vec::new();
    }
    if amount.is_sign_negative() {
        return split(-amount, weights, places).into_iter().map(|part| -part).collect();
    }
    let mut fine = amount;
    fine.rescale(amount.normalize().scale().max(places));
    let (scale, fine) = (fine.scale(), fine.mantissa());
    let weights = whole_weights(weights, fine);
    // A unit is so many of what the amount is counted in.
    let unit = 10_i128.pow(scale - places);
    let total = weights.iter().sum::<i128>() * unit;
    let mut parts: Vec<i128> = weights.iter().map(|weight| fine * weight / total * unit).collect();
    let mut order: Vec<usize> = (0..parts.len()).collect();
    order.sort_by_key(|&i| (std::cmp::Reverse(fine * weights[i] % total), i));
    let mut left = fine - parts.iter().sum::<i128>();
    // What is left over is less than one unit for each part.
    for i in order {
        let more = left.min(unit);
        parts[i] += more;
        left -= more;
    }
    let parts: Vec<Money> =
        parts.into_iter().map(|part| Decimal::from_i128_with_scale(part, scale)).collect();
    parts
}

/// Weights as whole numbers in the same proportions. Only where they have so many digits that their
/// products with the amount cannot be held are the last ones dropped.
fn whole_weights(weights: &[Decimal], units: i128) -> Vec<i128> {
    let weights: Vec<Decimal> =
        weights.iter().map(|weight| weight.max(&Decimal::ZERO).normalize()).collect();
    let scale = weights.iter().map(Decimal::scale).max().unwrap_or(0);
    let longest = weights.iter().map(|weight| digits(weight.mantissa()) + scale - weight.scale());
    // An i128 holds 38 digits; the sum of the weights takes up to ten more than one of them.
    let room = 28_u32.saturating_sub(digits(units));
    let dropped = longest.max().unwrap_or(0).saturating_sub(room);
    let whole = |weight: &Decimal| -> i128 {
        match (scale - weight.scale()).checked_sub(dropped) {
            Some(more) => weight.mantissa() * 10_i128.pow(more),
            None => weight.mantissa() / 10_i128.pow(dropped - (scale - weight.scale())),
        }
    };
    let whole: Vec<i128> = weights.iter().map(whole).collect();
    if whole.iter().all(|weight| *weight == 0) { vec![1; whole.len()] } else { whole }
}

/// How many digits a whole number has.
fn digits(number: i128) -> u32 {
    number.checked_ilog10().map_or(1, |log| log + 1)
}

/// Reads an amount from the digits as typed: `59.99`, or a string with separators `"1,250.00"`.
///
/// The error is a sentence for the owner. `places` is the currency's number of decimals.
pub fn parse_amount(text: &str, places: u32) -> Result<Money, String> {
    let trimmed = text.trim().trim_start_matches(['$', '£', '€']).trim_start();
    let digits = without_separators(trimmed)?;
    let amount = Decimal::from_str_exact(&digits)
        .map_err(|_| format!("`{text}` is not an amount of money"))?;
    if amount.scale() > places {
        return Err(format!("`{text}` has more than {places} decimals"));
    }
    if amount.abs() >= Decimal::new(1_000_000_000, 0) {
        return Err(format!("`{text}` is larger than this program reckons with"));
    }
    Ok(amount)
}

/// Takes out thousands separators, and only where they separate thousands.
fn without_separators(text: &str) -> Result<String, String> {
    let (whole, rest) = text.split_once('.').unwrap_or((text, ""));
    if rest.contains([',', '_']) && rest.contains(',') {
        return Err(format!("`{text}` has a separator after the decimal point"));
    }
    let groups: Vec<&str> = whole.split(',').collect();
    let well_grouped = groups.len() == 1
        || (groups.iter().skip(1).all(|g| g.len() == 3)
            && (1..=3).contains(&groups[0].trim_start_matches('-').len()));
    if !well_grouped {
        return Err(format!("`{text}` is not grouped in thousands"));
    }
    Ok(text.replace([',', '_'], ""))
}
