//! Published cases of a tax year through the whole program: a shop folder in, and the figures as
//! the command line gives them. The source stands beside each check; where it was not read in the
//! issuing body's own text it says so.
//!
//! Published cases that the program cannot express, so that none is looked for in vain:
//! - last in, first out (OpenStax Financial Accounting 10.2, 10.3): stock is costed by `average` or
//!   `fifo`;
//! - the weighted average of a whole period (10.2), whose printed totals come of a unit cost rounded
//!   to cents first; here the average moves with each purchase, and a total is never made of a rounded
//!   unit;
//! - lower of cost or market (IRS Pub. 538): stock stays at cost until it is sold or withdrawn;
//! - the margin scheme of the United Kingdom, for one piece or all together, with the boxes of its
//!   return, and the trading allowance: tax on a sale is of the price, and costs are those written;
//! - what is withheld from a payslip (IRS Pub. 583), and petty cash (OpenStax Financial Accounting
//!   8.4): wages are an expense as paid, and no cash box is kept;
//! - the margin of safety in units (OpenStax Managerial Accounting 3.5): fixed costs are expenses of
//!   the year and in no price, so that no number of units to break even is reckoned;
//! - a flat rate by hours worked at home (gov.uk, simplified expenses), and repossession (California
//!   Regulation 1642);
//! - a percentage and an amount off in one order (OpenStax Prealgebra 6.3), and seats of which each part
//!   gets at least one (Contemporary Mathematics 11.4);
//! - what nobody has read in its source: the clothing shop's form of Pub. 334 and the limits of a small
//!   business taxpayer.

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
