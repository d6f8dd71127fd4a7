//! The form filled in: every line from the figures that feed it, exact and in whole units.

use super::books::Books;
use super::change;
use super::ledger::{Contribution, FigureUnit, Ledger};
use super::names::{FigureName, TaxFigure, Total};
use crate::model::{Feed, Line, LineUnit, METHOD_CHANGED, Seen, round, whole};
use rust_decimal::Decimal;
use std::collections::HashMap;

/// A line of the form as filled in.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct FormLine {
    /// As printed: `24b`.
    pub number: String,
    pub part: String,
    pub label: String,
    pub unit: LineUnit,
    /// To the last digit; nothing on a line that is answered in words.
    pub amount: Option<Decimal>,
    /// As entered on the form: rounded half up to whole units once per line; a line that adds
    /// lines adds their whole amounts.
    pub whole: Option<Decimal>,
    /// What is written on a line of words, where the table knows; else the owner answers.
    pub answer: Option<String>,
    /// The name of its figure in the ledger.
    pub figure: FigureName,
    pub source: String,
    pub seen: Seen,
}

/// A line whose whole amounts add up to something else than its exact amount rounded.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct WholeNote {
    pub line: String,
    /// The whole amounts of the lines it adds: what stands on the form.
    pub of_wholes: Decimal,
    /// Its exact amount, rounded.
    pub of_exact: Decimal,
}

/// The figures that feed a line, each added or taken away.
fn feed_figures(feed: Feed) -> Vec<(FigureName, Decimal)> {
    let (plus, less) = (Decimal::ONE, Decimal::NEGATIVE_ONE);
    let only = |total: Total| vec![(total.into(), plus)];
    match feed {
        Feed::Receipts => only(Total::Receipts),
        Feed::ServiceIncome => only(Total::ServiceIncome),
        Feed::OtherIncome => only(Total::OtherIncome),
        Feed::Refunds => only(Total::Refunds),
        Feed::OpeningStock => only(Total::OpeningStock),
        Feed::Purchases => {
            vec![(Total::Purchases.into(), plus), (Total::Withdrawn.into(), less)]
        }
        Feed::PaidLabour => only(Total::PaidLabour),
        Feed::Materials => only(Total::Materials),
        Feed::OtherCosts => only(Total::OtherCosts),
        Feed::ClosingStock => only(Total::ClosingStock),
        Feed::Trips => vec![(Total::Trips.into(), plus), (Total::Parking.into(), plus)],
        Feed::TaxKept => vec![(TaxFigure::Kept.into(), plus)],
        Feed::ChannelFees => only(Total::ChannelFees),
        Feed::Delivery => only(Total::Delivery),
        Feed::SuppliesBought => only(Total::SuppliesBought),
        Feed::Workspace => only(Total::Workspace),
        Feed::BusinessMiles => only(Total::TripMiles),
        Feed::CommutingMiles => only(Total::CommutingMiles),
        Feed::OtherMiles => only(Total::OtherMiles),
    }
}

/// Fills in the lines, in the order of the form, and enters each as `line-NUMBER`.
pub(super) fn fill(books: &Books, ledger: &mut Ledger) -> Vec<FormLine> {
    let lines = &books.form.lines;
    let mut filled: Vec<Option<FormLine>> = vec![None; lines.len()];
    let mut amounts: HashMap<&str, (Decimal, Decimal)> = HashMap::new();
    // A table whose formulas lead nowhere was refused before.
    for i in books.form.order().unwrap_or_default() {
        let line = fill_line(books, &lines[i], &amounts, ledger);
        if let (Some(amount), Some(whole)) = (line.amount, line.whole) {
            amounts.insert(&lines[i].number, (amount, whole));
        }
        filled[i] = Some(line);
    }
    filled.into_iter().flatten().collect()
}

fn fill_line(
    books: &Books,
    line: &Line,
    amounts: &HashMap<&str, (Decimal, Decimal)>,
    ledger: &mut Ledger,
) -> FormLine {
    let figure = FigureName::Line(line.number.clone());
    let mut filled = FormLine {
        number: line.number.clone(),
        part: line.part.clone(),
        label: line.label.clone(),
        unit: line.unit,
        amount: None,
        whole: None,
        answer: line.answer.clone().or_else(|| answered(books, line.asks.as_deref()?)),
        figure: figure.clone(),
        source: line.source.clone().unwrap_or_else(|| books.form.source.clone()),
        seen: line.seen.unwrap_or(books.form.seen),
    };
    let unit = match line.unit {
        LineUnit::Answer => return filled,
        LineUnit::Money => FigureUnit::Money,
        LineUnit::Distance => FigureUnit::Distance,
    };
    let own = own_parts(books, line, ledger);
    let own_amount: Decimal = own.iter().map(|part| part.amount).sum();
    let (mut amount, mut in_whole) = (own_amount, whole(own_amount));
    let mut parts = own;
    for (numbers, sign) in [(&line.plus, Decimal::ONE), (&line.less, Decimal::NEGATIVE_ONE)] {
        for number in numbers {
            let (exact, entered) = amounts.get(number.as_str()).copied().unwrap_or_default();
            amount += exact * sign;
            in_whole += entered * sign;
            let added = ledger.parts(FigureName::Line(number.clone()));
            parts.extend(added.iter().map(|part| part.times(sign)));
        }
    }
    ledger.put_in(unit, figure, &line.label, parts);
    (filled.amount, filled.whole) = (Some(amount), Some(in_whole));
    filled
}

/// What the owner, or the books, answer to what a line asks.
fn answered(books: &Books, asks: &str) -> Option<String> {
    if asks == METHOD_CHANGED {
        return change::stock_method_changed(books)
            .map(|yes| if yes { "yes" } else { "no" }.into());
    }
    let vehicle = books.shop.years.get(&books.year)?.vehicle.as_ref()?;
    vehicle.answers.get(asks).cloned()
}

/// What feeds a line itself: its categories, each at the portion that counts, and its feeds.
fn own_parts(books: &Books, line: &Line, ledger: &Ledger) -> Vec<Contribution> {
    let categories = line
        .categories
        .iter()
        .map(|name| (FigureName::Expense(name.clone()), books.portion(line, name)));
    let feeds = line.feeds.iter().flat_map(|&feed| feed_figures(feed));
    let sources: Vec<(FigureName, Decimal)> = categories.chain(feeds).collect();
    let parts = sources.iter().flat_map(|(name, factor)| {
        ledger.parts(name.clone()).iter().map(move |part| part.times(*factor))
    });
    if line.unit != LineUnit::Money {
        return parts.collect();
    }
    // A share of an entry counts in whole cents, like the entry itself.
    let in_cents =
        |part: Contribution| Contribution { amount: round(part.amount, books.decimals()), ..part };
    parts.map(in_cents).collect()
}

/// The lines where adding whole amounts and rounding the exact sum differ.
pub(super) fn whole_notes(lines: &[FormLine]) -> Vec<WholeNote> {
    let note = |line: &FormLine| {
        let (of_wholes, of_exact) = (line.whole?, whole(line.amount?));
        let line = line.number.clone();
        (of_wholes != of_exact).then_some(WholeNote { line, of_wholes, of_exact })
    };
    lines.iter().filter_map(note).collect()
}
