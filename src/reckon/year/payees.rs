//! Who was paid for work and for rent in the year, how much, and what of it may have to be reported.

use super::books::Books;
use super::expenses::spent;
use super::ledger::{Contribution, Ledger};
use super::names::FigureName;
use crate::model::{CostKind, Money, PaidBy, PayeeRule, RefundOf, What};
use std::collections::BTreeMap;

/// What one person or firm was paid in the year: figure `payee-NAME`.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Payee {
    /// Nothing where the payee is not named: figure `payee-unnamed`.
    pub name: Option<String>,
    pub paid: Money,
    /// What counts towards the year's threshold, by the form it would be reported on: not wages,
    /// and not what was paid by card.
    pub reports: Vec<PayeeReport>,
    /// The name of its figure.
    pub figure: FigureName,
}

/// What one payee was paid of what is reported on one form.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct PayeeReport {
    pub form: String,
    pub amount: Money,
    /// The year's threshold is reached; nothing where the table has none.
    pub reached: Option<bool>,
}

impl Payee {
    /// What counts towards a threshold, on whichever form.
    pub fn reported(&self) -> Money {
        self.reports.iter().map(|report| report.amount).sum()
    }

    /// A threshold is reached; nothing where the table has none.
    pub fn to_report(&self) -> Option<bool> {
        let known: Option<Vec<bool>> = self.reports.iter().map(|report| report.reached).collect();
        known.map(|reached| reached.contains(&true))
    }
}

/// What was paid to one payee, and the form each part is reported on.
type Paid<'a> = Vec<(Contribution, Option<&'a str>)>;

/// Enters `payee-NAME` for everyone who was paid, the most first, and `payee-unnamed` last: what
/// was paid without a named payee.
pub(super) fn payees(books: &Books, ledger: &mut Ledger) -> Vec<Payee> {
    let mut paid: BTreeMap<Option<&str>, Paid> = BTreeMap::new();
    for (name, part, form) in work_on_pieces(books).into_iter().chain(expenses(books)) {
        paid.entry(name).or_default().push((part, form));
    }
    let unnamed = paid.remove(&None).unwrap_or_default();
    let named = paid.into_iter().map(|(name, parts)| payee(books, name, parts, ledger));
    let mut payees: Vec<Payee> = named.collect();
    payees.sort_by(|a, b| b.paid.cmp(&a.paid).then_with(|| a.name.cmp(&b.name)));
    let unnamed = payee(books, None, unnamed, ledger);
    payees.extend(Some(unnamed).filter(|unnamed| !unnamed.paid.is_zero()));
    payees
}

fn payee(books: &Books, name: Option<&str>, parts: Paid, ledger: &mut Ledger) -> Payee {
    let figure = FigureName::Payee(name.map(str::to_owned));
    let label = name.map_or("Paid, payee not named".to_owned(), |name| format!("Paid to {name}"));
    let reports = reports(books, &parts);
    let parts = parts.into_iter().map(|(part, _)| part).collect();
    let paid = ledger.put(figure.clone(), &label, parts);
    Payee { name: name.map(str::to_owned), paid, reports, figure }
}

/// Each form has the threshold to itself.
fn reports(books: &Books, parts: &Paid) -> Vec<PayeeReport> {
    let threshold = books.rate("payee-report").filter(|_| books.is_whole_year());
    let threshold = threshold.map(|rate| rate.value);
    let mut amounts: BTreeMap<&str, Money> = BTreeMap::new();
    for (part, form) in parts {
        if let Some(form) = form {
            *amounts.entry(form).or_default() += part.amount;
        }
    }
    let report = |(form, amount): (&str, Money)| PayeeReport {
        form: form.to_owned(),
        amount,
        reached: threshold.map(|threshold| amount >= threshold),
    };
    amounts.into_iter().map(report).collect()
}

type Work<'a> = (Option<&'a str>, Contribution, Option<&'a str>);

/// The form that what was paid is reported on, unless whoever carried the payment reports it.
fn form_of(rule: &PayeeRule, how: Option<PaidBy>) -> Option<&str> {
    rule.form.as_deref().filter(|_| !how.is_some_and(PaidBy::is_reported_by_others))
}

/// Work on pieces, less what was paid back of it.
fn work_on_pieces<'a>(books: &Books<'a>) -> Vec<Work<'a>> {
    let Some(rule) = books.form.payees.iter().find(|rule| rule.paid_work) else {
        return Vec::new();
    };
    let work = books.of_period().filter_map(|entry| match entry.what {
        What::Cost(cost) if cost.kind == CostKind::PaidWork => {
            let part = books.part(&entry, cost.amount.value);
            Some((cost.to.as_deref(), part, form_of(rule, cost.how)))
        }
        What::Refund(refund) => match refund.of {
            RefundOf::Piece(_, Some(CostKind::PaidWork)) => {
                let part = books.part(&entry, -refund.amount.value);
                Some((refund.from.as_deref(), part, form_of(rule, None)))
            }
            _ => None,
        },
        _ => None,
    });
    work.collect()
}

fn expenses<'a>(books: &Books<'a>) -> Vec<Work<'a>> {
    let work = spent(books).into_iter().filter_map(|spent| {
        let takes = |rule: &&PayeeRule| rule.categories.iter().any(|own| own == spent.category);
        let rule = books.form.payees.iter().find(takes)?;
        Some((spent.to, spent.part, form_of(rule, spent.how)))
    });
    work.collect()
}
