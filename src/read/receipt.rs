//! The checksum of a receipt, for the index that goes with a year's papers.

use super::paths::below;
use super::picture::about_the_file;
use crate::model::{Failure, ReceiptFile};
use sha2::{Digest, Sha256};
use std::fs::File;
use std::io::{self, Read};
use std::path::Path;

/// Read at a time: a scan of any size takes no more memory.
const PORTION: usize = 64 * 1024;

/// Reads the receipt at `path`, which is below the shop folder and written with `/`, to its end.
///
/// The inner error is words that follow the file's name: "is missing". They are about one receipt,
/// and the run goes on without it.
///
/// # Errors
/// The machine failed while reading.
pub fn read_receipt(folder: &Path, path: &str) -> Result<Result<ReceiptFile, String>, Failure> {
    let Some(path) = below("", path) else {
        return Ok(Err("leads out of the shop folder".to_owned()));
    };
    let path = folder.join(path);
    if path.exists() && !path.is_file() {
        return Ok(Err("is not a file".to_owned()));
    }
    checksum(&path).map(Ok).or_else(|error| match about_the_file(error.kind()) {
        Some(words) => Ok(Err(words.to_owned())),
        None => Err(Failure::new("read", &path, error)),
    })
}

fn checksum(path: &Path) -> io::Result<ReceiptFile> {
    let mut file = File::open(path)?;
    let mut hash = Sha256::new();
    let mut portion = vec![0; PORTION];
    let mut bytes = 0;
    loop {
        let read = file.read(&mut portion)?;
        if read == 0 {
            break;
        }
        hash.update(&portion[..read]);
        bytes += read as u64;
    }
    let sha256 = hash.finalize().iter().map(|byte| format!("{byte:02x}")).collect();
    Ok(ReceiptFile { sha256, bytes })
}

#[cfg(test)]
mod tests {
    use super::*;

    // FIPS 180-2, appendices B.1 (one block) and B.3 (a million times "a", which takes several
    // portions here).
    #[test]
    fn published_checksums() {
        let folder = tempfile::tempdir().unwrap();
        let of = |bytes: &[u8]| {
            std::fs::write(folder.path().join("receipt"), bytes).unwrap();
            read_receipt(folder.path(), "receipt").unwrap().unwrap()
        };
        let (short, long) = (of(b"abc"), of(&vec![b'a'; 1_000_000]));
        assert_eq!(
            short.sha256,
            "ba7816bf8f01cfea414140de5dae2223b00361a396177a9cb410ff61f20015ad"
        );
        assert_eq!(long.sha256, "cdc76e5c9914fb9281a1c7e284d73e67f1809a48a497200e046d39ccc7112cd0");
        assert_eq!((short.bytes, long.bytes), (3, 1_000_000));
    }

    #[test]
    fn what_is_no_receipt_is_said_and_stops_nothing() {
        let folder = tempfile::tempdir().unwrap();
        let said = |path: &str| read_receipt(folder.path(), path).unwrap().unwrap_err();
        assert_eq!(said("receipts/sale.jpg"), "is missing");
        assert_eq!(said("../sale.jpg"), "leads out of the shop folder");
        std::fs::create_dir(folder.path().join("receipts")).unwrap();
        assert_eq!(said("receipts"), "is not a file");
    }
}
