//! Sales tax by filing period, and who owes: worked by hand through a shop folder.

use crate::folders::{Folder, Written};
use serde_json::{Value, json};

/// Quarter by quarter at 8 per cent, delivery not taxed, owed on the day of the sale.
///
/// First quarter: a desk at 250.00 with 30.00 of delivery (tax 20.00), a chair to a dealer at 50.00,
/// a shelf through a channel at 100.00 (8.00 of the channel's): 430.00 sold, 100.00 by the channel,
/// 50.00 exempt, 30.00 delivery, 250.00 taxable. Second quarter: 40.00 of the desk let off with 3.20
/// of its tax, and a stool at 60.00 (4.80), of which only the price is paid: 20.00 sold, 1.60 of tax,
/// 4.80 owed by its buyer. In April 19.70 is passed on and 0.30 kept: nothing is due for the first
/// quarter, 1.60 for the second.
///
/// Source of the lines and their order: returns of Iowa (form 31-004) and North Dakota, whose
/// discount for filing is line 7 (both as carried by public pages, read; amounts our own).
fn quarters(rule: &str) -> Written {
    let piece = |folder: Folder, name: &str, lines: &str| {
        folder.piece(name, &format!("bought = {{ on = 2025-01-02, price = 0 }}\n{lines}"))
    };
    let shop = Folder::shop(&format!(
        "[channel.online]\ncollects-tax = true\n\
         [tax.town]\nrate = \"8%\"\nlabel = \"Town\"\nfiles = \"quarterly\"\nowed = \"{rule}\"\n"
    ));
    let shop = piece(
        shop,
        "desk",
        "sale = [{ on = 2025-02-01, price = 250.00, delivery-charged = 30.00, tax-place = \"town\" }]
allowance = [{ on = 2025-05-01, amount = 40.00, tax-returned = 3.20 }]",
    );
    let exempt =
        "sale = [{ on = 2025-02-05, price = 50.00, tax-place = \"town\", exempt = \"resale\" }]";
    let shop = piece(shop, "chair", exempt);
    let shop = piece(
        shop,
        "shelf",
        "sale = [{ on = 2025-03-31, price = 100.00, tax-place = \"town\", channel = \"online\" }]",
    );
    let shop = piece(
        shop,
        "stool",
        "sale = [{ on = 2025-06-30, price = 60.00, tax-place = \"town\" }]
payment = [{ on = 2025-06-30, amount = 60.00, how = \"cash\" }]",
    );
    shop.book(
        2025,
        "[[remitted]]\non = 2025-04-18\nto = \"the state\"\ntax-place = \"town\"\namount = 19.70\n\
         kept = 0.30\n",
    )
    .written()
}

fn filing(shop: &Written, period: &str) -> Value {
    let year = shop.year(2025);
    assert_eq!(year["sales_tax"]["holds"], true);
    let all = year["sales_tax"]["filings"].as_array().unwrap().clone();
    all.into_iter().find(|one| one["period"] == period).unwrap()
}

#[test]
fn each_quarter_is_filed_with_its_exemptions_and_its_balance() {
    let shop = quarters("when-sold");
    let first = filing(&shop, "2025-q1");
    for (key, amount) in [
        ("gross", "430.00"),
        ("by_channels", "100.00"),
        ("delivery_not_taxed", "30.00"),
        ("taxable", "250.00"),
        ("tax", "20.00"),
        ("remitted", "19.70"),
        ("kept", "0.30"),
        ("due", "0.00"),
        ("at_start", "0.00"),
        ("held", "20.00"),
    ] {
        assert_eq!(first[key], amount, "{key}");
    }
    assert_eq!(first["exempt"], json!({ "resale": "50.00" }));
    let second = filing(&shop, "2025-q2");
    for (key, amount) in [
        ("gross", "20.00"),
        ("taxable", "20.00"),
        ("tax", "1.60"),
        ("due", "1.60"),
        ("held", "1.60"),
    ] {
        assert_eq!(second[key], amount, "{key}");
    }
    shop.assert_figures(2025, &[("tax-unpaid", "4.80"), ("filing-town-2025-q2-tax", "1.60")]);
    let said = shop.run(&["year", "2025"]).out;
    assert!(
        said.contains("to file for Town, 2025-q1: 20.00 on 250.00 taxable of 430.00 sold, 0.00")
    );
}

#[test]
fn tax_owed_as_it_is_paid_waits_for_the_buyer() {
    // As before, but the stool's tax was not paid: −3.20 in the second quarter.
    let second = filing(&quarters("when-paid"), "2025-q2");
    assert_eq!((&second["tax"], &second["gross"]), (&"-3.20".into(), &"20.00".into()));
}

#[test]
fn the_discount_of_a_month_is_kept_for_that_month() {
    // Florida's collection allowance: 2.5 % of the first 1,200.00 of tax, so 30.00 (as carried by a
    // public page, read). 20,000.00 at 6 % are 1,200.00 of tax.
    let shop = Folder::shop("[tax.state]\nrate = \"6%\"\nfiles = \"monthly\"")
        .piece(
            "suite",
            "bought = { on = 2025-01-02, price = 0 }
sale = [{ on = 2025-03-05, price = 20000.00, tax-place = \"state\" }]",
        )
        .book(
            2025,
            "[[remitted]]\non = 2025-06-10\nto = \"the state\"\ntax-place = \"state\"\n\
             amount = 1170.00\nkept = 30.00\nperiod = \"2025-03\"\n",
        )
        .written();
    let march = filing(&shop, "2025-03");
    assert_eq!((&march["kept"], &march["due"]), (&"30.00".into(), &"0.00".into()));
    assert_eq!(
        (&march["held"], &filing(&shop, "2025-05")["held"]),
        (&"1200.00".into(), &"1200.00".into())
    );
    shop.assert_lines(2025, &[("6", "30.00")]);
}

#[test]
fn what_is_missing_from_a_return_is_asked_about() {
    let shop = Folder::shop("[tax.town]\nrate = \"8%\"\nfiles = \"yearly\"")
        .piece(
            "desk",
            "bought = { on = 2025-01-02, price = 0 }
sale = [{ on = 2025-02-01, price = 250.00 }]",
        )
        .book(
            2025,
            "[[remitted]]\non = 2025-04-18\nto = \"the state\"\ntax-place = \"town\"\namount = 9.00\n\
             period = \"2025-Q1\"\n",
        )
        .written();
    let asked = shop.run(&["check"]).err;
    for code in ["[sale-without-tax]", "[remitted-for-nothing]"] {
        assert!(asked.contains(code), "{asked}");
    }
    assert!(shop.notes(2025).contains("passed on for a period that has no sales tax"));
}

/// A deposit of 40.00 kept when the sale fell through: on cash income when it came in, on accrual
/// when it was kept; in both no deposit is held any more.
#[test]
fn a_deposit_kept_is_income() {
    for (shop, first, second) in
        [("", "40.00", "0"), ("[books]\nbasis = \"accrual\"", "0", "40.00")]
    {
        let shop = Folder::shop(shop)
            .piece(
                "desk",
                "bought = { on = 2024-01-02, price = 10.00 }
payment = [{ on = 2024-12-01, amount = 40.00, kept = 2025-02-01 }]
[reserved]
name = \"somebody\"
until = 2025-03-01",
            )
            .written();
        shop.assert_lines(2024, &[("1", first)]);
        shop.assert_lines(2025, &[("1", second)]);
        shop.assert_figures(2024, &[("deposits-at-end", "40.00")]);
        shop.assert_figures(2025, &[("deposits-at-end", "0"), ("deposits-kept", "40.00")]);
        if first == "40.00" {
            shop.assert_figures(2025, &[("receipts-from-sales", "0")]);
        }
        let said: Value =
            serde_json::from_str(&shop.run(&["tally", "--owed", "--json"]).out).unwrap();
        let kinds: Vec<&Value> =
            said["open"].as_array().unwrap().iter().map(|one| &one["what"]).collect();
        assert_eq!(kinds, ["deposit-kept", "reserved"]);
        assert_eq!(said["totals"]["deposit-kept"], "40.00");
        assert_eq!(said["open"][1]["for"], "somebody");
    }
}

#[test]
fn who_owes_what_is_listed() {
    let shop = quarters("when-sold");
    let said = shop.run(&["tally", "--owed", "--csv"]).out;
    let rows: Vec<&str> = said.lines().skip(1).collect();
    assert_eq!(rows, ["stool,stool,owed,2025-06-30,,0.00,0.00,4.80,4.80,USD"]);
    assert!(shop.run(&["tally", "--owed"]).err.contains("4.80 owed by buyers"));
}
