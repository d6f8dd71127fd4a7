//! The shop as a whole: what `shop.toml` and `stock.toml` say, and every piece and year.

use super::closed::closed;
use super::{
    At, Country, Currency, Form, LengthUnit, Money, Order, Piece, Place, Sale, Unit, YearBook,
    YearMethod, country, round,
};
use chrono::NaiveDate;
use rust_decimal::Decimal;
use std::collections::{BTreeMap, BTreeSet};

/// Everything that was written, ready to be reckoned with.
#[derive(Clone, Debug)]
pub struct Shop {
    /// Printed at the head of every sheet.
    pub name: String,
    /// Printed at the foot; each entry one line or phrase.
    pub contact: Vec<String>,
    pub currency: Currency,
    pub units: LengthUnit,
    pub paper: Paper,
    /// The trim of a care card one up; what is usual beside the paper when not said.
    pub card_size: CardSize,
    /// The care card one up gets bleed and crop marks, for a print shop.
    pub card_marks: bool,
    /// The accent colour as `#RRGGBB`; the house's own when not set.
    pub accent: Option<At<String>>,
    /// Pixels of the longer side of a listing picture; the house's own when not set.
    pub picture_pixels: Option<u32>,
    /// A picture that stands for the name at the head of sheets: its path below the shop folder,
    /// with `/`.
    pub logo: Option<At<String>>,
    /// The family the paper is set in: one of the house's, or of the shop's own `fonts/`.
    pub font: Option<At<String>>,
    /// ISO 3166 code in lower case: decides which cautions apply, and what is taken as said. Empty
    /// where nothing tells it.
    pub country: String,
    /// The state or province in lower case, where the country has rules by state.
    pub state: Option<String>,
    /// What an hour of the owner's work should earn.
    pub shop_rate: Option<At<Money>>,
    /// Suggested prices are rounded up to a multiple of this.
    pub price_step: Option<Money>,
    /// Codes of the languages every care card is also made in, beside English.
    pub card_languages: Vec<String>,
    pub books: BooksMethod,
    pub channels: BTreeMap<String, Channel>,
    /// Places the shop collects sales tax for.
    pub taxes: BTreeMap<String, SalesTax>,
    /// The owner's wages from elsewhere, by year: they use up part of the wage base.
    pub wages: BTreeMap<i32, Money>,
    /// The shop's own finishes, in the order of the file.
    pub finishes: Vec<OwnFinish>,
    /// How the columns of the bank's export are called.
    pub bank: Option<BankColumns>,
    /// What holds of every sale, in the owner's words.
    pub terms: Terms,
    pub stock: BTreeMap<String, StockItem>,
    /// Sorted by [`Piece::name`], then folder; never one with errors.
    pub pieces: Vec<Piece>,
    pub years: BTreeMap<i32, YearBook>,
    /// Work on customers' own pieces, sorted by [`Order::name`], then folder; never one with errors.
    pub orders: Vec<Order>,
    /// The built-in forms, and the shop's own if it brings one.
    pub forms: Vec<Form>,
    /// Receipts that entries name and that are not there, by their paths below the shop folder.
    pub missing_receipts: BTreeSet<String>,
    /// Files that could not be taken in; what needs them is refused.
    pub broken: Vec<Broken>,
}

impl Shop {
    /// How a year's money is counted: as its book says, else as shop.toml does.
    pub fn basis(&self, year: i32) -> Basis {
        self.method(year).and_then(|method| method.basis).unwrap_or(self.books.basis)
    }

    /// When shop stock becomes a cost in a year.
    pub fn supplies(&self, year: i32) -> Supplies {
        self.method(year).and_then(|method| method.supplies).unwrap_or(self.books.supplies)
    }

    /// What is usual where the shop is.
    pub fn home(&self) -> &'static Country {
        country(&self.country)
    }

    fn method(&self, year: i32) -> Option<&YearMethod> {
        self.years.get(&year)?.method.as_ref()
    }

    /// Whether the shop itself collects the sales tax of a sale, and no channel does.
    pub fn collects_tax(&self, sale: &Sale) -> bool {
        let channel = sale.channel.as_ref().and_then(|key| self.channels.get(&key.value));
        channel.is_none_or(|channel| !channel.collects_tax)
    }

    /// Whether the tax of a sale is owed as the buyer pays it: as its place says, else as money
    /// counts in the shop's books.
    pub fn tax_when_paid(&self, sale: &Sale) -> bool {
        self.tax_when_paid_in(sale.tax_place.as_ref().and_then(|key| self.taxes.get(&key.value)))
    }

    /// The same for a place, or for none.
    pub fn tax_when_paid_in(&self, place: Option<&SalesTax>) -> bool {
        let by_basis = match self.books.basis {
            Basis::Cash => TaxOwed::WhenPaid,
            Basis::Accrual => TaxOwed::WhenSold,
        };
        place.and_then(|place| place.owed).unwrap_or(by_basis) == TaxOwed::WhenPaid
    }

    /// The piece of a number or folder name.
    pub fn piece(&self, name: &str) -> Option<&Piece> {
        self.pieces.iter().find(|piece| piece.name() == name || piece.folder == name)
    }
}

/// What the shop states of its sales, for the buyer's receipt, and of its work.
#[derive(Clone, Debug, Default)]
pub struct Terms {
    /// How a piece is sold: "as seen, without any promise beyond this receipt".
    pub sale: Option<String>,
    pub returns: Option<String>,
    pub deposits: Option<String>,
    pub delivery: Option<String>,
    /// Of work on a customer's own piece, for the estimate alone.
    pub work: Option<String>,
}

closed! {
    /// What the shop prints on.
    #[derive(Default)]
    pub enum Paper {
        #[default]
        UsLetter = "us-letter",
        A4 = "a4",
    }
}

closed! {
    /// The trim of a care card.
    pub enum CardSize {
        /// 105 × 148 mm (ISO 216).
        A6 = "a6",
        /// 4 × 6 in.
        FourBySix = "4x6in",
    }
}

impl CardSize {
    /// The size for which card is cut where this paper is used (common practice, no source).
    pub fn beside(paper: Paper) -> CardSize {
        match paper {
            Paper::UsLetter => CardSize::FourBySix,
            Paper::A4 => CardSize::A6,
        }
    }
}

/// How the books are kept.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct BooksMethod {
    /// The name of a form table.
    pub form: At<String>,
    pub basis: Basis,
    pub supplies: Supplies,
    pub stock_cost: StockCost,
    /// The keys of these that the shop's file states.
    pub stated: Vec<&'static str>,
}

closed! {
    /// Which day money counts on.
    #[derive(Default)]
    pub enum Basis {
        #[default]
        Cash = "cash",
        Accrual = "accrual",
    }
}

closed! {
    /// When shop stock becomes a cost.
    #[derive(Default)]
    pub enum Supplies {
        /// It is stock until drawn.
        #[default]
        WhenUsed = "when-used",
        /// It is an expense on the day it is paid for; draws are shop view only.
        WhenBought = "when-bought",
    }
}

closed! {
    /// What a draw from shop stock costs.
    #[derive(Default)]
    pub enum StockCost {
        /// Moving weighted average.
        #[default]
        Average = "average",
        /// First in, first out.
        Fifo = "fifo",
    }
}

/// A way to sell.
#[derive(Clone, Debug)]
pub struct Channel {
    pub key: String,
    pub label: String,
    /// Of price plus delivery charged, as a fraction: `"12.5%"` is 0.125.
    pub fee: Decimal,
    pub fixed_fee: Money,
    /// It remits sales tax itself: such tax never touches the shop's books.
    pub collects_tax: bool,
    /// Delivery a buyer is usually charged here.
    pub delivery_charged: Money,
    /// What that delivery usually costs.
    pub delivery_cost: Money,
    /// Characters a headline may have.
    pub headline_limit: Option<u32>,
    /// Characters a description may have.
    pub description_limit: Option<u32>,
    pub place: Place,
}

impl Channel {
    /// What it charges: its percent of price and delivery together, to the cent (half up), and its
    /// fixed fee. It is rounded here because a channel charges in cents. Nothing where the amounts are
    /// too large to reckon with.
    pub fn fee_of(&self, price: Money, delivery: Money, decimals: u32) -> Option<Money> {
        let percent = price.checked_add(delivery)?.checked_mul(self.fee)?;
        round(percent, decimals).checked_add(self.fixed_fee)
    }
}

/// Sales tax of one place.
#[derive(Clone, Debug)]
pub struct SalesTax {
    pub key: String,
    pub label: String,
    /// As a fraction: `"8.25%"` is 0.0825.
    pub rate: Decimal,
    /// Whether delivery charged is taxed as well.
    pub on_delivery: bool,
    /// When it is owed to the state; as the books are kept when not said.
    pub owed: Option<TaxOwed>,
    /// How often a return is filed; no filing period is reckoned when not said.
    pub files: Option<Files>,
    pub place: Place,
}

closed! {
    /// The day sales tax is owed to the state.
    pub enum TaxOwed {
        /// On the day of the sale, whenever the buyer pays.
        WhenSold = "when-sold",
        /// As the buyer pays it.
        WhenPaid = "when-paid",
    }
}

impl SalesTax {
    /// The tax on a price and delivery without tax, to the cent, half a cent up.
    pub fn on(&self, price: Money, delivery: Money, decimals: u32) -> Money {
        round(self.taxed(price, delivery) * self.rate, decimals)
    }

    /// The tax inside a price and a delivery charge that include it, to the cent: what is left is
    /// price and delivery.
    pub fn within(&self, price: Money, delivery: Money, decimals: u32) -> Money {
        let taxed = self.taxed(price, delivery);
        taxed - round(taxed / (Decimal::ONE + self.rate), decimals)
    }

    fn taxed(&self, price: Money, delivery: Money) -> Money {
        if self.on_delivery { price + delivery } else { price }
    }
}

closed! {
    /// How often a sales tax return is filed.
    pub enum Files {
        Monthly = "monthly",
        Quarterly = "quarterly",
        Yearly = "yearly",
    }
}

impl Files {
    /// How many returns a year.
    pub fn a_year(self) -> u32 {
        match self {
            Files::Monthly => 12,
            Files::Quarterly => 4,
            Files::Yearly => 1,
        }
    }
}

/// What the columns of a bank's export are called, and how it writes days and amounts.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct BankColumns {
    pub date: String,
    /// Money coming in above zero; what went out below zero, or nothing at all.
    pub amount: String,
    /// What the bank says of a row; not every bank has such a column.
    pub text: Option<String>,
    pub date_order: DateOrder,
    /// Amounts are written as `1.250,00`.
    pub decimal_comma: bool,
}

closed! {
    /// The order of the numbers of a day.
    #[derive(Default)]
    pub enum DateOrder {
        /// As in ISO 8601.
        #[default]
        YearMonthDay = "year-month-day",
        MonthDayYear = "month-day-year",
        DayMonthYear = "day-month-year",
    }
}

/// A finish the shop uses that the table of finishes does not have, or whose can says other times.
///
/// What is not stated is as for the finish it is like.
#[derive(Clone, Debug)]
pub struct OwnFinish {
    pub key: String,
    /// Its name on paper, and the word that means it in `product`.
    pub label: String,
    /// A finish of the table, in any of its names.
    pub like: At<String>,
    /// Until it can be touched, and until the next coat, as the can says it: "2 hours".
    pub touch: Option<String>,
    pub recoat: Option<String>,
    /// Days from the last coat until light use, and until fully hard: the longest the can says.
    pub light_use_days: u32,
    pub cure_days: u32,
    /// What it is, in a sentence or two for the buyer.
    pub about: Option<String>,
    /// Sentences; an empty list takes the table's.
    pub care: Vec<String>,
    pub never: Vec<String>,
    pub spill: Vec<String>,
    pub renewal: Vec<String>,
    pub place: Place,
}

/// A consumable kept in the shop.
#[derive(Clone, Debug)]
pub struct StockItem {
    pub key: String,
    pub label: String,
    /// The unit it is counted in.
    pub unit: Unit,
    pub place: Place,
}

/// A file that could not be taken in.
#[derive(Clone, Debug)]
pub struct Broken {
    /// Below the shop folder, with `/`.
    pub path: String,
    /// The earliest day its entries can have, where that much could be read: years that ended
    /// before it do not need the file.
    pub since: Option<NaiveDate>,
    /// What may be missing with it; nothing where that is not known either.
    pub lacks: Option<Lacks>,
}

/// What may be missing with a file that was read in part: the rest of the shop stands.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Lacks {
    /// Folders of pieces whose purchase or trips it may hold.
    pub pieces: BTreeSet<String>,
    /// Stock items whose purchases, counts or draws it may hold.
    pub stock: BTreeSet<String>,
}
