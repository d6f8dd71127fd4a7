//! Photos made ready for paper: turned upright, reduced to print size, stripped of everything a
//! phone writes into them, and set in sRGB; and pages written as PNG.
//!
//! A crate of its own, because it loops over pixels: so it is optimised even where the rest is built
//! for tests, as dependencies are.

#![forbid(unsafe_code)]

mod colour;

use colour::set_in_srgb;
use fast_image_resize::images::{TypedImage, TypedImageRef};
use fast_image_resize::pixels::U8x3;
use fast_image_resize::{ResizeOptions, Resizer};
use image::codecs::jpeg::JpegEncoder;
use image::metadata::Orientation;
use image::{
    DynamicImage, ExtendedColorType, ImageDecoder, ImageEncoder, ImageFormat, ImageReader, Limits,
    RgbImage, RgbaImage,
};
use std::io::Cursor;

/// The largest place a picture is printed in; it is reduced to 300 pixels an inch there.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum Fit {
    /// Four columns wide or 280 points high: the main picture.
    Main,
    /// Three columns: every other picture.
    Small,
    /// Two columns: a picture of the catalogue.
    Column,
}

impl Fit {
    /// The most pixels a side may have: 328, 242 and 156 points at 300 to the inch.
    pub fn pixels(self) -> u32 {
        match self {
            Fit::Main => 1367,
            Fit::Small => 1009,
            Fit::Column => 650,
        }
    }

    /// The pixels across and down that a picture of this size has here.
    pub fn within(self, (width, height): (u32, u32)) -> (u32, u32) {
        reduced(width, height, self.pixels())
    }
}

/// A JPEG without metadata, upright, in sRGB.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Picture {
    pub jpeg: Vec<u8>,
    pub width: u32,
    pub height: u32,
}

/// Why a picture cannot be used, as words that follow the file's name.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct PictureFault(pub String);

/// The most pixels of a picture, and of all that are read at a time: twice those of the largest
/// camera (common practice, no source).
pub const MOST_PIXELS: u64 = 120_000_000;

/// As many pixels of one byte for each of four channels: one of more bits has fewer.
const MOST_BYTES: u64 = 4 * MOST_PIXELS;
const QUALITY: u8 = 86;

/// What the head of a picture says of it.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct PictureSize {
    width: u32,
    height: u32,
    turned: bool,
}

impl PictureSize {
    /// Pixels of the longer side as it was taken.
    pub fn longer(self) -> u32 {
        self.width.max(self.height)
    }

    pub fn pixels(self) -> u64 {
        u64::from(self.width) * u64::from(self.height)
    }

    /// Pixels across and down, turned upright.
    pub fn upright(self) -> (u32, u32) {
        match self.turned {
            true => (self.height, self.width),
            false => (self.width, self.height),
        }
    }

    /// The pixels across and down it has in print.
    pub fn within(self, fit: Fit) -> (u32, u32) {
        fit.within(self.upright())
    }
}

/// The size of a picture, from its head alone: quick, and it says at once what is no picture and
/// what is too large.
pub fn measure_picture(bytes: &[u8]) -> Result<PictureSize, PictureFault> {
    let mut decoder = decoder(bytes)?;
    let (width, height) = decoder.dimensions();
    let turned = is_turned(orientation(&mut decoder));
    Ok(PictureSize { width, height, turned })
}

/// Makes a picture ready for print. Reads JPEG, PNG and WebP by their content, not their name.
pub fn fit_picture(bytes: &[u8], fit: Fit) -> Result<Picture, PictureFault> {
    let mut decoder = decoder(bytes)?;
    let profile = decoder.icc_profile().ok().flatten().filter(|profile| is_of_rgb(profile));
    let orientation = orientation(&mut decoder);
    let image = DynamicImage::from_decoder(decoder).map_err(unreadable)?;
    let mut small = reduce(on_white(image), fit.pixels())?;
    if let Some(profile) = profile {
        set_in_srgb(&mut small, &profile);
    }
    let mut small = DynamicImage::ImageRgb8(small);
    small.apply_orientation(orientation);
    let small = small.into_rgb8();
    let jpeg = encode(&small)?;
    Ok(Picture { jpeg, width: small.width(), height: small.height() })
}

/// Reads a picture to its end, and throws it away: whether [`fit_picture`] could make it ready.
pub fn try_picture(bytes: &[u8]) -> Result<(), PictureFault> {
    DynamicImage::from_decoder(decoder(bytes)?).map(drop).map_err(unreadable)
}

/// A PNG of pixels of four bytes, row by row from the top left; nothing where they are not as many as
/// that takes. It holds the picture and nothing else: no date, no program, no text.
///
/// A page is opaque, so the fourth channel says nothing and is left out.
pub fn page_picture(width: u32, height: u32, pixels: Vec<u8>) -> Option<Vec<u8>> {
    let page = DynamicImage::ImageRgba8(RgbaImage::from_raw(width, height, pixels)?);
    let mut png = Cursor::new(Vec::new());
    DynamicImage::ImageRgb8(page.into_rgb8()).write_to(&mut png, ImageFormat::Png).ok()?;
    Some(png.into_inner())
}

/// Whether a JPEG stops before its end mark: a decoder would fill up what is missing with grey.
/// Segments are walked, since a picture within the picture has an end mark of its own. Source:
/// ITU-T T.81, B.1.1 (from memory).
fn ends_early(jpeg: &[u8]) -> bool {
    let mut at = 2;
    while let Some(&[mark, code]) = jpeg.get(at..at + 2).and_then(|two| two.first_chunk()) {
        at += match (mark, code) {
            (0xff, 0xd9) => return false,
            // Fill, a mark without a length, and the coded picture between marks.
            (0xff, 0xff) => 1,
            (0xff, 0x00 | 0x01 | 0xd0..=0xd7) => 2,
            (0xff, _) => match jpeg.get(at + 2..at + 4) {
                Some(length) => 2 + usize::from(u16::from_be_bytes([length[0], length[1]])),
                None => return true,
            },
            _ => 1,
        };
    }
    true
}

/// Whether a colour profile fits what every picture is made into: one for ink or for grey describes
/// other channels than the picture then has. Source: ICC.1:2022, 7.2.6 "data colour space field",
/// bytes 16 to 19 (from memory).
fn is_of_rgb(profile: &[u8]) -> bool {
    profile.get(16..20) == Some(b"RGB ")
}

fn decoder(bytes: &[u8]) -> Result<impl ImageDecoder + '_, PictureFault> {
    let mut reader = ImageReader::new(Cursor::new(bytes))
        .with_guessed_format()
        .map_err(|e| PictureFault(format!("cannot be read: {e}")))?;
    if reader.format().is_none() {
        return Err(PictureFault("is not a JPEG, PNG or WebP picture".to_owned()));
    }
    if reader.format() == Some(ImageFormat::Jpeg) && ends_early(bytes) {
        return Err(PictureFault("is cut short: its end is missing".to_owned()));
    }
    let mut limits = Limits::default();
    limits.max_alloc = Some(MOST_BYTES);
    reader.limits(limits);
    let decoder = reader.into_decoder().map_err(unreadable)?;
    let (width, height) = decoder.dimensions();
    if u64::from(width) * u64::from(height) > MOST_PIXELS || decoder.total_bytes() > MOST_BYTES {
        return Err(PictureFault(format!(
            "has {width} × {height} pixels: more than {} million are not read",
            MOST_PIXELS / 1_000_000
        )));
    }
    Ok(decoder)
}

fn unreadable(e: image::ImageError) -> PictureFault {
    PictureFault(format!("cannot be read: {e}"))
}

fn orientation(decoder: &mut impl ImageDecoder) -> Orientation {
    decoder.orientation().unwrap_or(Orientation::NoTransforms)
}

fn is_turned(orientation: Orientation) -> bool {
    use Orientation::{Rotate90, Rotate90FlipH, Rotate270, Rotate270FlipH};
    matches!(orientation, Rotate90 | Rotate270 | Rotate90FlipH | Rotate270FlipH)
}

/// Sets a transparent picture on white, as the paper will.
fn on_white(image: DynamicImage) -> RgbImage {
    if !image.color().has_alpha() {
        return image.into_rgb8();
    }
    let layered = image.into_rgba8();
    RgbImage::from_fn(layered.width(), layered.height(), |x, y| {
        let [r, g, b, a] = layered.get_pixel(x, y).0;
        let over = |c: u8| ((u32::from(c) * u32::from(a) + 255 * (255 - u32::from(a))) / 255) as u8;
        image::Rgb([over(r), over(g), over(b)])
    })
}

/// Scales so that no side has more than `most` pixels; a smaller picture is left as it is.
fn reduce(image: RgbImage, most: u32) -> Result<RgbImage, PictureFault> {
    let (width, height) = image.dimensions();
    let small = reduced(width, height, most);
    if small == (width, height) {
        return Ok(image);
    }
    let fault = |e: &dyn std::fmt::Display| PictureFault(format!("cannot be reduced: {e}"));
    // Of one kind of pixel: with the kind open, all dozen of them would be compiled.
    let from =
        TypedImageRef::<U8x3>::from_buffer(width, height, image.as_raw()).map_err(|e| fault(&e))?;
    let mut reduced = RgbImage::new(small.0, small.1);
    let mut to = TypedImage::from_buffer(small.0, small.1, &mut reduced).map_err(|e| fault(&e))?;
    Resizer::new()
        .resize_typed(&from, &mut to, &ResizeOptions::default())
        .map_err(|e| fault(&e))?;
    Ok(reduced)
}

fn reduced(width: u32, height: u32, most: u32) -> (u32, u32) {
    let longest = u64::from(width.max(height).max(1));
    let scaled = |side: u32| {
        let exact = (u64::from(side) * u64::from(most) + longest / 2) / longest;
        u32::try_from(exact).unwrap_or(most).max(1)
    };
    if longest <= u64::from(most) { (width, height) } else { (scaled(width), scaled(height)) }
}

fn encode(image: &RgbImage) -> Result<Vec<u8>, PictureFault> {
    let fault = |e: &dyn std::fmt::Display| PictureFault(format!("cannot be written: {e}"));
    let mut jpeg = Vec::new();
    JpegEncoder::new_with_quality(&mut jpeg, QUALITY)
        .write_image(image, image.width(), image.height(), ExtendedColorType::Rgb8)
        .map_err(|e| fault(&e))?;
    Ok(jpeg)
}

#[cfg(test)]
mod tests {
    use super::*;

    /// A plain JPEG of a size, with an EXIF block put in after the start mark.
    fn photo(width: u32, height: u32, exif: &[u8]) -> Vec<u8> {
        let plain = encode(&RgbImage::from_pixel(width, height, image::Rgb([200, 150, 90])));
        let plain = plain.expect("a plain picture");
        let mut with = plain[..2].to_vec();
        if !exif.is_empty() {
            with.extend([0xff, 0xe1]);
            with.extend((exif.len() as u16 + 2).to_be_bytes());
            with.extend(exif);
        }
        with.extend(&plain[2..]);
        with
    }

    /// EXIF that says "turn right", with a maker's note that must not survive.
    fn exif_turned() -> Vec<u8> {
        let mut exif = b"Exif\0\0MM\0\x2a\0\0\0\x08\0\x01".to_vec();
        exif.extend([0x01, 0x12, 0, 3, 0, 0, 0, 1, 0, 6, 0, 0, 0, 0, 0, 0]);
        exif.extend(b"GPS 12.3456 N");
        exif
    }

    #[test]
    fn a_turned_photo_comes_out_upright_reduced_and_bare() {
        let photo = photo(2000, 1000, &exif_turned());
        let picture = fit_picture(&photo, Fit::Small).unwrap();
        assert_eq!((picture.width, picture.height), (505, 1009));
        let size = measure_picture(&photo).unwrap();
        assert_eq!((size.within(Fit::Small), size.longer()), ((505, 1009), 2000));
        assert!(!picture.jpeg.windows(3).any(|w| w == b"GPS"), "a position was kept");
        assert!(!picture.jpeg.windows(4).any(|w| w == b"Exif"), "metadata was kept");
    }

    /// A mild red by the numbers of a wider profile is redder by those of sRGB.
    #[test]
    fn a_photo_in_another_profile_is_set_in_srgb() {
        let mild = RgbImage::from_pixel(64, 64, image::Rgb([180, 90, 60]));
        let taken_in = |profile: &moxcms::ColorProfile| {
            let mut jpeg = Vec::new();
            let mut encoder = JpegEncoder::new_with_quality(&mut jpeg, 100);
            encoder.set_icc_profile(profile.encode().unwrap()).unwrap();
            encoder.write_image(&mild, 64, 64, ExtendedColorType::Rgb8).unwrap();
            let printed = fit_picture(&jpeg, Fit::Main).unwrap().jpeg;
            image::load_from_memory(&printed).unwrap().to_rgb8().get_pixel(32, 32).0
        };
        let [plain, wide] =
            [moxcms::ColorProfile::new_srgb(), moxcms::ColorProfile::new_display_p3()]
                .map(|p| taken_in(&p));
        assert!(plain[0].abs_diff(180) <= 3, "{plain:?}");
        assert!(wide[0] > plain[0] + 5 && wide[2] < plain[2], "{plain:?} {wide:?}");
    }

    #[test]
    fn a_small_photo_is_not_blown_up() {
        let picture = fit_picture(&photo(300, 200, b""), Fit::Main).unwrap();
        assert_eq!((picture.width, picture.height), (300, 200));
    }

    #[test]
    fn what_is_no_picture_is_said_not_printed() {
        for bytes in [b"".as_slice(), b"hello", &photo(300, 200, b"")[..400], b"\x89PNG\r\n\x1a\n"]
        {
            assert!(fit_picture(bytes, Fit::Main).is_err());
        }
    }

    #[test]
    fn transparency_is_set_on_white() {
        let clear = image::RgbaImage::from_pixel(8, 8, image::Rgba([0, 0, 0, 0]));
        let mut png = Vec::new();
        DynamicImage::ImageRgba8(clear)
            .write_to(&mut Cursor::new(&mut png), image::ImageFormat::Png)
            .unwrap();
        let picture = fit_picture(&png, Fit::Main).unwrap();
        let back = image::load_from_memory(&picture.jpeg).unwrap().to_rgb8();
        assert!(back.pixels().all(|p| p.0.iter().all(|&c| c > 250)));
    }
}
