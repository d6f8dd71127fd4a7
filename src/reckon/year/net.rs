//! What one sale earned as the shop view reckons it, entry by entry: the same definition as the
//! tally's net, for one sale and up to the year's end. The pieces sold are printed with it.

use super::books::Books;
use super::ledger::Contribution;
use super::shares::first_units;
use super::units::MoveKind;
use crate::model::{Money, Piece, TripPurpose};
use crate::reckon::costs::TripShare;
use crate::reckon::fee::sale_fee;
use crate::reckon::trips::trip_amount;
use chrono::NaiveDate;

/// What was paid of a sale, less its part of the costs, its fee and its deliveries. Nothing where a
/// trip of the piece has no rate.
pub(super) fn parts(books: &Books, piece: usize, sale: usize) -> Option<Vec<Contribution>> {
    let net = Net { books, piece, file: &books.shop.pieces[piece], sale };
    let costs = net.costs()?;
    let mut parts = net.paid();
    parts.extend(net.portion(costs).iter().map(|part| part.times(-Money::ONE)));
    parts.extend(net.selling()?.iter().map(|part| part.times(-Money::ONE)));
    Some(parts)
}

struct Net<'a> {
    books: &'a Books<'a>,
    piece: usize,
    file: &'a Piece,
    sale: usize,
}

impl Net<'_> {
    fn known(&self, on: NaiveDate) -> bool {
        on <= self.books.last_day
    }

    /// Price and delivery asked, less what was let off, given back or is still owed.
    fn paid(&self) -> Vec<Contribution> {
        let sale = &self.file.sale[self.sale];
        let account = &self.books.accounts[self.piece].sales[self.sale];
        let part = |what, amount| Contribution::new(sale.place, sale.on.value, what, amount);
        let owed = account.at(self.books.last_day).owed().without_tax();
        let mut parts = vec![
            part("price", account.asked.price),
            part("delivery charged", account.asked.delivery),
            part("still owed", -owed),
        ];
        for event in account.events.iter().filter(|event| self.known(event.on)) {
            let lowered = -event.lowers().without_tax();
            parts.push(Contribution::new(event.place, event.on, "let off or given back", lowered));
        }
        parts
    }

    /// Everything the piece cost up to the year's end, with the trips that fetched it; what parts
    /// sold by themselves brought lowers it.
    fn costs(&self) -> Option<Vec<Contribution>> {
        let costs = &self.books.costs[self.piece];
        let known = costs.entries.iter().filter(|entry| self.known(entry.on));
        let mut parts: Vec<Contribution> =
            known.map(|e| Contribution::new(e.place, e.on, e.what.as_str(), e.amount)).collect();
        parts.extend(self.trips(TripPurpose::Fetch, |_| true)?);
        for part in costs.parts_sold.iter().filter(|part| self.known(part.on)) {
            let gained = part.cost - part.price;
            parts.push(Contribution::new(part.place, part.on, part.what.as_str(), gained));
        }
        Some(parts)
    }

    /// The part of the costs that the units of this sale still out bear: those of all sales are the
    /// first so many of the set, in the order of the sales.
    fn portion(&self, costs: Vec<Contribution>) -> Vec<Contribution> {
        let (mut from, mut out) = (0, 0);
        for step in &self.books.moves[self.piece] {
            let (of, units) = match step.kind {
                MoveKind::Sold { sale } => (sale, i64::from(step.units())),
                MoveKind::Returned { sale, .. } => (sale, -i64::from(step.units())),
                MoveKind::Withdrawn(_) => continue,
            };
            match self.order(of) < self.order(self.sale) {
                true => from += units,
                false if of == self.sale => out += units,
                false => {}
            }
        }
        let units = |n: i64| u32::try_from(n).unwrap_or_default();
        let (from, to) = (units(from), units(from + out));
        let (n, decimals) = (self.file.count.max(1), self.books.decimals());
        let range =
            |cost| first_units(cost, to, n, decimals) - first_units(cost, from, n, decimals);
        let (mut whole, mut borne) = (Money::ZERO, Money::ZERO);
        let share = |part: Contribution| {
            whole += part.amount;
            let before = std::mem::replace(&mut borne, range(whole));
            Contribution { amount: borne - before, ..part }
        };
        costs.into_iter().map(share).collect()
    }

    /// Where a sale stands among those that were made.
    fn order(&self, of: usize) -> usize {
        let sold = |kind| matches!(kind, MoveKind::Sold { sale } if sale == of);
        let moves = &self.books.moves[self.piece];
        moves.iter().position(|step| sold(step.kind)).unwrap_or(moves.len())
    }

    /// Fee and delivery, with what came back of the fee, fetching it back, and delivery trips.
    fn selling(&self) -> Option<Vec<Contribution>> {
        let sale = &self.file.sale[self.sale];
        let part = |what, amount| Contribution::new(sale.place, sale.on.value, what, amount);
        let fee = sale_fee(self.books.shop, sale).unwrap_or_default();
        let mut parts = vec![part("fee", fee), part("delivery", sale.delivery_cost)];
        let account = &self.books.accounts[self.piece].sales[self.sale];
        for event in account.events.iter().filter(|event| self.known(event.on)) {
            let back = |what, amount| Contribution::new(event.place, event.on, what, amount);
            parts.push(back("fee returned", -event.fee_returned));
            parts.push(back("fetched back", event.delivery_cost));
        }
        parts.extend(self.trips(TripPurpose::Deliver, |trip| self.delivers(trip))?);
        Some(parts)
    }

    fn trips(
        &self,
        purpose: TripPurpose,
        counts: impl Fn(&TripShare) -> bool,
    ) -> Option<Vec<Contribution>> {
        let all = self.books.costs[self.piece].trips.iter();
        let own = all.filter(|trip| trip.purpose == purpose && self.known(trip.on) && counts(trip));
        own.map(|trip| {
            let amount = trip_amount(self.books.shop, trip)?;
            Some(Contribution::new(trip.place, trip.on, "trip", amount))
        })
        .collect()
    }

    /// Whether a delivery was of this sale: of the latest up to its day, else of the first.
    fn delivers(&self, trip: &TripShare) -> bool {
        let sales = self.file.sale.iter().enumerate().map(|(i, sale)| (sale.on.value, i));
        let latest = sales.clone().filter(|(on, _)| *on <= trip.on).max();
        latest.or(sales.min()).is_some_and(|(_, sale)| sale == self.sale)
    }
}
