//! What a channel charges for a sale. One function for sales that happened and for prices that
//! are only asked, so that a guided price and its sale can never differ.

use crate::model::{Channel, Money, Sale, Shop};

/// What a price leaves once the channel is paid and the piece is brought to its buyer as is usual
/// there: price + delivery charged − fee − delivery cost. With no channel the price itself.
/// Nothing where the amounts are too large to reckon with.
pub fn proceeds(channel: Option<&Channel>, price: Money, decimals: u32) -> Option<Money> {
    let Some(channel) = channel else { return Some(price) };
    let fee = channel.fee_of(price, channel.delivery_charged, decimals)?;
    (price + channel.delivery_charged - channel.delivery_cost).checked_sub(fee)
}

/// The fee of a sale: what was really charged where that is stated, else the channel's; zero for
/// a sale through no channel. Nothing where the channel is not one of the shop's.
pub fn sale_fee(shop: &Shop, sale: &Sale) -> Option<Money> {
    if let Some(stated) = &sale.fee {
        return Some(stated.value);
    }
    let Some(key) = &sale.channel else { return Some(Money::ZERO) };
    let channel = shop.channels.get(&key.value)?;
    channel.fee_of(sale.price.value, sale.delivery_charged, shop.currency.decimals)
}
