//! What a workbook goes on computing with: formulas give what stands in their cells, on the
//! first page of the dossier too.

use crate::common;
use crate::paper::{cell, table, with_build};
use gantrywright::sheets::{self, Cell, Formula, Sheet, SheetKind};
use gantrywright::store::build_file;
use rust_decimal::Decimal;

/// Something paid for what is used, and something for what is not.
const PAID: &str = "format = 1\n\
    [purchases.\"spindle-2.2kw-air\"]\n\
    payments = [{ amount = \"310.50 EUR\", date = \"2026-11-20\" }]\n\
    [purchases.carriage-15-wide]\n\
    payments = [{ amount = \"20 EUR\", date = \"2026-11-20\", part_payment = true }]\n";

fn money(cell: &Cell) -> Decimal {
    match cell.value() {
        Cell::Money(money) => money.amount,
        other => panic!("{other:?} is no amount"),
    }
}

/// What a formula of cells, sums and products of amounts comes to.
fn worked(formula: &Formula, all: &[Sheet]) -> Decimal {
    match formula {
        Formula::Number(number) => *number,
        Formula::At(name, row, column) => {
            let has = |sheet: &&Sheet| sheet.tables.iter().any(|table| table.id == *name);
            let sheet = all.iter().find(has).expect("a sheet with the table");
            money(cell(table(sheet, name), row, column))
        }
        Formula::Plus(each) => each.iter().map(|one| worked(one, all)).sum(),
        Formula::Times(each) => each.iter().map(|one| worked(one, all)).product(),
        other => panic!("{other:?}"),
    }
}

#[test]
fn what_is_left_to_spend_and_the_first_page_follow_the_parts_list() {
    let catalogue = common::catalogue();
    let build = build_file::read(PAID, "b.toml", &catalogue).expect("a build");
    let all = with_build(&catalogue, &build, |paper, assessment| {
        assert!(!assessment.bill.unchosen.is_empty() && !assessment.bill.spent.is_zero());
        sheets::all(SheetKind::Dossier, paper)
    });
    let of = |kind| {
        let found = all.iter().find(|sheet| sheet.kind == kind);
        found.expect("a sheet of the dossier")
    };
    let (short, parts) = (of(SheetKind::Dossier), of(SheetKind::Parts));
    for (sheet, name, row) in [
        (short, "cost-in-short", "likely"),
        (short, "cost-in-short", "spent"),
        (short, "cost-in-short", "to-spend"),
        (short, "cost-in-short", "forecast"),
        (parts, "spending", "to-spend"),
        (parts, "spending", "forecast"),
    ] {
        let cell = cell(table(sheet, name), row, "amount");
        let Cell::Worked(_, formula) = cell else {
            panic!("{name} {row} stays as it was: {cell:?}")
        };
        assert_eq!(worked(formula, &all), money(cell), "{name} {row}");
    }
}
