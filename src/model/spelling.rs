//! Spellings of one word: what is written in either is understood as the same.

use super::Spelling;

/// British and American spellings of the words that the tables use.
const SPELLINGS: &[(&str, &str)] = &[
    ("labour", "labor"),
    ("licence", "license"),
    ("licences", "licenses"),
    ("judgement", "judgment"),
];

impl Spelling {
    /// Our own words, which are written in British spelling, in this one: never an owner's.
    pub fn of(self, words: &str) -> String {
        let spelled = |word: &str| {
            let small = word.to_lowercase();
            match (american(&small), word.chars().next()) {
                (own, _) if own == small => word.to_owned(),
                (own, Some(first)) if first.is_uppercase() => own[..1].to_uppercase() + &own[1..],
                (own, _) => own.to_owned(),
            }
        };
        if self == Spelling::British {
            return words.to_owned();
        }
        let parts = words.split_inclusive(|c: char| !c.is_alphabetic());
        let word_and_rest = |part: &str| {
            let end = part.find(|c: char| !c.is_alphabetic()).unwrap_or(part.len());
            spelled(&part[..end]) + &part[end..]
        };
        parts.map(word_and_rest).collect()
    }
}

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
    fn own_words_are_spelled_as_where_the_shop_is() {
        let words = "Paid labour, and licences: LABOURED";
        assert_eq!(Spelling::American.of(words), "Paid labor, and licenses: LABOURED");
        assert_eq!(Spelling::British.of(words), words);
    }

    #[test]
    fn both_spellings_are_one_word() {
        assert!(same_but_for_spelling("contract-labour", "contract-labor"));
        assert!(same_but_for_spelling("taxes-and-licences", "taxes-and-licenses"));
        assert!(!same_but_for_spelling("contract-labour", "labor"));
        assert!(!same_but_for_spelling("rent", "repairs"));
    }
}
