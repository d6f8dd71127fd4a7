//! What a preparer asks first: how the books are kept and what was not stated, the questions of the
//! form with their answers, and every expense by its entry.

use super::{Books, DASH, bare, in_words};
use crate::describe::wording::date;
use crate::model::{Basis, Closed, LineUnit, StockCost, Supplies};
use crate::reckon::year::{Contribution, FigureName, FormLine};
use crate::typeset::view::{Answer, EntryRow, Preparer};

const OPEN: &str = "open: for the owner to answer";

pub(super) fn preparer(books: &Books) -> Preparer {
    let asked = books.year.lines.iter().filter(|line| line.unit != LineUnit::Money);
    Preparer {
        method: method(books),
        questions: asked.map(|line| question(books, line)).collect(),
        words: super::records::disclaimer(),
    }
}

/// How the books are kept; where shop.toml or the year's book does not say so, that is said.
fn method(books: &Books) -> Vec<Answer> {
    let (shop, year) = (books.shop, books.year.year);
    let basis = match shop.basis(year) {
        Basis::Cash => "cash: money counts on the day it is paid",
        Basis::Accrual => "accrual: a sale counts on its day, whenever it is paid",
    };
    let supplies = match shop.supplies(year) {
        Supplies::WhenUsed => "a cost when it is used",
        Supplies::WhenBought => "an expense on the day it is bought",
    };
    let cost = match shop.books.stock_cost {
        StockCost::Average => "moving average of what was paid",
        StockCost::Fifo => "first in, first out",
    };
    let own = shop.years.get(&year).and_then(|book| book.method.as_ref());
    let own = |key: &str| match key {
        "basis" => own.is_some_and(|method| method.basis.is_some()),
        "supplies" => own.is_some_and(|method| method.supplies.is_some()),
        _ => false,
    };
    let row = |question: &str, key: &str, answer: &str| {
        let stated = own(key) || shop.books.stated.contains(&key);
        let mark = if stated { "" } else { " (not stated: the program’s usual)" };
        Answer {
            line: String::new(),
            question: question.to_owned(),
            answer: format!("{answer}{mark}"),
        }
    };
    let period = match books.period.finished {
        true => format!("{} – {}", books.begin(), date(books.period.last)),
        false => format!("up to {}, the day of the last entry", date(books.period.last)),
    };
    vec![
        Answer { line: String::new(), question: "Period".to_owned(), answer: period },
        row("Accounting method", "basis", basis),
        row("Shop stock", "supplies", supplies),
        row("Cost of shop stock", "stock-cost", cost),
        Answer {
            line: String::new(),
            question: "Pieces in stock".to_owned(),
            answer: "each at what it had cost, without the owner’s hours".to_owned(),
        },
    ]
}

fn question(books: &Books, line: &FormLine) -> Answer {
    let answer = match line.unit {
        LineUnit::Distance => line.amount.map_or(DASH.to_owned(), |amount| {
            let unit = books.shop.home().distance.word();
            format!("{}\u{a0}{unit}", bare(amount))
        }),
        _ => line.answer.clone().unwrap_or_else(|| OPEN.to_owned()),
    };
    Answer { line: line.number.clone(), question: line.label.clone(), answer }
}

/// The entries behind every category of expense, in the order of the form and by day.
pub(super) fn entries(books: &Books) -> Vec<EntryRow> {
    let categories = books.form.into_iter().flat_map(|form| form.expense_lines());
    let mut rows = Vec::new();
    for line in categories {
        for category in &line.categories {
            let figure = books.year.ledger.get(&FigureName::Expense(category.clone()));
            let mut parts: Vec<&Contribution> = figure.into_iter().flat_map(|f| &f.parts).collect();
            parts.sort_by_key(|part| part.on);
            rows.extend(parts.into_iter().map(|part| entry(books, &line.number, category, part)));
        }
    }
    rows
}

fn entry(books: &Books, line: &str, category: &str, part: &Contribution) -> EntryRow {
    EntryRow {
        line: line.to_owned(),
        category: in_words(category),
        on: part.on.map_or(DASH.to_owned(), |on| books.day(on)),
        what: part.what.to_string(),
        place: books.places.line(part.place).unwrap_or_else(|| DASH.to_owned()),
        amount: books.amount(part.amount),
    }
}
