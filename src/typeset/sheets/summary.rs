//! The income summary of a year: the books view on paper, as tables, and as JSON.
//!
//! Every figure is one of the year's ledger or an exact sum of such; each is rounded once, here,
//! as it is printed. Only `typeset` and the floor to its right use it.

mod bank;
mod blocks;
mod dollar;
mod estimate;
mod form;
mod glance;
mod goods;
mod held;
mod hours;
mod json;
mod ledger;
mod parts;
mod period;
mod pieces;
mod places;
mod preparer;
mod quarter;
mod receipts;
mod records;
mod reports;
mod rows;
mod tables;

pub(super) use glance::parts;
pub use json::year_json;
pub use quarter::{estimate_words, quarter_json, quarter_sheet, quarter_table};
pub use receipts::receipt_index;
pub use tables::{YearTables, year_tables};

use super::common::sheet;
use super::stock::short_date;
use super::{draft, layouts};
use crate::describe::wording::money;
use crate::model::{Form, Money, Rate, Shop, Sources, grouped, round};
use crate::reckon::year::Year;
use crate::typeset::press::Draft;
use crate::typeset::view::{Attachment, IncomeSummary, Row, RowKind};
use chrono::{Datelike, NaiveDate};
use period::Covered;
use places::Places;
use rust_decimal::Decimal;

/// What is printed where nothing is recorded.
const DASH: &str = "–";

/// The draft of the income summary of a year, with its tables attached.
pub fn income_summary(shop: &Shop, year: &Year, tables: &YearTables, sources: &Sources) -> Draft {
    let books = Books::new(shop, year, sources);
    let view = books.view(tables);
    let ident = format!("{} / income summary {}", shop.name, year.year);
    let made = draft(layouts::INCOME_SUMMARY, &view, Vec::new(), ident);
    let files = tables.files.iter().map(|(name, text)| ((*name).to_owned(), text.clone()));
    Draft { archival: true, files: files.collect(), ..made }
}

/// The long tables of a year with very many pieces, as documents of their own with their file names.
pub fn income_summary_parts(shop: &Shop, year: &Year, sources: &Sources) -> Vec<(String, Draft)> {
    let books = Books::new(shop, year, sources);
    parts::drafts(&books, pieces::sold(&books), pieces::unsold(&books))
}

/// What every part of the summary looks at.
struct Books<'a> {
    shop: &'a Shop,
    year: &'a Year,
    /// There is one for every year that was reckoned.
    form: Option<&'a Form>,
    period: Covered,
    places: Places<'a>,
}

impl<'a> Books<'a> {
    fn new(shop: &'a Shop, year: &'a Year, sources: &'a Sources) -> Books<'a> {
        let form = shop.form(year.year);
        let (period, places) = (period::covered(shop, year), Places::new(sources));
        Books { shop, year, form, period, places }
    }

    fn view(&self, tables: &YearTables) -> IncomeSummary {
        let year = self.year.year;
        let name = &self.shop.name;
        let (sold, unsold) = (pieces::sold(self), pieces::unsold(self));
        let many_sold = sold.as_ref().is_some_and(|sold| sold.rows.len() > parts::MOST);
        let (record_shows, rules) = (records::record_shows(self), records::rules(self));
        let names = record_shows.iter().chain(&rules).map(|rule| rule.name.as_str());
        let unread = records::unread_note(names);
        IncomeSummary {
            sheet: sheet(self.shop, format!("{}, {name}", self.head())),
            year,
            head: self.head(),
            foot: self.foot(),
            preparer: preparer::preparer(self),
            glance: glance::glance(self),
            form: form::form(self),
            goods: goods::goods(self),
            expenses: ledger::expenses(self),
            trips: ledger::trips(self),
            blocks: blocks::blocks(self),
            reconciliation: reports::reconciliation(self),
            self_employment: estimate::estimate(self),
            sold_months: sold.as_ref().filter(|_| many_sold).map(|sold| parts::months(self, sold)),
            sold: sold.filter(|_| !many_sold),
            unsold: unsold.filter(|unsold| unsold.rows.len() <= parts::MOST),
            held: held::chart(self, &pieces::sales(self)),
            records: records::records(self),
            record_shows,
            rules,
            unread,
            entries: preparer::entries(self),
            attachments: tables.files.iter().map(|(name, _)| attachment(year, name)).collect(),
        }
    }

    /// "Income summary 2025", and up to which day where the year goes on.
    fn head(&self) -> String {
        let year = self.shop.home().year_name(self.year.year);
        match self.period.finished {
            true => format!("Income summary {year}"),
            false => format!("Income summary {year}, up to {}", self.end()),
        }
    }

    /// The last day of the year, or of what was written of it.
    fn last_day(&self) -> NaiveDate {
        self.period.last
    }

    /// "Pennyroyal Bench · income summary, 1 January – 31 December 2025", or as far as the entries go.
    fn foot(&self) -> String {
        let (first, last) = (self.shop.tax_year(self.year.year).first, self.last_day());
        let within = first.year() == last.year();
        let from = first.format(if within { "%-d %B" } else { "%-d %B %Y" });
        let to = last.format("%-d %B %Y");
        format!("{} · income summary, {from} – {to}", self.shop.name)
    }

    /// Our own words as they are spelled where the shop is.
    fn spelled(&self, words: &str) -> String {
        self.shop.home().spelling.of(words)
    }

    /// "1 January": the first day of the year.
    fn begin(&self) -> String {
        self.shop.tax_year(self.year.year).first.format("%-d %B").to_string()
    }

    /// "31 December": the last day of the year.
    fn end(&self) -> String {
        self.last_day().format("%-d %B").to_string()
    }

    /// The form's rate of a name as it stands at the end of the year.
    fn rate(&self, name: &str) -> Option<&'a Rate> {
        self.form?.rate(name, self.last_day())
    }

    /// The number of the form's line that takes something, as "line 9".
    fn line_of(&self, feed: crate::model::Feed) -> Option<String> {
        let line = self.form?.lines.iter().find(|line| line.feeds.contains(&feed))?;
        Some(format!("line {}", line.number))
    }

    /// An amount without a currency symbol: "1,412.50", "−12.40".
    fn amount(&self, amount: Money) -> String {
        grouped(amount, self.shop.currency.decimals)
    }

    /// An amount with the currency symbol: "$1,412.50", "−$12.40".
    fn money(&self, amount: Money) -> String {
        let currency = &self.shop.currency;
        money(round(amount, currency.decimals), currency)
    }

    fn item(&self, label: impl Into<String>, amount: Money) -> Row {
        row(label, self.amount(amount), RowKind::Item)
    }

    fn total(&self, label: impl Into<String>, amount: Money) -> Row {
        row(label, self.amount(amount), RowKind::Total)
    }

    /// "14 Mar", with "’24" where it is not the year of the summary.
    fn day(&self, on: NaiveDate) -> String {
        short_date(on, Some(self.last_day()))
    }

    fn in_year(&self, on: NaiveDate) -> bool {
        self.shop.tax_year(self.year.year).contains(on)
    }
}

fn row(label: impl Into<String>, amount: String, kind: RowKind) -> Row {
    Row { label: label.into(), amount, kind }
}

/// Miles and square feet with the digits they have: "1,409", "12.5".
fn bare(number: Decimal) -> String {
    let number = number.normalize();
    grouped(number, number.scale())
}

/// A share as per cent: 0.9235 → "92.35 per cent".
pub(super) fn per_cent(share: Decimal) -> String {
    format!("{} per cent", bare(share * Decimal::ONE_HUNDRED))
}

/// A word of the owner's files as words: `small-tools` → "small tools".
fn in_words(key: &str) -> String {
    key.replace('-', " ")
}

fn attachment(year: i32, name: &str) -> Attachment {
    let mime = if name.ends_with(".json") { "application/json" } else { "text/csv" };
    Attachment {
        name: name.to_owned(),
        mime: mime.to_owned(),
        description: format!("{} of {year}", tables::description(name)),
    }
}
