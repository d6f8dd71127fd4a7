//! Amounts of money and shares of a hundred, from the digits as typed.

use super::value::{Cure, Fault, Reader, Value, number};
use crate::model::{Code, Currency, Money, currencies, parse_amount};
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
        "100" => Err(bare_number(value, "100").write("\"100%\"")),
        _ => percent(value),
    }
}

fn amount(value: &Value) -> Result<Money, Fault> {
    let typed = value.number_or_text()?;
    let currency = &value.setting.currency;
    if let Some(other) = other_symbol(&typed, currency) {
        let message = format!("`{typed}` is in {other}, and the shop's money is {}", currency.code);
        let fault = Fault::new(Code::Amount, message).label("another currency");
        return Err(fault.say(format!("write what it was in {}", currency.code)));
    }
    let amount = parse_amount(&typed, currency.decimals).map_err(|says| {
        let fault = Fault::new(Code::Amount, says).label("not an amount");
        match typed.contains('%') {
            true => fault.say(
                "reckon it out in money; only `fee` of a `[channel]`, `rate` of a `[tax]` and \
                 `share` of an expense are percentages",
            ),
            false => fault.cure(Cure::of(readings(&typed, currency))),
        }
    })?;
    if amount.is_sign_negative() && !amount.is_zero() {
        let message = format!("`{}` is below zero: {amount}", value.key);
        return Err(Fault::new(Code::NegativeAmount, message).label("below zero").say(NO_SIGN));
    }
    Ok(amount.abs())
}

/// The sign of an amount is never a slip to be dropped in silence: it may stand for a refund.
const NO_SIGN: &str = "amounts have no sign. What a buyer gets back is `[[return]]` or \
    `[[allowance]]` in the piece; what a supplier gave back is `[[refund]]` in the year's book; where \
    it is only a slip, remove the `-`";

/// What an amount that cannot be read says all the same, each reading as it is typed. None where it
/// may say anything.
pub(super) fn readings(typed: &str, currency: &Currency) -> Vec<String> {
    let bare = without_currency(typed.trim(), currency);
    let bare: String = bare.chars().filter(|c| !c.is_whitespace() && *c != '\'').collect();
    let digits = bare.replace(['O', 'o'], "0");
    let plain = digits.bytes().all(|b| b.is_ascii_digit() || matches!(b, b'.' | b','));
    if !plain || !digits.starts_with(|c: char| c.is_ascii_digit()) {
        return Vec::new();
    }
    let Some(point) = with_point(&digits) else { return Vec::new() };
    // "45 00" is 4500 to a spreadsheet and 45.00 to a hand.
    if let Some((whole, cents)) = typed.trim().rsplit_once(' ')
        && [whole, cents].iter().all(|part| part.bytes().all(|b| b.is_ascii_digit()))
        && cents.len() == currency.decimals as usize
    {
        return vec![format!("{whole}.{cents}"), point];
    }
    match Decimal::from_str_exact(&point) {
        Ok(amount) if amount < Decimal::from(1_000_000) => {
            within(amount, &point, currency.decimals)
        }
        _ => Vec::new(),
    }
}

/// The sign before an amount, where it is not the shop's own.
fn other_symbol(typed: &str, currency: &Currency) -> Option<char> {
    let sign = typed.trim().chars().next()?;
    let known = currencies().iter().any(|known| known.symbol.starts_with(sign));
    (known && !currency.symbol.starts_with(sign)).then_some(sign)
}

/// "$45", "45 USD" and "45 dollars", where those are the shop's own.
fn without_currency<'a>(typed: &'a str, currency: &Currency) -> &'a str {
    let own = [&currency.code, &currency.symbol].into_iter().chain(&currency.names);
    let mut bare = typed.trim_matches('"').trim();
    for word in own {
        let as_long = |at: usize| bare.get(at..).filter(|_| bare.is_char_boundary(at));
        let end = bare.len().checked_sub(word.len());
        if let Some(at) =
            end.filter(|at| as_long(*at).is_some_and(|w| w.eq_ignore_ascii_case(word)))
        {
            bare = bare[..at].trim_end();
        }
        if bare.get(..word.len()).is_some_and(|start| start.eq_ignore_ascii_case(word)) {
            bare = bare[word.len()..].trim_start();
        }
    }
    bare
}

/// The digits with a decimal point and no separators; nothing where the groups make no sense.
fn with_point(digits: &str) -> Option<String> {
    let threes = |groups: &str, by: char| {
        let mut groups = groups.split(by);
        let first = groups.next().is_some_and(|group| (1..=3).contains(&group.len()));
        first && groups.all(|group| group.len() == 3)
    };
    match (digits.rsplit_once(','), digits.rsplit_once('.')) {
        (None, _) => Some(digits.to_owned()),
        (Some((whole, decimals)), Some((before, _))) if before.len() < whole.len() => {
            threes(whole, '.').then(|| format!("{}.{decimals}", whole.replace('.', "")))
        }
        (Some(_), Some((before, decimals))) => {
            threes(before, ',').then(|| format!("{}.{decimals}", before.replace(',', "")))
        }
        (Some((whole, last)), None) if last.len() < 3 => {
            (!whole.contains(',') && !last.is_empty()).then(|| format!("{whole}.{last}"))
        }
        (Some(_), None) => threes(digits, ',').then(|| digits.replace(',', "")),
    }
}

/// An amount within the currency's decimals. With more of them, the two next to it; and three
/// decimals that end in zero may as well be thousands.
fn within(amount: Decimal, typed: &str, decimals: u32) -> Vec<String> {
    let fits = amount.normalize().scale() <= decimals;
    let digits = typed.trim_start_matches('0');
    let typed = if digits.starts_with(|c: char| c.is_ascii_digit()) { digits } else { typed };
    if fits && amount.scale() <= decimals {
        let point = if digits.starts_with('.') { format!("0{digits}") } else { typed.to_owned() };
        return vec![if amount.is_zero() { "0.00".to_owned() } else { point }];
    }
    let below = amount.trunc_with_scale(decimals);
    if !fits {
        return vec![below.to_string(), (below + Decimal::new(1, decimals)).to_string()];
    }
    let thousands = (amount.scale() == 3).then(|| (amount * Decimal::ONE_THOUSAND).normalize());
    std::iter::once(below).chain(thousands).map(|reading| reading.to_string()).collect()
}

fn bare_number(value: &Value, typed: &str) -> Fault {
    let message = format!("`{}` is a number without a percent sign: {typed} what?", value.key);
    Fault::new(Code::Percent, message).label("no percent sign")
}

fn percent(value: &Value) -> Result<Decimal, Fault> {
    let typed = value.number_or_text()?;
    let digits = typed.trim().strip_suffix('%').map(str::trim_end);
    let Some(percent) = digits.and_then(number) else { return Err(no_percent(value, &typed)) };
    if percent >= Decimal::ONE_HUNDRED {
        let message = format!("`{}` of {typed} is all there is, or more", value.key);
        return Err(Fault::new(Code::Percent, message).label("all of it"));
    }
    Ok(percent / Decimal::ONE_HUNDRED)
}

/// Why this is no share of a hundred. A number below one is either a share of one or of a hundred.
fn no_percent(value: &Value, typed: &str) -> Fault {
    if let Some(bare) = number(typed.trim()) {
        let as_typed = format!("\"{}%\"", bare.normalize());
        let hundred = format!("\"{}%\"", (bare * Decimal::ONE_HUNDRED).normalize());
        let fault = bare_number(value, typed);
        return match bare {
            zero if zero.is_zero() => fault.write("\"0%\""),
            small if small < Decimal::ONE => {
                fault.cure(Some(Cure::Either(vec![hundred, as_typed])))
            }
            bare if bare < Decimal::ONE_HUNDRED => fault.write(as_typed),
            _ => fault,
        };
    }
    let fault = Fault::new(Code::Percent, format!("`{typed}` is not a share of a hundred"));
    let fault = fault.label("not a percentage");
    let lower = typed.trim().to_lowercase();
    let words = ["percent", "per cent", "pct", "%"];
    let share = words.iter().find_map(|word| lower.strip_suffix(word)).unwrap_or_default();
    let share = share.trim().replace(',', ".");
    match number(&share).filter(|share| *share < Decimal::ONE_HUNDRED) {
        Some(_) => fault.write(format!("\"{share}%\"")),
        None if lower.starts_with('$') && value.key == "fee" => {
            fault.say("a fee in money is `fixed-fee`; `fee` is a percentage")
        }
        None => fault,
    }
}
