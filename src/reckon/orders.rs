//! What an order came to: the money the customer paid, less what was bought for it, over the hours.

use crate::model::{Hours, Money, Order, Shop};

/// The figures of one order, or of several together.
#[derive(Clone, Copy, Debug, Default)]
pub struct Worked {
    /// What was paid and not given back, exact.
    pub paid: Money,
    pub costs: Money,
    /// Paid less costs.
    pub net: Money,
    /// Nothing where no hours are written, or not for every order.
    pub hours: Option<Hours>,
    /// Net over hours, exact.
    pub per_hour: Option<Money>,
}

impl Worked {
    pub fn of(order: &Order, shop: &Shop) -> Worked {
        Worked::together(std::iter::once(order), shop)
    }

    /// Of several orders; hours only where each has some.
    pub fn together<'a>(orders: impl Iterator<Item = &'a Order>, shop: &Shop) -> Worked {
        let decimals = shop.currency.decimals;
        let mut all = Worked { hours: Some(Hours::ZERO), ..Worked::default() };
        for order in orders {
            all.paid += order.paid();
            all.costs += order.costs(decimals);
            all.hours = all.hours.zip(order.hours()).map(|(sum, own)| sum + own);
        }
        all.net = all.paid - all.costs;
        all.per_hour = all.hours.and_then(|hours| hours.each_of(all.net));
        all
    }
}
