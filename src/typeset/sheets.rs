//! The sheets of a piece and of a shop: each turns what the floors below made into the view its
//! layout gets. Words that only label a place stand here; everything else comes ready.

mod card;
mod catalogue;
mod common;
mod inventory;
mod listing;
mod moments;
mod offered;
mod order;
mod receipt;
mod record;
mod review;
mod stock;
mod summary;
mod tag;

pub use card::{care_card, care_card_large_print, care_cards_four_up};
pub use catalogue::catalogue;
pub use common::logo_name;
pub use inventory::{MOST_PICTURED, OnDay, count_sheet, inventory, inventory_table};
pub use listing::listing_sheet;
pub use moments::before_and_after;
pub use offered::{is_for_sale, not_offered};
pub use order::{OrderPaper, order_paper};
pub use receipt::{Credit, ReceiptSize, buyers_receipt, credit_receipt};
pub use record::shop_record;
pub use review::{review_sheet, words as review_words};
pub use stock::stock_sheet;
pub use summary::{
    YearTables, estimate_words, income_summary, income_summary_parts, quarter_json, quarter_sheet,
    quarter_table, receipt_index, year_json, year_tables,
};
pub use tag::{box_label, hang_tag, hang_tags};

use super::characters::set_all;
use super::layouts::{self, Document};
use super::press::{Draft, PictureUse};
use crate::describe::Words;
use crate::model::{Moment, Photo, Piece, Shop};
use crate::reckon::tally::Tally;
use dovetally_photo::Fit;
use serde::Serialize;

/// One piece with what the floors below made of it.
#[derive(Clone, Copy)]
pub struct Subject<'a> {
    pub shop: &'a Shop,
    pub piece: &'a Piece,
    /// Nothing when its figures cannot be trusted.
    pub tally: Option<&'a Tally>,
    pub words: &'a Words,
    /// Its usable photos, in the order of its file.
    pub shots: &'a [Shot<'a>],
}

/// A photo that can be printed.
#[derive(Clone, Copy, Debug)]
pub struct Shot<'a> {
    pub photo: &'a Photo,
    /// Its position in [`Piece::photo`].
    pub index: usize,
    /// Pixels across and down in print, as the main picture and as a smaller one.
    pub main: (u32, u32),
    pub small: (u32, u32),
}

impl<'a> Subject<'a> {
    fn shots_of(&self, moment: Moment) -> impl Iterator<Item = &'a Shot<'a>> {
        self.shots.iter().filter(move |shot| shot.photo.moment == moment)
    }

    /// Names the piece's document for good.
    fn ident(&self, document: &str) -> String {
        format!("{} / {} / {document}", self.shop.name, self.piece.folder)
    }
}

/// The name under which a layout finds a picture.
fn picture_name(position: usize) -> String {
    format!("photo-{}.jpg", position + 1)
}

/// A draft of a document with its view as JSON.
fn draft<V: Serialize>(
    document: Document<V>,
    view: &V,
    pictures: Vec<PictureUse>,
    ident: String,
) -> Draft {
    // A view is text, numbers and lists: it always serialises.
    let mut view = serde_json::to_value(view).unwrap_or_default();
    set_all(&mut view);
    let data = serde_json::to_vec(&view).unwrap_or_default();
    Draft { layout: document.name, data, pictures, files: Vec::new(), ident, archival: false }
}

/// The fit of the picture at a position: the first is the main one.
fn fit_at(position: usize) -> Fit {
    if position == 0 { Fit::Main } else { Fit::Small }
}
