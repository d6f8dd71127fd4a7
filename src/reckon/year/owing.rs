//! How the sales of a year and what was received in it differ: what buyers owed and had paid in
//! advance at both ends of the year, and what was given up.

use super::books::Books;
use super::ledger::{Contribution, Ledger};
use super::names::Total;
use crate::model::Money;
use crate::reckon::payments::Account;
use chrono::NaiveDate;
use rust_decimal::Decimal;

/// Sales of the year against receipts, without tax. On cash basis the figures add up: sales, and
/// parts sold by themselves, and what was owed at the start, and deposits at the end, and deposits
/// kept, less what is owed at the end, deposits at the start and what was given up, are the receipts.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Owing {
    /// `sales`: price and delivery of the sales of the year, whenever they are paid.
    pub sales: Money,
    /// `parts-sold`.
    pub parts: Money,
    /// `owed-at-start`, `owed-at-end`.
    pub owed: (Money, Money),
    /// `deposits-at-start`, `deposits-at-end`: paid for what was not sold yet.
    pub deposits: (Money, Money),
    /// `given-up`: allowances taken off what was owed, and what was owed when a piece came back.
    pub given_up: Money,
    /// `deposits-kept`: they became income of the shop, the sale having fallen through.
    pub kept: Money,
    /// `receipts-from-sales`: the receipts by this way.
    pub received: Money,
}

/// Enters the figures named above; nothing where no payment is written in the whole shop.
pub(super) fn enter(books: &Books, ledger: &mut Ledger) -> Option<Owing> {
    let (start, end) = (books.day_before(), books.last_day);
    let sales =
        ledger.put(Total::Sales, "Price and delivery of the sales of the year", sales(books));
    let parts = ledger.put(Total::PartsSold, "Parts sold by themselves", parts(books));
    let mut stands = |day, when: &str, [of_owed, of_deposits]: [Total; 2]| {
        let (owed, deposits) = stands(books, day);
        let label = format!("Owed by buyers at the {when} of the year");
        let owed = ledger.put(of_owed, &label, owed);
        let label = format!("Deposits at the {when} of the year");
        (owed, ledger.put(of_deposits, &label, deposits))
    };
    let at_start = stands(start, "start", [Total::OwedAtStart, Total::DepositsAtStart]);
    let at_end = stands(end, "end", [Total::OwedAtEnd, Total::DepositsAtEnd]);
    let given_up = ledger.put(Total::GivenUp, "Owed and given up", given_up(books));
    let label = "Deposits kept after a sale fell through";
    let kept = ledger.put(Total::DepositsKept, label, deposits_kept(books));
    let (plus, less) = (Decimal::ONE, Decimal::NEGATIVE_ONE);
    let ways = [
        (Total::Sales.into(), plus),
        (Total::PartsSold.into(), plus),
        (Total::OwedAtStart.into(), plus),
        (Total::OwedAtEnd.into(), less),
        (Total::DepositsAtEnd.into(), plus),
        (Total::DepositsAtStart.into(), less),
        (Total::GivenUp.into(), less),
        (Total::DepositsKept.into(), plus),
    ];
    let received = ledger.put_sum(Total::ReceiptsFromSales, "Receipts, from the sales", &ways);
    let any = books.shop.pieces.iter().any(|piece| !piece.payment.is_empty());
    let (owed, deposits) = ((at_start.0, at_end.0), (at_start.1, at_end.1));
    any.then_some(Owing { sales, parts, owed, deposits, given_up, kept, received })
}

fn sales(books: &Books) -> Vec<Contribution> {
    let pieces = books.shop.pieces.iter().enumerate();
    let all = pieces.flat_map(|(i, piece)| piece.sale.iter().map(move |sale| (i, sale)));
    all.filter(|(_, sale)| books.in_year(sale.on.value))
        .map(|(i, sale)| Contribution::new(sale.place, sale.on.value, books.title(i), sale.asked()))
        .collect()
}

fn parts(books: &Books) -> Vec<Contribution> {
    let sold = books.costs.iter().flat_map(|costs| &costs.parts_sold);
    sold.filter(|part| books.in_year(part.on))
        .map(|part| Contribution::new(part.place, part.on, part.what.as_str(), part.price))
        .collect()
}

/// What buyers owe, and what they paid in advance, at the end of a day.
fn stands(books: &Books, day: NaiveDate) -> (Vec<Contribution>, Vec<Contribution>) {
    let (mut owed, mut deposits) = (Vec::new(), Vec::new());
    for (i, piece) in books.shop.pieces.iter().enumerate() {
        let accounts = &books.accounts[i];
        for (sale, account) in piece.sale.iter().zip(&accounts.sales) {
            let left = left_of(account, day);
            let into = if left.is_sign_negative() { &mut deposits } else { &mut owed };
            let (place, on) = (sale.place, sale.on.value);
            into.push(Contribution::new(place, on, books.title(i), left.abs()));
        }
        for event in accounts.deposits.iter().filter(|event| event.on <= day) {
            let (place, paid) = (event.place, event.paid.without_tax());
            deposits.push(Contribution::new(place, event.on, books.title(i), paid));
        }
        for kept in accounts.kept.iter().filter(|kept| kept.on <= day) {
            let title = books.title(i);
            deposits.push(Contribution::new(kept.place, kept.on, title, -kept.amount));
        }
    }
    (owed, deposits)
}

/// What the buyer of a sale owes at the end of a day; below zero what he has paid in advance.
fn left_of(account: &Account, day: NaiveDate) -> Money {
    let standing = account.at(day);
    let due = if account.sold_on <= day { standing.due.without_tax() } else { Money::ZERO };
    due - standing.paid.without_tax()
}

fn deposits_kept(books: &Books) -> Vec<Contribution> {
    let mut parts = Vec::new();
    for (i, accounts) in books.accounts.iter().enumerate() {
        for kept in accounts.kept.iter().filter(|kept| books.in_year(kept.on)) {
            parts.push(Contribution::new(kept.place, kept.on, books.title(i), kept.amount));
        }
    }
    parts
}

fn given_up(books: &Books) -> Vec<Contribution> {
    let mut parts = Vec::new();
    for (i, accounts) in books.accounts.iter().enumerate() {
        let events = accounts.sales.iter().flat_map(|account| &account.events);
        for event in events.filter(|event| books.in_year(event.on)) {
            let amount = event.given_up().without_tax();
            parts.push(Contribution::new(event.place, event.on, books.title(i), amount));
        }
    }
    parts
}
