//! What flows in each mains circuit, load by load, against what may flow for hours.

use ratatui::text::Line;

use super::bars::{self, Part};
use super::table;
use crate::machine::circuit::Circuit;
use crate::screen::state::State;
use crate::screen::view::paint::Pen;
use crate::units::{self, ElectricCurrent, show};
use crate::words::Words as _;

fn a(current: ElectricCurrent) -> String {
    format!("{} A", show::number(units::a::from(current), 1))
}

/// A parted bar for each circuit.
pub(super) fn picture(state: &State, pen: &Pen, width: usize) -> Vec<Line<'static>> {
    let turns = "Of loads that take turns only the largest counts.";
    let mut lines = pen.paragraph(turns, width, pen.theme.muted);
    for circuit in &state.now.machine.electrics.circuits {
        lines.push(Line::default());
        lines.extend(one(pen, width, circuit));
    }
    lines
}

fn one(pen: &Pen, width: usize, circuit: &Circuit) -> Vec<Line<'static>> {
    let amps = units::a::from;
    let most = [circuit.breaker, circuit.modelled_full(), circuit.full()];
    let most = most.into_iter().map(amps).fold(0.0, f64::max);
    let most = if most > 0.0 { most } else { 1.0 };
    let title = format!(
        "{}, {} V",
        circuit.which.title(),
        show::number(units::v::from(circuit.volts), 0)
    );
    let value = format!("{} of {}", a(circuit.full()), a(circuit.allowed));
    let counted = circuit.loads.iter().filter(|load| !circuit.waits(load));
    let flowing = counted.filter(|load| amps(load.current.full) > 0.0);
    let parts: Vec<Part> = flowing
        .map(|load| Part {
            name: load.name.title().to_owned(),
            share: amps(load.current.full) / most,
            value: a(load.current.full),
        })
        .collect();
    let columns = bars::columns(width);
    let ends = [circuit.allowed, circuit.breaker].map(|end| amps(end) / most);
    let mut lines = vec![
        bars::head(pen, width, &title, &value),
        bars::line(&bars::parted(pen, columns, &parts)),
        bars::line(&bars::marks(columns, &ends)),
    ];
    let says = format!(
        "^ {} may flow for hours; ^ {} is what the breaker is rated for.",
        a(circuit.allowed),
        a(circuit.breaker)
    );
    lines.extend(pen.paragraph(&says, width, pen.theme.marked));
    lines.extend(bars::list(pen, width, &parts));
    let waiting = circuit.loads.iter().filter(|load| circuit.waits(load));
    let waiting: Vec<(String, String)> = waiting
        .map(|load| {
            let name = format!("   {}: takes turns with a larger one", load.name.title());
            (name, a(load.current.full))
        })
        .collect();
    lines.extend(bars::pairs(pen, width, &waiting));
    if let Some(measured) = circuit.measured {
        let says = format!("Measured at the plug, all together: {}.", a(measured));
        lines.extend(pen.paragraph(&says, width, pen.theme.marked));
    }
    lines
}

/// The same numbers as a table.
pub(super) fn table(state: &State, pen: &Pen, width: usize) -> Vec<Line<'static>> {
    let mut lines = Vec::new();
    for circuit in &state.now.machine.electrics.circuits {
        let row = |name: &str, usual: String, most: String| vec![name.to_owned(), usual, most];
        let loads = circuit.loads.iter();
        let mut rows: Vec<Vec<String>> = loads
            .map(|load| {
                row(
                    load.name.title(),
                    a(load.current.typical),
                    a(load.current.full),
                )
            })
            .collect();
        rows.push(row("In all", a(circuit.typical()), a(circuit.full())));
        rows.push(row("May flow for hours", String::new(), a(circuit.allowed)));
        rows.push(row("Breaker", String::new(), a(circuit.breaker)));
        let name = circuit.which.title();
        lines.extend(table::table(
            pen,
            width,
            &[name, "usually", "at most"],
            &rows,
        ));
    }
    lines
}
