//! From files read one by one to one shop: what is sound goes in, what is not is named as broken.

use super::check::{Across, Unread};
use super::load::Taken;
use crate::model::{Broken, Code, Finding, Period, Piece, Place, SalvagedTo, Shop, YearBook};
use chrono::NaiveDate;
use std::collections::{BTreeMap, BTreeSet};

/// Puts the pieces and books that stand into `shop`, and the others among its broken files.
pub(super) fn assemble(
    shop: &mut Shop,
    books: Vec<(i32, Taken<YearBook>)>,
    pieces: Vec<Taken<Piece>>,
    across: &Across,
) -> Vec<Finding> {
    let fails = |has_errors, file| has_errors || across.broken.contains(&file);
    let (broken_books, good_books): (Vec<_>, Vec<_>) =
        books.into_iter().partition(|(_, book)| fails(book.has_errors(), book.file.id));
    let lots = lot_days(good_books.iter().chain(&broken_books));
    let books_amiss: Vec<BrokenBook> =
        broken_books.iter().map(|book| BrokenBook::of(book, shop)).collect();
    let mut said = Vec::new();
    let (broken, good): (Vec<_>, Vec<_>) =
        pieces.into_iter().partition(|piece| fails(piece.has_errors(), piece.file.id));
    let fallen = fallen(good, broken, |piece| needs_broken(piece, &books_amiss, shop), &mut said);
    for (piece, stands) in fallen {
        let since = since(&piece, &lots);
        if stands {
            shop.missing_receipts.extend(piece.lost);
            shop.pieces.extend(piece.value);
        } else {
            shop.broken.push(Broken { path: piece.file.path, since });
        }
    }
    for (year, book) in broken_books {
        shop.broken.push(Broken {
            path: book.file.path,
            since: book_since(shop.tax_year(year), book.since),
        });
    }
    for (year, book) in good_books {
        shop.missing_receipts.extend(book.lost);
        shop.years.extend(book.value.map(|value| (year, value)));
    }
    shop.broken.sort_by(|a, b| a.path.cmp(&b.path));
    shop.pieces.sort_by(|a, b| (a.name(), &a.folder).cmp(&(b.name(), &b.folder)));
    said
}

/// The pieces, each with whether it stands. One that needs a file with errors falls, and so does
/// every piece into which a part of a fallen one went.
fn fallen(
    mut good: Vec<Taken<Piece>>,
    mut fallen: Vec<Taken<Piece>>,
    needs: impl Fn(&Taken<Piece>) -> Option<Finding>,
    said: &mut Vec<Finding>,
) -> Vec<(Taken<Piece>, bool)> {
    loop {
        let parts: BTreeMap<String, String> = fallen.iter().flat_map(parts_of).collect();
        let because = |piece: &Taken<Piece>| needs(piece).or_else(|| needs_part(piece, &parts));
        let (falls, stands): (Vec<_>, Vec<_>) = good
            .into_iter()
            .map(|piece| (because(&piece), piece))
            .partition(|(why, _)| why.is_some());
        good = stands.into_iter().map(|(_, piece)| piece).collect();
        if falls.is_empty() {
            break;
        }
        for (why, piece) in falls {
            said.extend(why);
            fallen.push(piece);
        }
    }
    let fallen = fallen.into_iter().map(|piece| (piece, false));
    fallen.chain(good.into_iter().map(|piece| (piece, true))).collect()
}

/// The pieces into which parts of a piece went, and the path of its file.
fn parts_of(piece: &Taken<Piece>) -> Vec<(String, String)> {
    let parts = piece.value.iter().flat_map(|value| &value.salvaged);
    let names = parts.filter_map(|part| match &part.to {
        SalvagedTo::Piece(name) => Some(name.value.clone()),
        SalvagedTo::Sold(_) => None,
    });
    names.map(|name| (name, piece.file.path.clone())).collect()
}

/// Why a sound piece would cost too little: a part of it came from a piece that is not read.
fn needs_part(piece: &Taken<Piece>, parts: &BTreeMap<String, String>) -> Option<Finding> {
    let path = names(piece).iter().find_map(|name| parts.get(name))?;
    Some(set_aside(piece.value.as_ref()?, piece.value.as_ref()?.place, path))
}

/// A book's entries lie in its year; a date of another year is one of its errors.
fn book_since(year: Period, earliest: Option<NaiveDate>) -> Option<NaiveDate> {
    Some(earliest.map_or(year.first, |day| day.min(year.first)))
}

/// The day of the lot each piece was bought in, by the name the lot gives it.
fn lot_days<'a>(
    books: impl Iterator<Item = &'a (i32, Taken<YearBook>)>,
) -> BTreeMap<String, NaiveDate> {
    let lots = books.filter_map(|(_, book)| book.value.as_ref()).flat_map(|book| &book.lot);
    let days = |lot: &'a crate::model::Lot| {
        lot.pieces.iter().map(|(name, _)| (name.value.clone(), lot.on.value))
    };
    lots.flat_map(days).collect()
}

/// The earliest day of a piece: in its own file, or in the lot it was bought in.
fn since(piece: &Taken<Piece>, lots: &BTreeMap<String, NaiveDate>) -> Option<NaiveDate> {
    let own = piece.since?;
    let lot = names(piece).iter().filter_map(|name| lots.get(name)).min().copied();
    Some(lot.map_or(own, |lot| lot.min(own)))
}

/// Every name a piece may be called by, also where its file has errors.
pub(super) fn names(piece: &Taken<Piece>) -> Vec<String> {
    let folder = piece.file.path.rsplit_once('/').map_or("", |(folder, _)| folder);
    let last = folder.rsplit('/').next().unwrap_or(folder);
    let number = piece.value.as_ref().and_then(|piece| piece.number.as_ref());
    let mut names = vec![folder.to_owned(), last.to_owned()];
    names.extend(number.map(|number| number.value.clone()));
    names
}

/// What the pieces are called whose files have errors.
pub(super) fn unread<'a>(pieces: impl Iterator<Item = &'a Taken<Piece>>) -> Unread {
    let mut unread = Unread::default();
    for piece in pieces {
        let number = piece.value.as_ref().and_then(|piece| piece.number.as_ref());
        unread.nameless |= number.map_or(!piece.whole, |number| number.is_empty());
        unread.names.extend(names(piece));
    }
    unread
}

/// A book with errors, and the pieces its lots and trips name.
struct BrokenBook<'a> {
    path: &'a str,
    named: BTreeSet<&'a str>,
    /// Where its TOML could not be read whole, a piece bought on or after this day may be named in
    /// it as well.
    hides_from: Option<NaiveDate>,
}

impl<'a> BrokenBook<'a> {
    fn of((year, book): &'a (i32, Taken<YearBook>), shop: &Shop) -> BrokenBook<'a> {
        let lots = book.value.iter().flat_map(|book| &book.lot).flat_map(|lot| &lot.pieces);
        let trips = book.value.iter().flat_map(|book| &book.trip);
        let named = lots.map(|(name, _)| name.as_str());
        let named = named.chain(trips.filter_map(|trip| trip.piece.as_ref().map(|p| p.as_str())));
        let first = (!book.whole).then_some(shop.tax_year(*year).first);
        BrokenBook { path: &book.file.path, named: named.collect(), hides_from: first }
    }

    /// Whether it names a piece in a lot or trip, or may: any piece that was not bought by itself
    /// may stand in a lot that could not be read.
    fn may_name(&self, piece: &Taken<Piece>, value: &Piece) -> bool {
        let may_be_hidden =
            |first| value.bought.is_none() && piece.since.is_none_or(|d| d >= first);
        names(piece).iter().any(|name| self.named.contains(name.as_str()))
            || self.hides_from.is_some_and(may_be_hidden)
    }
}

/// Why a sound piece would have figures that fall short: what it drew, or what it was bought in,
/// stands in a file with errors.
fn needs_broken(piece: &Taken<Piece>, books: &[BrokenBook], shop: &Shop) -> Option<Finding> {
    let value = piece.value.as_ref()?;
    let unknown_stock = value.used.iter().find(|used| !shop.stock.contains_key(&used.stock.value));
    let (place, needed) = match unknown_stock {
        Some(used) => (used.stock.place, "stock.toml"),
        None => (value.place, books.iter().find(|book| book.may_name(piece, value))?.path),
    };
    Some(set_aside(value, place, needed))
}

fn set_aside(piece: &Piece, place: Place, needed: &str) -> Finding {
    let message = format!("`{}` is set aside: it needs {needed}, which has errors", piece.name());
    let finding = Finding::warning(Code::NeedsBrokenFile, place, message).label("set aside");
    finding.hint(format!("fix {needed}; this file may be right"))
}
