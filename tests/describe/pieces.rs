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
    Piece {
        folder: "pieces/one".into(),
        number: None,
        title: here(title.into()),
        kind: None,
        made: here(Made::Unknown),
        count: 1,
        width: None,
        depth: None,
        height: None,
        weight: None,
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
        listing: None,
        sale: Vec::new(),
        returned: Vec::new(),
        withdrawn: None,
        place: Place::NOWHERE,
    }
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
    Work { on: None, task: task.into(), hours: Decimal::ONE, note: None, place: Place::NOWHERE }
}

pub fn flaw(note: &str) -> Flaw {
    Flaw { note: note.into(), place: Place::NOWHERE }
}

pub fn change(part: &str, what: ChangeKind, with: &str) -> Change {
    let with = (!with.is_empty()).then(|| with.to_owned());
    Change { part: part.into(), what, with, place: Place::NOWHERE }
}

pub fn listing(on: &str) -> Listing {
    Listing {
        on: Some(here(day(on))),
        price: None,
        channel: None,
        opening: None,
        story: None,
        stands: None,
        place: Place::NOWHERE,
    }
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
        accent: None,
        logo: None,
        font: None,
        country: country.into(),
        shop_rate: None,
        price_step: None,
        books: BooksMethod {
            form: here("us-schedule-c".into()),
            basis: Basis::Cash,
            supplies: Supplies::WhenUsed,
            stock_cost: StockCost::Average,
        },
        channels: BTreeMap::new(),
        stock: BTreeMap::new(),
        pieces,
        years: BTreeMap::new(),
        forms: Vec::new(),
        broken: Vec::new(),
    }
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
    told("us", piece).1.into_iter().map(|finding| finding.code).collect()
}
