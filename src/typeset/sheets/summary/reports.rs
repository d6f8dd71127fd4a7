//! What channels reported, beside what the books say of them.

use super::{Books, DASH};
use crate::describe::wording::capital;
use crate::model::Money;
use crate::reckon::year;
use crate::typeset::view::{Reconciliation, ReconciliationRow};

/// Nothing where nothing was reported. What was sold through no channel cannot be reported, so it
/// has no row here; the table beside the paper has it.
pub(super) fn reconciliation(books: &Books) -> Option<Reconciliation> {
    let channels = &books.year.channels;
    let any = channels.iter().any(|channel| channel.reported.is_some());
    let named = channels.iter().filter_map(|row| Some((row.channel.as_deref()?, row)));
    any.then(|| Reconciliation {
        rows: named.map(|(key, channel)| view(books, key, channel)).collect(),
        notes: notes(books),
    })
}

fn view(books: &Books, key: &str, channel: &year::Reconciliation) -> ReconciliationRow {
    let known = |amount: Option<Money>| amount.map_or(DASH.to_owned(), |a| books.amount(a));
    ReconciliationRow {
        channel: name(books, key),
        reported: known(channel.reported),
        price: books.amount(channel.price),
        delivery: books.amount(channel.delivery),
        tax: books.amount(channel.tax),
        expected: books.amount(channel.expected),
        unexplained: known(channel.unexplained),
        sentence: sentence(books, channel),
    }
}

/// The channel's label, with the forms received.
fn name(books: &Books, key: &str) -> String {
    let label = books.shop.channels.get(key).map_or(key, |channel| channel.label.as_str());
    let reports = books.shop.years.get(&books.year.year).map_or(&[][..], |book| &book.reported);
    let mut parts = vec![label];
    let own = reports.iter().filter(|report| report.channel.value == key);
    for form in own.filter_map(|report| report.form.as_deref()) {
        if !parts.contains(&form) {
            parts.push(form);
        }
    }
    parts.join(", ")
}

fn sentence(books: &Books, channel: &year::Reconciliation) -> String {
    let Some(unexplained) = channel.unexplained else {
        return "Nothing was reported.".to_owned();
    };
    let shown = books.amount(unexplained.abs());
    let ends = "look first at sales near either end of the year";
    match &channel.cause {
        Some(cause) => {
            let explained = books.amount(channel.explained);
            format!("The difference of {explained} is explained: {cause}.")
        }
        None if unexplained.is_zero() => "What was reported is what the books say.".to_owned(),
        None if unexplained.is_sign_negative() => {
            format!("{shown} of the books was not reported; {ends}.")
        }
        None => format!("{shown} was reported that no sale in the books explains; {ends}."),
    }
}

fn notes(books: &Books) -> Vec<String> {
    let reported = books.year.channels.iter().filter(|channel| channel.reported.is_some());
    let (fees, refunds) = reported.fold((Money::ZERO, Money::ZERO), |(fees, refunds), channel| {
        (fees + channel.fees, refunds + channel.refunds)
    });
    let taken = [(fees, "fees"), (refunds, "refunds")];
    let taken = taken.iter().filter(|(amount, _)| !amount.is_zero());
    let taken: Vec<String> =
        taken.map(|(amount, word)| format!("{word} of {}", books.amount(*amount))).collect();
    let mut notes = Vec::new();
    if !taken.is_empty() {
        let said = capital(&taken.join(" and "));
        notes.push(format!(
            "Expected is gross. {said} are not taken off it, and are what payouts lack."
        ));
    }
    notes
}
