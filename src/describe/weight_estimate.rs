//! What a piece probably weighs where it was not weighed: a range from its size and its wood, marked as
//! an estimate, which never decides anything else.

use super::subject::Subject;
use super::table::embedded;
use super::woods::{Species, panel, panels, wood};
use super::wording::NO_BREAK;
use crate::model::{Kind, Length, LengthUnit, Shape, Wood, WoodForm};
use rust_decimal::Decimal;
use serde::Deserialize;
use std::sync::LazyLock;

/// How much of the outer box of a piece is wood.
#[derive(Deserialize)]
#[serde(rename_all = "kebab-case", deny_unknown_fields)]
struct Share {
    shapes: Vec<Shape>,
    percent: [u32; 2],
    #[expect(dead_code, reason = "for whoever reads the table")]
    source: String,
}

static SHARE: LazyLock<Share> =
    LazyLock::new(|| embedded("weight", include_str!("tables/weight.toml")));

/// Grams in a pound, exactly, by the 1959 international agreement (from memory).
const GRAMS_IN_A_POUND: Decimal = Decimal::from_parts(45_359_237, 0, 0, false, 5);

/// "The weight, estimated from size and wood and not scaled, is 35 to 85 lb (17 to 37 kg)."; nothing
/// where it was scaled, or where a fact for it is missing. Both ends are rounded outwards: to five
/// pounds (to one below twenty), and to whole kilograms.
pub(crate) fn estimate(subject: &Subject, units: LengthUnit) -> Option<String> {
    if subject.piece.weight.is_some() {
        return None;
    }
    let (low, high) = pounds(subject)?;
    let kilograms = |pounds: Decimal| pounds * GRAMS_IN_A_POUND / Decimal::ONE_THOUSAND;
    let each = if subject.piece.count > 1 { " each" } else { "" };
    let (least, most) = (whole(low, |steps| steps.floor()), whole(high, |steps| steps.ceil()));
    let (light, heavy) = (kilograms(low).floor(), kilograms(high).ceil());
    let range = units.both(
        &format!("{least} to {most}{NO_BREAK}lb"),
        &format!("{light} to {heavy}{NO_BREAK}kg"),
    );
    Some(format!("The weight, estimated from size and wood and not scaled, is {range}{each}."))
}

fn whole(pounds: Decimal, outwards: fn(Decimal) -> Decimal) -> Decimal {
    let step = Decimal::from(if pounds < Decimal::from(20) { 1 } else { 5 });
    (outwards(pounds / step) * step).normalize()
}

/// Pounds: the box in cubic feet, times the share of it that is wood, times the density of the
/// lightest and of the heaviest wood it may be. Nothing unless the kind is a case, every side is
/// known, every part's wood is, and there is nothing of another material, no glass and no mirror.
fn pounds(subject: &Subject) -> Option<(Decimal, Decimal)> {
    let piece = subject.piece;
    let is_case = |kind: &&Kind| SHARE.shapes.contains(&kind.shape);
    subject.kind.filter(is_case)?;
    let no_glass = |key| piece.safety.get(key).is_none_or(|fact| fact.value == "none");
    let other = !piece.material.is_empty();
    if other || !no_glass("glass") || !no_glass("mirror") {
        return None;
    }
    let sides = [piece.width.as_ref()?, piece.depth.as_ref()?, piece.height.as_ref()?];
    let feet: Decimal = sides.map(|side| feet(side.value)).iter().product();
    let densities: Option<Vec<_>> = piece.wood.iter().map(density).collect();
    let densities = densities?;
    let low = densities.iter().map(|(low, _)| *low).min()?;
    let high = densities.iter().map(|(_, high)| *high).max()?;
    let [least, most] = SHARE.percent.map(|percent| Decimal::new(percent.into(), 2));
    let low = feet * low * least;
    (low >= Decimal::TWO).then_some((low, feet * high * most))
}

fn feet(length: Length) -> Decimal {
    let inches = length.inches();
    Decimal::from(*inches.numer()) / Decimal::from(*inches.denom()) / Decimal::from(12)
}

/// The least and the most pounds in a cubic foot of a part; a veneer counts as what it lies on.
fn density(entry: &Wood) -> Option<(Decimal, Decimal)> {
    match entry.form {
        WoodForm::Solid | WoodForm::Unstated => of_wood(&entry.species.as_ref()?.value),
        WoodForm::Veneer => entry.over.as_deref().and_then(of_core),
        WoodForm::Plywood => of_panels("plywood"),
        WoodForm::Particleboard => of_panels("particleboard"),
        WoodForm::Fibreboard => of_panels("fibreboard"),
    }
}

fn of_core(core: &str) -> Option<(Decimal, Decimal)> {
    let of_panel = || {
        let [low, high] = panel(core)?.density_lb_ft3;
        Some((low.into(), high.into()))
    };
    of_wood(core).or_else(of_panel)
}

fn of_wood(name: &str) -> Option<(Decimal, Decimal)> {
    let rows: Vec<&Species> = wood(name)?.rows;
    let densities = || rows.iter().map(|row| row.density_lb_ft3);
    Some((densities().min()?, densities().max()?))
}

/// Over every panel of the table whose name holds a word: "plywood" is of softwood or hardwood.
fn of_panels(word: &str) -> Option<(Decimal, Decimal)> {
    let rows = || panels().iter().filter(|panel| panel.name.contains(word));
    let low = rows().map(|panel| panel.density_lb_ft3[0]).min()?;
    let high = rows().map(|panel| panel.density_lb_ft3[1]).max()?;
    Some((low.into(), high.into()))
}
