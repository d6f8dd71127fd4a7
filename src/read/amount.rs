//! Amounts of money and shares of a hundred, from the digits as typed.

use super::value::{Fault, Reader, Value, number};
use crate::model::{Money, parse_amount, round};
use rust_decimal::Decimal;

pub(super) const AMOUNT: Reader<Money> = Reader {
    what: "an amount of money",
    example: "45.00",
    stand_in: || Decimal::ZERO,
    read: amount,
};

pub(super) const PERCENT: Reader<Decimal> = Reader {
    what: "a share of a hundred in quotation marks",
    example: "\"12.5%\"",
    stand_in: || Decimal::ZERO,
    read: percent,
};

/// The business share of an expense, of which there is some.
pub(super) const BUSINESS_SHARE: Reader<Decimal> =
    Reader { example: "\"60%\"", read: business_share, ..PERCENT };

fn business_share(value: &Value) -> Result<Decimal, Fault> {
    match value.number_or_text()?.trim() {
        "100%" => Ok(Decimal::ONE),
        _ => percent(value),
    }
}

fn amount(value: &Value) -> Result<Money, Fault> {
    let typed = value.number_or_text()?;
    let decimals = value.setting.currency.decimals;
    let amount = parse_amount(&typed, decimals).map_err(|says| {
        let fault = Fault::new("amount", says).label("not an amount");
        match nearest_amount(&typed, decimals) {
            Some(amount) => fault.hint(value.write(amount)),
            None => fault,
        }
    })?;
    if amount.is_sign_negative() && !amount.is_zero() {
        let message = format!("`{}` is below zero: {amount}", value.key);
        let fault = Fault::new("negative-amount", message).label("below zero");
        return Err(fault.hint(value.write(amount.abs())));
    }
    Ok(amount.abs())
}

/// What was probably meant by an amount with a decimal comma or too many decimals.
fn nearest_amount(typed: &str, decimals: u32) -> Option<Money> {
    let point = match typed.split_once(',') {
        Some((whole, decimals)) if whole.contains('.') => {
            let groups = whole.split('.').skip(1);
            let thousands = groups.clone().all(|group| group.len() == 3);
            thousands.then(|| format!("{}.{decimals}", whole.replace('.', "")))?
        }
        _ => typed.trim().replace(',', "."),
    };
    let amount = Decimal::from_str_exact(&point).ok()?;
    let sensible = !amount.is_sign_negative() && amount < Decimal::from(1_000_000);
    sensible.then(|| round(amount, decimals))
}

fn percent(value: &Value) -> Result<Decimal, Fault> {
    let typed = value.number_or_text()?;
    if value.is_number() {
        let message = format!("`{}` is a bare number: {typed} what?", value.key);
        let fault = Fault::new("percent", message).label("no percent sign");
        return Err(fault.hint(value.write(format!("\"{typed}%\""))));
    }
    let complaint = || {
        let message = format!("`{typed}` is not a share of a hundred");
        Fault::new("percent", message).label("not a percentage")
    };
    let Some(digits) = typed.trim().strip_suffix('%') else {
        return Err(match number(typed.trim()) {
            Some(percent) => complaint().hint(value.write(format!("\"{percent}%\""))),
            None => complaint(),
        });
    };
    let percent = number(digits.trim_end()).ok_or_else(complaint)?;
    if percent >= Decimal::ONE_HUNDRED {
        let message = format!("`{}` of {typed} is all there is, or more", value.key);
        return Err(Fault::new("percent", message).label("all of it"));
    }
    Ok(percent / Decimal::ONE_HUNDRED)
}
