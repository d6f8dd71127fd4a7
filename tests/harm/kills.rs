//! Runs of `make` ended from outside at any moment, with inputs changed and put back between: the
//! next run to its end leaves what a clean one leaves, to the byte, and nothing besides.
//!
//! `KILLS=1000 cargo test kills` ends that many; a few without it.

use crate::shell::shop_of;
use image::{ImageFormat, Rgb, RgbImage};
use std::collections::BTreeMap;
use std::fs;
use std::io::Cursor;
use std::path::Path;
use std::process::{Child, Command, Stdio};
use std::time::{Duration, Instant};
use tempfile::TempDir;

/// A sequence that looks random and is the same each time. Source: Steele, Lea and Flood, "Fast
/// splittable pseudorandom number generators" (2014), the mixing function (from memory).
struct Chance(u64);

impl Chance {
    fn below(&mut self, most: u64) -> u64 {
        self.0 = self.0.wrapping_add(0x9e37_79b9_7f4a_7c15);
        let mut mixed = self.0;
        mixed = (mixed ^ (mixed >> 30)).wrapping_mul(0xbf58_476d_1ce4_e5b9);
        mixed = (mixed ^ (mixed >> 27)).wrapping_mul(0x94d0_49bb_1331_11eb);
        (mixed ^ (mixed >> 31)) % most
    }
}

fn kills() -> u64 {
    std::env::var("KILLS").ok().and_then(|n| n.parse().ok()).unwrap_or(24)
}

fn start(shop: &Path, jobs: &str) -> Child {
    Command::new(env!("CARGO_BIN_EXE_dovetally"))
        .args(["make", "--jobs", jobs, "--shop"])
        .arg(shop)
        .stdout(Stdio::null())
        .stderr(Stdio::piped())
        .spawn()
        .unwrap()
}

fn make(shop: &Path, jobs: &str) {
    let ended = start(shop, jobs).wait_with_output().unwrap();
    let said = String::from_utf8_lossy(&ended.stderr).into_owned();
    assert!(ended.status.success(), "{said}");
}

/// Everything below a folder, folders too.
fn tree(folder: &Path) -> BTreeMap<String, Option<Vec<u8>>> {
    let mut tree = BTreeMap::new();
    let mut open = vec![folder.to_owned()];
    while let Some(next) = open.pop() {
        for entry in fs::read_dir(next).unwrap() {
            let path = entry.unwrap().path();
            let name = path.strip_prefix(folder).unwrap().display().to_string();
            if path.is_dir() {
                open.push(path);
                tree.insert(name, None);
            } else {
                tree.insert(name, Some(fs::read(path).unwrap()));
            }
        }
    }
    tree
}

/// Ends `count` runs of a shop whose inputs are those of one of two states, and compares.
fn endure(count: u64, jobs: &str, seed: u64, put: &dyn Fn(&Path, usize)) {
    let clean: Vec<_> = (0..2)
        .map(|state| {
            let shop = shop_of(&[]);
            put(shop.path(), state);
            make(shop.path(), jobs);
            tree(&shop.path().join("out"))
        })
        .collect();
    assert!(clean[0] != clean[1]);
    let shop: TempDir = shop_of(&[]);
    put(shop.path(), 0);
    make(shop.path(), jobs);
    put(shop.path(), 1);
    let begun = Instant::now();
    make(shop.path(), jobs);
    let whole = begun.elapsed().as_micros() as u64;
    let mut chance = Chance(seed);
    let mut left = count;
    while left > 0 {
        // One run ended, or several one after the other.
        for _ in 0..(1 + chance.below(3)).min(left) {
            put(shop.path(), chance.below(2) as usize);
            let mut run = start(shop.path(), jobs);
            std::thread::sleep(Duration::from_micros(chance.below(whole + whole / 8)));
            run.kill().unwrap();
            run.wait().unwrap();
            left -= 1;
        }
        let state = chance.below(2) as usize;
        put(shop.path(), state);
        make(shop.path(), jobs);
        let now = tree(&shop.path().join("out"));
        let differ: Vec<_> =
            now.iter().filter(|(path, it)| clean[state].get(*path) != Some(it)).collect();
        let differ: Vec<_> = differ.iter().map(|(path, _)| path).collect();
        assert!(now == clean[state], "{left} kills before the end, seed {seed}: {differ:?}");
    }
}

fn write(shop: &Path, path: &str, bytes: &[u8]) {
    let path = shop.join(path);
    fs::create_dir_all(path.parent().unwrap()).unwrap();
    fs::write(path, bytes).unwrap();
}

#[test]
fn a_run_ended_at_any_moment_leaves_nothing_wrong_behind() {
    endure(kills(), "2", 1, &|shop, state| {
        write(shop, "shop.toml", b"name = \"Test Shop\"\n");
        let price = ["420.00", "430.00"][state];
        let piece = format!(
            "title = \"Pine washstand\"\nbought = {{ on = 2025-01-02, price = 35 }}\n\
             sale = [{{ on = 2025-03-01, price = {price} }}]\n"
        );
        write(shop, "pieces/pine/piece.toml", piece.as_bytes());
        let oak = shop.join("pieces/oak");
        match state {
            0 => write(shop, "pieces/oak/piece.toml", b"title = \"Oak table\"\n"),
            _ => drop(fs::remove_dir_all(oak)),
        }
    });
}

/// The photo is another in each state, and every piece shows it.
#[test]
fn a_run_ended_while_many_pieces_share_a_photo_leaves_nothing_wrong_behind() {
    let photos: Vec<Vec<u8>> = [60, 190].into_iter().map(photo).collect();
    endure(kills().div_ceil(4), "16", 2, &|shop, state| {
        write(shop, "shop.toml", b"name = \"Test Shop\"\n");
        write(shop, "photo.jpg", &photos[state]);
        for i in 0..16 {
            let text =
                format!("title = \"Piece {i}\"\nphoto = [{{ file = \"../../photo.jpg\" }}]\n");
            write(shop, &format!("pieces/p{i}/piece.toml"), text.as_bytes());
        }
    });
}

fn photo(shade: u8) -> Vec<u8> {
    let mut bytes = Cursor::new(Vec::new());
    let picture = RgbImage::from_fn(1200, 900, |x, y| Rgb([shade, (x / 5) as u8, (y / 5) as u8]));
    picture.write_to(&mut bytes, ImageFormat::Jpeg).unwrap();
    bytes.into_inner()
}
