//! What is probably not as meant: unknown names, facts that contradict each other, layers
//! that do not hold, grits that leave scratches, and holds.

use super::finishes::{Finish, conflicts, finish_words};
use super::materials::misspelt;
use super::phrases::Phrases;
use super::schedule::on_same_part;
use super::subject::Subject;
use super::table::embedded;
use super::when::{When, first_reasons};
use super::woods::{wood, wood_words};
use super::wording::{flat, says};
use super::{Caution, Strength, naming};
use crate::model::{Coat, Code, Finding, Hint, Piece, Wood, WoodForm, kinds, nearest};
use serde::Deserialize;
use std::sync::LazyLock;

#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
struct Contradiction {
    fact: String,
    says: String,
    hint: String,
    when: Vec<When>,
}

#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
struct Table {
    contradiction: Vec<Contradiction>,
}

static TABLE: LazyLock<Table> =
    LazyLock::new(|| embedded("contradictions", include_str!("tables/contradictions.toml")));

/// Everything to say of one piece beside its banned words.
pub(crate) fn checks(subject: &Subject, cautions: &[Caution]) -> Vec<Finding> {
    let piece = subject.piece;
    let mut findings: Vec<Finding> = unknown_kind(subject).into_iter().collect();
    findings.extend(piece.wood.iter().filter_map(species));
    findings.extend(piece.material.iter().filter_map(misspelt));
    findings.extend(piece.coat.iter().zip(&subject.finishes).filter_map(unknown_finish));
    findings.extend(title_and_wood(piece));
    findings.extend(contradictions(subject));
    findings.extend(layers(subject));
    findings.extend(piece.coat.iter().filter_map(days));
    findings.extend(out_of_order(piece));
    findings.extend(super::fit::checks(piece));
    findings.extend(super::condition::contradictions(piece));
    findings.extend(super::grits::grits(subject));
    findings.extend(holds(piece, cautions));
    findings
}

fn unknown_kind(subject: &Subject) -> Option<Finding> {
    if subject.kind.is_some() {
        return None;
    }
    let piece = subject.piece;
    let written = piece.kind.as_ref();
    let place = written.map_or(piece.title.place, |kind| kind.place);
    let message = match written {
        Some(kind) => format!("`{}` is no kind of furniture the cautions know", kind.value),
        None => "neither `kind` nor the title names a kind of furniture".to_owned(),
    };
    let names = kinds().iter().flat_map(|kind| kind.aliases.iter().chain([&kind.name]));
    let near = written.and_then(|kind| nearest(&kind.value, names.map(String::as_str)));
    let example = || Hint::such_as("kind = \"washstand\"").and("; `schema piece` lists the words");
    let hint = near.map_or_else(example, |near| Hint::either(&[format!("kind = \"{near}\"")]));
    Some(
        Finding::warning(Code::UnknownKind, place, message)
            .label("cautions for lids, tall pieces and seats cannot be decided")
            .hint(hint),
    )
}

/// An unknown wood, one named to mislead, or one named for a panel that has none.
fn species(entry: &Wood) -> Option<Finding> {
    let species = entry.species.as_ref()?;
    let written = &species.value;
    let panel = matches!(entry.form, WoodForm::Particleboard | WoodForm::Fibreboard);
    match wood(written) {
        Some(_) if panel => Some(
            Finding::warning(
                Code::PanelWood,
                species.place,
                "a panel of chips or fibres is not of one wood",
            )
            .hint(format!(
                "form = \"veneer\" with over = \"particleboard\" if {written} lies on it"
            )),
        ),
        Some(meant) if meant.misleads => {
            let name = meant.rows.first().map_or("", |row| &row.name);
            let message = format!("`{written}` promises another wood; `{name}` is printed");
            Some(
                Finding::warning(Code::MisleadingWood, species.place, message)
                    .hint(format!("species = \"{name}\"")),
            )
        }
        Some(_) => None,
        None if panel => None,
        None => {
            let message = format!("`{written}` is not in the table of woods");
            let hint = match nearest(written, wood_words()) {
                Some(near) => Hint::either(&[format!("species = \"{near}\"")]),
                None => Hint::say("`species = \"unknown\"` says that the wood is not known"),
            };
            Some(Finding::warning(Code::UnknownWood, species.place, message).hint(hint))
        }
    }
}

fn unknown_finish((coat, finish): (&Coat, &Option<&Finish>)) -> Option<Finding> {
    if finish.is_some() {
        return None;
    }
    let product = &coat.product.value;
    let message =
        format!("`{product}` is not in the table of finishes, so its care is the most delicate");
    let finding = Finding::warning(Code::UnknownFinish, coat.product.place, message);
    Some(match nearest(product, finish_words()) {
        Some(near) => finding.hint(Hint::either(&[format!("product = \"{near}\"")])),
        None => {
            finding.hint("name its kind too: \"… (alkyd varnish)\"; its days: `cure-days = 30`")
        }
    })
}

/// A title that calls solid what is not, or names a wood the piece has not.
fn title_and_wood(piece: &Piece) -> Vec<Finding> {
    let title = &piece.title;
    let not_solid = |entry: &&Wood| !matches!(entry.form, WoodForm::Solid | WoodForm::Unstated);
    let mut findings = Vec::new();
    if let (true, Some(entry)) = (says(&title.value, "solid"), piece.wood.iter().find(not_solid)) {
        let message = "the title says solid, but a part is not";
        let label = format!("this is {}", naming::phrase(entry));
        let finding =
            Finding::warning(Code::NotSolid, title.place, message).second(entry.place, label);
        findings.push(finding.label("says solid").hint("remove `solid` from the title"));
    }
    if let Some(name) = named_not_there(piece) {
        let message = format!("the title names {name}, but no wood of the piece is {name}");
        let place = piece.wood[0].place;
        let finding =
            Finding::warning(Code::TitleWood, title.place, message).second(place, "its wood");
        findings.push(finding.hint(format!("name the wood it is, or state {name} as its species")));
    }
    findings
}

static WOOD_WORDS: LazyLock<Vec<&str>> = LazyLock::new(|| wood_words().collect());
static WOODS: LazyLock<Phrases> = LazyLock::new(|| Phrases::new(WOOD_WORDS.iter().copied()));

/// The longest wood in the title that none of the piece's woods is or may be.
fn named_not_there(piece: &Piece) -> Option<&'static str> {
    if piece.wood.is_empty() || piece.wood.iter().any(|entry| entry.species.is_none()) {
        return None;
    }
    let lined = |name: &&str| !says(&piece.title.value, &format!("{name} lined"));
    let title = flat(&piece.title.value);
    let in_title = WOODS.said(&title).map(|at| WOOD_WORDS[at]);
    let named = in_title.filter(lined).max_by_key(|name| name.len())?;
    let rows = wood(named)?.rows;
    let mut species = piece.wood.iter().flat_map(|entry| &entry.species);
    let there = species.any(|s| {
        let meant = wood(&s.value).map(|meant| meant.rows).unwrap_or_default();
        says(&s.value, named) || meant.iter().any(|row| rows.iter().any(|r| r.name == row.name))
    });
    (!there).then_some(named)
}

fn contradictions(subject: &Subject) -> Vec<Finding> {
    let holds = |row: &&Contradiction| first_reasons(&row.when, subject).is_some();
    let finding = |row: &Contradiction| {
        let fact = subject.piece.safety.get(&row.fact);
        let place = fact.map_or(subject.piece.place, |fact| fact.place);
        Finding::warning(Code::Contradiction, place, &row.says).hint(&row.hint)
    };
    TABLE.contradiction.iter().filter(holds).map(finding).collect()
}

/// Each layer against every one below it on the same part.
fn layers(subject: &Subject) -> Vec<Finding> {
    let coats = &subject.piece.coat;
    let pairs = (0..coats.len()).flat_map(|upper| (0..upper).map(move |lower| (lower, upper)));
    let meet =
        |&(lower, upper): &(usize, usize)| on_same_part(&coats[lower].part, &coats[upper].part);
    pairs.filter(meet).filter_map(|(lower, upper)| conflict(subject, lower, upper)).collect()
}

fn conflict(subject: &Subject, lower: usize, upper: usize) -> Option<Finding> {
    let coats = &subject.piece.coat;
    let (below, above) = (&coats[lower], &coats[upper]);
    let day = |coat: &Coat| coat.last.as_ref().map(|last| last.value);
    let days = day(above).zip(day(below)).map(|(above, below)| (above - below).num_days());
    let (over, under) = (subject.finishes[upper]?, subject.finishes[lower]?);
    let row = conflicts().iter().find(|row| row.arises(over, under, &below.product.value, days))?;
    let finding = Finding::warning(Code::Layers, above.product.place, &row.says).label("lies on");
    let finding = finding.second(below.product.place, "this");
    Some(finding.hint("see that the coats stand in the order they went on"))
}

/// Light use cannot come after the finish is fully hard.
fn days(coat: &Coat) -> Option<Finding> {
    let (light, cure) = (coat.light_use_days?, coat.cure_days?);
    let message = format!("light use after {light} days, but fully hard after {cure}");
    (light > cure).then(|| {
        Finding::warning(Code::CureDays, coat.place, message)
            .hint("swap `light-use-days` and `cure-days`")
    })
}

/// The schedule is in the order it went on, so a coat cannot be older than the one under it.
fn out_of_order(piece: &Piece) -> Vec<Finding> {
    let dated = |coat: &'_ Coat| coat.last.as_ref().map(|last| (last.value, last.place));
    let mut findings = Vec::new();
    for (index, coat) in piece.coat.iter().enumerate() {
        let Some((day, place)) = dated(coat) else { continue };
        let below = piece.coat[..index].iter().filter(|below| below.part == coat.part);
        if let Some((under, at)) = below.filter_map(dated).find(|(under, _)| *under > day) {
            let message = "this coat is dated before the one under it";
            let finding = Finding::warning(Code::CoatOrder, place, message).label("went on first?");
            let finding = finding.second(at, format!("the one under it: {under}"));
            findings.push(finding.hint("put the coats in the order they went on, or fix a day"));
        }
    }
    findings
}

/// A hold, with the key to state.
fn holds(piece: &Piece, cautions: &[Caution]) -> Vec<Finding> {
    let held = cautions.iter().filter(|caution| caution.strength == Strength::Hold);
    let finding = |caution: &Caution| {
        let message = format!("no listing sheet and no description: {}", caution.reason);
        let finding = Finding::warning(Code::Held, piece.title.place, message);
        finding
            .label("held back")
            .hint(format!("state what is so: {}", caution.state.as_deref().unwrap_or("the fact")))
    };
    held.map(finding).collect()
}
