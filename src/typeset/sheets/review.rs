//! The review of the shop: its years side by side, and its pieces by kind, source and finish. For
//! the owner; every figure is rounded once, here, as it is printed.

pub mod words;

use super::common::sheet;
use super::summary::parts;
use super::{draft, layouts};
use crate::describe::wording::date;
use crate::model::{Hours, Money, Shop, grouped};
use crate::reckon::review::{By, FEWEST, Group, Grouping, Review};
use crate::typeset::press::Draft;
use crate::typeset::view::{HourBar, PerHour, ReviewChart, ReviewColumns, ReviewTable, ReviewView};

const DASH: &str = "–";

/// The draft of the review; nothing for a shop without pieces.
pub fn review_sheet(shop: &Shop, review: &Review) -> Option<Draft> {
    let view = Reviewed { shop, review }.view();
    let ident = format!("{} / review", shop.name);
    (review.total.totals.pieces > 0).then(|| draft(layouts::REVIEW, &view, Vec::new(), ident))
}

struct Reviewed<'a> {
    shop: &'a Shop,
    review: &'a Review,
}

impl<'a> Reviewed<'a> {
    fn view(&self) -> ReviewView {
        let name = &self.shop.name;
        let up_to = self.review.last_day.map_or(String::new(), |on| format!(" up to {}", date(on)));
        ReviewView {
            sheet: sheet(self.shop, format!("Review of the shop, {name}")),
            head: "Review of the shop".to_owned(),
            foot: format!("{name} · what was entered{up_to}"),
            heading: "What earned, and what sat".to_owned(),
            opening: words::opening(self.shop, self.review),
            tables: self.review.groupings.iter().map(|grouping| self.table(grouping)).collect(),
            chart: self.chart(),
            notes: words::notes(self.shop, self.review),
        }
    }

    fn table(&self, grouping: &Grouping) -> ReviewTable {
        let by = grouping.by;
        let (columns, heads, cells) = match by {
            By::Year => (ReviewColumns::Years, YEAR_HEADS, Reviewed::<'a>::year as Cells<'a>),
            _ => (ReviewColumns::Groups, GROUP_HEADS, Reviewed::<'a>::group as Cells<'a>),
        };
        let heads = std::iter::once(words::name_head(by)).chain(heads.iter().copied());
        let row = |group: &Group| cells(self, by, words::group_name(by, group), group);
        ReviewTable {
            heading: words::heading(by).to_owned(),
            columns,
            heads: heads.map(str::to_owned).collect(),
            rows: grouping.groups.iter().map(row).collect(),
            total: self.total(by, cells),
        }
    }

    /// The whole shop has no verdict: it is what the groups are compared with.
    fn total(&self, by: By, cells: Cells<'a>) -> Vec<String> {
        let mut total = cells(self, by, "all pieces".to_owned(), &self.review.total);
        if by != By::Year {
            total.pop();
            total.push(String::new());
        }
        total
    }

    fn year(&self, _: By, name: String, group: &Group) -> Vec<String> {
        let totals = &group.totals;
        vec![
            name,
            sold(group),
            self.amount(totals.price),
            self.amount(totals.cost_sold),
            self.amount(totals.net),
            hours(totals.hours_sold),
            self.maybe(totals.per_hour),
            words::median_money(group.per_hour, &self.shop.currency),
            words::median_days(group.days_held),
        ]
    }

    fn group(&self, by: By, name: String, group: &Group) -> Vec<String> {
        let totals = &group.totals;
        vec![
            name,
            sold(group),
            self.amount(totals.net),
            self.maybe(totals.per_hour),
            words::median_money(group.per_hour, &self.shop.currency),
            words::median_days(group.days_held),
            self.amount(totals.tied_up),
            words::standing(by, group, &self.review.measure).to_owned(),
        ]
    }

    fn amount(&self, amount: Money) -> String {
        grouped(amount, self.shop.currency.decimals)
    }

    fn maybe(&self, amount: Option<Money>) -> String {
        amount.map_or(DASH.to_owned(), |amount| self.amount(amount))
    }

    /// A bar for each kind of which enough pieces say what they earned.
    fn chart(&self) -> Option<ReviewChart> {
        let kinds = self.review.groupings.iter().find(|grouping| grouping.by == By::Kind)?;
        let medians: Vec<(String, Money, usize)> = kinds
            .groups
            .iter()
            .filter_map(|group| {
                let spread = group.per_hour.filter(|spread| spread.pieces >= FEWEST)?;
                Some((words::group_name(By::Kind, group), spread.median, spread.pieces))
            })
            .collect();
        let bars = (medians.len() > 1).then(|| self.bars(&medians))?;
        Some(ReviewChart { heading: "What an hour earned, by kind".to_owned(), bars })
    }

    fn bars(&self, medians: &[(String, Money, usize)]) -> PerHour {
        let measure = &self.review.measure;
        let rate = measure.per_hour;
        let earned = || medians.iter().map(|(_, earned, _)| *earned).chain(rate);
        let low = earned().min().unwrap_or_default().min(Money::ZERO);
        let width = earned().max().unwrap_or_default().max(Money::ZERO) - low;
        let at = |amount: Money| parts(amount - low, width);
        let zero = at(Money::ZERO);
        let bar = |(name, earned, pieces): &(String, Money, usize)| HourBar {
            number: pieces.to_string(),
            title: name.clone(),
            amount: self.amount(*earned),
            from: zero.min(at(*earned)),
            to: zero.max(at(*earned)),
        };
        let which = if measure.is_shop_rate { "shop rate" } else { "shop's median" };
        PerHour {
            finding: self.finding(medians),
            bars: medians.iter().map(bar).collect(),
            zero,
            rate: rate.map(at),
            rate_label: rate.map_or(String::new(), |rate| format!("{which} {}", self.amount(rate))),
            note: format!(
                "Medians of wholly sold pieces with hours, their number at the left; kinds of \
                 fewer than {FEWEST} are left out."
            ),
        }
    }

    /// The chart in one sentence.
    fn finding(&self, medians: &[(String, Money, usize)]) -> String {
        let said = |(name, earned, _): &(String, Money, usize)| {
            format!("{name} earned {} an hour", self.amount(*earned))
        };
        let ends = [medians.first(), medians.last()].into_iter().flatten().map(said);
        format!("From best to least: {}.", ends.collect::<Vec<_>>().join(", "))
    }
}

type Cells<'a> = fn(&Reviewed<'a>, By, String, &Group) -> Vec<String>;

const YEAR_HEADS: &[&str] =
    &["sold", "price", "cost", "net", "hours", "per hour", "median", "days held"];
const GROUP_HEADS: &[&str] =
    &["sold", "net", "per hour", "median", "days held", "tied up", "verdict"];

/// "5 of 8".
fn sold(group: &Group) -> String {
    format!("{} of {}", group.sold, group.totals.pieces)
}

fn hours(hours: Option<Hours>) -> String {
    hours.map_or(DASH.to_owned(), |hours| grouped(hours.decimal(1), 1))
}
