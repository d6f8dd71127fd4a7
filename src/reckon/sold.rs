//! The sales of one piece, what came back of them and what was withdrawn: how many of a set went
//! where, and the money that changed hands. Both views may use it.

use super::fee::sale_fee;
use super::payments::{Accounts, Amounts};
use crate::model::{self, Money, Piece, Shop, split, unit_moves};
use chrono::NaiveDate;

/// Where the units of a piece are now; a single piece is a set of one.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Default)]
pub struct Units {
    /// How many the set holds.
    pub of: u32,
    /// Sold and not come back.
    pub sold: u32,
    pub withdrawn: u32,
}

impl Units {
    /// Still in the shop.
    pub fn left(self) -> u32 {
        self.of - self.sold - self.withdrawn
    }

    /// What `units` of the set cost, to the cent by largest remainder: this many and the others
    /// add up to the whole.
    pub fn share(self, whole: Money, units: u32, decimals: u32) -> Money {
        match units {
            0 => Money::ZERO,
            all if all >= self.of => whole,
            some => split(whole, &[some.into(), (self.of - some).into()], decimals)[0],
        }
    }
}

/// What became of a piece's sales. Price and delivery are what buyers paid, less what was given
/// back to them: what was not paid is in neither, and `owed` says what still may be.
#[derive(Clone, Debug, Default)]
pub struct Sold {
    pub units: Units,
    /// Whether there ever was a sale.
    pub any: bool,
    pub price: Money,
    pub fees: Money,
    pub delivery_charged: Money,
    /// Paid for bringing it to buyers and for fetching it back; trips are not in it.
    pub delivery_cost: Money,
    /// What buyers still owe; of the tax only what the shop collects itself.
    pub owed: Amounts,
    /// The day of the last sale.
    pub last_sale: Option<NaiveDate>,
}

/// All that is written of a piece's sales. Nothing where a sale's fee cannot be known.
pub fn sold(shop: &Shop, piece: &Piece) -> Option<Sold> {
    let moves = unit_moves(piece, NaiveDate::MAX).moves;
    let accounts = Accounts::with(piece, &moves, shop.currency.decimals);
    let mut sold = Sold { units: units(piece, &moves), ..Sold::default() };
    for (sale, account) in piece.sale.iter().zip(&accounts.sales) {
        let end = account.at(NaiveDate::MAX);
        let (kept, owed) = (end.kept(), end.owed());
        let returned = |amount: fn(&super::payments::Event) -> Money| -> Money {
            account.events.iter().map(amount).sum()
        };
        sold.any = true;
        sold.price += kept.price;
        sold.delivery_charged += kept.delivery;
        sold.fees += sale_fee(shop, sale)? - returned(|event| event.fee_returned);
        sold.delivery_cost += sale.delivery_cost + returned(|event| event.delivery_cost);
        let tax = if shop.collects_tax(sale) { owed.tax } else { Money::ZERO };
        sold.owed = sold.owed + Amounts { tax, ..owed };
        sold.last_sale = sold.last_sale.max(Some(sale.on.value));
    }
    Some(sold)
}

/// Where the units are in the end.
fn units(piece: &Piece, moves: &[model::UnitMove]) -> Units {
    let end = model::Units::at(piece, moves, NaiveDate::MAX);
    Units { of: end.count, sold: end.sold, withdrawn: end.count - end.limit }
}
