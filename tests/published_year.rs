//! Published cases of a tax year through the whole program: a shop folder in, and the figures as
//! the command line gives them. The source stands beside each check; where it was not read in the
//! issuing body's own text it says so.
//!
//! What published cases ask and the program cannot express, so that no test is looked for: last in, first
//! out; lower of cost or market; a periodic weighted average whose totals come of a unit cost rounded
//! first; the margin scheme, its global form and the trading allowance of the United Kingdom; a flat rate
//! by hours worked at home; a payslip's withholding; petty cash; a percentage off and an amount off in one
//! order; seats of which each part gets at least one; repossession. Of a bank reconciliation only what is
//! on the way and what was entered wrong is there, as no balance of an account is asked for.

mod earnings;
mod goods;
mod sales_tax;
mod thresholds;

use crate::folders::{Folder, Written};

/// A year with one sale as its net profit.
fn earning(net: &str, year: i32, shop: &str) -> Written {
    let on = format!("{year}-06-01");
    Folder::shop(shop).bought("found", &on, "0", Some((&on, net))).written()
}

const YEARS: std::ops::RangeInclusive<i32> = 2022..=2026;
