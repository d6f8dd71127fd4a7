//! Shops and pieces as plain values, without files.

use chrono::NaiveDate;
use dovetally::describe::{Words, describe};
use dovetally::model::*;
use rust_decimal::Decimal;
use std::collections::BTreeMap;

pub fn here<T>(value: T) -> At<T> {
    At::new(value, Place::NOWHERE)
}

pub fn day(text: &str) -> NaiveDate {
    text.parse().unwrap()
}

pub fn length(text: &str) -> Option<At<Length>> {
    Some(here(parse_length(text, LengthUnit::Inch).unwrap()))
}

pub fn piece(title: &str) -> Piece {
    Piece { title: here(title.into()), ..crate::shops::piece("pieces/one") }
}

pub fn kind_of(title: &str, kind: &str, made: &str) -> Piece {
    let mut piece = piece(title);
    piece.kind = Some(here(kind.into()));
    piece.made = here(parse_made(made).unwrap());
    piece
}

pub fn sized(mut piece: Piece, width: &str, depth: &str, height: &str) -> Piece {
    (piece.width, piece.depth, piece.height) = (length(width), length(depth), length(height));
    piece
}

pub fn with_facts(mut piece: Piece, facts: &[(&str, &str)]) -> Piece {
    for (key, value) in facts {
        piece.safety.insert((*key).into(), here((*value).into()));
    }
    piece
}

pub fn wood(part: &str, species: &str, form: WoodForm) -> Wood {
    let species = (species != "unknown").then(|| here(species.to_owned()));
    Wood {
        part: part.into(),
        species,
        form,
        over: None,
        sure: true,
        stained: None,
        place: Place::NOWHERE,
    }
}

pub fn coat(part: &str, product: &str, coats: u32, last: &str) -> Coat {
    Coat {
        part: part.into(),
        product: here(product.into()),
        sheen: None,
        coats,
        between: None,
        last: (!last.is_empty()).then(|| here(day(last))),
        cure_days: None,
        light_use_days: None,
        note: None,
        place: Place::NOWHERE,
    }
}

pub fn work(task: &str) -> Work {
    let hours = Hours::from_decimal(Decimal::ONE);
    Work { on: None, task: task.into(), hours, note: None, place: Place::NOWHERE }
}

pub fn flaw(note: &str) -> Flaw {
    Flaw { note: note.into(), place: Place::NOWHERE }
}

pub fn change(part: &str, what: ChangeKind, with: &str) -> Change {
    let with = (!with.is_empty()).then(|| with.to_owned());
    Change { part: part.into(), what, with, place: Place::NOWHERE }
}

pub fn listing(on: &str) -> Listing {
    crate::shops::listing(Some(on), None)
}

pub fn sale(on: &str, price: i64) -> Sale {
    crate::shops::sale(day(on), price.into())
}

pub fn channel(headline: Option<u32>, description: Option<u32>) -> Channel {
    Channel {
        key: "online".into(),
        label: "online".into(),
        fee: Decimal::ZERO,
        fixed_fee: Decimal::ZERO,
        collects_tax: false,
        delivery_charged: Decimal::ZERO,
        delivery_cost: Decimal::ZERO,
        headline_limit: headline,
        description_limit: description,
        place: Place::NOWHERE,
    }
}

pub fn shop(country: &str, pieces: Vec<Piece>) -> Shop {
    Shop {
        name: "Quayside Furniture".into(),
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
        country: country.into(),
        state: None,
        shop_rate: None,
        price_step: None,
        terms: Default::default(),
        card_languages: Vec::new(),
        books: BooksMethod {
            form: here("us-schedule-c".into()),
            basis: Basis::Cash,
            supplies: Supplies::WhenUsed,
            stock_cost: StockCost::Average,
            stated: Vec::new(),
        },
        channels: BTreeMap::new(),
        taxes: Default::default(),
        wages: Default::default(),
        finishes: Vec::new(),
        bank: None,
        stock: BTreeMap::new(),
        pieces,
        years: BTreeMap::new(),
        orders: Vec::new(),
        forms: Vec::new(),
        missing_receipts: Default::default(),
        broken: Vec::new(),
    }
}

/// The words and findings of one piece in a shop of a state of the United States.
pub fn told_in(state: &str, piece: &Piece) -> (Words, Vec<Finding>) {
    let mut shop = shop("us", vec![piece.clone()]);
    shop.state = Some(state.to_owned()).filter(|state| !state.is_empty());
    let mut described = describe(&shop);
    (described.pieces.remove(0), described.findings)
}

/// The words and findings of one piece in a shop of a country.
pub fn told(country: &str, piece: &Piece) -> (Words, Vec<Finding>) {
    let mut described = describe(&shop(country, vec![piece.clone()]));
    (described.pieces.remove(0), described.findings)
}

/// The ids of the cautions of a piece in the United States.
pub fn ids(piece: &Piece) -> Vec<String> {
    told("us", piece).0.cautions.into_iter().map(|caution| caution.id).collect()
}

pub fn codes(piece: &Piece) -> Vec<&'static str> {
    told("us", piece).1.into_iter().map(|finding| finding.code.word()).collect()
}

/// A part that comes off, with its sides.
pub fn loose(part: &str, sides: Option<(&str, &str, &str)>, weight: &str) -> LoosePart {
    LoosePart {
        part: here(part.into()),
        width: sides.and_then(|(width, _, _)| length(width)),
        depth: sides.and_then(|(_, depth, _)| length(depth)),
        height: sides.and_then(|(_, _, height)| length(height)),
        weight: parse_weight(weight).ok().map(here),
        place: Place::NOWHERE,
    }
}

/// A picture from before the work.
pub fn before(shows: &str) -> Photo {
    Photo {
        path: here("photos/before.jpg".into()),
        shows: Some(shows.into()),
        moment: Moment::Before,
        on: None,
        place: Place::NOWHERE,
    }
}

/// An oil of the shop's own, slower than its kind.
pub fn own_oil() -> OwnFinish {
    OwnFinish {
        key: "bench-oil".into(),
        label: "bench oil".into(),
        like: here("Danish oil".into()),
        touch: None,
        recoat: Some("overnight".into()),
        light_use_days: 4,
        cure_days: 40,
        about: Some("Our own oil, rubbed into the wood".into()),
        care: Vec::new(),
        never: vec!["no standing water".into()],
        spill: Vec::new(),
        renewal: Vec::new(),
        place: Place::NOWHERE,
    }
}
