//! What is odd about a piece besides its sales: what it is asked for, what it cost, how large and
//! how old it is.

use super::super::super::odd::limit;
use super::super::Origin;
use super::books::zero;
use super::{Asked, Entry};
use crate::model::{
    At, Code, Finding, Length, LoosePart, Money, MoveKind, Piece, Place, Shape, UnitMove, kind,
    unit_moves,
};
use chrono::{Datelike, NaiveDate};
use num_rational::Ratio;
use rust_decimal::Decimal;

pub(super) fn check(piece: &Piece, origin: Option<&Origin>, all_books: bool, asked: &mut Asked) {
    below_cost(piece, asked);
    large_costs(piece, asked);
    if origin.is_none() && all_books {
        without_purchase(piece, asked);
    }
    sides(piece, asked);
    numbers(piece, asked);
    made(piece, origin, asked);
    after_gone(piece, asked);
    legs(piece, asked);
}

fn top(piece: &Piece) -> Entry {
    Entry { place: piece.place, table: "" }
}

/// What the piece's own file says it cost; draws and lots are not in it.
fn own_cost(piece: &Piece) -> Money {
    let bought = piece.bought.iter().map(|b| b.price.value + b.premium + b.tax);
    let parts: Money = piece.salvaged.iter().map(|part| part.cost.value).sum();
    bought.chain(piece.cost.iter().map(|cost| cost.amount.value)).sum::<Money>() - parts
}

fn below_cost(piece: &Piece, asked: &mut Asked) {
    let Some(listing) = piece.listing.as_ref().filter(|_| piece.sale.is_empty()) else { return };
    let Some(price) = listing.price.as_ref().filter(|_| piece.withdrawn.is_none()) else { return };
    let cost = own_cost(piece);
    if price.value * limit(Code::AskedBelowCost) < cost {
        let message = format!("{} is asked for what cost {cost}", price.value);
        let finding = Finding::warning(Code::AskedBelowCost, price.place, message);
        let entry = Entry { place: listing.place, table: "[listing]" };
        asked.ask(entry, "price", finding.label("below cost").hint("fix the price or the costs"));
    }
}

/// What the piece brings, as far as that is known: the most it was asked for or sold for.
fn brings(piece: &Piece) -> Option<Money> {
    let listed = piece.listing.iter().filter_map(|listing| Some(listing.price.as_ref()?.value));
    let sold: Money = piece.sale.iter().map(|sale| sale.price.value).sum();
    let parts = piece.salvaged.iter().map(|part| part.cost.value).sum::<Money>();
    let sold = (!sold.is_zero()).then_some(sold + parts);
    listed.chain(sold).max().filter(|brings| !brings.is_zero())
}

fn large_costs(piece: &Piece, asked: &mut Asked) {
    for cost in &piece.cost {
        zero(cost.amount, Entry { place: cost.place, table: "[[cost]]" }, asked);
    }
    let Some(brings) = brings(piece) else { return };
    let most = brings * limit(Code::CostOverPrice);
    let bought = piece.bought.iter().map(|bought| {
        let entry = Entry { place: bought.place, table: "[bought]" };
        (entry, "price", bought.price)
    });
    let costs = piece
        .cost
        .iter()
        .map(|cost| (Entry { place: cost.place, table: "[[cost]]" }, "amount", cost.amount));
    for (entry, key, amount) in bought.chain(costs) {
        if amount.value > most {
            let message = format!("{} for a piece that brings {brings}", amount.value);
            let finding = Finding::warning(Code::CostOverPrice, amount.place, message);
            asked.ask(entry, key, finding.label("a slipped point?"));
        }
    }
}

/// A piece that was sold, and nothing says what it cost.
fn without_purchase(piece: &Piece, asked: &mut Asked) {
    let Some(sale) = piece.sale.first() else { return };
    let message = "sold, and nothing says how it came in: the whole price is profit";
    let finding = Finding::warning(Code::SoldWithoutPurchase, sale.place, message);
    let finding = finding
        .label("sold here")
        .hint("add `[bought]`, or name it in a `[[lot]]`; what was found or given has `price = 0`");
    asked.ask(top(piece), "bought", finding);
}

fn sides(piece: &Piece, asked: &mut Asked) {
    let known = piece.kind.as_ref().and_then(|written| kind(&written.value));
    let seat = known.is_some_and(|kind| kind.shape == Shape::Seat && is_for_one(&kind.name));
    let own = [("width", piece.width), ("depth", piece.depth), ("height", piece.height)];
    let own = own.map(|(key, side)| (top(piece), key, side));
    let parts = piece.apart.iter().map(|part| (part, "[[apart]]"));
    let parts = parts.chain(piece.remains.iter().map(|part| (part, "[remains]")));
    for (entry, key, side) in own.into_iter().chain(parts.flat_map(part_sides)) {
        let Some(side) = side else { continue };
        let flat = key == "depth" && known.is_none_or(|kind| kind.shape == Shape::Other);
        let whole = entry.table.is_empty() && !flat;
        let odd = match (too_large(&side, seat), too_small(&side)) {
            (Some(odd), _) => odd,
            (None, Some(odd)) if whole => odd,
            _ => continue,
        };
        asked.ask(entry, key, odd.hint("fix the number or its unit"));
    }
}

fn is_for_one(name: &str) -> bool {
    ["chair", "stool"].iter().any(|word| name.ends_with(word))
}

fn part_sides(
    (part, table): (&LoosePart, &'static str),
) -> [(Entry, &'static str, Option<At<Length>>); 3] {
    let entry = Entry { place: part.place, table };
    [("width", part.width), ("depth", part.depth), ("height", part.height)]
        .map(|(key, side)| (entry, key, side))
}

fn inches(code: Code) -> Ratio<i64> {
    Ratio::from_integer(i64::try_from(limit(code)).unwrap_or(i64::MAX))
}

fn too_large(side: &At<Length>, seat: bool) -> Option<Finding> {
    let code = if seat { Code::SideLargeForSeat } else { Code::SideLarge };
    let large = side.value.inches() > inches(code);
    large.then(|| side_is(code, side, "centimetres, or a slipped point?"))
}

fn too_small(side: &At<Length>) -> Option<Finding> {
    let small = side.value.inches() < inches(Code::SideSmall);
    small.then(|| side_is(Code::SideSmall, side, "feet, or a slipped point?"))
}

fn side_is(code: Code, side: &At<Length>, label: &str) -> Finding {
    let (whole, sixteenths) = side.value.inches_and_sixteenths();
    let part = Ratio::new(sixteenths, 16);
    let shown = match (whole, sixteenths) {
        (_, 0) => whole.to_string(),
        (0, _) => part.to_string(),
        _ => format!("{whole} {part}"),
    };
    let message = format!("a side of {shown} in is odd for such a piece");
    Finding::warning(code, side.place, message).label(label)
}

fn numbers(piece: &Piece, asked: &mut Asked) {
    if Decimal::from(piece.count) > limit(Code::SetLarge) {
        let message = format!("a set of {}", piece.count);
        let finding = Finding::warning(Code::SetLarge, piece.place, message);
        asked.ask(top(piece), "count", finding.hint("fix `count`"));
    }
    if let Some(pounds) = piece.weight.map(|weight| weight.in_base() / gram_per_pound())
        && (pounds > limit(Code::WeightOdd) || pounds < Decimal::ONE)
    {
        let message = format!("a weight of {} lb", crate::model::round(pounds, 1));
        let finding = Finding::warning(Code::WeightOdd, piece.place, message);
        asked.ask(top(piece), "weight", finding.hint("fix `weight` or its unit"));
    }
    for coat in &piece.coat {
        if Decimal::from(coat.coats) > limit(Code::CoatsMany) {
            let message = format!("{} coats", coat.coats);
            let finding = Finding::warning(Code::CoatsMany, coat.place, message);
            let entry = Entry { place: coat.place, table: "[[coat]]" };
            asked.ask(entry, "coats", finding.hint("fix `coats`"));
        }
    }
}

fn gram_per_pound() -> Decimal {
    let pound = crate::model::Unit::named("lb").expect("in the table");
    crate::model::Quantity { amount: Decimal::ONE, unit: pound }.in_base()
}

/// What was bought had been made.
fn made(piece: &Piece, origin: Option<&Origin>, asked: &mut Asked) {
    let (Some(first), Some(bought)) = (piece.made.value.earliest(), origin) else { return };
    if first > bought.value.year() {
        let message = format!("made after it was bought on {}", bought.value);
        let place: Place = piece.made.place;
        let finding = Finding::warning(Code::MadeAfterBought, place, message).label("which year?");
        let finding = finding.second(bought.place, "bought here");
        asked.ask(top(piece), "made", finding.hint("fix `made`, or the day it was bought"));
    }
}

/// The day from which nothing of it was left; nothing where some still is.
fn gone(piece: &Piece) -> Option<At<NaiveDate>> {
    let walked = unit_moves(piece, NaiveDate::MAX);
    if !walked.faults.is_empty() {
        return None;
    }
    let out = |one: &UnitMove| {
        let units = i64::from(one.to) - i64::from(one.from);
        if matches!(one.kind, MoveKind::Returned { .. }) { -units } else { units }
    };
    let moved: i64 = walked.moves.iter().map(out).sum();
    let last = walked.moves.iter().map(|one| one.on).max()?;
    let places = piece.sale.iter().map(|sale| sale.on);
    let mut places = places.chain(piece.withdrawn.iter().map(|gone| gone.on));
    places.find(|on| on.value == last && moved == i64::from(piece.count))
}

/// Work and costs of a piece that had long left.
fn after_gone(piece: &Piece, asked: &mut Asked) {
    let Some(gone) = gone(piece) else { return };
    let days = i64::try_from(limit(Code::AfterGone)).unwrap_or(i64::MAX);
    let costs = piece.cost.iter().map(|e| (e.on, "on", e.place, "[[cost]]"));
    let used = piece.used.iter().map(|e| (e.on, "on", e.place, "[[used]]"));
    let work = piece.work.iter().filter_map(|e| Some((e.on?, "on", e.place, "[[work]]")));
    let coats = piece.coat.iter().filter_map(|e| Some((e.last?, "last", e.place, "[[coat]]")));
    for (on, key, place, table) in costs.chain(used).chain(work).chain(coats) {
        let after = (on.value - gone.value).num_days();
        if after > days {
            let message = format!("{} is {after} days after all of it was gone", on.value);
            let finding = Finding::warning(Code::AfterGone, on.place, message);
            let finding = finding.label("which day?").second(gone.place, "gone on this day");
            asked.ask(Entry { place, table }, key, finding.hint("fix the day"));
        }
    }
}

fn legs(piece: &Piece, asked: &mut Asked) {
    let Some((outline, height)) = piece.outline.as_ref().zip(piece.height) else { return };
    let Some(legs) = outline.legs else { return };
    if legs.inches() > height.value.inches() * inches(Code::LegsTall) / 100 {
        let message = "legs taller than the piece";
        let finding = Finding::warning(Code::LegsTall, height.place, message);
        let hint = "fix `height`, or `legs` in `[outline]`";
        asked.ask(top(piece), "height", finding.label("its height").hint(hint));
    }
}
