//! Sales tax as it is filed: for each place that says how often, each filing period of the year with
//! what was sold, what of it bears no tax and why, the tax, and what was passed on for it.
//!
//! Source of the order of the lines (gross sales, exemptions, taxable amount, tax, discount for
//! filing, balance): the returns of Iowa (form 31-004, quarter) and North Dakota, as carried by
//! public pages.

use super::books::Books;
use super::ledger::{Contribution, Ledger};
use super::names::{FigureName, FilingFigure};
use super::tax::SalesTaxes;
use crate::model::{Closed, Code, Exempt, Files, Finding, Money, Period, Remitted, Sale, SalesTax};
use crate::reckon::payments::{Account, Amounts};
use chrono::{Datelike, Days, NaiveDate};
use rust_decimal::Decimal;
use std::collections::BTreeMap;

/// One return of one place. Each amount is a figure `filing-KEY-PERIOD-gross` and so on.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Filing {
    /// A key of `[tax]`.
    pub key: String,
    pub label: String,
    /// `2025-q1`, `2025-03`, `2025`.
    pub name: String,
    pub period: Period,
    pub rate: Decimal,
    /// Owed as buyers pay, and not on the day of the sale.
    pub when_paid: bool,
    /// Price and delivery of all sales of the place, less returns and allowances.
    pub gross: Money,
    /// Of it through channels that collect the tax themselves.
    pub by_channels: Money,
    /// Of it exempt, by reason.
    pub exempt: Vec<(Exempt, Money)>,
    /// Of it delivery the place does not tax.
    pub delivery: Money,
    /// What is left.
    pub taxable: Money,
    /// The tax on it, as charged.
    pub tax: Money,
    /// Passed on, and kept for collecting, for this period.
    pub remitted: Money,
    pub kept: Money,
    /// Tax less what was passed on and kept for the period.
    pub due: Money,
    /// Held for the place on the day before and on the last day of the period, whatever for.
    pub at_start: Money,
    pub held: Money,
}

impl Filing {
    fn is_empty(&self) -> bool {
        [self.gross, self.tax, self.remitted, self.kept, self.held].iter().all(Decimal::is_zero)
    }
}

/// The returns of the year, by place and period; those with nothing to say are left out.
pub(super) fn enter(books: &Books, taxes: &SalesTaxes, ledger: &mut Ledger) -> Vec<Filing> {
    let mut filings = Vec::new();
    for tax in books.shop.taxes.values() {
        let Some(files) = tax.files else { continue };
        let sold = sold_in(books, tax);
        for (name, period) in periods(books, books.year, files) {
            let one = One { books, taxes, tax, files, name, period, sold: &sold };
            filings.push(one.enter(ledger));
        }
    }
    // Of a period that no entry has reached there is nothing to file yet.
    let days = books.all.iter().filter(|entry| entry.is_of_the_books()).map(|entry| entry.on);
    let newest = days.max().unwrap_or(NaiveDate::MIN);
    filings.retain(|filing| !filing.is_empty() && filing.period.first <= newest);
    filings
}

/// The filing periods of a year that lie in what is reckoned, with their names.
fn periods(books: &Books, year: i32, files: Files) -> Vec<(String, Period)> {
    let (all, of) = (books.shop.tax_year(year), files.a_year());
    let named = (1..=of).map(|nth| {
        let name = match files {
            Files::Monthly => format!("{year}-{nth:02}"),
            Files::Quarterly => format!("{year}-q{nth}"),
            Files::Yearly => year.to_string(),
        };
        (name, all.part(nth, of))
    });
    let inside =
        |period: &Period| books.period.contains(period.first) && books.period.contains(period.last);
    named.filter(|(_, period)| inside(period)).collect()
}

/// What one sale or a change of it added to a return.
struct Sold<'a> {
    sale: &'a Sale,
    own: bool,
    part: Contribution,
    amounts: Amounts,
}

/// What was sold in a place, on the days it counts.
fn sold_in<'a>(books: &Books<'a>, tax: &SalesTax) -> Vec<Sold<'a>> {
    let mut all = Vec::new();
    for (i, piece) in books.shop.pieces.iter().enumerate() {
        for (sale, account) in piece.sale.iter().zip(&books.accounts[i].sales) {
            if sale.tax_place.as_ref().is_some_and(|key| key.value == tax.key) {
                let own = books.shop.collects_tax(sale);
                let days = days(books, sale, account).into_iter();
                all.extend(days.map(|(part, amounts)| {
                    let part = Contribution { what: books.title(i).into(), ..part };
                    Sold { sale, own, part, amounts }
                }));
            }
        }
    }
    all
}

fn days(books: &Books, sale: &Sale, account: &Account) -> Vec<(Contribution, Amounts)> {
    let when_paid = books.shop.tax_when_paid(sale);
    let bare = |place, on| Contribution::new(place, on, "", Money::ZERO);
    let mut all = Vec::new();
    if !when_paid {
        all.push((bare(sale.place, sale.on.value), account.asked));
    }
    for event in &account.events {
        let amounts = if when_paid { event.moved() } else { -event.lowers() };
        all.push((bare(event.place, event.on), amounts));
    }
    all
}

struct One<'a> {
    books: &'a Books<'a>,
    taxes: &'a SalesTaxes<'a>,
    tax: &'a SalesTax,
    files: Files,
    name: String,
    period: Period,
    sold: &'a [Sold<'a>],
}

impl One<'_> {
    fn parts(&self, amount: impl Fn(&Sold) -> Money) -> Vec<Contribution> {
        let own = self.sold.iter();
        let own = own.filter(|one| one.part.on.is_some_and(|on| self.period.contains(on)));
        own.map(|one| Contribution { amount: amount(one), ..one.part.clone() }).collect()
    }

    fn enter(&self, ledger: &mut Ledger) -> Filing {
        let (key, name) = (&self.tax.key, &self.name);
        let mut put = |what: FilingFigure, label: &str, parts| {
            let figure = FigureName::Filing(format!("{key}-{name}"), what);
            ledger.put(figure, &format!("{}, {name}: {label}", self.tax.label), parts)
        };
        let earned = |one: &Sold| one.amounts.without_tax();
        let gross = put(FilingFigure::Gross, "gross sales", self.parts(earned));
        let through = |one: &Sold| if one.own { Money::ZERO } else { earned(one) };
        let by_channels =
            put(FilingFigure::ByChannels, "collected by channels", self.parts(through));
        let mut exempt = BTreeMap::new();
        for &(_, reason) in Exempt::ALL {
            let is = |one: &Sold| one.own && reason_of(one) == Some(reason);
            let parts = self.parts(|one| if is(one) { earned(one) } else { Money::ZERO });
            exempt.insert(reason, put(of_reason(reason), "exempt", parts));
        }
        let untaxed = |one: &Sold| match one.own && reason_of(one).is_none() {
            true if !self.tax.on_delivery => one.amounts.delivery,
            _ => Money::ZERO,
        };
        let delivery =
            put(FilingFigure::Delivery, "delivery that is not taxed", self.parts(untaxed));
        let taxed = |one: &Sold| match one.own && reason_of(one).is_none() {
            true => earned(one) - untaxed(one),
            false => Money::ZERO,
        };
        let taxable = put(FilingFigure::Taxable, "taxable sales", self.parts(taxed));
        let charged = |one: &Sold| if one.own { one.amounts.tax } else { Money::ZERO };
        let tax = put(FilingFigure::Tax, "sales tax", self.parts(charged));
        let remitted =
            put(FilingFigure::Remitted, "passed on for it", self.passed_on(|one| one.amount.value));
        let kept =
            put(FilingFigure::Kept, "kept for collecting it", self.passed_on(|one| one.kept));
        let place = Some(Some(key.as_str()));
        let at_start =
            put(FilingFigure::AtStart, "held before", self.taxes.held(place, self.period.eve()));
        let held =
            put(FilingFigure::Held, "held at the end", self.taxes.held(place, self.period.last));
        Filing {
            key: key.clone(),
            label: self.tax.label.clone(),
            name: name.clone(),
            period: self.period,
            rate: self.tax.rate,
            when_paid: self.books.shop.tax_when_paid_in(Some(self.tax)),
            gross,
            by_channels,
            exempt: exempt.into_iter().filter(|(_, amount)| !amount.is_zero()).collect(),
            delivery,
            taxable,
            tax,
            remitted,
            kept,
            due: tax - remitted - kept,
            at_start,
            held,
        }
    }

    /// What was passed on for this period, on whatever day.
    fn passed_on(&self, amount: fn(&Remitted) -> Money) -> Vec<Contribution> {
        let all = self.books.shop.years.values().flat_map(|book| &book.remitted);
        let own = all.filter(|one| {
            let here = one.place_key.as_ref().is_some_and(|key| key.value == self.tax.key);
            here && period_of(self.books, self.files, one) == Some(self.period)
        });
        own.map(|one| Contribution::new(one.place, one.on.value, one.to.as_str(), amount(one)))
            .collect()
    }
}

fn of_reason(reason: Exempt) -> FilingFigure {
    match reason {
        Exempt::Resale => FilingFigure::ExemptResale,
        Exempt::OutOfState => FilingFigure::ExemptOutOfState,
        Exempt::Other => FilingFigure::ExemptOther,
    }
}

fn reason_of(one: &Sold) -> Option<Exempt> {
    one.sale.exempt.map(|exempt| exempt.value)
}

/// The period a remittance was for: as it says, else the one that ended last before its day.
fn period_of(books: &Books, files: Files, one: &Remitted) -> Option<Period> {
    if let Some(period) = &one.period {
        return Some(period.value);
    }
    let before = one.on.value.checked_sub_days(Days::new(1))?;
    let all = [before.year() - 1, before.year()].map(|year| books.shop.tax_year(year));
    let parts =
        all.iter().flat_map(|year| (1..=files.a_year()).map(|n| year.part(n, files.a_year())));
    parts.filter(|period| period.last <= before).max_by_key(|period| period.last)
}

/// Remittances for a period that has nothing.
pub(super) fn notes(books: &Books, filings: &[Filing]) -> Vec<Finding> {
    let mut notes = Vec::new();
    let remitted = books.shop.years.values().flat_map(|book| &book.remitted);
    for one in remitted.filter(|one| books.in_year(one.on.value)) {
        let Some(period) = one.period.as_ref() else { continue };
        let known = filings.iter().find(|filing| filing.period == period.value);
        if books.period.contains(period.value.last) && known.is_none_or(|one| one.tax.is_zero()) {
            let message = "passed on for a period that has no sales tax";
            let finding = Finding::warning(Code::RemittedForNothing, period.place, message);
            notes.push(finding.label("no tax in it").hint("correct the period, or the place"));
        }
    }
    notes
}

impl SalesTaxes<'_> {
    /// Held for a place, or for all, at the end of a day.
    fn held(&self, which: Option<Option<&str>>, day: NaiveDate) -> Vec<Contribution> {
        self.held_by(which, |on| on <= day)
    }
}
