//! The layouts that ship with the program; a shop overrides one by a file of the same name in its
//! own `layouts/`.

use super::view::{
    BeforeAfterView, BoxLabelView, CardSheetView, CardView, CatalogueView, CountSheetView,
    IncomeSummary, InventoryView, LargeCardView, ListingView, PiecesPart, QuarterSheet,
    ReceiptView, ReviewView, ShopRecord, StockView, TagsView,
};
use schemars::{JsonSchema, Schema, SchemaGenerator, generate::SchemaSettings};
use std::collections::BTreeSet;
use std::marker::PhantomData;

/// A Typst file: a document of its own, or one that others import.
#[derive(Clone, Copy, Debug)]
pub struct Layout {
    pub name: &'static str,
    pub text: &'static str,
    /// What a document is given; nothing of a file that others import.
    pub(super) data: Option<fn() -> Schema>,
}

/// A layout that is a document, with the view it takes.
#[derive(Clone, Copy)]
pub(super) struct Document<V> {
    pub name: &'static str,
    view: PhantomData<fn(V)>,
}

macro_rules! layouts {
    (documents { $($document:ident: $view:ident = $name:literal,)* } parts { $($part:literal,)* }) => {
        $(pub(super) const $document: Document<$view> =
            Document { name: $name, view: PhantomData };)*

        /// Every file of `layouts/`; a test compares this list with the folder.
        pub const LAYOUTS: &[Layout] = &[
            $(Layout { name: $name, text: text!($name), data: Some(schema::<$view>) },)*
            $(Layout { name: $part, text: text!($part), data: None },)*
        ];
    };
}

macro_rules! text {
    ($name:literal) => {
        include_str!(concat!("../../layouts/", $name))
    };
}

layouts! {
    documents {
        BEFORE_AND_AFTER: BeforeAfterView = "before-and-after.typ",
        BOX_LABEL: BoxLabelView = "box-label.typ",
        BUYERS_RECEIPT: ReceiptView = "buyers-receipt.typ",
        CARE_CARD_FOUR_UP: CardSheetView = "care-card-four-up.typ",
        CARE_CARD_LARGE_PRINT: LargeCardView = "care-card-large-print.typ",
        CARE_CARD: CardView = "care-card.typ",
        CATALOGUE: CatalogueView = "catalogue.typ",
        COUNT_SHEET: CountSheetView = "count-sheet.typ",
        HANG_TAG: TagsView = "hang-tag.typ",
        HANG_TAGS: TagsView = "hang-tags.typ",
        INCOME_SUMMARY: IncomeSummary = "income-summary.typ",
        INVENTORY: InventoryView = "inventory.typ",
        LISTING_SHEET: ListingView = "listing-sheet.typ",
        PIECES_PART: PiecesPart = "pieces-part.typ",
        QUARTER_SHEET: QuarterSheet = "quarter-sheet.typ",
        REVIEW: ReviewView = "review.typ",
        SHOP_RECORD: ShopRecord = "shop-record.typ",
        STOCK_SHEET: StockView = "stock-sheet.typ",
    }
    parts {
        "card.typ",
        "charts.typ",
        "drawing.typ",
        "house.typ",
        "ledger.typ",
        "link-code.typ",
        "listing.typ",
        "marks.typ",
        "pictures.typ",
        "pieces.typ",
        "tables.typ",
        "tag.typ",
    }
}

/// The fields of a view with the words above them, each type written out where it is used.
fn schema<V: JsonSchema>() -> Schema {
    let inline = SchemaSettings::default().with(|settings| settings.inline_subschemas = true);
    SchemaGenerator::new(inline).into_root_schema_for::<V>()
}

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
