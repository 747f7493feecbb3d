//! Whether the circuits carry a machine, in a sentence or two.

use crate::assessment::Assessment;
use crate::units::{self, show};
use crate::words::Words as _;

/// The verdict, yes or no, and how full the fullest circuit is with everything on, of what may flow
/// for hours.
pub fn circuits(of: &Assessment) -> String {
    let Some(circuit) = of.machine.electrics.fullest() else {
        return "nothing hangs on it.".to_owned();
    };
    if of.lacks_circuit() {
        return "no. Something hangs on a second circuit, and there is none.".to_owned();
    }
    let amps = |current| show::number(units::a::from(current), 1);
    let verdict = match of.lays_circuit() {
        true => "only once the second circuit is laid",
        false => "yes",
    };
    let (full, allowed) = (amps(circuit.full()), amps(circuit.allowed));
    let left = 100.0 - units::percent::from(circuit.fill());
    let margin = show::number(left.abs(), 0);
    let which = circuit.which.title();
    if left < 0.0 {
        return format!(
            "no. The {which} would carry {full} A and may carry {allowed} A for long: {margin} % too much."
        );
    }
    format!(
        "{verdict}. The {which} carries {full} A of the {allowed} A that it may for long: {margin} % to spare."
    )
}
