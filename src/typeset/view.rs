//! What the layouts get: small, serialisable views with every figure and word ready. A layout places
//! and never adds, rounds or decides, so a wrong figure is never in a layout.
//!
//! Only `typeset` makes views. Every string may hold any text of the owner: layouts show it as text
//! and never evaluate it. Keys are kebab-case; what is absent is `null` or an empty list, never left
//! out, so that a layout can name every key.

mod card;
mod catalogue;
mod common;
mod glance;
mod inventory;
mod ledger;
mod link;
mod listing;
mod moments;
mod pieces;
mod quarter;
mod receipt;
mod record;
mod review;
mod stock;
mod summary;
mod tag;

pub use card::{Card, CardDate, CardRow, CardSheetView, CardView, LargeCardView};
pub use catalogue::{
    CatalogueEntry, CatalogueGroup, CatalogueLink, CatalogueView, IndexEntry, IndexPart,
};
pub use common::{
    Caution, Cautions, ContactPart, Drawing, DrawingShape, LabelRow, PageWords, Photo, Sheet,
    ShopHead,
};
pub use glance::{Dollar, DollarStep, Glance, Month, Months, StepKind, Verdict};
pub use inventory::{CountSheetView, InventoryRow, InventoryView};
pub use ledger::{Row, RowKind};
pub use link::LinkCode;
pub use listing::{
    Care, ListingCaution, ListingCautions, ListingRow, ListingView, Price, SizeBlock,
};
pub use moments::{BeforeAfterView, MomentPicture};
pub use pieces::{
    DaysHeld, HeldBar, HourBar, MonthRow, PerHour, PiecesPart, PiecesSold, PiecesUnsold,
    SoldMonths, SoldRow, SoldSums, UnsoldRow,
};
pub use quarter::{QuarterEstimate, QuarterLine, QuarterLines, QuarterSheet, TaxReturn};
pub use receipt::ReceiptView;
pub use record::{
    HoursText, OwnerNote, RecipeStep, RecordHours, RecordMoney, RecordPicture, ShopRecord,
    TaskHours,
};
pub use review::{ReviewChart, ReviewColumns, ReviewTable, ReviewView};
pub use stock::{StockColumns, StockGroup, StockRow, StockTotal, StockView};
pub use summary::{
    Answer, Attachment, Block, EntryRow, ExpenseRow, Expenses, Form, FormLine, FormPart, Goods,
    IncomeSummary, Preparer, Reconciliation, ReconciliationRow, RecordRow, Records, Rule,
    SelfEmployment, TripRow, Trips,
};
pub use tag::{BoxLabel, BoxLabelView, BoxRow, Tag, TagCautions, TagRow, TagsView};
