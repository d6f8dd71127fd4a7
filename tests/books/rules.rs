//! Single rules of the books view, each on a shop as small as it can be.

use super::{books_of, entered, expense, line, reported};
use crate::shops::{
    book, bought, channel, cost, day, dec, piece, returned, sale, shop, stock_item, supply, used,
    withdrawn,
};
use dovetally::model::{CostKind, Sale, Shop, Supplies, WithdrawalKind};
use dovetally::reckon::year::{Total, figures, trace};

fn one_piece(with: impl FnOnce(&mut dovetally::model::Piece)) -> Shop {
    let mut made = shop();
    let mut desk = piece("pieces/desk");
    desk.bought = Some(bought(day("2024-03-01"), dec("100.00")));
    with(&mut desk);
    made.pieces.push(desk);
    made
}

#[test]
fn a_return_in_the_next_year_takes_its_cost_back_into_stock_there() {
    let made = one_piece(|desk| {
        desk.sale.push(sale(day("2024-12-20"), dec("300.00")));
        desk.returned.push(returned(day("2025-01-08"), dec("300.00")));
    });
    let (sold, back) = (books_of(&made, 2024).unwrap(), books_of(&made, 2025).unwrap());
    assert_eq!((line(&sold, "1"), line(&sold, "42")), (dec("300.00"), dec("100.00")));
    assert_eq!((line(&back, "1"), line(&back, "2")), (dec("0"), dec("300.00")));
    assert_eq!((line(&back, "42"), line(&back, "41")), (dec("-100.00"), dec("100.00")));
    assert!(sold.proof.holds && back.proof.holds);
}

#[test]
fn a_cost_that_comes_after_the_sale_counts_in_its_own_year() {
    let made = one_piece(|desk| {
        desk.sale.push(sale(day("2024-12-20"), dec("300.00")));
        desk.cost.push(cost(day("2025-02-01"), CostKind::PaidWork, dec("12.00")));
    });
    assert_eq!(line(&books_of(&made, 2024).unwrap(), "42"), dec("100.00"));
    let late = books_of(&made, 2025).unwrap();
    assert_eq!((line(&late, "37"), line(&late, "42")), (dec("12.00"), dec("12.00")));
    assert!(late.proof.holds);
}

#[test]
fn what_is_kept_leaves_purchases_and_what_is_scrapped_is_a_cost() {
    let gone = |how| {
        let made = one_piece(|desk| desk.withdrawn = Some(withdrawn(day("2024-10-01"), how)));
        books_of(&made, 2024).unwrap()
    };
    let kept = gone(WithdrawalKind::Kept);
    assert_eq!((line(&kept, "36"), line(&kept, "42")), (dec("0"), dec("0")));
    let given = gone(WithdrawalKind::Given);
    assert_eq!((line(&given, "36"), given.notes[0].code.word()), (dec("100.00"), "given-away"));
    assert!(kept.proof.holds && given.proof.holds);
    let scrapped = gone(WithdrawalKind::Scrapped);
    assert_eq!((line(&scrapped, "36"), line(&scrapped, "42")), (dec("100.00"), dec("100.00")));
}

#[test]
fn parts_of_a_set_add_up_whatever_comes_in_between() {
    let made = one_piece(|desk| {
        desk.count = 3;
        for (on, price) in [("2024-05-01", "50"), ("2024-07-01", "51"), ("2024-09-01", "52")] {
            desk.sale.push(Sale { count: Some(1.into()), ..sale(day(on), dec(price)) });
        }
        desk.cost.push(cost(day("2024-06-01"), CostKind::Material, dec("0.01")));
    });
    let year = books_of(&made, 2024).unwrap();
    let costs: Vec<_> = year.sold.iter().map(|row| row.cost).collect();
    // 100.00 ÷ 3 is 33.33; of 100.01 the first two bear 66.67 and the third the rest.
    assert_eq!(costs, [dec("33.33"), dec("33.33"), dec("33.34")]);
    assert_eq!(line(&year, "42"), dec("100.01"));
    assert!(year.proof.holds);
}

#[test]
fn supplies_are_stock_or_an_expense_and_never_both() {
    let mut made = one_piece(|desk| desk.used.push(used(day("2024-04-01"), "wax", "1 oz")));
    made.stock.insert("wax".to_owned(), stock_item("wax", "oz"));
    let bought = supply(day("2024-02-01"), "wax", "4 oz", dec("20.00"));
    book(&mut made, 2024).supply.push(bought);
    let used = books_of(&made, 2024).unwrap();
    assert_eq!((line(&used, "38"), line(&used, "22")), (dec("20.00"), dec("0")));
    assert_eq!(line(&used, "41"), dec("120.00"));
    made.books.supplies = Supplies::WhenBought;
    let paid = books_of(&made, 2024).unwrap();
    assert_eq!((line(&paid, "38"), line(&paid, "22")), (dec("0"), dec("20.00")));
    assert_eq!(line(&paid, "41"), dec("100.00"));
    assert!(used.proof.holds && paid.proof.holds);
}

#[test]
fn a_report_is_explained_by_one_cause_or_said_to_be_unexplained() {
    let mut made = one_piece(|desk| {
        let online = Some("online".to_owned().into());
        desk.sale.push(Sale { channel: online, ..sale(day("2024-12-28"), dec("200.00")) });
    });
    made.channels.insert("online".to_owned(), channel("online", dec("0.10"), dec("0")));
    let row = |gross: &str| {
        let mut made = made.clone();
        book(&mut made, 2024).reported.push(reported("online", gross));
        books_of(&made, 2024).unwrap().channels.remove(0)
    };
    assert_eq!((row("200.00").cause, row("200.00").unexplained), (None, Some(dec("0"))));
    let net = row("180.00");
    assert_eq!((net.explained, net.unexplained), (dec("-20.00"), Some(dec("0"))));
    assert_eq!(net.cause.unwrap(), "the fees were taken off");
    let late = row("0.00");
    assert!(late.cause.unwrap().contains("sold on 28 December 2024, is not in it"));
    assert_eq!(row("195.00").unexplained, Some(dec("-5.00")));
}

#[test]
fn whole_amounts_add_up_on_the_form_and_the_difference_is_said() {
    let mut made = shop();
    let book = book(&mut made, 2025);
    for category in ["advertising", "office", "utilities"] {
        book.expense.push(expense("2025-05-05", category, "10.50"));
    }
    let year = books_of(&made, 2025).unwrap();
    assert_eq!((line(&year, "28"), entered(&year, "28")), (dec("31.50"), dec("33")));
    let note = year.whole_notes.iter().find(|note| note.line == "28").unwrap();
    assert_eq!((note.of_wholes, note.of_exact), (dec("33"), dec("32")));
}

#[test]
fn every_figure_has_a_name_that_can_be_traced() {
    let year = books_of(&super::worked_shop(), 2025).unwrap();
    for name in ["line-1", "opening-stock", "trips", "channel-online-expected", "net-profit"] {
        assert!(figures(&year).any(|known| known == name), "{name}");
    }
    assert!(trace(&year, "line-99").is_none());
    let stock = trace(&year, "opening-stock").unwrap();
    assert_eq!(stock.parts.len(), 2);
    let months: dovetally::model::Money = year.months.iter().map(|month| month.received).sum();
    assert_eq!(months, year.total(Total::NetReceipts));
}
