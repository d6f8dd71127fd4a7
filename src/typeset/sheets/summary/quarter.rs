//! The quarter sheet: profit so far by the lines of the year, sales tax to file, and the owner's own
//! estimated tax, on one page, as a table and as JSON.

use super::form::parts;
use super::json::year_json;
use super::{Books, per_cent, row};
use crate::describe::wording::date;
use crate::model::{Exempt, Money, Period, Seen, Shop, Sources, grouped};
use crate::reckon::year::{DueDay, Estimate, Filing, FormLine, Quarter, Total};
use crate::typeset::csv_file;
use crate::typeset::press::Draft;
use crate::typeset::sheets::common::sheet;
use crate::typeset::sheets::{draft, layouts};
use crate::typeset::view::{
    QuarterEstimate, QuarterLine, QuarterLines, QuarterSheet, Row, RowKind, TaxReturn,
};
use serde_json::{Value, json};

/// The draft of the sheet.
pub fn quarter_sheet(shop: &Shop, quarter: &Quarter, sources: &Sources) -> Draft {
    let books = Books::new(shop, &quarter.so_far, sources);
    let (nth, year) = (quarter.nth, quarter.own.year);
    let head = format!("Quarter {nth} of {}", shop.home().year_name(year));
    let view = QuarterSheet {
        sheet: sheet(shop, format!("{head}, {}", shop.name)),
        days: days(quarter),
        foot: format!("{} · quarter sheet, a summary for a preparer, not advice", shop.name),
        lines: lines(&books, quarter),
        returns: quarter.own.filings.iter().map(|one| tax_return(&books, quarter, one)).collect(),
        estimate: quarter.estimate.as_ref().map(|found| estimate(&books, quarter, found)),
        notes: notes(&books, quarter),
        head,
    };
    let ident = format!("{} / quarter {nth} of {year}", shop.name);
    draft(layouts::QUARTER_SHEET, &view, Vec::new(), ident)
}

/// "1 April to 30 June 2025, up to the last entry, 14 May 2025".
fn days(quarter: &Quarter) -> String {
    let said = spelled(quarter.own.period);
    match quarter.own.up_to {
        Some(last) => format!("{said}, up to the last entry, {}", date(last)),
        None => said,
    }
}

fn spelled(period: Period) -> String {
    format!("{} to {}", date(period.first), date(period.last))
}

fn lines(books: &Books, quarter: &Quarter) -> QuarterLines {
    let own = |number: &str| {
        let line = quarter.own.lines.iter().find(|line| line.number == number);
        let amount = line.and_then(|line| line.amount);
        amount.map_or(super::DASH.to_owned(), |amount| books.amount(amount))
    };
    // Income and expenses: stock and cost of goods by themselves are of the whole year.
    let rows =
        parts(books).into_iter().take(2).flat_map(|part| part.lines).map(|line| QuarterLine {
            quarter: own(&line.line),
            line: line.line,
            label: line.label,
            so_far: line.exact,
            kind: line.kind,
        });
    QuarterLines {
        heading: "Profit so far".to_owned(),
        heads: ["line", "what it is", "the quarter", "the year so far"].map(str::to_owned).into(),
        rows: rows.collect(),
    }
}

/// A return line by line, rows of nothing left out between the first and the tax.
fn tax_return(books: &Books, quarter: &Quarter, one: &Filing) -> TaxReturn {
    let mut rows = vec![books.item("Gross sales, delivery included", one.gross)];
    let mut less = |label: &str, amount: Money| {
        if !amount.is_zero() {
            rows.push(books.item(format!("less {label}"), -amount));
        }
    };
    less("what channels collect the tax of", one.by_channels);
    for (reason, amount) in &one.exempt {
        let why = match reason {
            Exempt::Resale => "exempt: for resale",
            Exempt::OutOfState => "exempt: out of state",
            Exempt::Other => "exempt: another reason",
        };
        less(why, *amount);
    }
    less("delivery that is not taxed", one.delivery);
    rows.push(row("Taxable sales", books.amount(one.taxable), RowKind::Subtotal));
    rows.push(books.item(format!("Sales tax, at {}", per_cent(one.rate)), one.tax));
    for (label, amount) in [("less passed on for it", one.remitted), ("less kept", one.kept)] {
        if !amount.is_zero() {
            rows.push(books.item(label, -amount));
        }
    }
    rows.push(books.total("Still due", one.due));
    let owed = if one.when_paid { "as buyers pay" } else { "on the day of the sale" };
    let note = format!(
        "Owed {owed}. Held for the place: {} before the period, {} at its end.",
        books.amount(one.at_start),
        books.amount(one.held)
    );
    let heading = format!("Sales tax, {}{}", one.label, which(quarter, one));
    TaxReturn { heading, rows, note }
}

/// Which part of the quarter it is of, where it is not of all: ", October".
fn which(quarter: &Quarter, one: &Filing) -> String {
    match one.period == quarter.own.period {
        true => String::new(),
        false => format!(", {}", one.period.first.format("%B")),
    }
}

fn estimate(books: &Books, quarter: &Quarter, found: &Estimate) -> QuarterEstimate {
    let rows = vec![
        books.item("Net profit of the year so far", found.tax.net_profit),
        books.item("Self-employment tax on it, estimated", found.tax.tax),
    ];
    let paid = found.dues.iter().map(|due| books.item(due_day(due), due.paid));
    let mut paid: Vec<Row> = paid.collect();
    paid.push(books.total("Paid for the year", found.paid()));
    QuarterEstimate {
        heading: "Your own estimated tax".to_owned(),
        rows,
        paid,
        notes: of_estimate(books, quarter, found),
    }
}

fn due_day(due: &DueDay) -> String {
    let sign = if due.seen == Seen::Read { "" } else { "\u{a0}†" };
    format!("Due {}{sign}", date(due.on))
}

fn of_estimate(books: &Books, quarter: &Quarter, found: &Estimate) -> Vec<String> {
    let mut notes = vec![
        "The tax is reckoned on the profit of all months so far, not on a quarter of the year. It \
         knows no other income, no wages of a spouse, no credits and no income tax: what to pay is \
         for the preparer."
            .to_owned(),
    ];
    if let Some(floor) = found.floor.filter(|floor| found.tax.tax < *floor) {
        notes.push(format!(
            "By itself it is below {}, under which no payment is due: nothing is divided into parts \
             here. With your other taxes it may be above.",
            books.amount(floor)
        ));
    }
    if quarter.nth < 4 {
        notes.push("Payments made after the quarter are not in it.".to_owned());
    }
    if found.dues.iter().any(|due| due.seen != Seen::Read) {
        notes.push("† To be checked against the published form before it is used.".to_owned());
    }
    notes
}

fn notes(books: &Books, quarter: &Quarter) -> Vec<String> {
    let workspace = books.shop.years.get(&quarter.own.year).is_some_and(|b| b.workspace.is_some());
    let said = workspace && quarter.nth < 4;
    let note = || "The workspace at home counts in the whole year alone.".to_owned();
    said.then(note).into_iter().collect()
}

/// The sheet's lines as a table: line, what it is, the quarter, the year so far.
pub fn quarter_table(shop: &Shop, quarter: &Quarter) -> String {
    let plain = |line: Option<&FormLine>| {
        let amount = line.and_then(|line| line.amount);
        amount.map_or(String::new(), |a| crate::model::plain(a, shop.currency.decimals))
    };
    let rows = quarter.so_far.lines.iter().filter(|line| line.amount.is_some()).map(|line| {
        let own = quarter.own.lines.iter().find(|own| own.number == line.number);
        vec![line.number.clone(), line.label.clone(), plain(own), plain(Some(line))]
    });
    csv_file(&["line", "label", "quarter", "year_so_far"], rows)
}

/// The quarter, the year so far and the estimate; the figures of each as of [`year_json`].
pub fn quarter_json(shop: &Shop, quarter: &Quarter, sources: &Sources) -> Value {
    let money = |amount: Money| crate::model::plain(amount, shop.currency.decimals);
    let estimate = quarter.estimate.as_ref().map(|found| {
        let dues = found.dues.iter().map(|due| {
            json!({ "on": due.on.to_string(), "paid": money(due.paid), "source": due.source })
        });
        json!({
            "net_profit": money(found.tax.net_profit),
            "self_employment_tax": money(found.tax.tax),
            "floor": found.floor.map(money),
            "paid": money(found.paid()),
            "due": dues.collect::<Vec<Value>>(),
        })
    });
    json!({
        "quarter": quarter.nth,
        "net_profit": money(quarter.own.total(Total::NetProfit)),
        "own": year_json(shop, &quarter.own, sources),
        "so_far": year_json(shop, &quarter.so_far, sources),
        "estimate": estimate,
    })
}

/// What a quarter was by its own figures, for the screen: "estimated tax: …".
pub fn estimate_words(shop: &Shop, quarter: &Quarter) -> Option<String> {
    let found = quarter.estimate.as_ref()?;
    let money = |amount: Money| grouped(amount, shop.currency.decimals);
    Some(format!(
        "your own estimated tax: {} of self-employment tax on the profit so far, {} paid\n",
        money(found.tax.tax),
        money(found.paid())
    ))
}
