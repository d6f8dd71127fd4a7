//! What holds for every folder: exact amounts, the order of files, what a broken file leaves.

use super::folder::{SHOP, codes, folder, page, reading, write};
use chrono::NaiveDate;
use dovetally::model::{Piece, Severity};
use dovetally::read::{find_shop, read};
use rust_decimal::Decimal;
use std::fmt::Write;
use std::path::Path;
use std::time::Instant;
use tempfile::TempDir;

fn piece_priced(price: &str) -> Result<Decimal, &'static str> {
    let text = format!("title = \"Oak\"\nbought = {{ on = 2025-02-01, price = {price} }}\n");
    let reading = reading(&[SHOP, ("pieces/oak/piece.toml", &text)]);
    match reading.shop.unwrap().pieces.pop() {
        Some(piece) => Ok(piece.bought.unwrap().price.value),
        None => Err(reading.findings[0].code.word()),
    }
}

#[test]
fn an_amount_is_the_digits_as_typed() {
    for (typed, cents) in [
        ("59.99", 5999),
        ("0.1", 10),
        ("1250", 125_000),
        ("1_250.5", 125_050),
        ("+3.10", 310),
        ("\"1,250.00\"", 125_000),
        ("\"$1,250\"", 125_000),
        ("'1,234,567.89'", 123_456_789),
        ("0", 0),
        ("-0.00", 0),
        ("90071992547.40993e0", -1),
        ("4503599.63", 450_359_963),
    ] {
        match piece_priced(typed) {
            Ok(amount) => assert_eq!(amount, Decimal::new(cents, 2), "{typed}"),
            Err(code) => assert_eq!((code, cents), ("amount", -1), "{typed}"),
        }
    }
}

#[test]
fn what_is_no_amount_is_refused() {
    for (typed, code) in [
        ("-1", "negative-amount"),
        ("\"-0.01\"", "negative-amount"),
        ("1.001", "amount"),
        ("1.000", "amount"),
        ("\"12,50\"", "amount"),
        ("\"£ 12.50\"", "amount"),
        ("\"1.250,00\"", "amount"),
        ("\"\"", "empty-text"),
        ("true", "wrong-type"),
        ("1_000_000_000", "amount"),
    ] {
        assert_eq!(piece_priced(typed), Err(code), "{typed}");
    }
}

#[test]
fn the_order_of_the_files_changes_nothing() {
    let files: Vec<(String, String)> = (0..12)
        .map(|n| {
            let text =
                format!("number = \"25-{:03}\"\ntitle = \"Piece {n}\"\nwrong{n} = 1\n", 99 - n);
            (format!("pieces/{}/{n}/piece.toml", n % 3), text)
        })
        .collect();
    let mut listed: Vec<(&str, &str)> =
        files.iter().map(|(path, text)| (path.as_str(), text.as_str())).chain([SHOP]).collect();
    let forwards = page(&reading(&listed));
    listed.reverse();
    assert_eq!(page(&reading(&listed)), forwards);
    assert_eq!(forwards.matches("unknown-key").count(), 12);
}

#[test]
fn pieces_stand_in_the_order_of_their_names() {
    let reading = reading(&[
        SHOP,
        ("pieces/a/piece.toml", "number = \"25-002\"\ntitle = \"Second\"\n"),
        ("elsewhere/deep/b/piece.toml", "number = \"25-001\"\ntitle = \"First\"\n"),
        ("zebra/piece.toml", "title = \"Third\"\n"),
        ("out/pieces/c/piece.toml", "title = \"Written by the program\"\n"),
        ("layouts/piece.toml", "title = \"Not a piece\"\n"),
        (".hidden/piece.toml", "title = \"Not a piece\"\n"),
    ]);
    assert_eq!(codes(&reading), Vec::<&str>::new());
    let shop = reading.shop.unwrap();
    let names: Vec<&str> = shop.pieces.iter().map(Piece::name).collect();
    assert_eq!(names, ["25-001", "25-002", "zebra"]);
}

#[test]
fn three_lines_are_enough_and_an_empty_folder_is_told_so() {
    let text = "title = \"Pine\"\nbought = { on = 2025-02-01, price = 35 }\nsale = [{ on = 2025-03-01, price = 240 }]\n";
    let three = reading(&[SHOP, ("pieces/pine/piece.toml", text)]);
    assert_eq!((three.findings.len(), three.shop.unwrap().pieces.len()), (0, 1));
    let empty = reading(&[]);
    assert_eq!(codes(&empty), ["no-shop-file"]);
    assert!(empty.findings[0].message.ends_with("has no shop.toml and no pieces"));
    assert!(empty.shop.is_none());
    let missing = read(Path::new("/no/such/folder")).unwrap_err();
    assert_eq!(missing.doing, "read the folder");
}

#[test]
fn a_broken_piece_is_named_with_the_day_its_figures_may_begin() {
    let reading = reading(&[
        SHOP,
        ("pieces/sound/piece.toml", "title = \"Pine\"\n"),
        (
            "pieces/broken/piece.toml",
            "title = \"Oak\"\nprize = 1\nsale = [{ on = 2025-03-01, price = 9 }]\nbought = { on = 2024-12-30, price = 3 }\n",
        ),
    ]);
    assert_eq!(codes(&reading), ["unknown-key"]);
    let shop = reading.shop.unwrap();
    assert_eq!(shop.pieces.len(), 1);
    let [broken] = shop.broken.as_slice() else { panic!("{:?}", shop.broken) };
    assert_eq!(broken.path, "pieces/broken/piece.toml");
    assert_eq!(broken.since, NaiveDate::from_ymd_opt(2024, 12, 30));
}

#[test]
fn no_piece_name_is_judged_while_a_piece_with_an_unread_number_may_bear_it() {
    let book = "[[trip]]\non = 2025-03-01\nmiles = 3\npurpose = \"fetch\"\npiece = \"25-014\"\n";
    let said = |piece: &str| {
        codes(&reading(&[SHOP, ("books/2025.toml", book), ("pieces/oak/piece.toml", piece)]))
    };
    assert_eq!(said("title = \"Oak\"\nnumber = 25-014\n"), ["syntax"]);
    assert_eq!(said("title = \"Oak\"\nnumber = \"25-014\"\nwidth = true\n"), ["wrong-type"]);
    // The trip may have been of this one.
    let other = said("title = \"Oak\"\nnumber = \"25-015\"\n");
    assert_eq!(other, ["unknown-piece", "needs-broken-file"]);
}

#[test]
fn a_sale_without_a_count_is_of_all_that_are_left() {
    let text = "title = \"Chairs\"\ncount = 4\nbought = { on = 2025-02-01, price = 9 }\nsale = [{ on = 2025-03-01, price = 90, count = 3 }, \
                { on = 2025-03-02, price = 30 }]\n";
    assert_eq!(codes(&reading(&[SHOP, ("pieces/chairs/piece.toml", text)])), Vec::<&str>::new());
}

#[test]
fn the_demo_shop_has_no_faults() {
    let demo = Path::new(env!("CARGO_MANIFEST_DIR")).join("projects-demo");
    let reading = read(&demo).unwrap();
    assert!(reading.findings.is_empty(), "{}", page(&reading));
    let shop = reading.shop.unwrap();
    assert!(shop.broken.is_empty() && shop.pieces.len() >= 16);
    let inside = demo.join("pieces/oak-washstand/photos");
    assert_eq!(find_shop(&inside), Some(demo.canonicalize().unwrap()));
}

#[test]
fn layouts_are_read_by_name_and_one_that_is_not_text_is_a_fault() {
    let shop = folder(&[SHOP, ("layouts/b.typ", "= B"), ("layouts/a.typ", "= A")]);
    write(shop.path(), "layouts/c.typ", b"= \xff");
    write(shop.path(), "layouts/notes.txt", b"no layout");
    write(shop.path(), "layouts/deeper/d.typ", b"no layout");
    let reading = read(shop.path()).unwrap();
    let named: Vec<(&str, &str)> = reading
        .layouts
        .iter()
        .map(|(name, file)| (name.as_str(), reading.sources.get(*file).unwrap().text.as_str()))
        .collect();
    assert_eq!(named, [("a.typ", "= A"), ("b.typ", "= B")]);
    assert_eq!(codes(&reading), ["not-utf-8"]);
    assert_eq!(reading.findings[0].severity, Severity::Error);
    assert_eq!(reading.sources.name(reading.findings[0].place).unwrap(), "layouts/c.typ:1:3");
    assert!(reading.shop.unwrap().broken.is_empty());
}

/// A folder in memory where the machine has such, since some take long to delete one on a disk.
fn in_memory() -> TempDir {
    let memory = Path::new("/dev/shm");
    tempfile::tempdir_in(memory).or_else(|_| tempfile::tempdir()).unwrap()
}

/// Every piece stands in a lot with an error of its own, so that each check across files has the
/// most to do. Four times the pieces may take eight times as long; a check of every piece against
/// every other would take sixteen.
#[test]
fn reading_is_linear_in_the_number_of_pieces() {
    let seconds = |pieces: usize| {
        let shop = in_memory();
        write(shop.path(), SHOP.0, SHOP.1.as_bytes());
        let mut book = "nonsense = 1\n".to_owned();
        for n in 0..pieces {
            let text = format!("number = \"n{n}\"\ntitle = \"Piece {n}\"\n");
            write(shop.path(), &format!("pieces/{}/{n}/piece.toml", n / 100), text.as_bytes());
            writeln!(book, "[[lot]]\non = 2024-01-02\nwhat = \"lot\"\nprice = 3").unwrap();
            writeln!(book, "pieces = {{ n{n} = 1 }}").unwrap();
        }
        write(shop.path(), "books/2025.toml", book.as_bytes());
        let start = Instant::now();
        let reading = read(shop.path()).unwrap();
        // So many errors are not all told, so that no lot of the book is relied on.
        let shop = reading.shop.unwrap();
        assert_eq!((shop.pieces.len(), shop.years.len()), (pieces, 0));
        start.elapsed().as_secs_f64()
    };
    let (few, many) = (seconds(2_500), seconds(10_000));
    assert!(many < 0.5 + 8.0 * few, "{few} s for 2500 pieces, {many} s for 10 000");
}
