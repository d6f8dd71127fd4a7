//! `year YEAR`: the books view on the screen.

use super::args::YearArgs;
use super::opened::{Known, Opened};
use super::table::{Align, Table};
use super::{Screen, Status, findings};
use crate::model::{Closed, Currency, Finding, LineUnit, Money, Period, Shop, counted, grouped};
use crate::reckon::year::{self as books, Filing, FormLine, TaxFigure, Total, Year};
use crate::typeset::{estimate_words, year_json};
use chrono::NaiveDate;

/// Shows the year's figures, or says why there are none.
pub fn year(args: &YearArgs, known: &Known, opened: &Opened, screen: &mut Screen) -> Status {
    let reckoned = &known.reckoned;
    let period = period(args, &known.shop);
    match books::part_of_year(&known.shop, &reckoned.run, &reckoned.costs, args.year, period) {
        Ok(year) if args.json => {
            screen.data(&format!("{:#}\n", year_json(&known.shop, &year, &opened.sources)));
            Status::Done
        }
        Ok(year) => {
            show(&year, known, screen);
            screen.data(&own_estimate(args, known));
            for note in &year.notes {
                screen.note(&findings::show(note, &opened.sources, screen.color()));
            }
            Status::Done
        }
        Err(found) => refused(args.year, &found, opened, screen),
    }
}

/// What of the owner's own estimated tax was paid, beside a quarter.
fn own_estimate(args: &YearArgs, known: &Known) -> String {
    let reckoned = &known.reckoned;
    let found = args.quarter.and_then(|nth| {
        books::quarter(&known.shop, &reckoned.run, &reckoned.costs, args.year, nth).ok()
    });
    found.and_then(|found| estimate_words(&known.shop, &found)).unwrap_or_default()
}

/// The part of the year that is asked for.
fn period(args: &YearArgs, shop: &Shop) -> Period {
    let year = shop.tax_year(args.year);
    match (args.quarter, args.month) {
        (Some(nth), _) => year.part(nth, 4),
        (None, Some(nth)) => year.part(nth, 12),
        (None, None) => year,
    }
}

/// Says why a year has no figures.
pub fn refused(year: i32, found: &[Finding], opened: &Opened, screen: &mut Screen) -> Status {
    for finding in found {
        screen.complain(&findings::show(finding, &opened.sources, screen.color()));
    }
    screen.complain(&format!("no figures for {year}: they would be short or wrong\n"));
    Status::Errors
}

fn show(year: &Year, known: &Known, screen: &mut Screen) {
    let called = known.shop.home().year_name(year.year);
    screen.data(&format!("{called}  {}, {}\n", known.shop.name, year.title));
    screen.data(&days(year, &known.shop));
    screen.table(&lines(year, known));
    screen.data("\n");
    screen.table(&proof(year, &known.shop));
    screen.data(&verdict(year, &known.shop.currency));
    screen.data(&beside(year, &known.shop));
    for note in &year.whole_notes {
        screen.note(&format!(
            "line {}: the whole amounts add up to {}, the exact sum rounds to {}; the form takes the first\n",
            note.line, grouped(note.of_wholes, 0), grouped(note.of_exact, 0)
        ));
    }
    screen.note(&format!(
        "\n{}. A summary for a preparer, not advice. `dovetally trace {} net-profit` shows what a \
         figure is made of.\n",
        if year.missing_records.is_empty() {
            "Every entry has its receipt".to_owned()
        } else {
            counted(year.missing_records.len(), "entry lacks a record", "entries lack a record")
        },
        year.year
    ));
}

/// The days of a part of the year, and how far the entries of a period go that they have not
/// finished.
fn days(year: &Year, shop: &Shop) -> String {
    let day = |on: NaiveDate| on.format("%-d %B %Y").to_string();
    let mut said = Vec::new();
    if year.period != shop.tax_year(year.year) {
        said.push(format!("{} to {}", day(year.period.first), day(year.period.last)));
    }
    said.extend(year.up_to.map(|last| format!("up to the last entry, {}", day(last))));
    if said.is_empty() { "\n".to_owned() } else { format!("{}\n\n", said.join(", ")) }
}

/// The form's lines that hold a figure, and its totals, under the parts of the form.
fn lines(year: &Year, known: &Known) -> Table {
    let mut table = Table::new(&[
        ("line", Align::Left),
        ("what it is", Align::Left),
        ("exact", Align::Right),
        ("whole", Align::Right),
    ]);
    let form = known.shop.form(year.year);
    let part_title = |number: &str| {
        let parts = form.map(|form| form.parts.as_slice()).unwrap_or_default();
        parts.iter().find(|part| part.number == number).map_or(String::new(), |p| p.title.clone())
    };
    let mut part = "";
    let totals = form.iter().flat_map(|form| form.lines.iter());
    let totals: Vec<&str> = totals.filter(|l| l.is_total()).map(|l| l.number.as_str()).collect();
    let is_shown = |line: &&FormLine| {
        let total = totals.contains(&line.number.as_str());
        line.amount.is_some_and(|amount| total || !amount.is_zero())
    };
    for line in year.lines.iter().filter(is_shown) {
        if line.part != part {
            part = &line.part;
            table.row(vec![
                String::new(),
                part_title(part).to_uppercase(),
                String::new(),
                String::new(),
            ]);
        }
        table.row(cells(line, &known.shop.currency));
    }
    table
}

fn cells(line: &FormLine, currency: &Currency) -> Vec<String> {
    let decimals = if line.unit == LineUnit::Money { currency.decimals } else { 1 };
    let exact = line.amount.map_or(String::new(), |amount| grouped(amount, decimals));
    let whole = line.whole.map_or(String::new(), |amount| grouped(amount, 0));
    vec![line.number.clone(), line.label.clone(), exact, whole]
}

/// Both sides of the proof.
fn proof(year: &Year, shop: &Shop) -> Table {
    let labour = shop.home().spelling.of("paid labour");
    let mut table = Table::new(&[("proof of cost of goods sold", Align::Left), ("", Align::Right)]);
    let money = |amount: Money| grouped(amount, shop.currency.decimals);
    for (label, amount) in [
        ("opening stock", year.total(Total::OpeningStock)),
        ("purchases", year.total(Total::Purchases)),
        ("withdrawn", -year.total(Total::Withdrawn)),
        (labour.as_str(), year.total(Total::PaidLabour)),
        ("materials", year.total(Total::Materials)),
        ("other costs", year.total(Total::OtherCosts)),
        ("closing stock", -year.total(Total::ClosingStock)),
    ] {
        if !amount.is_zero() {
            table.row(vec![label.to_owned(), money(amount)]);
        }
    }
    table.rule();
    table.row(vec!["from the stock".to_owned(), money(year.proof.from_stock)]);
    table.row(vec!["from the pieces, one by one".to_owned(), money(year.proof.from_pieces)]);
    table
}

/// What the proof comes to.
fn verdict(year: &Year, currency: &Currency) -> String {
    if year.proof.holds {
        return "the two sides agree\n\n".to_owned();
    }
    let differ = grouped(year.proof.from_stock - year.proof.from_pieces, currency.decimals);
    let look =
        year.proof.look_at.as_ref().map_or(String::new(), |at| format!("; look at {at} first"));
    format!("the two sides differ by {differ}{look}\n\n")
}

/// The balance of sales tax, its parts of 0.00 left out.
fn sales_tax(year: &Year, currency: &Currency) -> String {
    let parts = [
        (year.tax(TaxFigure::AtStart), "held at the start"),
        (year.tax(TaxFigure::Collected), "collected"),
        (year.tax(TaxFigure::Remitted), "passed on"),
        (year.tax(TaxFigure::Kept), "kept"),
    ];
    let said = parts.iter().filter(|(amount, _)| !amount.is_zero());
    let mut said: Vec<String> = said
        .map(|(amount, words)| format!("{} {words}", grouped(*amount, currency.decimals)))
        .collect();
    if said.is_empty() && year.total(Total::TaxUnpaid).is_zero() {
        return String::new();
    }
    said.push(format!("{} held at the end", grouped(year.tax(TaxFigure::Held), currency.decimals)));
    if !year.total(Total::TaxUnpaid).is_zero() {
        said.push(format!(
            "{} owed by buyers",
            grouped(year.total(Total::TaxUnpaid), currency.decimals)
        ));
    }
    let filings: String = year.filings.iter().map(|one| filing(one, currency)).collect();
    format!("sales tax: {}\n{filings}", said.join(", "))
}

/// "to file for Alder County, 2025-q1: 20.00 on 250.00 taxable of 300.00, 0.00 still due".
fn filing(one: &Filing, currency: &Currency) -> String {
    let money = |amount: Money| grouped(amount, currency.decimals);
    format!(
        "  to file for {}, {}: {} on {} taxable of {} sold, {} still due\n",
        one.label,
        one.name,
        money(one.tax),
        money(one.taxable),
        money(one.gross),
        money(one.due)
    )
}

/// Trips, sales tax, channels and the self-employment estimate, each in a line.
fn beside(year: &Year, shop: &Shop) -> String {
    let currency = &shop.currency;
    let money = |amount: Money| grouped(amount, currency.decimals);
    let mut text = String::new();
    if !year.trips.distance.is_zero() {
        text += &format!(
            "trips: {} {}, {}\n",
            grouped(year.trips.distance, 1),
            shop.home().distance.word(),
            money(year.trips.amount)
        );
    }
    text += &sales_tax(year, currency);
    for channel in year.channels.iter() {
        if let (Some(reported), Some(unexplained)) = (channel.reported, channel.unexplained) {
            let cause = channel.cause.as_ref().map_or(String::new(), |cause| format!(" ({cause})"));
            text += &format!(
                "channel {}: reported {}, expected {}{cause}, unexplained {}\n",
                channel.key,
                money(reported),
                money(channel.expected),
                money(unexplained)
            );
        }
    }
    if let Some(own) = &year.self_employment {
        text += &format!(
            "self-employment tax, an estimate: {} on net earnings of {}\n",
            money(own.tax),
            money(own.net_earnings)
        );
    }
    text
}
