//! The sheet of a spindle without an inverter: it says so, and what its wheel does.

use super::{COLUMNS, restart, row, told};
use crate::build::Picked;
use crate::sheets::{Cell, Content, Table};
use crate::units;

/// A hand router: nothing to set but its wheel.
pub(super) fn content(picked: &Picked) -> Content {
    let spindle = picked.spindle;
    let mut remarks = Vec::new();
    if let Some(vfd) = picked.vfd {
        remarks.push(format!(
            "{} is chosen but not needed: never connect a brushed hand router to an inverter.",
            vfd.title
        ));
    }
    let rpm = |speed| (units::rpm::from(speed), 0);
    let wheel = "its own wheel; mark what each place gives";
    let rows = vec![
        told(
            "inverter",
            "Inverter",
            Cell::text("none"),
            "",
            "it runs on the mains",
        ),
        row("least", "Slowest", rpm(spindle.least_speed), "rpm", wheel),
        row(
            "greatest",
            "Fastest",
            rpm(spindle.greatest_speed),
            "rpm",
            wheel,
        ),
        row(
            "usual",
            "Your usual speed",
            rpm(picked.build.spindle.speed),
            "rpm",
            "as you chose it",
        ),
        restart(),
    ];
    Content {
        about: format!(
            "{} has no inverter: it runs on the mains, and its own wheel sets the speed.",
            spindle.title
        ),
        tables: vec![Table {
            id: "vfd",
            title: "Settings".to_owned(),
            columns: COLUMNS.into(),
            rows,
        }],
        remarks,
    }
}
