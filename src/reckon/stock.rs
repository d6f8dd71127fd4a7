//! The shop's consumables over time: what was bought, what each draw cost, what went missing.

use crate::model::{Finding, Money, Place, Quantity, Shop, StockCost};
use chrono::NaiveDate;
use rust_decimal::Decimal;
use std::collections::{BTreeMap, BTreeSet};

/// Draw costs are kept to this many decimals, so that sums of them stay exact; what is cut off
/// stays with the stock and nothing is lost.
const KEPT: u32 = 10;

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

/// Every movement of every stock item in order of time.
#[derive(Clone, Debug, Default)]
pub struct StockRun {
    pub movements: Vec<Movement>,
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

/// What is on hand of one item: layers from the oldest on; one layer only under moving average.
#[derive(Default)]
struct OnHand {
    layers: Vec<(Decimal, Money)>,
    ever_bought: Decimal,
}

#[derive(Clone, Copy)]
struct Event<'a> {
    on: NaiveDate,
    what: What,
    quantity: Decimal,
    amount: Money,
    place: Place,
    /// The piece's name: part of the order, so that the order of files does not matter.
    by: &'a str,
}

// The order within a day: what was bought can be drawn, and a count sees both.
#[derive(Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
enum What {
    Buy,
    Draw { piece: usize, used: usize },
    Count,
}

impl What {
    fn phase(self) -> u8 {
        match self {
            What::Buy => 0,
            What::Draw { .. } => 1,
            What::Count => 2,
        }
    }
}

/// Runs every purchase, draw and count of the shop in order of time.
///
/// Entries of stock the shop does not know, or in a unit of another family, are passed over:
/// reading has already reported them.
pub fn run_stock(shop: &Shop) -> StockRun {
    let mut run = StockRun::default();
    for (key, mut events) in events_by_item(shop) {
        events.sort_by(|a, b| {
            (a.on, a.what.phase(), a.by, a.quantity, a.amount).cmp(&(
                b.on,
                b.what.phase(),
                b.by,
                b.quantity,
                b.amount,
            ))
        });
        run_item(shop, key, &events, &mut run);
    }
    run.movements.sort_by(|a, b| (a.on, &a.stock).cmp(&(b.on, &b.stock)));
    run
}

fn events_by_item(shop: &Shop) -> BTreeMap<&str, Vec<Event<'_>>> {
    let mut items: BTreeMap<&str, Vec<Event>> = BTreeMap::new();
    for book in shop.years.values() {
        for supply in &book.supply {
            if let Some((key, quantity)) = known(shop, &supply.stock, &supply.quantity) {
                let (on, amount, place) = (supply.on.value, supply.amount.value, supply.place);
                let event = Event { on, what: What::Buy, quantity, amount, place, by: "" };
                items.entry(key).or_default().push(event);
            }
        }
        for count in &book.count {
            if let Some((key, quantity)) = known(shop, &count.stock, &count.quantity) {
                let (on, amount, place) = (count.on.value, Money::ZERO, count.place);
                let event = Event { on, what: What::Count, quantity, amount, place, by: "" };
                items.entry(key).or_default().push(event);
            }
        }
    }
    for (piece, file) in shop.pieces.iter().enumerate() {
        for (used, draw) in file.used.iter().enumerate() {
            if let Some((key, quantity)) = known(shop, &draw.stock, &draw.quantity) {
                let (what, by) = (What::Draw { piece, used }, file.name());
                let (on, amount, place) = (draw.on.value, Money::ZERO, draw.place);
                let event = Event { on, what, quantity, amount, place, by };
                items.entry(key).or_default().push(event);
            }
        }
    }
    items
}

/// The item's key and the quantity in its base unit, if the shop keeps it in such units.
fn known<'a>(shop: &'a Shop, stock: &str, quantity: &Quantity) -> Option<(&'a str, Decimal)> {
    let (key, item) = shop.stock.get_key_value(stock)?;
    (item.unit.family == quantity.unit.family).then(|| (key.as_str(), quantity.in_base()))
}

fn run_item(shop: &Shop, key: &str, events: &[Event], run: &mut StockRun) {
    let mut hand = OnHand::default();
    for event in events {
        let moved = match event.what {
            What::Buy => Some(hand.buy(event, shop.books.stock_cost)),
            What::Draw { piece, used } => hand.draw(event, piece, used, shop, key, run),
            What::Count => hand.count(event, shop, key, run),
        };
        if let Some((kind, quantity, cost)) = moved {
            let (on, place) = (event.on, event.place);
            let stock = key.to_owned();
            run.movements.push(Movement { on, stock, kind, quantity, cost, place });
        }
    }
}

type Moved = (MovementKind, Decimal, Money);

impl OnHand {
    fn quantity(&self) -> Decimal {
        self.layers.iter().map(|layer| layer.0).sum()
    }

    fn buy(&mut self, event: &Event, method: StockCost) -> Moved {
        self.ever_bought += event.quantity;
        match (method, self.layers.last_mut()) {
            (StockCost::Average, Some(layer)) => {
                layer.0 += event.quantity;
                layer.1 += event.amount;
            }
            _ => self.layers.push((event.quantity, event.amount)),
        }
        (MovementKind::Bought, event.quantity, event.amount)
    }

    /// Takes a quantity from the oldest layer on; its cost, or nothing if there is not enough.
    fn take(&mut self, quantity: Decimal) -> Option<Money> {
        if quantity > self.quantity() {
            return None;
        }
        let (mut left, mut cost) = (quantity, Money::ZERO);
        for layer in &mut self.layers {
            let part = left.min(layer.0);
            let part_cost =
                if part == layer.0 { layer.1 } else { (layer.1 * part / layer.0).round_dp(KEPT) };
            *layer = (layer.0 - part, layer.1 - part_cost);
            left -= part;
            cost += part_cost;
        }
        self.layers.retain(|layer| !layer.0.is_zero());
        Some(cost)
    }

    fn draw(
        &mut self,
        event: &Event,
        piece: usize,
        used: usize,
        shop: &Shop,
        key: &str,
        run: &mut StockRun,
    ) -> Option<Moved> {
        if let Some(cost) = self.take(event.quantity) {
            return Some((MovementKind::Drawn { piece, used }, event.quantity, cost));
        }
        run.failed.insert(piece);
        let drawn = shop.pieces[piece].used[used].quantity.value;
        let label = format!("{} {} drawn", drawn.amount.normalize(), drawn.unit.name);
        let on_hand = shop.stock[key].unit.words(self.quantity());
        run.findings.push(
            Finding::error(
                "drawn-too-much",
                event.place,
                format!("more `{key}` is drawn than there is: {on_hand} on hand on {}", event.on),
            )
            .label(label)
            .hint("enter the missing purchase as `[[supply]]` in the year's book, or correct the draw"),
        );
        None
    }

    fn count(
        &mut self,
        event: &Event,
        shop: &Shop,
        key: &str,
        run: &mut StockRun,
    ) -> Option<Moved> {
        if event.quantity > self.ever_bought {
            let bought = shop.stock[key].unit.words(self.ever_bought);
            run.findings.push(
                Finding::error(
                    "counted-too-much",
                    event.place,
                    format!(
                        "more `{key}` is counted than was ever bought: {bought} up to {}",
                        event.on
                    ),
                )
                .hint("enter the missing purchase as `[[supply]]` in the year's book"),
            );
            return None;
        }
        let missing = self.quantity() - event.quantity;
        if missing.is_zero() {
            return None;
        }
        if missing.is_sign_negative() {
            // More than the books say: the quantity is corrected, what was paid stays the same.
            match self.layers.last_mut() {
                Some(layer) => layer.0 -= missing,
                None => self.layers.push((-missing, Money::ZERO)),
            }
            return Some((MovementKind::Shrunk, missing, Money::ZERO));
        }
        let cost = self.take(missing)?;
        Some((MovementKind::Shrunk, missing, cost))
    }
}
