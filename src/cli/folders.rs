//! Where a piece's papers go: a folder named after its number, or after its own folder.

use super::start::slug;
use crate::model::{At, Shop};
use std::collections::BTreeSet;

/// A folder name for every piece, in the shop's order; no two are the same on any disk.
pub fn piece_folders(shop: &Shop) -> Vec<String> {
    let mut taken = BTreeSet::new();
    let pieces = shop.pieces.iter().map(|piece| (&piece.number, &piece.folder));
    pieces.map(|(number, folder)| free_name(&wanted(number, folder), &mut taken)).collect()
}

/// The same for every order.
pub fn order_folders(shop: &Shop) -> Vec<String> {
    let mut taken = BTreeSet::new();
    let orders = shop.orders.iter().map(|order| (&order.number, &order.folder));
    orders.map(|(number, folder)| free_name(&wanted(number, folder), &mut taken)).collect()
}

fn wanted(number: &Option<At<String>>, folder: &str) -> String {
    let name = match number {
        Some(number) => slug(number),
        None => slug(folder.trim_start_matches("pieces/").trim_start_matches("orders/")),
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
