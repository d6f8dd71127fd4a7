//! Turns figures and words into paper: builds the small view each layout gets, and typesets it.
//!
//! A layout places; it never adds, rounds or decides. Nothing here opens a file or asks the clock,
//! so the same shop gives the same bytes.

mod characters;
mod code;
mod explain;
mod layouts;
mod press;
mod raster;
mod sheets;
mod spreadsheet;
pub mod view;

pub use dovetally_photo::{
    Fit, MOST_PIXELS, Picture, PictureFault, PictureSize, fit_picture, measure_picture, try_picture,
};
pub use explain::{Field, explain_layout, explained_layouts};
pub use layouts::{LAYOUTS, Layout, files_of};
pub use press::{
    Brand, Draft, LayoutFault, Paper, PictureUse, Press, font_families, house_families,
};
pub use sheets::{
    Credit, MOST_PICTURED, OnDay, OrderPaper, ReceiptSize, Shot, Subject, YearTables,
    before_and_after, box_label, buyers_receipt, care_card, care_card_large_print,
    care_cards_four_up, catalogue, count_sheet, credit_receipt, estimate_words, hang_tag,
    hang_tags, income_summary, income_summary_parts, inventory, inventory_table, is_for_sale,
    listing_sheet, logo_name, not_offered, order_paper, quarter_json, quarter_sheet, quarter_table,
    receipt_index, review_sheet, review_words, shop_record, stock_sheet, year_json, year_tables,
};
pub use spreadsheet::{cell, csv, csv_file};
