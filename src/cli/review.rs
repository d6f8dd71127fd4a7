//! `review`: the shop as a whole, on the screen, as JSON or as CSV.

use super::args::ReviewArgs;
use super::figures::{hours, json_hours, json_money, json_ratio, money};
use super::opened::Known;
use super::table::{Align, Table};
use super::{Screen, Status};
use crate::model::{Currency, plain};
use crate::reckon::review::{By, FEWEST, Group, Grouping, Review};
use crate::reckon::spread::Spread;
use crate::typeset::{cell, csv, review_words as words};
use rust_decimal::Decimal;
use serde_json::{Map, Value, json};

/// Shows the review as tables, as JSON or as CSV.
pub fn review(args: &ReviewArgs, known: &Known, screen: &mut Screen) -> Status {
    let review = known.review();
    let currency = &known.shop.currency;
    if args.json {
        screen.data(&format!("{:#}\n", as_json(&review, currency)));
    } else if args.csv {
        screen.data(&as_csv(&review, currency));
    } else {
        for grouping in &review.groupings {
            screen.data(&format!("{}\n\n", words::heading(grouping.by)));
            screen.table(&table(grouping, &review, currency));
            screen.data("\n");
        }
        let opening = words::opening(&known.shop, &review).join(" ");
        screen.note(&format!("{opening}\n{}\n", words::notes(&known.shop, &review).join("\n")));
    }
    Status::Done
}

type Figure = fn(&Group, &Currency) -> Value;

/// The figures of a group, in the order they are documented in.
const FIGURES: [(&str, Figure); 20] = [
    ("pieces", |g, _| json!(g.totals.pieces)),
    ("sold", |g, _| json!(g.sold)),
    ("in_stock", |g, _| json!(g.in_stock)),
    ("cost_of_goods", |g, c| json_money(g.totals.cost_of_goods, c)),
    ("cost_sold", |g, c| json_money(g.totals.cost_sold, c)),
    ("tied_up", |g, c| json_money(g.totals.tied_up, c)),
    ("withdrawn", |g, c| json_money(g.withdrawn, c)),
    ("price", |g, c| json_money(g.totals.price, c)),
    ("gross_profit", |g, c| json_money(g.totals.gross_profit, c)),
    ("gross_margin", |g, _| json_ratio(g.totals.gross_margin)),
    ("selling_costs", |g, c| json_money(g.totals.selling_costs, c)),
    ("net", |g, c| json_money(g.totals.net, c)),
    ("hours", |g, _| json_hours(g.totals.hours)),
    ("per_hour", |g, c| json_money(g.totals.per_hour, c)),
    ("median_per_hour", |g, c| json_money(g.per_hour.map(|s| s.median), c)),
    ("pieces_with_hours", |g, _| json!(pieces(g.per_hour))),
    ("median_days_held", |g, _| json_days(g.days_held.map(|s| s.median))),
    ("pieces_with_days", |g, _| json!(pieces(g.days_held))),
    ("longest_in_stock", |g, _| json!(g.longest)),
    ("verdict", |g, _| json!(g.verdict.map(|verdict| verdict.word()))),
];

fn pieces(spread: Option<Spread>) -> usize {
    spread.map_or(0, |spread| spread.pieces)
}

/// `"42.5"`: a median of days may lie between two.
fn json_days(days: Option<Decimal>) -> Value {
    days.map_or(Value::Null, |days| json!(plain(days, 1)))
}

/// The key of a grouping, in JSON and in the first column of CSV.
fn key(by: By) -> &'static str {
    match by {
        By::Year => "years",
        By::Kind => "kinds",
        By::Source => "sources",
        By::Finish => "finishes",
    }
}

fn as_json(review: &Review, currency: &Currency) -> Value {
    let groups = |grouping: &Grouping| {
        let groups = grouping.groups.iter().map(|group| {
            let mut told = Map::from_iter([("name".to_owned(), json!(group.name))]);
            told.extend(figures(group, currency));
            Value::Object(told)
        });
        (key(grouping.by).to_owned(), groups.collect::<Value>())
    };
    let measure = &review.measure;
    let mut told = json!({
        "currency": currency.code,
        "last_day": review.last_day.map(|on| on.to_string()),
        "fewest_pieces": FEWEST,
        "measure": {
            "per_hour": json_money(measure.per_hour, currency),
            "is_shop_rate": measure.is_shop_rate,
            "days_held": json_days(measure.days_held),
        },
        "left_out": review.left_out,
        "total": figures(&review.total, currency).collect::<Map<_, _>>(),
    });
    if let Value::Object(told) = &mut told {
        told.extend(review.groupings.iter().map(groups));
    }
    told
}

fn figures(group: &Group, currency: &Currency) -> impl Iterator<Item = (String, Value)> {
    FIGURES.iter().map(move |(key, figure)| ((*key).to_owned(), figure(group, currency)))
}

/// A row for each group, and one for all pieces.
fn as_csv(review: &Review, currency: &Currency) -> String {
    let row = |by: &str, group: &Group| {
        let named = [by.to_owned(), group.name.clone().unwrap_or_default()];
        named.into_iter().chain(figures(group, currency).map(|(_, value)| cell(&value))).collect()
    };
    let groups = review.groupings.iter().flat_map(|grouping| {
        grouping.groups.iter().map(|group| row(key(grouping.by), group)).collect::<Vec<_>>()
    });
    let heads: Vec<&str> =
        ["by", "name"].into_iter().chain(FIGURES.iter().map(|(key, _)| *key)).collect();
    csv(&heads, groups.chain([row("total", &review.total)]))
}

/// A column of figures on the screen.
type Column = (&'static str, fn(&Group, &Currency) -> String);

const SOLD: Column = ("sold", |g, _| format!("{} of {}", g.sold, g.totals.pieces));
const NET: Column = ("net", |g, c| money(Some(g.totals.net), c));
const MEDIAN: Column = ("median per hour", |g, c| words::median_money(g.per_hour, c));
const HELD: Column = ("days held", |g, _| words::median_days(g.days_held));

const OF_YEARS: &[Column] = &[
    SOLD,
    ("price", |g, c| money(Some(g.totals.price), c)),
    ("cost", |g, c| money(Some(g.totals.cost_sold), c)),
    NET,
    ("hours", |g, _| hours(g.totals.hours_sold)),
    ("per hour", |g, c| money(g.totals.per_hour, c)),
    MEDIAN,
    HELD,
];

const OF_OTHERS: &[Column] =
    &[SOLD, NET, MEDIAN, HELD, ("tied up", |g, c| money(Some(g.totals.tied_up), c))];

fn table(grouping: &Grouping, review: &Review, currency: &Currency) -> Table {
    let by = grouping.by;
    let (columns, verdicts) = if by == By::Year { (OF_YEARS, false) } else { (OF_OTHERS, true) };
    let mut heads = vec![(words::name_head(by), Align::Left)];
    heads.extend(columns.iter().map(|(head, _)| (*head, Align::Right)));
    heads.extend(verdicts.then_some(("verdict", Align::Left)));
    let mut table = Table::new(&heads);
    let cells = |name: String, group: &Group| {
        let figures = columns.iter().map(|(_, figure)| figure(group, currency));
        let standing = || words::standing(by, group, &review.measure).to_owned();
        let verdict = group.verdict.map(|_| standing());
        std::iter::once(name).chain(figures).chain(verdict).collect()
    };
    for group in &grouping.groups {
        table.row(cells(words::group_name(by, group), group));
    }
    table.rule();
    table.row(cells("all pieces".to_owned(), &review.total));
    table
}
