//! Keys that name something outside of the file: a stock item, a channel, a category of the form.
//! What leads nowhere is a finding; the value is read all the same.

use super::table::Table;
use super::table::hint;
use super::text::WORD;
use super::value::{Cure, Reader};
use super::words::{as_value, meant, ticked, typed_choice};
use crate::model::{
    At, Code, Family, Finding, Hint, Quantity, StockItem, Unit, and_list, nearest, parse_quantity,
    same_but_for_spelling,
};
use std::borrow::Cow;

impl Table<'_> {
    /// `channel = "online"`: a key of `[channel]`.
    pub fn channel(&self, key: &'static str) -> Option<At<String>> {
        let channel = self.may(key, &WORD)?;
        self.check_channel(&channel);
        Some(channel)
    }

    pub fn check_channel(&self, channel: &At<String>) {
        let Some(channels) = &self.document.setting.channels else { return };
        if !channel.value.is_empty() && !channels.contains_key(&channel.value) {
            let known: Vec<&str> = channels.keys().map(String::as_str).collect();
            let first = format!("add `[channel.{}]` to shop.toml first", channel.value);
            let hint = or_one_of("channel", first, &known);
            let message = format!("shop.toml has no channel `{}`", channel.value);
            self.leads_nowhere(Code::UnknownChannel, "channel", channel, message, known, hint);
        }
    }

    /// `tax-place = "county"`: a key of `[tax]`.
    pub fn tax_place(&self, key: &'static str) -> Option<At<String>> {
        let place = self.may(key, &Reader { example: "\"county\"", ..WORD })?;
        self.check_tax_place(key, &place);
        Some(place)
    }

    pub fn check_tax_place(&self, key: &'static str, place: &At<String>) {
        let Some(taxes) = &self.document.setting.taxes else { return };
        if !place.value.is_empty() && !taxes.contains_key(&place.value) {
            let known: Vec<&str> = taxes.keys().map(String::as_str).collect();
            let first = format!("add `[tax.{}]` to shop.toml first", place.value);
            let hint = or_one_of(key, first, &known);
            let message = format!("shop.toml has no sales tax `{}`", place.value);
            self.leads_nowhere(Code::UnknownTax, key, place, message, known, hint);
        }
    }

    /// `category = "advertising"`: something a line of the year's form takes in.
    ///
    /// It is known by the form's own spelling.
    pub fn category(&self, year: i32) -> At<String> {
        let category = self.need("category", &CATEGORY);
        self.check_category(category, year)
    }

    /// The same where it may be left out.
    pub fn may_category(&self, year: i32) -> Option<At<String>> {
        Some(self.check_category(self.may("category", &CATEGORY)?, year))
    }

    fn check_category(&self, category: At<String>, year: i32) -> At<String> {
        let known = self.document.setting.categories(year);
        let of_form = known.iter().find(|own| same_but_for_spelling(own, &category.value));
        if let Some(own) = of_form {
            return At::new((*own).to_owned(), category.place);
        }
        if known.is_empty() || category.is_empty() {
            return category;
        }
        let message = format!("no line of the form takes in `{}`", category.value);
        let hint = format!("the categories are {}", ticked(&known));
        self.leads_nowhere(Code::UnknownCategory, "category", &category, message, known, hint);
        category
    }

    /// `stock` and `quantity`, which belong together: a bare number is in the item's own unit.
    pub fn stock_and_quantity(&self) -> (At<String>, At<Quantity>) {
        let stock = self.need("stock", &STOCK);
        let quantity = self.need("quantity", &QUANTITY_TEXT);
        self.quantity_of(stock, quantity)
    }

    /// The same where both may be left out, and the quantity alone as well: none of it.
    pub fn may_stock_and_quantity(&self) -> Option<(At<String>, At<Quantity>)> {
        let (stock, quantity) = (self.may("stock", &STOCK), self.may("quantity", &QUANTITY_TEXT));
        let none = || At::new("0".to_owned(), self.place);
        stock.map(|stock| self.quantity_of(stock, quantity.unwrap_or_else(none)))
    }

    fn quantity_of(&self, stock: At<String>, quantity: At<String>) -> (At<String>, At<Quantity>) {
        let item = self.stock_item(&stock);
        let place = quantity.place;
        let unit = item.map(|item| item.unit);
        let read = match parse_quantity(&quantity.value, unit) {
            Ok(read) => read,
            // Already said: the text is missing, or the unit is unknown with the stock item.
            Err(_) if quantity.value.is_empty() => no_quantity(),
            Err(_) if item.is_none() && has_no_unit(&quantity.value) => no_quantity(),
            Err(says) => {
                let finding = Finding::error(Code::Quantity, place, says).label("not a quantity");
                let hint = hint("quantity", place, quantity_meant(&quantity.value, unit));
                self.document.stand_in(finding.hint(hint));
                no_quantity()
            }
        };
        if let Some(item) = item
            && !quantity.value.is_empty()
            && read.unit.family != item.unit.family
            && !read.amount.is_zero()
        {
            self.other_family(&read, item, place);
        }
        (stock, At::new(read, place))
    }

    fn stock_item(&self, stock: &At<String>) -> Option<&StockItem> {
        let items = self.document.setting.stock.as_ref()?;
        let item = items.get(&stock.value);
        if item.is_none() && !stock.value.is_empty() && self.document.setting.stock_whole {
            let known: Vec<&str> = items.keys().map(String::as_str).collect();
            let first = format!("add `[{}]` and its `unit` to stock.toml first", stock.value);
            let hint = or_one_of("stock", first, &known);
            let message = format!("stock.toml has no `{}`", stock.value);
            self.leads_nowhere(Code::UnknownStock, "stock", stock, message, known, hint);
        }
        item
    }

    fn other_family(&self, quantity: &Quantity, item: &StockItem, place: crate::model::Place) {
        let (written, counted) = (quantity.unit, item.unit);
        let units: Vec<&str> = family(counted.family).collect();
        let message = format!(
            "`{}` is counted in {}, and {} does not convert into it",
            item.key, counted.name, written.name
        );
        self.document.say(
            Finding::error(Code::OtherUnit, place, message)
                .label("another kind of unit")
                .second(item.place, format!("counted in {}", counted.name))
                .hint(format!(
                    "give the quantity in {}",
                    and_list(&units).replace(" and ", " or ")
                )),
        );
    }

    fn leads_nowhere(
        &self,
        code: Code,
        key: &str,
        written: &At<String>,
        message: String,
        known: Vec<&str>,
        otherwise: String,
    ) {
        let near = meant(&written.value, written.place, known, as_value(key));
        let hint = near.unwrap_or_else(|| Hint::say(otherwise));
        let finding = Finding::error(code, written.place, message);
        self.document.say(finding.label("leads nowhere").hint(hint));
    }
}

const CATEGORY: Reader<String> = Reader { example: "\"advertising\"", ..WORD };
const STOCK: Reader<String> = Reader { example: "\"satin-topcoat\"", ..WORD };

const QUANTITY_TEXT: Reader<String> = Reader {
    what: "a quantity",
    example: "\"8 fl oz\"",
    stand_in: String::new,
    read: |value| value.number_or_text().map(Cow::into_owned),
};

/// Of a long list of keys a few are enough to see which file is meant.
const MOST_NAMED: usize = 8;

fn or_one_of(key: &str, first: String, known: &[&str]) -> String {
    match known.len() {
        1..=MOST_NAMED => format!("{first}, or put {}", typed_choice(key, known)),
        _ => first,
    }
}

/// What a quantity that cannot be read was meant as: a unit with a slip in it or with a full stop,
/// or a decimal comma.
fn quantity_meant(written: &str, unit: Option<Unit>) -> Cure {
    let text = written.trim().trim_end_matches('.').to_lowercase();
    let split = text.find(char::is_alphabetic).unwrap_or(text.len());
    let (number, word) = text.split_at(split);
    let number = number.trim().replace(',', ".");
    let word = word.replace('.', "");
    let known = Unit::named(&word).map(|unit| unit.name);
    let meant = match word.is_empty() {
        true => unit.map(|unit| unit.name),
        false => known.or_else(|| nearest(&word, Unit::spellings())),
    };
    let typed = meant.map(|meant| format!("{number} {meant}"));
    match typed.filter(|typed| parse_quantity(typed, None).is_ok()) {
        Some(typed) => Cure::Write(format!("\"{typed}\"")),
        None => Cure::SuchAs(format!("\"8 {}\"", unit.map_or("fl oz", |unit| unit.name))),
    }
}

fn has_no_unit(text: &str) -> bool {
    !text.contains(char::is_alphabetic)
}

fn no_quantity() -> Quantity {
    Quantity {
        amount: rust_decimal::Decimal::ZERO,
        unit: Unit::named("each").expect("in the table"),
    }
}

fn family(family: Family) -> impl Iterator<Item = &'static str> {
    Unit::names().filter(move |name| Unit::named(name).is_some_and(|unit| unit.family == family))
}
