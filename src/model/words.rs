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

/// The known word nearest to what was written, if it is near enough to be a slip of the hand.
pub fn nearest<'a>(written: &str, known: impl IntoIterator<Item = &'a str>) -> Option<&'a str> {
    let written = written.to_lowercase();
    known
        .into_iter()
        .map(|word| (strsim::damerau_levenshtein(&written, &word.to_lowercase()), word))
        .filter(|(distance, word)| *distance <= 1.max(word.chars().count() / 3))
        .min()
        .map(|(_, word)| word)
}

/// Whether a sign overrides or embeds the direction of what follows, so that words are shown in
/// another order than they stand in. Source: Unicode Standard Annex #9, 2.1 to 2.4 (from memory).
pub fn turns_direction(sign: char) -> bool {
    matches!(sign, '\u{202A}'..='\u{202E}' | '\u{2066}'..='\u{2069}')
}
