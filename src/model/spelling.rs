//! Spellings of one word: what is written in either is understood as the same.

/// British and American spellings of the words that the tables use.
const SPELLINGS: &[(&str, &str)] =
    &[("labour", "labor"), ("licence", "license"), ("licences", "licenses"), ("cheque", "check")];

/// Whether two names are the same but for the spelling of their words: `contract-labour` is
/// `contract-labor`.
pub fn same_but_for_spelling(one: &str, other: &str) -> bool {
    let same = |a: &str, b: &str| a == b || american(a) == american(b);
    one.split('-').count() == other.split('-').count()
        && one.split('-').zip(other.split('-')).all(|(a, b)| same(a, b))
}

fn american(word: &str) -> &str {
    SPELLINGS.iter().find(|(british, _)| *british == word).map_or(word, |(_, own)| own)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn both_spellings_are_one_word() {
        assert!(same_but_for_spelling("contract-labour", "contract-labor"));
        assert!(same_but_for_spelling("taxes-and-licences", "taxes-and-licenses"));
        assert!(!same_but_for_spelling("contract-labour", "labor"));
        assert!(!same_but_for_spelling("rent", "repairs"));
    }
}
