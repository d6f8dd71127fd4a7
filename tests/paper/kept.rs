//! Pages of the demo against kept pictures of them. `ACCEPT=1 cargo test kept_pages` keeps what is
//! drawn now.

use super::papers_of;
use crate::shell::{copy_of, demo};
use image::GrayImage;
use std::collections::BTreeMap;
use std::fs;
use std::path::{Path, PathBuf};
use typst_render::{RenderOptions, render};

/// Pixels to the point: 45 to the inch, enough to see a line move.
const SCALE: f64 = 0.625;
/// The most pages of one paper, and papers of one layout and folder, that are kept.
const MOST_PAGES: usize = 3;
const MOST_PAPERS: usize = 2;
/// Shades by which a pixel may differ from every one of its old neighbours.
const SHADES: u8 = 64;
/// Of ten thousand pixels, how many may differ by more: the edges of letters are drawn a little
/// differently from machine to machine.
const STRAY: usize = 5;

/// The first pages of the first papers of every layout in every folder, by a name for their picture.
fn pages() -> BTreeMap<String, GrayImage> {
    let shop = copy_of(&demo());
    let (press, mut papers) = papers_of(shop.path());
    papers.sort_by(|a, b| a.path.cmp(&b.path));
    let mut of_layout = BTreeMap::<(&str, &str), usize>::new();
    let mut pages = BTreeMap::new();
    for paper in &papers {
        let folder = paper.path.split('/').next().unwrap_or_default();
        let count = of_layout.entry((paper.draft.layout, folder)).or_default();
        *count += 1;
        if *count > MOST_PAPERS {
            continue;
        }
        let document = press.lay_out(&paper.draft, &paper.pictures).unwrap();
        let options = RenderOptions { pixel_per_pt: SCALE.into(), render_bleed: false };
        for (i, page) in document.pages().iter().take(MOST_PAGES).enumerate() {
            let name = paper.path.trim_end_matches(".pdf").replace('/', "_");
            let pixels = render(page, &options);
            let grey = |pixel: &[u8]| {
                let [r, g, b] = [pixel[0], pixel[1], pixel[2]].map(u32::from);
                ((r * 299 + g * 587 + b * 114) / 1000) as u8
            };
            let shades = pixels.data().chunks_exact(4).map(grey).collect();
            let picture = GrayImage::from_raw(pixels.width(), pixels.height(), shades).unwrap();
            pages.insert(format!("{name}-{}.png", i + 1), picture);
        }
    }
    pages
}

/// How many pixels of one picture are like none of the other's at or beside their place.
fn strays(one: &GrayImage, other: &GrayImage) -> usize {
    let (width, height) = one.dimensions();
    let like = |x: u32, y: u32, shade: u8| {
        let (xs, ys) = (x.saturating_sub(1)..=(x + 1), y.saturating_sub(1)..=(y + 1));
        let mut near = ys.flat_map(|y| xs.clone().map(move |x| (x, y)));
        near.any(|(x, y)| {
            x < width && y < height && other.get_pixel(x, y).0[0].abs_diff(shade) <= SHADES
        })
    };
    one.enumerate_pixels().filter(|(x, y, pixel)| !like(*x, *y, pixel.0[0])).count()
}

/// Whether two pictures show the same page.
fn same(one: &GrayImage, other: &GrayImage) -> bool {
    let most = (one.width() * one.height()) as usize * STRAY / 10_000;
    one.dimensions() == other.dimensions()
        && strays(one, other) <= most
        && strays(other, one) <= most
}

fn folder() -> PathBuf {
    Path::new(env!("CARGO_MANIFEST_DIR")).join("tests/paper/pages")
}

fn accept(pages: &BTreeMap<String, GrayImage>) {
    let _ = fs::remove_dir_all(folder());
    fs::create_dir_all(folder()).unwrap();
    for (name, picture) in pages {
        picture.save(folder().join(name)).unwrap();
    }
}

#[test]
fn the_demo_looks_as_its_kept_pages() {
    let pages = pages();
    if std::env::var_os("ACCEPT").is_some() {
        accept(&pages);
    }
    let there = fs::read_dir(folder()).map_or(Vec::new(), |entries| {
        entries.map(|entry| entry.unwrap().file_name().into_string().unwrap()).collect()
    });
    let mut wrong: Vec<String> =
        there.into_iter().filter(|name| !pages.contains_key(name)).collect();
    let now = Path::new(env!("CARGO_TARGET_TMPDIR")).join("pages");
    for (name, picture) in &pages {
        let kept = image::open(folder().join(name)).map(image::DynamicImage::into_luma8);
        if !kept.is_ok_and(|kept| same(&kept, picture)) {
            fs::create_dir_all(&now).unwrap();
            picture.save(now.join(name)).unwrap();
            wrong.push(name.clone());
        }
    }
    let accept = "if they look right, `ACCEPT=1 cargo test kept_pages`";
    assert!(wrong.is_empty(), "not as kept: {wrong:?}; see {}; {accept}", now.display());
}

#[test]
fn kept_pages_are_told_from_pages_with_a_line_moved_or_a_word_gone() {
    let page = GrayImage::from_fn(380, 490, |x, y| {
        let ink = y % 14 < 6 && x % 5 < 3 && x > 30 && x < 350;
        image::Luma([if ink { 40 } else { 255 }])
    });
    let mut softer = page.clone();
    softer.pixels_mut().for_each(|pixel| pixel.0[0] = pixel.0[0].saturating_add(20));
    assert!(same(&page, &softer), "a little antialiasing is no difference");
    let mut gone = page.clone();
    for (x, y) in (100..140).flat_map(|x| (140..146).map(move |y| (x, y))) {
        gone.put_pixel(x, y, image::Luma([255]));
    }
    assert!(!same(&page, &gone), "a word is gone");
    let moved = GrayImage::from_fn(380, 490, |x, y| match y {
        200..300 => *page.get_pixel(x, y + 7),
        _ => *page.get_pixel(x, y),
    });
    assert!(!same(&page, &moved), "lines have moved");
}
