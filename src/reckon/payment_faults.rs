//! What is wrong with payments, allowances and refunds: no figure is made from such a piece.

use super::payments::{Amounts, AppliesTo, Buyers, Entry, EventKind, Standing, apply};
use crate::model::{At, Code, Finding, Money, Place, and_list};
use chrono::NaiveDate;

/// Everything that is wrong up to a day.
pub(super) fn faults(buyers: &Buyers, last_day: NaiveDate) -> Vec<Finding> {
    let mut found = unapplied(buyers, last_day);
    for sale in 0..buyers.piece.sale.len() {
        found.extend(Sold { buyers, sale, last_day }.faults());
    }
    found
}

/// Payments and allowances that are of no sale, or of which it cannot be said which.
fn unapplied(buyers: &Buyers, last_day: NaiveDate) -> Vec<Finding> {
    let piece = buyers.piece;
    let mut found = Vec::new();
    for payment in piece.payment.iter().filter(|payment| payment.on.value <= last_day) {
        match buyers.payment(payment) {
            AppliesTo::NoSuchDay => found.push(no_such_day(payment.place, payment.sale_on)),
            AppliesTo::Unclear => found.push(unclear(buyers, payment.place)),
            AppliesTo::Sale(_) | AppliesTo::Deposit => {}
        }
    }
    for one in piece.allowance.iter().filter(|one| one.on.value <= last_day) {
        match buyers.allowance(one) {
            AppliesTo::NoSuchDay => found.push(no_such_day(one.place, one.sale_on)),
            AppliesTo::Unclear => found.push(unclear(buyers, one.place)),
            AppliesTo::Sale(sale) if piece.sale[sale].on.value <= one.on.value => {}
            AppliesTo::Sale(_) | AppliesTo::Deposit => {
                let message = "an allowance, and nothing was sold by that day";
                let finding = Finding::error(Code::AllowanceWithoutSale, one.on.place, message);
                found.push(finding.label("of which sale?").hint("add the `[[sale]]` it is of"));
            }
        }
    }
    found
}

fn no_such_day(place: Place, named: Option<At<NaiveDate>>) -> Finding {
    let place = named.map_or(place, |on| on.place);
    let message = "nothing was sold on the day `sale-on` names";
    Finding::error(Code::PaymentWithoutSale, place, message)
        .label("no such sale")
        .hint("the day of the `[[sale]]`, or remove `sale-on`")
}

fn unclear(buyers: &Buyers, place: Place) -> Finding {
    let piece = buyers.piece;
    let days: Vec<String> = piece.sale.iter().map(|sale| sale.on.value.to_string()).collect();
    let message = format!("`{}` was sold more than once: which sale is this of?", piece.name());
    Finding::error(Code::WhichSale, place, message)
        .label("of which sale?")
        .hint(format!("add `sale-on`, one of {}", and_list(&days)))
}

/// One sale, looked at up to a day.
struct Sold<'a> {
    buyers: &'a Buyers<'a>,
    sale: usize,
    last_day: NaiveDate,
}

impl Sold<'_> {
    fn faults(&self) -> Vec<Finding> {
        let mut entries = self.buyers.entries(self.sale);
        entries.retain(|entry| entry.on <= self.last_day);
        let asked = Amounts::asked(&self.buyers.piece.sale[self.sale]);
        let mut standing = Standing { due: asked, ..Standing::default() };
        let (mut given_back, mut tax) = (Money::ZERO, Money::ZERO);
        let mut found = Vec::new();
        for entry in &entries {
            let before = standing;
            apply(&mut standing, entry);
            let lowers = matches!(entry.kind, EventKind::Allowance | EventKind::Return);
            (given_back, tax) = match lowers {
                true => (given_back + entry.amount, tax + entry.tax),
                false => (given_back, tax),
            };
            let wrong = match entry.kind {
                EventKind::Return if entry.amount > before.kept().without_tax() => {
                    Some(self.over_refunded(entry, before.kept().without_tax()))
                }
                _ if lowers && given_back > asked.without_tax() => {
                    Some(self.over_allowed(entry, given_back, asked.without_tax()))
                }
                _ if lowers && tax > asked.tax => Some(self.over_tax(entry, tax, asked.tax)),
                _ if !lowers && standing.paid.all() > standing.due.all() => {
                    Some(self.overpaid(entry, &standing))
                }
                _ => None,
            };
            found.extend(wrong);
        }
        // One slip is often the cause of the next.
        found.truncate(1);
        found
    }

    fn finding(&self, code: Code, place: Place, message: String, label: &str) -> Finding {
        let sold = self.buyers.piece.sale[self.sale].price.place;
        Finding::error(code, place, message).label(label).second(sold, "sold here")
    }

    /// What an entry may be of beside this sale.
    fn other_sale(&self) -> &'static str {
        match self.buyers.piece.sale.len() {
            1 => "",
            _ => "; `sale-on` says which sale it is of",
        }
    }

    /// More than all that is owed.
    fn overpaid(&self, entry: &Entry, standing: &Standing) -> Finding {
        let (paid, due) = (standing.paid.all(), standing.due.all());
        let message = format!("{paid} paid of {due}, price, delivery and tax together");
        self.finding(Code::PaymentOverPrice, entry.place, message, "more than is owed")
            .hint(format!(
                "correct the amount; what is for another sale needs `sale-on`, and where it was paid too \
                 much, `over = {}` says how much of it is owed back",
                paid - due
            ))
    }

    /// Paid back more than the buyer had paid.
    fn over_refunded(&self, entry: &Entry, had: Money) -> Finding {
        let back = self.buyers.piece.returned.iter().find(|back| back.place == entry.place);
        let place = back.map_or(entry.place, |back| back.refunded.place);
        let had = had.max(Money::ZERO);
        let message =
            format!("{} paid back of {had} the buyer had paid, delivery included", entry.amount);
        let hint = format!("{had} at most; tax paid back is `tax-returned`{}", self.other_sale());
        self.finding(Code::RefundOverPrice, place, message, "more than was paid").hint(hint)
    }

    /// Allowances and refunds of more than the price and delivery.
    fn over_allowed(&self, entry: &Entry, given_back: Money, most: Money) -> Finding {
        let message = format!("{given_back} given back of {most} asked");
        self.finding(Code::AllowanceOverPrice, entry.place, message, "more than was asked").hint(
            format!("correct the amount; tax given back is `tax-returned`{}", self.other_sale()),
        )
    }

    /// More sales tax given back than the sale had.
    fn over_tax(&self, entry: &Entry, given_back: Money, most: Money) -> Finding {
        let message = format!("{given_back} of sales tax given back, and the sale had {most}");
        self.finding(Code::TaxReturnedOverTax, entry.place, message, "more than its tax")
            .hint(format!("correct `tax-returned`{}", self.other_sale()))
    }
}
