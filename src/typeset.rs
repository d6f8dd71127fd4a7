//! Turns figures and words into paper: builds the small view each layout gets, and typesets it.
//!
//! A layout places; it never adds, rounds or decides. Nothing here opens a file or asks the clock,
//! so the same shop gives the same bytes.

mod explain;
mod layouts;
mod photo;
mod press;
mod sheets;
mod spreadsheet;
mod steps;
pub mod view;

pub use explain::{Field, explain_layout, explained_layouts};
pub use layouts::{LAYOUTS, Layout};
pub use photo::{Fit, Picture, PictureFault, fit_picture, measure_picture};
pub use press::{
    Brand, Draft, LayoutFault, Paper, PictureUse, Press, font_families, house_families,
};
pub use sheets::{
    Shot, Subject, YearTables, care_card, care_cards_four_up, income_summary, listing_sheet,
    logo_name, shop_record, stock_sheet, year_json, year_tables,
};
pub use spreadsheet::{cell, csv};
