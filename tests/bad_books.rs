//! Slips in the owner's files that a year must not pass over: each is a finding of its own, the year
//! is refused with it, and the same folder without the slip has figures. Nothing is put under other
//! expenses or taken as zero.

use crate::folders::Folder;
use crate::shops::dec;
use dovetally::cli::Status;

/// The year 2025 of a folder: without the slip it has figures, with it `check` and `year` say why not.
fn refused(code: &str, slip: Folder, sound: Folder) -> String {
    let sound = sound.written();
    assert_eq!(sound.run(&["check"]).status, Status::Done, "{}", sound.run(&["check"]).err);
    assert_eq!(sound.year(2025)["proof"]["holds"], true, "{code}");
    let slip = slip.written();
    let checked = slip.run(&["check"]);
    assert_eq!(checked.status, Status::Errors, "{code}: {}", checked.err);
    let said = checked.err + &checked.out;
    assert!(said.contains(&format!("error[{code}]")), "{code}: {said}");
    let refusal = slip.refused(2025);
    assert!(refusal.contains("no figures for 2025"), "{code}: {refusal}");
    said
}

fn expense(category: &str) -> Folder {
    let book = format!(
        "expense = [{{ on = 2025-03-01, what = \"varnish\", category = \"{category}\", amount = 9 }}]"
    );
    Folder::new().book(2025, &book)
}

#[test]
fn a_category_no_line_takes() {
    let said = refused("unknown-category", expense("advertisment"), expense("advertising"));
    assert!(said.contains("books/2025.toml:1") && said.contains("\"advertising\"`"), "{said}");
}

fn trip(year: i32, on: &str) -> Folder {
    let book =
        format!("trip = [{{ on = {on}, miles = 10, purpose = \"fetch\", piece = \"one\" }}]");
    Folder::new().piece("one", "bought = { on = 2020-01-01, price = 5 }").book(year, &book)
}

#[test]
fn a_rate_missing_for_a_day() {
    // There is no table of 2021, and so no rate: the year has no figures, and the piece no tally.
    let shop = trip(2021, "2021-05-01").written();
    assert!(shop.refused(2021).contains("no-mileage-rate"));
    shop.assert_no_tally("one");
    let known = trip(2025, "2025-05-01").written();
    assert_eq!(known.tally("one")["freight_in"], "7.00");
}

#[test]
fn a_trip_written_twice() {
    let entry = "[[trip]]\non = 2025-05-01\nmiles = 10\npurpose = \"other\"\n";
    let shop = Folder::new().book(2025, &format!("{entry}{entry}")).written();
    let said = shop.run(&["check"]);
    assert!(said.err.contains("warning[trip-twice]"), "{}", said.err);
    // A warning: both may have been driven, so both count.
    assert_eq!(shop.line(2025, "9"), dec("14.00"));
    let told = format!("{entry}what = \"post\"\n{entry}what = \"bank\"\n");
    let said = Folder::new().book(2025, &told).written().run(&["check"]);
    assert!(!said.err.contains("trip-twice"), "{}", said.err);
}

#[test]
fn a_trip_in_two_books() {
    let entry = "[[trip]]\non = 2025-05-01\nmiles = 10\npurpose = \"other\"\n";
    let one = Folder::new().book(2025, entry);
    refused("wrong-year", one.clone().book(2024, entry), one);
}

fn desk(lines: &str) -> Folder {
    Folder::new().piece("desk", &format!("bought = {{ on = 2025-01-10, price = 100.00 }}\n{lines}"))
}

#[test]
fn a_payment_larger_than_the_price() {
    let paid = |amount: &str| {
        desk(&format!(
            "sale = [{{ on = 2025-03-01, price = 200.00, delivery-charged = 10.00 }}]
payment = [{{ on = 2025-03-01, amount = {amount} }}]"
        ))
    };
    let said = refused("payment-over-price", paid("210.01"), paid("210.00"));
    assert!(said.contains("210.01 paid of 210.00"), "{said}");
    paid("210.01").written().assert_no_tally("desk");
}

#[test]
fn an_allowance_larger_than_the_price_or_of_no_sale() {
    let lowered = |amount: &str| {
        desk(&format!(
            "sale = [{{ on = 2025-03-01, price = 200.00 }}]
allowance = [{{ on = 2025-03-05, amount = {amount} }}]"
        ))
    };
    refused("allowance-over-price", lowered("200.01"), lowered("200.00"));
    let unsold = desk("allowance = [{ on = 2025-03-05, amount = 5.00 }]");
    refused("allowance-without-sale", unsold, lowered("5.00"));
}

#[test]
fn a_return_without_a_sale() {
    let back = "return = [{ on = 2025-04-01, refunded = 0 }]";
    let sold = format!("sale = [{{ on = 2025-03-01, price = 10.00 }}]\n{back}");
    refused("return-without-sale", desk(back), desk(&sold));
}

#[test]
fn a_lot_whose_pieces_do_not_exist() {
    let lot = |name: &str| {
        let book = format!(
            "[[lot]]\non = 2025-02-01\nwhat = \"lot\"\nprice = 90\npieces = {{ one = 1, {name} = 2 }}\n"
        );
        Folder::new().piece("one", "").piece("two", "").book(2025, &book)
    };
    let said = refused("unknown-piece", lot("tow"), lot("two"));
    assert!(said.contains("`tow`"), "{said}");
    // The other piece of the lot has no purchase that could be trusted.
    lot("tow").written().assert_no_tally("one");
}

/// Wax kept by the ounce: bought, drawn and counted in these quantities.
fn wax(bought: &str, drawn: &str, counted: &str) -> Folder {
    let book = format!(
        "supply = [{{ on = 2025-01-02, stock = \"wax\", quantity = \"{bought}\", amount = 16.00 }}]
count = [{{ on = 2025-12-31, stock = \"wax\", quantity = \"{counted}\" }}]"
    );
    let lines = format!("used = [{{ on = 2025-02-01, stock = \"wax\", quantity = \"{drawn}\" }}]");
    desk(&lines).file("stock.toml", "[wax]\nlabel = \"wax\"\nunit = \"oz\"\n").book(2025, &book)
}

#[test]
fn units_that_do_not_convert() {
    let sound = || wax("1 lb", "2 oz", "5 oz");
    refused("other-unit", wax("8 fl oz", "2 oz", "5 oz"), sound());
    refused("other-unit", wax("1 lb", "2 fl oz", "5 oz"), sound());
    refused("other-unit", wax("1 lb", "2 oz", "5 ft"), sound());
}

#[test]
fn more_counted_or_drawn_than_was_ever_bought() {
    refused("counted-too-much", wax("8 oz", "2 oz", "9 oz"), wax("8 oz", "2 oz", "6 oz"));
    refused("drawn-too-much", wax("8 oz", "9 oz", "0 oz"), wax("8 oz", "8 oz", "0 oz"));
}

#[test]
fn a_part_that_takes_more_cost_than_there_is() {
    let part = |cost: &str| {
        desk(&format!(
            "salvaged = [{{ on = 2025-02-01, what = \"top\", cost = {cost}, sold-for = 40.00 }}]"
        ))
    };
    let said = refused("salvaged-over-cost", part("100.01"), part("100.00"));
    assert!(said.contains("100.01") && said.contains("100.00"), "{said}");
}

#[test]
fn a_channel_or_a_tax_the_shop_does_not_have() {
    let sold = |more: &str| {
        let piece = format!("sale = [{{ on = 2025-03-01, price = 10.00{more} }}]");
        desk(&piece)
    };
    refused("unknown-channel", sold(", channel = \"barn\""), sold(""));
    refused("unknown-tax", sold(", tax-place = \"town\""), sold(""));
}
