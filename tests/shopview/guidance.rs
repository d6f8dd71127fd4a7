//! What to ask for a piece, and the most to pay for one.

use super::{costing, with};
use crate::shops::{cost, day, dec, sale, work};
use dovetally::model::{CostKind, Hours, Piece};
use dovetally::reckon::offer::{Known, OfferAsk, offer};
use dovetally::reckon::price::{PriceAsk, price};
use dovetally::reckon::reckon;

#[test]
fn prices_per_channel_reach_what_is_asked() {
    let mut shop = with(vec![Piece { work: vec![work(dec("6"))], ..costing("a", "120") }]);
    shop.price_step = Some(dec("5"));
    let ask = PriceAsk { margin: Some(dec("0.6")), hourly: Some(dec("40")), ..PriceAsk::default() };
    let guidance = price(&shop, &reckon(&shop), 0, &ask).unwrap().remove(0);
    // (120 + 0.40) ÷ 0.875 = 137.60; fee 17.20 + 0.40 leaves 120.00.
    assert_eq!(guidance.break_even, Ok(dec("137.60")));
    // (120 + 192 + 0.40) ÷ 0.875 = 357.028…; at 357.03 the fee is 44.63 + 0.40 and leaves 312.00.
    assert_eq!(guidance.shop_rate_price, Some(Ok(dec("357.03"))));
    assert_eq!(guidance.margin_price, Some(Ok(dec("300.00"))));
    assert_eq!(guidance.hourly_price, Some(Ok(dec("411.89"))));
    assert_eq!(guidance.suggested, Some(dec("415")));
    let plain = price(&shop, &reckon(&shop), 0, &PriceAsk::default()).unwrap().remove(0);
    assert_eq!(plain.suggested, Some(dec("360")));
}

#[test]
fn a_price_that_cannot_be_is_refused_in_a_sentence() {
    let mut shop = with(vec![costing("a", "120")]);
    shop.channels.get_mut("online").unwrap().fee = dec("1");
    let ask = PriceAsk { margin: Some(dec("1")), hourly: Some(dec("40")), ..PriceAsk::default() };
    let guidance = price(&shop, &reckon(&shop), 0, &ask).unwrap().remove(0);
    assert!(guidance.break_even.unwrap_err().contains("whole price"));
    assert!(guidance.margin_price.unwrap().unwrap_err().contains("below 100 %"));
    assert!(guidance.hourly_price.unwrap().unwrap_err().contains("no hours"));
    assert_eq!(guidance.suggested, None);
}

#[test]
fn the_most_to_pay_from_what_is_said() {
    let shop = with(vec![]);
    let ask = OfferAsk {
        expect: Some(dec("420")),
        hours: Some(Hours::from_decimal(dec("6"))),
        costs: Some(dec("60")),
        channel: Some("online".to_owned()),
        ..OfferAsk::default()
    };
    // 420 − (52.50 + 0.40) − 60 − 6 × 32 = 115.10.
    assert_eq!(offer(&shop, &reckon(&shop), &ask).most, Ok(dec("115.10")));
    let unknown = OfferAsk { channel: Some("onlin".to_owned()), ..ask };
    assert!(offer(&shop, &reckon(&shop), &unknown).most.unwrap_err().contains("`online`"));
}

#[test]
fn the_most_to_pay_from_the_shop_s_own_past() {
    let dresser = |folder: &str, asked: &str, hours: &str| Piece {
        kind: Some("dresser".to_owned().into()),
        work: vec![work(dec(hours))],
        cost: vec![cost(day("2025-02-02"), CostKind::Material, dec("30"))],
        sale: vec![sale(day("2025-03-01"), dec(asked))],
        ..costing(folder, "50")
    };
    let unsold = Piece { sale: vec![], ..dresser("d", "0", "99") };
    let pieces =
        vec![dresser("a", "300", "4"), dresser("b", "340", "8"), dresser("c", "500", "0"), unsold];
    let shop = with(pieces);
    let ask = OfferAsk { kind: Some("Dressers".to_owned()), ..OfferAsk::default() };
    let said = offer(&shop, &reckon(&shop), &ask);
    assert_eq!(said.price.value(), Some(dec("340")));
    assert_eq!(said.minutes.value(), Some(dec("360")));
    let Known::Past(spread) = said.price else { panic!("{:?}", said.price) };
    assert_eq!((spread.lower, spread.upper, spread.pieces), (dec("300"), dec("500"), 3));
    assert_eq!(said.most, Ok(dec("118")));
    let nothing = OfferAsk { kind: Some("table".to_owned()), ..ask };
    let nothing = offer(&shop, &reckon(&shop), &nothing);
    assert!(nothing.most.unwrap_err().contains("the price it should sell for"));
    assert_eq!(nothing.price, Known::Unknown);
}
