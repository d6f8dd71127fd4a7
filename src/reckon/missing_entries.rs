//! Which entries may be missing because a file could not be read, and what that leaves out. Every
//! part of this floor may use it.

use super::costs::PieceCosts;
use crate::model::{Broken, Code, Finding, Piece, Shop};
use chrono::NaiveDate;

/// The first day on which a year's entries may be missing; nothing when every book was read.
pub fn books_missing_from(shop: &Shop) -> Option<NaiveDate> {
    let first_day = |file: &Broken| file.since.unwrap_or(NaiveDate::MIN);
    shop.broken.iter().filter(|file| is_book(file)).map(first_day).min()
}

fn is_book(file: &Broken) -> bool {
    file.path.starts_with("books/")
}

/// Whether an unread book may hold a lot, a trip or a purchase of stock that belongs to the piece:
/// it is still in the shop, or one of its own entries is on or after the first missing day.
pub fn may_lack(piece: &Piece, costs: &PieceCosts, in_shop: bool, first: NaiveDate) -> bool {
    let entered = costs.entries.iter().map(|entry| entry.on);
    let driven = costs.trips.iter().map(|trip| trip.on);
    let sold = piece.sale.iter().map(|sale| sale.on.value);
    let back = piece.returned.iter().map(|back| back.on.value);
    let withdrawn = piece.withdrawn.iter().map(|end| end.on.value);
    let mut days = entered.chain(driven).chain(sold).chain(back).chain(withdrawn);
    in_shop || days.any(|day| day >= first)
}

/// Says that draws of an unread piece are not in the stock: the pieces that were read may have
/// drawn it at a slightly different cost. Nothing to say when no piece draws stock.
pub fn unread_draws(shop: &Shop) -> Option<Finding> {
    let unread = shop.broken.iter().find(|file| file.path.ends_with("piece.toml"))?;
    let draw = shop.pieces.iter().find_map(|piece| piece.used.first())?;
    let message = format!("stock drawn in `{}` is not counted: it could not be read", unread.path);
    let hint = "fix that file first; until then later draws may cost a little more or less";
    Some(Finding::warning(Code::DrawsNotRead, draw.place, message).hint(hint))
}
