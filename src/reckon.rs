//! Adds up what a shop's entries cost and earned. Two views of the same entries, never mixed:
//! the shop view (was it worth my time?) and the books view (the tax form).

pub mod costs;
pub mod fee;
pub mod missing_entries;
pub mod offer;
mod on_hand;
pub mod orders;
pub mod owed;
mod payment_faults;
pub mod payments;
pub mod price;
pub mod review;
pub mod sold;
pub mod spread;
pub mod state;
pub mod stock;
pub mod tally;
pub mod totals;
pub mod trips;
pub mod work_on;
pub mod year;

use crate::model::{Code, Entry, Finding, Piece, Refund, Shop, and_list, form_years};
use chrono::NaiveDate;
use costs::{PieceCosts, piece_costs};
use missing_entries::{may_lack, unread_draws};
use stock::{StockRun, run_stock};
use tally::{Tally, tally};
use totals::{Totals, totals};
use trips::unrated;

/// The shop view of a whole shop, and what both views are added up from.
#[derive(Clone, Debug)]
pub struct Reckoned {
    pub run: StockRun,
    /// In the order of [`Shop::pieces`].
    pub costs: Vec<PieceCosts>,
    /// In the order of [`Shop::pieces`]; nothing for a piece whose figures cannot be trusted: a
    /// draw could not be costed, a trip has no rate, or a book that may name it was not read.
    pub tallies: Vec<Option<Tally>>,
    /// Over the tallies there are.
    pub totals: Totals,
    pub findings: Vec<Finding>,
}

/// Reckons the shop view: every stock item through time, then every piece.
pub fn reckon(shop: &Shop) -> Reckoned {
    let run = run_stock(shop);
    let mut findings: Vec<Finding> = run.faults.iter().map(|one| one.finding.clone()).collect();
    findings.extend(unread_draws(shop));
    findings.extend(unrated(shop));
    findings.extend(in_no_year(shop));
    let costs = piece_costs(shop, &run);
    let amiss = faults(shop, &costs, NaiveDate::MAX);
    let mut tallies = Vec::with_capacity(shop.pieces.len());
    for (i, piece) in shop.pieces.iter().enumerate() {
        let tally = tally(shop, piece, &costs[i], &mut findings);
        let whole = |tally: &Tally| {
            let in_shop = tally.units.left() > 0;
            let lacks = may_lack(shop, piece, &costs[i], in_shop);
            !run.failed.contains(&i) && !lacks && !amiss.iter().any(|(piece, _)| *piece == i)
        };
        tallies.push(tally.filter(whole));
    }
    findings.extend(amiss.into_iter().map(|(_, finding)| finding));
    let totals = totals(tallies.iter().map(Option::as_ref));
    Reckoned { run, costs, tallies, totals, findings }
}

/// Entries of a year for which the shop's form has no table, while it has some for others: such a year
/// is on no form. One finding a year, at its first entry.
fn in_no_year(shop: &Shop) -> Vec<Finding> {
    let tables = form_years(&shop.forms, &shop.books.form);
    let mut entries = shop.entries();
    entries.retain(|entry| entry.begins_books());
    entries.sort_by_key(|entry| (entry.on, entry.place));
    let year = |entry: &Entry| shop.tax_year_of(entry.on);
    entries.retain(|entry| !tables.is_empty() && !tables.contains(&year(entry)));
    entries.dedup_by_key(|entry| year(entry));
    let said = entries.iter().map(|entry| {
        let year = year(entry);
        let message = format!("{year} is on no tax form: it is an account of your own figures");
        let there: Vec<String> = tables.iter().map(i32::to_string).collect();
        let form = &shop.books.form.value;
        Finding::warning(Code::YearWithoutTable, entry.place, message)
            .label(format!("{} has no table of `{form}`", entry.on))
            .hint(format!(
                "there are tables for {}; correct the day if it is a slip",
                and_list(&there)
            ))
    });
    said.collect()
}

/// What is wrong with payments, allowances and parts taken out up to a day, and the piece it is of,
/// by its position: no figure is made from such a piece.
fn faults(shop: &Shop, costs: &[PieceCosts], last_day: NaiveDate) -> Vec<(usize, Finding)> {
    let refunds = costs::refunds_of_pieces(shop);
    let of_piece = |(i, piece): (usize, &Piece)| {
        let own = refunds.iter().filter(|(piece, ..)| *piece == i);
        let own: Vec<&Refund> = own.map(|(_, _, refund)| *refund).collect();
        let mut found = payments::faults(piece, last_day, shop.currency.decimals);
        found.extend(costs::over_cost(piece, &own, &costs[i], last_day));
        found.into_iter().map(move |finding| (i, finding)).collect::<Vec<_>>()
    };
    shop.pieces.iter().enumerate().flat_map(of_piece).collect()
}
