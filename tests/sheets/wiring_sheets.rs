//! The sheets of wiring and terminals: they fit their paper, and list what the bill buys.

use crate::common;
use std::collections::HashSet;

use gantrywright::assessment::{Assessment, assess};
use gantrywright::build::{Build, Picked};
use gantrywright::catalogue::Catalogue;
use gantrywright::sheets::{Cell, Paper, Shape, Sheet, SheetKind, Table, sheet};
use gantrywright::units;

fn sheet_of(
    catalogue: &Catalogue,
    build: &Build,
    assessment: &Assessment,
    kind: SheetKind,
) -> Sheet {
    let picked = Picked::new(catalogue, build).expect("parts");
    let paper = Paper {
        catalogue,
        build,
        picked: &picked,
        assessment,
        today: common::today(),
    };
    sheet(kind, &paper)
}

fn text(cell: &Cell) -> String {
    match cell {
        Cell::Empty => String::new(),
        Cell::Text(text) => text.clone(),
        Cell::Number(number, decimals) => format!("{number:.decimals$}"),
        Cell::Count(count) => count.to_string(),
        Cell::ByHand => "____".into(),
        other => format!("{other:?}"),
    }
}

/// How wide each column is at least, and the lines of a table.
fn lines(table: &Table) -> (usize, Vec<String>) {
    let mut widths: Vec<usize> = table
        .columns
        .iter()
        .map(|column| column.title.chars().count())
        .collect();
    let entries = table
        .rows
        .iter()
        .filter(|row| row.cells.iter().skip(1).any(|cell| *cell != Cell::Empty));
    for row in entries {
        assert_eq!(row.cells.len(), table.columns.len(), "{}", table.id);
        for (width, cell) in widths.iter_mut().zip(&row.cells) {
            *width = (*width).max(text(cell).chars().count());
        }
    }
    let line = |cells: Vec<String>| {
        let each = cells.iter().zip(&widths).zip(&table.columns);
        let padded = each.map(|((cell, width), column)| match column.shape {
            Shape::Number => format!("{cell:>width$}"),
            _ => format!("{cell:width$}"),
        });
        padded.collect::<Vec<_>>().join("  ").trim_end().to_owned()
    };
    let mut all = vec![line(
        table
            .columns
            .iter()
            .map(|column| column.title.to_owned())
            .collect(),
    )];
    for row in &table.rows {
        all.push(
            match row.cells.iter().skip(1).all(|cell| *cell == Cell::Empty) {
                true => format!("-- {}", text(&row.cells[0])),
                false => line(row.cells.iter().map(text).collect()),
            },
        );
    }
    let wide = widths.iter().sum::<usize>() + 2 * (widths.len() - 1);
    (wide, all)
}

/// The lists need no more than 80 columns, but for the one that explains and may wrap; and no
/// row has the name of another.
#[test]
fn the_lists_fit_their_paper() {
    let catalogue = common::catalogue();
    for build in common::wired_builds(&catalogue, 60) {
        let Ok(assessment) = assess(&catalogue, &build, common::today()) else {
            continue;
        };
        for kind in [SheetKind::Wiring, SheetKind::Terminals] {
            let sheet = sheet_of(&catalogue, &build, &assessment, kind);
            assert!(!sheet.about.is_empty() && sheet.remarks.len() > 4);
            assert!(sheet.safety.iter().any(|note| note.id == "mains"));
            for table in &sheet.tables {
                let (wide, lines) = lines(table);
                if ["ways", "ends", "terminals"].contains(&table.id) {
                    assert!(wide <= 80, "{wide}:\n{}", lines.join("\n"));
                }
                let ids: HashSet<&str> = table.rows.iter().map(|row| row.id.as_str()).collect();
                let named = table.rows.iter().filter(|row| !row.id.is_empty()).count();
                assert_eq!(
                    ids.iter().filter(|id| !id.is_empty()).count(),
                    named,
                    "{}",
                    table.id
                );
            }
        }
    }
}

/// The wire by colour is the wire that is bought, before what is added for cuts.
#[test]
fn the_wire_of_the_list_is_the_wire_of_the_bill() {
    let catalogue = common::catalogue();
    let build = common::build(&catalogue, &[]);
    let assessment = assess(&catalogue, &build, common::today()).expect("an assessment");
    let sheet = sheet_of(&catalogue, &build, &assessment, SheetKind::Wiring);
    let table = sheet
        .tables
        .iter()
        .find(|table| table.id == "cabinet-wire")
        .expect("wire");
    let listed: f64 = table
        .rows
        .iter()
        .map(|row| match row.cells[2] {
            Cell::Number(metres, _) => metres,
            _ => panic!("no number"),
        })
        .sum();
    let wires = assessment
        .machine
        .leads
        .iter()
        .map(|lead| units::m::from(lead.wire()));
    assert!((listed - wires.sum::<f64>()).abs() < 1e-9, "{listed}");
    let bought = assessment
        .bill
        .lines
        .iter()
        .find(|line| line.part.as_str() == "cabinet-wire");
    let bought: f64 = bought
        .expect("a line")
        .quantity
        .to_string()
        .parse()
        .expect("a number");
    assert!(
        bought >= listed * 1.1 && bought <= listed * 1.1 + 10.0,
        "{bought} for {listed}"
    );
}
