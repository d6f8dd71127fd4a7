//! `tally`: the shop view, a row per piece and totals.

use super::args::{Sort, TallyArgs};
use super::figures::{days, hours, json_hours, json_money, json_ratio, money, percent};
use super::opened::{Known, KnownPiece};
use super::owed::owed;
use super::table::{Align, Table};
use super::{Screen, Status};
use crate::model::{Currency, Order, Shop, and_list, counted};
use crate::reckon::orders::Worked;
use crate::reckon::tally::Tally;
use crate::reckon::totals::{Totals, totals};
use crate::typeset::{cell, csv};
use chrono::Datelike;
use rust_decimal::Decimal;
use serde_json::{Value, json};
use std::cmp::Reverse;
use std::collections::BTreeSet;

/// Shows the tally as a table, as JSON or as CSV.
pub fn tally(args: &TallyArgs, known: &Known, screen: &mut Screen) -> Status {
    if args.owed {
        return owed(args.json, args.csv, known, screen);
    }
    let mut rows: Vec<Row> = known.pieces().filter_map(Row::of).filter(|r| r.is_in(args)).collect();
    sort(&mut rows, args.sort);
    let sums = totals(rows.iter().map(|row| Some(row.tally)));
    let currency = &known.shop.currency;
    if args.json {
        let json = json!({
            "currency": currency.code,
            "pieces": rows.iter().map(|row| row.json(currency)).collect::<Vec<_>>(),
            "totals": totals_json(&sums, currency),
            "orders": known.shop.orders.iter().map(|one| order_json(one, &known.shop)).collect::<Vec<_>>(),
            "left_out": left_out_json(known),
        });
        screen.data(&format!("{json:#}\n"));
    } else if args.csv {
        let heads: Vec<&str> = WORDS.into_iter().chain(FIGURES.iter().map(|(k, _)| *k)).collect();
        screen.data(&csv(&heads, rows.iter().map(|row| row.cells(currency))));
    } else {
        show(&rows, &sums, known, args, screen);
    }
    if args.year.is_some() {
        screen.note(&of_other_years(&rows));
    } else if !args.json && !args.csv {
        screen.note(&of_orders(known));
    }
    screen.complain(&not_in_it(known));
    Status::Done
}

/// An order and what it came to so far.
fn order_json(order: &Order, shop: &Shop) -> Value {
    let (worked, currency) = (Worked::of(order, shop), &shop.currency);
    json!({
        "number": order.name(),
        "title": order.title.value,
        "done": order.done.map(|on| on.to_string()),
        "price": json_money(order.price(), currency),
        "paid": json_money(worked.paid, currency),
        "costs": json_money(worked.costs, currency),
        "net": json_money(worked.net, currency),
        "hours": json_hours(worked.hours),
        "per_hour": json_money(worked.per_hour, currency),
    })
}

/// What the orders that are done came to: work, and in no row of a piece.
fn of_orders(known: &Known) -> String {
    let shop = &known.shop;
    let done = || shop.orders.iter().filter(|order| order.done.is_some());
    if done().next().is_none() {
        return String::new();
    }
    let all = Worked::together(done(), shop);
    let currency = &shop.currency;
    format!(
        "{}, not in the rows above: {} paid, {} costs, {} net, {} per hour.\n",
        counted(done().count(), "finished order", "finished orders"),
        money(Some(all.paid), currency),
        money(Some(all.costs), currency),
        money(Some(all.net), currency),
        money(all.per_hour, currency),
    )
}

/// What the totals leave out: pieces without figures, and files with errors.
fn not_in_it(known: &Known) -> String {
    let mut said = String::new();
    let without: Vec<&str> =
        known.pieces().filter(|p| p.tally.is_none()).map(|p| p.piece.name()).collect();
    if !without.is_empty() {
        said += &format!(
            "left out: {} whose figures cannot be trusted ({}); `dovetally check` \
             says why\n",
            counted(without.len(), "piece", "pieces"),
            and_list(&without)
        );
    }
    let broken: Vec<&str> = unread(known, &["piece.toml", "order.toml"]).collect();
    if !broken.is_empty() {
        said += &format!("not read: {}\n", and_list(&broken));
    }
    said
}

/// Files of these names that could not be taken in.
fn unread<'a>(known: &'a Known, names: &'a [&str]) -> impl Iterator<Item = &'a str> {
    let paths = known.shop.broken.iter().map(|file| file.path.as_str());
    paths.filter(|path| names.iter().any(|name| path.ends_with(name)))
}

/// A piece whose figures can be trusted.
struct Row<'a> {
    known: KnownPiece<'a>,
    tally: &'a Tally,
}

impl<'a> Row<'a> {
    fn of(known: KnownPiece<'a>) -> Option<Row<'a>> {
        Some(Row { known, tally: known.tally? })
    }

    fn is_in(&self, args: &TallyArgs) -> bool {
        args.year.is_none_or(|year| self.sold_in().contains(&year))
            && args.state.is_none_or(|state| state == self.tally.state)
    }

    fn json(&self, currency: &Currency) -> Value {
        let words = WORDS.into_iter().zip(self.words());
        let figures = FIGURES.iter().map(|(key, figure)| (*key, figure(self.tally, currency)));
        let years = ("sold_in", json!(self.sold_in()));
        Value::Object(
            words.chain(figures).chain([years]).map(|(key, v)| (key.to_owned(), v)).collect(),
        )
    }

    /// The years of its sales.
    fn sold_in(&self) -> Vec<i32> {
        let years: BTreeSet<i32> =
            self.known.piece.sale.iter().map(|sale| sale.on.year()).collect();
        years.into_iter().collect()
    }

    fn words(&self) -> [Value; 4] {
        let piece = self.known.piece;
        let kind = piece.kind.as_ref().map(|kind| &kind.value);
        [json!(piece.name()), json!(piece.title.value), json!(kind), json!(self.tally.state.word())]
    }

    fn cells(&self, currency: &Currency) -> Vec<String> {
        let figures = FIGURES.iter().map(|(_, figure)| figure(self.tally, currency));
        self.words().into_iter().chain(figures).map(|value| cell(&value)).collect()
    }
}

/// Names the pieces whose figures are of sales in other years, too.
fn of_other_years(rows: &[Row]) -> String {
    let several = rows.iter().filter(|row| row.sold_in().len() > 1);
    let said = several.map(|row| {
        let years: Vec<String> = row.sold_in().iter().map(i32::to_string).collect();
        let name = row.known.piece.name();
        format!("{name} was sold in {}: its figures are of all its sales\n", and_list(&years))
    });
    said.collect()
}

type Figure = fn(&Tally, &Currency) -> Value;

/// The figures of a piece, in the order they are documented in.
const FIGURES: [(&str, Figure); 18] = [
    ("purchase", |t, c| json_money(t.purchase, c)),
    ("materials", |t, c| json_money(t.materials, c)),
    ("paid_work", |t, c| json_money(t.paid_work, c)),
    ("freight_in", |t, c| json_money(t.freight_in, c)),
    ("salvaged", |t, c| json_money(t.salvaged, c)),
    ("cost_of_goods", |t, c| json_money(t.cost_of_goods, c)),
    ("price", |t, c| json_money(t.price, c)),
    ("gross_profit", |t, c| json_money(t.gross_profit, c)),
    ("gross_margin", |t, _| json_ratio(t.gross_margin)),
    ("markup", |t, _| json_ratio(t.markup)),
    ("selling_costs", |t, c| json_money(t.selling_costs, c)),
    ("net", |t, c| json_money(t.net, c)),
    ("hours", |t, _| json_hours(t.hours)),
    ("labour", |t, c| json_money(t.labour, c)),
    ("net_after_labour", |t, c| json_money(t.net_after_labour, c)),
    ("per_hour", |t, c| json_money(t.per_hour, c)),
    ("days_held", |t, _| json!(t.days_held)),
    ("owed", |t, c| json_money(t.owed, c)),
];

/// The words before them.
const WORDS: [&str; 4] = ["number", "title", "kind", "state"];

fn totals_json(sums: &Totals, currency: &Currency) -> Value {
    let money = |amount: Decimal| json_money(amount, currency);
    let maybe = |amount: Option<Decimal>| json_money(amount, currency);
    json!({
        "pieces": sums.pieces,
        "purchase": money(sums.purchase),
        "materials": money(sums.materials),
        "paid_work": money(sums.paid_work),
        "freight_in": money(sums.freight_in),
        "salvaged": money(sums.salvaged),
        "cost_of_goods": money(sums.cost_of_goods),
        "cost_sold": money(sums.cost_sold),
        "tied_up": money(sums.tied_up),
        "price": money(sums.price),
        "gross_profit": money(sums.gross_profit),
        "gross_margin": json_ratio(sums.gross_margin),
        "markup": json_ratio(sums.markup),
        "selling_costs": money(sums.selling_costs),
        "net": money(sums.net),
        "hours": json_hours(sums.hours),
        "labour": maybe(sums.labour),
        "net_after_labour": maybe(sums.net_after_labour),
        "per_hour": maybe(sums.per_hour),
        "owed": money(sums.owed),
    })
}

/// Pieces whose figures cannot be trusted.
fn left_out_json(known: &Known) -> Vec<Value> {
    let without = known.pieces().filter(|known| known.tally.is_none());
    without.map(|p| json!({ "number": p.piece.name(), "title": p.piece.title.value })).collect()
}

fn sort(rows: &mut [Row], by: Sort) {
    // The rows come in the order of their numbers; a stable sort keeps it among equals.
    match by {
        Sort::Number => {}
        Sort::Cost => rows.sort_by_key(|row| Reverse(row.tally.cost_of_goods)),
        Sort::Price => rows.sort_by_key(|row| Reverse(row.tally.price)),
        Sort::Net => rows.sort_by_key(|row| Reverse(row.tally.net)),
        Sort::Hours => rows.sort_by_key(|row| Reverse(row.tally.hours)),
        Sort::PerHour => rows.sort_by_key(|row| Reverse(row.tally.per_hour)),
        Sort::Held => rows.sort_by_key(|row| Reverse(row.tally.days_held)),
    }
}

/// The state in a word; of a set of which some are sold, how many.
fn state(tally: &Tally) -> String {
    let units = tally.units;
    match units.sold > 0 && units.left() > 0 {
        true => format!("sold {} of {}", units.sold, units.of),
        false => tally.state.word().to_owned(),
    }
}

/// What of a piece does not need the file that cannot be read; the rest is marked.
fn without_figures(name: &str, title: &str) -> Vec<String> {
    let mut cells = vec![name.to_owned(), title.to_owned(), "not known".to_owned()];
    cells.resize(10, "?".to_owned());
    cells
}

fn show(rows: &[Row], sums: &Totals, known: &Known, args: &TallyArgs, screen: &mut Screen) {
    let currency = &known.shop.currency;
    let mut table = Table::new(&[
        ("no.", Align::Key),
        ("piece", Align::Left),
        ("state", Align::Left),
        ("cost", Align::Right),
        ("price", Align::Right),
        ("margin", Align::Right),
        ("net", Align::Right),
        ("hours", Align::Right),
        ("per hour", Align::Right),
        ("held", Align::Right),
    ]);
    for row in rows {
        let tally = row.tally;
        table.row(vec![
            row.known.piece.name().to_owned(),
            row.known.piece.title.value.clone(),
            state(tally),
            money(Some(tally.cost_of_goods), currency),
            money(tally.price, currency),
            percent(tally.gross_margin),
            money(tally.net, currency),
            hours(tally.hours),
            money(tally.per_hour, currency),
            days(tally.days_held),
        ]);
    }
    // A year or a state cannot be asked of a piece without figures.
    if args.year.is_none() && args.state.is_none() {
        for piece in known.pieces().filter(|known| known.tally.is_none()) {
            table.row(without_figures(piece.piece.name(), &piece.piece.title.value));
        }
        for path in unread(known, &["piece.toml"]) {
            table.row(without_figures("?", path));
        }
    }
    table.rule();
    table.row(vec![
        "all".to_owned(),
        counted(sums.pieces, "piece", "pieces"),
        String::new(),
        money(Some(sums.cost_of_goods), currency),
        money(Some(sums.price), currency),
        percent(sums.gross_margin),
        money(Some(sums.net), currency),
        hours(sums.hours),
        money(sums.per_hour, currency),
        String::new(),
    ]);
    screen.table(&table);
    screen.note(&footnotes(sums, known));
}

/// What the sums hold, in sentences.
fn footnotes(sums: &Totals, known: &Known) -> String {
    let currency = &known.shop.currency;
    let tied_up = money(Some(sums.tied_up), currency);
    let mut notes = format!("\n{} tied up in pieces not sold", tied_up);
    if let (Some(after), Some(rate)) = (sums.net_after_labour, known.shop.shop_rate) {
        let rate = money(Some(rate.value), currency);
        notes += &format!("; {} left after your hours at {rate}", money(Some(after), currency));
    }
    if !sums.owed.is_zero() {
        notes += &format!("; {} owed by buyers and in no price", money(Some(sums.owed), currency));
    }
    notes += &format!(
        ". Money in {}.\nCost is that of the whole piece; margin is of the price; net is after fees \
         and delivery; per hour is net over hours.\n",
        currency.code
    );
    notes
}
