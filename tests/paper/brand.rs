//! What a shop brings of its own for the look of its paper: fonts, a logo, a colour, a paper size.

use super::{frames, papers_of};
use crate::pdf;
use crate::shell::{Said, dovetally, shop_of};
use dovetally::cli::Status;
use lopdf::Document;
use std::collections::BTreeSet;
use std::fs;
use tempfile::TempDir;

const PIECE: (&str, &str) = (
    "pieces/pine/piece.toml",
    "title = \"Pine washstand\"\nbought = { on = 2025-02-01, price = 5 }\n",
);

const SVG: &str = "<svg xmlns='http://www.w3.org/2000/svg' width='80' height='20'>\
                   <path d='M0 0h80v20h-80z' fill='#333'/></svg>";

/// A shop of one piece with what its shop.toml says besides its name.
fn shop(keys: &str) -> TempDir {
    shop_of(&[("shop.toml", &format!("name = \"Test Shop\"\n{keys}\n")), PIECE])
}

/// The house's serif under another name of as many letters.
fn pennyworth() -> Vec<u8> {
    let wide = |text: &str| text.encode_utf16().flat_map(u16::to_be_bytes).collect::<Vec<u8>>();
    let (old, new) = (wide("Libertinus"), wide("Pennyworth"));
    let of_house = |font: &&[u8]| dovetally::typeset::font_families(font) == ["Libertinus Serif"];
    let mut font = typst_assets::fonts().find(of_house).unwrap().to_vec();
    for at in 0..font.len() - old.len() {
        if font[at..at + old.len()] == old[..] {
            font[at..at + old.len()].copy_from_slice(&new);
        }
    }
    font
}

fn put(shop: &TempDir, path: &str, bytes: &[u8]) {
    let path = shop.path().join(path);
    fs::create_dir_all(path.parent().unwrap()).unwrap();
    fs::write(path, bytes).unwrap();
}

/// The families every paper of a shop is set in.
fn families(shop: &TempDir) -> BTreeSet<String> {
    let (press, papers) = papers_of(shop.path());
    let laid_out = papers.iter().map(|paper| press.lay_out(&paper.draft, &paper.pictures).unwrap());
    laid_out.flat_map(|document| frames::families(&document)).collect()
}

/// Makes the papers: all of them are there and in order, whatever was said.
fn made(shop: &TempDir) -> Said {
    let said = dovetally(shop.path(), &["make"]);
    for name in ["listing-sheet", "care-card", "care-card-four-up", "shop-record"] {
        let path = shop.path().join(format!("out/pieces/pine/{name}.pdf"));
        let paper = fs::read(path).unwrap_or_else(|_| panic!("no {name}: {}", said.err));
        assert_eq!(pdf::faults(&paper, false), Vec::<String>::new(), "{name}");
    }
    assert!(shop.path().join("out/years/2025/income-summary.pdf").is_file(), "{}", said.err);
    said
}

/// The text alternatives of the pictures of the listing sheet.
fn alternatives(shop: &TempDir) -> Vec<String> {
    let sheet = fs::read(shop.path().join("out/pieces/pine/listing-sheet.pdf")).unwrap();
    let tags = pdf::tags(&Document::load_mem(&sheet).unwrap());
    tags.into_iter().filter(|tag| tag.role == "Figure").map(|tag| tag.alt).collect()
}

#[test]
fn the_paper_is_set_in_a_font_of_the_shop() {
    let own = shop("font = \"pennyworth serif\"");
    put(&own, "fonts/own.otf", &pennyworth());
    assert_eq!(made(&own).status, Status::Done);
    assert_eq!(families(&own), BTreeSet::from(["Pennyworth Serif".to_owned()]));
    let usual = shop("");
    put(&usual, "fonts/own.otf", &pennyworth());
    assert_eq!(families(&usual), BTreeSet::from(["Libertinus Serif".to_owned()]));
}

#[test]
fn a_new_font_or_logo_makes_the_papers_again() {
    let shop = shop("logo = \"logo.svg\"");
    put(&shop, "logo.svg", SVG.as_bytes());
    made(&shop);
    let again = || dovetally(shop.path(), &["make"]).err;
    assert!(again().starts_with("0 files written"), "{}", again());
    put(&shop, "logo.svg", SVG.replace("#333", "#555").as_bytes());
    assert!(!again().starts_with("0 files written"));
    put(&shop, "fonts/own.otf", &pennyworth());
    assert!(!again().starts_with("0 files written"));
}

#[test]
fn a_file_that_is_no_font_and_a_family_nobody_knows_are_said() {
    let shop = shop("font = \"Pennyworth Sarif\"");
    put(&shop, "fonts/own.otf", &pennyworth());
    put(&shop, "fonts/notes.otf", b"buy a font");
    put(&shop, "fonts/OFL.txt", b"the licence of the font");
    let said = made(&shop);
    assert_eq!(said.status, Status::Errors);
    for words in [
        "error[font-unusable]: `fonts/notes.otf` is not a font",
        "error[font-unknown]: there is no font `Pennyworth Sarif`",
        "shop.toml:2:8",
        "write `font = \"Pennyworth Serif\"`",
    ] {
        assert!(said.err.contains(words), "{words}: {}", said.err);
    }
    let check = dovetally(shop.path(), &["check"]);
    assert!(check.err.contains("font-unknown"), "{}", check.err);
    assert_eq!(families(&shop), BTreeSet::from(["Libertinus Serif".to_owned()]));
}

#[test]
fn a_logo_stands_for_the_name_and_is_read_as_it() {
    for (file, bytes) in [("logo.svg", SVG.as_bytes().to_vec()), ("Mark.PNG", png(300, 40))] {
        let shop = shop(&format!("logo = \"{file}\""));
        put(&shop, file, &bytes);
        let said = made(&shop);
        assert_eq!(said.status, Status::Done, "{}", said.err);
        assert_eq!(alternatives(&shop), ["Test Shop"], "{file}");
    }
    let wide = shop("logo = \"logo.png\"");
    put(&wide, "logo.png", &png(3000, 20));
    made(&wide);
    let faults = super::each_page(wide.path(), frames::faults);
    assert_eq!(faults, Vec::<String>::new());
}

fn png(width: u32, height: u32) -> Vec<u8> {
    let mut bytes = std::io::Cursor::new(Vec::new());
    let picture = image::RgbImage::from_pixel(width, height, image::Rgb([60, 60, 60]));
    picture.write_to(&mut bytes, image::ImageFormat::Png).unwrap();
    bytes.into_inner()
}

#[test]
fn a_logo_that_is_no_picture_is_said_and_the_name_stands() {
    let cases: [(&str, &[u8]); 4] = [
        ("logo.svg", b"our name"),
        ("logo.png", b"our name"),
        ("logo.svg", b""),
        ("logo.png", SVG.as_bytes()),
    ];
    for (file, bytes) in cases {
        let shop = shop(&format!("logo = \"{file}\""));
        put(&shop, file, bytes);
        let said = made(&shop);
        assert_eq!(said.status, Status::Errors, "{file}: {}", said.err);
        for words in ["logo-unusable", "shop.toml:2:8", "save it as SVG or PNG"] {
            assert!(said.err.contains(words), "{file}, {words}: {}", said.err);
        }
        assert_eq!(alternatives(&shop), Vec::<String>::new());
    }
    let missing = made(&shop("logo = \"nowhere.svg\""));
    assert!(missing.err.contains("`nowhere.svg` is missing"), "{}", missing.err);
}

#[test]
fn a_colour_too_pale_and_a_paper_nobody_prints_are_said_and_the_papers_are_made() {
    for (keys, code) in [
        ("accent = \"#E8C9A0\"", "accent"),
        ("accent = \"brown\"", "accent"),
        ("accent = 7", "wrong-type"),
        ("paper = \"a17\"", "unknown-word"),
        ("paper = [\"a4\"]", "wrong-type"),
        ("font = 7", "wrong-type"),
        ("logo = []", "wrong-type"),
    ] {
        let shop = shop(keys);
        let said = made(&shop);
        assert_eq!(said.status, Status::Done);
        let said = said.err;
        for words in [&format!("warning[{code}]"), "shop.toml:2:", "help: "] {
            assert!(said.contains(words), "{keys}, {words}: {said}");
        }
    }
}
