//! Figures for the screen and for machines; a missing one is a dash there and `null` here.

use crate::model::{Currency, Hours, grouped, plain};
use rust_decimal::Decimal;
use serde_json::{Value, json};

/// "not recorded" on the screen.
pub const DASH: &str = "–";

/// `412.50` grouped for people.
pub fn money(amount: Option<Decimal>, currency: &Currency) -> String {
    amount.map_or(DASH.to_owned(), |amount| grouped(amount, currency.decimals))
}

/// `25.2%`.
pub fn percent(ratio: Option<Decimal>) -> String {
    ratio.map_or(DASH.to_owned(), |r| format!("{}%", grouped(r * Decimal::ONE_HUNDRED, 1)))
}

/// `6.5`; a dash for hours not recorded.
pub fn hours(hours: impl Into<Option<Hours>>) -> String {
    let said = |hours: Hours| hours.decimal(2).normalize().to_string();
    hours.into().map_or(DASH.to_owned(), said)
}

pub fn days(days: Option<i64>) -> String {
    days.map_or(DASH.to_owned(), |days| days.to_string())
}

/// `"412.50"` with the currency's decimals, or `null`.
pub fn json_money(amount: impl Into<Option<Decimal>>, currency: &Currency) -> Value {
    json_places(amount.into(), currency.decimals)
}

/// `"0.2517"`: four places, or `null`.
pub fn json_ratio(ratio: Option<Decimal>) -> Value {
    json_places(ratio, 4)
}

/// `"6.50"`: two places, or `null`.
pub fn json_hours(hours: impl Into<Option<Hours>>) -> Value {
    json_places(hours.into().map(|hours| hours.decimal(2)), 2)
}

fn json_places(value: Option<Decimal>, places: u32) -> Value {
    value.map_or(Value::Null, |value| json!(plain(value, places)))
}
