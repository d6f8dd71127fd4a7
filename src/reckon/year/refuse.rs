//! What stands in the way of a year's figures. A year is refused rather than given too short.

use crate::model::{
    Code, Finding, Form, Period, Piece, Place, RefundOf, Shop, Supplies, UnitFault, UnitMove, What,
    Workspace, nearest, unit_moves,
};
use crate::reckon::costs::{PieceCosts, positions};
use crate::reckon::stock::{MovementKind, StockRun};
use crate::reckon::trips::{TripCost, no_rate};
use chrono::NaiveDate;
use std::collections::HashSet;

/// The sound form table of a year.
pub(super) fn form(shop: &Shop, year: i32) -> Result<&Form, Vec<Finding>> {
    let name = &shop.books.form;
    let Some(form) = shop.form(year) else {
        let message =
            format!("there is no form `{}`, and no account to take its place", name.value);
        return Err(vec![Finding::error(Code::NoFormTable, name.place, message)]);
    };
    let faults = form.faults();
    if faults.is_empty() {
        return Ok(form);
    }
    let said = |fault: String| {
        Finding::error(
            Code::FormFault,
            name.place,
            format!("the table of `{}`: {fault}", name.value),
        )
    };
    Err(faults.into_iter().map(said).collect())
}

/// The moves of every piece up to the year's end, if nothing stands in the way.
pub(super) fn moves(shop: &Shop, last_day: NaiveDate) -> Result<Vec<Vec<UnitMove>>, Vec<Finding>> {
    let mut findings = Vec::new();
    let mut moves = Vec::with_capacity(shop.pieces.len());
    for piece in &shop.pieces {
        let walked = unit_moves(piece, last_day);
        findings.extend(walked.faults.first().map(|fault| contradiction(piece, *fault)));
        moves.push(walked.moves);
    }
    if findings.is_empty() { Ok(moves) } else { Err(findings) }
}

/// What is wrong with the days of a piece. Reading says it, too, and in more words.
fn contradiction(piece: &Piece, fault: UnitFault) -> Finding {
    let name = piece.name();
    let back = |returned: usize, out: u32| {
        let message = format!("more of `{name}` comes back than was sold: {out} sold");
        Finding::error(Code::ReturnedTooMuch, piece.returned[returned].place, message)
            .hint("enter the missing `[[sale]]`, or correct `count`")
    };
    match fault {
        UnitFault::SoldTooMany { sale, left, .. } => {
            let message = format!("more of `{name}` is sold than there is: {left} left");
            Finding::error(Code::SoldTooMuch, piece.sale[sale].place, message)
                .hint("correct `count`, or enter the missing `[[return]]`")
        }
        UnitFault::ReturnedTooMany { returned, out, .. } => back(returned, out),
        UnitFault::ReturnedUnsold { returned } => back(returned, 0),
        UnitFault::WithdrawnNothing => {
            let place = piece.withdrawn.as_ref().map_or(piece.place, |withdrawn| withdrawn.place);
            let message = format!("`{name}` is withdrawn, but all of it is sold");
            Finding::error(Code::WithdrawnAfterSold, place, message)
                .hint("remove `[withdrawn]`, or enter the missing `[[return]]`")
        }
    }
}

/// Everything else that would make the year's figures short or wrong.
pub(super) fn reasons(
    shop: &Shop,
    run: &StockRun,
    costs: &[PieceCosts],
    form: &Form,
    year: i32,
    period: Period,
) -> Vec<Finding> {
    let last_day = period.last;
    let check = Check { shop, run, form, year, period, last_day };
    let mut findings = check.broken_files();
    findings.extend(check.categories());
    findings.extend(check.trips());
    findings.extend(check.channels());
    findings.extend(check.lots());
    findings.extend(check.rates());
    findings.extend(crate::reckon::faults(shop, costs, last_day).into_iter().map(|(_, f)| f));
    if shop.supplies(year) == Supplies::WhenUsed {
        findings.extend(check.draws());
        findings.extend(check.supplies());
        let known = run.faults.iter().filter(|fault| fault.on <= last_day);
        findings.extend(known.map(|fault| fault.finding.clone()));
    }
    findings
}

struct Check<'a> {
    shop: &'a Shop,
    run: &'a StockRun,
    form: &'a Form,
    year: i32,
    period: Period,
    last_day: NaiveDate,
}

impl Check<'_> {
    fn in_year(&self, on: NaiveDate) -> bool {
        self.period.contains(on)
    }

    fn broken_files(&self) -> Vec<Finding> {
        let matters = |since: Option<NaiveDate>| since.is_none_or(|since| since <= self.last_day);
        let files = self.shop.broken.iter().filter(|file| matters(file.since));
        files
            .map(|file| {
                let message =
                    format!("`{}` could not be read, and the year may need it", file.path);
                Finding::error(Code::YearNeedsFile, Place::NOWHERE, message)
                    .hint("fix that file first; `dovetally check` shows what is wrong with it")
            })
            .collect()
    }

    fn categories(&self) -> Vec<Finding> {
        let of_period = self.shop.entries().into_iter().filter(|entry| self.in_year(entry.on));
        let named = of_period.filter_map(|entry| match entry.what {
            What::Expense(one) => Some((&one.category, entry.words())),
            What::Refund(one) => match &one.of {
                RefundOf::Expense { category, .. } => Some((category, entry.words())),
                _ => None,
            },
            _ => None,
        });
        let unknown = named.filter(|(category, _)| self.form.line_of(&category.value).is_none());
        unknown
            .map(|(category, what)| {
                let message = format!("no line of the form takes `{}`: {what}", category.value);
                let finding = Finding::error(Code::CategoryWithoutLine, category.place, message);
                match nearest(&category.value, self.form.categories()) {
                    Some(near) => finding.hint(format!("did you mean `{near}`?")),
                    None => finding.hint("use a category of the form's table"),
                }
            })
            .collect()
    }

    fn trips(&self) -> Vec<Finding> {
        let all = self.shop.years.values().flat_map(|book| &book.trip);
        let of_period = all.filter(|trip| self.in_year(trip.on.value));
        let unrated = of_period.filter(|trip| {
            let cost = TripCost::of(self.shop, trip.on.value, trip.place, trip.distance);
            cost == TripCost::NotThatDay
        });
        unrated.map(|trip| no_rate(trip.on.value, trip.distance, trip.on.place)).collect()
    }

    fn channels(&self) -> Vec<Finding> {
        let sold = self.shop.pieces.iter().flat_map(|piece| &piece.sale);
        let sold = sold.filter(|sale| self.in_year(sale.on.value));
        let reported = self.shop.years.get(&self.year);
        let reported = reported.into_iter().flat_map(|book| &book.reported);
        let named = sold.filter_map(|sale| sale.channel.as_ref());
        named
            .chain(reported.map(|report| &report.channel))
            .filter(|key| !self.shop.channels.contains_key(&key.value))
            .map(|key| {
                let message = format!("there is no channel `{}` in shop.toml", key.value);
                Finding::error(Code::UnknownChannel, key.place, message)
            })
            .collect()
    }

    fn lots(&self) -> Vec<Finding> {
        let known = positions(self.shop);
        let lots = self.shop.years.values().flat_map(|book| &book.lot);
        let lots = lots.filter(|lot| lot.on.value <= self.last_day).flat_map(|lot| &lot.pieces);
        let lots = lots.map(|(name, _)| (name, "the lot", Code::LotWithoutPiece));
        let refunds = self.shop.years.values().flat_map(|book| &book.refund);
        let refunds = refunds.filter(|refund| refund.on.value <= self.last_day);
        let refunds = refunds.filter_map(|refund| match &refund.of {
            RefundOf::Piece(name, _) => Some((name, "the refund", Code::RefundWithoutPiece)),
            _ => None,
        });
        let named = lots.chain(refunds);
        named
            .filter(|(name, ..)| !known.contains_key(name.value.as_str()))
            .map(|(name, entry, code)| {
                let message = format!("{entry} names a piece that is not there: `{}`", name.value);
                Finding::error(code, name.place, message)
            })
            .collect()
    }

    /// Rates that lines and the workspace need.
    fn rates(&self) -> Vec<Finding> {
        let year = self.year;
        let space = self.shop.years.get(&year).and_then(|book| book.workspace.as_ref());
        let workspace = ["workspace-rate", "workspace-limit", "workspace-days"].map(String::from);
        let portions = self.form.lines.iter().flat_map(|line| line.portions.values().cloned());
        let limits = self.form.apart.iter().map(|rule| rule.above.clone());
        let space = space.filter(|_| self.shop.knows_rate("workspace-rate"));
        let needed = portions.chain(limits).chain(space.map(|_| workspace).into_iter().flatten());
        let mut findings: Vec<Finding> = needed
            .filter(|name| self.form.rate(name, self.last_day).is_none())
            .map(|name| {
                let message = format!("the form's table has no `{name}` for {year}");
                Finding::error(Code::NoRate, self.shop.books.form.place, message)
            })
            .collect();
        let months = |space: &&Workspace| space.months.is_some_and(|months| months > 12);
        findings.extend(space.filter(months).map(|space| {
            let message = "a workspace is in use for more months than a year has";
            Finding::error(Code::WorkspaceMonths, space.place, message)
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
                _ => None,
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
                Finding::error(Code::DrawWithoutCost, draw.place, message)
                    .hint("enter its purchase as `[[supply]]`, or correct the draw")
            })
            .collect()
    }

    fn supplies(&self) -> Vec<Finding> {
        let past = self.shop.entries().into_iter().filter(|entry| entry.on <= self.last_day);
        let moved = past.filter_map(|entry| match entry.what {
            What::Supply(one) => Some((entry.place, &one.stock, &one.quantity)),
            What::OnHand(one) => Some((entry.place, &one.stock, &one.quantity)),
            What::Count(one) => Some((entry.place, &one.stock, &one.quantity)),
            What::Refund(one) => match &one.of {
                RefundOf::Stock { stock, quantity } => Some((entry.place, stock, quantity)),
                _ => None,
            },
            _ => None,
        });
        let lost = moved.filter(|(_, stock, quantity)| {
            let item = self.shop.stock.get(&stock.value);
            item.is_none_or(|item| item.unit.family != quantity.value.unit.family)
        });
        lost.map(|(place, stock, _)| {
            let message = format!("`{}` is not stock the shop keeps in such units", stock.value);
            Finding::error(Code::SupplyWithoutStock, place, message)
        })
        .collect()
    }
}
