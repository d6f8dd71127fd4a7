//! `trace YEAR FIGURE`: the entries a figure is made of, with file and line, and their sum.

use super::args::TraceArgs;
use super::opened::{Known, Opened};
use super::table::{Align, Table};
use super::year::refused;
use super::{Screen, Status};
use crate::model::{Currency, grouped, nearest, round};
use crate::reckon::year::{self as books, Contribution, Figure, FigureUnit, Year};
use rust_decimal::Decimal;

/// Shows what a figure is made of; without a figure, the names there are.
pub fn trace(args: &TraceArgs, known: &Known, opened: &Opened, screen: &mut Screen) -> Status {
    let reckoned = &known.reckoned;
    let year = match books::year(&known.shop, &reckoned.run, &reckoned.costs, args.year) {
        Ok(year) => year,
        Err(found) => return refused(args.year, &found, opened, screen),
    };
    let Some(name) = &args.figure else {
        screen.table(&names(&year, &known.shop.currency));
        return Status::Done;
    };
    match books::trace(&year, name) {
        Some(figure) => {
            screen.table(&entries(figure, opened, &known.shop.currency));
            Status::Done
        }
        None => {
            let names: Vec<String> = books::figures(&year).collect();
            let near = nearest(name, names.iter().map(String::as_str));
            let hint = near.map_or(String::new(), |near| format!("; did you mean `{near}`?"));
            screen.complain(&format!(
                "{} has no figure `{name}`{hint}\n`dovetally trace {}` lists them\n",
                args.year, args.year
            ));
            Status::Usage
        }
    }
}

fn names(year: &Year, currency: &Currency) -> Table {
    let mut table = Table::new(&[
        ("figure", Align::Whole),
        ("what it is", Align::Left),
        ("amount", Align::Right),
    ]);
    for figure in year.ledger.iter() {
        let amount = amount(figure.amount, figure.unit, currency);
        table.row(vec![figure.name.to_string(), figure.label.clone(), amount]);
    }
    table
}

fn entries(figure: &Figure, opened: &Opened, currency: &Currency) -> Table {
    let mut table = Table::new(&[
        ("where", Align::Whole),
        ("on", Align::Left),
        ("what", Align::Left),
        ("amount", Align::Right),
    ]);
    let shown = |value| amount(value, figure.unit, currency);
    for part in &figure.parts {
        table.row(vec![
            place(part, opened),
            part.on.map(|on| on.to_string()).unwrap_or_default(),
            part.what.to_string(),
            shown(part.amount),
        ]);
    }
    let closing =
        |label: &str, value| vec![String::new(), String::new(), label.to_owned(), shown(value)];
    let rest = rounded_off(figure, currency);
    if !rest.is_zero() {
        table.row(closing("what rounding each entry left out", rest));
    }
    table.rule();
    let sum: Decimal = figure.parts.iter().map(|part| part.amount).sum();
    table.row(closing(&figure.label, sum));
    table
}

/// What the entries as they are printed lack to their sum as it is printed.
fn rounded_off(figure: &Figure, currency: &Currency) -> Decimal {
    let places = places(figure.unit, currency);
    let parts = || figure.parts.iter().map(|part| part.amount);
    let printed: Decimal = parts().map(|amount| round(amount, places)).sum();
    round(parts().sum(), places) - printed
}

/// `books/2025.toml:41`, or nothing for what is reckoned from other figures.
fn place(part: &Contribution, opened: &Opened) -> String {
    let line = opened.sources.line_column(part.place).map(|(line, _)| line);
    let path = opened.sources.get(part.place.file).map(|source| source.path.as_str());
    path.zip(line).map_or(String::new(), |(path, line)| format!("{path}:{line}"))
}

fn amount(value: Decimal, unit: FigureUnit, currency: &Currency) -> String {
    grouped(value, places(unit, currency))
}

fn places(unit: FigureUnit, currency: &Currency) -> u32 {
    match unit {
        FigureUnit::Money => currency.decimals,
        FigureUnit::Distance => 1,
        FigureUnit::Hours => 2,
    }
}
