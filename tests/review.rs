//! The review of a shop: worked by hand at its door, laws that hold in every shop, and what the
//! verb and the paper make of it.

use crate::pdf;
use crate::shell::{dovetally, shop_of};
use crate::shops::random::random_shop;
use crate::shops::{book, bought, day, dec, lot, piece, returned, sale, shop, withdrawn, work};
use crate::yearpaper::words;
use dovetally::cli::Status;
use dovetally::model::{Bought, Hours, Money, Piece, Shop, WithdrawalKind};
use dovetally::reckon::reckon;
use dovetally::reckon::review::{By, FEWEST, Group, Grouping, Label, Review, Verdict, review};
use dovetally::reckon::totals::Totals;
use proptest::prelude::*;
use serde_json::Value;
use std::fs;

fn label(kind: Option<&str>, finish: Option<&str>) -> Label {
    Label { kind: kind.map(str::to_owned), finish: finish.map(str::to_owned) }
}

/// Bought and sold on days, at prices, with hours.
fn sold(folder: &str, from: &str, buy: (&str, &str), sell: (&str, &str), hours: &str) -> Piece {
    let from = Some(from.to_owned());
    Piece {
        bought: Some(Bought { from, ..bought(day(buy.0), dec(buy.1)) }),
        work: vec![work(dec(hours))],
        sale: vec![sale(day(sell.0), dec(sell.1))],
        ..piece(folder)
    }
}

// Net, per hour and days by hand:
//   c1 110 − 20 = 90 over 2: 45.00, 30 days      t1 50 −  0 =  50 over 4: 12.50,  31 days
//   c2  90 − 30 = 60 over 2: 30.00, 40 days      t2 45 − 60 = −15 over 5: −3.00, 365 days
//   c3  90 − 10 = 80 over 4: 20.00, 50 days      t3 35, not sold: 1 February to 1 May 2025 89 days
//   c4 100 − 25 = 75 over 1.5: 50.00, 70 days
//   c5  73 − 40 = 33 over 1: 33.00, 375 days (2024 has 366)
fn worked() -> (Shop, Vec<Label>) {
    let new_year = "2024-01-01";
    let pieces = vec![
        sold("c1", "Auction", (new_year, "20"), ("2024-01-31", "110"), "2"),
        sold("c2", "auction", (new_year, "30"), ("2024-02-10", "90"), "2"),
        sold("c3", "auction ", (new_year, "10"), ("2024-02-20", "90"), "4"),
        sold("c4", "Auction", (new_year, "25"), ("2024-03-11", "100"), "1.5"),
        sold("c5", "Auction", (new_year, "40"), ("2025-01-10", "73"), "1"),
        sold("t1", "street", ("2024-05-01", "0"), ("2024-06-01", "50"), "4"),
        sold("t2", "street", ("2024-05-01", "60"), ("2025-05-01", "45"), "5"),
        Piece { bought: Some(bought(day("2025-02-01"), dec("35"))), ..piece("t3") },
    ];
    let mut labels = vec![label(Some("chairs"), Some("wax")); 5];
    labels.extend([label(Some("tables"), None), label(Some("tables"), None), label(None, None)]);
    (Shop { pieces, shop_rate: Some(dec("30").into()), ..shop() }, labels)
}

fn of(review: &Review, by: By) -> &Grouping {
    review.groupings.iter().find(|grouping| grouping.by == by).unwrap()
}

fn group<'a>(review: &'a Review, by: By, name: Option<&str>) -> &'a Group {
    let groups = &of(review, by).groups;
    groups.iter().find(|group| group.name.as_deref() == name).unwrap()
}

fn names(review: &Review, by: By) -> Vec<&str> {
    let groups = of(review, by).groups.iter();
    groups.map(|group| group.name.as_deref().unwrap_or("–")).collect()
}

fn reviewed((shop, labels): &(Shop, Vec<Label>)) -> Review {
    review(shop, &reckon(shop), labels)
}

#[test]
fn a_shop_worked_by_hand() {
    let review = reviewed(&worked());
    assert_eq!(review.last_day, Some(day("2025-05-01")));
    // 90 + 60 + 80 + 75 + 33 + 50 − 15 = 373 over 2 + 2 + 4 + 1.5 + 1 + 4 + 5 = 19.5 hours.
    assert_eq!(
        (review.total.totals.net, review.total.totals.hours),
        (dec("373"), Some(Hours::from_decimal(dec("19.5"))))
    );
    assert_eq!((review.total.sold, review.total.in_stock), (7, 1));
    // −3.00 12.50 20.00 30.00 33.00 45.00 50.00, and 30 31 40 50 70 365 375 days.
    let all = (review.total.per_hour.unwrap(), review.total.days_held.unwrap());
    assert_eq!((all.0.median, all.0.pieces), (dec("30"), 7));
    assert_eq!((all.1.median, all.1.pieces), (dec("50"), 7));
    let chairs = group(&review, By::Kind, Some("chairs"));
    // 20.00 30.00 33.00 45.00 50.00, and 30 40 50 70 375 days.
    assert_eq!(chairs.per_hour.map(|s| (s.median, s.pieces)), Some((dec("33"), 5)));
    assert_eq!(chairs.days_held.map(|s| (s.median, s.pieces)), Some((dec("50"), 5)));
    assert_eq!(chairs.verdict, Some(Verdict::Again));
    let tables = group(&review, By::Kind, Some("tables"));
    // 12.50 and −3.00: (12.50 − 3.00) ÷ 2; 50 − 15 over 9 hours.
    assert_eq!(tables.per_hour.map(|s| (s.median, s.pieces)), Some((dec("4.75"), 2)));
    let hours = Some(Hours::from_decimal(dec("9")));
    assert_eq!((tables.totals.net, tables.totals.hours), (dec("35"), hours));
    assert_eq!(tables.verdict, Some(Verdict::TooFew));
    assert_eq!(names(&review, By::Kind), ["chairs", "tables", "–"]);
    assert_eq!(names(&review, By::Finish), ["wax", "–"]);
}

#[test]
fn years_stand_side_by_side_and_what_is_not_sold_comes_last() {
    let review = reviewed(&worked());
    assert_eq!(names(&review, By::Year), ["2024", "2025", "–"]);
    // 90 + 60 + 80 + 75 + 50, and 33 − 15.
    assert_eq!(group(&review, By::Year, Some("2024")).totals.net, dec("355"));
    assert_eq!(group(&review, By::Year, Some("2025")).totals.net, dec("18"));
    let unsold = group(&review, By::Year, None);
    assert_eq!((unsold.totals.tied_up, unsold.longest), (dec("35"), Some(89)));
    assert!(of(&review, By::Year).groups.iter().all(|group| group.verdict.is_none()));
}

#[test]
fn a_source_is_one_however_it_is_capitalised_and_a_lot_gives_its_own() {
    let (mut shop, labels) = worked();
    shop.pieces[5].bought = None;
    shop.pieces[7].bought = None;
    let share = [("t1", dec("1"))];
    book(&mut shop, 2024).lot.push(lot(day("2024-05-01"), dec("8"), &share));
    let mut named = lot(day("2024-05-02"), dec("5"), &[("t3", dec("1"))]);
    named.from = Some("AUCTION".to_owned());
    book(&mut shop, 2024).lot.push(named);
    let review = reviewed(&(shop, labels));
    assert_eq!(names(&review, By::Source), ["Auction", "a lot", "street"]);
    assert_eq!(group(&review, By::Source, Some("Auction")).totals.pieces, 6);
}

#[test]
fn without_a_shop_rate_the_median_of_the_shop_is_the_measure() {
    let (shop, labels) = worked();
    let review = reviewed(&(Shop { shop_rate: None, ..shop }, labels));
    assert_eq!((review.measure.per_hour, review.measure.is_shop_rate), (Some(dec("30")), false));
}

/// Each of the four verdicts from five pieces: a cent less an hour, or a day longer, turns it.
#[test]
fn a_verdict_turns_at_its_measure() {
    let verdict = |rate: &str, (shop, labels): &(Shop, Vec<Label>)| {
        let shop = Shop { shop_rate: Some(dec(rate).into()), ..shop.clone() };
        group(&reviewed(&(shop, labels.clone())), By::Kind, Some("chairs")).verdict.unwrap()
    };
    // 50 days of chairs, 50 of the shop.
    let mut worked = worked();
    assert_eq!(verdict("33.00", &worked), Verdict::Again);
    assert_eq!(verdict("33.01", &worked), Verdict::SellsButEarnsLess);
    // 30 40 51 70 375 days of chairs, 1 30 31 40 51 70 375 of the shop.
    worked.0.pieces[2].sale[0].on = day("2024-02-21").into();
    worked.0.pieces[6].sale[0].on = day("2024-05-02").into();
    assert_eq!(reviewed(&worked).measure.days_held, Some(dec("40")));
    assert_eq!(verdict("33.00", &worked), Verdict::EarnsButSits);
    assert_eq!(verdict("33.01", &worked), Verdict::NotAgain);
}

#[test]
fn four_pieces_are_too_few_whatever_they_earned() {
    let (mut shop, labels) = worked();
    shop.pieces[0].work.clear();
    let review = reviewed(&(shop, labels));
    let chairs = group(&review, By::Kind, Some("chairs"));
    assert_eq!(chairs.per_hour.unwrap().pieces, FEWEST - 1);
    assert_eq!(chairs.verdict, Some(Verdict::TooFew));
}

/// What was scrapped is in no net; it is said apart. A piece that came back is not sold.
#[test]
fn what_was_withdrawn_is_said_and_what_came_back_is_in_stock() {
    let (mut shop, labels) = worked();
    shop.pieces[7].withdrawn = Some(withdrawn(day("2025-03-01"), WithdrawalKind::Scrapped));
    shop.pieces[6].returned.push(returned(day("2025-05-20"), dec("45")));
    let review = reviewed(&(shop, labels));
    assert_eq!(review.total.withdrawn, dec("35"));
    assert_eq!((review.total.sold, review.total.in_stock), (6, 1));
    // 1 May 2024 to 20 May 2025.
    assert_eq!(review.total.longest, Some(384));
}

fn sums(totals: &Totals) -> [Money; 13] {
    [
        totals.purchase,
        totals.materials,
        totals.paid_work,
        totals.freight_in,
        totals.cost_of_goods,
        totals.cost_sold,
        totals.tied_up,
        totals.price,
        totals.gross_profit,
        totals.selling_costs,
        totals.net,
        totals.hours.unwrap_or_default().minutes(),
        totals.hours_sold.unwrap_or_default().minutes(),
    ]
}

/// A random shop with kinds, sources and finishes on its pieces.
fn labelled() -> impl Strategy<Value = (Shop, Vec<Label>)> {
    let words = prop::collection::vec((0usize..4, 0usize..4, 0usize..4), 30);
    (random_shop(30), words).prop_map(|(mut shop, words)| {
        let word = |of: &str, n: usize| (n > 0).then(|| format!("{of} {n}"));
        for (piece, &(_, from, _)) in shop.pieces.iter_mut().zip(&words) {
            piece.bought.as_mut().unwrap().from = word("source", from);
        }
        let label = |&(kind, _, finish): &(usize, usize, usize)| Label {
            kind: word("kind", kind),
            finish: word("finish", finish),
        };
        let labels = words.iter().map(label).take(shop.pieces.len()).collect();
        (shop, labels)
    })
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(200))]

    /// Every piece is in exactly one group of each kind: the sums of the groups are the total's.
    #[test]
    fn groups_add_up_to_the_total((shop, labels) in labelled()) {
        let reckoned = reckon(&shop);
        let review = review(&shop, &reckoned, &labels);
        prop_assert_eq!(sums(&review.total.totals), sums(&reckoned.totals));
        for grouping in &review.groupings {
            let mut added = [Money::ZERO; 13];
            let (mut pieces, mut sold, mut in_stock, mut gone) = (0, 0, 0, Money::ZERO);
            for group in &grouping.groups {
                for (sum, part) in added.iter_mut().zip(sums(&group.totals)) {
                    *sum += part;
                }
                pieces += group.totals.pieces;
                sold += group.sold;
                in_stock += group.in_stock;
                gone += group.withdrawn;
            }
            prop_assert_eq!(added, sums(&review.total.totals), "{:?}", grouping.by);
            prop_assert_eq!(pieces, review.total.totals.pieces);
            prop_assert_eq!((sold, in_stock), (review.total.sold, review.total.in_stock));
            prop_assert_eq!(gone, review.total.withdrawn);
        }
    }

    /// Every group but a year has a verdict, which is that of too few pieces just where they are.
    #[test]
    fn a_verdict_has_its_pieces((shop, labels) in labelled()) {
        let review = review(&shop, &reckon(&shop), &labels);
        let enough = |group: &Group| {
            [group.per_hour, group.days_held].iter().all(|s| s.is_some_and(|s| s.pieces >= FEWEST))
        };
        let groups = review.groupings.iter().map(|grouping| (grouping.by, &grouping.groups));
        for (by, group) in groups.flat_map(|(by, groups)| groups.iter().map(move |g| (by, g))) {
            prop_assert_eq!(group.verdict.is_none(), by == By::Year);
            if let Some(verdict) = group.verdict {
                prop_assert_eq!(verdict == Verdict::TooFew, !enough(group));
            }
        }
    }

    /// The order of the files changes nothing.
    #[test]
    fn the_order_of_the_pieces_changes_nothing((shop, labels) in labelled()) {
        let mut turned = (shop.clone(), labels.clone());
        turned.0.pieces.reverse();
        turned.1.reverse();
        prop_assert_eq!(reviewed(&(shop, labels)), reviewed(&turned));
    }
}

/// Two kinds of five pieces each, one of them at a loss, and a piece with nothing to divide by.
fn folder() -> tempfile::TempDir {
    let piece = |kind: &str, day: u32, price: u32, hours: &str| {
        format!(
            "title = \"A {kind}\"\nkind = \"{kind}\"\nhours = {hours}\n\
             bought = {{ on = 2025-01-01, price = 50, from = \"=fair\" }}\n\
             sale = [{{ on = 2025-02-{day:02}, price = {price} }}]\n"
        )
    };
    let mut files = vec![("shop.toml".to_owned(), "name = \"Test Shop\"\nshop-rate = 20\n".into())];
    for n in 1..=5u32 {
        files.push((format!("pieces/c{n}/piece.toml"), piece("chair", n, 90 + n, "2")));
        files.push((format!("pieces/t{n}/piece.toml"), piece("table", 20 + n, 40 + n, "5")));
    }
    files.push(("pieces/free/piece.toml".to_owned(), "title = \"A stool\"\n".to_owned()));
    let files: Vec<(&str, &str)> = files
        .iter()
        .map(|(path, text): &(String, String)| (path.as_str(), text.as_str()))
        .collect();
    shop_of(&files)
}

#[test]
fn the_verb_says_the_same_in_words_in_json_and_in_csv() {
    let shop = folder();
    let json = dovetally(shop.path(), &["review", "--json"]);
    assert_eq!(json.status, Status::Done, "{}", json.err);
    let json: Value = serde_json::from_str(&json.out).unwrap();
    let [chairs, tables, stools] = [0, 1, 2].map(|i| json["kinds"][i].clone());
    // (93 − 50) ÷ 2 is the third of five; 1 January to 3 February.
    assert_eq!((&chairs["name"], &chairs["median_per_hour"]), (&"chairs".into(), &"21.50".into()));
    assert_eq!(
        (&chairs["median_days_held"], &chairs["verdict"]),
        (&"33.0".into(), &"again".into())
    );
    // (43 − 50) ÷ 5; −9 − 8 − 7 − 6 − 5.
    assert_eq!((&tables["median_per_hour"], &tables["net"]), (&"-1.40".into(), &"-35.00".into()));
    assert_eq!(tables["verdict"], "not-again");
    assert_eq!((&stools["per_hour"], &stools["gross_margin"]), (&Value::Null, &Value::Null));
    let csv = dovetally(shop.path(), &["review", "--csv"]);
    let mut rows = csv::Reader::from_reader(csv.out.as_bytes());
    let rows: Vec<_> = rows.records().map(Result::unwrap).collect();
    assert!(rows.iter().any(|row| &row[0] == "kinds" && &row[1] == "tables"), "{}", csv.out);
    assert!(rows.iter().any(|row| &row[0] == "sources" && &row[1] == "'=fair"), "{}", csv.out);
    let words = dovetally(shop.path(), &["review"]);
    for said in ["buy again", "earns less, and sits", "none sold", "−1.40 of 5", "–"] {
        assert!(words.out.contains(said), "{said} is not in {}", words.out);
    }
    assert!(words.err.contains("Fewer than 5 pieces"), "{}", words.err);
}

#[test]
fn the_paper_is_in_order_and_says_losses_as_losses() {
    let shop = folder();
    let made = dovetally(shop.path(), &["make", "--only", "review"]);
    assert_eq!(made.status, Status::Done, "{}", made.err);
    let paper = fs::read(shop.path().join("out/review.pdf")).unwrap();
    assert_eq!(pdf::faults(&paper, false), Vec::<String>::new());
    let words = words(&paper);
    for said in
        ["−1.40 of 5", "−35.00", "buy again", "none sold", "What an hour earned", "shop rate 20.00"]
    {
        assert!(words.contains(said), "{said} is not in {words}");
    }
    let again = dovetally(shop.path(), &["make", "--only", "review"]);
    assert!(again.err.contains("0 files written"), "{}", again.err);
}

/// A short sum never goes unsaid: what could not be read is named on the paper and the screen.
#[test]
fn what_is_in_no_figure_is_said() {
    let shop = folder();
    fs::write(shop.path().join("pieces/c1/piece.toml"), "titel = \"A chair\"\n").unwrap();
    let said = dovetally(shop.path(), &["review"]);
    assert_eq!(said.status, Status::Errors);
    assert!(said.err.contains("1 file has errors: nothing in it"), "{}", said.err);
    let made = dovetally(shop.path(), &["make", "--only", "review"]);
    assert_eq!(made.status, Status::Errors, "{}", made.err);
    let paper = fs::read(shop.path().join("out/review.pdf")).unwrap();
    assert!(words(&paper).contains("1 file has errors"));
}
