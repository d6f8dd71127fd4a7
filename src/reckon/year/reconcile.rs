//! What a channel reported against what the books say of it.

use super::books::Books;
use super::ledger::{Contribution, Ledger};
use super::names::{ChannelFigure, FigureName};
use super::receipts::{Flow, SaleEntry, by_channel};
use crate::model::{Closed, Money, Period, Reported};
use chrono::{Days, NaiveDate};

/// A channel's report beside the books. Every amount is a figure `channel-KEY-…`.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Reconciliation {
    /// Key of the channel; nothing for sales through none.
    pub channel: Option<String>,
    /// What its figures are named by: the key, or `none`.
    pub key: String,
    /// Gross as reported, all forms together; nothing where nothing was reported.
    pub reported: Option<Money>,
    pub price: Money,
    pub delivery: Money,
    /// Collected by the shop or by the channel itself: a report may hold either.
    pub tax: Money,
    pub fees: Money,
    pub refunds: Money,
    /// Price + delivery + tax: what a gross report should say.
    pub expected: Money,
    /// Reported − expected, where one cause explains it to the cent: see `cause`.
    pub explained: Money,
    /// "the fees were taken off"; nothing where nothing fits.
    pub cause: Option<String>,
    /// Reported − expected − explained: should be 0.00.
    pub unexplained: Option<Money>,
}

/// How near to the year's end a sale may be reported in the other year (common practice, no
/// source).
const EDGE_DAYS: u64 = 10;

/// Reconciles every channel that sold or reported something, by key; and, so that the rows add up
/// to all that was sold, what was sold through none.
pub(super) fn reconcile(
    books: &Books,
    sales: &[SaleEntry],
    ledger: &mut Ledger,
) -> Vec<Reconciliation> {
    let mut channels = by_channel(sales);
    let reports: Vec<&Reported> =
        books.book_of_whole_year().into_iter().flat_map(|book| &book.reported).collect();
    for report in &reports {
        channels.entry(Some(&report.channel.value)).or_default();
    }
    channels
        .into_iter()
        .map(|(channel, entries)| {
            let own =
                reports.iter().filter(|report| Some(report.channel.value.as_str()) == channel);
            let own: Vec<&Reported> = own.copied().collect();
            Channel { books, channel, entries, reports: own }.reconcile(ledger)
        })
        .collect()
}

/// What a difference comes from, in words, and the entries it is made of.
type Cause = (String, Vec<Contribution>);

struct Channel<'a> {
    books: &'a Books<'a>,
    channel: Option<&'a str>,
    entries: Vec<&'a SaleEntry>,
    reports: Vec<&'a Reported>,
}

impl Channel<'_> {
    fn key(&self) -> String {
        let mut none = "none".to_owned();
        while self.books.shop.channels.contains_key(&none) {
            none.push('-');
        }
        self.channel.map_or(none, str::to_owned)
    }

    fn parts(&self, flows: &[Flow]) -> Vec<Contribution> {
        let own = self.entries.iter().filter(|entry| flows.contains(&entry.flow));
        own.map(|entry| entry.part.clone()).collect()
    }

    fn reconcile(&self, ledger: &mut Ledger) -> Reconciliation {
        let key = self.key();
        let name = |what: ChannelFigure| FigureName::Channel(key.clone(), what);
        let mut put = |what: ChannelFigure, parts| {
            ledger.put(name(what), &format!("{key}: {}", what.word()), parts)
        };
        let price = put(ChannelFigure::Price, self.parts(&[Flow::Price]));
        let delivery = put(ChannelFigure::Delivery, self.parts(&[Flow::DeliveryCharged]));
        let tax = put(ChannelFigure::Tax, self.parts(&[Flow::Tax]));
        let fees = put(ChannelFigure::Fees, self.parts(&[Flow::Fee]));
        let refunds = put(ChannelFigure::Refunds, self.parts(&[Flow::Refund]));
        // A gross report is lowered neither by refunds nor by tax given back.
        let expected_parts = self.parts(&[Flow::Price, Flow::DeliveryCharged, Flow::Tax]);
        let expected = put(ChannelFigure::Expected, expected_parts.clone());
        let mut row = Reconciliation {
            channel: self.channel.map(str::to_owned),
            key: key.clone(),
            reported: None,
            price,
            delivery,
            tax,
            fees,
            refunds,
            expected,
            explained: Money::ZERO,
            cause: None,
            unexplained: None,
        };
        if self.reports.is_empty() {
            return row;
        }
        let mut parts = self.reported_parts();
        let reported = put(ChannelFigure::Reported, parts.clone());
        row.reported = Some(reported);
        let (cause, explaining) = self.cause(reported - expected).unzip();
        row.cause = cause;
        row.explained = put(ChannelFigure::Explained, explaining.unwrap_or_default());
        parts.extend(expected_parts.iter().map(|part| part.times(-Money::ONE)));
        parts.push(Contribution::reckoned(
            format!("`{}`", name(ChannelFigure::Explained)),
            -row.explained,
        ));
        row.unexplained = Some(put(ChannelFigure::Unexplained, parts));
        row
    }

    fn reported_parts(&self) -> Vec<Contribution> {
        let last_day = self.books.last_day;
        let part = |report: &&Reported| {
            let form = report.form.as_deref().unwrap_or("report");
            Contribution::new(report.place, last_day, form, report.gross.value)
        };
        self.reports.iter().map(part).collect()
    }

    /// The one cause that explains a difference to the cent, and the entries it is made of.
    fn cause(&self, difference: Money) -> Option<Cause> {
        let less = |parts: Vec<Contribution>| -> Vec<Contribution> {
            parts.iter().map(|part| part.times(-Money::ONE)).collect()
        };
        let off = |words: &str, flows: &[Flow]| (words.to_owned(), less(self.parts(flows)));
        let mut causes = vec![
            off("the fees were taken off", &[Flow::Fee]),
            off("the refunds were taken off", &[Flow::Refund]),
            off("the fees and the refunds were taken off", &[Flow::Fee, Flow::Refund]),
            off("the sales tax is not in it", &[Flow::Tax]),
        ];
        causes.extend(self.edge_sales());
        let sum = |parts: &[Contribution]| -> Money { parts.iter().map(|part| part.amount).sum() };
        causes.into_iter().find(|(_, parts)| !difference.is_zero() && sum(parts) == difference)
    }

    /// Sales near either end of the year, which a report may count in the other year.
    fn edge_sales(&self) -> Vec<Cause> {
        let books = self.books;
        let mut found = Vec::new();
        for (i, piece) in books.shop.pieces.iter().enumerate() {
            for sale in &piece.sale {
                let channel = sale.channel.as_ref().map(|key| key.value.as_str());
                if channel != self.channel
                    || !near_edge(books.shop.tax_year(books.year), sale.on.value)
                {
                    continue;
                }
                let gross = sale.total();
                let (title, on) = (books.title(i), sale.on.value);
                let (said, amount) = match books.in_year(on) {
                    true => ("is not in it", -gross),
                    false => ("is in it", gross),
                };
                let day = on.format("%-d %B %Y");
                let cause = format!("{title}, sold on {day}, {said}");
                let part = Contribution::new(sale.place, on, cause.as_str(), amount);
                found.push((cause, vec![part]));
            }
        }
        found
    }
}

fn near_edge(year: Period, on: NaiveDate) -> bool {
    [year.first, year.last].into_iter().any(|end| {
        let from = end.checked_sub_days(Days::new(EDGE_DAYS)).unwrap_or(end);
        let to = end.checked_add_days(Days::new(EDGE_DAYS)).unwrap_or(end);
        (from..=to).contains(&on)
    })
}
