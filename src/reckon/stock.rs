//! The shop's consumables over time: what was bought, what each draw cost, what went missing.
//! Both views use it.

use super::missing_entries::stock_missing_from;
use super::on_hand::OnHand;
use crate::model::{Finding, Money, Place, Quantity, Shop};
use chrono::NaiveDate;
use rust_decimal::Decimal;
use std::collections::{BTreeMap, BTreeSet};

/// What happened to a stock item.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum MovementKind {
    Bought,
    /// Drawn for the piece at this position in [`Shop::pieces`].
    Drawn {
        piece: usize,
        used: usize,
    },
    /// A physical count found less (or more, below zero) than the books.
    Shrunk,
}

/// One movement of one stock item.
#[derive(Clone, Debug)]
pub struct Movement {
    pub on: NaiveDate,
    /// Key of `stock.toml`.
    pub stock: String,
    pub kind: MovementKind,
    /// In the base unit of the item's family.
    pub quantity: Decimal,
    /// What was paid, or the cost of what left.
    pub cost: Money,
    pub place: Place,
}

/// What is left of a stock item after its last movement.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Left {
    /// In the base unit of the item's family.
    pub quantity: Decimal,
    pub cost: Money,
}

/// Every movement of every stock item in order of time.
#[derive(Clone, Debug, Default)]
pub struct StockRun {
    pub movements: Vec<Movement>,
    /// What is left in the end of every item that was ever bought, drawn or counted, by its key.
    pub left: BTreeMap<String, Left>,
    /// Pieces with a draw that could not be costed, by position: no figure is made from them.
    pub failed: BTreeSet<usize>,
    pub findings: Vec<Finding>,
}

impl StockRun {
    /// What the draws of each piece cost: position in `used` → cost, for the piece at `piece`.
    pub fn draws_by_piece(&self, pieces: usize) -> Vec<Vec<(usize, Money)>> {
        let mut draws = vec![Vec::new(); pieces];
        for movement in &self.movements {
            if let MovementKind::Drawn { piece, used } = movement.kind {
                draws[piece].push((used, movement.cost));
            }
        }
        draws
    }
}

#[derive(Clone, Copy)]
struct Event<'a> {
    on: NaiveDate,
    what: What,
    quantity: Decimal,
    amount: Money,
    place: Place,
    /// The piece's folder: part of the order, so that the order of files does not matter.
    by: &'a str,
}

#[derive(Clone, Copy)]
enum What {
    Buy,
    Draw { piece: usize, used: usize },
    Count,
}

impl Event<'_> {
    /// Within a day what was bought can be drawn, and a count sees both.
    fn order(&self) -> (NaiveDate, u8, &str, Decimal, Money) {
        let phase = match self.what {
            What::Buy => 0,
            What::Draw { .. } => 1,
            What::Count => 2,
        };
        (self.on, phase, self.by, self.quantity, self.amount)
    }
}

/// Runs every purchase, draw and count of the shop in order of time.
///
/// Entries of stock the shop does not know, or in a unit of another family, are passed over:
/// reading has already reported them. A piece with such a draw counts as failed.
pub fn run_stock(shop: &Shop) -> StockRun {
    let mut run = StockRun::default();
    for (key, mut events) in events_by_item(shop, &mut run.failed) {
        events.sort_by(|a, b| a.order().cmp(&b.order()));
        let missing_from = stock_missing_from(shop, key);
        let mut item = Item { shop, key, missing_from, hand: OnHand::default(), run: &mut run };
        events.iter().for_each(|event| item.take_in(event));
        let left = Left { quantity: item.hand.quantity(), cost: item.hand.cost() };
        run.left.insert(key.to_owned(), left);
    }
    run.movements.sort_by(|a, b| (a.on, &a.stock).cmp(&(b.on, &b.stock)));
    run
}

type Events<'a> = BTreeMap<&'a str, Vec<Event<'a>>>;

fn events_by_item<'a>(shop: &'a Shop, failed: &mut BTreeSet<usize>) -> Events<'a> {
    let mut items = Events::new();
    let mut add = |stock: &str, quantity: Quantity, event: Event<'a>| -> bool {
        let known = known(shop, stock, quantity);
        if let Some((key, quantity)) = known {
            items.entry(key).or_default().push(Event { quantity, ..event });
        }
        known.is_some()
    };
    for book in shop.years.values() {
        for supply in &book.supply {
            let event = event(supply.on.value, What::Buy, supply.place);
            let event = Event { amount: supply.amount.value, ..event };
            add(&supply.stock, supply.quantity.value, event);
        }
        for first in &book.on_hand {
            let before = NaiveDate::from_ymd_opt(book.year - 1, 12, 31).unwrap_or(NaiveDate::MIN);
            let event = event(before, What::Buy, first.place);
            let event = Event { amount: first.amount.value, ..event };
            add(&first.stock, first.quantity.value, event);
        }
        for count in &book.count {
            let event = event(count.on.value, What::Count, count.place);
            add(&count.stock, count.quantity.value, event);
        }
    }
    for (piece, file) in shop.pieces.iter().enumerate() {
        for (used, draw) in file.used.iter().enumerate() {
            let event = event(draw.on.value, What::Draw { piece, used }, draw.place);
            let event = Event { by: &file.folder, ..event };
            if !add(&draw.stock, draw.quantity.value, event) {
                failed.insert(piece);
            }
        }
    }
    items
}

fn event(on: NaiveDate, what: What, place: Place) -> Event<'static> {
    Event { on, what, quantity: Decimal::ZERO, amount: Money::ZERO, place, by: "" }
}

/// The item's key and the quantity in its base unit, if the shop keeps it in such units.
fn known<'a>(shop: &'a Shop, stock: &str, quantity: Quantity) -> Option<(&'a str, Decimal)> {
    let (key, item) = shop.stock.get_key_value(stock)?;
    (item.unit.family == quantity.unit.family).then(|| (key.as_str(), quantity.in_base()))
}

/// One stock item on its way through its events.
struct Item<'a> {
    shop: &'a Shop,
    key: &'a str,
    /// From this day on purchases may be missing with an unread book.
    missing_from: Option<NaiveDate>,
    hand: OnHand,
    run: &'a mut StockRun,
}

impl Item<'_> {
    fn take_in(&mut self, event: &Event) {
        let moved = match event.what {
            What::Buy => {
                self.hand.buy(event.quantity, event.amount, self.shop.books.stock_cost);
                Some((MovementKind::Bought, event.quantity, event.amount))
            }
            What::Draw { piece, used } => self.draw(event, piece, used),
            What::Count => self.count(event),
        };
        if let Some((kind, quantity, cost)) = moved {
            let (on, place, stock) = (event.on, event.place, self.key.to_owned());
            self.run.movements.push(Movement { on, stock, kind, quantity, cost, place });
        }
    }

    fn draw(&mut self, event: &Event, piece: usize, used: usize) -> Option<Moved> {
        if let Some(cost) = self.hand.take(event.quantity) {
            return Some((MovementKind::Drawn { piece, used }, event.quantity, cost));
        }
        self.run.failed.insert(piece);
        let drawn = self.shop.pieces[piece].used[used].quantity.value;
        let on_hand = self.words(self.hand.quantity());
        let message = format!(
            "more `{}` is drawn than there is: {on_hand} on hand on {}",
            self.key, event.on
        );
        self.complain(
            event,
            Finding::error("drawn-too-much", event.place, message)
                .label(format!("{} {} drawn", drawn.amount.normalize(), drawn.unit.name))
                .hint("enter the missing purchase as `[[supply]]` in the year's book, or correct the draw"),
        );
        None
    }

    fn count(&mut self, event: &Event) -> Option<Moved> {
        if event.quantity > self.hand.ever_bought() {
            let bought = self.words(self.hand.ever_bought());
            let message = format!(
                "more `{}` is counted than was ever bought: {bought} up to {}",
                self.key, event.on
            );
            self.complain(
                event,
                Finding::error("counted-too-much", event.place, message)
                    .hint("enter the missing purchase as `[[supply]]` in the year's book"),
            );
            return None;
        }
        let missing = self.hand.quantity() - event.quantity;
        if missing.is_sign_negative() && !missing.is_zero() {
            self.hand.found(-missing);
            return Some((MovementKind::Shrunk, missing, Money::ZERO));
        }
        let cost = self.hand.take(missing)?;
        (!missing.is_zero()).then_some((MovementKind::Shrunk, missing, cost))
    }

    /// Where a book is missing, the purchase may well stand in it: the unread book is the fault.
    fn complain(&mut self, event: &Event, finding: Finding) {
        if self.missing_from.is_none_or(|first| event.on < first) {
            self.run.findings.push(finding);
        }
    }

    fn words(&self, in_base: Decimal) -> String {
        self.shop.stock[self.key].unit.words(in_base)
    }
}

type Moved = (MovementKind, Decimal, Money);
