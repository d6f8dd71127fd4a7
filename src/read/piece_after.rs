//! What became of a piece and its price besides the sale: payments, allowances, parts taken from
//! it, and standing with somebody else to be sold.

use super::amount::AMOUNT;
use super::piece_sale::receipt_number;
use super::table::Table;
use super::text::{DATE, TEXT, WORD};
use super::value::Reader;
use crate::model::{
    Allowance, At, Code, Consigned, Finding, Payment, Reserved, Salvaged, SalvagedTo,
};
use rust_decimal::Decimal;

pub(super) fn payment(table: &Table) -> Payment {
    let paid = Payment {
        on: table.need("on", &DATE),
        amount: table.need("amount", &Reader { example: "100.00", ..AMOUNT }),
        sale_on: table.may("sale-on", &DATE),
        back: table.may("back", &DATE),
        kept: table.may("kept", &DATE),
        over: table.may("over", &Reader { example: "5.00", ..AMOUNT }),
        over_back: table.may("over-back", &DATE),
        how: table.word_of("how"),
        receipt: table.receipt(),
        place: table.place,
    };
    kept(table, &paid);
    over(table, &paid);
    if let Some(back) = paid.back.as_ref().filter(|back| back.value < paid.on.value) {
        let message = "the payment went back before it was made";
        let finding = Finding::error(Code::BackBeforePaid, back.place, message).label("went back");
        let finding = finding.second(paid.on.place, format!("paid on {}", paid.on.value));
        table.document.say(finding.hint(format!("write a day from {} on", paid.on.value)));
    }
    paid
}

/// A deposit is kept once the sale fell through: it is of no sale, and was not given back.
fn kept(table: &Table, paid: &Payment) {
    let Some(kept) = &paid.kept else { return };
    let clash = paid.back.or(paid.sale_on);
    let early = (kept.value < paid.on.value).then_some(paid.on);
    if let Some(other) = clash.or(early) {
        let message = "a deposit is kept after it was paid, for no sale, and not given back";
        let finding = Finding::error(Code::DepositKept, kept.place, message).label("kept");
        let hint =
            "remove `kept`, or `back` and `sale-on`; the day is that on which it became yours";
        table.document.say(finding.second(other.place, "and this").hint(hint));
    }
}

/// What was too much is part of what was paid, and goes back after it came.
fn over(table: &Table, paid: &Payment) {
    let Some(over) = &paid.over else {
        if paid.over_back.is_some() {
            table.missing("over", "5.00");
        }
        return;
    };
    let early = paid.over_back.as_ref().filter(|back| back.value < paid.on.value);
    let clash = paid.back.or(paid.kept).map(|day| day.place);
    let (place, message) = match (over.value > paid.amount.value, early, clash) {
        (true, ..) => {
            (over.place, format!("{} too much of {} paid", over.value, paid.amount.value))
        }
        (_, Some(back), _) => (back.place, "what was too much went back before it was paid".into()),
        (.., Some(place)) => (place, "all of the payment went back or was kept".into()),
        _ => return,
    };
    let finding = Finding::error(Code::OverPaid, place, message).label("cannot be");
    let finding = finding.second(paid.amount.place, "paid here");
    table
        .document
        .say(finding.hint("`over` is what of `amount` was too much; correct one of them"));
}

pub(super) fn reserved(table: &Table) -> Reserved {
    Reserved {
        name: table.may("name", &TEXT).map(|name| name.value),
        until: table.may("until", &DATE),
        place: table.place,
    }
}

pub(super) fn allowance(table: &Table) -> Allowance {
    Allowance {
        on: table.need("on", &DATE),
        amount: table.need("amount", &Reader { example: "20.00", ..AMOUNT }),
        fee_returned: table.or("fee-returned", &AMOUNT, Decimal::ZERO),
        tax_returned: table.or("tax-returned", &AMOUNT, Decimal::ZERO),
        sale_on: table.may("sale-on", &DATE),
        what: table.may("what", &TEXT).map(|what| what.value),
        number: receipt_number(table),
        receipt: table.receipt(),
        place: table.place,
    }
}

pub(super) fn salvaged(table: &Table) -> Salvaged {
    let on = table.need("on", &DATE);
    let what = table.need("what", &Reader { example: "\"four brass pulls\"", ..TEXT }).value;
    let cost = table.may("cost", &AMOUNT).unwrap_or(At::from(Decimal::ZERO));
    let (piece, sold) = (table.may("to", &WORD), table.may("sold-for", &AMOUNT));
    let to = match (piece, sold) {
        (Some(piece), None) => SalvagedTo::Piece(piece),
        (None, Some(price)) => SalvagedTo::Sold(price),
        (piece, price) => {
            neither_or_both(table, piece.is_some());
            SalvagedTo::Sold(price.unwrap_or(At::from(Decimal::ZERO)))
        }
    };
    Salvaged { on, what, cost, to, receipt: table.receipt(), place: table.place }
}

fn neither_or_both(table: &Table, both: bool) {
    let message = match both {
        true => "this part went into another piece and was sold as well",
        false => "nothing says where this part went",
    };
    let finding = Finding::error(Code::SalvagedWhere, table.place, message);
    let hint = "add the piece it went into, such as `to = \"25-014\"`, or what it brought, such as \
                `sold-for = 30.00`";
    table.document.stand_in(finding.label("which of the two?").hint(hint));
}

pub(super) fn consigned(table: &Table) -> Consigned {
    let gone = Consigned {
        on: table.need("on", &DATE),
        to: table.need("to", &Reader { example: "\"the corner dealer\"", ..TEXT }).value,
        back: table.may("back", &DATE),
        place: table.place,
    };
    if let Some(back) = gone.back.as_ref().filter(|back| back.value < gone.on.value) {
        let message = "the piece came back before it went there";
        let finding = Finding::error(Code::BackBeforeConsigned, back.place, message);
        let finding = finding.label("came back").second(gone.on.place, "went there");
        table.document.say(finding.hint(format!("write a day from {} on", gone.on.value)));
    }
    gone
}
