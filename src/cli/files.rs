//! Bytes put on the disk: whole or not at all, and never through a link.

use crate::model::Failure;
use siphasher::sip128::{Hasher128, SipHasher13};
use std::fs::{self, File, OpenOptions};
use std::hash::Hasher;
use std::io::{self, ErrorKind, Read, Write};
use std::path::{Path, PathBuf};
use std::sync::atomic::{AtomicU64, Ordering};

/// Read at a time: a file of any size takes no more memory.
const PORTION: usize = 64 * 1024;

/// Where files are written before they take their place: a folder of the output folder, so that no
/// other run's and no owner's file is ever met there.
pub struct Staging {
    folder: PathBuf,
    /// Every file has a name of its own, whichever thread writes it.
    next: AtomicU64,
}

impl Staging {
    /// Removes what a run left that was ended from outside.
    pub fn open(folder: PathBuf) -> Result<Staging, Failure> {
        let left = match fs::read_dir(&folder) {
            Ok(left) => left,
            Err(e) if e.kind() == ErrorKind::NotFound => return Ok(Staging::at(folder)),
            Err(e) => return Err(Failure::new("read the folder", &folder, e)),
        };
        for entry in left.filter_map(Result::ok) {
            if entry.file_name().to_str().is_some_and(is_staged) {
                let path = entry.path();
                fs::remove_file(&path).map_err(|e| Failure::new("remove", &path, e))?;
            }
        }
        Ok(Staging::at(folder))
    }

    fn at(folder: PathBuf) -> Staging {
        Staging { folder, next: AtomicU64::new(0) }
    }

    /// Writes a file so that it is there whole or not at all, making its folder if need be. Its
    /// bytes are on the disk before it takes its name.
    pub fn put(&self, path: &Path, bytes: &[u8]) -> Result<(), Failure> {
        for folder in [&self.folder, path.parent().unwrap_or(&self.folder)] {
            fs::create_dir_all(folder).map_err(|e| Failure::new("make the folder", folder, e))?;
        }
        let name = format!("{}.part", self.next.fetch_add(1, Ordering::Relaxed));
        let staged = self.folder.join(name);
        let written = create(&staged, bytes).and_then(|()| fs::rename(&staged, path));
        written.map_err(|e| {
            let _ = fs::remove_file(&staged);
            Failure::new("write", path, e)
        })
    }

    pub fn close(&self) {
        let _ = fs::remove_dir(&self.folder);
    }
}

fn is_staged(name: &str) -> bool {
    name.strip_suffix(".part").is_some_and(|n| n.bytes().all(|b| b.is_ascii_digit()))
}

/// A new file with these bytes, on the disk.
fn create(path: &Path, bytes: &[u8]) -> io::Result<()> {
    let mut file = OpenOptions::new().write(true).create_new(true).open(path)?;
    file.write_all(bytes)?;
    file.sync_all()
}

/// Writes a file that must not exist yet; says whether it did. One that could not be written to its
/// end is removed again.
pub fn write_new(path: &Path, bytes: &[u8]) -> Result<bool, Failure> {
    let folder = path.parent().unwrap_or(Path::new("."));
    fs::create_dir_all(folder).map_err(|e| Failure::new("make the folder", folder, e))?;
    let mut file = match OpenOptions::new().write(true).create_new(true).open(path) {
        Ok(file) => file,
        Err(e) if e.kind() == ErrorKind::AlreadyExists => return Ok(false),
        Err(e) => return Err(Failure::new("write", path, e)),
    };
    match file.write_all(bytes).and_then(|()| file.sync_all()) {
        Ok(()) => Ok(true),
        Err(e) => {
            drop(file);
            let _ = fs::remove_file(path);
            Err(Failure::new("write", path, e))
        }
    }
}

/// Makes the names in a folder last through a power cut, where the system can.
pub fn sync_folder(folder: &Path) {
    let _ = File::open(folder).and_then(|folder| folder.sync_all());
}

/// Whether a path may stand below the output folder: plain names with `/` between, none hidden, so
/// that it leads neither out of the folder nor to what the program keeps for itself.
pub fn is_plain(path: &str) -> bool {
    let plain = |part: &str| {
        !part.is_empty()
            && !part.starts_with('.')
            && !part.contains(|c: char| c.is_control() || matches!(c, '\\' | ':'))
    };
    path.split('/').all(plain)
}

/// The place of a plain path below `folder`.
///
/// # Errors
/// The part of the path that is a link: what is behind it is not the shop's.
pub fn place_below(folder: &Path, path: &str) -> Result<PathBuf, PathBuf> {
    let mut at = folder.to_owned();
    for part in path.split('/') {
        at.push(part);
        if at.symlink_metadata().is_ok_and(|about| about.is_symlink()) {
            return Err(at);
        }
    }
    Ok(at)
}

/// What stands at a place.
#[derive(Debug, PartialEq, Eq)]
pub enum Standing {
    Nothing,
    /// A file whose content has this sum.
    File(String),
    /// A folder, a pipe, or a file that cannot be read.
    Other,
}

/// Looks at a place; a file is read to its end.
pub fn standing(path: &Path) -> Standing {
    match path.symlink_metadata() {
        Err(e) if matches!(e.kind(), ErrorKind::NotFound | ErrorKind::NotADirectory) => {
            Standing::Nothing
        }
        Ok(about) if about.is_file() => sum_of_file(path).map_or(Standing::Other, Standing::File),
        _ => Standing::Other,
    }
}

/// A sum of a content, by which it is known again.
pub fn sum_of(bytes: &[u8]) -> String {
    let mut hash = SipHasher13::new();
    hash.write(bytes);
    text_of(&hash)
}

fn sum_of_file(path: &Path) -> io::Result<String> {
    let mut file = File::open(path)?;
    let mut hash = SipHasher13::new();
    let mut portion = vec![0; PORTION];
    loop {
        match file.read(&mut portion)? {
            0 => return Ok(text_of(&hash)),
            read => hash.write(&portion[..read]),
        }
    }
}

fn text_of(hash: &SipHasher13) -> String {
    let hash = hash.finish128();
    format!("{:016x}{:016x}", hash.h1, hash.h2)
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
        text_of(&self.0)
    }
}

impl Default for Fingerprint {
    fn default() -> Fingerprint {
        Fingerprint::new()
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn only_plain_paths_stand_below_the_output_folder() {
        for path in ["stock-sheet.pdf", "pieces/komoda-dębowa/care-card.pdf", "years/2025/a.csv"] {
            assert!(is_plain(path), "{path}");
        }
        for path in [
            "",
            "/",
            "/etc/passwd",
            "..",
            "../victim",
            "a/../../victim",
            "a//b",
            "./a",
            "a/.",
            ".made.json",
            "a/.hidden",
            "C:/a",
            "C:a",
            "a\\..\\b",
            "\\\\host\\a",
            "a\0b",
            "a\nb",
            "a/",
        ] {
            assert!(!is_plain(path), "{path}");
        }
    }

    #[test]
    fn a_file_has_the_sum_of_its_bytes_however_long_it_is() {
        let folder = tempfile::tempdir().unwrap();
        for length in [0, 1, PORTION - 1, PORTION, PORTION + 1, 3 * PORTION + 7] {
            let bytes: Vec<u8> = (0..length).map(|i| (i % 251) as u8).collect();
            let path = folder.path().join("file");
            fs::write(&path, &bytes).unwrap();
            assert_eq!(standing(&path), Standing::File(sum_of(&bytes)), "{length}");
        }
        assert_eq!(standing(folder.path()), Standing::Other);
        assert_eq!(standing(&folder.path().join("none")), Standing::Nothing);
    }

    #[test]
    fn what_a_run_left_is_removed_and_nothing_else() {
        let folder = tempfile::tempdir().unwrap();
        let at = folder.path().join(".part");
        fs::create_dir(&at).unwrap();
        for name in ["0.part", "17.part", "letter.part", "0.pdf"] {
            fs::write(at.join(name), "half").unwrap();
        }
        Staging::open(at.clone()).unwrap().close();
        let mut left: Vec<_> = fs::read_dir(&at).unwrap().map(|e| e.unwrap().file_name()).collect();
        left.sort();
        assert_eq!(left, ["0.pdf", "letter.part"]);
    }

    #[test]
    fn threads_that_write_one_file_leave_it_whole() {
        let folder = tempfile::tempdir().unwrap();
        let staging = Staging::open(folder.path().join(".part")).unwrap();
        let path = folder.path().join("a/file");
        let bytes = vec![7; 100_000];
        std::thread::scope(|scope| {
            for _ in 0..16 {
                scope.spawn(|| {
                    for _ in 0..20 {
                        staging.put(&path, &bytes).unwrap();
                    }
                });
            }
        });
        staging.close();
        assert!(fs::read(&path).unwrap() == bytes);
        assert!(!folder.path().join(".part").exists());
    }
}
