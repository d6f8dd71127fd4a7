//! Words for findings: lists of keys, and what a TOML value is called to an owner.

use crate::model::{and_list, nearest};
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
        DeValue::Integer(_) => "a number",
        DeValue::Float(_) => "a number with decimals",
        DeValue::Boolean(true) => "the word `true`",
        DeValue::Boolean(false) => "the word `false`",
        DeValue::Datetime(written) if written.date.is_none() => "a time of day",
        DeValue::Datetime(_) => "a date",
        DeValue::Array(_) => "a list",
        DeValue::Table(_) => "a table of keys",
    }
}

/// "`key = "a"`, `"b"` or `"c"`": one of these words, as it is typed.
pub(super) fn typed_choice<S: AsRef<str>>(key: &str, words: &[S]) -> String {
    let quoted = |word: &S| format!("`\"{}\"`", word.as_ref());
    let Some((first, others)) = words.split_first() else { return format!("`{key} = …`") };
    let mut choice = format!("`{key} = \"{}\"`", first.as_ref());
    for (index, word) in others.iter().enumerate() {
        choice += if index + 1 == others.len() { " or " } else { ", " };
        choice += &quoted(word);
    }
    choice
}

/// The known word that was probably meant: the nearest one, or the only one that holds what was
/// written as one of its parts: `rate` for `shop-rate`. A word of two letters is near to too many.
pub(super) fn meant<'a>(written: &str, known: impl Iterator<Item = &'a str>) -> Option<&'a str> {
    let known: Vec<&str> = known.collect();
    let same = |word: &&str| word.eq_ignore_ascii_case(written);
    let long = known.iter().copied().filter(|word| word.len() > 2 || same(word));
    nearest(written, long).or_else(|| {
        let holds = |word: &&&str| word.split(['-', ' ']).any(|part| part == written);
        let mut holding = known.iter().filter(holds);
        holding.next().copied().filter(|_| holding.next().is_none())
    })
}
