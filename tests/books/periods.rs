//! Parts of a year: the quarters, and the months, together are the year; and every amount is whole
//! cents, so that what is printed adds up as printed.

use super::rich::rich_shop;
use crate::shops::{book, bought, day, dec, piece, sale, shop};
use dovetally::model::{Period, Place, Shop, SpaceUse, Workspace, round};
use dovetally::reckon::costs::piece_costs;
use dovetally::reckon::stock::run_stock;
use dovetally::reckon::year::{
    FigureName, FigureUnit, TaxFigure, Total, Year, figures, part_of_year, trace, year,
};
use proptest::prelude::*;
use rust_decimal::Decimal;
use std::collections::BTreeMap;

/// The year and its parts, reckoned from the same costs.
fn parts(shop: &Shop, of: i32, count: u32) -> (Year, Vec<Year>) {
    let run = run_stock(shop);
    let costs = piece_costs(shop, &run);
    let whole = year(shop, &run, &costs, of).unwrap();
    let periods = (1..=count).map(|nth| shop.tax_year(of).part(nth, count));
    let part = |period: Period| part_of_year(shop, &run, &costs, of, period).unwrap();
    (whole, periods.map(part).collect())
}

/// The totals of what happened in a period: not of how things stand at an end of it, or of the year as
/// a whole.
const FLOWS: [Total; 34] = [
    Total::Receipts,
    Total::ServiceIncome,
    Total::OtherIncome,
    Total::Refunds,
    Total::NetReceipts,
    Total::Purchases,
    Total::Withdrawn,
    Total::WithdrawnKept,
    Total::WithdrawnGiven,
    Total::PaidLabour,
    Total::Materials,
    Total::OtherCosts,
    Total::SuppliesBought,
    Total::CostOfGoodsSold,
    Total::CostFromPieces,
    Total::CostFromStock,
    Total::PiecesSold,
    Total::PiecesReturned,
    Total::PartsCost,
    Total::WrittenOff,
    Total::LateCosts,
    Total::ChannelFees,
    Total::Delivery,
    Total::TotalExpenses,
    Total::NetProfit,
    Total::Trips,
    Total::TripMiles,
    Total::Parking,
    Total::Apart,
    Total::Sales,
    Total::PartsSold,
    Total::ReceiptsFromSales,
    Total::GivenUp,
    Total::DepositsKept,
];

fn flows(name: &FigureName) -> bool {
    match name {
        FigureName::Total(total) => FLOWS.contains(total),
        FigureName::Tax(tax) => matches!(tax, TaxFigure::Collected | TaxFigure::Remitted),
        FigureName::Expense(_) | FigureName::TripsOf(_) | FigureName::TripMilesOf(_) => true,
        _ => false,
    }
}

fn sums(years: &[Year]) -> BTreeMap<String, Decimal> {
    let mut sums = BTreeMap::new();
    let figures = years.iter().flat_map(|year| year.ledger.iter());
    for figure in figures.filter(|figure| flows(&figure.name)) {
        *sums.entry(figure.name.to_string()).or_default() += figure.amount;
    }
    sums.retain(|_, sum: &mut Decimal| !sum.is_zero());
    sums
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(60))]

    #[test]
    fn the_quarters_and_the_months_sum_to_the_year(shop in rich_shop()) {
        for of in 2023..=2025 {
            for count in [4, 12] {
                let (whole, parts) = parts(&shop, of, count);
                prop_assert_eq!(sums(&parts), sums(std::slice::from_ref(&whole)));
                prop_assert!(parts.iter().all(|part| part.proof.holds));
                prop_assert_eq!(parts[0].total(Total::OpeningStock), whole.total(Total::OpeningStock));
                prop_assert_eq!(parts.last().unwrap().total(Total::ClosingStock), whole.total(Total::ClosingStock));
                for pair in parts.windows(2) {
                    prop_assert_eq!(pair[0].total(Total::ClosingStock), pair[1].total(Total::OpeningStock));
                }
            }
        }
    }

    #[test]
    fn every_amount_is_whole_cents(shop in rich_shop()) {
        for of in 2023..=2025 {
            let run = run_stock(&shop);
            let year = year(&shop, &run, &piece_costs(&shop, &run), of).unwrap();
            for figure in figures(&year).filter_map(|name| trace(&year, &name)) {
                if figure.unit == FigureUnit::Money {
                    let amounts = figure.parts.iter().map(|part| part.amount);
                    for amount in amounts.chain([figure.amount]) {
                        prop_assert_eq!(amount, round(amount, 2), "{}", &figure.name);
                    }
                }
            }
        }
    }
}

/// A desk sold in May 2025 is the last entry there is.
fn sold_in_may() -> Shop {
    let mut made = shop();
    let mut desk = piece("pieces/desk");
    desk.bought = Some(bought(day("2025-02-01"), dec("100.00")));
    desk.sale.push(sale(day("2025-05-12"), dec("300.00")));
    made.pieces.push(desk);
    made
}

fn workspace() -> Workspace {
    let uses = vec![SpaceUse { area: dec("20"), from: None, to: None }];
    Workspace { uses, months: None, place: Place::NOWHERE }
}

#[test]
fn a_period_the_entries_have_not_finished_says_how_far_they_go() {
    let (whole, parts) = parts(&sold_in_may(), 2025, 4);
    assert_eq!(whole.up_to, Some(day("2025-05-12")));
    let up_to: Vec<_> = parts.iter().map(|part| part.up_to).collect();
    let last = Some(day("2025-05-12"));
    assert_eq!(up_to, [None, last, last, last]);
}

#[test]
fn what_belongs_to_the_year_as_a_whole_is_in_no_part_of_it() {
    let mut made = sold_in_may();
    book(&mut made, 2025).workspace = Some(workspace());
    let (whole, parts) = parts(&made, 2025, 4);
    assert!(whole.workspace.is_some() && whole.self_employment.is_some());
    assert!(!whole.set_aside.is_empty());
    for part in parts {
        assert!(part.workspace.is_none() && part.self_employment.is_none());
        assert!(part.set_aside.is_empty());
    }
}
