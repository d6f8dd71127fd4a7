//! Days that stand alone: long after every other entry of the shop, or years before all of them.

use super::super::super::odd::limit;
use super::{Asked, Entry};
use crate::model::{At, Code, Finding, Order, Piece, Place, YearBook};
use chrono::NaiveDate;

/// With fewer days than this nothing can be said to stand alone.
const FEWEST: usize = 4;

/// A day, with the key it is the value of and the entry it stands in.
struct Day {
    on: NaiveDate,
    place: Place,
    key: &'static str,
    entry: Entry,
}

pub(super) fn check(pieces: &[&Piece], books: &[&YearBook], orders: &[&Order], asked: &mut Asked) {
    let mut days: Vec<Day> = pieces.iter().flat_map(|piece| of_piece(piece)).collect();
    days.extend(orders.iter().flat_map(|order| of_order(order)));
    let mut all: Vec<NaiveDate> = books.iter().flat_map(|book| of_book(book)).collect();
    all.extend(days.iter().map(|day| day.on));
    all.sort_unstable();
    if all.len() < FEWEST {
        return;
    }
    days.sort_by_key(|day| (day.on, day.place));
    let (first, last) = (all[1], all[all.len() - 2]);
    let (earliest, latest) = (all[0], all[all.len() - 1]);
    for day in &days {
        let after = (day.on - last).num_days();
        let before = (first - day.on).num_days();
        if day.on == latest && after > days_of(Code::DayLongAfter) {
            alone(day, Code::DayLongAfter, format!("{after} days after every other entry"), asked);
        }
        if day.on == earliest && before > days_of(Code::DayLongBefore) {
            alone(
                day,
                Code::DayLongBefore,
                format!("{before} days before all other entries"),
                asked,
            );
        }
    }
}

fn days_of(code: Code) -> i64 {
    i64::try_from(limit(code)).unwrap_or(i64::MAX)
}

fn alone(day: &Day, code: Code, far: String, asked: &mut Asked) {
    let finding = Finding::warning(code, day.place, format!("{} is {far} of the shop", day.on));
    let finding = finding.label("which year?").hint("fix the day");
    asked.ask(day.entry, day.key, finding);
}

fn of_piece(piece: &Piece) -> Vec<Day> {
    let mut days = Vec::new();
    let mut add = |on: &At<NaiveDate>, key, place, table| {
        days.push(Day { on: on.value, place: on.place, key, entry: Entry { place, table } });
    };
    piece.bought.iter().for_each(|e| add(&e.on, "on", e.place, "[bought]"));
    piece.cost.iter().for_each(|e| add(&e.on, "on", e.place, "[[cost]]"));
    piece.used.iter().for_each(|e| add(&e.on, "on", e.place, "[[used]]"));
    piece.sale.iter().for_each(|e| add(&e.on, "on", e.place, "[[sale]]"));
    piece.returned.iter().for_each(|e| add(&e.on, "on", e.place, "[[return]]"));
    piece.payment.iter().for_each(|e| add(&e.on, "on", e.place, "[[payment]]"));
    piece.allowance.iter().for_each(|e| add(&e.on, "on", e.place, "[[allowance]]"));
    piece.salvaged.iter().for_each(|e| add(&e.on, "on", e.place, "[[salvaged]]"));
    piece.consigned.iter().for_each(|e| add(&e.on, "on", e.place, "[[consigned]]"));
    piece.withdrawn.iter().for_each(|e| add(&e.on, "on", e.place, "[withdrawn]"));
    for work in &piece.work {
        work.on.iter().for_each(|on| add(on, "on", work.place, "[[work]]"));
    }
    for coat in &piece.coat {
        coat.last.iter().for_each(|on| add(on, "last", coat.place, "[[coat]]"));
    }
    if let Some(listing) = &piece.listing {
        listing.on.iter().for_each(|on| add(on, "on", listing.place, "[listing]"));
    }
    days
}

fn of_order(order: &Order) -> Vec<Day> {
    let mut days = Vec::new();
    let mut add = |on: &At<NaiveDate>, key, place, table| {
        days.push(Day { on: on.value, place: on.place, key, entry: Entry { place, table } });
    };
    add(&order.on, "on", order.place, "");
    order.done.iter().for_each(|on| add(on, "done", order.place, ""));
    order.given_up.iter().for_each(|on| add(on, "given-up", order.place, ""));
    order.cost.iter().for_each(|e| add(&e.on, "on", e.place, "[[cost]]"));
    for paid in &order.payment {
        add(&paid.on, "on", paid.place, "[[payment]]");
        paid.back.iter().for_each(|on| add(on, "back", paid.place, "[[payment]]"));
    }
    days
}

/// A book's own days lie in its year: a slip in them is another year's, which is an error.
fn of_book(book: &YearBook) -> Vec<NaiveDate> {
    let expense = book.expense.iter().map(|e| e.on.value);
    let supply = book.supply.iter().map(|e| e.on.value);
    let trip = book.trip.iter().map(|e| e.on.value);
    let lot = book.lot.iter().map(|e| e.on.value);
    let count = book.count.iter().map(|e| e.on.value);
    expense.chain(supply).chain(trip).chain(lot).chain(count).collect()
}
