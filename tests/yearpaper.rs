//! The income summary as paper, as tables and as JSON, from plain values.

use crate::pdf::faults;
use crate::shops::{
    book, bought, channel, cost, day, dec, lot, piece, returned, sale, shop, stock_item, supply,
    trip, used, withdrawn, work,
};
use dovetally::model::{
    CostKind, Expense, Money, Place, Remitted, Reported, Shop, Sources, TripPurpose, Vehicle,
    WithdrawalKind, Workspace, grouped, plain,
};
use dovetally::reckon::year::{Year, year};
use dovetally::reckon::{Reckoned, reckon};
use dovetally::typeset::{Press, YearTables, income_summary, year_json, year_tables};
use lopdf::{Document, Object};
use std::sync::LazyLock;

static PRESS: LazyLock<Press> = LazyLock::new(|| Press::new(&[]));

fn expense(on: &str, category: &str, amount: &str) -> Expense {
    Expense {
        on: day(on).into(),
        what: format!("{category} paid"),
        category: category.to_owned().into(),
        amount: dec(amount).into(),
        receipt: None,
        place: Place::NOWHERE,
    }
}

fn reported(channel: &str, gross: &str) -> Reported {
    Reported {
        channel: channel.to_owned().into(),
        form: Some("yearly statement".to_owned()),
        gross: dec(gross).into(),
        place: Place::NOWHERE,
    }
}

/// Thirty pieces sold, one of them returned, two in stock, one kept, and a book of every entry.
fn busy_shop() -> Shop {
    let mut shop = shop();
    shop.name = "Tide Lane Furniture".to_owned();
    shop.contact = vec!["shop@example.org".to_owned()];
    shop.shop_rate = Some(dec("32").into());
    shop.channels.insert("fair".to_owned(), channel("fair", dec("0.10"), dec("1.00")));
    let mut market = channel("market", dec("0.125"), Money::ZERO);
    market.collects_tax = true;
    shop.channels.insert("market".to_owned(), market);
    shop.stock.insert("varnish".to_owned(), stock_item("varnish", "fl oz"));
    for i in 0..30u32 {
        shop.pieces.push(sold_piece(i));
    }
    shop.pieces[3].returned.push(returned(day("2025-06-20"), dec("200.00")));
    shop.pieces[4].work.clear();
    shop.pieces[5].bought = None;
    shop.pieces[5].cost.clear();
    shop.pieces[5].used.clear();
    shop.pieces.push(unsold_piece("25-031", "2024-11-19"));
    shop.pieces.push(unsold_piece("25-032", "2025-12-02"));
    let mut kept = unsold_piece("25-033", "2025-02-02");
    kept.withdrawn = Some(withdrawn(day("2025-05-05"), WithdrawalKind::Kept));
    shop.pieces.push(kept);
    fill_book(&mut shop);
    shop
}

fn sold_piece(i: u32) -> dovetally::model::Piece {
    let mut one = piece(&format!("25-{:03}", i + 1));
    one.number = Some(one.folder.clone().into());
    one.title = format!("Oak table, the {}th of its kind", i + 1).into();
    one.bought =
        Some(bought(day("2024-12-05") + chrono::Days::new(8 * u64::from(i)), dec("61.35")));
    one.cost.push(cost(day("2025-01-08"), CostKind::Material, dec("7.15")));
    let mut paid = cost(day("2025-01-09"), CostKind::PaidWork, dec("25.00"));
    paid.to = Some("The chair caner".to_owned());
    one.cost.push(paid);
    one.used.push(used(day("2025-11-03"), "varnish", "3 fl oz"));
    one.work.push(work(dec("2.5") + rust_decimal::Decimal::from(i % 9)));
    let mut gone = sale(day("2025-01-10") + chrono::Days::new(11 * u64::from(i)), dec("310.00"));
    gone.price = (dec("140.00") + rust_decimal::Decimal::from(17 * i)).into();
    gone.channel = Some((if i % 2 == 0 { "fair" } else { "market" }).to_owned().into());
    gone.tax_collected = dec("12.40");
    gone.delivery_charged = dec("20.00");
    one.sale.push(gone);
    one
}

fn unsold_piece(name: &str, on: &str) -> dovetally::model::Piece {
    let mut one = piece(name);
    one.number = Some(name.to_owned().into());
    one.title = "Elm chest, iron bound".to_owned().into();
    one.bought = Some(bought(day(on), dec("110.20")));
    one
}

fn fill_book(shop: &mut Shop) {
    let own = book(shop, 2025);
    own.supply.push(supply(day("2025-01-02"), "varnish", "128 fl oz", dec("71.99")));
    own.expense = vec![
        expense("2025-01-31", "rent", "2400.00"),
        expense("2025-03-03", "advertising", "213.50"),
        expense("2025-04-03", "insurance", "420.00"),
        expense("2025-05-03", "meals", "61.00"),
        expense("2025-06-03", "small-tools", "96.44"),
        expense("2025-06-04", "equipment", "3100.00"),
        expense("2025-07-03", "utilities", "584.32"),
    ];
    own.trip = vec![
        trip(day("2025-02-03"), dec("61.5"), TripPurpose::Fetch, Some("25-002")),
        trip(day("2025-08-03"), dec("24"), TripPurpose::Deliver, Some("25-018")),
        trip(day("2025-09-03"), dec("30"), TripPurpose::Other, None),
    ];
    own.reported = vec![reported("fair", "6000.00"), reported("market", "6289.00")];
    own.remitted = vec![Remitted {
        on: day("2025-10-10").into(),
        to: "the state".to_owned(),
        amount: dec("120.00").into(),
        receipt: None,
        place: Place::NOWHERE,
    }];
    own.workspace = Some(Workspace { area: dec("350"), months: 12, place: Place::NOWHERE });
    own.vehicle = Some(Vehicle {
        total: Some(dec("9412")),
        commuting: Some(dec("0")),
        other: Some(dec("9296.5")),
        place: Place::NOWHERE,
    });
    own.lot.push(lot(
        day("2025-12-20"),
        dec("35.00"),
        &[("25-031", dec("1")), ("25-032", dec("2"))],
    ));
}

fn loss_shop() -> Shop {
    let mut shop = shop();
    let mut one = sold_piece(1);
    one.used.clear();
    one.sale[0].channel = None;
    shop.pieces.push(one);
    book(&mut shop, 2025).expense =
        vec![expense("2025-01-31", "rent", "900.00"), expense("2025-02-28", "utilities", "75.25")];
    shop
}

fn quiet_shop() -> Shop {
    let mut shop = shop();
    shop.pieces.push(unsold_piece("24-001", "2024-06-01"));
    book(&mut shop, 2025).expense = vec![expense("2025-01-31", "rent", "900.00")];
    shop
}

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
    let tables = year_tables(shop, &reckoned, &year, &sources);
    let draft = income_summary(shop, &reckoned, &year, &tables, &sources);
    let paper = PRESS.print(&draft, &[]).unwrap_or_else(|faults| panic!("{faults:?}"));
    let words = words(&paper.pdf);
    let json = year_json(shop, &year, &sources);
    Printed { year, tables, pdf: paper.pdf, words, json }
}

/// The words on the pages, with single spaces.
fn words(pdf: &[u8]) -> String {
    let document = Document::load_mem(pdf).unwrap();
    let pages: Vec<u32> = document.get_pages().keys().copied().collect();
    let text = document.extract_text(&pages).unwrap();
    text.split_whitespace().collect::<Vec<_>>().join(" ")
}

/// The files inside a PDF: name and text.
fn attached(pdf: &[u8]) -> Vec<(String, String)> {
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

fn totals(year: &Year) -> [Money; 9] {
    [
        year.net_receipts,
        year.cost_of_goods_sold,
        year.total_expenses,
        year.net_profit.abs(),
        year.opening_stock,
        year.closing_stock,
        year.trips.amount,
        year.tax_held,
        year.ledger.amount("missing-records"),
    ]
}

#[test]
fn the_paper_says_every_total_and_is_archival() {
    let printed = print(&busy_shop());
    keep(&printed.pdf, "busy");
    assert_eq!(faults(&printed.pdf, true), Vec::<String>::new());
    for total in totals(&printed.year) {
        let shown = grouped(total, 2);
        assert!(printed.words.contains(&shown), "{shown} is not on paper");
    }
    for said in ["sides differ", "came back in the year", "without hours", "without a purchase"] {
        assert_eq!(printed.words.contains(said), said != "sides differ", "{said}");
    }
}

#[test]
fn the_tables_are_inside_the_document() {
    let printed = print(&busy_shop());
    let mut inside = attached(&printed.pdf);
    let mut made: Vec<(String, String)> =
        printed.tables.files.iter().map(|(n, text)| ((*n).to_owned(), text.clone())).collect();
    inside.sort();
    made.sort();
    assert_eq!(made.len(), 10);
    assert_eq!(inside, made);
}

#[test]
fn the_json_says_what_the_year_says() {
    let Printed { year, json, .. } = print(&busy_shop());
    assert_eq!(json["proof"]["holds"], true);
    assert_eq!(json["proof"]["from_pieces"], json["proof"]["from_stock"]);
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
        let sum = sums.remove(&figure.name).unwrap_or_default();
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
    assert_eq!(plain(sum, 2), plain(year.total_expenses, 2));
}

/// Cents of the flow on page 1, the first is what was received.
fn cents(shop: &Shop) -> Vec<Money> {
    let reckoned = reckon(shop);
    let year = year(shop, &reckoned.run, &reckoned.costs, 2025).unwrap();
    let sources = Sources::default();
    let tables = year_tables(shop, &reckoned, &year, &sources);
    let draft = income_summary(shop, &reckoned, &year, &tables, &sources);
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
    keep(&printed.pdf, "loss");
    assert!(printed.year.net_profit.is_sign_negative());
    assert_eq!(faults(&printed.pdf, true), Vec::<String>::new());
    let shown = format!("−${}", grouped(printed.year.net_profit.abs(), 2));
    assert!(printed.words.contains(&shown), "{shown}");
    assert!(printed.words.contains("Net loss"));
    assert!(!printed.words.contains("Self-employment tax, an estimate"));
}

#[test]
fn a_year_without_receipts_prints() {
    let printed = print(&quiet_shop());
    keep(&printed.pdf, "quiet");
    assert_eq!(faults(&printed.pdf, true), Vec::<String>::new());
    assert!(printed.words.contains("Nothing was received in 2025"));
    assert!(!printed.words.contains("The pieces sold"));
}

/// Leaves the document where someone wants to look at it.
fn keep(pdf: &[u8], name: &str) {
    if let Some(folder) = std::env::var_os("KEEP_PAPER") {
        std::fs::write(std::path::Path::new(&folder).join(format!("{name}.pdf")), pdf).unwrap();
    }
}
