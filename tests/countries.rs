//! A shop in every country: what follows from where it is, what it is told once, and that every figure
//! of its own is there without a tax form.

use crate::folders::{Folder, Written};
use crate::shops::dec;
use crate::yearpaper::words;
use dovetally::cli::Status;
use dovetally::model::{Closed, Distance, countries, country};
use serde_json::Value;
use std::fs;

/// A shop that bought a desk, drove for it, spent something and sold the desk in one tax year.
fn shop(lines: &str) -> Written {
    shop_in(lines, 2025)
}

fn shop_in(lines: &str, year: i32) -> Written {
    let code = lines.split("country = \"").nth(1).map_or("gb", |rest| &rest[..2]);
    let distance = match lines {
        "currency = \"EUR\"" => Distance::Kilometres,
        _ => country(code).distance,
    };
    let book = format!(
        "[[expense]]\non = 2025-06-01\nwhat = \"cards\"\ncategory = \"advertising\"\n\
         amount = 40.00\n[[trip]]\non = 2025-06-02\n{} = 10\npurpose = \"fetch\"\n\
         piece = \"desk\"\n",
        distance.word()
    );
    Folder::shop(lines)
        .bought("desk", "2025-05-01", "100.00", Some(("2025-06-20", "300.00")))
        .bought("table", "2025-05-02", "70.00", None)
        .book(year, &book)
        .written()
}

#[test]
fn every_country_has_all_figures_of_its_own_and_ends_well() {
    for home in countries() {
        let shop = shop_in(&format!("country = \"{}\"", home.code), shop_year(&home.code));
        let code = &home.code;
        let year = shop.year(shop_year(code));
        assert_eq!(year["proof"]["holds"], true, "{code}");
        let lines = year["lines"].as_array().unwrap();
        let first = lines.iter().find(|line| line["line"] == "1").unwrap();
        assert_eq!(first["amount"], "300.00", "{code}");
        assert_eq!(shop.figure(shop_year(code), "cost-of-goods-sold"), dec("100.00"), "{code}");
        assert_eq!(shop.figure(shop_year(code), "trip-miles"), dec("10"), "{code}");
        assert_eq!(shop.tally("desk")["price"], "300.00", "{code}");
        let said = shop.run(&["check"]);
        assert_eq!(said.status, Status::Done, "{code}: {}", said.err);
        let told = said.err.matches("[no-form]").count();
        let has_form = home.form == "us-schedule-c";
        assert_eq!(told, usize::from(!has_form), "{code}: {}", said.err);
    }
}

/// The tax year the entries of [`shop`] lie in.
fn shop_year(code: &str) -> i32 {
    country(code).tax_year_of("2025-06-01".parse().unwrap())
}

/// The flat rate of the United Kingdom is 0.45 a mile; elsewhere nobody's rate is taken.
#[test]
fn papers_are_made_without_a_form() {
    for (lines, profit) in [
        ("country = \"de\"", "€160.00"),
        ("currency = \"GBP\"", "£155.50"),
        ("currency = \"EUR\"", "€160.00"),
        ("country = \"jp\"", "€160.00"),
    ] {
        let shop = shop(lines);
        let said = shop.run(&["make", "--only", "income-summary,stock-sheet"]);
        assert_eq!(said.status, Status::Done, "{lines}: {}", said.err);
        let summary = shop.path().join("out/years/2025/income-summary.pdf");
        let words = words(&fs::read(summary).unwrap());
        assert!(words.contains(&format!("Net profit {profit}")), "{lines}: {words}");
        assert!(!words.contains("Schedule"), "{lines}: {words}");
        assert!(shop.has("out/stock-sheet.pdf"), "{lines}");
    }
}

/// Nothing is known of the money of a country without a row: which one is taken is said.
#[test]
fn the_money_of_an_unknown_country_is_asked_about() {
    let said = |lines: &str| Folder::shop(lines).written().run(&["check"]).err;
    let asked = "its money is taken to be EUR: write `currency` if it is not";
    assert!(said("country = \"jp\"").contains(asked), "{}", said("country = \"jp\""));
    for lines in ["country = \"jp\"\ncurrency = \"USD\"", "country = \"de\""] {
        assert!(!said(lines).contains("its money is taken"), "{lines}");
    }
}

#[test]
fn what_is_not_said_follows_from_the_country() {
    let paper = |lines: &str| {
        let shop = shop(lines);
        let year: Value = shop.year(2025);
        (year["currency"].as_str().unwrap_or_default().to_owned(), year["form"].clone())
    };
    assert_eq!(paper(""), ("USD".to_owned(), "us-schedule-c".into()));
    assert_eq!(paper("country = \"gb\""), ("GBP".to_owned(), "gb-own-account".into()));
    assert_eq!(paper("currency = \"GBP\""), ("GBP".to_owned(), "gb-own-account".into()));
    assert_eq!(paper("country = \"ie\""), ("EUR".to_owned(), "own-account".into()));
    // A US shop that keeps its books in other money has no form it could fill in.
    assert_eq!(
        paper("country = \"us\"\ncurrency = \"EUR\""),
        ("EUR".to_owned(), "own-account".into())
    );
}

#[test]
fn a_currency_of_several_countries_is_asked_about_once() {
    let said = shop("currency = \"EUR\"").run(&["check"]);
    assert_eq!(said.err.matches("[which-country]").count(), 1, "{}", said.err);
    assert!(said.err.contains("country = \"ie\""), "{}", said.err);
    assert!(!shop("currency = \"GBP\"").run(&["check"]).err.contains("which-country"));
}

#[test]
fn a_tax_year_that_begins_in_april_has_its_own_entries() {
    let sale = |on: &str| {
        Folder::shop("country = \"gb\"")
            .bought("desk", "2025-03-01", "100.00", Some((on, "300.00")))
            .book(2024, "")
            .book(2025, "")
            .written()
    };
    let before = sale("2025-04-05");
    assert_eq!((before.line(2024, "1"), before.line(2025, "1")), (dec("300"), dec("0")));
    let after = sale("2025-04-06");
    assert_eq!((after.line(2024, "1"), after.line(2025, "1")), (dec("0"), dec("300")));
    // What was bought in March is stock of the year that begins in April.
    assert_eq!(after.figure(2025, "opening-stock"), dec("100.00"));
    let misplaced = Folder::shop("country = \"gb\"").book(
        2025,
        "[[expense]]\non = 2025-04-05\nwhat = \"cards\"\ncategory = \"advertising\"\namount = 1\n",
    );
    let said = misplaced.written().run(&["check"]);
    assert!(
        said.err.contains("wrong-year") && said.err.contains("books/2024.toml"),
        "{}",
        said.err
    );
}

#[test]
fn miles_of_a_british_year_go_by_bands() {
    // gov.uk, simplified expenses, vehicles (read): 11,000 miles of a tax year are 4,500 and 250.
    let trip = |on: &str, miles: &str| {
        format!("[[trip]]\non = {on}\nmiles = {miles}\npurpose = \"other\"\nwhat = \"fairs\"\n")
    };
    let shop = Folder::shop("country = \"gb\"")
        .book(2024, &trip("2025-04-05", "9000"))
        .book(2025, &(trip("2025-04-06", "6000") + &trip("2026-04-05", "5000")))
        .written();
    shop.assert_figures(2025, &[("trips", "4750.00"), ("trip-miles", "11000")]);
    shop.assert_figures(2024, &[("trips", "4050.00")]);
}

#[test]
fn trips_are_written_in_the_unit_of_the_country() {
    let trip = "[[trip]]\non = 2025-06-02\nmiles = 10\npurpose = \"other\"\nwhat = \"a fair\"\n";
    let said = Folder::shop("country = \"de\"").book(2025, trip).written().run(&["check"]);
    assert!(said.err.contains("other-distance") && said.err.contains("km = 12.5"), "{}", said.err);
}
