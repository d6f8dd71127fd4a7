//! `tally --owed`: who owes what, and what is kept for whom.

use super::figures::{DASH, json_money, money};
use super::opened::Known;
use super::table::{Align, Table};
use super::{Screen, Status};
use crate::model::{Currency, Piece};
use crate::reckon::owed::{Open, OpenKind, open};
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
    let rows = all.iter().map(|one| (one, &known.shop.pieces[one.piece]));
    if as_json {
        let rows: Vec<Value> = rows.map(|(one, piece)| as_value(one, piece, currency)).collect();
        let sums = [OpenKind::Owed, OpenKind::Deposit, OpenKind::TooMuch, OpenKind::Kept]
            .map(|kind| (kind.word().to_owned(), json_money(sum(&all, kind), currency)));
        let json = json!({
            "currency": currency.code,
            "open": rows,
            "totals": Value::Object(sums.into_iter().collect()),
        });
        screen.data(&format!("{json:#}\n"));
    } else if as_csv {
        let cells = |(one, piece): (&Open, &Piece)| -> Vec<String> {
            let row = as_value(one, piece, currency);
            HEADS.iter().map(|head| cell(&row[*head])).collect()
        };
        screen.data(&csv(&HEADS, rows.map(cells)));
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

/// For whom a piece is kept: only where it is reserved for somebody by name.
fn buyer<'a>(one: &Open, piece: &'a Piece) -> Option<&'a str> {
    let reserved = piece.reserved.as_ref().filter(|_| one.kind == OpenKind::Reserved);
    reserved.and_then(|reserved| reserved.name.as_deref())
}

fn as_value(one: &Open, piece: &Piece, currency: &Currency) -> Value {
    let money = |amount| json_money(amount, currency);
    let some = one.kind != OpenKind::Reserved;
    let part = |amount: Decimal| if some { money(amount) } else { Value::Null };
    json!({
        "number": piece.name(),
        "title": piece.title.value,
        "what": one.kind.word(),
        "on": one.on.map(|on| on.to_string()),
        "for": buyer(one, piece),
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
        let piece = &known.shop.pieces[one.piece];
        let amount = Some(one.amounts.all()).filter(|_| one.kind != OpenKind::Reserved);
        table.row(vec![
            piece.name().to_owned(),
            piece.title.value.clone(),
            one.kind.word().to_owned(),
            one.on.map_or(DASH.to_owned(), |on| on.to_string()),
            buyer(one, piece).unwrap_or(DASH).to_owned(),
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
