//! What was measured, beside what the model says.

use crate::commands::layout::table;
use crate::machine::Machine;
use crate::units::{self, show};

use super::row;

/// One row for each measured value; nothing where none was.
pub(super) fn measured(machine: &Machine) -> String {
    if machine.measured.is_empty() {
        return String::new();
    }
    let mut rows = vec![row(["", "measured", "model", "model off by"])];
    for compared in &machine.measured {
        let off = units::percent::from(compared.off());
        let sign = if off > 0.0 { "+" } else { "" };
        rows.push(row([
            &format!("  {}", compared.title),
            &compared.measured.to_string(),
            &compared.modelled.to_string(),
            &format!("{sign}{} %", show::number(off, 0)),
        ]));
    }
    table("<>>>", &rows)
}
