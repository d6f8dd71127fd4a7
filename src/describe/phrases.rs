//! Many phrases looked for in one text at once: the tables ask hundreds of them of every text. For
//! this floor only.

use super::wording::flat;
use aho_corasick::AhoCorasick;

/// Phrases, ready to be looked for as [`super::wording::says`] looks for one.
pub(crate) struct Phrases(AhoCorasick);

impl Phrases {
    /// From phrases as the tables write them; a phrase that ends in `%` may go on.
    pub(crate) fn new<'a>(phrases: impl IntoIterator<Item = &'a str>) -> Phrases {
        let needles = phrases.into_iter().map(|phrase| match phrase.strip_suffix('%') {
            Some(stem) => flat(stem).trim_end().to_owned(),
            None => flat(phrase),
        });
        Phrases(AhoCorasick::new(needles).expect("the tables hold few and short phrases"))
    }

    /// The position of each phrase a text says, as often as it says it.
    pub(crate) fn said<'a>(&'a self, flat_text: &'a str) -> impl Iterator<Item = usize> + 'a {
        self.0.find_overlapping_iter(flat_text).map(|found| found.pattern().as_usize())
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::describe::wording::says;

    #[test]
    fn all_at_once_is_each_by_itself() {
        let phrases = ["like new", "guarant%", "oak", "white oak", "non-toxic", "lead free"];
        let all = Phrases::new(phrases);
        for text in [
            "Like-new white oak, guaranteed",
            "cloak of oaken boards",
            "nontoxic",
            "non toxic, lead-free",
            "it's like a new one; oak's",
            "",
        ] {
            let flat_text = flat(text);
            let mut said: Vec<usize> = all.said(&flat_text).collect();
            said.sort_unstable();
            said.dedup();
            let each = (0..phrases.len()).filter(|&i| says(text, phrases[i]));
            assert_eq!(said, each.collect::<Vec<_>>(), "{text}");
        }
    }
}
