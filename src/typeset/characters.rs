//! Text as it is set: real apostrophes, fractions with their own slash, and no break between a number
//! and its unit. Every text on paper goes through here once, the owner's as well as the program's.

use serde_json::Value;

/// The slash that makes a fraction of the figures beside it, in fonts that build fractions.
const FRACTION_SLASH: char = '\u{2044}';
/// Narrow, and no place to break: keeps a whole number apart from its fraction in fonts that do not.
const NARROW: char = '\u{202f}';
const NO_BREAK: char = '\u{a0}';

/// What follows a number as its unit.
const UNITS: &[&str] =
    &["in", "ft", "cm", "mm", "m", "lb", "oz", "kg", "g", "°F", "°C", "hours", "h"];

/// Every text within a view.
pub fn set_all(value: &mut Value) {
    match value {
        Value::String(text) => {
            if let Some(set) = set(text) {
                *text = set;
            }
        }
        Value::Array(items) => items.iter_mut().for_each(set_all),
        // The files inside a paper are the very ones beside it.
        Value::Object(fields) => {
            let set = fields.iter_mut().filter(|(key, _)| *key != "attachments");
            set.for_each(|(_, value)| set_all(value));
        }
        _ => {}
    }
}

/// The text as it is set; nothing where it stays as it is. Addresses stay.
pub fn set(text: &str) -> Option<String> {
    let doubtful = text.contains(['\'', '/']) || text.bytes().any(|byte| byte.is_ascii_digit());
    if !doubtful || text.contains("://") {
        return None;
    }
    let letters: Vec<char> = text.chars().collect();
    let mut said: Vec<char> = Vec::with_capacity(letters.len());
    for (i, &letter) in letters.iter().enumerate() {
        let before = i.checked_sub(1).map(|before| letters[before]);
        match letter {
            '\'' if is_apostrophe(before, letters.get(i + 1)) => said.push('’'),
            '/' if is_fraction(&letters, i) => {
                part_from_whole(&mut said);
                said.push(FRACTION_SLASH);
            }
            ' ' if before.is_some_and(ends_number) && begins_unit(&letters[i + 1..]) => {
                said.push(NO_BREAK);
            }
            other => said.push(other),
        }
    }
    Some(said.into_iter().collect()).filter(|said: &String| said != text)
}

/// Within a word, after one, or before figures: '20s.
fn is_apostrophe(before: Option<char>, after: Option<&char>) -> bool {
    let word = |letter: char| letter.is_alphabetic();
    before.is_some_and(word)
        || (after.is_some_and(char::is_ascii_digit) && !before.is_some_and(ends_number))
}

fn ends_number(letter: char) -> bool {
    letter.is_ascii_digit() || "½¼¾⅛⅜⅝⅞".contains(letter)
}

/// Figures of a share of two, four, eight, sixteen and so on around a slash, standing alone.
fn is_fraction(letters: &[char], at: usize) -> bool {
    let digits = |part: &[char]| part.iter().take_while(|c| c.is_ascii_digit()).count();
    let below = digits(&letters[at + 1..]);
    let above = letters[..at].iter().rev().take_while(|c| c.is_ascii_digit()).count();
    let figures = |part: &[char]| part.iter().collect::<String>().parse::<u32>().ok();
    let (Some(top), Some(bottom)) =
        (figures(&letters[at - above..at]), figures(&letters[at + 1..at + 1 + below]))
    else {
        return false;
    };
    let alone =
        |letter: Option<&char>| letter.is_none_or(|c| !c.is_alphanumeric() && !"/=&".contains(*c));
    let before = (at - above).checked_sub(1).and_then(|before| letters.get(before));
    matches!(bottom, 2 | 3 | 4 | 8 | 16 | 32 | 64)
        && top < bottom
        && top > 0
        && alone(before)
        && alone(letters.get(at + 1 + below))
}

/// The space between a whole number and its fraction becomes a narrow one without a break.
fn part_from_whole(said: &mut [char]) {
    let Some(at) = said.iter().rposition(|c| !c.is_ascii_digit()) else { return };
    let whole = at > 0 && said[at - 1].is_ascii_digit();
    if whole && [' ', NO_BREAK, NARROW].contains(&said[at]) {
        said[at] = NARROW;
    }
}

fn begins_unit(after: &[char]) -> bool {
    let word: String = after.iter().take_while(|c| c.is_alphabetic() || **c == '°').collect();
    UNITS.contains(&word.as_str())
}

#[cfg(test)]
mod tests {
    use super::*;

    fn said(text: &str) -> String {
        set(text).unwrap_or_else(|| text.to_owned())
    }

    #[test]
    fn a_fraction_is_never_read_as_part_of_its_whole_number() {
        assert_eq!(said("18 5/16 in"), "18\u{202f}5\u{2044}16\u{a0}in");
        assert_eq!(said("36\u{a0}13/16\u{a0}in"), "36\u{202f}13\u{2044}16\u{a0}in");
        assert_eq!(said("sags 3/16 inch"), "sags 3\u{2044}16 inch");
        assert_eq!(said("(1/2 in)"), "(1\u{2044}2\u{a0}in)");
    }

    #[test]
    fn what_is_no_fraction_stays() {
        for text in [
            "24/7",
            "3/4/2025",
            "5/2",
            "a/2",
            "shop.example/1/2",
            "b=1/2",
            "https://a.example/x 1/2",
        ] {
            assert_eq!(set(text), None, "{text}");
        }
    }

    #[test]
    fn apostrophes_are_real_and_quotes_stay() {
        assert_eq!(said("Grandmother's chairs' legs, don't"), "Grandmother’s chairs’ legs, don’t");
        assert_eq!(said("of the '20s"), "of the ’20s");
        assert_eq!(set("the word 'oak"), None);
    }

    #[test]
    fn a_number_keeps_its_unit() {
        assert_eq!(said("a chip 2 in long, 64 lb"), "a chip 2\u{a0}in long, 64\u{a0}lb");
        assert_eq!(said("29½ in"), "29½\u{a0}in");
        assert_eq!(set("made in 3 inns"), None);
    }
}
