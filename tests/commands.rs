//! The program as its user types it: what it says, what it writes, how it ends.

use crate::pdf;
use crate::shell::{copy_of, demo, dovetally, files_below, shop_of, typed_as};
use dovetally::cli::Status;
use std::collections::BTreeMap;
use std::fs;
use std::path::Path;

const SHOP: (&str, &str) = ("shop.toml", "name = \"Test Shop\"\n");
const THREE_LINES: (&str, &str) = (
    "pieces/pine-washstand/piece.toml",
    "title = \"Pine washstand\"\nbought = { on = 2025-02-01, price = 35 }\nhours = 5\n\
     sale = [{ on = 2025-03-01, price = 240 }]\n",
);

#[test]
fn the_demo_has_no_errors() {
    let said = dovetally(&demo(), &["check"]);
    assert_eq!(said.status, Status::Done, "{}", said.err);
    assert!(said.err.contains("0 errors"), "{}", said.err);
}

#[test]
fn the_demo_makes_every_document_twice_the_same_and_every_pdf_is_in_order() {
    let (one, two) = (copy_of(&demo()), copy_of(&demo()));
    let said = dovetally(one.path(), &["make"]);
    assert_eq!(said.status, Status::Done, "{}", said.err);
    assert_eq!(dovetally(two.path(), &["make", "--jobs", "1"]).status, Status::Done);
    let (first, second) =
        (files_below(&one.path().join("out")), files_below(&two.path().join("out")));
    assert_eq!(first.len(), second.len());
    for ((path, bytes), (other_path, other_bytes)) in first.iter().zip(&second) {
        assert_eq!(path, other_path);
        assert!(bytes == other_bytes, "{path} differs from run to run");
    }
    let pdfs: Vec<_> = first.iter().filter(|(path, _)| path.ends_with(".pdf")).collect();
    assert!(pdfs.len() > 50, "only {} PDFs", pdfs.len());
    let faults = pdf::faults_of_all(&pdfs);
    assert!(faults.is_empty(), "{faults:#?}");
}

/// What of `out/` is not as it was, but for the record of what was made.
fn changed(before: &[(String, Vec<u8>)], shop: &Path) -> Vec<String> {
    let after = files_below(&shop.join("out")).into_iter();
    let other = after.filter(|file| !before.contains(file) && file.0 != ".made.json");
    other.map(|(path, _)| path).collect()
}

#[test]
fn a_change_of_a_piece_writes_only_what_shows_it() {
    let piece = |price: u32| {
        format!(
            "title = \"Pine\"\nlisting = {{ on = 2025-03-01, price = {price} }}\n\
         bought = {{ on = 2025-02-01, price = 35 }}\n"
        )
    };
    let (pine, oak) = (piece(100), piece(300).replace("Pine", "Oak"));
    let shop = shop_of(&[SHOP, ("pieces/pine/piece.toml", &pine), ("pieces/oak/piece.toml", &oak)]);
    assert_eq!(dovetally(shop.path(), &["make"]).status, Status::Done);
    let before = files_below(&shop.path().join("out"));
    fs::write(shop.path().join("pieces/pine/piece.toml"), piece(120)).unwrap();
    let again = dovetally(shop.path(), &["make"]);
    assert_eq!(again.status, Status::Done, "{}", again.err);
    let own = [
        "description.html",
        "description.txt",
        "hang-tag.pdf",
        "listing-picture.png",
        "listing-sheet.pdf",
        "shop-record.pdf",
    ];
    let mut shown = own.map(|name| format!("pieces/pine/{name}")).to_vec();
    // The summary lists what is in stock with what is asked for it.
    let shared = ["catalogue.pdf", "stock-sheet.pdf", "tags.pdf", "years/2025/income-summary.pdf"];
    shown.extend(shared.map(str::to_owned));
    shown.sort();
    assert_eq!(changed(&before, shop.path()), shown);
}

#[test]
fn making_again_writes_nothing_and_what_is_missing_alone_is_written() {
    let shop = copy_of(&demo());
    let made = dovetally(shop.path(), &["make"]);
    assert_eq!(made.status, Status::Done, "{}", made.err);
    let again = dovetally(shop.path(), &["make"]);
    assert!(again.err.contains("0 files written"), "{}", again.err);
    let out = || files_below(&shop.path().join("out"));
    let listing = out().into_iter().find(|(path, _)| path.ends_with("listing-sheet.pdf")).unwrap();
    fs::remove_file(shop.path().join("out").join(&listing.0)).unwrap();
    let fixed = dovetally(shop.path(), &["make"]);
    assert!(fixed.err.contains("1 file written"), "{}", fixed.err);
    // A flaw of one piece is in its own papers and in those that tell what it is like.
    let file = shop.path().join("pieces/oak-washstand/piece.toml");
    let text = fs::read_to_string(&file).unwrap() + "\n[[flaw]]\nnote = \"a nick at the foot\"\n";
    fs::write(file, text).unwrap();
    let before: BTreeMap<String, Vec<u8>> = out().into_iter().collect();
    assert_eq!(dovetally(shop.path(), &["make"]).status, Status::Done);
    let changed: Vec<String> = out()
        .into_iter()
        .filter(|(path, bytes)| !path.starts_with('.') && before.get(path) != Some(bytes))
        .map(|(path, _)| path)
        .collect();
    let own = |path: &String| path.starts_with("pieces/24-001/") || path == "catalogue.pdf";
    assert!(!changed.is_empty() && changed.iter().all(own), "{changed:?}");
}

#[test]
fn the_owners_files_are_never_written() {
    let shop = copy_of(&demo());
    let before = files_below(shop.path());
    for words in [
        &["check"][..],
        &["tally"],
        &["review"],
        &["price", "birch-chest-of-drawers"],
        &["offer", "--expect", "300", "--costs", "40", "--hours", "5"],
        &["make"],
        &["year", "2025"],
        &["trace", "2025"],
    ] {
        let said = dovetally(shop.path(), words);
        assert_eq!(said.status, Status::Done, "{words:?}: {}", said.err);
    }
    assert!(shop.path().join("out/stock-sheet.pdf").is_file());
    let after: Vec<_> = files_below(shop.path())
        .into_iter()
        .filter(|(path, _)| !path.starts_with("out/"))
        .collect();
    assert!(before == after);
}

#[test]
fn three_lines_are_enough_for_a_tally_a_year_and_the_paper() {
    let shop = shop_of(&[SHOP, THREE_LINES]);
    let tally = dovetally(shop.path(), &["tally", "--json"]);
    assert_eq!(tally.status, Status::Done, "{}", tally.err);
    let json: serde_json::Value = serde_json::from_str(&tally.out).unwrap();
    let piece = &json["pieces"][0];
    assert_eq!(piece["gross_profit"], "205.00");
    assert_eq!(piece["gross_margin"], "0.8542");
    assert_eq!(piece["per_hour"], "41.00");
    assert_eq!(piece["days_held"], 28);
    assert_eq!(dovetally(shop.path(), &["year", "2025"]).status, Status::Done);
    let made = dovetally(shop.path(), &["make"]);
    assert_eq!(made.status, Status::Done, "{}", made.err);
    assert!(shop.path().join("out/pieces/pine-washstand/care-card.pdf").is_file());
    assert!(made.err.contains("left out: what offers pine-washstand: sold"), "{}", made.err);
}

#[test]
fn one_broken_piece_stops_neither_the_others_nor_goes_unsaid() {
    let broken = ("pieces/oak/piece.toml", "title = \"Oak\"\nbougth = { on = 2025-02-01 }\n");
    let shop = shop_of(&[SHOP, THREE_LINES, broken]);
    let made = dovetally(shop.path(), &["make"]);
    assert_eq!(made.status, Status::Errors);
    assert!(made.err.contains("perhaps `bought` instead of `bougth`"), "{}", made.err);
    assert!(made.err.contains("pieces/oak/piece.toml:2:1"), "{}", made.err);
    assert!(shop.path().join("out/pieces/pine-washstand/care-card.pdf").is_file());
    assert!(!shop.path().join("out/years/2025/income-summary.pdf").exists());
    let year = dovetally(shop.path(), &["year", "2025"]);
    assert_eq!(year.status, Status::Errors);
    assert!(year.err.contains("pieces/oak/piece.toml"), "{}", year.err);
    assert!(year.out.is_empty(), "a short figure was printed: {}", year.out);
}

#[test]
fn a_title_of_symbols_prints_as_text() {
    let title = "#panic() $x$ @ref *bold* _it_ \\\\ ".repeat(5);
    let piece = format!("title = '{}'\n", title.trim());
    let shop = shop_of(&[SHOP, ("pieces/signs/piece.toml", &piece)]);
    let made = dovetally(shop.path(), &["make"]);
    assert_eq!(made.status, Status::Done, "{}", made.err);
    let pdf = fs::read(shop.path().join("out/pieces/signs/listing-sheet.pdf")).unwrap();
    assert_eq!(pdf::faults(&pdf, false), Vec::<String>::new());
    let title_too_long = format!("title = '{}'\n", "#$@*_\\".repeat(50));
    let shop = shop_of(&[SHOP, ("pieces/signs/piece.toml", &title_too_long)]);
    let said = dovetally(shop.path(), &["check"]);
    assert_eq!(said.status, Status::Errors);
}

#[test]
fn what_is_missing_is_said_clearly() {
    let empty = tempfile::tempdir().unwrap();
    let said = dovetally(empty.path(), &["tally"]);
    assert_eq!(said.status, Status::Errors);
    assert!(said.err.contains("shop.toml"), "{}", said.err);
    let only_shop = shop_of(&[SHOP]);
    assert_eq!(dovetally(only_shop.path(), &["tally"]).status, Status::Done);
    assert_eq!(dovetally(only_shop.path(), &["make"]).status, Status::Done);
    assert_eq!(dovetally(only_shop.path(), &["price", "7"]).status, Status::Usage);
    assert_eq!(dovetally(only_shop.path(), &["polish"]).status, Status::Usage);
    let none = dovetally(only_shop.path(), &["year", "1850"]);
    assert_eq!(none.status, Status::Done);
    assert!(none.out.contains("on no tax form"), "{}", none.out);
}

#[test]
fn a_new_piece_is_one_new_file_that_reads_without_errors() {
    let shop = shop_of(&[SHOP, THREE_LINES]);
    let said = dovetally(shop.path(), &["start", "Oak \"barley\" table"]);
    assert_eq!(said.status, Status::Done, "{}", said.err);
    assert_eq!(said.out.trim(), "pieces/oak-barley-table/piece.toml");
    assert_eq!(dovetally(shop.path(), &["check"]).status, Status::Done);
    let again = dovetally(shop.path(), &["start", "Oak \"barley\" table"]);
    assert_eq!(again.status, Status::Usage, "a file was written over");
}

#[test]
fn every_line_the_new_piece_file_teaches_reads_without_errors() {
    let shop = shop_of(&[
        ("shop.toml", "name = \"Test Shop\"\n[channel.online]\nlabel = \"online\"\n"),
        ("stock.toml", "[topcoat]\nlabel = \"topcoat\"\nunit = \"fl oz\"\n"),
        (
            "books/2025.toml",
            "[[supply]]\non = 2025-01-02\nstock = \"topcoat\"\nquantity = \"1 qt\"\namount = 24\n",
        ),
    ]);
    dovetally(shop.path(), &["start", "Oak washstand"]);
    let path = shop.path().join("pieces/oak-washstand/piece.toml");
    let template = fs::read_to_string(&path).unwrap();
    let lines = template.lines().filter(|line| !line.contains("all hours together"));
    let taught: String = lines
        .map(|line| match line.strip_prefix("# ") {
            Some(head) if head.starts_with('[') && head.ends_with(']') => format!("{head}\n"),
            Some(code) => filled(code).unwrap_or_default(),
            None => format!("{line}\n"),
        })
        .collect();
    fs::create_dir_all(shop.path().join("pieces/oak-washstand/photos")).unwrap();
    let photo = shop.path().join("pieces/oak-washstand/photos/front.jpg");
    image::RgbImage::new(1200, 900).save(photo).unwrap();
    fs::write(&path, &taught).unwrap();
    let said = dovetally(shop.path(), &["check"]);
    assert_eq!(said.status, Status::Done, "{}\n{taught}", said.err);
    assert!(taught.matches(" = ").count() > 35, "{taught}");
}

/// A taught key with the first of the values its comment shows.
fn filled(code: &str) -> Option<String> {
    let (key, comment) = code.split_once(" =")?;
    let shown = comment.trim().strip_prefix("# ").filter(|_| !key.contains(' '))?;
    let example = shown.rsplit_once("such as ").map_or(shown, |(_, example)| example);
    let value = match example.find('"') {
        Some(open) if !example.starts_with(|c: char| c.is_ascii_digit()) => {
            example[open..].split('"').nth(1).map(|text| format!("\"{text}\""))?
        }
        _ => example.split([' ', ',', ';']).next()?.to_owned(),
    };
    Some(format!("{key} = {value}\n"))
}

/// What is left blank asserts nothing: taken as it stands, every taught line is an error.
#[test]
fn a_line_of_the_new_piece_file_that_is_not_filled_in_is_an_error() {
    let shop = shop_of(&[SHOP]);
    dovetally(shop.path(), &["start", "Oak washstand"]);
    let path = shop.path().join("pieces/oak-washstand/piece.toml");
    let template = fs::read_to_string(&path).unwrap();
    let blanks: Vec<&str> = template
        .lines()
        .filter(|line| line.strip_prefix("# ").is_some_and(|code| filled(code).is_some()))
        .collect();
    assert!(blanks.len() > 35, "{template}");
    for blank in blanks.iter().step_by(6) {
        fs::write(&path, template.replace(blank, &blank[2..])).unwrap();
        let said = dovetally(shop.path(), &["check"]);
        assert_eq!(said.status, Status::Errors, "{blank}");
    }
}

#[test]
fn every_schema_is_json_and_knows_every_key_of_the_demo() {
    for kind in ["shop", "stock", "books", "piece", "order"] {
        let said = typed_as(vec!["dovetally".into(), "schema".into(), kind.into()]);
        assert_eq!(said.status, Status::Done);
        let schema: serde_json::Value = serde_json::from_str(&said.out).unwrap();
        let files = demo_files(kind);
        assert!(!files.is_empty(), "the demo has no {kind} file");
        for (path, text) in files {
            let file: toml::Value = toml::from_str(&text).unwrap();
            unknown_keys(&schema, &schema, &file, &path);
        }
    }
}

fn demo_files(kind: &str) -> Vec<(String, String)> {
    let is_kind = |path: &str| match kind {
        "shop" => path == "shop.toml",
        "stock" => path == "stock.toml",
        "books" => path.starts_with("books/"),
        kind => path.ends_with(&format!("/{kind}.toml")),
    };
    files_below(&demo())
        .into_iter()
        .filter(|(path, _)| is_kind(path) && path.ends_with(".toml"))
        .map(|(path, bytes)| (path, String::from_utf8(bytes).unwrap()))
        .collect()
}

/// Fails on a key of the file that the schema does not name.
fn unknown_keys(
    root: &serde_json::Value,
    schema: &serde_json::Value,
    value: &toml::Value,
    at: &str,
) {
    let schema = match schema["$ref"].as_str() {
        Some(name) => &root["definitions"][name.rsplit('/').next().unwrap()],
        None => schema,
    };
    match value {
        toml::Value::Table(table) => {
            for (key, inner) in table {
                let named = &schema["properties"][key];
                let other = &schema["additionalProperties"];
                assert!(named.is_object() || other.is_object(), "{at}: the schema lacks `{key}`");
                let inner_schema = if named.is_object() { named } else { other };
                unknown_keys(root, inner_schema, inner, &format!("{at}/{key}"));
            }
        }
        toml::Value::Array(list) => {
            for inner in list {
                unknown_keys(root, &schema["items"], inner, at);
            }
        }
        _ => {}
    }
}

#[test]
fn a_shop_may_bring_its_own_layout_and_an_error_in_it_is_placed() {
    let own = ("layouts/care-card.typ", "#set document(title: \"Card\")\n= Own card\n");
    let shop = shop_of(&[SHOP, THREE_LINES, own]);
    let usual = shop_of(&[SHOP, THREE_LINES]);
    assert_eq!(dovetally(shop.path(), &["make"]).status, Status::Done);
    assert_eq!(dovetally(usual.path(), &["make"]).status, Status::Done);
    let card = "out/pieces/pine-washstand/care-card.pdf";
    let read = |folder: &std::path::Path| fs::read(folder.join(card)).unwrap();
    assert!(read(shop.path()) != read(usual.path()), "the shop's own layout was not used");
    for (broken, words) in [
        ("= Card\n#let x = data.missing\n", "layouts/care-card.typ:2:"),
        ("#let i = 0\n#while i < 1 {}\n", "infinite"),
        ("= Card\n#(\n", "layouts/care-card.typ:2:"),
    ] {
        fs::write(shop.path().join("layouts/care-card.typ"), broken).unwrap();
        let said = dovetally(shop.path(), &["make"]);
        assert_eq!(said.status, Status::Errors);
        assert!(said.err.contains(words), "{}", said.err);
        assert!(shop.path().join("out/pieces/pine-washstand/shop-record.pdf").is_file());
    }
}

#[test]
fn a_photo_that_is_none_is_said_and_the_sheet_is_made_without_it() {
    let photo = "[[photo]]\nfile = \"front.jpg\"\nshows = \"the front\"\n";
    let piece = format!("title = \"Pine washstand\"\n{photo}");
    for bytes in ["", "not a picture", "\u{89}PNG"] {
        let shop =
            shop_of(&[SHOP, ("pieces/pine/piece.toml", &piece), ("pieces/pine/front.jpg", bytes)]);
        let said = dovetally(shop.path(), &["make"]);
        assert_eq!(said.status, Status::Done, "{}", said.err);
        assert!(said.err.contains("pieces/pine/piece.toml:3:"), "{}", said.err);
        let sheet = fs::read(shop.path().join("out/pieces/pine/listing-sheet.pdf")).unwrap();
        assert_eq!(pdf::faults(&sheet, false), Vec::<String>::new());
        let again = dovetally(shop.path(), &["make"]);
        assert!(again.err.contains("warning[photo-"), "what is wrong is said every time");
    }
}

#[test]
fn a_machine_that_fails_ends_the_run_with_its_own_status() {
    let shop = shop_of(&[SHOP, THREE_LINES, ("out", "a file in the folder's place")]);
    let said = dovetally(shop.path(), &["make"]);
    assert_eq!(said.status, Status::Failed);
    let out = shop.path().join("out");
    let failure = format!("failure: could not make the folder {}", out.display());
    assert!(said.err.starts_with(&failure), "{}", said.err);
}

#[test]
fn what_no_piece_needs_any_more_is_removed_and_what_is_missing_is_made_again() {
    let shop = shop_of(&[SHOP, THREE_LINES, ("pieces/oak/piece.toml", "title = \"Oak table\"\n")]);
    assert_eq!(dovetally(shop.path(), &["make"]).status, Status::Done);
    let sheet = shop.path().join("out/pieces/oak/listing-sheet.pdf");
    fs::remove_file(&sheet).unwrap();
    assert_eq!(dovetally(shop.path(), &["make"]).status, Status::Done);
    assert!(fs::read(&sheet).unwrap().starts_with(b"%PDF"));
    fs::remove_dir_all(shop.path().join("pieces/oak")).unwrap();
    let said = dovetally(shop.path(), &["make"]);
    assert!(said.err.contains("removed"), "{}", said.err);
    assert!(!sheet.exists());
}

#[test]
fn prices_and_offers_answer_in_json_and_in_words() {
    let shop = shop_of(&[
        ("shop.toml", "name = \"Test Shop\"\nshop-rate = 30\n[channel.online]\nfee = \"10%\"\n"),
        THREE_LINES,
        ("pieces/oak/piece.toml", "title = \"Oak\"\nbought = { on = 2025-02-01, price = 189 }\n"),
    ]);
    let said = dovetally(shop.path(), &["price", "oak", "--json"]);
    assert_eq!(said.status, Status::Done, "{}", said.err);
    let json: serde_json::Value = serde_json::from_str(&said.out).unwrap();
    // OpenStax Contemporary Mathematics 6.2: 189 ÷ (1 − 10 %) = 210.
    assert_eq!(json[0]["break_even"], "210.00");
    let wrong = dovetally(shop.path(), &["price", "oka"]);
    assert!(wrong.err.contains("did you mean `oak`"), "{}", wrong.err);
    assert_eq!(dovetally(shop.path(), &["price", "oak", "--margin", "45"]).status, Status::Usage);
    let offer = [
        "offer",
        "--expect",
        "420",
        "--hours",
        "6",
        "--costs",
        "60",
        "--channel",
        "online",
        "--json",
    ];
    let said = dovetally(shop.path(), &offer);
    let json: serde_json::Value = serde_json::from_str(&said.out).unwrap();
    // 420 × 0.9 − 60 − 6 × 30.
    assert_eq!(json["most"], "138.00");
    let unknown = dovetally(shop.path(), &["offer", "--kind", "dresser"]);
    assert_eq!(unknown.status, Status::Usage);
    assert!(unknown.err.contains("not known"), "{}", unknown.err);
}

#[test]
fn a_character_no_font_has_is_said_and_stops_only_its_own_piece() {
    let foreign = "title = \"Stool\"\nflaw = [{ note = \"a 漢 burnt in\" }]\n[listing]\non = 2025-02-01\nprice = 5\n";
    let greek =
        "title = \"Κονσόλα, Żółć, стол, שידה, كرسي\"\n[listing]\non = 2025-02-01\nprice = 5\n";
    let shop = shop_of(&[
        SHOP,
        THREE_LINES,
        ("pieces/a/piece.toml", foreign),
        ("pieces/b/piece.toml", greek),
    ]);
    let said = dovetally(shop.path(), &["make"]);
    assert_eq!(said.status, Status::Errors);
    assert!(said.err.contains("glyph-missing"), "{}", said.err);
    assert!(
        said.err.contains("pieces/a/piece.toml:2:21") && said.err.contains('漢'),
        "{}",
        said.err
    );
    for made in ["pieces/b/listing-sheet.pdf", "stock-sheet.pdf", "years/2025/income-summary.pdf"] {
        let path = shop.path().join("out").join(made);
        let pdf = fs::read(&path).unwrap_or_else(|_| panic!("{made} is missing: {}", said.err));
        assert_eq!(
            pdf::faults(&pdf, made.ends_with("summary.pdf")),
            Vec::<String>::new(),
            "{made}"
        );
    }
    assert!(!shop.path().join("out/pieces/a/listing-sheet.pdf").exists());
    // In papers of many pieces it is left out, and said to be: no stand-in is printed for its character.
    for made in ["stock-sheet.pdf", "tags.pdf", "catalogue.pdf"] {
        assert!(said.err.contains(&format!("left out: a in {made}")), "{}", said.err);
        let pdf = fs::read(shop.path().join("out").join(made)).unwrap();
        let words = pdf::aloud::aloud(&lopdf::Document::load_mem(&pdf).unwrap());
        let words: String = words.into_iter().map(|said| said.text + " ").collect();
        assert!(words.contains("Κονσόλα") && !words.contains('?'), "{made}: {words}");
        assert!(!words.contains("Stool"), "{made}: {words}");
    }
}

#[test]
fn a_character_no_font_has_is_said_of_a_book_too_whose_figures_stay_whole() {
    let book = "# a comment with 漢\n[[expense]]\non = 2025-02-01\nwhat = \"a 漢 brush\"\n\
                category = \"small-tools\"\namount = 7.00\n";
    let shop = shop_of(&[SHOP, THREE_LINES, ("books/2025.toml", book)]);
    for verb in ["check", "make"] {
        let said = dovetally(shop.path(), &[verb]);
        assert_eq!(said.status, Status::Done, "{}", said.err);
        assert!(said.err.contains("glyph-missing"), "{verb}: {}", said.err);
        assert!(said.err.contains("printed as a question mark"), "{verb}: {}", said.err);
    }
    let plain = book.replace("a 漢 brush", "a brush");
    let shop = shop_of(&[SHOP, THREE_LINES, ("books/2025.toml", &plain)]);
    let said = dovetally(shop.path(), &["check"]);
    assert!(!said.err.contains("glyph-missing"), "{}", said.err);
}

#[test]
fn a_hold_stops_what_a_buyer_reads_until_the_fact_is_stated() {
    let chest =
        "title = \"Pine chest\"\nkind = \"blanket chest\"\n[safety]\nlid-support = \"holds\"\n";
    let stated = format!("{chest}latch = \"none\"\n");
    let shop = shop_of(&[SHOP, ("pieces/chest/piece.toml", &stated)]);
    let there = |name: &str| shop.path().join("out/pieces/chest").join(name).exists();
    assert_eq!(dovetally(shop.path(), &["make"]).status, Status::Done);
    assert!(there("listing-sheet.pdf") && there("description.txt"));
    // The latch is not stated any more: the riskier value counts, and what was made before goes.
    fs::write(shop.path().join("pieces/chest/piece.toml"), chest).unwrap();
    let made = dovetally(shop.path(), &["make"]);
    assert_eq!(made.status, Status::Done, "{}", made.err);
    let why = made.err.lines().find(|line| line.starts_with("left out: what offers chest: held"));
    assert!(why.is_some_and(|why| why.contains("latch is not stated")), "{}", made.err);
    assert!(!there("listing-sheet.pdf") && !there("description.txt"));
    assert!(there("care-card.pdf") && there("shop-record.pdf"));
    let check = dovetally(shop.path(), &["check"]);
    assert!(check.out.contains("held") && check.err.contains("latch"), "{}", check.out);
}

#[test]
fn every_row_in_use_is_listed_with_what_is_known_of_it() {
    let piece = (
        "pieces/chest/piece.toml",
        "title = \"Chest\"\nnumber = \"7\"\nkind = \"chest\"\nmade = \"1900\"\n[safety]\n\
         latch = \"removed\"\nwiring = \"untested\"\nlead-test = \"swab-negative\"\n\
         [[coat]]\nproduct = \"tung oil\"\nlast = 2025-01-02\n",
    );
    let name = ("shop.toml", "name = \"Tern Lane\"\n");
    let shop = shop_of(&[name, piece, ("books/2025.toml", "")]);
    let listed = dovetally(shop.path(), &["check", "--sources"]);
    assert_eq!(listed.status, Status::Done, "{}", listed.err);
    let heads = ["Read in the publisher's own text", "The shop's own word", "From memory"];
    let parts: Vec<usize> = heads.map(|head| listed.out.find(head).unwrap()).to_vec();
    assert!(parts.is_sorted(), "{}", listed.out);
    let (read, memory) = (&listed.out[..parts[1]], &listed.out[parts[2]..]);
    assert!(read.contains("caution latch-removed (7)") && read.contains("5\u{a0}March\u{a0}2014"));
    assert!(listed.out[parts[1]..parts[2]].contains("caution lead-swab (7)"));
    for row in ["caution wiring-untested (7)", "finish tung oil (7)", "read again: "] {
        assert!(memory.contains(row), "{row}: {memory}");
    }
    assert!(memory.contains("2025, Schedule C"), "{memory}");
}

#[test]
fn a_shops_own_wording_is_used_and_one_with_errors_stops_only_the_descriptions() {
    let piece = (
        "pieces/stand/piece.toml",
        "title = \"Pine washstand\"\nkind = \"washstand\"\ncard-languages = [\"fr\"]\n\
         [[flaw]]\nnote = \"a ring & a <b>burn</b> on the top\"\n",
    );
    let sound =
        ("layouts/description.txt", "{changes} {condition}\n{cautions}\nAsk for {title}.\n");
    let shop = shop_of(&[SHOP, piece, sound]);
    assert_eq!(dovetally(shop.path(), &["make"]).status, Status::Done);
    let out = shop.path().join("out/pieces/stand");
    let text = fs::read_to_string(out.join("description.txt")).unwrap();
    assert!(text.contains("<b>burn</b> on the top.\n"), "{text}");
    assert!(text.ends_with("Ask for Pine washstand.\n"), "{text}");
    let page = fs::read_to_string(out.join("description.html")).unwrap();
    assert!(page.contains("A ring &amp; a &lt;b&gt;burn&lt;/b&gt; on the top."), "{page}");
    assert!(out.join("care-card-fr.pdf").exists() && out.join("care-card-fr-four-up.pdf").exists());
    assert!(!out.join("care-card-es.pdf").exists());
    let french = fs::read(out.join("care-card-fr.pdf")).unwrap();
    let says = |what: &[u8]| french.windows(what.len()).any(|window| window == what);
    assert!(says(b"/Lang(fr)") && says(b"/Lang(en)"), "its own language, and the title in English");

    let broken = ("layouts/description.txt", "{changes} {condition}\n{caution}\n");
    let shop = shop_of(&[SHOP, piece, broken]);
    for verb in ["check", "make"] {
        let said = dovetally(shop.path(), &[verb]);
        assert_eq!(said.status, Status::Errors, "{}", said.err);
        assert!(said.err.contains("layouts/description.txt:2:1"), "{}", said.err);
        assert!(said.err.contains("write `{cautions}`"), "{}", said.err);
    }
    let out = shop.path().join("out/pieces/stand");
    assert!(!out.join("description.txt").exists() && out.join("listing-sheet.pdf").exists());
}
