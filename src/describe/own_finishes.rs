//! The shop's own finishes, as rows like those of the table: what is not stated is as for the finish
//! they are like. For this floor only.

use super::finishes::{Finish, finish, finish_words, unknown_finish};
use super::wording::{flat, sentence};
use crate::model::{Code, Finding, Hint, OwnFinish, Shop, nearest};

/// Every finish a shop may name: its own, then those of the table.
pub(crate) struct Finishes {
    /// The flattened label, the longest first.
    own: Vec<(String, Finish)>,
}

impl Finishes {
    pub(crate) fn of(shop: &Shop) -> Finishes {
        let rows = shop.finishes.iter().map(|own| (flat(&own.label), row(own)));
        let mut own: Vec<(String, Finish)> = rows.collect();
        own.sort_by_key(|(label, _)| std::cmp::Reverse(label.len()));
        Finishes { own }
    }

    /// The finish a product means; the shop's own goes before the table's.
    pub(crate) fn named(&self, product: &str) -> Option<&Finish> {
        let written = flat(product);
        let own = self.own.iter().find(|(label, _)| written.contains(label));
        own.map(|(_, row)| row).or_else(|| finish(product))
    }
}

/// A row of the shop's own: its times as stated, the rest as for the finish it is like. A finish
/// like an unknown one is looked after as the most delicate.
fn row(own: &OwnFinish) -> Finish {
    let like = finish(&own.like.value).unwrap_or_else(unknown_finish);
    let or = |said: &Option<String>, table: &String| said.clone().unwrap_or_else(|| table.clone());
    let lines = |said: &Vec<String>, table: &Vec<String>| match said.is_empty() {
        true => table.clone(),
        false => said.iter().map(|line| sentence(line)).collect(),
    };
    Finish {
        name: own.label.clone(),
        names: vec![own.label.clone()],
        touch: or(&own.touch, &like.touch),
        recoat: or(&own.recoat, &like.recoat),
        light_use_days: [own.light_use_days; 2],
        cure_days: [own.cure_days; 2],
        about: own.about.as_deref().map_or_else(|| like.about.clone(), sentence),
        care: lines(&own.care, &like.care),
        never: lines(&own.never, &like.never),
        spill: lines(&own.spill, &like.spill),
        renewal: lines(&own.renewal, &like.renewal),
        fallback: false,
        ..like.clone()
    }
}

/// Finishes like an unknown one, and days that cannot be.
pub(crate) fn checks(shop: &Shop) -> Vec<Finding> {
    let unknown = shop.finishes.iter().filter_map(unknown_like);
    unknown.chain(shop.finishes.iter().filter_map(days)).collect()
}

fn unknown_like(own: &OwnFinish) -> Option<Finding> {
    let like = &own.like.value;
    if finish(like).is_some() {
        return None;
    }
    let message = format!(
        "`{like}` is not in the table of finishes, so `{}` gets the most delicate care",
        own.label
    );
    let finding = Finding::warning(Code::UnknownFinish, own.like.place, message);
    Some(match nearest(like, finish_words()) {
        Some(near) => finding.hint(Hint::either(&[format!("like = \"{near}\"")])),
        None => finding.hint(format!("it can be like {}", kinds())),
    })
}

/// "shellac, lacquer, …": the finishes of the table by their names.
fn kinds() -> String {
    let rows = super::finishes::finishes().iter().filter(|row| !row.fallback);
    rows.map(|row| format!("`{}`", row.name)).collect::<Vec<_>>().join(", ")
}

fn days(own: &OwnFinish) -> Option<Finding> {
    let (light, cure) = (own.light_use_days, own.cure_days);
    let message =
        format!("`{}`: light use after {light} days, but fully hard after {cure}", own.label);
    (light > cure).then(|| {
        Finding::warning(Code::CureDays, own.place, message)
            .hint("swap `light-use-days` and `cure-days`")
    })
}
