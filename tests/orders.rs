//! Work on a customer's own piece: income for work on cash and on accrual, what is owed, and its
//! papers.

use crate::shell::{dovetally, shop_of};
use dovetally::cli::Status;
use serde_json::Value;
use std::path::Path;

const SHOP: &str = "name = \"Test Shop\"\ncountry = \"us\"\n\
    [terms]\ndeposits = \"Kept after two weeks\"\nwork = \"A third at once\"\n";

/// 240.00 asked; 100.00 paid before and 140.00 after, of which a check of 90.00 bounced and was paid
/// again; glue for 14.20, half of another purchase of 10.00; five and a half hours.
const CHAIRS: &str = "number = \"W-01\"\ntitle = \"Reglue six chairs\"\npiece = \"six kitchen chairs\"\n\
    received = \"two stretchers loose\"\ncustomer = \"Mx Quill\"\non = 2024-12-02\nuntil = 2025-01-15\n\
    done = 2024-12-20\n\
    [[line]]\nwhat = \"reglue six chairs\"\namount = 210\n[[line]]\nwhat = \"one new seat\"\namount = 30\n\
    [[work]]\ntask = \"reglue\"\nhours = \"5h30\"\n\
    [[cost]]\non = 2024-12-06\nwhat = \"hide glue\"\ncategory = \"supplies\"\namount = 14.20\n\
    [[cost]]\non = 2025-01-06\nwhat = \"clamps\"\ncategory = \"supplies\"\namount = 10\nshare = \"50%\"\n\
    [[payment]]\non = 2024-12-02\namount = 100\nhow = \"cash\"\n\
    [[payment]]\non = 2024-12-20\namount = 90\nhow = \"check\"\nback = 2025-01-03\n\
    [[payment]]\non = 2025-01-10\namount = 90\n";

fn json(shop: &Path, words: &[&str]) -> Value {
    let said = dovetally(shop, words);
    assert_eq!(said.status, Status::Done, "{}", said.err);
    serde_json::from_str(&said.out).unwrap()
}

/// Gross receipts, supplies, and profit of a year.
fn lines(shop: &Path, year: &str) -> [String; 3] {
    let year = json(shop, &["year", year, "--json"]);
    let lines = year["lines"].as_array().unwrap().clone();
    ["1", "22", "31"].map(|number| {
        let line = lines.iter().find(|line| line["line"] == number);
        line.and_then(|line| line["amount"].as_str()).unwrap_or("–").to_owned()
    })
}

fn checked(files: &[(&str, &str)]) -> String {
    let said = dovetally(shop_of(files).path(), &["check"]);
    said.err
}

/// IRS Pub. 334 (2023 returns) ch. 2: on cash money is income on the day it is received, so a check that
/// bounced comes off on the day it did.
#[test]
fn on_cash_an_order_is_income_as_it_is_paid() {
    let shop = shop_of(&[("shop.toml", SHOP), ("orders/chairs/order.toml", CHAIRS)]);
    assert_eq!(lines(shop.path(), "2024"), ["190.00", "14.20", "175.80"]);
    assert_eq!(lines(shop.path(), "2025"), ["0.00", "5.00", "-5.00"]);
    let owed = json(shop.path(), &["tally", "--owed", "--json"]);
    assert_eq!(owed["open"][0]["amount"], "50.00");
    assert_eq!(
        (&owed["open"][0]["what"], &owed["open"][0]["for"]),
        (&"owed".into(), &"Mx Quill".into())
    );
    let traced = dovetally(shop.path(), &["trace", "2025", "service-income"]);
    assert!(traced.out.contains("W-01: payment went back"), "{}", traced.out);
    let tally = json(shop.path(), &["tally", "--json"]);
    let figures = ["price", "paid", "costs", "net", "hours", "per_hour"];
    let order = figures.map(|key| tally["orders"][0][key].as_str().unwrap());
    assert_eq!(order, ["240.00", "190.00", "19.20", "170.80", "5.50", "31.05"]);
    // 190.00 paid, less 19.20, over 5.5 hours.
    let tally = dovetally(shop.path(), &["tally"]);
    assert!(
        tally.err.contains("190.00 paid, 19.20 costs, 170.80 net, 31.05 per hour"),
        "{}",
        tally.err
    );
}

/// A year typed wrong is asked about in an order as in a piece.
#[test]
fn a_day_of_an_order_that_stands_alone_is_asked_about() {
    let late = CHAIRS.replace("on = 2025-01-10", "on = 2052-01-10");
    let said = checked(&[("shop.toml", SHOP), ("orders/chairs/order.toml", &late)]);
    assert!(said.contains("warning[day-long-after]"), "{said}");
    let late = CHAIRS.replace("done = 2024-12-20", "done = 2042-12-20");
    let said = checked(&[("shop.toml", SHOP), ("orders/chairs/order.toml", &late)]);
    assert!(said.contains("which year?") && said.contains("sure = [\"done\"]"), "{said}");
    let sure = format!("sure = [\"done\"]\n{late}");
    let said = checked(&[("shop.toml", SHOP), ("orders/chairs/order.toml", &sure)]);
    assert!(!said.contains("which year?"), "{said}");
}

/// 100.00 in 20 minutes is 300.00 an hour: a third of an hour is not cut before it divides.
#[test]
fn hours_of_an_order_are_divided_by_whole() {
    let order = "title = \"Reglue\"\non = 2025-01-02\ndone = 2025-01-03\ncharged = 100.00\n\
                 work = [{ task = \"glue\", hours = \"20 min\" }]\n\
                 payment = [{ on = 2025-01-03, amount = 100.00 }]\n";
    let shop = shop_of(&[("shop.toml", SHOP), ("orders/a/order.toml", order)]);
    let tally = json(shop.path(), &["tally", "--json"]);
    assert_eq!(tally["orders"][0]["per_hour"], "300.00");
}

/// The same publication: on accrual income counts when the work is done, whenever it is paid; what is
/// given up then lowers it, as a debt that is bad was income before.
#[test]
fn on_accrual_an_order_is_income_when_it_is_done() {
    let accrual = format!("{SHOP}[books]\nbasis = \"accrual\"\n");
    let given_up = format!("given-up = 2025-06-30\n{CHAIRS}");
    let shop = shop_of(&[("shop.toml", &accrual), ("orders/chairs/order.toml", &given_up)]);
    assert_eq!(lines(shop.path(), "2024"), ["240.00", "14.20", "225.80"]);
    assert_eq!(lines(shop.path(), "2025"), ["-50.00", "5.00", "-55.00"]);
    let owed = json(shop.path(), &["tally", "--owed", "--json"]);
    assert_eq!(owed["open"], Value::Array(Vec::new()));
}

/// What the bank shows is the money, whatever the basis.
#[test]
fn the_money_of_an_order_is_looked_for_in_the_bank() {
    for basis in ["cash", "accrual"] {
        let shop = format!(
            "{SHOP}[books]\nbasis = \"{basis}\"\n[bank]\ndate = \"Day\"\namount = \"Sum\"\ntext = \"Text\"\n"
        );
        let shop = shop_of(&[
            ("shop.toml", &shop),
            ("orders/chairs/order.toml", CHAIRS),
            ("books/2024.toml", "bank = { file = \"bank.csv\" }\n"),
            ("books/bank.csv", "Day,Sum,Text\n2024-12-03,100.00,cash\n2024-12-23,90.00,check\n"),
        ]);
        let year = json(shop.path(), &["year", "2024", "--json"]);
        let figures = ["found", "missing", "extra"].map(|key| year["bank"][key].clone());
        assert_eq!(figures, ["190.00", "0.00", "0.00"], "{basis}: {:#}", year["bank"]);
    }
}

/// An estimate until the work is done, then the customer's receipt and the owner's record; the
/// customer's name stands on no other paper.
#[test]
fn an_order_has_an_estimate_before_and_a_record_after() {
    let open: String = CHAIRS.replace("done = 2024-12-20\n", "");
    let desk = "title = \"Desk\"\nnumber = \"25-001\"\nbought = { on = 2025-01-02, price = 40 }\n";
    let of = |order: &str| {
        let shop = shop_of(&[
            ("shop.toml", SHOP),
            ("orders/chairs/order.toml", order),
            ("pieces/desk/piece.toml", desk),
        ]);
        crate::paper::drafts_of(shop.path())
    };
    let before = of(&open);
    let paths: Vec<&str> = before.iter().map(|(path, _)| path.as_str()).collect();
    assert!(paths.contains(&"orders/w-01/estimate-sheet.pdf"), "{paths:?}");
    let estimate = &before.iter().find(|(path, _)| path.contains("estimate")).unwrap().1;
    assert_eq!(estimate["amounts"][2]["amount"], "$240.00");
    assert_eq!(
        estimate["balance"],
        "This estimate holds until 15\u{a0}January\u{a0}2025. Still to pay when the work is done: $50.00."
    );
    // Terms of sale do not hold of a piece that is the customer's.
    let stated = estimate["stated"].to_string();
    assert!(stated.contains("A third at once.") && !stated.contains("two weeks"), "{stated}");
    let after = of(CHAIRS);
    let data = |name: &str| &after.iter().find(|(path, _)| path.ends_with(name)).unwrap().1;
    assert_eq!(data("w-01/receipt.pdf")["balance"], "Still to pay: $50.00.");
    let record = data("order-record.pdf");
    assert!(record["disclosed"].to_string().contains("$31.05 an hour"), "{record}");
    assert!(!after.iter().any(|(path, _)| path.contains("estimate")));
    for (path, view) in &after {
        assert_eq!(view.to_string().contains("Quill"), path.starts_with("orders/"), "{path}");
    }
}

#[test]
fn what_an_order_cannot_have_is_said() {
    let order = |more: &str| {
        let text = format!("{more}\n{CHAIRS}");
        checked(&[("shop.toml", SHOP), ("orders/chairs/order.toml", &text)])
    };
    let bought = order("bought = { on = 2024-12-01, price = 10 }");
    assert!(
        bought.contains("error[order-of-a-piece]")
            && bought.contains("name this file `piece.toml`")
    );
    assert!(!bought.contains("unknown-key"), "{bought}");
    assert!(order("used = []").contains("picked up by the next `[[count]]`"));
    let early = CHAIRS.replace("done = 2024-12-20", "done = 2024-11-20");
    let early = checked(&[("shop.toml", SHOP), ("orders/chairs/order.toml", &early)]);
    assert!(
        early.contains("error[order-days]") && early.contains("write a day from 2024-12-02 on")
    );
    let undone = CHAIRS.replace("done = 2024-12-20", "given-up = 2024-12-20");
    let undone = checked(&[("shop.toml", SHOP), ("orders/chairs/order.toml", &undone)]);
    assert!(undone.contains("add `done`"), "{undone}");
    let bare = checked(&[
        ("shop.toml", SHOP),
        ("orders/chairs/order.toml", "title = \"Reglue\"\non = 2025-01-02\n"),
    ]);
    assert!(
        bare.contains("error[missing-key]") && bare.contains("`line` is missing here"),
        "{bare}"
    );
    let two = checked(&[
        ("shop.toml", SHOP),
        ("orders/chairs/order.toml", CHAIRS),
        ("orders/table/order.toml", CHAIRS),
    ]);
    assert!(two.contains("warning[order-twice]"), "{two}");
    let changed = checked(&[
        ("shop.toml", SHOP),
        ("orders/chairs/order.toml", CHAIRS),
        ("books/2025.toml", "method = { basis = \"accrual\" }\n"),
    ]);
    assert!(changed.contains("warning[order-basis]"), "{changed}");
}

/// An order that cannot be read refuses the years it may be of; the pieces stand. One under another
/// name is not passed over.
#[test]
fn a_broken_order_is_in_no_year_in_silence() {
    let broken = CHAIRS.replace("amount = 210", "amount = \"210 or so\"");
    let desk = "title = \"Desk\"\nbought = { on = 2023-01-02, price = 40 }\n\
                sale = [{ on = 2023-03-01, price = 240 }]\n";
    let shop = shop_of(&[
        ("shop.toml", SHOP),
        ("orders/chairs/order.toml", &broken),
        ("pieces/desk/piece.toml", desk),
    ]);
    let said = dovetally(shop.path(), &["year", "2025"]);
    assert_eq!(said.status, Status::Errors);
    assert!(said.err.contains("year-needs-file") && said.err.contains("orders/chairs/order.toml"));
    assert!(dovetally(shop.path(), &["year", "2023"]).out.contains("240.00"));
    let tally = dovetally(shop.path(), &["tally"]);
    assert!(tally.out.contains("240.00") && !tally.out.contains("order.toml"), "{}", tally.out);
    assert!(tally.err.contains("not read: orders/chairs/order.toml"), "{}", tally.err);
    let said = checked(&[("shop.toml", SHOP), ("orders/chairs/before.jpg", "a photo")]);
    assert!(said.contains("write `orders/chairs/order.toml`"), "{said}");
    let said = checked(&[("shop.toml", SHOP), ("orders/chairs.toml", CHAIRS)]);
    assert!(
        said.contains("error[misnamed]") && said.contains("`orders/chairs/order.toml`"),
        "{said}"
    );
}
