//! Where an entry stands, as "books/2025.toml:41". Lines are counted once per file, because a
//! year's ledger names thousands of places.

use crate::model::{Place, Source, Sources};

pub(super) struct Places<'a> {
    /// Each file with the bytes its lines end at.
    files: Vec<(&'a Source, Vec<u32>)>,
}

impl<'a> Places<'a> {
    pub fn new(sources: &'a Sources) -> Places<'a> {
        let ends = |text: &str| {
            text.bytes().zip(0u32..).filter(|(byte, _)| *byte == b'\n').map(|(_, at)| at).collect()
        };
        Places { files: sources.iter().map(|(_, source)| (source, ends(&source.text))).collect() }
    }

    /// File and line; nothing for what was not written.
    pub fn line(&self, place: Place) -> Option<String> {
        let (source, ends) = self.files.get(place.file.0 as usize)?;
        let line = ends.partition_point(|end| *end < place.start) + 1;
        Some(format!("{}:{line}", source.path))
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_place_is_said_as_the_sources_say_it() {
        let mut sources = Sources::default();
        let file = sources.add("books/2025.toml".to_owned(), "a\nb = 1\n\nc = 2\n".to_owned());
        let places = Places::new(&sources);
        for (start, line) in [(0, 1), (1, 1), (2, 2), (7, 2), (8, 3), (9, 4), (14, 4)] {
            let place = Place::new(file, start..start + 1);
            assert_eq!(places.line(place), Some(format!("books/2025.toml:{line}")));
            let (counted, _) = sources.line_column(place).unwrap();
            assert_eq!(counted, line);
        }
        assert_eq!(places.line(Place::NOWHERE), None);
    }
}
