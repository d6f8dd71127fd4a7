//! Reading the tables that ship with this floor: dates, decimals and sizes inside them. A table
//! that does not read is a fault of the program, so it stops the first test that touches it.

use crate::model::{Length, LengthUnit, Quantity, parse_length, parse_weight};
use chrono::NaiveDate;
use rust_decimal::Decimal;
use serde::de::{DeserializeOwned, Error};
use serde::{Deserialize, Deserializer};

/// How well a row is known.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Deserialize)]
#[serde(rename_all = "kebab-case")]
pub enum Seen {
    /// Read in the publisher's own page or file.
    Own,
    /// Read in a page about it.
    Secondary,
    /// From memory: not seen.
    Memory,
    /// What the shop itself says or decided.
    Shop,
}

/// An embedded table.
pub(crate) fn embedded<T: DeserializeOwned>(name: &str, text: &str) -> T {
    toml::from_str(text).unwrap_or_else(|error| panic!("embedded table {name}: {error}"))
}

/// A TOML date.
pub(crate) fn date<'de, D: Deserializer<'de>>(from: D) -> Result<NaiveDate, D::Error> {
    let written = toml::value::Datetime::deserialize(from)?;
    let day = written.date.ok_or_else(|| D::Error::custom("no date"))?;
    NaiveDate::from_ymd_opt(day.year.into(), day.month.into(), day.day.into())
        .ok_or_else(|| D::Error::custom("no day of the calendar"))
}

pub(crate) fn some_date<'de, D: Deserializer<'de>>(from: D) -> Result<Option<NaiveDate>, D::Error> {
    date(from).map(Some)
}

/// A decimal written as a string, so that its digits stay as typed.
pub(crate) fn decimal<'de, D: Deserializer<'de>>(from: D) -> Result<Decimal, D::Error> {
    Decimal::from_str_exact(&String::deserialize(from)?).map_err(D::Error::custom)
}

pub(crate) fn some_decimal<'de, D: Deserializer<'de>>(
    from: D,
) -> Result<Option<Decimal>, D::Error> {
    decimal(from).map(Some)
}

pub(crate) fn length<'de, D: Deserializer<'de>>(from: D) -> Result<Length, D::Error> {
    parse_length(&String::deserialize(from)?, LengthUnit::Inch).map_err(D::Error::custom)
}

pub(crate) fn some_length<'de, D: Deserializer<'de>>(from: D) -> Result<Option<Length>, D::Error> {
    length(from).map(Some)
}

pub(crate) fn some_weight<'de, D: Deserializer<'de>>(
    from: D,
) -> Result<Option<Quantity>, D::Error> {
    parse_weight(&String::deserialize(from)?).map(Some).map_err(D::Error::custom)
}

pub(crate) fn some_day<'de, D: Deserializer<'de>>(from: D) -> Result<Option<NaiveDate>, D::Error> {
    String::deserialize(from)?.parse().map(Some).map_err(D::Error::custom)
}
