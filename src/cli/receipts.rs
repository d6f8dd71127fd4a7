//! The receipts of a year with their checksums. `make` uses it.
//!
//! Every receipt is read to its end each time the year's papers are asked for, and once only, also
//! where many entries share it. Its size and the day it was last changed would be quicker to ask
//! for, but copying and restoring programs keep both while the bytes may differ, and a checksum
//! that is not of the bytes is worse than none. Runs for other papers read no receipt.

use crate::model::{Failure, ReceiptFile};
use crate::read::read_receipt;
use crate::reckon::year::Year;
use std::collections::BTreeMap;
use std::path::Path;

/// Each receipt the year's entries name, by its path below the shop folder; for one that cannot be
/// read the words that follow its name.
pub type ReceiptFiles = BTreeMap<String, Result<ReceiptFile, String>>;

/// Reads the receipts of a year.
///
/// # Errors
/// The machine failed while reading.
pub fn receipt_files(folder: &Path, year: &Year) -> Result<ReceiptFiles, Failure> {
    let mut files = ReceiptFiles::new();
    for used in &year.receipts {
        if !files.contains_key(&used.path) {
            files.insert(used.path.clone(), read_receipt(folder, &used.path)?);
        }
    }
    Ok(files)
}
