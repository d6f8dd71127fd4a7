//! Laws of the shop view that hold in every shop.

use crate::shops::random::random_shop;
use crate::shops::{bought, channel, day, piece, sale, shop, work};
use dovetally::model::{Money, Piece, Sale, Shop, split};
use dovetally::reckon::offer::{OfferAsk, offer};
use dovetally::reckon::price::{Guidance, PriceAsk, price};
use dovetally::reckon::reckon;
use dovetally::reckon::sold::Units;
use dovetally::reckon::stock::MovementKind;
use dovetally::reckon::tally::Tally;
use proptest::prelude::*;
use rust_decimal::Decimal;
use std::collections::BTreeMap;

const CENT: Decimal = Decimal::from_parts(1, 0, 0, false, 2);

fn cents(cents: i64) -> Money {
    Decimal::new(cents, 2)
}

/// Every list of the shop the other way round.
fn turned(mut shop: Shop) -> Shop {
    shop.pieces.reverse();
    for piece in &mut shop.pieces {
        piece.cost.reverse();
        piece.used.reverse();
        piece.work.reverse();
        piece.sale.reverse();
        piece.returned.reverse();
    }
    for book in shop.years.values_mut() {
        book.supply.reverse();
        book.count.reverse();
    }
    shop
}

/// The shop with its first piece sold at a price through a channel, as guidance takes it.
fn sold_at(shop: &Shop, key: &str, price: Money) -> Tally {
    let channel = &shop.channels[key];
    let sold = Sale {
        channel: Some(key.to_owned().into()),
        delivery_charged: channel.delivery_charged,
        delivery_cost: channel.delivery_cost,
        ..sale(day("2026-01-01"), price)
    };
    let mut shop = shop.clone();
    shop.pieces.truncate(1);
    shop.pieces[0].sale.push(sold);
    reckon(&shop).tallies.remove(0).unwrap()
}

/// The price reaches its target and a cent less misses it, unless there is no cent less.
fn least(shop: &Shop, key: &str, price: Money, reached: impl Fn(&Tally) -> bool) -> bool {
    let less = price - CENT;
    let misses = less.is_sign_negative() || !reached(&sold_at(shop, key, less));
    reached(&sold_at(shop, key, price)) && misses
}

prop_compose! {
    /// One unsold piece, perhaps come back once, and a channel that delivers.
    fn to_be_priced()(
        (cost, quarters, percent, fixed) in (0i64..90_000, 1i64..80, 0i64..999, 0i64..900),
        (charged, delivery, rate) in (0i64..9_000, 0i64..9_000, 0i64..9_000),
        came_back in any::<bool>(),
        count in 1u32..5,
    ) -> Shop {
        let on = day("2025-01-01");
        let mut unsold = Piece {
            count,
            bought: Some(bought(on, cents(cost))),
            work: vec![work(Decimal::new(quarters * 25, 2))],
            ..piece("a")
        };
        if came_back {
            unsold.sale.push(sale(on, cents(1_000)));
            let mut back = crate::shops::returned(on, cents(900));
            back.delivery_cost = cents(delivery);
            unsold.returned.push(back);
        }
        let mut made = Shop { pieces: vec![unsold], shop_rate: Some(cents(rate).into()), ..shop() };
        let mut through = channel("c", Decimal::new(percent, 3), cents(fixed));
        (through.delivery_charged, through.delivery_cost) = (cents(charged), cents(delivery));
        made.channels.insert("c".to_owned(), through);
        made
    }
}

fn guided(shop: &Shop, ask: &PriceAsk) -> Guidance {
    price(shop, &reckon(shop), 0, ask).unwrap().remove(0)
}

proptest! {
    #[test]
    fn parts_add_up_and_keep_to_their_quota(
        amount in -9_999_999i64..9_999_999,
        weights in prop::collection::vec(0i64..500, 1..12),
    ) {
        let weights: Vec<Decimal> = weights.into_iter().map(Decimal::from).collect();
        let parts = split(cents(amount), &weights, 2);
        prop_assert_eq!(parts.iter().sum::<Decimal>(), cents(amount));
        let whole: Decimal = weights.iter().sum();
        for (part, weight) in parts.iter().zip(&weights).filter(|_| !whole.is_zero()) {
            prop_assert!((*part - cents(amount) * *weight / whole).abs() < CENT);
        }
    }

    #[test]
    fn shares_of_a_set_keep_to_their_quota(amount in 0i64..9_999_999, of in 1u32..40, some in 0u32..40) {
        let (some, units) = (some.min(of), Units { of, sold: 0, withdrawn: 0 });
        let share = units.share(cents(amount), some, 2);
        let quota = cents(amount) * Decimal::from(some) / Decimal::from(of);
        prop_assert!((share - quota).abs() < CENT);
    }

    #[test]
    fn the_lowest_price_reaches_its_target_and_a_cent_less_misses_it(
        shop in to_be_priced(), hourly in 0i64..9_000, wanted in 0i64..50_000, margin in 1i64..99,
    ) {
        let (hourly, wanted, margin) = (cents(hourly), cents(wanted), cents(margin));
        let ask = PriceAsk {
            hourly: Some(hourly),
            net: Some(wanted),
            margin: Some(margin),
            as_found: None,
        };
        let guidance = guided(&shop, &ask);
        let reaches = |price: Money, figure: fn(&Tally) -> Option<Money>, target: Money| {
            least(&shop, "c", price, |tally| figure(tally).is_some_and(|f| f >= target))
        };
        prop_assert!(reaches(guidance.break_even.unwrap(), |t| t.net, Money::ZERO));
        let pays = guidance.shop_rate_price.unwrap().unwrap();
        prop_assert!(reaches(pays, |t| t.net_after_labour, Money::ZERO));
        prop_assert!(reaches(guidance.hourly_price.unwrap().unwrap(), |t| t.per_hour, hourly));
        prop_assert!(reaches(guidance.net_price.unwrap().unwrap(), |t| t.net, wanted));
        let came_back = !shop.pieces[0].returned.is_empty();
        if !came_back {
            let least = least(&shop, "c", guidance.margin_price.unwrap().unwrap(), |tally| {
                tally.gross_profit.unwrap() >= margin * tally.price.unwrap()
            });
            prop_assert!(least);
        }
    }

    #[test]
    fn a_suggested_price_is_on_the_step_and_not_below(shop in to_be_priced(), step in 1i64..2_500) {
        let shop = Shop { price_step: Some(cents(step)), ..shop };
        let guidance = guided(&shop, &PriceAsk::default());
        let (suggested, least) =
            (guidance.suggested.unwrap(), guidance.shop_rate_price.unwrap().unwrap());
        prop_assert!((suggested % cents(step)).is_zero());
        prop_assert!(suggested >= least && suggested - cents(step) < least);
    }

    #[test]
    fn bought_at_the_most_a_piece_pays_its_hours_and_a_cent_more_it_does_not(
        shop in to_be_priced(), expect in 0i64..200_000,
    ) {
        let hours = shop.pieces[0].hours();
        let ask = OfferAsk {
            expect: Some(cents(expect)),
            hours: Some(hours.unwrap_or_default()),
            costs: Some(Money::ZERO),
            channel: Some("c".to_owned()),
            ..OfferAsk::default()
        };
        let most = offer(&shop, &reckon(&shop), &ask).most.unwrap();
        let earned = |paid: Money| {
            let mut shop = shop.clone();
            shop.pieces[0].returned.clear();
            shop.pieces[0].sale.clear();
            shop.pieces[0].bought = Some(bought(day("2025-01-01"), paid));
            sold_at(&shop, "c", cents(expect)).net_after_labour.unwrap()
        };
        prop_assert!(earned(most) >= Money::ZERO && earned(most + CENT) < Money::ZERO);
    }

    #[test]
    fn the_order_of_files_and_entries_changes_nothing(shop in random_shop(12)) {
        let (there, mut back) = (reckon(&shop), reckon(&turned(shop)));
        back.tallies.reverse();
        prop_assert_eq!(there.tallies, back.tallies);
        prop_assert_eq!(there.totals, back.totals);
    }

    #[test]
    fn stock_bought_is_drawn_missing_or_left(shop in random_shop(12)) {
        let reckoned = reckon(&shop);
        let mut sums: BTreeMap<&str, (Decimal, Money)> = BTreeMap::new();
        for movement in &reckoned.run.movements {
            let came = matches!(movement.kind, MovementKind::Bought | MovementKind::OnHand);
            let sign = if came { Decimal::ONE } else { -Decimal::ONE };
            let sum = sums.entry(&movement.stock).or_default();
            *sum = (sum.0 + sign * movement.quantity, sum.1 + movement.adds());
        }
        for (key, left) in &reckoned.run.left {
            prop_assert_eq!((left.quantity, left.cost), sums[key.as_str()]);
        }
        prop_assert!(reckoned.findings.is_empty(), "{:?}", reckoned.findings);
    }

    #[test]
    fn a_tally_holds_together_and_totals_are_the_sums(shop in random_shop(12)) {
        let reckoned = reckon(&shop);
        let tallies: Vec<&Tally> = reckoned.tallies.iter().flatten().collect();
        let paid: Money = reckoned.costs.iter().flat_map(|c| &c.entries).map(|e| e.amount).sum();
        let totals = &reckoned.totals;
        prop_assert_eq!(totals.cost_of_goods, paid);
        prop_assert_eq!(totals.pieces, shop.pieces.len());
        let sum = |figure: fn(&Tally) -> Money| tallies.iter().map(|t| figure(t)).sum::<Money>();
        prop_assert_eq!(totals.tied_up, sum(|t| t.tied_up));
        prop_assert_eq!(totals.price, sum(|t| t.price.unwrap_or_default()));
        prop_assert_eq!(totals.net, sum(|t| t.net.unwrap_or_default()));
        prop_assert_eq!(totals.selling_costs, totals.fees + totals.delivery_cost - totals.delivery_charged);
        prop_assert_eq!(totals.gross_profit, totals.price - sum(|t| t.cost_sold));
        for tally in &tallies {
            let parts = tally.purchase + tally.materials + tally.paid_work + tally.freight_in;
            prop_assert_eq!(tally.cost_of_goods, parts);
            let out = tally.cost_of_goods - tally.cost_sold - tally.tied_up;
            prop_assert!(tally.units.withdrawn > 0 || out.is_zero());
        }
        let paid_by_hour: Money = tallies.iter().filter(|t| t.per_hour.is_some()).map(|t| t.net.unwrap()).sum();
        let by_hour = totals.hours_sold.and_then(|hours| hours.each_of(paid_by_hour));
        prop_assert_eq!(totals.per_hour, by_hour);
    }
}
