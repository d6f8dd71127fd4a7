//! The pieces sold, with running sums, and the pieces in stock at the year's end.

use super::{Books, DASH, goods, hours};
use crate::model::{Hours, Money, Piece, and_list, counted, grouped};
use crate::reckon::year::{SoldPiece, Total, UnsoldPiece};
use crate::typeset::sheets::common::stock_number;
use crate::typeset::view::{PiecesSold, PiecesUnsold, SoldRow, SoldSums, UnsoldRow};
use chrono::NaiveDate;

/// A sale of the year and its piece.
pub(super) struct Sold<'a> {
    pub piece: &'a Piece,
    pub sale: &'a SoldPiece,
}

impl Sold<'_> {
    /// Net and the hours it was earned in; nothing without hours, or where it came back.
    fn earned(&self) -> Option<(Money, Hours)> {
        self.sale.per_hour?;
        self.sale.net.zip(self.sale.hours)
    }

    /// No purchase is written, and nothing else was spent on it.
    fn lacks_cost(&self) -> bool {
        self.sale.bought.is_none() && self.sale.cost.is_zero()
    }
}

pub(super) fn sold(books: &Books) -> Option<PiecesSold> {
    let all = sales(books);
    let mut sums = Sums::default();
    let rows: Vec<SoldRow> = all
        .iter()
        .map(|one| {
            sums.add(one);
            sold_row(books, one, sums.view(books))
        })
        .collect();
    (!rows.is_empty()).then(|| PiecesSold {
        rows,
        total_label: sold_label(books, all.len()),
        total: sums.view(books),
        order: "In order of the day sold.".to_owned(),
        notes: sold_notes(&all),
        per_hour: hours::chart(books, &all),
    })
}

/// Every sale of the year, by day.
pub(super) fn sales<'a>(books: &Books<'a>) -> Vec<Sold<'a>> {
    let of = |sale: &'a SoldPiece| Sold { piece: &books.shop.pieces[sale.piece], sale };
    books.year.sold.iter().map(of).collect()
}

#[derive(Default)]
struct Sums {
    cost: Money,
    price: Money,
    gross_profit: Money,
    hours: Hours,
    net_with_hours: Money,
    hours_with_net: Hours,
}

impl Sums {
    fn add(&mut self, one: &Sold) {
        self.cost += one.sale.cost;
        self.price += one.sale.price;
        self.gross_profit += one.sale.margin;
        self.hours += one.sale.hours.unwrap_or_default();
        let (net, hours) = one.earned().unwrap_or_default();
        self.net_with_hours += net;
        self.hours_with_net += hours;
    }

    fn view(&self, books: &Books) -> SoldSums {
        let per_hour = self.hours_with_net.each_of(self.net_with_hours);
        SoldSums {
            cost: books.amount(self.cost),
            price: books.amount(self.price),
            gross_profit: books.amount(self.gross_profit),
            hours: in_tenths(Some(self.hours).filter(|hours| !hours.is_zero())),
            per_hour: or_dash(per_hour.map(|each| books.amount(each))),
        }
    }
}

fn sold_row(books: &Books, one: &Sold, so_far: SoldSums) -> SoldRow {
    let sale = one.sale;
    let cost = (!one.lacks_cost()).then(|| books.amount(sale.cost));
    SoldRow {
        number: number(one.piece),
        title: title(one.piece, sale.count),
        bought: or_dash(sale.bought.map(|on| books.day(on))),
        sold: books.day(sale.sold),
        cost: or_dash(cost),
        price: books.amount(sale.price),
        gross_profit: books.amount(sale.margin),
        hours: in_tenths(sale.hours),
        per_hour: or_dash(sale.per_hour.map(|each| books.amount(each))),
        so_far,
    }
}

fn sold_label(books: &Books, rows: usize) -> String {
    match goods::pieces_sold(books) {
        1 if rows == 1 => "One piece".to_owned(),
        pieces if pieces == rows => format!("All {rows} pieces"),
        pieces => format!("All {rows} sales of {}", counted(pieces, "piece", "pieces")),
    }
}

fn sold_notes(all: &[Sold]) -> Vec<String> {
    let mut notes = vec![
        "Cost is what a piece had cost up to the day it was sold: purchase, materials, paid work \
         and freight-in paid. Price is with delivery charged; gross profit is price less cost. \
         Earned per hour is net, after selling costs and trips, over the owner’s hours. A dash \
         means not recorded."
            .to_owned(),
    ];
    let came_back = |one: &Sold| one.sale.came_back;
    let no_hours = |one: &Sold| one.sale.hours.is_none() && !one.sale.came_back;
    notes.extend(named(
        all,
        |one| one.lacks_cost(),
        "without a purchase: nothing is in the sum of cost",
    ));
    notes.extend(named(all, no_hours, "without hours: left out of earned per hour"));
    notes.extend(named(all, came_back, "came back in the year: left out of earned per hour"));
    notes
}

/// "No. 25–014 and 25–016, without hours: left out of earned per hour."
fn named(all: &[Sold], which: impl Fn(&Sold) -> bool, said: &str) -> Option<String> {
    let mut names: Vec<String> =
        all.iter().filter(|one| which(one)).map(|one| stock_number(one.piece)).collect();
    names.dedup();
    (!names.is_empty()).then(|| format!("No. {}, {said}.", and_list(&names)))
}

pub(super) fn unsold(books: &Books) -> Option<PiecesUnsold> {
    let mut so_far = Money::ZERO;
    let rows: Vec<UnsoldRow> = books
        .year
        .unsold
        .iter()
        .map(|one| {
            so_far += one.cost;
            unsold_row(books, one, so_far)
        })
        .collect();
    let total_label = match rows.len() {
        1 => "One piece".to_owned(),
        n => format!("All {n} pieces"),
    };
    (!rows.is_empty()).then(|| PiecesUnsold {
        rows,
        total_label,
        total: books.amount(so_far),
        order: "In order of the day bought.".to_owned(),
        notes: vec![closing(books)],
    })
}

fn unsold_row(books: &Books, one: &UnsoldPiece, so_far: Money) -> UnsoldRow {
    let piece = &books.shop.pieces[one.piece];
    let last = books.last_day();
    // A listing of a later year says nothing of this one.
    let here = |on: &NaiveDate| *on <= last;
    let listing = piece.listing.as_ref().filter(|l| l.on.is_none_or(|on| here(&on.value)));
    let listed = listing.and_then(|listing| listing.on);
    let asked = listing.and_then(|listing| listing.price);
    let bought = one.bought.filter(here);
    UnsoldRow {
        number: number(piece),
        title: title(piece, one.count) + &consigned(piece, last),
        bought: or_dash(bought.map(|on| books.day(on))),
        listed: or_dash(listed.map(|on| books.day(on.value))),
        held: or_dash(bought.map(|on| (last - on).num_days().to_string())),
        asked: or_dash(asked.map(|price| books.amount(price.value))),
        cost: books.amount(one.cost),
        so_far: books.amount(so_far),
    }
}

fn closing(books: &Books) -> String {
    let closing = books.amount(books.year.total(Total::ClosingStock));
    if books.year.total(Total::ShopStock).is_zero() {
        return format!("Stock on {} is {closing}, at cost.", books.end());
    }
    let shop_stock = books.amount(books.year.total(Total::ShopStock));
    let end = books.end();
    format!("With shop stock on hand of {shop_stock}, stock on {end} is {closing}, at cost.")
}

/// The stock number; a piece without one is known by its title.
pub(super) fn number(piece: &Piece) -> String {
    if piece.number.is_some() { stock_number(piece) } else { DASH.to_owned() }
}

/// With whom a piece stands on a day to be sold, if with anybody.
fn consigned(piece: &Piece, day: NaiveDate) -> String {
    let there = piece.consigned.iter().find(|gone| {
        gone.on.value <= day && gone.back.as_ref().is_none_or(|back| back.value > day)
    });
    there.map_or(String::new(), |gone| format!(", on consignment with {}", gone.to))
}

/// The title, and how many of a set where it is not all of it.
fn title(piece: &Piece, count: u32) -> String {
    let of = piece.count.max(1);
    let part = if count < of { format!(", {count} of {of}") } else { String::new() };
    format!("{}{part}", piece.title.value)
}

fn or_dash(text: Option<String>) -> String {
    text.unwrap_or_else(|| DASH.to_owned())
}

pub(super) fn in_tenths(hours: Option<Hours>) -> String {
    or_dash(hours.map(|hours| grouped(hours.decimal(1), 1)))
}
