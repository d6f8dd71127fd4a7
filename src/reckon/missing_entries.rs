//! Which entries may be missing because a file could not be read, and what that leaves out. Every
//! part of this floor may use it.

use super::costs::PieceCosts;
use crate::model::{Broken, Code, Entry, Finding, Lacks, Piece, Shop, Used};
use chrono::NaiveDate;

fn is_book(file: &Broken) -> bool {
    file.path.starts_with("books/")
}

/// The first day on which purchases or counts of a stock item may be missing.
pub fn stock_missing_from(shop: &Shop, item: &str) -> Option<NaiveDate> {
    let lacks = |file: &&Broken| file.lacks.as_ref().is_none_or(|l| l.stock.contains(item));
    let first_day = |file: &Broken| file.since.unwrap_or(NaiveDate::MIN);
    shop.broken.iter().filter(|file| is_book(file)).filter(lacks).map(first_day).min()
}

/// Whether a book with errors may hold a lot, a trip or a purchase of stock that belongs to the
/// piece.
pub fn may_lack(shop: &Shop, piece: &Piece, costs: &PieceCosts, in_shop: bool) -> bool {
    let draws = |lacks: &Lacks, since: NaiveDate| {
        let drawn = |used: &Used| lacks.stock.contains(&used.stock.value);
        piece.used.iter().any(|used| drawn(used) && used.on.value >= since)
    };
    shop.broken.iter().filter(|file| is_book(file)).any(|file| {
        let since = file.since.unwrap_or(NaiveDate::MIN);
        match &file.lacks {
            Some(lacks) => lacks.pieces.contains(&piece.folder) || draws(lacks, since),
            None => is_of_days_from(piece, costs, in_shop, since),
        }
    })
}

/// Whether a piece is still in the shop, or one of its own entries is on or after a day.
fn is_of_days_from(piece: &Piece, costs: &PieceCosts, in_shop: bool, first: NaiveDate) -> bool {
    let entered = costs.entries.iter().map(|entry| entry.on);
    let driven = costs.trips.iter().map(|trip| trip.on);
    let own = piece.entries(0).into_iter().filter(Entry::is_of_the_books).map(|entry| entry.on);
    in_shop || entered.chain(driven).chain(own).any(|day| day >= first)
}

/// Says that draws of an unread piece are not in the stock: the pieces that were read may have
/// drawn it at a slightly different cost. Nothing to say where it drew nothing that others draw.
pub fn unread_draws(shop: &Shop) -> Option<Finding> {
    let unread = shop.broken.iter().filter(|file| file.path.ends_with("piece.toml"));
    let draws = || shop.pieces.iter().flat_map(|piece| &piece.used);
    let (unread, draw) = unread.into_iter().find_map(|file| {
        let same = |used: &&Used| match &file.lacks {
            Some(lacks) => lacks.stock.contains(&used.stock.value),
            None => true,
        };
        Some((file, draws().find(same)?))
    })?;
    let message = format!("stock drawn in `{}` is not counted: it could not be read", unread.path);
    let hint = "fix that file first; until then later draws may cost a little more or less";
    Some(Finding::warning(Code::DrawsNotRead, draw.place, message).hint(hint))
}
