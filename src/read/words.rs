//! Words for findings: lists of keys, and what a TOML value is called to an owner.

use crate::model::and_list;
use toml::de::DeValue;

/// "`a`, `b` and `c`".
pub(super) fn ticked<S: AsRef<str>>(words: &[S]) -> String {
    let ticked: Vec<String> = words.iter().map(|word| format!("`{}`", word.as_ref())).collect();
    and_list(&ticked)
}

/// What a value is, for someone who does not know TOML.
pub(super) fn called(value: &DeValue) -> &'static str {
    match value {
        DeValue::String(_) => "text in quotation marks",
        DeValue::Integer(_) | DeValue::Float(_) => "a number",
        DeValue::Boolean(_) => "true or false",
        DeValue::Datetime(_) => "a date",
        DeValue::Array(_) => "a list",
        DeValue::Table(_) => "a table of keys",
    }
}
