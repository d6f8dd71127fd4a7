//! Keys that name something outside of the file: a stock item, a channel, a category of the form,
//! a photo or a receipt. What leads nowhere is a finding; the value is read all the same.

use super::table::Table;
use super::text::{TEXT, WORD};
use super::value::{Fault, Reader};
use super::words::ticked;
use crate::model::{
    At, Family, Finding, Quantity, StockItem, Unit, and_list, nearest, parse_quantity,
};
use std::borrow::Cow;
use std::path::Path;

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
            let hint = format!("write `[channel.{}]` in shop.toml first", channel.value);
            self.leads_nowhere(
                "unknown-channel",
                channel,
                format!("shop.toml has no channel `{}`", channel.value),
                channels.keys().map(String::as_str).collect(),
                hint,
            );
        }
    }

    /// `category = "advertising"`: something a line of the year's form takes in.
    pub fn category(&self, year: i32) -> At<String> {
        let category = self.need("category", &Reader { example: "\"advertising\"", ..WORD });
        let known = self.document.setting.categories(year);
        if known.is_empty() || category.is_empty() || known.contains(&category.as_str()) {
            return category;
        }
        let message = format!("no line of the form takes in `{}`", category.value);
        let hint = format!("the categories are {}", ticked(&known));
        self.leads_nowhere("unknown-category", &category, message, known, hint);
        category
    }

    /// `stock` and `quantity`, which belong together: a bare number is in the item's own unit.
    pub fn stock_and_quantity(&self) -> (At<String>, At<Quantity>) {
        let stock = self.need("stock", &Reader { example: "\"satin-topcoat\"", ..WORD });
        let item = self.stock_item(&stock);
        let quantity = self.need("quantity", &QUANTITY_TEXT);
        let place = quantity.place;
        let unit = item.map(|item| item.unit);
        let read = match parse_quantity(&quantity.value, unit) {
            Ok(read) => read,
            // Already said: the text is missing, or the unit is unknown with the stock item.
            Err(_) if quantity.value.is_empty() => no_quantity(),
            Err(_) if item.is_none() && has_no_unit(&quantity.value) => no_quantity(),
            Err(says) => {
                let example = unit.map_or("fl oz", |unit| unit.name);
                let finding = Finding::error("quantity", place, says).label("not a quantity");
                let hint = format!("write `quantity = \"8 {example}\"`");
                self.document.stand_in(finding.hint(hint));
                no_quantity()
            }
        };
        if let Some(item) = item
            && quantity.value != ""
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
        if item.is_none() && !stock.value.is_empty() {
            self.leads_nowhere(
                "unknown-stock",
                stock,
                format!("stock.toml has no `{}`", stock.value),
                items.keys().map(String::as_str).collect(),
                format!("write `[{}]` in stock.toml first", stock.value),
            );
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
            Finding::error("other-unit", place, message)
                .label("another kind of unit")
                .second(item.place, format!("counted in {}", counted.name))
                .hint(format!(
                    "write the quantity in {}",
                    and_list(&units).replace(" and ", " or ")
                )),
        );
    }

    fn leads_nowhere(
        &self,
        code: &'static str,
        written: &At<String>,
        message: String,
        known: Vec<&str>,
        otherwise: String,
    ) {
        let hint = match nearest(&written.value, known) {
            Some(near) => format!("write `\"{near}\"`"),
            None => otherwise,
        };
        let finding = Finding::error(code, written.place, message);
        self.document.say(finding.label("leads nowhere").hint(hint));
    }

    /// A file that belongs to an entry: its path below the shop folder.
    pub fn receipt(&self) -> Option<At<String>> {
        self.may("receipt", &Reader { example: "\"receipts/sale.jpg\"", ..TEXT })
            .map(|path| self.file("receipt", path))
    }

    /// Resolves a path against the folder of the file it stands in. One that leaves the shop
    /// folder or leads to no file is a finding.
    pub fn file(&self, key: &str, written: At<String>) -> At<String> {
        if written.value.is_empty() {
            return written;
        }
        let document = self.document;
        let Some(path) = below(document.folder, &written.value) else {
            document.say(self.outside(key, &written));
            return written;
        };
        match document.setting.folder.join(&path).canonicalize() {
            Ok(real) if !real.starts_with(&document.setting.folder) => {
                document.say(self.outside(key, &written));
            }
            Ok(real) if real.is_file() => {}
            _ => document.say(no_file(&path, &written)),
        }
        At::new(path, written.place)
    }

    fn outside(&self, key: &str, written: &At<String>) -> Finding {
        let message = format!("`{}` leads out of the shop folder", written.value);
        Finding::error("path-outside", written.place, message)
            .label("must stay inside the shop folder")
            .hint(format!(
                "copy the file into the shop folder and write `{key} = \"{key}s/name.jpg\"`, \
                 a path from the folder of this file, with `/`"
            ))
    }
}

fn no_file(path: &str, written: &At<String>) -> Finding {
    let parent = Path::new(path).parent().map_or("", |p| p.to_str().unwrap_or(""));
    let hint = match parent {
        "" => "put the file into the shop folder, or take the line out".to_owned(),
        parent => format!("put the file into `{parent}/`, or take the line out"),
    };
    Finding::error("no-such-file", written.place, format!("there is no file `{path}`"))
        .label("leads nowhere")
        .hint(hint)
}

/// A path below the shop folder, from the folder of a file and what is written in it; nothing
/// where it leads out. Purely by the words: nothing is looked up.
pub(super) fn below(folder: &str, written: &str) -> Option<String> {
    let drive = written.as_bytes().get(1) == Some(&b':');
    if written.starts_with('/') || written.contains('\\') || drive {
        return None;
    }
    let mut parts: Vec<&str> = folder.split('/').filter(|part| !part.is_empty()).collect();
    for part in written.split('/') {
        match part {
            "" | "." => {}
            ".." => drop(parts.pop()?),
            part => parts.push(part),
        }
    }
    Some(parts.join("/"))
}

const QUANTITY_TEXT: Reader<String> = Reader {
    what: "a quantity",
    example: "\"8 fl oz\"",
    stand_in: String::new,
    read: |value| match value.number_or_text().map(Cow::into_owned)? {
        text if text.trim().is_empty() => Err(Fault::new("quantity", "`quantity` is empty")),
        text => Ok(text),
    },
};

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
