//! The shop view of one piece: was it worth the time? Later floors print it; nothing here words
//! anything. Every amount is whole cents from its own entry on (a channel's fee, a trip, labour, the
//! share of a set sold in part), so that what is printed adds up as printed; ratios are exact.

use super::costs::{CostEntryKind, PieceCosts};
use super::sold::{Sold, Units, sold};
use super::state::{State, state};
use super::trips::{TripCosts, trip_costs};
use crate::model::{Finding, Hours, Money, Piece, Shop, round};
use chrono::NaiveDate;
use rust_decimal::Decimal;

/// What one piece cost and earned.
///
/// A set sold in part: costs, hours and labour are those of the whole set; what is compared with
/// the price is the share of what was sold (`cost_sold`, `hours_sold`), and the rest of the cost
/// stays tied up. A piece that came back: its price is what its sales brought less the refunds,
/// and the fees and carriage that were not given back stay with it. A figure that needs a sale is
/// nothing for a piece never sold; a ratio with nothing under it is nothing.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Tally {
    pub state: State,
    pub units: Units,
    /// The price paid with premium and tax, or the share of a lot.
    pub purchase: Money,
    /// Materials and hardware bought for it, and stock drawn at cost.
    pub materials: Money,
    /// Outside or helper's work paid in money; never the owner's own.
    pub paid_work: Money,
    /// Getting it to the shop: what was paid, and fetching trips at the mileage rate.
    pub freight_in: Money,
    /// Parts taken from other pieces at their cost, less parts taken from it: those that went into
    /// other pieces at their cost, those sold by themselves at what they brought.
    pub salvaged: Money,
    /// Purchase + materials + paid work + freight-in + salvaged.
    pub cost_of_goods: Money,
    /// The share of the cost of goods that is sold.
    pub cost_sold: Money,
    /// The share of it in the shop, neither sold nor withdrawn.
    pub tied_up: Money,
    /// What buyers paid of the price less refunds, without delivery and sales tax.
    pub price: Option<Money>,
    /// What buyers still owe, sales tax included.
    pub owed: Money,
    /// Price − cost of what was sold.
    pub gross_profit: Option<Money>,
    /// Gross profit ÷ price.
    pub gross_margin: Option<Decimal>,
    /// Gross profit ÷ cost of what was sold.
    pub markup: Option<Decimal>,
    /// Charged by channels less what they gave back.
    pub fees: Money,
    /// What buyers paid for delivery less what was given back to them.
    pub delivery_charged: Money,
    /// Paid carriage to buyers and back, and delivery trips at the mileage rate.
    pub delivery_cost: Money,
    /// Fees + delivery cost − delivery charged.
    pub selling_costs: Money,
    /// Gross profit − selling costs.
    pub net: Option<Money>,
    /// The owner's own hours; nothing where none are written.
    pub hours: Option<Hours>,
    /// The share of them in what was sold.
    pub hours_sold: Option<Hours>,
    /// Hours × shop rate, to the cent; nothing where the shop has no rate or no hours are written.
    pub labour: Option<Money>,
    /// Net − labour in what was sold: what it earned beyond the owner's wage.
    pub net_after_labour: Option<Money>,
    /// Net ÷ hours in what was sold.
    pub per_hour: Option<Money>,
    /// From bought to sold.
    pub days_held: Option<i64>,
    pub bought: Option<NaiveDate>,
    pub listed: Option<NaiveDate>,
    /// The day of the last sale, once all is sold.
    pub sold: Option<NaiveDate>,
    /// From bought to listed.
    pub days_to_list: Option<i64>,
    /// From listed to sold.
    pub days_to_sell: Option<i64>,
}

/// The tally of a piece, or nothing where a trip has no rate (a finding says so) or a sale's
/// channel is not one of the shop's (reading has said so).
pub fn tally(
    shop: &Shop,
    piece: &Piece,
    costs: &PieceCosts,
    findings: &mut Vec<Finding>,
) -> Option<Tally> {
    let mut trips = trip_costs(shop, &costs.trips);
    if !trips.findings.is_empty() {
        findings.append(&mut trips.findings);
        return None;
    }
    let sold = sold(shop, piece)?;
    let rate = shop.shop_rate.map(|rate| rate.value);
    let mut tally = on_cost(piece, costs, &trips, sold.units, shop.currency.decimals);
    tally.add_sales(&sold, &trips);
    tally.add_labour(rate, shop.currency.decimals);
    tally.add_days(piece, &sold);
    Some(tally)
}

/// The half of the tally that needs no sale.
fn on_cost(
    piece: &Piece,
    costs: &PieceCosts,
    trips: &TripCosts,
    units: Units,
    decimals: u32,
) -> Tally {
    use CostEntryKind::{Drawn, FreightIn, Hardware, Material, PaidWork, Purchase, Salvaged};
    let of = |kinds: &[CostEntryKind]| -> Money {
        costs.entries.iter().filter(|e| kinds.contains(&e.kind)).map(|e| e.amount).sum()
    };
    let (purchase, materials) = (of(&[Purchase]), of(&[Material, Hardware, Drawn]));
    let (paid_work, freight_in) = (of(&[PaidWork]), of(&[FreightIn]) + trips.fetch);
    let recovered: Money = costs.parts_sold.iter().map(|part| part.price - part.cost).sum();
    let salvaged = of(&[Salvaged]) - recovered;
    let cost_of_goods = purchase + materials + paid_work + freight_in + salvaged;
    let cost_sold = units.share(cost_of_goods, units.sold, decimals);
    let gone = units.share(cost_of_goods, units.sold + units.withdrawn, decimals);
    let hours = piece.hours();
    Tally {
        state: state(piece, units),
        units,
        purchase,
        materials,
        paid_work,
        freight_in,
        salvaged,
        cost_of_goods,
        cost_sold,
        tied_up: cost_of_goods - gone,
        hours,
        hours_sold: hours.map(|hours| hours.share(units.sold, units.of)),
        bought: bought_on(costs),
        ..Tally::default()
    }
}

/// The day of the first purchase: its own, or of the lot it came in.
fn bought_on(costs: &PieceCosts) -> Option<NaiveDate> {
    let purchases = costs.entries.iter().filter(|e| e.kind == CostEntryKind::Purchase);
    purchases.map(|entry| entry.on).min()
}

impl Tally {
    fn add_sales(&mut self, sold: &Sold, trips: &TripCosts) {
        self.fees = sold.fees;
        self.delivery_charged = sold.delivery_charged;
        self.delivery_cost = sold.delivery_cost + trips.deliver;
        self.selling_costs = self.fees + self.delivery_cost - self.delivery_charged;
        self.price = sold.any.then_some(sold.price);
        self.owed = sold.owed.all();
        self.gross_profit = self.price.map(|price| price - self.cost_sold);
        self.gross_margin = ratio(self.gross_profit, sold.price);
        self.markup = ratio(self.gross_profit, self.cost_sold);
        self.net = self.gross_profit.map(|profit| profit - self.selling_costs);
    }

    fn add_labour(&mut self, rate: Option<Money>, decimals: u32) {
        let worth = |hours: Option<Hours>| labour(hours?, rate?, decimals);
        self.labour = worth(self.hours);
        self.net_after_labour =
            self.net.zip(worth(self.hours_sold)).map(|(net, labour_sold)| net - labour_sold);
        self.per_hour = self.net.zip(self.hours_sold).and_then(|(net, hours)| hours.each_of(net));
    }

    fn add_days(&mut self, piece: &Piece, sold: &Sold) {
        self.listed = piece.listing.as_ref().and_then(|l| l.on).map(|on| on.value);
        self.sold = sold.last_sale.filter(|_| self.units.sold == self.units.of);
        self.days_held = days(self.bought, self.sold);
        self.days_to_list = days(self.bought, self.listed);
        self.days_to_sell = days(self.listed, self.sold);
    }
}

/// What hours are worth at the shop rate, to the cent: the tally and the price guidance alike.
pub(super) fn labour(hours: Hours, rate: Money, decimals: u32) -> Option<Money> {
    Some(round(hours.at_rate(rate)?, decimals))
}

/// Part ÷ whole, or nothing where there is nothing under it.
pub(super) fn ratio(part: Option<Decimal>, whole: Decimal) -> Option<Decimal> {
    part?.checked_div(whole)
}

/// Whole days between two days; nothing where one is missing or they are the wrong way round.
fn days(from: Option<NaiveDate>, to: Option<NaiveDate>) -> Option<i64> {
    let days = (to? - from?).num_days();
    (days >= 0).then_some(days)
}
