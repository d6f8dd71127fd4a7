//! The index of receipts: which file goes with which entry of the year, and its checksum, by which
//! anyone can tell years later that it is still the same file.

use super::places::Places;
use crate::model::{ReceiptFile, Shop, Sources, plain};
use crate::reckon::year::{ReceiptUse, Year};
use crate::typeset::csv_file;
use std::collections::BTreeMap;

/// The file's name.
pub(super) const NAME: &str = "receipts.csv";

const HEADS: [&str; 8] = ["receipt", "sha256", "bytes", "found", "entry", "on", "what", "amount"];

/// The index as a table: its name and its text, a row for each entry, by receipt and day. A receipt
/// that is not there has no checksum and says why.
pub fn receipt_index(
    shop: &Shop,
    year: &Year,
    sources: &Sources,
    files: &BTreeMap<String, Result<ReceiptFile, String>>,
) -> (&'static str, String) {
    let (places, decimals) = (Places::new(sources), shop.currency.decimals);
    let row = |used: &ReceiptUse| {
        let [sha256, bytes, found] = of_file(files.get(&used.path));
        let part = &used.part;
        vec![
            used.path.clone(),
            sha256,
            bytes,
            found,
            places.line(part.place).unwrap_or_default(),
            part.on.map_or(String::new(), |on| on.to_string()),
            part.what.to_string(),
            plain(part.amount, decimals),
        ]
    };
    (NAME, csv_file(&HEADS, year.receipts.iter().map(row)))
}

/// Checksum, size, and whether it is there: "yes", or why it could not be read.
fn of_file(file: Option<&Result<ReceiptFile, String>>) -> [String; 3] {
    match file {
        Some(Ok(file)) => [file.sha256.clone(), file.bytes.to_string(), "yes".to_owned()],
        Some(Err(words)) => [String::new(), String::new(), format!("no: {words}")],
        None => [String::new(), String::new(), "no: not looked for".to_owned()],
    }
}
