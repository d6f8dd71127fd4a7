//! Between the shop, its buyers and the state: income besides sales, what comes again, trips for
//! several pieces, quarters, and what a buyer is given.

use crate::shell::{dovetally, shop_of};
use dovetally::cli::Status;
use serde_json::Value;
use std::fs;
use std::path::Path;

const SHOP: &str = "name = \"Test Shop\"\ncountry = \"us\"\n";

fn json(shop: &Path, words: &[&str]) -> Value {
    let said = dovetally(shop, words);
    assert_eq!(said.status, Status::Done, "{}", said.err);
    serde_json::from_str(&said.out).unwrap()
}

fn line<'a>(year: &'a Value, number: &str) -> &'a str {
    let lines = year["lines"].as_array().unwrap();
    let line = lines.iter().find(|line| line["line"] == number);
    line.and_then(|line| line["amount"].as_str()).unwrap_or("–")
}

/// IRS Pub. 334 (2023 returns) ch. 5: income from services is a gross receipt, what the business earns
/// besides is other income. A day's class of 120.00 and scrap of 14.00 beside a desk sold for 240.00.
#[test]
fn work_for_others_is_a_receipt_and_the_rest_other_income() {
    let shop = shop_of(&[
        ("shop.toml", SHOP),
        (
            "books/2025.toml",
            "[[income]]\non = 2025-02-14\nwhat = \"a class\"\namount = 120.00\nkind = \"service\"\n\n\
             [[income]]\non = 2025-07-01\nwhat = \"scrap brass\"\namount = 14.00\nkind = \"other\"\n",
        ),
        (
            "pieces/desk/piece.toml",
            "title = \"Desk\"\nbought = { on = 2025-01-02, price = 40 }\n\
             sale = [{ on = 2025-03-01, price = 240 }]\n",
        ),
    ]);
    let year = json(shop.path(), &["year", "2025", "--json"]);
    let lines = ["1", "3", "4", "6", "7", "31"].map(|number| line(&year, number));
    assert_eq!(lines, ["360.00", "360.00", "40.00", "14.00", "334.00", "334.00"]);
    let traced = dovetally(shop.path(), &["trace", "2025", "service-income"]);
    assert!(
        traced.out.contains("a class") && traced.out.contains("books/2025.toml:1"),
        "{}",
        traced.out
    );
    let first = json(shop.path(), &["year", "2025", "--quarter", "1", "--json"]);
    assert_eq!((line(&first, "1"), line(&first, "6")), ("360.00", "0.00"));
}

/// Twelve months written once, at 30.00 to the end of June and 35.00 from then on: 390.00. A month
/// whose first day its calendar lacks is paid on its last.
#[test]
fn an_expense_that_comes_again_counts_on_each_of_its_days() {
    let book = "[[expense]]\non = 2025-01-31\nwhat = \"telephone\"\ncategory = \"telephone\"\n\
                amount = 30.00\nevery = \"month\"\nuntil = 2025-12-31\n\
                change = [{ from = 2025-07-01, amount = 35.00 }]\n\
                receipts = { 2025-02 = \"february.txt\" }\n";
    let shop =
        shop_of(&[("shop.toml", SHOP), ("books/2025.toml", book), ("books/february.txt", "paid")]);
    let year = json(shop.path(), &["year", "2025", "--json"]);
    assert_eq!(line(&year, "25"), "390.00");
    let traced = dovetally(shop.path(), &["trace", "2025", "expense-telephone"]).out;
    for day in ["2025-01-31", "2025-02-28", "2025-06-30", "2025-12-31"] {
        assert_eq!(traced.matches(day).count(), 1, "{day}: {traced}");
    }
    assert_eq!(year["missing_records"].as_array().unwrap().len(), 11, "{year}");
    let second = json(shop.path(), &["year", "2025", "--quarter", "3", "--json"]);
    assert_eq!(line(&second, "25"), "105.00");
}

/// 10 miles at 0.70 are 7.00, and 1.00 of parking; of three pieces each bears a third, to the cent by
/// largest remainder: 2.34 + 2.33 + 2.33 and 0.34 + 0.33 + 0.33. The books count the trip once.
#[test]
fn a_trip_for_several_pieces_is_shared_by_them() {
    let piece = |name: &str| {
        format!(
            "title = \"{name}\"\nbought = {{ on = 2025-01-02, price = 40 }}\n\
             sale = [{{ on = 2025-03-01, price = 240 }}]\n"
        )
    };
    let book = "[[trip]]\non = 2025-01-02\nmiles = 10\nparking = 1.00\npurpose = \"fetch\"\n\
                pieces = [\"a\", \"b\", \"c\"]\n";
    let (a, b, c) = (piece("A"), piece("B"), piece("C"));
    let shop = shop_of(&[
        ("shop.toml", SHOP),
        ("books/2025.toml", book),
        ("pieces/a/piece.toml", &a),
        ("pieces/b/piece.toml", &b),
        ("pieces/c/piece.toml", &c),
    ]);
    let tally = json(shop.path(), &["tally", "--json"]);
    let freight = |at: usize| tally["pieces"][at]["freight_in"].as_str().unwrap().to_owned();
    assert_eq!([freight(0), freight(1), freight(2)], ["2.68", "2.66", "2.66"], "{tally}");
    let year = json(shop.path(), &["year", "2025", "--json"]);
    assert_eq!(line(&year, "9"), "8.00");
}

/// The quarter sheet's estimate is of the profit so far, what was paid is by due day, and below the
/// floor of the form nothing is divided. 10,000.00 of profit: 9,235.00 × 15.3 % = 1,412.96 (IRS Pub.
/// 334 (2023 returns) pp. 39–40: 92.35 %, 12.4 % and 2.9 %).
#[test]
fn a_quarter_says_what_was_paid_of_the_owners_own_tax() {
    let book = "[[income]]\non = 2025-02-14\nwhat = \"work\"\namount = 10000.00\nkind = \"service\"\n\n\
                [[estimate-paid]]\non = 2025-04-10\namount = 300.00\n\n\
                [[estimate-paid]]\non = 2026-01-10\namount = 200.00\n\n\
                [[estimate-paid]]\non = 2025-06-20\namount = 50.00\npart = 2\n";
    let shop = shop_of(&[("shop.toml", SHOP), ("books/2025.toml", book)]);
    let said = dovetally(shop.path(), &["make", "--only", "quarter-sheet"]);
    assert_eq!(said.status, Status::Done, "{}", said.err);
    let read = |quarter: u32| -> Value {
        let path = shop.path().join(format!("out/years/2025/quarter-{quarter}.json"));
        serde_json::from_str(&fs::read_to_string(path).unwrap()).unwrap()
    };
    let first = read(1);
    assert_eq!(first["estimate"]["self_employment_tax"], "1412.96");
    assert_eq!(first["estimate"]["floor"], "1000.00");
    let paid = |of: &Value| -> Vec<String> {
        let due = of["estimate"]["due"].as_array().unwrap();
        due.iter().map(|due| due["paid"].as_str().unwrap().to_owned()).collect()
    };
    assert_eq!(paid(&first), ["0.00", "0.00", "0.00", "200.00"]);
    // Nothing of the business lies in the other quarters, so they have no sheet.
    assert!(!shop.path().join("out/years/2025/quarter-2.json").exists());
    let second = dovetally(shop.path(), &["year", "2025", "--quarter", "2"]);
    assert!(second.out.contains("1,412.96 of self-employment tax"), "{}", second.out);
    assert!(second.out.contains("550.00 paid"), "{}", second.out);
    // It is no expense of the business, and makes no year of its own.
    let year = json(shop.path(), &["year", "2025", "--json"]);
    assert_eq!(line(&year, "31"), "10000.00");
    assert!(!shop.path().join("out/years/2026").exists());
}

/// What a buyer is given: price, tax by place and rate, what was taken in part payment, what is still
/// to pay and by when, and the owner's terms; a credit receipt for what came back. The buyer's name
/// stands on no other paper.
#[test]
fn a_buyer_is_given_a_receipt_for_each_sale_and_each_credit() {
    let desk = "title = \"Desk\"\nnumber = \"25-001\"\ncount = 2\nbought = { on = 2025-01-02, price = 40 }\n\
                flaw = [{ note = \"a scratch on the top\" }]\n\n\
                [[sale]]\non = 2025-03-01\nprice = 100\ntax-place = \"county\"\ncount = 1\n\
                receipt-number = \"17\"\nbuyer = \"Mx Quill\"\nhow = \"cash\"\ntraded-in = \"25-002\"\n\n\
                [[sale]]\non = 2025-03-08\nprice = 100\ntax-place = \"county\"\ncount = 1\n\
                receipt-number = \"18\"\ndue = 2025-03-20\nhanded-over = \"collected\"\n\n\
                [[payment]]\non = 2025-03-08\nsale-on = 2025-03-08\namount = 60\nhow = \"check\"\n\n\
                [[return]]\non = 2025-03-10\nsale-on = 2025-03-01\nrefunded = 100\ntax-returned = 6\n\
                receipt-number = \"19\"\n";
    let stool =
        "title = \"Stool\"\nnumber = \"25-002\"\nbought = { on = 2025-03-01, price = 20 }\n";
    let terms = "[tax.county]\nlabel = \"Reed County\"\nrate = \"6%\"\n[terms]\nsale = \"As seen\"\n\
                 deposits = \"A week.\"\n";
    let shop = shop_of(&[
        ("shop.toml", &format!("{SHOP}{terms}")),
        ("pieces/desk/piece.toml", desk),
        ("pieces/stool/piece.toml", stool),
    ]);
    let papers = crate::paper::drafts_of(shop.path());
    let data = |name: &str| -> &Value {
        &papers.iter().find(|(path, _)| path == &format!("pieces/25-001/{name}.pdf")).unwrap().1
    };
    let first = data("buyers-receipt-1");
    assert_eq!(first["number"], "No. 17");
    assert_eq!(first["buyer"], "Sold to Mx Quill");
    assert_eq!(first["what"], "No. 25–001, one of a set of two");
    let rows = |rows: &Value| -> Vec<(String, String)> {
        let text = |row: &Value, key: &str| row[key].as_str().unwrap().to_owned();
        let rows = rows.as_array().unwrap().iter();
        rows.map(|row| (text(row, "label"), text(row, "amount"))).collect()
    };
    let amounts = rows(&first["amounts"]);
    assert_eq!(amounts[1], ("Sales tax, Reed County, 6 per cent".to_owned(), "6.00".to_owned()));
    assert_eq!(amounts[2].1, "$106.00");
    let second = data("buyers-receipt-2-half-sheet");
    assert_eq!(second["balance"], "Still to pay by 20\u{a0}March\u{a0}2025: $46.00.");
    assert_eq!(
        rows(&second["paid"]),
        [("Paid 8\u{a0}March\u{a0}2025, by check".to_owned(), "60.00".to_owned())]
    );
    let stated: Vec<String> = rows_of(&second["stated"]);
    assert_eq!(
        stated,
        ["Sold: As seen.", "Deposits: A week.", "Delivery: Collected by the buyer."]
    );
    assert!(rows_of(&second["disclosed"])[0].contains("scratch"), "{second}");
    let credit = data("credit-receipt-1");
    assert_eq!(
        (&credit["heading"], &credit["number"]),
        (&"Credit receipt".into(), &"No. 19".into())
    );
    assert_eq!(rows(&credit["amounts"])[2].1, "$106.00");
    for (path, view) in &papers {
        let own = path.contains("buyers-receipt-1");
        assert_eq!(view.to_string().contains("Quill"), own, "{path}");
    }
}

fn rows_of(rows: &Value) -> Vec<String> {
    let rows = rows.as_array().unwrap().iter();
    rows.map(|row| format!("{}: {}", row["label"].as_str().unwrap(), row["text"].as_str().unwrap()))
        .collect()
}

/// The inventory of a day is what the books close with on it: 40.00 of a desk not sold yet, and of
/// shop stock 24.00 for 32 fl oz less the 8 fl oz drawn, 18.00. A day earlier nothing was drawn. What
/// is sold or away by then is told as it stood that day.
#[test]
fn the_inventory_of_a_day_is_what_the_books_close_with() {
    let desk = "title = \"Desk\"\nnumber = \"25-001\"\nbought = { on = 2025-01-02, price = 40 }\n\
                used = [{ on = 2025-03-02, stock = \"topcoat\", quantity = \"8 fl oz\" }]\n\
                consigned = [{ on = 2025-03-03, to = \"a dealer\" }]\n\
                listing = { on = 2025-03-03, price = 200, stands = \"by the door\" }\n\
                sale = [{ on = 2025-04-01, price = 200 }]\n";
    let book = "[[supply]]\non = 2025-02-01\nstock = \"topcoat\"\nquantity = \"32 fl oz\"\namount = 24\n\n\
                [[expense]]\non = 2025-02-02\nwhat = \"a saw\"\ncategory = \"small-tools\"\namount = 60\n";
    let shop = shop_of(&[
        ("shop.toml", SHOP),
        ("stock.toml", "[topcoat]\nunit = \"fl oz\"\n"),
        ("books/2025.toml", book),
        ("pieces/desk/piece.toml", desk),
    ]);
    let read = |day: &str| {
        let said = dovetally(shop.path(), &["make", "--on", day]);
        assert_eq!(said.status, Status::Done, "{}", said.err);
        let path = shop.path().join(format!("out/inventory-{day}.csv"));
        fs::read_to_string(path).unwrap().lines().skip(1).collect::<Vec<_>>().join("\n")
    };
    assert_eq!(read("2025-03-01"), "25-001,Desk,1,by the door,,40.00");
    assert_eq!(read("2025-03-31"), "25-001,Desk,1,with a dealer,200.00,46.00");
    assert_eq!(read("2025-04-01"), "");
    assert!(shop.path().join("out/count-sheet-2025-03-31.pdf").is_file());
    let papers = crate::paper::drafts_of(shop.path());
    let view = |name: &str| &papers.iter().find(|(path, _)| path == name).unwrap().1;
    let stock = &view("inventory.pdf")["stock"];
    assert_eq!(stock[0]["label"], "topcoat, 24 fl oz");
    assert_eq!(stock[0]["amount"], "18.00");
    assert_eq!(view("inventory.pdf")["tools"][0]["amount"], "60.00");
    assert_eq!(view("count-sheet.pdf")["stock"][0][2], "24 fl oz");
}

/// A desk of 100.00 and 6.00 of tax, for which 120.00 came in: 14.00 are owed back until they are given
/// back, and neither price nor tax is more for it.
#[test]
fn what_was_paid_too_much_is_owed_back() {
    let desk = |back: &str| {
        format!(
            "title = \"Desk\"\nbought = {{ on = 2025-01-02, price = 40 }}\n\
             sale = [{{ on = 2025-03-01, price = 100, tax-collected = 6 }}]\n\
             payment = [{{ on = 2025-03-01, amount = 120, over = 14{back} }}]\n"
        )
    };
    let open = |text: &str| {
        let shop = shop_of(&[("shop.toml", SHOP), ("pieces/desk/piece.toml", text)]);
        let tally = json(shop.path(), &["tally", "--json"]);
        assert_eq!(tally["pieces"][0]["net"], "60.00", "{tally}");
        let year = json(shop.path(), &["year", "2025", "--json"]);
        assert_eq!(year["tax_collected"], "6.00");
        let owed = json(shop.path(), &["tally", "--owed", "--json"]);
        (line(&year, "1").to_owned(), owed["totals"]["paid-too-much"].as_str().unwrap().to_owned())
    };
    // On cash basis what came in is a receipt until it goes back, as a deposit is.
    assert_eq!(open(&desk("")), ("114.00".to_owned(), "14.00".to_owned()));
    assert_eq!(open(&desk(", over-back = 2025-03-04")), ("100.00".to_owned(), "0.00".to_owned()));
    let balance = |back: &str| {
        let shop = shop_of(&[("shop.toml", SHOP), ("pieces/desk/piece.toml", &desk(back))]);
        let papers = crate::paper::drafts_of(shop.path());
        let receipt = papers.into_iter().find(|(path, _)| path.ends_with("buyers-receipt-1.pdf"));
        receipt.unwrap().1["balance"].as_str().unwrap().to_owned()
    };
    assert_eq!(balance(""), "Paid in full; $14.00 is to be given back.");
    assert_eq!(balance(", over-back = 2025-03-04"), "Paid in full.");
    let shop = shop_of(&[
        ("shop.toml", SHOP),
        ("pieces/desk/piece.toml", &desk(", over-back = 2025-02-04")),
    ]);
    let said = dovetally(shop.path(), &["check"]);
    assert!(said.err.contains("over-paid"), "{}", said.err);
}

/// opening + charged − passed on − kept = closing, from the first book on: 14.40 held, 6.00 charged in
/// January, 20.00 passed on and 0.10 kept in April leave 0.30.
#[test]
fn sales_tax_held_before_the_books_begin_is_in_the_balance() {
    let books = |more: &str| {
        format!(
            "[opening]\nsales-tax = {{ county = 14.40 }}\n\n[[remitted]]\non = 2025-04-15\n\
             to = \"the state\"\ntax-place = \"county\"\namount = 20.00\nkept = 0.10\n{more}"
        )
    };
    let files = |of_2026: &str| {
        shop_of(&[
            ("shop.toml", &format!("{SHOP}[tax.county]\nrate = \"6%\"\nfiles = \"quarterly\"\n")),
            ("books/2025.toml", &books("")),
            ("books/2026.toml", of_2026),
            (
                "pieces/desk/piece.toml",
                "title = \"Desk\"\nbought = { on = 2025-01-02, price = 40 }\n\
                 sale = [{ on = 2025-01-20, price = 100, tax-place = \"county\" }]\n",
            ),
        ])
    };
    let shop = files("");
    let tax = &json(shop.path(), &["year", "2025", "--json"])["sales_tax"];
    let figures = ["at_start", "collected", "remitted", "kept", "held"].map(|key| &tax[key]);
    assert_eq!(figures, ["14.40", "6.00", "20.00", "0.10", "0.30"], "{tax}");
    let second = &json(shop.path(), &["year", "2026", "--json"])["sales_tax"];
    assert_eq!(second["at_start"], "0.30", "{second}");
    let shop = files("[opening]\nsales-tax = { county = 1 }\n");
    let said = dovetally(shop.path(), &["check"]);
    assert!(said.err.contains("opening-tax"), "{}", said.err);
}

/// 330.00 for both and 20.00 of delivery, in shares of 2 to 1; 10 % and 1.00 once for the channel are
/// 36.00, and 6 % of the price 19.80. Each part is to the cent and they add up to the whole.
#[test]
fn pieces_sold_together_each_have_their_part_of_every_amount() {
    let shop_file = format!(
        "{SHOP}[channel.fair]\nfee = \"10%\"\nfixed-fee = 1.00\n[tax.county]\nrate = \"6%\"\n"
    );
    let book = "[[bundle]]\non = 2025-03-01\nprice = 330.00\ndelivery-charged = 20.00\nchannel = \"fair\"\n\
                tax-place = \"county\"\nreceipt-number = \"7\"\npieces = { \"desk\" = 2, \"chair\" = 1 }\n";
    let piece =
        |title: &str| format!("title = \"{title}\"\nbought = {{ on = 2025-01-02, price = 40 }}\n");
    let files = |book: &str| {
        shop_of(&[
            ("shop.toml", &shop_file),
            ("books/2025.toml", book),
            ("pieces/desk/piece.toml", &piece("Desk")),
            ("pieces/chair/piece.toml", &piece("Chair")),
        ])
    };
    let shop = files(book);
    let said = dovetally(shop.path(), &["check"]);
    assert!(said.err.contains("0 errors, 0 warnings"), "{}", said.err);
    let tally = json(shop.path(), &["tally", "--json"]);
    let of = |key: &str| -> Vec<&str> {
        let rows = tally["pieces"].as_array().unwrap();
        rows.iter().map(|row| row[key].as_str().unwrap()).collect()
    };
    // The chair stands before the desk.
    assert_eq!(of("price"), ["110.00", "220.00"]);
    assert_eq!(of("selling_costs"), ["5.33", "10.67"]);
    let year = json(shop.path(), &["year", "2025", "--json"]);
    assert_eq!([line(&year, "1"), line(&year, "10")], ["350.00", "36.00"]);
    assert_eq!(year["tax_collected"], "19.80");
    // A book with an error elsewhere leaves its pieces without figures rather than unsold.
    let broken = files(&format!("{book}\n[[expense]]\non = 2025-01-01\n"));
    let said = dovetally(broken.path(), &["tally", "--json"]);
    let tally: Value = serde_json::from_str(&said.out).unwrap();
    for row in tally["pieces"].as_array().unwrap() {
        assert!(row["price"].is_null() && row["cost_of_goods"].is_null(), "{row}");
    }
    for (wrong, code) in [
        (book.replace("\"chair\" = 1", "\"chiar\" = 1"), "unknown-piece"),
        (format!("{book}count = 1\n"), "bundle-count"),
        (book.replace("pieces = { \"desk\" = 2, \"chair\" = 1 }", ""), "lot-without-pieces"),
    ] {
        let said = dovetally(files(&wrong).path(), &["check"]);
        assert!(said.err.contains(code), "{code}: {}", said.err);
    }
}
