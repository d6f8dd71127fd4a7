//! The bank's export from the folder to the figures, the tables and the paper.

use crate::shell::{Said, demo, dovetally, shop_of};
use crate::shops::{book, day, dec, piece, sale, shop};
use crate::yearpaper::words;
use dovetally::cli::Status;
use dovetally::model::{BankDeposit, BankExport, DateOrder, Money, Place, Shop};
use dovetally::read::read;
use dovetally::reckon::year::{BankMatch, year};
use dovetally::reckon::{costs::piece_costs, stock::run_stock};
use proptest::prelude::*;
use serde_json::Value;
use tempfile::TempDir;

const SHOP: &str = "name = \"Quayside Furniture\"
[bank]
date = \"Date\"
amount = \"Amount\"
text = \"Details\"
[channel.online]
fee = \"10%\"
fixed-fee = 0.50
collects-tax = true
[channel.fair]
";

/// A shop folder with an export and a piece for each body of a piece file.
fn folder(export: &str, pieces: &[&str]) -> TempDir {
    let file = |(i, body): (usize, &&str)| {
        (format!("pieces/{i:02}/piece.toml"), format!("title = \"Piece {i}\"\n{body}\n"))
    };
    let pieces: Vec<(String, String)> = pieces.iter().enumerate().map(file).collect();
    let export = format!("Date,Details,Amount\n{export}");
    let mut files = vec![
        ("shop.toml", SHOP),
        ("books/2025.toml", "[bank]\nfile = \"bank.csv\"\n"),
        ("books/bank.csv", export.as_str()),
    ];
    files.extend(pieces.iter().map(|(path, text)| (path.as_str(), text.as_str())));
    shop_of(&files)
}

fn bank(said: &Said) -> Value {
    let year: Value = serde_json::from_str(&said.out).unwrap();
    year["bank"].clone()
}

fn of_year(folder: &TempDir) -> Value {
    let said = dovetally(folder.path(), &["year", "2025", "--json"]);
    assert_eq!(said.status, Status::Done, "{}", said.err);
    bank(&said)
}

fn assert_bank(bank: &Value, figures: [(&str, &str); 6]) {
    for (figure, worked) in figures {
        assert_eq!(bank[figure], worked, "{figure} of {bank:#}");
    }
}

/// The outcome of each row, with the pieces in it.
fn outcomes(bank: &Value) -> Vec<(String, usize)> {
    let rows = bank["rows"].as_array().unwrap().iter();
    rows.map(|row| {
        (row["outcome"].as_str().unwrap().to_owned(), row["sales"].as_array().unwrap().len())
    })
    .collect()
}

/// Deposits 126.00 (price 100, delivery 20, tax 6), 206.50 (230.00 less 23.00 and 0.50; the market
/// keeps the tax), 120.00 (50 and 70 of one day), 160.50 (40, 60 and 80 less 4.50, 6.50 and 8.50),
/// 60.00 and 140.00 (two payments, the second ten days on its way) and 90.00 (twelve days after the
/// sale of 90.00, so not for it): 903.00. The 75.00 of 30 December are found in January.
/// Due 126 + 230 + 120 + 180 + 200 + 90 + 75 = 1,021.00.
#[test]
fn every_way_money_comes_in_worked_by_hand() {
    let export = "2025-03-03,paid in,126.00
2025-03-14,payout,206.50
2025-04-07,paid in,120.00
2025-05-09,payout,160.50
2025-05-21,transfer,60.00
2025-06-02,bank charge,-4.00
2025-06-11,transfer,140.00
2025-07-13,paid in,90.00
2026-01-05,transfer,75.00
";
    let sold = |on: &str, price: u32, more: &str| {
        format!("sale = [{{ on = {on}, price = {price}{more} }}]")
    };
    let online = ", channel = \"online\"";
    let fair = ", channel = \"fair\"";
    let paid = "sale = [{ on = 2025-06-01, price = 200 }]
payment = [{ on = 2025-05-20, amount = 60 }, { on = 2025-06-01, amount = 140 }]";
    let pieces = [
        sold("2025-03-01", 100, ", delivery-charged = 20, tax-collected = 6"),
        sold("2025-03-10", 200, &format!("{online}, delivery-charged = 30, tax-collected = 14")),
        sold("2025-04-05", 50, fair),
        sold("2025-04-05", 70, fair),
        sold("2025-05-01", 40, online),
        sold("2025-05-03", 60, online),
        sold("2025-05-06", 80, online),
        paid.to_owned(),
        sold("2025-07-01", 90, ""),
        sold("2025-12-30", 75, ""),
    ];
    let pieces: Vec<&str> = pieces.iter().map(String::as_str).collect();
    let bank = of_year(&folder(export, &pieces));
    assert_bank(
        &bank,
        [
            ("deposits", "903.00"),
            ("matched", "813.00"),
            ("extra", "90.00"),
            ("expected", "1021.00"),
            ("found", "931.00"),
            ("missing", "90.00"),
        ],
    );
    let matched = |sales| ("matched".to_owned(), sales);
    assert_eq!(
        outcomes(&bank),
        [
            matched(1),
            matched(1),
            matched(2),
            matched(3),
            matched(1),
            matched(1),
            ("missing".to_owned(), 1),
            ("extra".to_owned(), 0),
        ]
    );
}

#[test]
fn each_deposit_and_each_sale_counts_once_and_the_earliest_first() {
    let twice = "2025-03-03,paid in,50.00\n2025-03-04,paid in,50.00\n";
    let sale = "sale = [{ on = 2025-03-02, price = 50 }]";
    let bank = of_year(&folder(twice, &[sale]));
    assert_eq!(bank["rows"][0]["outcome"], "matched");
    assert_eq!(bank["rows"][1]["outcome"], "extra");
    let once = "2025-03-03,paid in,50.00\n";
    let later = "sale = [{ on = 2025-03-03, price = 50 }]";
    let bank = of_year(&folder(once, &[later, sale]));
    assert_eq!(bank["rows"][0]["sales"][0], "Piece 1, 01");
    assert_eq!(bank["missing"], "50.00");
}

/// IRS Pub. 583, sample record system, item 7: the bank statement lacks deposits of 701.33 and 516.08
/// (1,217.41 in transit), and a deposit of 600.40 stands in the books as 594.40. The days are ours.
#[test]
fn published_deposits_in_transit_and_a_deposit_entered_wrong() {
    let shop = |entered: &str| {
        let on_the_way = ["701.33", "516.08"];
        let late = on_the_way.map(|p| format!("sale = [{{ on = 2025-01-31, price = {p} }}]"));
        let early = format!("sale = [{{ on = 2025-01-20, price = {entered} }}]");
        folder("2025-01-21,deposit,600.40\n", &[&early, &late[0], &late[1]])
    };
    let money = |bank: &Value, figure: &str| dec(bank[figure].as_str().unwrap());
    let wrong = of_year(&shop("594.40"));
    assert_eq!(money(&wrong, "extra"), dec("600.40"));
    assert_eq!(money(&wrong, "missing"), dec("594.40") + dec("1217.41"));
    let fixed = of_year(&shop("600.40"));
    assert_eq!(money(&fixed, "extra"), Money::ZERO);
    assert_eq!(money(&fixed, "missing"), dec("1217.41"));
}

#[test]
fn an_export_is_read_as_the_bank_writes_it() {
    let export = "\u{feff}Tag;\"Was; wozu\";Betrag\r\n\r\n03.04.2025;\"Tisch; bar\";1.250,40\r\n\
                  04.04.2025;Strom;-60,00\r\n05.04.2025;leer;\r\n06.04.25;Stuhl;\"40,00\"\r\n";
    let map = "name = \"Shop\"\n[bank]\ndate = \"Tag\"\namount = \"Betrag\"\ntext = \"Was; wozu\"
date-order = \"day-month-year\"\ndecimal-comma = true\n";
    let folder = shop_of(&[
        ("shop.toml", map),
        ("books/2025.toml", "[bank]\nfile = \"../bank/april.csv\"\n"),
        ("bank/april.csv", export),
    ]);
    let reading = read(folder.path()).unwrap();
    assert!(reading.findings.is_empty(), "{:?}", reading.findings);
    let shop = reading.shop.unwrap();
    assert_eq!(shop.bank.as_ref().unwrap().date_order, DateOrder::DayMonthYear);
    let deposits = shop.years[&2025].bank.as_ref().unwrap().deposits.as_ref().unwrap();
    let told = |one: &BankDeposit| {
        let name = reading.sources.name(one.place).unwrap();
        format!("{} {} {} {name}", one.on, one.amount, one.text)
    };
    let told: Vec<String> = deposits.iter().map(told).collect();
    assert_eq!(
        told,
        [
            "2025-04-03 1250.40 Tisch; bar bank/april.csv:3:1",
            "2025-04-06 40.00 Stuhl bank/april.csv:6:1"
        ]
    );
}

#[test]
fn an_export_that_cannot_be_read_is_said_and_the_year_stands_without_it() {
    let folder = folder("yesterday,paid in,50.00\n", &["sale = [{ on = 2025-03-02, price = 50 }]"]);
    let said = dovetally(folder.path(), &["year", "2025", "--json"]);
    assert_eq!(said.status, Status::Errors, "{}", said.err);
    let year: Value = serde_json::from_str(&said.out).unwrap();
    assert_eq!(year["bank"], Value::Null);
    assert_eq!(year["lines"][0]["amount"], "50.00");
    let checked = |code: &str| {
        let said = dovetally(folder.path(), &["check"]);
        assert!(said.err.contains(code) && said.err.contains("bank.csv:2"), "{}", said.err);
    };
    checked("bank-date");
    let not_text = b"Date,Details,Amount\n2025-03-03,caf\xe9,1.00\n";
    std::fs::write(folder.path().join("books/bank.csv"), not_text).unwrap();
    checked("not-utf-8");
}

/// Two books may name one export: each deposit still counts once.
#[test]
fn an_export_over_two_years_is_named_by_both_books() {
    let folder = folder(
        "2024-12-30,paid in,40.00\n2025-03-03,paid in,50.00\n",
        &["sale = [{ on = 2024-12-29, price = 40 }]", "sale = [{ on = 2025-03-02, price = 50 }]"],
    );
    std::fs::copy(folder.path().join("books/2025.toml"), folder.path().join("books/2024.toml"))
        .unwrap();
    for (of, amount) in [("2024", "40.00"), ("2025", "50.00")] {
        let found = bank(&dovetally(folder.path(), &["year", of, "--json"]));
        assert_eq!(found["deposits"], amount);
        assert_eq!(found["matched"], amount);
        assert_eq!(found["missing"], "0.00");
    }
}

/// Interest of 0.84 is no sale; the stool sold on 30 December for 52.00 was settled in January.
#[test]
fn the_demo_names_what_is_extra_and_what_is_missing() {
    let found = bank(&dovetally(&demo(), &["year", "2025", "--json"]));
    assert_bank(
        &found,
        [
            ("deposits", "4273.27"),
            ("matched", "4272.43"),
            ("extra", "0.84"),
            ("expected", "4605.28"),
            ("found", "4553.28"),
            ("missing", "52.00"),
        ],
    );
    let traced = dovetally(&demo(), &["trace", "2025", "bank-extra"]);
    assert!(traced.out.contains("books/bank-2025.csv:9"), "{}", traced.out);
}

#[test]
fn the_table_and_the_paper_are_made() {
    let folder = folder(
        "2025-03-03,=HYPERLINK,50.00\n2025-03-09,Interest,0.84\n",
        &["sale = [{ on = 2025-03-02, price = 50 }]"],
    );
    let said = dovetally(folder.path(), &["make", "--year", "2025"]);
    assert_eq!(said.status, Status::Done, "{}", said.err);
    let made = folder.path().join("out/years/2025");
    let table = std::fs::read_to_string(made.join("bank.csv")).unwrap();
    let rows: Vec<&str> = table.lines().collect();
    assert_eq!(rows[0], "outcome,on,amount,expected,text,sales,place");
    assert!(rows[1].starts_with("matched,2025-03-03,50.00,50.00,'=HYPERLINK,"), "{table}");
    assert_eq!(rows[2], "extra,2025-03-09,0.84,,Interest,,books/bank.csv:3");
    let paper = words(&std::fs::read(made.join("income-summary.pdf")).unwrap());
    for said in ["Deposits in the bank", "“Interest”: no sale explains this deposit"] {
        assert!(paper.contains(said), "{said}: {paper}");
    }
}

/// Only what goes through a channel can be reported; the table still has all that was sold.
#[test]
fn sales_through_no_channel_have_no_row_among_the_reports() {
    let sold = "sale = [{ on = 2025-03-02, price = 50 }]";
    let online = "sale = [{ on = 2025-03-02, price = 70, channel = \"online\" }]";
    let folder = folder("", &[sold, online]);
    let book = "[[reported]]\nchannel = \"online\"\ngross = 70.00\n";
    std::fs::write(folder.path().join("books/2025.toml"), book).unwrap();
    let said = dovetally(folder.path(), &["make", "--year", "2025"]);
    assert_eq!(said.status, Status::Done, "{}", said.err);
    let made = folder.path().join("out/years/2025");
    let paper = words(&std::fs::read(made.join("income-summary.pdf")).unwrap());
    assert!(paper.contains("What was reported is what the books say"), "{paper}");
    assert!(!paper.contains("Nothing was reported"), "{paper}");
    let table = std::fs::read_to_string(made.join("reconciliation.csv")).unwrap();
    assert_eq!(table.lines().count(), 3, "{table}");
}

#[test]
fn any_export_at_all_is_read_or_is_a_finding() {
    let long = "2025-03-03,paid in,1\n".repeat(20_000);
    for text in ["", "\"", "\0,\n", ",,,", "\r\r\n", "2025-03-03,\"paid\n in,1", "é,é,é\n", &long]
    {
        let folder = folder(text, &[]);
        let few = read(folder.path()).unwrap().findings;
        assert!(few.len() <= 5, "{text:.40}: {}", few.len());
        std::fs::write(folder.path().join("books/bank.csv"), text).unwrap();
        let findings = read(folder.path()).unwrap().findings;
        assert!((1..=5).contains(&findings.len()), "{text:.40}: {findings:?}");
        assert!(findings.iter().all(|finding| finding.hint.is_some()), "{findings:?}");
    }
}

/// A shop of sales on days and at prices in whole dollars, with the deposits of an export.
fn matched(sales: &[(u64, i64)], deposits: Vec<BankDeposit>) -> BankMatch {
    let shop = with(sales, deposits);
    let run = run_stock(&shop);
    let costs = piece_costs(&shop, &run);
    year(&shop, &run, &costs, 2025).unwrap().bank.unwrap()
}

fn with(sales: &[(u64, i64)], deposits: Vec<BankDeposit>) -> Shop {
    let mut shop = shop();
    for (i, (after, price)) in sales.iter().enumerate() {
        let mut sold = piece(&format!("pieces/{i:04}"));
        sold.sale.push(sale(on(*after), Money::from(*price)));
        shop.pieces.push(sold);
    }
    let file = "bank.csv".to_owned().into();
    let deposits = Some(deposits);
    book(&mut shop, 2025).bank = Some(BankExport { file, deposits, place: Place::NOWHERE });
    shop
}

fn on(after: u64) -> chrono::NaiveDate {
    day("2025-01-01") + chrono::Days::new(after)
}

fn deposit((after, amount): &(u64, i64)) -> BankDeposit {
    let amount = Money::from(*amount);
    BankDeposit { on: on(*after), amount, text: String::new(), place: Place::NOWHERE }
}

/// Days of one year and few amounts, so that many are alike.
fn amounts() -> impl Strategy<Value = Vec<(u64, i64)>> {
    proptest::collection::vec((0u64..360, 1i64..30), 0..40)
}

proptest! {
    #[test]
    fn what_is_matched_missing_and_extra_adds_up(sales in amounts(), paid_in in amounts()) {
        let deposits: Vec<BankDeposit> = paid_in.iter().map(deposit).collect();
        let found = matched(&sales, deposits.clone());
        let of = |all: &[(u64, i64)]| Money::from(all.iter().map(|(_, amount)| amount).sum::<i64>());
        prop_assert_eq!(found.matched + found.extra, of(&paid_in));
        prop_assert_eq!(found.found + found.missing, of(&sales));
        // There is no fee, so what is found is what was paid in.
        prop_assert_eq!(found.found, found.matched);
        let turned = matched(&sales, deposits.into_iter().rev().collect());
        prop_assert_eq!(turned.matched, found.matched);
    }

    #[test]
    fn where_every_sale_is_paid_in_within_ten_days_nothing_is_missing_or_extra(
        sales in amounts(),
        days in 0u64..=5,
    ) {
        let deposits = sales.iter().map(|(after, price)| deposit(&(after + days, *price)));
        let found = matched(&sales, deposits.collect());
        prop_assert_eq!((found.missing, found.extra), (Money::ZERO, Money::ZERO));
    }
}
