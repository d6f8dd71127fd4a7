//! The conditions a table row may ask of a piece. What is not known counts as the riskier value,
//! so that a row applies unless a stated fact says that it does not.

use super::materials::material;
use super::subject::Subject;
use super::table::{some_day, some_decimal, some_length, some_weight};
use super::woods::Species;
use super::wording::{affirms, flat, says};
use crate::model::{Length, Piece, Quantity, WoodForm};
use chrono::NaiveDate;
use rust_decimal::Decimal;
use serde::Deserialize;
use std::collections::BTreeMap;

/// One row of conditions: all of them must hold. An empty row always holds.
#[derive(Clone, Debug, Default, Deserialize)]
#[serde(rename_all = "kebab-case", deny_unknown_fields, default)]
pub struct When {
    /// The kind has one of these traits.
    pub kind_trait: Vec<String>,
    /// Whether the kind is known at all.
    pub kind_known: Option<bool>,
    /// Facts of `[safety]` and the values meant; "" is a fact not stated.
    pub fact: BTreeMap<String, Vec<String>>,
    /// May have been made before this year; an unknown age counts.
    pub made_before: Option<i32>,
    /// May have been made after this year; an unknown age counts.
    pub made_after: Option<i32>,
    /// An unknown height counts.
    #[serde(deserialize_with = "some_length")]
    pub height_at_least: Option<Length>,
    /// An unknown weight counts.
    #[serde(deserialize_with = "some_weight")]
    pub weight_at_least: Option<Quantity>,
    /// Only a stated weight counts.
    #[serde(deserialize_with = "some_weight")]
    pub weight_stated_at_least: Option<Quantity>,
    /// Cubic feet of the outer box; an unknown size counts.
    #[serde(deserialize_with = "some_decimal")]
    pub volume_at_least: Option<Decimal>,
    /// A coat's finish has one of these traits.
    pub coat_trait: Vec<String>,
    /// A coat's part says one of these words.
    pub coat_part: Vec<String>,
    /// The finish that decides care has one of these traits.
    pub care_trait: Vec<String>,
    /// The work tells of one of these: whole words, or the beginning of one.
    pub task: Vec<Phrase>,
    /// Anything bought, put on or done names one of these.
    pub mentions: Vec<Phrase>,
    /// What the piece is called and what is written of its parts and the work names one of these.
    pub words: Vec<Phrase>,
    /// A wood may be one with these traits, or of this hardness.
    pub wood_trait: Vec<String>,
    pub wood_form: Vec<String>,
    /// A part is of one of these materials besides wood.
    pub material: Vec<String>,
    /// Whether it is stated to be made of other materials alone, without wood.
    pub woodless: Option<bool>,
    /// Whether any wood is recorded.
    pub wood_known: Option<bool>,
    /// A change used one of these.
    pub change_with: Vec<String>,
    /// Upholstery renewed on this day or later; an unknown day counts.
    #[serde(deserialize_with = "some_day")]
    pub upholstered_since: Option<NaiveDate>,
    /// Whether a day of renewed upholstery is given.
    pub upholstered_stated: Option<bool>,
}

/// A word of a table, and as it is looked for: the tables ask hundreds of them of every piece.
#[derive(Clone, Debug, Deserialize)]
#[serde(from = "String")]
pub struct Phrase {
    said: String,
    flat: String,
}

impl From<String> for Phrase {
    fn from(said: String) -> Phrase {
        let flat = flat(&said).trim_end().to_owned();
        Phrase { said, flat }
    }
}

impl std::ops::Deref for Phrase {
    type Target = str;

    fn deref(&self) -> &str {
        &self.said
    }
}

/// How one condition came out: not asked, not so, or so and why.
enum Verdict {
    Unasked,
    Fails,
    Holds(String),
}
use Verdict::{Fails, Holds, Unasked};

impl Verdict {
    fn of(holds: bool, reason: impl FnOnce() -> String) -> Verdict {
        if holds { Holds(reason()) } else { Fails }
    }

    /// Asked only where words are listed; holds for the first of them that is found.
    fn any<T: std::ops::Deref<Target = str>>(
        wanted: &[T],
        has: impl Fn(&T) -> bool,
        reason: impl Fn(&str) -> String,
    ) -> Verdict {
        match (wanted.is_empty(), wanted.iter().find(|word| has(word))) {
            (true, _) => Unasked,
            (_, Some(found)) => Holds(reason(found)),
            (_, None) => Fails,
        }
    }

    /// Asked only where a threshold is set; an unknown value counts as reaching it.
    fn reaches<T, V>(
        limit: Option<T>,
        value: Option<V>,
        name: &str,
        at: impl Fn(T, V) -> bool,
    ) -> Verdict {
        match (limit, value) {
            (None, _) => Unasked,
            (Some(_), None) => Holds(format!("{name} is not stated")),
            (Some(limit), Some(value)) => {
                Verdict::of(at(limit, value), || format!("{name} reaches the limit"))
            }
        }
    }
}

impl When {
    /// Why the row holds for a piece, one phrase per condition; nothing when it does not.
    pub(crate) fn reasons(&self, subject: &Subject) -> Option<Vec<String>> {
        // One group after the other: most rows fail at the first, and need no other looked at.
        let mut reasons = Vec::new();
        let holds = hold(self.of_kind(subject), &mut reasons)
            && hold(self.of_age(subject), &mut reasons)
            && hold(self.of_sizes(subject), &mut reasons)
            && hold(self.of_coats(subject), &mut reasons)
            && hold(self.of_work(subject), &mut reasons)
            && hold(self.of_woods(subject), &mut reasons)
            && hold(self.of_facts(subject), &mut reasons);
        reasons.dedup();
        holds.then_some(reasons)
    }

    fn of_kind(&self, subject: &Subject) -> [Verdict; 2] {
        let kind = subject.kind;
        let has = |name: &str| kind.is_some_and(|kind| kind.is(name));
        let known = match self.kind_known {
            None => Unasked,
            Some(wanted) => Verdict::of(kind.is_some() == wanted, || match kind {
                Some(kind) => format!("kind is {}", kind.name),
                None => "kind is not known".to_owned(),
            }),
        };
        let name = kind.map_or("", |kind| &kind.name);
        [known, Verdict::any(&self.kind_trait, |name| has(name), |_| format!("kind is {name}"))]
    }

    fn of_facts(&self, subject: &Subject) -> Vec<Verdict> {
        let stated = |key: &str| subject.piece.safety.get(key).map_or("", |fact| &fact.value);
        let verdict = |(key, values): (&String, &Vec<String>)| {
            let value = stated(key);
            Verdict::of(values.iter().any(|v| v == value), || match value {
                "" => format!("{key} is not stated"),
                value => format!("{key} is {value}"),
            })
        };
        self.fact.iter().map(verdict).collect()
    }

    fn of_age(&self, subject: &Subject) -> [Verdict; 4] {
        let made = subject.piece.made.value;
        let age =
            |limit: Option<i32>, year: Option<i32>, side: &str, at: fn(i32, i32) -> bool| match (
                limit, year,
            ) {
                (None, _) => Unasked,
                (Some(_), None) => Holds("its age is not known".to_owned()),
                (Some(limit), Some(year)) => {
                    Verdict::of(at(year, limit), || format!("it may have been made {side} {limit}"))
                }
            };
        let renewed = subject.piece.upholstered_on.as_ref().map(|on| on.value);
        let since =
            Verdict::reaches(self.upholstered_since, renewed, "upholstered-on", |s, on| on >= s);
        let stated = match self.upholstered_stated {
            None => Unasked,
            Some(wanted) => {
                Verdict::of(renewed.is_some() == wanted, || "upholstered-on is given".into())
            }
        };
        [
            age(self.made_before, made.earliest(), "before", |year, limit| year < limit),
            age(self.made_after, made.latest(), "after", |year, limit| year > limit),
            since,
            stated,
        ]
    }

    fn of_sizes(&self, subject: &Subject) -> [Verdict; 4] {
        let piece = subject.piece;
        let height = piece.height.as_ref().map(|height| height.value);
        let grams = |weight: Quantity| weight.in_base();
        let heavy = |limit: Quantity, weight: Quantity| grams(weight) >= grams(limit);
        let volume = self.volume_at_least.and_then(|_| box_volume(piece));
        let stated = match (self.weight_stated_at_least, piece.weight) {
            (None, _) => Unasked,
            (Some(limit), Some(weight)) => {
                Verdict::of(heavy(limit, weight), || "it is heavy".into())
            }
            (Some(_), None) => Fails,
        };
        [
            Verdict::reaches(self.height_at_least, height, "height", |limit, height| {
                height >= limit
            }),
            Verdict::reaches(self.weight_at_least, piece.weight, "weight", heavy),
            Verdict::reaches(self.volume_at_least, volume, "size", |limit, feet| feet >= limit),
            stated,
        ]
    }

    fn of_coats(&self, subject: &Subject) -> [Verdict; 4] {
        let coat = |name: &str| subject.finishes.iter().flatten().any(|finish| finish.is(name));
        let care = |name: &str| subject.care.is_some_and(|finish| finish.is(name));
        let part = |word: &str| subject.piece.coat.iter().any(|coat| says(&coat.part, word));
        let change = |word: &str| {
            let mut with = subject.piece.change.iter().filter_map(|change| change.with.as_deref());
            with.any(|with| says(with, word))
        };
        [
            Verdict::any(
                &self.coat_trait,
                |name| coat(name),
                |name| format!("a coat counts as {name}"),
            ),
            Verdict::any(
                &self.care_trait,
                |name| care(name),
                |name| format!("the finish counts as {name}"),
            ),
            Verdict::any(
                &self.coat_part,
                |word| part(word),
                |word| format!("a coat is on the {word}"),
            ),
            Verdict::any(
                &self.change_with,
                |word| change(word),
                |word| format!("a change used {word}"),
            ),
        ]
    }

    fn of_work(&self, subject: &Subject) -> [Verdict; 3] {
        let tells = |word: &Phrase| affirms(&subject.tasks, &word.flat);
        let named = |word: &Phrase| subject.mentions().contains(&word.flat);
        let written = |word: &Phrase| subject.told().contains(&word.flat);
        [
            Verdict::any(&self.task, tells, |word| format!("the work tells of “{word}”")),
            Verdict::any(&self.mentions, named, |word| format!("{word} is named")),
            Verdict::any(&self.words, written, |word| format!("{word} is named")),
        ]
    }

    fn of_woods(&self, subject: &Subject) -> [Verdict; 5] {
        let kept = |name: &str, row: &Species| row.traits.iter().any(|t| t == name);
        let hard = |name: &str, row: &Species| row.hardness() == Some(name);
        let has = |name: &str| {
            let all_so =
                !subject.woods.is_empty() && subject.woods.iter().all(|row| hard(name, row));
            all_so || subject.woods.iter().any(|row| kept(name, row))
        };
        let form = |name: &str| subject.piece.wood.iter().any(|wood| form_word(wood.form) == name);
        let of = |name: &str| subject.piece.material.iter().any(|m| material(&m.of) == Some(name));
        let woodless = subject.is_woodless();
        let without = match self.woodless {
            None => Unasked,
            Some(wanted) => Verdict::of(woodless == wanted, || "what it is made of".to_owned()),
        };
        let recorded = !subject.piece.wood.is_empty();
        let known = match self.wood_known {
            None => Unasked,
            Some(wanted) => Verdict::of(recorded == wanted, || "no wood is recorded".to_owned()),
        };
        [
            Verdict::any(
                &self.wood_trait,
                |name| has(name),
                |name| format!("a wood counts as {name}"),
            ),
            Verdict::any(&self.wood_form, |name| form(name), |name| format!("a part is {name}")),
            Verdict::any(&self.material, |name| of(name), |name| format!("a part is of {name}")),
            without,
            known,
        ]
    }
}

/// Whether none of some conditions fails; why they hold is added.
fn hold(verdicts: impl IntoIterator<Item = Verdict>, reasons: &mut Vec<String>) -> bool {
    for verdict in verdicts {
        match verdict {
            Fails => return false,
            Holds(reason) => reasons.push(reason),
            Unasked => {}
        }
    }
    true
}

/// The reasons of the first of several rows that holds.
pub(crate) fn first_reasons(rows: &[When], subject: &Subject) -> Option<Vec<String>> {
    rows.iter().find_map(|row| row.reasons(subject))
}

fn form_word(form: WoodForm) -> &'static str {
    match form {
        WoodForm::Solid => "solid",
        WoodForm::Veneer => "veneer",
        WoodForm::Plywood => "plywood",
        WoodForm::Particleboard => "particleboard",
        WoodForm::Fibreboard => "fibreboard",
        WoodForm::Unstated => "unstated",
    }
}

/// Cubic feet of width × depth × height, each rounded to the nearest sixteenth of an inch.
fn box_volume(piece: &Piece) -> Option<Decimal> {
    let inches = |length: &Length| {
        let (whole, sixteenths) = length.inches_and_sixteenths();
        Decimal::from(whole) + Decimal::new(sixteenths * 625, 4)
    };
    let sides = [piece.width.as_ref()?, piece.depth.as_ref()?, piece.height.as_ref()?];
    let volume: Decimal = sides.iter().map(|side| inches(&side.value)).product();
    Some(volume / Decimal::from(1728))
}
