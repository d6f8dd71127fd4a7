//! What was written of a piece, in rows for its record: where it came from, what went into it, what
//! it is made of and what is wrong with it, where it went, and the receipts.

use super::super::Subject;
use crate::describe::wording::{capital, date, money, sentence};
use crate::model::{Allowance, CostKind, Money, Payment, Piece, Return, Sale, WithdrawalKind};
use crate::reckon::tally::Tally;
use crate::typeset::view::LabelRow;
use rust_decimal::Decimal;

/// The rows that have something to say, in the order in which it happened.
pub fn facts(subject: &Subject) -> Vec<LabelRow> {
    let (piece, words) = (subject.piece, subject.words);
    let rows = [
        ("Bought", bought(subject)),
        ("Costs", costs(subject)),
        ("From stock", from_stock(subject)),
        ("Parts", parts(subject)),
        (words.made_of_label, words.made_of.clone().unwrap_or_default()),
        ("Flaws", each(&piece.flaw, |flaw| flaw.note.clone())),
        ("Moving", moving(subject)),
        ("Consigned", consigned(piece)),
        ("Sold", each(&piece.sale, |sale| sold(subject, sale))),
        ("Paid", each(&piece.payment, |payment| paid(subject, payment))),
        ("Allowed", each(&piece.allowance, |given| allowed(subject, given))),
        ("Came back", each(&piece.returned, |back| came_back(subject, back))),
        ("Withdrawn", withdrawn(piece)),
        ("Receipts", receipts(piece)),
    ];
    let said = rows.into_iter().filter(|(_, text)| !text.is_empty());
    said.map(|(label, text)| LabelRow { label: label.to_owned(), text }).collect()
}

fn each<T>(entries: &[T], say: impl Fn(&T) -> String) -> String {
    entries.iter().map(|entry| sentence(&capital(&say(entry)))).collect::<Vec<_>>().join(" ")
}

fn listed(parts: Vec<String>) -> String {
    if parts.is_empty() { String::new() } else { sentence(&capital(&parts.join("; "))) }
}

fn amount(subject: &Subject, amount: Money) -> String {
    money(amount, &subject.shop.currency)
}

/// ", tax $4.20" where there is any.
fn besides(subject: &Subject, what: &str, sum: Money) -> String {
    if sum.is_zero() { String::new() } else { format!(", {what} {}", amount(subject, sum)) }
}

fn bought(subject: &Subject) -> String {
    let Some(bought) = &subject.piece.bought else { return "Not recorded.".to_owned() };
    let from = bought.from.as_ref().map(|from| format!(", {from}")).unwrap_or_default();
    sentence(&format!(
        "{}{from}, for {}{}{}",
        date(bought.on.value),
        amount(subject, bought.price.value),
        besides(subject, "premium", bought.premium),
        besides(subject, "tax", bought.tax),
    ))
}

fn costs(subject: &Subject) -> String {
    let said = subject.piece.cost.iter().map(|cost| {
        let to = cost.to.as_ref().map(|to| format!(" to {to}")).unwrap_or_default();
        let kind = match cost.kind {
            CostKind::PaidWork => " (paid work)",
            _ => "",
        };
        let sum = amount(subject, cost.amount.value);
        format!("{}{kind}{to}, {}, {sum}", cost.what, date(cost.on.value))
    });
    listed(said.collect())
}

/// What was drawn of each thing in the shop's stock, in the unit of its first draw.
fn from_stock(subject: &Subject) -> String {
    let used = &subject.piece.used;
    let mut keys: Vec<&str> = used.iter().map(|draw| draw.stock.value.as_str()).collect();
    keys.sort_unstable();
    keys.dedup();
    let said = keys.into_iter().map(|key| {
        let draws: Vec<_> = used.iter().filter(|draw| draw.stock.value == key).collect();
        let sum: Decimal = draws.iter().map(|draw| draw.quantity.value.in_base()).sum();
        let item = subject.shop.stock.get(key);
        let label = item.map_or(key, |item| item.label.as_str());
        let unit = draws[0].quantity.value.unit;
        let of = if unit.name == "each" { "" } else { "of " };
        format!("{} {of}{label}", unit.words(sum))
    });
    listed(said.collect())
}

fn parts(subject: &Subject) -> String {
    let said = subject.piece.salvaged.iter().map(|part| {
        let cost = amount(subject, part.cost.value);
        format!("{} removed {}, with {cost} of the cost", part.what, date(part.on.value))
    });
    listed(said.collect())
}

/// What moving it takes, and its weight.
fn moving(subject: &Subject) -> String {
    let weight = subject.words.weight.as_ref().map(|weight| format!("Weight {weight}."));
    let moving = subject.words.moving.iter().cloned();
    moving.chain(weight).collect::<Vec<_>>().join(" ")
}

fn consigned(piece: &Piece) -> String {
    let said = piece.consigned.iter().map(|gone| {
        let back = gone.back.as_ref().map(|back| format!(", back {}", date(back.value)));
        format!("with {} from {}{}", gone.to, date(gone.on.value), back.unwrap_or_default())
    });
    listed(said.collect())
}

fn sold(subject: &Subject, sale: &Sale) -> String {
    let channel = sale.channel.as_ref().map(|at| {
        let channel = subject.shop.channels.get(&at.value);
        format!(", through {}", channel.map_or(at.value.as_str(), |c| c.label.as_str()))
    });
    let count = sale.count.as_ref().map(|count| format!(", {} of a set", count.value));
    format!(
        "{}{}{}, for {}{}{}{}{}",
        date(sale.on.value),
        channel.unwrap_or_default(),
        count.unwrap_or_default(),
        amount(subject, sale.price.value),
        besides(subject, "fee", fee(subject, sale)),
        besides(subject, "delivery charged", sale.delivery_charged),
        besides(subject, "delivery paid", sale.delivery_cost),
        besides(subject, "sales tax", sale.tax_collected),
    )
}

/// As written; what the channel usually takes where the only sale says nothing.
fn fee(subject: &Subject, sale: &Sale) -> Money {
    let alone = subject.tally.filter(|_| subject.piece.sale.len() == 1);
    sale.fee.map(|fee| fee.value).or(alone.map(|tally: &Tally| tally.fees)).unwrap_or_default()
}

/// Money that came before every sale is a deposit.
fn paid(subject: &Subject, payment: &Payment) -> String {
    let on = payment.on.value;
    let deposit = subject.piece.sale.iter().all(|sale| on < sale.on.value);
    let what = if deposit { "deposit of " } else { "" };
    let back = payment.back.as_ref().map(|back| format!(", back {}", date(back.value)));
    let sum = amount(subject, payment.amount.value);
    format!("{what}{sum} on {}{}", date(on), back.unwrap_or_default())
}

fn allowed(subject: &Subject, given: &Allowance) -> String {
    let what = given.what.as_ref().map(|what| format!(", {what}")).unwrap_or_default();
    format!("{} on {}{what}", amount(subject, given.amount.value), date(given.on.value))
}

fn came_back(subject: &Subject, back: &Return) -> String {
    format!("{}, {} refunded", date(back.on.value), amount(subject, back.refunded.value))
}

fn withdrawn(piece: &Piece) -> String {
    let Some(gone) = &piece.withdrawn else { return String::new() };
    let how = match gone.how {
        WithdrawalKind::Scrapped => "scrapped",
        WithdrawalKind::Kept => "kept",
        WithdrawalKind::Given => "given away",
    };
    let note = gone.note.as_ref().map(|note| format!(", {note}")).unwrap_or_default();
    sentence(&format!("{}, {how}{note}", date(gone.on.value)))
}

/// The files that its entries name, each once.
fn receipts(piece: &Piece) -> String {
    let bought = piece.bought.iter().filter_map(|entry| entry.receipt.as_ref());
    let costs = piece.cost.iter().filter_map(|entry| entry.receipt.as_ref());
    let sales = piece.sale.iter().filter_map(|entry| entry.receipt.as_ref());
    let payments = piece.payment.iter().filter_map(|entry| entry.receipt.as_ref());
    let allowances = piece.allowance.iter().filter_map(|entry| entry.receipt.as_ref());
    let parts = piece.salvaged.iter().filter_map(|entry| entry.receipt.as_ref());
    let all = bought.chain(costs).chain(sales).chain(payments).chain(allowances).chain(parts);
    let mut names: Vec<&str> = all.map(|receipt| receipt.value.as_str()).collect();
    names.sort_unstable();
    names.dedup();
    let short = names.iter().map(|name| name.strip_prefix("receipts/").unwrap_or(name));
    short.collect::<Vec<_>>().join(", ")
}
