//! What flows in each mains circuit, load by load, against what may flow for hours.

use super::Picture;
use super::parted::{HIGH, Part, bar, list};
use super::pen::{At, EDGE, LINE, Pen, SIZE, Stroke, WIDE};
use crate::machine::circuit::Circuit;
use crate::sheets::Paper;
use crate::units::{self, ElectricCurrent, show};
use crate::words::Words as _;

const TITLE: &str = "Current in each circuit";
const ABOUT: &str = "Everything on at its most. Of loads that take turns only the largest counts.";

/// Draws it.
pub(super) fn picture(paper: &Paper) -> Picture {
    let mut pen = Pen::new("power");
    let mut y = LINE;
    for circuit in &paper.assessment.machine.electrics.circuits {
        y = one(&mut pen, y, circuit) + 12.0;
    }
    Picture::new("power", TITLE, ABOUT.to_owned(), pen, y - LINE)
}

fn one(pen: &mut Pen, y: f64, circuit: &Circuit) -> f64 {
    let amps = units::a::from;
    let flows = amps(circuit.full());
    let most = amps(circuit.breaker)
        .max(amps(circuit.modelled_full()))
        .max(flows);
    let most = if most > 0.0 { most * 1.02 } else { 1.0 };
    let place = |current: ElectricCurrent| EDGE + (WIDE - 2.0 * EDGE) * (amps(current) / most);
    let name = format!(
        "{}, {} V",
        circuit.which.title(),
        show::number(units::v::from(circuit.volts), 0)
    );
    pen.bold((EDGE, y), At::Start, SIZE, &name);
    let value = format!("{} of {}", a(circuit.full()), a(circuit.allowed));
    pen.text((WIDE - EDGE, y), At::End, SIZE, &value);
    let parts = parts(circuit, most);
    let top = y + 12.0;
    bar(pen, top, &parts);
    mark(pen, place(circuit.allowed), top, Stroke::Thick);
    mark(pen, place(circuit.breaker), top, Stroke::Dashed);
    let mut y = list(pen, top + HIGH + LINE + 4.0, &parts);
    for load in circuit.loads.iter().filter(|load| circuit.waits(load)) {
        let name = format!("{}: takes turns with a larger one", load.name.title());
        y = pen.row((EDGE + 23.0, y), WIDE - EDGE, &name, &a(load.current.full));
    }
    let for_hours = format!("{} may flow for hours", a(circuit.allowed));
    y = pen.line_key(y, Stroke::Thick, &for_hours);
    let rated = format!("{} is what the breaker is rated for", a(circuit.breaker));
    y = pen.line_key(y, Stroke::Dashed, &rated);
    if let Some(measured) = circuit.measured {
        y = pen.row(
            (EDGE, y),
            WIDE - EDGE,
            "measured at the plug, all together",
            &a(measured),
        );
    }
    y
}

fn mark(pen: &mut Pen, x: f64, top: f64, stroke: Stroke) {
    pen.line(&[(x, top - 4.0), (x, top + HIGH + 4.0)], stroke);
}

fn parts(circuit: &Circuit, most: f64) -> Vec<Part> {
    let counted = circuit.loads.iter().filter(|load| !circuit.waits(load));
    let flowing = counted.filter(|load| units::a::from(load.current.full) > 0.0);
    flowing
        .map(|load| Part {
            name: load.name.title().to_owned(),
            share: units::a::from(load.current.full) / most,
            value: a(load.current.full),
        })
        .collect()
}

fn a(current: ElectricCurrent) -> String {
    format!("{} A", show::number(units::a::from(current), 1))
}
