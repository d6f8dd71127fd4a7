//! From files read one by one to one shop: what is sound goes in, what is not is named as broken.

use super::check::{Across, Unread};
use super::load::Taken;
use super::recovered::BrokenBook;
use crate::model::{
    Broken, Code, Finding, Lacks, Order, Period, Piece, Place, SalvagedTo, Shop, Sources, YearBook,
};
use chrono::NaiveDate;
use std::collections::{BTreeMap, BTreeSet};

/// Puts the pieces and books that stand into `shop`, and the others among its broken files. Of a
/// broken book the entries without an error stand, for the pieces that need them: its year is refused.
pub(super) fn assemble(
    shop: &mut Shop,
    books: Vec<(i32, Taken<YearBook>)>,
    pieces: Vec<Taken<Piece>>,
    across: &Across,
    sources: &Sources,
) -> Vec<Finding> {
    let fails = |has_errors, file| has_errors || across.broken.contains(&file);
    let (broken_books, good_books): (Vec<_>, Vec<_>) =
        books.into_iter().partition(|(_, book)| fails(book.has_errors(), book.file.id));
    let lots = lot_days(good_books.iter().chain(&broken_books));
    for (year, book) in good_books {
        shop.missing_receipts.extend(book.lost);
        shop.years.extend(book.value.map(|value| (year, value)));
    }
    let (mut said, mut without) = (Vec::new(), Vec::new());
    for (year, book) in broken_books {
        recover(shop, year, &book, &pieces, across, sources, &mut without);
    }
    let (broken, good): (Vec<_>, Vec<_>) =
        pieces.into_iter().partition(|piece| fails(piece.has_errors(), piece.file.id));
    let fallen = fallen(good, broken, |piece| needs_stock(piece, shop), &mut said);
    for (piece, stands) in fallen {
        if stands {
            shop.missing_receipts.extend(piece.lost);
            shop.pieces.extend(piece.value);
        } else {
            let (since, lacks) = (since(&piece, &lots), lacks_of(&piece));
            shop.broken.push(Broken { path: piece.file.path, since, lacks });
        }
    }
    // Only of pieces that stand: what is wrong with the others is said of them.
    without.retain(|finding: &Finding| {
        shop.pieces.iter().any(|piece| piece.place.file == finding.place.file)
    });
    said.extend(without);
    shop.broken.sort_by(|a, b| a.path.cmp(&b.path));
    shop.pieces.sort_by(|a, b| (a.name(), &a.folder).cmp(&(b.name(), &b.folder)));
    said
}

/// Of a file with as many findings not every error is told: then nothing of it is relied on.
pub(super) const ALL_TOLD: usize = 20;

const NEEDS: Code = Code::NeedsBrokenFile;

/// What stands of a book with errors goes into the shop; which pieces need the rest is said.
fn recover(
    shop: &mut Shop,
    year: i32,
    book: &Taken<YearBook>,
    pieces: &[Taken<Piece>],
    across: &Across,
    sources: &Sources,
    said: &mut Vec<Finding>,
) {
    let period = shop.tax_year(year);
    let since = book_since(period, book.since);
    let (path, text) = (book.file.path.clone(), sources.get(book.file.id));
    let all_told = book.findings.len() < ALL_TOLD;
    let (Some(value), Some(source), true) = (&book.value, text, all_told) else {
        return shop.broken.push(Broken { path, since, lacks: None });
    };
    let errors = errors_in(book, across);
    let broken = BrokenBook::of(value, period.first, &source.text, &errors);
    let sound = broken.sound();
    let lots = shop.years.values().chain([&sound]).flat_map(|book| &book.lot);
    let in_lots = lots.flat_map(|lot| lot.pieces.iter().map(|(name, _)| name.as_str())).collect();
    let pieces: Vec<&Taken<Piece>> = pieces.iter().collect();
    let lacks = broken.lacks(&pieces, &in_lots);
    for piece in pieces.iter().filter_map(|piece| piece.value.as_ref()) {
        let draw = piece.used.iter().find(|used| lacks.stock.contains(&used.stock.value));
        let place = draw.map_or(piece.place, |used| used.stock.place);
        if draw.is_some() || lacks.pieces.contains(&piece.folder) {
            said.push(without_figures(piece, place, &path));
        }
    }
    shop.years.insert(year, sound);
    shop.broken.push(Broken { path, since, lacks: Some(lacks) });
}

/// Where the errors of a file are, those across files among them.
fn errors_in<T>(taken: &Taken<T>, across: &Across) -> Vec<Place> {
    let own = taken.findings.iter().chain(&across.findings).filter(|finding| finding.is_error());
    let places = own.flat_map(|f| [Some(f.place), f.second.as_ref().map(|(place, _)| *place)]);
    places.flatten().filter(|place| place.file == taken.file.id).collect()
}

/// The orders that stand, with what each adds to the income of its years; the others are named as broken:
/// no piece needs them.
pub(super) fn put_orders(shop: &mut Shop, orders: Vec<Taken<Order>>) -> Vec<Finding> {
    let mut said = Vec::new();
    for taken in orders {
        let broken = taken.has_errors();
        shop.missing_receipts.extend(taken.lost);
        match taken.value.filter(|_| !broken) {
            None => {
                let (path, since) = (taken.file.path, taken.since);
                shop.broken.push(Broken { path, since, lacks: Some(Lacks::default()) });
            }
            Some(mut order) => {
                order.count(|on| shop.basis(shop.tax_year_of(on)));
                said.extend(two_bases(shop, &order));
                shop.orders.push(order);
            }
        }
    }
    shop.broken.sort_by(|a, b| a.path.cmp(&b.path));
    shop.orders.sort_by(|a, b| (a.name(), &a.folder).cmp(&(b.name(), &b.folder)));
    said.extend(shop.orders.windows(2).filter_map(same_name));
    said
}

/// Done in a year kept on one basis and paid in one kept on the other: counted twice, or never.
fn two_bases(shop: &Shop, order: &Order) -> Option<Finding> {
    let mut bases = order.days().map(|on| shop.basis(shop.tax_year_of(on)));
    let first = bases.next()?;
    if bases.all(|basis| basis == first) {
        return None;
    }
    let message =
        "its days fall in years kept on different bases: part of it counts twice, or not at all";
    let finding = Finding::warning(Code::OrderBasis, order.title.place, message);
    Some(
        finding
            .label("on cash and on accrual")
            .hint("tell the preparer which part of it counted in which year"),
    )
}

/// Papers of two orders with one name could not be told apart.
fn same_name(two: &[Order]) -> Option<Finding> {
    let (first, second) = (two[0].number.as_ref()?, two[1].number.as_ref()?);
    if first.value != second.value {
        return None;
    }
    let message = format!("`{}` is the number of two orders", second.value);
    let finding = Finding::warning(Code::OrderTwice, second.place, message).label("again here");
    Some(finding.second(first.place, "already here").hint("give one of them a number of its own"))
}

/// The stock that a broken piece may have drawn; nothing is known of it where its draws are not.
fn lacks_of(piece: &Taken<Piece>) -> Option<Lacks> {
    let value = piece.value.as_ref().filter(|_| piece.whole)?;
    let stock = value.used.iter().map(|used| used.stock.value.clone()).collect();
    Some(Lacks { pieces: BTreeSet::new(), stock })
}

fn without_figures(piece: &Piece, place: Place, needed: &str) -> Finding {
    let name = piece.name();
    let message = format!("`{name}` has no figures: what it needs of {needed} cannot be read");
    let finding = Finding::warning(NEEDS, place, message).label("needs more");
    finding.hint(format!("fix {needed}; this file may be right"))
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

/// Why a sound piece would have figures that fall short: what it drew stands in a file with errors.
fn needs_stock(piece: &Taken<Piece>, shop: &Shop) -> Option<Finding> {
    let value = piece.value.as_ref()?;
    let unknown = value.used.iter().find(|used| !shop.stock.contains_key(&used.stock.value))?;
    Some(set_aside(value, unknown.stock.place, "stock.toml"))
}

fn set_aside(piece: &Piece, place: Place, needed: &str) -> Finding {
    let message = format!("`{}` is set aside: it needs {needed}, which has errors", piece.name());
    let finding = Finding::warning(Code::NeedsBrokenFile, place, message).label("set aside");
    finding.hint(format!("fix {needed}; this file may be right"))
}
