//! The bytes of a photo, a logo or a font, for the floor that prints it.

use super::paths::below;
use crate::model::Failure;
use std::fs::{self, Metadata};
use std::io::{self, ErrorKind};
use std::path::Path;

/// No camera's picture is larger; whatever is would fill the memory.
const LARGEST: u64 = 100_000_000;

/// Reads the photo, logo or font at `path`, which is below the shop folder and written with `/`.
///
/// The inner error is words that follow the file's name: "is missing". They are about one file,
/// and the run goes on without it.
///
/// # Errors
/// The machine failed while reading.
pub fn read_picture(folder: &Path, path: &str) -> Result<Result<Vec<u8>, String>, Failure> {
    let Some(path) = below("", path) else {
        return Ok(Err("leads out of the shop folder".to_owned()));
    };
    let path = folder.join(path);
    let read = || match unusable(&fs::metadata(&path)?) {
        Some(words) => Ok(Err(words.to_owned())),
        None => fs::read(&path).map(Ok),
    };
    read().or_else(|error: io::Error| match about_the_file(error.kind()) {
        Some(words) => Ok(Err(words.to_owned())),
        None => Err(Failure::new("read", &path, error)),
    })
}

fn unusable(about: &Metadata) -> Option<&'static str> {
    if !about.is_file() {
        Some("is not a file")
    } else if about.len() > LARGEST {
        Some("is larger than 100 MB")
    } else {
        None
    }
}

/// What an error says about this one file, and not about the machine.
pub(super) fn about_the_file(kind: ErrorKind) -> Option<&'static str> {
    match kind {
        ErrorKind::NotFound | ErrorKind::NotADirectory => Some("is missing"),
        ErrorKind::PermissionDenied => Some("may not be read by you"),
        ErrorKind::InvalidInput | ErrorKind::InvalidFilename => Some("has a name no file can have"),
        _ => None,
    }
}
