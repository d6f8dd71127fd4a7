//! Worked examples of a textbook under an open licence, through a shop folder and the command line.
//!
//! OpenStax, Principles of Accounting, volumes 1 (Financial Accounting) and 2 (Managerial
//! Accounting), CC BY-NC-SA 4.0. Every figure checked was read in the text, in a printed solution
//! or in the description of one; what follows from those by one sum is marked so. The years are
//! ours: the book's own are of 2018 and earlier, for which there is no form here.

use crate::folders::{Folder, Written, expense};
use serde_json::Value;

/// A purchase of a day for a price, and further lines.
fn piece_of(cost: u32, more: &str) -> String {
    format!("bought = {{ on = 2023-01-02, price = {cost} }}\n{more}")
}

/// The accounts of a shop that counts money when it is earned.
fn accrual() -> Folder {
    Folder::shop("[books]\nbasis = \"accrual\"")
}

// --- Goods sold, brought back, and sold at less ------------------------------------------------
// An allowance and a refund are entered as amounts: a discount of some per cent is worked out by
// hand, and what is checked is what the books make of it.

#[test]
fn phones_sold_returned_and_allowed_for() {
    // Vol. 1, sec. 6.4: 250 telephones that cost 60 sell at 150; 40 come back for 6,000 and are
    // stock again at 2,400; 20 are kept for 10 less each. A set holds 100 at most.
    let shop = Folder::new()
        .piece(
            "first",
            &format!(
                "count = 100\n{}",
                piece_of(
                    6000,
                    "sale = [{ on = 2023-09-01, price = 15000 }]
return = [{ on = 2023-09-03, refunded = 6000, count = 40 }]"
                )
            ),
        )
        .piece(
            "second",
            &format!(
                "count = 100\n{}",
                piece_of(
                    6000,
                    "sale = [{ on = 2023-09-01, price = 15000 }]
allowance = [{ on = 2023-09-08, amount = 200 }]"
                )
            ),
        )
        .piece(
            "third",
            &format!(
                "count = 50\n{}",
                piece_of(3000, "sale = [{ on = 2023-09-01, price = 7500 }]")
            ),
        )
        .written();
    shop.assert_lines(2023, &[("1", "37500"), ("2", "6200"), ("41", "2400"), ("42", "12600")]);
}

#[test]
fn printers_sold_on_credit_returned_allowed_for_and_discounted() {
    // Vol. 1, sec. 6.4: 55 printers that cost 100 sell at 350 on credit; 10 come back, 5 are kept
    // for 60 less each, and 10 % of the 15,450 then owed are a discount of 1,545: 13,905 are paid.
    let shop = accrual()
        .piece(
            "kept",
            &piece_of(
                4500,
                "sale = [{ on = 2023-10-01, price = 15750 }]
payment = [{ on = 2023-10-15, amount = 13905 }]
allowance = [{ on = 2023-10-10, amount = 300 }, { on = 2023-10-15, amount = 1545 }]",
            ),
        )
        .piece(
            "back",
            &piece_of(
                1000,
                "sale = [{ on = 2023-10-01, price = 3500 }]
return = [{ on = 2023-10-06, refunded = 3500 }]",
            ),
        )
        .written();
    let expected = [("1", "19250"), ("2", "5345"), ("3", "13905"), ("42", "4500"), ("41", "1000")];
    shop.assert_lines(2023, &expected);
}

#[test]
fn a_discount_for_paying_early() {
    // Vol. 1, sec. 6.4: 56 tablets at 300 that cost 60; 2 % of 16,800 are 336, and 16,464 are paid.
    let paid_early = piece_of(
        3360,
        "sale = [{ on = 2023-08-01, price = 16800 }]
payment = [{ on = 2023-08-10, amount = 16464 }]
allowance = [{ on = 2023-08-10, amount = 336 }]",
    );
    let shop = accrual().piece("tablets", &paid_early).written();
    shop.assert_lines(2023, &[("1", "16800"), ("2", "336"), ("3", "16464"), ("42", "3360")]);
    let in_cash = Folder::new().piece("tablets", &paid_early).written();
    in_cash.assert_lines(2023, &[("3", "16464"), ("42", "3360")]);
}

#[test]
fn part_of_a_sale_brought_back_before_it_is_paid() {
    // Vol. 1, sec. 6.4, first exercise with its solution: of 2,450 sold (cost 1,000) goods for 500
    // (cost 130) come back; what follows is a discount of 2 % on 1,950.
    let shop = accrual()
        .piece(
            "kept",
            &piece_of(
                870,
                "sale = [{ on = 2023-01-05, price = 1950 }]
payment = [{ on = 2023-01-14, amount = 1911 }]
allowance = [{ on = 2023-01-14, amount = 39 }]",
            ),
        )
        .piece(
            "back",
            &piece_of(
                130,
                "sale = [{ on = 2023-01-05, price = 500 }]
return = [{ on = 2023-01-09, refunded = 500 }]",
            ),
        )
        .written();
    shop.assert_lines(2023, &[("1", "2450"), ("2", "539"), ("42", "870"), ("41", "130")]);
}

#[test]
fn a_return_an_allowance_and_a_discount() {
    // Vol. 1, sec. 6.4, second exercise with its solution: 8,600 sold (cost 2,650), 1,250 back
    // (cost 380), 230 allowed; 5 % of the rest of 7,120 follow as 356.
    let shop = accrual()
        .piece(
            "kept",
            &piece_of(
                2270,
                "sale = [{ on = 2023-05-10, price = 7350 }]
payment = [{ on = 2023-05-20, amount = 6764 }]
allowance = [{ on = 2023-05-15, amount = 230 }, { on = 2023-05-20, amount = 356 }]",
            ),
        )
        .piece(
            "back",
            &piece_of(
                380,
                "sale = [{ on = 2023-05-10, price = 1250 }]
return = [{ on = 2023-05-13, refunded = 1250 }]",
            ),
        )
        .written();
    shop.assert_lines(2023, &[("1", "8600"), ("2", "1836"), ("3", "6764"), ("42", "2270")]);
}

// --- Goods bought, sent back, and had for less ---------------------------------------------------

/// Goods bought for a price, and what the supplier paid back of it on later days.
fn bought_less(price: u32, refunds: &[(&str, u32)]) -> Written {
    let refunds = refunds.iter().map(|(on, amount)| {
        format!(
            "[[refund]]\non = {on}\namount = {amount}\nwhat = \"of the goods\"\npiece = \"goods\"\n"
        )
    });
    Folder::new()
        .piece("goods", &piece_of(price, ""))
        .book(2023, &refunds.collect::<String>())
        .written()
}

#[test]
fn goods_sent_back_and_allowed_for_cost_less() {
    // Vol. 1, sec. 6.3. Telephones for 18,000: 25 go back for 1,500, an allowance of 480; what is
    // left follows. Printers for 8,000: 1,500 back, 120 allowed, 319 discount, 6,061 paid. The
    // exercise: 500, 150 back, 7 discount, 343 paid. Tablets for 4,020: 201 discount, 3,819 paid.
    let phones = [("2023-06-03", 1500), ("2023-06-08", 480)];
    let printers = [("2023-07-06", 1500), ("2023-07-10", 120), ("2023-07-15", 319)];
    for (price, refunds, left) in [
        (18000, &phones[..], "16020"),
        (8000, &printers[..], "6061"),
        (500, &[("2023-12-06", 150), ("2023-12-09", 7)][..], "343"),
        (4020, &[("2023-05-10", 201)][..], "3819"),
    ] {
        let shop = bought_less(price, refunds);
        shop.assert_lines(2023, &[("36", left), ("41", left), ("42", "0")]);
        assert_eq!(shop.tally("goods")["cost_of_goods"], format!("{left}.00"));
    }
}

#[test]
fn equipment_bought_sent_back_in_part_and_discounted() {
    // Vol. 1, sec. 12.3: of 12,000 goods for 1,000 go back; 2 % of 11,000 are 220: stock is up by
    // 10,780. Without the return the discount is 240 and the goods cost 11,760.
    bought_less(12000, &[("2023-08-08", 1000), ("2023-08-10", 220)])
        .assert_lines(2023, &[("41", "10780")]);
    bought_less(12000, &[("2023-08-10", 240)]).assert_lines(2023, &[("41", "11760")]);
}

// --- Freight ---------------------------------------------------------------------------------------

#[test]
fn freight_in_is_part_of_what_goods_cost() {
    // Vol. 1, sec. 6.5: 40 tablets at 60 with 5 each for shipping are 2,600 of stock; 30 computers
    // at 80 with 1,000 for shipping are 3,400.
    for (price, freight, stock) in [(2400, 200, "2600"), (2400, 1000, "3400")] {
        let freight = format!(
            "cost = [{{ on = 2023-01-02, what = \"shipping\", kind = \"freight-in\", \
             amount = {freight} }}]"
        );
        let shop = Folder::new().piece("goods", &piece_of(price, &freight)).written();
        shop.assert_lines(2023, &[("41", stock), ("42", "0")]);
        assert_eq!(shop.tally("goods")["cost_of_goods"], format!("{stock}.00"));
    }
}

#[test]
fn freight_out_is_a_selling_cost() {
    // Vol. 1, sec. 6.5: 30 telephones that cost 60 sell at 150, delivered for 120: sales of 4,500,
    // cost of 1,800; the gross profit of 2,700 and what is left of it follow.
    let sold = "sale = [{ on = 2023-03-01, price = 4500, delivery-cost = 120 }]";
    let shop = Folder::new().piece("phones", &piece_of(1800, sold)).written();
    let tally = shop.tally("phones");
    assert_eq!(tally["gross_profit"], "2700.00");
    assert_eq!((&tally["selling_costs"], &tally["net"]), (&"120.00".into(), &"2580.00".into()));
    shop.assert_lines(2023, &[("1", "4500"), ("42", "1800"), ("5", "2700"), ("31", "2580")]);
}

// --- Sales tax, fees and money owed ---------------------------------------------------------------

/// Sold on 20 August for a price at a rate of tax, which is then passed on.
fn taxed(price: u32, rate: &str, remitted: &str) -> Written {
    let sold = format!("sale = [{{ on = 2023-08-20, price = {price}, tax-place = \"state\" }}]");
    let remitted = format!(
        "[[remitted]]\non = 2023-09-20\nto = \"the state\"\ntax-place = \"state\"\n\
         amount = {remitted}\n"
    );
    Folder::shop(&format!("[tax.state]\nrate = \"{rate}\""))
        .piece("one", &piece_of(0, &sold))
        .book(2023, &remitted)
        .written()
}

#[test]
fn sales_tax_is_held_for_the_state() {
    // Vol. 1, sec. 12.3: 18,000 at 6 % are 1,080 of tax, 19,080 from the buyer, no expense when it
    // is passed on; the multiple choice: 3,000 at 3.5 % are 105.
    for (price, rate, tax) in [(18000, "6%", "1080"), (3000, "3.5%", "105")] {
        let shop = taxed(price, rate, tax);
        shop.assert_lines(2023, &[("1", &price.to_string()), ("28", "0")]);
        shop.assert_figures(2023, &[("tax-state-collected", tax), ("tax-state-held", "0")]);
    }
}

#[test]
fn a_card_company_keeps_its_fee() {
    // Vol. 1, sec. 9.1: of 300 a fee of 5 % is 15, and 285 arrive.
    let sold = "sale = [{ on = 2023-03-01, price = 300, channel = \"card\" }]";
    let shop = Folder::shop("[channel.card]\nfee = \"5%\"").piece("one", &piece_of(0, sold));
    let shop = shop.written();
    assert_eq!((&shop.tally("one")["net"]), "285.00");
    shop.assert_lines(2023, &[("1", "300"), ("10", "15"), ("31", "285")]);
}

#[test]
fn what_is_not_paid_yet_is_earned_only_on_accrual() {
    // Vol. 1, sec. 9.1: of a sale of 100,000 that cost 70,000 a buyer pays 75,000 and owes 25,000.
    let sold = piece_of(
        70000,
        "sale = [{ on = 2023-11-01, price = 100000 }]
payment = [{ on = 2023-12-01, amount = 75000 }]",
    );
    let earned = accrual().piece("craft", &sold).written();
    earned.assert_lines(2023, &[("1", "100000"), ("42", "70000"), ("5", "30000")]);
    let received = Folder::new().piece("craft", &sold).written();
    received.assert_lines(2023, &[("1", "75000"), ("42", "70000")]);
}

#[test]
fn a_shop_that_sells_on_commission_keeps_a_third() {
    // Vol. 1, sec. 10.1: office furniture on consignment sells for 15,000; the shop keeps a third,
    // 5,000, and 10,000 go to the owner, whose stock it was until then.
    let shop = Folder::shop("[channel.dealer]\nfee = \"33.333333%\"")
        .piece(
            "desk",
            &piece_of(
                0,
                "consigned = [{ on = 2023-02-01, to = \"the dealer\" }]
sale = [{ on = 2023-03-01, price = 15000, channel = \"dealer\" }]",
            ),
        )
        .written();
    assert_eq!(shop.tally("desk")["net"], "10000.00");
    shop.assert_lines(2023, &[("1", "15000"), ("10", "5000")]);
}

// --- What units cost when they leave ---------------------------------------------------------------

#[test]
fn opening_stock_and_purchases_less_closing_stock() {
    // Vol. 1, sec. 10.1: 50 units at 7 and 20 more, less 18 left: 350 + 140 − 126 = 364.
    let set = |count: u32, on: &str, cost: u32, sold: u32| {
        let sale = match sold {
            0 => String::new(),
            _ => format!("sale = [{{ on = 2023-02-20, price = {}, count = {sold} }}]", sold * 10),
        };
        format!("count = {count}\nbought = {{ on = {on}, price = {cost} }}\n{sale}")
    };
    let shop = Folder::new()
        .piece("opening", &set(50, "2022-12-31", 350, 50))
        .piece("bought", &set(20, "2023-02-05", 140, 2))
        .written();
    let expected = [("35", "350"), ("36", "140"), ("40", "490"), ("41", "126"), ("42", "364")];
    shop.assert_lines(2023, &expected);
}

#[test]
fn one_unit_of_three_lots() {
    // Vol. 1, sec. 10.1: lots of 150 at 21, 225 at 27 and 210 at 33; one unit sells for 36. First
    // in, first out leaves 15 of it, the average of 27.62 leaves 8.38.
    for (method, cost, margin) in [("fifo", "21.00", "15.00"), ("average", "27.62", "8.38")] {
        let shop = Folder::shop(&format!("[books]\nstock-cost = \"{method}\""))
            .file("stock.toml", "[unit]\nlabel = \"units\"\nunit = \"each\"\n")
            .piece(
                "one",
                "used = [{ on = 2023-07-30, stock = \"unit\", quantity = \"1 each\" }]
bought = { on = 2023-07-01, price = 0 }
sale = [{ on = 2023-07-30, price = 36 }]",
            )
            .book(
                2023,
                "supply = [{ on = 2023-07-01, stock = \"unit\", quantity = \"150 each\", amount = 3150 },
{ on = 2023-07-10, stock = \"unit\", quantity = \"225 each\", amount = 6075 },
{ on = 2023-07-25, stock = \"unit\", quantity = \"210 each\", amount = 6930 }]",
            )
            .written();
        let tally = shop.tally("one");
        assert_eq!(
            (&tally["cost_of_goods"], &tally["gross_profit"]),
            (&cost.into(), &margin.into())
        );
    }
}

// --- Prices that reach a target, and what is left over fixed costs -----------------------------------

#[test]
fn contribution_of_one_unit() {
    // Vol. 2, sec. 3.1: sold at 100 with variable costs of 20 leaves 80, a ratio of 0.80; at 75
    // with 15 it leaves 60; the multiple choice: 150 with 60 leaves 90.
    for (sold, cost, left, ratio) in
        [(100, 20, "80.00", "0.8000"), (75, 15, "60.00", "0.8000"), (150, 60, "90.00", "0.6000")]
    {
        let sale = format!("sale = [{{ on = 2023-03-01, price = {sold} }}]");
        let tally = Folder::new().piece("one", &piece_of(cost, &sale)).written().tally("one");
        assert_eq!((&tally["gross_profit"], &tally["gross_margin"]), (&left.into(), &ratio.into()));
    }
}

/// So many units that cost 20 each, sold at 100 each; a set holds 100 at most.
fn units_sold(units: u32) -> Folder {
    let sets = (0..units.div_ceil(100)).map(|nth| (nth, (units - nth * 100).min(100)));
    sets.fold(Folder::new(), |shop, (nth, count)| {
        let sale = format!("sale = [{{ on = 2023-03-01, price = {} }}]", count * 100);
        let lines = format!("count = {count}\n{}", piece_of(count * 20, &sale));
        shop.piece(&format!("set-{nth}"), &lines)
    })
}

#[test]
fn what_so_many_units_leave_over_fixed_costs() {
    // Vol. 2, sec. 3.2: with fixed costs of 18,000 and 20 of variable cost on each 100, 175 units
    // lose 4,000, 225 break even at 22,500, 300 earn 6,000, 425 earn 16,000 at 42,500 and 725 earn
    // 40,000 at 72,500; the sales of 175 and of 300 follow.
    for (units, sales, profit) in [
        (175, "17500", "-4000"),
        (225, "22500", "0"),
        (300, "30000", "6000"),
        (425, "42500", "16000"),
        (725, "72500", "40000"),
    ] {
        let rent = expense("rent", "18000");
        let shop = units_sold(units).book(2023, &rent).written();
        shop.assert_lines(2023, &[("1", sales), ("28", "18000"), ("31", profit)]);
    }
}

#[test]
fn a_kiosk_in_two_months() {
    // Vol. 2, sec. 3.1, exercise with its solution: shirts at 25 that cost 15.00 and 0.50 of
    // commission, which is 2 % of it; rent 300 and a salary of 400. A hundred leave 250, two
    // hundred 1,200.
    for (cost, sales, commission, left) in
        [(1500, "2500", "50", "250"), (3000, "5000", "100", "1200")]
    {
        let sale = format!("sale = [{{ on = 2023-02-28, price = {sales}, channel = \"kiosk\" }}]");
        let shop = Folder::shop("[channel.kiosk]\nfee = \"2%\"")
            .piece("shirts", &piece_of(cost, &sale))
            .book(2023, &[expense("rent", "300"), expense("wages", "400")].concat())
            .written();
        shop.assert_lines(2023, &[("1", sales), ("10", commission), ("31", left)]);
    }
}

#[test]
fn roasting_what_is_near_its_date() {
    // Vol. 2, sec. 10.5: meat that cost 4.50 a pound, 3.00 as it is, 6.50 after 2.80 of roasting:
    // what follows is a gain of 0.70, whatever was paid before.
    let shop = Folder::new().piece("meat", "bought = { on = 2023-01-02, price = 4.50 }").written();
    let words =
        ["price", "meat", "--as-found", "3.00", "--after", "6.50", "--costs", "2.80", "--json"];
    let said = shop.run(&words);
    let asked: Value = serde_json::from_str(&said.out).unwrap_or_else(|_| panic!("{}", said.err));
    assert_eq!(asked[0]["as_found"]["gain"], "0.70", "{asked}");
}
