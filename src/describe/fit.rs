//! Will it fit: the doorway and the turn a piece needs, with and without what comes off, and the
//! largest part by itself. Figures only where the sizes they are made of are stated.

use super::passage::{Sides, Stands, Way};
use super::size::box_size;
use super::table::{embedded, length};
use super::wording::{NO_BREAK, agree, capital, inches, with_the};
use crate::model::{At, Code, Finding, Length, LengthUnit, LoosePart, Piece, and_list};
use serde::Deserialize;
use std::sync::LazyLock;

/// What goes anywhere, how high a door usually is, and how wide a passage.
#[derive(Deserialize)]
#[serde(rename_all = "kebab-case", deny_unknown_fields)]
struct Table {
    small: Small,
    flat: Flat,
    door: Door,
    passage: Passage,
}

#[derive(Deserialize)]
struct Small {
    #[serde(deserialize_with = "length")]
    middle: Length,
    #[serde(deserialize_with = "length")]
    longest: Length,
}

#[derive(Deserialize)]
struct Flat {
    #[serde(deserialize_with = "length")]
    thick: Length,
    #[serde(deserialize_with = "length")]
    longest: Length,
}

#[derive(Deserialize)]
struct Door {
    #[serde(deserialize_with = "length")]
    high: Length,
}

#[derive(Deserialize)]
struct Passage {
    #[serde(deserialize_with = "length")]
    wide: Length,
}

static TABLE: LazyLock<Table> = LazyLock::new(|| embedded("fit", include_str!("tables/fit.toml")));

/// What moving the piece takes, in sentences; nothing for a piece that goes anywhere as it stands.
pub(crate) fn fit(piece: &Piece, units: LengthUnit) -> Vec<String> {
    let whole = sides_of_whole(piece);
    let told = whole.filter(|whole| !goes_anywhere(*whole) || !piece.apart.is_empty());
    let mut sentences: Vec<String> =
        told.map(|whole| as_it_is(piece, whole, units)).unwrap_or_default();
    if !piece.apart.is_empty() {
        sentences.push(taken_apart(piece, whole, units));
    }
    if sentences.iter().any(|sentence| sentence.contains("needs")) {
        sentences.push("Allow room for hands.".to_owned());
    }
    sentences
}

fn goes_anywhere(whole: Sides) -> bool {
    let [thick, middle, longest] = whole.sorted();
    let small = middle <= TABLE.small.middle && longest <= TABLE.small.longest;
    small || (thick <= TABLE.flat.thick && longest <= TABLE.flat.longest)
}

/// Upright, and laid down where that takes a narrower doorway, or where the piece is too tall for a
/// door or too long for a corner upright.
fn as_it_is(piece: &Piece, whole: Sides, units: LengthUnit) -> Vec<String> {
    let (upright, lying) = (whole.upright(), whole.lying());
    let narrower = lying.wide.quarters < upright.wide.quarters;
    let tight =
        upright.turn.inches() > TABLE.passage.wide && lying.turn.quarters < upright.turn.quarters;
    let laid = (narrower || tight || whole.height > TABLE.door.high).then(|| {
        let how = match lying.stands {
            Stands::OnEnd => "on end",
            Stands::OnBack => "on its back",
            Stands::OnSide | Stands::Upright => "on its side",
        };
        format!("; {how}, {} and {}", doorway(lying, units), passage(lying, units))
    });
    vec![format!(
        "Upright {} needs a clear doorway of {}, width × height, and a passage of {} to turn a \
         corner{}.",
        it(piece),
        doorway(upright, units),
        passage(upright, units),
        laid.unwrap_or_default(),
    )]
}

fn it(piece: &Piece) -> &'static str {
    if piece.count > 1 { "each" } else { "it" }
}

/// "20¼ × 48¼ in (52 × 123 cm)", width × height.
fn doorway(way: Way, units: LengthUnit) -> String {
    let (wide, high) = (way.wide, way.high);
    let times = format!("{NO_BREAK}×{NO_BREAK}");
    let (inches_wide, inches_high) = (inches(wide.inches()), inches(high.inches()));
    let (cm_wide, cm_high) = (wide.centimetres, high.centimetres);
    units.both(
        &format!("{inches_wide}{times}{inches_high}{NO_BREAK}in"),
        &format!("{cm_wide}{times}{cm_high}{NO_BREAK}cm"),
    )
}

/// The passage on both sides of a corner: "35¼ in (90 cm)".
fn passage(way: Way, units: LengthUnit) -> String {
    let (quarters, centimetres) = (inches(way.turn.inches()), way.turn.centimetres);
    units.both(&format!("{quarters}{NO_BREAK}in"), &format!("{centimetres}{NO_BREAK}cm"))
}

/// "With the mirror off it needs …; the largest part is then the case, 40 × 20 × 33 in (…)." Only
/// that it comes off, where a size is missing.
fn taken_apart(piece: &Piece, whole: Option<Sides>, units: LengthUnit) -> String {
    let off: Vec<String> = piece.apart.iter().map(|part| with_the(&part.part)).collect();
    let off = and_list(&off);
    let Some(parts) = single_parts(piece, whole) else {
        return format!("{} {} off.", capital(&off), agree(&off, "comes", "come"));
    };
    let least = parts.iter().map(|(_, sides)| sides.best()).reduce(Way::both);
    let needs = least.map(|way| format!("{} and {}", doorway(way, units), passage(way, units)));
    let largest = parts.iter().max_by_key(|(_, sides)| volume(*sides));
    let largest =
        largest.map(|(part, sides)| largest_part(part, *sides, units)).unwrap_or_default();
    let needs = needs.unwrap_or_default();
    format!("With {off} off, {} needs {needs}; {largest}.", it(piece))
}

fn largest_part(part: &LoosePart, sides: Sides, units: LengthUnit) -> String {
    let name = match part.part.trim() {
        "" => "the rest".to_owned(),
        part => with_the(part),
    };
    let size = box_size(sides, units);
    let weight = part.weight.as_ref().map(|weight| super::size::weight(weight.value, units));
    let weight = weight.map(|weight| format!(", {weight}")).unwrap_or_default();
    format!("the largest single part is then {name}, {size}{weight}")
}

/// Cubic sixteenths of an inch: only to see which part is the largest.
fn volume(sides: Sides) -> i128 {
    let sixteenths = |side: Length| i128::from((side.inches() * 16).ceil().to_integer());
    sides.sorted().map(sixteenths).iter().product()
}

/// Every part that comes off, and what is left, with its box; nothing where a size is missing.
fn single_parts(piece: &Piece, whole: Option<Sides>) -> Option<Vec<(LoosePart, Sides)>> {
    let left = piece.remains.as_ref()?;
    let whole = whole?;
    let or = |side: &Option<At<Length>>, other: Length| side.as_ref().map_or(other, |s| s.value);
    let rest = Sides {
        width: or(&left.width, whole.width),
        depth: or(&left.depth, whole.depth),
        height: or(&left.height, whole.height),
    };
    let mut parts = vec![(left.clone(), rest)];
    for part in &piece.apart {
        parts.push((part.clone(), sides(&part.width, &part.depth, &part.height)?));
    }
    Some(parts)
}

fn sides_of_whole(piece: &Piece) -> Option<Sides> {
    sides(&piece.width, &piece.depth, &piece.height)
}

fn sides(
    width: &Option<At<Length>>,
    depth: &Option<At<Length>>,
    height: &Option<At<Length>>,
) -> Option<Sides> {
    let value = |side: &Option<At<Length>>| side.as_ref().map(|side| side.value);
    Some(Sides { width: value(width)?, depth: value(depth)?, height: value(height)? })
}

/// What is missing to say what the piece needs when it is taken apart.
pub(crate) fn lack(piece: &Piece) -> Option<&'static str> {
    let sized = |part: &LoosePart| sides(&part.width, &part.depth, &part.height).is_some();
    match (piece.apart.is_empty(), piece.apart.iter().all(sized), &piece.remains) {
        (true, _, _) => None,
        (_, false, _) => Some(
            "`width`, `depth` and `height` in every `[[apart]]`: the doorway it needs when it is apart",
        ),
        (_, true, None) => Some("`[remains]`: what is left when it is apart, and its largest part"),
        (_, true, Some(_)) => None,
    }
}

/// Parts larger or heavier than the whole, and a rest of nothing taken off.
pub(crate) fn checks(piece: &Piece) -> Vec<Finding> {
    let mut findings = Vec::new();
    if let (Some(left), true) = (&piece.remains, piece.apart.is_empty()) {
        let message = "what is left is stated, but not what comes off";
        findings.push(
            Finding::warning(Code::Apart, left.place, message)
                .label("of what?")
                .hint("add `[[apart]]` with `part = \"…\"` for each part that comes off"),
        );
    }
    findings.extend(piece.remains.iter().flat_map(|left| larger_than_whole(piece, left)));
    let all = piece.apart.iter().chain(&piece.remains);
    findings.extend(all.filter_map(|part| heavier_than_whole(piece, part)));
    findings.extend(piece.apart.iter().filter_map(|part| longer_than_whole(piece, part)));
    findings
}

fn larger_than_whole(piece: &Piece, left: &LoosePart) -> Vec<Finding> {
    let sides = [
        ("width", &left.width, &piece.width),
        ("depth", &left.depth, &piece.depth),
        ("height", &left.height, &piece.height),
    ];
    let larger = sides.into_iter().filter_map(|(key, left, whole)| {
        let (left, whole) = (left.as_ref()?, whole.as_ref()?);
        (left.value > whole.value).then(|| {
            let message = format!("the {key} of what is left is more than that of the whole piece");
            said_larger(left.place, whole.place, message, format!("fix one `{key}`"))
        })
    });
    larger.collect()
}

fn longer_than_whole(piece: &Piece, part: &LoosePart) -> Option<Finding> {
    let longest = sides_of_whole(piece)?.sorted()[2];
    let mut sides = [&part.width, &part.depth, &part.height].into_iter().flatten();
    let long = sides.find(|side| side.value > longest)?;
    let message = format!("{} is longer than the whole piece", with_the(&part.part));
    let hint = "fix this size, or the overall size".to_owned();
    Some(said_larger(long.place, piece.place, message, hint))
}

fn heavier_than_whole(piece: &Piece, part: &LoosePart) -> Option<Finding> {
    let (weight, whole) = (part.weight.as_ref()?, piece.weight?);
    let name = if part.part.is_empty() { "what is left".to_owned() } else { with_the(&part.part) };
    (weight.value.in_base() > whole.in_base()).then(|| {
        let message = format!("{name} is heavier than the whole piece");
        said_larger(weight.place, piece.place, message, "fix one `weight`".to_owned())
    })
}

fn said_larger(
    at: crate::model::Place,
    whole: crate::model::Place,
    message: String,
    hint: String,
) -> Finding {
    let finding = Finding::warning(Code::Apart, at, message).label("more than the whole");
    finding.second(whole, "the piece").hint(hint)
}
