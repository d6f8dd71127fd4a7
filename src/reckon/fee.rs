//! What a channel keeps of a sale: one rule for both views.

use crate::model::{Money, Sale, Shop, round};

/// The channel's fee on a sale, to the currency's smallest unit.
///
/// What the owner states was really charged goes before everything. Else the channel's percentage
/// of price and delivery charged plus its fixed fee, rounded half away from zero once. A sale
/// through no channel, or one the shop does not know, costs no fee.
pub fn sale_fee(shop: &Shop, sale: &Sale) -> Money {
    if let Some(stated) = &sale.fee {
        return stated.value;
    }
    let channel = sale.channel.as_ref().and_then(|key| shop.channels.get(&key.value));
    channel.map_or(Money::ZERO, |channel| {
        let charged = sale.price.value + sale.delivery_charged;
        round(channel.fee * charged + channel.fixed_fee, shop.currency.decimals)
    })
}
