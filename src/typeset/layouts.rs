//! The layouts that ship with the program; a shop overrides one by a file of the same name in its
//! own `layouts/`.

use std::collections::BTreeSet;

/// A Typst file: a document of its own, or one that others import.
#[derive(Clone, Copy, Debug)]
pub struct Layout {
    pub name: &'static str,
    pub text: &'static str,
}

macro_rules! layouts {
    ($($name:literal),* $(,)?) => {
        &[$(Layout { name: $name, text: include_str!(concat!("../../layouts/", $name)) }),*]
    };
}

/// Every file of `layouts/`. Named one by one, so that a new file is compiled in when it is added
/// here; a test compares this list with the folder.
pub const LAYOUTS: &[Layout] = layouts![
    "before-and-after.typ",
    "box-label.typ",
    "buyers-receipt.typ",
    "card.typ",
    "care-card-four-up.typ",
    "care-card-large-print.typ",
    "care-card.typ",
    "catalogue.typ",
    "charts.typ",
    "count-sheet.typ",
    "drawing.typ",
    "hang-tag.typ",
    "hang-tags.typ",
    "house.typ",
    "income-summary.typ",
    "inventory.typ",
    "ledger.typ",
    "link-code.typ",
    "listing-sheet.typ",
    "listing.typ",
    "marks.typ",
    "pictures.typ",
    "pieces-part.typ",
    "pieces.typ",
    "quarter-sheet.typ",
    "review.typ",
    "shop-record.typ",
    "stock-sheet.typ",
    "tables.typ",
    "tag.typ",
];

/// A layout and every file it takes in, straight or through others, by what the built-in texts name.
/// Whatever file the shop puts in the place of one of them can name further ones, and then the paper
/// is the shop's own already.
pub fn files_of(layout: &str) -> BTreeSet<&str> {
    let mut files = BTreeSet::from([layout]);
    let mut open = vec![layout];
    while let Some(name) = open.pop() {
        let text = LAYOUTS.iter().find(|layout| layout.name == name).map_or("", |l| l.text);
        // Every other piece of a text split at its quotation marks is quoted; a name in a comment
        // does no harm.
        let named = text.split('"').filter(|quoted| quoted.ends_with(".typ"));
        for file in named.filter(|file| LAYOUTS.iter().any(|layout| layout.name == *file)) {
            if files.insert(file) {
                open.push(file);
            }
        }
    }
    files
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_layout_is_made_of_what_it_takes_in_through_others_too() {
        let files = |layout| files_of(layout).into_iter().collect::<Vec<_>>();
        assert_eq!(
            files("hang-tag.typ"),
            ["drawing.typ", "hang-tag.typ", "house.typ", "marks.typ", "tag.typ"]
        );
        assert!(files("house.typ") == ["house.typ"] && !files_of("review.typ").contains("tag.typ"));
    }
}
