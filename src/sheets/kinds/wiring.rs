//! The sheet of wiring: every run from end to end, what goes onto its ends, and the wire that
//! the cabinet takes.

use std::collections::BTreeMap;

use crate::machine::cable_load::motor_at;
use crate::machine::terminals::{self, Strip};
use crate::machine::wiring::lead::{Colour, Lead, Made, Place, Purpose, of_axis};
use crate::machine::wiring::{Bond, CableRun};
use crate::order::Order as _;
use crate::sheets::{Cell, Column, Content, Paper, Row, Shape, Table};
use crate::units::{self, Area, ElectricCurrent, Length, show};
use crate::words::Words;

mod remarks;

/// What it says.
pub(in crate::sheets) fn content(paper: &Paper) -> Content {
    let entries = entries(paper);
    Content {
        about:
            "Every cable and wire by its number: label both ends with it before you lay it. The \
             first list says where each goes, with how many cores, and where its shield is bonded \
             to earth; the second what goes onto its ends and what guards it: flows is the \
             greatest current, bears what it may carry for hours, lost the share of the voltage \
             that stays on the way. The third says which wire to buy for the cabinet."
                .into(),
        tables: vec![ways(&entries), ends(&entries), wires(paper)],
        remarks: remarks::all(paper),
    }
}

/// A run of either kind, as the lists show it.
struct Entry {
    group: &'static str,
    number: usize,
    pieces: u32,
    from: String,
    to: String,
    cores: u32,
    area: Area,
    earth: Option<Area>,
    length: Length,
    bond: Bond,
    made: String,
    gland: bool,
    ferrules: u32,
    fuse: Option<ElectricCurrent>,
    current: Option<ElectricCurrent>,
    carries: Option<ElectricCurrent>,
    drop: Option<f64>,
}

const MACHINE: &str = "Cables to the machine";
const OUTSIDE: &str = "Cables from socket, buttons and frame";
const INSIDE: &str = "Wires in the cabinet";
const EARTH: &str = "Earth of frame parts and what moves";

fn entries(paper: &Paper) -> Vec<Entry> {
    let machine = &paper.assessment.machine;
    let mut on: BTreeMap<usize, Strip> = BTreeMap::new();
    for laid in terminals::strips(paper.picked, machine) {
        for terminal in &laid.terminals {
            if let Some(core) = terminal.outer.filter(|core| core.core == 0) {
                on.insert(core.run, laid.strip);
            }
        }
    }
    let runs = machine.geometry.runs.iter().enumerate();
    let planned = runs.map(|(place, run)| of_run(paper, run, place + 1, on.get(&(place + 1))));
    let others = machine.leads.iter().map(of_lead);
    let mut all: Vec<Entry> = planned.chain(others).collect();
    let order = [MACHINE, OUTSIDE, INSIDE, EARTH];
    all.order_by_key(|entry| order.iter().position(|group| *group == entry.group));
    all
}

fn of_run(paper: &Paper, run: &CableRun, number: usize, strip: Option<&Strip>) -> Entry {
    let cable = paper.catalogue.cables.get(&run.cable);
    let flexible = cable.is_some_and(|cable| cable.flexible);
    Entry {
        group: MACHINE,
        number,
        pieces: 1,
        from: match (strip, motor_at(run)) {
            (Some(Strip::Own), Some(axis)) => of_axis(axis, "driver", run.number),
            (Some(Strip::Own), None) => Place::Inverter.title().to_owned(),
            (strip, _) => strip.map_or("cabinet", |strip| strip.title()).to_owned(),
        },
        to: run.title(),
        cores: run.cores,
        area: run.area,
        earth: None,
        length: run.length,
        bond: run.bond(),
        made: if flexible {
            "flexible cable"
        } else {
            "cable, fixed"
        }
        .to_owned(),
        gland: true,
        ferrules: run.ferrules(),
        // The fuse that guards a motor's cable stands before its driver.
        fuse: None,
        current: run.load.map(|load| load.current),
        carries: run.sizing.map(|sizing| sizing.ampacity),
        drop: run.load.map(|load| units::percent::from(load.drop())),
    }
}

fn of_lead(lead: &Lead) -> Entry {
    let (from, to) = lead.ends();
    let made = match (lead.made, lead.purpose) {
        (Made::MainsLead, _) => "mains lead",
        (Made::SwitchCable, _) => "switch cable",
        (Made::Wire, _) => "single wires",
        (Made::Earth, Purpose::EarthStrap) => "braided straps",
        (Made::Earth, Purpose::BridgeEarth) => "flexible earth lead",
        (Made::Earth, _) => "earth lead",
    };
    Entry {
        group: match (lead.enters(), lead.purpose.is_inside()) {
            (true, _) => OUTSIDE,
            (_, true) => INSIDE,
            _ => EARTH,
        },
        number: lead.number,
        pieces: lead.pieces,
        from: lead.end(from),
        to: lead.end(to),
        cores: lead.cores,
        area: lead.area,
        earth: lead.earth_area.filter(|earth| *earth > lead.area),
        length: lead.length,
        bond: match lead.shielded {
            true => Bond::Cabinet,
            false => Bond::None,
        },
        made: match lead.pieces {
            0 | 1 => made.to_owned(),
            several => format!("{several} {made}"),
        },
        gland: lead.enters(),
        ferrules: lead.ferrules(),
        fuse: lead.guard,
        current: lead.load.map(|load| load.current),
        carries: lead.ampacity,
        drop: lead.load.map(|load| units::percent::from(load.drop())),
    }
}

/// Rows under a heading for each group.
fn grouped(entries: &[Entry], columns: usize, cells: impl Fn(&Entry) -> Vec<Cell>) -> Vec<Row> {
    let mut rows = Vec::with_capacity(entries.len() + 4);
    let mut group = "";
    for entry in entries {
        if entry.group != group {
            group = entry.group;
            rows.push(Row::heading(group, columns));
        }
        rows.push(Row::entry(mark(entry.number), cells(entry)));
    }
    rows
}

fn mark(number: usize) -> String {
    format!("W{number}")
}

/// An area as people write it: 0.75, 1.5, 4.
fn area(area: Area) -> String {
    show::at_most(units::mm2::from(area), 2)
}

fn ways(entries: &[Entry]) -> Table {
    let columns = vec![
        Column::new("number", "No.", Shape::Text),
        Column::new("from", "From", Shape::Text),
        Column::new("to", "To", Shape::Text),
        Column::new("cores_area_mm2", "Cores mm²", Shape::Text),
        Column::new("length_m", "m", Shape::Number),
        Column::new("shield_bond", "Shield", Shape::Text),
    ];
    let rows = grouped(entries, columns.len(), |entry| {
        let cores = format!("{} x {}", entry.cores, area(entry.area));
        vec![
            Cell::text(mark(entry.number)),
            Cell::text(entry.from.clone()),
            Cell::text(entry.to.clone()),
            Cell::text(cores),
            Cell::Number(units::m::from(entry.length), 2),
            match entry.bond {
                Bond::None => Cell::Empty,
                bond => Cell::text(bond.title()),
            },
        ]
    });
    Table {
        id: "ways",
        title: "From end to end".into(),
        columns,
        rows,
    }
}

fn ends(entries: &[Entry]) -> Table {
    let columns = vec![
        Column::new("number", "No.", Shape::Text),
        Column::new("made_of", "Made of", Shape::Text),
        Column::new("gland", "Gland", Shape::Text),
        Column::new("ferrules", "Ferrules", Shape::Number),
        Column::new("fuse_a", "Fuse A", Shape::Number),
        Column::new("current_a", "Flows A", Shape::Number),
        Column::new("ampacity_a", "Bears A", Shape::Number),
        Column::new("drop_percent", "Lost %", Shape::Number),
    ];
    let number = |value: Option<f64>, decimals| {
        value.map_or(Cell::Empty, |value| Cell::Number(value, decimals))
    };
    let rows = grouped(entries, columns.len(), |entry| {
        let made = match entry.earth {
            Some(earth) => format!("{}, earth {} mm²", entry.made, area(earth)),
            None => entry.made.clone(),
        };
        vec![
            Cell::text(mark(entry.number)),
            Cell::text(made),
            Cell::text(if entry.gland { "yes" } else { "no" }),
            Cell::count(entry.ferrules * entry.pieces),
            entry.fuse.map_or(Cell::Empty, fuse),
            number(entry.current.map(units::a::from), 1),
            number(entry.carries.map(units::a::from), 1),
            number(entry.drop, 1),
        ]
    });
    Table {
        id: "ends",
        title: "Ends and guards".into(),
        columns,
        rows,
    }
}

/// A fuse with as many decimals as its row has: 6.3, 10.
fn fuse(current: ElectricCurrent) -> Cell {
    let amperes = units::a::from(current);
    let is = |decimals: i32| {
        let scaled = amperes * 10f64.powi(decimals);
        (scaled - scaled.round()).abs() < 1e-6
    };
    let decimals = (0..2).find(|decimals| is(*decimals)).unwrap_or(2);
    Cell::Number(amperes, decimals as usize)
}

/// The cabinet's wire by colour and area.
fn wires(paper: &Paper) -> Table {
    let mut sums: BTreeMap<(Colour, String), Length> = BTreeMap::new();
    for lead in &paper.assessment.machine.leads {
        for (colour, count) in lead.colours() {
            let length = lead.length * f64::from(count * lead.pieces);
            *sums.entry((colour, area(lead.area))).or_default() += length;
        }
    }
    let rows = sums.into_iter().map(|((colour, area), length)| {
        let id = format!("{}-{area}", colour.id());
        let cells = vec![
            Cell::text(colour.title()),
            Cell::text(area),
            Cell::Number(units::m::from(length), 2),
            Cell::text(colour.word().plain),
        ];
        Row::entry(id, cells)
    });
    Table {
        id: "cabinet-wire",
        title: "Wire for the cabinet, without waste".into(),
        columns: vec![
            Column::new("colour", "Colour", Shape::Text),
            Column::new("area_mm2", "mm²", Shape::Text),
            Column::new("length_m", "m", Shape::Number),
            Column::new("use", "For", Shape::Text),
        ],
        rows: rows.collect(),
    }
}
