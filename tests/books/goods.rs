//! Goods through a shop folder: what is in stock when, what leaves it and what that costs. Each
//! worked by hand.

use crate::folders::{Folder, Written};
use crate::shops::dec;

const WAX: &str = "[wax]\nlabel = \"wax\"\nunit = \"oz\"\n";

/// A shop that keeps wax, with a way of costing it.
fn waxed(cost: &str) -> Folder {
    Folder::shop(&format!("[books]\nstock-cost = \"{cost}\"")).file("stock.toml", WAX)
}

/// A desk bought at 100.00 and sold at 300.00 in 2024; 6.00 of wax are there when the book of 2025
/// begins. The wax is in the opening stock of 2025 and was never in any stock of 2024.
#[test]
fn stock_on_hand_is_in_no_closing_stock_of_the_year_before() {
    let shop = waxed("average")
        .bought("desk", "2024-02-01", "100.00", Some(("2024-05-01", "300.00")))
        .book(2025, "on-hand = [{ stock = \"wax\", quantity = \"3 oz\", amount = 6.00 }]\n")
        .written();
    shop.assert_lines(2024, &[("36", "100.00"), ("41", "0"), ("42", "100.00")]);
    shop.assert_lines(2025, &[("35", "6.00"), ("41", "6.00"), ("42", "0")]);
}

/// A dresser of 100.00 in the opening stock; 30.00 go into a desk with its mirror, then it is given
/// away. What is given of the opening stock is 70.00 (IRS Pub. 334 (2023 returns) p. 28): 70.00
/// leave line 36, and no cost of goods sold is left. The mirror is in the desk, in stock at 30.00.
fn given(bought: &str) -> Folder {
    Folder::new().bought("desk", "2025-01-05", "0", None).piece(
        "dresser",
        &format!(
            "bought = {{ on = {bought}, price = 100.00 }}
salvaged = [{{ on = 2025-03-01, what = \"mirror\", cost = 30.00, to = \"desk\" }}]
withdrawn = {{ on = 2025-04-01, how = \"given\" }}"
        ),
    )
}

#[test]
fn a_part_that_came_out_first_is_not_given_away() {
    let shop = given("2024-06-01").book(2024, "").written();
    shop.assert_lines(2025, &[("35", "100.00"), ("36", "-70.00"), ("41", "30.00"), ("42", "0")]);
    shop.assert_figures(2025, &[("withdrawn", "70.00"), ("written-off", "0")]);
    // Bought the same year, what was given stays in cost of goods sold: 70.00.
    let same_year = given("2025-02-01").written();
    same_year.assert_lines(2025, &[("36", "100.00"), ("41", "30.00"), ("42", "70.00")]);
    same_year.assert_figures(2025, &[("withdrawn", "0"), ("written-off", "70.00")]);
}

/// The mirror of a dresser of 2024 went into the desk, and then the desk was given: what the mirror
/// had cost was in the opening stock too. Of the desk's 20.00 of 2025 the cost stays.
#[test]
fn a_part_of_last_year_is_given_away_with_what_it_went_into() {
    let shop = Folder::new()
        .piece(
            "dresser",
            "bought = { on = 2024-06-01, price = 100.00 }
salvaged = [{ on = 2025-03-01, what = \"mirror\", cost = 30.00, to = \"desk\" }]",
        )
        .piece(
            "desk",
            "bought = { on = 2025-01-05, price = 20.00 }
withdrawn = { on = 2025-04-01, how = \"given\" }",
        )
        .book(2024, "")
        .written();
    shop.assert_lines(
        2025,
        &[("35", "100.00"), ("36", "-10.00"), ("41", "70.00"), ("42", "20.00")],
    );
    shop.assert_figures(2025, &[("withdrawn", "30.00"), ("written-off", "20.00")]);
}

/// 10 oz of wax for 20.00 in 2024; 4 oz go into a stool that stays unsold. When used: 12.00 on hand
/// and 8.00 in the stool, 20.00 in the closing stock. When bought from 2025 on: 20.00 in no figure.
#[test]
fn a_change_of_supplies_counts_what_unsold_pieces_have_drawn() {
    let changed = |from: &str, to: &str| {
        Folder::shop(&format!("[books]\nsupplies = \"{from}\""))
            .file("stock.toml", WAX)
            .piece(
                "stool",
                "bought = { on = 2024-01-05, price = 0 }
used = [{ on = 2024-07-01, stock = \"wax\", quantity = \"4 oz\" }]",
            )
            .book(
                2024,
                "supply = [{ on = 2024-06-01, stock = \"wax\", quantity = \"10 oz\", amount = 20 }]",
            )
            .book(2025, &format!("[method]\nsupplies = \"{to}\"\n"))
            .written()
    };
    let bought = changed("when-used", "when-bought");
    bought.assert_lines(2024, &[("41", "20.00")]);
    bought.assert_lines(2025, &[("35", "0"), ("42", "0")]);
    let used = changed("when-bought", "when-used");
    used.assert_lines(2024, &[("22", "20.00"), ("41", "0")]);
    used.assert_lines(2025, &[("35", "20.00"), ("41", "20.00")]);
    for shop in [bought, used] {
        shop.assert_figures(2025, &[("change-supplies", "20.00")]);
        assert!(shop.notes(2025).contains("20.00 of it"), "{}", shop.notes(2025));
    }
}

/// Sold for 300.00 in December on accrual basis and paid in January on cash basis, with no book of
/// the first year: it counts twice, and that is said.
#[test]
fn a_change_of_basis_is_said_without_a_book_of_the_year_before() {
    let shop = Folder::shop("[books]\nbasis = \"accrual\"")
        .piece(
            "desk",
            "bought = { on = 2024-01-10, price = 0 }
sale = [{ on = 2024-12-10, price = 300.00 }]
payment = [{ on = 2025-01-15, amount = 300.00 }]",
        )
        .book(2025, "[method]\nbasis = \"cash\"\n")
        .written();
    shop.assert_lines(2024, &[("1", "300.00")]);
    shop.assert_lines(2025, &[("1", "300.00")]);
    shop.assert_figures(2025, &[("change-basis", "300.00")]);
    let notes = shop.notes(2025);
    assert!(notes.contains("method-changed") && notes.contains("300.00"), "{notes}");
}

/// 10 oz for 20.00. A count in 2024 finds 7: 6.00 are written off. One in 2025 finds 9: 2 oz were
/// there after all, 4.00 (IRS Pub. 538: stock at cost). Closing stocks 14.00 and 18.00.
#[test]
fn what_a_count_missed_comes_back_when_it_is_found() {
    let shop = waxed("average")
        .book(
            2024,
            "supply = [{ on = 2024-06-01, stock = \"wax\", quantity = \"10 oz\", amount = 20 }]
count = [{ on = 2024-12-31, stock = \"wax\", quantity = \"7 oz\" }]",
        )
        .book(2025, "count = [{ on = 2025-12-31, stock = \"wax\", quantity = \"9 oz\" }]")
        .written();
    shop.assert_lines(2024, &[("41", "14.00"), ("42", "6.00")]);
    shop.assert_lines(2025, &[("35", "14.00"), ("41", "18.00"), ("42", "-4.00")]);
    shop.assert_figures(2025, &[("written-off", "-4.00")]);
}

/// 1 oz at 4.00 and 1 oz at 5.01, first in first out; two pieces draw 1 oz on one day, and one of
/// them is sold. They share 9.01: the one of the first number 4.51, the other 4.50, whatever their
/// folders are called.
#[test]
fn a_folder_can_be_renamed_and_no_figure_changes() {
    let named = |sold: &str, kept: &str| {
        let draw = "used = [{ on = 2025-03-01, stock = \"wax\", quantity = \"1 oz\" }]";
        let bought = "bought = { on = 2025-01-05, price = 0 }";
        waxed("fifo")
            .piece(sold, &format!("{bought}\n{draw}\nsale = [{{ on = 2025-05-01, price = 40 }}]"))
            .piece(kept, &format!("{bought}\n{draw}"))
            .book(
                2025,
                "supply = [{ on = 2025-02-01, stock = \"wax\", quantity = \"1 oz\", amount = 4.00 },
{ on = 2025-02-02, stock = \"wax\", quantity = \"1 oz\", amount = 5.01 }]",
            )
    };
    let numbered = |sold: &str, kept: &str| {
        let mut folder = named(sold, kept);
        for (name, number) in [(sold, "1"), (kept, "2")] {
            folder = folder
                .more(&format!("pieces/{name}/piece.toml"), &format!("number = \"{number}\"\n"));
        }
        folder.written()
    };
    for shop in [numbered("alder", "birch"), numbered("birch", "alder")] {
        shop.assert_lines(2025, &[("42", "4.51"), ("41", "4.50")]);
    }
}

/// Several entries of one item on one day, in any order of the file: bought, then drawn, then counted.
#[test]
fn entries_of_one_day_are_bought_drawn_and_counted() {
    let day = "supply = [{ on = 2025-03-01, stock = \"wax\", quantity = \"2 oz\", amount = 3.00 },
{ on = 2025-03-01, stock = \"wax\", quantity = \"2 oz\", amount = 5.00 }]
count = [{ on = 2025-03-01, stock = \"wax\", quantity = \"1 oz\" }]";
    let piece = |name: &str, ounces: &str| {
        format!(
            "bought = {{ on = 2025-01-05, price = 0 }}
used = [{{ on = 2025-03-01, stock = \"wax\", quantity = \"{ounces}\" }}]
{}",
            if name == "stool" { "sale = [{ on = 2025-05-01, price = 40 }]" } else { "" }
        )
    };
    for cost in ["average", "fifo"] {
        let shop = waxed(cost)
            .piece("stool", &piece("stool", "1 oz"))
            .piece("chair", &piece("chair", "1 oz"))
            .book(2025, day)
            .written();
        // 4 oz for 8.00 are one layer: 2.00 each drawn, one missing, one left.
        let lines = [("38", "8.00"), ("42", "4.00"), ("41", "4.00")];
        shop.assert_lines(2025, &lines);
    }
    let twice = waxed("average")
        .book(
            2025,
            &format!("{day}\n").replace(
                "count = [",
                "count = [{ on = 2025-03-01, stock = \"wax\", quantity = \"2 oz\" },",
            ),
        )
        .written();
    assert!(twice.refused(2025).contains("counts-differ"));
}

/// 0.02 by 4, 1 and 1 are 1⅓, ⅓ and ⅓ of a cent: three equal remainders, and the cent that is left
/// goes to the first.
#[test]
fn an_exact_tie_of_a_lot_goes_to_the_earlier_piece() {
    let shop = Folder::new()
        .piece("desk", "")
        .piece("stool", "")
        .piece("chair", "")
        .book(
            2025,
            "[[lot]]\non = 2025-01-05\nwhat = \"a barn\"\nprice = 0.02
pieces = { desk = 4, stool = 1, chair = 1 }",
        )
        .written();
    let paid = ["desk", "stool", "chair"].map(|name| shop.tally(name)["purchase"].clone());
    assert_eq!(paid, ["0.02", "0.00", "0.00"]);
}

/// A sale of December paid in January: the second year has receipts and no book, and its summary is
/// made all the same.
#[test]
fn a_year_of_payments_alone_has_a_summary() {
    let shop = Folder::new()
        .piece(
            "desk",
            "bought = { on = 2024-01-10, price = 0 }
sale = [{ on = 2024-12-10, price = 300.00 }]
payment = [{ on = 2025-01-15, amount = 300.00 }]",
        )
        .written();
    shop.assert_lines(2025, &[("1", "300.00")]);
    let made = shop.run(&["make", "--only", "income-summary"]);
    assert!(shop.has("out/years/2025/year.json"), "{}{}", made.out, made.err);
}

#[test]
fn a_sale_of_a_year_without_a_table_is_said() {
    let shop = Folder::new()
        .bought("desk", "2024-02-01", "100.00", Some(("2052-05-01", "300.00")))
        .bought("chair", "2019-02-01", "100.00", Some(("2024-05-01", "300.00")))
        .written();
    let said = shop.run(&["check"]).err;
    assert!(said.contains("year-without-table") && said.contains("2052-05-01"), "{said}");
    assert!(
        !said.contains("2019"),
        "what was bought before the books begin needs no table: {said}"
    );
}

/// 30 km in a shop that has no rate for them: they cost nothing, parking
/// counts, and that is said once.
#[test]
fn trips_without_a_rate_cost_nothing_and_that_is_said_once() {
    let trip = |day: u32| {
        format!(
            "[[trip]]\non = 2025-03-0{day}\nkm = 15\nparking = 2.00\npurpose = \"fetch\"\n\
             piece = \"desk\"\nwhat = \"to the desk\"\n"
        )
    };
    let shop = Folder::shop("country = \"ie\"")
        .bought("desk", "2025-01-05", "10.00", None)
        .book(2025, &format!("{}{}", trip(1), trip(2)))
        .written();
    assert_eq!(shop.tally("desk")["freight_in"], "4.00");
    let said = shop.run(&["check"]).err;
    assert_eq!(said.matches("miles-without-rate").count(), 1, "{said}");
    assert!(said.contains("30 km"), "{said}");
}

/// A shop with a desk of 100.00 with hinges of 12.00, sold, and 10 oz of wax at 2.00.
fn refunded(book: &str) -> Written {
    waxed("average")
        .piece(
            "desk",
            "bought = { on = 2025-01-05, price = 100.00 }
cost = [{ on = 2025-02-01, what = \"hinges\", kind = \"hardware\", amount = 12.00 }]
sale = [{ on = 2025-03-01, price = 300.00 }]",
        )
        .book(
            2025,
            &format!(
                "[[supply]]\non = 2025-02-01\nstock = \"wax\"\nquantity = \"10 oz\"\namount = 20
[[expense]]\non = 2025-02-01\nwhat = \"a notice\"\ncategory = \"advertising\"\namount = 50\n{book}"
            ),
        )
        .written()
}

#[test]
fn a_supplier_s_refund_lowers_what_it_is_of() {
    let refund =
        |of: &str| refunded(&format!("[[refund]]\non = 2025-06-01\namount = 5.00\n{of}\n"));
    let none = refunded("");
    none.assert_lines(2025, &[("36", "100.00"), ("38", "32.00"), ("42", "112.00"), ("8", "50.00")]);
    // Paid back after the sale: it lowers the cost of goods of that year all the same.
    refund("piece = \"desk\"").assert_lines(2025, &[("36", "95.00"), ("42", "107.00")]);
    let hinges = refund("piece = \"desk\"\nkind = \"hardware\"");
    hinges.assert_lines(2025, &[("36", "100.00"), ("38", "27.00"), ("42", "107.00")]);
    assert_eq!(hinges.tally("desk")["materials"], "7.00");
    // Three ounces sent back: 7 oz are left at 15.00.
    let sent = refund("stock = \"wax\"\nquantity = \"3 oz\"");
    sent.assert_lines(2025, &[("38", "27.00"), ("41", "15.00"), ("42", "112.00")]);
    refund("category = \"advertising\"").assert_lines(2025, &[("8", "45.00")]);
    let shared = refund("category = \"advertising\"\nshare = \"50%\"");
    shared.assert_lines(2025, &[("8", "47.50")]);
    for (of, code) in [
        ("piece = \"desk\"\ncategory = \"advertising\"", "refund-of-what"),
        ("", "refund-of-what"),
        ("piece = \"chair\"", "unknown-piece"),
        ("stock = \"wax\"\nquantity = \"11 oz\"", "sent-back-too-much"),
    ] {
        let said = refund(of).run(&["check"]).err;
        assert!(said.contains(code), "{code} in {said}");
    }
    let over = refunded("[[refund]]\non = 2025-06-01\namount = 500.00\npiece = \"desk\"\n");
    assert!(over.refused(2025).contains("refund-over-cost"));
}

/// All the wax is sent back for 18.00 of its 20.00, or a price of 23.00 is paid back for it: the
/// difference has no stock to stand in and is in the cost of goods sold of that year.
#[test]
fn what_no_stock_can_bear_of_a_refund_is_cost_of_goods() {
    let refund = |amount: &str, quantity: &str| {
        refunded(&format!(
            "[[refund]]\non = 2025-06-01\nstock = \"wax\"\namount = {amount}\n{quantity}"
        ))
    };
    let less = refund("18.00", "quantity = \"10 oz\"\n");
    less.assert_lines(2025, &[("38", "14.00"), ("41", "0"), ("42", "114.00")]);
    let more = refund("23.00", "");
    more.assert_lines(2025, &[("38", "9.00"), ("41", "0"), ("42", "109.00")]);
    more.assert_figures(2025, &[("written-off", "-3.00")]);
    assert_eq!(more.figure(2025, "shop-stock"), dec("0"));
}
