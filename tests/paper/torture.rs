//! Shops that ask the most of the paper: the shortest and the longest of everything, pictures of
//! every kind, scripts of every direction, no pieces and very many.

use crate::shell::shop_of;
use image::{DynamicImage, ImageFormat, Rgb, RgbImage};
use std::fmt::Write;
use std::fs;
use std::io::Cursor;
use std::path::Path;
use tempfile::TempDir;

/// The shortest shop with no piece.
pub fn no_pieces() -> TempDir {
    shop_of(&[("shop.toml", "name = \"A\"\n"), ("books/2025.toml", "")])
}

/// Many plain pieces, so many sold and so many for sale: long tables and their page breaks.
pub fn many_pieces(sold: usize, listed: usize) -> TempDir {
    let shop = shop_of(&[("shop.toml", "name = \"Long Shelf Furniture\"\npaper = \"a4\"\n")]);
    for i in 0..sold + listed {
        let title = if i % 17 == 0 { long_title() } else { format!("Side table number {i}") };
        let month = i % 12 + 1;
        let end = match i < sold {
            true => format!("sale = [{{ on = 2025-{month:02}-20, price = {}.50 }}]", 12 * i),
            false => format!("listing = {{ on = 2025-{month:02}-15, price = {i}.00 }}"),
        };
        let text = format!(
            "title = \"{title}\"\nkind = \"side table\"\nwidth = \"{} in\"\nheight = \"27 in\"\n\
             hours = {}.25\nbought = {{ on = 2025-{month:02}-01, price = {}.75 }}\n{end}\n",
            i % 80 + 1,
            i % 40,
            i * 3,
        );
        put(shop.path(), &format!("pieces/piece-{i:03}/piece.toml"), text.as_bytes());
    }
    shop
}

/// The longest of everything, on `paper`.
pub fn longest(paper: &str) -> TempDir {
    let shop = shop_of(&[("stock.toml", "[topcoat]\nunit = \"fl oz\"\n")]);
    let at = shop.path();
    put(at, "shop.toml", shop_file(paper).as_bytes());
    put(at, "books/2025.toml", books().as_bytes());
    for (name, title) in titles() {
        let text = format!("title = \"{title}\"\nlisting = {{ on = 2025-05-01, price = 1.00 }}\n");
        put(at, &format!("pieces/{name}/piece.toml"), text.as_bytes());
    }
    for count in [0, 1, 2, 3, 4, 6, 9] {
        everything(at, &format!("photos-{count}"), count, false, false);
    }
    everything(at, "tall-one", 1, true, false);
    everything(at, "tall-five", 5, true, false);
    everything(at, "sold-one", 1, false, true);
    everything(at, "sold-two", 2, false, true);
    put(at, "pieces/every-character/piece.toml", characters().as_bytes());
    shop
}

/// A shop that measures in centimetres on A4 and counts in pounds: one word of 84 letters, and an
/// Arabic flaw.
pub fn metric() -> TempDir {
    let shop = shop_of(&[(
        "shop.toml",
        "name = \"Tern Quay Furniture\"\npaper = \"a4\"\nunits = \"cm\"\ncurrency = \"GBP\"\n\
         contact = [\"0113 496 0142\", \"bench@shop.example\"]\n",
    )]);
    let text = format!(
        "title = \"{}\"\nkind = \"washstand\"\nwidth = \"92 cm\"\ndepth = \"1/4 in\"\nheight = \"75 cm\"\n\
         weight = \"29 kg\"\nflaw = [{{ note = \"خدش على الجانب\" }}]\n\
         listing = {{ on = 2025-05-01, price = 1250.00, stands = \"by the door\" }}\n",
        &one_long_word()[..84]
    );
    put(shop.path(), "pieces/stand/piece.toml", text.as_bytes());
    shop
}

fn put(shop: &Path, path: &str, bytes: &[u8]) {
    let path = shop.join(path);
    fs::create_dir_all(path.parent().unwrap()).unwrap();
    fs::write(path, bytes).unwrap();
}

/// Two hundred characters in words.
pub fn long_title() -> String {
    "Quarter-sawn white oak washstand with a serpentine front and hand-cut dovetails ".repeat(3)
        [..199]
        .trim()
        .to_owned()
}

/// Two hundred characters without a place to break.
pub fn one_long_word() -> String {
    "Schubladenkommodenfurnier".repeat(8)
}

/// One title for each way to be hard to set.
fn titles() -> Vec<(&'static str, String)> {
    vec![
        ("one-letter", "X".to_owned()),
        ("one-word", "Box".to_owned()),
        ("long-words", long_title()),
        ("no-spaces", one_long_word()),
        ("hebrew", "שידת מגירות מעץ אלון מלא עם שלוש מגירות".to_owned()),
        ("hebrew-mixed", "שולחן No. 5 (oak) כסא".to_owned()),
        ("greek", "Κομοδίνο από μασίφ δρυ, με δύο συρτάρια".to_owned()),
        ("polish", "Żółta komoda dębowa z łączeniami na jaskółczy ogon, źdźbło".to_owned()),
        ("cyrillic", "Комод из массива дуба с тремя ящиками".to_owned()),
        ("accents", "Ǻrmoire à étagères, Čeština, Ŵy, ạ ậ ỹ, ﬁn".to_owned()),
        ("symbols", r"#let x = 1; $a$ *b* _c_ `d` <e> @f [g] // h \\".to_owned()),
        ("dashes", "A—B–C-D/E \u{a0} F\u{200b}G\u{ad}H".to_owned()),
        ("emoji", "Pine chest \u{1f600}".to_owned()),
    ]
}

fn shop_file(paper: &str) -> String {
    let name = "Fernhollow and Daughters Furniture Restoring and Refinishing Workshop ".repeat(2);
    format!(
        "name = \"{}\"\npaper = \"{paper}\"\naccent = \"#102030\"\nshop-rate = 9999.99\n\
         contact = [\"{}\", \"{}\", \"bench@shop.example\"]\n\
         [channel.online]\nlabel = \"{}\"\nfee = \"12.5%\"\n",
        name.trim(),
        "12345 Old Station Road, Building Number Four, Upper Longmeadow".repeat(2),
        one_long_word(),
        "An online market with a very long name of its own ".repeat(3).trim(),
    )
}

fn books() -> String {
    let mut text = String::new();
    for i in 1..=28 {
        let word = if i % 9 == 0 { one_long_word() } else { "rent of the workshop ".repeat(i) };
        write!(
            text,
            "[[expense]]\non = 2025-02-{i:02}\nwhat = \"{}\"\ncategory = \"rent\"\n\
             amount = 99999.99\n[[trip]]\non = 2025-03-{i:02}\nmiles = 9999.9\npurpose = \"other\"\n\
             what = \"{}\"\n",
            word.trim(),
            word.trim(),
        )
        .unwrap();
    }
    text +=
        "[[supply]]\non = 2025-01-02\nstock = \"topcoat\"\nquantity = \"999 gal\"\namount = 0.01\n";
    text
}

/// A piece with thirty flaws, many changes, coats and hours, a long story and some photos.
fn everything(shop: &Path, name: &str, photos: usize, tall: bool, sold: bool) {
    let mut text = format!(
        "number = \"25-{name}\"\ntitle = \"{}\"\nkind = \"wardrobe\"\nmade = \"about 1910\"\n\
         width = \"99 15/16 in\"\ndepth = \"47 13/16 in\"\nheight = \"98 11/16 in\"\nweight = \"999 lb\"\n",
        if photos.is_multiple_of(2) { long_title() } else { one_long_word() },
    );
    for i in 0..30 {
        let flaw =
            if i % 10 == 3 { one_long_word() } else { "a scratch on the left ".repeat(i + 1) };
        write!(text, "[[flaw]]\nnote = \"{}\"\n", flaw.trim()).unwrap();
    }
    for i in 0..12 {
        write!(
            text,
            "[[change]]\npart = \"the {} rail\"\nwhat = \"replaced\"\nwith = \"ash\"\n\
             [[coat]]\npart = \"outside\"\nproduct = \"shellac\"\ncoats = 9\nlast = 2025-03-{:02}\n\
             [[work]]\non = 2025-03-{:02}\ntask = \"{}\"\nhours = 99.75\n\
             [[cost]]\non = 2025-03-02\nwhat = \"{}\"\nkind = \"hardware\"\namount = 8888.88\n",
            "very ".repeat(i),
            i + 1,
            i + 1,
            if i % 5 == 4 { one_long_word() } else { "sanding ".repeat(i + 1).trim().to_owned() },
            if i % 5 == 4 {
                one_long_word()
            } else {
                "brass pulls ".repeat(i + 1).trim().to_owned()
            },
        )
        .unwrap();
    }
    for i in 0..photos {
        let (wide, high) = if tall { (300, 1000 + 50 * i) } else { (1200, 300 + 150 * i) };
        let file = format!("photo-{i}.{}", ["jpg", "png", "webp"][i % 3]);
        put(shop, &format!("pieces/{name}/{file}"), &picture(wide, high as u32, i));
        let shows = "The wardrobe from the front, its doors wide open ".repeat(i + 1);
        write!(text, "[[photo]]\nfile = \"{file}\"\nshows = \"{}\"\n", shows.trim()).unwrap();
    }
    let story = "It came out of a farmhouse and was black with soot when it was found. ".repeat(30);
    write!(
        text,
        "[bought]\non = 2025-01-05\nprice = 12345.67\nfrom = \"{}\"\n[listing]\non = 2025-04-01\n\
         price = 99999.99\nchannel = \"online\"\nopening = \"{}\"\nstory = \"{} {}\"\nstands = \"{}\"\n",
        "an estate sale a long way off ".repeat(3).trim(),
        "A wardrobe of uncommon size, with its first lock and key. ".repeat(3).trim(),
        story.trim(),
        one_long_word(),
        "the back of the second barn ".repeat(3).trim(),
    )
    .unwrap();
    if sold {
        text += "[[sale]]\non = 2025-06-01\nprice = 5.00\nchannel = \"online\"\n";
    }
    put(shop, &format!("pieces/{name}/piece.toml"), text.as_bytes());
}

/// Every script of the font in every place words of the owner can stand.
fn characters() -> String {
    let words = "שלום Κόσμε świecie мир #x $y$ *z*";
    format!(
        "title = \"{words}\"\nnumber = \"№-{words}\"\nkind = \"dresser\"\n\
         flaw = [{{ note = \"{words}\" }}]\nchange = [{{ part = \"{words}\", what = \"replaced\" }}]\n\
         coat = [{{ product = \"{words}\", last = 2025-03-01 }}]\n\
         work = [{{ on = 2025-03-01, task = \"{words}\", hours = 1 }}]\n\
         wood = [{{ part = \"{words}\", species = \"{words}\", form = \"solid\" }}]\n\
         [listing]\non = 2025-04-01\nprice = 5\nopening = \"{words}\"\nstory = \"{words}\"\n\
         stands = \"{words}\"\n"
    )
}

/// A picture of stripes in one of the three formats.
fn picture(wide: u32, high: u32, nth: usize) -> Vec<u8> {
    let stripes = RgbImage::from_fn(wide, high, |x, y| {
        let light = ((x / 40 + y / 40) % 2 * 120 + 80) as u8;
        Rgb([light, light / 2 + 40, 90])
    });
    let format = [ImageFormat::Jpeg, ImageFormat::Png, ImageFormat::WebP][nth % 3];
    let mut bytes = Vec::new();
    DynamicImage::ImageRgb8(stripes).write_to(&mut Cursor::new(&mut bytes), format).unwrap();
    bytes
}
