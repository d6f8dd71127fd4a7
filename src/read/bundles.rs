//! Several pieces sold for one price: each piece gets a sale of its own, with its part of every amount,
//! so that the rest of the program knows of single sales alone.

use super::assemble::names;
use super::load::Taken;
use super::setting::Setting;
use crate::model::{At, Bundle, Money, Piece, Sale, YearBook, split};
use rust_decimal::Decimal;
use std::collections::BTreeMap;

/// Puts the sales of every bundle into its pieces. A book with errors gives none: the pieces it names
/// are left without figures.
pub(super) fn put(
    setting: &Setting,
    books: &[(i32, Taken<YearBook>)],
    pieces: &mut [Taken<Piece>],
) {
    let sound = books.iter().filter(|(_, book)| !book.has_errors());
    let bundles: Vec<&Bundle> =
        sound.filter_map(|(_, book)| book.value.as_ref()).flat_map(|book| &book.bundle).collect();
    if bundles.is_empty() {
        return;
    }
    let called: BTreeMap<String, usize> = pieces
        .iter()
        .enumerate()
        .flat_map(|(at, piece)| names(piece).into_iter().map(move |name| (name, at)))
        .collect();
    for bundle in bundles {
        for ((name, _), sale) in bundle.pieces.iter().zip(sales(setting, bundle)) {
            let piece = called.get(&name.value).and_then(|at| pieces[*at].value.as_mut());
            piece.into_iter().for_each(|piece| piece.sale.push(sale.clone()));
        }
    }
}

/// The sale of each piece, in the order of the bundle; each amount adds up to the bundle's.
fn sales(setting: &Setting, bundle: &Bundle) -> Vec<Sale> {
    let decimals = setting.currency.decimals;
    let weights: Vec<Decimal> = bundle.pieces.iter().map(|(_, share)| *share).collect();
    let parts = |amount: Money| split(amount, &weights, decimals);
    let whole = &bundle.sale;
    let prices = parts(whole.price.value);
    let (charged, paid) = (parts(whole.delivery_charged), parts(whole.delivery_cost));
    let (taxes, fees) = (parts(whole.tax_collected), fee(setting, whole).map(parts));
    let sale = |at: usize, name: &At<String>| Sale {
        price: At::new(prices[at], whole.price.place),
        fee: fees.as_ref().map(|fees| At::new(fees[at], whole.price.place)),
        delivery_charged: charged[at],
        delivery_cost: paid[at],
        tax_collected: taxes[at],
        place: name.place,
        ..whole.clone()
    };
    bundle.pieces.iter().enumerate().map(|(at, (name, _))| sale(at, name)).collect()
}

/// The channel's fixed fee is charged once for all of it.
fn fee(setting: &Setting, whole: &Sale) -> Option<Money> {
    let stated = whole.fee.as_ref().map(|fee| fee.value);
    stated.or_else(|| {
        let key = whole.channel.as_ref()?;
        let channel = setting.channels.as_ref()?.get(&key.value)?;
        channel.fee_of(whole.price.value, whole.delivery_charged, setting.currency.decimals)
    })
}
