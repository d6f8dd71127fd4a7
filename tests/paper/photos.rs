//! Photos of every kind as they stand in the PDF: upright, with their colours, without what a
//! camera wrote into them; and what is said of those that cannot be printed.

use crate::pdf;
use crate::shell::{dovetally, shop_of};
use dovetally::cli::Status;
use image::{DynamicImage, ImageFormat, Rgba, RgbaImage};
use lopdf::{Document, Object, Stream};
use std::fs;
use std::io::Cursor;
use tempfile::TempDir;

/// What became of a photo: what was said, and the listing sheet.
struct Printed {
    status: Status,
    said: String,
    sheet: Vec<u8>,
}

/// A shop of one piece with one photo, made.
fn print(name: &str, bytes: Option<&[u8]>) -> Printed {
    let piece = format!(
        "title = \"Pine washstand\"\n[[photo]]\nfile = \"{name}\"\nshows = \"the front\"\n"
    );
    let shop: TempDir =
        shop_of(&[("shop.toml", "name = \"Test Shop\"\n"), ("pieces/pine/piece.toml", &piece)]);
    if let Some(bytes) = bytes {
        fs::write(shop.path().join("pieces/pine").join(name), bytes).unwrap();
    }
    let said = dovetally(shop.path(), &["make"]);
    let sheet = fs::read(shop.path().join("out/pieces/pine/listing-sheet.pdf"));
    let sheet = sheet.unwrap_or_else(|_| panic!("no sheet: {}", said.err));
    assert_eq!(pdf::faults(&sheet, false), Vec::<String>::new(), "{name}");
    Printed { status: said.status, said: said.err, sheet }
}

fn kept(name: &str) -> Vec<u8> {
    fs::read(format!("{}/tests/paper/photos/{name}", env!("CARGO_MANIFEST_DIR"))).unwrap()
}

/// A picture of one colour in a format.
fn plain(width: u32, height: u32, colour: [u8; 4], format: ImageFormat) -> Vec<u8> {
    let picture = DynamicImage::ImageRgba8(RgbaImage::from_pixel(width, height, Rgba(colour)));
    let mut bytes = Cursor::new(Vec::new());
    match format {
        ImageFormat::Jpeg => picture.to_rgb8().write_to(&mut bytes, format),
        _ => picture.write_to(&mut bytes, format),
    }
    .unwrap();
    bytes.into_inner()
}

/// The one photo of a sheet: its stream, and the PDF it is in.
fn photo(sheet: &[u8]) -> (Document, Stream) {
    let document = Document::load_mem(sheet).unwrap();
    let streams = document.objects.values().filter_map(|object| object.as_stream().ok());
    let is_photo = |stream: &&Stream| {
        stream.dict.get(b"Subtype").and_then(Object::as_name).is_ok_and(|name| name == b"Image")
    };
    let mut photos: Vec<Stream> = streams.filter(is_photo).cloned().collect();
    assert_eq!(photos.len(), 1);
    (document, photos.remove(0))
}

/// Colour of a photo in the PDF at a place given in parts of its width and height.
fn colour(photo: &Stream, x: f32, y: f32) -> [u8; 3] {
    let picture = image::load_from_memory(&photo.content).expect("a JPEG as it is").to_rgb8();
    let (x, y) = (picture.width() as f32 * x, picture.height() as f32 * y);
    picture.get_pixel(x as u32, y as u32).0
}

fn near(one: [u8; 3], other: [u8; 3]) -> bool {
    one.iter().zip(other).all(|(a, b)| a.abs_diff(b) < 12)
}

/// The colour profile a PDF gives a photo.
fn profile(document: &Document, photo: &Stream) -> Option<Vec<u8>> {
    let (_, space) = document.dereference(photo.dict.get(b"ColorSpace").ok()?).ok()?;
    let Object::Array(space) = space else { return None };
    let based = space.first()?.as_name().ok()? == b"ICCBased";
    let (_, stream) = document.dereference(space.get(1).filter(|_| based)?).ok()?;
    stream.as_stream().ok()?.decompressed_content().ok()
}

#[test]
fn a_phones_photo_is_turned_and_tells_nothing() {
    let original = kept("turned-with-profile.jpg");
    for secret in [b"SECRET NOTE".as_slice(), b"SECRET COMMENT", b"SECRET XMP", b"Exif"] {
        assert!(original.windows(secret.len()).any(|w| w == secret), "the sample tells nothing");
    }
    let printed = print("a.jpg", Some(&original));
    assert_eq!(printed.status, Status::Done, "{}", printed.said);
    let (document, photo) = photo(&printed.sheet);
    // Red at the left before it was turned to the right is red at the top.
    assert!(near(colour(&photo, 0.5, 0.2), [200, 30, 30]));
    assert!(near(colour(&photo, 0.5, 0.8), [30, 40, 180]));
    // A profile names the device it is of: the picture is set in sRGB and has none, or that one.
    let its_own = |profile: Vec<u8>| original.windows(64).any(|w| profile.get(200..264) == Some(w));
    assert!(!profile(&document, &photo).is_some_and(its_own));
    for stream in document.objects.values().filter_map(|object| object.as_stream().ok()) {
        let bytes = stream.decompressed_content().unwrap_or_else(|_| stream.content.clone());
        for secret in [b"SECRET".as_slice(), b"Exif", b"xmpmeta xmlns:x='adobe"] {
            assert!(!bytes.windows(secret.len()).any(|w| w == secret), "{stream:?}");
        }
    }
}

#[test]
fn a_photo_in_four_inks_keeps_its_colours_and_loses_a_profile_that_does_not_fit() {
    let printed = print("a.jpg", Some(&kept("four-inks.jpg")));
    assert_eq!(printed.status, Status::Done, "{}", printed.said);
    let (document, photo) = photo(&printed.sheet);
    assert!(near(colour(&photo, 0.2, 0.5), [255, 0, 0]), "{:?}", colour(&photo, 0.2, 0.5));
    assert!(near(colour(&photo, 0.8, 0.5), [0, 255, 0]), "{:?}", colour(&photo, 0.8, 0.5));
    let space = profile(&document, &photo);
    assert!(space.is_none_or(|profile| profile.get(16..20) == Some(b"RGB ")));
}

#[test]
fn a_grey_photo_stays_grey_and_loses_a_profile_that_does_not_fit() {
    let printed = print("a.jpg", Some(&kept("grey-with-grey-profile.jpg")));
    assert_eq!(printed.status, Status::Done, "{}", printed.said);
    let (document, photo) = photo(&printed.sheet);
    assert!(near(colour(&photo, 0.5, 0.5), [128, 128, 128]));
    let space = profile(&document, &photo);
    assert!(space.is_none_or(|profile| profile.get(16..20) == Some(b"RGB ")));
}

#[test]
fn every_format_prints_whatever_its_file_is_called() {
    let blue = [20, 60, 200, 255];
    for (name, format) in
        [("a.png", ImageFormat::Png), ("a.webp", ImageFormat::WebP), ("a.png", ImageFormat::Jpeg)]
    {
        let printed = print(name, Some(&plain(960, 700, blue, format)));
        assert_eq!(printed.status, Status::Done, "{format:?}: {}", printed.said);
        assert!(near(colour(&photo(&printed.sheet).1, 0.5, 0.5), [20, 60, 200]), "{format:?}");
    }
}

#[test]
fn what_is_clear_is_white_paper() {
    let clear = plain(960, 700, [0, 0, 0, 0], ImageFormat::Png);
    let printed = print("a.png", Some(&clear));
    assert_eq!(printed.status, Status::Done, "{}", printed.said);
    assert!(near(colour(&photo(&printed.sheet).1, 0.5, 0.5), [255, 255, 255]));
}

#[test]
fn a_large_photo_is_reduced_to_300_pixels_an_inch_at_its_size_in_print() {
    let large = plain(4000, 3000, [9, 90, 9, 255], ImageFormat::Jpeg);
    let printed = print("a.jpg", Some(&large));
    let (_, photo) = photo(&printed.sheet);
    // 328 points at 300 pixels to 72 points.
    assert_eq!(photo.dict.get(b"Width").and_then(Object::as_i64).unwrap(), 1367);
}

#[test]
fn a_photo_too_small_for_its_place_is_printed_and_said() {
    for (width, height) in [(300, 200), (4, 4), (1, 1)] {
        let printed = print("a.png", Some(&plain(width, height, [9, 9, 9, 255], ImageFormat::Png)));
        assert_eq!(printed.status, Status::Done, "{}", printed.said);
        for said in ["photo-small", "pieces/pine/piece.toml:3:8", "as the camera took it"] {
            assert!(printed.said.contains(said), "{said}: {}", printed.said);
        }
    }
}

/// A PNG that says it is far larger than any photo.
fn bomb() -> Vec<u8> {
    let mut png = plain(8, 8, [0, 0, 0, 255], ImageFormat::Png);
    png[16..24].copy_from_slice(&[0, 0, 0xff, 0xff, 0, 0, 0xff, 0xff]);
    png
}

#[test]
fn what_cannot_be_printed_is_said_with_its_place_and_remedy_and_the_sheet_is_made() {
    let whole = plain(960, 700, [9, 9, 200, 255], ImageFormat::Jpeg);
    let cases: [(&str, Option<Vec<u8>>, &str); 6] = [
        ("missing", None, "photo-unusable"),
        ("text", Some(b"not a picture".to_vec()), "photo-kind"),
        ("empty", Some(Vec::new()), "photo-kind"),
        ("damaged", Some(whole[..whole.len() / 3].to_vec()), "photo-unusable"),
        ("a bomb", Some(bomb()), "photo-unusable"),
        ("a drawing", Some(b"<svg xmlns='http://www.w3.org/2000/svg'/>".to_vec()), "photo-kind"),
    ];
    for (what, bytes, code) in cases {
        let printed = print("a.jpg", bytes.as_deref());
        assert_eq!(printed.status, Status::Done, "{what}: {}", printed.said);
        for said in [code, "pieces/pine/piece.toml:3:8", "help: "] {
            assert!(printed.said.contains(said), "{what}, {said}: {}", printed.said);
        }
    }
}
