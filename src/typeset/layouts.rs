//! The layouts that ship with the program; a shop overrides one by a file of the same name in its
//! own `layouts/`.

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
    "card.typ",
    "care-card-four-up.typ",
    "care-card-large-print.typ",
    "care-card.typ",
    "catalogue.typ",
    "charts.typ",
    "drawing.typ",
    "hang-tag.typ",
    "hang-tags.typ",
    "house.typ",
    "income-summary.typ",
    "ledger.typ",
    "link-code.typ",
    "listing-sheet.typ",
    "listing.typ",
    "marks.typ",
    "pictures.typ",
    "pieces.typ",
    "review.typ",
    "shop-record.typ",
    "stock-sheet.typ",
    "tag.typ",
];
