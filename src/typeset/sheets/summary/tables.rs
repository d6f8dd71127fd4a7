//! The tables of a year as files: every figure of the paper, for a spreadsheet or a program.

use super::json::{digits, year_json};
use super::ledger::spent;
use super::{Books, goods};
use crate::model::{LineUnit, Money, Shop, Sources, TripPurpose, plain};
use crate::reckon::Reckoned;
use crate::reckon::year::{Contribution, FigureUnit, Year};
use crate::typeset::csv;
use chrono::NaiveDate;
use rust_decimal::Decimal;

/// The tables of a year: each a file name and its text.
#[derive(Clone, Debug)]
pub struct YearTables {
    pub files: Vec<(&'static str, String)>,
}

type Rows = Vec<Vec<String>>;

/// A table: its file, what it is, its heads, and how its rows are made.
struct Table {
    name: &'static str,
    what: &'static str,
    heads: &'static [&'static str],
    rows: fn(&Books) -> Rows,
}

const TABLES: &[Table] = &[
    Table {
        name: "form-lines.csv",
        what: "Lines of the form",
        heads: &["line", "part", "label", "amount", "whole", "answer", "source"],
        rows: form_lines,
    },
    Table {
        name: "cost-of-goods.csv",
        what: "Cost of goods sold, both sides",
        heads: &["side", "what", "amount"],
        rows: cost_of_goods,
    },
    Table {
        name: "expenses.csv",
        what: "Expenses by category",
        heads: &["line", "category", "entries", "paid", "amount"],
        rows: expenses,
    },
    Table {
        name: "trips.csv",
        what: "Trips",
        heads: &["on", "purpose", "what", "miles", "rate", "amount", "place"],
        rows: trips,
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
        rows: reconciliation,
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
        rows: sold,
    },
    Table {
        name: "pieces-unsold.csv",
        what: "Pieces in stock, at cost",
        heads: &["number", "title", "count", "bought", "cost"],
        rows: unsold,
    },
    Table {
        name: "missing-records.csv",
        what: "Entries without a receipt",
        heads: &["on", "what", "amount", "place"],
        rows: missing,
    },
    Table {
        name: "ledger.csv",
        what: "Every figure with the entries it is made of",
        heads: &["figure", "on", "what", "place", "amount"],
        rows: ledger,
    },
];

/// The tables of a year.
pub fn year_tables(shop: &Shop, reckoned: &Reckoned, year: &Year, sources: &Sources) -> YearTables {
    let books = Books::new(shop, reckoned, year, sources);
    let json = format!("{:#}\n", year_json(shop, year, sources));
    let tables = TABLES.iter().map(|table| (table.name, csv(table.heads, (table.rows)(&books))));
    YearTables { files: std::iter::once(("year.json", json)).chain(tables).collect() }
}

/// What a file holds, in a few words.
pub(super) fn description(name: &str) -> &'static str {
    TABLES.iter().find(|table| table.name == name).map_or("Figures", |table| table.what)
}

impl Books<'_> {
    fn plain(&self, amount: Money) -> String {
        plain(amount, self.shop.currency.decimals)
    }

    fn plain_or_none(&self, amount: Option<Money>) -> String {
        amount.map_or(String::new(), |amount| self.plain(amount))
    }

    fn place(&self, part: &Contribution) -> String {
        self.places.line(part.place).unwrap_or_default()
    }
}

fn iso(on: Option<NaiveDate>) -> String {
    on.map_or(String::new(), |on| on.to_string())
}

fn form_lines(books: &Books) -> Rows {
    let lines = books.year.lines.iter().map(|line| {
        let amount = line.amount.map_or(String::new(), |amount| match line.unit {
            LineUnit::Miles => digits(amount),
            LineUnit::Money | LineUnit::Answer => books.plain(amount),
        });
        vec![
            line.number.clone(),
            line.part.clone(),
            line.label.clone(),
            amount,
            line.whole.map_or(String::new(), |whole| plain(whole, 0)),
            line.answer.clone().unwrap_or_default(),
            line.source.clone(),
        ]
    });
    lines.collect()
}

fn cost_of_goods(books: &Books) -> Rows {
    let proof = &books.year.proof;
    let row = |side: &str, what: &str, amount| {
        vec![side.to_owned(), what.to_owned(), books.plain(amount)]
    };
    let stock = goods::stock_amounts(books);
    let pieces = goods::piece_amounts(books);
    let mut rows: Rows = stock.iter().map(|(what, amount)| row("stock", what, *amount)).collect();
    rows.push(row("stock", "Cost of goods sold", proof.from_stock));
    rows.extend(pieces.iter().map(|(what, amount)| row("pieces", what, *amount)));
    rows.push(row("pieces", "Cost of goods sold", proof.from_pieces));
    rows
}

fn expenses(books: &Books) -> Rows {
    let spent = spent(books).into_iter().map(|one| {
        let (paid, amount) = (books.plain(one.paid), books.plain(one.amount));
        vec![one.line, one.words, one.entries.to_string(), paid, amount]
    });
    spent.collect()
}

fn trips(books: &Books) -> Rows {
    let all = books.shop.years.values().flat_map(|book| &book.trip);
    let row = |trip: &crate::model::Trip| {
        let rate = books.form.and_then(|form| form.rate("mileage", trip.on.value));
        let rate = rate.map_or(Decimal::ZERO, |rate| rate.value);
        vec![
            trip.on.value.to_string(),
            purpose(trip.purpose).to_owned(),
            trip.what.clone(),
            digits(trip.miles),
            rate.to_string(),
            books.plain(trip.miles * rate),
            books.places.line(trip.place).unwrap_or_default(),
        ]
    };
    all.filter(|trip| books.in_year(trip.on.value)).map(row).collect()
}

fn purpose(purpose: TripPurpose) -> &'static str {
    match purpose {
        TripPurpose::Fetch => "fetch",
        TripPurpose::Deliver => "deliver",
        TripPurpose::Other => "other",
    }
}

fn reconciliation(books: &Books) -> Rows {
    let rows = books.year.channels.iter().map(|channel| {
        vec![
            channel.channel.clone().unwrap_or_default(),
            books.plain_or_none(channel.reported),
            books.plain(channel.price),
            books.plain(channel.delivery),
            books.plain(channel.tax),
            books.plain(channel.expected),
            books.plain(channel.explained),
            channel.cause.clone().unwrap_or_default(),
            books.plain_or_none(channel.unexplained),
        ]
    });
    rows.collect()
}

fn sold(books: &Books) -> Rows {
    let rows = super::pieces::sales(books).into_iter().map(|one| {
        vec![
            one.piece.name().to_owned(),
            one.piece.title.value.clone(),
            one.sale.count.to_string(),
            iso(one.sale.bought),
            one.sale.sold.to_string(),
            books.plain(one.sale.cost),
            books.plain(one.sale.price),
            books.plain(one.sale.margin),
            books.plain(one.sale.left),
            plain(one.sale.hours, 2),
            books.plain_or_none(one.per_hour()),
        ]
    });
    rows.collect()
}

fn unsold(books: &Books) -> Rows {
    let rows = books.year.unsold.iter().map(|one| {
        let piece = &books.shop.pieces[one.piece];
        vec![
            piece.name().to_owned(),
            piece.title.value.clone(),
            one.count.to_string(),
            iso(one.bought),
            books.plain(one.cost),
        ]
    });
    rows.collect()
}

fn missing(books: &Books) -> Rows {
    let rows = books.year.missing_records.iter().map(|part| {
        vec![iso(part.on), part.what.to_string(), books.plain(part.amount), books.place(part)]
    });
    rows.collect()
}

/// Amounts keep every digit, so that they add up to the exact figure.
fn ledger(books: &Books) -> Rows {
    let exact = |unit: FigureUnit, amount: Decimal| match unit {
        FigureUnit::Money if amount.normalize().scale() <= books.shop.currency.decimals => {
            books.plain(amount)
        }
        _ => digits(amount),
    };
    let mut rows = Vec::new();
    for figure in books.year.ledger.iter() {
        rows.extend(figure.parts.iter().map(|part| {
            let amount = exact(figure.unit, part.amount);
            let (on, what) = (iso(part.on), part.what.to_string());
            vec![figure.name.clone(), on, what, books.place(part), amount]
        }));
    }
    rows
}
