//! The tables of a year as files: every figure of the paper, for a spreadsheet or a program.

use super::json::year_json;
use super::receipts;
use super::rows;
use super::{Books, bank};
use crate::model::{Shop, Sources};
use crate::reckon::year::Year;
use crate::typeset::csv_file;
use std::sync::Arc;

/// The tables of a year: each a file name and its text.
#[derive(Clone, Debug)]
pub struct YearTables {
    pub files: Vec<(&'static str, Arc<String>)>,
}

/// A table: its file, what it is, its heads, and how its rows are made.
struct Table {
    name: &'static str,
    what: &'static str,
    heads: &'static [&'static str],
    rows: for<'a> fn(&'a Books) -> Box<dyn Iterator<Item = Vec<String>> + 'a>,
}

/// Only of a shop with a place that says how often it files.
const SALES_TAX: &str = "sales-tax.csv";

const TABLES: &[Table] = &[
    Table {
        name: "form-lines.csv",
        what: "Lines of the form",
        heads: &["line", "part", "label", "amount", "whole", "answer", "source"],
        rows: |books| Box::new(rows::form_lines(books).into_iter()),
    },
    Table {
        name: "cost-of-goods.csv",
        what: "Cost of goods sold, both sides",
        heads: &["side", "what", "amount"],
        rows: |books| Box::new(rows::cost_of_goods(books).into_iter()),
    },
    Table {
        name: "expenses.csv",
        what: "Expenses by category",
        heads: &["line", "category", "entries", "paid", "amount"],
        rows: |books| Box::new(rows::expenses(books).into_iter()),
    },
    Table {
        name: "trips.csv",
        what: "Trips",
        heads: &["on", "purpose", "what", "miles", "rate", "amount", "place"],
        rows: |books| Box::new(rows::trips(books).into_iter()),
    },
    Table {
        name: "reconciliation.csv",
        what: "What channels reported, beside the books",
        heads: &[
            "channel",
            "reported",
            "price",
            "delivery",
            "tax",
            "expected",
            "explained",
            "cause",
            "unexplained",
        ],
        rows: |books| Box::new(rows::reconciliation(books).into_iter()),
    },
    Table {
        name: "bank.csv",
        what: "Deposits in the bank, beside the sales",
        heads: &["outcome", "on", "amount", "expected", "text", "sales", "place"],
        rows: |books| Box::new(bank::table(books).into_iter()),
    },
    Table {
        name: SALES_TAX,
        what: "Sales tax by place and filing period",
        heads: &[
            "place",
            "period",
            "from",
            "to",
            "rate",
            "gross",
            "by_channels",
            "exempt_resale",
            "exempt_out_of_state",
            "exempt_other",
            "delivery_not_taxed",
            "taxable",
            "tax",
            "remitted",
            "kept",
            "due",
            "at_start",
            "held",
        ],
        rows: |books| Box::new(rows::filings(books).into_iter()),
    },
    Table {
        name: "pieces-sold.csv",
        what: "Pieces sold",
        heads: &[
            "number",
            "title",
            "count",
            "bought",
            "sold",
            "cost",
            "price",
            "gross_profit",
            "left",
            "hours",
            "per_hour",
        ],
        rows: |books| Box::new(rows::sold(books).into_iter()),
    },
    Table {
        name: "pieces-unsold.csv",
        what: "Pieces in stock, at cost",
        heads: &["number", "title", "count", "bought", "cost"],
        rows: |books| Box::new(rows::unsold(books).into_iter()),
    },
    Table {
        name: "missing-records.csv",
        what: "Entries that lack a record",
        heads: &["on", "what", "amount", "place", "lacks", "receipt"],
        rows: |books| Box::new(rows::missing(books).into_iter()),
    },
    Table {
        name: "ledger.csv",
        what: "Every figure with the entries it is made of",
        heads: &["figure", "on", "what", "place", "amount"],
        rows: |books| Box::new(rows::ledger(books)),
    },
];

/// The tables of a year.
pub fn year_tables(shop: &Shop, year: &Year, sources: &Sources) -> YearTables {
    let books = Books::new(shop, year, sources);
    let told = |table: &&Table| table.name != SALES_TAX || !year.filings.is_empty();
    let json = format!("{:#}\n", year_json(shop, year, sources));
    let tables = TABLES
        .iter()
        .filter(told)
        .map(|table| (table.name, csv_file(table.heads, (table.rows)(&books)).into()));
    YearTables { files: std::iter::once(("year.json", json.into())).chain(tables).collect() }
}

/// What a file holds, in a few words.
pub(super) fn description(name: &str) -> &'static str {
    if name == receipts::NAME {
        return "Receipts, with their checksums";
    }
    TABLES.iter().find(|table| table.name == name).map_or("Figures", |table| table.what)
}
