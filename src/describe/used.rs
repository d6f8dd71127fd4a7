//! Every row of the tables that a shop's words use, with what is known of its sources: for the owner,
//! who should read again what is weak before it is relied on.

use super::finishes::Finish;
use super::languages::english;
use super::own_finishes::Finishes;
use super::sources::{Source, sources_of};
use super::subject::Subject;
use super::table::Seen;
use super::woods::Species;
use super::{care, cautions};
use crate::model::Shop;
use chrono::NaiveDate;

/// A row, and the pieces it was used for.
#[derive(Clone, Debug)]
pub struct UsedRow {
    /// "caution lead-found", "finish shellac".
    pub row: String,
    /// Numbers of pieces, in the order of the shop.
    pub by: Vec<String>,
    pub rests_on: Vec<RestsOn>,
}

/// One thing a row rests on.
#[derive(Clone, Debug)]
pub struct RestsOn {
    /// Its name, with its own day.
    pub name: String,
    pub seen: Seen,
    /// The day it was read, or written down from memory.
    pub as_of: NaiveDate,
    /// Where it was read.
    pub place: Option<String>,
    /// What should be read again.
    pub again: Option<String>,
}

impl UsedRow {
    /// How well the weakest of what it rests on is known.
    pub fn weakest(&self) -> Seen {
        let order = |seen: &Seen| match seen {
            Seen::Own => 0,
            Seen::Shop => 1,
            Seen::Secondary => 2,
            Seen::Memory => 3,
        };
        self.rests_on.iter().map(|on| on.seen).max_by_key(order).unwrap_or(Seen::Memory)
    }
}

/// Every row used for the pieces of a shop, in the order in which it is first used.
pub fn rows_used(shop: &Shop) -> Vec<UsedRow> {
    let finishes = Finishes::of(shop);
    let mut used: Vec<UsedRow> = Vec::new();
    for piece in &shop.pieces {
        let subject = Subject::new(piece, &finishes);
        for (row, rests_on) in of_piece(&subject, shop) {
            let known = used.iter().position(|one| one.row == row);
            let index = known.unwrap_or_else(|| {
                used.push(UsedRow { row, by: Vec::new(), rests_on });
                used.len() - 1
            });
            let by = &mut used[index].by;
            if by.last().map(String::as_str) != Some(piece.name()) {
                by.push(piece.name().to_owned());
            }
        }
    }
    used
}

type Row = (String, Vec<RestsOn>);

fn of_piece(subject: &Subject, shop: &Shop) -> Vec<Row> {
    let named = |kind: &str, name: &str, ids: &[String]| {
        (format!("{kind} {name}"), sources_of(ids).map(of_source).collect::<Vec<_>>())
    };
    let decided = cautions::decide(subject, shop, english());
    let cautions = decided.iter().map(|c| named("caution", &c.id, cautions::sources_of_row(&c.id)));
    let care = care::used(subject).into_iter().map(|(text, ids)| named("care", &quoted(text), ids));
    let finishes = subject.finishes.iter().flatten().map(|finish| of_finish(finish));
    let woods = subject.woods.iter().map(|wood| of_wood(wood));
    cautions.chain(finishes).chain(care).chain(woods).collect()
}

/// The beginning of a line, as its name.
fn quoted(text: &str) -> String {
    let words: Vec<&str> = text.split_whitespace().take(6).collect();
    format!("“{} …”", words.join(" "))
}

fn of_source(source: &Source) -> RestsOn {
    RestsOn {
        name: source.named(english()),
        seen: source.seen,
        as_of: source.as_of,
        place: source.place.clone(),
        again: source.again.clone(),
    }
}

fn of_finish(finish: &Finish) -> Row {
    let again = (finish.seen != Seen::Own).then(|| "the can, or its maker's data sheet".to_owned());
    let on = RestsOn {
        name: finish.source.clone(),
        seen: finish.seen,
        as_of: finish.as_of,
        place: None,
        again,
    };
    (format!("finish {}", finish.name), vec![on])
}

fn of_wood(wood: &Species) -> Row {
    let known = |read: bool| if read { Seen::Own } else { Seen::Memory };
    let figures = RestsOn {
        name: wood.source.clone(),
        seen: known(wood.seen),
        as_of: wood.as_of,
        place: None,
        again: (!wood.seen).then(|| "published figures for this wood".to_owned()),
    };
    let trade = (!wood.trade.starts_with("not listed")).then(|| RestsOn {
        name: format!("across borders: {}", wood.trade),
        seen: known(wood.trade_seen),
        as_of: wood.as_of,
        place: None,
        again: (!wood.trade_seen).then(|| "the CITES Appendices now in force".to_owned()),
    });
    (format!("wood {}", wood.name), std::iter::once(figures).chain(trade).collect())
}
