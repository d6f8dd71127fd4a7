//! What to ask for a piece: per channel the lowest price that breaks even, pays the shop rate or
//! reaches what was asked. The screen prints it; nothing else of this floor uses it.

use super::Reckoned;
use super::fee::proceeds;
use super::tally::{Tally, labour};
use super::work_on::{AsFound, WorkOn, work_on};
use crate::model::{Channel, Hours, Money, Shop, round_up};
use rust_decimal::Decimal;

/// What the owner wants to know beyond break-even and the shop rate.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct PriceAsk {
    /// A gross margin to reach, as a fraction of the price.
    pub margin: Option<Decimal>,
    /// What an hour should earn.
    pub hourly: Option<Money>,
    /// What the piece should earn after selling costs.
    pub net: Option<Money>,
    /// Whether to work on or to sell it as it is.
    pub as_found: Option<AsFound>,
}

/// A price in whole cents, or a sentence saying why there is none.
pub type Price = Result<Money, String>;

/// The prices to ask through one channel.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Guidance {
    /// Its key; nothing in a shop without channels, where no fee is charged.
    pub channel: Option<String>,
    /// Of what is still to be sold; of the whole piece when nothing is.
    pub cost_of_goods: Money,
    /// The hours in it; nothing where none are written.
    pub hours: Option<Hours>,
    /// Where the net is not below zero.
    pub break_even: Price,
    /// Where the net after labour is not below zero; nothing where the shop has no rate. Without
    /// hours nothing says what the work is worth, so that there is no such price.
    pub shop_rate_price: Option<Price>,
    pub margin_price: Option<Price>,
    pub hourly_price: Option<Price>,
    pub net_price: Option<Price>,
    /// The highest price that was asked for, else the shop-rate price, up to the price step.
    pub suggested: Option<Money>,
    pub as_found: Option<WorkOn>,
}

const NO_HOURS: &str = "no hours are entered, so there is nothing to pay by the hour";
const TOO_HIGH: &str = "no price this program can reckon with is high enough";

/// The most a price is searched up to, in units of the currency.
const HIGHEST: i64 = 1_000_000_000;

/// Prices per channel, in the order of their keys; one without fee where there is no channel.
///
/// The lowest price is the algebra's (C + k + f·d) ÷ (1 − f), where C is all the piece must cover
/// (cost of goods, delivery cost less delivery charged, and labour or the net that is wanted), f
/// and k the channel's percent and fixed fee, d its usual delivery. It is found with the very
/// function that reckons a sale's fee in cents, so that it reaches its target and one cent less
/// misses it. A piece that came back also has to cover what its failed sales cost. For a set sold
/// in part the prices are for the rest. The error is a sentence for the owner.
pub fn price(
    shop: &Shop,
    reckoned: &Reckoned,
    piece: usize,
    ask: &PriceAsk,
) -> Result<Vec<Guidance>, String> {
    let tally = reckoned.tallies.get(piece).and_then(Option::as_ref).ok_or_else(|| {
        "this piece has no figures that can be trusted: its findings say why".to_owned()
    })?;
    let listed = shop.pieces[piece].listing.as_ref().and_then(|l| l.price).map(|p| p.value);
    let question = Question { shop, ask, listed, basis: Basis::of(tally) };
    if shop.channels.is_empty() {
        return Ok(vec![question.guidance(None)]);
    }
    Ok(shop.channels.values().map(|channel| question.guidance(Some(channel))).collect())
}

/// What the price has to cover.
struct Basis {
    cost: Money,
    /// What sales that came back have cost and not brought.
    carried: Money,
    hours: Option<Hours>,
}

impl Basis {
    fn of(tally: &Tally) -> Basis {
        let units = tally.units;
        let (cost, part) = match units.left() {
            0 => (tally.cost_of_goods, units.of),
            left => (tally.tied_up, left),
        };
        let untouched = units.sold == 0 && units.left() > 0;
        let carried = tally.selling_costs - tally.price.unwrap_or_default();
        let hours = tally.hours.map(|hours| hours.share(part, units.of));
        Basis { cost, carried: if untouched { carried } else { Money::ZERO }, hours }
    }
}

struct Question<'a> {
    shop: &'a Shop,
    ask: &'a PriceAsk,
    /// What the owner asks for the piece now.
    listed: Option<Money>,
    basis: Basis,
}

impl Question<'_> {
    fn guidance(&self, channel: Option<&Channel>) -> Guidance {
        let net = |wanted: Money| self.for_net(channel, wanted);
        let rate = self.shop.shop_rate.map(|rate| rate.value);
        let shop_rate_price = rate.map(|rate| match self.basis.hours {
            None => Err(NO_HOURS.to_owned()),
            Some(hours) => self.for_work(channel, labour(hours, rate, self.decimals())),
        });
        let margin_price = self.ask.margin.map(|margin| self.for_margin(margin));
        let hourly_price = self.ask.hourly.map(|hourly| self.for_hourly(channel, hourly));
        let net_price = self.ask.net.map(net);
        let asked = [&margin_price, &hourly_price, &net_price].map(reached).into_iter().max();
        let suggested = asked.flatten().or(reached(&shop_rate_price));
        let suggested = suggested.and_then(|price| self.stepped(price));
        let after = self.listed.or(suggested);
        Guidance {
            channel: channel.map(|channel| channel.key.clone()),
            cost_of_goods: self.basis.cost,
            hours: self.basis.hours,
            break_even: net(Money::ZERO),
            shop_rate_price,
            margin_price,
            hourly_price,
            net_price,
            suggested,
            as_found: self
                .ask
                .as_found
                .as_ref()
                .map(|ask| work_on(channel, ask, after, self.decimals())),
        }
    }

    fn decimals(&self) -> u32 {
        self.shop.currency.decimals
    }

    fn stepped(&self, price: Money) -> Option<Money> {
        round_up(price, self.shop.price_step.unwrap_or_default())
    }

    fn for_net(&self, channel: Option<&Channel>, wanted: Money) -> Price {
        if let Some(channel) = channel.filter(|channel| channel.fee >= Decimal::ONE) {
            return Err(format!("`{}` keeps the whole price: none is high enough", channel.key));
        }
        let cover = self.basis.cost + self.basis.carried + wanted;
        lowest(self.decimals(), |price| {
            proceeds(channel, price, self.decimals()).is_some_and(|left| left >= cover)
        })
    }

    fn for_hourly(&self, channel: Option<&Channel>, hourly: Money) -> Price {
        let Some(hours) = self.basis.hours else {
            return Err(NO_HOURS.to_owned());
        };
        self.for_work(channel, hours.at_rate(hourly))
    }

    /// What the work is to bring; nothing where that is too large to reckon with.
    fn for_work(&self, channel: Option<&Channel>, worth: Option<Money>) -> Price {
        match worth {
            Some(worth) => self.for_net(channel, worth),
            None => Err(TOO_HIGH.to_owned()),
        }
    }

    /// Cost of goods ÷ (1 − margin): a gross margin knows no fee.
    fn for_margin(&self, margin: Decimal) -> Price {
        if margin >= Decimal::ONE {
            return Err("a gross margin is a part of the price and stays below 100 %".to_owned());
        }
        lowest(self.decimals(), |price| {
            margin.checked_mul(price).is_some_and(|wanted| price - self.basis.cost >= wanted)
        })
    }
}

fn reached(price: &Option<Price>) -> Option<Money> {
    price.as_ref()?.as_ref().ok().copied()
}

/// The lowest price in whole cents that reaches its target, if every higher one does, too.
fn lowest(decimals: u32, reaches: impl Fn(Money) -> bool) -> Price {
    let cents = |cents: i64| Decimal::new(cents, decimals);
    let (mut low, mut high) = (0, HIGHEST * 10i64.pow(decimals));
    if !reaches(cents(high)) {
        return Err(TOO_HIGH.to_owned());
    }
    while low < high {
        let middle = low + (high - low) / 2;
        if reaches(cents(middle)) {
            high = middle;
        } else {
            low = middle + 1;
        }
    }
    Ok(cents(low))
}
