//! Mileage, whole dollars, the workspace, and the estimate of self-employment tax with its days.

use super::{YEARS, earning};
use crate::folders::{Folder, Written};
use crate::shops::dec;

fn driven(trips: &[(&str, &str)]) -> Written {
    let mut shop = Folder::new();
    for (on, miles) in trips {
        let year = on[..4].parse().unwrap();
        let trip = format!(
            "[[trip]]\non = {on}\nmiles = {miles}\npurpose = \"other\"\nwhat = \"drive of {on}\"\n"
        );
        shop = shop.book_more(year, &trip);
    }
    shop.written()
}

#[test]
fn miles_at_the_rate_of_their_day() {
    // IRS, Changes to the 2023 Instructions for Schedule C, line 9 (read): 1,250 × 0.655 = 818.75.
    driven(&[("2023-04-01", "1250")]).assert_lines(2023, &[("9", "818.75"), ("44a", "1250")]);
    // IRS standard mileage rates of the two halves of 2022 (secondary): 585 + 625 = 1,210.
    let split = driven(&[("2022-06-30", "1000"), ("2022-07-01", "1000")]);
    split.assert_lines(2022, &[("9", "1210.00"), ("44a", "2000")]);
}

#[test]
fn mileage_rates_by_date() {
    // IRS Pub. 334 (2023) p. 31 (read) for 2023; Notices 2025-5 and 2026-10, Announcement 2026-11 and the other rates
    // read on secondary pages. A thousand miles on the first day of each.
    for (on, amount) in [
        ("2022-01-01", "585"),
        ("2022-07-01", "625"),
        ("2023-01-01", "655"),
        ("2024-01-01", "670"),
        ("2025-01-01", "700"),
        ("2026-01-01", "725"),
        ("2026-07-01", "760"),
    ] {
        driven(&[(on, "1000")]).assert_lines(on[..4].parse().unwrap(), &[("9", amount)]);
    }
}

#[test]
fn whole_dollars_of_a_line() {
    // IRS Pub. 17 (2023) ch. 1 p. 14 (read): 1.39 is 1, 2.50 is 3; cents are added first, so three
    // times 10.50 on one line is 32 and not 33 (worked out).
    let advertised = |amounts: &[&str]| {
        let entries = amounts.iter().map(|amount| {
            format!(
                "[[expense]]\non = 2023-01-01\nwhat = \"notice\"\ncategory = \"advertising\"\n\
                 amount = {amount}\n"
            )
        });
        Folder::new().book(2023, &entries.collect::<String>()).written().whole(2023, "8")
    };
    assert_eq!(advertised(&["1.39"]), dec("1"));
    assert_eq!(advertised(&["2.50"]), dec("3"));
    assert_eq!(advertised(&["10.50", "10.50", "10.50"]), dec("32"));
}

#[test]
fn a_workspace_by_the_simplified_method() {
    // IRS Pub. 334 (2023 returns) ch. 8 p. 38 (rule read, amounts worked out): 5 a square foot, 300
    // square feet at most. Months written as a number are full months.
    for (area, months, amount) in
        [("150", 12, "750"), ("300", 12, "1500"), ("360", 12, "1500"), ("300", 6, "750")]
    {
        let shop = Folder::new()
            .bought("found", "2023-01-01", "0", Some(("2023-02-01", "9000")))
            .book(2023, &format!("[workspace]\narea = {area}\nmonths = {months}\n"))
            .written();
        shop.assert_lines(2023, &[("30", amount)]);
    }
}

#[test]
fn a_workspace_that_began_or_grew_within_the_year() {
    // IRS Pub. 587, simplified method, its two examples, as quoted on two pages: 420 square feet from
    // 20 July are 125 on average; 100 from 20 April and 330 from 5 August are 150.
    for (written, amount) in [
        ("area = 420\nfrom = 2023-07-20\n", "625"),
        ("area = 100\nfrom = 2023-04-20\nchange = [{ from = 2023-08-05, area = 330 }]\n", "750"),
        // Worked out by the same rule: 15 days of a month count, 14 do not.
        ("area = 120\nfrom = 2023-12-17\n", "50"),
        ("area = 120\nfrom = 2023-12-18\n", "0"),
        ("area = 120\nto = 2023-01-15\n", "50"),
        ("area = 120\nto = 2023-01-14\n", "0"),
    ] {
        let shop = Folder::new()
            .bought("found", "2023-01-01", "0", Some(("2023-02-01", "9000")))
            .book(2023, &format!("[workspace]\n{written}"))
            .written();
        shop.assert_lines(2023, &[("30", amount)]);
    }
}

#[test]
fn net_earnings_of_the_irs_example() {
    // IRS Pub. 334 (2023 returns) ch. 10 p. 42 (read): 1,200 × 0.9235 = 1,108 in whole dollars; the
    // estimate is kept to the cent.
    assert_eq!(earning("1200", 2023, "").figure(2023, "self-employment-earnings"), dec("1108.20"));
}

/// The tax and its deductible half, to the cent.
fn tax(shop: &Written, year: i32) -> (String, String) {
    let found = &shop.year(year)["self_employment"];
    let part = |key: &str| found[key].as_str().unwrap().to_owned();
    (part("tax"), part("half"))
}

#[test]
fn self_employment_tax_by_year() {
    // Two public tax libraries that agree, run for these inputs; 2022 by one of them. Their exact
    // amounts 61.322247, 4,238.865, 7,064.775 and 14,129.55, printed to the cent.
    for year in YEARS {
        for (net, whole, half) in [
            ("433", "0.00", "0.00"),
            ("434", "61.32", "30.66"),
            ("30000", "4238.87", "2119.43"),
            ("50000", "7064.78", "3532.39"),
            ("100000", "14129.55", "7064.78"),
        ] {
            let found = tax(&earning(net, year, ""), year);
            assert_eq!(found, (whole.to_owned(), half.to_owned()), "{net} in {year}");
        }
    }
}

#[test]
fn the_social_security_part_stops_at_the_base_of_its_year() {
    // The same libraries for 200,000; the bases are those of ssa.gov as they carry them.
    for (year, whole) in [
        (2022, "23584.30"),
        (2023, "25221.10"),
        (2024, "26262.70"),
        (2025, "27192.70"),
        (2026, "28234.30"),
    ] {
        assert_eq!(tax(&earning("200000", year, ""), year).0, whole, "{year}");
    }
}

#[test]
fn wages_elsewhere_use_up_the_base_first() {
    // IRS Pub. 334 (2023 returns) pp. 39-40 (rule read, amounts worked out): of the base of 160,200
    // wages of 150,200 leave 10,000 × 0.124 = 1,240; 50,000 × 0.9235 × 0.029 = 1,339.075 on all.
    let some = earning("50000", 2023, "wages = { 2023 = 150200.00 }");
    let (social, medicare) = ("self-employment-social-security", "self-employment-medicare");
    some.assert_figures(2023, &[(social, "1240.00"), (medicare, "1339.08")]);
    assert_eq!(tax(&some, 2023).0, "2579.08");
    let all = earning("50000", 2023, "wages = { 2023 = 160200.00, 2024 = 1.00 }");
    all.assert_figures(2023, &[(social, "0"), ("self-employment-tax", "1339.08")]);
}

#[test]
fn estimated_tax_falls_due_on_these_days() {
    // IRS Pub. 17 (2023) ch. 4 p. 42 (read) for 2024; the same rule worked out for 2025; 2026 read
    // on secondary pages.
    for (year, days) in [
        (2024, ["2024-04-15", "2024-06-17", "2024-09-16", "2025-01-15"]),
        (2025, ["2025-04-15", "2025-06-16", "2025-09-15", "2026-01-15"]),
        (2026, ["2026-04-15", "2026-06-15", "2026-09-15", "2027-01-15"]),
    ] {
        let shop = earning("30000", year, "");
        let listed = shop.run(&["trace", &year.to_string()]).out;
        let due: Vec<&str> =
            listed.lines().filter_map(|line| line.split("To set aside by ").nth(1)).collect();
        assert_eq!(due.len(), 4, "{year}");
        for (line, day) in due.iter().zip(days) {
            assert!(line.starts_with(day), "{line}");
        }
        // 4,238.87 in four parts to the cent.
        for (part, amount) in [(1, "1059.72"), (2, "1059.72"), (3, "1059.72"), (4, "1059.71")] {
            shop.assert_figures(year, &[(&format!("set-aside-{part}"), amount)]);
        }
    }
}
