//! How the books are kept, through a shop folder: opening stock, a change of method, the workspace,
//! business shares, payees and what the form asks in words. Each worked by hand.

use crate::folders::{Folder, Written};

const WAX: &str = "[wax]\nlabel = \"wax\"\nunit = \"oz\"\n";

/// 10 oz of wax at 20.00 are there when the books begin; 4 oz go into a stool that is sold.
///
/// 2.00 an oz: opening stock 20.00, cost of goods sold 8.00, 12.00 left.
#[test]
fn shop_stock_there_when_the_books_begin() {
    let book = "on-hand = [{ stock = \"wax\", quantity = \"10 oz\", amount = 20.00 }]\n";
    let shop = Folder::new().file("stock.toml", WAX).piece(
        "stool",
        "bought = { on = 2025-01-05, price = 0 }
used = [{ on = 2025-02-01, stock = \"wax\", quantity = \"4 oz\" }]
sale = [{ on = 2025-03-01, price = 50.00 }]",
    );
    let same = shop.clone().book(2025, book).written();
    same.assert_lines(2025, &[("35", "20.00"), ("38", "0"), ("42", "8.00"), ("41", "12.00")]);
    assert!(!same.notes(2025).contains("opening-difference"));
    // Filed with 26.50: the opening stock is 6.50 less.
    let filed = shop.book(2025, &format!("{book}[opening]\nstock = 26.50\n")).written();
    filed.assert_figures(2025, &[("opening-difference", "-6.50")]);
    let notes = filed.notes(2025);
    assert!(notes.contains("opening-difference") && notes.contains("-6.50"), "{notes}");
}

/// A desk of 300.00 sold in December and paid in January, and a deposit of 40.00 in December for a
/// chest of 240.00 sold in March. Together 540.00.
fn changing(from: &str, to: &str) -> Written {
    Folder::shop(&format!("[books]\nbasis = \"{from}\""))
        .piece(
            "desk",
            "bought = { on = 2024-01-10, price = 0 }
sale = [{ on = 2024-12-10, price = 300.00 }]
payment = [{ on = 2025-01-15, amount = 300.00 }]",
        )
        .piece(
            "chest",
            "bought = { on = 2024-01-10, price = 0 }
sale = [{ on = 2025-03-01, price = 240.00 }]
payment = [{ on = 2024-12-15, amount = 40.00 }, { on = 2025-03-01, amount = 200.00 }]",
        )
        .book(2024, "")
        .book(2025, &format!("[method]\nbasis = \"{to}\"\n"))
        .written()
}

#[test]
fn a_change_of_basis_is_called_out_with_its_amounts() {
    // Accrual then cash: 300.00, then 300.00 + 200.00; that is 540.00 + 300.00 twice − 40.00 never.
    let to_cash = changing("accrual", "cash");
    to_cash.assert_lines(2024, &[("1", "300.00")]);
    to_cash.assert_lines(2025, &[("1", "500.00")]);
    // Cash then accrual: 40.00, then 240.00; that is 540.00 − 300.00 never + 40.00 twice.
    let to_accrual = changing("cash", "accrual");
    to_accrual.assert_lines(2024, &[("1", "40.00")]);
    to_accrual.assert_lines(2025, &[("1", "240.00")]);
    for shop in [to_cash, to_accrual] {
        shop.assert_figures(2025, &[("change-basis", "260.00")]);
        let notes = shop.notes(2025);
        for said in ["method-changed", "300.00", "40.00"] {
            assert!(notes.contains(said), "{said} in {notes}");
        }
        assert!(!shop.notes(2024).contains("method-changed"));
    }
}

/// 8 oz of wax for 16.00 in 2024, 2 oz used in 2025 on a stool that is sold.
fn waxed(from: &str, to: &str) -> Written {
    let method = match to {
        "" => String::new(),
        to => format!("[method]\nsupplies = \"{to}\"\n"),
    };
    Folder::shop(&format!("[books]\nsupplies = \"{from}\""))
        .file("stock.toml", WAX)
        .piece(
            "stool",
            "bought = { on = 2025-01-05, price = 0 }
used = [{ on = 2025-02-01, stock = \"wax\", quantity = \"2 oz\" }]
sale = [{ on = 2025-03-01, price = 50.00 }]",
        )
        .book(
            2024,
            "supply = [{ on = 2024-06-01, stock = \"wax\", quantity = \"8 oz\", amount = 16 }]",
        )
        .book(2025, &method)
        .written()
}

#[test]
fn a_change_of_supplies_is_called_out_and_answered_on_line_34() {
    // When bought, then when used: 16.00 an expense in 2024 and in the opening stock of 2025 too.
    let used = waxed("when-bought", "when-used");
    used.assert_lines(2024, &[("22", "16.00"), ("41", "0")]);
    used.assert_lines(2025, &[("35", "16.00"), ("42", "4.00"), ("41", "12.00"), ("22", "0")]);
    // When used, then when bought: 16.00 in the closing stock of 2024 and nowhere in 2025.
    let bought = waxed("when-used", "when-bought");
    bought.assert_lines(2024, &[("38", "16.00"), ("41", "16.00"), ("42", "0")]);
    bought.assert_lines(2025, &[("35", "0"), ("42", "0"), ("22", "0")]);
    for shop in [used, bought] {
        shop.assert_figures(2025, &[("change-supplies", "16.00")]);
        assert_eq!(shop.answer(2025, "34").as_deref(), Some("yes"));
        // Of the year before nothing is known in 2024.
        assert_eq!(shop.answer(2024, "34"), None);
        let notes = shop.notes(2025);
        assert!(notes.contains("method-changed") && notes.contains("16.00"), "{notes}");
    }
    let same = waxed("when-used", "");
    assert_eq!(same.answer(2025, "34").as_deref(), Some("no"));
    assert!(!same.notes(2025).contains("method-changed"));
}

/// 20 square feet at 5.00 are 100.00. Receipts of 100.00 less 40.00 leave 60.00: 40.00 is over.
#[test]
fn a_workspace_makes_no_loss() {
    let spent = |amount: &str| {
        let book = format!(
            "expense = [{{ on = 2025-03-01, what = \"notice\", category = \"advertising\", \
             amount = {amount} }}]\n[workspace]\narea = 20\nmonths = 12\n"
        );
        let shop = Folder::new().bought("stool", "2025-01-01", "0", Some(("2025-02-01", "100.00")));
        shop.book(2025, &book).written()
    };
    let some = spent("40.00");
    some.assert_lines(2025, &[("29", "60.00"), ("30", "60.00"), ("31", "0")]);
    let notes = some.notes(2025);
    assert!(notes.contains("workspace-over-profit") && notes.contains("40.00"), "{notes}");
    let loss = spent("130.00");
    loss.assert_lines(2025, &[("29", "-30.00"), ("30", "0"), ("31", "-30.00")]);
    let all = spent("0");
    all.assert_lines(2025, &[("30", "100.00"), ("31", "0")]);
    assert!(!all.notes(2025).contains("workspace-over-profit"));
}

#[test]
fn only_the_business_share_of_an_expense_counts() {
    // 60 % of 80.00 is 48.00; of meals of 30.00 half is the business's and half of that counts.
    let book = "expense = [
{ on = 2025-03-01, what = \"telephone\", category = \"telephone\", amount = 80.00, share = \"60%\" },
{ on = 2025-03-02, what = \"a lunch\", category = \"meals\", amount = 30.00, share = \"50%\" }]";
    let shop = Folder::new().book(2025, book).written();
    shop.assert_lines(2025, &[("25", "48.00"), ("24b", "7.50"), ("28", "55.50")]);
    shop.assert_figures(2025, &[("expense-telephone", "48.00"), ("expense-meals", "15.00")]);
}

/// Pat: 700.00 of contract labour and 150.00 on a piece. Sam: wages of 2,000.00, which count towards
/// no threshold. 60.00 on a piece without a named payee.
#[test]
fn everyone_paid_for_work_has_a_total() {
    let shop = Folder::new()
        .piece(
            "chair",
            "bought = { on = 2025-01-05, price = 10.00 }
cost = [{ on = 2025-02-01, what = \"caning\", kind = \"paid-work\", amount = 150.00, to = \"Pat\" },
        { on = 2025-02-02, what = \"turning\", kind = \"paid-work\", amount = 60.00 }]",
        )
        .book(
            2025,
            "expense = [
{ on = 2025-03-01, what = \"loading\", category = \"contract-labour\", amount = 700.00, to = \"Pat\" },
{ on = 2025-03-02, what = \"wages\", category = \"wages\", amount = 2000.00, to = \"Sam\" }]",
        )
        .written();
    shop.assert_lines(2025, &[("11", "700.00"), ("26", "2000.00"), ("37", "210.00")]);
    let expected = [("payee-Pat", "850.00"), ("payee-Sam", "2000.00"), ("payee-unnamed", "60.00")];
    shop.assert_figures(2025, &expected);
    let payees = shop.year(2025)["payees"].clone();
    let row = |i: usize| {
        let text = |key: &str| payees[i][key].as_str().unwrap().to_owned();
        (text("payee"), text("paid"), text("reported"), payees[i]["to_report"].as_bool())
    };
    let of = |name: &str, paid: &str, reported: &str, report| {
        (name.to_owned(), paid.to_owned(), reported.to_owned(), Some(report))
    };
    assert_eq!(row(0), of("Sam", "2000.00", "0.00", false));
    assert_eq!(row(1), of("Pat", "850.00", "850.00", true));
    assert_eq!(payees.as_array().unwrap().len(), 2);
}

#[test]
fn the_vehicle_answers_stand_on_their_lines() {
    let trip = "[[trip]]\non = 2025-03-01\nmiles = 1500\npurpose = \"other\"\nwhat = \"fairs\"\n";
    let answered = "[vehicle]\ntotal = 5000\ncommuting = 1000\nother = 2000\n\
                    in-service = 2023-05-04\nprivate-use = true\nanother-vehicle = false\n\
                    evidence = true\nwritten-evidence = false\n";
    let shop = Folder::new().book(2025, &format!("{trip}{answered}")).written();
    shop.assert_lines(2025, &[("44a", "1500"), ("44b", "1000"), ("44c", "2000")]);
    for (number, answer) in
        [("43", "2023-05-04"), ("45", "yes"), ("46", "no"), ("47a", "yes"), ("47b", "no")]
    {
        assert_eq!(shop.answer(2025, number).as_deref(), Some(answer), "line {number}");
    }
    // 1,500 + 1,000 + 2,000 are 4,500 of 5,000.
    assert!(shop.notes(2025).contains("vehicle-miles"));
    let open = Folder::new().book(2025, trip).written();
    for number in ["43", "45", "46", "47a", "47b"] {
        assert_eq!(open.answer(2025, number), None, "line {number}");
    }
}
