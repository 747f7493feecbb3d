//! The sheet of spindle settings: what the spindle's inverter is told, from the nameplate. Each
//! inverter numbers its parameters in its own way: the column for them is left empty.

use crate::build::Picked;
use crate::catalogue::spindle::{Cooling, SpeedSignal, Spindle, Vfd};
use crate::machine::inverter::InverterSettings;
use crate::order::Order as _;
use crate::sheets::{Cell, Column, Content, Paper, Row, Shape, Table};
use crate::units::{self, Frequency, show};
use crate::words::Words as _;

mod remarks;
mod router;

const COLUMNS: [Column; 5] = [
    Column::new("setting", "Setting", Shape::Text),
    Column::new("value", "Value", Shape::Number),
    Column::new("unit", "Unit", Shape::Text),
    Column::new("parameter", "Parameter", Shape::ByHand),
    Column::new("from", "From", Shape::Text),
];

/// Seconds from standstill to full speed and back to begin with: without a braking resistor
/// a quicker stop trips the inverter on its voltage (common practice, from memory).
const RAMP_S: f64 = 10.0;

/// What it says.
pub(in crate::sheets) fn content(paper: &Paper) -> Content {
    let picked = paper.picked;
    let spindle = picked.spindle;
    if !spindle.needs_vfd() {
        return router::content(picked);
    }
    let Some(set) = &paper.assessment.machine.electrics.inverter else {
        return Content {
            about: format!(
                "The catalogue does not know how many poles {} has: take every value from its nameplate.",
                spindle.title
            ),
            ..Content::default()
        };
    };
    let mut tables = vec![settings(picked, set)];
    tables.extend(speeds(picked, set));
    Content {
        about: match picked.vfd {
            Some(vfd) => format!(
                "Inverter: {}. Spindle: {}. Compare each line with the nameplate of the spindle that arrived before the first start: the nameplate counts.",
                vfd.title, spindle.title
            ),
            None => format!(
                "No inverter is chosen, and {} does not run without one. What any inverter for it is told:",
                spindle.title
            ),
        },
        tables,
        remarks: remarks::of(picked, set.base),
    }
}

fn row(id: &str, title: &str, value: (f64, usize), unit: &str, from: impl Into<String>) -> Row {
    let (value, digits) = value;
    told(id, title, Cell::finite(value, digits), unit, from)
}

fn told(id: &str, title: &str, value: Cell, unit: &str, from: impl Into<String>) -> Row {
    Row::entry(
        id,
        vec![
            Cell::text(title),
            value,
            Cell::text(unit),
            Cell::ByHand,
            Cell::text(from),
        ],
    )
}

fn settings(picked: &Picked, set: &InverterSettings) -> Table {
    let mut rows = nameplate(picked.spindle, set);
    rows.extend(limit(picked, set));
    rows.extend(bounds(picked.spindle, set));
    rows.extend(ramps());
    rows.extend(commands(picked));
    Table {
        id: "vfd",
        title: "Settings".to_owned(),
        columns: COLUMNS.into(),
        rows,
    }
}

/// What stands on the spindle.
fn nameplate(spindle: &Spindle, set: &InverterSettings) -> Vec<Row> {
    let poles = spindle.poles.map_or(0.0, f64::from);
    let rpm = show::number(units::rpm::from(spindle.rated_speed), 0);
    let plate = "nameplate";
    vec![
        row(
            "base",
            "Base frequency",
            (units::hz::from(set.base), 1),
            "Hz",
            format!("poles x rpm / 120 = {poles} x {rpm} / 120"),
        ),
        row(
            "volts",
            "Voltage at it",
            (units::v::from(spindle.volts), 0),
            "V",
            plate,
        ),
        row(
            "current",
            "Motor current",
            (units::a::from(spindle.current), 1),
            "A",
            "nameplate; overload trips here",
        ),
        row(
            "power",
            "Motor power",
            (units::kw::from(spindle.power), 2),
            "kW",
            plate,
        ),
        row("poles", "Poles", (poles, 0), "", plate),
        row(
            "speed",
            "Speed at base",
            (units::rpm::from(spindle.rated_speed), 0),
            "rpm",
            plate,
        ),
    ]
}

/// The current that keeps the spindle within the share of its power that you allow.
fn limit(picked: &Picked, set: &InverterSettings) -> Option<Row> {
    let share = units::percent::from(picked.build.spindle.power_cap);
    set.limit.map(|current| {
        row(
            "limit",
            "Current limit",
            (units::a::from(current), 1),
            "A",
            format!("{share:.0} % of the power, as you chose: the circuit is computed with it"),
        )
    })
}

/// Between which frequencies it may run.
fn bounds(spindle: &Spindle, set: &InverterSettings) -> Vec<Row> {
    let cooling = match spindle.cooling {
        Cooling::Fan => "slower, its own fan cools too little",
        Cooling::Water => "slower, it is weak and gets hot",
    };
    vec![
        row(
            "least",
            "Least frequency",
            (units::hz::from(set.least), 1),
            "Hz",
            format!(
                "{} rpm: {cooling}",
                show::number(units::rpm::from(spindle.least_speed), 0)
            ),
        ),
        row(
            "greatest",
            "Greatest frequency",
            (units::hz::from(set.greatest), 1),
            "Hz",
            match set.held_by_inverter {
                true => "as far as the inverter goes".to_owned(),
                false => format!(
                    "{} rpm, its greatest",
                    show::number(units::rpm::from(spindle.greatest_speed), 0)
                ),
            },
        ),
    ]
}

fn ramps() -> Vec<Row> {
    vec![
        row(
            "up",
            "Time to speed up",
            (RAMP_S, 0),
            "s",
            "to begin with (common practice)",
        ),
        row(
            "down",
            "Time to slow down",
            (RAMP_S, 0),
            "s",
            "to begin with; shorter trips without a braking resistor",
        ),
        told(
            "stop",
            "How it stops",
            Cell::text("ramp"),
            "",
            "by the start signal, never by a contactor behind it",
        ),
        restart(),
    ]
}

/// What it does when power comes back.
fn restart() -> Row {
    told(
        "restart",
        "After power was away",
        Cell::text("stay off"),
        "",
        "no start by itself (ISO 14118)",
    )
}

/// Who commands speed and start.
fn commands(picked: &Picked) -> Vec<Row> {
    let Some(vfd) = picked.vfd else {
        return Vec::new();
    };
    let signal = shared(picked, vfd);
    let (speed, from) = match signal {
        Some(signal) => (signal.title(), "controller and inverter both know it"),
        None => ("by hand", "controller and inverter share no speed signal"),
    };
    let (start, started) = match signal {
        Some(SpeedSignal::Serial) => (
            "RS-485",
            "the same line; the emergency stop takes the mains",
        ),
        _ => (
            "terminal",
            "an output of the controller, dropped by the emergency stop",
        ),
    };
    vec![
        told(
            "speed-from",
            "Speed comes from",
            Cell::text(speed),
            "",
            from,
        ),
        told(
            "start-from",
            "Start comes from",
            Cell::text(start),
            "",
            started,
        ),
    ]
}

/// The first signal for the speed that the inverter shares with the controller.
fn shared(picked: &Picked, vfd: &Vfd) -> Option<SpeedSignal> {
    let sent = picked.controller.signals.iter();
    sent.copied()
        .filter(|signal| *signal != SpeedSignal::Relay)
        .find(|signal| vfd.signals.contains(signal))
}

/// Speeds with their frequencies and volts, to compare with a tachometer.
fn speeds(picked: &Picked, set: &InverterSettings) -> Option<Table> {
    let spindle = picked.spindle;
    let of_rated = |hertz: Frequency| units::times::from(hertz / set.base);
    let fastest = spindle.rated_speed * of_rated(set.greatest);
    let usual = picked.build.spindle.speed;
    let mut wanted = vec![
        spindle.least_speed,
        units::rpm::of((units::rpm::from(spindle.least_speed) + units::rpm::from(fastest)) / 2.0),
        usual,
        fastest,
    ];
    wanted.retain(|speed| *speed >= spindle.least_speed && *speed <= fastest);
    wanted.order_by(|a, b| units::rpm::from(*a).total_cmp(&units::rpm::from(*b)));
    wanted.dedup_by(|a, b| (units::rpm::from(*a) - units::rpm::from(*b)).abs() < 1.0);
    if wanted.is_empty() {
        return None;
    }
    let rows = wanted.into_iter().map(|speed| {
        let hertz = set.at(spindle, speed);
        Row::entry(
            format!("{:.0}", units::rpm::from(speed)),
            vec![
                Cell::Number(units::rpm::from(speed), 0),
                Cell::Number(units::hz::from(hertz), 1),
                Cell::Number(units::v::from(spindle.volts) * of_rated(hertz).min(1.0), 0),
                Cell::Number(units::kw::from(spindle.power_at(speed)), 2),
                Cell::ByHand,
                Cell::ByHand,
            ],
        )
    });
    Some(Table {
        id: "speeds",
        title: "Speeds, to compare with a tachometer".to_owned(),
        columns: vec![
            Column::new("rpm", "rpm", Shape::Number),
            Column::new("hz", "Hz", Shape::Number),
            Column::new("v", "V", Shape::Number),
            Column::new("kw", "Rated kW", Shape::Number),
            Column::new("measured_rpm", "Measured rpm", Shape::ByHand),
            Column::new("measured_a", "Measured A", Shape::ByHand),
        ],
        rows: rows.collect(),
    })
}
