//! The books view at its door: one year worked by hand, what is refused, and the laws that must
//! hold in every shop (in `laws`).

mod buyers;
mod filing;
mod goods;
mod laws;
mod method;
mod payments;
mod periods;
mod refused;
mod rich;
mod rules;
mod second;
mod second_sales;

use crate::shops::{
    book, bought, channel, cost, count, day, dec, lot, piece, returned, sale, shop, stock_item,
    supply, trip, used, withdrawn, work,
};
use dovetally::model::{
    CostKind, Expense, Finding, Money, Place, Remitted, Reported, Sale, Shop, TripPurpose,
    WithdrawalKind,
};
use dovetally::reckon::costs::piece_costs;
use dovetally::reckon::stock::run_stock;
use dovetally::reckon::year::{TaxFigure, Year, year};

/// The books of a shop for a year, through the same steps as a run takes.
pub fn books_of(shop: &Shop, of: i32) -> Result<Year, Vec<Finding>> {
    let run = run_stock(shop);
    let costs = piece_costs(shop, &run);
    year(shop, &run, &costs, of)
}

/// The exact amount of a line.
pub fn line(year: &Year, number: &str) -> Money {
    year.lines.iter().find(|line| line.number == number).unwrap().amount.unwrap()
}

/// The amount of a line as it is entered.
pub fn entered(year: &Year, number: &str) -> Money {
    year.lines.iter().find(|line| line.number == number).unwrap().whole.unwrap()
}

pub fn expense(on: &str, category: &str, amount: &str) -> Expense {
    Expense {
        on: day(on).into(),
        what: format!("some {category}"),
        category: category.to_owned().into(),
        amount: dec(amount).into(),
        share: Money::ONE,
        to: None,
        how: None,
        receipt: None,
        place: Place::NOWHERE,
    }
}

pub fn reported(channel: &str, gross: &str) -> Reported {
    Reported {
        channel: channel.to_owned().into(),
        form: None,
        gross: dec(gross).into(),
        place: Place::NOWHERE,
    }
}

/// The shop of the year worked by hand below.
pub fn worked_shop() -> Shop {
    let mut made = shop();
    let mut online = channel("online", dec("0.10"), dec("0.40"));
    online.collects_tax = true;
    made.channels.insert("online".to_owned(), online);
    made.stock.insert("topcoat".to_owned(), stock_item("topcoat", "fl oz"));

    let mut chest = piece("pieces/chest");
    chest.bought = Some(bought(day("2024-11-02"), dec("80.00")));
    chest.cost.push(cost(day("2025-01-10"), CostKind::Hardware, dec("27.80")));
    chest.used.push(used(day("2025-01-12"), "topcoat", "8 fl oz"));
    chest.work.push(work(dec("6.5")));
    chest.sale.push(Sale {
        channel: Some("online".to_owned().into()),
        delivery_charged: dec("45.00"),
        delivery_cost: dec("38.25"),
        tax_collected: dec("33.75"),
        ..sale(day("2025-02-20"), dec("405.00"))
    });

    let mut chairs = piece("pieces/chairs");
    chairs.count = 3;
    chairs.cost.push(cost(day("2025-03-20"), CostKind::PaidWork, dec("40.00")));
    chairs.sale.push(Sale {
        count: Some(2.into()),
        tax_collected: dec("11.20"),
        ..sale(day("2025-04-05"), dec("140.00"))
    });
    chairs.returned.push(dovetally::model::Return {
        count: Some(1.into()),
        tax_returned: dec("5.60"),
        ..returned(day("2025-04-12"), dec("70.00"))
    });

    let mut stool = piece("pieces/stool");
    stool.withdrawn = Some(withdrawn(day("2025-08-01"), WithdrawalKind::Kept));
    let mut bench = piece("pieces/bench");
    bench.bought = Some(bought(day("2025-05-05"), dec("15.00")));
    bench.withdrawn = Some(withdrawn(day("2025-09-09"), WithdrawalKind::Scrapped));
    made.pieces = vec![bench, chairs, chest, stool];

    book(&mut made, 2024).supply.push(supply(
        day("2024-12-01"),
        "topcoat",
        "32 fl oz",
        dec("48.00"),
    ));
    let shares = [("chairs", dec("3")), ("stool", dec("1"))];
    let this = book(&mut made, 2025);
    this.lot.push(lot(day("2025-03-01"), dec("100.00"), &shares));
    this.count.push(count(day("2025-12-31"), "topcoat", "20 fl oz"));
    this.trip.push(trip(day("2025-03-01"), dec("30"), TripPurpose::Fetch, Some("chairs")));
    this.expense.push(expense("2025-06-01", "advertising", "25.50"));
    this.expense.push(expense("2025-06-02", "meals", "31.00"));
    this.expense.push(expense("2025-06-03", "equipment", "3200.00"));
    this.reported.push(reported("online", "483.75"));
    this.remitted.push(Remitted {
        on: day("2025-07-20").into(),
        place_key: None,
        kept: Money::ZERO,
        period: None,
        to: "the state".to_owned(),
        amount: dec("5.60").into(),
        receipt: None,
        place: Place::NOWHERE,
    });
    made
}

/// The year worked by hand.
///
/// Topcoat: 32 fl oz for 48.00 is 1.50 a fl oz. Opening stock: chest 80.00 + topcoat 48.00 = 128.00.
/// The lot of 100.00 by 3 and 1: chairs 75.00, stool 25.00. Purchases 100.00 + bench 15.00 = 115.00;
/// the stool was kept: 25.00 out, line 36 is 90.00. Line 37 40.00, line 38 27.80.
/// Chairs cost 75.00 + 40.00 = 115.00: two of three are 76.67, the third 38.33; one came back, so
/// that one is out at 38.33 and two are in stock at 76.67.
/// Topcoat left: 32 − 8 drawn − 4 missing = 20 fl oz, 30.00. Closing stock 76.67 + 30.00 = 106.67.
/// From stock: 128.00 + 90.00 + 40.00 + 27.80 − 106.67 = 179.13.
/// From pieces: chest 80.00 + 27.80 + 12.00 = 119.80; chairs 76.67 − 38.34 = 38.33; bench 15.00;
/// missing topcoat 6.00: 179.13.
/// Receipts 405.00 + 45.00 + 140.00 = 590.00, refunds 70.00: line 3 is 520.00, line 5 340.87.
/// Fee: a tenth of 450.00 + 0.40 = 45.40. Trip: 30 × 0.70 = 21.00. Meals: half of 31.00 = 15.50.
/// Delivery 38.25 is Part V. The equipment is over 2,500: on no line. Line 28:
/// 25.50 + 21.00 + 45.40 + 15.50 + 38.25 = 145.65; line 31: 340.87 − 145.65 = 195.22.
/// In whole dollars line 28 is 26 + 21 + 45 + 16 + 38 = 146 and line 31 is 341 − 146 = 195.
#[test]
fn a_year_worked_by_hand() {
    let year = books_of(&worked_shop(), 2025).unwrap();
    let expected = [
        ("1", "590.00"),
        ("2", "70.00"),
        ("3", "520.00"),
        ("4", "179.13"),
        ("5", "340.87"),
        ("8", "25.50"),
        ("9", "21.00"),
        ("10", "45.40"),
        ("24b", "15.50"),
        ("27b", "38.25"),
        ("28", "145.65"),
        ("31", "195.22"),
        ("35", "128.00"),
        ("36", "90.00"),
        ("37", "40.00"),
        ("38", "27.80"),
        ("39", "0"),
        ("41", "106.67"),
        ("44a", "30"),
    ];
    for (number, amount) in expected {
        assert_eq!(line(&year, number), dec(amount), "line {number}");
    }
    assert_eq!(entered(&year, "28"), dec("146"));
    assert_eq!(entered(&year, "31"), dec("195"));
    assert!(year.proof.holds);
    assert_eq!(year.proof.from_pieces, dec("179.13"));
    assert_eq!(year.apart[0].amount, dec("3200.00"));
    assert_eq!(
        (year.tax(TaxFigure::Collected), year.tax(TaxFigure::Held)),
        (dec("5.60"), dec("0.00"))
    );
    assert_eq!(year.tax(TaxFigure::Marketplace), dec("33.75"));
    let online = year.channels.iter().find(|row| row.key == "online").unwrap();
    assert_eq!(online.expected, dec("483.75"));
    assert_eq!(online.unexplained, Some(dec("0")));
    let chest = &year.sold[0];
    // 450.00 − 119.80 − 45.40 − 38.25 = 246.55 over 6.5 hours.
    assert_eq!((chest.cost, chest.left), (dec("119.80"), dec("246.55")));
    assert_eq!(chest.per_hour, Some(dec("37.93")));
    assert_eq!(year.unsold.len(), 1);
    assert_eq!((year.unsold[0].count, year.unsold[0].cost), (2, dec("76.67")));
    assert_eq!(year.missing_records[0].part.amount, dec("3200.00"));
}
