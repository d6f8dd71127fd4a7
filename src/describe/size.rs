//! Size and weight in both systems, each rounded from the exact measure.

use super::Size;
use super::passage::Sides;
use super::wording::{NO_BREAK, centimetres, inches, spoken};
use crate::model::{Length, LengthUnit, Piece, Quantity, and_list, round};
use rust_decimal::Decimal;

const SIDES: [(&str, &str); 3] = [("wide", "width"), ("deep", "depth"), ("high", "height")];

/// The overall size: `W × D × H` when all three are known, else those that are, each with its word.
pub(crate) fn size(piece: &Piece, units: LengthUnit) -> Option<Size> {
    let sides =
        [&piece.width, &piece.depth, &piece.height].map(|side| side.as_ref().map(|s| s.value));
    let known: Vec<(Length, &str)> =
        sides.iter().zip(SIDES).filter_map(|(side, (word, _))| Some(((*side)?, word))).collect();
    let told: Vec<String> =
        known.iter().map(|(side, word)| format!("{} {word}", spoken(*side, units))).collect();
    (!known.is_empty()).then(|| Size {
        inches: joined(&known, "in", inches),
        centimetres: joined(&known, "cm", centimetres),
        spoken: and_list(&told),
    })
}

/// A box in both systems: `40 × 20 × 33 in (102 × 51 × 84 cm)`.
pub(crate) fn box_size(sides: Sides, units: LengthUnit) -> String {
    let known = [(sides.width, ""), (sides.depth, ""), (sides.height, "")];
    units.both(&joined(&known, "in", inches), &joined(&known, "cm", centimetres))
}

fn joined(known: &[(Length, &str)], unit: &str, say: impl Fn(Length) -> String) -> String {
    if known.len() == SIDES.len() {
        let figures: Vec<String> = known.iter().map(|(side, _)| say(*side)).collect();
        let times = format!("{NO_BREAK}×{NO_BREAK}");
        return format!("{}{NO_BREAK}{unit}", figures.join(&times));
    }
    let sides = known.iter().map(|(side, word)| format!("{}{NO_BREAK}{unit} {word}", say(*side)));
    sides.collect::<Vec<_>>().join(", ")
}

/// The keys of the sides that are not stated.
pub(crate) fn missing_sides(piece: &Piece) -> Vec<&'static str> {
    let sides = [&piece.width, &piece.depth, &piece.height];
    let missing = sides.iter().zip(SIDES).filter(|(side, _)| side.is_none());
    missing.map(|(_, (_, key))| key).collect()
}

/// "about 64 lb (29 kg)", or "about 29 kg (64 lb)" where the shop measures in centimetres: whole pounds
/// and kilograms, at least one.
pub(crate) fn weight(weight: Quantity, units: LengthUnit) -> String {
    // 1 lb = 453.592 37 g exactly, by the 1959 international agreement (from memory).
    let grams = weight.in_base();
    let whole = |unit: Decimal| round(grams / unit, 0).max(Decimal::ONE);
    let (pounds, kilograms) = (whole(Decimal::new(45_359_237, 5)), whole(Decimal::from(1000)));
    let (pounds, kilograms) = (format!("{pounds}{NO_BREAK}lb"), format!("{kilograms}{NO_BREAK}kg"));
    format!("about {}", units.both(&pounds, &kilograms))
}
