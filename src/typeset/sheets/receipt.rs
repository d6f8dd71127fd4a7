//! The buyer's receipt of a sale, and the credit receipt of what came back or was allowed: the money
//! as the accounts have it, what was disclosed, and what the owner states.

use super::common::{cautions_on_card, numbered, sheet, stock_number};
use super::{Subject, draft, layouts};
use crate::describe::english;
use crate::describe::wording::{date, money, number, sentence};
use crate::model::{
    Allowance, At, HandedOver, Money, PaidBy, Payment, Piece, Return, Sale, grouped,
};
use crate::reckon::payments::{Account, Accounts, Event, EventKind};
use crate::typeset::press::Draft;
use crate::typeset::view::{LabelRow, ReceiptView, Row, RowKind};
use chrono::NaiveDate;

/// What a receipt is printed on.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum ReceiptSize {
    Sheet,
    /// Half of a sheet, for a fair.
    Half,
}

impl ReceiptSize {
    fn word(self) -> &'static str {
        match self {
            ReceiptSize::Sheet => "sheet",
            ReceiptSize::Half => "half",
        }
    }
}

/// The draft of the receipt of a sale, by its position in the piece's file.
pub fn buyers_receipt(subject: &Subject, sale: usize, size: ReceiptSize) -> Draft {
    let made = Maker { subject, size };
    let view = made.of_sale(sale);
    let ident = subject.ident(&format!("receipt {} {}", sale + 1, size.word()));
    draft(layouts::BUYERS_RECEIPT, &view, Vec::new(), ident)
}

/// What a credit receipt is of.
#[derive(Clone, Copy)]
pub enum Credit<'a> {
    Return(&'a Return),
    Allowance(&'a Allowance),
}

impl Credit<'_> {
    /// Everything given back of a piece: what came back, then what was allowed.
    pub fn all(piece: &Piece) -> impl Iterator<Item = Credit<'_>> {
        let back = piece.returned.iter().map(Credit::Return);
        back.chain(piece.allowance.iter().map(Credit::Allowance))
    }
}

/// The draft of a credit receipt; `nth` is its position among those of the piece.
pub fn credit_receipt(subject: &Subject, nth: usize, of: Credit, size: ReceiptSize) -> Draft {
    let made = Maker { subject, size };
    let view = made.of_credit(of);
    let ident = subject.ident(&format!("credit receipt {} {}", nth + 1, size.word()));
    draft(layouts::BUYERS_RECEIPT, &view, Vec::new(), ident)
}

struct Maker<'a> {
    subject: &'a Subject<'a>,
    size: ReceiptSize,
}

impl Maker<'_> {
    fn view(&self, heading: &str, number: Option<&At<String>>, on: NaiveDate) -> ReceiptView {
        let (piece, shop) = (self.subject.piece, self.subject.shop);
        let named = match number {
            Some(number) => format!("No. {}", number.value.replace('-', "–")),
            None => format!("{}, {}", numbered(piece), date(on)),
        };
        ReceiptView {
            sheet: sheet(shop, format!("{heading}, {}", piece.title.value)),
            size: self.size.word().to_owned(),
            heading: heading.to_owned(),
            number: named,
            on: date(on),
            buyer: None,
            piece: piece.title.value.clone(),
            what: numbered(piece),
            amounts: Vec::new(),
            paid: Vec::new(),
            balance: String::new(),
            disclosed_heading: "What was disclosed".to_owned(),
            disclosed: Vec::new(),
            sources: String::new(),
            stated_heading: "As stated by the seller".to_owned(),
            stated: Vec::new(),
            signatures: vec!["for the shop".to_owned(), "the buyer".to_owned()],
        }
    }

    fn of_sale(&self, at: usize) -> ReceiptView {
        let (piece, words) = (self.subject.piece, self.subject.words);
        let sale = &piece.sale[at];
        let account =
            Accounts::of(piece, self.subject.shop.currency.decimals).sales.swap_remove(at);
        let cautions = cautions_on_card(words, english());
        let view = self.view("Receipt", sale.paper.number.as_ref(), sale.on.value);
        let told = cautions.entries.iter().map(|entry| entry.text.clone()).collect();
        let sources = cautions.entries.last().and_then(|last| last.source.clone());
        ReceiptView {
            buyer: sale.paper.buyer.as_ref().map(|buyer| format!("Sold to {buyer}")),
            what: self.what(sale),
            amounts: self.asked(sale),
            paid: self.paid(sale, &account),
            balance: self.balance(sale, &account),
            disclosed: rows([
                ("Not original", words.not_original.clone()),
                ("Condition", words.condition.clone()),
                (cautions.label.as_str(), told),
            ]),
            sources: sources.unwrap_or_default(),
            stated: self.stated(sale),
            ..view
        }
    }

    /// "No. 24–014, two of a set of four".
    fn what(&self, sale: &Sale) -> String {
        let piece = self.subject.piece;
        match (piece.count, sale.count.as_ref().map(|count| count.value)) {
            (1, _) => numbered(piece),
            (of, Some(part)) if part < of => {
                format!("{}, {} of a set of {}", numbered(piece), number(part), number(of))
            }
            (of, _) => format!("{}, a set of {}", numbered(piece), number(of)),
        }
    }

    fn amount(&self, amount: Money) -> String {
        grouped(amount, self.subject.shop.currency.decimals)
    }

    fn money(&self, amount: Money) -> String {
        money(amount, &self.subject.shop.currency)
    }

    fn row(&self, label: impl Into<String>, amount: Money) -> Row {
        Row { label: label.into(), amount: self.amount(amount), kind: RowKind::Item }
    }

    fn total(&self, label: &str, amount: Money) -> Row {
        Row { label: label.to_owned(), amount: self.money(amount), kind: RowKind::Total }
    }

    fn asked(&self, sale: &Sale) -> Vec<Row> {
        let mut rows = vec![self.row("Price", sale.price.value)];
        if !sale.delivery_charged.is_zero() {
            rows.push(self.row("Delivery", sale.delivery_charged));
        }
        if !sale.tax_collected.is_zero() {
            rows.push(self.row(self.tax(sale), sale.tax_collected));
        }
        rows.push(self.total("Together", sale.total()));
        rows
    }

    /// "Sales tax, Alder County, 6 per cent", or who collects it.
    fn tax(&self, sale: &Sale) -> String {
        let shop = self.subject.shop;
        if !shop.collects_tax(sale) {
            return format!("Sales tax, collected by {}", self.channel(sale));
        }
        let place = sale.tax_place.as_ref().and_then(|key| shop.taxes.get(&key.value));
        place.map_or("Sales tax".to_owned(), |tax| {
            format!("Sales tax, {}, {}", tax.label, super::summary::per_cent(tax.rate))
        })
    }

    fn channel(&self, sale: &Sale) -> String {
        let key = sale.channel.as_ref().map_or("", |key| key.value.as_str());
        self.subject.shop.channels.get(key).map_or(key.to_owned(), |own| own.label.clone())
    }

    /// What was paid, taken in part payment, let off and paid back, in order of time.
    fn paid(&self, sale: &Sale, account: &Account) -> Vec<Row> {
        let taken = self.taken(sale);
        let in_part: Money = taken.iter().map(|(_, worth)| *worth).sum();
        let mut rows: Vec<Row> =
            taken.into_iter().map(|(what, worth)| self.row(what, worth)).collect();
        if !account.has_payments {
            let paid = sale.total() - in_part;
            let how = sale.how.map(how).unwrap_or_default();
            if !paid.is_zero() {
                rows.push(self.row(format!("Paid {}{how}", date(sale.on.value)), paid));
            }
            rows.extend(account.events.iter().skip(1).filter_map(|event| self.event(event)));
            return rows;
        }
        rows.extend(account.events.iter().filter_map(|event| self.event(event)));
        rows.extend(self.too_much(sale));
        rows
    }

    /// What was paid too much for this sale, and given back.
    fn too_much(&self, sale: &Sale) -> Vec<Row> {
        let rows = self.over(sale).flat_map(|one| {
            let paid = self.row(format!("Paid too much {}", date(one.on.value)), one.too_much());
            let back = one
                .over_back
                .as_ref()
                .map(|back| self.row(format!("Given back {}", date(back.value)), -one.too_much()));
            std::iter::once(paid).chain(back)
        });
        rows.collect()
    }

    /// The payments for this sale of which some was too much.
    fn over(&self, sale: &Sale) -> impl Iterator<Item = &Payment> {
        let (alone, on) = (self.subject.piece.sale.len() == 1, sale.on.value);
        let of_sale = move |one: &&Payment| one.sale_on.map_or(alone, |day| day.value == on);
        self.subject.piece.payment.iter().filter(of_sale).filter(|one| one.over.is_some())
    }

    /// What the buyer gave in part payment, and what it counted for; where payments are written one by
    /// one, it stands among them.
    fn taken(&self, sale: &Sale) -> Option<(String, Money)> {
        let name = sale.paper.traded_in.as_ref()?;
        let piece = self.subject.shop.piece(&name.value)?;
        let written = !self.subject.piece.payment.is_empty();
        let worth = piece.bought.as_ref().filter(|_| !written)?.paid();
        let what =
            format!("Taken in part payment: {} ({})", piece.title.value, stock_number(piece));
        Some((what, worth.min(sale.total())))
    }

    fn event(&self, event: &Event) -> Option<Row> {
        let day = date(event.on);
        let paid = event.paid.all();
        match event.kind {
            EventKind::Payment => {
                let own = self.subject.piece.payment.iter().find(|one| one.place == event.place);
                let how = own.and_then(|one: &Payment| one.how).map(how).unwrap_or_default();
                Some(self.row(format!("Paid {day}{how}"), paid))
            }
            EventKind::Back => Some(self.row(format!("Went back {day}"), paid)),
            EventKind::Allowance | EventKind::Return => {
                let off = event.given_up().all();
                (!off.is_zero()).then(|| self.row(format!("Taken off {day}"), off))
            }
        }
    }

    fn balance(&self, sale: &Sale, account: &Account) -> String {
        let owed = account.at(NaiveDate::MAX).owed().all();
        let by = sale.paper.due.as_ref().map(|due| format!(" by {}", date(due.value)));
        let over = self.over(sale).filter(|one| one.over_back.is_none());
        let over: Money = over.map(Payment::too_much).sum();
        match (owed > Money::ZERO, over > Money::ZERO) {
            (true, _) => format!("Still to pay{}: {}.", by.unwrap_or_default(), self.money(owed)),
            (_, true) => format!("Paid in full; {} is to be given back.", self.money(over)),
            _ => "Paid in full.".to_owned(),
        }
    }

    fn stated(&self, sale: &Sale) -> Vec<LabelRow> {
        let terms = &self.subject.shop.terms;
        let handed = sale.paper.handed_over.map(|how| match how {
            HandedOver::Collected => "Collected by the buyer.",
            HandedOver::Delivered => "Delivered by the seller.",
            HandedOver::Shipped => "Shipped by a carrier.",
        });
        let own = |said: &Option<String>| said.iter().map(|said| sentence(said)).collect();
        let delivery: Vec<String> = handed
            .map(str::to_owned)
            .into_iter()
            .chain(own(&terms.delivery))
            .collect::<Vec<String>>();
        let deposits =
            if self.subject.piece.payment.is_empty() { Vec::new() } else { own(&terms.deposits) };
        rows([
            ("Sold", own(&terms.sale)),
            ("Returns", own(&terms.returns)),
            ("Deposits", deposits),
            ("Delivery", delivery),
        ])
    }

    fn of_credit(&self, of: Credit) -> ReceiptView {
        let (number, on, given, tax, count) = match of {
            Credit::Return(back) => {
                let count = back.count.as_ref().map(|count| count.value);
                (&back.number, back.on.value, back.refunded.value, back.tax_returned, count)
            }
            Credit::Allowance(one) => {
                (&one.number, one.on.value, one.amount.value, one.tax_returned, None)
            }
        };
        let view = self.view("Credit receipt", number.as_ref(), on);
        let label = match of {
            Credit::Return(_) => "Refund of price and delivery",
            Credit::Allowance(_) => "Allowance on the price",
        };
        let mut amounts = vec![self.row(label, given)];
        if !tax.is_zero() {
            amounts.push(self.row("Sales tax given back", tax));
        }
        amounts.push(self.total("Together", given + tax));
        let what = match count {
            Some(part) => format!(
                "{}, {} of the set came back",
                view.what,
                crate::describe::wording::number(part)
            ),
            None => view.what.clone(),
        };
        ReceiptView { what, amounts, balance: self.credited(of, given + tax), ..view }
    }

    /// What of it was money, and what was taken off what the buyer still owed.
    fn credited(&self, of: Credit, sum: Money) -> String {
        let (place, why) = match of {
            Credit::Return(back) => (back.place, "the piece came back".to_owned()),
            Credit::Allowance(one) => {
                (one.place, one.what.clone().unwrap_or_else(|| "the piece stays sold".to_owned()))
            }
        };
        let accounts = Accounts::of(self.subject.piece, self.subject.shop.currency.decimals);
        let events = accounts.sales.iter().flat_map(|account| &account.events);
        let own = events.filter(|event| event.place == place);
        let off: Money = match of {
            Credit::Return(_) => Money::ZERO,
            Credit::Allowance(_) => own.map(|event| event.given_up().all()).sum(),
        };
        let said = match (off.is_zero(), off == sum) {
            (true, _) => format!("{} given back", self.money(sum)),
            (_, true) => format!("{} taken off what was owed", self.money(off)),
            _ => format!(
                "{} given back and {} taken off what was owed",
                self.money(sum - off),
                self.money(off)
            ),
        };
        sentence(&format!("{said}: {why}"))
    }
}

/// ", in cash".
pub(super) fn how(how: PaidBy) -> String {
    let said = match how {
        PaidBy::Cash => "in cash",
        PaidBy::Check => "by check",
        PaidBy::Transfer => "by transfer",
        PaidBy::Card => "by card",
        PaidBy::Service => "by payment service",
    };
    format!(", {said}")
}

pub(super) fn rows<const N: usize>(said: [(&str, Vec<String>); N]) -> Vec<LabelRow> {
    let said = said.into_iter().filter(|(_, texts)| !texts.is_empty());
    said.map(|(label, texts)| LabelRow { label: label.to_owned(), text: texts.join(" ") }).collect()
}
