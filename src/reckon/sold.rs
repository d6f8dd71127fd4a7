//! The sales of one piece, what came back of them and what was withdrawn: how many of a set went
//! where, and the money that changed hands. Both views may use it.

use super::fee::sale_fee;
use super::payments::owed;
use crate::model::{Money, Piece, Return, Sale, Shop, split};
use chrono::NaiveDate;

/// Where the units of a piece are now; a single piece is a set of one.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Default)]
pub struct Units {
    /// How many the set holds.
    pub of: u32,
    /// Sold and not come back.
    pub sold: u32,
    pub withdrawn: u32,
}

impl Units {
    /// Still in the shop.
    pub fn left(self) -> u32 {
        self.of - self.sold - self.withdrawn
    }

    /// What `units` of the set cost, to the cent by largest remainder: this many and the others
    /// add up to the whole.
    pub fn share(self, whole: Money, units: u32, decimals: u32) -> Money {
        match units {
            0 => Money::ZERO,
            all if all >= self.of => whole,
            some => split(whole, &[some.into(), (self.of - some).into()], decimals)[0],
        }
    }
}

/// What became of a piece's sales. Amounts are what was charged less what was given back.
#[derive(Clone, Debug, Default)]
pub struct Sold {
    pub units: Units,
    /// Whether there ever was a sale.
    pub any: bool,
    pub price: Money,
    pub fees: Money,
    pub delivery_charged: Money,
    /// Paid for bringing it to buyers and for fetching it back; trips are not in it.
    pub delivery_cost: Money,
    /// The day of the last sale.
    pub last_sale: Option<NaiveDate>,
}

/// A sale that may yet come back.
struct Open {
    /// Position in the piece's sales.
    sale: usize,
    units: u32,
    price: Money,
}

/// Goes through a piece's sales and returns in order of time.
///
/// A sale without a count is of all that are left, a return without one of all that were sold
/// last. On one day a sale comes first while any is left to sell. A refund is of the price of what
/// came back; only what exceeds that price is delivery charged given back, so that no cent of it
/// counts twice. What a buyer still owed when all of a sale came back is given up, and an allowance
/// lowers the price whether it was paid out or taken off what was owed. A withdrawal is of all that
/// are left in the end. Nothing where a sale's fee cannot be known.
pub fn sold(shop: &Shop, piece: &Piece) -> Option<Sold> {
    let of = piece.count.max(1);
    let mut sold = Sold { units: Units { of, ..Units::default() }, ..Sold::default() };
    let mut open: Vec<Open> = Vec::new();
    let (sales, returns) = in_order(piece);
    let (mut sales, mut returns) = (sales.into_iter().peekable(), returns.into_iter().peekable());
    loop {
        let sale_first = match (sales.peek(), returns.peek()) {
            (None, None) => break,
            (Some((_, sale)), Some(back)) if sale.on.value == back.on.value => {
                sold.units.left() > 0
            }
            (Some((_, sale)), Some(back)) => sale.on.value < back.on.value,
            (sale, _) => sale.is_some(),
        };
        if sale_first {
            let (at, sale) = sales.next()?;
            open.push(sold.sell(at, sale, sale_fee(shop, sale)?));
        } else {
            sold.take_back(piece, returns.next()?, &mut open);
        }
    }
    sold.allow(piece);
    if piece.withdrawn.is_some() {
        sold.units.withdrawn = sold.units.left();
    }
    Some(sold)
}

/// By day, then by amount, so that the order of the file does not matter.
fn in_order(piece: &Piece) -> (Vec<(usize, &Sale)>, Vec<&Return>) {
    let mut sales: Vec<(usize, &Sale)> = piece.sale.iter().enumerate().collect();
    sales.sort_by_key(|(_, s)| (s.on.value, s.price.value, s.count.map(|count| count.value)));
    let mut returns: Vec<&Return> = piece.returned.iter().collect();
    returns.sort_by_key(|r| (r.on.value, r.refunded.value, r.count.map(|count| count.value)));
    (sales, returns)
}

impl Sold {
    fn sell(&mut self, at: usize, sale: &Sale, fee: Money) -> Open {
        let left = self.units.left();
        let units = sale.count.map_or(left, |count| count.value.min(left));
        self.units.sold += units;
        self.any = true;
        self.price += sale.price.value;
        self.fees += fee;
        self.delivery_charged += sale.delivery_charged;
        self.delivery_cost += sale.delivery_cost;
        self.last_sale = Some(sale.on.value);
        Open { sale: at, units, price: sale.price.value }
    }

    fn take_back(&mut self, piece: &Piece, back: &Return, open: &mut Vec<Open>) {
        let last = open.last().map_or(0, |sale| sale.units);
        let units = back.count.map_or(last, |count| count.value).min(self.units.sold);
        self.units.sold -= units;
        let (of_price, undone) = refund_of_price(back.refunded.value, units, open);
        let owed = undone.into_iter().map(|sale| owed(piece, sale, back.on.value));
        self.price -= of_price + owed.sum::<Money>();
        self.delivery_charged -= back.refunded.value - of_price;
        self.fees -= back.fee_returned;
        self.delivery_cost += back.delivery_cost;
    }

    /// Allowances: of the price as far as it goes, else of the delivery charged.
    fn allow(&mut self, piece: &Piece) {
        for one in &piece.allowance {
            let of_price = one.amount.value.min(self.price);
            self.price -= of_price;
            self.delivery_charged -= one.amount.value - of_price;
            self.fees -= one.fee_returned;
        }
    }
}

/// How much of a refund is of the price of the sales it undoes, from the last one back, and which
/// sales are wholly undone: those are taken off the open ones.
fn refund_of_price(refund: Money, units: u32, open: &mut Vec<Open>) -> (Money, Vec<usize>) {
    let (mut left, mut units, mut undone) = (refund, units, Vec::new());
    while let Some(sale) = open.last_mut() {
        let part = left.min(sale.price);
        (left, sale.price) = (left - part, sale.price - part);
        let back = units.min(sale.units);
        (units, sale.units) = (units - back, sale.units - back);
        if sale.units > 0 {
            break;
        }
        undone.push(sale.sale);
        open.pop();
        if units == 0 {
            break;
        }
    }
    (refund - left, undone)
}
