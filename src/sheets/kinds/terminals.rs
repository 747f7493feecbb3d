//! The sheet of terminals: each strip, terminal by terminal, with the cores that land on it.

use std::collections::BTreeMap;

use crate::machine::terminals::{self, Core, Laid, Potential, Stage, Strip, Terminal};
use crate::machine::wiring::lead::Purpose;
use crate::sheets::{Cell, Column, Content, Paper, Row, Shape, Table};
use crate::units::{self, ElectricCurrent, show};
use crate::words::Words;

/// What it says.
pub(in crate::sheets) fn content(paper: &Paper) -> Content {
    let strips = terminals::strips(paper.picked, &paper.assessment.machine);
    Content {
        about: "The strips in the cabinet. Each terminal has two sides, for one core each: the \
                cabinet's wires go on the inner one, cables from outside, and further wires, on \
                the outer one. W5.2 is core 2 of cable W5 \
                on the wiring sheet."
            .into(),
        tables: vec![summary(&strips), all(paper, &strips)],
        remarks: remarks(paper, &strips),
    }
}

fn remarks(paper: &Paper, strips: &[Laid]) -> Vec<String> {
    let mut remarks: Vec<String> = [
        "All on the mains strips is for a licensed electrician and follows local codes. Cover \
         what stays live with the main switch off, and mark it.",
        "One core a side, each with its ferrule; one earth a screw. Pull at each: none may slip.",
        "A bridge joins a terminal to the next one of its potential. The two 0 V, that of the \
         motors and that of the control, stay apart here; join them only where the controller's \
         manual says so, and at one point.",
        "Spare cores end on terminals of their own, or are insulated: a loose end finds something \
         to touch.",
        "Set each strip apart by end plates and labels: mains at one end, motors next, inputs as \
         far from both as the rail allows.",
    ]
    .map(str::to_owned)
    .to_vec();
    if strips.iter().any(|laid| laid.strip == Strip::SecondMains) {
        remarks.push(
            "Two circuits end in this cabinet: with one switched off the other is live. One switch \
             must part both, or a sign on the door must say so (IEC 60204-1, 5.3). Never join their \
             neutrals."
                .into(),
        );
    }
    let cut = |laid: &&Laid| {
        let behind = |one: &Terminal| one.potential == Potential::Live(Stage::Cut);
        laid.terminals.iter().any(behind)
    };
    if strips.iter().filter(cut).count() > 1 {
        remarks.push(
            "The stop cuts loads on both circuits: a contactor for each, live and neutral through it, \
             both coils on the one stop circuit, so that both drop."
                .into(),
        );
    }
    let is_fused = |one: &Terminal| matches!(one.potential, Potential::Fused(..));
    if strips
        .iter()
        .any(|laid| laid.terminals.iter().any(is_fused))
    {
        remarks.push(
            "\"Feed to\" joins the sides of fuse terminals that lie before their fuses, never the \
             cores behind them: each fuse guards one driver."
                .into(),
        );
    }
    let leads = &paper.assessment.machine.leads;
    let of = |purpose| leads.iter().find(|lead| lead.purpose == purpose);
    if let (Some(coil), Some(_)) = (of(Purpose::StopCoil), of(Purpose::StartButton)) {
        let number = coil.number;
        remarks.push(format!(
            "At the contactor W{number}.1 goes to one end of the coil (A1), W{number}.2 to the other \
             (A2), W{number}.3 to one side of a contact that closes with it (13); join its other \
             side (14) to A1. So the contactor holds itself once the start button was pressed, and \
             falls off with the stop button or an outage. Its contacts must be enough for that."
        ));
    }
    if of(Purpose::StopCoil).is_some() && of(Purpose::StartButton).is_none() {
        remarks.push(
            "Nothing holds the contactor: turning the stop button back starts what it cut. A start \
             button with a holding contact prevents that (IEC 60204-1, 9.2.3.4.2)."
                .into(),
        );
    }
    remarks
}

/// How each strip is called on its label.
fn labels(strips: &[Laid]) -> BTreeMap<Strip, String> {
    let mut bought = 0;
    let mut label = |laid: &Laid| match laid.strip {
        Strip::Earth => "PE".to_owned(),
        Strip::Own => "D".to_owned(),
        _ => {
            bought += 1;
            format!("X{bought}")
        }
    };
    strips
        .iter()
        .map(|laid| (laid.strip, label(laid)))
        .collect()
}

fn summary(strips: &[Laid]) -> Table {
    let labels = labels(strips);
    let rows = strips.iter().map(|laid| {
        let count = |of: usize| Cell::Count(of as u64);
        let free = if laid.strip.is_bought() {
            count(laid.free)
        } else {
            Cell::Empty
        };
        let cells = vec![
            Cell::text(labels[&laid.strip].clone()),
            Cell::text(laid.strip.title()),
            count(laid.terminals.len()),
            free,
            Cell::text(laid.strip.word().plain),
        ];
        Row::entry(laid.strip.id(), cells)
    });
    Table {
        id: "strips",
        title: "The strips".into(),
        columns: vec![
            Column::new("strip", "Strip", Shape::Text),
            Column::new("title", "What", Shape::Text),
            Column::new("used", "Used", Shape::Number),
            Column::new("free", "Free", Shape::Number),
            Column::new("for", "For", Shape::Text),
        ],
        rows: rows.collect(),
    }
}

fn all(paper: &Paper, strips: &[Laid]) -> Table {
    let columns = vec![
        Column::new("terminal", "Terminal", Shape::Text),
        Column::new("potential", "Potential", Shape::Text),
        Column::new("cable", "Outer", Shape::Text),
        Column::new("wire", "Inner", Shape::Text),
        Column::new("bridge", "Bridge", Shape::Text),
        Column::new("fuse", "Fuse", Shape::Text),
        Column::new("done", "Done", Shape::ByHand),
    ];
    let labels = labels(strips);
    let mut rows = Vec::new();
    for laid in strips {
        let label = &labels[&laid.strip];
        rows.push(Row::heading(laid.strip.title(), columns.len()));
        for (place, terminal) in laid.terminals.iter().enumerate() {
            let next = laid.terminals.get(place + 1);
            let next = next.filter(|_| laid.strip.is_bought());
            let name = format!("{label}.{}", place + 1);
            rows.push(Row::entry(
                name.clone(),
                vec![
                    Cell::text(name),
                    Cell::text(terminal.potential.title(paper.picked)),
                    terminal.outer.map_or(Cell::Empty, core),
                    terminal.inner.map_or(Cell::Empty, core),
                    next.map_or(Cell::Empty, |next| bridge(terminal, next, place + 2)),
                    fuse(paper, laid.strip, terminal),
                    Cell::ByHand,
                ],
            ));
        }
        rows.extend(free(label, laid, columns.len()));
    }
    Table {
        id: "terminals",
        title: "Terminal by terminal".into(),
        columns,
        rows,
    }
}

/// How a terminal is joined to the next one: where they share a potential, or where the next
/// one's fuse is fed from here.
fn bridge(terminal: &Terminal, next: &Terminal, number: usize) -> Cell {
    use Potential::{Fused, MotorPlus};
    match (terminal.potential, next.potential) {
        (MotorPlus | Fused(..), Fused(..)) => Cell::text(format!("supply to {number}")),
        (one, other) if one == other => Cell::text(format!("to {number}")),
        _ => Cell::Empty,
    }
}

/// The free terminals behind a strip, in one row.
fn free(label: &str, laid: &Laid, columns: usize) -> Option<Row> {
    let (first, last) = (laid.terminals.len() + 1, laid.terminals.len() + laid.free);
    let name = match laid.free {
        0 => return None,
        1 => format!("{label}.{first}"),
        _ => format!("{label}.{first}-{last}"),
    };
    let mut cells = vec![Cell::Empty; columns];
    for (cell, text) in cells.iter_mut().zip([name.clone(), "free".to_owned()]) {
        *cell = Cell::text(text);
    }
    Some(Row::entry(name, cells))
}

fn core(core: Core) -> Cell {
    Cell::text(format!("W{}.{}", core.run, core.core + 1))
}

/// What guards the wires behind a terminal.
fn fuse(paper: &Paper, strip: Strip, terminal: &Terminal) -> Cell {
    let leads = &paper.assessment.machine.leads;
    let guard = |purpose: Purpose| {
        let mut found = leads.iter().filter(|lead| lead.purpose == purpose);
        found
            .find(|lead| Strip::mains(lead.circuit) == strip)
            .and_then(|lead| lead.guard)
    };
    match terminal.potential {
        Potential::Live(Stage::On | Stage::Cut) => guard(Purpose::SwitchOut)
            .map_or(Cell::Empty, |current| {
                Cell::text(format!("breaker {}", amperes(current)))
            }),
        Potential::Fused(axis, which) => {
            let feeds = leads
                .iter()
                .filter(|lead| lead.purpose == Purpose::DriverFeed);
            let own = feeds
                .enumerate()
                .find(|(_, lead)| (lead.axis, lead.which) == (Some(axis), which));
            let guard = own.and_then(|(place, lead)| Some((place, lead.guard?)));
            guard.map_or(Cell::Empty, |(place, current)| {
                Cell::text(format!("F{} {}", place + 1, amperes(current)))
            })
        }
        _ => Cell::Empty,
    }
}

fn amperes(current: ElectricCurrent) -> String {
    format!("{} A", show::at_most(units::a::from(current), 2))
}
