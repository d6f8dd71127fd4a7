//! What a box passes: the doorway it needs, and the passage it needs to turn a corner. Geometry on
//! exact lengths, for this floor; the words stand in `fit`.
//!
//! The piece is taken as the box of its overall size, carried level. A doorway is passed with the
//! longest side that lies flat going first, so it must be as wide as the other flat side and as high
//! as what stands up. A corner is a right angle between two level passages of equal width, such as a
//! hall or the landing of a stair. A box with flat sides `long` and `short` passes it in two ways:
//! pushed round without being turned, the passage must be `long` wide; turned on the way, it is
//! tightest at 45°, where `long + 2 × short` must not be more than `√8` times the width of the
//! passage (elementary geometry: the box then stands across the corner, and the distance from the
//! outer to the inner corner is `√2` times that width). The smaller of the two is what it needs.

use crate::model::Length;
use num_rational::Ratio;

/// A clear width or height that must be there, rounded up: to a quarter of an inch, and to a whole
/// centimetre, each from the exact measure.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Clear {
    pub quarters: i64,
    pub centimetres: i64,
}

impl Clear {
    fn of(needed: Length) -> Clear {
        Clear {
            quarters: (needed.inches() * 4).ceil().to_integer(),
            centimetres: (needed.millimetres() / 10).ceil().to_integer(),
        }
    }

    /// Enough for both.
    pub(crate) fn both(self, other: Clear) -> Clear {
        Clear {
            quarters: self.quarters.max(other.quarters),
            centimetres: self.centimetres.max(other.centimetres),
        }
    }

    fn either(self, other: Clear) -> Clear {
        Clear {
            quarters: self.quarters.min(other.quarters),
            centimetres: self.centimetres.min(other.centimetres),
        }
    }

    /// In inches, exact after the rounding.
    pub fn inches(self) -> Length {
        Length::from_inches(Ratio::new(self.quarters, 4))
    }
}

/// How a piece is carried.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Stands {
    Upright,
    /// Its width stands up, and is no more than its height.
    OnSide,
    /// Its width stands up, and is more than its height.
    OnEnd,
    /// Its depth stands up.
    OnBack,
}

/// What a piece needs when it is carried in one way.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Way {
    pub stands: Stands,
    /// The doorway.
    pub wide: Clear,
    pub high: Clear,
    /// The passage on both sides of a corner.
    pub turn: Clear,
}

impl Way {
    fn new(stands: Stands, up: Length, flat: [Length; 2]) -> Way {
        let [one, other] = flat;
        Way { stands, wide: Clear::of(one.min(other)), high: Clear::of(up), turn: turn(one, other) }
    }

    /// Enough for both, carried as the first.
    pub(crate) fn both(self, other: Way) -> Way {
        Way {
            stands: self.stands,
            wide: self.wide.both(other.wide),
            high: self.high.both(other.high),
            turn: self.turn.both(other.turn),
        }
    }

    fn order(&self) -> (i64, i64, i64) {
        (self.wide.quarters, self.turn.quarters, self.high.quarters)
    }
}

/// The box a piece or a part fills.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Sides {
    pub width: Length,
    pub depth: Length,
    pub height: Length,
}

impl Sides {
    pub fn upright(self) -> Way {
        Way::new(Stands::Upright, self.height, [self.width, self.depth])
    }

    /// Laid down in the better of two ways: the narrowest doorway, then the narrowest turn, then the
    /// lowest doorway.
    pub fn lying(self) -> Way {
        let side = if self.width > self.height { Stands::OnEnd } else { Stands::OnSide };
        let on_side = Way::new(side, self.width, [self.depth, self.height]);
        let on_back = Way::new(Stands::OnBack, self.depth, [self.width, self.height]);
        if on_back.order() < on_side.order() { on_back } else { on_side }
    }

    /// The best of all ways, for a part that may be carried as anyone likes.
    pub fn best(self) -> Way {
        let (upright, lying) = (self.upright(), self.lying());
        if lying.order() < upright.order() { lying } else { upright }
    }

    /// From the shortest to the longest.
    pub(crate) fn sorted(self) -> [Length; 3] {
        let mut sides = [self.width, self.depth, self.height];
        sides.sort();
        sides
    }
}

/// The passage a box needs to turn a corner, by its two flat sides.
fn turn(one: Length, other: Length) -> Clear {
    let (long, short) = (one.max(other), one.min(other));
    let wide = |length: Length| {
        let inches = length.inches();
        Ratio::new(i128::from(*inches.numer()), i128::from(*inches.denom()))
    };
    let reach = wide(long) + wide(short) * 2;
    let turned =
        Clear { quarters: root_up(reach * 4), centimetres: root_up(reach * Ratio::new(127, 50)) };
    Clear::of(long).either(turned)
}

/// The smallest whole number that `√8` times is at least `reach`; exact, without a root that rounds.
fn root_up(reach: Ratio<i128>) -> i64 {
    let square = reach.numer() * reach.numer();
    let eighth = reach.denom() * reach.denom() * 8;
    let below = (square / eighth).isqrt();
    let enough = below * below * eighth >= square;
    i64::try_from(if enough { below } else { below + 1 }).unwrap_or(i64::MAX)
}
