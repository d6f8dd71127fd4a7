//! Cost of goods sold, the first way: each piece is walked through its days, and what leaves the
//! shop takes its own cost with it (specific identification).
//!
//! The second way is in `stock_end.rs`; the two meet only in `proof.rs`.

use super::books::Books;
use super::ledger::Contribution;
use super::shares::{left_opening_stock, shares};
use super::units::{MoveKind, UnitMove, Units};
use crate::model::{Money, WithdrawalKind};
use crate::reckon::costs::CostEntry;
use crate::reckon::stock::{Movement, MovementKind};
use chrono::NaiveDate;
use rust_decimal::Decimal;

/// Why a cost is in the cost of goods sold.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum Way {
    Sold,
    CameBack,
    Scrapped,
    /// It was bought and given away in the same year.
    Given,
    /// It arrived after the units that bear it had left.
    Late,
    /// It went with a part that was sold by itself.
    PartSold,
}

/// What one piece added to the cost of goods sold of the year.
#[derive(Clone, Debug, Default)]
pub(super) struct PieceGoods {
    pub parts: Vec<Contribution>,
    /// Why each of `parts` is there, in the same order.
    pub ways: Vec<Way>,
    /// Position in `parts` of what each sale of the year took with it: sale → range.
    pub by_sale: Vec<(usize, UnitMove, std::ops::Range<usize>)>,
}

impl Way {
    /// How it is said of a piece, and whether it adds or takes away.
    fn said(self) -> (&'static str, Decimal) {
        match self {
            Way::Sold => ("sold", Decimal::ONE),
            Way::CameBack => ("came back", Decimal::NEGATIVE_ONE),
            Way::Scrapped => ("scrapped", Decimal::ONE),
            Way::Given => ("given away", Decimal::ONE),
            Way::Late => ("late", Decimal::ONE),
            Way::PartSold => ("sold as a part", Decimal::ONE),
        }
    }
}

impl PieceGoods {
    /// The parts that are there for one reason.
    pub fn of(&self, way: Way) -> impl Iterator<Item = &Contribution> {
        let found = self.parts.iter().zip(&self.ways).filter(move |(_, own)| **own == way);
        found.map(|(part, _)| part)
    }
}

/// Walks every piece. In the order of the shop's pieces.
pub(super) fn goods_of_pieces(books: &Books) -> Vec<PieceGoods> {
    (0..books.shop.pieces.len()).map(|piece| Walk::new(books, piece).run()).collect()
}

/// Shop stock that went missing in the year, where supplies count when used.
pub(super) fn written_off(books: &Books) -> Vec<Contribution> {
    let shrunk = books.run.movements.iter().filter(|movement| {
        movement.kind == MovementKind::Shrunk && books.in_year(movement.on) && books.when_used()
    });
    shrunk
        .map(|m| {
            let what = format!("{}, {}", m.stock, shrunk_how(m));
            Contribution::new(m.place, m.on, what, m.cost)
        })
        .collect()
}

/// How it is said of stock that its cost changed without a purchase or a draw.
pub(super) fn shrunk_how(movement: &Movement) -> &'static str {
    match (movement.quantity.is_zero(), movement.cost.is_sign_negative()) {
        (true, true) => "paid back beyond its cost",
        (true, false) => "sent back below its cost",
        (false, true) => "found again at the count",
        (false, false) => "missing at the count",
    }
}

struct Walk<'a> {
    books: &'a Books<'a>,
    piece: usize,
    units: Units,
    /// Costs up to the day the walk has come to.
    met: Vec<&'a CostEntry>,
    goods: PieceGoods,
}

impl<'a> Walk<'a> {
    fn new(books: &'a Books<'a>, piece: usize) -> Walk<'a> {
        let units = Units::new(&books.shop.pieces[piece]);
        Walk { books, piece, units, met: Vec::new(), goods: PieceGoods::default() }
    }

    fn run(mut self) -> PieceGoods {
        let books = self.books;
        let mut entries = books.entries(self.piece).into_iter().peekable();
        for step in &books.moves[self.piece] {
            while let Some(entry) = entries.next_if(|entry| entry.on <= step.on) {
                self.meet(entry);
            }
            self.follow(step);
        }
        entries.for_each(|entry| self.meet(entry));
        self.parts_sold();
        self.goods
    }

    /// A cost arrives. Units that are gone already take their part of it at once.
    fn meet(&mut self, entry: &'a CostEntry) {
        self.met.push(entry);
        if !self.books.in_year(entry.on) {
            return;
        }
        let Units { count, sold, limit, withdrawn } = self.units;
        let mut late = self.last_share((0, sold));
        if withdrawn.is_some_and(|how| how != WithdrawalKind::Kept) {
            late += self.last_share((limit, count));
        }
        let what = format!("{}: {}, after it had left", self.books.title(self.piece), entry.what);
        self.goods.parts.push(Contribution::new(entry.place, entry.on, what, late));
        self.goods.ways.push(Way::Late);
    }

    /// What parts that were sold by themselves had cost.
    fn parts_sold(&mut self) {
        let books = self.books;
        let sold = books.costs[self.piece].parts_sold.iter();
        for part in sold.filter(|part| books.in_year(part.on)) {
            let what = format!("{}: {}, sold by itself", books.title(self.piece), part.what);
            self.goods.parts.push(Contribution::new(part.place, part.on, what, part.cost));
            self.goods.ways.push(Way::PartSold);
        }
    }

    fn last_share(&self, range: (u32, u32)) -> Money {
        if range.0 == range.1 {
            return Money::ZERO;
        }
        let shares = shares(&self.met, range, self.units.count, self.books.decimals());
        shares.last().copied().unwrap_or_default()
    }

    /// Units leave or come back, at what they cost up to that day.
    fn follow(&mut self, step: &UnitMove) {
        let start = self.goods.parts.len();
        if self.books.in_year(step.on) {
            match step.kind {
                MoveKind::Sold { .. } => self.carry(step, Way::Sold),
                MoveKind::Returned { .. } => self.carry(step, Way::CameBack),
                MoveKind::Withdrawn(WithdrawalKind::Scrapped) => self.carry(step, Way::Scrapped),
                MoveKind::Withdrawn(WithdrawalKind::Given) => self.carry(step, Way::Given),
                MoveKind::Withdrawn(WithdrawalKind::Kept) => {}
            }
            if let MoveKind::Sold { sale } = step.kind {
                self.goods.by_sale.push((sale, *step, start..self.goods.parts.len()));
            }
        }
        self.units.apply(step);
    }

    fn carry(&mut self, step: &UnitMove, way: Way) {
        let (verb, sign) = way.said();
        let range = (step.from, step.to);
        let shares = shares(&self.met, range, self.units.count, self.books.decimals());
        let title = self.books.title(self.piece);
        let mut left = vec![false; shares.len()];
        if way == Way::Given {
            // What a gift had in the opening stock is no cost of goods sold.
            left = left_opening_stock(&self.met, &shares, self.books.year_begins());
        }
        let counted = self.met.iter().zip(shares).zip(left).filter(|(_, left)| !left);
        for ((entry, share), _) in counted {
            let what = said(&title, verb, step.on, entry);
            self.goods.parts.push(Contribution::new(entry.place, step.on, what, share * sign));
            self.goods.ways.push(way);
        }
    }
}

fn said(title: &str, verb: &str, on: NaiveDate, entry: &CostEntry) -> String {
    format!("{title}, {verb} on {on}: {} of {}", entry.what, entry.on)
}
