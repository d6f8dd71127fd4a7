//! A laid-out page as a picture, for channels that take only pictures.

use image::{DynamicImage, ImageFormat, RgbaImage};
use std::io::Cursor;
use typst::utils::Scalar;
use typst_layout::Page;
use typst_render::{RenderOptions, render};

/// The page as a PNG whose longer side has this many pixels.
///
/// It holds the picture and nothing else: no date, no program, no text. A page is opaque, so the
/// fourth channel of the renderer says nothing and is left out.
pub fn png(page: &Page, pixels: u32) -> Vec<u8> {
    let size = page.frame.size();
    let longer = size.x.max(size.y).to_pt().max(1.0);
    let pixel_per_pt = Scalar::new(f64::from(pixels) / longer);
    let drawn = render(page, &RenderOptions { pixel_per_pt, render_bleed: false });
    let (width, height) = (drawn.width(), drawn.height());
    let mut png = Cursor::new(Vec::new());
    // Four bytes for every pixel, written to memory: there is nothing that can fail.
    let opaque = RgbaImage::from_raw(width, height, drawn.take()).expect("as many as it draws");
    let picture = DynamicImage::ImageRgb8(DynamicImage::ImageRgba8(opaque).into_rgb8());
    picture.write_to(&mut png, ImageFormat::Png).expect("memory takes every byte");
    png.into_inner()
}
