//! Money between the shop and its buyers: deposits, instalments, cheques that bounced, allowances,
//! returns with a rest still owed, parts taken out. At the door of the books view, and through a
//! shop folder; each worked by hand.

use super::{books_of, line};
use crate::folders::{Folder, Written};
use crate::shops::{allowance, bought, day, dec, payment, piece, sale, shop};
use dovetally::model::{Basis, Sale, Shop};

const CASH: &str = "[books]\nbasis = \"cash\"";
const ACCRUAL: &str = "[books]\nbasis = \"accrual\"";

/// A desk that cost 100.00, in a shop on a basis, with these further lines.
fn desk(basis: &str, lines: &str) -> Written {
    let lines = format!("bought = {{ on = 2024-01-10, price = 100.00 }}\n{lines}");
    Folder::shop(basis).piece("desk", &lines).written()
}

/// Price 400.00, delivery 50.00 and tax 32.00 are 482.00; 100.00 was paid the year before the sale.
///
/// Cash: 100.00 in 2024; of the 382.00 of 2025 the tax of 32.00 is none: 350.00. The cost of 100.00
/// goes with the sale, in 2025. Accrual: 450.00 in 2025.
/// Sales 450.00 less the deposit of the year before 100.00 are the receipts of 350.00.
const DEPOSIT: &str = "
sale = [{ on = 2025-02-10, price = 400.00, delivery-charged = 50.00, tax-collected = 32.00 }]
payment = [{ on = 2024-12-20, amount = 100.00 }, { on = 2025-02-10, amount = 382.00 }]";

#[test]
fn a_deposit_counts_when_paid_or_when_sold() {
    let cash = desk(CASH, DEPOSIT);
    cash.assert_lines(2024, &[("1", "100.00"), ("42", "0"), ("41", "100.00")]);
    cash.assert_lines(2025, &[("1", "350.00"), ("42", "100.00"), ("41", "0")]);
    cash.assert_figures(2024, &[("deposits-at-end", "100.00"), ("tax-collected", "0")]);
    let expected = [
        ("sales", "450.00"),
        ("deposits-at-start", "100.00"),
        ("deposits-at-end", "0"),
        ("receipts-from-sales", "350.00"),
        ("receipts", "350.00"),
        ("tax-collected", "32.00"),
    ];
    cash.assert_figures(2025, &expected);
    let accrual = desk(ACCRUAL, DEPOSIT);
    accrual.assert_lines(2024, &[("1", "0"), ("42", "0")]);
    accrual.assert_lines(2025, &[("1", "450.00"), ("42", "100.00")]);
    accrual.assert_figures(2025, &[("tax-collected", "32.00")]);
}

/// The same deposit as plain values.
fn deposit_shop(basis: Basis) -> Shop {
    let mut desk = piece("pieces/desk");
    desk.bought = Some(bought(day("2024-01-10"), dec("100.00")));
    desk.sale.push(Sale {
        delivery_charged: dec("50.00"),
        tax_collected: dec("32.00"),
        ..sale(day("2025-02-10"), dec("400.00"))
    });
    desk.payment.push(payment(day("2024-12-20"), dec("100.00")));
    desk.payment.push(payment(day("2025-02-10"), dec("382.00")));
    let mut made = Shop { pieces: vec![desk], ..shop() };
    made.books.basis = basis;
    made
}

#[test]
fn a_deposit_at_the_door() {
    for (basis, first, second) in
        [(Basis::Cash, "100.00", "350.00"), (Basis::Accrual, "0", "450.00")]
    {
        let made = deposit_shop(basis);
        let (before, after) = (books_of(&made, 2024).unwrap(), books_of(&made, 2025).unwrap());
        assert_eq!((line(&before, "1"), line(&after, "1")), (dec(first), dec(second)));
        assert_eq!(before.owing.unwrap().deposits, (dec("0"), dec("100.00")));
        assert_eq!(after.owing.unwrap().deposits, (dec("100.00"), dec("0")));
        assert!(before.proof.holds && after.proof.holds);
    }
}

/// Price 300.00, delivery 30.00 and tax 24.00 are 354.00, paid 200.00, 110.00 and 44.00.
///
/// Money is price first, then delivery, then tax: the 310.00 of 2024 are 300.00 and 10.00; the
/// 44.00 of 2025 are 20.00 of delivery and 24.00 of tax. Owed at the end of 2024, without tax: 20.00.
const INSTALMENTS: &str = "
sale = [{ on = 2024-11-05, price = 300.00, delivery-charged = 30.00, tax-collected = 24.00 }]
payment = [{ on = 2024-11-05, amount = 200.00 }, { on = 2024-12-05, amount = 110.00 },
           { on = 2025-01-05, amount = 44.00 }]";

#[test]
fn instalments_over_two_years() {
    let cash = desk(CASH, INSTALMENTS);
    cash.assert_lines(2024, &[("1", "310.00"), ("42", "100.00")]);
    cash.assert_lines(2025, &[("1", "20.00"), ("42", "0")]);
    cash.assert_figures(2024, &[("owed-at-end", "20.00"), ("tax-collected", "0")]);
    cash.assert_figures(2025, &[("owed-at-start", "20.00"), ("tax-collected", "24.00")]);
    cash.assert_figures(2025, &[("receipts-from-sales", "20.00"), ("owed-at-end", "0")]);
    let accrual = desk(ACCRUAL, INSTALMENTS);
    accrual.assert_lines(2024, &[("1", "330.00"), ("42", "100.00")]);
    accrual.assert_lines(2025, &[("1", "0")]);
    accrual.assert_figures(2024, &[("tax-collected", "24.00"), ("owed-at-end", "20.00")]);
}

/// A cheque for 200.00 bounces in January. Until a new one comes 200.00 are owed.
#[test]
fn a_cheque_that_bounces_and_a_new_one() {
    let first = "sale = [{ on = 2024-12-20, price = 200.00 }]
payment = [{ on = 2024-12-20, amount = 200.00, back = 2025-01-08 }";
    let alone = desk(CASH, &format!("{first}]"));
    alone.assert_lines(2024, &[("1", "200.00")]);
    alone.assert_lines(2025, &[("1", "-200.00"), ("42", "0")]);
    alone.assert_figures(2025, &[("owed-at-start", "0"), ("owed-at-end", "200.00")]);
    let new = desk(CASH, &format!("{first}, {{ on = 2025-01-20, amount = 200.00 }}]"));
    new.assert_lines(2025, &[("1", "0")]);
    new.assert_figures(2025, &[("owed-at-end", "0"), ("receipts-from-sales", "0")]);
    let accrual = desk(ACCRUAL, &format!("{first}]"));
    accrual.assert_lines(2024, &[("1", "200.00")]);
    accrual.assert_lines(2025, &[("1", "0"), ("2", "0")]);
}

/// Of 300.00, 100.00 is paid. 50.00 is let off: 150.00 is still owed, nothing is given back. That is
/// paid; then 30.00 is given back.
///
/// Cash: 250.00 came in and 30.00 went out. Accrual: 300.00 less 80.00. Both leave 220.00.
const ALLOWANCES: &str = "
sale = [{ on = 2025-03-01, price = 300.00 }]
payment = [{ on = 2025-03-01, amount = 100.00 }, { on = 2025-05-01, amount = 150.00 }]
allowance = [{ on = 2025-04-01, amount = 50.00, what = \"a split side\" },
             { on = 2025-06-01, amount = 30.00, what = \"a lock\" }]";

#[test]
fn an_allowance_lowers_what_is_owed_first() {
    let cash = desk(CASH, ALLOWANCES);
    cash.assert_lines(2025, &[("1", "250.00"), ("2", "30.00"), ("3", "220.00")]);
    let expected = [("sales", "300.00"), ("given-up", "50.00"), ("receipts-from-sales", "250.00")];
    cash.assert_figures(2025, &expected);
    let accrual = desk(ACCRUAL, ALLOWANCES);
    accrual.assert_lines(2025, &[("1", "300.00"), ("2", "80.00"), ("3", "220.00")]);
    for shop in [cash, accrual] {
        assert_eq!(shop.tally("desk")["price"], "220.00");
        shop.assert_figures(2025, &[("owed-at-end", "0")]);
    }
}

#[test]
fn an_allowance_of_a_sale_paid_on_its_day_is_given_back() {
    // 300.00 less 45.00: no payments are written, so all of it was paid.
    let lines = "sale = [{ on = 2024-12-01, price = 300.00, tax-collected = 24.00 }]
allowance = [{ on = 2025-01-15, amount = 45.00, tax-returned = 3.60 }]";
    for basis in [CASH, ACCRUAL] {
        let shop = desk(basis, lines);
        shop.assert_lines(2024, &[("1", "300.00"), ("2", "0")]);
        shop.assert_lines(2025, &[("1", "0"), ("2", "45.00"), ("3", "-45.00")]);
        shop.assert_figures(2025, &[("tax-collected", "-3.60")]);
    }
}

/// Of 300.00, 120.00 is paid and given back with the piece; 180.00 is owed no more.
///
/// Cash: 120.00 in, 120.00 out. Accrual: 300.00 sold, 120.00 + 180.00 gone. The desk is stock again.
#[test]
fn a_return_with_a_rest_still_owed() {
    let lines = "sale = [{ on = 2025-03-01, price = 300.00 }]
payment = [{ on = 2025-03-01, amount = 120.00 }]
return = [{ on = 2025-04-10, refunded = 120.00 }]";
    let cash = desk(CASH, lines);
    cash.assert_lines(2025, &[("1", "120.00"), ("2", "120.00"), ("3", "0")]);
    let accrual = desk(ACCRUAL, lines);
    accrual.assert_lines(2025, &[("1", "300.00"), ("2", "300.00"), ("3", "0")]);
    for shop in [cash, accrual] {
        shop.assert_lines(2025, &[("42", "0"), ("41", "100.00")]);
        let expected = [("given-up", "180.00"), ("owed-at-end", "0"), ("deposits-at-end", "0")];
        shop.assert_figures(2025, &expected);
    }
}

#[test]
fn given_up_at_the_door() {
    // 300.00 less 50.00 let off before anything was paid, on cash: 250.00 received, 50.00 given up.
    let mut made = deposit_shop(Basis::Cash);
    let desk = &mut made.pieces[0];
    desk.sale = vec![sale(day("2025-03-01"), dec("300.00"))];
    desk.payment = vec![payment(day("2025-05-01"), dec("250.00"))];
    desk.allowance.push(allowance(day("2025-04-01"), dec("50.00")));
    let year = books_of(&made, 2025).unwrap();
    let owing = year.owing.as_ref().unwrap();
    assert_eq!((owing.given_up, owing.received), (dec("50.00"), dec("250.00")));
    assert_eq!((line(&year, "1"), line(&year, "2")), (dec("250.00"), dec("0")));
}

/// A wardrobe of 90.00 gives a mirror (20.00) to a dresser of 60.00 and brasses (10.00) that are
/// sold for 35.00: 60.00 of it is left.
fn parted(wardrobe: &str, dresser: &str) -> Written {
    Folder::new()
        .piece(
            "wardrobe",
            &format!(
                "bought = {{ on = 2024-05-01, price = 90.00 }}
salvaged = [{{ on = 2025-02-01, what = \"mirror\", cost = 20.00, to = \"dresser\" }},
            {{ on = 2025-02-01, what = \"brasses\", cost = 10.00, sold-for = 35.00 }}]
{wardrobe}"
            ),
        )
        .piece("dresser", &format!("bought = {{ on = 2025-01-15, price = 60.00 }}\n{dresser}"))
        .written()
}

#[test]
fn parts_take_their_cost_with_them() {
    // Both stay in stock: 60.00 + 80.00. Of 90.00 + 60.00 the brasses alone are gone.
    let shop = parted("", "");
    shop.assert_lines(2024, &[("41", "90.00")]);
    shop.assert_lines(2025, &[("35", "90.00"), ("36", "60.00"), ("41", "140.00"), ("42", "10.00")]);
    shop.assert_lines(2025, &[("1", "35.00"), ("5", "25.00")]);
    shop.assert_figures(2025, &[("parts-cost", "10.00"), ("parts-sold", "35.00")]);
    // The shop view takes the 25.00 the brasses earned off what the wardrobe still has to bring.
    assert_eq!(shop.tally("wardrobe")["cost_of_goods"], "35.00");
    assert_eq!(shop.tally("dresser")["cost_of_goods"], "80.00");
}

#[test]
fn a_piece_scrapped_after_parts_were_taken_loses_the_rest() {
    // The dresser sold at 80.00, the brasses 10.00, the rest of the wardrobe 60.00: 150.00.
    let shop = parted(
        "withdrawn = { on = 2025-06-01, how = \"scrapped\" }",
        "sale = [{ on = 2025-07-01, price = 250.00 }]",
    );
    shop.assert_lines(2025, &[("40", "150.00"), ("41", "0"), ("42", "150.00")]);
    shop.assert_lines(2025, &[("1", "285.00"), ("5", "135.00")]);
    let expected = [("pieces-sold", "80.00"), ("parts-cost", "10.00"), ("written-off", "60.00")];
    shop.assert_figures(2025, &expected);
}

#[test]
fn goods_out_on_consignment_stay_stock_until_sold() {
    let shop = Folder::new()
        .piece(
            "bench",
            "bought = { on = 2025-02-01, price = 70.00 }
consigned = [{ on = 2025-05-01, to = \"a dealer\" }]
sale = [{ on = 2026-02-01, price = 200.00 }]",
        )
        .written();
    shop.assert_lines(2025, &[("41", "70.00"), ("42", "0"), ("1", "0")]);
    shop.assert_lines(2026, &[("35", "70.00"), ("42", "70.00"), ("1", "200.00")]);
}

/// 482.00 asked and paid by 2025, and 5,000.00 more written in 2026.
#[test]
fn a_slip_of_a_later_year_does_not_touch_an_earlier_one() {
    let mut made = deposit_shop(Basis::Cash);
    made.pieces[0].payment.push(payment(day("2026-03-01"), dec("5000.00")));
    assert!(books_of(&made, 2025).is_ok());
    let findings = books_of(&made, 2026).unwrap_err();
    assert_eq!(findings[0].code.word(), "payment-over-price");
}
