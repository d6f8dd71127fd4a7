//! `country` and `state` of shop.toml, by their codes: names are known too, so that the right code
//! can be said. A state's code is never guessed from a near one, which is another state's.

use super::value::{Fault, Reader, Value};
use crate::model::Code;
use serde::Deserialize;
use std::sync::LazyLock;

#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
struct Region {
    code: String,
    names: Vec<String>,
    #[serde(default)]
    states: Vec<State>,
}

#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
struct State {
    code: String,
    name: String,
}

#[derive(Deserialize)]
struct Table {
    country: Vec<Region>,
}

static TABLE: LazyLock<Vec<Region>> = LazyLock::new(|| {
    toml::from_str::<Table>(include_str!("tables/places.toml")).expect("embedded").country
});

pub(super) const COUNTRY: Reader<String> =
    Reader { what: "a country's code", example: "\"us\"", stand_in: String::new, read: country };

pub(super) const STATE: Reader<String> = Reader {
    what: "a state's code",
    example: "\"oh\" for Ohio",
    stand_in: String::new,
    read: |value| state(value),
};

/// Two letters, as of ISO 3166.
fn country(value: &Value) -> Result<String, Fault> {
    let code = value.text()?.trim().to_lowercase();
    let named = |region: &&Region| region.names.contains(&code);
    let two_letters = code.len() == 2 && code.bytes().all(|b| b.is_ascii_lowercase());
    match TABLE.iter().find(named) {
        None if two_letters => Ok(code),
        named => {
            let message = format!("`{code}` is not a country's code of two letters");
            let fault = Fault::new(Code::Country, message).label("two letters, as of ISO 3166");
            Err(match named {
                Some(region) => fault.write(format!("\"{}\"", region.code)),
                None => fault.such_as("\"us\""),
            })
        }
    }
}

/// Two or three letters or digits, as the second half of an ISO 3166-2 code.
fn state(value: &Value) -> Result<String, Fault> {
    let written = value.text()?.trim();
    let code = written.to_lowercase();
    let short = (1..=3).contains(&code.len()) && code.bytes().all(|b| b.is_ascii_alphanumeric());
    let states = || TABLE.iter().flat_map(|region| &region.states);
    let named: Vec<&State> = states()
        .filter(|state| {
            let with_country = code.split_once('-').is_some_and(|(_, own)| own == state.code);
            state.name.to_lowercase() == code || with_country
        })
        .collect();
    if short && named.is_empty() {
        return Ok(code);
    }
    let fault = Fault::new(Code::State, format!("`{written}` is not a state's code"));
    let fault = fault.label("its short code, as in an address");
    Err(match named.as_slice() {
        [state] => fault.write(format!("\"{}\"", state.code)),
        _ => fault.such_as("\"oh\" for Ohio"),
    })
}

/// Whether a code is one of a country's states; a country without states here takes any.
pub(super) fn is_state(country: &str, code: &str) -> bool {
    let region = TABLE.iter().find(|region| region.code == country && !region.states.is_empty());
    region.is_none_or(|region| region.states.iter().any(|state| state.code == code))
}
