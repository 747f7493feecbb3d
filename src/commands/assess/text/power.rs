//! What flows on each circuit and from the motors' supply, and what else is telling.

use super::row;
use crate::commands::layout::{hanging, table};
use crate::machine::Machine;
use crate::machine::electrics::Electrics;
use crate::units::{self, show};
use crate::words::Words as _;

/// The share of what trips a breaker at once from which starting is worth a line.
const TELLING: f64 = 0.5;

/// The table, then what starts and stops may do.
pub(super) fn power(machine: &Machine) -> String {
    let electrics = &machine.electrics;
    let amperes = |current| format!("{:.1} A", units::a::from(current));
    let mut rows = vec![row(["", "usual", "at most", "allowed", "used"])];
    for circuit in &electrics.circuits {
        rows.push(row([
            &format!(
                "  {}, {:.0} V, {:.0} A breaker",
                circuit.which.title(),
                units::v::from(circuit.volts),
                units::a::from(circuit.breaker)
            ),
            &amperes(circuit.typical()),
            &amperes(circuit.full()),
            &amperes(circuit.allowed),
            &format!("{:.0} %", units::percent::from(circuit.fill())),
        ]));
    }
    let supply = electrics.supply;
    rows.push(row([
        &format!("  motor supply, {:.0} V", units::v::from(supply.volts)),
        "",
        &amperes(supply.needed),
        &amperes(supply.rated),
        &format!("{:.0} %", units::percent::from(supply.fill())),
    ]));
    table("<>>>>", &rows) + &starting(electrics) + &braking(electrics)
}

/// The circuits whose breaker switching on comes near.
fn starting(electrics: &Electrics) -> String {
    let whole = |current| show::number(units::a::from(current), 0);
    let near = electrics
        .circuits
        .iter()
        .filter(|one| units::share::from(one.starting.current / one.trip) > TELLING);
    let lines = near.map(|circuit| {
        let what = match circuit.starting.what {
            Some(what) => format!("Starting {} draws", what.title()),
            None => "The main switch lets flow".to_owned(),
        };
        let text = format!(
            "{}: {what} {} A for a moment; {} A trip the breaker at once.",
            circuit.which.title(),
            whole(circuit.starting.current),
            whole(circuit.trip)
        );
        hanging("", 2, &text)
    });
    lines.collect()
}

/// How far braking lifts the supply, where it does.
fn braking(electrics: &Electrics) -> String {
    let supply = &electrics.supply;
    let volts = |volts| show::number(units::v::from(volts), 0);
    if volts(supply.braking.volts) == volts(supply.volts) {
        return String::new();
    }
    let bears = supply.braking.bears.map_or_else(String::new, |bears| {
        format!("; what hangs on it bears {} V", volts(bears))
    });
    let text = format!(
        "Braking lifts the motor supply to {} V{bears}.",
        volts(supply.braking.volts)
    );
    hanging("", 2, &text)
}
