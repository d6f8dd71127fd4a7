//! Slips the books once made between the shop and its buyers, each worked by hand: they stay right.

use super::books_of;
use crate::folders::{Folder, Written};
use crate::shops::{day, dec, piece, returned, sale, shop};
use dovetally::model::{Sale, Shop, split};
use dovetally::reckon::reckon;
use dovetally::reckon::year::Total;
use serde_json::Value;

const ACCRUAL: &str = "[books]\nbasis = \"accrual\"\n";
const CHANNEL: &str = "[channel.online]\ncollects-tax = true\n";

fn desk(shop: &str, lines: &str) -> Written {
    let lines = format!("bought = {{ on = 2024-01-10, price = 100.00 }}\n{lines}");
    Folder::shop(shop).piece("desk", &lines).written()
}

/// One chair sold by the shop with 30.00 of tax, one through a channel with 12.00 of its own. The
/// first comes back: the shop's tax is 0, the channel's 12.00. Both refunds are 300.00 and 150.00.
#[test]
fn a_return_goes_to_the_sale_it_names() {
    let lines = |first: &str| {
        format!(
            "count = 2
sale = [{{ on = 2025-03-01, count = 1, price = 300.00, tax-collected = 30.00 }},
        {{ on = 2025-04-01, count = 1, price = 150.00, tax-collected = 12.00, channel = \"online\" }}]
return = [{{ on = 2025-05-01, refunded = 300.00, tax-returned = 30.00{first} }}]"
        )
    };
    let named = desk(CHANNEL, &lines(", sale-on = 2025-03-01"));
    named.assert_figures(2025, &[("tax-collected", "0"), ("tax-marketplace", "12.00")]);
    named.assert_figures(2025, &[("channel-none-refunds", "300.00"), ("tax-held", "0")]);
    // Without the day it would be of the latest, which was never paid as much.
    let unnamed = desk(CHANNEL, &lines(""));
    assert!(unnamed.refused(2025).contains("`sale-on` says which sale it is of"));
    let check = unnamed.run(&["check"]);
    assert!(
        check.out.contains("return-of-which-sale") || check.err.contains("return-of-which-sale")
    );
}

/// What is written is what the buyer pays: 110.00 and 22.00 with a tenth of tax inside are 100.00,
/// 20.00 and 12.00. Where delivery is not taxed, 110.00 holds 10.00.
#[test]
fn tax_inside_a_price_is_inside_the_delivery_too() {
    let taxed = |on_delivery: bool| {
        let place = format!("[tax.town]\nrate = \"10%\"\non-delivery = {on_delivery}\n");
        desk(
            &place,
            "sale = [{ on = 2025-03-01, price = 110.00, delivery-charged = 22.00, \
             tax-place = \"town\", tax-included = true }]",
        )
    };
    taxed(true).assert_lines(2025, &[("1", "120.00")]);
    taxed(true).assert_figures(2025, &[("tax-town-collected", "12.00")]);
    assert_eq!(taxed(true).tally("desk")["price"], "100.00");
    taxed(false).assert_lines(2025, &[("1", "122.00")]);
    taxed(false).assert_figures(2025, &[("tax-town-collected", "10.00")]);
}

/// A deposit of 50.00 is given back. Nothing is owed, by nobody, whatever is sold later.
#[test]
fn a_deposit_given_back_is_not_owed() {
    let back = "payment = [{ on = 2024-12-01, amount = 50.00, back = 2025-01-10 }]";
    let sold = format!("{back}\nsale = [{{ on = 2025-03-01, price = 300.00 }}]");
    for (lines, received) in [(back, "-50.00"), (sold.as_str(), "250.00")] {
        let shop = desk("", lines);
        shop.assert_lines(2024, &[("1", "50.00")]);
        shop.assert_figures(2024, &[("deposits-at-end", "50.00"), ("owed-at-end", "0")]);
        shop.assert_lines(2025, &[("1", received)]);
        shop.assert_figures(2025, &[("deposits-at-end", "0"), ("owed-at-end", "0")]);
        shop.assert_figures(2025, &[("receipts-from-sales", received)]);
    }
}

/// 200.00 and 16.00 of the channel's tax, paid by a cheque that bounced and by a second one.
#[test]
fn a_cheque_paid_again_counts_its_tax_once() {
    let shop = desk(
        CHANNEL,
        "sale = [{ on = 2025-03-01, price = 200.00, tax-collected = 16.00, channel = \"online\" }]
payment = [{ on = 2025-03-01, amount = 216.00, back = 2025-03-10 },
           { on = 2025-03-20, amount = 216.00 }]",
    );
    let channel = &shop.year(2025)["channels"][0];
    assert_eq!((&channel["tax"], &channel["expected"]), (&"16.00".into(), &"216.00".into()));
    shop.assert_figures(2025, &[("tax-marketplace", "16.00"), ("tax-collected", "0")]);
    assert_eq!(shop.tally("desk")["price"], "200.00");
}

/// 300.00 and 24.00 of tax; 300.00 is paid. The buyer owes 24.00, and the state is owed it at once
/// where the place says so.
#[test]
fn tax_that_was_not_paid_is_owed() {
    let lines = "sale = [{ on = 2025-03-01, price = 300.00, tax-place = \"town\" }]
payment = [{ on = 2025-03-01, amount = 300.00 }]";
    let place = |owed: &str| format!("[tax.town]\nrate = \"8%\"\nowed = \"{owed}\"\n");
    let expected = [("owed-at-end", "0"), ("tax-unpaid", "24.00")];
    let paid = desk(&place("when-paid"), lines);
    paid.assert_figures(2025, &expected);
    paid.assert_figures(2025, &[("tax-collected", "0"), ("tax-town-held", "0")]);
    let sold = desk(&place("when-sold"), lines);
    sold.assert_figures(2025, &expected);
    sold.assert_figures(2025, &[("tax-collected", "24.00"), ("tax-town-held", "24.00")]);
    sold.assert_figures(2026, &[("tax-town-at-start", "24.00"), ("tax-held", "24.00")]);
    assert_eq!(sold.tally("desk")["owed"], "24.00");
}

/// 200.00 that bounced are owed and earned nothing: cost 100.00, net −100.00. On cash nothing was
/// received; on accrual 200.00 was sold and is still owed.
///
/// Source of the rule: IRS Topic 453, Bad debt deduction, and Pub. 334 ch. 8, Bad debts: only what
/// was included in income can be a loss, so that on cash what never came in is none.
#[test]
fn what_bounced_earned_nothing() {
    let lines = "sale = [{ on = 2025-03-01, price = 200.00 }]
payment = [{ on = 2025-03-01, amount = 200.00, back = 2025-03-09 }]";
    for (shop, line) in [("", "0"), (ACCRUAL, "200.00")] {
        let shop = desk(shop, lines);
        let tally = shop.tally("desk");
        assert_eq!((&tally["net"], &tally["owed"]), (&"-100.00".into(), &"200.00".into()));
        shop.assert_lines(2025, &[("1", line), ("42", "100.00")]);
        shop.assert_figures(2025, &[("owed-at-end", "200.00"), ("sold-desk-net", "-100.00")]);
    }
}

/// Of 300.00 and 50.00 of delivery, 320.00 is paid and given back with the desk; the other 30.00 of
/// delivery are owed no more. Nothing is left of price or delivery.
#[test]
fn what_is_given_up_lowers_price_and_delivery() {
    let shop = desk(
        "",
        "sale = [{ on = 2025-03-01, price = 300.00, delivery-charged = 50.00 }]
payment = [{ on = 2025-03-01, amount = 320.00 }]
return = [{ on = 2025-04-01, refunded = 320.00 }]",
    );
    let tally = shop.tally("desk");
    assert_eq!((&tally["price"], &tally["selling_costs"]), (&"0.00".into(), &"0.00".into()));
    shop.assert_figures(2025, &[("given-up", "30.00"), ("owed-at-end", "0")]);
}

/// 30.00 collected in 2024; of it 20.00 passed on and 1.00 kept in 2025: 9.00 stay held.
#[test]
fn sales_tax_held_is_carried_over_the_years() {
    let shop = Folder::shop("[tax.town]\nrate = \"10%\"")
        .piece(
            "desk",
            "bought = { on = 2024-01-10, price = 0 }
sale = [{ on = 2024-06-01, price = 300.00, tax-place = \"town\" }]",
        )
        .book(
            2025,
            "[[remitted]]\non = 2025-01-20\nto = \"the state\"\ntax-place = \"town\"\n\
             amount = 20.00\nkept = 1.00\n",
        )
        .book(2026, "")
        .written();
    for name in ["tax", "tax-town"] {
        let held = |year, start: &str, end: &str| {
            shop.assert_figures(year, &[(&format!("{name}-at-start"), start)]);
            shop.assert_figures(year, &[(&format!("{name}-held"), end)]);
        };
        held(2024, "0", "30.00");
        held(2025, "30.00", "9.00");
        held(2026, "9.00", "9.00");
    }
    let tax = &shop.year(2025)["sales_tax"];
    assert_eq!((&tax["at_start"], &tax["held"]), (&"30.00".into(), &"9.00".into()));
    assert_eq!(tax["holds"], true);
}

/// A set of two for 80.00, fetched with 20 miles at 0.70 (14.00): one sold for 90.00, brought to
/// its buyer with 10 miles (7.00), in 3 of 6 hours: 90 − 40 − 7 − 7 = 36.00, 12.00 an hour.
#[test]
fn what_an_hour_earned_is_one_figure_everywhere() {
    let shop = Folder::new()
        .piece(
            "pair",
            "count = 2\nhours = 6\nbought = { on = 2025-01-10, price = 80.00 }
sale = [{ on = 2025-03-01, price = 90.00, count = 1 }]",
        )
        .book(
            2025,
            "[[trip]]\non = 2025-01-10\nmiles = 20\npurpose = \"fetch\"\npiece = \"pair\"\n\
             [[trip]]\non = 2025-03-01\nmiles = 10\npurpose = \"deliver\"\npiece = \"pair\"\n",
        )
        .written();
    let expected = [("sold-pair-net", "36.00"), ("sold-pair-per-hour", "12.00")];
    shop.assert_figures(2025, &expected);
    let tally = shop.tally("pair");
    assert_eq!((&tally["net"], &tally["per_hour"]), (&"36.00".into(), &"12.00".into()));
}

/// Two thirds of an hour at 217.05 are 325.575 an hour: 325.58, and not a cent less because the
/// minutes were cut.
#[test]
fn thirds_of_hours_are_not_cut_before_they_divide() {
    let shop = Folder::new()
        .piece(
            "stool",
            "hours = \"40 min\"\nbought = { on = 2025-01-10, price = 0 }
sale = [{ on = 2025-03-01, price = 217.05 }]",
        )
        .written();
    assert_eq!(shop.tally("stool")["per_hour"], "325.58");
    shop.assert_figures(2025, &[("sold-stool-per-hour", "325.58")]);
}

#[test]
fn hours_nobody_wrote_are_not_zero() {
    let shop = desk("shop-rate = 30.00", "sale = [{ on = 2025-03-01, price = 200.00 }]");
    let tally = shop.tally("desk");
    for key in ["hours", "labour", "net_after_labour", "per_hour"] {
        assert_eq!(tally[key], Value::Null, "{key}");
    }
    let json: Value = serde_json::from_str(&shop.run(&["tally", "--json"]).out).unwrap();
    assert_eq!((&json["totals"]["hours"], &json["totals"]["labour"]), (&Value::Null, &Value::Null));
    let csv = shop.run(&["tally", "--csv"]).out;
    assert!(csv.lines().nth(1).unwrap().contains(",100.00,,,,,"), "{csv}");
    assert!(shop.run(&["price", "desk"]).err.contains("no hours are entered"));
}

/// Of three chairs at 300.00 one comes back for 100.00; for a crack 20.00 is let off the others.
#[test]
fn an_allowance_after_one_of_a_set_came_back() {
    let shop = desk(
        "",
        "count = 3
sale = [{ on = 2025-03-01, price = 300.00 }]
return = [{ on = 2025-03-10, refunded = 100.00, count = 1 }]
allowance = [{ on = 2025-03-20, amount = 20.00 }]",
    );
    shop.assert_lines(2025, &[("1", "300.00"), ("2", "120.00")]);
    assert_eq!(shop.tally("desk")["price"], "180.00");
}

/// Of a set of four three are sold; on one day two come back and three are sold.
#[test]
fn two_back_and_three_sold_on_one_day() {
    let shop = desk(
        "",
        "count = 4
sale = [{ on = 2025-03-01, price = 90.00, count = 3 }, { on = 2025-04-01, price = 99.00, count = 3 }]
return = [{ on = 2025-04-01, refunded = 60.00, count = 2 }]",
    );
    shop.assert_lines(2025, &[("1", "189.00"), ("2", "60.00"), ("42", "100.00"), ("41", "0")]);
    assert_eq!(shop.tally("desk")["state"], "sold");
}

#[test]
fn more_refunded_than_was_paid_is_said() {
    let lines = "sale = [{ on = 2025-03-01, price = 300.00, tax-collected = 24.00 }]
payment = [{ on = 2025-03-01, amount = 120.00 }]";
    let over = desk("", &format!("{lines}\nreturn = [{{ on = 2025-04-10, refunded = 200.00 }}]"));
    assert!(over.refused(2025).contains("200.00 paid back of 120.00"));
    over.assert_no_tally("desk");
    let back = "return = [{ on = 2025-04-10, refunded = 120.00, tax-returned = 30.00 }]";
    let tax = desk("", &format!("{lines}\n{back}"));
    assert!(tax.refused(2025).contains("30.00 of sales tax given back, and the sale had 24.00"));
}

#[test]
fn a_channel_says_what_explains_its_report() {
    let shop = Folder::shop("[channel.online]\nfee = \"10%\"")
        .piece(
            "desk",
            "bought = { on = 2025-01-10, price = 0 }
sale = [{ on = 2025-03-01, price = 200.00, channel = \"online\" }]",
        )
        .book(2025, "[[reported]]\nchannel = \"online\"\ngross = 180.00\n")
        .written();
    let channel = &shop.year(2025)["channels"][0];
    assert_eq!(
        (&channel["explained"], &channel["unexplained"]),
        (&"-20.00".into(), &"0.00".into())
    );
    assert_eq!(channel["cause"], "the fees were taken off");
}

#[test]
fn a_piece_sold_in_two_years_says_so() {
    let shop = desk(
        "",
        "count = 2
sale = [{ on = 2024-03-01, price = 90.00, count = 1 }, { on = 2025-04-01, price = 99.00 }]",
    );
    let said = shop.run(&["tally", "--year", "2025"]);
    assert!(said.err.contains("desk was sold in 2024 and 2025"), "{}", said.err);
    let json: Value =
        serde_json::from_str(&shop.run(&["tally", "--year", "2025", "--json"]).out).unwrap();
    assert_eq!(json["pieces"][0]["sold_in"], serde_json::json!([2024, 2025]));
}

/// OpenStax Contemporary Mathematics 11.4, largest remainder (rule read, amounts our own): a tie is
/// one also where no decimal is exact, and what is below a cent follows the remainders.
#[test]
fn ties_and_what_is_below_a_cent_follow_the_largest_remainder() {
    let parts = |amount: &str, weights: &[i64]| {
        let weights: Vec<_> = weights.iter().map(|&weight| weight.into()).collect();
        split(dec(amount), &weights, 2)
    };
    // Quotas 16.67, 66.67 and 16.67 less a third of a cent each: all three remainders tie.
    assert_eq!(parts("1.00", &[1, 4, 1]), [dec("0.17"), dec("0.67"), dec("0.16")]);
    assert_eq!(parts("10.005", &[2, 1]), [dec("6.67"), dec("3.335")]);
    assert_eq!(parts("0.005", &[1, 2]), [dec("0"), dec("0.005")]);
    assert_eq!(parts("-1.00", &[1, 4, 1]), [dec("-0.17"), dec("-0.67"), dec("-0.16")]);
}

/// Three chairs of two sales come back at once: each sale bears its part.
#[test]
fn a_return_of_two_sales_is_of_each_by_its_chairs() {
    let mut chairs = piece("pieces/chairs");
    chairs.count = 4;
    let part = |on, count: u32, price: &str| Sale {
        count: Some(count.into()),
        ..sale(day(on), dec(price))
    };
    chairs.sale = vec![part("2025-03-01", 2, "80"), part("2025-04-01", 2, "100")];
    chairs.returned = vec![dovetally::model::Return {
        count: Some(3.into()),
        ..returned(day("2025-05-01"), dec("120"))
    }];
    let made = Shop { pieces: vec![chairs], ..shop() };
    let tally = reckon(&made).tallies[0].clone().unwrap();
    assert_eq!((tally.units.sold, tally.price), (1, Some(dec("60"))));
    assert_eq!(books_of(&made, 2025).unwrap().total(Total::NetReceipts), dec("60"));
}
