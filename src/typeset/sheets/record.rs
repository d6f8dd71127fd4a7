//! The shop record: one piece for the owner's binder.

mod facts;

use super::common::{numbered, sheet};
use super::stock::short_date;
use super::{Shot, Subject, draft, layouts, picture_name};
use crate::describe::wording::{date, sentence};
use crate::describe::{Caution, Strength, english, sources_line};
use crate::model::{Hours, Moment, Money, Piece, grouped, round};
use crate::reckon::tally::Tally;
use crate::typeset::press::{Draft, PictureUse};
use crate::typeset::view::{
    HoursText, OwnerNote, Photo, RecipeStep, RecordHours, RecordMoney, RecordPicture, Row, RowKind,
    ShopRecord, TaskHours,
};
use chrono::NaiveDate;
use dovetally_photo::Fit;
use rust_decimal::Decimal;
use rust_decimal::prelude::ToPrimitive;

const DASH: &str = "–";

/// The draft of a piece's shop record.
pub fn shop_record(subject: &Subject) -> Draft {
    let piece = subject.piece;
    let (pictures, uses) = pictures(subject);
    let as_of = last_day(piece);
    let view = ShopRecord {
        sheet: sheet(subject.shop, format!("Shop record of {}", piece.title.value)),
        head: "Shop record".to_owned(),
        number: numbered(piece),
        piece: piece.title.value.clone(),
        foot: format!("{} · shop record, not for the customer", subject.shop.name),
        as_of: as_of.map(date).unwrap_or_default(),
        pictures,
        money: subject.tally.map(|tally| money(subject, tally)),
        hours: hours(piece),
        recipe: subject
            .words
            .recipe
            .iter()
            .map(|step| RecipeStep {
                text: step.text.clone(),
                on: step.on.map(|on| short_date(on, as_of)).unwrap_or_default(),
            })
            .collect(),
        story: story(subject),
        facts: facts::facts(subject),
        notes: notes(subject),
        notes_tail: subject.words.notes_tail.clone().unwrap_or_default(),
    };
    draft(layouts::SHOP_RECORD, &view, uses, subject.ident("shop record"))
}

/// The first picture before and the first after, the same size side by side.
fn pictures(subject: &Subject) -> (Vec<RecordPicture>, Vec<PictureUse>) {
    let moments = [(Moment::Before, "Before"), (Moment::After, "After")];
    let found = moments
        .into_iter()
        .filter_map(|(moment, word)| Some((word, subject.shots_of(moment).next()?)));
    found.enumerate().map(|(i, (word, shot))| picture(subject, i, word, shot)).unzip()
}

fn picture(subject: &Subject, i: usize, word: &str, shot: &Shot) -> (RecordPicture, PictureUse) {
    let file = picture_name(i);
    let shows = shot.photo.shows.as_deref().map(sentence);
    let day = shot.photo.on.map(|on| format!("{}.", date(on.value)));
    let caption: Vec<String> = day.into_iter().chain(shows.clone()).collect();
    let title = &subject.piece.title.value;
    let photo = Photo {
        file: file.clone(),
        width: shot.small.0,
        height: shot.small.1,
        alt: shows.unwrap_or_else(|| format!("Photograph of {title}, {}", word.to_lowercase())),
        caption: None,
    };
    let moment = if caption.is_empty() { format!("{word}.") } else { format!("{word},") };
    let picture = RecordPicture { photo, moment, caption: caption.join(" ") };
    (picture, PictureUse { name: file, photo: shot.index, fit: Fit::Small })
}

fn money(subject: &Subject, tally: &Tally) -> RecordMoney {
    let figures = Figures { subject };
    let mut cost = vec![figures.item("Purchase", Some(tally.purchase))];
    for (label, amount) in [
        ("Materials", tally.materials),
        ("Paid work", tally.paid_work),
        ("Freight-in", tally.freight_in),
        ("Parts put in, less taken out", tally.salvaged),
    ] {
        if !amount.is_zero() {
            cost.push(figures.item(label, Some(amount)));
        }
    }
    cost.push(figures.row("Cost of goods", Some(tally.cost_of_goods), RowKind::Total));
    let result = if tally.price.is_some() { figures.result(tally) } else { figures.asked(tally) };
    let ratios = if tally.price.is_some() { figures.ratios(tally) } else { Vec::new() };
    let mut money = RecordMoney { cost, result, ratios };
    for ledger in [&mut money.cost, &mut money.result] {
        figures.sign_ends(ledger);
    }
    money
}

struct Figures<'a> {
    subject: &'a Subject<'a>,
}

impl Figures<'_> {
    fn row(&self, label: &str, amount: Option<Money>, kind: RowKind) -> Row {
        let decimals = self.subject.shop.currency.decimals;
        let amount = amount.map_or(DASH.to_owned(), |amount| grouped(amount, decimals));
        Row { label: label.to_owned(), amount, kind }
    }

    fn item(&self, label: &str, amount: Option<Money>) -> Row {
        self.row(label, amount, RowKind::Item)
    }

    fn result(&self, tally: &Tally) -> Vec<Row> {
        let part = tally.units.sold < tally.units.of;
        let cost = if part { "less cost of what was sold" } else { "less cost of goods" };
        let mut rows = vec![
            self.item("Price", tally.price),
            self.item(cost, Some(-tally.cost_sold)),
            self.row("Gross profit", tally.gross_profit, RowKind::Subtotal),
            self.item("less selling costs", Some(-tally.selling_costs)),
        ];
        let spelled = |words| self.subject.shop.home().spelling.of(words);
        match tally.net_after_labour.zip(tally.net) {
            Some((after, net)) => rows.extend([
                self.row("Net", Some(net), RowKind::Subtotal),
                self.item(&spelled("less labour"), Some(after - net)),
                self.row(&spelled("Net after labour"), Some(after), RowKind::Total),
            ]),
            None => rows.push(self.row("Net", tally.net, RowKind::Total)),
        }
        rows
    }

    /// What is asked, while nothing is sold.
    fn asked(&self, tally: &Tally) -> Vec<Row> {
        let listing = self.subject.piece.listing.as_ref();
        let Some(asked) = listing.and_then(|listing| listing.price) else { return Vec::new() };
        vec![
            self.item("Price asked", Some(asked.value)),
            self.item("less cost of goods", Some(-tally.cost_of_goods)),
            self.row(
                "Left before fees and delivery",
                Some(asked.value - tally.cost_of_goods),
                RowKind::Total,
            ),
        ]
    }

    fn ratios(&self, tally: &Tally) -> Vec<Row> {
        let percent = |ratio: Option<Decimal>| {
            ratio.map_or(DASH.to_owned(), |r| {
                format!("{}\u{a0}%", grouped(r * Decimal::ONE_HUNDRED, 1))
            })
        };
        let ratio = |label: &str, amount: String| Row {
            label: label.to_owned(),
            amount,
            kind: RowKind::Item,
        };
        vec![
            self.item("Earned per hour", tally.per_hour),
            ratio("Gross margin", percent(tally.gross_margin)),
            ratio("Markup", percent(tally.markup)),
        ]
    }

    /// The currency's sign on the first and the last amount of a ledger, and on no other.
    fn sign_ends(&self, rows: &mut [Row]) {
        let symbol = &self.subject.shop.currency.symbol;
        let last = rows.len().saturating_sub(1);
        for (i, row) in rows.iter_mut().enumerate() {
            if (i == 0 || i == last) && row.amount != DASH {
                row.amount = match row.amount.strip_prefix('−') {
                    Some(digits) => format!("−{symbol}{digits}"),
                    None => format!("{symbol}{}", row.amount),
                };
            }
        }
    }
}

/// Hours by task, the largest first; tasks of the same name are one.
fn hours(piece: &Piece) -> Option<RecordHours> {
    let mut tasks: Vec<(String, Hours)> = Vec::new();
    for work in &piece.work {
        let name = if work.task.is_empty() { "all work".to_owned() } else { work.task.clone() };
        match tasks.iter_mut().find(|(task, _)| *task == name) {
            Some((_, hours)) => *hours += work.hours,
            None => tasks.push((name, work.hours)),
        }
    }
    tasks.sort_by_key(|(_, hours)| std::cmp::Reverse(*hours));
    let (longest, most) = tasks.first().filter(|(_, hours)| !hours.is_zero())?.clone();
    let bar = |hours: Hours| {
        let part = hours.minutes() * Decimal::from(10_000) / most.minutes();
        round(part, 0).to_u32().unwrap_or_default()
    };
    Some(RecordHours {
        finding: format!("Most of the time went into {longest}: {} hours", said(most)),
        total: hours_text(piece.hours().unwrap_or_default()),
        total_label: "Together".to_owned(),
        tasks: tasks
            .iter()
            .map(|(task, hours)| TaskHours {
                task: crate::describe::wording::capital(task),
                hours: hours_text(*hours),
                bar: bar(*hours),
            })
            .collect(),
    })
}

fn said(hours: Hours) -> String {
    hours.decimal(2).normalize().to_string()
}

/// Hours in quarters where they fit, else with two decimals.
fn hours_text(time: Hours) -> HoursText {
    let hours = time.decimal(4);
    let fraction = match (hours.fract() * Decimal::from(4)).normalize().to_string().as_str() {
        "0" => Some(""),
        "1" => Some("¼"),
        "2" => Some("½"),
        "3" => Some("¾"),
        _ => None,
    };
    let whole = |text: String| if text == "0" { String::new() } else { text };
    match fraction {
        Some("") => {
            HoursText { whole: hours.trunc().normalize().to_string(), fraction: String::new() }
        }
        Some(fraction) => HoursText {
            whole: whole(hours.trunc().normalize().to_string()),
            fraction: fraction.to_owned(),
        },
        None => HoursText { whole: said(time), fraction: String::new() },
    }
}

/// The way from as found to finished, in one paragraph.
fn story(subject: &Subject) -> String {
    let told = &subject.words.before_after;
    let all = told.before.iter().chain(&told.work).chain(&told.days).chain(&told.after);
    all.map(String::as_str).collect::<Vec<_>>().join(" ")
}

/// What the materials and tasks of this piece ask of the owner, by topic, each with its reason.
fn notes(subject: &Subject) -> Vec<OwnerNote> {
    let own = subject.words.cautions.iter().filter(|c| c.strength == Strength::ShopNote);
    own.map(|c| OwnerNote {
        topic: c.topic.clone().unwrap_or_default(),
        text: c.text.clone(),
        source: because(c),
    })
    .collect()
}

/// "Because …. Source: …."
fn because(caution: &Caution) -> String {
    let source = sources_line(std::iter::once(caution), english());
    let because = format!("Because {}.", caution.reason);
    source.map_or(because.clone(), |source| format!("{because} {source}"))
}

/// The last day anything happened to the piece.
fn last_day(piece: &Piece) -> Option<NaiveDate> {
    let bought = piece.bought.iter().map(|b| b.on.value);
    let costs = piece.cost.iter().map(|c| c.on.value);
    let drawn = piece.used.iter().map(|u| u.on.value);
    let worked = piece.work.iter().filter_map(|w| w.on).map(|on| on.value);
    let coats = piece.coat.iter().filter_map(|c| c.last).map(|on| on.value);
    let listed = piece.listing.iter().filter_map(|l| l.on).map(|on| on.value);
    let sold = piece.sale.iter().map(|s| s.on.value);
    let back = piece.returned.iter().map(|r| r.on.value);
    let gone = piece.withdrawn.iter().map(|w| w.on.value);
    bought
        .chain(costs)
        .chain(drawn)
        .chain(worked)
        .chain(coats)
        .chain(listed)
        .chain(sold)
        .chain(back)
        .chain(gone)
        .max()
}
