//! A trip written twice: the same day, miles, purpose and piece, and no words that tell the two
//! apart. A day may well hold two such trips, so it is a warning; but a line copied by mistake counts
//! its miles twice.

use super::Across;
use crate::model::{Code, Finding, Trip, YearBook};

pub(super) fn check(books: &[&YearBook], across: &mut Across) {
    let mut seen: Vec<&Trip> = Vec::new();
    for trip in books.iter().flat_map(|book| &book.trip) {
        match seen.iter().find(|earlier| same(earlier, trip)) {
            Some(first) => across.say(twice(trip, first)),
            None => seen.push(trip),
        }
    }
}

fn same(one: &Trip, other: &Trip) -> bool {
    let facts = |trip: &Trip| (trip.on.value, trip.distance, trip.purpose);
    let pieces = |trip: &Trip| -> Vec<String> {
        trip.pieces.iter().map(|piece| piece.value.clone()).collect()
    };
    let told_apart = !one.what.is_empty() && !other.what.is_empty() && one.what != other.what;
    facts(one) == facts(other) && pieces(one) == pieces(other) && !told_apart
}

fn twice(trip: &Trip, first: &Trip) -> Finding {
    let message = format!("the same trip of {} is written twice", trip.distance.normalize());
    Finding::warning(Code::TripTwice, trip.on.place, message)
        .label(format!("again on {}", trip.on.value))
        .second(first.on.place, "already here")
        .hint("remove one of them; where there were two, write what each was of in `what`")
}
