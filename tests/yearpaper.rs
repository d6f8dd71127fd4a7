//! The income summary as paper, as tables and as JSON, from plain values.

mod period;
mod tree;
mod years;

use crate::pdf::faults;
use crate::shops::{bought, day, dec, piece, sale, shop};
use dovetally::model::{Money, Seen, Shop, Sources, grouped, plain};
use dovetally::reckon::year::{Total, Year, year};
use dovetally::reckon::{Reckoned, reckon};
use dovetally::typeset::{Press, YearTables, income_summary, year_json, year_tables};
use lopdf::{Document, Object};
use std::sync::LazyLock;
use years::{busy_shop, loss_shop, quiet_shop};

static PRESS: LazyLock<Press> = LazyLock::new(|| Press::new(&[]));

/// Everything there is of one year of a shop.
struct Printed {
    year: Year,
    tables: YearTables,
    pdf: Vec<u8>,
    words: String,
    json: serde_json::Value,
}

fn print(shop: &Shop) -> Printed {
    let reckoned: Reckoned = reckon(shop);
    let year = year(shop, &reckoned.run, &reckoned.costs, 2025).expect("a whole year");
    let sources = Sources::default();
    let tables = year_tables(shop, &year, &sources);
    let draft = income_summary(shop, &year, &tables, &sources);
    let paper = PRESS.print(&draft, &[]).unwrap_or_else(|faults| panic!("{faults:?}"));
    let words = words(&paper.pdf);
    let json = year_json(shop, &year, &sources);
    Printed { year, tables, pdf: paper.pdf, words, json }
}

/// The words on the pages, with single spaces.
pub fn words(pdf: &[u8]) -> String {
    let document = Document::load_mem(pdf).unwrap();
    let pages: Vec<u32> = document.get_pages().keys().copied().collect();
    let text = document.extract_text(&pages).unwrap();
    text.split_whitespace().collect::<Vec<_>>().join(" ")
}

/// The files inside a PDF: name and text.
pub fn attached(pdf: &[u8]) -> Vec<(String, String)> {
    let document = Document::load_mem(pdf).unwrap();
    let name = |spec: &lopdf::Dictionary| crate::pdf::text_of(spec.get(b"UF").unwrap());
    let text = |spec: &lopdf::Dictionary| {
        let files = spec.get(b"EF").and_then(Object::as_dict).unwrap();
        let (_, file) = document.dereference(files.get(b"F").unwrap()).unwrap();
        let stream = file.as_stream().unwrap();
        let bytes = stream.decompressed_content().unwrap_or_else(|_| stream.content.clone());
        String::from_utf8(bytes).unwrap()
    };
    let specs = document.objects.values().filter_map(|object| object.as_dict().ok());
    let specs = specs.filter(|spec| spec.has(b"EF"));
    specs.map(|spec| (name(spec), text(spec))).collect()
}

#[test]
fn the_paper_is_archival_and_says_what_is_not_complete() {
    let printed = print(&busy_shop());
    assert_eq!(faults(&printed.pdf, true), Vec::<String>::new());
    for said in ["sides differ", "came back in the year", "without hours", "without a purchase"] {
        assert_eq!(printed.words.contains(said), said != "sides differ", "{said}");
    }
}

#[test]
fn what_was_not_read_in_the_offices_text_bears_one_mark_and_one_sentence() {
    let shop = busy_shop();
    let (data, year) = (summary_data(&shop), print(&shop).year);
    let name = |rule: &serde_json::Value| rule["name"].as_str().unwrap().to_owned();
    let rules: Vec<String> = data["rules"].as_array().unwrap().iter().map(name).collect();
    assert!(!year.rules.is_empty());
    for rate in &year.rules {
        let marked = format!("{}\u{a0}†", rate.label);
        let unread = rate.seen != Seen::Read;
        assert_eq!(rules.contains(&marked), unread, "{}", rate.label);
        assert_eq!(rules.contains(&rate.label), !unread, "{}", rate.label);
    }
    let sentence = "† To be checked against the published form before it is used.";
    assert!(rules.iter().any(|name| name.ends_with('†')), "2025 has a rate that was not read");
    assert_eq!(data["unread"], sentence);
    let labels: Vec<&serde_json::Value> = data["form"]["parts"]
        .as_array()
        .unwrap()
        .iter()
        .flat_map(|part| part["lines"].as_array().unwrap())
        .collect();
    let marked = labels.iter().any(|line| line["label"].as_str().unwrap().ends_with('†'));
    let named = data["form"]["name"].as_str().unwrap().contains('†');
    let told = data["form"]["notes"].as_array().unwrap().iter().any(|note| note == sentence);
    assert_eq!(told, marked || named);
}

#[test]
fn the_tables_are_inside_the_document() {
    let printed = print(&busy_shop());
    let mut inside = attached(&printed.pdf);
    let mut made: Vec<(String, String)> =
        printed.tables.files.iter().map(|(n, text)| ((*n).to_owned(), text.to_string())).collect();
    inside.sort();
    made.sort();
    assert_eq!(made.len(), 11);
    assert_eq!(inside, made);
}

#[test]
fn the_json_says_what_the_year_says() {
    let Printed { year, json, .. } = print(&busy_shop());
    assert_eq!(json["proof"]["holds"], true);
    let lines = json["lines"].as_array().unwrap();
    assert_eq!(lines.len(), year.lines.len());
    for (said, line) in lines.iter().zip(&year.lines) {
        assert_eq!(said["line"], line.number.as_str());
        let amount = said["amount"].as_str().map(dec);
        let round = |amount| dovetally::model::round(amount, 2);
        assert_eq!(amount.map(round), line.amount.map(round), "line {}", line.number);
        assert_eq!(said["whole"].as_str().map(dec), line.whole, "line {}", line.number);
    }
    assert_eq!(json["trips"]["miles"], "115.5");
    assert_eq!(json["missing_records"].as_array().unwrap().len(), year.missing_records.len());
}

#[test]
fn the_ledger_table_adds_up_to_every_figure() {
    let Printed { year, tables, .. } = print(&busy_shop());
    let (_, text) = tables.files.iter().find(|(name, _)| *name == "ledger.csv").unwrap();
    let mut rows = csv::Reader::from_reader(text.as_bytes());
    let mut sums = std::collections::BTreeMap::<String, Money>::new();
    for row in rows.records().map(Result::unwrap) {
        *sums.entry(row[0].to_owned()).or_default() += dec(&row[4]);
    }
    for figure in year.ledger.iter() {
        let sum = sums.remove(&figure.name.to_string()).unwrap_or_default();
        assert_eq!(sum, figure.amount, "{}", figure.name);
    }
    assert!(sums.is_empty(), "{sums:?}");
}

#[test]
fn what_stands_on_expense_lines_is_all_expenses() {
    let Printed { year, tables, .. } = print(&busy_shop());
    let (_, text) = tables.files.iter().find(|(name, _)| *name == "expenses.csv").unwrap();
    let mut rows = csv::Reader::from_reader(text.as_bytes());
    let sum: Money = rows.records().map(|row| dec(&row.unwrap()[4])).sum();
    assert_eq!(plain(sum, 2), plain(year.total(Total::TotalExpenses), 2));
}

/// Cents of the flow on page 1, the first is what was received.
fn cents(shop: &Shop) -> Vec<Money> {
    let reckoned = reckon(shop);
    let year = year(shop, &reckoned.run, &reckoned.costs, 2025).unwrap();
    let sources = Sources::default();
    let tables = year_tables(shop, &year, &sources);
    let draft = income_summary(shop, &year, &tables, &sources);
    let view: serde_json::Value = serde_json::from_slice(&draft.data).unwrap();
    let steps = view["glance"]["dollar"]["steps"].as_array().unwrap();
    let amount = |step: &serde_json::Value| step["amount"].as_str().unwrap().replace('−', "-");
    steps.iter().map(|step| dec(&amount(step).replace('$', ""))).collect()
}

#[test]
fn one_dollar_is_shared_out_to_the_cent() {
    for shop in [busy_shop(), loss_shop()] {
        let cents = cents(&shop);
        let (last, flow) = cents.split_last().unwrap();
        assert_eq!(flow.iter().sum::<Money>(), *last, "{cents:?}");
        assert_eq!(flow[0], dec("1.00"));
    }
}

#[test]
fn a_loss_prints_as_a_loss() {
    let printed = print(&loss_shop());
    assert!(printed.year.total(Total::NetProfit).is_sign_negative());
    assert_eq!(faults(&printed.pdf, true), Vec::<String>::new());
    let shown = format!("−${}", grouped(printed.year.total(Total::NetProfit).abs(), 2));
    assert!(printed.words.contains(&shown), "{shown}");
    assert!(printed.words.contains("Net loss"));
    assert!(!printed.words.contains("Self-employment tax, an estimate"));
}

#[test]
fn a_year_without_receipts_prints() {
    let printed = print(&quiet_shop());
    assert_eq!(faults(&printed.pdf, true), Vec::<String>::new());
    assert!(printed.words.contains("Nothing was received in 2025"));
    assert!(!printed.words.contains("The pieces sold"));
}

/// Days by hand: 10, 20 and 60 up to the sale, of which 20 is the middle; 30 up to 31 December.
#[test]
fn the_chart_of_days_is_longest_first_with_the_middle_of_the_sales() {
    let mut shop = shop();
    for (name, from, to) in [
        ("ten", "2025-01-01", Some("2025-01-11")),
        ("twenty", "2025-01-01", Some("2025-01-21")),
        ("sixty", "2025-01-01", Some("2025-03-02")),
        ("kept-thirty", "2025-12-01", None),
    ] {
        let mut one = piece(name);
        one.bought = Some(bought(day(from), dec("10")));
        one.sale = to.map(|on| sale(day(on), dec("50"))).into_iter().collect();
        shop.pieces.push(one);
    }
    let held = summary_data(&shop)["held"].clone();
    let bars: Vec<_> = held["bars"]
        .as_array()
        .unwrap()
        .iter()
        .map(|bar| (bar["days"].as_str(), bar["length"].as_u64(), bar["in-stock"].as_bool()))
        .collect();
    let bar = |days, length, in_stock| (Some(days), Some(length), Some(in_stock));
    let (sold, stock) = (false, true);
    let wanted = [
        bar("60", 10_000, sold),
        bar("30", 5_000, stock),
        bar("20", 3_333, sold),
        bar("10", 1_667, sold),
    ];
    assert_eq!(bars, wanted);
    assert_eq!(held["middle"], 3_333);
    assert_eq!(held["middle-label"], "half sold within 20 days");

    for one in &mut shop.pieces {
        one.bought = None;
    }
    assert!(summary_data(&shop)["held"].is_null());
}

/// What the layout of the summary of 2025 is given.
fn summary_data(shop: &Shop) -> serde_json::Value {
    let reckoned = reckon(shop);
    let year = year(shop, &reckoned.run, &reckoned.costs, 2025).expect("a whole year");
    let sources = Sources::default();
    let tables = year_tables(shop, &year, &sources);
    let draft = income_summary(shop, &year, &tables, &sources);
    serde_json::from_slice(&draft.data).unwrap()
}
