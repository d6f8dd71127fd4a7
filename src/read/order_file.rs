//! `order.toml`: work on a customer's own piece.

use super::amount::AMOUNT;
use super::books_file::expense_of;
use super::odd::confirm;
use super::piece_work::work;
use super::table::Table;
use super::text::{DATE, STORY, TEXT, TITLE};
use super::value::Reader;
use crate::model::{At, Code, Expense, Finding, Money, Order, OrderLine, OrderPayment};
use chrono::NaiveDate;
use rust_decimal::Decimal;

/// What only a piece of the shop's own has.
const OF_A_PIECE: [&str; 4] = ["bought", "sale", "listing", "used"];

/// The most lines and entries of an order.
const MOST_ENTRIES: usize = 200;

/// Everything an order's file says.
pub(super) fn order(file: &Table) -> Order {
    OF_A_PIECE.into_iter().for_each(|key| of_a_piece(file, key));
    ["line", "work", "cost", "payment"].into_iter().for_each(|key| file.at_most(key, MOST_ENTRIES));
    let order = Order {
        folder: file.document.folder.to_owned(),
        number: file.may("number", &Reader { example: "\"W-03\"", ..TEXT }),
        title: file.need("title", &Reader { example: "\"Reglue six chairs\"", ..TITLE }),
        piece: file.may("piece", &TEXT).map(|piece| piece.value),
        received: file.may("received", &STORY).map(|received| received.value),
        customer: file.may("customer", &TEXT).map(|customer| customer.value),
        on: file.need("on", &DATE),
        until: file.may("until", &DATE),
        line: file.tables("line").iter().map(line).collect(),
        charged: file.may("charged", &AMOUNT),
        work: work(file),
        cost: file.tables("cost").iter().map(cost).collect(),
        payment: file.tables("payment").iter().map(payment).collect(),
        done: file.may("done", &DATE),
        given_up: file.may("given-up", &DATE),
        counted: Vec::new(),
        moved: Vec::new(),
        place: file.place,
    };
    if order.charged.is_none() && file.find("line").is_none() {
        file.missing("line", "[{ what = \"reglue six chairs\", amount = 240.00 }]");
    }
    say_wrong_days(file, &order);
    say_paid_over(file, &order);
    order
}

/// A customer's piece is never bought, and what is bought is no order.
fn of_a_piece(file: &Table, key: &'static str) {
    let Some(place) = file.turn_away(key) else { return };
    let message = format!("an order is for work on a customer's own piece and cannot have `{key}`");
    let finding =
        Finding::error(Code::OrderOfAPiece, place, message).label("only for your own pieces");
    let hint = match key {
        "used" => "remove it: shop stock used on an order is picked up by the next `[[count]]`",
        _ => "remove it; where the piece is your own, name this file `piece.toml`",
    };
    file.document.stand_in(finding.hint(hint));
}

fn line(table: &Table) -> OrderLine {
    OrderLine {
        what: table.need("what", &Reader { example: "\"reglue six chairs\"", ..TEXT }).value,
        amount: table.need("amount", &Reader { example: "240.00", ..AMOUNT }),
    }
}

/// What was bought for it is an expense of the day it was paid.
fn cost(table: &Table) -> Expense {
    let on = table.need("on", &DATE);
    let year = table.document.setting.home.tax_year_of(on.value);
    expense_of(table, on, year)
}

fn payment(table: &Table) -> OrderPayment {
    OrderPayment {
        on: table.need("on", &DATE),
        amount: table.need("amount", &Reader { example: "100.00", ..AMOUNT }),
        back: table.may("back", &DATE),
        how: table.word_of("how"),
        receipt: table.receipt(),
        place: table.place,
    }
}

/// More was paid than is asked: a slip in one of the amounts, or money to give back.
fn say_paid_over(file: &Table, order: &Order) {
    let most = |amounts: Vec<At<Money>>| amounts.into_iter().max_by_key(|amount| amount.value);
    let paid = most(order.payment.iter().map(|one| one.amount).collect());
    let asked =
        most(order.charged.into_iter().chain(order.line.iter().map(|l| l.amount)).collect());
    // Of an order that asks nothing, the amount could not be read.
    let asks = !order.price().is_zero();
    let over = asks && order.owed() < Decimal::ZERO && !file.is_sure_of("payment");
    let Some((paid, asked)) = paid.zip(asked).filter(|_| over) else { return };
    let message = format!("{} was paid, and {} is asked", order.paid(), order.price());
    let finding = Finding::warning(Code::PaymentOverPrice, paid.place, message);
    let finding = finding.label("more than is asked").second(asked.place, "asked here");
    let hint = format!("fix an amount, or write what went back; {}", confirm("", "payment"));
    file.document.say(finding.hint(hint));
}

/// Days of which one cannot come before the other.
fn say_wrong_days(file: &Table, order: &Order) {
    let on = Some(order.on);
    let mut later = vec![
        ("the estimate expires before the day it was given", order.until, on),
        ("the work was done before the estimate was given", order.done, on),
        ("what is owed was given up before the work was done", order.given_up, order.done),
    ];
    later.extend(
        order
            .payment
            .iter()
            .map(|one| ("a payment went back before it came", one.back, Some(one.on))),
    );
    let read = |on: &At<NaiveDate>| on.value != NaiveDate::default();
    for (message, day, first) in later {
        let (Some(day), Some(first)) = (day.filter(read), first.filter(read)) else { continue };
        if day.value < first.value {
            let finding = Finding::error(Code::OrderDays, day.place, message).label("too early");
            let finding = finding.second(first.place, "this comes first");
            file.document.say(finding.hint(format!("write a day from {} on", first.value)));
        }
    }
    if let Some(given_up) = order.given_up.filter(|_| order.done.is_none()) {
        let message = "what is owed is given up, but the work is not done";
        let finding = Finding::error(Code::OrderDays, given_up.place, message).label("given up");
        file.document.say(finding.hint("add `done`, the day the piece was handed back"));
    }
}
