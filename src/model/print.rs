//! How numbers are written out: plain for machines, grouped for people.

use super::round;
use rust_decimal::Decimal;

/// For machines: `-1412.50`, always with so many decimals.
pub fn plain(amount: Decimal, places: u32) -> String {
    round(amount, places).to_string()
}

/// For people: `1,412.50`, and `−12.40` with a true minus sign.
pub fn grouped(amount: Decimal, places: u32) -> String {
    let digits = plain(amount.abs(), places);
    let (whole, decimals) = digits.split_once('.').unwrap_or((&digits, ""));
    let sign = if round(amount, places).is_sign_negative() { "−" } else { "" };
    let point = if decimals.is_empty() { "" } else { "." };
    format!("{sign}{}{point}{decimals}", thousands(whole))
}

fn thousands(whole: &str) -> String {
    let mut grouped = String::with_capacity(whole.len() + whole.len() / 3);
    for (i, digit) in whole.chars().enumerate() {
        if i > 0 && (whole.len() - i).is_multiple_of(3) {
            grouped.push(',');
        }
        grouped.push(digit);
    }
    grouped
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn figures_are_grouped_and_rounded_once() {
        let d = |text: &str| Decimal::from_str_exact(text).unwrap();
        assert_eq!(grouped(d("1234567.891"), 2), "1,234,567.89");
        assert_eq!(grouped(d("-12.395"), 2), "−12.40");
        assert_eq!(grouped(d("-0.004"), 2), "0.00");
        assert_eq!(grouped(d("999.995"), 2), "1,000.00");
        assert_eq!(plain(d("-12340.671"), 2), "-12340.67");
        assert_eq!(plain(d("7"), 2), "7.00");
    }
}
