//! What several sheets share: the shop at head and foot, cautions, pictures and the drawing.

use super::{Shot, Subject, fit_at, picture_name};
use crate::describe::wording::{capital, centimetres, inches, sentence};
use crate::describe::{self, Language, Size, Strength, english, sources_line};
use crate::model::{Closed, Length, LengthUnit, Piece, Shape, Shop, kind};
use crate::typeset::press::PictureUse;
use crate::typeset::view::{
    Caution, Cautions, ContactPart, Drawing, DrawingShape, PageWords, Photo, Sheet, ShopHead,
    SizeBlock,
};

/// The house's accent where the shop sets none: walnut, 8.6 : 1 on white.
pub const WALNUT: &str = "#7A3A1E";

/// The document, the shop and the words around page numbers.
pub fn sheet(shop: &Shop, title: String) -> Sheet {
    sheet_in(english(), shop, title)
}

/// The same for a document in another language.
pub fn sheet_in(language: &Language, shop: &Shop, title: String) -> Sheet {
    let word = |id: &str| language.label(id, &[]);
    let contact: Vec<String> = std::iter::once(&shop.name).chain(&shop.contact).cloned().collect();
    Sheet {
        title,
        lang: language.code.to_owned(),
        paper: shop.paper.word().to_owned(),
        shop: ShopHead {
            name: shop.name.clone(),
            contact_line: contact.join(" · "),
            contact_parts: contact.iter().map(|text| contact_part(text)).collect(),
            contact,
            logo: shop.logo.as_ref().map(|logo| logo_name(&logo.value).to_owned()),
            font: shop.font.as_ref().map(|font| font.value.clone()),
            accent: shop.accent.as_ref().map_or(WALNUT, |accent| accent.value.as_str()).to_owned(),
        },
        words: PageWords { sheet: word("sheet"), page: word("page"), of: word("of") },
    }
}

/// What can be followed in a part of the contact line: an address of e-mail or web, or a telephone
/// number of at least seven figures.
fn contact_part(text: &str) -> ContactPart {
    let plain = text.trim();
    let one_word = !plain.contains(char::is_whitespace);
    let figures: String = plain.chars().filter(|c| c.is_ascii_digit() || *c == '+').collect();
    let telephone = plain.chars().all(|c| c.is_ascii_digit() || "+-–(). /".contains(c));
    let address = match plain.split_once('@') {
        Some((name, host)) if one_word && !name.is_empty() && host.contains('.') => {
            Some(format!("mailto:{plain}"))
        }
        _ if one_word && plain.starts_with("www.") => Some(format!("https://{plain}")),
        _ if one_word && plain.contains("://") => Some(plain.to_owned()),
        _ if telephone && figures.len() >= 7 => Some(format!("tel:{figures}")),
        _ => None,
    };
    ContactPart { text: text.to_owned(), address }
}

/// The name under which a layout finds the logo of a path.
pub fn logo_name(path: &str) -> &'static str {
    if path.to_lowercase().ends_with(".svg") { "logo.svg" } else { "logo.png" }
}

/// "25–014": a hyphen between figures is a dash on paper.
pub fn stock_number(piece: &Piece) -> String {
    dashed(piece.name())
}

/// The same of a piece's or an order's name.
pub fn dashed(name: &str) -> String {
    let name: Vec<char> = name.chars().collect();
    let is_digit = |i: usize| name.get(i).is_some_and(char::is_ascii_digit);
    let letters = name.iter().enumerate().map(|(i, &c)| {
        if c == '-' && i > 0 && is_digit(i - 1) && is_digit(i + 1) { '–' } else { c }
    });
    letters.collect()
}

/// "No. 25–014".
pub fn numbered(piece: &Piece) -> String {
    format!("No. {}", stock_number(piece))
}

/// The cautions a buyer reads; after the last one, once, their sources and that such words are
/// general information. A card has two sides: several cautions are said in their short words.
pub fn cautions_on_card(words: &describe::Words, language: &Language) -> Cautions {
    let printed = words.cautions.iter().filter(|c| c.strength != Strength::ShopNote);
    match printed.count() {
        0 | 1 => labelled(words, language, |caution| &caution.text),
        _ => labelled(words, language, |caution| caution.short.as_ref().unwrap_or(&caution.text)),
    }
}

fn labelled(
    words: &describe::Words,
    language: &Language,
    say: fn(&describe::Caution) -> &String,
) -> Cautions {
    let printed = words.cautions.iter().filter(|c| c.strength != Strength::ShopNote);
    let sources = sources_line(printed.clone(), language);
    let entry = |c: &describe::Caution| Caution { text: say(c).clone(), source: None };
    let mut entries: Vec<Caution> = printed.map(entry).collect();
    if let Some(last) = entries.last_mut() {
        let said: Vec<String> = sources.into_iter().chain(words.cautions_tail.clone()).collect();
        last.source = (!said.is_empty()).then(|| said.join(" "));
    }
    let label = if entries.len() > 1 { "cautions" } else { "caution" };
    Cautions { label: language.label(label, &[]), entries }
}

/// The pictures as the layout gets them, and which photo each is made from.
pub fn pictures<'a>(
    subject: &Subject,
    shots: impl Iterator<Item = &'a Shot<'a>>,
) -> (Vec<Photo>, Vec<PictureUse>) {
    let shots: Vec<&Shot> = shots.collect();
    let of = shots.len();
    shots
        .iter()
        .enumerate()
        .map(|(i, shot)| {
            let fit = fit_at(i);
            let (width, height) = if i == 0 { shot.main } else { shot.small };
            let shows = shot.photo.shows.as_deref().map(sentence);
            let title = &subject.piece.title.value;
            let alt = shows
                .clone()
                .unwrap_or_else(|| format!("Photograph of {title}, {} of {of}", i + 1));
            let file = picture_name(i);
            let uses = PictureUse { name: file.clone(), photo: shot.index, fit };
            (Photo { file, width, height, alt, caption: shows }, uses)
        })
        .unzip()
}

/// The overall size in the shop's unit first.
pub fn size_block(subject: &Subject) -> Option<SizeBlock> {
    let size = subject.words.size.as_ref()?;
    let (first, second) = match subject.shop.units {
        LengthUnit::Inch => (&size.inches, &size.centimetres),
        LengthUnit::Centimetre => (&size.centimetres, &size.inches),
    };
    Some(SizeBlock {
        label: "Size".to_owned(),
        first: first.clone(),
        second: second.clone(),
        order: order(subject.piece),
        weight: subject.words.weight.clone(),
    })
}

/// "width × depth × height", of what is known, and "each" for a set.
fn order(piece: &Piece) -> String {
    let sides = [(&piece.width, "width"), (&piece.depth, "depth"), (&piece.height, "height")];
    let known: Vec<&str> =
        sides.iter().filter(|(side, _)| side.is_some()).map(|(_, word)| *word).collect();
    let each = if piece.count > 1 { ", each" } else { "" };
    format!("{}{each}", known.join("\u{a0}×\u{a0}"))
}

/// The scale drawing; nothing when no height, or neither width nor depth, is known.
pub fn drawing(subject: &Subject) -> Option<Drawing> {
    let (piece, units) = (subject.piece, subject.shop.units);
    let height = piece.height.map(|at| at.value)?;
    let (width, depth) = (piece.width.map(|at| at.value), piece.depth.map(|at| at.value));
    if width.is_none() && depth.is_none() {
        return None;
    }
    let outline = piece.outline.clone().unwrap_or_default();
    let door = match units {
        LengthUnit::Inch => "door 80\u{a0}in",
        LengthUnit::Centimetre => "door 203\u{a0}cm",
    };
    Some(Drawing {
        alt: alternative(subject.words.size.as_ref(), units),
        shape: shape(piece),
        width_16: width.and_then(sixteenths),
        depth_16: depth.and_then(sixteenths),
        height_16: sixteenths(height)?,
        legs_16: outline.legs.and_then(sixteenths),
        top_16: outline.top.and_then(sixteenths),
        seat_16: outline.seat.and_then(sixteenths),
        rows: outline.rows,
        width: width.map(|w| figure(w, units)),
        depth: depth.map(|d| figure(d, units)),
        height: figure(height, units),
        front: "front".to_owned(),
        side: "side".to_owned(),
        door: door.to_owned(),
        note: match units {
            LengthUnit::Inch => "Scale {scale}, inches.".to_owned(),
            LengthUnit::Centimetre => "Scale {scale}, centimetres.".to_owned(),
        },
    })
}

fn alternative(size: Option<&Size>, units: LengthUnit) -> String {
    let spoken = size.map_or(String::new(), |size| format!(", {}", size.spoken));
    let door = match units {
        LengthUnit::Inch => "80 inches",
        LengthUnit::Centimetre => "203 centimetres",
    };
    format!("Front and side to scale{spoken}, beside a door {door} high")
}

fn shape(piece: &Piece) -> DrawingShape {
    let found = piece.kind.as_ref().and_then(|word| kind(word)).map_or(Shape::Other, |k| k.shape);
    match found {
        Shape::Case => DrawingShape::Case,
        Shape::Lidded => DrawingShape::Lidded,
        Shape::Table => DrawingShape::Table,
        Shape::Seat => DrawingShape::Seat,
        Shape::Shelves => DrawingShape::Shelves,
        Shape::Other => DrawingShape::Other,
    }
}

fn sixteenths(length: Length) -> Option<u32> {
    let (whole, rest) = length.inches_and_sixteenths();
    u32::try_from(whole * 16 + rest).ok().filter(|&n| n > 0)
}

/// The figure of a side in the shop's unit, without the unit.
fn figure(length: Length, units: LengthUnit) -> String {
    match units {
        LengthUnit::Inch => inches(length),
        LengthUnit::Centimetre => centimetres(length),
    }
}

/// Sentences under one label: "Wood" and what it is.
pub fn label_text(parts: &[String]) -> String {
    parts.iter().map(|part| sentence(&capital(part))).collect::<Vec<_>>().join(" ")
}
