//! The chart of what an hour earned, piece by piece, against the shop rate.

use super::Books;
use super::glance::parts;
use super::pieces::{Sold, number};
use crate::model::Money;
use crate::typeset::view::{HourBar, PerHour};
use std::cmp::Reverse;

/// The most bars that are drawn: half of them the best, half the least.
const MOST: usize = 24;

/// Nothing when no piece has hours.
pub(super) fn chart(books: &Books, all: &[Sold]) -> Option<PerHour> {
    let mut known: Vec<(&Sold, Money)> =
        all.iter().filter_map(|one| Some((one, one.sale.per_hour?))).collect();
    known.sort_by_key(|(_, earned)| Reverse(*earned));
    let (best, least) = (known.first()?.1, known.last()?.1);
    let rate = books.shop.shop_rate.map(|rate| rate.value);
    let low = least.min(Money::ZERO);
    let scale = Scale { low, width: best.max(rate.unwrap_or_default()).max(Money::ZERO) - low };
    let many = known.len() > MOST;
    let drawn = known
        .iter()
        .enumerate()
        .filter(|(i, _)| !many || *i < MOST / 2 || *i >= known.len() - MOST / 2);
    Some(PerHour {
        finding: finding(books, &known, rate),
        bars: drawn.map(|(_, (one, earned))| scale.bar(books, one, *earned)).collect(),
        zero: scale.at(Money::ZERO),
        rate: rate.map(|rate| scale.at(rate)),
        rate_label: rate.map_or(String::new(), |rate| format!("shop rate {}", books.amount(rate))),
        note: if many {
            format!("The twelve best and the twelve least of {} sales with hours.", known.len())
        } else {
            String::new()
        },
    })
}

fn finding(books: &Books, known: &[(&Sold, Money)], rate: Option<Money>) -> String {
    let count = known.len();
    let (best, least) = (known[0].1, known[count - 1].1);
    let sales = if count == 1 { "sale" } else { "sales" };
    match rate {
        Some(rate) => {
            let reached = known.iter().filter(|(_, earned)| *earned >= rate).count();
            let rate = books.amount(rate);
            format!(
                "Of {count} {sales} with hours {reached} earned the shop rate of {rate} an hour or more."
            )
        }
        None => format!(
            "Of {count} {sales} with hours the best earned {} an hour and the least {}.",
            books.amount(best),
            books.amount(least),
        ),
    }
}

/// From the least to the most that is drawn.
struct Scale {
    low: Money,
    width: Money,
}

impl Scale {
    fn at(&self, amount: Money) -> u32 {
        parts(amount - self.low, self.width)
    }

    fn bar(&self, books: &Books, one: &Sold, earned: Money) -> HourBar {
        let (zero, end) = (self.at(Money::ZERO), self.at(earned));
        HourBar {
            number: number(one.piece),
            title: one.piece.title.value.clone(),
            amount: books.amount(earned),
            from: zero.min(end),
            to: zero.max(end),
        }
    }
}
