//! Parts I and III of the form, and what stock costs when it leaves.

use crate::folders::{Folder, Written, expense};
use crate::shops::dec;

#[test]
fn cost_of_goods_and_gross_profit_of_the_irs_illustration() {
    // IRS Pub. 334 (2023 returns) ch. 7 p. 29 (read): lines 35 to 42, then 1 to 5. The 2,650 is
    // withdrawn for own use; the 14,940 are allowances.
    let shop = Folder::new()
        .bought("old", "2022-05-01", "37845", Some(("2023-02-01", "100000")))
        .piece(
            "sold",
            "bought = { on = 2023-03-01, price = 250295 }
sale = [{ on = 2023-06-01, price = 300000 }]
allowance = [{ on = 2023-07-01, amount = 14940 }]",
        )
        .bought("left", "2023-04-01", "32955", None)
        .piece(
            "own",
            "bought = { on = 2023-05-01, price = 2650 }
withdrawn = { on = 2023-07-01, how = \"kept\" }",
        )
        .written();
    let expected = [
        ("35", "37845"),
        ("36", "283250"),
        ("37", "0"),
        ("38", "0"),
        ("39", "0"),
        ("40", "321095"),
        ("41", "32955"),
        ("42", "288140"),
        ("1", "400000"),
        ("2", "14940"),
        ("3", "385060"),
        ("4", "288140"),
        ("5", "96920"),
    ];
    shop.assert_lines(2023, &expected);
    for (number, amount) in expected {
        assert_eq!(shop.whole(2023, number), dec(amount), "line {number} as entered");
    }
    // Goods for 285,900 less the 2,650 kept.
    shop.assert_figures(2023, &[("purchases", "285900"), ("withdrawn-kept", "2650")]);
}

#[test]
fn gross_profit_in_percent_of_receipts() {
    // IRS Pub. 334 (2023 returns) ch. 7 p. 30 (read): 300,000 less 200,000 is 33 1/3 %; the markup of
    // 50 % follows.
    let shop = Folder::new().bought("all", "2023-01-01", "200000", Some(("2023-02-01", "300000")));
    let shop = shop.written();
    shop.assert_lines(2023, &[("3", "300000"), ("5", "100000")]);
    let tally = shop.tally("all");
    assert_eq!((&tally["gross_margin"], &tally["markup"]), (&"0.3333".into(), &"0.5000".into()));
}

#[test]
fn specific_identification_of_the_published_lots() {
    // OpenStax Financial Accounting 10.2 and 10.3 (read): of lots 150 at 21, 225 at 27 and 210 at
    // 33, the sales of 120 at 36 and 180 at 39 take 140 of the first lot and 160 of the second. A
    // set holds 100 at most, so each lot is two or three sets for one price.
    let set = |count: u32, sold: &[(&str, u32, u32)]| {
        let sales = sold.iter().map(|(on, count, each)| {
            format!("[[sale]]\non = {on}\nprice = {}\ncount = {count}\n", count * each)
        });
        format!("count = {count}\n{}", sales.collect::<String>())
    };
    let lot = |on: &str, price: u32, sets: &str| {
        format!("[[lot]]\non = {on}\nwhat = \"lot\"\nprice = {price}\npieces = {{ {sets} }}\n")
    };
    let shop = Folder::new()
        .piece("a1", &set(75, &[("2023-07-05", 75, 36)]))
        .piece("a2", &set(75, &[("2023-07-05", 45, 36), ("2023-07-15", 20, 39)]))
        .piece("b1", &set(75, &[("2023-07-15", 75, 39)]))
        .piece("b2", &set(75, &[("2023-07-15", 75, 39)]))
        .piece("b3", &set(75, &[("2023-07-15", 10, 39)]))
        .piece("c1", &set(100, &[]))
        .piece("c2", &set(100, &[]))
        .piece("c3", &set(10, &[]))
        .book_more(2023, &lot("2023-07-01", 3150, "a1 = 1, a2 = 1"))
        .book_more(2023, &lot("2023-07-10", 6075, "b1 = 1, b2 = 1, b3 = 1"))
        .book_more(2023, &lot("2023-07-25", 6930, "c1 = 10, c2 = 10, c3 = 1"))
        .written();
    shop.assert_lines(2023, &[("40", "16155"), ("42", "7260"), ("41", "8895")]);
    shop.assert_lines(2023, &[("1", "11340"), ("5", "4080")]);
}

/// The published lots and sales of one kind of unit, drawn from stock by a method.
fn units_by(method: &str) -> Written {
    Folder::shop(&format!("[books]\nstock-cost = \"{method}\""))
        .file("stock.toml", "[unit]\nlabel = \"units\"\nunit = \"each\"\n")
        .piece(
            "all",
            "used = [{ on = 2023-07-05, stock = \"unit\", quantity = \"120 each\" }, \
             { on = 2023-07-15, stock = \"unit\", quantity = \"180 each\" }]
bought = { on = 2023-07-01, price = 0 }
sale = [{ on = 2023-07-15, price = 11340 }]",
        )
        .book(
            2023,
            "supply = [{ on = 2023-07-01, stock = \"unit\", quantity = \"150 each\", amount = 3150 },
{ on = 2023-07-10, stock = \"unit\", quantity = \"225 each\", amount = 6075 },
{ on = 2023-07-25, stock = \"unit\", quantity = \"210 each\", amount = 6930 }]",
        )
        .written()
}

#[test]
fn first_in_first_out_of_the_published_lots() {
    // OpenStax Financial Accounting 10.2 and 10.3 (read): 7,200 sold, 8,955 left, margin 4,140.
    units_by("fifo")
        .assert_lines(2023, &[("40", "16155"), ("42", "7200"), ("41", "8955"), ("5", "4140")]);
}

#[test]
fn moving_average_of_the_published_lots() {
    // OpenStax Financial Accounting 10.3 (read), printed in whole dollars: 7,253 sold, 8,902 left,
    // margin 4,087.
    let shop = units_by("average");
    for (number, amount) in [("42", "7253"), ("41", "8902"), ("5", "4087")] {
        assert_eq!(shop.whole(2023, number), dec(amount), "line {number}");
    }
    shop.assert_lines(2023, &[("42", "7252.94"), ("41", "8902.06")]);
}

#[test]
fn an_income_statement_in_several_steps() {
    // OpenStax Financial Accounting 6.6 (read): 300,000 less 2,000 discounts and 4,500 returns;
    // cost 180,000; selling and general expenses 59,050; operating income 54,450.
    let shop = Folder::new()
        .piece(
            "all",
            "bought = { on = 2023-01-01, price = 180000 }
sale = [{ on = 2023-02-01, price = 295500 }]
allowance = [{ on = 2023-02-02, amount = 2000 }]",
        )
        .piece(
            "back",
            "bought = { on = 2023-01-01, price = 0 }
sale = [{ on = 2023-02-01, price = 4500 }]
return = [{ on = 2023-03-01, refunded = 4500 }]",
        )
        .book(
            2023,
            &[
                ("advertising", "6250"),
                ("wages", "40000"),
                ("depreciation", "4700"),
                ("office", "1200"),
                ("insurance", "6900"),
            ]
            .map(|(category, amount)| expense(category, amount))
            .concat(),
        )
        .written();
    let income = [("1", "300000"), ("2", "6500"), ("3", "293500"), ("5", "113500")];
    shop.assert_lines(2023, &income);
    shop.assert_lines(2023, &[("28", "59050"), ("29", "54450")]);
}

#[test]
fn a_month_of_the_published_record_system() {
    // IRS Pub. 583, sample record system, item 5 (read): the costs of January; their sum 2,441.67
    // is worked out. What was paid for the truck stands under repairs here.
    let costs = [
        ("supplies", "1083.50"),
        ("wages", "520.00"),
        ("taxes-and-licences", "39.78"),
        ("bank-charges", "10.00"),
        ("utilities", "175.30"),
        ("interest", "18.09"),
        ("rent", "300.00"),
        ("telephone", "27.00"),
        ("repairs", "45.00"),
        ("advertising", "85.00"),
        ("office", "36.00"),
        ("taxes-and-licences", "100.00"),
        ("sundry", "2.00"),
    ];
    let book: String = costs.map(|(category, amount)| expense(category, amount)).concat();
    let shop = Folder::new()
        .bought("all", "2023-01-03", "0", Some(("2023-01-31", "4865.05")))
        .book(2023, &book)
        .written();
    shop.assert_lines(2023, &[("1", "4865.05"), ("28", "2441.67"), ("23", "139.78")]);
    shop.assert_lines(2023, &[("48", "12.00"), ("27a", "12.00"), ("25", "202.30")]);
}

#[test]
fn the_cost_of_one_job_with_its_labour_and_overhead_given() {
    // OpenStax Managerial Accounting 4.3 to 4.5, job MAC001 (read): materials 700, labour 66 and
    // overhead 165 are 931; sold at 2,000 the margin of 1,069 is worked out. The materials are drawn
    // from stock, of which there is twice as much; that the overhead is 2.50 for each 1.00 of labour
    // is nothing the program reckons.
    let materials = [
        ("vinyl", 1, 300),
        ("black", 2, 100),
        ("red", 1, 60),
        ("gold", 1, 60),
        ("ring", 12, 120),
        ("wood", 40, 60),
    ];
    let each = |row: &dyn Fn(&str, u32, u32) -> String| -> String {
        materials.iter().map(|(name, quantity, cost)| row(name, *quantity, *cost)).collect()
    };
    let used = each(&|name, quantity, _| {
        format!("[[used]]\non = 2023-01-05\nstock = \"{name}\"\nquantity = \"{quantity} each\"\n")
    });
    let paid = ["15", "15", "36", "165"].map(|amount| {
        format!(
            "[[cost]]\non = 2023-01-05\nwhat = \"of the job\"\nkind = \"paid-work\"\namount = {amount}\n"
        )
    });
    let lines = format!(
        "bought = {{ on = 2023-01-01, price = 0 }}
sale = [{{ on = 2023-02-01, price = 2000 }}]\n{used}{}",
        paid.concat()
    );
    let supply = each(&|name, quantity, cost| {
        let (quantity, cost) = (2 * quantity, 2 * cost);
        format!(
            "[[supply]]\non = 2023-01-02\nstock = \"{name}\"\nquantity = \"{quantity} each\"\n\
             amount = {cost}\n"
        )
    });
    let stock = each(&|name, _, _| format!("[{name}]\nunit = \"each\"\n"));
    let shop = Folder::new().file("stock.toml", &stock).book(2023, &supply);
    let shop = shop.piece("mac001", &lines).written();
    let tally = shop.tally("mac001");
    assert_eq!(tally["materials"], "700.00");
    assert_eq!(
        (&tally["cost_of_goods"], &tally["gross_profit"]),
        (&"931.00".into(), &"1069.00".into())
    );
    let expected = [("38", "1400"), ("37", "231"), ("41", "700"), ("42", "931"), ("5", "1069")];
    shop.assert_lines(2023, &expected);
}

#[test]
fn materials_used_are_what_is_missing_at_a_count() {
    // OpenStax Managerial Accounting 4.5 (read): 2,500 at the start and 10,500 bought are 13,000;
    // 11,600 left: 1,400 used.
    let shop = Folder::new()
        .file("stock.toml", "[unit]\nlabel = \"units\"\nunit = \"each\"\n")
        .book(
            2023,
            "on-hand = [{ stock = \"unit\", quantity = \"2500 each\", amount = 2500 }]
supply = [{ on = 2023-02-01, stock = \"unit\", quantity = \"10500 each\", amount = 10500 }]
count = [{ on = 2023-12-31, stock = \"unit\", quantity = \"11600 each\" }]",
        )
        .written();
    let expected = [("35", "2500"), ("38", "10500"), ("40", "13000"), ("41", "11600")];
    shop.assert_lines(2023, &expected);
    shop.assert_lines(2023, &[("42", "1400")]);
}

#[test]
fn opening_stock_is_the_closing_stock_of_the_year_before() {
    // IRS Pub. 334 (2023 returns) ch. 6 p. 27 (read): line 35 must equal line 41 of the year before.
    let shop = Folder::new()
        .bought("over", "2022-12-31", "500", Some(("2024-01-01", "900")))
        .bought("sold", "2022-12-30", "80", Some(("2023-01-02", "90")))
        .written();
    for year in 2022..2026 {
        assert_eq!(shop.line(year, "41"), shop.line(year + 1, "35"), "{year}");
    }
    shop.assert_lines(2023, &[("35", "580"), ("41", "500")]);
}

/// Two published years; `omitted` says what became of goods for 1,500 bought in the first.
fn two_years(omitted: &str) -> Folder {
    let rent = |year: i32| {
        format!(
            "[[expense]]\non = {year}-12-01\nwhat = \"rent\"\ncategory = \"rent\"\namount = 3000\n"
        )
    };
    Folder::new()
        .bought("opening", "2022-07-01", "3150", Some(("2023-07-05", "11340")))
        .bought("first", "2023-07-10", "4050", Some(("2023-07-15", "0")))
        .bought("second", "2023-07-25", "6420", Some(("2024-07-15", "12474")))
        .bought("stays", "2023-07-25", "1035", None)
        .bought("new", "2024-07-25", "8816", None)
        .piece("omitted", &format!("bought = {{ on = 2023-07-25, price = 1500 }}\n{omitted}"))
        .book(2023, &rent(2023))
        .book(2024, &rent(2024))
}

#[test]
fn an_error_in_stock_turns_round_in_the_second_year() {
    // OpenStax Financial Accounting 10.4, examples 1 and 2 (read): a closing stock that is 1,500
    // too small moves 1,500 of profit from the first year into the second. The 8,201 printed for
    // the end of the second year is a misprint of 9,851: 16,271 less 6,420.
    let right = two_years("sale = [{ on = 2024-07-15, price = 0 }]").written();
    let first = [("35", "3150"), ("36", "13005"), ("40", "16155"), ("41", "8955")];
    right.assert_lines(2023, &first);
    right.assert_lines(2023, &[("42", "7200"), ("5", "4140"), ("31", "1140")]);
    let second = [("35", "8955"), ("36", "8816"), ("40", "17771"), ("41", "9851")];
    right.assert_lines(2024, &second);
    right.assert_lines(2024, &[("42", "7920"), ("5", "4554"), ("31", "1554")]);

    let wrong = two_years("withdrawn = { on = 2023-12-31, how = \"scrapped\" }").written();
    wrong.assert_lines(2023, &[("41", "7455"), ("42", "8700"), ("5", "2640"), ("31", "-360")]);
    let second = [("35", "7455"), ("40", "16271"), ("41", "9851"), ("42", "6420")];
    wrong.assert_lines(2024, &second);
    wrong.assert_lines(2024, &[("5", "6054"), ("31", "3054")]);
}

#[test]
fn an_opening_stock_that_differs_from_what_was_filed_is_said() {
    // The same pages: the first year filed with 7,455, the books put right since.
    let shop = two_years("sale = [{ on = 2024-07-15, price = 0 }]");
    let shop = shop.file("books/2024.toml", "[opening]\nstock = 7455\n").written();
    shop.assert_figures(2024, &[("opening-difference", "1500")]);
    let notes = shop.notes(2024);
    assert!(notes.contains("opening-difference") && notes.contains("1500.00"), "{notes}");
}

#[test]
fn one_price_over_a_lot_adds_up() {
    // OpenStax Contemporary Mathematics 11.4 (printed quotas read, parts worked out): 70 over 15,
    // 9 and 10 is 31, 18, 21. Documentation of moneyphp/money (read): 5 in 70 : 30 is 4 and 1, and in
    // 30 : 70 it is 2 and 3, so that a tie goes to the first.
    let lot = |price: &str, shares: &[(&str, u32)]| {
        let pairs: Vec<String> = shares.iter().map(|(name, of)| format!("{name} = {of}")).collect();
        let book = format!(
            "[[lot]]\non = 2023-01-02\nwhat = \"a lot\"\nprice = {price}\npieces = {{ {} }}\n",
            pairs.join(", ")
        );
        let empty = Folder::new().book(2023, &book);
        let shop = shares.iter().fold(empty, |shop, (name, _)| shop.piece(name, "")).written();
        let parts = shares.iter().map(|(name, _)| shop.tally(name)["purchase"].clone());
        let parts: Vec<String> = parts.map(|part| part.as_str().unwrap().to_owned()).collect();
        shop.assert_lines(2023, &[("36", price), ("41", price)]);
        parts
    };
    assert_eq!(lot("0.70", &[("a", 15), ("b", 9), ("c", 10)]), ["0.31", "0.18", "0.21"]);
    assert_eq!(lot("0.05", &[("a", 70), ("b", 30)]), ["0.04", "0.01"]);
    assert_eq!(lot("0.05", &[("a", 30), ("b", 70)]), ["0.02", "0.03"]);
}
