//! The drilling sheet: where the holes of each rail stand, measured from its end, with which
//! tap and drill, and what the carriages ask of the part that they carry.

use crate::bill::nesting::Tenths;
use crate::build::{Axis, Picked};
use crate::catalogue::thread::Thread;
use crate::machine::geometry::{RailCut, Stations};
use crate::order::Order as _;
use crate::sheets::{Cell, Column, Content, Paper, Row, Shape, Table};
use crate::units::{self, Length, show};
use crate::words::Words as _;

/// What a sheet says of a size that is not in its table.
const UNUSUAL: &str = "look it up";

/// What it says.
pub(in crate::sheets) fn content(paper: &Paper) -> Content {
    Content {
        about: "Distances in mm from one end of the rail to the middle of each hole. Measure the rail that arrived before you drill: over ten holes, divided by ten."
            .to_owned(),
        tables: vec![rails(paper), stations(paper), carriages(paper), threads(paper)],
        remarks: remarks(paper),
    }
}

fn cut<'a>(paper: &Paper<'a>, axis: Axis) -> &'a RailCut {
    &paper.assessment.machine.geometry.rails[axis]
}

fn holes(paper: &Paper, axis: Axis) -> Option<Stations> {
    cut(paper, axis).stations
}

/// Millimetres to a tenth; nothing where there is none.
fn mm(length: Option<Length>) -> Cell {
    length.map_or(Cell::Empty, |length| {
        Cell::Number(units::mm::from(length), 1)
    })
}

/// A diameter from the table of threads.
fn drill(screw: Length, of: impl Fn(&Thread) -> Length) -> Cell {
    match Thread::of(screw) {
        Some(thread) => mm(Some(of(thread))),
        None => Cell::text(UNUSUAL),
    }
}

fn named(screw: Length) -> String {
    format!("M{}", units::mm::from(screw))
}

/// Pieces of all machines.
fn pieces(picked: &Picked, each: u32) -> Cell {
    Cell::count(each * picked.build.area.machines)
}

/// What the rails of an axis are screwed into.
fn seat(picked: &Picked, axis: Axis) -> String {
    let thick = |length: Length| show::typed(units::mm::from(length));
    let (tube, wall) = match axis {
        Axis::X => ("beam tube", picked.beam_wall),
        Axis::Y => ("base tube", picked.base_wall),
        Axis::Z => return format!("plate of {} mm", thick(picked.plate.thickness)),
    };
    let strip = match picked.build.area.thread_strips {
        true => " and the steel strip in it",
        false => "",
    };
    format!("{tube}: wall of {} mm{strip}", thick(wall.used()))
}

fn rails(paper: &Paper) -> Table {
    let picked = paper.picked;
    let rows = Axis::EACH.map(|axis| {
        let (cut, screw) = (cut(paper, axis), picked.axes[axis].rail.screw);
        let holes = holes(paper, axis);
        Row::entry(
            axis.title(),
            vec![
                Cell::text(axis.title()),
                pieces(picked, cut.rails),
                // As the sheet of cuts orders it.
                Cell::Exact(Tenths::up(cut.length).millimetres()),
                mm(holes.map(|holes| holes.margin)),
                mm(Some(cut.pitch)),
                Cell::count(cut.holes()),
                Cell::text(named(screw)),
                drill(screw, Thread::tap_drill),
                Cell::text(seat(picked, axis)),
            ],
        )
    });
    Table {
        id: "rails",
        title: "Rails".to_owned(),
        columns: vec![
            Column::new("axis", "Axis", Shape::Text),
            Column::new("rails", "Rails", Shape::Number),
            Column::new("length_mm", "Length", Shape::Number),
            Column::new("margin_mm", "First at", Shape::Number),
            Column::new("pitch_mm", "Pitch", Shape::Number),
            Column::new("holes", "Holes", Shape::Number),
            Column::new("screw", "Screw", Shape::Text),
            Column::new("tap_drill_mm", "Tap drill", Shape::Number).kept(),
            Column::new("into", "Into", Shape::Text),
        ],
        rows: rows.into(),
    }
}

/// Every hole, the axes side by side.
fn stations(paper: &Paper) -> Table {
    let each = Axis::EACH.map(|axis| holes(paper, axis));
    let most = each.iter().flatten().map(|one| one.holes).max();
    let rows = (0..most.unwrap_or(0)).map(|hole| {
        let mut cells = vec![Cell::count(hole + 1)];
        cells.extend(each.iter().map(|one| {
            let there = one.filter(|one| hole < one.holes);
            mm(there.map(|one| one.at(hole)))
        }));
        Row::entry((hole + 1).to_string(), cells)
    });
    Table {
        id: "stations",
        title: "Holes from the rail's end".to_owned(),
        columns: vec![
            Column::new("hole", "Hole", Shape::Number),
            Column::new("x_mm", "X rails", Shape::Number),
            Column::new("y_mm", "Y rails", Shape::Number),
            Column::new("z_mm", "Z rails", Shape::Number),
        ],
        rows: rows.collect(),
    }
}

/// What the parts that ride on carriages are drilled by.
fn carriages(paper: &Paper) -> Table {
    let picked = paper.picked;
    let rows = Axis::EACH.map(|axis| {
        let carriage = picked.axes[axis].carriage;
        Row::entry(
            axis.title(),
            vec![
                Cell::text(axis.title()),
                pieces(picked, cut(paper, axis).carriages),
                Cell::text(carriage.title),
                Cell::text(named(carriage.screw)),
                drill(carriage.screw, Thread::passes),
                mm(carriage.holes_across),
                mm(carriage.holes_along),
            ],
        )
    });
    Table {
        id: "carriages",
        title: "Carriages: four holes each, in the part that they carry".to_owned(),
        columns: vec![
            Column::new("axis", "Axis", Shape::Text),
            Column::new("carriages", "Carriages", Shape::Number),
            Column::new("carriage", "Carriage", Shape::Text),
            Column::new("screw", "Screw", Shape::Text),
            Column::new("hole_mm", "Hole", Shape::Number).kept(),
            Column::new("across_mm", "Across", Shape::Number),
            Column::new("along_mm", "Along", Shape::Number),
        ],
        rows: rows.into(),
    }
}

/// The sizes that the parts on the bill name: M8 of "frame bolt M8 x 40".
fn bought(paper: &Paper) -> impl Iterator<Item = Length> {
    let lines = paper.assessment.bill.lines.iter();
    let words = lines.flat_map(|line| line.title.split([' ', ',']));
    let sizes = words.filter_map(|word| word.strip_prefix('M')?.parse::<u8>().ok());
    // Glands and sockets have threads of other standards.
    let sizes = sizes.map(|size| units::mm::of(size.into()));
    sizes.filter(|size| Thread::of(*size).is_some())
}

/// The threads that occur, each once.
fn threads(paper: &Paper) -> Table {
    let mut screws: Vec<Length> = Axis::EACH
        .iter()
        .flat_map(|&axis| {
            let chosen = &paper.picked.axes[axis];
            [chosen.rail.screw, chosen.carriage.screw]
        })
        .chain(bought(paper))
        .collect();
    screws.order_by(|a, b| units::mm::from(*a).total_cmp(&units::mm::from(*b)));
    screws.dedup();
    let rows = screws.into_iter().map(|screw| {
        let size = |of: fn(&Thread) -> Length, digits| match Thread::of(screw) {
            Some(thread) => Cell::Number(units::mm::from(of(thread)), digits),
            None => Cell::text(UNUSUAL),
        };
        Row::entry(
            named(screw),
            vec![
                Cell::text(named(screw)),
                size(Thread::pitch, 2),
                size(Thread::tap_drill, 1),
                size(Thread::passes, 1),
                size(Thread::rivet_nut, 1),
            ],
        )
    });
    Table {
        id: "threads",
        title: "Threads and drills".to_owned(),
        columns: vec![
            Column::new("thread", "Thread", Shape::Text),
            Column::new("pitch_mm", "Pitch", Shape::Number).kept(),
            Column::new("tap_drill_mm", "Tap drill", Shape::Number).kept(),
            Column::new("passes_mm", "Passes", Shape::Number).kept(),
            Column::new("rivet_nut_mm", "Rivet nut", Shape::Number).kept(),
        ],
        rows: rows.collect(),
    }
}

fn remarks(paper: &Paper) -> Vec<String> {
    let picked = paper.picked;
    let mut remarks = vec![
        "Rails are taken as cut alike at both ends. Where yours is cut otherwise, measure its first hole and shift the column by the difference."
            .to_owned(),
        "Drill the first rail's line, bolt the rail, and spot the second through its own holes with both bridged: so the two agree."
            .to_owned(),
    ];
    let thin = paper.assessment.findings.iter();
    for finding in thin.filter(|finding| finding.rule == "thread-in-thin-wall") {
        remarks.push(format!(
            "{}. Back it with a steel strip and tap both, or set rivet nuts: the wall alone strips before the screw is tight.",
            finding.message
        ));
    }
    let unsaid = Axis::EACH
        .iter()
        .any(|&axis| picked.axes[axis].carriage.holes_across.is_none());
    if unsaid {
        remarks.push(
            "Where the distances of a carriage's holes are empty the catalogue does not have them: measure the carriage."
                .to_owned(),
        );
    }
    remarks.push(
        "Tap through walls and plates; in a hole that ends, thread at least one diameter deep in steel, one and a half in aluminium (common practice)."
            .to_owned(),
    );
    remarks.push(
        "Patterns of motors, screw bearings and nut mounts are not in the catalogue: take them from the parts that arrived, by transfer punch."
            .to_owned(),
    );
    remarks.push(
        "Threads: ISO 261, coarse; tap drills: ISO 2306; holes to pass: ISO 273, medium; rivet nuts and carriages' holes from memory: the part's own sheet counts."
            .to_owned(),
    );
    remarks
}
