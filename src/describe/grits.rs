//! Grits of sanding: a first one too coarse or too fine, a step too long, a last one that a film
//! cannot hold on to. Advice only.

use super::finishes::Finish;
use super::subject::Subject;
use super::table::embedded;
use super::wording::says;
use crate::model::{Coat, Code, Finding, Work};
use serde::Deserialize;
use std::sync::LazyLock;

#[derive(Deserialize)]
#[serde(rename_all = "kebab-case", deny_unknown_fields)]
struct Norms {
    coarsest_first: u32,
    finest_first: u32,
    /// Hundredths of the grit before.
    largest_step: u32,
    finest_under_film: u32,
    finest_under_oil: u32,
    coarsest_between: u32,
    words: Vec<String>,
    oil_traits: Vec<String>,
}

static NORMS: LazyLock<Norms> =
    LazyLock::new(|| embedded("grits", include_str!("tables/grits.toml")));

/// Advice on the grits named in the work and between coats.
pub(crate) fn grits(subject: &Subject) -> Vec<Finding> {
    let sanding = subject.piece.work.iter().filter_map(|work| ladder(work, subject));
    sanding.chain(subject.piece.coat.iter().filter_map(between)).collect()
}

fn ladder(work: &Work, subject: &Subject) -> Option<Finding> {
    let text = format!("{} {}", work.task, work.note.as_deref().unwrap_or(""));
    let grits = named(&text);
    let (first, last) = (*grits.first()?, *grits.last()?);
    let oil = |finish: &Finish| NORMS.oil_traits.iter().any(|name| finish.is(name));
    let finest = match subject.care {
        Some(finish) if oil(finish) => NORMS.finest_under_oil,
        _ => NORMS.finest_under_film,
    };
    let steep = |pair: &&[u32]| pair[1] * 100 > pair[0] * NORMS.largest_step;
    let says = if let Some(pair) = grits.windows(2).find(steep) {
        format!(
            "from {} to {} is a long step: {0} leaves scratches that {1} does not remove",
            pair[0], pair[1]
        )
    } else if grits.len() > 1 && first < NORMS.coarsest_first {
        format!("{first} is coarse to begin with and leaves deep scratches")
    } else if grits.len() > 1 && first > NORMS.finest_first {
        format!("{first} is fine to begin with and takes little off")
    } else if last > finest {
        format!("bare wood sanded past {finest} takes this finish badly")
    } else {
        return None;
    };
    Some(
        Finding::advice(Code::Grit, work.place, says)
            .hint("the usual ladder is 120, 150, 180, 220"),
    )
}

fn between(coat: &Coat) -> Option<Finding> {
    let coarse =
        named(coat.between.as_deref()?).into_iter().find(|grit| *grit < NORMS.coarsest_between)?;
    let says = format!("{coarse} between coats can cut through: 280 to 400 is usual");
    Some(Finding::advice(Code::Grit, coat.place, says).hint("between = \"320 grit\""))
}

/// Numbers that can be grits, in the order of the text, where it speaks of sanding at all.
fn named(text: &str) -> Vec<u32> {
    let sanding = NORMS.words.iter().any(|word| says(text, word));
    let numbers =
        text.split(|c: char| !c.is_ascii_digit()).filter_map(|digits| digits.parse().ok());
    numbers.filter(|grit| sanding && (36..=3000).contains(grit)).collect()
}
