//! `card-languages`, in shop.toml and in a piece's file: the languages of the care card beside
//! English.

use super::table::Table;
use super::value::{Fault, Reader, Value};
use crate::model::{CardLanguage, Code, and_list, card_languages, nearest};

/// One language by its code.
const LANGUAGE: Reader<String> =
    Reader { what: "a language's code", example: "\"es\"", stand_in: String::new, read: code };

/// The languages chosen; nothing where the key is left out, which an empty list is not.
pub(super) fn chosen(table: &Table) -> Option<Vec<String>> {
    let key = "card-languages";
    table.find(key)?;
    Some(table.list(key, &LANGUAGE).into_iter().map(|language| language.value).collect())
}

fn code(value: &Value) -> Result<String, Fault> {
    let written = value.text()?.trim();
    if card_languages().iter().any(|language| language.code == written) {
        return Ok(written.to_owned());
    }
    let language = written.to_lowercase();
    if matches!(language.as_str(), "en" | "english") {
        let message = "the care card in English is always made, beside those of `card-languages`";
        let fault = Fault::new(Code::UnknownLanguage, message).label("not needed");
        return Err(fault.say(format!("remove `\"{written}\"` from the list")));
    }
    let told: Vec<String> =
        card_languages().iter().map(|known| format!("`{}` ({})", known.code, known.name)).collect();
    let message =
        format!("the care card is not made in `{written}`: it can be made in {}", and_list(&told));
    let fault = Fault::new(Code::UnknownLanguage, message).label("not a language known here");
    Err(match meant(&language) {
        Some(near) => fault.write(format!("\"{}\"", near.code)),
        None => fault.say("remove it from the list"),
    })
}

/// The language whose code or name is nearest to what was written.
fn meant(written: &str) -> Option<&'static CardLanguage> {
    let words = |language: &'static CardLanguage| {
        let others = language.names.iter().map(String::as_str);
        others.chain([language.code.as_str(), language.name.as_str()])
    };
    let near = nearest(written, card_languages().iter().flat_map(words))?;
    card_languages().iter().find(|language| words(language).any(|word| word == near))
}
