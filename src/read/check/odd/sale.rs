//! Odd sales and returns: a slipped point, a fee or a tax that cannot be, tax that was forgotten.

use super::super::super::odd::limit;
use super::{Asked, Entry};
use crate::model::{Allowance, At, Code, Finding, Money, Piece, Return, Sale, Shop};
use chrono::NaiveDate;
use rust_decimal::Decimal;

pub(super) fn check(shop: Option<&Shop>, piece: &Piece, asked: &mut Asked) {
    for sale in &piece.sale {
        off_listing(piece, sale, asked);
        fee(shop, sale, asked);
        delivery(sale, asked);
        if let Some(shop) = shop {
            tax(shop, sale, asked);
            no_tax(shop, sale, asked);
        }
    }
    for back in &piece.returned {
        if let Some(sale) = sale_of(piece, back.sale_on, back.on.value) {
            refund(piece, sale, back, asked);
        }
    }
    for given in &piece.allowance {
        if let Some(shop) = shop {
            allowed_tax(shop, given, asked);
        }
    }
}

/// The sale an entry is of: that of the day it names, else the latest before it.
fn sale_of(piece: &Piece, named: Option<At<NaiveDate>>, on: NaiveDate) -> Option<&Sale> {
    match named {
        Some(day) => piece.sale.iter().find(|sale| sale.on.value == day.value),
        None => {
            let before = piece.sale.iter().filter(|sale| sale.on.value <= on);
            before.max_by_key(|sale| sale.on.value)
        }
    }
}

fn allowed_tax(shop: &Shop, given: &Allowance, asked: &mut Asked) {
    if given.tax_returned > given.amount.value * highest_rate(shop) + Decimal::ONE {
        let (tax, amount) = (given.tax_returned, given.amount.value);
        let message = format!("{tax} of tax on {amount}: more than any rate gives");
        let finding = Finding::warning(Code::TaxAboveRate, given.amount.place, message);
        let entry = Entry { place: given.place, table: "[[allowance]]" };
        asked.ask(entry, "tax-returned", finding.label("taxed too much?").hint("fix the tax"));
    }
}

fn entry(sale: &Sale) -> Entry {
    Entry { place: sale.place, table: "[[sale]]" }
}

/// Whether one amount is so many times the other, either way round.
pub(super) fn far_apart(one: Money, other: Money, times: Decimal) -> bool {
    let (small, large) = if one < other { (one, other) } else { (other, one) };
    small > Decimal::ZERO && large.checked_div(small).is_some_and(|ratio| ratio >= times)
}

fn off_listing(piece: &Piece, sale: &Sale, asked: &mut Asked) {
    let Some(listed) = piece.listing.as_ref().and_then(|listing| listing.price.as_ref()) else {
        return;
    };
    let in_part = piece.count > 1 && sale.count.as_ref().is_some_and(|n| n.value < piece.count);
    let price = sale.price.value + sale.tax_collected;
    if in_part || !far_apart(price, listed.value, limit(Code::PriceOffListing)) {
        return;
    }
    let message = format!("sold for {price}, and {} was asked", listed.value);
    let finding = Finding::warning(Code::PriceOffListing, sale.price.place, message);
    let finding = finding.label("a slipped point?").second(listed.place, "asked here");
    asked.ask(entry(sale), "price", finding.hint("fix the one that is wrong"));
}

fn fee(shop: Option<&Shop>, sale: &Sale, asked: &mut Asked) {
    let Some(fee) = &sale.fee else { return };
    let paid = sale.price.value + sale.delivery_charged + sale.tax_collected;
    if fee.value > paid * limit(Code::FeeOverPrice) {
        let message = format!("a fee of {} on a sale that brought {paid}", fee.value);
        let finding = Finding::error(Code::FeeOverPrice, fee.place, message).label("more than it");
        return asked.ask(entry(sale), "fee", finding.hint("fix the fee or the price"));
    }
    let channel = sale.channel.as_ref().and_then(|key| shop?.channels.get(&key.value));
    let Some(channel) = channel else { return };
    let expected = channel.fee * (sale.price.value + sale.delivery_charged) + channel.fixed_fee;
    if far_apart(fee.value, expected, limit(Code::FeeOffChannel)) {
        let expected = expected.normalize();
        let message = format!("a fee of {}, and the channel's terms give {expected}", fee.value);
        let finding = Finding::warning(Code::FeeOffChannel, fee.place, message);
        let finding = finding.label("a slipped point?").second(channel.place, "its terms");
        asked.ask(entry(sale), "fee", finding.hint("fix the fee, or the channel's terms"));
    }
}

fn delivery(sale: &Sale, asked: &mut Asked) {
    let keys = [
        ("delivery-cost", "the delivery cost", sale.delivery_cost),
        ("delivery-charged", "the buyer paid for delivery", sale.delivery_charged),
    ];
    for (key, what, amount) in keys {
        let price = sale.price.value;
        if price > Decimal::ZERO && amount > price * limit(Code::DeliveryOverPrice) {
            let message = format!("{what} {amount}, more than the price of {price}");
            let finding = Finding::warning(Code::DeliveryOverPrice, sale.place, message);
            asked.ask(entry(sale), key, finding.label("a slipped point?"));
        }
    }
    let (charged, cost) = (sale.delivery_charged, sale.delivery_cost);
    if far_apart(charged, cost, limit(Code::DeliveryOff)) {
        let message = format!("the buyer paid {charged} for a delivery that cost {cost}");
        let finding = Finding::warning(Code::DeliveryOff, sale.place, message);
        let finding = finding.label("a slipped point?").hint("fix the one that is wrong");
        asked.ask(entry(sale), "delivery-charged", finding);
    }
}

/// The highest share of a price that tax can be: of the shop's places, else of any.
fn highest_rate(shop: &Shop) -> Decimal {
    let own = shop.taxes.values().map(|tax| tax.rate).max();
    own.unwrap_or_else(|| any_rate(shop))
}

/// Above any sales tax there is where the shop is.
pub(super) fn any_rate(shop: &Shop) -> Decimal {
    let times = if shop.country == "us" { Decimal::ONE } else { Decimal::TWO };
    limit(Code::TaxAboveRate) * times / Decimal::ONE_HUNDRED
}

/// Tax by the rate of its place is looked at where it is read.
fn tax(shop: &Shop, sale: &Sale, asked: &mut Asked) {
    if sale.tax_place.is_some() {
        return;
    }
    let most = (sale.price.value + sale.delivery_charged) * highest_rate(shop) + Decimal::ONE;
    if sale.tax_collected > most {
        let message = format!(
            "{} of tax on {}: more than any rate gives",
            sale.tax_collected, sale.price.value
        );
        let finding = Finding::warning(Code::TaxAboveRate, sale.price.place, message);
        let finding = finding.label("taxed too much?");
        asked.ask(
            entry(sale),
            "tax-collected",
            finding.hint("fix the tax, or add its `tax-place`"),
        );
    }
}

fn no_tax(shop: &Shop, sale: &Sale, asked: &mut Asked) {
    let stated = sale.tax_place.is_some() || sale.exempt.is_some();
    let untaxed = !stated && sale.tax_collected.is_zero();
    if shop.taxes.is_empty() || !shop.collects_tax(sale) || !untaxed || sale.price.value.is_zero() {
        return;
    }
    let message = "sold by the shop itself without sales tax";
    let finding = Finding::warning(Code::SaleWithoutTax, sale.place, message).label("no tax?");
    let hint = "add `tax-place`, `tax-collected` or `exempt`";
    asked.ask(entry(sale), "tax-collected", finding.hint(hint));
}

fn refund(piece: &Piece, sale: &Sale, back: &Return, asked: &mut Asked) {
    let entry = Entry { place: back.place, table: "[[return]]" };
    let of = |count: &Option<At<u32>>| count.map_or(piece.count, |count| count.value);
    let (sold, came) = (Decimal::from(of(&sale.count)), Decimal::from(of(&back.count)));
    // Of a set sold for one price as much of it as came back.
    let price = (sale.price.value * came).checked_div(sold).unwrap_or(sale.price.value);
    let refunded = back.refunded.value;
    if refunded * limit(Code::RefundSmall) <= price && !price.is_zero() && came <= sold {
        let message = format!("{refunded} paid back of a sale for {}", sale.price.value);
        let finding = Finding::warning(Code::RefundSmall, back.refunded.place, message);
        let finding = finding.label("a slipped point?").second(sale.price.place, "paid here");
        asked.ask(entry, "refunded", finding.hint("fix the refund"));
    }
    let taxed = sale.tax_collected > Decimal::ZERO;
    if taxed && back.tax_returned.is_zero() && !refunded.is_zero() {
        let message =
            format!("{} of tax was collected, and none is given back", sale.tax_collected);
        let finding = Finding::warning(Code::ReturnWithoutTax, back.place, message);
        let finding = finding.label("no `tax-returned`").second(sale.place, "taxed here");
        let hint = "add `tax-returned`, so that the tax you owe comes out right";
        asked.ask(entry, "tax-returned", finding.hint(hint));
    }
}
