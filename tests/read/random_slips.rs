//! Random slips in random shops: either the figures are those of the sound shop, or something is said.

use super::folder::write;
use super::slips::figures;
use crate::shops::random::random_shop;
use dovetally::model::{Piece, Severity, Shop, WithdrawalKind, YearBook};
use dovetally::read::{Reading, read};
use dovetally::reckon::reckon;
use proptest::prelude::*;
use std::collections::BTreeSet;
use std::fmt::Write;
use std::path::Path;

/// A random shop as its owner would have written it, file by file.
fn files(shop: &Shop) -> Vec<(String, String)> {
    let mut text = "name = \"Test shop\"\n".to_owned();
    if let Some(rate) = &shop.shop_rate {
        writeln!(text, "shop-rate = {}", rate.value).unwrap();
    }
    for (key, channel) in &shop.channels {
        let fee = (channel.fee * rust_decimal::Decimal::ONE_HUNDRED).normalize();
        writeln!(text, "[channel.{key}]\nfee = \"{fee}%\"").unwrap();
        writeln!(text, "fixed-fee = {}\ncollects-tax = true", channel.fixed_fee).unwrap();
    }
    let mut files = vec![("shop.toml".to_owned(), text)];
    files.push(("stock.toml".to_owned(), "[topcoat]\nunit = \"fl oz\"\n".to_owned()));
    files.extend(shop.years.values().map(|b| (format!("books/{}.toml", b.year), book(b))));
    let named = |piece: &Piece| format!("{}/piece.toml", piece.folder);
    files.extend(shop.pieces.iter().map(|p| (named(p), piece(p))));
    files
}

fn book(book: &YearBook) -> String {
    let mut text = String::new();
    for entry in &book.supply {
        let (on, quantity) = (entry.on.value, entry.quantity.value);
        writeln!(text, "[[supply]]\non = {on}\nstock = \"{}\"", entry.stock.value).unwrap();
        writeln!(text, "quantity = \"{} {}\"", quantity.amount, quantity.unit.name).unwrap();
        writeln!(text, "amount = {}", entry.amount.value).unwrap();
    }
    for entry in &book.count {
        let (on, quantity) = (entry.on.value, entry.quantity.value);
        writeln!(text, "[[count]]\non = {on}\nstock = \"{}\"", entry.stock.value).unwrap();
        writeln!(text, "quantity = \"{} {}\"", quantity.amount, quantity.unit.name).unwrap();
    }
    text
}

fn piece(piece: &Piece) -> String {
    let mut text = format!("title = \"{}\"\ncount = {}\n", piece.title.value, piece.count);
    if let Some(bought) = &piece.bought {
        let (on, price) = (bought.on.value, bought.price.value);
        writeln!(text, "[bought]\non = {on}\nprice = {price}").unwrap();
    }
    for cost in &piece.cost {
        let (on, amount) = (cost.on.value, cost.amount.value);
        writeln!(text, "[[cost]]\non = {on}\nwhat = \"a thing\"\nkind = \"hardware\"").unwrap();
        writeln!(text, "amount = {amount}").unwrap();
    }
    for used in &piece.used {
        let (on, quantity) = (used.on.value, used.quantity.value);
        writeln!(text, "[[used]]\non = {on}\nstock = \"{}\"", used.stock.value).unwrap();
        writeln!(text, "quantity = \"{} {}\"", quantity.amount, quantity.unit.name).unwrap();
    }
    for sale in &piece.sale {
        writeln!(text, "[[sale]]\non = {}\nprice = {}", sale.on.value, sale.price.value).unwrap();
        if let Some(channel) = &sale.channel {
            writeln!(text, "channel = \"{}\"", channel.value).unwrap();
        }
        writeln!(text, "delivery-charged = {}", sale.delivery_charged).unwrap();
        writeln!(text, "delivery-cost = {}", sale.delivery_cost).unwrap();
        if let Some(count) = &sale.count {
            writeln!(text, "count = {}", count.value).unwrap();
        }
    }
    for back in &piece.returned {
        writeln!(text, "[[return]]\non = {}\nrefunded = {}", back.on.value, back.refunded.value)
            .unwrap();
        writeln!(text, "fee-returned = {}", back.fee_returned).unwrap();
    }
    if let Some(end) = &piece.withdrawn {
        let how = match end.how {
            WithdrawalKind::Scrapped => "scrapped",
            WithdrawalKind::Kept => "kept",
            WithdrawalKind::Given => "given",
        };
        writeln!(text, "[withdrawn]\non = {}\nhow = \"{how}\"", end.on.value).unwrap();
    }
    text
}

/// What a hand does to one character of a line; digits and points are another matter, since other digits
/// are another number.
#[derive(Clone, Copy, Debug)]
enum Hand {
    Leave,
    Double,
    Swap,
    Another,
}

fn slipped(text: &str, at: usize, hand: Hand) -> Option<String> {
    let characters: Vec<char> = text.chars().collect();
    let means = |c: char| !c.is_ascii_digit() && c != '.' && c != ' ' && c != '\n';
    let places: Vec<usize> = (0..characters.len()).filter(|i| means(characters[*i])).collect();
    let place = *places.get(at.checked_rem(places.len())?)?;
    let mut slipped = characters.clone();
    match hand {
        Hand::Leave => drop(slipped.remove(place)),
        Hand::Double => slipped.insert(place, characters[place]),
        Hand::Swap if place + 1 < characters.len() && means(characters[place + 1]) => {
            slipped.swap(place, place + 1);
        }
        Hand::Swap => return None,
        Hand::Another => slipped[place] = if characters[place] == 'x' { 'y' } else { 'x' },
    }
    Some(slipped.into_iter().collect())
}

fn hands() -> impl Strategy<Value = Hand> {
    prop_oneof![Just(Hand::Leave), Just(Hand::Double), Just(Hand::Swap), Just(Hand::Another)]
}

/// Everything said of a shop by reading and reckoning, advice left out.
fn said(reading: &Reading) -> BTreeSet<(&'static str, String)> {
    let of_figures = reading.shop.iter().flat_map(|shop| reckon(shop).findings);
    let all = reading.findings.iter().cloned().chain(of_figures);
    let loud = all.filter(|finding| finding.severity != Severity::Advice);
    loud.map(|finding| (finding.code.word(), finding.message)).collect()
}

fn write_all(folder: &Path, files: &[(String, String)]) {
    files.iter().for_each(|(path, text)| write(folder, path, text.as_bytes()));
}

proptest! {
    #![proptest_config(ProptestConfig { cases: 24, ..ProptestConfig::default() })]

    #[test]
    fn a_random_slip_changes_no_figure_in_silence(
        shop in random_shop(5), slips in prop::collection::vec((any::<usize>(), any::<usize>(), hands()), 12),
    ) {
        let folder = tempfile::tempdir().unwrap();
        let files = files(&shop);
        write_all(folder.path(), &files);
        let sound = read(folder.path()).unwrap();
        let errors: Vec<_> = sound.findings.iter().filter(|f| f.is_error()).collect();
        prop_assert!(errors.is_empty(), "{errors:?}");
        let (told, sound) = (said(&sound), figures(&sound));
        for (file, at, hand) in slips {
            let (path, text) = &files[file % files.len()];
            let Some(slipped) = slipped(text, at, hand) else { continue };
            write(folder.path(), path, slipped.as_bytes());
            let reading = read(folder.path()).unwrap();
            let new = said(&reading).difference(&told).next().is_some();
            prop_assert!(new || figures(&reading) == sound, "{path}:\n{slipped}");
            write(folder.path(), path, text.as_bytes());
        }
    }
}
