//! Laws of the books view on random shops over three years.

use super::rich::rich_shop;
use super::{books_of, line};
use dovetally::model::{
    At, Basis, Closed, IncomeKind, Money, Place, Refund, RefundOf, Shop, Supplies, round,
};
use dovetally::reckon::year::{FigureName, Total, Year, figures, trace};
use proptest::prelude::*;
use rust_decimal::Decimal;
use std::collections::BTreeMap;

/// The three years of the random shops.
fn years(shop: &Shop) -> Vec<Year> {
    (2023..=2025).map(|year| books_of(shop, year).unwrap()).collect()
}

/// What a change of the shop must leave as it is.
fn told(shop: &Shop) -> Vec<Vec<Option<Decimal>>> {
    let amounts = |year: Year| {
        let lines = year.lines.iter().map(|line| line.amount);
        let channels = year.channels.iter().map(|row| Some(row.expected - row.fees - row.refunds));
        let sold = year.sold.iter().map(|row| Some(row.cost));
        lines.chain(channels).chain(sold).collect()
    };
    years(shop).into_iter().map(amounts).collect()
}

/// Everything paid for pieces, alone and in lots.
fn paid_for_pieces(shop: &Shop) -> Money {
    let alone = shop.pieces.iter().filter_map(|piece| piece.bought.as_ref());
    let alone: Money = alone.map(|b| b.price.value + b.premium + b.tax).sum();
    let lots = shop.years.values().flat_map(|book| &book.lot);
    let refunds = shop.years.values().flat_map(|book| &book.refund);
    let refunds = refunds.filter(|refund| matches!(refund.of, RefundOf::Piece(_, None)));
    let paid_back: Money = refunds.map(|refund| refund.amount.value).sum();
    alone + lots.map(|lot| lot.price.value + lot.premium + lot.tax).sum::<Money>() - paid_back
}

/// What a year's opening stock has above the closing stock before it: shop stock that was there when
/// the books began, and what a change of method brings in or takes out.
fn begun(shop: &Shop, year: &Year) -> Money {
    let book = shop.years.get(&year.year);
    let on_hand: Money =
        book.iter().flat_map(|book| &book.on_hand).map(|first| first.amount.value).sum();
    let changed = trace(year, "change-supplies").map_or(Money::ZERO, |figure| figure.amount);
    match shop.supplies(year.year) {
        Supplies::WhenUsed => on_hand + changed,
        Supplies::WhenBought => -changed,
    }
}

/// Whether a figure takes money paid.
fn takes(name: &FigureName) -> bool {
    const TAKING: [Total; 7] = [
        Total::Purchases,
        Total::PaidLabour,
        Total::Materials,
        Total::OtherCosts,
        Total::SuppliesBought,
        Total::Apart,
        Total::Trips,
    ];
    match name {
        FigureName::Total(total) => TAKING.contains(total),
        name => matches!(name, FigureName::Expense(_)),
    }
}

/// How often each entry is used by the figures that take money paid, over all years.
fn uses(years: &[Year]) -> BTreeMap<Place, usize> {
    let mut uses = BTreeMap::new();
    let figures = years.iter().flat_map(|year| year.ledger.iter());
    for part in figures.filter(|figure| takes(&figure.name)).flat_map(|figure| &figure.parts) {
        *uses.entry(part.place).or_default() += 1;
    }
    uses
}

/// What a refund lowers, to the cent.
fn refunded(refund: &Refund) -> Money {
    match &refund.of {
        RefundOf::Expense { share, .. } => round(refund.amount.value * share, 2),
        _ => refund.amount.value,
    }
}

/// How many entries of money paid there are with an amount above zero.
fn entries(shop: &Shop) -> usize {
    let some = |amount: Decimal| usize::from(!amount.is_zero());
    let of_pieces = shop.pieces.iter().map(|piece| {
        let bought: usize = piece.bought.iter().map(|entry| some(entry.price.value)).sum();
        bought + piece.cost.iter().map(|entry| some(entry.amount.value)).sum::<usize>()
    });
    let of_years = shop.years.values().map(|book| {
        book.lot.iter().map(|entry| some(entry.price.value)).sum::<usize>()
            + book.supply.iter().map(|entry| some(entry.amount.value)).sum::<usize>()
            + book.trip.iter().map(|entry| some(entry.distance)).sum::<usize>()
            + book.expense.iter().map(|e| some(round(e.amount.value * e.share, 2))).sum::<usize>()
            + book.refund.iter().map(|entry| some(refunded(entry))).sum::<usize>()
    });
    let of_orders: usize = shop.orders.iter().map(|order| order.cost.len()).sum();
    of_pieces.sum::<usize>() + of_years.sum::<usize>() + of_orders
}

fn reversed(shop: &Shop) -> Shop {
    let mut other = shop.clone();
    other.pieces.reverse();
    other.orders.reverse();
    for piece in &mut other.pieces {
        piece.cost.reverse();
        piece.used.reverse();
        piece.sale.reverse();
        piece.returned.reverse();
        piece.payment.reverse();
        piece.allowance.reverse();
        piece.salvaged.reverse();
    }
    for book in other.years.values_mut() {
        book.supply.reverse();
        book.refund.reverse();
        book.count.reverse();
        book.trip.reverse();
        book.expense.reverse();
        book.lot.reverse();
    }
    other
}

/// What work brought over all years: what came in, or on accrual what was asked and not given up.
fn earned_by_work(shop: &Shop) -> Money {
    let books = shop.years.values().flat_map(|book| &book.income);
    let books: Money =
        books.filter(|one| one.kind == IncomeKind::Service).map(|one| one.amount.value).sum();
    let orders = shop.orders.iter().map(|order| {
        let asked: Money = order.line.iter().map(|line| line.amount.value).sum();
        let came = order.payment.iter().filter(|one| one.back.is_none());
        let came: Money = came.map(|one| one.amount.value).sum();
        match (shop.books.basis, order.given_up) {
            (Basis::Accrual, None) => asked,
            _ => came,
        }
    });
    books + orders.sum::<Money>()
}

/// Every piece with its name as its number, in a folder of another name and order.
fn renamed(shop: &Shop) -> Shop {
    let mut other = shop.clone();
    let count = other.pieces.len();
    for (i, piece) in other.pieces.iter_mut().enumerate() {
        piece.folder = format!("elsewhere/{:04}", count - i);
    }
    other.pieces.reverse();
    other
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(200))]

    #[test]
    fn the_proof_holds_and_years_join(shop in rich_shop()) {
        let years = years(&shop);
        for year in &years {
            prop_assert!(year.proof.holds, "{}: {:?}", year.year, year.proof);
            prop_assert_eq!(year.proof.from_stock, year.total(Total::CostOfGoodsSold));
            prop_assert_eq!(line(year, "42"), year.total(Total::CostOfGoodsSold));
            prop_assert_eq!(line(year, "31"), year.total(Total::NetProfit));
        }
        for (year, (_, total)) in years.iter().flat_map(|year| Total::ALL.iter().map(move |t| (year, t))) {
            prop_assert!(year.ledger.amount(*total).is_some(), "every year has every total");
        }
        prop_assert_eq!(years[0].total(Total::OpeningStock), Money::ZERO);
        for pair in years.windows(2) {
            let owing = pair[0].owing.as_ref().zip(pair[1].owing.as_ref());
            if let Some((before, now)) = owing {
                prop_assert_eq!(before.owed.1, now.owed.0);
                prop_assert_eq!(before.deposits.1, now.deposits.0);
            }
            prop_assert_eq!(pair[0].total(Total::ClosingStock) + begun(&shop, &pair[1]), pair[1].total(Total::OpeningStock));
        }
        if years.iter().all(|year| shop.basis(year.year) == shop.books.basis) {
            let served: Money = years.iter().map(|year| year.total(Total::ServiceIncome)).sum();
            prop_assert_eq!(served, earned_by_work(&shop));
        }
        let purchases: Money = years.iter().map(|year| year.total(Total::Purchases)).sum();
        prop_assert_eq!(purchases, paid_for_pieces(&shop));
    }

    #[test]
    fn every_figure_is_the_sum_of_its_entries(shop in rich_shop()) {
        for year in years(&shop) {
            for figure in figures(&year).filter_map(|name| trace(&year, &name)) {
                let sum: Decimal = figure.parts.iter().map(|part| part.amount).sum();
                prop_assert_eq!(sum, figure.amount, "{}", &figure.name);
                let parsed = FigureName::parse(&figure.name.to_string());
                prop_assert_eq!(parsed.as_ref(), Some(&figure.name), "a name parses as it prints");
            }
            for line in &year.lines {
                let figure = year.ledger.get(&line.figure);
                prop_assert_eq!(line.amount, figure.map(|figure| figure.amount));
            }
            let received: Money = year.months.iter().map(|month| month.received).sum();
            prop_assert_eq!(received, year.total(Total::NetReceipts));
            let cost: Money = year.months.iter().map(|month| month.cost).sum();
            prop_assert_eq!(cost, year.total(Total::CostOfGoodsSold) + year.total(Total::TotalExpenses));
            let unsold: Money = year.unsold.iter().map(|row| row.cost).sum();
            prop_assert_eq!(unsold + year.total(Total::ShopStock), year.total(Total::ClosingStock));
            let of_sales = line(&year, "1") - year.total(Total::ServiceIncome);
            if shop.basis(year.year) == Basis::Cash {
                let received = year.owing.as_ref().map(|owing| owing.received);
                prop_assert_eq!(received.unwrap_or(of_sales), of_sales);
            } else if let Some(owing) = &year.owing {
                prop_assert_eq!(owing.sales + owing.parts, of_sales);
            }
            let channels: Money = year.channels.iter().map(|row| row.price + row.delivery).sum();
            prop_assert_eq!(channels, of_sales);
        }
    }

    #[test]
    fn every_entry_of_money_paid_is_used_once(shop in rich_shop()) {
        let uses = uses(&years(&shop));
        prop_assert!(uses.values().all(|times| *times == 1), "{uses:?}");
        prop_assert_eq!(uses.len(), entries(&shop));
    }

    #[test]
    fn the_owners_hours_and_the_order_of_entries_change_nothing(shop in rich_shop()) {
        let before = told(&shop);
        let turned = told(&reversed(&shop));
        for (before, after) in before.iter().zip(&turned) {
            let differs = before.iter().zip(after).position(|(a, b)| a != b);
            prop_assert_eq!(differs, None, "{:?}", differs.map(|i| (before[i], after[i])));
        }
        let mut numbered = shop.clone();
        for piece in &mut numbered.pieces {
            piece.number = Some(At::from(piece.name().to_owned()));
        }
        prop_assert_eq!(told(&renamed(&numbered)), told(&numbered), "folders renamed");
        let mut idle = shop;
        idle.pieces.iter_mut().for_each(|piece| piece.work.clear());
        prop_assert_eq!(&told(&idle), &before);
    }
}
