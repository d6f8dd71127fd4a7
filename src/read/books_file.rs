//! `books/YEAR.toml`: what belongs to a year and not to one piece.

use super::amount::{AMOUNT, BUSINESS_SHARE};
use super::piece_sale::sale;
use super::piece_work::COST_KINDS;
use super::recurring::occurrences;
use super::table::{OwnKey, Table};
use super::text::{DATE, TEXT, WORD};
use super::value::{AREA, DISTANCE, Fault, Reader, SHARE, YES_NO};
use crate::model::{
    At, BankExport, Bundle, Closed, Code, Count, Distance, EstimatePaid, Expense, Finding, Hint,
    Income, Lot, Money, OnHandStock, Opening, Period, Refund, RefundOf, Remitted, Reported,
    SpaceUse, Supply, Trip, TripPurpose, VEHICLE_ANSWERS, Vehicle, Workspace, YearBook, YearMethod,
};
use chrono::NaiveDate;
use rust_decimal::Decimal;
use std::collections::BTreeMap;

const PURPOSES: [(&str, TripPurpose); 3] = [
    ("fetch", TripPurpose::Fetch),
    ("deliver", TripPurpose::Deliver),
    ("other", TripPurpose::Other),
];

/// A filing period: a year, a quarter or a month of it.
const PERIOD: Reader<Period> = Reader {
    what: "a filing period",
    example: "\"2025-Q1\"",
    read: |value| {
        let text = value.text()?;
        filing_period(text).ok_or_else(|| {
            let message = format!("`{text}` is not a year, a quarter or a month");
            Fault::new(Code::FilingPeriod, message).label("not a filing period")
        })
    },
    stand_in: || Period::months(NaiveDate::MIN, 0),
};

/// "2025", "2025-Q1", "2025-03".
fn filing_period(text: &str) -> Option<Period> {
    let (year, part) = text.split_once('-').unwrap_or((text, ""));
    let year = year.parse().ok().filter(|year| (1990..=2100).contains(year))?;
    let (nth, of) = match part.strip_prefix(['Q', 'q']) {
        _ if part.is_empty() => (1, 1),
        Some(quarter) => (quarter.parse().ok()?, 4),
        None if part.len() == 2 => (part.parse().ok()?, 12),
        None => return None,
    };
    let year = Period::months(NaiveDate::from_ymd_opt(year, 1, 1)?, 12);
    (1..=of).contains(&nth).then(|| year.part(nth, of))
}

const EXPENSE: Reader<String> = Reader { example: "\"newspaper notice\"", ..TEXT };
const LOT: Reader<String> = Reader { example: "\"barn clearance\"", ..TEXT };

/// The book of a year.
pub(super) fn year_book(file: &Table, year: i32) -> YearBook {
    YearBook {
        year,
        expense: file.tables("expense").iter().flat_map(|table| expense(table, year)).collect(),
        income: file.tables("income").iter().map(|table| income(table, year)).collect(),
        estimate_paid: estimates_paid(file, year),
        supply: file.tables("supply").iter().map(|table| supply(table, year)).collect(),
        refund: file.tables("refund").iter().map(|table| refund(table, year)).collect(),
        count: file.tables("count").iter().map(|table| count(table, year)).collect(),
        trip: file.tables("trip").iter().map(|table| trip(table, year)).collect(),
        lot: file.tables("lot").iter().map(|table| lot(table, year)).collect(),
        bundle: file.tables("bundle").iter().map(|table| bundle(table, year)).collect(),
        reported: file.tables("reported").iter().map(reported).collect(),
        remitted: file.tables("remitted").iter().map(|table| remitted(table, year)).collect(),
        on_hand: file.tables("on-hand").iter().map(on_hand).collect(),
        opening: file.table("opening").as_ref().map(opening),
        method: file.table("method").as_ref().map(method),
        workspace: file.table("workspace").map(|table| workspace(&table, year)),
        vehicle: file.table("vehicle").as_ref().map(vehicle),
        bank: file.table("bank").as_ref().map(bank),
    }
}

/// The day of an entry, which must lie in the book's year.
fn on(table: &Table, year: i32) -> At<NaiveDate> {
    day_of("on", table, year)
}

fn day_of(key: &'static str, table: &Table, year: i32) -> At<NaiveDate> {
    let on = table.need(key, &DATE);
    if on.value != NaiveDate::default() {
        say_wrong_year(table, &on, year);
    }
    on
}

fn say_wrong_year(table: &Table, on: &At<NaiveDate>, year: i32) {
    let home = table.document.setting.home;
    if !home.tax_year(year).contains(on.value) {
        let message = format!("{} stands in the book of {year}", on.value);
        let finding = Finding::error(Code::WrongYear, on.place, message).label("another year");
        table.document.say(finding.hint(format!(
            "move the entry to books/{}.toml, or write the year {year}",
            home.tax_year_of(on.value)
        )));
    }
}

/// One expense for each day it was paid.
fn expense(table: &Table, year: i32) -> Vec<Expense> {
    let first = expense_of(table, on(table, year), year);
    occurrences(table, first, table.document.setting.home.tax_year(year))
}

/// What an expense says besides its day.
pub(super) fn expense_of(table: &Table, on: At<NaiveDate>, year: i32) -> Expense {
    Expense {
        on,
        what: table.need("what", &EXPENSE).value,
        category: table.category(year),
        amount: table.need("amount", &AMOUNT),
        share: table.or("share", &BUSINESS_SHARE, Decimal::ONE),
        to: table.may("to", &TEXT).map(|to| to.value),
        how: table.word_of("how"),
        receipt: table.receipt(),
        place: table.place,
    }
}

fn income(table: &Table, year: i32) -> Income {
    Income {
        on: on(table, year),
        what: table.need("what", &Reader { example: "\"workshop day\"", ..TEXT }).value,
        amount: table.need("amount", &Reader { example: "180.00", ..AMOUNT }),
        kind: table.need_word_of("kind"),
        earned: false,
        from: table.may("from", &TEXT).map(|from| from.value),
        how: table.word_of("how"),
        receipt: table.receipt(),
        place: table.place,
    }
}

fn estimates_paid(file: &Table, year: i32) -> Vec<EstimatePaid> {
    file.tables("estimate-paid").iter().map(|table| estimate_paid(table, year)).collect()
}

/// It stands in the book of the year it is for: the last one is paid in the next year.
fn estimate_paid(table: &Table, year: i32) -> EstimatePaid {
    let on = table.need("on", &DATE);
    let home = table.document.setting.home;
    let stood_in = on.value == NaiveDate::default();
    let late = home.tax_year(year + 1).contains(on.value);
    if !stood_in && !late {
        say_wrong_year(table, &on, year);
    }
    EstimatePaid {
        on,
        amount: table.need("amount", &Reader { example: "400.00", ..AMOUNT }),
        part: table.number("part", 4),
        to: table.may("to", &TEXT).map(|to| to.value),
        receipt: table.receipt(),
        place: table.place,
    }
}

fn supply(table: &Table, year: i32) -> Supply {
    let on = on(table, year);
    let (stock, quantity) = table.stock_and_quantity();
    let amount = table.need("amount", &AMOUNT);
    Supply { on, stock, quantity, amount, receipt: table.receipt(), place: table.place }
}

/// What a supplier paid back, of one of three things.
fn refund(table: &Table, year: i32) -> Refund {
    let on = on(table, year);
    let piece = table.may("piece", &WORD);
    let kind = table.one_of("kind", &COST_KINDS).map(|kind| kind.value);
    let stock = table.may_stock_and_quantity();
    let category = table.may_category(year);
    let share = table.or("share", &BUSINESS_SHARE, Decimal::ONE);
    let of = match (piece, stock, category) {
        (Some(piece), None, None) => RefundOf::Piece(piece, kind),
        (None, Some((stock, quantity)), None) => RefundOf::Stock { stock, quantity },
        (None, None, Some(category)) => RefundOf::Expense { category, share },
        (piece, stock, category) => {
            let any = piece.is_some() || stock.is_some() || category.is_some();
            refund_of_what(table, any);
            RefundOf::Expense { category: String::new().into(), share }
        }
    };
    Refund {
        on,
        what: table.may("what", &TEXT).map(|what| what.value),
        from: table.may("from", &TEXT).map(|from| from.value),
        amount: table.need("amount", &AMOUNT),
        of,
        receipt: table.receipt(),
        place: table.place,
    }
}

fn refund_of_what(table: &Table, several: bool) {
    let message = match several {
        true => "a refund is of one thing: a piece, shop stock or a category",
        false => "nothing says what this refund is of",
    };
    let finding = Finding::error(Code::RefundOfWhat, table.place, message);
    let hint =
        Hint::either(&["piece = \"25-014\"", "stock = \"topcoat\"", "category = \"office\""]);
    table.document.stand_in(finding.label("of what?").hint(hint));
}

fn count(table: &Table, year: i32) -> Count {
    let on = on(table, year);
    let (stock, quantity) = table.stock_and_quantity();
    Count { on, stock, quantity, place: table.place }
}

fn on_hand(table: &Table) -> OnHandStock {
    let (stock, quantity) = table.stock_and_quantity();
    OnHandStock { stock, quantity, amount: table.need("amount", &AMOUNT), place: table.place }
}

fn opening(table: &Table) -> Opening {
    let stock = table.may("stock", &Reader { example: "1250.00", ..AMOUNT });
    let sales_tax = held(table);
    if stock.is_none() && sales_tax.is_empty() {
        table.missing("stock", "1250.00");
    }
    Opening { stock, sales_tax, place: table.place }
}

/// `sales-tax = { county = 14.40 }`.
fn held(opening: &Table) -> Vec<(At<String>, Money)> {
    let Some(table) = opening.table("sales-tax") else { return Vec::new() };
    let held = table.own_keys();
    let held = held.iter().map(|own| {
        let place = table.document.place(own.value.span());
        let amount = table.read(own.key.value, own.value.get_ref(), place, &AMOUNT);
        let key = At::new(own.key.value.to_owned(), own.key.place);
        table.check_tax_place("sales-tax", &key);
        (key, amount)
    });
    held.collect()
}

fn method(table: &Table) -> YearMethod {
    YearMethod {
        basis: table.word_of("basis"),
        supplies: table.word_of("supplies"),
        place: table.place,
    }
}

fn trip(table: &Table, year: i32) -> Trip {
    Trip {
        on: on(table, year),
        distance: distance(table),
        parking: table.or("parking", &Reader { example: "4.00", ..AMOUNT }, Decimal::ZERO),
        purpose: table.need_one_of("purpose", &PURPOSES),
        what: table.or("what", &TEXT, String::new()),
        pieces: pieces_of(table),
        place: table.place,
    }
}

/// `piece = "25-014"`, or `pieces = ["25-014", "25-015"]`.
fn pieces_of(table: &Table) -> Vec<At<String>> {
    let (one, several) = (table.may("piece", &WORD), table.list("pieces", &WORD));
    if let (Some(one), Some(first)) = (&one, several.first()) {
        let finding =
            Finding::error(Code::PieceAndPieces, one.place, "one piece, and several pieces");
        let finding = finding.label("which?").second(first.place, "and here");
        table.document.say(finding.hint("put them all into `pieces`, and remove `piece`"));
    }
    one.into_iter().chain(several).collect()
}

/// How far it was, in the unit of the shop's country, which is also the key.
fn distance(table: &Table) -> Decimal {
    let own = table.document.setting.home.distance.word();
    for (other, _) in Distance::ALL.iter().filter(|(word, _)| *word != own) {
        if let Some(found) = table.find(other) {
            let place = table.document.place(found.span());
            let message = format!("trips of this shop are in {own}, and this one is in {other}");
            let finding = Finding::error(Code::OtherDistance, place, message).label("another unit");
            table.document.stand_in(finding.hint(Hint::such_as(&format!("{own} = 12.5"))));
            table.find(own);
            return Decimal::ZERO;
        }
    }
    table.need(own, &DISTANCE).value
}

fn lot(table: &Table, year: i32) -> Lot {
    Lot {
        on: on(table, year),
        what: table.need("what", &LOT).value,
        price: table.need("price", &AMOUNT),
        premium: table.or("premium", &AMOUNT, Decimal::ZERO),
        tax: table.or("tax", &AMOUNT, Decimal::ZERO),
        pieces: shares(table),
        from: table.may("from", &TEXT).map(|from| from.value),
        receipt: table.receipt(),
        place: table.place,
    }
}

/// The keys of a sale, and the pieces.
fn bundle(table: &Table, year: i32) -> Bundle {
    let sale = sale(table);
    if sale.on.value != NaiveDate::default() {
        say_wrong_year(table, &sale.on, year);
    }
    if let Some(count) = &sale.count {
        let message = "several pieces sold together are each sold whole";
        let finding = Finding::error(Code::BundleCount, count.place, message).label("of which?");
        let hint = "remove `count`; part of a set is sold in its own file";
        table.document.stand_in(finding.hint(hint));
    }
    Bundle { sale, pieces: shares(table), place: table.place }
}

/// `pieces = { "25-020" = 3, "25-021" = 1 }`.
fn shares(lot: &Table) -> Vec<(At<String>, Decimal)> {
    let shares = lot.table("pieces");
    let own_keys = shares.as_ref().map(Table::own_keys).unwrap_or_default();
    if own_keys.is_empty() {
        let message =
            format!("this `{}` names no pieces, so its price would belong to none", lot.name());
        let finding = Finding::error(Code::LotWithoutPieces, lot.place, message);
        let hint =
            "add them, each with its share, such as `pieces = { \"25-020\" = 3, \"25-021\" = 1 }`";
        lot.document.stand_in(finding.label("no `pieces`").hint(hint));
    }
    own_keys.iter().map(|own| share(lot, own)).collect()
}

fn share(lot: &Table, own: &OwnKey) -> (At<String>, Decimal) {
    let place = lot.document.place(own.value.span());
    let share = lot.read(own.key.value, own.value.get_ref(), place, &SHARE);
    (At::new(own.key.value.to_owned(), own.key.place), share)
}

fn reported(table: &Table) -> Reported {
    let channel = table.need("channel", &Reader { example: "\"online\"", ..WORD });
    table.check_channel(&channel);
    Reported {
        channel,
        form: table.may("form", &TEXT).map(|form| form.value),
        gross: table.need("gross", &Reader { example: "1250.00", ..AMOUNT }),
        place: table.place,
    }
}

fn remitted(table: &Table, year: i32) -> Remitted {
    Remitted {
        on: on(table, year),
        to: table.need("to", &Reader { example: "\"the state\"", ..TEXT }).value,
        place_key: table.tax_place("tax-place"),
        amount: table.need("amount", &AMOUNT),
        kept: table.or("kept", &Reader { example: "1.20", ..AMOUNT }, Decimal::ZERO),
        period: table.may("period", &PERIOD),
        receipt: table.receipt(),
        place: table.place,
    }
}

fn workspace(table: &Table, year: i32) -> Workspace {
    let months = table.number("months", 12).map(|months| months.value);
    let mut uses = vec![space_use(table, year, false)];
    uses.extend(table.tables("change").iter().map(|change| space_use(change, year, true)));
    uses.sort_by_key(|used| used.from);
    Workspace { uses, months, place: table.place }
}

fn space_use(table: &Table, year: i32, must_begin: bool) -> SpaceUse {
    let area = table.need("area", &AREA).value;
    let from = match must_begin {
        true => Some(day_of("from", table, year).value),
        false => table.find("from").map(|_| day_of("from", table, year).value),
    };
    let to = table.find("to").map(|_| day_of("to", table, year).value);
    SpaceUse { area, from, to }
}

fn vehicle(table: &Table) -> Vehicle {
    let miles = |key| table.may(key, &DISTANCE).map(|miles| miles.value);
    Vehicle {
        total: miles("total"),
        commuting: miles("commuting"),
        other: miles("other"),
        answers: answers(table),
        place: table.place,
    }
}

/// The export itself is read once every book is.
fn bank(table: &Table) -> BankExport {
    let file = table.need("file", &Reader { example: "\"bank-2025.csv\"", ..TEXT });
    let file = table.record("file", file);
    BankExport { file, deposits: None, place: table.place }
}

/// What the form asks in words: a day, or yes and no.
fn answers(table: &Table) -> BTreeMap<&'static str, String> {
    let yes_no = |key| table.may(key, &YES_NO).map(|yes| if yes.value { "yes" } else { "no" });
    let answer = |&key: &&'static str| {
        let said = match key {
            "in-service" => table.may(key, &DATE).map(|on| on.value.to_string()),
            _ => yes_no(key).map(str::to_owned),
        };
        Some((key, said?))
    };
    VEHICLE_ANSWERS.iter().filter_map(answer).collect()
}
