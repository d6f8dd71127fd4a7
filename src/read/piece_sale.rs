//! How a piece is offered, sold, brought back or withdrawn.

use super::amount::AMOUNT;
use super::link::LINK;
use super::table::Table;
use super::text::{DATE, STORY, TEXT, WORD};
use super::value::{Reader, YES_NO};
use crate::model::{
    At, Closed, Code, Exempt, Finding, Listing, Return, Sale, SalePaper, Withdrawal,
    WithdrawalKind, split,
};
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
        link: table.may("link", &LINK),
        place: table.place,
    }
}

pub(super) fn sale(table: &Table) -> Sale {
    let mut sale = Sale {
        on: table.need("on", &DATE),
        price: table.need("price", &AMOUNT),
        channel: table.channel("channel"),
        fee: table.may("fee", &AMOUNT),
        delivery_charged: table.or("delivery-charged", &AMOUNT, Decimal::ZERO),
        delivery_cost: table.or("delivery-cost", &AMOUNT, Decimal::ZERO),
        tax_collected: Decimal::ZERO,
        tax_place: table.tax_place("tax-place"),
        exempt: table.one_of("exempt", Exempt::ALL),
        how: table.word_of("how"),
        count: table.number("count", LARGEST_SET),
        paper: paper(table),
        receipt: table.receipt(),
        place: table.place,
    };
    sales_tax(table, &mut sale);
    if let Some(exempt) = sale.exempt.as_ref().filter(|_| !sale.tax_collected.is_zero()) {
        let message = format!("an exempt sale with {} of sales tax", sale.tax_collected);
        let finding = Finding::error(Code::ExemptWithTax, exempt.place, message);
        let hint = "remove `exempt` or `tax-collected`, whichever is the slip";
        table.document.stand_in(finding.label("and yet taxed").hint(hint));
    }
    sale
}

const RECEIPT_NUMBER: Reader<String> = Reader { example: "\"2025-017\"", ..TEXT };

fn paper(table: &Table) -> SalePaper {
    SalePaper {
        number: receipt_number(table),
        buyer: table.may("buyer", &TEXT).map(|buyer| buyer.value),
        due: table.may("due", &DATE),
        handed_over: table.word_of("handed-over"),
        traded_in: table.may("traded-in", &WORD),
    }
}

/// What is given to the buyer has a number of its own, where the shop numbers its receipts.
pub(super) fn receipt_number(table: &Table) -> Option<At<String>> {
    table.may("receipt-number", &RECEIPT_NUMBER)
}

/// The tax of a sale: as written, or by the rate of its place. Where the price includes it, price
/// and delivery as written are all the buyer pays: it is taken out of the price, and out of the
/// delivery charged where the place taxes that too. A written tax that the place's rate does not
/// give is a warning.
fn sales_tax(table: &Table, sale: &mut Sale) {
    let collected = table.may("tax-collected", &AMOUNT);
    let included = table.may("tax-included", &YES_NO);
    let includes = included.is_some_and(|included| included.value);
    let taxes = table.document.setting.taxes.as_ref();
    let place = sale.tax_place.as_ref();
    let tax = taxes.zip(place).and_then(|(taxes, place)| taxes.get(&place.value));
    let decimals = table.document.setting.currency.decimals;
    let (price, delivery) = (sale.price.value, sale.delivery_charged);
    if includes && place.is_none() && collected.is_none() {
        let at = included.map_or(table.place, |included| included.place);
        let message = "the price includes a tax, and nothing says how much";
        let finding = Finding::error(Code::TaxWithoutRate, at, message).label("which tax?");
        let hint = "add `tax-place`, a key of `[tax]` in shop.toml, or `tax-collected`";
        return table.document.stand_in(finding.hint(hint));
    }
    // What is exempt bears none, whatever the place's rate.
    let tax = tax.filter(|_| sale.exempt.is_none());
    let by_rate = tax.map(|tax| match includes {
        true => tax.within(price, delivery, decimals),
        false => tax.on(price, delivery, decimals),
    });
    // What the tax is on, and so inside of where it is included.
    let on_delivery = tax.is_some_and(|tax| tax.on_delivery);
    let taxed = [price, if on_delivery { delivery } else { Decimal::ZERO }];
    sale.tax_collected = collected.map(|at| at.value).or(by_rate).unwrap_or_default();
    if let (Some(written), Some(by_rate), Some(tax)) = (collected, by_rate, tax)
        && written.value != by_rate
    {
        let message = format!("{} collected, and the rate gives {by_rate}", written.value);
        let finding = Finding::warning(Code::TaxOffRate, written.place, message);
        let finding = finding.label("another amount").second(tax.place, "the rate is here");
        table.document.say(finding.hint("remove `tax-collected`, or correct one of the two"));
    }
    if includes && sale.tax_collected > taxed.iter().sum() {
        let at = collected.map_or(sale.price.place, |at| at.place);
        let message = format!("{} of tax in a price of {price}", sale.tax_collected);
        let finding = Finding::error(Code::TaxOverPrice, at, message).label("more than the price");
        return table.document.stand_in(finding.hint("remove `tax-included`, or fix the tax"));
    }
    if includes {
        let inside = split(sale.tax_collected, &taxed, decimals);
        sale.price.value -= inside[0];
        sale.delivery_charged -= inside[1];
    }
}

pub(super) fn returned(table: &Table) -> Return {
    Return {
        on: table.need("on", &DATE),
        sale_on: table.may("sale-on", &DATE),
        refunded: table.need("refunded", &AMOUNT),
        fee_returned: table.or("fee-returned", &AMOUNT, Decimal::ZERO),
        delivery_cost: table.or("delivery-cost", &AMOUNT, Decimal::ZERO),
        tax_returned: table.or("tax-returned", &AMOUNT, Decimal::ZERO),
        count: table.number("count", LARGEST_SET),
        number: receipt_number(table),
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
