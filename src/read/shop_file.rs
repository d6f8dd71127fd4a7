//! `shop.toml`: the shop, how its books are kept, and its channels.

use super::accent::too_pale;
use super::amount::{AMOUNT, PERCENT};
use super::card_languages;
use super::piece_work::LONGEST_CURE;
use super::regions::{COUNTRY, STATE, is_state};
use super::table::{OwnKey, Table};
use super::text::{STORY, TEXT, WORD};
use super::value::{Fault, Reader, Value, YES_NO};
use super::words::ticked;
use crate::model::{
    At, BankColumns, BooksMethod, CardSize, Channel, Code, Country, Currency, Finding, Form, Hint,
    OWN_ACCOUNT, OwnFinish, Place, SalesTax, Shop, Terms, countries, country, currencies, currency,
};
use rust_decimal::Decimal;
use std::collections::{BTreeMap, BTreeSet};
use toml::de::DeTable;

/// The most characters a channel's limits may be set to.
const LONGEST_LISTING: u32 = 100_000;

/// A listing picture smaller than this cannot be read, and a larger one no channel takes; common
/// practice, no source.
const PICTURE_PIXELS: std::ops::RangeInclusive<u32> = 600..=6000;

const NAME: Reader<String> = Reader { example: "\"Quayside Furniture\"", ..TEXT };
const CONTACT: Reader<String> = Reader { example: "\"shop@example.org\"", ..TEXT };

const LOGO: Reader<String> = Reader { example: "\"logo.svg\"", ..TEXT };
const FONT: Reader<String> = Reader { example: "\"Libertinus Serif\"", ..TEXT };

const CURRENCY: Reader<String> = Reader {
    what: "a currency's code",
    example: "\"USD\"",
    stand_in: String::new,
    read: currency_code,
};
const ACCENT: Reader<String> =
    Reader { what: "a colour", example: "\"#7A3A1E\"", stand_in: String::new, read: accent };

/// What every amount and bare length of the shop depends on, before anything else is read: where the
/// shop is, and its money.
pub(super) fn home_of(file: &DeTable) -> (&'static Country, &'static Currency) {
    let text = |key: &str| file.get(key)?.get_ref().as_str();
    let money = text("currency").and_then(currency);
    let code = text("country").map(str::to_lowercase);
    let home = country(&code.unwrap_or_else(|| country_of_money(money)));
    (home, money.unwrap_or_else(|| home.money()))
}

/// The code of a country that is not stated: the only one with the shop's money; none where several
/// have it, and the first of the table where nothing is said of money either.
fn country_of_money(money: Option<&Currency>) -> String {
    let mut with = countries().filter(|home| money.is_none_or(|money| home.currency == money.code));
    let first = with.next();
    let only = first.filter(|_| money.is_none() || with.next().is_none());
    only.map_or(String::new(), |home| home.code.clone())
}

/// No sheet has room for more lines.
const MOST_CONTACT: usize = 8;

fn contact(file: &Table) -> Vec<String> {
    file.document.taste(|| file.at_most("contact", MOST_CONTACT));
    let lines = file.list("contact", &CONTACT).into_iter().map(|line| line.value);
    lines.take(MOST_CONTACT).collect()
}

/// The shop without stock, pieces and years.
pub(super) fn shop(file: &Table, forms: Vec<Form>) -> Shop {
    let home = file.document.setting.home;
    let paper = file.document.taste(|| file.word_of("paper")).unwrap_or(home.paper);
    let stated = file.may("country", &COUNTRY);
    let money = file.may("currency", &CURRENCY);
    if stated.is_none() && home.code.is_empty() {
        say_which_country(file, money.as_ref());
    }
    let of_money = money.as_ref().filter(|_| !home.code.is_empty()).map(|money| money.place);
    let said_at = stated.as_ref().map(|stated| stated.place).or(of_money);
    Shop {
        name: file.need("name", &NAME).value,
        contact: contact(file),
        currency: file.document.setting.currency.clone(),
        units: file.word_of("units").unwrap_or(home.units),
        paper,
        card_size: file.word_of("card-size").unwrap_or(CardSize::beside(paper)),
        card_marks: file.or("card-marks", &YES_NO, false),
        accent: taste(file, "accent", &ACCENT),
        logo: taste(file, "logo", &LOGO).map(|logo| file.picture("logo", logo)),
        font: taste(file, "font", &FONT),
        picture_pixels: file.between("picture-pixels", PICTURE_PIXELS).map(|n| n.value),
        country: stated.as_ref().map_or(home.code.clone(), |stated| stated.value.clone()),
        state: state(file, &home.code),
        shop_rate: file.may("shop-rate", &Reader { example: "32.00", ..AMOUNT }),
        price_step: price_step(file),
        card_languages: card_languages::chosen(file).unwrap_or_default(),
        books: books(file, &forms, said_at),
        channels: channels(file),
        taxes: taxes(file),
        wages: wages(file),
        finishes: finishes(file),
        bank: file.table("bank").as_ref().map(bank),
        terms: file.table("terms").as_ref().map(terms).unwrap_or_default(),
        stock: BTreeMap::new(),
        pieces: Vec::new(),
        years: BTreeMap::new(),
        orders: Vec::new(),
        forms,
        missing_receipts: BTreeSet::new(),
        broken: Vec::new(),
    }
}

/// The state, where the country has such a one: a rule of another state would be reminded of.
fn state(file: &Table, country: &str) -> Option<String> {
    let state = file.may("state", &STATE)?;
    if !state.value.is_empty() && !country.is_empty() && !is_state(country, &state.value) {
        let message = format!("`{}` is no state of the country `{country}`", state.value);
        let finding = Finding::warning(Code::State, state.place, message).label("no such state");
        file.document.say(finding.hint("its short code, as in an address, or another `country`"));
    }
    Some(state.value)
}

/// A text that only changes how the paper looks; nothing where it cannot be used.
fn taste(file: &Table, key: &'static str, reader: &Reader<String>) -> Option<At<String>> {
    let found = file.document.taste(|| file.may(key, reader));
    found.filter(|text| !text.value.is_empty())
}

/// A step of nothing rounds nothing.
fn price_step(file: &Table) -> Option<Decimal> {
    let step = file.or("price-step", &Reader { example: "5.00", ..AMOUNT }, Decimal::ZERO);
    (!step.is_zero()).then_some(step)
}

/// How the books are kept.
const METHOD_KEYS: [&str; 3] = ["basis", "supplies", "stock-cost"];

fn books(file: &Table, forms: &[Form], said_at: Option<Place>) -> BooksMethod {
    let books = file.table("books");
    let books = books.as_ref();
    BooksMethod {
        form: form(file, books, forms, said_at),
        basis: books.and_then(|books| books.word_of("basis")).unwrap_or_default(),
        supplies: books.and_then(|books| books.word_of("supplies")).unwrap_or_default(),
        stock_cost: books.and_then(|books| books.word_of("stock-cost")).unwrap_or_default(),
        stated: METHOD_KEYS
            .into_iter()
            .filter(|key| books.is_some_and(|books| books.find(key).is_some()))
            .collect(),
    }
}

/// The form as written, else the one of the shop's country. Where there is none for it, or one that
/// is filled in with other money, that is said once, and the years are on no form.
fn form(file: &Table, books: Option<&Table>, forms: &[Form], said_at: Option<Place>) -> At<String> {
    let setting = file.document.setting;
    let written = books.and_then(|books| books.may("form", &WORD));
    let place = written.as_ref().map(|form| form.place).or(said_at).unwrap_or(file.place);
    let name = written.as_ref().map_or(&setting.home.form, |form| &form.value);
    let mut known: Vec<&str> = forms.iter().map(|form| form.name.as_str()).collect();
    known.dedup();
    if let (Some(books), Some(form)) = (books, &written)
        && !known.is_empty()
        && !known.contains(&form.as_str())
    {
        books.not_a_word("form", form, known.into_iter());
    }
    let of_money =
        |form: &Form| form.currency.as_ref().is_none_or(|own| *own == setting.currency.code);
    let mut tables = forms.iter().filter(|form| form.name == *name);
    let known = tables.clone().next();
    let says = match known {
        Some(_) if !tables.any(of_money) => {
            format!("`{name}` is not filled in with {}", setting.currency.code)
        }
        Some(_) if name.ends_with(OWN_ACCOUNT) && written.is_none() && said_at.is_some() => {
            "there is no tax form of this country here".to_owned()
        }
        _ => return At::new(name.clone(), place),
    };
    let message = format!("{says}: each year is an account of your own figures");
    let finding = Finding::warning(Code::NoForm, place, message).label("on no tax form");
    let mut hint =
        "no figure is missing from it; which line of a form each belongs on is for the preparer"
            .to_owned();
    if setting.home.code.is_empty() && file.find("currency").is_none() {
        let taken = &setting.currency.code;
        hint = format!("{hint}; its money is taken to be {taken}: write `currency` if it is not");
    }
    file.document.say(finding.hint(hint));
    let usable = setting.home.form.ends_with(OWN_ACCOUNT) && written.is_none();
    At::new(if usable { name.clone() } else { OWN_ACCOUNT.to_owned() }, place)
}

fn say_which_country(file: &Table, money: Option<&At<String>>) {
    let Some(money) = money else { return };
    let with = countries().filter(|home| home.currency == money.value);
    let lines: Vec<String> = with.map(|home| format!("country = \"{}\"", home.code)).collect();
    let message =
        format!("several countries have {}, and nothing says which is yours", money.value);
    let finding = Finding::warning(Code::WhichCountry, money.place, message);
    file.document.say(finding.label("where is the shop?").hint(Hint::either(&lines)));
}

fn channels(file: &Table) -> BTreeMap<String, Channel> {
    let Some(channels) = file.table("channel") else { return BTreeMap::new() };
    let read =
        |own: &OwnKey| Some((own.key.value.to_owned(), channel(own, &channels.own_table(own)?)));
    channels.own_keys().iter().filter_map(read).collect()
}

fn channel(own: &OwnKey, table: &Table) -> Channel {
    Channel {
        key: own.key.value.to_owned(),
        label: table.or("label", &TEXT, own.key.value.to_owned()),
        fee: table.or("fee", &PERCENT, Decimal::ZERO),
        fixed_fee: table.or("fixed-fee", &Reader { example: "0.40", ..AMOUNT }, Decimal::ZERO),
        collects_tax: table.or("collects-tax", &YES_NO, false),
        delivery_charged: table.or("delivery-charged", &AMOUNT, Decimal::ZERO),
        delivery_cost: table.or("delivery-cost", &AMOUNT, Decimal::ZERO),
        headline_limit: table.number("headline-limit", LONGEST_LISTING).map(|n| n.value),
        description_limit: table.number("description-limit", LONGEST_LISTING).map(|n| n.value),
        place: table.place,
    }
}

fn taxes(file: &Table) -> BTreeMap<String, SalesTax> {
    let Some(taxes) = file.table("tax") else { return BTreeMap::new() };
    let read = |own: &OwnKey| Some((own.key.value.to_owned(), tax(own, &taxes.own_table(own)?)));
    taxes.own_keys().iter().filter_map(read).collect()
}

fn tax(own: &OwnKey, table: &Table) -> SalesTax {
    SalesTax {
        key: own.key.value.to_owned(),
        label: table.or("label", &TEXT, own.key.value.to_owned()),
        rate: table.need("rate", &Reader { example: "\"8.25%\"", ..PERCENT }).value,
        on_delivery: table.or("on-delivery", &YES_NO, false),
        owed: table.word_of("owed"),
        files: table.word_of("files"),
        place: table.place,
    }
}

/// `wages = { 2025 = 42000.00 }`.
fn wages(file: &Table) -> BTreeMap<i32, Decimal> {
    let Some(wages) = file.table("wages") else { return BTreeMap::new() };
    wages.own_keys().iter().filter_map(|own| wages_of(&wages, own)).collect()
}

fn wages_of(wages: &Table, own: &OwnKey) -> Option<(i32, Decimal)> {
    let Some(year) = own.key.value.parse().ok().filter(|year| (1990..=2100).contains(year)) else {
        let message = format!("`{}` is not a year", own.key.value);
        let finding = Finding::error(Code::Number, own.key.place, message).label("not a year");
        wages.document.stand_in(finding.hint(Hint::such_as("wages = { 2025 = 42000.00 }")));
        return None;
    };
    let place = wages.document.place(own.value.span());
    let amount = wages.read(own.key.value, own.value.get_ref(), place, &AMOUNT);
    Some((year, amount))
}

fn bank(table: &Table) -> BankColumns {
    BankColumns {
        date: table.need("date", &Reader { example: "\"Date\"", ..TEXT }).value,
        amount: table.need("amount", &Reader { example: "\"Amount\"", ..TEXT }).value,
        text: table.may("text", &TEXT).map(|column| column.value),
        date_order: table.word_of("date-order").unwrap_or_default(),
        decimal_comma: table.or("decimal-comma", &YES_NO, false),
    }
}

/// In the owner's own words.
fn terms(table: &Table) -> Terms {
    let said = |key| table.may(key, &STORY).map(|said| said.value);
    Terms {
        sale: said("sale"),
        returns: said("returns"),
        deposits: said("deposits"),
        delivery: said("delivery"),
        work: said("work"),
    }
}

fn finishes(file: &Table) -> Vec<OwnFinish> {
    let Some(finishes) = file.table("finish") else { return Vec::new() };
    let read = |own: &OwnKey| Some(finish(own, &finishes.own_table(own)?));
    finishes.own_keys().iter().filter_map(read).collect()
}

fn finish(own: &OwnKey, table: &Table) -> OwnFinish {
    let sentences = |key| table.list(key, &STORY).into_iter().map(|line| line.value).collect();
    let text = |key| table.may(key, &TEXT).map(|text| text.value);
    OwnFinish {
        key: own.key.value.to_owned(),
        label: table.need("label", &Reader { example: "\"bench oil\"", ..TEXT }).value,
        like: table.need("like", &Reader { example: "\"Danish oil\"", ..TEXT }),
        touch: text("touch"),
        recoat: text("recoat"),
        light_use_days: days(table, "light-use-days", "3"),
        cure_days: days(table, "cure-days", "30"),
        about: text("about"),
        care: sentences("care"),
        never: sentences("never"),
        spill: sentences("spill"),
        renewal: sentences("renewal"),
        place: table.place,
    }
}

/// Days on a can, which must be stated: a date is printed from them.
fn days(table: &Table, key: &'static str, example: &str) -> u32 {
    let stated = table.number(key, LONGEST_CURE);
    if stated.is_none() {
        table.missing(key, example);
    }
    stated.map_or(LONGEST_CURE, |days| days.value)
}

fn currency_code(value: &Value) -> Result<String, Fault> {
    let code = value.text()?;
    if currency(code).is_some() {
        return Ok(code.to_owned());
    }
    let known: Vec<&str> = currencies().iter().map(|currency| currency.code.as_str()).collect();
    let message = format!("`{code}` is not a currency known here: those are {}", ticked(&known));
    let fault = Fault::new(Code::UnknownCurrency, message).label("not a known code");
    let same = known.iter().find(|known| known.eq_ignore_ascii_case(code.trim()));
    Err(match same {
        Some(same) => fault.write(format!("\"{same}\"")),
        None => fault.say("its code of three letters, as of ISO 4217; `USD` is the US dollar"),
    })
}

fn accent(value: &Value) -> Result<String, Fault> {
    let colour = value.text()?;
    let not_a_colour = |()| {
        let message = format!("`{colour}` is not a colour written as `#` and six digits");
        Fault::new(Code::Accent, message).label("not a colour")
    };
    match too_pale(colour).map_err(not_a_colour)? {
        None => Ok(colour.to_owned()),
        Some(contrast) => {
            let message = format!(
                "the accent colour is too pale to read on white: its contrast is {contrast}:1, \
                 and text needs at least 4.5:1"
            );
            let words = format!("take a darker one, such as `{} = {}`", value.key, value.example);
            Err(Fault::new(Code::Accent, message).label("too pale").say(words))
        }
    }
}
