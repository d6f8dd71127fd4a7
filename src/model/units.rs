//! Which units of a piece left the shop and came back, and when: no money here. One walk for what
//! reading checks, for the shop view and for the books.
//!
//! The units of a set are numbered from 0. Sales take the lowest that is left and returns give
//! back the highest that was sold, so the sold ones are always the first so many; a withdrawal
//! takes all that are left, so the withdrawn ones are always the last so many.

use super::{Piece, Return, Sale, WithdrawalKind};
use chrono::NaiveDate;
use std::collections::BTreeMap;

/// What happened to some units of a piece. Positions are those in the piece's own lists.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum MoveKind {
    Sold {
        sale: usize,
    },
    /// Of the sale the return names, else of the latest that is not wholly back. A return of more
    /// than that one has out is a move for each sale, the latest first.
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

impl UnitMove {
    pub fn units(&self) -> u32 {
        self.to - self.from
    }
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
        self.limit.saturating_sub(self.sold)
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

/// An entry that the entries before it leave no room for.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum UnitFault {
    SoldTooMany {
        sale: usize,
        wanted: u32,
        left: u32,
    },
    /// `of` is the sale it can only be of: the one it names, else the latest.
    ReturnedTooMany {
        returned: usize,
        wanted: u32,
        out: u32,
        of: usize,
    },
    /// Nothing is sold by that day, or nothing of the sale it names.
    ReturnedUnsold {
        returned: usize,
    },
    /// All of it is sold.
    WithdrawnNothing,
}

/// The moves of a piece in order of time, and what contradicts them.
#[derive(Clone, Debug, Default)]
pub struct Walked {
    pub moves: Vec<UnitMove>,
    pub faults: Vec<UnitFault>,
}

/// Follows the units of a piece from day to day.
///
/// A sale without a count is of all that is left, a return without one of all that its sale still
/// has out. Within a day a sale goes first if there is enough left, else a return; the withdrawal
/// comes last. Sales of one day are taken by price, so the order of the file does not matter.
///
/// What comes after `last_day` is left out, so that a later slip does not touch an earlier year.
/// An entry there is no room for is a fault, and moves as many units as it can.
pub fn unit_moves(piece: &Piece, last_day: NaiveDate) -> Walked {
    let mut walk =
        Walk { piece, units: Units::new(piece), out: Vec::new(), walked: Walked::default() };
    for (on, day) in days(piece).range(..=last_day) {
        walk.day(*on, day);
    }
    walk.walked
}

#[derive(Default)]
struct Day {
    sales: Vec<usize>,
    returns: Vec<usize>,
    withdrawn: bool,
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
    // One without a count takes what the others of its day leave.
    (count.is_none(), sale.price.value, count, channel, sale.delivery_charged, sale.tax_collected)
}

fn return_order(back: &Return) -> impl Ord {
    let count = back.count.as_ref().map(|count| count.value);
    let sale_on = back.sale_on.map(|on| on.value);
    (back.refunded.value, count, sale_on, back.fee_returned, back.tax_returned, back.delivery_cost)
}

struct Walk<'a> {
    piece: &'a Piece,
    units: Units,
    /// Sales not yet undone, and how many units of each are still out.
    out: Vec<(usize, u32)>,
    walked: Walked,
}

impl Walk<'_> {
    fn day(&mut self, on: NaiveDate, day: &Day) {
        let (mut sales, mut returns) = (day.sales.clone(), day.returns.clone());
        while !sales.is_empty() || !returns.is_empty() {
            if let Some(at) = sales.iter().position(|&sale| self.can_sell(sale)) {
                let sale = sales.remove(at);
                self.sell(on, sale, self.wanted(sale));
            } else if let Some(at) = returns.iter().position(|&back| self.can_return(back)) {
                let back = returns.remove(at);
                self.give_back(on, back, self.coming_back(back));
            } else if sales.is_empty() {
                let back = returns.remove(0);
                self.return_too_many(on, back);
            } else {
                let sale = sales.remove(0);
                self.sell_too_many(on, sale);
            }
        }
        if day.withdrawn {
            self.withdraw(on);
        }
    }

    fn wanted(&self, sale: usize) -> u32 {
        self.piece.sale[sale].count.as_ref().map_or(self.units.left(), |count| count.value)
    }

    fn can_sell(&self, sale: usize) -> bool {
        (1..=self.units.left()).contains(&self.wanted(sale))
    }

    /// Position in `out` of the sale a return is of: the one it names, else the latest.
    fn sale_of(&self, back: usize) -> Option<usize> {
        match &self.piece.returned[back].sale_on {
            None => self.out.len().checked_sub(1),
            Some(named) => self
                .out
                .iter()
                .rposition(|(sale, _)| self.piece.sale[*sale].on.value == named.value),
        }
    }

    /// How many units a return without a name may bring back is all that is out, else those of
    /// the sale it names.
    fn room(&self, back: usize) -> u32 {
        match (self.piece.returned[back].sale_on.is_some(), self.sale_of(back)) {
            (_, None) => 0,
            (true, Some(at)) => self.out[at].1,
            (false, Some(_)) => self.units.sold,
        }
    }

    fn coming_back(&self, back: usize) -> u32 {
        let of_sale = self.sale_of(back).map_or(0, |at| self.out[at].1);
        self.piece.returned[back].count.as_ref().map_or(of_sale, |count| count.value)
    }

    fn can_return(&self, back: usize) -> bool {
        (1..=self.room(back)).contains(&self.coming_back(back))
    }

    fn step(&mut self, step: UnitMove) {
        self.units.apply(&step);
        self.walked.moves.push(step);
    }

    fn sell(&mut self, on: NaiveDate, sale: usize, count: u32) {
        let from = self.units.sold;
        self.out.push((sale, count));
        self.step(UnitMove { on, kind: MoveKind::Sold { sale }, from, to: from + count });
    }

    fn give_back(&mut self, on: NaiveDate, returned: usize, count: u32) {
        let mut left = count;
        while left > 0
            && let Some(at) = self.sale_of(returned)
        {
            let (sale, out) = self.out[at];
            let taken = left.min(out);
            left -= taken;
            self.out[at].1 -= taken;
            if taken == out {
                self.out.remove(at);
            }
            let (kind, to) = (MoveKind::Returned { returned, sale }, self.units.sold);
            self.step(UnitMove { on, kind, from: to - taken, to });
        }
    }

    fn sell_too_many(&mut self, on: NaiveDate, sale: usize) {
        let (wanted, left) = (self.wanted(sale).max(1), self.units.left());
        self.walked.faults.push(UnitFault::SoldTooMany { sale, wanted, left });
        if left > 0 {
            self.sell(on, sale, left);
        }
    }

    fn return_too_many(&mut self, on: NaiveDate, returned: usize) {
        let (wanted, out) = (self.coming_back(returned), self.room(returned));
        let Some(of) = self.sale_of(returned).map(|at| self.out[at].0) else {
            return self.walked.faults.push(UnitFault::ReturnedUnsold { returned });
        };
        self.walked.faults.push(UnitFault::ReturnedTooMany { returned, wanted, out, of });
        self.give_back(on, returned, out);
    }

    fn withdraw(&mut self, on: NaiveDate) {
        let Some(withdrawn) = self.piece.withdrawn.as_ref() else { return };
        let (from, to) = (self.units.sold, self.units.limit);
        if from == to {
            return self.walked.faults.push(UnitFault::WithdrawnNothing);
        }
        self.step(UnitMove { on, kind: MoveKind::Withdrawn(withdrawn.how), from, to });
    }
}
