//! A laid-out page as a picture, for channels that take only pictures.

use dovetally_photo::page_picture;
use typst::utils::Scalar;
use typst_layout::Page;
use typst_render::{RenderOptions, render};

/// The page as a PNG whose longer side has this many pixels.
pub fn png(page: &Page, pixels: u32) -> Vec<u8> {
    let size = page.frame.size();
    let longer = size.x.max(size.y).to_pt().max(1.0);
    let pixel_per_pt = Scalar::new(f64::from(pixels) / longer);
    let drawn = render(page, &RenderOptions { pixel_per_pt, render_bleed: false });
    let (width, height) = (drawn.width(), drawn.height());
    page_picture(width, height, drawn.take()).expect("the renderer draws every pixel")
}
