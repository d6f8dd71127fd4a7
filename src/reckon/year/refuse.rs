//! What stands in the way of a year's figures. A year is refused rather than given too short.

use super::units::{UnitMove, unit_moves};
use crate::model::{
    Finding, Form, Place, Shop, Supplies, Workspace, and_list, form_years, nearest,
};
use crate::reckon::costs::{PieceCosts, positions};
use crate::reckon::stock::{MovementKind, StockRun};
use chrono::{Datelike, NaiveDate};
use rust_decimal::Decimal;
use std::collections::{BTreeMap, HashSet};

/// The sound form table of a year.
pub(super) fn form(shop: &Shop, year: i32) -> Result<&Form, Vec<Finding>> {
    let name = &shop.books.form;
    let Some(form) = shop.form(year) else {
        let years: Vec<String> = form_years(&shop.forms, name).iter().map(i32::to_string).collect();
        let there = match years.as_slice() {
            [] => format!("there is no form `{}`", name.value),
            years => format!("there are tables for {}", and_list(years)),
        };
        let message = format!("there is no table of `{}` for {year}: {there}", name.value);
        return Err(vec![Finding::error("no-form-table", name.place, message)]);
    };
    let mut faults = form.faults();
    if form.currency != shop.currency.code {
        faults.push(format!("it is in {}, the shop in {}", form.currency, shop.currency.code));
    }
    if faults.is_empty() {
        return Ok(form);
    }
    let said = |fault: String| {
        Finding::error("form-fault", name.place, format!("the table of `{}`: {fault}", name.value))
    };
    Err(faults.into_iter().map(said).collect())
}

/// The moves of every piece up to the year's end, if nothing stands in the way.
pub(super) fn moves(shop: &Shop, last_day: NaiveDate) -> Result<Vec<Vec<UnitMove>>, Vec<Finding>> {
    let mut findings = Vec::new();
    let mut moves = Vec::with_capacity(shop.pieces.len());
    for piece in &shop.pieces {
        let (found, wrong) = unit_moves(piece, last_day);
        findings.extend(wrong);
        moves.push(found);
    }
    if findings.is_empty() { Ok(moves) } else { Err(findings) }
}

/// Everything else that would make the year's figures short or wrong.
pub(super) fn reasons(
    shop: &Shop,
    run: &StockRun,
    costs: &[PieceCosts],
    form: &Form,
    last_day: NaiveDate,
) -> Vec<Finding> {
    let check = Check { shop, run, form, last_day };
    let mut findings = check.broken_files();
    findings.extend(check.categories());
    findings.extend(check.trips());
    findings.extend(check.channels());
    findings.extend(check.lots());
    findings.extend(check.rates());
    findings.extend(crate::reckon::faults(shop, costs, last_day).into_iter().map(|(_, f)| f));
    if shop.supplies(last_day.year()) == Supplies::WhenUsed {
        findings.extend(check.draws());
        findings.extend(check.supplies());
        findings.extend(check.counts());
    }
    findings
}

struct Check<'a> {
    shop: &'a Shop,
    run: &'a StockRun,
    form: &'a Form,
    last_day: NaiveDate,
}

impl Check<'_> {
    fn in_year(&self, on: NaiveDate) -> bool {
        on.year() == self.last_day.year()
    }

    fn broken_files(&self) -> Vec<Finding> {
        let matters = |since: Option<NaiveDate>| since.is_none_or(|since| since <= self.last_day);
        let files = self.shop.broken.iter().filter(|file| matters(file.since));
        files
            .map(|file| {
                let message =
                    format!("`{}` could not be read, and the year may need it", file.path);
                Finding::error("year-needs-file", Place::NOWHERE, message)
                    .hint("fix that file first; `dovetally check` shows what is wrong with it")
            })
            .collect()
    }

    fn categories(&self) -> Vec<Finding> {
        let all = self.shop.years.values().flat_map(|book| &book.expense);
        let unknown = all.filter(|expense| {
            self.in_year(expense.on.value) && self.form.line_of(&expense.category.value).is_none()
        });
        unknown
            .map(|expense| {
                let category = &expense.category.value;
                let message = format!("no line of the form takes `{category}`: {}", expense.what);
                let finding =
                    Finding::error("category-without-line", expense.category.place, message);
                match nearest(category, self.form.categories()) {
                    Some(near) => finding.hint(format!("did you mean `{near}`?")),
                    None => finding.hint("use a category of the form's table"),
                }
            })
            .collect()
    }

    fn trips(&self) -> Vec<Finding> {
        let all = self.shop.years.values().flat_map(|book| &book.trip);
        let unrated = all.filter(|trip| {
            self.in_year(trip.on.value) && self.form.rate("mileage", trip.on.value).is_none()
        });
        unrated
            .map(|trip| {
                let message = format!("there is no mileage rate for {}", trip.on.value);
                Finding::error("no-mileage-rate", trip.on.place, message)
                    .hint("add a `[[rate]]` named `mileage` for that day to the form's table")
            })
            .collect()
    }

    fn channels(&self) -> Vec<Finding> {
        let sold = self.shop.pieces.iter().flat_map(|piece| &piece.sale);
        let sold = sold.filter(|sale| self.in_year(sale.on.value));
        let reported = self.shop.years.get(&self.last_day.year());
        let reported = reported.into_iter().flat_map(|book| &book.reported);
        let named = sold.filter_map(|sale| sale.channel.as_ref());
        named
            .chain(reported.map(|report| &report.channel))
            .filter(|key| !self.shop.channels.contains_key(&key.value))
            .map(|key| {
                let message = format!("there is no channel `{}` in shop.toml", key.value);
                Finding::error("unknown-channel", key.place, message)
            })
            .collect()
    }

    fn lots(&self) -> Vec<Finding> {
        let known = positions(self.shop);
        let lots = self.shop.years.values().flat_map(|book| &book.lot);
        let named = lots.filter(|lot| lot.on.value <= self.last_day).flat_map(|lot| &lot.pieces);
        named
            .filter(|(name, _)| !known.contains_key(name.value.as_str()))
            .map(|(name, _)| {
                let message = format!("the lot names a piece that is not there: `{}`", name.value);
                Finding::error("lot-without-piece", name.place, message)
            })
            .collect()
    }

    /// Rates that lines and the workspace need.
    fn rates(&self) -> Vec<Finding> {
        let year = self.last_day.year();
        let space = self.shop.years.get(&year).and_then(|book| book.workspace.as_ref());
        let workspace = ["workspace-rate", "workspace-limit", "workspace-days"].map(String::from);
        let portions = self.form.lines.iter().flat_map(|line| line.portions.values().cloned());
        let limits = self.form.apart.iter().map(|rule| rule.above.clone());
        let needed = portions.chain(limits).chain(space.map(|_| workspace).into_iter().flatten());
        let mut findings: Vec<Finding> = needed
            .filter(|name| self.form.rate(name, self.last_day).is_none())
            .map(|name| {
                let message = format!("the form's table has no `{name}` for {year}");
                Finding::error("no-rate", self.shop.books.form.place, message)
            })
            .collect();
        let months = |space: &&Workspace| space.months.is_some_and(|months| months > 12);
        findings.extend(space.filter(months).map(|space| {
            let message = "a workspace is in use for more months than a year has";
            Finding::error("workspace-months", space.place, message)
        }));
        findings
    }

    /// Draws that could not be costed, up to the year's end.
    fn draws(&self) -> Vec<Finding> {
        let costed: HashSet<(usize, usize)> = self
            .run
            .movements
            .iter()
            .filter_map(|movement| match movement.kind {
                MovementKind::Drawn { piece, used } => Some((piece, used)),
                MovementKind::Bought | MovementKind::Shrunk => None,
            })
            .collect();
        let draws = self.shop.pieces.iter().enumerate().flat_map(|(piece, file)| {
            file.used.iter().enumerate().map(move |(used, draw)| (piece, used, draw))
        });
        draws
            .filter(|(piece, used, draw)| {
                draw.on.value <= self.last_day && !costed.contains(&(*piece, *used))
            })
            .map(|(_, _, draw)| {
                let message = format!("what `{}` was drawn could not be costed", draw.stock.value);
                Finding::error("draw-without-cost", draw.place, message)
                    .hint("enter its purchase as `[[supply]]`, or correct the draw")
            })
            .collect()
    }

    fn supplies(&self) -> Vec<Finding> {
        let all = self.shop.years.values().flat_map(|book| &book.supply);
        let lost = all.filter(|supply| {
            let item = self.shop.stock.get(&supply.stock.value);
            let family = supply.quantity.value.unit.family;
            supply.on.value <= self.last_day && item.is_none_or(|item| item.unit.family != family)
        });
        lost.map(|supply| {
            let message =
                format!("`{}` is not stock the shop keeps in such units", supply.stock.value);
            Finding::error("supply-without-stock", supply.place, message)
        })
        .collect()
    }

    /// Counts of more than was ever bought.
    fn counts(&self) -> Vec<Finding> {
        let mut bought: BTreeMap<&str, Vec<(NaiveDate, Decimal)>> = BTreeMap::new();
        for movement in &self.run.movements {
            if movement.kind == MovementKind::Bought {
                let sums = bought.entry(&movement.stock).or_default();
                let before = sums.last().map_or(Decimal::ZERO, |(_, sum)| *sum);
                sums.push((movement.on, before + movement.quantity));
            }
        }
        let counts = self.shop.years.values().flat_map(|book| &book.count);
        let too_much = counts.filter(|count| {
            let sums = bought.get(count.stock.value.as_str()).map_or(&[][..], Vec::as_slice);
            let up_to = sums.partition_point(|(on, _)| *on <= count.on.value);
            let ever = up_to.checked_sub(1).map_or(Decimal::ZERO, |last| sums[last].1);
            count.on.value <= self.last_day && count.quantity.value.in_base() > ever
        });
        too_much
            .map(|count| {
                let message = format!("more `{}` is counted than was bought", count.stock.value);
                Finding::error("count-without-stock", count.place, message)
            })
            .collect()
    }
}
