//! Small shops as plain values: a builder for one entry each. Any test of reckoning or describing
//! may use them; `random` makes whole shops of them.

pub mod buyers;
pub mod random;

use chrono::NaiveDate;
use dovetally::describe::describe;
use dovetally::model::{
    Allowance, Basis, BooksMethod, Bought, CardSize, Channel, Cost, CostKind, Count, Hours, Income,
    IncomeKind, LengthUnit, Listing, Lot, Made, Money, OnHandStock, Paper, Payment, Piece, Place,
    Refund, RefundOf, Return, Sale, SalePaper, Salvaged, SalvagedTo, Shop, StockCost, StockItem,
    Supplies, Supply, Terms, Trip, TripPurpose, Unit, Used, Withdrawal, WithdrawalKind, Work,
    YearBook, built_in_forms, currency, parse_quantity,
};
use dovetally::reckon::reckon;
use dovetally::typeset::Subject;
use rust_decimal::Decimal;
use std::collections::{BTreeMap, BTreeSet};

/// A decimal from its digits.
pub fn dec(digits: &str) -> Decimal {
    Decimal::from_str_exact(digits).unwrap()
}

/// A day from `2025-03-01`.
pub fn day(text: &str) -> NaiveDate {
    text.parse().unwrap()
}

/// A shop in US dollars with nothing in it: no rate, no channel, no stock, no piece.
pub fn shop() -> Shop {
    Shop {
        name: "Test shop".to_owned(),
        contact: Vec::new(),
        currency: currency("USD").unwrap().clone(),
        units: LengthUnit::Inch,
        paper: Paper::UsLetter,
        card_size: CardSize::A6,
        card_marks: false,
        accent: None,
        picture_pixels: None,
        logo: None,
        font: None,
        country: "us".to_owned(),
        state: None,
        shop_rate: None,
        price_step: None,
        card_languages: Vec::new(),
        books: BooksMethod {
            form: "us-schedule-c".to_owned().into(),
            basis: Basis::Cash,
            supplies: Supplies::WhenUsed,
            stock_cost: StockCost::Average,
            stated: Vec::new(),
        },
        channels: BTreeMap::new(),
        taxes: BTreeMap::new(),
        wages: BTreeMap::new(),
        finishes: Vec::new(),
        bank: None,
        terms: Terms::default(),
        stock: BTreeMap::new(),
        pieces: Vec::new(),
        years: BTreeMap::new(),
        orders: Vec::new(),
        forms: built_in_forms(),
        missing_receipts: BTreeSet::new(),
        broken: Vec::new(),
    }
}

/// A single piece with a title and nothing else; its name is the folder's last part.
pub fn piece(folder: &str) -> Piece {
    Piece {
        folder: folder.to_owned(),
        number: None,
        title: format!("Piece {folder}").into(),
        kind: None,
        made: Made::Unknown.into(),
        count: 1,
        width: None,
        depth: None,
        height: None,
        weight: None,
        apart: Vec::new(),
        remains: None,
        function: None,
        completeness: None,
        material: Vec::new(),
        wood: Vec::new(),
        bought: None,
        cost: Vec::new(),
        used: Vec::new(),
        work: Vec::new(),
        coat: Vec::new(),
        change: Vec::new(),
        flaw: Vec::new(),
        photo: Vec::new(),
        safety: BTreeMap::new(),
        upholstered_on: None,
        outline: None,
        card_languages: None,
        listing: None,
        sale: Vec::new(),
        returned: Vec::new(),
        payment: Vec::new(),
        allowance: Vec::new(),
        salvaged: Vec::new(),
        reserved: None,
        consigned: Vec::new(),
        withdrawn: None,
        place: Place::NOWHERE,
    }
}

pub fn bought(on: NaiveDate, price: Money) -> Bought {
    Bought {
        on: on.into(),
        price: price.into(),
        premium: Money::ZERO,
        tax: Money::ZERO,
        from: None,
        receipt: None,
        place: Place::NOWHERE,
    }
}

pub fn cost(on: NaiveDate, kind: CostKind, amount: Money) -> Cost {
    let what = "something".to_owned();
    let amount = amount.into();
    Cost {
        on: on.into(),
        what,
        kind,
        amount,
        to: None,
        how: None,
        receipt: None,
        place: Place::NOWHERE,
    }
}

/// A draw of `8 fl oz` and the like.
pub fn used(on: NaiveDate, stock: &str, quantity: &str) -> Used {
    Used {
        on: on.into(),
        stock: stock.to_owned().into(),
        quantity: parse_quantity(quantity, None).unwrap().into(),
        place: Place::NOWHERE,
    }
}

pub fn work(hours: Decimal) -> Work {
    let hours = Hours::from_decimal(hours);
    Work { on: None, task: String::new(), hours, note: None, place: Place::NOWHERE }
}

/// A sale with no channel and no delivery.
pub fn sale(on: NaiveDate, price: Money) -> Sale {
    Sale {
        on: on.into(),
        price: price.into(),
        channel: None,
        fee: None,
        delivery_charged: Money::ZERO,
        delivery_cost: Money::ZERO,
        tax_collected: Money::ZERO,
        tax_place: None,
        exempt: None,
        how: None,
        count: None,
        paper: SalePaper::default(),
        receipt: None,
        place: Place::NOWHERE,
    }
}

pub fn returned(on: NaiveDate, refunded: Money) -> Return {
    Return {
        on: on.into(),
        sale_on: None,
        refunded: refunded.into(),
        fee_returned: Money::ZERO,
        delivery_cost: Money::ZERO,
        tax_returned: Money::ZERO,
        count: None,
        number: None,
        place: Place::NOWHERE,
    }
}

pub fn withdrawn(on: NaiveDate, how: WithdrawalKind) -> Withdrawal {
    Withdrawal { on: on.into(), how, note: None, place: Place::NOWHERE }
}

/// A channel with a percent fee as a fraction and a fixed fee, and no delivery.
pub fn channel(key: &str, fee: Decimal, fixed_fee: Money) -> Channel {
    Channel {
        key: key.to_owned(),
        label: key.to_owned(),
        fee,
        fixed_fee,
        collects_tax: false,
        delivery_charged: Money::ZERO,
        delivery_cost: Money::ZERO,
        headline_limit: None,
        description_limit: None,
        place: Place::NOWHERE,
    }
}

pub fn stock_item(key: &str, unit: &str) -> StockItem {
    let unit = Unit::named(unit).unwrap();
    StockItem { key: key.to_owned(), label: key.to_owned(), unit, place: Place::NOWHERE }
}

pub fn supply(on: NaiveDate, stock: &str, quantity: &str, amount: Money) -> Supply {
    Supply {
        on: on.into(),
        stock: stock.to_owned().into(),
        quantity: parse_quantity(quantity, None).unwrap().into(),
        amount: amount.into(),
        receipt: None,
        place: Place::NOWHERE,
    }
}

pub fn count(on: NaiveDate, stock: &str, quantity: &str) -> Count {
    Count {
        on: on.into(),
        stock: stock.to_owned().into(),
        quantity: parse_quantity(quantity, None).unwrap().into(),
        place: Place::NOWHERE,
    }
}

/// Stock there when the books begin.
pub fn on_hand(stock: &str, quantity: &str, amount: Money) -> OnHandStock {
    OnHandStock {
        stock: stock.to_owned().into(),
        quantity: parse_quantity(quantity, None).unwrap().into(),
        amount: amount.into(),
        place: Place::NOWHERE,
    }
}

/// What a supplier paid back.
pub fn refund(on: NaiveDate, amount: Money, of: RefundOf) -> Refund {
    Refund {
        on: on.into(),
        what: None,
        from: None,
        amount: amount.into(),
        of,
        receipt: None,
        place: Place::NOWHERE,
    }
}

pub fn income(on: NaiveDate, amount: Money, kind: IncomeKind) -> Income {
    Income {
        on: on.into(),
        what: "work".to_owned(),
        amount: amount.into(),
        kind,
        earned: false,
        from: None,
        how: None,
        receipt: None,
        place: Place::NOWHERE,
    }
}

pub fn trip(on: NaiveDate, distance: Decimal, purpose: TripPurpose, piece: Option<&str>) -> Trip {
    let pieces = piece.map(|name| name.to_owned().into()).into_iter().collect();
    let (parking, what) = (Money::ZERO, String::new());
    Trip { on: on.into(), distance, parking, purpose, what, pieces, place: Place::NOWHERE }
}

/// Listed on a day, for a price.
pub fn listing(on: Option<&str>, price: Option<&str>) -> Listing {
    Listing {
        on: on.map(|on| day(on).into()),
        price: price.map(|price| dec(price).into()),
        channel: None,
        opening: None,
        story: None,
        stands: None,
        link: None,
        place: Place::NOWHERE,
    }
}

/// Makes something of all pieces of a shop, as the sheets take them.
pub fn of_pieces<T>(shop: &Shop, make: impl FnOnce(&[Subject]) -> T) -> T {
    let (reckoned, described) = (reckon(shop), describe(shop));
    let each = shop.pieces.iter().zip(&reckoned.tallies).zip(&described.pieces);
    let subjects: Vec<Subject> = each
        .map(|((piece, tally), words)| Subject {
            shop,
            piece,
            tally: tally.as_ref(),
            words,
            shots: &[],
        })
        .collect();
    make(&subjects)
}

/// A payment of the only sale there is, or a deposit.
pub fn payment(on: NaiveDate, amount: Money) -> Payment {
    let (on, amount) = (on.into(), amount.into());
    Payment {
        on,
        amount,
        sale_on: None,
        back: None,
        kept: None,
        over: None,
        over_back: None,
        how: None,
        receipt: None,
        place: Place::NOWHERE,
    }
}

/// Part of a price given back, without tax or fee.
pub fn allowance(on: NaiveDate, amount: Money) -> Allowance {
    Allowance {
        on: on.into(),
        amount: amount.into(),
        fee_returned: Money::ZERO,
        tax_returned: Money::ZERO,
        sale_on: None,
        what: None,
        number: None,
        receipt: None,
        place: Place::NOWHERE,
    }
}

/// A part taken out, with its share of the cost.
pub fn salvaged(on: NaiveDate, cost: Money, to: SalvagedTo) -> Salvaged {
    let what = "a part".to_owned();
    Salvaged { on: on.into(), what, cost: cost.into(), to, receipt: None, place: Place::NOWHERE }
}

/// A lot of pieces with their shares.
pub fn lot(on: NaiveDate, price: Money, pieces: &[(&str, Decimal)]) -> Lot {
    Lot {
        on: on.into(),
        what: "a lot".to_owned(),
        price: price.into(),
        premium: Money::ZERO,
        tax: Money::ZERO,
        pieces: pieces.iter().map(|(name, share)| ((*name).to_owned().into(), *share)).collect(),
        from: None,
        receipt: None,
        place: Place::NOWHERE,
    }
}

/// The book of a year, made when it is not there yet.
pub fn book(shop: &mut Shop, year: i32) -> &mut YearBook {
    shop.years.entry(year).or_insert_with(|| YearBook { year, ..YearBook::default() })
}
