//! What is written under the output folder, and the record that says what is up to date there.
//!
//! A file appears whole or not at all: it is written beside its place and moved over.

use crate::model::Failure;
use serde::{Deserialize, Serialize};
use siphasher::sip128::{Hasher128, SipHasher13};
use std::collections::BTreeMap;
use std::fs;
use std::hash::Hasher;
use std::path::{Path, PathBuf};

/// The output folder's name below the shop.
pub const OUT: &str = "out";
const RECORD: &str = ".made.json";

/// What was written, and from what.
#[derive(Debug, Default, Serialize, Deserialize)]
struct Record {
    /// Path below the output folder → hash of everything the file was made from, and its length.
    files: BTreeMap<String, Made>,
}

#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
struct Made {
    from: String,
    bytes: u64,
}

/// The output folder of one shop.
pub struct Output {
    folder: PathBuf,
    before: Record,
    now: Record,
}

impl Output {
    /// Opens the output folder; one that does not exist yet is made with the first file. A record
    /// that cannot be read counts as none: everything is written again.
    pub fn open(shop: &Path) -> Output {
        let folder = shop.join(OUT);
        let before = fs::read(folder.join(RECORD))
            .ok()
            .and_then(|bytes| serde_json::from_slice(&bytes).ok())
            .unwrap_or_default();
        Output { folder, before, now: Record::default() }
    }

    pub fn folder(&self) -> &Path {
        &self.folder
    }

    /// Whether the file at this path was made from the same things and is still there.
    pub fn is_up_to_date(&self, path: &str, from: &str) -> bool {
        self.before.files.get(path).is_some_and(|made| {
            made.from == from
                && fs::metadata(self.folder.join(path)).is_ok_and(|m| m.len() == made.bytes)
        })
    }

    /// Keeps a file as it is.
    pub fn keep(&mut self, path: &str) {
        if let Some(made) = self.before.files.get(path) {
            self.now.files.insert(path.to_owned(), made.clone());
        }
    }

    /// Notes a file that was just written.
    pub fn wrote(&mut self, path: &str, from: String, bytes: usize) {
        self.now.files.insert(path.to_owned(), Made { from, bytes: bytes as u64 });
    }

    /// Ends the run: with `all`, files of the record that are no longer made are removed, so that
    /// no sheet of a piece that is gone or held back lies about; else they are kept.
    pub fn close(mut self, all: bool) -> Result<Vec<String>, Failure> {
        let mut removed = Vec::new();
        for (path, made) in &self.before.files {
            if self.now.files.contains_key(path) {
                continue;
            }
            if !all {
                self.now.files.insert(path.clone(), made.clone());
            } else if fs::remove_file(self.folder.join(path)).is_ok() {
                removed.push(path.clone());
            }
        }
        let record = serde_json::to_vec_pretty(&self.now).expect("text and numbers only");
        if self.now.files != self.before.files || !removed.is_empty() {
            write_whole(&self.folder.join(RECORD), &record)?;
        }
        Ok(removed)
    }
}

/// Writes a file so that it is there whole or not at all, making its folder if need be.
pub fn write_whole(path: &Path, bytes: &[u8]) -> Result<(), Failure> {
    let folder = path.parent().unwrap_or(Path::new("."));
    fs::create_dir_all(folder).map_err(|e| Failure::new("make the folder", folder, e))?;
    let mut beside = path.as_os_str().to_owned();
    beside.push(format!(".{}.part", std::process::id()));
    let beside = PathBuf::from(beside);
    let written = fs::write(&beside, bytes).and_then(|()| fs::rename(&beside, path));
    written.map_err(|e| {
        let _ = fs::remove_file(&beside);
        Failure::new("write", path, e)
    })
}

/// A stable hash of everything a document is made from.
pub struct Fingerprint(SipHasher13);

impl Fingerprint {
    /// Starts with the program itself: a new version makes everything again.
    pub fn new() -> Fingerprint {
        let mut print = Fingerprint(SipHasher13::new());
        print.add(env!("CARGO_PKG_VERSION").as_bytes());
        print
    }

    pub fn add(&mut self, bytes: &[u8]) {
        self.0.write_u64(bytes.len() as u64);
        self.0.write(bytes);
    }

    pub fn text(&self) -> String {
        let hash = self.0.finish128();
        format!("{:016x}{:016x}", hash.h1, hash.h2)
    }
}

impl Default for Fingerprint {
    fn default() -> Fingerprint {
        Fingerprint::new()
    }
}

/// Writes a file that must not exist yet; says whether it did.
pub fn write_new(path: &Path, bytes: &[u8]) -> Result<bool, Failure> {
    use std::io::{ErrorKind, Write};
    let folder = path.parent().unwrap_or(Path::new("."));
    fs::create_dir_all(folder).map_err(|e| Failure::new("make the folder", folder, e))?;
    let opened = fs::OpenOptions::new().write(true).create_new(true).open(path);
    match opened.and_then(|mut file| file.write_all(bytes)) {
        Ok(()) => Ok(true),
        Err(e) if e.kind() == ErrorKind::AlreadyExists => Ok(false),
        Err(e) => Err(Failure::new("write", path, e)),
    }
}
