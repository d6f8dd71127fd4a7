//! The tables of the income summary as a screen reader finds them: every row has a head of its own,
//! no cell is there for the layout's sake, and amounts are under the heads they belong to.

use super::print;
use super::years::busy_shop;
use crate::pdf::aloud::{Cell, tables};
use dovetally::model::{Money, grouped};
use dovetally::reckon::year::{TaxFigure, Total};
use lopdf::Document;

fn row_head(row: &[Cell]) -> Option<&Cell> {
    row.iter().find(|cell| cell.role == "TH" && cell.scope == "Row")
}

/// Of heads alone.
fn is_head(row: &[Cell]) -> bool {
    row.iter().all(|cell| cell.role == "TH" && cell.scope == "Column")
}

/// What a row of a table lacks.
fn faults(row: &[Cell]) -> Vec<String> {
    let blank = row.iter().skip(1).any(|cell| cell.text.is_empty());
    // A sum has nothing to say under the heads that count nothing, its number first of all.
    let sum = row.first().is_some_and(|cell| cell.text.is_empty());
    let texts: Vec<&str> = row.iter().map(|cell| cell.text.as_str()).collect();
    let mut faults = Vec::new();
    if row_head(row).is_none() {
        faults.push(format!("no head of its own: {texts:?}"));
    }
    if blank && !sum {
        faults.push(format!("a blank cell: {texts:?}"));
    }
    faults
}

#[test]
fn every_row_of_every_table_has_a_head_and_says_something() {
    let printed = print(&busy_shop());
    let tables = tables(&Document::load_mem(&printed.pdf).unwrap());
    assert!(tables.len() > 8, "{}", tables.len());
    let rows = tables.iter().flatten().filter(|row| !is_head(row));
    let found: Vec<String> = rows.flat_map(|row| faults(row)).collect();
    assert!(found.is_empty(), "{found:#?}");
}

#[test]
fn the_amounts_of_the_form_are_under_exact_and_whole_and_under_their_part() {
    let printed = print(&busy_shop());
    let tables = tables(&Document::load_mem(&printed.pdf).unwrap());
    let said = |cell: &Cell, words: &str| cell.text.eq_ignore_ascii_case(words);
    let form = tables.iter().find(|rows| rows[0].iter().any(|cell| said(cell, "exact"))).unwrap();
    let id = |words: &str| {
        let head = form.iter().flatten().find(|cell| cell.role == "TH" && said(cell, words));
        head.unwrap_or_else(|| panic!("no head {words}")).id.clone()
    };
    let (exact, whole) = (id("exact"), id("whole dollars"));
    let lines: Vec<_> = form.iter().filter(|row| row.len() == 4 && !is_head(row)).collect();
    assert!(lines.len() > 10, "{}", lines.len());
    for row in lines {
        let label = row_head(row).expect("a head of its own");
        for (cell, head) in [(&row[2], &exact), (&row[3], &whole)] {
            assert!(cell.headers.contains(head), "{}: {:?}", label.text, cell.headers);
            assert!(cell.headers.contains(&label.id), "{}: {:?}", label.text, cell.headers);
        }
    }
}

#[test]
fn each_total_stands_at_the_end_of_its_row() {
    let printed = print(&busy_shop());
    let tables = tables(&Document::load_mem(&printed.pdf).unwrap());
    let shown = |amount: Money| grouped(amount, 2);
    let total = |total: Total| printed.year.total(total);
    for (words, amount) in [
        ("Receipts less refunds", format!("${}", shown(total(Total::NetReceipts)))),
        ("less cost of goods sold", format!("−{}", shown(total(Total::CostOfGoodsSold)))),
        ("less expenses", format!("−{}", shown(total(Total::TotalExpenses)))),
        ("Net profit", format!("${}", shown(total(Total::NetProfit)))),
        ("Stock on 1 January", shown(total(Total::OpeningStock))),
        ("less stock on 31 December", format!("−{}", shown(total(Total::ClosingStock)))),
        ("All trips", shown(printed.year.trips.amount)),
        ("Held for the state on 31 December", shown(printed.year.tax(TaxFigure::Held))),
        ("All 125 entries", shown(total(Total::MissingRecords))),
    ] {
        let row = tables.iter().flatten().find(|row| row.iter().any(|cell| cell.text == words));
        let last = row.and_then(|row| row.last()).unwrap_or_else(|| panic!("no row {words}"));
        assert_eq!(last.text, amount, "{words}");
    }
}
