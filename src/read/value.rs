//! How a single value is read: one reader per kind of value, each with an example to type.

use super::setting::Setting;
use super::text::TEXT;
use super::words::called;
use crate::model::{
    Code, Hours, Length, LengthUnit, Made, Quantity, Unit, parse_hours, parse_length, parse_made,
    parse_weight,
};
use rust_decimal::Decimal;
use std::borrow::Cow;
use std::fmt::Display;
use toml::de::DeValue;

/// What a kind of value is called, what it looks like, and how it is read.
pub(super) struct Reader<T> {
    /// "an amount of money".
    pub what: &'static str,
    pub example: &'static str,
    /// Takes the place of a value that cannot be read; see [`super::document`].
    pub stand_in: fn() -> T,
    pub read: fn(&Value) -> Result<T, Fault>,
}

/// A value with what is needed to read it and to speak of it.
pub(super) struct Value<'a> {
    pub key: &'a str,
    pub value: &'a DeValue<'a>,
    pub setting: &'a Setting,
    pub what: &'static str,
    pub example: &'static str,
}

/// What is wrong with a value; the table knows where it stands.
pub(super) struct Fault {
    pub code: Code,
    pub message: String,
    pub label: String,
    /// The reader's own example where there is nothing better.
    pub cure: Option<Cure>,
}

/// What to do about a value, by the law of [`Hint`](crate::model::Hint); values as they are typed.
pub(super) enum Cure {
    Write(String),
    Either(Vec<String>),
    SuchAs(String),
    Say(String),
}

impl Cure {
    /// One reading is what was meant; several are asked about; with none there is only an example.
    pub fn of(mut readings: Vec<String>) -> Option<Cure> {
        match readings.len() {
            0 => None,
            1 => readings.pop().map(Cure::Write),
            _ => Some(Cure::Either(readings)),
        }
    }
}

impl Fault {
    pub fn new(code: Code, message: impl Into<String>) -> Fault {
        Fault { code, message: message.into(), label: String::new(), cure: None }
    }

    pub fn label(self, label: impl Into<String>) -> Fault {
        Fault { label: label.into(), ..self }
    }

    /// What was surely meant.
    pub fn write(self, value: impl Display) -> Fault {
        self.cure(Some(Cure::Write(value.to_string())))
    }

    /// An example of a value.
    pub fn such_as(self, value: impl Display) -> Fault {
        self.cure(Some(Cure::SuchAs(value.to_string())))
    }

    pub fn say(self, words: impl Into<String>) -> Fault {
        self.cure(Some(Cure::Say(words.into())))
    }

    pub fn cure(self, cure: Option<Cure>) -> Fault {
        Fault { cure, ..self }
    }
}

impl Value<'_> {
    pub fn wrong_type(&self) -> Fault {
        let (key, what, called) = (self.key, self.what, called(self.value));
        let message = format!("`{key}` must be {what}, and this is {called}");
        Fault::new(Code::WrongType, message).label(format!("not {what}"))
    }

    /// The characters of a text. Where any text will do, a number only needs quotation marks.
    pub fn text(&self) -> Result<&str, Fault> {
        self.value.as_str().ok_or_else(|| match self.number_or_text() {
            Ok(digits) if self.what == TEXT.what => {
                self.wrong_type().write(format!("\"{digits}\""))
            }
            _ => self.wrong_type(),
        })
    }

    /// The digits of a number as typed, or the characters of a text.
    pub fn number_or_text(&self) -> Result<Cow<'_, str>, Fault> {
        match self.value {
            DeValue::String(text) if text.trim().is_empty() => Err(self.empty()),
            DeValue::String(text) => Ok(Cow::Borrowed(text)),
            DeValue::Float(number) => Ok(Cow::Borrowed(number.as_str())),
            DeValue::Integer(number) => Ok(Cow::Owned(number.to_string())),
            _ => Err(self.wrong_type()),
        }
    }

    pub fn empty(&self) -> Fault {
        let fault = Fault::new(Code::EmptyText, format!("`{}` is empty", self.key));
        let fault = fault.label("nothing between the quotation marks");
        match self.example == TEXT.example {
            true => fault.say("put the text between them, or remove the line"),
            false => fault.such_as(self.example),
        }
    }

    pub fn is_number(&self) -> bool {
        matches!(self.value, DeValue::Integer(_) | DeValue::Float(_))
    }
}

pub(super) const LENGTH: Reader<Length> = Reader {
    what: "a length",
    example: "\"36 1/4 in\"",
    stand_in: || Length::from_inches(1.into()),
    read: |value| {
        let text = value.number_or_text()?;
        parse_length(&text, value.setting.units).map_err(|says| Fault::new(Code::Length, says))
    },
};

pub(super) const WEIGHT: Reader<Quantity> =
    Reader { what: "a weight", example: "\"64 lb\"", stand_in: no_weight, read: weight };

pub(super) const HOURS: Reader<Hours> = Reader {
    what: "a number of hours",
    example: "\"2h30\"",
    stand_in: || Hours::ZERO,
    read: |value| {
        let text = value.number_or_text()?;
        parse_hours(&text).map_err(|says| Fault::new(Code::Hours, says))
    },
};

pub(super) const MADE: Reader<Made> = Reader {
    what: "a year",
    example: "\"about 1910\"",
    stand_in: || Made::Unknown,
    read: |value| {
        let text = value.number_or_text()?;
        parse_made(&text).map_err(|says| Fault::new(Code::Made, says))
    },
};

pub(super) const DISTANCE: Reader<Decimal> =
    Reader { what: "a distance", example: "12.5", stand_in: || Decimal::ZERO, read: plain_number };

pub(super) const AREA: Reader<Decimal> =
    Reader { what: "an area", example: "180", stand_in: || Decimal::ZERO, read: plain_number };

pub(super) const SHARE: Reader<Decimal> = Reader {
    what: "a share above zero",
    example: "1",
    stand_in: || Decimal::ONE,
    read: |value| match plain_number(value)? {
        share if share.is_zero() => {
            let message = format!("the share of `{}` is zero, so it would cost nothing", value.key);
            Err(Fault::new(Code::LotShare, message).label("no share"))
        }
        share => Ok(share),
    },
};

pub(super) const YES_NO: Reader<bool> =
    Reader { what: "true or false", example: "true", stand_in: || false, read: yes_or_no };

fn yes_or_no(value: &Value) -> Result<bool, Fault> {
    value.value.as_bool().ok_or_else(|| {
        let fault = value.wrong_type();
        match value.value.as_str().map(|word| word.trim().to_lowercase()).as_deref() {
            Some("no" | "false" | "n") => fault.write(false),
            Some("yes" | "true" | "y") => fault.write(true),
            _ => fault.cure(Some(Cure::Either(vec!["true".to_owned(), "false".to_owned()]))),
        }
    })
}

fn weight(value: &Value) -> Result<Quantity, Fault> {
    let text = value.number_or_text()?;
    if value.is_number() && value.setting.units == LengthUnit::Centimetre {
        let message = format!("`{}` has no unit, and this shop measures in centimetres", value.key);
        let readings = ["kg", "lb"].map(|unit| format!("\"{text} {unit}\""));
        return Err(Fault::new(Code::Weight, message).cure(Some(Cure::Either(readings.into()))));
    }
    parse_weight(&text).map_err(|says| Fault::new(Code::Weight, says))
}

fn no_weight() -> Quantity {
    Quantity { amount: Decimal::ZERO, unit: Unit::named("lb").expect("in the table") }
}

/// Units that go without saying behind miles and square feet.
const UNITS: [&str; 6] = ["miles", "mile", "mi", "square feet", "sq ft", "sqft"];

fn plain_number(value: &Value) -> Result<Decimal, Fault> {
    let typed = value.number_or_text()?;
    number(&typed).ok_or_else(|| {
        let fault = Fault::new(Code::Number, format!("`{typed}` is not {}", value.what));
        let bare = UNITS.iter().find_map(|unit| typed.trim().strip_suffix(unit));
        let bare = bare.map(|bare| bare.trim().replace(',', ""));
        fault.label("not a number here").cure(bare.filter(|b| number(b).is_some()).map(Cure::Write))
    })
}

/// A number of at most twelve digits, none of them a sign or an exponent.
pub(super) fn number(typed: &str) -> Option<Decimal> {
    let plain = typed.bytes().all(|b| b.is_ascii_digit() || b == b'.') && typed.len() <= 13;
    let number = plain.then(|| Decimal::from_str_exact(typed).ok()).flatten()?;
    (number < Decimal::from(10_000_000) && number.scale() <= 6).then_some(number)
}
