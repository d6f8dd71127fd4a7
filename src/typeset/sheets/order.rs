//! The papers of an order: the estimate before the work, and the customer's receipt and the owner's
//! record once it is done. They have the layout of the buyer's receipt: amounts, words, two lines to
//! sign on.

use super::common::{dashed, sheet};
use super::receipt::{how, rows};
use super::{draft, layouts};
use crate::describe::wording::{capital, date, money, sentence};
use crate::model::{Money, Order, Shop, grouped};
use crate::reckon::orders::Worked;
use crate::typeset::press::Draft;
use crate::typeset::view::{ReceiptView, Row, RowKind};

/// What an order's paper is.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum OrderPaper {
    /// What is asked, before the work.
    Estimate,
    /// What the customer is given with the piece.
    Receipt,
    /// What the owner keeps.
    Record,
}

/// The draft of a paper of an order.
pub fn order_paper(shop: &Shop, order: &Order, paper: OrderPaper) -> Draft {
    let made = Maker { shop, order };
    let (view, name) = match paper {
        OrderPaper::Estimate => (made.estimate(), "estimate"),
        OrderPaper::Receipt => (made.receipt(), "receipt"),
        OrderPaper::Record => (made.record(), "record"),
    };
    let ident = format!("{} / {} / {name}", shop.name, order.folder);
    draft(layouts::BUYERS_RECEIPT, &view, Vec::new(), ident)
}

struct Maker<'a> {
    shop: &'a Shop,
    order: &'a Order,
}

impl Maker<'_> {
    fn view(&self, heading: &str) -> ReceiptView {
        let order = self.order;
        let done = order.done.unwrap_or(order.on);
        ReceiptView {
            sheet: sheet(self.shop, format!("{heading}, {}", order.title.value)),
            size: "sheet".to_owned(),
            heading: heading.to_owned(),
            number: format!("No. {}", dashed(order.name())),
            on: date(done.value),
            buyer: order.customer.as_ref().map(|customer| format!("For {customer}")),
            piece: order.title.value.clone(),
            what: order.piece.as_ref().map(|piece| capital(piece)).unwrap_or_default(),
            amounts: self.asked(),
            paid: self.paid(),
            balance: String::new(),
            disclosed_heading: "As received".to_owned(),
            disclosed: rows([("Condition", self.received())]),
            sources: String::new(),
            stated_heading: "As stated by the shop".to_owned(),
            stated: Vec::new(),
            signatures: vec!["for the shop".to_owned(), "the customer".to_owned()],
        }
    }

    fn received(&self) -> Vec<String> {
        self.order.received.iter().map(|received| sentence(received)).collect()
    }

    fn estimate(&self) -> ReceiptView {
        let order = self.order;
        let holds =
            order.until.map(|until| format!("This estimate holds until {}.", date(until.value)));
        let owed = order.price() - order.paid();
        let paid = (!order.payment.is_empty())
            .then(|| format!("Still to pay when the work is done: {}.", self.money(owed)));
        let said: Vec<String> = holds.into_iter().chain(paid).collect();
        ReceiptView {
            on: date(order.on.value),
            balance: said.join(" "),
            stated: rows([("Work", self.terms())]),
            ..self.view("Estimate")
        }
    }

    /// What is stated of sales is not true of a customer's own piece.
    fn terms(&self) -> Vec<String> {
        self.shop.terms.work.iter().map(|said| sentence(said)).collect()
    }

    fn receipt(&self) -> ReceiptView {
        ReceiptView { balance: self.balance(), ..self.view("Receipt for work") }
    }

    fn record(&self) -> ReceiptView {
        let worked = Worked::of(self.order, self.shop);
        let words = |said: Vec<String>| if said.is_empty() { vec!["–".to_owned()] } else { said };
        let bought: Vec<String> = self.order.cost.iter().map(|one| self.bought(one)).collect();
        let tasks = self.order.work.iter().map(|work| {
            let task = if work.task.is_empty() { "all work" } else { &work.task };
            let note = work.note.as_ref().map(|note| format!(" {}", sentence(note)));
            let hours = work.hours.decimal(2).normalize();
            format!("{}, {hours}\u{a0}h.{}", capital(task), note.unwrap_or_default())
        });
        let earned = vec![
            format!("{} left after costs.", self.money(worked.net)),
            match worked.per_hour {
                Some(each) => format!("{} an hour.", self.money(each)),
                None => "Hours are not recorded.".to_owned(),
            },
        ];
        ReceiptView {
            balance: self.balance(),
            disclosed_heading: "What was written".to_owned(),
            disclosed: rows([
                ("As received", words(self.received())),
                ("Work", words(tasks.collect())),
                ("Bought", words(bought)),
                ("Earned", earned),
            ]),
            signatures: Vec::new(),
            ..self.view("Record of work")
        }
    }

    /// "Hide glue, 12 May 2025, $14.20."
    fn bought(&self, cost: &crate::model::Expense) -> String {
        let amount = self.money(cost.amount.value);
        format!("{}, {}, {amount}.", capital(&cost.what), date(cost.on.value))
    }

    fn money(&self, amount: Money) -> String {
        money(amount, &self.shop.currency)
    }

    fn row(&self, label: &str, amount: Money) -> Row {
        let amount = grouped(amount, self.shop.currency.decimals);
        Row { label: label.to_owned(), amount, kind: RowKind::Item }
    }

    fn asked(&self) -> Vec<Row> {
        let order = self.order;
        let lines = order.line.iter().map(|line| self.row(&capital(&line.what), line.amount.value));
        let mut rows: Vec<Row> = lines.collect();
        let together: Money = order.line.iter().map(|line| line.amount.value).sum();
        if order.charged.is_some() && order.price() != together {
            let label = if rows.is_empty() { "The work" } else { "Change from the estimate" };
            rows.push(self.row(label, order.price() - together));
        }
        let (label, amount) = ("Together".to_owned(), self.money(order.price()));
        rows.push(Row { label, amount, kind: RowKind::Total });
        rows
    }

    fn paid(&self) -> Vec<Row> {
        let rows = self.order.payment.iter().flat_map(|one| {
            let by = one.how.map(how).unwrap_or_default();
            let paid = self.row(&format!("Paid {}{by}", date(one.on.value)), one.amount.value);
            let back = one.back.map(|back| {
                self.row(&format!("Went back {}", date(back.value)), -one.amount.value)
            });
            std::iter::once(paid).chain(back)
        });
        rows.collect()
    }

    fn balance(&self) -> String {
        let owed = self.order.owed();
        match owed.cmp(&Money::ZERO) {
            std::cmp::Ordering::Greater => format!("Still to pay: {}.", self.money(owed)),
            std::cmp::Ordering::Less => format!("Paid {} too much.", self.money(-owed)),
            std::cmp::Ordering::Equal if self.order.given_up.is_some() => {
                "Nothing further is due.".to_owned()
            }
            std::cmp::Ordering::Equal => "Paid in full.".to_owned(),
        }
    }
}
