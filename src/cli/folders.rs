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
    if name.is_empty() { "piece".to_owned() } else { name }
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
    }
}
