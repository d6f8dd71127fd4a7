//! Words for findings: lists of keys, and what a TOML value is called to an owner.

use crate::model::{Edit, Hint, Place, and_list, nearest};
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

/// What to do about a word that is none of the known ones: the only near one is written; one that
/// merely begins with it or holds it, `shop-rate` for `rate`, is asked about. `line` shows a word
/// as it is typed, and the edit puts its second half in the place of what was written.
pub(super) fn meant<'a>(
    written: &str,
    place: Place,
    known: impl IntoIterator<Item = &'a str>,
    typed: impl Fn(&str) -> (String, String),
) -> Option<Hint> {
    let known: Vec<&str> = known.into_iter().collect();
    if let Some(near) = nearest(written, known.iter().copied()) {
        let (line, text) = typed(near);
        return Some(Hint::write(&line, Edit { place, text }));
    }
    let holds = |word: &&&str| {
        let begins = written.len() > 2 && word.starts_with(written);
        begins || word.split(['-', ' ']).any(|part| part == written)
    };
    let mut holding = known.iter().filter(holds);
    let only = holding.next().filter(|_| holding.next().is_none())?;
    Some(Hint::either(&[typed(only).0]))
}

/// A word as the value of a key.
pub(super) fn as_value(key: &str) -> impl Fn(&str) -> (String, String) {
    move |word| (format!("{key} = \"{word}\""), format!("\"{word}\""))
}
