//! Naming wood honestly, from its form, how sure it is, its part and its stain.
//!
//! A bare wood name is only printed as solid where the owner said solid; a veneer names what it
//! lies on, or says that this is not known; a stain is a colour and never a wood. After the custom
//! of 16 CFR 250 (rescinded 5 March 2002) and 16 CFR 243; section 5 deception law still applies.

use super::materials;
use super::woods::{panel, protected_in, wood, wood_words};
use super::wording::{agree, capital, says, uncapital, with_article};
use crate::model::{Piece, Wood, WoodForm};

/// What it is made of: "Case and top in solid white oak; the drawer sides appear to be pine; seat in
/// cane."
pub(crate) fn made_of(piece: &Piece) -> Option<String> {
    let woods = piece.wood.iter().map(one);
    let parts: Vec<String> = woods.chain(piece.material.iter().map(materials::phrase)).collect();
    (!parts.is_empty()).then(|| format!("{}.", capital(&parts.join("; "))))
}

fn one(entry: &Wood) -> String {
    let what = phrase(entry);
    let unsure = !entry.sure && entry.species.is_some();
    match (entry.part.is_empty(), unsure) {
        (true, false) => what,
        (true, true) => format!("appears to be {what}"),
        (false, false) => format!("{} in {}", entry.part, in_words(entry, what)),
        (false, true) => {
            let appear = agree(&entry.part, "appears", "appear");
            format!("{} {appear} to be {what}", entry.part)
        }
    }
}

/// "wood not identified" reads as a phrase by itself; after "in" it is a wood that is not.
fn in_words(entry: &Wood, what: String) -> String {
    match (&entry.species, entry.form) {
        (None, WoodForm::Unstated) => what.replacen(NOT_IDENTIFIED, "a wood not identified", 1),
        _ => what,
    }
}

const NOT_IDENTIFIED: &str = "wood not identified";

/// What the part is made of: "walnut veneer over pine, stained dark".
pub(crate) fn phrase(entry: &Wood) -> String {
    let name = entry.species.as_ref().map(|species| printed(&species.value));
    let body = match (entry.form, name) {
        (WoodForm::Solid, Some(name)) => format!("solid {name}"),
        (WoodForm::Solid, None) => "solid wood, species not identified".to_owned(),
        (WoodForm::Unstated, Some(name)) => name,
        (WoodForm::Unstated, None) => NOT_IDENTIFIED.to_owned(),
        (WoodForm::Veneer, name) => veneer(name, entry.over.as_deref()),
        (WoodForm::Plywood, Some(name)) if panel(&name).is_none() => format!("{name} plywood"),
        (WoodForm::Plywood, _) => "plywood".to_owned(),
        (WoodForm::Particleboard, _) => "particleboard".to_owned(),
        (WoodForm::Fibreboard, _) => "fibreboard".to_owned(),
    };
    format!("{body}{}", stained(entry.stained.as_deref()))
}

fn veneer(name: Option<String>, over: Option<&str>) -> String {
    let face = name.map_or("veneer not identified,".to_owned(), |name| format!("{name} veneer"));
    let core = over.map(str::trim).filter(|core| !core.is_empty() && !says(core, "unknown"));
    format!("{face} over {}", core.unwrap_or("an unidentified core"))
}

/// A stain is named as a colour: "dark walnut" becomes "a dark walnut colour".
fn stained(stain: Option<&str>) -> String {
    let Some(stain) = stain.map(str::trim).filter(|stain| !stain.is_empty()) else {
        return String::new();
    };
    let stain = stain.strip_prefix("stained ").unwrap_or(stain);
    let coloured = says(stain, "colour") || says(stain, "color") || says(stain, "tone");
    let names_wood = wood_words().any(|name| says(stain, name));
    match (coloured, names_wood) {
        (true, _) => format!(", stained {}", article_once(stain)),
        (false, true) => format!(", stained {}", article_once(&format!("{stain} colour"))),
        (false, false) => format!(", stained {stain}"),
    }
}

fn article_once(phrase: &str) -> String {
    let stands = ["a ", "an ", "the ", "to "].iter().any(|article| phrase.starts_with(article));
    if stands { phrase.to_owned() } else { with_article(phrase) }
}

/// The wood as an index names it: "white oak", "walnut veneer", "pine, as it appears"; nothing for
/// a wood that is not named and for panels.
pub fn wood_in_index(entry: &Wood) -> Option<String> {
    let name = printed(&entry.species.as_ref()?.value);
    let name = match entry.form {
        WoodForm::Solid | WoodForm::Unstated => name,
        WoodForm::Veneer => format!("{name} veneer"),
        WoodForm::Plywood | WoodForm::Particleboard | WoodForm::Fibreboard => return None,
    };
    Some(if entry.sure { name } else { format!("{name}, as it appears") })
}

/// The name as it may be printed.
pub(crate) fn printed(written: &str) -> String {
    match wood(written) {
        Some(meant) => small(&meant.printed),
        None if protected_in(written).is_some() => {
            format!("a wood sold as “{written}”")
        }
        None => small(written),
    }
}

/// Common words begin small inside a sentence; a name of a place keeps its capital: "white oak",
/// "American cherry".
fn small(name: &str) -> String {
    let proper = |word: &str| wood_words().any(|known| known.split(' ').any(|k| k == word));
    let told = name.split_whitespace().map(|word| match word.starts_with(char::is_uppercase) {
        true if proper(word) => word.to_owned(),
        true => uncapital(word),
        false => word.to_owned(),
    });
    told.collect::<Vec<_>>().join(" ")
}
