//! The self-employment estimate and what to set aside for it.

use super::{Books, per_cent};
use crate::describe::wording::date;
use crate::model::{Money, Seen};
use crate::reckon::year;
use crate::typeset::view::{Row, SelfEmployment};
use rust_decimal::Decimal;

/// Nothing for a loss, or where the form has no such tax.
pub(super) fn estimate(books: &Books) -> Option<SelfEmployment> {
    let found = books.year.self_employment.as_ref()?;
    (found.net_profit > Money::ZERO).then(|| SelfEmployment {
        rows: rows(books, found),
        set_aside: set_aside(books),
        notes: notes(books, found),
    })
}

fn rows(books: &Books, found: &year::SelfEmployment) -> Vec<Row> {
    let rate = |name| per_cent(books.rate(name).map_or(Decimal::ZERO, |rate| rate.value));
    vec![
        books.item("Net profit", found.net_profit),
        books.item(format!("{} of it", rate("self-employment-share")), found.net_earnings),
        books.item(
            format!("Social Security part, {}", rate("social-security-rate")),
            found.social_security,
        ),
        books.item(format!("Medicare part, {}", rate("medicare-rate")), found.medicare),
        books.total("Self-employment tax, estimated", found.tax),
        books.item(format!("of it deductible, {}", rate("deductible-share")), found.half),
    ]
}

fn set_aside(books: &Books) -> Vec<Row> {
    let due = books.year.set_aside.iter().filter(|part| !part.amount.is_zero());
    let parts: Vec<_> = due.collect();
    let mut rows: Vec<Row> =
        parts.iter().map(|part| books.item(date(part.on), part.amount)).collect();
    if !parts.is_empty() {
        rows.push(books.total("Together", parts.iter().map(|part| part.amount).sum()));
    }
    rows
}

fn notes(books: &Books, found: &year::SelfEmployment) -> Vec<String> {
    let mut notes = vec![
        "An estimate: it knows no other income, no wages, no credits and no income tax. The \
         preparer’s figure is the one that counts."
            .to_owned(),
    ];
    let floor = books.rate("self-employment-floor");
    notes.extend(floor.filter(|floor| found.net_earnings < floor.value).map(|floor| {
        format!("Net earnings are below {}, so there is no such tax.", books.amount(floor.value))
    }));
    if books.year.set_aside.iter().any(|part| !part.amount.is_zero() && part.seen != Seen::Read) {
        notes.push("The days are to be checked against the published form.".to_owned());
    }
    notes
}
