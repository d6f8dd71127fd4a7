//! The shop looked at as a whole: its years side by side, and its pieces by kind, by where they
//! came from and by finish. What earned, what sat, what is worth doing again.
//!
//! Shop view only: every sum is one of tallies, every median one of wholly sold pieces, and how
//! many those are is said beside it. A set counts as one piece. There is no clock: pieces in stock
//! are held up to the last day that any piece's entries name. Any floor to the right may use it.

mod labels;
mod verdict;

pub use labels::Label;
pub use verdict::{FEWEST, Measure, Verdict};

use super::Reckoned;
use super::spread::{Spread, spread};
use super::state::State;
use super::tally::Tally;
use super::totals::{Totals, totals};
use crate::model::{Money, Shop};
use chrono::NaiveDate;
use rust_decimal::Decimal;
use std::cmp::Reverse;
use std::collections::BTreeMap;

/// What pieces are put together by.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum By {
    /// The year in which the last of it was sold.
    Year,
    Kind,
    /// Whom or where it was bought from: of its own purchase, or of the lot it came in.
    Source,
    /// The finish that decides its care.
    Finish,
}

impl By {
    pub const ALL: [By; 4] = [By::Year, By::Kind, By::Source, By::Finish];
}

/// Some pieces and what they came to.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Group {
    /// Nothing for pieces that do not say: no kind stated, not wholly sold in any year.
    pub name: Option<String>,
    /// Over every piece of the group, sold or not.
    pub totals: Totals,
    /// How many are wholly sold and did not come back.
    pub sold: usize,
    /// How many are in the shop, wholly or in part.
    pub in_stock: usize,
    /// The cost of what was scrapped, kept or given away: it is in no net.
    pub withdrawn: Money,
    /// Earned per hour, of the wholly sold pieces whose hours are known.
    pub per_hour: Option<Spread>,
    /// Days held, of the wholly sold pieces whose days are known.
    pub days_held: Option<Spread>,
    /// Days the piece longest in stock has been held, up to [`Review::last_day`].
    pub longest: Option<i64>,
    /// Nothing for a year, which cannot be done again.
    pub verdict: Option<Verdict>,
}

/// The pieces of a shop in groups: every piece in exactly one.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Grouping {
    pub by: By,
    /// Years in their order; others by what they earned per hour, the best first, and those of too
    /// few pieces after them by how many are sold. The group of those that do not say comes last.
    pub groups: Vec<Group>,
}

/// A shop looked at as a whole.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Review {
    /// The last day any entry of a piece names; nothing for a shop without days.
    pub last_day: Option<NaiveDate>,
    /// What groups are compared with.
    pub measure: Measure,
    /// Every piece together.
    pub total: Group,
    /// In the order of [`By::ALL`].
    pub groupings: Vec<Grouping>,
    /// How many pieces are in no group, since their figures cannot be trusted.
    pub left_out: usize,
}

/// Reviews a shop. `labels` say what kind and finish each piece has, in the order of
/// [`Shop::pieces`].
pub fn review(shop: &Shop, reckoned: &Reckoned, labels: &[Label]) -> Review {
    let last_day = labels::last_day(shop, reckoned);
    let sources = labels::sources(shop);
    let tallies: Vec<(usize, &Tally)> = reckoned
        .tallies
        .iter()
        .enumerate()
        .filter_map(|(i, tally)| Some((i, tally.as_ref()?)))
        .collect();
    let all = tallies.iter().map(|(_, tally)| *tally).collect::<Vec<_>>();
    let total = Group::of(None, &all, last_day);
    let rate = shop.shop_rate.as_ref().map(|rate| rate.value);
    let measure = Measure::of(rate, &total);
    let name = |by, i: usize, tally: &Tally| match by {
        By::Year => labels::year(tally),
        By::Kind => labels.get(i).and_then(|label| label.kind.clone()),
        By::Source => sources[i].clone(),
        By::Finish => labels.get(i).and_then(|label| label.finish.clone()),
    };
    let grouping = |by| {
        let named = tallies.iter().map(|(i, tally)| (name(by, *i, tally), *tally));
        Grouping { by, groups: groups(by, named, last_day, &measure) }
    };
    Review {
        last_day,
        groupings: By::ALL.map(grouping).into(),
        total,
        measure,
        left_out: reckoned.totals.left_out,
    }
}

/// Puts pieces of one name together, however it is capitalised; the first way of writing it stands.
fn groups<'a>(
    by: By,
    named: impl Iterator<Item = (Option<String>, &'a Tally)>,
    last_day: Option<NaiveDate>,
    measure: &Measure,
) -> Vec<Group> {
    let mut found: BTreeMap<Option<String>, (Option<String>, Vec<&Tally>)> = BTreeMap::new();
    for (name, tally) in named {
        let key = name.as_ref().map(|name| name.to_lowercase());
        found.entry(key).or_insert_with(|| (name, Vec::new())).1.push(tally);
    }
    let mut groups: Vec<Group> = found
        .into_values()
        .map(|(name, tallies)| Group::of(name, &tallies, last_day))
        .map(|group| Group { verdict: (by != By::Year).then(|| measure.verdict(&group)), ..group })
        .collect();
    // They come in the order of their names; a stable sort keeps it among equals.
    if by == By::Year {
        groups.sort_by_key(|group| group.name.is_none());
    } else {
        groups.sort_by_key(|group| {
            (group.name.is_none(), Reverse(verdict::earned(group)), Reverse(group.sold))
        });
    }
    groups
}

impl Group {
    fn of(name: Option<String>, tallies: &[&Tally], last_day: Option<NaiveDate>) -> Group {
        let totals = totals(tallies.iter().map(|tally| Some(*tally)));
        let sold: Vec<&&Tally> = tallies.iter().filter(|t| t.state == State::Sold).collect();
        let middle = |figure: fn(&Tally) -> Option<Decimal>| {
            spread(sold.iter().filter_map(|tally| figure(tally)).collect())
        };
        let in_stock = tallies.iter().filter(|tally| tally.units.left() > 0);
        let days = |tally: &&Tally| Some((last_day? - tally.bought?).num_days());
        Group {
            name,
            sold: sold.len(),
            in_stock: in_stock.clone().count(),
            withdrawn: totals.cost_of_goods - totals.cost_sold - totals.tied_up,
            per_hour: middle(|tally| tally.per_hour),
            days_held: middle(|tally| tally.days_held.map(Decimal::from)),
            longest: in_stock.filter_map(days).max(),
            totals,
            verdict: None,
        }
    }
}
