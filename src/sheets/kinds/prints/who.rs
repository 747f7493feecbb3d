//! What the prints cost by who makes them: the lines of the bill that a service, a printer at
//! hand and one to be bought would each put there.

use rust_decimal::Decimal;

use crate::assessment::assess;
use crate::bill::{Bill, Line};
use crate::build::choices::working_area::PrintsFrom;
use crate::catalogue::quantity::Count;
use crate::catalogue::{Catalogue, Id, PartKind};
use crate::money::Money;
use crate::sheets::{Cell, Column, Paper, Row, Shape, Table};
use crate::words::Words as _;

const COLUMNS: [Column; 7] = [
    // Narrow formats have a heading over the lines instead.
    Column::new("way", "Printed by", Shape::Text).wide_only(),
    Column::new("part", "On the bill", Shape::Text),
    Column::new("quantity", "Bought", Shape::Number),
    Column::new("unit", "Unit", Shape::Text),
    Column::new("price", "Each", Shape::Money),
    Column::new("total", "Likely", Shape::Money),
    Column::new("whole_build", "Whole build", Shape::Money),
];

/// Each who may print with the bill as it would be then; that of the one who was chosen is the
/// build's own.
fn ways(paper: &Paper) -> Vec<(PrintsFrom, Bill)> {
    let chosen = paper.build.area.prints_from;
    let bill = |from| {
        if from == chosen {
            return Some(paper.assessment.bill.clone());
        }
        let mut build = paper.build.clone();
        build.area.prints_from = from;
        let other = assess(paper.catalogue, &build, paper.today);
        other.ok().map(|other| other.bill)
    };
    let each = PrintsFrom::ALL.iter();
    each.filter_map(|from| Some((*from, bill(*from)?)))
        .collect()
}

/// Whether a part is on the bill for the sake of printing: plastic, and what is counted by who
/// prints.
fn is_for_printing(catalogue: &Catalogue, kind: PartKind, part: &Id) -> bool {
    let counts = [Count::OwnPrint, Count::PrinterToBuy, Count::ServicePrint];
    let mut rules = catalogue.quantities.iter();
    kind == PartKind::Filament || rules.any(|rule| rule.part == *part && counts.contains(&rule.per))
}

/// The lines of a bill that are there for the sake of printing.
fn lines<'b>(paper: &'b Paper, bill: &'b Bill) -> impl Iterator<Item = &'b Line> {
    let lines = bill.lines.iter();
    lines.filter(|line| is_for_printing(paper.catalogue, line.kind, &line.part))
}

/// Those lines with their sum, for each who may print, and what the whole build costs then.
pub(super) fn table(paper: &Paper) -> Table {
    let mut rows = Vec::new();
    for (from, bill) in &ways(paper) {
        let money = |amount| Cell::Money(Money::new(amount, bill.currency));
        let title = match *from == paper.build.area.prints_from {
            true => format!("By {}, as you chose", from.title()),
            false => format!("By {}", from.title()),
        };
        rows.push(Row::heading(title, COLUMNS.len()));
        for line in lines(paper, bill) {
            let price = line.price.as_ref();
            let cells = vec![
                Cell::text(from.title()),
                Cell::text(line.title),
                Cell::Exact(line.buy.normalize()),
                Cell::Unit(line.unit, line.buy),
                price.map_or(Cell::Empty, |price| money(price.range.likely)),
                money(line.total.likely),
                Cell::Empty,
            ];
            rows.push(Row::entry(format!("{}-{}", from.id(), line.part), cells));
        }
        let all: Decimal = lines(paper, bill).map(|line| line.total.likely).sum();
        let cells = vec![
            Cell::text(from.title()),
            Cell::text("In all"),
            Cell::Empty,
            Cell::Empty,
            Cell::Empty,
            money(all),
            money(bill.total.likely),
        ];
        rows.push(Row::sum(from.id(), cells));
    }
    Table {
        id: "printed-by",
        title: format!(
            "What they cost by who prints, in {}",
            paper.assessment.bill.currency
        ),
        columns: COLUMNS.into(),
        rows,
    }
}

/// What is in the numbers of that table.
pub(super) const REMARK: &str = "What they cost is the likely price on the bill; freight, duty and tax on it are in the cost of the whole build alone. A printer that you buy is yours for the next project.";
