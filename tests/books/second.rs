//! The goods reckoned a second time, from the raw entries and in whole cents and fractions, by other
//! steps than the program's: one walk through the days of all three years. On random shops the two
//! must agree to the cent.

use super::books_of;
use super::rich::rich_shop;
use chrono::NaiveDate;
use dovetally::model::{
    CostKind, Money, Piece, RefundOf, SalvagedTo, Shop, StockCost, Supplies, WithdrawalKind,
};
use dovetally::reckon::year::trace;
use num_rational::Ratio;
use proptest::prelude::*;
use rust_decimal::Decimal;
use std::collections::BTreeMap;

type Exact = Ratio<i128>;

fn cents(amount: Money) -> i128 {
    let amount = amount.normalize();
    assert!(amount.scale() <= 2, "{amount} is not whole cents");
    amount.mantissa() * 10_i128.pow(2 - amount.scale())
}

fn exact(number: Decimal) -> Exact {
    Ratio::new(number.mantissa(), 10_i128.pow(number.scale()))
}

/// Largest remainder by sorting the fractions themselves.
fn shared(amount: i128, weights: &[Exact]) -> Vec<i128> {
    let total: Exact = weights.iter().sum();
    if total == Ratio::from_integer(0) {
        return shared(amount, &vec![Ratio::from_integer(1); weights.len()]);
    }
    let quotas: Vec<Exact> = weights.iter().map(|weight| weight * amount / total).collect();
    let mut parts: Vec<i128> = quotas.iter().map(|quota| quota.floor().to_integer()).collect();
    let mut order: Vec<usize> = (0..weights.len()).collect();
    order.sort_by(|&a, &b| quotas[b].fract().cmp(&quotas[a].fract()).then(a.cmp(&b)));
    let left = usize::try_from(amount - parts.iter().sum::<i128>()).unwrap();
    order[..left].iter().for_each(|&i| parts[i] += 1);
    parts
}

/// What the first of a set bear: half a cent goes to them.
fn first(cost: i128, some: i128, of: i128) -> i128 {
    if some == 0 { 0 } else { (2 * cost * some + of).div_euclid(2 * of) }
}

/// Shop stock: layers of quantity and cents, the oldest first.
#[derive(Default)]
struct Shelf {
    layers: Vec<(Exact, i128)>,
    lost: Vec<(Exact, i128)>,
}

impl Shelf {
    fn quantity(&self) -> Exact {
        self.layers.iter().map(|layer| layer.0).sum()
    }

    fn put(&mut self, quantity: Exact, cost: i128, average: bool) {
        self.layers.push((quantity, cost));
        self.level(average);
    }

    fn level(&mut self, average: bool) {
        if average {
            let cost = self.layers.iter().map(|layer| layer.1).sum();
            self.layers = vec![(self.quantity(), cost)];
        }
    }

    fn take(&mut self, mut quantity: Exact) -> i128 {
        let (zero, mut cost) = (Ratio::from_integer(0), 0);
        while quantity > zero {
            let layer = &mut self.layers[0];
            if layer.0 <= quantity {
                quantity -= layer.0;
                cost += layer.1;
                self.layers.remove(0);
            } else {
                let part = (quantity * layer.1 / layer.0 + Ratio::new(1, 2)).floor().to_integer();
                *layer = (layer.0 - quantity, layer.1 - part);
                return cost + part;
            }
        }
        cost
    }

    /// What a count changes: above zero it is lost, below zero found.
    fn count(&mut self, counted: Exact, average: bool) -> i128 {
        let zero = Ratio::from_integer(0);
        let here = self.quantity();
        if counted <= here {
            let cost = self.take(here - counted);
            if here > counted {
                self.lost.push((here - counted, cost));
            }
            return cost;
        }
        let (mut found, mut back) = (counted - here, 0);
        while let Some(lost) = self.lost.last_mut().filter(|_| found > zero) {
            let quantity = lost.0.min(found);
            let cost = if quantity == lost.0 {
                lost.1
            } else {
                (quantity * lost.1 / lost.0 + Ratio::new(1, 2)).floor().to_integer()
            };
            *lost = (lost.0 - quantity, lost.1 - cost);
            if lost.0 == zero {
                self.lost.pop();
            }
            (found, back) = (found - quantity, back + cost);
            self.layers.insert(0, (quantity, cost));
        }
        match self.layers.last_mut() {
            Some(newest) => newest.0 += found,
            None => self.layers.push((found, 0)),
        }
        self.level(average);
        -back
    }

    /// A lower price for what is here; what is more than it had cost comes back.
    fn lower(&mut self, mut amount: i128) -> i128 {
        for layer in self.layers.iter_mut().rev() {
            let part = amount.min(layer.1);
            (layer.1, amount) = (layer.1 - part, amount - part);
        }
        amount
    }
}

/// One piece on its way through the days.
#[derive(Default)]
struct Goods {
    cost: i128,
    /// What of it was borne before the year began, for units not given away.
    entries: Vec<(bool, i128)>,
    sold: i128,
    gone_from: Option<(i128, WithdrawalKind)>,
    returns_left: Vec<i128>,
}

/// What one year comes to, in cents.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
struct Found {
    opening: i128,
    purchases: i128,
    withdrawn: i128,
    labour: i128,
    materials: i128,
    freight: i128,
    closing: i128,
    cost_of_goods: i128,
}

struct Walk<'a> {
    shop: &'a Shop,
    year: i32,
    when_used: bool,
    shelves: BTreeMap<&'a str, Shelf>,
    goods: Vec<Goods>,
    found: Found,
}

fn at(shop: &Shop, name: &str) -> usize {
    shop.pieces.iter().position(|piece| piece.name() == name).unwrap()
}

impl<'a> Walk<'a> {
    /// Walks from the first day to the last of a year, by that year's method, and keeps its figures.
    fn of(shop: &'a Shop, year: i32) -> Found {
        let when_used = shop.supplies(year) == Supplies::WhenUsed;
        let goods = shop.pieces.iter().map(|_| Goods::default()).collect();
        let (shelves, found) = (BTreeMap::new(), Found::default());
        let mut walk = Walk { shop, year, when_used, shelves, goods, found };
        let first: NaiveDate = "2023-01-01".parse().unwrap();
        let begins = NaiveDate::from_ymd_opt(year, 1, 1).unwrap();
        let ends = NaiveDate::from_ymd_opt(year, 12, 31).unwrap();
        for on in first.iter_days().take_while(|on| *on <= ends) {
            walk.begin(on);
            if on == begins {
                walk.found = Found { opening: walk.stock(), ..Found::default() };
                for goods in &mut walk.goods {
                    goods.entries.iter_mut().for_each(|entry| entry.0 = true);
                }
            }
            walk.day(on);
        }
        walk.found.closing = walk.stock();
        walk.found
    }

    fn shelf(&mut self, stock: &'a str) -> &mut Shelf {
        self.shelves.entry(stock).or_default()
    }

    fn average(&self) -> bool {
        self.shop.books.stock_cost == StockCost::Average
    }

    fn stock(&self) -> i128 {
        let shelves = self.shelves.values().flat_map(|shelf| &shelf.layers).map(|layer| layer.1);
        let shelves: i128 = if self.when_used { shelves.sum() } else { 0 };
        let pieces = self.shop.pieces.iter().zip(&self.goods).map(|(piece, goods)| {
            let of = i128::from(piece.count);
            let limit = goods.gone_from.map_or(of, |(from, _)| from);
            first(goods.cost, limit, of) - first(goods.cost, goods.sold, of)
        });
        shelves + pieces.sum::<i128>()
    }

    /// What was there when the books begin.
    fn begin(&mut self, on: NaiveDate) {
        let average = self.average();
        for book in self.shop.years.values() {
            if on == NaiveDate::from_ymd_opt(book.year, 1, 1).unwrap() {
                for one in &book.on_hand {
                    let quantity = exact(one.quantity.value.in_base());
                    self.shelf(&one.stock.value).put(quantity, cents(one.amount.value), average);
                }
            }
        }
    }

    fn day(&mut self, on: NaiveDate) {
        self.supplies(on);
        for (i, piece) in self.shop.pieces.iter().enumerate() {
            for bought in piece.bought.iter().filter(|one| one.on.value == on) {
                let paid = cents(bought.price.value + bought.premium + bought.tax);
                self.found.purchases += paid;
                self.bear(i, paid, false);
            }
            for cost in piece.cost.iter().filter(|one| one.on.value == on) {
                let paid = cents(cost.amount.value);
                match cost.kind {
                    CostKind::PaidWork => self.found.labour += paid,
                    CostKind::FreightIn => self.found.freight += paid,
                    CostKind::Material | CostKind::Hardware => self.found.materials += paid,
                }
                self.bear(i, paid, false);
            }
        }
        for book in self.shop.years.values() {
            for lot in book.lot.iter().filter(|one| one.on.value == on) {
                let paid = cents(lot.price.value + lot.premium + lot.tax);
                self.found.purchases += paid;
                let weights: Vec<Exact> =
                    lot.pieces.iter().map(|(_, share)| exact(*share)).collect();
                for ((name, _), part) in lot.pieces.iter().zip(shared(paid, &weights)) {
                    self.bear(at(self.shop, name), part, false);
                }
            }
        }
        self.taken_off(on);
        self.moves(on);
    }

    /// A piece bears a cost, or below zero gives one off. `old` is of what it had before the year.
    fn bear(&mut self, piece: usize, amount: i128, old: bool) {
        let of = i128::from(self.shop.pieces[piece].count);
        let goods = &mut self.goods[piece];
        let gone = |cost: i128| {
            let written_off = match goods.gone_from {
                Some((from, how)) if how != WithdrawalKind::Kept => cost - first(cost, from, of),
                _ => 0,
            };
            first(cost, goods.sold, of) + written_off
        };
        let kept = |cost: i128| match goods.gone_from {
            Some((from, WithdrawalKind::Kept)) => cost - first(cost, from, of),
            _ => 0,
        };
        self.found.cost_of_goods += gone(goods.cost + amount) - gone(goods.cost);
        self.found.withdrawn += kept(goods.cost + amount) - kept(goods.cost);
        goods.cost += amount;
        goods.entries.push((old, amount));
    }

    fn is_old(&self, piece: usize, before: NaiveDate) -> bool {
        let file = &self.shop.pieces[piece];
        let own = file.bought.iter().map(|one| one.on.value);
        let costs = file.cost.iter().map(|one| one.on.value);
        let drawn = file.used.iter().map(|one| one.on.value);
        let lots = self.shop.years.values().flat_map(|book| &book.lot);
        let lots = lots.filter(|lot| lot.pieces.iter().any(|(name, _)| **name == *file.name()));
        let first = own.chain(costs).chain(drawn).chain(lots.map(|lot| lot.on.value)).min();
        first.is_some_and(|first| first < before)
    }

    /// Parts and refunds: taken off what the piece was bought with.
    fn taken_off(&mut self, on: NaiveDate) {
        let begins = NaiveDate::from_ymd_opt(self.year, 1, 1).unwrap();
        for book in self.shop.years.values() {
            for refund in book.refund.iter().filter(|one| one.on.value == on) {
                if let RefundOf::Piece(name, None) = &refund.of {
                    let (piece, paid) = (at(self.shop, name), cents(refund.amount.value));
                    self.found.purchases -= paid;
                    let bought = self.shop.pieces[piece].bought.as_ref().unwrap().on.value;
                    let lots = self.shop.years.values().flat_map(|book| &book.lot);
                    let lots = lots.filter(|lot| lot.pieces.iter().any(|(own, _)| own == name));
                    let bought =
                        lots.map(|lot| lot.on.value).min().map_or(bought, |on| on.min(bought));
                    self.bear(piece, -paid, bought < begins);
                }
            }
        }
        for (i, piece) in self.shop.pieces.iter().enumerate() {
            for part in piece.salvaged.iter().filter(|one| one.on.value == on) {
                let (cost, old) = (cents(part.cost.value), self.is_old(i, begins));
                self.bear(i, -cost, old);
                match &part.to {
                    SalvagedTo::Piece(name) => self.bear(at(self.shop, name), cost, old),
                    SalvagedTo::Sold(_) => self.found.cost_of_goods += cost,
                }
            }
        }
    }

    /// Shop stock of a day: bought, paid back, drawn, counted.
    fn supplies(&mut self, on: NaiveDate) {
        let (shop, average) = (self.shop, self.average());
        for key in shop.stock.keys() {
            let books = || shop.years.values();
            let bought = books().flat_map(|book| &book.supply);
            let bought: Vec<_> =
                bought.filter(|one| one.on.value == on && one.stock.value == *key).collect();
            if !bought.is_empty() {
                let quantity = bought.iter().map(|one| exact(one.quantity.value.in_base())).sum();
                let paid = bought.iter().map(|one| cents(one.amount.value)).sum();
                self.materials(paid);
                self.shelf(key).put(quantity, paid, average);
            }
            for refund in books().flat_map(|book| &book.refund).filter(|one| one.on.value == on) {
                if matches!(&refund.of, RefundOf::Stock { stock, .. } if stock.value == *key) {
                    let paid = cents(refund.amount.value);
                    self.materials(-paid);
                    let over = self.shelf(key).lower(paid);
                    self.written_off(-over);
                }
            }
            self.draws(on, key);
            let counts = books().flat_map(|book| &book.count);
            for count in counts.filter(|one| one.on.value == on && one.stock.value == *key) {
                let counted = exact(count.quantity.value.in_base());
                let lost = self.shelf(key).count(counted, average);
                self.written_off(lost);
            }
        }
    }

    fn materials(&mut self, paid: i128) {
        self.found.materials += if self.when_used { paid } else { 0 };
    }

    fn written_off(&mut self, cost: i128) {
        self.found.cost_of_goods += if self.when_used { cost } else { 0 };
    }

    fn draws(&mut self, on: NaiveDate, key: &'a str) {
        let pieces = self.shop.pieces.iter().enumerate();
        let mut draws: Vec<(usize, Exact)> = pieces
            .flat_map(|(i, piece)| piece.used.iter().map(move |used| (i, used)))
            .filter(|(_, used)| used.on.value == on && used.stock.value == key)
            .map(|(i, used)| (i, exact(used.quantity.value.in_base())))
            .collect();
        if draws.is_empty() {
            return;
        }
        let title = |piece: &Piece| piece.title.value.clone();
        draws.sort_by_key(|(i, _)| title(&self.shop.pieces[*i]));
        let weights: Vec<Exact> = draws.iter().map(|draw| draw.1).collect();
        let cost = self.shelf(key).take(weights.iter().sum());
        for ((piece, _), part) in draws.into_iter().zip(shared(cost, &weights)) {
            if self.when_used {
                self.bear(piece, part, false);
            }
        }
    }

    fn moves(&mut self, on: NaiveDate) {
        for (i, piece) in self.shop.pieces.iter().enumerate() {
            let of = i128::from(piece.count);
            let goods = &mut self.goods[i];
            let borne =
                |from: i128, to: i128, cost: i128| first(cost, to, of) - first(cost, from, of);
            for sale in piece.sale.iter().filter(|one| one.on.value == on) {
                let left = of - goods.sold;
                let units = sale.count.as_ref().map_or(left, |count| i128::from(count.value));
                self.found.cost_of_goods += borne(goods.sold, goods.sold + units, goods.cost);
                goods.sold += units;
                goods.returns_left.push(units);
            }
            for _ in piece.returned.iter().filter(|one| one.on.value == on) {
                let units = goods.returns_left.pop().unwrap();
                self.found.cost_of_goods -= borne(goods.sold - units, goods.sold, goods.cost);
                goods.sold -= units;
            }
            for gone in piece.withdrawn.iter().filter(|one| one.on.value == on) {
                let range = |cost: i128| borne(goods.sold, of, cost);
                let all = range(goods.cost);
                let (mut cost, mut old) = (0, 0);
                for (was_old, amount) in &goods.entries {
                    let before = range(cost);
                    cost += amount;
                    old += if *was_old { range(cost) - before } else { 0 };
                }
                let leaves = match gone.how {
                    WithdrawalKind::Kept => all,
                    WithdrawalKind::Given => old.max(0),
                    WithdrawalKind::Scrapped => 0,
                };
                self.found.withdrawn += leaves;
                self.found.cost_of_goods += all - leaves;
                goods.gone_from = Some((goods.sold, gone.how));
            }
        }
    }
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(200))]

    #[test]
    fn a_second_reckoning_from_the_raw_entries_agrees(shop in rich_shop()) {
        for year in 2023..=2025 {
            let found = Walk::of(&shop, year);
            let books = books_of(&shop, year).unwrap();
            let figure = |name: &str| trace(&books, name).map_or(0, |figure| cents(figure.amount));
            let reckoned = Found {
                opening: figure("opening-stock"),
                purchases: figure("purchases"),
                withdrawn: figure("withdrawn"),
                labour: figure("paid-labour"),
                materials: figure("materials"),
                freight: figure("other-costs"),
                closing: figure("closing-stock"),
                cost_of_goods: figure("cost-of-goods-sold"),
            };
            prop_assert_eq!(reckoned, found, "{}", year);
        }
    }
}
