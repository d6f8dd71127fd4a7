//! What the form's tables say by year: the line of other expenses, reporting to payees, the safe
//! harbour, and stock that is given away or kept.

use crate::folders::{Folder, Written};
use crate::shops::dec;

/// A year with one expense.
fn spent(year: i32, category: &str, amount: &str, more: &str) -> Written {
    let book = format!(
        "[[expense]]\non = {year}-05-05\nwhat = \"something\"\ncategory = \"{category}\"\n\
         amount = {amount}\n{more}\n"
    );
    Folder::new().book(year, &book).written()
}

#[test]
fn other_expenses_stand_on_the_line_of_their_year() {
    // Schedule C: line 48 goes to 27a for 2023 (irs.gov, read); 27a for 2022 and 2024 and 27b from
    // 2025 (secondary).
    for (year, other, reserved) in [
        (2022, "27a", None),
        (2023, "27a", Some("27b")),
        (2024, "27a", Some("27b")),
        (2025, "27b", Some("27a")),
        (2026, "27b", Some("27a")),
    ] {
        let shop = spent(year, "sundry", "12.34", "");
        shop.assert_lines(year, &[("48", "12.34"), (other, "12.34"), ("28", "12.34")]);
        if let Some(reserved) = reserved {
            shop.assert_lines(year, &[(reserved, "0")]);
        }
    }
}

#[test]
fn meals_count_at_the_portion_of_their_year() {
    // Instructions for Schedule C 2023 (read): restaurant meals are back to 50 %.
    spent(2023, "meals", "31.00", "").assert_lines(2023, &[("24b", "15.50")]);
    spent(2023, "restaurant-meals", "31.00", "").assert_lines(2023, &[("24b", "15.50")]);
    spent(2022, "restaurant-meals", "31.00", "").assert_lines(2022, &[("24b", "31.00")]);
    spent(2022, "meals", "31.00", "").assert_lines(2022, &[("24b", "15.50")]);
}

#[test]
fn a_payee_is_reported_from_the_threshold_of_the_year_on() {
    // IRS Pub. 334 (2023 returns) p. 11 (read): 600 for one payee; 2,000 from 2026, P.L. 119-21
    // sec. 70433 (secondary).
    for (year, below, at) in
        [(2022, "599.99", "600"), (2023, "599.99", "600"), (2024, "599.99", "600")]
            .into_iter()
            .chain([(2025, "599.99", "600"), (2026, "1999.99", "2000")])
    {
        let reached = |amount: &str| {
            let shop = spent(year, "contract-labour", amount, "to = \"Pat\"");
            assert_eq!(shop.figure(year, "payee-Pat"), dec(amount));
            shop.year(year)["payees"][0]["to_report"].as_bool().unwrap()
        };
        assert_eq!((reached(below), reached(at)), (false, true), "{year}");
    }
}

#[test]
fn work_and_rent_each_have_the_threshold_to_themselves_and_cards_none() {
    // Instructions for Forms 1099-MISC and 1099-NEC, as quoted on two pages: rent on the one, work on
    // the other; what is paid by card is reported by others.
    let reports = |year, category: &str, amount: &str, more: &str| {
        let shop = spent(year, category, amount, &format!("to = \"Pat\"\n{more}"));
        shop.year(year)["payees"][0]["reports"].clone()
    };
    for category in ["repairs", "commissions", "advertising", "professional-services"] {
        let found = reports(2025, category, "600", "");
        assert_eq!((&found[0]["form"], &found[0]["reached"]), (&"1099-NEC".into(), &true.into()));
    }
    for category in ["rent", "equipment-rent", "selling-space"] {
        let found = reports(2025, category, "599.99", "");
        assert_eq!((&found[0]["form"], &found[0]["reached"]), (&"1099-MISC".into(), &false.into()));
    }
    for how in ["card", "service"] {
        let found = reports(2025, "repairs", "5000", &format!("how = \"{how}\""));
        assert_eq!(found.as_array().unwrap().len(), 0, "{how}");
    }
    assert_eq!(reports(2025, "repairs", "5000", "how = \"check\"")[0]["reached"], true);
}

#[test]
fn expenses_go_to_the_lines_of_the_instructions() {
    // Instructions for Schedule C, lines 18 and 25, as quoted elsewhere; a stall is a place rented.
    for (category, line) in [("postage", "18"), ("telephone", "25"), ("selling-space", "20b")] {
        spent(2025, category, "31.00", "").assert_lines(2025, &[(line, "31.00"), ("48", "0")]);
    }
    // The draft of 2026 has a line of its own for vehicle loans, which moves other interest.
    for (year, category, line) in [
        (2025, "interest", "16b"),
        (2025, "vehicle-loan-interest", "16b"),
        (2026, "interest", "16c"),
        (2026, "vehicle-loan-interest", "16b"),
        (2026, "mortgage-interest", "16a"),
    ] {
        let shop = spent(year, category, "31.00", "");
        shop.assert_lines(year, &[(line, "31.00"), ("28", "31.00")]);
    }
    let spelled = spent(2025, "contract-labour", "31.00", "");
    spelled.assert_lines(2025, &[("11", "31.00")]);
    assert_eq!(spelled.figure(2025, "expense-contract-labor"), dec("31.00"));
}

#[test]
fn small_equipment_is_an_expense_and_more_is_left_to_the_preparer() {
    // IRS Pub. 334 (2023 returns) p. 38 (read): 2,500 an item; such amounts stand in Part V.
    let small = spent(2023, "equipment", "2500.00", "");
    small.assert_lines(2023, &[("48", "2500.00"), ("13", "0"), ("28", "2500.00")]);
    let large = spent(2023, "equipment", "2500.01", "");
    large.assert_lines(2023, &[("48", "0"), ("13", "0"), ("28", "0")]);
    large.assert_figures(2023, &[("apart", "2500.01")]);
}

/// Goods that had cost 400, given to charity in 2023.
fn donated(bought: &str) -> Written {
    Folder::new()
        .piece(
            "gift",
            &format!(
                "bought = {{ on = {bought}, price = 400 }}
withdrawn = {{ on = 2023-06-01, how = \"given\" }}"
            ),
        )
        .written()
}

#[test]
fn stock_kept_for_own_use_is_out_of_purchases() {
    // IRS Pub. 334 (2023 returns) ch. 6 p. 28 (read): purchases less what is withdrawn.
    let shop = Folder::new()
        .piece(
            "own",
            "bought = { on = 2023-05-01, price = 2650 }
withdrawn = { on = 2023-07-01, how = \"kept\" }",
        )
        .written();
    shop.assert_lines(2023, &[("36", "0"), ("41", "0"), ("42", "0")]);
}

#[test]
fn stock_given_to_charity_that_was_there_at_the_start_is_no_cost() {
    // IRS Pub. 334 (2023 returns) ch. 6 p. 28 (read): worth 600 and in the opening stock at 400,
    // it is no part of cost of goods sold; the deduction of 400 is the owner's own.
    let shop = donated("2022-03-01");
    shop.assert_lines(2023, &[("41", "0"), ("42", "0"), ("31", "0")]);
    shop.assert_figures(2023, &[("withdrawn-given", "400")]);
    assert!(shop.notes(2023).contains("given-away"));
}

#[test]
fn stock_bought_and_given_to_charity_in_one_year_stays_a_cost() {
    // The same page (read): goods of the same year stay in cost of goods sold, and nothing is
    // deducted besides.
    let shop = donated("2023-03-01");
    shop.assert_lines(2023, &[("36", "400"), ("41", "0"), ("42", "400"), ("31", "-400")]);
    shop.assert_figures(2023, &[("withdrawn-given", "0"), ("written-off", "400")]);
}
