//! Hang tags, folded for one piece or on both sides of a sheet for all, and box labels.

use super::common::{drawing, label_text, numbered, sheet, size_block, stock_number};
use super::listing::price;
use super::offered::is_for_sale;
use super::{Subject, draft, layouts};
use crate::describe::wording::{capital, date, number};
use crate::describe::{self, Strength};
use crate::model::Currency;
use crate::typeset::press::Draft;
use crate::typeset::view::{
    BoxLabel, BoxLabelView, BoxRow, Price, Tag, TagCautions, TagRow, TagsView,
};

/// The draft of a piece's own tags, to fold: one for each member of a set.
pub fn hang_tag(subject: &Subject) -> Draft {
    let view = TagsView {
        sheet: sheet(subject.shop, format!("Hang tag of the {}", subject.piece.title.value)),
        tags: vec![tag(subject); subject.piece.count as usize],
    };
    draft(layouts::HANG_TAG, &view, Vec::new(), subject.ident("hang tag"))
}

/// The draft of the tags of everything for sale that is not held back, to print on both sides;
/// nothing when there is none.
pub fn hang_tags(subjects: &[Subject]) -> Option<Draft> {
    let shop = subjects.first()?.shop;
    let listed = subjects.iter().filter(|subject| is_for_sale(subject));
    let tags: Vec<Tag> = listed.flat_map(|s| vec![tag(s); s.piece.count as usize]).collect();
    let view = TagsView { sheet: sheet(shop, format!("Hang tags, {}", shop.name)), tags };
    let ident = format!("{} / hang tags", shop.name);
    (!view.tags.is_empty()).then(|| draft(layouts::HANG_TAGS, &view, Vec::new(), ident))
}

/// The draft of a piece's box labels: a sheet for each member of a set.
pub fn box_label(subject: &Subject) -> Draft {
    let count = subject.piece.count;
    let of = |n: u32| (count > 1).then(|| format!("{n}\u{a0}of\u{a0}{count}"));
    let view = BoxLabelView {
        sheet: sheet(subject.shop, format!("Box label of {}", numbered(subject.piece))),
        labels: (1..=count).map(|n| label(subject, of(n))).collect(),
    };
    draft(layouts::BOX_LABEL, &view, Vec::new(), subject.ident("box label"))
}

fn tag(subject: &Subject) -> Tag {
    let words = subject.words;
    let told = [&words.made_of, &words.finish].into_iter().flatten();
    Tag {
        heading: subject.piece.title.value.clone(),
        number: stock_number(subject.piece),
        lines: told.map(|text| label_text(std::slice::from_ref(text))).collect(),
        drawing: drawing(subject),
        size: size_block(subject).map_or(Vec::new(), |size| vec![size.first, size.second]),
        price: round_price(price(subject), &subject.shop.currency),
        back: format!("{}: what to know", stock_number(subject.piece)),
        rows: tag_rows(words),
        cautions: cautions(words),
    }
}

/// "$485" for "$485.00": a tag is read from across the room.
fn round_price(price: Price, currency: &Currency) -> Price {
    let cents = format!(".{}", "0".repeat(currency.decimals as usize));
    let whole = price.text.strip_suffix(&cents).map(str::to_owned);
    Price { text: whole.unwrap_or(price.text), ..price }
}

fn tag_rows(words: &describe::Words) -> Vec<TagRow> {
    let hard = words.care.fully_hard_on.map(|on| format!("Fully hard on {}.", date(on)));
    let care: Vec<String> = words.care.care.first().cloned().into_iter().chain(hard).collect();
    let rows = [
        ("Not original", &words.not_original, summed(&words.not_original)),
        ("Condition", &words.condition, summed(&words.condition)),
        ("Care", &care, Vec::new()),
    ];
    rows.into_iter()
        .filter(|(_, entries, _)| !entries.is_empty())
        .map(|(label, entries, shorter)| TagRow {
            label: label.to_owned(),
            text: label_text(entries),
            shorter,
        })
        .collect()
}

/// What is not original and what is wrong is never left out: the gravest entry first and the others
/// counted, then all of them counted.
fn summed(entries: &[String]) -> Vec<String> {
    let counted = |count: usize| capital(&number(u32::try_from(count).unwrap_or(u32::MAX)));
    let noun = if entries.len() == 1 { "entry" } else { "entries" };
    let all = format!("{} {noun}, on the listing sheet.", counted(entries.len()));
    match entries {
        [gravest, rest @ ..] if !rest.is_empty() => {
            let gravest = label_text(std::slice::from_ref(gravest));
            vec![format!("{gravest} {} more on the listing sheet.", counted(rest.len())), all]
        }
        _ => vec![all],
    }
}

fn cautions(words: &describe::Words) -> Option<TagCautions> {
    let entries: Vec<String> = words
        .cautions
        .iter()
        .filter(|caution| caution.strength != Strength::ShopNote)
        .map(|caution| caution.short.as_ref().unwrap_or(&caution.text).clone())
        .collect();
    let label = match entries.len() {
        0 => return None,
        1 => "Caution",
        _ => "Cautions",
    };
    Some(TagCautions {
        label: label.to_owned(),
        entries,
        sources: "More on the listing sheet.".to_owned(),
        more: "More cautions on the listing sheet.".to_owned(),
    })
}

fn label(subject: &Subject, of: Option<String>) -> BoxLabel {
    let words = subject.words;
    let (size, small) = size_block(subject).map(|size| (size.first, size.second)).unzip();
    let hard = words.care.fully_hard_on.map(date);
    let all = [
        ("Size", size, small),
        ("Weight", words.weight.clone(), None),
        ("Fully hard on", hard, None),
    ];
    BoxLabel {
        heading: subject.piece.title.value.clone(),
        number: stock_number(subject.piece),
        of,
        rows: all
            .into_iter()
            .filter_map(|(label, text, small)| {
                Some(BoxRow { label: label.to_owned(), text: text?, small })
            })
            .collect(),
        from: "From".to_owned(),
        to: "To".to_owned(),
    }
}
