//! Which units of a piece left the shop and came back, and when: no money here.
//!
//! The units of a set are numbered from 0. Sales take the lowest that is left and returns give
//! back the highest that was sold, so the sold ones are always the first so many; a withdrawal
//! takes all that are left, so the withdrawn ones are always the last so many.

use crate::model::{Finding, Piece, Return, Sale, WithdrawalKind};
use chrono::NaiveDate;
use std::collections::BTreeMap;

/// What happened to some units of a piece. Positions are those in the piece's own lists.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum MoveKind {
    Sold {
        sale: usize,
    },
    /// Undoes the latest sale that is not yet undone.
    Returned {
        returned: usize,
        sale: usize,
    },
    Withdrawn(WithdrawalKind),
}

/// The units `from..to` of a piece moved.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct UnitMove {
    pub on: NaiveDate,
    pub kind: MoveKind,
    pub from: u32,
    pub to: u32,
}

/// Where the units of a piece are: the first `sold`, the ones from `limit` on withdrawn.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Units {
    pub count: u32,
    pub sold: u32,
    pub limit: u32,
    pub withdrawn: Option<WithdrawalKind>,
}

impl Units {
    pub fn new(piece: &Piece) -> Units {
        let count = piece.count.max(1);
        Units { count, sold: 0, limit: count, withdrawn: None }
    }

    pub fn left(self) -> u32 {
        self.limit - self.sold
    }

    pub fn apply(&mut self, step: &UnitMove) {
        match step.kind {
            MoveKind::Sold { .. } => self.sold = step.to,
            MoveKind::Returned { .. } => self.sold = step.from,
            MoveKind::Withdrawn(how) => {
                self.limit = step.from;
                self.withdrawn = Some(how);
            }
        }
    }

    /// Where the units are at the end of a day.
    pub fn at(piece: &Piece, moves: &[UnitMove], day: NaiveDate) -> Units {
        let mut units = Units::new(piece);
        moves.iter().take_while(|step| step.on <= day).for_each(|step| units.apply(step));
        units
    }
}

#[derive(Default)]
struct Day {
    sales: Vec<usize>,
    returns: Vec<usize>,
    withdrawn: bool,
}

struct Walk<'a> {
    piece: &'a Piece,
    units: Units,
    /// Sales not yet undone, and how many units of each are still out.
    out: Vec<(usize, u32)>,
    moves: Vec<UnitMove>,
}

/// The moves of a piece in order of time.
///
/// A sale without a count is of all that is left, a return without one of all that the latest
/// sale still has out. Within a day a sale goes first if there is enough left, else a return; the
/// withdrawal comes last. Sales of one day are taken by price, so the order of the file does not
/// matter.
///
/// What comes after `last_day` is left out, so that a later slip does not touch an earlier year.
/// With the moves comes a finding for a sale of more than is left, a return without a sale, or a
/// withdrawal of nothing; the moves end there.
pub fn unit_moves(piece: &Piece, last_day: NaiveDate) -> (Vec<UnitMove>, Option<Finding>) {
    let mut walk = Walk { piece, units: Units::new(piece), out: Vec::new(), moves: Vec::new() };
    let wrong = days(piece).range(..=last_day).find_map(|(on, day)| walk.day(*on, day));
    (walk.moves, wrong)
}

fn days(piece: &Piece) -> BTreeMap<NaiveDate, Day> {
    let mut days: BTreeMap<NaiveDate, Day> = BTreeMap::new();
    for (i, sale) in piece.sale.iter().enumerate() {
        days.entry(sale.on.value).or_default().sales.push(i);
    }
    for (i, back) in piece.returned.iter().enumerate() {
        days.entry(back.on.value).or_default().returns.push(i);
    }
    if let Some(withdrawn) = &piece.withdrawn {
        days.entry(withdrawn.on.value).or_default().withdrawn = true;
    }
    for day in days.values_mut() {
        day.sales.sort_by_key(|&i| sale_order(&piece.sale[i]));
        day.returns.sort_by_key(|&i| return_order(&piece.returned[i]));
    }
    days
}

fn sale_order(sale: &Sale) -> impl Ord + '_ {
    let channel = sale.channel.as_ref().map(|key| key.value.as_str());
    let count = sale.count.as_ref().map(|count| count.value);
    (sale.price.value, count, channel, sale.delivery_charged, sale.tax_collected)
}

fn return_order(back: &Return) -> impl Ord {
    let count = back.count.as_ref().map(|count| count.value);
    (back.refunded.value, count, back.fee_returned, back.tax_returned, back.delivery_cost)
}

impl Walk<'_> {
    /// Follows one day; a finding where its entries contradict each other.
    fn day(&mut self, on: NaiveDate, day: &Day) -> Option<Finding> {
        let (mut sales, mut returns) = (day.sales.iter().peekable(), day.returns.iter().peekable());
        while sales.peek().is_some() || returns.peek().is_some() {
            if let Some(&sale) = sales.next_if(|&&sale| self.can_sell(sale)) {
                self.sell(on, sale);
            } else if let Some(&back) = returns.next_if(|&&back| self.can_return(back)) {
                self.give_back(on, back);
            } else {
                return Some(self.complaint(sales.peek().copied(), returns.peek().copied()));
            }
        }
        if day.withdrawn { self.withdraw(on) } else { None }
    }

    fn wanted(&self, sale: usize) -> u32 {
        self.piece.sale[sale].count.as_ref().map_or(self.units.left(), |count| count.value)
    }

    fn can_sell(&self, sale: usize) -> bool {
        (1..=self.units.left()).contains(&self.wanted(sale))
    }

    fn coming_back(&self, back: usize) -> u32 {
        let latest = self.out.last().map_or(0, |(_, out)| *out);
        self.piece.returned[back].count.as_ref().map_or(latest, |count| count.value)
    }

    fn can_return(&self, back: usize) -> bool {
        (1..=self.units.sold).contains(&self.coming_back(back))
    }

    fn step(&mut self, step: UnitMove) {
        self.units.apply(&step);
        self.moves.push(step);
    }

    fn sell(&mut self, on: NaiveDate, sale: usize) {
        let (from, count) = (self.units.sold, self.wanted(sale));
        self.out.push((sale, count));
        self.step(UnitMove { on, kind: MoveKind::Sold { sale }, from, to: from + count });
    }

    fn give_back(&mut self, on: NaiveDate, returned: usize) {
        let (to, count) = (self.units.sold, self.coming_back(returned));
        let sale = self.out.last().map_or(0, |(sale, _)| *sale);
        let mut left = count;
        while let Some((_, out)) = self.out.last_mut() {
            let taken = left.min(*out);
            *out -= taken;
            left -= taken;
            if *out > 0 {
                break;
            }
            self.out.pop();
        }
        let kind = MoveKind::Returned { returned, sale };
        self.step(UnitMove { on, kind, from: to - count, to });
    }

    fn withdraw(&mut self, on: NaiveDate) -> Option<Finding> {
        let withdrawn = self.piece.withdrawn.as_ref()?;
        let (from, to) = (self.units.sold, self.units.limit);
        if from == to {
            let message = format!("`{}` is withdrawn, but all of it is sold", self.piece.name());
            return Some(
                Finding::error("withdrawn-after-sold", withdrawn.place, message)
                    .hint("remove `[withdrawn]`, or enter the missing `[[return]]`"),
            );
        }
        self.step(UnitMove { on, kind: MoveKind::Withdrawn(withdrawn.how), from, to });
        None
    }

    fn complaint(&self, sale: Option<&usize>, back: Option<&usize>) -> Finding {
        let name = self.piece.name();
        if let Some(&sale) = sale {
            let left = self.units.left();
            let message = format!("more of `{name}` is sold than there is: {left} left");
            return Finding::error("sold-too-much", self.piece.sale[sale].place, message)
                .hint("correct `count`, or enter the missing `[[return]]`");
        }
        let place = back.map_or(self.piece.place, |&back| self.piece.returned[back].place);
        let out = self.units.sold;
        let message = format!("more of `{name}` comes back than was sold: {out} sold");
        Finding::error("returned-too-much", place, message)
            .hint("enter the missing `[[sale]]`, or correct `count`")
    }
}
