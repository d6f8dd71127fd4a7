//! Whole years: what was in stock, bought, sold and spent.

use super::{accrual, assert_month, bought, expenses, sold};
use crate::folders::Folder;

/// A shop that sells what it had, and some of what it buys: `left` of the purchases stays.
fn trader(opening: &str, sold_at_cost: &str, left: &str, sales: &str) -> Folder {
    let old = format!("bought = {{ on = 2022-05-01, price = {opening} }}\n{}", sold("0"));
    Folder::new()
        .piece("old", &old)
        .piece("new", &bought(sold_at_cost, &sold(sales)))
        .piece("left", &bought(left, ""))
}

#[test]
fn income_statements_of_shops_that_buy_and_sell() {
    // OS-MA sec. 2.1: a boutique, every part of the form once; a bakery. OS-FA sec. 6.1: a merchandiser
    // in short. Seawright v. Commissioner, 117 T.C. 294 (2001), p. 19 of the opinion: a stock that
    // stands still. OpenStax Entrepreneurship, figures of a small shop: only the net income of its
    // statement is a figure here, as it counts goods among expenses.
    type Row<'a> = ([&'a str; 4], &'a [(&'a str, &'a str)], &'a [(&'a str, &'a str)]);
    let rows: [Row; 5] = [
        (
            ["23500", "36500", "78500", "150000"],
            &[
                ("advertising", "4000"),
                ("rent", "12000"),
                ("wages", "35000"),
                ("supplies", "3000"),
                ("utilities", "1500"),
                ("sundry", "1200"),
            ],
            &[
                ("35", "23500"),
                ("36", "115000"),
                ("40", "138500"),
                ("41", "78500"),
                ("42", "60000"),
                ("1", "150000"),
                ("5", "90000"),
                ("28", "56700"),
                ("31", "33300"),
            ],
        ),
        (
            ["0", "70000", "0", "150000"],
            &[("office", "12000"), ("wages", "35000"), ("utilities", "1500"), ("rent", "20000")],
            &[("42", "70000"), ("5", "80000"), ("28", "68500"), ("31", "11500")],
        ),
        (
            ["0", "50000", "0", "350000"],
            &[("wages", "100000")],
            &[("5", "300000"), ("31", "200000")],
        ),
        (
            ["1500", "17242", "1500", "20000"],
            &[],
            &[("35", "1500"), ("36", "18742"), ("41", "1500"), ("42", "18742")],
        ),
        (
            ["0", "9777", "0", "32593"],
            &[("office", "1201"), ("rent", "3000"), ("wages", "4809"), ("utilities", "2753")],
            &[("31", "11053")],
        ),
    ];
    for ([opening, cost, left, sales], spent, lines) in rows {
        let shop = trader(opening, cost, left, sales).book(2023, &expenses(spent));
        shop.written().assert_lines(2023, lines);
    }
}

#[test]
fn a_makers_month() {
    // OS-MA sec. 2.1: work in process and finished goods are one stock here. 75,000 + 65,000 at the
    // start and 43,000 + 58,000 at the end are worked out; goods sold 102,000, gross profit 112,000
    // and operating income 32,000 are printed.
    let made = "cost = [
  { on = 2023-03-03, what = \"materials\", kind = \"material\", amount = 15000 },
  { on = 2023-03-10, what = \"labor\", kind = \"paid-work\", amount = 25000, to = \"one\" },
  { on = 2023-03-20, what = \"overhead\", kind = \"freight-in\", amount = 23000 },
]
";
    let old =
        "bought = { on = 2022-05-01, price = 39000 }\nsale = [{ on = 2023-03-31, price = 214000 }]";
    let spent = expenses(&[("wages", "80000")]).replace("2023-02-01", "2023-03-01");
    let shop = Folder::new()
        .piece("finished", &format!("{old}\n{made}"))
        .piece("left", "bought = { on = 2022-06-01, price = 101000 }")
        .book(2023, &spent)
        .written();
    let lines = [("35", "140000"), ("37", "25000"), ("38", "15000"), ("39", "23000")];
    assert_month(&shop, 3, &lines);
    assert_month(&shop, 3, &[("41", "101000"), ("42", "102000"), ("5", "112000"), ("31", "32000")]);
}

#[test]
fn years_of_those_who_sell_work_alone() {
    // OS-MA sec. 2.1: two service firms; OS-FA sec. 6.1: services against merchandise.
    for (revenue, spent, total, left) in [
        (
            "412000",
            &[
                ("wages", "255000"),
                ("office", "35000"),
                ("utilities", "11000"),
                ("sundry", "16500"),
            ][..],
            "317500",
            "94500",
        ),
        (
            "1500000",
            &[("wages", "900000"), ("rent", "100000"), ("utilities", "20000"), ("office", "24500")],
            "1044500",
            "455500",
        ),
        ("300000", &[("wages", "175000")], "175000", "125000"),
    ] {
        let income = format!(
            "[[income]]\non = 2023-02-01\nwhat = \"work\"\nkind = \"service\"\namount = {revenue}\n"
        );
        let shop = Folder::new().book(2023, &(income + &expenses(spent))).written();
        shop.assert_lines(2023, &[("1", revenue), ("42", "0"), ("28", total), ("31", left)]);
    }
}

#[test]
fn sales_and_their_costs_fall_by_a_fifth() {
    // OS-MA sec. 3.5: two companies with the same income and other fixed costs.
    let year = |year: i32, sales: &str, cost: &str| {
        format!(
            "bought = {{ on = {year}-01-02, price = {cost} }}\nsale = [{{ on = {year}-01-31, price = {sales} }}]"
        )
    };
    for (first, second, fixed, incomes) in [
        (("250000", "102000"), ("200000", "81600"), "63000", ("85000", "55400")),
        (("315000", "105000"), ("252000", "84000"), "125000", ("85000", "43000")),
    ] {
        let rent = expenses(&[("rent", fixed)]);
        let shop = Folder::new()
            .piece("first", &year(2023, first.0, first.1))
            .piece("second", &year(2024, second.0, second.1))
            .book(2023, &rent)
            .book(2024, &rent.replace("2023", "2024"))
            .written();
        shop.assert_lines(2023, &[("31", incomes.0)]);
        shop.assert_lines(2024, &[("31", incomes.1)]);
    }
}

#[test]
fn three_sales_and_three_ways_to_be_paid() {
    // OS-FA sec. 9.1, printed solutions: in cash, on account, and by card at a fee; received
    // 1,152 of 1,200, and 1,736.30 of 1,790 and 1,086.40 of 1,120.
    for (fee, rows, lines) in [
        (
            "4%",
            [("800", "480", ""), ("750", "555", ""), ("1200", "865", "48.00")],
            [("1", "2750"), ("42", "1900"), ("10", "48")],
        ),
        (
            "3%",
            [("1790", "1100", "53.70"), ("345", "122", ""), ("1120", "584", "33.60")],
            [("1", "3255"), ("42", "1806"), ("10", "87.30")],
        ),
    ] {
        let mut shop = Folder::shop(&format!("[channel.card]\nlabel = \"card\"\nfee = \"{fee}\""));
        for (price, cost, kept) in rows {
            let channel = if kept.is_empty() { "" } else { ", channel = \"card\"" };
            let sale = format!("sale = [{{ on = 2023-01-31, price = {price}{channel} }}]");
            shop = shop.piece(&format!("of-{price}"), &bought(cost, &sale));
        }
        let shop = shop.written();
        shop.assert_lines(2023, &lines);
        for (price, _, kept) in rows.iter().filter(|(.., kept)| !kept.is_empty()) {
            super::assert_tally(&shop, &format!("of-{price}"), &[("selling_costs", kept)]);
        }
    }
}

#[test]
fn a_share_of_the_home_in_another_country() {
    // Canada Revenue Agency, guide to form T2125, business use of home: 18 of 180 square feet of
    // 13,300 are 1,330 (the 150 carried forward are no figure here). Its video library, segment 9:
    // 35 of 100 square metres for 10 of 24 hours of 5,800 are 845.83.
    let home = ["1200", "1000", "650", "350", "8000", "1800", "300"];
    let part = |amount: &str, share: &str| {
        format!("{}share = \"{share}\"\n", expenses(&[("utilities", amount)]))
            .replace("of the year", amount)
    };
    let spent = |book: String| Folder::shop("country = \"ca\"").book(2023, &book).written();
    let by_area = spent(home.map(|amount| part(amount, "10%")).concat());
    by_area.assert_figures(2023, &[("total-expenses", "1330")]);
    let by_hours = spent(part("5800", "14.5833%"));
    by_hours.assert_figures(2023, &[("total-expenses", "845.83")]);
}

#[test]
fn a_debt_given_up_and_fifty_that_come_after_all() {
    // Wash. Admin. Code 458-20-196, examples 1 and 2: 500 of goods and 40 of tax, reported when sold,
    // never paid and given up in a later year: deductions of 500 and 40. (Of 50 that come after all
    // 3.70 are tax there; the program counts money towards the price first, so it is not compared.)
    let shop = Folder::shop(
        "[books]\nbasis = \"accrual\"\n[tax.wa]\nlabel = \"Washington\"\nrate = \"8%\"\nowed = \"when-sold\"",
    )
    .piece(
        "goods",
        &bought(
            "100",
            "sale = [{ on = 2023-02-01, price = 500, tax-place = \"wa\" }]
payment = [{ on = 2023-02-01, amount = 1, back = 2023-02-02 }]
allowance = [{ on = 2024-08-01, amount = 500, tax-returned = 40 }]",
        ),
    )
    .written();
    shop.assert_lines(2023, &[("1", "500"), ("2", "0")]);
    shop.assert_figures(2023, &[("owed-at-end", "500"), ("tax-wa-collected", "40")]);
    shop.assert_lines(2024, &[("1", "0"), ("2", "500")]);
    shop.assert_figures(2024, &[("owed-at-end", "0"), ("tax-wa-collected", "-40")]);
}

#[test]
fn a_deposit_for_work_and_work_paid_for_ahead() {
    // OS-FA sec. 12.3: 5,500 paid in March for work done in June; sec. 12.1: 120 paid in October for
    // three rounds of 40, one in November and two in the next year.
    let order = |title: &str, amount: &str, paid: &str, done: &str| {
        format!(
            "title = \"{title}\"\non = {paid}\ndone = {done}\nline = [{{ what = \"work\", amount = {amount} }}]\n\
             payment = [{{ on = {paid}, amount = {amount} }}]\n"
        )
    };
    let catering = order("Catering", "5500", "2023-03-25", "2023-06-10");
    for (shop, march, june) in [(accrual(), "0", "5500"), (Folder::new(), "5500", "0")] {
        let shop = shop.file("orders/one/order.toml", &catering).written();
        assert_month(&shop, 3, &[("1", march)]);
        assert_month(&shop, 6, &[("1", june)]);
    }
    let rounds = ["2023-11-01", "2024-02-01", "2024-04-01"];
    let add = |shop: Folder, (at, done): (usize, &&str)| {
        let text = order(&format!("Round {at}"), "40", "2023-10-15", done);
        shop.file(&format!("orders/{at}/order.toml"), &text)
    };
    let shop = rounds.iter().enumerate().fold(accrual(), add).written();
    shop.assert_lines(2023, &[("1", "40")]);
    shop.assert_lines(2024, &[("1", "80")]);
}
