//! Entries that may be right and are odd: what a careful friend would ask about. The limits are
//! rows of a table, and an entry the owner has confirmed where it stands is not asked about again.

mod books;
mod days;
mod papers;
mod piece;
mod sale;

use super::super::odd::confirm;
use super::{Across, Origin};
use crate::model::{Finding, Order, Piece, Place, Shop, YearBook};
use books::{Around, Days};
use chrono::Datelike;
use std::collections::BTreeSet;

/// Entries by their place, each with a key that the owner is sure of.
pub type Confirmed = BTreeSet<(Place, String)>;

/// An entry that can be confirmed: its place, and its table as it is typed.
#[derive(Clone, Copy)]
struct Entry {
    place: Place,
    table: &'static str,
}

/// The findings of odd entries, without those that were confirmed.
struct Asked<'a> {
    confirmed: &'a Confirmed,
    across: &'a mut Across,
}

impl Asked<'_> {
    /// Asks about the value of a key of an entry, unless it was confirmed.
    fn ask(&mut self, entry: Entry, key: &str, finding: Finding) {
        if self.confirmed.contains(&(entry.place, key.to_owned())) {
            return;
        }
        let confirm = confirm(entry.table, key);
        let hint = match finding.hint.as_deref() {
            Some(hint) => format!("{hint}; {confirm}"),
            None => confirm,
        };
        self.across.say(finding.hint(hint));
    }
}

/// Everything odd about the pieces and books that were read.
pub fn check(
    shop: Option<&Shop>,
    pieces: &[(&Piece, Option<Origin>)],
    books: &[&YearBook],
    orders: &[&Order],
    all_books: bool,
    confirmed: &Confirmed,
    across: &mut Across,
) {
    let mut asked = Asked { confirmed, across };
    for (piece, origin) in pieces {
        piece::check(piece, origin.as_ref(), all_books, &mut asked);
        sale::check(shop, piece, &mut asked);
        if let Some(bought) = &piece.bought {
            let entry = Entry { place: bought.place, table: "[bought]" };
            let (price, premium, tax) = (bought.price, bought.premium, bought.tax);
            books::purchase(shop, entry, price, premium, tax, &mut asked);
        }
    }
    books::check(shop, books, &around(shop, pieces), &mut asked);
    books::orders(orders, &mut asked);
    let read: Vec<&Piece> = pieces.iter().map(|(piece, _)| *piece).collect();
    days::check(&read, books, orders, &mut asked);
    papers::check(&read, &mut asked);
    if let Some(shop) = shop {
        books::rates(shop, &mut asked);
    }
}

/// What books are compared with: the sales of each year, and the days of each piece by its names.
fn around<'a>(shop: Option<&Shop>, pieces: &[(&'a Piece, Option<Origin>)]) -> Around<'a> {
    let mut around = Around::default();
    for (piece, origin) in pieces {
        for sale in &piece.sale {
            let on = sale.on.value;
            let year = shop.map_or(on.year(), |shop| shop.tax_year_of(on));
            *around.sold.entry(year).or_default() += sale.asked();
        }
        let days = Days {
            bought: origin.map(|origin| origin.value),
            sold: piece.sale.iter().map(|sale| sale.on.value).min(),
        };
        for name in [piece.name(), &piece.folder] {
            around.days.insert(name, days);
        }
    }
    around
}
