//! Small helpers that make messages read well.

/// "1 piece", "3 pieces".
pub fn counted(n: usize, one: &str, many: &str) -> String {
    format!("{n} {}", if n == 1 { one } else { many })
}

/// "a", "a and b", "a, b and c".
pub fn and_list<S: AsRef<str>>(items: &[S]) -> String {
    match items {
        [] => String::new(),
        [only] => only.as_ref().to_owned(),
        [most @ .., last] => {
            let most: Vec<&str> = most.iter().map(AsRef::as_ref).collect();
            format!("{} and {}", most.join(", "), last.as_ref())
        }
    }
}

/// A word shorter than this is near to too many others.
const SHORTEST: usize = 3;

/// Prefixes that turn a word into its opposite.
const OPPOSITES: [&str; 6] = ["in", "un", "non", "not", "no", "dis"];

/// The known word that is what was written but for a slip of the hand, if it is the only such one.
///
/// From three letters, and within a third of the length of each part ("satin-topcoat" has two): a
/// part that is another word is another meaning. So are other digits, and an opposite.
pub fn nearest<'a>(written: &str, known: impl IntoIterator<Item = &'a str>) -> Option<&'a str> {
    let near = known.into_iter().filter_map(|word| Some((slips(written, word)?, word)));
    let mut near: Vec<(usize, &str)> = near.collect();
    near.sort_unstable();
    near.dedup();
    match near.as_slice() {
        [(first, _), (second, _), ..] if first == second => None,
        [(_, word), ..] => Some(word),
        [] => None,
    }
}

/// How many slips of the hand make one word of another; nothing where they may be two words.
fn slips(written: &str, word: &str) -> Option<usize> {
    let (written, word) = (parts(written), parts(word));
    if written.concat() == word.concat() {
        return Some(0);
    }
    if written.len() != word.len() {
        return None;
    }
    written.iter().zip(&word).map(|(written, word)| slips_of_part(written, word)).sum()
}

fn parts(text: &str) -> Vec<String> {
    let lower = text.to_lowercase();
    let separates = |c: char| c.is_whitespace() || matches!(c, '-' | '_' | '.' | '/');
    let without_zeros = |part: &str| match part.trim_start_matches('0') {
        rest if part.bytes().all(|b| b.is_ascii_digit()) => rest.to_owned(),
        _ => part.to_owned(),
    };
    lower.split(separates).filter(|part| !part.is_empty()).map(without_zeros).collect()
}

fn slips_of_part(written: &str, word: &str) -> Option<usize> {
    if written == word {
        return Some(0);
    }
    let digits = |text: &str| text.chars().filter(char::is_ascii_digit).collect::<String>();
    let shorter = written.chars().count().min(word.chars().count());
    if shorter < SHORTEST || digits(written) != digits(word) || opposite(written, word) {
        return None;
    }
    let distance = strsim::damerau_levenshtein(written, word);
    (distance <= shorter / 3).then_some(distance)
}

fn opposite(one: &str, other: &str) -> bool {
    let negates = |long: &str, short: &str| {
        OPPOSITES.iter().filter_map(|prefix| long.strip_prefix(prefix)).any(|rest| {
            rest.len() > SHORTEST && strsim::damerau_levenshtein(rest, short) <= short.len() / 3
        })
    };
    negates(one, other) != negates(other, one)
}

/// Whether a character overrides or embeds the direction of what follows, so that words are shown in
/// another order than they stand in. Source: Unicode Standard Annex #9, 2.1 to 2.4 (from memory).
pub fn turns_direction(character: char) -> bool {
    matches!(character, '\u{202A}'..='\u{202E}' | '\u{2066}'..='\u{2069}')
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_near_word_is_a_slip_and_no_other_meaning() {
        let known = ["complete", "satin-topcoat", "gloss-topcoat", "oil-a", "25-021", "replaced"];
        for (written, meant) in [
            ("complet", Some("complete")),
            ("Satin Topcoat", Some("satin-topcoat")),
            ("satintopcoat", Some("satin-topcoat")),
            ("saitn-topcoat", Some("satin-topcoat")),
            ("repalced", Some("replaced")),
            ("incomplete", None),
            ("matte-topcoat", None),
            ("oil-b", None),
            ("25-012", None),
            ("25-21", Some("25-021")),
            ("re", None),
        ] {
            assert_eq!(nearest(written, known), meant, "{written}");
        }
        assert_eq!(nearest("tabel", ["table", "label"]), None);
    }
}
