//! Sums over many tallies: the whole shop, or whichever of its pieces are asked for. Later floors
//! print them.

use super::tally::{Tally, ratio};
use crate::model::{Hours, Money};
use rust_decimal::Decimal;
use std::ops::Add;

/// The sums of what is printed of each piece. Figures that need a sale are summed over
/// the pieces that have one, and so are the ratios.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Totals {
    /// How many pieces are in the sums.
    pub pieces: usize,
    /// How many are not, since their figures cannot be trusted.
    pub left_out: usize,
    pub purchase: Money,
    pub materials: Money,
    pub paid_work: Money,
    pub freight_in: Money,
    pub salvaged: Money,
    pub cost_of_goods: Money,
    /// The cost of what was sold.
    pub cost_sold: Money,
    /// Money in pieces that are neither sold nor withdrawn.
    pub tied_up: Money,
    pub price: Money,
    pub gross_profit: Money,
    pub gross_margin: Option<Decimal>,
    pub markup: Option<Decimal>,
    pub fees: Money,
    pub delivery_charged: Money,
    pub delivery_cost: Money,
    pub selling_costs: Money,
    pub net: Money,
    /// What buyers still owe, sales tax included.
    pub owed: Money,
    /// Of the pieces whose hours are written, and nothing where none are.
    pub hours: Option<Hours>,
    /// The hours in what was sold.
    pub hours_sold: Option<Hours>,
    /// Of the pieces whose hours are written; nothing where the shop has no rate.
    pub labour: Option<Money>,
    /// Of the sold pieces whose hours are written.
    pub net_after_labour: Option<Money>,
    /// The net of the sold pieces whose hours are known ÷ those hours: a piece without hours
    /// would make the others look better paid than they are.
    pub per_hour: Option<Money>,
    /// The net of the sold pieces whose hours are known.
    pub net_with_hours: Money,
}

/// The sums of some tallies; `None` counts as left out.
pub fn totals<'a>(tallies: impl IntoIterator<Item = Option<&'a Tally>>) -> Totals {
    let mut totals = Totals::default();
    for tally in tallies {
        match tally {
            Some(tally) => totals.add(tally),
            None => totals.left_out += 1,
        }
    }
    totals.gross_margin = ratio(Some(totals.gross_profit), totals.price);
    totals.markup = ratio(Some(totals.gross_profit), totals.cost_sold);
    totals.per_hour = totals.hours_sold.and_then(|hours| hours.each_of(totals.net_with_hours));
    totals
}

impl Totals {
    fn add(&mut self, tally: &Tally) {
        self.pieces += 1;
        self.purchase += tally.purchase;
        self.materials += tally.materials;
        self.paid_work += tally.paid_work;
        self.freight_in += tally.freight_in;
        self.salvaged += tally.salvaged;
        self.cost_of_goods += tally.cost_of_goods;
        self.cost_sold += tally.cost_sold;
        self.tied_up += tally.tied_up;
        self.price += tally.price.unwrap_or_default();
        self.gross_profit += tally.gross_profit.unwrap_or_default();
        self.fees += tally.fees;
        self.delivery_charged += tally.delivery_charged;
        self.delivery_cost += tally.delivery_cost;
        self.selling_costs += tally.selling_costs;
        self.net += tally.net.unwrap_or_default();
        self.owed += tally.owed;
        self.hours = sum(self.hours, tally.hours);
        self.hours_sold = sum(self.hours_sold, tally.hours_sold);
        self.labour = sum(self.labour, tally.labour);
        self.net_after_labour = sum(self.net_after_labour, tally.net_after_labour);
        if tally.per_hour.is_some() {
            self.net_with_hours += tally.net.unwrap_or_default();
        }
    }
}

/// Nothing only where neither is known.
fn sum<T: Add<Output = T>>(so_far: Option<T>, more: Option<T>) -> Option<T> {
    match (so_far, more) {
        (Some(a), Some(b)) => Some(a + b),
        (a, b) => a.or(b),
    }
}
