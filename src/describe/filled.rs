//! The shop's own wording filled in for one piece: what each placeholder says, and which lines have
//! anything to say.

use super::condition::done_line;
use super::limits::Part;
use super::template::{Bit, Line, Template};
use super::text::{Paragraph, ParagraphKind, size};
use super::wording::run_on;
use super::{Strength, Words};
use crate::model::{Piece, Shop};

/// The weight of a line without a placeholder: it goes in last.
const PLAIN: u8 = 10;

/// What placeholders stand for in one piece.
struct Known<'a> {
    shop: &'a Shop,
    piece: &'a Piece,
    words: &'a Words,
    price: Option<&'a str>,
}

impl Template {
    /// The lines for a piece, each with its weight: that of the weightiest word that says something.
    /// A line in which no placeholder says anything is left out.
    pub(crate) fn parts(
        &self,
        shop: &Shop,
        piece: &Piece,
        words: &Words,
        price: Option<&str>,
    ) -> Vec<Part> {
        let known = Known { shop, piece, words, price };
        self.lines.iter().filter_map(|line| line.part(&known)).collect()
    }
}

impl Line {
    fn part(&self, known: &Known) -> Option<Part> {
        let words = self.bits.iter().filter_map(|bit| match bit {
            Bit::Word(word) => Some(word),
            Bit::Plain(_) => None,
        });
        let asks = words.clone().next().is_some();
        let says = words.filter(|word| !known.value(word.name, false).is_empty());
        let weight = says.map(|word| word.weight).min();
        let weight = if asks { weight? } else { PLAIN };
        let (long, short) = (self.paragraph(known, false), self.paragraph(known, true));
        let short = (short != long).then_some(short);
        Some(Part { weight, paragraph: long, short })
    }

    fn paragraph(&self, known: &Known, short: bool) -> Paragraph {
        let mut text = String::new();
        for bit in &self.bits {
            let said = match bit {
                Bit::Plain(text) => text.clone(),
                Bit::Word(word) => known.value(word.name, short),
            };
            // Where a word said nothing, the spaces around it are one.
            let spaced = text.is_empty() || text.ends_with(' ');
            text += if spaced { said.trim_start_matches(' ') } else { &said };
        }
        let text = text.trim().to_owned();
        Paragraph {
            kind: ParagraphKind::Prose,
            label: None,
            sentences: vec![text],
            block: self.block,
        }
    }
}

impl Known<'_> {
    /// What a placeholder says of the piece; nothing where nothing is known.
    fn value(&self, name: &str, short: bool) -> String {
        let words = self.words;
        let text = |text: &Option<String>| text.clone().unwrap_or_default();
        match name {
            "changes" => run_on(&words.not_original),
            "condition" => run_on(&words.condition),
            "cautions" => self.cautions(short),
            "title" => self.piece.title.value.trim().to_owned(),
            "size" => size(words).unwrap_or_default(),
            "weight" => text(&words.weight),
            "wood" => text(&words.made_of),
            "finish" => text(&words.finish),
            "age" => text(&words.age.clone().filter(|_| self.piece.made.value.latest().is_some())),
            "opening" => text(&words.opening),
            "price" => self.price.unwrap_or_default().to_owned(),
            "done" => done_line(&words.done).unwrap_or_default(),
            "number" => self.piece.name().to_owned(),
            "count" if words.count > 1 => words.count.to_string(),
            "shop" => self.shop.name.clone(),
            "contact" => self.shop.contact.join("\n"),
            "story" => text(&words.story),
            "care" => run_on(&words.care.care),
            _ => String::new(),
        }
    }

    /// The tail is not said where space is short, as in the program's own wording.
    fn cautions(&self, short: bool) -> String {
        let printed = self.words.cautions.iter().filter(|c| c.strength == Strength::Caution);
        let said = printed.map(|caution| match &caution.short {
            Some(words) if short => format!("Caution: {words}"),
            _ => format!("Caution: {}", caution.text),
        });
        let tail = self.words.cautions_tail.iter().filter(|_| !short).cloned();
        let mut lines: Vec<String> = said.collect();
        if !lines.is_empty() {
            lines.extend(tail);
        }
        lines.join("\n")
    }
}
