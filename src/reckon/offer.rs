//! The most to pay for a piece not yet bought. The screen prints it; nothing else of this floor
//! uses it.

use super::Reckoned;
use super::fee::proceeds;
use super::spread::{Spread, spread};
use super::state::State;
use super::tally::{Tally, labour};
use crate::model::{Channel, Hours, Money, Shop, and_list, kind, nearest, round_up};
use rust_decimal::Decimal;

/// What the owner knows of the piece; the rest comes from the shop's own past.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct OfferAsk {
    /// What it should sell for.
    pub expect: Option<Money>,
    /// Which of the shop's pieces stand in for what is not given.
    pub kind: Option<String>,
    pub hours: Option<Hours>,
    /// All it will cost besides its purchase.
    pub costs: Option<Money>,
    /// A key of `[channel]`; no fee and no delivery without one.
    pub channel: Option<String>,
    /// What an hour should earn; else the shop rate.
    pub rate: Option<Money>,
}

/// A figure and where it comes from.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Known {
    Stated(Decimal),
    /// From the shop's own sold pieces of the kind: their median.
    Past(Spread),
    Unknown,
}

impl Known {
    /// What is reckoned with.
    pub fn value(self) -> Option<Decimal> {
        match self {
            Known::Stated(value) => Some(value),
            Known::Past(spread) => Some(spread.median),
            Known::Unknown => None,
        }
    }
}

/// The most to pay and what it was reckoned from.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Offer {
    pub price: Known,
    pub costs: Known,
    /// Its hours, in minutes.
    pub minutes: Known,
    /// What an hour should earn.
    pub rate: Option<Money>,
    pub channel: Option<String>,
    /// What the price leaves once the channel is paid and the piece delivered.
    pub proceeds: Option<Money>,
    /// In whole cents; zero or below: not worth buying at these figures. The error is a sentence
    /// saying what is not known.
    pub most: Result<Money, String>,
}

/// Expected price × (1 − f) − k − expected costs − expected hours × the rate wanted, rounded down
/// to the cent; the fee is reckoned as that of a sale, with the channel's usual delivery. Bought at
/// this, the piece pays the rate for every hour; a cent more and it does not.
///
/// What is not given is the median of the shop's wholly sold pieces of the kind; a set counts as
/// one piece, at its figures for one of it. Pieces without hours say nothing about hours.
pub fn offer(shop: &Shop, reckoned: &Reckoned, ask: &OfferAsk) -> Offer {
    let sold = sold_of_kind(shop, reckoned, ask.kind.as_deref());
    let past = |figure: fn(&Tally) -> Option<Decimal>| {
        let one = |tally: &&Tally| Some(figure(tally)? / Decimal::from(tally.units.of));
        spread(sold.iter().filter_map(one).collect())
    };
    let price = known(ask.expect, past(|tally| tally.price));
    let costs = known(ask.costs, past(|tally| Some(tally.cost_of_goods - tally.purchase)));
    let worked = past(|tally| tally.hours.map(Hours::minutes).filter(|m| !m.is_zero()));
    let minutes = known(ask.hours.map(Hours::minutes), worked);
    let mut offer = Offer {
        price,
        costs,
        minutes,
        rate: ask.rate.or(shop.shop_rate.map(|rate| rate.value)),
        channel: ask.channel.clone(),
        proceeds: None,
        most: Err(String::new()),
    };
    offer.most = channel(shop, ask).and_then(|channel| offer.reckon(shop, channel));
    offer
}

fn known(stated: Option<Decimal>, past: Option<Spread>) -> Known {
    match (stated, past) {
        (Some(value), _) => Known::Stated(value),
        (None, Some(spread)) => Known::Past(spread),
        (None, None) => Known::Unknown,
    }
}

/// The wholly sold pieces of a kind, by any of its names.
fn sold_of_kind<'a>(shop: &Shop, reckoned: &'a Reckoned, asked: Option<&str>) -> Vec<&'a Tally> {
    let name = |word: &str| kind(word).map_or(word.trim().to_lowercase(), |k| k.name.clone());
    let Some(wanted) = asked.map(name) else { return Vec::new() };
    let pieces = shop.pieces.iter().zip(&reckoned.tallies);
    let of_kind = pieces.filter(|(piece, _)| {
        piece.kind.as_ref().is_some_and(|written| name(&written.value) == wanted)
    });
    of_kind.filter_map(|(_, t)| t.as_ref()).filter(|tally| tally.state == State::Sold).collect()
}

fn channel<'a>(shop: &'a Shop, ask: &OfferAsk) -> Result<Option<&'a Channel>, String> {
    let Some(key) = &ask.channel else { return Ok(None) };
    let unknown = || match nearest(key, shop.channels.keys().map(String::as_str)) {
        Some(near) => format!("the shop has no channel `{key}`; did you mean `{near}`?"),
        None => format!("the shop has no channel `{key}`"),
    };
    shop.channels.get(key).map(Some).ok_or_else(unknown)
}

impl Offer {
    fn reckon(&mut self, shop: &Shop, channel: Option<&Channel>) -> Result<Money, String> {
        let decimals = shop.currency.decimals;
        let too_large = || "these amounts are larger than this program reckons with".to_owned();
        // Hours of nothing need no rate.
        let rate = self.rate.or(self.minutes.value().filter(Decimal::is_zero));
        let (Some(price), Some(costs), Some(minutes), Some(rate)) =
            (self.price.value(), self.costs.value(), self.minutes.value(), rate)
        else {
            return Err(self.not_known());
        };
        let left = proceeds(channel, price, decimals).ok_or_else(too_large)?;
        self.proceeds = Some(left);
        let labour = labour(Hours::from_minutes(minutes), rate, decimals).ok_or_else(too_large)?;
        let most = left - costs - labour;
        round_up(-most, Decimal::new(1, decimals)).map(|up| -up).ok_or_else(too_large)
    }

    fn not_known(&self) -> String {
        let figures = [
            ("the price it should sell for", self.price),
            ("its costs", self.costs),
            ("its hours", self.minutes),
        ];
        let missing: Vec<&str> =
            figures.iter().filter(|figure| figure.1 == Known::Unknown).map(|f| f.0).collect();
        if missing.is_empty() {
            return "not known: what an hour should earn; set `shop-rate` in shop.toml".to_owned();
        }
        let past = "the shop has sold no piece of this kind that would say";
        format!("not known: {}; {past}", and_list(&missing))
    }
}
