//! Sales tax: what a rate gives, what is in a price, and what the state lets a shop keep.

use crate::folders::{Folder, Written};

/// A piece sold on 1 March 2023 at a rate, with these further keys of the sale.
fn taxed(rate: &str, price: &str, more: &str) -> Folder {
    Folder::shop(&format!("[tax.town]\nrate = \"{rate}\"\nlabel = \"Town\"")).piece(
        "one",
        &format!(
            "bought = {{ on = 2023-01-02, price = 0 }}
sale = [{{ on = 2023-03-01, price = {price}, tax-place = \"town\"{more} }}]"
        ),
    )
}

/// The shop, and one deposit at its bank, which is all that its sales brought.
fn paid_in(shop: Folder, on: &str, total: &str) -> Written {
    let shop = shop
        .more("shop.toml", "bank = { date = \"Date\", amount = \"Amount\" }\n")
        .book_more(2023, "[bank]\nfile = \"bank.csv\"\n")
        .file("books/bank.csv", &format!("Date,Amount\n{on},{total}\n"))
        .written();
    let bank = &shop.year(2023)["bank"];
    for (figure, amount) in [("expected", total), ("matched", total), ("missing", "0.00")] {
        assert_eq!(bank[figure], amount, "{figure} of {bank:#}");
    }
    shop
}

#[test]
fn tax_on_a_price_to_the_cent() {
    // OpenStax Contemporary Mathematics 6.2 (read), half a cent up. The total of 464.87 printed for
    // the first is a misprint of 464.38; the last is its rate found from 24.71 of 329.50.
    for (price, rate, tax, total) in [
        ("428.99", "8.25%", "35.39", "464.38"),
        ("34.88", "8.25%", "2.88", "37.76"),
        ("499.00", "8.81%", "43.96", "542.96"),
        ("329.50", "7.5%", "24.71", "354.21"),
    ] {
        let shop = paid_in(taxed(rate, price, ""), "2023-03-01", total);
        shop.assert_lines(2023, &[("1", price)]);
        shop.assert_figures(2023, &[("tax-collected", tax), ("tax-town-collected", tax)]);
        assert_eq!(shop.year(2023)["tax_collected"], tax);
        shop.assert_figures(2023, &[("tax-held", tax)]);
    }
}

#[test]
fn tax_taken_out_of_a_price_that_includes_it() {
    // OpenStax Contemporary Mathematics 6.2 (read); of the first the tax of 1.99 is worked out.
    for (total, rate, price, tax) in
        [("36.56", "5.75%", "34.57", "1.99"), ("467.64", "8.25%", "432.00", "35.64")]
    {
        let shop = taxed(rate, total, ", tax-included = true").written();
        shop.assert_lines(2023, &[("1", price)]);
        shop.assert_figures(2023, &[("tax-town-collected", tax)]);
        assert_eq!(shop.tally("one")["price"], price);
    }
}

#[test]
fn tax_collected_is_no_income_and_no_expense() {
    // IRS Pub. 583, sample record system, item 1 (read): 263.60 of sales and 4.20 of tax are 267.80
    // of receipts; Pub. 334 (2023) pp. 29, 36 (read): the tax is neither income nor deducted.
    let shop = Folder::new()
        .piece(
            "day",
            "bought = { on = 2023-01-02, price = 0 }
sale = [{ on = 2023-01-03, price = 263.60, tax-collected = 4.20 }]",
        )
        .book(2023, "[[remitted]]\non = 2023-04-20\nto = \"the state\"\namount = 4.20\n");
    let shop = paid_in(shop, "2023-01-03", "267.80");
    shop.assert_lines(2023, &[("1", "263.60"), ("23", "0"), ("28", "0"), ("31", "263.60")]);
    shop.assert_figures(2023, &[("tax-collected", "4.20"), ("tax-held", "0")]);
}

#[test]
fn a_share_the_state_lets_the_shop_keep_is_income() {
    // IRS Pub. 583, sample record system, monthly summary (rule read, amounts our own): of 8.25
    // collected 8.05 go to the state and 0.20 stay.
    let shop = Folder::shop("[tax.town]\nrate = \"8.25%\"")
        .piece(
            "one",
            "bought = { on = 2023-01-02, price = 0 }
sale = [{ on = 2023-03-01, price = 100.00, tax-place = \"town\" }]",
        )
        .book(
            2023,
            "[[remitted]]\non = 2023-04-20\nto = \"the state\"\ntax-place = \"town\"\n\
             amount = 8.05\nkept = 0.20\n",
        )
        .written();
    shop.assert_lines(2023, &[("1", "100.00"), ("6", "0.20"), ("7", "100.20"), ("31", "100.20")]);
    let expected = [
        ("tax-town-collected", "8.25"),
        ("tax-town-remitted", "8.05"),
        ("tax-town-kept", "0.20"),
        ("tax-town-held", "0"),
        ("tax-kept", "0.20"),
    ];
    shop.assert_figures(2023, &expected);
}

#[test]
fn tax_paid_on_goods_is_part_of_what_they_cost() {
    // IRS Pub. 334 (2023 returns) p. 36 (rule read, amounts our own).
    let shop = Folder::new()
        .piece("one", "bought = { on = 2023-01-02, price = 100.00, tax = 8.25 }")
        .written();
    shop.assert_lines(2023, &[("36", "108.25"), ("41", "108.25"), ("23", "0")]);
}

#[test]
fn a_piece_on_layaway_is_sold_in_the_month_it_is_paid_and_taken() {
    // Washington Department of Revenue, industry guide on layaway sales (read): 1,500 with a deposit of
    // 300 and a fee of 50 in June, the rest paid in July, are a sale of 1,550 in July. A deposit
    // forfeited is income and no sale, so no sales tax.
    let tax = "[tax.town]\nrate = \"8%\"\nfiles = \"monthly\"\nowed = \"when-sold\"";
    let shop = Folder::shop(tax)
        .piece(
            "watch",
            "bought = { on = 2023-01-02, price = 0 }
sale = [{ on = 2023-07-10, price = 1550.00, tax-place = \"town\" }]
payment = [{ on = 2023-06-05, amount = 350.00 }, { on = 2023-07-10, amount = 1324.00 }]",
        )
        .piece(
            "forfeited",
            "bought = { on = 2023-01-02, price = 0 }
payment = [{ on = 2023-06-06, amount = 300.00, kept = 2023-08-01 }]",
        )
        .written();
    let expected = [
        ("filing-town-2023-07-gross", "1550"),
        ("filing-town-2023-07-tax", "124"),
        ("tax-collected", "124"),
        ("receipts", "1850"),
        ("deposits-kept", "300"),
    ];
    shop.assert_figures(2023, &expected);
    shop.assert_figures(2023, &[("filing-town-2023-06-gross", "0")]);
}

#[test]
fn what_is_taken_in_part_payment_is_part_of_the_price_that_is_taxed() {
    // California, Sales and Use Tax Annotation 140.0026 (read): 25,200 in money and an old piece worth
    // 5,000 are a measure of tax of 30,200. The old piece is a purchase of 5,000.
    let shop = Folder::shop("[tax.town]\nrate = \"7.25%\"\nfiles = \"yearly\"")
        .piece(
            "new",
            "bought = { on = 2023-01-02, price = 0 }
sale = [{ on = 2023-03-01, price = 30200.00, tax-place = \"town\", traded-in = \"old\" }]",
        )
        .piece("old", "bought = { on = 2023-03-01, price = 5000.00 }")
        .written();
    shop.assert_lines(2023, &[("1", "30200"), ("36", "5000"), ("41", "5000")]);
    let expected = [("filing-town-2023-taxable", "30200"), ("filing-town-2023-tax", "2189.50")];
    shop.assert_figures(2023, &expected);
}

#[test]
fn a_return_is_worked_down_to_what_is_due() {
    // Alabama Department of Revenue, sales tax return of 1996 (read, amounts our own): gross sales less
    // deductions are the measure of tax; of the tax on it the discount is 5 per cent of the first 100
    // and 2 per cent of the rest. 4,000.00 with 1,000.00 for resale at 4 per cent: 120.00 of tax, 5.40 kept,
    // 114.60 passed on.
    let shop = Folder::shop("[tax.town]\nrate = \"4%\"\nfiles = \"monthly\"")
        .piece(
            "retail",
            "bought = { on = 2023-01-02, price = 0 }
sale = [{ on = 2023-05-10, price = 3000.00, tax-place = \"town\" }]",
        )
        .piece(
            "dealer",
            "bought = { on = 2023-01-02, price = 0 }
sale = [{ on = 2023-05-11, price = 1000.00, tax-place = \"town\", exempt = \"resale\" }]",
        )
        .book(
            2023,
            "[[remitted]]\non = 2023-06-20\nto = \"the state\"\ntax-place = \"town\"\n\
             amount = 114.60\nkept = 5.40\nperiod = \"2023-05\"\n",
        )
        .written();
    let expected = [
        ("filing-town-2023-05-gross", "4000"),
        ("filing-town-2023-05-exempt-resale", "1000"),
        ("filing-town-2023-05-taxable", "3000"),
        ("filing-town-2023-05-tax", "120"),
        ("filing-town-2023-05-kept", "5.40"),
        ("filing-town-2023-05-remitted", "114.60"),
    ];
    shop.assert_figures(2023, &expected);
}
