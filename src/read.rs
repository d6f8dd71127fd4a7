//! From a folder of the owner's files to a [`Shop`] and what is to be said about them.
//!
//! The only floor that opens the owner's files; only `cli` uses it. Every file is read by itself,
//! all its faults at once; then the files are checked against each other. A file with an error
//! gives no piece and no year: it is named among [`Shop::broken`], and the others stand.

mod accent;
mod assemble;
mod books_file;
mod check;
mod codes;
mod document;
mod load;
mod piece_file;
mod piece_sale;
mod piece_work;
mod references;
mod setting;
mod shop_file;
mod stock_file;
mod syntax;
mod table;
mod text;
mod value;
mod walk;
mod words;
mod workers;

pub use codes::CODES;

use crate::model::{
    Broken, Failure, FileId, Finding, Form, Piece, Place, Shop, Sources, StockItem, YearBook,
    built_in_forms,
};
use load::{FileRef, Taken, take, take_keys};
use setting::Setting;
use std::collections::BTreeMap;
use std::path::{Path, PathBuf};
use table::Table;
use walk::{Walk, walk};
use workers::in_order;

/// What a shop folder holds.
#[derive(Debug)]
pub struct Reading {
    /// Nothing where shop.toml is missing or has errors.
    pub shop: Option<Shop>,
    /// Every file that was read, for the places of findings and values.
    pub sources: Sources,
    /// In the order of the files and of their lines; first those about no place in a file.
    pub findings: Vec<Finding>,
}

/// Reads a shop folder.
///
/// # Errors
/// A folder that cannot be listed. A single file that cannot be read is a finding.
pub fn read(folder: &Path) -> Result<Reading, Failure> {
    let walk = walk(folder)?;
    let files = Files::of(&walk);
    let mut setting = Setting::unread(folder);
    let shop = files.shop.as_ref().map(|file| take_shop(&setting, file));
    settle(&mut setting, shop.as_ref());
    let stock = files.stock.as_ref().map(|file| take_keys(&setting, file, stock_file::stock));
    setting.stock = known_stock(&walk, stock.as_ref());
    let books = in_order(&files.books, |(year, file)| {
        (*year, take_keys(&setting, file, |keys| books_file::year_book(keys, *year)))
    });
    let pieces = in_order(&files.pieces, |file| take_keys(&setting, file, piece_file::piece));
    Ok(Taking { walk, shop, stock, books, pieces }.into_reading(folder))
}

/// The nearest folder from `start` upwards that holds shop.toml.
pub fn find_shop(start: &Path) -> Option<PathBuf> {
    walk::find_shop(start)
}

/// The files to read, numbered as they will stand in [`Sources`].
struct Files {
    shop: Option<FileRef>,
    stock: Option<FileRef>,
    books: Vec<(i32, FileRef)>,
    pieces: Vec<FileRef>,
}

impl Files {
    fn of(walk: &Walk) -> Files {
        let mut next = 0;
        let mut number = |path: &String| {
            next += 1;
            FileRef { id: FileId(next - 1), path: path.clone() }
        };
        Files {
            shop: walk.shop.as_ref().map(&mut number),
            stock: walk.stock.as_ref().map(&mut number),
            books: walk.books.iter().map(|(year, path)| (*year, number(path))).collect(),
            pieces: walk.pieces.iter().map(&mut number).collect(),
        }
    }
}

/// The shop's own file. Its currency is looked up first, since amounts depend on it.
fn take_shop(setting: &Setting, file: &FileRef) -> Taken<Shop> {
    take(setting, file, |keys, document| {
        shop_file::shop(&Table::root(document, keys), built_in_forms())
    })
}

/// What every other file depends on, as far as shop.toml could be read.
fn settle(setting: &mut Setting, taken: Option<&Taken<Shop>>) {
    let Some(taken) = taken else { return };
    let Some(shop) = &taken.value else { return };
    setting.currency = shop.currency.clone();
    setting.units = shop.units;
    setting.channels = (!taken.has_errors()).then(|| shop.channels.clone());
    let own = |form: &&Form| form.name == shop.books.form.value;
    setting.forms = shop.forms.iter().filter(own).cloned().collect();
}

/// A shop without stock.toml has no stock; one whose stock.toml has errors has unknown stock.
fn known_stock(
    walk: &Walk,
    taken: Option<&Taken<BTreeMap<String, StockItem>>>,
) -> Option<BTreeMap<String, StockItem>> {
    match taken {
        Some(taken) if taken.has_errors() => None,
        Some(taken) => taken.value.clone(),
        None if walk.broken.iter().any(|broken| broken.path == "stock.toml") => None,
        None => Some(BTreeMap::new()),
    }
}

/// Every file of the shop, read by itself.
struct Taking {
    walk: Walk,
    shop: Option<Taken<Shop>>,
    stock: Option<Taken<BTreeMap<String, StockItem>>>,
    books: Vec<(i32, Taken<YearBook>)>,
    pieces: Vec<Taken<Piece>>,
}

impl Taking {
    fn into_reading(mut self, folder: &Path) -> Reading {
        let mut findings = self.take_findings();
        let across = self.check();
        let mut sources = Sources::default();
        self.move_texts(&mut sources);
        if self.shop.is_none() && !self.walk.broken.iter().any(|b| b.path == "shop.toml") {
            findings.push(no_shop_file(folder, self.books.is_empty() && self.pieces.is_empty()));
        }
        let shop = self.assemble(&across, &mut findings);
        findings.extend(across.findings);
        findings.sort_by_key(|f| (!f.place.is_nowhere(), f.place, f.code));
        Reading { shop, sources, findings }
    }

    /// The findings of each file; its errors stay with the file, as it is judged by them.
    fn take_findings(&mut self) -> Vec<Finding> {
        let mut findings = std::mem::take(&mut self.walk.findings);
        findings.extend(self.shop.iter().flat_map(|taken| taken.findings.clone()));
        findings.extend(self.stock.iter().flat_map(|taken| taken.findings.clone()));
        findings.extend(self.books.iter().flat_map(|(_, taken)| taken.findings.clone()));
        findings.extend(self.pieces.iter().flat_map(|taken| taken.findings.clone()));
        findings
    }

    fn check(&self) -> check::Across {
        let pieces: Vec<&Piece> = self.pieces.iter().filter_map(Taken::sound).collect();
        let books: Vec<&YearBook> =
            self.books.iter().filter_map(|(_, book)| book.sound()).collect();
        let unread = self.pieces.iter().filter(|piece| !piece.sound);
        check::across(&pieces, &books, unread.flat_map(assemble::names).collect())
    }

    /// In the order in which [`Files`] numbered them.
    fn move_texts(&mut self, sources: &mut Sources) {
        let mut add = |file: &FileRef, text: &mut String| {
            let id = sources.add(file.path.clone(), std::mem::take(text));
            debug_assert_eq!(id, file.id);
        };
        self.shop.iter_mut().for_each(|taken| add(&taken.file, &mut taken.text));
        self.stock.iter_mut().for_each(|taken| add(&taken.file, &mut taken.text));
        self.books.iter_mut().for_each(|(_, taken)| add(&taken.file, &mut taken.text));
        self.pieces.iter_mut().for_each(|taken| add(&taken.file, &mut taken.text));
    }

    fn assemble(self, across: &check::Across, findings: &mut Vec<Finding>) -> Option<Shop> {
        let mut shop = self.shop.filter(|taken| !taken.has_errors())?.value?;
        shop.broken = self.walk.broken;
        match self.stock {
            Some(taken) if taken.has_errors() => {
                shop.broken.push(Broken { path: taken.file.path, since: None });
            }
            Some(taken) => shop.stock = taken.value.unwrap_or_default(),
            None => {}
        }
        findings.extend(assemble::assemble(&mut shop, self.books, self.pieces, across));
        Some(shop)
    }
}

fn no_shop_file(folder: &Path, empty: bool) -> Finding {
    let (folder, what) = (folder.display(), if empty { "and no pieces" } else { "" });
    let message = format!("`{folder}` has no shop.toml {what}").trim_end().to_owned();
    let hint = "write a file shop.toml there with the line `name = \"Quayside Furniture\"`";
    Finding::error("no-shop-file", Place::NOWHERE, message).hint(hint)
}
