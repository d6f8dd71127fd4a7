//! How things are said in English: dates, sizes, money, lists, articles and sentences. Pure text
//! helpers, for this floor and for the floors to its right.

use super::languages::english;
use super::table::embedded;
use crate::model::{Currency, Length, LengthUnit, Money, grouped};
use chrono::NaiveDate;
use serde::Deserialize;
use std::sync::LazyLock;

/// A space at which no line breaks.
pub const NO_BREAK: char = '\u{a0}';

#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
struct Grammar {
    prepositions: Vec<String>,
    plurals: Vec<String>,
    singulars: Vec<String>,
    determiners: Vec<String>,
    secondary: Vec<String>,
    numbers: Vec<String>,
    proper: Vec<String>,
    /// Words that deny what follows them.
    negations: Vec<String>,
    /// Words for all of a piece, which are no name of a part.
    all: Vec<String>,
}

static GRAMMAR: LazyLock<Grammar> =
    LazyLock::new(|| embedded("grammar", include_str!("tables/grammar.toml")));

/// "11 March 2026".
pub fn date(on: NaiveDate) -> String {
    english().date(on)
}

/// "three" up to twelve, then figures.
pub fn number(n: u32) -> String {
    GRAMMAR.numbers.get(n as usize).cloned().unwrap_or_else(|| n.to_string())
}

/// "$1,250.00": the currency's symbol, thousands apart, its own decimals; a true minus before it.
pub fn money(amount: Money, currency: &Currency) -> String {
    let figure = grouped(amount, currency.decimals);
    match figure.strip_prefix('−') {
        Some(digits) => format!("−{}{digits}", currency.symbol),
        None => format!("{}{figure}", currency.symbol),
    }
}

/// Fractions of an inch in sixteenths: as set, and as said.
const SIXTEENTHS: [(&str, &str); 16] = [
    ("", ""),
    ("1/16", "one sixteenth"),
    ("⅛", "an eighth"),
    ("3/16", "three sixteenths"),
    ("¼", "a quarter"),
    ("5/16", "five sixteenths"),
    ("⅜", "three eighths"),
    ("7/16", "seven sixteenths"),
    ("½", "a half"),
    ("9/16", "nine sixteenths"),
    ("⅝", "five eighths"),
    ("11/16", "eleven sixteenths"),
    ("¾", "three quarters"),
    ("13/16", "thirteen sixteenths"),
    ("⅞", "seven eighths"),
    ("15/16", "fifteen sixteenths"),
];

/// `36¼`, `31 5/16` (with a no-break space), `½`: inches to the nearest sixteenth, without a unit.
pub fn inches(length: Length) -> String {
    let (whole, sixteenths) = length.inches_and_sixteenths();
    let fraction = SIXTEENTHS[sixteenths as usize].0;
    match (whole, fraction.contains('/')) {
        (0, _) if !fraction.is_empty() => fraction.to_owned(),
        (_, true) => format!("{whole}{NO_BREAK}{fraction}"),
        _ => format!("{whole}{fraction}"),
    }
}

/// "92", in whole centimetres; "0.6" below an inch, where a whole one would be no measure.
pub fn centimetres(length: Length) -> String {
    if length.inches() >= 1.into() {
        return length.whole_centimetres().to_string();
    }
    let millimetres = length.millimetres().round().to_integer();
    format!("{}.{}", millimetres / 10, millimetres % 10)
}

/// A length as it is read aloud, in the shop's unit: "36 and a quarter inches", "92 centimetres".
pub fn spoken(length: Length, units: LengthUnit) -> String {
    match units {
        LengthUnit::Inch => inches_spoken(length),
        LengthUnit::Centimetre => match centimetres(length).as_str() {
            "1" => "1 centimetre".to_owned(),
            figure => format!("{figure} centimetres"),
        },
    }
}

/// "36 and a quarter inches", "1 inch", "three eighths of an inch".
fn inches_spoken(length: Length) -> String {
    let (whole, sixteenths) = length.inches_and_sixteenths();
    match (whole, SIXTEENTHS[sixteenths as usize].1) {
        (1, "") => "1 inch".to_owned(),
        (_, "") => format!("{whole} inches"),
        (0, fraction) => format!("{fraction} of an inch"),
        (_, fraction) => format!("{whole} and {fraction} inches"),
    }
}

/// "65 °F (18 °C)" as "18 °C (65 °F)", for shops that measure so: of the measures that the tables write
/// in both systems.
pub fn metric_first(text: &str) -> String {
    let mut words: Vec<String> = text.split(' ').map(str::to_owned).collect();
    for at in 0..words.len().saturating_sub(3) {
        let [figure, unit, metric, end] = &words[at..at + 4] else { continue };
        let (Some(metric), Some((metric_unit, rest))) =
            (metric.strip_prefix('('), end.split_once(')'))
        else {
            continue;
        };
        if CUSTOMARY.contains(&unit.as_str()) {
            let turned = [metric, metric_unit, &format!("({figure}"), &format!("{unit}){rest}")]
                .map(str::to_owned);
            words.splice(at..at + 4, turned);
        }
    }
    words.join(" ")
}

/// Units of the tables beside which a metric one stands.
const CUSTOMARY: [&str; 4] = ["°F", "in", "lb", "ft"];

/// Writes measures of the owner's as they are printed: "2 1/8 in" is "2⅛ in". Only before a word
/// for inches: elsewhere 1/2 may be a day or a share.
pub fn with_fractions(text: &str) -> String {
    let words: Vec<&str> = text.split(' ').collect();
    let mut said: Vec<String> = Vec::with_capacity(words.len());
    for (i, word) in words.iter().enumerate() {
        let measured = words.get(i + 1).is_some_and(|next| is_inches(next));
        match built_fraction(word).filter(|_| measured) {
            Some(fraction) => match said.last_mut().filter(|last| is_whole(last)) {
                Some(whole) => whole.push_str(fraction),
                None => said.push(fraction.to_owned()),
            },
            None => said.push((*word).to_owned()),
        }
    }
    said.join(" ")
}

fn is_inches(word: &str) -> bool {
    matches!(word.trim_end_matches(|c: char| !c.is_alphabetic()), "in" | "inch" | "inches")
}

fn is_whole(word: &str) -> bool {
    !word.is_empty() && word.bytes().all(|byte| byte.is_ascii_digit())
}

/// The one character for a fraction of an inch, where there is one.
fn built_fraction(word: &str) -> Option<&'static str> {
    let (top, bottom) = word.split_once('/')?;
    let (top, bottom): (usize, usize) = (top.parse().ok()?, bottom.parse().ok()?);
    let sixteenths = (matches!(bottom, 2 | 4 | 8) && top < bottom).then(|| top * 16 / bottom)?;
    Some(SIXTEENTHS[sixteenths].0).filter(|character| !character.is_empty())
}

/// With its first letter a capital; the rest as written.
pub fn capital(text: &str) -> String {
    let mut rest = text.chars();
    match rest.next() {
        Some(first) => first.to_uppercase().chain(rest).collect(),
        None => String::new(),
    }
}

/// With its first letter small, as inside a sentence; abbreviations and proper words keep theirs.
pub fn uncapital(text: &str) -> String {
    let first_word = words(text).next().map(|word| capital(&word)).unwrap_or_default();
    let abbreviation = text.chars().nth(1).is_some_and(char::is_uppercase);
    if GRAMMAR.proper.contains(&first_word) {
        return capital(text);
    }
    let mut rest = text.chars();
    match rest.next() {
        Some(first) if !abbreviation => first.to_lowercase().chain(rest).collect(),
        _ => text.to_owned(),
    }
}

/// A whole sentence: trimmed, a capital first, one full stop at the end unless it ends by itself.
pub fn sentence(text: &str) -> String {
    let text = &with_fractions(text.trim());
    let ended = text.trim_end_matches(['”', '"', ')', '\'', '’']).ends_with(['.', '!', '?', '…']);
    let stop = if ended || text.is_empty() { "" } else { "." };
    format!("{}{stop}", capital(text.trim_end_matches([',', ';', ':'])))
}

/// Sentences one after the other.
pub fn run_on<S: AsRef<str>>(sentences: &[S]) -> String {
    sentences.iter().map(AsRef::as_ref).collect::<Vec<_>>().join(" ")
}

/// "a table", "an oak table"; the vowel is judged by its letter, but "one" and "u-" sounds are not.
pub fn with_article(noun: &str) -> String {
    let lower = noun.to_lowercase();
    let like_you = ["uni", "use", "one", "euro"].iter().any(|start| lower.starts_with(start));
    let vowel = lower.starts_with(['a', 'e', 'i', 'o', 'u']) && !like_you;
    format!("{} {noun}", if vowel { "an" } else { "a" })
}

/// "the left rear leg"; left alone where an article or number stands already.
pub fn with_the(part: &str) -> String {
    let first = part.split_whitespace().next().unwrap_or("").to_lowercase();
    let stands =
        GRAMMAR.determiners.contains(&first) || first.starts_with(|c: char| c.is_numeric());
    if stands { part.to_owned() } else { format!("the {part}") }
}

/// Whether a part is more than one thing: "case and top", "two of the knobs", "rear feet".
pub fn is_plural(part: &str) -> bool {
    let part = part.to_lowercase();
    let words: Vec<&str> = part.split_whitespace().collect();
    let preposition = |word: &&str| GRAMMAR.prepositions.iter().any(|p| p == word);
    let head = words.split(preposition).next().unwrap_or_default();
    let number = |word: &str| word.parse::<u32>().is_ok_and(|n| n > 1);
    let many = |word: &str| GRAMMAR.plurals.iter().any(|p| p == word) || number(word);
    let last = head.last().copied().unwrap_or("");
    let ends_so = last.ends_with('s') && !last.ends_with("ss") && !last.ends_with("'s");
    let singular = GRAMMAR.singulars.iter().any(|s| s == last);
    head.contains(&"and") || head.iter().any(|word| many(word)) || (ends_so && !singular)
}

/// "is" or "are", "has" or "have", by the part's number.
pub fn agree<'a>(part: &str, one: &'a str, many: &'a str) -> &'a str {
    if is_plural(part) { many } else { one }
}

/// Whether a word is one before which a part's own name ends: "of", "under".
pub(crate) fn is_preposition(word: &str) -> bool {
    GRAMMAR.prepositions.iter().any(|preposition| preposition == word)
}

/// Whether a part's name stands for the whole piece: "all", "throughout".
pub(crate) fn is_all(part: &str) -> bool {
    let part = part.trim().to_lowercase();
    part.is_empty() || GRAMMAR.all.contains(&part)
}

/// Whether a part is inside or behind, so that its finish is not the piece's face.
pub(crate) fn is_secondary(part: &str) -> bool {
    words(part).any(|word| GRAMMAR.secondary.contains(&word))
}

/// The words of a text in lower case, hyphens and apostrophes taken as part of a word.
pub(crate) fn words(text: &str) -> impl Iterator<Item = String> + '_ {
    text.split(|c: char| !(c.is_alphanumeric() || matches!(c, '-' | '\'' | '’')))
        .filter(|word| !word.is_empty())
        .map(str::to_lowercase)
}

/// Whether a phrase stands in a text as whole words; hyphens and spaces are the same, case is not
/// looked at, and a phrase that ends in `%` may go on.
pub(crate) fn says(text: &str, phrase: &str) -> bool {
    if !may_say(text, phrase) {
        return false;
    }
    let text = flat(text);
    let (phrase, open) = match phrase.strip_suffix('%') {
        Some(stem) => (flat(stem), true),
        None => (flat(phrase), false),
    };
    let wanted = if open { phrase.trim_end().to_owned() } else { phrase };
    wanted.trim() != "" && text.contains(&wanted)
}

/// Whether a flattened text says a flattened phrase and does not deny it just before: "nothing
/// sanded" and "not to be stripped" tell of no work.
pub(crate) fn affirms(text: &str, phrase: &str) -> bool {
    text.match_indices(phrase).any(|(at, _)| {
        let before = text[..at].split(' ').rev().filter(|word| !word.is_empty());
        !before.take(3).any(|word| GRAMMAR.negations.iter().any(|not| not == word))
    })
}

/// Whether the first letters of a phrase stand in a text at all: quick, and nearly always no. The
/// tables ask hundreds of phrases of every text.
fn may_say(text: &str, phrase: &str) -> bool {
    let head = phrase.trim_start().as_bytes();
    let letters = head.iter().take_while(|byte| byte.is_ascii_alphanumeric()).count();
    if letters == 0 || !text.is_ascii() || text.contains('\'') {
        return true;
    }
    let head = &head[..letters];
    let first = [head[0].to_ascii_lowercase(), head[0].to_ascii_uppercase()];
    let text = text.as_bytes();
    let mut starts = (0..text.len()).filter(|&at| first.contains(&text[at]));
    starts
        .any(|at| text.get(at..at + letters).is_some_and(|found| found.eq_ignore_ascii_case(head)))
}

/// Lower case, single spaces between words and one at each end; all other characters are spaces.
pub(crate) fn flat(text: &str) -> String {
    let mut flat = String::with_capacity(text.len() + 2);
    flat.push(' ');
    for c in text.chars() {
        if c.is_ascii_alphanumeric() {
            flat.push(c.to_ascii_lowercase());
        } else if c.is_alphanumeric() {
            flat.extend(c.to_lowercase());
        } else if !flat.ends_with(' ') && !matches!(c, '\'' | '’') {
            flat.push(' ');
        }
    }
    if !flat.ends_with(' ') {
        flat.push(' ');
    }
    flat
}

/// The position just after a phrase's last whole-word place in a text, both flattened.
pub(crate) fn last_end(flat_text: &str, phrase: &str) -> Option<usize> {
    let phrase = flat(phrase);
    flat_text.rfind(&phrase).map(|start| start + phrase.len())
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn measures_of_the_owner_get_built_fractions_and_nothing_else_does() {
        assert_eq!(with_fractions("a ring 2 1/8 in across"), "a ring 2⅛ in across");
        assert_eq!(
            with_fractions("worn 1/4 in short, 3/16 in deep"),
            "worn ¼ in short, 3/16 in deep"
        );
        assert_eq!(with_fractions("sold 1/2 of them, 5 1/2 in."), "sold 1/2 of them, 5½ in.");
        assert_eq!(with_fractions("9/2 in the book"), "9/2 in the book");
    }
}
