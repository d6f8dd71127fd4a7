//! Shops of 2025 to print: a busy one, one with a loss, one that sold nothing.

use crate::shops::{
    book, bought, channel, cost, day, dec, lot, piece, returned, sale, shop, stock_item, supply,
    trip, used, withdrawn, work,
};
use dovetally::model::{
    CostKind, Expense, Money, Piece, Place, Remitted, Reported, Shop, SpaceUse, TripPurpose,
    Vehicle, WithdrawalKind, Workspace,
};

fn expense(on: &str, category: &str, amount: &str) -> Expense {
    Expense { what: format!("{category} paid"), ..crate::books::expense(on, category, amount) }
}

fn reported(channel: &str, gross: &str) -> Reported {
    Reported {
        channel: channel.to_owned().into(),
        form: Some("yearly statement".to_owned()),
        gross: dec(gross).into(),
        place: Place::NOWHERE,
    }
}

/// Thirty pieces sold, one of them returned, two in stock, one kept, and a book of every entry.
pub fn busy_shop() -> Shop {
    let mut shop = shop();
    shop.name = "Tide Lane Furniture".to_owned();
    shop.contact = vec!["shop@example.org".to_owned()];
    shop.shop_rate = Some(dec("32").into());
    shop.channels.insert("fair".to_owned(), channel("fair", dec("0.10"), dec("1.00")));
    let mut market = channel("market", dec("0.125"), Money::ZERO);
    market.collects_tax = true;
    shop.channels.insert("market".to_owned(), market);
    shop.stock.insert("varnish".to_owned(), stock_item("varnish", "fl oz"));
    for i in 0..30u32 {
        shop.pieces.push(sold_piece(i));
    }
    shop.pieces[3].returned.push(returned(day("2025-06-20"), dec("200.00")));
    shop.pieces[4].work.clear();
    shop.pieces[5].bought = None;
    shop.pieces[5].cost.clear();
    shop.pieces[5].used.clear();
    shop.pieces.push(unsold_piece("25-031", "2024-11-19"));
    shop.pieces.push(unsold_piece("25-032", "2025-12-02"));
    let mut kept = unsold_piece("25-033", "2025-02-02");
    kept.withdrawn = Some(withdrawn(day("2025-05-05"), WithdrawalKind::Kept));
    shop.pieces.push(kept);
    fill_book(&mut shop);
    shop
}

fn sold_piece(i: u32) -> Piece {
    let mut one = piece(&format!("25-{:03}", i + 1));
    one.number = Some(one.folder.clone().into());
    one.title = format!("Oak table, the {}th of its kind", i + 1).into();
    one.bought =
        Some(bought(day("2024-12-05") + chrono::Days::new(8 * u64::from(i)), dec("61.35")));
    one.cost.push(cost(day("2025-01-08"), CostKind::Material, dec("7.15")));
    let mut paid = cost(day("2025-01-09"), CostKind::PaidWork, dec("25.00"));
    paid.to = Some("The chair caner".to_owned());
    one.cost.push(paid);
    one.used.push(used(day("2025-11-03"), "varnish", "3 fl oz"));
    one.work.push(work(dec("2.5") + rust_decimal::Decimal::from(i % 9)));
    let mut gone = sale(day("2025-01-10") + chrono::Days::new(11 * u64::from(i)), dec("310.00"));
    gone.price = (dec("140.00") + rust_decimal::Decimal::from(17 * i)).into();
    gone.channel = Some((if i.is_multiple_of(2) { "fair" } else { "market" }).to_owned().into());
    gone.tax_collected = dec("12.40");
    gone.delivery_charged = dec("20.00");
    one.sale.push(gone);
    one
}

fn unsold_piece(name: &str, on: &str) -> Piece {
    let mut one = piece(name);
    one.number = Some(name.to_owned().into());
    one.title = "Elm chest, iron bound".to_owned().into();
    one.bought = Some(bought(day(on), dec("110.20")));
    one
}

fn fill_book(shop: &mut Shop) {
    let own = book(shop, 2025);
    own.supply.push(supply(day("2025-01-02"), "varnish", "128 fl oz", dec("71.99")));
    own.expense = vec![
        expense("2025-01-31", "rent", "2400.00"),
        expense("2025-03-03", "advertising", "213.50"),
        expense("2025-04-03", "insurance", "420.00"),
        expense("2025-05-03", "meals", "61.00"),
        expense("2025-06-03", "small-tools", "96.44"),
        expense("2025-06-04", "equipment", "3100.00"),
        expense("2025-07-03", "utilities", "584.32"),
    ];
    own.trip = vec![
        trip(day("2025-02-03"), dec("61.5"), TripPurpose::Fetch, Some("25-002")),
        trip(day("2025-08-03"), dec("24"), TripPurpose::Deliver, Some("25-018")),
        trip(day("2025-09-03"), dec("30"), TripPurpose::Other, None),
    ];
    own.reported = vec![reported("fair", "6000.00"), reported("market", "6289.00")];
    own.remitted = vec![Remitted {
        on: day("2025-10-10").into(),
        place_key: None,
        kept: Money::ZERO,
        period: None,
        to: "the state".to_owned(),
        amount: dec("120.00").into(),
        receipt: None,
        place: Place::NOWHERE,
    }];
    let uses = vec![SpaceUse { area: dec("350"), from: None, to: None }];
    own.workspace = Some(Workspace { uses, months: None, place: Place::NOWHERE });
    own.vehicle = Some(Vehicle {
        answers: Default::default(),
        total: Some(dec("9412")),
        commuting: Some(dec("0")),
        other: Some(dec("9296.5")),
        place: Place::NOWHERE,
    });
    own.lot.push(lot(
        day("2025-12-20"),
        dec("35.00"),
        &[("25-031", dec("1")), ("25-032", dec("2"))],
    ));
}

/// One sale, and more spent than it brought.
pub fn loss_shop() -> Shop {
    let mut shop = shop();
    let mut one = sold_piece(1);
    one.used.clear();
    one.sale[0].channel = None;
    shop.pieces.push(one);
    book(&mut shop, 2025).expense =
        vec![expense("2025-01-31", "rent", "900.00"), expense("2025-02-28", "utilities", "75.25")];
    shop
}

/// A piece in stock, and nothing sold.
pub fn quiet_shop() -> Shop {
    let mut shop = shop();
    shop.pieces.push(unsold_piece("24-001", "2024-06-01"));
    book(&mut shop, 2025).expense = vec![expense("2025-01-31", "rent", "900.00")];
    shop
}
