//! Cost of goods sold by both ways, and the figures at a glance.

use super::books::Books;
use super::goods::{PieceGoods, Way, written_off};
use super::ledger::{Contribution, Ledger};
use super::{lines, stock_end};
use crate::model::{CostKind, WithdrawalKind};
use rust_decimal::Decimal;

const PLUS: Decimal = Decimal::ONE;
const LESS: Decimal = Decimal::NEGATIVE_ONE;

/// Cost of goods sold by both ways, and what each is made of.
pub(super) fn enter_goods(books: &Books, goods: &[PieceGoods], ledger: &mut Ledger) {
    let opening = stock_end::opening_stock(books);
    ledger.put("opening-stock", "Stock at the start of the year", opening);
    let closing = stock_end::stock_at(books, books.last_day);
    ledger.put("closing-stock", "Stock at the end of the year", closing);
    let shop_stock = stock_end::shop_stock_at(books, books.last_day);
    ledger.put("shop-stock", "Shop stock on hand at the end of the year", shop_stock);
    ledger.put("purchases", "Paid for pieces", stock_end::purchases(books));
    let kept = stock_end::withdrawn(books, WithdrawalKind::Kept);
    ledger.put("withdrawn-kept", "Cost of pieces kept for own use", kept);
    let given = stock_end::withdrawn(books, WithdrawalKind::Given);
    ledger.put("withdrawn-given", "Opening stock given away", given);
    let both = [("withdrawn-kept", PLUS), ("withdrawn-given", PLUS)];
    ledger.put_sum("withdrawn", "Cost of pieces kept or given away", &both);
    let labour = stock_end::own_costs(books, &[CostKind::PaidWork]);
    ledger.put("paid-labour", "Paid for work on pieces", labour);
    enter_materials(books, ledger);
    let freight = stock_end::own_costs(books, &[CostKind::FreightIn]);
    ledger.put("other-costs", "Freight-in paid", freight);
    let came_in = [
        ("opening-stock", PLUS),
        ("purchases", PLUS),
        ("withdrawn", LESS),
        ("paid-labour", PLUS),
        ("materials", PLUS),
        ("other-costs", PLUS),
        ("closing-stock", LESS),
    ];
    ledger.put_sum("cost-from-stock", "Cost of goods sold, from stock", &came_in);
    ledger.put_sum("cost-of-goods-sold", "Cost of goods sold", &came_in);
    enter_pieces(books, goods, ledger);
}

/// `cost-from-pieces`, and the four figures it is made of.
fn enter_pieces(books: &Books, goods: &[PieceGoods], ledger: &mut Ledger) {
    let of = |way| -> Vec<Contribution> {
        goods.iter().flat_map(|piece| piece.of(way).cloned()).collect()
    };
    ledger.put("pieces-sold", "Cost of pieces sold", of(Way::Sold));
    ledger.put("parts-cost", "Cost of parts sold by themselves", of(Way::PartSold));
    ledger.put("pieces-returned", "Cost of pieces that came back", of(Way::CameBack));
    let mut lost = of(Way::Scrapped);
    lost.extend(of(Way::Given));
    lost.extend(written_off(books));
    let label = "Pieces scrapped or bought and given away, and shop stock missing at counts";
    ledger.put("written-off", label, lost);
    ledger.put("late-costs", "Costs of pieces after they had left", of(Way::Late));
    let mut left: Vec<Contribution> = goods.iter().flat_map(|g| g.parts.iter().cloned()).collect();
    left.extend(written_off(books));
    ledger.put("cost-from-pieces", "Cost of goods sold, piece by piece", left);
}

/// Shop stock bought is a material where it counts when used, else an expense.
fn enter_materials(books: &Books, ledger: &mut Ledger) {
    let (when_used, supplies) = (books.when_used(), stock_end::supplies(books));
    let mut materials = stock_end::own_costs(books, &[CostKind::Material, CostKind::Hardware]);
    materials.extend(supplies.iter().filter(|_| when_used).cloned());
    ledger.put("materials", "Materials and hardware", materials);
    let expensed = supplies.into_iter().filter(|_| !when_used).collect();
    ledger.put("supplies-bought", "Shop stock bought, an expense at once", expensed);
}

/// The figures at a glance.
pub(super) fn enter_totals(books: &Books, ledger: &mut Ledger) {
    let receipts = [("receipts", PLUS), ("refunds", LESS)];
    ledger.put_sum("net-receipts", "Receipts less refunds", &receipts);
    let lines: Vec<String> =
        books.form.expense_lines().map(|line| lines::line_figure(&line.number)).collect();
    let lines: Vec<(&str, Decimal)> = lines.iter().map(|name| (name.as_str(), PLUS)).collect();
    ledger.put_sum("total-expenses", "All expenses on lines", &lines);
    let net = [
        ("net-receipts", PLUS),
        ("tax-kept", PLUS),
        ("cost-of-goods-sold", LESS),
        ("total-expenses", LESS),
    ];
    ledger.put_sum("net-profit", "Net profit", &net);
}
