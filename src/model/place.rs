//! Where a value stands in the owner's files.

use std::ops::Deref;

/// A file that was read, by its position in [`Sources`].
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct FileId(pub u32);

/// A stretch of bytes in one of the owner's files.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct Place {
    pub file: FileId,
    pub start: u32,
    pub end: u32,
}

impl Place {
    /// The place of a value that was not written: made by a test or filled in by the program.
    pub const NOWHERE: Place = Place { file: FileId(u32::MAX), start: 0, end: 0 };

    pub fn new(file: FileId, span: std::ops::Range<usize>) -> Place {
        Place { file, start: span.start as u32, end: span.end as u32 }
    }

    pub fn is_nowhere(self) -> bool {
        self.file == Place::NOWHERE.file
    }
}

/// A value together with its place, so that a check run long after reading can still point at it.
///
/// Two of them are equal when their values are: a place is not part of what was said.
#[derive(Clone, Copy, Debug)]
pub struct At<T> {
    pub value: T,
    pub place: Place,
}

impl<T> At<T> {
    pub fn new(value: T, place: Place) -> At<T> {
        At { value, place }
    }

    pub fn map<U>(self, f: impl FnOnce(T) -> U) -> At<U> {
        At { value: f(self.value), place: self.place }
    }
}

impl<T> Deref for At<T> {
    type Target = T;
    fn deref(&self) -> &T {
        &self.value
    }
}

impl<T: PartialEq> PartialEq for At<T> {
    fn eq(&self, other: &Self) -> bool {
        self.value == other.value
    }
}

impl<T: Eq> Eq for At<T> {}

impl<T> From<T> for At<T> {
    fn from(value: T) -> At<T> {
        At { value, place: Place::NOWHERE }
    }
}

/// A file that was read: its path below the shop folder (always with `/`) and its text.
#[derive(Clone, Debug)]
pub struct Source {
    pub path: String,
    pub text: String,
}

/// Every file that was read, kept so that findings can show the line they speak of.
#[derive(Clone, Debug, Default)]
pub struct Sources {
    files: Vec<Source>,
}

impl Sources {
    pub fn add(&mut self, path: String, text: String) -> FileId {
        self.files.push(Source { path, text });
        FileId(self.files.len() as u32 - 1)
    }

    pub fn get(&self, file: FileId) -> Option<&Source> {
        self.files.get(file.0 as usize)
    }

    pub fn iter(&self) -> impl Iterator<Item = (FileId, &Source)> {
        self.files.iter().enumerate().map(|(i, s)| (FileId(i as u32), s))
    }

    /// Line and column of a place, both counted from 1; columns count characters.
    pub fn line_column(&self, place: Place) -> Option<(usize, usize)> {
        let before = self.get(place.file)?.text.get(..place.start as usize)?;
        let line = before.bytes().filter(|&b| b == b'\n').count() + 1;
        let column = before.rsplit('\n').next().unwrap_or("").chars().count() + 1;
        Some((line, column))
    }

    /// `pieces/oak/piece.toml:12:9`, or nothing for a value that was not written.
    pub fn name(&self, place: Place) -> Option<String> {
        let (line, column) = self.line_column(place)?;
        Some(format!("{}:{line}:{column}", self.get(place.file)?.path))
    }
}
