//! Published worked examples through the shop view's own functions; the source is named beside
//! each. Every figure here was read in the source.

mod stock;

use crate::shops::{allowance, bought, channel, cost, day, dec, piece, sale, shop};
use chrono::NaiveDate;
use dovetally::model::{CostKind, Hours, Money, Piece, Shop, TripPurpose, round, split};
use dovetally::reckon::costs::TripShare;
use dovetally::reckon::price::{PriceAsk, price};
use dovetally::reckon::reckon;
use dovetally::reckon::tally::Tally;
use dovetally::reckon::trips::trip_costs;
use dovetally::reckon::work_on::{AsFound, work_on};
use rust_decimal::Decimal;

fn on(text: &str) -> NaiveDate {
    day(&format!("2025-{text}"))
}

/// The tally of one piece that cost this much.
fn tally_of(piece: Piece) -> Tally {
    let shop = Shop { pieces: vec![piece], ..shop() };
    reckon(&shop).tallies.remove(0).unwrap()
}

fn costing(amount: &str) -> Piece {
    Piece { bought: Some(bought(on("01-02"), dec(amount))), ..piece("a") }
}

fn sold_for(cost: &str, price: &str) -> Tally {
    tally_of(Piece { sale: vec![sale(on("03-01"), dec(price))], ..costing(cost) })
}

fn percent(ratio: Option<Decimal>, places: u32) -> Decimal {
    round(ratio.unwrap() * Decimal::ONE_HUNDRED, places)
}

/// What is to be asked through a channel with this fee, by the shop's guidance.
fn asked(cost: &str, fee: &str, ask: &PriceAsk) -> Money {
    let mut shop = Shop { pieces: vec![costing(cost)], ..shop() };
    shop.channels.insert("c".to_owned(), channel("c", dec(fee), Money::ZERO));
    let guidance = price(&shop, &reckon(&shop), 0, ask).unwrap().remove(0);
    guidance.suggested.unwrap_or_else(|| guidance.break_even.unwrap())
}

#[test]
fn gross_margin_of_receipts() {
    // IRS Pub. 334 (2023), ch. 7, p. 30: 33 1/3 % of 300,000; the markup of 50 % follows.
    let tally = sold_for("200000", "300000");
    assert_eq!(tally.gross_profit, Some(dec("100000")));
    assert_eq!(percent(tally.gross_margin, 2), dec("33.33"));
    assert_eq!(percent(tally.markup, 0), dec("50"));
}

#[test]
fn price_at_a_cost_ratio_of_a_direct_seller() {
    // IRS Pub. 911 (2000): goods that cost 65 % of a retail price of 14,600 cost 9,490.
    assert_eq!(asked("9490", "0", &margin("0.35")), dec("14600"));
    assert_eq!(percent(sold_for("9490", "14600").gross_margin, 0), dec("35"));
}

fn margin(of_price: &str) -> PriceAsk {
    PriceAsk { margin: Some(dec(of_price)), ..PriceAsk::default() }
}

#[test]
fn gross_margin_after_allowances_and_returns() {
    // OpenStax Financial Accounting, sec. 6.6: sales 300,000 less discounts 2,000 and returns
    // 4,500 are 293,500; less goods for 180,000 a margin of 113,500, a ratio of 0.39.
    let lowered = |amount: &str| allowance(on("04-01"), dec(amount));
    let tally = tally_of(Piece {
        sale: vec![sale(on("03-01"), dec("300000"))],
        allowance: vec![lowered("2000"), lowered("4500")],
        ..costing("180000")
    });
    assert_eq!(tally.price, Some(dec("293500")));
    assert_eq!(tally.gross_profit, Some(dec("113500")));
    assert_eq!(tally.gross_margin.map(|ratio| round(ratio, 2)), Some(dec("0.39")));
}

#[test]
fn markups_from_cost() {
    // OpenStax Contemporary Mathematics, sec. 6.2: 15 % on 62.00, 45 % on 750.00;
    // OpenStax Prealgebra 2e, sec. 6.3: 40 % on 250.00.
    for (cost, markup, profit, price) in [
        ("62.00", "0.15", "9.30", "71.30"),
        ("750.00", "0.45", "337.50", "1087.50"),
        ("250.00", "0.40", "100.00", "350.00"),
    ] {
        let tally = sold_for(cost, price);
        assert_eq!(tally.gross_profit, Some(dec(profit)));
        assert_eq!(tally.markup, Some(dec(markup)));
        // A markup of 15 % of cost is a margin of 15/115 of the price.
        let of_price = (dec(markup) / (dec("1") + dec(markup))).trunc_with_scale(12);
        let margin = PriceAsk { margin: Some(of_price), ..PriceAsk::default() };
        assert_eq!(asked(cost, "0", &margin), dec(price));
    }
}

#[test]
fn markup_of_a_price() {
    // OpenStax Contemporary Mathematics, sec. 6.2: 5.20 sold at 9.90 is a markup of 90.38 %.
    let tally = sold_for("5.20", "9.90");
    assert_eq!(tally.gross_profit, Some(dec("4.70")));
    assert_eq!(percent(tally.markup, 2), dec("90.38"));
}

#[test]
fn markup_over_a_cost() {
    // OpenStax Contemporary Mathematics, sec. 6.2: 10.62 at a markup of 20 % cost 8.85.
    assert_eq!(sold_for("8.85", "10.62").markup, Some(dec("0.20")));
    assert_ne!(sold_for("8.84", "10.62").markup, Some(dec("0.20")));
}

#[test]
fn a_percentage_taken_off_is_grossed_up() {
    // OpenStax Contemporary Mathematics, sec. 6.2: what is left after 10 % is 189.00 of 210.00.
    assert_eq!(asked("189.00", "0.10", &PriceAsk::default()), dec("210.00"));
    assert_eq!(through_a_fee("210.00", "0.10").net, Some(dec("189.00")));
    // The same section: after 75 % 90.00 is left of 360.00. A fee is charged in cents: that of
    // 359.99 is 269.99 and not 269.9925, so that a cent less leaves the same 90.00.
    assert_eq!(through_a_fee("360.00", "0.75").net, Some(dec("90.00")));
    assert_eq!(asked("90.00", "0.75", &PriceAsk::default()), dec("359.99"));
}

/// A piece that cost nothing, sold through a channel with this fee.
fn through_a_fee(price: &str, fee: &str) -> Tally {
    let through = Some("c".to_owned().into());
    let sold = dovetally::model::Sale { channel: through, ..sale(on("03-01"), dec(price)) };
    let mut shop = Shop { pieces: vec![Piece { sale: vec![sold], ..piece("a") }], ..shop() };
    shop.channels.insert("c".to_owned(), channel("c", dec(fee), Money::ZERO));
    reckon(&shop).tallies.remove(0).unwrap()
}

#[test]
fn a_percentage_off_a_price_is_a_fee() {
    // OpenStax Contemporary Mathematics, sec. 6.2: 30 % of 168.90 is 50.67 and leaves 118.23;
    // OpenStax Prealgebra 2e, sec. 6.3: 87.00 of 1,450.00 is a commission of 6 %.
    for (price, fee, taken, left) in
        [("168.90", "0.30", "50.67", "118.23"), ("1450.00", "0.06", "87.00", "1363.00")]
    {
        let tally = through_a_fee(price, fee);
        assert_eq!((tally.fees, tally.net), (dec(taken), Some(dec(left))));
    }
}

#[test]
fn the_cost_of_one_job() {
    // OpenStax Managerial Accounting, secs. 4.3 to 4.5, job MAC001: materials 700, labour 66 and
    // overhead 165 are 931; sold at 2,000 the gross margin is 1,069.
    let materials = ["300", "100", "60", "60", "120", "60"];
    let paid = ["15", "15", "36", "165"];
    let each = |kind| move |amount: &&str| cost(on("01-05"), kind, dec(amount));
    let material = materials.iter().map(each(CostKind::Material));
    let tally = tally_of(Piece {
        cost: material.chain(paid.iter().map(each(CostKind::PaidWork))).collect(),
        sale: vec![sale(on("02-01"), dec("2000"))],
        ..piece("mac001")
    });
    assert_eq!((tally.materials, tally.paid_work), (dec("700"), dec("66") + dec("165")));
    assert_eq!(tally.cost_of_goods, dec("931"));
    assert_eq!(tally.gross_profit, Some(dec("1069")));
}

#[test]
fn working_on_forgets_what_was_spent() {
    // OpenStax Managerial Accounting, sec. 10.5: sold as it is 22; after a rework of 11 it brings
    // 38: the rework gains 5, whatever (30) was spent before.
    let ask = AsFound {
        price: dec("22"),
        after: Some(dec("38")),
        further_costs: dec("11"),
        further_hours: Hours::from_decimal(dec("2")),
    };
    let alone = work_on(None, &ask, None, 2);
    assert_eq!((alone.gain, alone.per_further_hour), (Some(dec("5")), Some(dec("2.5"))));
    let shop = Shop { pieces: vec![costing("30")], ..shop() };
    let ask = PriceAsk { as_found: Some(ask), ..PriceAsk::default() };
    let guidance = price(&shop, &reckon(&shop), 0, &ask).unwrap().remove(0);
    assert_eq!(guidance.as_found.unwrap().gain, Some(dec("5")));
}

#[test]
fn miles_at_the_rates_of_their_days() {
    let share = |on: &str, distance: &str, purpose| TripShare {
        part: (0, 1),
        parking: Decimal::ZERO,
        on: day(on),
        purpose,
        distance: dec(distance),
        place: dovetally::model::Place::NOWHERE,
    };
    // IRS, Changes to the 2023 Instructions for Schedule C, line 9: 1,250 miles are 818.75.
    let costs = trip_costs(&shop(), &[share("2023-05-01", "1250", TripPurpose::Fetch)]);
    assert_eq!((costs.fetch, costs.deliver), (dec("818.75"), Money::ZERO));
    // The IRS rates of 2022, 58.5 cents and from July 62.5 cents (seen on secondary pages): a
    // thousand miles in each half are 1,210.00.
    let trips = [
        share("2022-06-30", "1000", TripPurpose::Deliver),
        share("2022-07-01", "1000", TripPurpose::Deliver),
        share("2022-07-02", "99", TripPurpose::Other),
    ];
    let costs = trip_costs(&shop(), &trips);
    assert_eq!((costs.fetch, costs.deliver), (Money::ZERO, dec("1210.00")));
}

#[test]
fn parts_that_add_up() {
    // Documentation of moneyphp/money, allocation: 5 in 70 : 30 is 4 and 1, and in 30 : 70 it is
    // 2 and 3: ties go to the first part.
    // OpenStax Contemporary Mathematics, sec. 11.4: 70 over 15, 9 and 10 acres is 31, 18, 21.
    let cases: [(i64, &[i64], &[i64]); 3] =
        [(5, &[70, 30], &[4, 1]), (5, &[30, 70], &[2, 3]), (70, &[15, 9, 10], &[31, 18, 21])];
    for (total, weights, parts) in cases {
        let weights: Vec<Decimal> = weights.iter().map(|&w| Decimal::from(w)).collect();
        let parts: Vec<Decimal> = parts.iter().map(|&p| Decimal::from(p)).collect();
        assert_eq!(split(Decimal::from(total), &weights, 0), parts);
    }
}

#[test]
fn half_up_at_the_last_place() {
    // General Decimal Arithmetic testcases 2.59, quantize quax093, quax094, quax096 (half_up).
    for (value, rounded) in [("1.2345", "1.23"), ("1.2355", "1.24"), ("9.9999", "10.00")] {
        assert_eq!(round(dec(value), 2).to_string(), rounded);
    }
}
