//! Records from the folder to the paper: what lacks one, and the index of receipts.

use crate::pdf;
use crate::shell::{dovetally, shop_of};
use crate::yearpaper::{attached, words};
use dovetally::cli::Status;
use std::fs::{self, File};
use tempfile::TempDir;

const SHOP: (&str, &str) = ("shop.toml", "name = \"Test Shop\"\n");

/// 12.50 and 4.00 share a receipt of one day; 7.00 names it on another; the receipt of 35.00 is
/// not there; the sale names none.
const PIECE: (&str, &str) = (
    "pieces/pine-washstand/piece.toml",
    "title = \"Pine washstand\"\n\
     bought = { on = 2025-02-01, price = 35, receipt = \"lost.txt\" }\n\
     cost = [\n\
     { on = 2025-02-03, what = \"=knobs\", kind = \"hardware\", amount = 12.50, receipt = \"store.txt\" },\n\
     { on = 2025-02-03, what = \"hinge\", kind = \"hardware\", amount = 4, receipt = \"./store.txt\" },\n\
     { on = 2025-03-01, what = \"screws\", kind = \"hardware\", amount = 7, receipt = \"store.txt\" },\n\
     ]\n\
     sale = [{ on = 2025-04-01, price = 240 }]\n",
);

/// FIPS 180-2, appendix B.1: the checksum of "abc".
const OF_ABC: &str = "ba7816bf8f01cfea414140de5dae2223b00361a396177a9cb410ff61f20015ad";

fn shop() -> TempDir {
    shop_of(&[SHOP, PIECE, ("pieces/pine-washstand/store.txt", "abc")])
}

fn made(shop: &TempDir, name: &str) -> Vec<u8> {
    fs::read(shop.path().join("out/years/2025").join(name)).unwrap()
}

fn index(shop: &TempDir) -> Vec<Vec<String>> {
    let text = made(shop, "receipts.csv");
    let rows = csv::Reader::from_reader(text.as_slice()).into_records();
    rows.map(|row| row.unwrap().iter().map(str::to_owned).collect()).collect()
}

#[test]
fn what_lacks_a_record_is_listed_by_amount_with_the_reason() {
    let shop = shop();
    let check = dovetally(shop.path(), &["check"]);
    assert_eq!(check.status, Status::Done, "{}", check.err);
    assert!(check.err.contains("warning[no-such-file]"), "{}", check.err);
    let year = dovetally(shop.path(), &["year", "2025", "--json"]);
    let json: serde_json::Value = serde_json::from_str(&year.out).unwrap();
    let told = json["missing_records"].as_array().unwrap().iter().map(|record| {
        let text = |key: &str| record[key].as_str().unwrap_or("none").to_owned();
        [text("amount"), text("lacks"), text("receipt")].join(" ")
    });
    assert_eq!(
        told.collect::<Vec<_>>(),
        [
            "240.00 receipt none",
            "35.00 file pieces/pine-washstand/lost.txt",
            "7.00 own-receipt pieces/pine-washstand/store.txt",
        ]
    );
    // 240.00 + 35.00 + 7.00.
    let trace = dovetally(shop.path(), &["trace", "2025", "missing-records"]);
    assert!(trace.out.contains("282.00"), "{}", trace.out);
}

#[test]
fn a_photo_that_is_not_there_is_said_and_only_its_papers_wait_for_it() {
    let piece = "title = \"Pine washstand\"\nphoto = [{ file = \"lost.jpg\" }]\n";
    let shop = shop_of(&[SHOP, ("pieces/washstand/piece.toml", piece)]);
    let said = dovetally(shop.path(), &["check"]);
    assert_eq!(said.status, Status::Done);
    assert_eq!(said.err.matches("warning[").count(), 1, "{}", said.err);
    assert!(said.err.contains("there is no file"), "{}", said.err);
    let made = dovetally(shop.path(), &["make"]);
    assert_eq!(made.status, Status::Done);
    assert!(made.err.contains("left out: pictures of washstand"), "{}", made.err);
}

#[test]
fn the_paper_says_what_lacks_and_what_a_record_must_show_and_carries_the_index() {
    let shop = shop();
    assert_eq!(dovetally(shop.path(), &["make", "--year", "2025"]).status, Status::Done);
    let paper = made(&shop, "income-summary.pdf");
    assert_eq!(pdf::faults(&paper, true), Vec::<String>::new());
    let words = words(&paper);
    for said in ["lost.txt is missing", "of another day", "Purchases of stock", "IRS Pub. 583"] {
        assert!(words.contains(said), "{said} is not in {words}");
    }
    let (_, inside) =
        attached(&paper).into_iter().find(|(name, _)| name == "receipts.csv").unwrap();
    assert_eq!(inside.as_bytes(), made(&shop, "receipts.csv"));
}

#[test]
fn the_index_names_every_receipt_with_its_checksum_and_its_entries() {
    let shop = shop();
    let made = dovetally(shop.path(), &["make", "--year", "2025"]);
    assert_eq!(made.status, Status::Done, "{}", made.err);
    let file = "pieces/pine-washstand/piece.toml";
    let row =
        |name: &str, sum: &str, found: &str, line: u32, on: &str, what: &str, amount: &str| {
            let bytes = if sum.is_empty() { "" } else { "3" };
            let path = format!("pieces/pine-washstand/{name}");
            let what = format!("Pine washstand, pine-washstand: {what}");
            [path, sum.into(), bytes.into(), found.into(), format!("{file}:{line}"), on.into()]
                .into_iter()
                .chain([what, amount.into()])
                .collect::<Vec<String>>()
        };
    assert_eq!(
        index(&shop),
        [
            row("lost.txt", "", "no: is missing", 2, "2025-02-01", "bought", "35.00"),
            row("store.txt", OF_ABC, "yes", 4, "2025-02-03", "=knobs", "12.50"),
            row("store.txt", OF_ABC, "yes", 5, "2025-02-03", "hinge", "4.00"),
            row("store.txt", OF_ABC, "yes", 6, "2025-03-01", "screws", "7.00"),
        ]
    );
}

/// Other bytes of the same length and the same day of change, as a restored copy may have.
#[test]
fn a_receipt_that_only_its_bytes_tell_apart_is_read_again_and_nothing_else_is_written() {
    let shop = shop();
    let make = || dovetally(shop.path(), &["make", "--year", "2025"]);
    make();
    let again = make();
    assert!(again.err.contains("0 files written"), "{}", again.err);
    let receipt = shop.path().join("pieces/pine-washstand/store.txt");
    let changed = fs::metadata(&receipt).unwrap().modified().unwrap();
    fs::write(&receipt, "abd").unwrap();
    File::options().write(true).open(&receipt).unwrap().set_modified(changed).unwrap();
    let other = make();
    // The index, and the paper that carries it.
    assert!(other.err.contains("2 files written"), "{}", other.err);
    assert!(index(&shop).iter().all(|row| row[1] != OF_ABC));
}
