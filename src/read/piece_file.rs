//! `piece.toml`: one piece of furniture, what it is and how it came in.
//!
//! What was done to it stands in `piece_work`, how it was sold in `piece_sale`, what else became
//! of it and of its price in `piece_after`.

use super::amount::AMOUNT;
use super::card_languages;
use super::piece_after::{allowance, consigned, payment, reserved, salvaged};
use super::piece_sale::{listing, returned, sale, withdrawn};
use super::piece_work::{change, coat, cost, flaw, used, work};
use super::table::Table;
use super::text::{DATE, TEXT, TITLE};
use super::value::{LENGTH, MADE, Reader, WEIGHT, YES_NO};
use super::words::{meant, ticked};
use crate::model::{
    At, Bought, Code, Completeness, Finding, Function, Hint, LoosePart, Made, Material, Moment,
    Outline, Photo, Piece, Wood, WoodForm, facts,
};
use chrono::NaiveDate;
use rust_decimal::Decimal;
use std::collections::BTreeMap;

/// A set of more than this is a slip of the hand.
const LARGEST_SET: u32 = 100;

const WOOD_FORMS: [(&str, WoodForm); 5] = [
    ("solid", WoodForm::Solid),
    ("veneer", WoodForm::Veneer),
    ("plywood", WoodForm::Plywood),
    ("particleboard", WoodForm::Particleboard),
    ("fibreboard", WoodForm::Fibreboard),
];

const MOMENTS: [(&str, Moment); 3] =
    [("before", Moment::Before), ("during", Moment::During), ("after", Moment::After)];

const FUNCTION: [(&str, Function); 4] = [
    ("works", Function::Works),
    ("sticks", Function::Sticks),
    ("fails", Function::Fails),
    ("not-tried", Function::NotTried),
];

const COMPLETENESS: [(&str, Completeness); 3] = [
    ("complete", Completeness::Complete),
    ("part-missing", Completeness::PartMissing),
    ("not-known", Completeness::NotKnown),
];

const ROW_WORDS: [&str; 5] = ["drawer", "door", "shelf", "panel", "open"];

/// The most entries of a kind, and rows and parts of a row in the drawing of a front.
const MOST_ENTRIES: usize = 400;
const MOST_DRAWN: usize = 24;

/// Lists whose entries all stand on paper.
const ON_PAPER: [&str; 10] =
    ["apart", "change", "coat", "cost", "flaw", "material", "photo", "used", "wood", "work"];

/// Everything a piece's file says.
pub(super) fn piece(file: &Table) -> Piece {
    ON_PAPER.into_iter().for_each(|key| file.at_most(key, MOST_ENTRIES));
    let (safety, upholstered_on) = safety(file);
    Piece {
        folder: file.document.folder.to_owned(),
        number: file.may("number", &Reader { example: "\"25-014\"", ..TEXT }),
        title: file.need("title", &TITLE),
        kind: file.may("kind", &Reader { example: "\"washstand\"", ..TEXT }),
        made: file.may("made", &MADE).unwrap_or(At::from(Made::Unknown)),
        count: file.number("count", LARGEST_SET).map_or(1, |count| count.value),
        width: file.may("width", &LENGTH),
        depth: file.may("depth", &LENGTH),
        height: file.may("height", &LENGTH),
        weight: file.may("weight", &WEIGHT).map(|weight| weight.value),
        apart: file.tables("apart").iter().map(apart).collect(),
        remains: file.table("remains").as_ref().map(remains),
        function: file.one_of("function", &FUNCTION),
        completeness: file.one_of("completeness", &COMPLETENESS),
        wood: file.tables("wood").iter().map(wood).collect(),
        material: file.tables("material").iter().map(material).collect(),
        bought: file.table("bought").as_ref().map(bought),
        cost: file.tables("cost").iter().map(cost).collect(),
        used: file.tables("used").iter().map(used).collect(),
        work: work(file),
        coat: file.tables("coat").iter().map(coat).collect(),
        change: file.tables("change").iter().map(change).collect(),
        flaw: file.tables("flaw").iter().map(flaw).collect(),
        photo: file.tables("photo").iter().map(photo).collect(),
        safety,
        upholstered_on,
        outline: file.table("outline").as_ref().map(outline),
        card_languages: card_languages::chosen(file),
        listing: file.table("listing").as_ref().map(listing),
        sale: file.tables("sale").iter().map(sale).collect(),
        returned: file.tables("return").iter().map(returned).collect(),
        payment: file.tables("payment").iter().map(payment).collect(),
        allowance: file.tables("allowance").iter().map(allowance).collect(),
        salvaged: file.tables("salvaged").iter().map(salvaged).collect(),
        reserved: file.table("reserved").as_ref().map(reserved),
        consigned: file.tables("consigned").iter().map(consigned).collect(),
        withdrawn: file.table("withdrawn").as_ref().map(withdrawn),
        place: file.place,
    }
}

fn apart(table: &Table) -> LoosePart {
    loose_part(table, table.need("part", &Reader { example: "\"mirror\"", ..TEXT }))
}

/// What is left when everything that comes apart is off; it may have no name.
fn remains(table: &Table) -> LoosePart {
    loose_part(table, table.may("part", &TEXT).unwrap_or(At::from(String::new())))
}

fn loose_part(table: &Table, part: At<String>) -> LoosePart {
    LoosePart {
        part,
        width: table.may("width", &LENGTH),
        depth: table.may("depth", &LENGTH),
        height: table.may("height", &LENGTH),
        weight: table.may("weight", &WEIGHT),
        place: table.place,
    }
}

fn bought(table: &Table) -> Bought {
    Bought {
        on: table.need("on", &DATE),
        price: table.need("price", &AMOUNT),
        premium: table.or("premium", &AMOUNT, Decimal::ZERO),
        tax: table.or("tax", &AMOUNT, Decimal::ZERO),
        from: table.may("from", &TEXT).map(|from| from.value),
        receipt: table.receipt(),
        place: table.place,
    }
}

fn wood(table: &Table) -> Wood {
    let species = table.need("species", &Reader { example: "\"white oak\"", ..TEXT });
    let form = table.one_of("form", &WOOD_FORMS);
    Wood {
        part: table.or("part", &TEXT, String::new()),
        species: (species.value.to_lowercase() != "unknown").then_some(species),
        form: form.map_or(WoodForm::Unstated, |form| form.value),
        over: table.may("over", &TEXT).map(|over| over.value),
        sure: table.or("sure", &YES_NO, true),
        stained: table.may("stained", &TEXT).map(|stained| stained.value),
        place: table.place,
    }
}

fn material(table: &Table) -> Material {
    Material {
        part: table.or("part", &TEXT, String::new()),
        of: table.need("of", &Reader { example: "\"cane\"", ..TEXT }),
        place: table.place,
    }
}

fn photo(table: &Table) -> Photo {
    let file = table.need("file", &Reader { example: "\"photos/after-front.jpg\"", ..TEXT });
    let path = table.picture("file", file);
    table.photo_kind(&path);
    Photo {
        path,
        shows: table.may("shows", &TEXT).map(|shows| shows.value),
        moment: table.one_of("moment", &MOMENTS).map_or(Moment::After, |moment| moment.value),
        on: table.may("on", &DATE),
        place: table.place,
    }
}

/// The facts that cautions are decided from, by the facts table.
fn safety(file: &Table) -> (BTreeMap<String, At<String>>, Option<At<NaiveDate>>) {
    let Some(table) = file.table("safety") else { return (BTreeMap::new(), None) };
    let stated = facts().iter().filter_map(|fact| {
        let words: Vec<(&str, &str)> =
            fact.values.iter().map(|value| (value.as_str(), value.as_str())).collect();
        let value = table.one_of(&fact.key, &words)?;
        Some((fact.key.clone(), value.map(str::to_owned)))
    });
    (stated.collect(), table.may("upholstered-on", &DATE))
}

fn outline(table: &Table) -> Outline {
    table.at_most("front", MOST_DRAWN);
    let length = |key| table.may(key, &LENGTH).map(|length| length.value);
    Outline {
        rows: table
            .list("front", &Reader { example: "\"drawer drawer\"", ..TEXT })
            .into_iter()
            .map(|row| row_of(table, row))
            .collect(),
        legs: length("legs"),
        top: length("top"),
        seat: length("seat"),
    }
}

/// A row of the front, "drawer drawer", as its words from left to right.
fn row_of(table: &Table, row: At<String>) -> Vec<String> {
    let words: Vec<String> = row.split_whitespace().map(str::to_owned).collect();
    if words.len() > MOST_DRAWN {
        let message =
            format!("a row has {} parts, and at most {MOST_DRAWN} are drawn", words.len());
        let finding = Finding::error(Code::TooMany, row.place, message).label("too many parts");
        table.document.stand_in(finding.hint("leave out what is too small to draw"));
        return Vec::new();
    }
    for word in words.iter().filter(|word| !ROW_WORDS.contains(&word.as_str())) {
        let message = format!("`{word}` is not something a drawn front can hold");
        let typed = |near: &str| {
            let meant = words.iter().map(|w| if w == word { near } else { w }).collect::<Vec<_>>();
            let row = format!("\"{}\"", meant.join(" "));
            (row.clone(), row)
        };
        let choice = || Hint::say(format!("the words for `front` are {}", ticked(&ROW_WORDS)));
        let hint = meant(word, row.place, ROW_WORDS, typed).unwrap_or_else(choice);
        let finding = Finding::error(Code::UnknownWord, row.place, message);
        table.document.stand_in(finding.label("not a word known here").hint(hint));
    }
    words
}
