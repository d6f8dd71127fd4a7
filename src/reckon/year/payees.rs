//! Who was paid for work in the year, and how much.

use super::books::Books;
use super::expenses::business_part;
use super::ledger::{Contribution, Ledger};
use crate::model::{CostKind, Money};
use std::collections::BTreeMap;

/// Work of one person or firm paid in the year: figure `payee-NAME`.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Payee {
    pub name: String,
    pub paid: Money,
    /// Of it, what counts towards the year's threshold for reporting: wages do not.
    pub reported: Money,
    /// That threshold is reached; nothing where the form has none.
    pub to_report: Option<bool>,
    /// The name of its figure.
    pub figure: String,
}

/// What one payee was paid, and whether each part counts towards the threshold.
type Paid = Vec<(Contribution, bool)>;

/// Enters `payee-NAME` for everyone who was paid for work, the most first, and `payee-unnamed`:
/// paid work nobody is named for.
pub(super) fn payees(books: &Books, ledger: &mut Ledger) -> Vec<Payee> {
    let mut paid: BTreeMap<Option<&str>, Paid> = BTreeMap::new();
    for (name, part, counts) in work_on_pieces(books).into_iter().chain(expenses(books)) {
        paid.entry(name).or_default().push((part, counts));
    }
    let unnamed = paid.remove(&None).unwrap_or_default();
    let unnamed = unnamed.into_iter().map(|(part, _)| part).collect();
    ledger.put("payee-unnamed", "Paid for work, to nobody named", unnamed);
    let threshold = books.rate("payee-report").map(|rate| rate.value);
    let named = paid.into_iter().filter_map(|(name, parts)| Some((name?, parts)));
    let mut payees: Vec<Payee> =
        named.map(|(name, parts)| payee(name, parts, threshold, ledger)).collect();
    payees.sort_by(|a, b| b.paid.cmp(&a.paid).then_with(|| a.name.cmp(&b.name)));
    payees
}

fn payee(name: &str, parts: Paid, threshold: Option<Money>, ledger: &mut Ledger) -> Payee {
    let figure = format!("payee-{name}");
    let reported: Money = parts.iter().filter(|(_, counts)| *counts).map(|(p, _)| p.amount).sum();
    let parts = parts.into_iter().map(|(part, _)| part).collect();
    let paid = ledger.put(&figure, &format!("Paid to {name} for work"), parts);
    let to_report = threshold.map(|threshold| reported >= threshold);
    Payee { name: name.to_owned(), paid, reported, to_report, figure }
}

type Work<'a> = (Option<&'a str>, Contribution, bool);

fn work_on_pieces<'a>(books: &Books<'a>) -> Vec<Work<'a>> {
    let pieces = books.shop.pieces.iter().enumerate();
    let costs = pieces.flat_map(|(i, piece)| piece.cost.iter().map(move |cost| (i, cost)));
    let work =
        costs.filter(|(_, cost)| cost.kind == CostKind::PaidWork && books.in_year(cost.on.value));
    work.map(|(i, cost)| {
        let what = format!("{}: {}", books.title(i), cost.what);
        let part = Contribution::new(cost.place, cost.on.value, what, cost.amount.value);
        (cost.to.as_deref(), part, true)
    })
    .collect()
}

fn expenses<'a>(books: &Books<'a>) -> Vec<Work<'a>> {
    let all = books.shop.years.values().flat_map(|book| &book.expense);
    let own = all.filter(|expense| books.in_year(expense.on.value)).filter_map(|expense| {
        let category = &expense.category.value;
        let rule = books.form.payees.iter().find(|rule| &rule.category == category)?;
        Some((expense.to.as_deref(), business_part(expense), rule.reported))
    });
    own.collect()
}
