//! The order of a piece's days: bought, listed, sold, brought back, withdrawn.

use super::Across;
use crate::model::{
    At, Code, Finding, MoveKind, Piece, Return, Sale, UnitFault, Units, Walked, and_list,
    unit_moves,
};
use chrono::NaiveDate;

/// A piece, or a set, followed from day to day.
struct Life<'a> {
    piece: &'a Piece,
    walked: Walked,
}

/// Checks the days of one piece.
pub(super) fn check(piece: &Piece, across: &mut Across) {
    let life = Life { piece, walked: unit_moves(piece, NaiveDate::MAX) };
    for fault in &life.walked.faults {
        if let Some(finding) = life.fault(*fault) {
            across.say(finding);
        }
    }
    for &returned in &life.unclear_returns() {
        across.say(life.of_latest(&piece.returned[returned]));
    }
    life.listing(across);
    life.withdrawal(across);
    life.consigned(across);
}

impl<'a> Life<'a> {
    /// Nothing for what is said of the withdrawal.
    fn fault(&self, fault: UnitFault) -> Option<Finding> {
        match fault {
            UnitFault::SoldTooMany { sale, wanted, left } => {
                let sale = &self.piece.sale[sale];
                let gone = self.piece.withdrawn.as_ref();
                match wanted > self.piece.count {
                    _ if gone.is_some_and(|gone| gone.on.value < sale.on.value) => None,
                    true => Some(self.over_set(sale, wanted)),
                    false => Some(self.over_held(sale, wanted, left)),
                }
            }
            UnitFault::ReturnedTooMany { returned, wanted, out, of } => {
                let back = &self.piece.returned[returned];
                Some(self.over_returned(back, wanted, out, &self.piece.sale[of]))
            }
            UnitFault::ReturnedUnsold { returned } => {
                Some(self.without_sale(&self.piece.returned[returned]))
            }
            UnitFault::WithdrawnNothing => None,
        }
    }

    fn over_set(&self, sale: &Sale, many: u32) -> Finding {
        let place = sale.count.as_ref().map_or(sale.place, |count| count.place);
        let set = self.piece.count;
        let finding = |message| Finding::error(Code::CountOverSet, place, message);
        match set {
            1 => finding(format!("{many} sold of a single piece"))
                .label("more than there is")
                .hint(format!("remove `count`, or put `count = {many}` at the top of the file")),
            _ => finding(format!("{many} sold of a set of {set}"))
                .label("more than the set holds")
                .hint(format!(
                    "`count = {set}` at most, or fix the `count` at the top of the file"
                )),
        }
    }

    fn over_held(&self, sale: &Sale, many: u32, held: u32) -> Finding {
        let earlier = self.sales_up_to(sale.on.value).filter(|last| last.place != sale.place);
        let last = earlier.max_by_key(|last| last.on.value);
        let (code, message, hint) = if self.piece.count == 1 {
            let message = "sold again without a return in between".to_owned();
            (Code::SoldTwice, message, "add a `[[return]]` between, or remove one sale".to_owned())
        } else {
            let left = match held {
                0 => "none of the set is left".to_owned(),
                1 => "only 1 of the set is left".to_owned(),
                held => format!("only {held} of the set are left"),
            };
            let message = format!("{many} sold, and {left}");
            let hint = match held {
                0 => "add a `[[return]]` between, or remove the sale".to_owned(),
                held => format!("`count = {held}` at most in this `[[sale]]`, or fix the other"),
            };
            (Code::MoreSoldThanHeld, message, hint)
        };
        let finding = Finding::error(code, sale.on.place, message).label("sold here").hint(hint);
        match last {
            Some(last) => finding.second(last.on.place, "already sold here"),
            None => finding,
        }
    }

    fn over_returned(&self, back: &Return, many: u32, out: u32, sold: &Sale) -> Finding {
        let message = match (&back.sale_on, out) {
            (None, _) => format!("{many} brought back, and only {out} were sold"),
            (Some(_), out) => format!("{many} brought back, and only {out} of that sale are out"),
        };
        let place = back.count.as_ref().map_or(back.place, |count| count.place);
        Finding::error(Code::MoreReturnedThanSold, place, message)
            .label("more than were sold")
            .second(sold.on.place, "sold here")
            .hint(format!("`count = {out}` at most"))
    }

    fn without_sale(&self, back: &Return) -> Finding {
        if let Some(named) = &back.sale_on {
            let message = "nothing of a sale of that day is out when this comes back";
            let days: Vec<String> =
                self.piece.sale.iter().map(|s| s.on.value.to_string()).collect();
            let finding = Finding::error(Code::ReturnWithoutSale, named.place, message);
            return finding
                .label("no such sale")
                .hint(format!("the day of a sale: {}", and_list(&days)));
        }
        let later = self.piece.sale.iter().find(|sale| sale.on.value > back.on.value);
        let message = "brought back without having been sold before";
        let finding = Finding::error(Code::ReturnWithoutSale, back.on.place, message);
        let finding = finding.label("nothing was sold by this day");
        match later {
            Some(sale) => finding
                .second(sale.on.place, "sold only later")
                .hint(format!("write a day from {} on", sale.on.value)),
            None => finding.hint("add the `[[sale]]` it comes back from, or remove the return"),
        }
    }

    /// Returns that do not say which sale they are of, where the sales they may be of differ in the
    /// channel or in the place whose tax was charged.
    fn unclear_returns(&self) -> Vec<usize> {
        let mut out: Vec<(usize, u32)> = Vec::new();
        let mut unclear = Vec::new();
        for step in &self.walked.moves {
            match step.kind {
                MoveKind::Sold { sale } => out.push((sale, step.units())),
                MoveKind::Returned { returned, sale } => {
                    let unnamed = self.piece.returned[returned].sale_on.is_none();
                    if unnamed && !unclear.contains(&returned) && self.differ(&out) {
                        unclear.push(returned);
                    }
                    out.iter_mut().filter(|(of, _)| *of == sale).for_each(|(_, left)| {
                        *left -= step.units();
                    });
                    out.retain(|(_, left)| *left > 0);
                }
                MoveKind::Withdrawn(_) => {}
            }
        }
        unclear
    }

    fn differ(&self, out: &[(usize, u32)]) -> bool {
        let key = |at: usize| {
            let sale = &self.piece.sale[at];
            let word = |key: &'a Option<At<String>>| key.as_ref().map(|key| &key.value);
            (word(&sale.channel), word(&sale.tax_place))
        };
        out.windows(2).any(|pair| key(pair[0].0) != key(pair[1].0))
    }

    fn of_latest(&self, back: &Return) -> Finding {
        let message = "several sales are out, and this return does not say of which it is";
        let finding = Finding::warning(Code::ReturnOfWhichSale, back.on.place, message);
        let sold = self.sold_before(back.on.value);
        let finding = finding.label("taken as of the latest sale");
        match sold {
            Some(sale) => finding
                .second(sale.on.place, "the latest sale")
                .hint(format!("`sale-on = {}`, or the day of another sale", sale.on.value)),
            None => finding,
        }
    }

    /// What was in the shop at the end of the last day that `counts`.
    fn held_when(&self, counts: impl Fn(NaiveDate) -> bool) -> u32 {
        let mut units = Units::new(self.piece);
        let moves = self.walked.moves.iter();
        moves
            .filter(|step| counts(step.on) && !matches!(step.kind, MoveKind::Withdrawn(_)))
            .for_each(|step| units.apply(step));
        units.left()
    }

    fn sold_before(&self, day: NaiveDate) -> Option<&'a Sale> {
        self.sales_up_to(day).max_by_key(|sale| sale.on.value)
    }

    fn sales_up_to(&self, day: NaiveDate) -> impl Iterator<Item = &'a Sale> {
        self.piece.sale.iter().filter(move |sale| sale.on.value <= day)
    }

    fn listing(&self, across: &mut Across) {
        let Some(on) = self.piece.listing.as_ref().and_then(|listing| listing.on.as_ref()) else {
            return;
        };
        if self.held_when(|day| day < on.value) > 0 {
            return;
        }
        let finding = Finding::error(Code::ListedAfterSold, on.place, "listed after it was sold");
        let finding = finding.label("listed here");
        across.say(match self.sold_before(on.value) {
            Some(sale) => finding
                .second(sale.on.place, "sold here")
                .hint(format!("a day up to {}", sale.on.value)),
            None => finding,
        });
    }

    /// What was sold is not with somebody else to be sold.
    fn consigned(&self, across: &mut Across) {
        for gone in &self.piece.consigned {
            if self.held_when(|day| day <= gone.on.value) > 0 {
                continue;
            }
            let Some(sale) = self.sold_before(gone.on.value) else { continue };
            if sale.on.value == gone.on.value {
                continue;
            }
            let message = "given to somebody to be sold when it was sold already";
            let finding = Finding::warning(Code::ConsignedAfterSold, gone.on.place, message);
            let finding = finding.label("went there").second(sale.on.place, "sold here");
            across.say(finding.hint("fix one of the two days, or add the `[[return]]` between"));
        }
    }

    fn withdrawal(&self, across: &mut Across) {
        let Some(withdrawn) = &self.piece.withdrawn else { return };
        let on = &withdrawn.on;
        if self.held_when(|day| day <= on.value) == 0
            && let Some(sale) = self.sold_before(on.value)
        {
            let message = "withdrawn while it was sold";
            let finding = Finding::error(Code::WithdrawnWhileSold, on.place, message);
            let finding = finding.label("withdrawn here").second(sale.on.place, "sold here");
            across
                .say(finding.hint("add the `[[return]]` it came back by, or remove `[withdrawn]`"));
        }
        for sale in self.piece.sale.iter().filter(|sale| sale.on.value > on.value) {
            let message = "sold after it was withdrawn";
            let finding = Finding::error(Code::SoldAfterWithdrawn, sale.on.place, message);
            let finding = finding.label("sold here").second(on.place, "withdrawn here");
            across.say(finding.hint("remove `[withdrawn]` or this `[[sale]]`"));
        }
    }
}
