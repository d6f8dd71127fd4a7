//! Published cases of a tax year, through the books view itself: a shop of plain values in, lines
//! and figures out. The source stands beside each check.

use crate::books::{books_of, entered, expense, line};
use crate::shops::{book, bought, day, dec, piece, returned, sale, shop, trip, withdrawn};
use dovetally::model::{
    Form, Money, Sale, Shop, SpaceUse, TripPurpose, WithdrawalKind, Workspace, built_in_forms,
    form_for, round,
};
use dovetally::reckon::year::{Year, self_employment};

const YEARS: std::ops::RangeInclusive<i32> = 2022..=2026;

fn form(forms: &[Form], year: i32) -> &Form {
    form_for(forms, "us-schedule-c", year).unwrap()
}

/// A piece bought for a price, and what became of it.
fn add(made: &mut Shop, name: &str, on: &str, price: &str, sold: Option<(&str, &str)>) {
    let mut one = piece(&format!("pieces/{name}"));
    one.bought = Some(bought(day(on), dec(price)));
    one.sale.extend(sold.map(|(on, price)| sale(day(on), dec(price))));
    made.pieces.push(one);
}

/// The illustration's year as pieces: 37,845 there at the start, 285,900 bought, 2,650 of it kept,
/// 32,955 there at the end, 400,000 taken in and 14,940 of it given back as an allowance in kind:
/// a return and a new sale of the same piece at no price.
fn illustration() -> Year {
    let mut made = shop();
    add(&mut made, "old", "2022-05-01", "37845", Some(("2023-02-01", "50000")));
    add(&mut made, "sold", "2023-03-01", "250295", Some(("2023-06-01", "335060")));
    add(&mut made, "left", "2023-04-01", "32955", None);
    add(&mut made, "own", "2023-05-01", "2650", None);
    made.pieces[3].withdrawn = Some(withdrawn(day("2023-07-01"), WithdrawalKind::Kept));
    let mut back = piece("pieces/back");
    back.bought = Some(bought(day("2023-01-05"), dec("0")));
    back.sale.push(sale(day("2023-08-01"), dec("14940")));
    back.returned.push(returned(day("2023-09-01"), dec("14940")));
    made.pieces.push(back);
    books_of(&made, 2023).unwrap()
}

#[test]
fn cost_of_goods_and_gross_profit_of_the_irs_illustration() {
    // IRS Pub. 334 (2023 returns) ch. 7 p. 29: lines 35 to 42, then 1 to 5.
    let year = illustration();
    let expected = [
        ("35", "37845"),
        ("36", "283250"),
        ("37", "0"),
        ("40", "321095"),
        ("41", "32955"),
        ("42", "288140"),
        ("1", "400000"),
        ("2", "14940"),
        ("3", "385060"),
        ("4", "288140"),
        ("5", "96920"),
    ];
    for (number, amount) in expected {
        assert_eq!(line(&year, number), dec(amount), "line {number}");
        assert_eq!(entered(&year, number), dec(amount), "line {number} as entered");
    }
    assert!(year.proof.holds);
}

#[test]
fn gross_profit_in_percent_of_receipts() {
    // IRS Pub. 334 (2023 returns) ch. 7 p. 30: 300,000 less 200,000 is 33 1/3 %.
    let mut made = shop();
    add(&mut made, "all", "2023-01-01", "200000", Some(("2023-02-01", "300000")));
    let year = books_of(&made, 2023).unwrap();
    let percent = line(&year, "5") * dec("100") / line(&year, "3");
    assert_eq!((line(&year, "5"), round(percent, 2)), (dec("100000"), dec("33.33")));
}

#[test]
fn part_three_of_a_filled_in_form() {
    // IRS Pub. 334 (2001) ch. 10; lines 36, 41, 42 and 5 from memory.
    let mut made = shop();
    add(&mut made, "old", "2022-05-01", "42843", Some(("2023-02-01", "396300")));
    add(&mut made, "new", "2023-03-01", "196506", Some(("2023-06-01", "1442")));
    add(&mut made, "left", "2023-04-01", "43746", None);
    add(&mut made, "back", "2022-04-01", "0", Some(("2022-06-01", "1442")));
    made.pieces[3].returned.push(returned(day("2023-06-02"), dec("1442")));
    let year = books_of(&made, 2023).unwrap();
    let expected =
        [("1", "397742"), ("2", "1442"), ("3", "396300"), ("36", "240252"), ("40", "283095")];
    for (number, amount) in expected.into_iter().chain([("42", "239349"), ("5", "156951")]) {
        assert_eq!(line(&year, number), dec(amount), "line {number}");
    }
}

#[test]
fn specific_identification_of_the_published_lots() {
    // OpenStax Financial Accounting 10.2 and 10.3: of lots 150 at 21, 225 at 27 and 210 at 33, the
    // sales of 120 at 36 and 180 at 39 take 140 of the first lot and 160 of the second.
    let mut made = shop();
    for (name, on, count, cost) in [
        ("first", "2023-07-01", 150, "3150"),
        ("second", "2023-07-10", 225, "6075"),
        ("third", "2023-07-25", 210, "6930"),
    ] {
        add(&mut made, name, on, cost, None);
        made.pieces.last_mut().unwrap().count = count;
    }
    let part = |on: &str, count: u32, price: &str| Sale {
        count: Some(count.into()),
        ..sale(day(on), Money::from(count) * dec(price))
    };
    made.pieces[0].sale = vec![part("2023-07-05", 120, "36"), part("2023-07-15", 20, "39")];
    made.pieces[1].sale = vec![part("2023-07-15", 160, "39")];
    let year = books_of(&made, 2023).unwrap();
    assert_eq!(line(&year, "40"), dec("16155"));
    assert_eq!((line(&year, "42"), line(&year, "41")), (dec("7260"), dec("8895")));
    assert_eq!((line(&year, "1"), line(&year, "5")), (dec("11340"), dec("4080")));
    assert_eq!(year.unsold.iter().map(|row| row.count).sum::<u32>(), 285);
}

#[test]
fn gross_margin_of_a_multistep_statement() {
    // OpenStax Financial Accounting 6.6: 300,000 less 2,000 discounts and 4,500 returns is 293,500;
    // cost 180,000, margin 113,500, ratio 0.39. Discounts are in the price a piece was sold at.
    let mut made = shop();
    add(&mut made, "all", "2023-01-01", "180000", Some(("2023-02-01", "293500")));
    add(&mut made, "back", "2023-01-01", "0", Some(("2023-02-01", "4500")));
    made.pieces[1].returned.push(returned(day("2023-03-01"), dec("4500")));
    let year = books_of(&made, 2023).unwrap();
    assert_eq!((line(&year, "3"), line(&year, "5")), (dec("293500"), dec("113500")));
    assert_eq!(round(line(&year, "5") / line(&year, "3"), 2), dec("0.39"));
}

#[test]
fn opening_stock_is_the_closing_stock_of_the_year_before() {
    // IRS Pub. 334 (2023 returns) ch. 6 p. 27: line 35 must equal line 41 of the year before.
    let mut made = shop();
    add(&mut made, "kept-over", "2022-12-31", "500", Some(("2024-01-01", "900")));
    let (before, after) = (books_of(&made, 2023).unwrap(), books_of(&made, 2024).unwrap());
    assert_eq!((line(&before, "41"), line(&after, "35")), (dec("500"), dec("500")));
}

fn driven(trips: &[(&str, &str)], year: i32) -> Year {
    let mut made = shop();
    for (on, miles) in trips {
        book(&mut made, year).trip.push(trip(day(on), dec(miles), TripPurpose::Other, None));
    }
    books_of(&made, year).unwrap()
}

#[test]
fn miles_at_the_rate_of_their_day() {
    // IRS, Changes to the 2023 Instructions for Schedule C, line 9: 1,250 × 0.655 = 818.75.
    let year = driven(&[("2023-04-01", "1250")], 2023);
    assert_eq!((line(&year, "9"), year.trips.miles), (dec("818.75"), dec("1250")));
    // IRS standard mileage rates, the two halves of 2022 (read elsewhere): 585 + 625 = 1,210.
    let split = driven(&[("2022-06-30", "1000"), ("2022-07-01", "1000")], 2022);
    assert_eq!(line(&split, "9"), dec("1210.00"));
}

#[test]
fn mileage_rates_by_date() {
    // IRS Pub. 334 (2023) p. 31; Notice 2025-5; Notice 2026-10; the others read elsewhere.
    let made = shop();
    let expected = [
        ("2022-01-01", "0.585"),
        ("2022-07-01", "0.625"),
        ("2023-01-01", "0.655"),
        ("2024-01-01", "0.67"),
        ("2025-01-01", "0.70"),
        ("2026-01-01", "0.725"),
    ];
    for (on, rate) in expected {
        assert_eq!(made.mileage_rate(day(on)), Some(dec(rate)), "{on}");
    }
    assert_eq!(made.mileage_rate(day("2027-01-01")), None);
}

#[test]
fn whole_dollars_of_a_line() {
    // IRS Pub. 17 (2023) ch. 1 p. 14: 1.39 is 1, 2.50 is 3; cents are added first, so three times
    // 10.50 on one line is 32 and not 33.
    let advertised = |amounts: &[&str]| {
        let mut made = shop();
        for amount in amounts {
            book(&mut made, 2023).expense.push(expense("2023-01-01", "advertising", amount));
        }
        entered(&books_of(&made, 2023).unwrap(), "8")
    };
    assert_eq!(advertised(&["1.39"]), dec("1"));
    assert_eq!(advertised(&["2.50"]), dec("3"));
    assert_eq!(advertised(&["10.50", "10.50", "10.50"]), dec("32"));
}

#[test]
fn a_workspace_by_the_simplified_method() {
    // IRS Pub. 334 (2023 returns) ch. 8 p. 38: 5 a square foot, 300 square feet at most.
    for (area, amount) in [("150", "750"), ("300", "1500"), ("360", "1500")] {
        let mut made = shop();
        // It counts as far as there is profit.
        add(&mut made, "found", "2023-01-01", "0", Some(("2023-02-01", "9000.00")));
        let area = dec(area);
        let place = dovetally::model::Place::NOWHERE;
        let uses = vec![SpaceUse { area, from: None, to: None }];
        book(&mut made, 2023).workspace = Some(Workspace { uses, months: None, place });
        assert_eq!(line(&books_of(&made, 2023).unwrap(), "30"), dec(amount));
    }
}

/// A year with one sale as its net profit.
fn earning(net: &str, year: i32) -> Year {
    let mut made = shop();
    let on = format!("{year}-06-01");
    add(&mut made, "found", &on, "0", Some((&on, net)));
    books_of(&made, year).unwrap()
}

#[test]
fn net_earnings_of_the_irs_example() {
    // IRS Pub. 334 (2023 returns) ch. 10 p. 42: 1,200 × 0.9235 = 1,108 in whole dollars.
    let found = earning("1200", 2023).self_employment.unwrap();
    assert_eq!(found.net_earnings, dec("1108.20"));
    assert_eq!(round(found.net_earnings, 0), dec("1108"));
}

#[test]
fn self_employment_tax_by_year() {
    // Two public tax libraries that agree, run for these inputs; 2022 by one of them.
    for year in YEARS {
        for (net, tax) in [
            ("433", "0"),
            ("434", "61.322247"),
            ("30000", "4238.865"),
            ("50000", "7064.775"),
            ("100000", "14129.55"),
        ] {
            let found = earning(net, year).self_employment.unwrap();
            assert_eq!(found.tax, dec(tax), "{net} in {year}");
            assert_eq!(found.half, dec(tax) / dec("2"), "{net} in {year}");
        }
    }
    let capped = [(2022, "23584.30"), (2023, "25221.10"), (2024, "26262.70"), (2025, "27192.70")];
    for (year, tax) in capped.into_iter().chain([(2026, "28234.30")]) {
        assert_eq!(earning("200000", year).self_employment.unwrap().tax, dec(tax), "{year}");
    }
    // The deductible half is half of the exact tax: 2,119 and not half of 4,239 (our rule).
    let half = earning("30000", 2025).self_employment.unwrap().half;
    assert_eq!(round(half, 0), dec("2119"));
}

#[test]
fn wages_elsewhere_use_up_the_wage_base_first() {
    // IRS Pub. 334 (2023 returns) pp. 39-40: the Social Security part stops at the base less wages.
    let forms = built_in_forms();
    let found = self_employment(form(&forms, 2023), 2023, dec("50000"), dec("160200")).unwrap();
    assert_eq!(found.social_security, dec("0"));
    assert_eq!(found.medicare, dec("50000") * dec("0.9235") * dec("0.029"));
}

#[test]
fn estimated_tax_falls_due_on_these_days() {
    // IRS Pub. 17 (2023) ch. 4 p. 42 for 2024; the same rule worked out for 2025; 2026 read elsewhere.
    let expected = [
        (2024, ["2024-04-15", "2024-06-17", "2024-09-16", "2025-01-15"]),
        (2025, ["2025-04-15", "2025-06-16", "2025-09-15", "2026-01-15"]),
        (2026, ["2026-04-15", "2026-06-15", "2026-09-15", "2027-01-15"]),
    ];
    for (year, days) in expected {
        let books = earning("30000", year);
        let due: Vec<_> = books.set_aside.iter().map(|part| part.on).collect();
        assert_eq!(due, days.map(day));
        let amounts: Money = books.set_aside.iter().map(|part| part.amount).sum();
        assert_eq!(amounts, dec("4238.87"));
    }
}

#[test]
fn tables_of_the_form() {
    // Wage base: ssa.gov as two public tax libraries carry it. Reporting to payees: Pub. 334 (2023)
    // p. 11, P.L. 119-21 sec. 70433. Small business limit: Rev. Proc. 2021-45 and 2022-38; 2024 and
    // 2026 from memory. Line of other expenses: printed forms; 2024 and later read elsewhere.
    let forms = built_in_forms();
    let expected = [
        (2022, "147000", "600", "27000000", "27a"),
        (2023, "160200", "600", "29000000", "27a"),
        (2024, "168600", "600", "30000000", "27a"),
        (2025, "176100", "600", "31000000", "27b"),
        (2026, "184500", "2000", "32000000", "27b"),
    ];
    for (year, base, payee, small, other) in expected {
        let form = form(&forms, year);
        let on = day(&format!("{year}-12-31"));
        let rate = |name: &str| form.rate(name, on).unwrap().value;
        assert_eq!(rate("wage-base"), dec(base), "{year}");
        assert_eq!(rate("payee-report"), dec(payee), "{year}");
        assert_eq!(rate("small-business"), dec(small), "{year}");
        assert_eq!(rate("self-employment-floor"), dec("400"), "{year}");
        assert_eq!(rate("de-minimis"), dec("2500"), "{year}");
        let takes = form.lines.iter().find(|line| line.plus == ["48"]).unwrap();
        assert_eq!(takes.number, other, "{year}");
    }
}
