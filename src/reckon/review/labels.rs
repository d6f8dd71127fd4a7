//! What each piece is put together by: its year, its source, and what the floor of words calls it.

use crate::model::{Entry, Shop, What};
use crate::reckon::Reckoned;
use crate::reckon::costs::positions;
use crate::reckon::tally::Tally;
use chrono::{Datelike, NaiveDate};

/// What a piece is called by those who know words; nothing where it does not say.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Label {
    pub kind: Option<String>,
    pub finish: Option<String>,
}

/// The year in which the last of a piece was sold; nothing while it is not wholly sold.
pub(super) fn year(tally: &Tally) -> Option<String> {
    tally.sold.map(|on| on.year().to_string())
}

/// Where each piece was bought: of its own purchase, else of the lot it came in, which is named
/// by what it was where its source is not recorded.
pub(super) fn sources(shop: &Shop) -> Vec<Option<String>> {
    let own = |name: &Option<String>| name.as_deref().map(|name| name.trim().to_owned());
    let bought = shop.pieces.iter().map(|piece| own(&piece.bought.as_ref()?.from));
    let mut sources: Vec<Option<String>> = bought.collect();
    let positions = positions(shop);
    for lot in shop.years.values().flat_map(|book| &book.lot) {
        let from = own(&lot.from).unwrap_or_else(|| lot.what.trim().to_owned());
        let pieces = lot.pieces.iter().filter_map(|(name, _)| positions.get(name.as_str()));
        for &i in pieces {
            sources[i].get_or_insert_with(|| from.clone());
        }
    }
    for source in &mut sources {
        *source = source.take().filter(|name| !name.is_empty());
    }
    sources
}

/// The last day that an entry of any piece names.
pub(super) fn last_day(shop: &Shop, reckoned: &Reckoned) -> Option<NaiveDate> {
    let costs = reckoned.costs.iter().flat_map(|costs| &costs.entries).map(|entry| entry.on);
    let own = shop.entries().into_iter().filter(|entry| {
        let Entry { what, .. } = entry;
        matches!(what, What::Listed(_) | What::Sold(..) | What::Returned(..) | What::Withdrawn(_))
    });
    costs.chain(own.map(|entry| entry.on)).max()
}
