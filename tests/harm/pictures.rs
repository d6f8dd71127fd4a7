//! Pictures made to fill the memory, and reduced ones that are not what they were.

use crate::shell::{dovetally, files_below, shop_of};
use dovetally::cli::Status;
use image::{ImageFormat, Rgb, RgbImage};
use std::fs;
use std::io::Cursor;
use std::path::{Path, PathBuf};
use tempfile::TempDir;

fn photo(shade: u8) -> Vec<u8> {
    let mut bytes = Cursor::new(Vec::new());
    let picture = RgbImage::from_fn(1200, 900, |x, y| Rgb([shade, (x / 5) as u8, (y / 5) as u8]));
    picture.write_to(&mut bytes, ImageFormat::Jpeg).unwrap();
    bytes.into_inner()
}

/// A shop of some pieces that all show one photo.
fn shop_with_photo(pieces: usize) -> TempDir {
    let shop = shop_of(&[("shop.toml", "name = \"Test Shop\"\n")]);
    fs::write(shop.path().join("photo.jpg"), photo(90)).unwrap();
    for i in 0..pieces {
        let folder = shop.path().join(format!("pieces/p{i}"));
        fs::create_dir_all(&folder).unwrap();
        let text = format!("title = \"Piece {i}\"\nphoto = [{{ file = \"../../photo.jpg\" }}]\n");
        fs::write(folder.join("piece.toml"), text).unwrap();
    }
    shop
}

fn kept(shop: &Path) -> Vec<PathBuf> {
    let folder = fs::read_dir(shop.join("out/.pictures"));
    let mut kept: Vec<PathBuf> =
        folder.into_iter().flatten().map(|entry| entry.unwrap().path()).collect();
    kept.sort();
    kept
}

fn make(shop: &TempDir, words: &[&str]) {
    let typed = [&["make", "--only", "listing"], words].concat();
    let said = dovetally(shop.path(), &typed);
    assert_eq!(said.status, Status::Done, "{}", said.err);
}

#[test]
fn one_photo_in_several_pieces_is_reduced_by_many_workers_at_once() {
    let shop = shop_with_photo(16);
    let mut first = None;
    for _ in 0..3 {
        make(&shop, &["--jobs", "16"]);
        let kept = kept(shop.path());
        let kept: Vec<Vec<u8>> = kept.iter().map(|path| fs::read(path).unwrap()).collect();
        assert!(!kept.is_empty() && kept.iter().all(|picture| picture.len() > 1000));
        assert!(first.get_or_insert_with(|| kept.clone()) == &kept, "the same in every run");
        fs::remove_dir_all(shop.path().join("out")).unwrap();
    }
}

#[test]
fn a_reduced_photo_that_is_not_what_it_was_is_made_again() {
    let shop = shop_with_photo(1);
    make(&shop, &[]);
    let out = shop.path().join("out");
    let (clean, pictures) = (files_below(&out), kept(shop.path()));
    assert!(!pictures.is_empty());
    let other = shop_with_photo(1);
    fs::write(other.path().join("photo.jpg"), photo(200)).unwrap();
    make(&other, &[]);
    // Empty, cut short, changed in one byte, and that of another photo under its name.
    type Spoil<'a> = &'a dyn Fn(&Path, usize);
    let spoil: [Spoil; 4] = [
        &|path, _| fs::write(path, "").unwrap(),
        &|path, _| {
            let bytes = fs::read(path).unwrap();
            fs::write(path, &bytes[..bytes.len() / 2]).unwrap();
        },
        &|path, _| {
            let mut bytes = fs::read(path).unwrap();
            let middle = bytes.len() / 2;
            bytes[middle] ^= 0x40;
            fs::write(path, bytes).unwrap();
        },
        &|path, _| fs::write(path, photo(200)).unwrap(),
    ];
    for spoil in spoil {
        for (i, picture) in pictures.iter().enumerate() {
            spoil(picture, i);
        }
        make(&shop, &["--force"]);
        assert!(files_below(&out) == clean);
    }
}

#[test]
fn reduced_photos_that_nothing_uses_go() {
    let shop = shop_with_photo(2);
    let make = || {
        let said = dovetally(shop.path(), &["make"]);
        assert_eq!(said.status, Status::Done, "{}", said.err);
    };
    make();
    let before = kept(shop.path());
    assert!(!before.is_empty());
    fs::write(shop.path().join("out/.pictures/own.jpg"), "mine").unwrap();
    fs::write(shop.path().join("photo.jpg"), photo(10)).unwrap();
    make();
    let after = kept(shop.path());
    assert!(before.iter().all(|picture| !picture.exists()), "{before:?}");
    assert_eq!(after.len(), before.len() + 1);
    for piece in ["p0", "p1"] {
        fs::remove_dir_all(shop.path().join("pieces").join(piece)).unwrap();
    }
    make();
    assert_eq!(kept(shop.path()), [shop.path().join("out/.pictures/own.jpg")]);
}

/// The heads alone of pictures of 200 million pixels: none is read to see that.
#[test]
fn a_picture_of_too_many_pixels_is_said_from_its_head() {
    let mut png = b"\x89PNG\r\n\x1a\n\0\0\0\x0dIHDR".to_vec();
    png.extend([20_000u32.to_be_bytes(), 10_000u32.to_be_bytes()].concat());
    png.extend([8, 2, 0, 0, 0]);
    png.extend(crc(&png[12..]).to_be_bytes());
    png.extend(b"\0\0\0\0IDAT\x35\xaf\x06\x1e");
    let jpeg = [
        b"\xff\xd8\xff\xc2\0\x11\x08".as_slice(),
        &[0x27, 0x10, 0x4e, 0x20, 3, 1, 0x11, 0, 2, 0x11, 0, 3, 0x11, 0],
        b"\xff\xda\0\x0c\x03\x01\0\x02\0\x03\0\0\x3f\0\xff\xd9",
    ]
    .concat();
    for (name, bytes) in [("a.png", png), ("a.jpg", jpeg)] {
        let piece = format!("title = \"A\"\nphoto = [{{ file = \"{name}\" }}]\n");
        let shop = shop_of(&[("shop.toml", "name = \"T\"\n"), ("pieces/a/piece.toml", &piece)]);
        fs::write(shop.path().join("pieces/a").join(name), bytes).unwrap();
        let said = dovetally(shop.path(), &["make", "--only", "listing"]);
        assert_eq!(said.status, Status::Done, "{}", said.err);
        assert!(said.err.contains("more than 120 million are not read"), "{}", said.err);
    }
}

/// CRC-32 of a PNG's chunk. Source: W3C PNG, annex D (from memory).
fn crc(bytes: &[u8]) -> u32 {
    let step = |crc: u32| if crc & 1 == 1 { 0xedb8_8320 ^ (crc >> 1) } else { crc >> 1 };
    !bytes.iter().fold(!0, |crc, byte| (0..8).fold(crc ^ u32::from(*byte), |crc, _| step(crc)))
}
