//! Where a piece's papers go: a folder named after its number, or after its own folder.

use super::start::slug;
use crate::model::{Piece, Shop};
use std::collections::BTreeSet;

/// A folder name for every piece, in the shop's order; no two are the same on any disk.
pub fn piece_folders(shop: &Shop) -> Vec<String> {
    let mut taken = BTreeSet::new();
    shop.pieces.iter().map(|piece| free_name(&wanted(piece), &mut taken)).collect()
}

fn wanted(piece: &Piece) -> String {
    let name = match &piece.number {
        Some(number) => slug(number),
        None => slug(piece.folder.trim_start_matches("pieces/")),
    };
    if name.is_empty() || is_a_device(&name) {
        format!("piece-{name}").trim_end_matches('-').to_owned()
    } else {
        name
    }
}

/// Names that stand for a device on some systems, whatever folder they are in; a shop folder may be
/// carried there. Source: "Naming Files, Paths, and Namespaces" of the Windows documentation (from
/// memory).
fn is_a_device(name: &str) -> bool {
    let numbered = |device: &str| {
        let number = name.strip_prefix(device).map(str::as_bytes);
        matches!(number, Some([b'1'..=b'9']))
    };
    matches!(name, "con" | "prn" | "aux" | "nul") || numbered("com") || numbered("lpt")
}

fn free_name(wanted: &str, taken: &mut BTreeSet<String>) -> String {
    let mut name = wanted.to_owned();
    let mut copy = 1;
    while !taken.insert(name.clone()) {
        copy += 1;
        name = format!("{wanted}-{copy}");
    }
    name
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn no_two_pieces_share_a_folder() {
        let mut taken = BTreeSet::new();
        let names = ["25-014", "25-014", "25-014-2"].map(|name| free_name(name, &mut taken));
        assert_eq!(names, ["25-014", "25-014-2", "25-014-2-2"]);
        let devices = ["con", "aux", "nul", "com1", "lpt9", "console", "com", "com10"];
        assert_eq!(devices.map(is_a_device).iter().filter(|is| **is).count(), 5);
    }
}
