//! Page 1: the year in one ledger, the proof in short and the chart by month.

use super::{Books, DASH, dollar, goods, row};
use crate::describe::wording::capital;
use crate::model::{Money, counted, grouped, round};
use crate::reckon::year;
use crate::reckon::year::{TaxFigure, Total};
use crate::typeset::view::{Glance, Month, Months, Row, RowKind, Verdict};
use chrono::NaiveDate;
use rust_decimal::Decimal;
use rust_decimal::prelude::ToPrimitive;

/// Length of a whole chart in the parts a view counts.
const WHOLE: i64 = 10_000;

pub(super) fn glance(books: &Books) -> Glance {
    Glance {
        ledger: ledger(books),
        stock_side: stock_side(books),
        pieces_side: pieces_side(books),
        verdict: verdict(books),
        months: months(books),
        dollar: dollar::dollar(books),
    }
}

fn ledger(books: &Books) -> Vec<Row> {
    let year = books.year;
    let net =
        if year.total(Total::NetProfit).is_sign_negative() { "Net loss" } else { "Net profit" };
    let gross = year.total(Total::NetReceipts) - year.total(Total::CostOfGoodsSold);
    let mut rows = vec![
        row("Receipts less refunds", books.money(year.total(Total::NetReceipts)), RowKind::Item),
        books.item("less cost of goods sold", -year.total(Total::CostOfGoodsSold)),
        row("Gross profit", books.amount(gross), RowKind::Subtotal),
    ];
    if !year.tax(TaxFigure::Kept).is_zero() {
        rows.push(books.item("Sales tax kept for collecting it", year.tax(TaxFigure::Kept)));
    }
    if !year.total(Total::OtherIncome).is_zero() {
        rows.push(books.item("Other income", year.total(Total::OtherIncome)));
    }
    rows.push(books.item("less expenses", -year.total(Total::TotalExpenses)));
    rows.push(row(net, books.money(year.total(Total::NetProfit)), RowKind::Total));
    rows
}

/// From the stock; rows of nothing are left out between opening and closing stock.
fn stock_side(books: &Books) -> Vec<Row> {
    let year = books.year;
    let other = year.total(Total::PaidLabour)
        + year.total(Total::Materials)
        + year.total(Total::OtherCosts);
    let between = [
        ("Purchases", year.total(Total::Purchases)),
        ("less kept or given away", -year.total(Total::Withdrawn)),
        (&books.spelled("Paid labour, materials and other costs"), other),
    ];
    let mut rows =
        vec![books.item(format!("Stock on {}", books.begin()), year.total(Total::OpeningStock))];
    rows.extend(between.iter().filter(|(_, a)| !a.is_zero()).map(|(l, a)| books.item(*l, *a)));
    rows.push(
        books.item(format!("less stock on {}", books.end()), -year.total(Total::ClosingStock)),
    );
    rows.push(books.total("Cost of goods sold, from the stock", year.proof.from_stock));
    rows
}

fn pieces_side(books: &Books) -> Vec<Row> {
    let label = match goods::pieces_sold(books) {
        0 => "No piece was sold".to_owned(),
        n => format!("Cost of {}, added one by one", counted(n, "piece", "pieces")),
    };
    vec![books.total(label, books.year.proof.from_pieces)]
}

/// Whether the two sides agree, and where to look first when they do not.
pub(super) fn verdict(books: &Books) -> Verdict {
    let proof = &books.year.proof;
    let difference = (proof.from_stock - proof.from_pieces).abs();
    let shown = books.amount(difference);
    let sentence = if proof.holds {
        format!("The two sides agree; difference {shown}.")
    } else {
        format!("The two sides differ by {shown}.")
    };
    let look_first = proof.look_at.as_ref().map(|at| match books.shop.piece(at) {
        Some(piece) => format!("Look first at No. {at}, {}.", piece.title.value),
        None => format!("Look first at {at}."),
    });
    Verdict { agrees: proof.holds, sentence, look_first }
}

fn months(books: &Books) -> Months {
    let months = &books.year.months;
    let span = Span::of(months);
    let note = "Cost is cost of goods sold and every expense with a day of its own; the workspace \
                at home belongs to no month.";
    Months {
        finding: finding(books),
        months: months.iter().map(|month| view(books, month, &span)).collect(),
        below: span.below(),
        note: note.to_owned(),
    }
}

/// A month to come has a dash and no bar.
fn view(books: &Books, month: &year::Month, span: &Span) -> Month {
    let begun = books.period.has(month.month);
    let figure = |amount| if begun { grouped(amount, 0) } else { DASH.to_owned() };
    Month {
        name: named(books.year.year, month.month, "%b"),
        received: figure(month.received),
        cost: figure(month.cost),
        received_bar: span.bar(month.received),
        cost_bar: span.bar(month.cost),
    }
}

/// From the lowest month below zero to the highest above.
struct Span {
    low: Money,
    whole: Money,
}

impl Span {
    fn of(months: &[year::Month]) -> Span {
        let all = || months.iter().flat_map(|m| [m.received, m.cost]).chain([Money::ZERO]);
        let low = all().min().unwrap_or_default();
        Span { low, whole: all().max().unwrap_or_default() - low }
    }

    /// How far the base stands above the foot of the chart.
    fn below(&self) -> u32 {
        parts(-self.low, self.whole)
    }

    /// A length in ten-thousandths of the chart's height, below zero where the month is.
    fn bar(&self, amount: Money) -> i32 {
        let length = i32::try_from(parts(amount.abs(), self.whole)).unwrap_or_default();
        if amount.is_sign_negative() { -length } else { length }
    }
}

fn named(year: i32, month: u32, how: &str) -> String {
    let first = NaiveDate::from_ymd_opt(year, month, 1).unwrap_or_default();
    first.format(how).to_string()
}

fn finding(books: &Books) -> String {
    let unit = dollar::unit(books);
    let best = books.year.months.iter().rev().max_by_key(|month| month.received);
    match best.filter(|month| month.received > Money::ZERO) {
        Some(month) => format!(
            "Receipts were highest in {}, {} {unit}s, against {} of cost.",
            named(books.year.year, month.month, "%B"),
            grouped(month.received, 0),
            grouped(month.cost, 0),
        ),
        None => format!("{} in any month.", capital("nothing was received")),
    }
}

/// A length in ten-thousandths of the whole; 0 at or below zero.
pub(in crate::typeset::sheets) fn parts(part: Decimal, whole: Decimal) -> u32 {
    let parts = (part.max(Decimal::ZERO) * Decimal::from(WHOLE)).checked_div(whole);
    parts.and_then(|parts| round(parts, 0).to_u32()).unwrap_or(0)
}
