//! `tally --owed`: who owes what, and what is kept for whom.

use super::figures::{DASH, json_money, money};
use super::opened::Known;
use super::table::{Align, Table};
use super::{Screen, Status};
use crate::model::{Currency, Shop};
use crate::reckon::owed::{Open, OpenKind, OpenOf, open};
use crate::typeset::{cell, csv};
use rust_decimal::Decimal;
use serde_json::{Value, json};

const HEADS: [&str; 10] =
    ["number", "title", "what", "on", "for", "price", "delivery", "tax", "amount", "currency"];

/// Shows the list as a table, as JSON or as CSV.
pub fn owed(as_json: bool, as_csv: bool, known: &Known, screen: &mut Screen) -> Status {
    let tallies = &known.reckoned.tallies;
    let all = open(&known.shop, |piece| tallies[piece].is_some());
    let currency = &known.shop.currency;
    if as_json {
        let rows: Vec<Value> = all.iter().map(|one| as_value(one, &known.shop)).collect();
        let sums = [OpenKind::Owed, OpenKind::Deposit, OpenKind::TooMuch, OpenKind::Kept]
            .map(|kind| (kind.word().to_owned(), json_money(sum(&all, kind), currency)));
        let json = json!({
            "currency": currency.code,
            "open": rows,
            "totals": Value::Object(sums.into_iter().collect()),
        });
        screen.data(&format!("{json:#}\n"));
    } else if as_csv {
        let cells = |one: &Open| -> Vec<String> {
            let row = as_value(one, &known.shop);
            HEADS.iter().map(|head| cell(&row[*head])).collect()
        };
        screen.data(&csv(&HEADS, all.iter().map(cells)));
    } else if all.is_empty() {
        screen.note("nothing is owed, and nothing is reserved\n");
    } else {
        show(&all, known, screen);
    }
    Status::Done
}

fn sum(all: &[Open], kind: OpenKind) -> Decimal {
    all.iter().filter(|one| one.kind == kind).map(|one| one.amounts.all()).sum()
}

/// For whom a piece is kept, where it is reserved for somebody by name, or who ordered the work.
fn buyer<'a>(one: &Open, shop: &'a Shop) -> Option<&'a str> {
    match one.of {
        OpenOf::Order(at) => shop.orders[at].customer.as_deref(),
        OpenOf::Piece(at) => {
            let kept = shop.pieces[at].reserved.as_ref().filter(|_| one.kind == OpenKind::Reserved);
            kept.and_then(|reserved| reserved.name.as_deref())
        }
    }
}

fn as_value(one: &Open, shop: &Shop) -> Value {
    let currency: &Currency = &shop.currency;
    let (number, title) = one.of.names(shop);
    let money = |amount| json_money(amount, currency);
    let some = one.kind != OpenKind::Reserved;
    let part = |amount: Decimal| if some { money(amount) } else { Value::Null };
    json!({
        "number": number,
        "title": title,
        "what": one.kind.word(),
        "on": one.on.map(|on| on.to_string()),
        "for": buyer(one, shop),
        "price": part(one.amounts.price),
        "delivery": part(one.amounts.delivery),
        "tax": part(one.amounts.tax),
        "amount": part(one.amounts.all()),
        "currency": currency.code,
    })
}

fn show(all: &[Open], known: &Known, screen: &mut Screen) {
    let currency = &known.shop.currency;
    let mut table = Table::new(&[
        ("no.", Align::Left),
        ("piece", Align::Left),
        ("what", Align::Left),
        ("since or until", Align::Left),
        ("for", Align::Left),
        ("amount", Align::Right),
    ]);
    for one in all {
        let (number, title) = one.of.names(&known.shop);
        let amount = Some(one.amounts.all()).filter(|_| one.kind != OpenKind::Reserved);
        table.row(vec![
            number.to_owned(),
            title.to_owned(),
            one.kind.word().to_owned(),
            one.on.map_or(DASH.to_owned(), |on| on.to_string()),
            buyer(one, &known.shop).unwrap_or(DASH).to_owned(),
            money(amount, currency),
        ]);
    }
    screen.table(&table);
    let amount = |kind| money(Some(sum(all, kind)), currency);
    screen.note(&format!(
        "\n{} owed by buyers, {} held as deposits, {} paid too much and to be given back, {} of deposits kept after a sale fell through, \
         which are income. Money in {}.\n",
        amount(OpenKind::Owed),
        amount(OpenKind::Deposit),
        amount(OpenKind::TooMuch),
        amount(OpenKind::Kept),
        currency.code
    ));
}
