//! From a folder of the owner's files to a [`Shop`] and what is to be said about them.
//!
//! The only floor that opens the owner's files; only `cli` uses it. Every file is read by itself,
//! all its faults at once; then the files are checked against each other. A file with an error
//! gives no piece and no year: it is named among [`Shop::broken`], and the others stand.

mod accent;
mod amount;
mod assemble;
mod bank_file;
mod bank_quotes;
mod bank_values;
mod books_file;
mod bundles;
mod card_languages;
mod check;
mod codes;
mod corrected;
mod damage;
mod days;
mod document;
mod files;
mod known_keys;
mod link;
mod load;
mod odd;
mod order_file;
mod paths;
mod photo_kind;
mod picture;
mod piece_after;
mod piece_file;
mod piece_sale;
mod piece_work;
mod receipt;
mod recovered;
mod recurring;
mod references;
mod regions;
mod setting;
mod shop_file;
mod stock_file;
mod syntax;
mod table;
mod taking;
mod text;
mod tried;
mod value;
mod walk;
mod words;

pub use known_keys::keys_read;
pub use odd::{Odd, odd_rules};
pub use photo_kind::photo_of_no_kind;
pub use picture::read_picture;
pub use receipt::read_receipt;

use crate::model::{
    Failure, FileId, Finding, Form, OWN_ACCOUNT, Shop, Sources, StockItem, built_in_forms, in_order,
};
use bank_file::take_banks;
use files::Files;
use load::{FileRef, Taken, take, take_keys, take_whole};
use setting::Setting;
use std::collections::BTreeMap;
use std::path::{Path, PathBuf};
use taking::Taking;
use walk::{Walk, walk};

/// What a shop folder holds.
#[derive(Debug)]
pub struct Reading {
    /// Nothing where shop.toml is missing or has errors.
    pub shop: Option<Shop>,
    /// Every file that was read, for the places of findings and values.
    pub sources: Sources,
    /// In the order of the files and of their lines; first those about no place in a file.
    pub findings: Vec<Finding>,
    /// The owner's own layouts, `layouts/NAME.typ`, and the wording of `layouts/description.txt`,
    /// each by its file name; sorted. One that is not text is a finding and is left out.
    pub layouts: Vec<(String, FileId)>,
    /// Whatever lies in the owner's `fonts`, by its path below the shop folder; sorted. Its bytes
    /// are given by [`read_picture`].
    pub fonts: Vec<String>,
}

/// Reads a shop folder.
///
/// # Errors
/// A folder that cannot be listed. A single file that cannot be read is a finding.
pub fn read(folder: &Path) -> Result<Reading, Failure> {
    let walk = walk(folder)?;
    let files = Files::of(&walk);
    let mut setting = Setting::unread(folder);
    let shop = files.shop.as_ref().map(|file| take_shop(&mut setting, file));
    settle(&mut setting, shop.as_ref());
    let mut stock = files.stock.as_ref().map(|file| take_keys(&setting, file, stock_file::stock));
    stock.iter_mut().for_each(stock_file::keep_sound);
    setting.stock_whole = stock.as_ref().is_none_or(|taken| !taken.has_errors());
    setting.stock = known_stock(&walk, stock.as_ref());
    let mut books = in_order(&files.books, |(year, file)| {
        (*year, take_keys(&setting, file, |keys| books_file::year_book(keys, *year)))
    });
    let mut pieces = in_order(&files.pieces, |file| take_keys(&setting, file, piece_file::piece));
    let orders = in_order(&files.orders, |file| take_keys(&setting, file, order_file::order));
    bundles::put(&setting, &books, &mut pieces);
    let layouts = in_order(&files.layouts, |file| take_whole(&setting, file));
    let banks = match shop.as_ref().is_some_and(|shop| !shop.has_errors()) {
        true => take_banks(&setting, &mut books, files.count),
        false => Vec::new(),
    };
    Ok(Taking { walk, shop, stock, books, pieces, orders, layouts, banks }.into_reading(folder))
}

/// The nearest folder from `start` upwards that holds shop.toml.
pub fn find_shop(start: &Path) -> Option<PathBuf> {
    walk::find_shop(start)
}

/// The shop's own file. Where it is and its money are looked up first, since every amount depends
/// on them.
fn take_shop(setting: &mut Setting, file: &FileRef) -> Taken<Shop> {
    let written = take(setting, file, |keys, _| shop_file::home_of(keys)).value;
    if let Some((home, currency)) = written {
        (setting.home, setting.currency, setting.units) = (home, currency.clone(), home.units);
    }
    take_keys(setting, file, |keys| shop_file::shop(keys, built_in_forms()))
}

/// What every other file depends on, as far as shop.toml could be read.
fn settle(setting: &mut Setting, taken: Option<&Taken<Shop>>) {
    let Some(taken) = taken else { return };
    let Some(shop) = &taken.value else { return };
    setting.units = shop.units;
    setting.channels = (!taken.has_errors()).then(|| shop.channels.clone());
    setting.bank = shop.bank.clone();
    setting.taxes = (!taken.has_errors()).then(|| shop.taxes.clone());
    let own = |form: &&Form| form.name == shop.books.form.value || form.name == OWN_ACCOUNT;
    setting.forms = shop.forms.iter().filter(own).cloned().collect();
}

/// A shop without stock.toml has no stock; one whose stock.toml cannot be read has unknown stock.
fn known_stock(
    walk: &Walk,
    taken: Option<&Taken<BTreeMap<String, StockItem>>>,
) -> Option<BTreeMap<String, StockItem>> {
    match taken {
        Some(taken) => taken.value.clone(),
        None if walk.broken.iter().any(|broken| broken.path == "stock.toml") => None,
        None => Some(BTreeMap::new()),
    }
}
