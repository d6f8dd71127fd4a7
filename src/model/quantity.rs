//! Quantities of shop stock, in families of units with exact ratios.

use super::round;
use rust_decimal::Decimal;

/// Units of one family convert into each other; across families nothing does.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum Family {
    Volume,
    Length,
    Area,
    BoardFoot,
    Mass,
    Each,
}

/// A unit: its words, its family and how many of the family's base unit it is.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Unit {
    pub name: &'static str,
    pub aliases: &'static [&'static str],
    pub family: Family,
    /// In millilitres, millimetres, square feet, board feet, grams or pieces; exact.
    base: (i64, u32),
}

// US customary volume: 1 gallon = 231 cubic inches = 3785.411784 ml exactly (NIST Handbook 44,
// appendix C; from memory). A sheet is 4 × 8 ft (common practice, no source).
const UNITS: &[Unit] = &[
    Unit { name: "fl oz", aliases: &["floz"], family: Family::Volume, base: (295_735_295_625, 10) },
    Unit {
        name: "pt",
        aliases: &["pint", "pints"],
        family: Family::Volume,
        base: (473_176_473, 6),
    },
    Unit {
        name: "qt",
        aliases: &["quart", "quarts"],
        family: Family::Volume,
        base: (946_352_946, 6),
    },
    Unit {
        name: "gal",
        aliases: &["gallon", "gallons"],
        family: Family::Volume,
        base: (3_785_411_784, 6),
    },
    Unit { name: "ml", aliases: &[], family: Family::Volume, base: (1, 0) },
    Unit {
        name: "l",
        aliases: &["litre", "litres", "liter", "liters"],
        family: Family::Volume,
        base: (1000, 0),
    },
    Unit { name: "in", aliases: &["inch", "inches"], family: Family::Length, base: (254, 1) },
    Unit { name: "ft", aliases: &["foot", "feet"], family: Family::Length, base: (3048, 1) },
    Unit { name: "yd", aliases: &["yard", "yards"], family: Family::Length, base: (9144, 1) },
    Unit {
        name: "m",
        aliases: &["metre", "metres", "meter", "meters"],
        family: Family::Length,
        base: (1000, 0),
    },
    Unit { name: "sq ft", aliases: &["sqft"], family: Family::Area, base: (1, 0) },
    Unit { name: "sheet", aliases: &["sheets"], family: Family::Area, base: (32, 0) },
    Unit {
        name: "board foot",
        aliases: &["board feet", "bf"],
        family: Family::BoardFoot,
        base: (1, 0),
    },
    Unit { name: "g", aliases: &["gram", "grams"], family: Family::Mass, base: (1, 0) },
    Unit { name: "kg", aliases: &[], family: Family::Mass, base: (1000, 0) },
    Unit {
        name: "oz",
        aliases: &["ounce", "ounces"],
        family: Family::Mass,
        base: (28_349_523_125, 9),
    },
    Unit {
        name: "lb",
        aliases: &["lbs", "pound", "pounds"],
        family: Family::Mass,
        base: (45_359_237, 5),
    },
    Unit { name: "each", aliases: &["ea"], family: Family::Each, base: (1, 0) },
];

impl Unit {
    /// The unit of a word, or nothing.
    pub fn named(word: &str) -> Option<Unit> {
        let word = word.trim().to_lowercase();
        UNITS.iter().find(|u| u.name == word || u.aliases.contains(&word.as_str())).copied()
    }

    /// Every unit's name, for hints.
    pub fn names() -> impl Iterator<Item = &'static str> {
        UNITS.iter().map(|unit| unit.name)
    }

    /// Every word of every unit.
    pub fn spellings() -> impl Iterator<Item = &'static str> {
        UNITS.iter().flat_map(|unit| unit.aliases.iter().copied().chain([unit.name]))
    }

    /// A quantity of the family's base unit, said in this unit to two decimals: "12.5 fl oz", "2 sheets";
    /// what is counted one by one is only its number.
    pub fn words(self, in_base: Decimal) -> String {
        let amount = round(in_base / self.base(), 2).normalize();
        let name = match self.name {
            "each" => return amount.to_string(),
            "sheet" if amount != Decimal::ONE => "sheets",
            "board foot" if amount != Decimal::ONE => "board feet",
            name => name,
        };
        format!("{amount} {name}")
    }

    fn base(self) -> Decimal {
        Decimal::new(self.base.0, self.base.1)
    }
}

/// An exact amount of a unit.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Quantity {
    pub amount: Decimal,
    pub unit: Unit,
}

impl Quantity {
    /// In the family's base unit (millilitres, millimetres, square feet, board feet, grams,
    /// pieces): the form in which stock is added up. Exact.
    pub fn in_base(self) -> Decimal {
        self.amount * self.unit.base()
    }
}

/// Reads `8 fl oz`, `1 1/2 qt`, `0.5 gal`, `3 sheets`, or a bare number of `bare`.
///
/// The error is a sentence for the owner.
pub fn parse_quantity(text: &str, bare: Option<Unit>) -> Result<Quantity, String> {
    let split = text.find(|c: char| c.is_alphabetic()).unwrap_or(text.len());
    let (number, word) = text.split_at(split);
    let unit = match (word.trim(), bare) {
        ("", Some(unit)) => unit,
        ("", None) => return Err(format!("`{text}` has no unit")),
        (word, _) => Unit::named(word).ok_or_else(|| format!("`{word}` is not a known unit"))?,
    };
    let amount = parse_number(number).ok_or_else(|| format!("`{text}` is not a quantity"))?;
    Ok(Quantity { amount, unit })
}

/// Grams: ten tonnes, above any piece of furniture.
const HEAVIEST: u32 = 10_000_000;

/// A weight in pounds, written as `64 lb` or `29 kg`.
pub fn parse_weight(text: &str) -> Result<Quantity, String> {
    let weight = parse_quantity(text, Unit::named("lb"))?;
    match weight.unit.family {
        Family::Mass if weight.in_base() > Decimal::from(HEAVIEST) => {
            Err(format!("`{text}` is not a weight a piece of furniture can have"))
        }
        Family::Mass => Ok(weight),
        _ => Err(format!("`{text}` is not a weight")),
    }
}

fn parse_number(text: &str) -> Option<Decimal> {
    let mut total = Decimal::ZERO;
    let text = text.trim();
    let words: Vec<&str> = text.split_whitespace().collect();
    if words.is_empty() || words.len() > 2 || text.len() > 14 {
        return None;
    }
    for (i, word) in words.iter().enumerate() {
        total += match word.split_once('/') {
            Some((top, bottom)) => {
                let (top, bottom): (u32, u32) = (top.parse().ok()?, bottom.parse().ok()?);
                Decimal::from(top).checked_div(Decimal::from(bottom))?.round_dp(10)
            }
            None if i == 0 => Decimal::from_str_exact(word).ok()?,
            None => return None,
        };
    }
    (!total.is_sign_negative()).then_some(total)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn units_of_a_family_convert_exactly() {
        let base = |text: &str| parse_quantity(text, None).unwrap().in_base();
        assert_eq!(base("1 gal"), base("4 qt"));
        assert_eq!(base("1 qt"), base("32 fl oz"));
        assert_eq!(base("1 1/2 pt"), base("24 fl oz"));
        assert_eq!(base("1 yd"), base("36 in"));
        assert_eq!(base("1 lb"), base("16 oz"));
        assert_eq!(base("2 sheets"), base("64 sq ft"));
    }

    #[test]
    fn what_is_not_a_quantity_is_refused() {
        for text in ["", "8", "fl oz", "8 hogsheads", "-1 qt", "1/0 qt", "1 2 3 qt", "1 2 qt"] {
            assert!(parse_quantity(text, None).is_err(), "{text}");
        }
        assert!(parse_weight("3 ft").is_err());
        assert!(parse_weight("99999999999999 lb").is_err());
    }
}
