//! What differs from the year before in the way the books are kept, called out with its amounts:
//! adjusting for it is the preparer's. And what the year before closed with, as it was filed.

use super::books::Books;
use super::ledger::{Contribution, Ledger};
use super::names::{Rare, Total};
use super::stock_end::supplies_in_stock;
use crate::model::{Basis, Code, Finding, Money, Place, Supplies, round};

/// Whether the way of counting stock differs from the year before; nothing where the books had not
/// begun by then.
pub(super) fn stock_method_changed(books: &Books) -> Option<bool> {
    let changed = books.shop.supplies(books.year - 1) != books.shop.supplies(books.year);
    books.known_before.then_some(changed)
}

/// What differs from the year before differs from its first day on: a later part of the year begins
/// as the part before it ended.
fn begins_year(books: &Books) -> bool {
    books.period.first == books.year_begins()
}

/// Enters `change-supplies`, `change-basis` and `opening-difference`, and says what they are.
pub(super) fn enter(books: &Books, ledger: &mut Ledger) -> Vec<Finding> {
    let mut notes = Vec::new();
    notes.extend(supplies(books, ledger));
    notes.extend(basis(books, ledger));
    notes.extend(opening(books, ledger));
    notes
}

/// Where the method stands that differs.
fn place(books: &Books) -> Place {
    let method = |year| books.shop.years.get(&year)?.method.as_ref().map(|method| method.place);
    method(books.year).or_else(|| method(books.year - 1)).unwrap_or(books.shop.books.form.place)
}

/// Shop stock on hand, and drawn for pieces in stock, when its method changed: counted twice, or
/// never.
fn supplies(books: &Books, ledger: &mut Ledger) -> Option<Finding> {
    if stock_method_changed(books) != Some(true) || !begins_year(books) {
        return None;
    }
    let amount = ledger.put(
        Rare::ChangeSupplies,
        "Shop stock on hand and in pieces in stock when its method changed",
        supplies_in_stock(books, books.day_before()),
    );
    let amount = round(amount, books.decimals());
    let message = match books.shop.supplies(books.year) {
        Supplies::WhenUsed => format!(
            "shop stock counts when used from this year on: {amount} of it was an expense when \
             bought and is in the opening stock as well"
        ),
        Supplies::WhenBought => format!(
            "shop stock counts when bought from this year on: {amount} of it was in last year's \
             closing stock and is in no figure of this year"
        ),
    };
    Some(changed(books, message))
}

/// What buyers owed and had paid in advance when the basis changed.
fn basis(books: &Books, ledger: &mut Ledger) -> Option<Finding> {
    let before = books.shop.basis(books.year - 1);
    let same = before == books.shop.basis(books.year);
    if !books.known_before || same || !begins_year(books) {
        return None;
    }
    let owed = ledger.parts(Total::OwedAtStart).to_vec();
    let deposits = ledger.parts(Total::DepositsAtStart).iter().map(|part| part.times(-Money::ONE));
    let parts: Vec<Contribution> = owed.into_iter().chain(deposits).collect();
    ledger.put(Rare::ChangeBasis, "Owed less deposits when the basis changed", parts);
    let amount = |name| round(ledger.total(name), books.decimals());
    let (owed, deposits) = (amount(Total::OwedAtStart), amount(Total::DepositsAtStart));
    let message = match before {
        Basis::Accrual => format!(
            "the books are on cash basis from this year on: {owed} sold before and paid from now \
             on counts twice, {deposits} paid in advance before counts in no year"
        ),
        Basis::Cash => format!(
            "the books are on accrual basis from this year on: {owed} sold before and not yet paid \
             counts in no year, {deposits} paid in advance before counts again when it is sold"
        ),
    };
    Some(changed(books, message))
}

fn changed(books: &Books, message: String) -> Finding {
    Finding::warning(Code::MethodChanged, place(books), message)
        .hint("a change of method may need the tax office's consent; show this to the preparer")
}

/// The opening stock against the closing stock that was filed for the year before.
fn opening(books: &Books, ledger: &mut Ledger) -> Option<Finding> {
    let book = books.shop.years.get(&books.year).filter(|_| begins_year(books))?;
    let opening = book.opening.as_ref()?;
    let filed = opening.stock.as_ref()?;
    let what = "closing stock of the year before, as filed";
    let part =
        Contribution { place: opening.place, on: None, what: what.into(), amount: -filed.value };
    let mut parts = ledger.parts(Total::OpeningStock).to_vec();
    parts.push(part);
    let difference =
        ledger.put(Rare::OpeningDifference, "Opening stock less what was filed", parts);
    let difference = round(difference, books.decimals());
    (!difference.is_zero()).then(|| {
        let message = format!(
            "opening stock differs by {difference} from the closing stock that was filed for {}",
            books.year - 1
        );
        Finding::warning(Code::OpeningDifference, filed.place, message)
            .hint("the form wants the difference explained")
    })
}
