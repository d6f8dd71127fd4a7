//! What parts are made of besides wood: the table of materials, and what is said of them.

use super::table::embedded;
use super::wording::flat;
use crate::model::{At, Code, Finding, Hint, Material, nearest};
use serde::Deserialize;
use std::collections::HashMap;
use std::sync::LazyLock;

#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
struct Row {
    name: String,
    #[serde(default)]
    aliases: Vec<String>,
}

#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
struct Table {
    material: Vec<Row>,
}

/// Every word of the table with the name of its row.
static ROWS: LazyLock<HashMap<String, String>> = LazyLock::new(|| {
    let table: Table = embedded("materials", include_str!("tables/materials.toml"));
    let words = table.material.into_iter().flat_map(|row| {
        let words = row.aliases.into_iter().chain([row.name.clone()]);
        words.map(move |word| (flat(&word), row.name.clone()))
    });
    words.collect()
});

/// The material an owner's word means; nothing for one the table has not.
pub(crate) fn material(written: &At<String>) -> Option<&'static str> {
    ROWS.get(&flat(&written.value)).map(String::as_str)
}

/// "seat in cane"; a material of the whole piece by itself.
pub(crate) fn phrase(entry: &Material) -> String {
    let of = entry.of.value.trim();
    if entry.part.is_empty() { of.to_owned() } else { format!("{} in {of}", entry.part) }
}

/// A word the table has not, but for a slip of the hand: what it is, its care would be silent.
pub(crate) fn misspelt(entry: &Material) -> Option<Finding> {
    if material(&entry.of).is_some() {
        return None;
    }
    let written = &entry.of.value;
    let message =
        format!("`{written}` is not in the table of materials: nothing is said of its care");
    let words = ROWS.keys().map(|word| word.trim());
    Some(match nearest(written, words) {
        Some(near) => Finding::warning(Code::UnknownMaterial, entry.of.place, message)
            .hint(Hint::either(&[format!("of = \"{near}\"")])),
        None => Finding::advice(Code::UnknownMaterial, entry.of.place, message)
            .hint(Hint::say("it is printed as written; add its care to your `story`")),
    })
}
