//! Lots for one price, markups, margins, commissions and sales tax, to the cent.

use super::{assert_tally, bought, json, sold};
use crate::folders::Folder;

/// A lot bought together, each piece of it with its share.
fn lot(price: &str, shares: &[(&str, &str)]) -> Folder {
    let pieces: Vec<String> =
        shares.iter().map(|(name, share)| format!("{name} = {share}")).collect();
    let book = format!(
        "[[lot]]\non = 2023-01-10\nwhat = \"together\"\nprice = {price}\npieces = {{ {} }}\n",
        pieces.join(", ")
    );
    let shop = Folder::new().book(2023, &book);
    shares.iter().fold(shop, |shop, (name, _)| shop.piece(name, ""))
}

#[test]
fn several_pieces_for_one_price_by_their_shares() {
    // Estate of Trompeter v. Commissioner, T.C. Memo. 2004-27 (number from memory), pp. 41-42: five
    // pieces of furniture by weights, 83,894 there and a hundredth of it here, so that whole dollars
    // are whole cents. 26 CFR 1.61-6(a), example 2, by value. Medlin v. Commissioner, T.C. Memo.
    // 2003-224 (number from memory), pp. 53-54, by rounded percentages of assessed values. CM sec.
    // 11.4: 616 seats of five counties, there with at least one each, here without.
    type Row<'a> = (&'a str, &'a [(&'a str, &'a str, &'a str)]);
    let rows: [Row; 4] = [
        (
            "838.94",
            &[
                ("dining", "8", "353.24"),
                ("cabinets", "4", "176.62"),
                ("desk", "4", "176.62"),
                ("table", "2", "88.31"),
                ("chair", "1", "44.15"),
            ],
        ),
        ("25000", &[("station", "15000", "15000.00"), ("plot", "10000", "10000.00")]),
        ("47000", &[("a", "32", "15040.00"), ("b", "39", "18330.00"), ("c", "29", "13630.00")]),
        (
            "6.16",
            &[
                ("a", "46310", "0.88"),
                ("b", "224230", "4.24"),
                ("c", "20", "0.00"),
                ("d", "16560", "0.31"),
                ("e", "38450", "0.73"),
            ],
        ),
    ];
    for (price, pieces) in rows {
        let shares: Vec<(&str, &str)> =
            pieces.iter().map(|(name, share, _)| (*name, *share)).collect();
        let shop = lot(price, &shares).written();
        for (name, _, part) in pieces {
            assert_tally(&shop, name, &[("purchase", part)]);
        }
    }
}

#[test]
fn one_of_two_sold_after_part_of_its_cost_came_back() {
    // 26 CFR 1.61-6(a), example 2: of 25,000 for both the station bears 15,000; 2,000 of that was
    // allowed before, and it brings 20,000: a gain of 7,000.
    let shop = lot("25000", &[("station", "15000"), ("plot", "10000")])
        .book_more(2023, "[[refund]]\non = 2023-01-20\npiece = \"station\"\namount = 2000\nfrom = \"the seller\"\n")
        .file("pieces/station/piece.toml", &format!("title = \"station\"\n{}", sold("20000")))
        .written();
    assert_tally(&shop, "station", &[("gross_profit", "7000.00")]);
}

#[test]
fn markups_on_cost_and_the_margins_beside_them() {
    // EA ch. 3 review: a chest of a flea market, refinished; EA sec. 3.2: a bicycle, a painting, a
    // bracelet. PRE sec. 6.3: a car, and 1,200 by half. CM sec. 6.2: four. Smith v. Commissioner,
    // T.C. Memo. 1998-143, p. 6: 118 for 100 is a markup of 18 % and a gross profit of 15 %; 40 % of
    // the price is 67 % on cost. Margins with four places are worked out.
    for (cost, price, profit, markup, margin) in [
        ("50", "225", "175.00", "3.5000", "0.7778"),
        ("115", "373.75", "258.75", "2.2500", "0.6923"),
        ("750", "1050", "300.00", "0.4000", "0.2857"),
        ("16", "23.20", "7.20", "0.4500", "0.3103"),
        ("8500", "11475", "2975.00", "0.3500", "0.2593"),
        ("1200", "1800", "600.00", "0.5000", "0.3333"),
        ("1.30", "2.08", "0.78", "0.6000", "0.3750"),
        ("480", "840", "360.00", "0.7500", "0.4286"),
        ("25.00", "29.50", "4.50", "0.1800", "0.1525"),
        ("90.00", "103.50", "13.50", "0.1500", "0.1304"),
        ("100", "118", "18.00", "0.1800", "0.1525"),
        ("60", "100", "40.00", "0.6667", "0.4000"),
        ("900", "1500", "600.00", "0.6667", "0.4000"),
    ] {
        let shop = Folder::new().piece("one", &bought(cost, &sold(price))).written();
        let expected = [("gross_profit", profit), ("markup", markup), ("gross_margin", margin)];
        assert_tally(&shop, "one", &expected);
    }
}

#[test]
fn a_price_from_its_cost_and_a_margin() {
    // The same pages: 60 % on 1.30 of cost is a margin of 37.5 %; 40 % of the price on 60 of cost.
    for (cost, margin, asked) in [("1.30", "37.5%", "2.08"), ("60", "40%", "100.00")] {
        let shop = Folder::new().piece("one", &bought(cost, "")).written();
        let found = json(&shop, &["price", "one", "--margin", margin, "--json"]);
        assert_eq!(found[0]["margin_price"], asked);
    }
}

#[test]
fn commissions_of_a_market() {
    // PRE sec. 6.3, printed solutions: a dinette set at 9 % and others.
    for (price, rate, kept) in [
        ("225", "9%", "20.25"),
        ("260000", "3%", "7800.00"),
        ("3900", "7%", "273.00"),
        ("2190", "18%", "394.20"),
        ("8125", "12%", "975.00"),
        ("4910", "17.5%", "859.25"),
    ] {
        let sale = format!("sale = [{{ on = 2023-01-31, price = {price}, channel = \"fair\" }}]");
        let shop = Folder::shop(&format!("[channel.fair]\nlabel = \"fair\"\nfee = \"{rate}\""))
            .piece("one", &bought("0", &sale))
            .written();
        assert_tally(&shop, "one", &[("selling_costs", kept)]);
    }
}

#[test]
fn a_fee_as_charged_is_asked_about_only_where_it_is_far_from_the_terms() {
    // PRE sec. 6.3: 451 of a living room set of 8,200 is 5.5 %; at terms of a hundredth of that it is
    // a slipped point.
    for (rate, asked) in [("5.5%", false), ("0.055%", true)] {
        let sale = "sale = [{ on = 2023-01-31, price = 8200, channel = \"fair\", fee = 451 }]";
        let shop = Folder::shop(&format!("[channel.fair]\nlabel = \"fair\"\nfee = \"{rate}\""))
            .piece("one", &bought("4000", sale))
            .written();
        let said = shop.run(&["check"]).err;
        assert_eq!(said.contains("[fee-off-channel]"), asked, "{said}");
    }
}

/// A sale with its tax by the rate of its place.
fn taxed(rate: &str, price: &str, more: &str) -> crate::folders::Written {
    let sale =
        format!("sale = [{{ on = 2023-03-01, price = {price}, tax-place = \"town\"{more} }}]");
    Folder::shop(&format!("[tax.town]\nrate = \"{rate}\"\nlabel = \"Town\""))
        .piece("one", &bought("0", &sale))
        .written()
}

#[test]
fn sales_tax_by_rates_of_up_to_three_places() {
    // PRE sec. 6.3, printed solutions: furniture and others; 9.675 and 17.125 are half cents, and go
    // up. CM sec. 6.11: a car. 20 NYCRR 526.5(b)(1), example 1. OS-FA sec. 12.1: shoes.
    for (price, rate, tax) in [
        ("392", "6.5%", "25.48"),
        ("724", "6.25%", "45.25"),
        ("250", "8.2%", "20.50"),
        ("84", "5%", "4.20"),
        ("129", "7.5%", "9.68"),
        ("250", "6.85%", "17.13"),
        ("1199", "5.125%", "61.45"),
        ("21800", "6.75%", "1471.50"),
        ("1100", "7%", "77.00"),
        ("50", "8%", "4.00"),
    ] {
        taxed(rate, price, "").assert_figures(2023, &[("tax-town-collected", tax)]);
    }
}

#[test]
fn sales_tax_inside_a_price() {
    // CM sec. 6.2; the tax of the first is worked out.
    for (paid, rate, price, tax) in
        [("97.17", "4.25%", "93.21", "3.96"), ("14.39", "4.5%", "13.77", "0.62")]
    {
        let shop = taxed(rate, paid, ", tax-included = true");
        assert_tally(&shop, "one", &[("price", price)]);
        shop.assert_figures(2023, &[("tax-town-collected", tax)]);
    }
}
