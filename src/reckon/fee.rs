//! What a channel charges for a sale. One function for sales that happened and for prices that
//! are only asked, so that a guided price and its sale can never differ.

use crate::model::{Channel, Money, Sale, Shop, round};

/// What a channel charges: its percent of price and delivery together, to the cent (half up), and
/// its fixed fee. It is rounded here because a channel charges in cents. Nothing where the
/// amounts are too large to reckon with.
pub fn channel_fee(
    channel: &Channel,
    price: Money,
    delivery: Money,
    decimals: u32,
) -> Option<Money> {
    let percent = price.checked_add(delivery)?.checked_mul(channel.fee)?;
    round(percent, decimals).checked_add(channel.fixed_fee)
}

/// What a price leaves once the channel is paid and the piece is brought to its buyer as is usual
/// there: price + delivery charged − fee − delivery cost. With no channel the price itself.
/// Nothing where the amounts are too large to reckon with.
pub fn proceeds(channel: Option<&Channel>, price: Money, decimals: u32) -> Option<Money> {
    let Some(channel) = channel else { return Some(price) };
    let fee = channel_fee(channel, price, channel.delivery_charged, decimals)?;
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
    channel_fee(channel, sale.price.value, sale.delivery_charged, shop.currency.decimals)
}
