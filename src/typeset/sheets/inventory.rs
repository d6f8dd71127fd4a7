//! The inventory of a day, for an insurer, and the sheet to count by: both from what the books close
//! with on that day.

use super::common::{sheet, stock_number};
use super::{Shot, draft, layouts, picture_name};
use crate::describe::wording::{capital, date, number, sentence};
use crate::model::{Money, Piece, Shop, What, grouped};
use crate::reckon::stock::StockRun;
use crate::reckon::year::{UnsoldPiece, Year};
use crate::typeset::csv_file;
use crate::typeset::press::{Draft, PictureUse};
use crate::typeset::view::{CountSheetView, InventoryRow, InventoryView, Photo, Row, RowKind};
use chrono::NaiveDate;
use dovetally_photo::Fit;

const DASH: &str = "–";

/// Above this many pieces the inventory has no pictures: the typesetter holds all of them at once.
pub const MOST_PICTURED: usize = 400;

/// Categories of what is kept and used, and not sold.
const TOOLS: [&str; 2] = ["equipment", "small-tools"];

/// The shop on a day.
pub struct OnDay<'a> {
    pub shop: &'a Shop,
    pub run: &'a StockRun,
    /// The year up to that day.
    pub year: &'a Year,
}

impl OnDay<'_> {
    fn day(&self) -> NaiveDate {
        self.year.period.last
    }

    fn piece(&self, one: &UnsoldPiece) -> &Piece {
        &self.shop.pieces[one.piece]
    }

    fn amount(&self, amount: Money) -> String {
        grouped(amount, self.shop.currency.decimals)
    }

    fn row(&self, label: String, amount: Money, kind: RowKind) -> Row {
        Row { label, amount: self.amount(amount), kind }
    }

    /// The title, and how many of a set where it is not all of it.
    fn title(&self, one: &UnsoldPiece) -> String {
        let piece = self.piece(one);
        match piece.count.max(1) {
            1 => piece.title.value.clone(),
            of if one.count == of => format!("{}, set of {of}", piece.title.value),
            of => format!("{}, {} of {of}", piece.title.value, one.count),
        }
    }

    /// With whom it is, else where it stands.
    fn place(&self, one: &UnsoldPiece) -> String {
        let (piece, day) = (self.piece(one), self.day());
        let away = piece.consigned.iter().find(|gone| {
            gone.on.value <= day && gone.back.as_ref().is_none_or(|back| back.value > day)
        });
        let stands = || piece.listing.as_ref()?.stands.clone();
        away.map(|gone| format!("with {}", gone.to)).or_else(stands).unwrap_or(DASH.to_owned())
    }

    /// What was asked that day.
    fn asked(&self, one: &UnsoldPiece) -> Option<Money> {
        let listing = self.piece(one).listing.as_ref()?;
        let listed = listing.on.is_none_or(|on| on.value <= self.day());
        listing.price.filter(|_| listed).map(|price| price.value)
    }

    /// Shop stock on hand by item, with what it had cost.
    fn stock(&self) -> Vec<(String, Money)> {
        let left = self.run.left_on(self.day()).into_iter();
        let left = left.filter(|(_, left)| !left.quantity.is_zero() || !left.cost.is_zero());
        let said = left.filter_map(|(key, left)| {
            let item = self.shop.stock.get(key)?;
            Some((format!("{}, {}", item.label, item.unit.words(left.quantity)), left.cost))
        });
        said.collect()
    }

    /// Tools and equipment bought up to that day, as they were paid for.
    fn tools(&self) -> Vec<(NaiveDate, String, Money)> {
        let mut all: Vec<_> = self
            .shop
            .entries()
            .into_iter()
            .filter(|entry| entry.on <= self.day())
            .filter_map(|entry| match entry.what {
                What::Expense(one) if TOOLS.contains(&one.category.value.as_str()) => {
                    Some((entry.on, one.what.clone(), one.amount.value))
                }
                _ => None,
            })
            .collect();
        all.sort();
        all
    }

    fn summed(&self, rows: Vec<(String, Money)>) -> Vec<Row> {
        let sum: Money = rows.iter().map(|(_, amount)| *amount).sum();
        let any = !rows.is_empty();
        let mut rows: Vec<Row> = rows
            .into_iter()
            .map(|(label, amount)| self.row(label, amount, RowKind::Item))
            .collect();
        if any {
            rows.push(self.row("Together".to_owned(), sum, RowKind::Total));
        }
        rows
    }
}

/// The draft of the inventory. `shots` gives a piece its picture by its position in the shop, numbered
/// through all of them.
pub fn inventory<'a>(on: &OnDay, shots: &dyn Fn(usize) -> Option<Shot<'a>>) -> Draft {
    let mut uses = Vec::new();
    let unsold = &on.year.unsold;
    let rows: Vec<InventoryRow> =
        unsold.iter().map(|one| inventory_row(on, one, shots, &mut uses)).collect();
    let cost: Money = unsold.iter().map(|one| one.cost).sum();
    let (day, count) = (date(on.day()), u32::try_from(rows.len()).unwrap_or(u32::MAX));
    let pieces = if count == 1 { "piece" } else { "pieces" };
    let tools = on.tools().into_iter();
    let tools = tools.map(|(bought, what, paid)| (format!("{}, {}", what, date(bought)), paid));
    let view = InventoryView {
        sheet: sheet(on.shop, format!("Inventory on {day}, {}", on.shop.name)),
        heading: "Inventory".to_owned(),
        head: format!("Inventory on {day}"),
        foot: format!("{} · inventory on {day}", on.shop.name),
        opening: format!("{} {pieces} in the shop on {day}.", capital(&number(count))),
        columns: ["", "no.", "piece", "where", "asked", "cost so far"].map(str::to_owned).into(),
        total: (!rows.is_empty()).then(|| on.row("Together".to_owned(), cost, RowKind::Total)),
        rows,
        stock_heading: "Shop stock on hand, at cost".to_owned(),
        stock: on.summed(on.stock()),
        tools_heading: "Tools and equipment, as they were paid for".to_owned(),
        tools: on.summed(tools.collect()),
        notes: notes(on),
    };
    draft(layouts::INVENTORY, &view, uses, format!("{} / inventory", on.shop.name))
}

fn notes(on: &OnDay) -> Vec<String> {
    let currency = &on.shop.currency.code;
    let mut notes = vec![format!(
        "Money in {currency}. Cost so far is purchase, materials, paid work and freight-in up to the day, \
         without the owner’s own hours; what a piece would sell for is not in it."
    )];
    if !on.tools().is_empty() {
        notes.push("Whether a tool is still there is not recorded.".to_owned());
    }
    if on.year.unsold.len() > MOST_PICTURED {
        notes.push(format!("Above {MOST_PICTURED} pieces there are no pictures."));
    }
    notes
}

fn inventory_row<'a>(
    on: &OnDay,
    one: &UnsoldPiece,
    shots: &dyn Fn(usize) -> Option<Shot<'a>>,
    uses: &mut Vec<PictureUse>,
) -> InventoryRow {
    let photo = shots(one.piece).map(|shot| {
        let file = picture_name(uses.len());
        let (width, height) = Fit::Column.within(shot.small);
        uses.push(PictureUse { name: file.clone(), photo: shot.index, fit: Fit::Column });
        let shows = shot.photo.shows.as_deref().map(sentence);
        let alt = shows.unwrap_or_else(|| format!("Photograph of {}", on.piece(one).title.value));
        Photo { file, width, height, alt, caption: None }
    });
    InventoryRow {
        photo,
        number: stock_number(on.piece(one)),
        title: on.title(one),
        place: on.place(one),
        asked: on.asked(one).map_or(DASH.to_owned(), |asked| on.amount(asked)),
        cost: on.amount(one.cost),
    }
}

/// The inventory as a table: number, piece, count, where, asked, cost.
pub fn inventory_table(on: &OnDay) -> String {
    let plain = |amount: Money| crate::model::plain(amount, on.shop.currency.decimals);
    let rows = on.year.unsold.iter().map(|one| {
        let piece = on.piece(one);
        let place = on.place(one);
        vec![
            piece.name().to_owned(),
            piece.title.value.clone(),
            one.count.to_string(),
            if place == DASH { String::new() } else { place },
            on.asked(one).map(plain).unwrap_or_default(),
            plain(one.cost),
        ]
    });
    csv_file(&["number", "title", "count", "where", "asked", "cost"], rows)
}

/// The draft of the sheet to count by.
pub fn count_sheet(on: &OnDay) -> Draft {
    let day = on.day();
    let pieces = on
        .year
        .unsold
        .iter()
        .map(|one| vec![stock_number(on.piece(one)), on.title(one), on.place(one)]);
    let left = on.run.left_on(day);
    let stock = on.shop.stock.values().map(|item| {
        let left = left.get(item.key.as_str()).map(|left| left.quantity).unwrap_or_default();
        vec![item.key.clone(), item.label.clone(), item.unit.words(left)]
    });
    let texts = |words: &[&str]| words.iter().map(|word| (*word).to_owned()).collect();
    let stock: Vec<Vec<String>> = stock.collect();
    let view = CountSheetView {
        sheet: sheet(on.shop, format!("Count sheet, {}", on.shop.name)),
        heading: "Count sheet".to_owned(),
        foot: format!("{} · count sheet, the books as of {}", on.shop.name, date(day)),
        opening: format!("What the books have on {}, to be counted by hand.", date(day)),
        piece_columns: texts(&["no.", "piece", "where", "seen"]),
        pieces: pieces.collect(),
        stock_columns: texts(&["key", "shop stock", "in the books", "counted"]),
        how: how(on.shop, &stock),
        stock,
    };
    draft(layouts::COUNT_SHEET, &view, Vec::new(), format!("{} / count sheet", on.shop.name))
}

/// How a count is typed in, with the key of the first item.
fn how(shop: &Shop, stock: &[Vec<String>]) -> Vec<String> {
    let first = stock.first().and_then(|row| shop.stock.get(&row[0]));
    let typed = first.map(|item| {
        format!(
            "A count goes into the year’s book, such as: [[count]] on = the day, stock = \"{}\", \
             quantity = \"… {}\". What is short is written off at cost.",
            item.key, item.unit.name
        )
    });
    let gone = "A piece that is not there is written in its own file: sold, or withdrawn.";
    typed.into_iter().chain([gone.to_owned()]).collect()
}
