//! The year as JSON: the keys are part of the program's promise and never change their meaning.

use super::bank::outcome;
use super::places::Places;
use crate::model::{Closed, Exempt, LineUnit, Money, Shop, Sources, plain};
use crate::reckon::year::{
    BankMatch, BankRow, Filing, FormLine, MissingRecord, Payee, Reconciliation, RecordFault,
    SelfEmployment, TaxFigure, TaxPlace, Total, Year,
};
use rust_decimal::Decimal;
use serde_json::{Map, Value, json};

/// The year's figures. Amounts are strings with the currency's decimals, `whole` is a string of
/// whole units, miles carry the digits they have, what is absent is `null`.
pub fn year_json(shop: &Shop, year: &Year, sources: &Sources) -> Value {
    let json = Json { decimals: shop.currency.decimals, places: Places::new(sources) };
    let list = |values: Vec<Value>| Value::Array(values);
    json!({
        "year": year.year,
        "from": year.period.first.to_string(),
        "to": year.period.last.to_string(),
        "up_to": year.up_to.map(|on| on.to_string()),
        "form": year.form,
        "currency": shop.currency.code,
        // A year is reckoned whole or not at all.
        "complete": true,
        "lines": list(year.lines.iter().map(|line| json.line(line)).collect()),
        "opening_stock": json.amount(year.total(Total::OpeningStock)),
        "closing_stock": json.amount(year.total(Total::ClosingStock)),
        "cost_of_goods_sold": json.amount(year.total(Total::CostOfGoodsSold)),
        "proof": {
            "from_pieces": json.amount(year.proof.from_pieces),
            "from_stock": json.amount(year.proof.from_stock),
            "holds": year.proof.holds,
        },
        "self_employment": year.self_employment.as_ref().map(|found| json.tax(found)),
        "trips": { shop.home().distance.word(): digits(year.trips.distance), "amount": json.amount(year.trips.amount) },
        "tax_collected": json.amount(year.tax(TaxFigure::Collected)),
        "sales_tax": json.sales_tax(year),
        "payees": list(year.payees.iter().filter_map(|payee| json.payee(payee)).collect()),
        "channels": list(year.channels.iter().map(|channel| json.channel(channel)).collect()),
        "bank": year.bank.as_ref().map(|bank| json.bank(bank)),
        "missing_records": list(year.missing_records.iter().map(|one| json.record(one)).collect()),
    })
}

/// A number with the digits it has: miles.
pub(super) fn digits(number: Decimal) -> String {
    number.normalize().to_string()
}

/// What a record lacks, as a word for machines, and the receipt it names.
pub(super) fn lacking(fault: &RecordFault) -> (&'static str, Option<&str>) {
    match fault {
        RecordFault::Unnamed => ("receipt", None),
        RecordFault::NotThere(path) => ("file", Some(path)),
        RecordFault::OfOtherDay(path, _) => ("own-receipt", Some(path)),
    }
}

struct Json<'a> {
    decimals: u32,
    places: Places<'a>,
}

impl Json<'_> {
    fn amount(&self, amount: Money) -> String {
        plain(amount, self.decimals)
    }

    fn line(&self, line: &FormLine) -> Value {
        let amount = line.amount.map(|amount| match line.unit {
            LineUnit::Distance => digits(amount),
            LineUnit::Money | LineUnit::Answer => self.amount(amount),
        });
        json!({
            "line": line.number,
            "label": line.label,
            "amount": amount,
            "whole": line.whole.map(|whole| plain(whole, 0)),
            "answer": line.answer,
        })
    }

    fn tax(&self, found: &SelfEmployment) -> Value {
        json!({
            "net_profit": self.amount(found.net_profit),
            "net_earnings": self.amount(found.net_earnings),
            "social_security": self.amount(found.social_security),
            "medicare": self.amount(found.medicare),
            "tax": self.amount(found.tax),
            "half": self.amount(found.half),
        })
    }

    fn payee(&self, payee: &Payee) -> Option<Value> {
        let name = payee.name.as_ref()?;
        let reports = payee.reports.iter().map(|report| {
            json!({
                "form": report.form,
                "amount": self.amount(report.amount),
                "reached": report.reached,
            })
        });
        Some(json!({
            "payee": name,
            "paid": self.amount(payee.paid),
            "reported": self.amount(payee.reported()),
            "to_report": payee.to_report(),
            "reports": reports.collect::<Vec<Value>>(),
        }))
    }

    fn channel(&self, channel: &Reconciliation) -> Value {
        json!({
            "channel": channel.channel,
            "reported": channel.reported.map(|amount| self.amount(amount)),
            "price": self.amount(channel.price),
            "delivery": self.amount(channel.delivery),
            "tax": self.amount(channel.tax),
            "fees": self.amount(channel.fees),
            "refunds": self.amount(channel.refunds),
            "expected": self.amount(channel.expected),
            "explained": self.amount(channel.explained),
            "cause": channel.cause,
            "unexplained": channel.unexplained.map(|amount| self.amount(amount)),
        })
    }

    fn sales_tax(&self, year: &Year) -> Value {
        let place = |place: &TaxPlace| {
            json!({
                "key": place.key,
                "label": place.label,
                "rate": place.rate.map(digits),
                "at_start": self.amount(place.at_start),
                "collected": self.amount(place.collected),
                "remitted": self.amount(place.remitted),
                "kept": self.amount(place.kept),
                "held": self.amount(place.held),
                "by_channels": self.amount(place.marketplace),
            })
        };
        json!({
            "at_start": self.amount(year.tax(TaxFigure::AtStart)),
            "collected": self.amount(year.tax(TaxFigure::Collected)),
            "remitted": self.amount(year.tax(TaxFigure::Remitted)),
            "kept": self.amount(year.tax(TaxFigure::Kept)),
            "held": self.amount(year.tax(TaxFigure::Held)),
            "holds": year.tax_holds,
            "unpaid": self.amount(year.total(Total::TaxUnpaid)),
            "by_channels": self.amount(year.tax(TaxFigure::Marketplace)),
            "places": year.tax_places.iter().map(place).collect::<Vec<Value>>(),
            "filings": year.filings.iter().map(|one| self.filing(one)).collect::<Vec<Value>>(),
        })
    }

    fn filing(&self, one: &Filing) -> Value {
        let reason = |(reason, amount): &(Exempt, Money)| {
            (reason.word().to_owned(), json!(self.amount(*amount)))
        };
        json!({
            "key": one.key,
            "period": one.name,
            "from": one.period.first.to_string(),
            "to": one.period.last.to_string(),
            "rate": digits(one.rate),
            "owed": if one.when_paid { "when-paid" } else { "when-sold" },
            "gross": self.amount(one.gross),
            "by_channels": self.amount(one.by_channels),
            "exempt": one.exempt.iter().map(reason).collect::<Map<String, Value>>(),
            "delivery_not_taxed": self.amount(one.delivery),
            "taxable": self.amount(one.taxable),
            "tax": self.amount(one.tax),
            "remitted": self.amount(one.remitted),
            "kept": self.amount(one.kept),
            "due": self.amount(one.due),
            "at_start": self.amount(one.at_start),
            "held": self.amount(one.held),
        })
    }

    fn bank(&self, bank: &BankMatch) -> Value {
        json!({
            "deposits": self.amount(bank.deposits),
            "matched": self.amount(bank.matched),
            "extra": self.amount(bank.extra),
            "expected": self.amount(bank.expected),
            "found": self.amount(bank.found),
            "missing": self.amount(bank.missing),
            "rows": bank.rows.iter().map(|row| self.bank_row(row)).collect::<Vec<Value>>(),
        })
    }

    fn bank_row(&self, row: &BankRow) -> Value {
        json!({
            "outcome": outcome(row),
            "on": row.on.to_string(),
            "amount": self.amount(row.amount),
            "expected": row.expected.map(|amount| self.amount(amount)),
            "text": row.text,
            "sales": row.sales,
            "place": self.places.line(row.place),
        })
    }

    fn record(&self, one: &MissingRecord) -> Value {
        let part = &one.part;
        let (lacks, receipt) = lacking(&one.fault);
        json!({
            "on": part.on.map(|on| on.to_string()),
            "what": &*part.what,
            "amount": self.amount(part.amount),
            "place": self.places.line(part.place),
            "lacks": lacks,
            "receipt": receipt,
        })
    }
}
