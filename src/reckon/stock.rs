//! The shop's consumables over time: what was bought, what each draw cost, what went missing.
//! Both views use it.
//!
//! What happens to an item on one day is one step each, whatever the order of files and entries:
//! stock there when the books begin, then all that was bought (together one layer), what went back to
//! a supplier, all draws (sharing by quantity what they cost together), and the count.

use super::missing_entries::stock_missing_from;
use super::on_hand::OnHand;
use crate::model::{Code, Finding, Money, Piece, Place, Quantity, RefundOf, Shop, split};
use chrono::NaiveDate;
use rust_decimal::Decimal;
use std::collections::{BTreeMap, BTreeSet};

/// What happened to a stock item.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum MovementKind {
    /// There when the books began: in the opening stock of that day, in no closing stock before it.
    OnHand,
    Bought,
    /// Paid back by a supplier, for goods sent back or as a lower price.
    Refunded,
    /// Drawn for the piece at this position in [`Shop::pieces`].
    Drawn {
        piece: usize,
        used: usize,
    },
    /// A physical count found less than the books, or (below zero) more; or a refund was above, or
    /// below, all that the stock on hand had cost.
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
    /// What was paid or paid back, or the cost of what left; whole cents.
    pub cost: Money,
    pub place: Place,
}

impl Movement {
    /// What it adds to the cost of what is on hand.
    pub fn adds(&self) -> Money {
        match self.kind {
            MovementKind::OnHand | MovementKind::Bought => self.cost,
            MovementKind::Refunded | MovementKind::Drawn { .. } | MovementKind::Shrunk => {
                -self.cost
            }
        }
    }

    /// What it adds to the quantity on hand.
    fn adds_quantity(&self) -> Decimal {
        match self.kind {
            MovementKind::OnHand | MovementKind::Bought => self.quantity,
            _ => -self.quantity,
        }
    }
}

/// What is left of a stock item after its last movement.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Left {
    /// In the base unit of the item's family.
    pub quantity: Decimal,
    pub cost: Money,
}

/// An entry of stock that cannot be, and its day.
#[derive(Clone, Debug)]
pub struct StockFault {
    pub on: NaiveDate,
    pub finding: Finding,
}

/// Every movement of every stock item in order of time.
#[derive(Clone, Debug, Default)]
pub struct StockRun {
    pub movements: Vec<Movement>,
    /// What is left in the end of every item that was ever bought, drawn or counted, by its key.
    pub left: BTreeMap<String, Left>,
    /// Pieces with a draw that could not be costed, by position: no figure is made from them.
    pub failed: BTreeSet<usize>,
    pub faults: Vec<StockFault>,
}

impl StockRun {
    /// What is on hand of every item at the end of a day, by its key.
    pub fn left_on(&self, day: NaiveDate) -> BTreeMap<&str, Left> {
        let mut all: BTreeMap<&str, Left> = BTreeMap::new();
        for movement in self.movements.iter().filter(|movement| movement.on <= day) {
            let none = Left { quantity: Decimal::ZERO, cost: Money::ZERO };
            let left = all.entry(&movement.stock).or_insert(none);
            left.quantity += movement.adds_quantity();
            left.cost += movement.adds();
        }
        all
    }

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

/// What happened to one item on one day, in the order of these fields.
#[derive(Default)]
struct Day {
    on_hand: Vec<Event>,
    bought: Vec<Event>,
    refunded: Vec<Event>,
    drawn: Vec<Draw>,
    counted: Vec<Event>,
}

#[derive(Clone, Copy)]
struct Event {
    quantity: Decimal,
    amount: Money,
    place: Place,
}

#[derive(Clone, Copy)]
struct Draw {
    piece: usize,
    used: usize,
    quantity: Decimal,
    place: Place,
}

/// Runs every entry of the shop's stock in order of time.
///
/// Entries of stock the shop does not know, or in a unit of another family, are passed over:
/// reading has already reported them. A piece with such a draw counts as failed.
pub fn run_stock(shop: &Shop) -> StockRun {
    let mut run = StockRun::default();
    for (key, days) in days_by_item(shop, &mut run.failed) {
        let missing_from = stock_missing_from(shop, key);
        let hand = OnHand::new(shop.books.stock_cost, shop.currency.decimals);
        let mut item = Item { shop, key, missing_from, hand, run: &mut run };
        days.into_iter().for_each(|(on, day)| item.follow(on, day));
        let left = Left { quantity: item.hand.quantity(), cost: item.hand.cost() };
        run.left.insert(key.to_owned(), left);
    }
    run.movements.sort_by(|a, b| (a.on, &a.stock).cmp(&(b.on, &b.stock)));
    run
}

type Days<'a> = BTreeMap<&'a str, BTreeMap<NaiveDate, Day>>;

fn days_by_item<'a>(shop: &'a Shop, failed: &mut BTreeSet<usize>) -> Days<'a> {
    let mut items = Days::new();
    let mut at = |on, stock: &str, quantity: Quantity, put: &mut dyn FnMut(&mut Day, Decimal)| {
        let known = known(shop, stock, quantity);
        if let Some((key, quantity)) = known {
            put(items.entry(key).or_default().entry(on).or_default(), quantity);
        }
        known.is_some()
    };
    for book in shop.years.values() {
        for s in &book.supply {
            at(s.on.value, &s.stock, s.quantity.value, &mut |day, quantity| {
                day.bought.push(Event { quantity, amount: s.amount.value, place: s.place });
            });
        }
        for first in &book.on_hand {
            let on = shop.tax_year(book.year).first;
            at(on, &first.stock, first.quantity.value, &mut |day, quantity| {
                let (amount, place) = (first.amount.value, first.place);
                day.on_hand.push(Event { quantity, amount, place });
            });
        }
        for refund in &book.refund {
            let RefundOf::Stock { stock, quantity } = &refund.of else { continue };
            at(refund.on.value, stock, quantity.value, &mut |day, quantity| {
                let (amount, place) = (refund.amount.value, refund.place);
                day.refunded.push(Event { quantity, amount, place });
            });
        }
        for count in &book.count {
            at(count.on.value, &count.stock, count.quantity.value, &mut |day, quantity| {
                let (amount, place) = (Money::ZERO, count.place);
                day.counted.push(Event { quantity, amount, place });
            });
        }
    }
    for (piece, file) in shop.pieces.iter().enumerate() {
        for (used, draw) in file.used.iter().enumerate() {
            let place = draw.place;
            let taken =
                at(draw.on.value, &draw.stock, draw.quantity.value, &mut |day, quantity| {
                    day.drawn.push(Draw { piece, used, quantity, place });
                });
            if !taken {
                failed.insert(piece);
            }
        }
    }
    items
}

/// The item's key and the quantity in its base unit, if the shop keeps it in such units.
fn known<'a>(shop: &'a Shop, stock: &str, quantity: Quantity) -> Option<(&'a str, Decimal)> {
    let (key, item) = shop.stock.get_key_value(stock)?;
    (item.unit.family == quantity.unit.family).then(|| (key.as_str(), quantity.in_base()))
}

/// One stock item on its way through its days.
struct Item<'a> {
    shop: &'a Shop,
    key: &'a str,
    /// From this day on purchases may be missing with an unread book.
    missing_from: Option<NaiveDate>,
    hand: OnHand,
    run: &'a mut StockRun,
}

impl Item<'_> {
    fn follow(&mut self, on: NaiveDate, day: Day) {
        self.buy(on, &day.on_hand, MovementKind::OnHand);
        self.buy(on, &day.bought, MovementKind::Bought);
        day.refunded.iter().for_each(|event| self.send_back(on, event));
        self.draw(on, day.drawn);
        self.count(on, &day.counted);
    }

    fn moved(
        &mut self,
        on: NaiveDate,
        kind: MovementKind,
        quantity: Decimal,
        cost: Money,
        place: Place,
    ) {
        let stock = self.key.to_owned();
        self.run.movements.push(Movement { on, stock, kind, quantity, cost, place });
    }

    fn buy(&mut self, on: NaiveDate, events: &[Event], kind: MovementKind) {
        let quantity: Decimal = events.iter().map(|event| event.quantity).sum();
        if !events.is_empty() {
            self.hand.buy(quantity, events.iter().map(|event| event.amount).sum());
        }
        for event in events {
            self.moved(on, kind, event.quantity, event.amount, event.place);
        }
    }

    /// What is paid back beyond what the stock on hand had cost (or less than it, where nothing else
    /// can bear it) is no cost of stock: it is at once in the cost of goods sold.
    fn send_back(&mut self, on: NaiveDate, event: &Event) {
        let Some(over) = self.hand.send_back(event.quantity, event.amount) else {
            let on_hand = self.words(self.hand.quantity());
            let message = format!(
                "more `{}` is sent back than there is: {on_hand} on hand on {on}",
                self.key
            );
            let finding = Finding::error(Code::SentBackTooMuch, event.place, message);
            let hint = "correct `quantity`; leave it out where nothing was sent back";
            return self.complain(on, finding.hint(hint));
        };
        self.moved(on, MovementKind::Refunded, event.quantity, event.amount, event.place);
        if !over.is_zero() {
            self.moved(on, MovementKind::Shrunk, Decimal::ZERO, -over, event.place);
        }
    }

    /// The draws of one day share what they cost together, by quantity.
    fn draw(&mut self, on: NaiveDate, mut draws: Vec<Draw>) {
        let shop = self.shop;
        draws.sort_by(|a, b| {
            let order = |draw: &Draw| (told_apart(&shop.pieces[draw.piece]), draw.used);
            order(a).cmp(&order(b))
        });
        let quantities: Vec<Decimal> = draws.iter().map(|draw| draw.quantity).collect();
        let Some(cost) = self.hand.take(quantities.iter().sum()) else {
            return self.drawn_too_much(on, &draws);
        };
        let costs = split(cost, &quantities, shop.currency.decimals);
        for (draw, cost) in draws.into_iter().zip(costs) {
            let kind = MovementKind::Drawn { piece: draw.piece, used: draw.used };
            self.moved(on, kind, draw.quantity, cost, draw.place);
        }
    }

    fn drawn_too_much(&mut self, on: NaiveDate, draws: &[Draw]) {
        self.run.failed.extend(draws.iter().map(|draw| draw.piece));
        let Some(most) = draws.iter().max_by_key(|draw| draw.quantity) else { return };
        let drawn = self.shop.pieces[most.piece].used[most.used].quantity.value;
        let on_hand = self.words(self.hand.quantity());
        let message =
            format!("more `{}` is drawn than there is: {on_hand} on hand on {on}", self.key);
        let said = format!("{} {} drawn", drawn.amount.normalize(), drawn.unit.name);
        let mut finding = Finding::error(Code::DrawnTooMuch, most.place, message).label(said).hint(
            "enter the missing purchase as `[[supply]]` in the year's book, or correct the draw",
        );
        if let Some(other) = draws.iter().find(|draw| draw.place != most.place) {
            finding = finding.second(other.place, "drawn on the same day");
        }
        self.complain(on, finding);
    }

    fn count(&mut self, on: NaiveDate, counts: &[Event]) {
        let Some(event) = counts.first() else { return };
        if let Some(other) = counts.iter().find(|other| other.quantity != event.quantity) {
            let message = format!("`{}` was counted twice on {on}, and differently", self.key);
            let finding = Finding::error(Code::CountsDiffer, other.place, message)
                .second(event.place, "counted here too")
                .hint("write one count of all there is");
            return self.complain(on, finding);
        }
        if event.quantity > self.hand.ever_bought() {
            let bought = self.words(self.hand.ever_bought());
            let message =
                format!("more `{}` is counted than was ever bought: {bought} up to {on}", self.key);
            let finding = Finding::error(Code::CountedTooMuch, event.place, message)
                .hint("enter the missing purchase as `[[supply]]` in the year's book");
            return self.complain(on, finding);
        }
        let missing = self.hand.quantity() - event.quantity;
        let cost = match missing < Decimal::ZERO {
            true => Some(-self.hand.find(-missing)),
            false => self.hand.lose(missing),
        };
        if let Some(cost) = cost.filter(|_| !missing.is_zero()) {
            self.moved(on, MovementKind::Shrunk, missing, cost, event.place);
        }
    }

    /// Where a book is missing, the purchase may well stand in it: the unread book is the fault.
    fn complain(&mut self, on: NaiveDate, finding: Finding) {
        if self.missing_from.is_none_or(|first| on < first) {
            self.run.faults.push(StockFault { on, finding });
        }
    }

    fn words(&self, in_base: Decimal) -> String {
        self.shop.stock[self.key].unit.words(in_base)
    }
}

/// What decides which of two pieces comes first where a cent is left over: what is written of them,
/// so that a folder can be renamed and no figure changes.
fn told_apart(piece: &Piece) -> impl Ord + '_ {
    let number = piece.number.as_ref().map(|number| number.value.as_str());
    let bought = piece.bought.as_ref().map(|bought| (bought.on.value, bought.price.value));
    let sold: Vec<_> = piece.sale.iter().map(|sale| (sale.on.value, sale.price.value)).collect();
    (number.is_none(), number, piece.title.value.as_str(), bought, sold, piece.folder.as_str())
}
