//! What an owner writes down, as plain values that know their place in the file.
//!
//! Nothing here opens a file, adds up a total or words a sentence; every other floor may use it.

mod books;
mod closed;
mod code;
mod country;
mod currency;
mod entries;
mod facts;
mod failure;
mod finding;
mod form;
mod hint;
mod hours;
mod languages;
mod length;
mod made;
mod money;
mod order;
mod period;
mod piece;
mod place;
mod print;
mod quantity;
mod records;
mod shop;
mod spelling;
pub mod units;
mod words;
mod workers;

pub use books::{
    BankDeposit, BankExport, Bundle, Count, EstimatePaid, Expense, Income, IncomeKind, Lot,
    OnHandStock, Opening, PaidBy, Refund, RefundOf, Remitted, Reported, SpaceUse, Supply, Trip,
    TripPurpose, VEHICLE_ANSWERS, Vehicle, Workspace, YearBook, YearMethod,
};
pub use closed::Closed;
pub(crate) use closed::closed;
pub use code::Code;
pub use country::{Country, Distance, NamedAfter, Spelling, countries, country};
pub use currency::{Currency, currencies, currency};
pub use entries::{Entry, What};
pub use facts::{Fact, Kind, Shape, fact, facts, kind, kinds};
pub use failure::Failure;
pub use finding::{Finding, Severity};
pub use form::{
    Apart, Due, Feed, Form, Line, LineUnit, METHOD_CHANGED, OWN_ACCOUNT, Part, PayeeRule, Rate,
    Rounding, Seen, built_in_forms, form_for, form_years,
};
pub use hint::{Edit, Hint, Offer};
pub use hours::{Hours, parse_hours};
pub use languages::{CardLanguage, card_languages, languages_of};
pub use length::{Length, LengthUnit, parse_length};
pub use made::{Made, parse_made};
pub use money::{Money, parse_amount, round, round_up, split, whole};
pub use order::{Order, OrderLine, OrderPayment};
pub use period::Period;
pub use piece::{
    Allowance, Bought, Change, ChangeKind, Coat, Completeness, Consigned, Cost, CostKind, Exempt,
    Flaw, Function, HandedOver, Listing, LoosePart, Material, Moment, Outline, Payment, Photo,
    Piece, Reserved, Return, Sale, SalePaper, Salvaged, SalvagedTo, Used, Withdrawal,
    WithdrawalKind, Wood, WoodForm, Work,
};
pub use place::{At, FileId, Place, Source, Sources};
pub use print::{grouped, plain};
pub use quantity::{Family, Quantity, Unit, parse_quantity, parse_weight};
pub use records::{ReceiptFile, RecordRule, record_rules};
pub use shop::{
    BankColumns, Basis, BooksMethod, Broken, CardSize, Channel, DateOrder, Files, Lacks, OwnFinish,
    Paper, SalesTax, Shop, StockCost, StockItem, Supplies, TaxOwed, Terms,
};
pub use spelling::same_but_for_spelling;
pub use units::{MoveKind, UnitFault, UnitMove, Units, Walked, unit_moves};
pub use words::{and_list, counted, nearest, turns_direction};
pub use workers::in_order;
