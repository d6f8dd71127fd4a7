//! What is on hand of one stock item, and what leaving it costs. Only the stock run uses it.

use crate::model::{Money, StockCost, split};
use rust_decimal::Decimal;
use std::collections::VecDeque;

#[derive(Clone, Copy, Debug, PartialEq, Eq)]
struct Layer {
    quantity: Decimal,
    cost: Money,
}

/// Layers from the oldest on; never more than one under moving average. Costs are whole cents:
/// what leaves is rounded to the cent once, and what is cut off stays with what is left.
pub(super) struct OnHand {
    method: StockCost,
    decimals: u32,
    layers: VecDeque<Layer>,
    /// What counts wrote off and no later count found again, the latest last.
    written_off: Vec<Layer>,
    ever_bought: Decimal,
}

impl OnHand {
    pub(super) fn new(method: StockCost, decimals: u32) -> OnHand {
        let (layers, written_off) = (VecDeque::new(), Vec::new());
        OnHand { method, decimals, layers, written_off, ever_bought: Decimal::ZERO }
    }

    pub(super) fn quantity(&self) -> Decimal {
        self.layers.iter().map(|layer| layer.quantity).sum()
    }

    pub(super) fn ever_bought(&self) -> Decimal {
        self.ever_bought
    }

    pub(super) fn cost(&self) -> Money {
        self.layers.iter().map(|layer| layer.cost).sum()
    }

    /// Puts a day's purchases on hand: into the one layer under moving average, else as the newest.
    pub(super) fn buy(&mut self, quantity: Decimal, cost: Money) {
        self.ever_bought += quantity;
        self.layers.push_back(Layer { quantity, cost });
        self.pool();
    }

    /// Takes a quantity from the oldest layer on; its cost, or nothing if there is not enough.
    pub(super) fn take(&mut self, quantity: Decimal) -> Option<Money> {
        if quantity > self.quantity() {
            return None;
        }
        let (mut left, mut cost) = (quantity, Money::ZERO);
        while !left.is_zero() {
            let Some(layer) = self.layers.front_mut() else { break };
            let taken = part_of(layer, left, self.decimals);
            (left, cost) = (left - taken.quantity, cost + taken.cost);
            if layer.quantity.is_zero() {
                self.layers.pop_front();
            }
        }
        Some(cost)
    }

    /// Less was counted than the books say: what is missing is written off, and can be found again.
    pub(super) fn lose(&mut self, quantity: Decimal) -> Option<Money> {
        let cost = self.take(quantity)?;
        self.written_off.push(Layer { quantity, cost });
        Some(cost)
    }

    /// More was counted than the books say: what earlier counts wrote off comes back at the cost it
    /// was written off at, the latest first, and its cost is given; what goes beyond that was never
    /// written off, so that only the quantity is corrected and what was paid stays the same.
    pub(super) fn find(&mut self, quantity: Decimal) -> Money {
        let (mut left, mut restored) = (quantity, Money::ZERO);
        while let Some(lost) = self.written_off.last_mut().filter(|_| !left.is_zero()) {
            let back = part_of(lost, left, self.decimals);
            (left, restored) = (left - back.quantity, restored + back.cost);
            self.layers.push_front(back);
            self.written_off.pop_if(|lost| lost.quantity.is_zero());
        }
        match self.layers.back_mut() {
            Some(layer) => layer.quantity += left,
            None if left.is_zero() => {}
            None => self.layers.push_back(Layer { quantity: left, cost: Money::ZERO }),
        }
        self.pool();
        restored
    }

    /// Goods go back to the supplier, or he lowers their price: the newest are the first to go, and
    /// what was paid back leaves their cost, then that of older ones. Gives what is paid back beyond
    /// all that is on hand had cost (below zero: what the goods sent back had cost beyond it, where
    /// nothing else is left to bear it). Nothing where there is not so much to send back.
    pub(super) fn send_back(&mut self, quantity: Decimal, amount: Money) -> Option<Money> {
        if quantity > self.quantity() {
            return None;
        }
        self.ever_bought -= quantity;
        let (mut left, mut to_lower) = (quantity, amount);
        let mut kept = Vec::new();
        while let Some(mut layer) = self.layers.pop_back() {
            let gone = left.min(layer.quantity);
            (left, layer.quantity) = (left - gone, layer.quantity - gone);
            let lowered = to_lower.min(layer.cost);
            (to_lower, layer.cost) = (to_lower - lowered, layer.cost - lowered);
            if layer.quantity.is_zero() {
                to_lower -= layer.cost;
            } else {
                kept.push(layer);
            }
        }
        kept.reverse();
        self.layers = kept.into();
        Some(to_lower)
    }

    /// Under moving average all is one layer.
    fn pool(&mut self) {
        if self.method == StockCost::Average && self.layers.len() > 1 {
            let all = Layer { quantity: self.quantity(), cost: self.cost() };
            self.layers = VecDeque::from([all]);
        }
    }
}

/// Parts a quantity, or all there is, from a layer, with its cost to the cent.
fn part_of(layer: &mut Layer, quantity: Decimal, decimals: u32) -> Layer {
    let quantity = quantity.min(layer.quantity);
    let cost = match layer.quantity - quantity {
        rest if rest.is_zero() => layer.cost,
        rest => split(layer.cost, &[quantity, rest], decimals)[0],
    };
    layer.quantity -= quantity;
    layer.cost -= cost;
    Layer { quantity, cost }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn dec(digits: &str) -> Decimal {
        Decimal::from_str_exact(digits).unwrap()
    }

    #[test]
    fn what_an_earlier_count_missed_comes_back_at_its_cost() {
        let mut hand = OnHand::new(StockCost::Fifo, 2);
        hand.buy(dec("10"), dec("20.00"));
        hand.buy(dec("10"), dec("30.00"));
        assert_eq!(hand.lose(dec("4")), Some(dec("8.00")));
        // 3 of the 4 are found again: 6.00, the oldest goods there are.
        assert_eq!(hand.find(dec("3")), dec("6.00"));
        assert_eq!(hand.cost(), dec("48.00"));
        // The fourth, and two more that no count ever missed.
        assert_eq!(hand.find(dec("3")), dec("2.00"));
        assert_eq!((hand.quantity(), hand.cost()), (dec("22"), dec("50.00")));
    }

    #[test]
    fn what_is_sent_back_lowers_the_newest_first() {
        let mut hand = OnHand::new(StockCost::Fifo, 2);
        hand.buy(dec("10"), dec("20.00"));
        hand.buy(dec("10"), dec("30.00"));
        assert_eq!(hand.send_back(dec("5"), dec("15.00")), Some(Money::ZERO));
        assert_eq!(hand.take(dec("10")), Some(dec("20.00")));
        assert_eq!((hand.quantity(), hand.cost()), (dec("5"), dec("15.00")));
        // Less is paid back than they had cost: the rest had cost more.
        assert_eq!(hand.send_back(dec("2"), dec("5.00")), Some(Money::ZERO));
        assert_eq!((hand.quantity(), hand.cost()), (dec("3"), dec("10.00")));
        // More is paid back than there is: it is over. All goes back for less: the rest is lost.
        assert_eq!(hand.send_back(dec("0"), dec("11.00")), Some(dec("1.00")));
        hand.buy(dec("1"), dec("7.00"));
        assert_eq!(hand.send_back(dec("4"), dec("5.00")), Some(dec("-2.00")));
        assert_eq!(hand.send_back(dec("1"), dec("0")), None);
    }
}
