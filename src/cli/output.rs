//! The output folder of a shop: what may be written, kept and removed there.
//!
//! Only what the program wrote itself, and still finds as it wrote it, is written over or removed;
//! nothing is done through a link, and one run at a time is at work.

use super::files::{Staging, Standing, place_below, standing, sum_of};
use super::record::{JOURNAL, Journal, Made, RECORD};
use crate::model::{Code, Failure, Finding, Place};
use std::borrow::Cow;
use std::collections::BTreeSet;
use std::fs::{self, File, OpenOptions, TryLockError};
use std::path::{Path, PathBuf};
use std::sync::{Mutex, MutexGuard, PoisonError};

/// The output folder's name below the shop.
pub const OUT: &str = "out";
/// Reduced photos.
pub const PICTURES: &str = ".pictures";
const STAGING: &str = ".part";
const LOCK: &str = ".made.lock";

/// The output folder while a run has it.
pub struct Output {
    folder: PathBuf,
    /// Held to the end of the run.
    _lock: File,
    staging: Staging,
    journal: Mutex<Journal>,
}

/// A file to write: its plain path below the output folder.
pub struct Ready<'a> {
    pub path: String,
    /// Hash of everything it is made from.
    pub from: String,
    /// A text is lent: the ledger of a large shop has a hundred megabytes.
    pub bytes: Cow<'a, [u8]>,
}

/// What closing came to, by paths below the output folder.
#[derive(Default)]
pub struct Closed {
    pub removed: Vec<String>,
    /// No longer made, but changed since it was written.
    pub left: Vec<String>,
}

/// What became of one file: its path below the output, and why it was not written.
pub type Outcome = (String, Result<(), Finding>);

impl Output {
    /// Takes the output folder of a shop, making it if need be. Calls `wait` before it waits for
    /// another run.
    ///
    /// The inner error is that the folder, or what the program keeps in it, is a link.
    pub fn open(shop: &Path, wait: impl FnOnce()) -> Result<Result<Output, Finding>, Failure> {
        let folder = shop.join(OUT);
        for name in [".", RECORD, JOURNAL, LOCK, STAGING, PICTURES] {
            let path = if name == "." { folder.clone() } else { folder.join(name) };
            if path.symlink_metadata().is_ok_and(|about| about.is_symlink()) {
                return Ok(Err(link(shop, &path)));
            }
        }
        fs::create_dir_all(&folder).map_err(|e| Failure::new("make the folder", &folder, e))?;
        let lock = lock(&folder.join(LOCK), wait)?;
        let staging = Staging::open(folder.join(STAGING))?;
        let journal = Mutex::new(Journal::open(&folder)?);
        Ok(Ok(Output { folder, _lock: lock, staging, journal }))
    }

    pub fn staging(&self) -> &Staging {
        &self.staging
    }

    fn journal(&self) -> MutexGuard<'_, Journal> {
        self.journal.lock().unwrap_or_else(PoisonError::into_inner)
    }

    /// Whether the file at this path has the content that was made from the same things. It is read
    /// to its end: its size and day could be those of other bytes.
    pub fn is_up_to_date(&self, path: &str, from: &str) -> bool {
        let made = self.journal().files.get(path).filter(|made| made.from == from).cloned();
        let (Some(made), Ok(place)) = (made, place_below(&self.folder, path)) else { return false };
        standing(&place) == Standing::File(made.sum)
    }

    /// Writes files, each at once; for each what it was made of, or why it was not written.
    pub fn put(&self, files: Vec<Ready>) -> Result<Vec<Outcome>, Failure> {
        let mut put = Vec::new();
        let mut free = Vec::new();
        for ready in files {
            let sum = sum_of(&ready.bytes);
            match self.free(&ready.path, &sum) {
                Ok(place) => free.push((ready, sum, place)),
                Err(finding) => put.push((ready.path, Err(finding))),
            }
        }
        let lines: Vec<_> = free
            .iter()
            .map(|(ready, sum, _)| (ready.path.clone(), ready.from.clone(), sum.clone()))
            .collect();
        if !lines.is_empty() {
            self.journal().note(&lines)?;
        }
        for (ready, _, place) in free {
            self.staging.put(&place, &ready.bytes)?;
            put.push((ready.path, Ok(())));
        }
        Ok(put)
    }

    /// The place of a file that may be written: nothing stands there, or what the program wrote
    /// itself, or the same content.
    #[expect(clippy::result_large_err, reason = "a finding is rare here and moved once")]
    fn free(&self, path: &str, sum: &str) -> Result<PathBuf, Finding> {
        let place = place_below(&self.folder, path)
            .map_err(|at| link(self.folder.parent().unwrap_or(&self.folder), &at))?;
        let is_own = |found: &str| {
            found == sum || self.journal().files.get(path).is_some_and(|made| made.owns(found))
        };
        match standing(&place) {
            Standing::Nothing => Ok(place),
            Standing::File(found) if is_own(&found) => Ok(place),
            _ => Err(taken(path)),
        }
    }

    /// Ends the run, in which `made` were written or found up to date. With `all`, files of the
    /// record that are no longer made are removed, so that no sheet of a piece that is gone or held
    /// back lies about; else they are kept.
    pub fn close(self, made: &BTreeSet<&str>, all: bool) -> Result<Closed, Failure> {
        let Output { folder, _lock, staging, journal } = self;
        let mut journal = journal.into_inner().unwrap_or_else(PoisonError::into_inner);
        let mut closed = Closed::default();
        for (path, mut file) in std::mem::take(&mut journal.files) {
            if made.contains(path.as_str()) {
                file.also.clear();
            } else if all {
                match remove(&folder, &path, &file)? {
                    Removed::Done => closed.removed.push(path),
                    Removed::NotThere => {}
                    Removed::NotOurs => closed.left.push(path),
                }
                continue;
            }
            journal.files.insert(path, file);
        }
        journal.close(&staging)?;
        staging.close();
        Ok(closed)
    }
}

enum Removed {
    Done,
    NotThere,
    NotOurs,
}

/// Removes a file that is as the program wrote it, and the folders it leaves empty.
fn remove(folder: &Path, path: &str, made: &Made) -> Result<Removed, Failure> {
    let Ok(place) = place_below(folder, path) else { return Ok(Removed::NotOurs) };
    let removed = match standing(&place) {
        Standing::Nothing => Removed::NotThere,
        Standing::File(sum) if made.owns(&sum) => {
            fs::remove_file(&place).map_err(|e| Failure::new("remove", &place, e))?;
            Removed::Done
        }
        _ => return Ok(Removed::NotOurs),
    };
    for above in place.ancestors().skip(1).take_while(|above| *above != folder) {
        // A folder that holds anything stays.
        if fs::remove_dir(above).is_err() {
            break;
        }
    }
    Ok(removed)
}

/// The lock is freed by the system however a run ends, so the file may stay.
fn lock(path: &Path, wait: impl FnOnce()) -> Result<File, Failure> {
    let failed = |e| Failure::new("lock", path, e);
    let file = OpenOptions::new().append(true).create(true).open(path).map_err(failed)?;
    match file.try_lock() {
        Ok(()) => {}
        Err(TryLockError::WouldBlock) => {
            wait();
            file.lock().map_err(failed)?;
        }
        Err(TryLockError::Error(e)) => return Err(failed(e)),
    }
    Ok(file)
}

fn link(shop: &Path, at: &Path) -> Finding {
    let path = at.strip_prefix(shop).unwrap_or(at).display().to_string().replace('\\', "/");
    let message = format!("`{path}` is a link, and nothing is written through a link");
    let hint = "put a folder of the shop itself in its place, or remove the link";
    Finding::error(Code::OutLink, Place::NOWHERE, message).hint(hint)
}

fn taken(path: &str) -> Finding {
    let message = format!("`{OUT}/{path}` is not as this program wrote it, so it was left alone");
    let hint = "move it to another folder to keep it, or remove it; then make the paper again";
    Finding::error(Code::OutTaken, Place::NOWHERE, message).hint(hint)
}
