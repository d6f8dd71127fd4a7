//! The machine failed: a full disk, a folder that cannot be read. It stops the run.

use std::fmt;
use std::path::{Path, PathBuf};

/// What could not be done, to which file, and the system's own words.
#[derive(Debug)]
pub struct Failure {
    pub doing: &'static str,
    pub path: PathBuf,
    pub reason: String,
}

impl Failure {
    pub fn new(doing: &'static str, path: &Path, reason: impl fmt::Display) -> Failure {
        Failure { doing, path: path.to_owned(), reason: reason.to_string() }
    }
}

impl fmt::Display for Failure {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(f, "could not {} {}: {}", self.doing, self.path.display(), self.reason)
    }
}

impl std::error::Error for Failure {}
