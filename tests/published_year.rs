//! Published cases of a tax year through the whole program: a shop folder in, and the figures as
//! the command line gives them. The source stands beside each check; where it was not read in the
//! issuing body's own text it says so.

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
