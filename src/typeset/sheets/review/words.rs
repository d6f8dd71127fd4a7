//! How a review is said in words: on paper and on the screen the same.

use crate::describe::wording::date;
use crate::model::{Currency, Shop, counted, grouped, round};
use crate::reckon::review::{By, FEWEST, Group, Measure, Review, Verdict};
use crate::reckon::spread::Spread;

/// What stands over the groups.
pub fn heading(by: By) -> &'static str {
    match by {
        By::Year => "By year sold",
        By::Kind => "By kind of piece",
        By::Source => "By where they came from",
        By::Finish => "By finish",
    }
}

/// What stands over their names.
pub fn name_head(by: By) -> &'static str {
    match by {
        By::Year => "sold in",
        By::Kind => "kind",
        By::Source => "bought from",
        By::Finish => "finish",
    }
}

/// What a group is called.
pub fn group_name(by: By, group: &Group) -> String {
    let without = match by {
        By::Year => "not wholly sold",
        By::Kind => "no kind named",
        By::Source => "not stated",
        By::Finish => "none recorded",
    };
    group.name.clone().unwrap_or_else(|| without.to_owned())
}

/// A verdict in a few words; a dash for a group that has none.
pub fn verdict(by: By, verdict: Option<Verdict>) -> &'static str {
    match verdict {
        None => "–",
        Some(Verdict::Again) if by == By::Finish => "use again",
        Some(Verdict::Again) => "buy again",
        Some(Verdict::EarnsButSits) => "earns, but sits",
        Some(Verdict::SellsButEarnsLess) => "sells, but earns less",
        Some(Verdict::NotAgain) => "earns less, and sits",
        Some(Verdict::TooFew) => "too few to say",
    }
}

/// A verdict, or what a few pieces allow: where they stand so far, which is no verdict.
pub fn standing(by: By, group: &Group, measure: &Measure) -> &'static str {
    match (group.verdict, group.per_hour.zip(measure.per_hour)) {
        (Some(Verdict::TooFew), _) if group.sold == 0 => "none sold",
        (Some(Verdict::TooFew), Some((few, rate))) if few.median >= rate => "few, above so far",
        (Some(Verdict::TooFew), Some(_)) => "few, below so far",
        (Some(Verdict::TooFew), None) => "–",
        (found, _) => verdict(by, found),
    }
}

/// A median of money and the number of pieces it is of: "33.00 of 5".
pub fn median_money(spread: Option<Spread>, currency: &Currency) -> String {
    said(spread, |spread| grouped(spread.median, currency.decimals))
}

/// A median of days and the number of pieces it is of: "42.5 of 6".
pub fn median_days(spread: Option<Spread>) -> String {
    said(spread, |spread| round(spread.median, 1).normalize().to_string())
}

fn said(spread: Option<Spread>, figure: impl Fn(Spread) -> String) -> String {
    spread.map_or("–".to_owned(), |spread| format!("{} of {}", figure(spread), spread.pieces))
}

/// How much there is to look at, and what is not in it: one sentence each.
pub fn opening(shop: &Shop, review: &Review) -> Vec<String> {
    let pieces = counted(review.total.totals.pieces, "piece", "pieces");
    let sold = review.total.sold;
    let up_to = review.last_day.map_or(String::new(), |on| format!(", entered up to {}", date(on)));
    let mut said = vec![format!("{pieces}, {sold} of them wholly sold{up_to}.")];
    if let Some(days) = review.total.longest {
        let in_stock = counted(review.total.in_stock, "piece is", "pieces are");
        let tied_up = grouped(review.total.totals.tied_up, shop.currency.decimals);
        let days = counted(usize::try_from(days).unwrap_or_default(), "day", "days");
        said.push(format!("{in_stock} in stock with {tied_up} tied up, the oldest for {days}."));
    }
    if review.left_out > 0 {
        let left_out = counted(review.left_out, "piece is", "pieces are");
        said.push(format!("{left_out} left out, since the figures cannot be trusted."));
    }
    if !shop.broken.is_empty() {
        let files = counted(
            shop.broken.len(),
            "file has errors: nothing in it is in any figure",
            "files have errors: nothing in them is in any figure",
        );
        said.push(format!("{files}."));
    }
    said
}

/// What the figures mean, one sentence each.
pub fn notes(shop: &Shop, review: &Review) -> Vec<String> {
    let mut notes = vec![
        "Net is price less cost of goods, fees and delivery, without the owner's hours; per hour is \
         the net of pieces with hours over those hours."
            .to_owned(),
        "A median is of wholly sold pieces, with their number: what each earned per hour, and the \
         days from bought to sold. A set counts as one piece."
            .to_owned(),
    ];
    notes.push(compared(&review.measure, &shop.currency));
    if !review.total.withdrawn.is_zero() {
        let cost = grouped(review.total.withdrawn, shop.currency.decimals);
        notes.push(format!(
            "{cost} went into pieces scrapped, kept or given away; it is in no net."
        ));
    }
    notes
}

/// What verdicts are made by.
fn compared(measure: &Measure, currency: &Currency) -> String {
    let fewest = format!(
        "Fewer than {FEWEST} pieces have no verdict, only where they stand per hour so far"
    );
    let (Some(rate), Some(days)) = (measure.per_hour, measure.days_held) else {
        return format!("{fewest}; the shop has not sold as many.");
    };
    let rate = grouped(rate, currency.decimals);
    let which = if measure.is_shop_rate { "shop rate" } else { "shop's median" };
    let days = round(days, 1).normalize();
    format!(
        "A verdict sets a group's medians against the {which} of {rate} an hour and the shop's \
         median of {days} days held; it does not know why. {fewest}."
    )
}
