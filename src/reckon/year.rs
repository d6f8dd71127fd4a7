//! The books view: the figures of a tax year, from the same entries as the shop view.
//!
//! Everything is exact until it is printed; lines, rates and labels come from the form's table; and
//! every figure stands in the [`Ledger`] with the entries it is made of. The owner's own hours are
//! in no line. Any floor to the right may use it.
//!
//! Cash basis: money counts on the day it is paid; a sale without payments was paid on its day.
//! Accrual basis: a sale counts on its day, whenever it is paid. Fees, delivery and the cost of
//! what was sold count on the day of the sale on both.

mod bank;
mod books;
mod change;
mod earnings;
mod expenses;
mod filing;
mod goods;
mod income;
mod ledger;
mod lines;
mod months;
mod names;
mod net;
mod owing;
mod payees;
mod pieces;
mod proof;
mod quarter;
mod receipts;
mod reconcile;
mod records;
mod refuse;
mod shares;
mod stock_end;
mod tax;
mod totals;
mod workspace;

pub use bank::{BankMatch, BankOutcome, BankRow};
pub use earnings::{SelfEmployment, SetAside, self_employment};
pub use expenses::{SetApart, Trips};
pub use filing::Filing;
pub use ledger::{Contribution, Figure, FigureUnit, Ledger};
pub use lines::{FormLine, WholeNote};
pub use months::Month;
pub use names::{ChannelFigure, FigureName, MonthFigure, Rare, SoldFigure, TaxFigure, Total};
pub use owing::Owing;
pub use payees::{Payee, PayeeReport};
pub use pieces::{SoldPiece, UnsoldPiece};
pub use proof::Proof;
pub use quarter::{DueDay, Estimate, Quarter, newest_day, quarter, quarters, year_to};
pub use reconcile::Reconciliation;
pub use records::{MissingRecord, ReceiptUse, RecordFault};
pub use tax::TaxPlace;
pub use workspace::WorkspaceUse;

use super::costs::PieceCosts;
use super::payments::Accounts;
use super::stock::StockRun;
use crate::model::{Code, Finding, Form, Money, Period, Rate, Seen, Shop, UnitMove, round, units};
use books::{Books, piece_keys};
use chrono::NaiveDate;

/// The figures of a year: its ledger, and the rows that are printed of it. Each amount of a row is a
/// figure of the ledger, too, under the name given here.
#[derive(Clone, Debug)]
pub struct Year {
    pub year: i32,
    /// What is reckoned of it: all of it, or a quarter or a month.
    pub period: Period,
    /// The last day any entry of the shop names, where that is before the period ends: nothing is
    /// known yet of what follows.
    pub up_to: Option<NaiveDate>,
    /// The form's name, title and source.
    pub form: String,
    pub title: String,
    pub source: String,
    pub seen: Seen,
    /// In the order of the form: `line-NUMBER`.
    pub lines: Vec<FormLine>,
    pub proof: Proof,
    pub months: Vec<Month>,
    /// Category, line, and amount as paid: `expense-CATEGORY`.
    pub expenses: Vec<(String, String, Money)>,
    /// On no line, for the preparer: `apart`.
    pub apart: Vec<SetApart>,
    /// `trips`, `trip-miles`, `trips-fetch` and so on.
    pub trips: Trips,
    /// `workspace`.
    pub workspace: Option<WorkspaceUse>,
    /// Whether the accounts of all sales hold as much, to the last digit.
    pub tax_holds: bool,
    /// Sales tax by place: figures `tax-PLACE-collected` and so on.
    pub tax_places: Vec<TaxPlace>,
    /// Returns of places that say how often they file.
    pub filings: Vec<Filing>,
    /// How sales and receipts differ; nothing where every sale was paid on its day.
    pub owing: Option<Owing>,
    /// Every channel, and what was sold through none: price and delivery add up to all receipts.
    pub channels: Vec<Reconciliation>,
    /// Nothing where the year's book names no bank export that can be read.
    pub bank: Option<BankMatch>,
    pub sold: Vec<SoldPiece>,
    pub unsold: Vec<UnsoldPiece>,
    /// Entries that lack a record, the largest first: `missing-records`.
    pub missing_records: Vec<MissingRecord>,
    /// Entries that name a receipt, by receipt and day.
    pub receipts: Vec<ReceiptUse>,
    /// Who was paid for work and rent; what was paid without a named payee comes last.
    pub payees: Vec<Payee>,
    /// Nothing where the form's table has no such tax.
    pub self_employment: Option<SelfEmployment>,
    pub set_aside: Vec<SetAside>,
    /// Every rate, limit and threshold of the form for the year, with source and mark.
    pub rules: Vec<Rate>,
    pub whole_notes: Vec<WholeNote>,
    /// What the owner or the preparer should look at; no figure is short because of it.
    pub notes: Vec<Finding>,
    pub ledger: Ledger,
}

/// The figures of a tax year.
///
/// # Errors
/// Findings, and no figure at all, where one would be short or wrong: a file that could not be
/// read, a draw that could not be costed, a missing table, rate, line, channel or piece.
pub fn year(
    shop: &Shop,
    run: &StockRun,
    costs: &[PieceCosts],
    year: i32,
) -> Result<Year, Vec<Finding>> {
    part_of_year(shop, run, costs, year, shop.tax_year(year))
}

/// The figures of a part of a tax year, or of all of it.
///
/// # Errors
/// As of [`year`], for what the part needs.
pub fn part_of_year(
    shop: &Shop,
    run: &StockRun,
    costs: &[PieceCosts],
    year: i32,
    period: Period,
) -> Result<Year, Vec<Finding>> {
    let form = refuse::form(shop, year)?;
    let last_day = period.last;
    let mut findings = refuse::reasons(shop, run, costs, form, year, period);
    let moves = refuse::moves(shop, last_day).unwrap_or_else(|wrong| {
        findings.extend(wrong);
        Vec::new()
    });
    if !findings.is_empty() {
        return Err(findings);
    }
    let (keys, all) = (piece_keys(shop), shop.entries());
    let before = shop.tax_year(year).eve();
    let known_before = shop.years.keys().any(|known| *known < year)
        || all.iter().any(|entry| entry.on <= before && entry.begins_books());
    Ok(reckon_year(&Books {
        shop,
        run,
        costs,
        form,
        year,
        period,
        last_day,
        known_before,
        accounts: accounts(shop, &moves),
        moves,
        keys,
        all,
    }))
}

fn accounts(shop: &Shop, moves: &[Vec<UnitMove>]) -> Vec<Accounts> {
    let pieces = shop.pieces.iter().zip(moves);
    pieces.map(|(piece, moves)| Accounts::with(piece, moves, shop.currency.decimals)).collect()
}

impl Year {
    /// The value of a figure that every year has.
    pub fn total(&self, total: Total) -> Money {
        self.ledger.total(total)
    }

    /// Sales tax of all places together.
    pub fn tax(&self, what: TaxFigure) -> Money {
        self.ledger.amount(what).expect("every year has it")
    }
}

/// A figure by its name as it is typed, with the entries it is made of.
pub fn trace<'a>(year: &'a Year, figure: &str) -> Option<&'a Figure> {
    year.ledger.get(&FigureName::parse(figure)?)
}

/// The names of all figures, in order.
pub fn figures(year: &Year) -> impl Iterator<Item = String> {
    year.ledger.iter().map(|figure| figure.name.to_string())
}

fn reckon_year(books: &Books) -> Year {
    let mut ledger = Ledger::default();
    let ledger = &mut ledger;
    let sales = receipts::sale_entries(books);
    receipts::enter(&sales, ledger);
    income::enter(books, ledger);
    let taxes = tax::SalesTaxes::of(books);
    tax::enter_totals(books, &taxes, ledger);
    let goods = goods::goods_of_pieces(books);
    totals::enter_goods(books, &goods, ledger);
    let apart = expenses::enter_expenses(books, ledger);
    let trips = expenses::enter_trips(books, ledger);
    let mut notes: Vec<Finding> = expenses::enter_vehicle(books, ledger).into_iter().collect();
    let (workspace, lines) = fill_with_workspace(books, ledger);
    let months = months::enter(books, ledger);
    let self_employment = earnings::enter(books, ledger.total(Total::NetProfit), ledger);
    let tax = self_employment.as_ref().map_or(Money::ZERO, |found| found.tax);
    let set_aside = earnings::set_aside(books, tax, ledger);
    let channels = reconcile::reconcile(books, &sales, ledger);
    let bank = bank::enter(books, ledger);
    let sold = pieces::sold(books, &goods, ledger);
    let unsold = pieces::unsold(books, ledger);
    let missing_records = records::missing(books, ledger);
    let payees = payees::payees(books, ledger);
    let tax_places = tax::enter(books, &taxes, ledger);
    let filings = filing::enter(books, &taxes, ledger);
    notes.extend(filing::notes(books, &filings));
    let owing = owing::enter(books, ledger);
    notes.extend(records::piece_notes(books));
    notes.extend(workspace_note(books, workspace.as_ref()));
    notes.extend(change::enter(books, ledger));
    Year {
        year: books.year,
        period: books.period,
        up_to: up_to(books),
        form: books.form.name.clone(),
        title: books.form.title.clone(),
        source: books.form.source.clone(),
        seen: books.form.seen,
        proof: proof::prove(books, &goods, ledger),
        months,
        expenses: expenses_by_category(books, ledger),
        apart,
        trips,
        workspace,
        tax_holds: ledger.amount(TaxFigure::Held) == Some(tax::held_by_accounts(books, &taxes)),
        tax_places,
        filings,
        owing,
        channels,
        bank,
        sold,
        unsold,
        missing_records,
        receipts: records::receipts(books),
        payees,
        self_employment,
        set_aside,
        rules: rules(books.form, books.period),
        whole_notes: lines::whole_notes(&lines),
        lines,
        notes,
        ledger: std::mem::take(ledger),
    }
}

/// The form filled in, with as much of the workspace as there is profit before it.
///
/// Source: IRS Pub. 587, the limit of the simplified method (from memory): it cannot make a loss,
/// and what is over is carried to no other year.
fn fill_with_workspace(
    books: &Books,
    ledger: &mut Ledger,
) -> (Option<WorkspaceUse>, Vec<FormLine>) {
    let whole = workspace::enter(books, Money::ZERO, ledger);
    let lines = lines::fill(books, ledger);
    totals::enter_totals(books, ledger);
    let amount = whole.as_ref().map_or(Money::ZERO, |space| space.amount);
    let over = (-ledger.total(Total::NetProfit)).clamp(Money::ZERO, amount);
    if over.is_zero() {
        return (whole, lines);
    }
    let counted = workspace::enter(books, over, ledger);
    let lines = lines::fill(books, ledger);
    totals::enter_totals(books, ledger);
    (counted, lines)
}

fn expenses_by_category(books: &Books, ledger: &Ledger) -> Vec<(String, String, Money)> {
    let categories = books
        .form
        .lines
        .iter()
        .flat_map(|line| line.categories.iter().map(move |category| (category, &line.number)));
    categories
        .filter_map(|(category, line)| {
            let figure = ledger.get(&FigureName::Expense(category.clone()))?;
            Some((category.clone(), line.clone(), figure.amount))
        })
        .collect()
}

/// Says what of the workspace does not count.
fn workspace_note(books: &Books, space: Option<&WorkspaceUse>) -> Option<Finding> {
    let over = space.map(|space| space.over).filter(|over| !over.is_zero())?;
    let place = books.shop.years.get(&books.year)?.workspace.as_ref()?.place;
    let over = round(over, books.decimals());
    let message =
        format!("{over} of the workspace is over the profit before it and counts nowhere");
    Some(Finding::advice(Code::WorkspaceOverProfit, place, message))
}

/// The last entry, where the period does not end before it.
fn up_to(books: &Books) -> Option<NaiveDate> {
    let days = books.all.iter().filter(|entry| entry.is_of_the_books()).map(|entry| entry.on);
    days.max().filter(|last| *last < books.last_day)
}

fn rules(form: &Form, period: Period) -> Vec<Rate> {
    let holds = |rate: &&Rate| rate.from <= period.last && rate.last_day() >= period.first;
    form.rates.iter().filter(holds).cloned().collect()
}
