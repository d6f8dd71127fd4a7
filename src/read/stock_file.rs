//! `stock.toml`: the consumables kept in the shop and the unit each is counted in.

use super::assemble::ALL_TOLD;
use super::damage::Damage;
use super::load::Taken;
use super::table::{OwnKey, Table};
use super::text::TEXT;
use super::value::{Fault, Reader};
use super::words::ticked;
use crate::model::{Code, Place, StockItem, Unit, nearest};
use std::collections::BTreeMap;

const UNIT: Reader<Unit> = Reader {
    what: "a unit in quotation marks",
    example: "\"fl oz\"",
    stand_in: || Unit::named("each").expect("in the table"),
    read: |value| {
        let word = value.text()?;
        Unit::named(word).ok_or_else(|| {
            let message = format!("`{word}` is not a unit known here");
            let fault = Fault::new(Code::UnknownUnit, message).label("not a known unit");
            let plain = Unit::named(&word.replace('.', "")).map(|unit| unit.name);
            match plain.or_else(|| nearest(word, Unit::spellings())) {
                Some(near) => fault.write(format!("\"{near}\"")),
                None => {
                    let names: Vec<&str> = Unit::names().collect();
                    fault.say(format!("the units are {}", ticked(&names)))
                }
            }
        })
    },
};

/// Every `[KEY]` of the file.
pub(super) fn stock(file: &Table) -> BTreeMap<String, StockItem> {
    let read = |own: &OwnKey| Some((own.key.value.to_owned(), item(own, &file.own_table(own)?)));
    file.own_keys().iter().filter_map(read).collect()
}

/// Of a file with errors the items without one stand.
pub(super) fn keep_sound(taken: &mut Taken<BTreeMap<String, StockItem>>) {
    let errors = taken.findings.iter().filter(|finding| finding.is_error());
    let errors: Vec<Place> = errors.map(|finding| finding.place).collect();
    let Some(items) = taken.value.as_mut().filter(|_| !errors.is_empty()) else { return };
    let starts = items.values().map(|item| item.place.start).collect();
    let damage = Damage::of(&taken.text, &errors, &starts);
    let all_told = taken.findings.len() < ALL_TOLD;
    items.retain(|_, item| all_told && !damage.touches(item.place));
}

fn item(own: &OwnKey, table: &Table) -> StockItem {
    StockItem {
        key: own.key.value.to_owned(),
        label: table.or("label", &TEXT, own.key.value.to_owned()),
        unit: table.need("unit", &UNIT).value,
        place: table.place,
    }
}
