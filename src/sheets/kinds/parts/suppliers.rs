//! What comes on top of the goods, supplier by supplier, with formulas that follow the goods.

use rust_decimal::Decimal;

use super::{LINES, SUPPLIERS, money, rounded, worked};
use crate::bill::{Bill, Consignment};
use crate::catalogue::prices::OnTop;
use crate::sheets::{Cell, Column, Formula, Row, Shape, Table};

const COLUMNS: [Column; 9] = [
    Column::new("supplier", "Supplier", Shape::Text),
    Column::new("goods", "Goods", Shape::Money),
    Column::new("parcels", "Parcels", Shape::Number),
    Column::new("freight", "Freight", Shape::Money),
    Column::new("duty_percent", "Duty %", Shape::Number),
    Column::new("duty", "Duty", Shape::Money),
    Column::new("tax_percent", "Tax %", Shape::Number),
    Column::new("tax", "Tax", Shape::Money),
    Column::new("total", "Landed", Shape::Money),
];

/// What stands instead of a rate where no tax comes on top.
const IN_PRICES: &str = "in the prices";

/// What comes on top of the goods, by supplier. Rates may be changed; freight is taken as it is.
pub(super) fn suppliers(bill: &Bill) -> Table {
    let mut rows: Vec<Row> = (bill.consignments.iter())
        .map(|one| consignment(bill, one))
        .collect();
    let sum = |of: fn(&Consignment) -> Decimal| bill.consignments.iter().map(of).sum::<Decimal>();
    let all = |column, amount| worked(money(bill, amount), Formula::Total(SUPPLIERS, column));
    let landed = bill.freight.likely + bill.duty.likely + bill.tax.likely;
    rows.push(Row::sum(
        "all",
        vec![
            Cell::text("All"),
            all("goods", sum(|one| one.goods.likely)),
            Cell::Empty,
            all("freight", bill.freight.likely),
            Cell::Empty,
            all("duty", bill.duty.likely),
            Cell::Empty,
            all("tax", bill.tax.likely),
            all("total", sum(|one| one.goods.likely) + landed),
        ],
    ));
    Table {
        id: SUPPLIERS,
        title: "What comes on top, by supplier".to_owned(),
        columns: COLUMNS.into(),
        rows,
    }
}

fn consignment(bill: &Bill, one: &Consignment) -> Row {
    let goods = Formula::TotalWhere(LINES, "total", "supplier", one.title.to_string());
    let (duty, duty_rate) = duty(bill, one);
    let (tax, tax_rate) = tax(bill, one);
    let landed = ["goods", "freight", "duty", "tax"].map(Formula::Here);
    let total = one.goods.likely + one.freight.likely + one.duty.likely + one.tax.likely;
    Row::entry(
        one.supplier.as_str(),
        vec![
            Cell::text(one.title),
            worked(money(bill, one.goods.likely), goods),
            Cell::count(one.parcels),
            money(bill, one.freight.likely),
            duty_rate,
            duty,
            tax_rate,
            tax,
            worked(money(bill, total), Formula::Plus(landed.into())),
        ],
    )
}

/// A share in percent, as exact as a workbook keeps numbers.
fn percent_of(part: Decimal, whole: Decimal) -> Option<Decimal> {
    let share = part.checked_div(whole)?.checked_mul(Decimal::ONE_HUNDRED)?;
    Some(share.round_dp(12).normalize())
}

/// A column in percent as a factor.
fn share(percent: &'static str) -> Formula {
    let hundred = Formula::Number(Decimal::ONE_HUNDRED);
    Formula::Over(Box::new(Formula::Here(percent)), Box::new(hundred))
}

/// The duty, and its rate over all kinds of goods: in a workbook it follows the goods as long
/// as their mix stays the same. Without goods there is no rate.
fn duty(bill: &Bill, one: &Consignment) -> (Cell, Cell) {
    let amount = money(bill, one.duty.likely);
    if one.duty.likely.is_zero() || one.paid_for(OnTop::Duty) {
        return (amount, Cell::Empty);
    }
    let Some(rate) = percent_of(one.duty.likely, one.goods.likely) else {
        return (amount, Cell::Empty);
    };
    let part = share("duty_percent");
    let formula = rounded(bill, Formula::Times(vec![Formula::Here("goods"), part]));
    (worked(amount, formula), Cell::Rate(rate))
}

/// The tax, and its rate: on the goods whose price does not hold it, their freight and duty.
fn tax(bill: &Bill, one: &Consignment) -> (Cell, Cell) {
    let amount = money(bill, one.tax.likely);
    let whole = one.untaxed.likely == one.goods.likely;
    if one.holds_tax() {
        return (amount, Cell::text(IN_PRICES));
    }
    if one.tax.likely.is_zero() || one.paid_for(OnTop::Tax) || !whole {
        return (amount, Cell::Empty);
    }
    let mut base = vec![
        Formula::Here("goods"),
        Formula::Here("freight"),
        Formula::Here("duty"),
    ];
    // Taxed is what was computed, whatever was paid for freight and duty.
    let computed = one.taxed_freight + one.computed_duty();
    let untaxed = one.freight.likely + one.duty.likely - computed;
    if !untaxed.is_zero() {
        base.push(Formula::Number(-untaxed));
    }
    let part = share("tax_percent");
    let formula = rounded(bill, Formula::Times(vec![Formula::Plus(base), part]));
    (worked(amount, formula), Cell::Rate(one.tax_percent))
}
