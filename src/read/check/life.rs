//! The order of a piece's days: bought, listed, sold, brought back, withdrawn.

use super::Across;
use crate::model::{Finding, Money, Piece, Place, Return, Sale};
use chrono::NaiveDate;

/// A piece, or a set, followed from day to day.
struct Life<'a> {
    piece: &'a Piece,
    /// How many of the set are in the shop.
    held: u32,
    /// The sales so far, with how many each sold.
    sold: Vec<(&'a Sale, u32)>,
    /// What was held after each sale or return, by day.
    days: Vec<(NaiveDate, u32)>,
    /// By the returns so far, tax apart.
    paid_back: Money,
}

/// Checks the days of one piece.
pub(super) fn check(piece: &Piece, across: &mut Across) {
    let (sold, days) = (Vec::new(), Vec::new());
    let mut life = Life { piece, held: piece.count, sold, days, paid_back: Money::ZERO };
    life.sales_and_returns(across);
    life.listing(across);
    life.withdrawal(across);
    life.consigned(across);
}

impl<'a> Life<'a> {
    /// In order of their days. On one day a sale comes before a return while there is something to
    /// sell, and after it otherwise.
    fn sales_and_returns(&mut self, across: &mut Across) {
        let mut sales: Vec<&Sale> = self.piece.sale.iter().collect();
        let mut returns: Vec<&Return> = self.piece.returned.iter().collect();
        sales.sort_by_key(|sale| sale.on.value);
        sales.reverse();
        returns.sort_by_key(|back| back.on.value);
        returns.reverse();
        // Both are taken from the end.
        loop {
            let (sale, back) = (sales.last().copied(), returns.last().copied());
            match (sale, back) {
                (Some(sale), back) if back.is_none_or(|back| self.sale_first(sale, back)) => {
                    sales.pop();
                    self.sell(sale, across);
                }
                (_, Some(back)) => {
                    returns.pop();
                    self.take_back(back, across);
                }
                _ => return,
            }
        }
    }

    fn sale_first(&self, sale: &Sale, back: &Return) -> bool {
        sale.on.value < back.on.value || (sale.on.value == back.on.value && self.held > 0)
    }

    fn sell(&mut self, sale: &'a Sale, across: &mut Across) {
        let set = self.piece.count;
        // Without a count, all that are left; where none are, the sale is one too many.
        let mut many = sale.count.as_ref().map_or(self.held.max(1), |count| count.value);
        if many > set {
            across.say(self.over_set(sale, many));
            many = set;
        }
        if many > self.held {
            across.say(self.over_held(sale, many));
            many = self.held;
        }
        self.held -= many;
        self.sold.push((sale, many));
        self.days.push((sale.on.value, self.held));
    }

    fn over_set(&self, sale: &Sale, many: u32) -> Finding {
        let place = sale.count.as_ref().map_or(sale.place, |count| count.place);
        let set = self.piece.count;
        let finding = |message| Finding::error("count-over-set", place, message);
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

    fn over_held(&self, sale: &Sale, many: u32) -> Finding {
        let last = self.last_sale();
        let (code, message, hint) = if self.piece.count == 1 {
            let message = "sold again without a return in between".to_owned();
            ("sold-twice", message, "add a `[[return]]` between, or remove one sale".to_owned())
        } else {
            let left = match self.held {
                0 => "none of the set is left".to_owned(),
                1 => "only 1 of the set is left".to_owned(),
                held => format!("only {held} of the set are left"),
            };
            let message = format!("{many} sold, and {left}");
            let hint = match self.held {
                0 => "add a `[[return]]` between, or remove the sale".to_owned(),
                held => format!("`count = {held}` at most in this `[[sale]]`, or fix the other"),
            };
            ("more-sold-than-held", message, hint)
        };
        let finding = Finding::error(code, sale.on.place, message).label("sold here").hint(hint);
        match last {
            Some(place) => finding.second(place, "already sold here"),
            None => finding,
        }
    }

    fn last_sale(&self) -> Option<Place> {
        self.sold.last().map(|(sale, _)| sale.on.place)
    }

    fn take_back(&mut self, back: &Return, across: &mut Across) {
        let out = self.piece.count - self.held;
        let Some(&(last, last_many)) = self.sold.last().filter(|_| out > 0) else {
            return across.say(self.without_sale(back));
        };
        let mut many = back.count.as_ref().map_or(last_many.min(out), |count| count.value);
        if many > out {
            let message = format!("{many} brought back, and only {out} were sold");
            let place = back.count.as_ref().map_or(back.place, |count| count.place);
            let finding = Finding::error("more-returned-than-sold", place, message);
            let finding = finding.label("more than were sold").second(last.on.place, "sold here");
            across.say(finding.hint(format!("`count = {out}` at most")));
            many = out;
        }
        self.refund(back, last, across);
        self.held += many;
        self.days.push((back.on.value, self.held));
    }

    fn without_sale(&self, back: &Return) -> Finding {
        let later = self.piece.sale.iter().find(|sale| sale.on.value > back.on.value);
        let message = "brought back without having been sold before";
        let finding = Finding::error("return-without-sale", back.on.place, message);
        let finding = finding.label("nothing was sold by this day");
        match later {
            Some(sale) => finding
                .second(sale.on.place, "sold only later")
                .hint(format!("write a day from {} on", sale.on.value)),
            None => finding.hint("add the `[[sale]]` it comes back from, or remove the return"),
        }
    }

    /// No more is paid back than was paid: for a single piece in its last sale, for a set in all.
    fn refund(&mut self, back: &Return, last: &Sale, across: &mut Across) {
        let paid = |sale: &Sale| sale.price.value + sale.delivery_charged;
        let most: Money = match self.piece.count {
            1 => paid(last),
            _ => self.sold.iter().map(|(sale, _)| paid(sale)).sum(),
        };
        self.paid_back += back.refunded.value;
        let back_in_all = match self.piece.count {
            1 => back.refunded.value,
            _ => self.paid_back,
        };
        if back_in_all > most {
            let message = format!("{back_in_all} paid back of {most} paid, delivery included");
            let finding = Finding::error("refund-over-price", back.refunded.place, message);
            let finding = finding.label("more than was paid").second(last.price.place, "paid here");
            let left = (most - (back_in_all - back.refunded.value)).max(Money::ZERO);
            across.say(finding.hint(format!("{left} at most; tax paid back is `tax-returned`")));
        }
    }

    /// What was in the shop at the end of the last day that `counts`.
    fn held_when(&self, counts: impl Fn(NaiveDate) -> bool) -> u32 {
        let last = self.days.iter().rev().find(|(day, _)| counts(*day));
        last.map_or(self.piece.count, |(_, held)| *held)
    }

    fn sold_before(&self, day: NaiveDate) -> Option<&'a Sale> {
        self.sold.iter().rev().map(|(sale, _)| *sale).find(|sale| sale.on.value <= day)
    }

    fn listing(&self, across: &mut Across) {
        let Some(on) = self.piece.listing.as_ref().and_then(|listing| listing.on.as_ref()) else {
            return;
        };
        if self.held_when(|day| day < on.value) > 0 {
            return;
        }
        let finding = Finding::error("listed-after-sold", on.place, "listed after it was sold");
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
            let finding = Finding::warning("consigned-after-sold", gone.on.place, message);
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
            let finding = Finding::error("withdrawn-while-sold", on.place, message);
            let finding = finding.label("withdrawn here").second(sale.on.place, "sold here");
            across
                .say(finding.hint("add the `[[return]]` it came back by, or remove `[withdrawn]`"));
        }
        for sale in self.piece.sale.iter().filter(|sale| sale.on.value > on.value) {
            let message = "sold after it was withdrawn";
            let finding = Finding::error("sold-after-withdrawn", sale.on.place, message);
            let finding = finding.label("sold here").second(on.place, "withdrawn here");
            across.say(finding.hint("remove `[withdrawn]` or this `[[sale]]`"));
        }
    }
}
