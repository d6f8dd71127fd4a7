//! How a piece is offered, sold, brought back or withdrawn.

use super::amount::AMOUNT;
use super::table::Table;
use super::text::{DATE, STORY, TEXT};
use crate::model::{Listing, Return, Sale, Withdrawal, WithdrawalKind};
use rust_decimal::Decimal;

const WITHDRAWALS: [(&str, WithdrawalKind); 3] = [
    ("scrapped", WithdrawalKind::Scrapped),
    ("kept", WithdrawalKind::Kept),
    ("given", WithdrawalKind::Given),
];

/// No set is larger; see the piece's own `count`.
const LARGEST_SET: u32 = 100;

pub(super) fn listing(table: &Table) -> Listing {
    Listing {
        on: table.may("on", &DATE),
        price: table.may("price", &AMOUNT),
        channel: table.channel("channel"),
        opening: table.may("opening", &TEXT),
        story: table.may("story", &STORY),
        stands: table.may("stands", &TEXT).map(|stands| stands.value),
        place: table.place,
    }
}

pub(super) fn sale(table: &Table) -> Sale {
    Sale {
        on: table.need("on", &DATE),
        price: table.need("price", &AMOUNT),
        channel: table.channel("channel"),
        fee: table.may("fee", &AMOUNT),
        delivery_charged: table.or("delivery-charged", &AMOUNT, Decimal::ZERO),
        delivery_cost: table.or("delivery-cost", &AMOUNT, Decimal::ZERO),
        tax_collected: table.or("tax-collected", &AMOUNT, Decimal::ZERO),
        count: table.number("count", LARGEST_SET),
        receipt: table.receipt(),
        place: table.place,
    }
}

pub(super) fn returned(table: &Table) -> Return {
    Return {
        on: table.need("on", &DATE),
        refunded: table.need("refunded", &AMOUNT),
        fee_returned: table.or("fee-returned", &AMOUNT, Decimal::ZERO),
        delivery_cost: table.or("delivery-cost", &AMOUNT, Decimal::ZERO),
        tax_returned: table.or("tax-returned", &AMOUNT, Decimal::ZERO),
        count: table.number("count", LARGEST_SET),
        place: table.place,
    }
}

pub(super) fn withdrawn(table: &Table) -> Withdrawal {
    Withdrawal {
        on: table.need("on", &DATE),
        how: table.need_one_of("how", &WITHDRAWALS),
        note: table.may("note", &STORY).map(|note| note.value),
        place: table.place,
    }
}
