//! Reads what was typed as an option's value, in the spellings of the files.

use crate::model::{Hours, Money, Shop, nearest, parse_amount, parse_hours};
use rust_decimal::Decimal;

/// An amount of the shop's currency.
pub fn amount(option: &str, typed: Option<&str>, shop: &Shop) -> Result<Option<Money>, String> {
    read(option, typed, |text| {
        let amount = parse_amount(text, shop.currency.decimals)?;
        if amount.is_sign_negative() { Err(format!("`{text}` is below zero")) } else { Ok(amount) }
    })
}

pub fn hours(option: &str, typed: Option<&str>) -> Result<Option<Hours>, String> {
    read(option, typed, parse_hours)
}

/// `45%` as 0.45.
pub fn percent(option: &str, typed: Option<&str>) -> Result<Option<Decimal>, String> {
    read(option, typed, |text| {
        let number = text.trim().strip_suffix('%').map(str::trim);
        number
            .and_then(|number| Decimal::from_str_exact(number).ok())
            .filter(|percent| !percent.is_sign_negative())
            .map(|percent| percent / Decimal::ONE_HUNDRED)
            .ok_or_else(|| format!("`{text}` is not a percentage, such as 45%"))
    })
}

/// A channel of the shop.
pub fn channel(typed: Option<&str>, shop: &Shop) -> Result<Option<String>, String> {
    read("channel", typed, |key| {
        if shop.channels.contains_key(key) {
            return Ok(key.to_owned());
        }
        Err(match nearest(key, shop.channels.keys().map(String::as_str)) {
            Some(near) => format!("the shop has no channel `{key}`; did you mean `{near}`?"),
            None => format!("the shop has no channel `{key}`"),
        })
    })
}

fn read<T>(
    option: &str,
    typed: Option<&str>,
    parse: impl FnOnce(&str) -> Result<T, String>,
) -> Result<Option<T>, String> {
    typed.map(parse).transpose().map_err(|words| format!("--{option}: {words}\n"))
}
