//! Random shops whose entries agree with each other, for laws that must hold in every shop.

use super::{
    book, bought, channel, cost, count, day, piece, returned, sale, shop, stock_item, supply, used,
    withdrawn, work,
};
use chrono::{Datelike, Days, NaiveDate};
use dovetally::model::{
    Basis, CostKind, Money, Piece, Return, Sale, Shop, StockCost, Supplies, WithdrawalKind,
};
use proptest::prelude::*;
use rust_decimal::Decimal;

/// The day a number of days after the first day of the random shops.
pub fn after_start(days: u64) -> NaiveDate {
    day("2023-01-01") + Days::new(days)
}

/// How a random piece ends.
#[derive(Clone, Debug)]
pub enum Ending {
    Unsold,
    Sold,
    SoldInPart,
    CameBack,
    SoldAgain,
    Withdrawn(WithdrawalKind),
}

/// What a random piece is made from; amounts in cents, days from the day it was bought.
#[derive(Clone, Debug)]
pub struct Seed {
    pub bought: u64,
    pub price: i64,
    pub count: u32,
    pub costs: Vec<(u64, usize, i64)>,
    /// Draws of so many eighths of a fluid ounce.
    pub draws: Vec<(u64, u32)>,
    pub quarter_hours: i64,
    pub asked: i64,
    pub channel: usize,
    pub delivery: (i64, i64),
    pub ending: Ending,
}

const KINDS: [CostKind; 4] =
    [CostKind::Material, CostKind::Hardware, CostKind::PaidWork, CostKind::FreightIn];

/// The channels of a random shop: two with fees; a third of the sales have none.
pub const CHANNELS: [&str; 2] = ["online", "stall"];

fn ending() -> impl Strategy<Value = Ending> {
    prop_oneof![
        Just(Ending::Unsold),
        Just(Ending::Sold),
        Just(Ending::SoldInPart),
        Just(Ending::CameBack),
        Just(Ending::SoldAgain),
        Just(Ending::Withdrawn(WithdrawalKind::Scrapped)),
        Just(Ending::Withdrawn(WithdrawalKind::Kept)),
        Just(Ending::Withdrawn(WithdrawalKind::Given)),
    ]
}

fn seed() -> impl Strategy<Value = Seed> {
    (
        (
            0u64..600,
            0i64..60_000,
            1u32..7,
            prop::collection::vec((0u64..90, 0usize..4, 0i64..9_000), 0..4),
        ),
        (prop::collection::vec((0u64..90, 0u32..160), 0..4), 0i64..80, 0i64..150_000),
        (0usize..3, (0i64..6_000, 0i64..6_000), ending()),
    )
        .prop_map(|((bought, price, count, costs), (draws, quarter_hours, asked), rest)| {
            let (channel, delivery, ending) = rest;
            Seed {
                bought,
                price,
                count,
                costs,
                draws,
                quarter_hours,
                asked,
                channel,
                delivery,
                ending,
            }
        })
}

fn cents(cents: i64) -> Money {
    Decimal::new(cents, 2)
}

fn seeded_sale(seed: &Seed, days: u64, price: i64) -> Sale {
    Sale {
        channel: CHANNELS.get(seed.channel).map(|key| (*key).to_owned().into()),
        delivery_charged: cents(seed.delivery.0),
        delivery_cost: cents(seed.delivery.1),
        ..sale(after_start(seed.bought + days), cents(price))
    }
}

fn end(piece: &mut Piece, seed: &Seed) {
    let first = seeded_sale(seed, 120, seed.asked);
    let back = Return {
        fee_returned: cents(seed.asked / 50),
        delivery_cost: cents(seed.delivery.1),
        ..returned(after_start(seed.bought + 150), cents(seed.asked) + first.delivery_charged)
    };
    match seed.ending {
        Ending::Unsold => {}
        Ending::Sold => piece.sale.push(first),
        Ending::SoldInPart => {
            let part = piece.count.div_ceil(2);
            piece.sale.push(Sale { count: Some(part.into()), ..first });
        }
        Ending::CameBack => {
            piece.sale.push(first);
            piece.returned.push(back);
        }
        Ending::SoldAgain => {
            piece.sale.extend([first, seeded_sale(seed, 400, seed.asked / 2)]);
            piece.returned.push(back);
        }
        Ending::Withdrawn(how) => {
            piece.withdrawn = Some(withdrawn(after_start(seed.bought + 200), how));
        }
    }
}

/// The piece of a seed, in the folder `pieces/N`.
pub fn seeded_piece(position: usize, seed: &Seed) -> Piece {
    let on = |days: u64| after_start(seed.bought + days);
    let mut made = piece(&format!("pieces/{position:04}"));
    made.count = seed.count;
    made.bought = Some(bought(on(0), cents(seed.price)));
    made.cost = seed.costs.iter().map(|&(d, kind, c)| cost(on(d), KINDS[kind], cents(c))).collect();
    let draw = |&(d, eighths): &(u64, u32)| used(on(d), "topcoat", &format!("{eighths}/8 fl oz"));
    made.used = seed.draws.iter().map(draw).collect();
    if seed.quarter_hours > 0 {
        made.work.push(work(Decimal::new(seed.quarter_hours * 25, 2)));
    }
    end(&mut made, seed);
    made
}

/// Supplies of the topcoat: day, whole fluid ounces, cents.
type Supplied = (u64, u32, i64);

fn stocked(shop: &mut Shop, supplies: &[Supplied], missing: u32) {
    shop.stock.insert("topcoat".to_owned(), stock_item("topcoat", "fl oz"));
    let mut total = 2_000;
    book(shop, 2023).supply.push(supply(after_start(0), "topcoat", "2000 fl oz", cents(98_765)));
    for &(days, ounces, amount) in supplies {
        let bought =
            supply(after_start(days), "topcoat", &format!("{ounces} fl oz"), cents(amount));
        book(shop, after_start(days).year()).supply.push(bought);
        total += ounces;
    }
    let drawn: u32 = shop
        .pieces
        .iter()
        .flat_map(|p| &p.used)
        .map(|u| u.quantity.amount.ceil())
        .sum::<Decimal>()
        .try_into()
        .unwrap();
    let counted = format!("{} fl oz", total.saturating_sub(drawn + missing));
    book(shop, 2025).count.push(count(day("2025-12-31"), "topcoat", &counted));
}

/// A shop of up to `most` pieces in every state with stock bought, drawn and counted; nothing in
/// it contradicts itself. It has no trips; up to 30 pieces there is always enough stock.
pub fn random_shop(most: usize) -> impl Strategy<Value = Shop> {
    let supplies = prop::collection::vec((0u64..900, 1u32..200, 0i64..20_000), 0..6);
    let methods = (any::<bool>(), any::<bool>(), any::<bool>());
    let fees = (0i64..400, 0i64..500, 0i64..6_000);
    (prop::collection::vec(seed(), 0..most), supplies, 0u32..9, methods, fees).prop_map(
        |(seeds, supplies, missing, (fifo, when_used, accrual), (percent, fixed, rate))| {
            let mut made = shop();
            made.pieces = seeds.iter().enumerate().map(|(i, s)| seeded_piece(i, s)).collect();
            made.shop_rate = (rate > 0).then(|| cents(rate).into());
            let online = channel("online", Decimal::new(percent, 3), cents(fixed));
            let stall = channel("stall", Decimal::ZERO, cents(fixed / 2));
            made.channels = [online, stall].map(|c| (c.key.clone(), c)).into();
            made.books.stock_cost = if fifo { StockCost::Fifo } else { StockCost::Average };
            made.books.supplies = if when_used { Supplies::WhenUsed } else { Supplies::WhenBought };
            made.books.basis = if accrual { Basis::Accrual } else { Basis::Cash };
            stocked(&mut made, &supplies, missing);
            made
        },
    )
}
