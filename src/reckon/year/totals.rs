//! Cost of goods sold by both ways, and the figures at a glance.

use super::books::Books;
use super::goods::{PieceGoods, Way, written_off};
use super::ledger::{Contribution, Ledger};
use super::names::{FigureName, TaxFigure, Total};
use super::stock_end;
use crate::model::{CostKind, WithdrawalKind};
use rust_decimal::Decimal;

const PLUS: Decimal = Decimal::ONE;
const LESS: Decimal = Decimal::NEGATIVE_ONE;

/// Cost of goods sold by both ways, and what each is made of.
pub(super) fn enter_goods(books: &Books, goods: &[PieceGoods], ledger: &mut Ledger) {
    let opening = stock_end::opening_stock(books);
    ledger.put(Total::OpeningStock, "Stock at the start of the year", opening);
    let closing = stock_end::stock_at(books, books.last_day);
    ledger.put(Total::ClosingStock, "Stock at the end of the year", closing);
    let shop_stock = stock_end::shop_stock_at(books, books.last_day);
    ledger.put(Total::ShopStock, "Shop stock on hand at the end of the year", shop_stock);
    ledger.put(Total::Purchases, "Paid for pieces", stock_end::purchases(books));
    let kept = stock_end::withdrawn(books, WithdrawalKind::Kept);
    ledger.put(Total::WithdrawnKept, "Cost of pieces kept for own use", kept);
    let given = stock_end::withdrawn(books, WithdrawalKind::Given);
    ledger.put(Total::WithdrawnGiven, "Opening stock given away", given);
    let both = [(Total::WithdrawnKept.into(), PLUS), (Total::WithdrawnGiven.into(), PLUS)];
    ledger.put_sum(Total::Withdrawn, "Cost of pieces kept or given away", &both);
    let labour = stock_end::own_costs(books, &[CostKind::PaidWork]);
    ledger.put(Total::PaidLabour, "Paid for work on pieces", labour);
    enter_materials(books, ledger);
    let freight = stock_end::own_costs(books, &[CostKind::FreightIn]);
    ledger.put(Total::OtherCosts, "Freight-in paid", freight);
    let came_in = [
        (Total::OpeningStock.into(), PLUS),
        (Total::Purchases.into(), PLUS),
        (Total::Withdrawn.into(), LESS),
        (Total::PaidLabour.into(), PLUS),
        (Total::Materials.into(), PLUS),
        (Total::OtherCosts.into(), PLUS),
        (Total::ClosingStock.into(), LESS),
    ];
    ledger.put_sum(Total::CostFromStock, "Cost of goods sold, from stock", &came_in);
    ledger.put_sum(Total::CostOfGoodsSold, "Cost of goods sold", &came_in);
    enter_pieces(books, goods, ledger);
}

/// `cost-from-pieces`, and the four figures it is made of.
fn enter_pieces(books: &Books, goods: &[PieceGoods], ledger: &mut Ledger) {
    let of = |way| -> Vec<Contribution> {
        goods.iter().flat_map(|piece| piece.of(way).cloned()).collect()
    };
    ledger.put(Total::PiecesSold, "Cost of pieces sold", of(Way::Sold));
    ledger.put(Total::PartsCost, "Cost of parts sold by themselves", of(Way::PartSold));
    ledger.put(Total::PiecesReturned, "Cost of pieces that came back", of(Way::CameBack));
    let mut lost = of(Way::Scrapped);
    lost.extend(of(Way::Given));
    lost.extend(written_off(books));
    let label = "Pieces scrapped or bought and given away, and shop stock missing at counts";
    ledger.put(Total::WrittenOff, label, lost);
    ledger.put(Total::LateCosts, "Costs of pieces after they had left", of(Way::Late));
    let mut left: Vec<Contribution> = goods.iter().flat_map(|g| g.parts.iter().cloned()).collect();
    left.extend(written_off(books));
    ledger.put(Total::CostFromPieces, "Cost of goods sold, piece by piece", left);
}

/// Shop stock bought is a material where it counts when used, else an expense.
fn enter_materials(books: &Books, ledger: &mut Ledger) {
    let (when_used, supplies) = (books.when_used(), stock_end::supplies(books));
    let mut materials = stock_end::own_costs(books, &[CostKind::Material, CostKind::Hardware]);
    materials.extend(supplies.iter().filter(|_| when_used).cloned());
    ledger.put(Total::Materials, "Materials and hardware", materials);
    let expensed = supplies.into_iter().filter(|_| !when_used).collect();
    ledger.put(Total::SuppliesBought, "Shop stock bought, an expense at once", expensed);
}

/// The figures at a glance.
pub(super) fn enter_totals(books: &Books, ledger: &mut Ledger) {
    let receipts = [
        (Total::Receipts.into(), PLUS),
        (Total::ServiceIncome.into(), PLUS),
        (Total::Refunds.into(), LESS),
    ];
    ledger.put_sum(Total::NetReceipts, "Receipts less refunds", &receipts);
    let lines = books.form.expense_lines().map(|line| FigureName::Line(line.number.clone()));
    let lines: Vec<(FigureName, Decimal)> = lines.map(|name| (name, PLUS)).collect();
    ledger.put_sum(Total::TotalExpenses, "All expenses on lines", &lines);
    let net = [
        (Total::NetReceipts.into(), PLUS),
        (TaxFigure::Kept.into(), PLUS),
        (Total::OtherIncome.into(), PLUS),
        (Total::CostOfGoodsSold.into(), LESS),
        (Total::TotalExpenses.into(), LESS),
    ];
    ledger.put_sum(Total::NetProfit, "Net profit", &net);
}
