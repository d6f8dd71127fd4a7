//! A year that goes on, and one with very many pieces.

use super::{PRESS, summary_data};
use crate::pdf::faults;
use crate::shops::{bought, day, dec, piece, sale, shop};
use dovetally::model::{Shop, Sources};
use dovetally::reckon::reckon;
use dovetally::reckon::year::year;
use dovetally::typeset::income_summary_parts;

/// Bought on 4 January; one of two sold on 14 March, the last day of which anything is written.
fn begun() -> Shop {
    let mut shop = shop();
    for name in ["gone", "kept"] {
        let mut one = piece(name);
        one.bought = Some(bought(day("2025-01-04"), dec("10")));
        shop.pieces.push(one);
    }
    shop.pieces[0].sale = vec![sale(day("2025-03-14"), dec("50"))];
    shop
}

#[test]
fn a_year_that_goes_on_says_up_to_which_day_and_has_dashes_for_months_to_come() {
    let data = summary_data(&begun());
    assert_eq!(data["head"], "Income summary 2025, up to 14 March");
    assert!(data["foot"].as_str().unwrap().ends_with("– 14 March 2025"), "{}", data["foot"]);
    let months = data["glance"]["months"]["months"].as_array().unwrap();
    let received: Vec<&str> = months.iter().map(|m| m["received"].as_str().unwrap()).collect();
    assert_eq!(received[..4], ["0", "0", "50", "–"]);
    // 4 January to 14 March: 27 + 28 + 14 days.
    assert_eq!(data["unsold"]["rows"][0]["held"], "69");
    let labels = data["goods"]["stock-side"].as_array().unwrap();
    assert!(labels.iter().any(|row| row["label"] == "less stock on 14 March"), "{labels:?}");
}

#[test]
fn a_year_with_anything_written_after_it_is_finished() {
    let mut shop = begun();
    shop.pieces[1].sale = vec![sale(day("2026-01-02"), dec("60"))];
    let data = summary_data(&shop);
    assert_eq!(data["head"], "Income summary 2025");
    // 4 January to 31 December.
    assert_eq!(data["unsold"]["rows"][0]["held"], "361");
    assert_eq!(data["glance"]["months"]["months"][3]["received"], "0");
}

#[test]
fn a_month_below_zero_hangs_from_the_base() {
    let mut shop = begun();
    let back = dovetally::model::Return {
        on: day("2025-11-02").into(),
        refunded: dec("50").into(),
        fee_returned: dec("0"),
        delivery_cost: dec("0"),
        tax_returned: dec("0"),
        count: None,
        number: None,
        sale_on: None,
        place: shop.pieces[0].place,
    };
    shop.pieces[0].returned = vec![back];
    let months = summary_data(&shop)["glance"]["months"].clone();
    // 50 came in March and went back in November: half of the chart is below the base.
    assert_eq!(months["below"], 5_000);
    assert_eq!(months["months"][2]["received-bar"], 5_000);
    assert_eq!(months["months"][10]["received-bar"], -5_000);
}

#[test]
fn very_many_pieces_stand_in_parts_that_carry_on_each_other_s_sums() {
    let mut shop = shop();
    for i in 0..401 {
        let mut one = piece(&format!("p{i:03}"));
        one.bought = Some(bought(day("2025-01-04"), dec("10")));
        one.sale = vec![sale(day("2025-12-14"), dec("50"))];
        shop.pieces.push(one);
    }
    let data = summary_data(&shop);
    assert!(data["sold"].is_null(), "too many for one table");
    let december = &data["sold-months"]["rows"][11];
    assert_eq!((&december["sales"], &december["price"]), (&"401".into(), &"20,050.00".into()));

    let reckoned = reckon(&shop);
    let year = year(&shop, &reckoned.run, &reckoned.costs, 2025).unwrap();
    let parts = income_summary_parts(&shop, &year, &Sources::default());
    let names: Vec<&str> = parts.iter().map(|(name, _)| name.as_str()).collect();
    assert_eq!(names, ["pieces-sold-1.pdf", "pieces-sold-2.pdf"]);
    let words = parts.iter().map(|(name, draft)| {
        let paper = PRESS.print(draft, &[]).unwrap_or_else(|faults| panic!("{faults:?}"));
        assert_eq!(faults(&paper.pdf, true), Vec::<String>::new(), "{name}");
        super::words(&paper.pdf)
    });
    let words: Vec<String> = words.collect();
    // 400 pieces at 50.00 are carried from the first part to the second, which ends in all 401.
    assert!(words[0].contains("Carried to the next part") && words[0].contains("20,000.00"));
    assert!(words[1].contains("Carried forward") && words[1].contains("20,000.00"));
    assert!(words[1].contains("All 401 pieces") && words[1].contains("20,050.00"));
}
