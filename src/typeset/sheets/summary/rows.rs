//! The rows of the year's tables: bare figures and ISO days, for machines.

use super::json::{digits, lacking};
use super::ledger::spent;
use super::{Books, goods, pieces};
use crate::model::{Exempt, LineUnit, Money, Trip, TripPurpose, plain};
use crate::reckon::trips::TripCost;
use crate::reckon::year::{Contribution, FigureUnit};
use chrono::NaiveDate;
use rust_decimal::Decimal;

pub type Rows = Vec<Vec<String>>;

impl Books<'_> {
    pub(super) fn plain(&self, amount: Money) -> String {
        plain(amount, self.shop.currency.decimals)
    }

    pub(super) fn plain_or_none(&self, amount: Option<Money>) -> String {
        amount.map_or(String::new(), |amount| self.plain(amount))
    }

    fn place(&self, part: &Contribution) -> String {
        self.places.line(part.place).unwrap_or_default()
    }
}

pub(super) fn iso(on: Option<NaiveDate>) -> String {
    on.map_or(String::new(), |on| on.to_string())
}

pub fn form_lines(books: &Books) -> Rows {
    let lines = books.year.lines.iter().map(|line| {
        let amount = line.amount.map_or(String::new(), |amount| match line.unit {
            LineUnit::Distance => digits(amount),
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

pub fn cost_of_goods(books: &Books) -> Rows {
    let proof = &books.year.proof;
    let row = |side: &str, what: &str, amount| {
        vec![side.to_owned(), what.to_owned(), books.plain(amount)]
    };
    let stock = goods::stock_amounts(books);
    let gone = goods::piece_amounts(books);
    let mut rows: Rows = stock.iter().map(|(what, amount)| row("stock", what, *amount)).collect();
    rows.push(row("stock", "Cost of goods sold", proof.from_stock));
    rows.extend(gone.iter().map(|(what, amount)| row("pieces", what, *amount)));
    rows.push(row("pieces", "Cost of goods sold", proof.from_pieces));
    rows
}

pub fn expenses(books: &Books) -> Rows {
    let spent = spent(books).into_iter().map(|one| {
        let (paid, amount) = (books.plain(one.paid), books.plain(one.amount));
        vec![one.line, one.words, one.entries.to_string(), paid, amount]
    });
    spent.collect()
}

pub fn trips(books: &Books) -> Rows {
    let all = books.shop.years.values().flat_map(|book| &book.trip);
    let row = |trip: &Trip| {
        let cost = TripCost::of(books.shop, trip.on.value, trip.place, trip.distance);
        let rate = match cost {
            TripCost::Known(_, Some(rate)) => rate.to_string(),
            _ => String::new(),
        };
        vec![
            trip.on.value.to_string(),
            purpose(trip.purpose).to_owned(),
            trip.what.clone(),
            digits(trip.distance),
            rate,
            books.plain(cost.amount().unwrap_or_default()),
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

pub fn reconciliation(books: &Books) -> Rows {
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

pub fn filings(books: &Books) -> Rows {
    let rows = books.year.filings.iter().map(|one| {
        let exempt = |reason: Exempt| {
            let found = one.exempt.iter().find(|(own, _)| *own == reason);
            books.plain(found.map_or(Money::ZERO, |(_, amount)| *amount))
        };
        vec![
            one.key.clone(),
            one.name.clone(),
            one.period.first.to_string(),
            one.period.last.to_string(),
            digits(one.rate),
            books.plain(one.gross),
            books.plain(one.by_channels),
            exempt(Exempt::Resale),
            exempt(Exempt::OutOfState),
            exempt(Exempt::Other),
            books.plain(one.delivery),
            books.plain(one.taxable),
            books.plain(one.tax),
            books.plain(one.remitted),
            books.plain(one.kept),
            books.plain(one.due),
            books.plain(one.at_start),
            books.plain(one.held),
        ]
    });
    rows.collect()
}

pub fn sold(books: &Books) -> Rows {
    let rows = pieces::sales(books).into_iter().map(|one| {
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
            one.sale.hours.map_or(String::new(), |hours| plain(hours.decimal(2), 2)),
            books.plain_or_none(one.sale.per_hour),
        ]
    });
    rows.collect()
}

pub fn unsold(books: &Books) -> Rows {
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

pub fn missing(books: &Books) -> Rows {
    let rows = books.year.missing_records.iter().map(|one| {
        let part = &one.part;
        let (lacks, receipt) = lacking(&one.fault);
        vec![
            iso(part.on),
            part.what.to_string(),
            books.plain(part.amount),
            books.place(part),
            lacks.to_owned(),
            receipt.unwrap_or_default().to_owned(),
        ]
    });
    rows.collect()
}

/// Amounts keep every digit, so that they add up to the exact figure.
pub fn ledger<'a>(books: &'a Books) -> impl Iterator<Item = Vec<String>> + 'a {
    let exact = |unit: FigureUnit, amount: Decimal| match unit {
        FigureUnit::Money if amount.normalize().scale() <= books.shop.currency.decimals => {
            books.plain(amount)
        }
        _ => digits(amount),
    };
    books.year.ledger.iter().flat_map(move |figure| {
        figure.parts.iter().map(move |part| {
            let amount = exact(figure.unit, part.amount);
            let (on, what) = (iso(part.on), part.what.to_string());
            vec![figure.name.to_string(), on, what, books.place(part), amount]
        })
    })
}
