//! What is on hand of one stock item, and what leaving it costs. Only the stock run uses it.

use crate::model::{Money, StockCost, round};
use rust_decimal::Decimal;
use std::collections::VecDeque;

/// Draw costs are kept to this many decimals, so that sums of them stay exact; what is rounded
/// off stays with the stock and nothing is lost.
const KEPT: u32 = 10;

#[derive(Clone, Copy)]
struct Layer {
    quantity: Decimal,
    cost: Money,
}

/// Layers from the oldest on; never more than one under moving average.
#[derive(Default)]
pub(super) struct OnHand {
    layers: VecDeque<Layer>,
    quantity: Decimal,
    ever_bought: Decimal,
}

impl OnHand {
    pub(super) fn quantity(&self) -> Decimal {
        self.quantity
    }

    pub(super) fn ever_bought(&self) -> Decimal {
        self.ever_bought
    }

    pub(super) fn cost(&self) -> Money {
        self.layers.iter().map(|layer| layer.cost).sum()
    }

    /// Puts a purchase on hand: into the one layer under moving average, else on top.
    pub(super) fn buy(&mut self, quantity: Decimal, cost: Money, method: StockCost) {
        self.quantity += quantity;
        self.ever_bought += quantity;
        match (method, self.layers.back_mut()) {
            (StockCost::Average, Some(layer)) => {
                layer.quantity += quantity;
                layer.cost += cost;
            }
            _ => self.layers.push_back(Layer { quantity, cost }),
        }
    }

    /// Takes a quantity from the oldest layer on; its cost, or nothing if there is not enough.
    pub(super) fn take(&mut self, quantity: Decimal) -> Option<Money> {
        if quantity > self.quantity {
            return None;
        }
        self.quantity -= quantity;
        let (mut left, mut cost) = (quantity, Money::ZERO);
        while !left.is_zero() {
            let Some(layer) = self.layers.front_mut() else { break };
            if layer.quantity <= left {
                left -= layer.quantity;
                cost += layer.cost;
                self.layers.pop_front();
                continue;
            }
            // The share first: it never overflows, whatever was paid for however much.
            let part = round(layer.cost * (left / layer.quantity), KEPT);
            layer.quantity -= left;
            layer.cost -= part;
            cost += part;
            left = Decimal::ZERO;
        }
        Some(cost)
    }

    /// More was found than the books say: the quantity is corrected, what was paid stays the same.
    pub(super) fn found(&mut self, more: Decimal) {
        self.quantity += more;
        match self.layers.back_mut() {
            Some(layer) => layer.quantity += more,
            None => self.layers.push_back(Layer { quantity: more, cost: Money::ZERO }),
        }
    }
}
