//! A second reckoning of what stands between the shop and its buyers, written apart from the
//! program: in whole cents that are moved one by one between purses, from a list of what happened
//! on each day. It knows nothing of the program's accounts, and must come to the same figures.

use super::{books_of, line};
use crate::shops::buyers::{PLACES, shop_of_buyers};
use crate::shops::day;
use chrono::NaiveDate;
use dovetally::model::{Basis, Money, Piece, Sale, Shop, TaxOwed};
use dovetally::reckon::reckon;
use dovetally::reckon::year::{TaxFigure, Total, Year};
use proptest::prelude::*;
use rust_decimal::Decimal;
use std::collections::BTreeMap;

const PRICE: usize = 0;
const DELIVERY: usize = 1;
const TAX: usize = 2;

fn in_cents(amount: Money) -> i64 {
    (amount * Decimal::ONE_HUNDRED).try_into().unwrap()
}

/// What a buyer has yet to pay, has paid, and was given back: price, delivery, tax.
#[derive(Clone, Default)]
struct Purses {
    open: [i64; 3],
    full: [i64; 3],
    back: [i64; 3],
}

impl Purses {
    fn pay(&mut self, cents: i64) {
        for _ in 0..cents {
            let purse = (0..3).find(|&purse| self.open[purse] > 0).unwrap_or(PRICE);
            self.open[purse] -= 1;
            self.full[purse] += 1;
        }
    }

    fn bounce(&mut self, cents: i64) {
        for _ in 0..cents {
            let purse = (0..3).rev().find(|&purse| self.full[purse] > 0).unwrap_or(PRICE);
            self.open[purse] += 1;
            self.full[purse] -= 1;
        }
    }

    /// Shrinks the purses, and pours what was paid into them anew; what does not fit goes back.
    fn let_off(&mut self, cents: i64, tax: i64) {
        let paid: i64 = self.full.iter().sum();
        self.open = [0, 1, 2].map(|purse| self.open[purse] + self.full[purse]);
        self.full = [0; 3];
        for _ in 0..cents {
            let purse = if self.open[PRICE] > 0 { PRICE } else { DELIVERY };
            self.open[purse] -= 1;
        }
        self.open[TAX] -= tax;
        self.pay(paid.min(self.open.iter().sum()));
    }

    fn come_back(&mut self, cents: i64, tax: i64, all: bool) {
        for _ in 0..cents {
            let price_left = self.full[PRICE] - self.back[PRICE] > 0;
            self.back[if price_left { PRICE } else { DELIVERY }] += 1;
        }
        self.back[TAX] += tax;
        if all {
            self.open = [0; 3];
        }
    }
}

/// What is known of one sale after each day something happened to it.
struct Told {
    sale: Sale,
    days: BTreeMap<NaiveDate, Purses>,
    /// Let off and given up in money: price and delivery.
    lowered: BTreeMap<NaiveDate, i64>,
    /// Of refunds and allowances, on the basis of money: price and delivery.
    gone: BTreeMap<NaiveDate, i64>,
    /// By which tax was lowered.
    tax_lowered: BTreeMap<NaiveDate, i64>,
}

enum Happened {
    Paid(i64),
    Bounced(i64),
    LetOff(i64, i64),
    Back(i64, i64, u32),
}

/// Whether a payment is of a sale: the one it names, or the only one, unless it went back before.
fn of_sale(piece: &Piece, named: Option<NaiveDate>, back: Option<NaiveDate>, sale: &Sale) -> bool {
    let before = back.is_some_and(|back| piece.sale.iter().all(|sale| back < sale.on.value));
    match named {
        Some(day) => sale.on.value == day,
        None => piece.sale.len() == 1 && !before,
    }
}

fn happened(piece: &Piece, sale: &Sale) -> Vec<(NaiveDate, u8, Happened)> {
    let mut all = Vec::new();
    for one in &piece.payment {
        let back = one.back.map(|on| on.value);
        if of_sale(piece, one.sale_on.map(|on| on.value), back, sale) {
            let amount = in_cents(one.amount.value);
            all.push((one.on.value, 0, Happened::Paid(amount)));
            all.extend(back.map(|on| (on, 1, Happened::Bounced(amount))));
        }
    }
    if all.is_empty() {
        all.push((sale.on.value, 0, Happened::Paid(in_cents(sale.total()))));
    }
    for one in &piece.allowance {
        if of_sale(piece, one.sale_on.map(|on| on.value), None, sale) {
            let what = Happened::LetOff(in_cents(one.amount.value), in_cents(one.tax_returned));
            all.push((one.on.value, 2, what));
        }
    }
    for one in piece.returned.iter().filter(|one| one.sale_on.unwrap().value == sale.on.value) {
        let count = one.count.unwrap().value;
        let what = Happened::Back(in_cents(one.refunded.value), in_cents(one.tax_returned), count);
        all.push((one.on.value, 3, what));
    }
    all.sort_by_key(|(on, rank, _)| (*on, *rank));
    all
}

fn tell(piece: &Piece, sale: &Sale) -> Told {
    let mut told = Told {
        sale: sale.clone(),
        days: BTreeMap::new(),
        lowered: BTreeMap::new(),
        gone: BTreeMap::new(),
        tax_lowered: BTreeMap::new(),
    };
    let open = [sale.price.value, sale.delivery_charged, sale.tax_collected].map(in_cents);
    let mut purses = Purses { open, ..Purses::default() };
    let mut out = sale.count.unwrap().value;
    told.days.insert(day("1990-01-01"), purses.clone());
    for (on, _, what) in happened(piece, sale) {
        let before = purses.clone();
        let mut lower = |money: i64, gone: i64, tax: i64| {
            *told.lowered.entry(on).or_default() += money;
            *told.gone.entry(on).or_default() += gone;
            *told.tax_lowered.entry(on).or_default() += tax;
        };
        match what {
            Happened::Paid(cents) => purses.pay(cents),
            Happened::Bounced(cents) => purses.bounce(cents),
            Happened::LetOff(cents, tax) => {
                purses.let_off(cents, tax);
                let kept = |purses: &Purses| purses.full[PRICE] + purses.full[DELIVERY];
                lower(cents, kept(&before) - kept(&purses), tax);
            }
            Happened::Back(cents, tax, units) => {
                out -= units;
                purses.come_back(cents, tax, out == 0);
                let given_up = if out == 0 { before.open } else { [0; 3] };
                lower(cents + given_up[PRICE] + given_up[DELIVERY], cents, tax + given_up[TAX]);
            }
        }
        told.days.insert(on, purses.clone());
    }
    told
}

impl Told {
    fn at(&self, on: NaiveDate) -> &Purses {
        self.days.range(..=on).next_back().unwrap().1
    }

    fn sold_by(&self, on: NaiveDate) -> bool {
        self.sale.on.value <= on
    }

    fn up_to(map: &BTreeMap<NaiveDate, i64>, on: NaiveDate) -> i64 {
        map.range(..=on).map(|(_, amount)| amount).sum()
    }

    fn asked(&self) -> i64 {
        in_cents(self.sale.price.value + self.sale.delivery_charged)
    }

    fn through_channel(&self) -> bool {
        self.sale.channel.as_ref().is_some_and(|key| key.value == "online")
    }

    /// Price and delivery that came in by a day, whatever went back again.
    fn received(&self, on: NaiveDate) -> i64 {
        let now = self.at(on);
        now.full[PRICE] + now.full[DELIVERY] + self.gone_of_allowances(on)
    }

    /// What of `gone` were allowances: they have lowered what is in the purses.
    fn gone_of_allowances(&self, on: NaiveDate) -> i64 {
        let now = self.at(on);
        Told::up_to(&self.gone, on) - now.back[PRICE] - now.back[DELIVERY]
    }

    /// Tax that counts by a day.
    fn tax(&self, shop: &Shop, on: NaiveDate) -> i64 {
        let key = self.sale.tax_place.as_ref().map(|key| key.value.as_str());
        let own = key.and_then(|key| shop.taxes[key].owed);
        let when_paid = match own {
            Some(rule) => rule == TaxOwed::WhenPaid,
            None => shop.books.basis == Basis::Cash,
        };
        let now = self.at(on);
        match when_paid {
            true => now.full[TAX] - now.back[TAX],
            false if self.sold_by(on) => {
                in_cents(self.sale.tax_collected) - Told::up_to(&self.tax_lowered, on)
            }
            false => -Told::up_to(&self.tax_lowered, on),
        }
    }
}

/// Deposits for no sale, held at the end of a day.
fn deposits(shop: &Shop, on: NaiveDate) -> i64 {
    let mut held = 0;
    for piece in &shop.pieces {
        for one in &piece.payment {
            let back = one.back.map(|back| back.value);
            let named = one.sale_on.map(|on| on.value);
            if !piece.sale.iter().any(|sale| of_sale(piece, named, back, sale)) {
                let here = one.on.value <= on && back.is_none_or(|back| back > on);
                held += if here { in_cents(one.amount.value) } else { 0 };
            }
        }
    }
    held
}

/// Passed on or kept by a day, for a place or for all.
fn passed_on(shop: &Shop, place: Option<Option<&str>>, on: NaiveDate) -> i64 {
    let all = shop.years.values().flat_map(|book| &book.remitted);
    let own = all.filter(|one| {
        let key = one.place_key.as_ref().map(|key| key.value.as_str());
        one.on.value <= on && place.is_none_or(|place| place == key)
    });
    own.map(|one| in_cents(one.amount.value + one.kept)).sum()
}

fn same(what: &str, program: Money, second: i64) -> Result<(), TestCaseError> {
    prop_assert_eq!(program, Decimal::new(second, 2), "{}", what);
    Ok(())
}

fn check_year(shop: &Shop, told: &[Told], year: &Year) -> Result<(), TestCaseError> {
    let (start, end) =
        (day(&format!("{}-12-31", year.year - 1)), day(&format!("{}-12-31", year.year)));
    let cash = shop.books.basis == Basis::Cash;
    let sum = |figure: &dyn Fn(&Told, NaiveDate) -> i64, on| -> i64 {
        told.iter().map(|one| figure(one, on)).sum()
    };
    let grown = |figure: &dyn Fn(&Told, NaiveDate) -> i64| sum(figure, end) - sum(figure, start);
    let sold = |one: &Told, on| if one.sold_by(on) { one.asked() } else { 0 };
    let (receipts, refunds) = match cash {
        true => (
            grown(&Told::received) + deposits(shop, end) - deposits(shop, start),
            grown(&|one, on| Told::up_to(&one.gone, on)),
        ),
        false => (grown(&sold), grown(&|one, on| Told::up_to(&one.lowered, on))),
    };
    same("receipts", line(year, "1"), receipts)?;
    same("refunds", line(year, "2"), refunds)?;
    let own = |one: &Told, on| if one.through_channel() { 0 } else { one.tax(shop, on) };
    same("tax collected", year.tax(TaxFigure::Collected), grown(&own))?;
    same("tax held", year.tax(TaxFigure::Held), sum(&own, end) - passed_on(shop, None, end))?;
    prop_assert!(year.tax_holds);
    let others = |one: &Told, on| if one.through_channel() { one.tax(shop, on) } else { 0 };
    same("tax of channels", year.tax(TaxFigure::Marketplace), grown(&others))?;
    let unpaid = |one: &Told, on| match one.sold_by(on) && !one.through_channel() {
        true => one.at(on).open[TAX],
        false => 0,
    };
    same("tax unpaid", year.total(Total::TaxUnpaid), sum(&unpaid, end))?;
    for place in PLACES.map(Some).into_iter().chain([None]) {
        let of_place = |one: &Told, on| {
            let key = one.sale.tax_place.as_ref().map(|key| key.value.as_str());
            if key == place { own(one, on) } else { 0 }
        };
        let key = place.unwrap_or("elsewhere");
        let found = year.tax_places.iter().find(|found| found.key == key);
        let held = found.map_or(Money::ZERO, |found| found.held);
        same(key, held, sum(&of_place, end) - passed_on(shop, Some(place), end))?;
    }
    if let Some(owing) = &year.owing {
        let owed = |one: &Told, on| match one.sold_by(on) {
            true => one.at(on).open[PRICE] + one.at(on).open[DELIVERY],
            false => 0,
        };
        let ahead = |one: &Told, on| match one.sold_by(on) {
            true => 0,
            false => one.at(on).full[PRICE] + one.at(on).full[DELIVERY],
        };
        same("owed", owing.owed.1, sum(&owed, end))?;
        same("deposits", owing.deposits.1, sum(&ahead, end) + deposits(shop, end))?;
        if cash {
            prop_assert_eq!(owing.received, line(year, "1"));
        }
    }
    check_channels(told, year, (start, end), cash)
}

fn check_channels(
    told: &[Told],
    year: &Year,
    (start, end): (NaiveDate, NaiveDate),
    cash: bool,
) -> Result<(), TestCaseError> {
    for row in year.channels.iter().filter(|row| row.channel.is_some()) {
        let own: Vec<&Told> = told
            .iter()
            .filter(|one| one.sale.channel.as_ref().map(|key| &key.value) == row.channel.as_ref())
            .collect();
        let sum = |figure: &dyn Fn(&Told, NaiveDate) -> i64| -> i64 {
            own.iter().map(|one| figure(one, end) - figure(one, start)).sum()
        };
        let received = match cash {
            true => sum(&Told::received),
            false => sum(&|one, on| if one.sold_by(on) { one.asked() } else { 0 }),
        };
        same("of a channel", row.price + row.delivery, received)?;
        let refunds = match cash {
            true => sum(&|one, on| Told::up_to(&one.gone, on)),
            false => sum(&|one, on| Told::up_to(&one.lowered, on)),
        };
        same("refunds of a channel", row.refunds, refunds)?;
        prop_assert_eq!(row.expected, row.price + row.delivery + row.tax);
    }
    Ok(())
}

fn check_tallies(shop: &Shop) -> Result<(), TestCaseError> {
    let reckoned = reckon(shop);
    let end = day("2099-12-31");
    for (piece, tally) in shop.pieces.iter().zip(&reckoned.tallies) {
        let tally = tally.as_ref().unwrap();
        let told: Vec<Told> = piece.sale.iter().map(|sale| tell(piece, sale)).collect();
        let sum = |figure: &dyn Fn(&Told) -> i64| -> i64 { told.iter().map(figure).sum() };
        let kept = |purse: usize| {
            move |one: &Told| {
                one.at(day("2099-12-31")).full[purse] - one.at(day("2099-12-31")).back[purse]
            }
        };
        same("price", tally.price.unwrap(), sum(&kept(PRICE)))?;
        same("delivery", tally.delivery_charged, sum(&kept(DELIVERY)))?;
        let owed = |one: &Told| {
            let open = one.at(end).open;
            let tax = if one.through_channel() { 0 } else { open[TAX] };
            open[PRICE] + open[DELIVERY] + tax
        };
        same("owed", tally.owed, sum(&owed))?;
    }
    Ok(())
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(150))]

    #[test]
    fn buyers_and_sales_tax_by_a_second_reckoning(shop in shop_of_buyers()) {
        let told: Vec<Told> = shop
            .pieces
            .iter()
            .flat_map(|piece| piece.sale.iter().map(|sale| tell(piece, sale)))
            .collect();
        let years: Vec<Year> =
            (2023..=2025).map(|year| books_of(&shop, year).unwrap()).collect();
        for year in &years {
            check_year(&shop, &told, year)?;
        }
        for pair in years.windows(2) {
            prop_assert_eq!(pair[0].tax(TaxFigure::Held), pair[1].tax(TaxFigure::AtStart));
        }
        check_tallies(&shop)?;
    }
}
