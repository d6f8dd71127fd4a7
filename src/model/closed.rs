//! Closed sets of words: each is declared once, with what stands for it in the owner's files.

/// A closed set of words that an owner may write.
pub trait Closed: Copy + PartialEq + 'static {
    /// Every one of them with its word, in the order they are offered.
    const ALL: &'static [(&'static str, Self)];

    /// What is written for it.
    fn word(self) -> &'static str {
        Self::ALL.iter().find(|(_, own)| *own == self).map_or("", |(word, _)| word)
    }

    fn of_word(word: &str) -> Option<Self> {
        Self::ALL.iter().find(|(own, _)| *own == word).map(|(_, own)| *own)
    }
}

/// Declares an enum with the word of each variant, so that none can be without.
macro_rules! closed {
    ($(#[$of_all:meta])* $seen:vis enum $name:ident {
        $($(#[$of_one:meta])* $variant:ident = $word:literal,)*
    }) => {
        $(#[$of_all])*
        #[derive(Clone, Copy, Debug, PartialEq, Eq)]
        $seen enum $name { $($(#[$of_one])* $variant,)* }

        impl $crate::model::Closed for $name {
            const ALL: &'static [(&'static str, Self)] = &[$(($word, $name::$variant)),*];
        }
    };
}
pub(crate) use closed;
