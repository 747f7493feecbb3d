//! What others cut to size: rails, screws, racks and belts to length, and plates.

use super::{mm, short};
use crate::bill::nesting::Tenths;
use crate::build::Axis;
use crate::catalogue::Id;
use crate::sheets::{Cell, Column, Paper, Row, Shape, Table};
use crate::units::{self, Length};
use crate::words::Words as _;

/// What comes cut to length from whoever makes it.
pub(super) fn lengths(paper: &Paper) -> Table {
    let (picked, machine) = (paper.picked, &paper.assessment.machine);
    let machines = paper.build.area.machines;
    let mut rows = Vec::new();
    for axis in Axis::EACH {
        let rails = &machine.geometry.rails[axis];
        let typed = &paper.build.drive;
        // A length that was typed is that of a piece in hand, which nobody orders again.
        let (rail_in_hand, screw_in_hand) = (
            typed.rail_length[axis].is_some(),
            typed.screw_length[axis].is_some(),
        );
        let mut add = |what: &str, part: &Id, length: Length, count: u32, in_hand: bool| {
            let whose = if in_hand { ", in hand" } else { "" };
            let title = format!("{what} of {}{whose}", axis.title());
            rows.push(Row::entry(
                "",
                vec![
                    Cell::text(title),
                    Cell::text(short(paper, part)),
                    mm(Tenths::up(length)),
                    Cell::count(count * machines),
                ],
            ));
        };
        add(
            "rail",
            &picked.axes[axis].rail.id,
            rails.length,
            rails.rails,
            rail_in_hand,
        );
        let mut drives: Vec<(&Id, Length, bool, u32)> = Vec::new();
        let cuts = &machine.geometry.drives[axis];
        for (drive, cut) in picked.drives(axis).into_iter().zip(cuts) {
            let part = drive.part().id();
            let known = drives
                .iter_mut()
                .find(|(id, other, ..)| *id == part && *other == cut.to_order);
            match known {
                Some((.., count)) => *count += 1,
                None => drives.push((part, cut.to_order, drive.is_screw(), 1)),
            }
        }
        for (part, length, is_screw, count) in drives {
            let what = if is_screw { "screw" } else { "rack or belt" };
            add(what, part, length, count, is_screw && screw_in_hand);
        }
    }
    Table {
        id: "to-order",
        title: "Ordered cut to length".to_owned(),
        columns: vec![
            Column::new("what", "What", Shape::Text),
            Column::new("part", "Part", Shape::Text),
            Column::new("length_mm", "mm", Shape::Number).beside_inches(),
            Column::new("quantity", "Pieces", Shape::Number),
        ],
        rows,
    }
}

/// The plates with their sizes, for the shop that cuts them; none where the plan has none.
pub(super) fn plates(paper: &Paper) -> Option<Table> {
    let (picked, machine) = (paper.picked, &paper.assessment.machine);
    let machines = paper.build.area.machines;
    let plate = picked.plate;
    let rows: Vec<Row> = (machine.geometry.plates.iter())
        .map(|cut| {
            Row::entry(
                cut.mark,
                vec![
                    Cell::text(cut.mark),
                    Cell::text(cut.title),
                    mm(Tenths::up(cut.length)),
                    mm(Tenths::up(cut.width)),
                    Cell::Number(units::mm::from(plate.thickness), 0),
                    Cell::count(cut.pieces * machines),
                    Cell::Number(units::kg::from(cut.mass), 1),
                ],
            )
        })
        .collect();
    (!rows.is_empty()).then(|| Table {
        id: "plates",
        title: format!("Plates: {}", plate.title),
        columns: vec![
            Column::new("mark", "Mark", Shape::Text),
            Column::new("plate", "Plate", Shape::Text),
            Column::new("length_mm", "Long mm", Shape::Number).beside_inches(),
            Column::new("width_mm", "Wide mm", Shape::Number).beside_inches(),
            Column::new("thickness_mm", "Thick mm", Shape::Number).kept(),
            Column::new("quantity", "Pieces", Shape::Number),
            Column::new("each_kg", "kg each", Shape::Number).kept(),
        ],
        rows,
    })
}
