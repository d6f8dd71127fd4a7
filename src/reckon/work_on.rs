//! Work on a piece or sell it as it is. Price guidance uses it.

use super::fee::proceeds;
use crate::model::{Channel, Hours, Money};

/// The two ways on.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct AsFound {
    /// What it would bring as it is.
    pub price: Money,
    /// What it would bring after the work; else its listing's price, else the suggested one.
    pub after: Option<Money>,
    pub further_costs: Money,
    pub further_hours: Hours,
}

/// What working on would add.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct WorkOn {
    /// The price after the work that was reckoned with.
    pub after: Option<Money>,
    /// Below zero: better sold as it is. Nothing where no price after the work is known.
    pub gain: Option<Money>,
    /// Gain ÷ further hours.
    pub per_further_hour: Option<Money>,
}

/// (Price after − further costs) − price as found, both after the channel's fee and delivery.
///
/// What was already spent does not enter: it is the same either way.
/// Source: OpenStax Managerial Accounting, sec. 10.5.
pub fn work_on(
    channel: Option<&Channel>,
    ask: &AsFound,
    else_after: Option<Money>,
    decimals: u32,
) -> WorkOn {
    let after = ask.after.or(else_after);
    let as_found = proceeds(channel, ask.price, decimals);
    let worked_on = after.and_then(|price| proceeds(channel, price, decimals));
    let gain = worked_on.zip(as_found).map(|(then, now)| (then - ask.further_costs) - now);
    let per_further_hour = gain.and_then(|gain| ask.further_hours.each_of(gain));
    WorkOn { after, gain, per_further_hour }
}
