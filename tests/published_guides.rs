//! Worked examples of court opinions, regulations and further textbooks, through a shop folder and the
//! command line. The years and days are ours where a source has others or none.
//!
//! OS-FA and OS-MA are OpenStax, Principles of Accounting, volumes 1 (Financial) and 2 (Managerial);
//! PRE is Prealgebra 2e, EA is Elementary Algebra 2e, CM is Contemporary Mathematics, all of OpenStax,
//! CC BY-NC-SA 4.0. Each was read in its text or in a printed solution; what follows from printed
//! figures by one sum is said to be worked out.

mod dealings;
mod prices;
mod units;
mod years;

use crate::folders::{Folder, Written};
use crate::shops::dec;
use serde_json::Value;

/// What a command prints as JSON.
fn json(shop: &Written, words: &[&str]) -> Value {
    let said = shop.run(words);
    serde_json::from_str(&said.out).unwrap_or_else(|_| panic!("{words:?}: {}", said.err))
}

/// Checks lines of a month of 2023.
fn assert_month(shop: &Written, month: u32, expected: &[(&str, &str)]) {
    let year = json(shop, &["year", "2023", "--month", &month.to_string(), "--json"]);
    for (number, amount) in expected {
        let lines = year["lines"].as_array().unwrap();
        let line = lines.iter().find(|line| line["line"] == *number).unwrap();
        assert_eq!(dec(line["amount"].as_str().unwrap()), dec(amount), "line {number} of {month}");
    }
}

/// Checks figures of a piece, as `tally --json` prints them.
fn assert_tally(shop: &Written, piece: &str, expected: &[(&str, &str)]) {
    let row = shop.tally(piece);
    for (figure, amount) in expected {
        assert_eq!(row[figure], *amount, "{figure} of {piece}");
    }
}

/// Bought at the beginning of the year, with further lines.
fn bought(cost: &str, more: &str) -> String {
    format!("bought = {{ on = 2023-01-02, price = {cost} }}\n{more}")
}

/// Sold at the end of January.
fn sold(price: &str) -> String {
    format!("sale = [{{ on = 2023-01-31, price = {price} }}]\n")
}

/// An expense of 1 February.
fn expense(category: &str, amount: &str) -> String {
    format!(
        "[[expense]]\non = 2023-02-01\nwhat = \"of the year\"\ncategory = \"{category}\"\n\
         amount = {amount}\nto = \"one\"\n"
    )
}

fn expenses(all: &[(&str, &str)]) -> String {
    all.iter().map(|(category, amount)| expense(category, amount)).collect()
}

/// Money counts when it is earned.
fn accrual() -> Folder {
    Folder::shop("[books]\nbasis = \"accrual\"")
}
