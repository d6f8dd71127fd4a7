//! A year is refused rather than given too short, and says why.

use super::{books_of, expense, worked_shop};
use crate::shops::{book, day, dec, lot, sale, used};
use dovetally::model::{Broken, Sale, Shop};

fn codes(shop: &Shop, year: i32) -> Vec<&'static str> {
    match books_of(shop, year) {
        Ok(_) => Vec::new(),
        Err(findings) => findings.iter().map(|finding| finding.code.word()).collect(),
    }
}

#[test]
fn a_year_without_a_table_is_on_no_form() {
    assert_eq!(books_of(&worked_shop(), 2031).unwrap().form, "own-account");
}

#[test]
fn a_file_that_could_not_be_read_stops_the_years_that_may_need_it() {
    let mut made = worked_shop();
    let path = "pieces/desk/piece.toml".to_owned();
    made.broken.push(Broken { path: path.clone(), since: Some(day("2026-01-03")), lacks: None });
    assert_eq!(codes(&made, 2025), Vec::<&str>::new());
    made.broken[0] = Broken { path: path.clone(), since: Some(day("2025-12-31")), lacks: None };
    assert_eq!(codes(&made, 2025), ["year-needs-file"]);
    made.broken[0] = Broken { path, since: None, lacks: None };
    assert_eq!(codes(&made, 2025), ["year-needs-file"]);
}

#[test]
fn what_would_leave_a_figure_short_is_refused_with_its_reason() {
    let changed = |change: fn(&mut Shop)| {
        let mut made = worked_shop();
        change(&mut made);
        codes(&made, 2025)
    };
    let category = changed(|made| {
        book(made, 2025).expense.push(expense("2025-01-01", "advertisment", "1.00"));
    });
    assert_eq!(category, ["category-without-line"]);
    let draw = changed(|made| {
        made.pieces[0].used.push(used(day("2025-06-01"), "topcoat", "40 fl oz"));
    });
    assert_eq!(draw, ["draw-without-cost", "drawn-too-much"]);
    let sold = changed(|made| made.pieces[2].sale.push(sale(day("2025-08-01"), dec("1"))));
    assert_eq!(sold, ["sold-too-much"]);
    let channel = changed(|made| {
        let sold = &mut made.pieces[2].sale[0];
        *sold = Sale { channel: Some("barn".to_owned().into()), ..sold.clone() };
    });
    assert_eq!(channel, ["unknown-channel"]);
    let absent = changed(|made| {
        let shares = [("nobody", dec("1"))];
        book(made, 2025).lot.push(lot(day("2025-02-02"), dec("5"), &shares));
    });
    assert_eq!(absent, ["lot-without-piece"]);
    let rate = changed(|made| {
        let rates = made.forms.iter_mut().flat_map(|form| &mut form.rates);
        rates.for_each(|rate| rate.from = rate.from.max(day("2026-01-01")));
    });
    assert!(rate.contains(&"no-mileage-rate") && rate.contains(&"no-rate"));
}

#[test]
fn a_slip_after_the_year_does_not_touch_it() {
    let mut made = worked_shop();
    made.pieces[2].sale.push(sale(day("2026-01-02"), dec("1")));
    assert_eq!(codes(&made, 2025), Vec::<&str>::new());
    assert_eq!(codes(&made, 2026), ["sold-too-much"]);
}
