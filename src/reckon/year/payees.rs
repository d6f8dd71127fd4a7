//! Who was paid for work in the year, and how much.

use super::books::Books;
use super::expenses::spent;
use super::ledger::{Contribution, Ledger};
use crate::model::{CostKind, Money, RefundOf, What};
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

/// Work on pieces, less what was paid back of it.
fn work_on_pieces<'a>(books: &Books<'a>) -> Vec<Work<'a>> {
    let work = books.of_period().filter_map(|entry| match entry.what {
        What::Cost(cost) if cost.kind == CostKind::PaidWork => {
            Some((cost.to.as_deref(), books.part(&entry, cost.amount.value), true))
        }
        What::Refund(refund) => match refund.of {
            RefundOf::Piece(_, Some(CostKind::PaidWork)) => {
                Some((refund.from.as_deref(), books.part(&entry, -refund.amount.value), true))
            }
            _ => None,
        },
        _ => None,
    });
    work.collect()
}

fn expenses<'a>(books: &Books<'a>) -> Vec<Work<'a>> {
    let work = spent(books).into_iter().filter_map(|spent| {
        let rule = books.form.payees.iter().find(|rule| rule.category == spent.category)?;
        Some((spent.to, spent.part, rule.reported))
    });
    work.collect()
}
