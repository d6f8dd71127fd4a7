//! The shop view at its door: worked pieces, the decisions it documents, and what it refuses.

mod guidance;
mod laws;
mod missing;

use crate::shops::{
    book, bought, channel, cost, day, dec, listing, piece, returned, sale, shop, stock_item,
    supply, used, withdrawn, work,
};
use dovetally::model::{
    Coat, CostKind, Hours, Photo, Piece, Place, Return, Sale, Shop, WithdrawalKind,
};
use dovetally::reckon::state::State;
use dovetally::reckon::tally::Tally;
use dovetally::reckon::{Reckoned, reckon};

fn with(pieces: Vec<Piece>) -> Shop {
    let mut made = Shop { pieces, shop_rate: Some(dec("32").into()), ..shop() };
    made.channels.insert("online".to_owned(), channel("online", dec("0.125"), dec("0.40")));
    made
}

fn tally(piece: Piece) -> Tally {
    reckon(&with(vec![piece])).tallies.remove(0).unwrap()
}

fn costing(folder: &str, amount: &str) -> Piece {
    Piece { bought: Some(bought(day("2025-02-01"), dec(amount))), ..piece(folder) }
}

fn codes(reckoned: &Reckoned) -> Vec<&str> {
    reckoned.findings.iter().map(|finding| finding.code.word()).collect()
}

fn online(on: &str, price: &str) -> Sale {
    Sale { channel: Some("online".to_owned().into()), ..sale(day(on), dec(price)) }
}

#[test]
fn the_least_that_counts_gives_a_tally() {
    let tally = tally(Piece {
        work: vec![work(dec("5"))],
        sale: vec![sale(day("2025-03-01"), dec("240"))],
        ..costing("pine", "35")
    });
    assert_eq!(tally.state, State::Sold);
    assert_eq!(tally.net, Some(dec("205")));
    assert_eq!(tally.per_hour, Some(dec("41")));
    assert_eq!(tally.net_after_labour, Some(dec("45")));
    assert_eq!(tally.days_held, Some(28));
}

// By hand: bought 45.00 + premium 5.00 + tax 3.15 = 53.15; hardware 27.80, glue 4.05, stock 8 of
// 128 fl oz of 48.00 = 3.00, together 34.85; paid work 20.00, carriage 12.00; cost of goods 120.00.
// Sold at 400.00 with 35.00 delivery; fee 12.5 % of 435.00 = 54.375 → 54.38 + 0.40 = 54.78;
// delivery cost 20.00; selling costs 54.78 + 20.00 − 35.00 = 39.78; gross profit 280.00; net 240.22.
#[test]
fn a_full_piece_worked_by_hand() {
    let at = |month_day: &str| day(&format!("2025-{month_day}"));
    let mut bought = bought(at("03-02"), dec("45.00"));
    (bought.premium, bought.tax) = (dec("5.00"), dec("3.15"));
    let mut sold = online("2025-03-22", "400.00");
    (sold.delivery_charged, sold.delivery_cost) = (dec("35.00"), dec("20.00"));
    let mut shop = with(vec![Piece {
        bought: Some(bought),
        cost: vec![
            cost(at("03-05"), CostKind::Hardware, dec("27.80")),
            cost(at("03-05"), CostKind::Material, dec("4.05")),
            cost(at("03-06"), CostKind::PaidWork, dec("20.00")),
            cost(at("03-02"), CostKind::FreightIn, dec("12.00")),
        ],
        used: vec![used(at("03-09"), "topcoat", "8 fl oz")],
        work: vec![work(dec("2.5")), work(dec("3.5"))],
        sale: vec![sold],
        ..piece("oak")
    }]);
    shop.stock.insert("topcoat".to_owned(), stock_item("topcoat", "fl oz"));
    book(&mut shop, 2025).supply = vec![supply(at("01-05"), "topcoat", "1 gal", dec("48.00"))];
    let reckoned = reckon(&shop);
    let tally = reckoned.tallies[0].clone().unwrap();
    assert_eq!(tally.purchase, dec("53.15"));
    assert_eq!(tally.materials, dec("34.85"));
    assert_eq!((tally.paid_work, tally.freight_in), (dec("20.00"), dec("12.00")));
    assert_eq!(tally.cost_of_goods, dec("120.00"));
    assert_eq!((tally.fees, tally.selling_costs), (dec("54.78"), dec("39.78")));
    assert_eq!((tally.gross_profit, tally.net), (Some(dec("280.00")), Some(dec("240.22"))));
    assert_eq!((tally.gross_margin, tally.labour), (Some(dec("0.7")), Some(dec("192.00"))));
    assert_eq!(tally.net_after_labour, Some(dec("48.22")));
    assert_eq!(reckoned.run.left["topcoat"].cost, dec("45.00"));
    assert!(reckoned.findings.is_empty());
}

#[test]
fn what_has_nothing_under_it_is_nothing() {
    let unsold = tally(costing("a", "35"));
    assert_eq!((unsold.price, unsold.net, unsold.per_hour), (None, None, None));
    assert_eq!((unsold.hours, unsold.labour), (None, None));
    let given_away = tally(Piece { sale: vec![sale(day("2025-03-01"), dec("0"))], ..piece("b") });
    assert_eq!((given_away.gross_margin, given_away.markup), (None, None));
    assert_eq!((given_away.net, given_away.days_held), (Some(dec("0")), None));
}

#[test]
fn a_stated_fee_stands_and_no_channel_charges_none() {
    let sold = |sale: Sale| tally(Piece { sale: vec![sale], ..piece("a") }).fees;
    assert_eq!(sold(sale(day("2025-03-01"), dec("100"))), dec("0"));
    assert_eq!(sold(online("2025-03-01", "100")), dec("12.90"));
    assert_eq!(sold(Sale { fee: Some(dec("9").into()), ..online("2025-03-01", "100") }), dec("9"));
}

#[test]
fn a_set_sold_in_part_splits_its_cost_to_the_cent() {
    let part =
        |units: u32| Sale { count: Some(units.into()), ..sale(day("2025-03-01"), dec("50")) };
    let chairs = Piece { count: 3, work: vec![work(dec("6"))], ..costing("chairs", "100") };
    let one = tally(Piece { sale: vec![part(1)], ..chairs.clone() });
    assert_eq!((one.cost_sold, one.tied_up), (dec("33.33"), dec("66.67")));
    let two_hours = Some(Hours::from_decimal(dec("2")));
    assert_eq!((one.hours_sold, one.per_hour), (two_hours, Some(dec("8.335"))));
    assert_eq!((one.state, one.sold), (State::InWork, None));
    let two = tally(Piece { sale: vec![part(1), part(1)], ..chairs.clone() });
    assert_eq!((two.cost_sold, two.tied_up), (dec("66.67"), dec("33.33")));
    let rest = sale(day("2025-04-01"), dec("50"));
    let all = tally(Piece { sale: vec![part(1), rest], ..chairs });
    assert_eq!((all.cost_sold, all.tied_up, all.units.left()), (dec("100"), dec("0"), 0));
    assert_eq!((all.state, all.days_held), (State::Sold, Some(59)));
}

#[test]
fn a_refund_counts_once_and_what_was_lost_stays() {
    let mut first = online("2025-03-01", "200");
    (first.delivery_charged, first.delivery_cost) = (dec("30"), dec("25"));
    let back = Return {
        fee_returned: dec("20"),
        delivery_cost: dec("15"),
        ..returned(day("2025-03-10"), dec("230"))
    };
    let came_back = Piece { sale: vec![first], returned: vec![back], ..costing("a", "80") };
    let tally_back = tally(came_back.clone());
    assert_eq!((tally_back.price, tally_back.delivery_charged), (Some(dec("0")), dec("0")));
    // Fee 12.5 % of 230 = 28.75 + 0.40, less 20 returned; carriage 25 out and 15 back.
    assert_eq!((tally_back.fees, tally_back.delivery_cost), (dec("9.15"), dec("40")));
    assert_eq!((tally_back.net, tally_back.tied_up), (Some(dec("-49.15")), dec("80")));
    assert_eq!((tally_back.state, tally_back.sold), (State::Ready, None));
    let mut again = came_back;
    again.sale.push(sale(day("2025-03-10"), dec("150")));
    let again = tally(again);
    assert_eq!((again.price, again.net), (Some(dec("150")), Some(dec("20.85"))));
    assert_eq!((again.state, again.days_held), (State::Sold, Some(37)));
}

#[test]
fn a_part_of_a_set_comes_back_and_is_sold_again() {
    let sold = Sale { count: Some(4.into()), ..sale(day("2025-03-01"), dec("200")) };
    let back = Return { count: Some(1.into()), ..returned(day("2025-03-05"), dec("50")) };
    let chairs =
        Piece { count: 4, sale: vec![sold], returned: vec![back], ..costing("chairs", "80") };
    let now = tally(chairs.clone());
    assert_eq!((now.units.sold, now.price), (3, Some(dec("150"))));
    assert_eq!((now.cost_sold, now.tied_up), (dec("60"), dec("20")));
    let last = sale(day("2025-03-20"), dec("40"));
    let chairs = Piece { sale: [chairs.sale.clone(), vec![last]].concat(), ..chairs };
    assert_eq!(tally(chairs).gross_profit, Some(dec("110")));
}

#[test]
fn a_withdrawn_piece_is_neither_sold_nor_stock() {
    let gone = Piece {
        withdrawn: Some(withdrawn(day("2025-05-01"), WithdrawalKind::Scrapped)),
        ..costing("a", "35")
    };
    let totals = reckon(&with(vec![gone, costing("b", "10")])).totals;
    assert_eq!((totals.cost_of_goods, totals.tied_up), (dec("45"), dec("10")));
}

#[test]
fn a_piece_stands_where_its_entries_say() {
    let coat = |last: Option<&str>| Coat {
        part: String::new(),
        product: "oil".to_owned().into(),
        sheen: None,
        coats: 1,
        between: None,
        last: last.map(|on| day(on).into()),
        cure_days: None,
        light_use_days: None,
        note: None,
        place: Place::NOWHERE,
    };
    let listing = |on: Option<&str>| listing(on, Some("100"));
    let photo = |moment| Photo {
        path: "a.jpg".to_owned().into(),
        shows: None,
        moment,
        on: None,
        place: Place::NOWHERE,
    };
    use dovetally::model::Moment::{After, Before};
    let carriage = cost(day("2025-02-01"), CostKind::FreightIn, dec("5"));
    let base = costing("a", "1");
    let (on, came) = (Some("2025-04-01"), returned(day("2025-05-01"), dec("9")));
    let sold = vec![sale(day("2025-04-20"), dec("9"))];
    let cases = [
        (State::Bought, Piece { cost: vec![carriage], ..base.clone() }),
        (State::Bought, Piece { photo: vec![photo(Before)], ..base.clone() }),
        (State::InWork, Piece { coat: vec![coat(on), coat(None)], ..base.clone() }),
        (State::Ready, Piece { coat: vec![coat(on)], ..base.clone() }),
        (State::Ready, Piece { photo: vec![photo(After)], ..base.clone() }),
        (State::Bought, Piece { listing: Some(listing(None)), ..base.clone() }),
        (State::Listed, Piece { listing: Some(listing(on)), ..base.clone() }),
        (
            State::Ready,
            Piece { listing: Some(listing(on)), sale: sold, returned: vec![came], ..base },
        ),
    ];
    for (expected, piece) in cases {
        assert_eq!(tally(piece).state, expected);
    }
}
