//! The catalogue: every piece for sale with its picture, by kind, with contents and an index.

use super::common::{drawing, label_text, sheet, size_block, stock_number};
use super::listing::price;
use super::offered::is_for_sale;
use super::stock::{group_name, listed_on};
use super::{Subject, draft, layouts, picture_name};
use crate::describe::wording::{capital, date, number, sentence};
use crate::describe::{Strength, Words, wood_in_index};
use crate::model::Moment;
use crate::typeset::press::{Draft, PictureUse};
use crate::typeset::view::{
    CatalogueEntry, CatalogueGroup, CatalogueLink, CatalogueView, IndexEntry, IndexPart, LabelRow,
    Photo,
};
use dovetally_photo::Fit;
use std::collections::BTreeMap;

/// Below this many pieces the contents are found as quickly as an index.
const WORTH_AN_INDEX: usize = 12;

/// The group of pieces of unknown kind stands last.
const LAST: &str = "Other pieces";

/// The draft of the catalogue of the pieces given: those that are listed and not held back;
/// nothing when there is none. A subject's photos are numbered through all of them.
pub fn catalogue(subjects: &[Subject]) -> Option<Draft> {
    let shop = subjects.first()?.shop;
    let groups = grouped(subjects);
    let listed: Vec<&Subject> = groups.iter().flat_map(|(_, group)| group.clone()).collect();
    let newest = listed.iter().filter_map(|subject| listed_on(subject)).max();
    let count = u32::try_from(listed.len()).unwrap_or(u32::MAX);
    let pieces = if count == 1 { "piece" } else { "pieces" };
    let mut uses = Vec::new();
    let mut at = 0..;
    let groups: Vec<CatalogueGroup> = groups
        .into_iter()
        .map(|(name, group)| CatalogueGroup {
            name,
            entries: group
                .into_iter()
                .zip(&mut at)
                .map(|(s, at)| entry(s, at, &mut uses))
                .collect(),
        })
        .collect();
    let view = CatalogueView {
        sheet: sheet(shop, format!("Catalogue of pieces for sale, {}", shop.name)),
        heading: "Pieces for sale".to_owned(),
        matter: "Catalogue".to_owned(),
        opening: format!("{} {pieces}.", capital(&number(count))),
        dated: newest.map(date),
        contents: "Contents".to_owned(),
        groups,
        index: "Index".to_owned(),
        index_parts: if listed.len() < WORTH_AN_INDEX { Vec::new() } else { index(&listed) },
        note: "Drawn at {scale}.".to_owned(),
    };
    let ident = format!("{} / catalogue", shop.name);
    (count > 0).then(|| draft(layouts::CATALOGUE, &view, uses, ident))
}

/// The pieces for sale by kind, in the order they are printed in.
fn grouped<'a, 'b>(subjects: &'a [Subject<'b>]) -> Vec<(String, Vec<&'a Subject<'b>>)> {
    let mut groups: BTreeMap<(bool, String), Vec<&Subject>> = BTreeMap::new();
    for subject in subjects.iter().filter(|subject| is_for_sale(subject)) {
        let name = group_name(subject);
        groups.entry((name == LAST, name)).or_default().push(subject);
    }
    groups.into_iter().map(|((_, name), group)| (name, group)).collect()
}

fn entry(subject: &Subject, at: usize, uses: &mut Vec<PictureUse>) -> CatalogueEntry {
    let (piece, words) = (subject.piece, subject.words);
    CatalogueEntry {
        at,
        number: stock_number(piece),
        heading: piece.title.value.clone(),
        price: price(subject),
        opening: words.opening.clone(),
        size: size(subject),
        photo: photo(subject, uses),
        drawing: drawing(subject),
        rows: rows(subject),
        link: piece.listing.as_ref().and_then(|listing| listing.link.as_ref()).map(|link| {
            let shown = link.value.split_once("://").map_or(link.value.as_str(), |(_, rest)| rest);
            CatalogueLink {
                address: link.value.clone(),
                shown: shown.trim_end_matches('/').to_owned(),
            }
        }),
    }
}

fn size(subject: &Subject) -> Vec<String> {
    let each = if subject.piece.count > 1 { " each" } else { "" };
    let lines = size_block(subject).map(|size| [size.first + each, size.second]);
    lines.into_iter().flatten().collect()
}

/// The first picture of the finished piece, at the width of two columns.
fn photo(subject: &Subject, uses: &mut Vec<PictureUse>) -> Option<Photo> {
    let shot = subject.shots_of(Moment::After).next()?;
    let shows = shot.photo.shows.as_deref().map(sentence);
    let title = &subject.piece.title.value;
    let file = picture_name(uses.len());
    let (width, height) = Fit::Column.within(shot.small);
    uses.push(PictureUse { name: file.clone(), photo: shot.index, fit: Fit::Column });
    let alt = shows.unwrap_or_else(|| format!("Photograph of {title}"));
    Some(Photo { file, width, height, alt, caption: None })
}

fn rows(subject: &Subject) -> Vec<LabelRow> {
    let words = subject.words;
    let one = |text: &Option<String>| text.iter().cloned().collect::<Vec<_>>();
    let all = [
        (words.made_of_label, one(&words.made_of)),
        ("Finish", one(&words.finish)),
        ("Not original", summed(&words.not_original)),
        ("Condition", summed(&words.condition)),
        ("Caution", cautions(words)),
    ];
    let told = all.into_iter().filter(|(_, parts)| !parts.is_empty());
    told.map(|(label, parts)| LabelRow { label: label.to_owned(), text: label_text(&parts) })
        .collect()
}

/// The cautions in their short words; more of them stands on the listing sheet.
fn cautions(words: &Words) -> Vec<String> {
    let printed = words.cautions.iter().filter(|c| c.strength != Strength::ShopNote);
    let mut said: Vec<String> =
        printed.map(|caution| caution.short.as_ref().unwrap_or(&caution.text).clone()).collect();
    if !said.is_empty() {
        said.push("More on the listing sheet.".to_owned());
    }
    said
}

/// The two most telling entries, and how many more there are.
fn summed(entries: &[String]) -> Vec<String> {
    let mut said: Vec<String> = entries.iter().take(TELLING).cloned().collect();
    let more = u32::try_from(entries.len().saturating_sub(TELLING)).unwrap_or(u32::MAX);
    if more > 0 {
        said.push(format!("{} more on the listing sheet.", capital(&number(more))));
    }
    said
}

const TELLING: usize = 2;

/// By title, by number and by wood; the positions are those of the printed order.
fn index(listed: &[&Subject]) -> Vec<IndexPart> {
    let titles = listed.iter().map(|s| s.piece.title.value.clone());
    let numbers = listed.iter().map(|s| stock_number(s.piece));
    let woods = listed.iter().enumerate().flat_map(|(at, subject)| {
        subject.piece.wood.iter().filter_map(wood_in_index).map(move |wood| (wood, at))
    });
    let parts = [
        ("By title", looked_up(titles.zip(0..))),
        ("By number", looked_up(numbers.zip(0..))),
        ("By wood", looked_up(woods)),
    ];
    parts
        .into_iter()
        .filter(|(_, entries)| !entries.is_empty())
        .map(|(heading, entries)| IndexPart { heading: heading.to_owned(), entries })
        .collect()
}

/// Words with the same letters are one entry, in the order of the letters whatever their case.
fn looked_up(words: impl Iterator<Item = (String, usize)>) -> Vec<IndexEntry> {
    let mut found: BTreeMap<(String, String), Vec<usize>> = BTreeMap::new();
    for (word, at) in words {
        let pieces = found.entry((word.to_lowercase(), word)).or_default();
        if pieces.last() != Some(&at) {
            pieces.push(at);
        }
    }
    found.into_iter().map(|((_, text), pieces)| IndexEntry { text, pieces }).collect()
}
