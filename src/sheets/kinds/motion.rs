//! The motion sheet: what the controller is told about each axis, with room for what was
//! measured and what it was set to in the end. Names are the trade's; each controller has its
//! own numbers for them.

use crate::build::{Axis, Picked};
use crate::catalogue::Motor;
use crate::machine::axis::AxisFigures;
use crate::sheets::{Cell, Column, Content, Formula, Paper, Row, Shape, Table};
use crate::units::{self, show};
use crate::words::Words as _;

const COLUMNS: [Column; 6] = [
    Column::new("setting", "Setting", Shape::Text),
    Column::new("value", "Value", Shape::Number),
    Column::new("unit", "Unit", Shape::Text),
    Column::new("measured", "Measured", Shape::ByHand),
    Column::new("final", "Final", Shape::ByHand),
    Column::new("from", "From", Shape::Text),
];

/// The length that is commanded to measure the steps, where the travel has room for it.
const COMMANDED_MM: f64 = 500.0;

/// What the example of a correction measures, against what it commanded.
const EXAMPLE: f64 = 0.998;

/// What it says.
pub(in crate::sheets) fn content(paper: &Paper) -> Content {
    Content {
        about: "What to enter for each axis, whatever your controller calls it. Write beside it what you measured and what it was set to in the end."
            .to_owned(),
        tables: vec![settings(paper), correction(paper)],
        remarks: remarks(paper),
    }
}

/// One setting as a row.
struct Setting {
    id: &'static str,
    title: &'static str,
    value: f64,
    digits: usize,
    unit: &'static str,
    from: String,
}

impl Setting {
    fn row(self, axis: Axis) -> Row {
        Row::entry(
            format!("{}.{}", axis.title(), self.id),
            vec![
                Cell::text(self.title),
                Cell::finite(self.value, self.digits),
                Cell::text(self.unit),
                Cell::ByHand,
                Cell::ByHand,
                Cell::text(self.from),
            ],
        )
    }
}

fn settings(paper: &Paper) -> Table {
    let mut rows = Vec::new();
    for axis in Axis::EACH {
        let figures = &paper.assessment.machine.axes[axis];
        let motors = match figures.motors {
            1 => axis.title().to_owned(),
            many => format!("{}, {many} motors", axis.title()),
        };
        rows.push(Row::heading(motors, COLUMNS.len()));
        let all = moves(paper.picked, axis, figures).into_iter();
        let all = all.chain(motor(paper.picked, axis, figures));
        rows.extend(all.map(|setting| setting.row(axis)));
    }
    Table {
        id: "motion",
        title: "Settings of each axis".to_owned(),
        columns: COLUMNS.into(),
        rows,
    }
}

/// How far and how fast.
fn moves(picked: &Picked, axis: Axis, figures: &AxisFigures) -> Vec<Setting> {
    let turn = units::mm::from(figures.step) * figures.settings.pulses_a_turn;
    let mut found = vec![Setting {
        id: "steps",
        title: "Steps",
        value: figures.settings.pulses_per_mm,
        digits: 3,
        unit: "per mm",
        from: format!("pulses a turn / {} mm a turn", show::at_most(turn, 3)),
    }];
    found.extend(feeds(picked, axis, figures));
    found.push(Setting {
        id: "travel",
        title: "Travel",
        value: units::mm::from(figures.travel),
        digits: 1,
        unit: "mm",
        from: "from switch to far end; yours by measuring".to_owned(),
    });
    found.push(Setting {
        id: "homing",
        title: "Homing order",
        // Z first, so that the tool is out of the way (common practice).
        value: if axis == Axis::Z { 1.0 } else { 2.0 },
        digits: 0,
        unit: "",
        from: match axis {
            Axis::Z => "first, upwards: the tool leaves the work",
            Axis::X | Axis::Y => "after Z",
        }
        .to_owned(),
    });
    found
}

/// The speed and the acceleration to set, beside the most that the axis does.
fn feeds(picked: &Picked, axis: Axis, figures: &AxisFigures) -> Vec<Setting> {
    let area = &picked.build.area;
    let most = units::m_per_min::from(figures.rapid) * 1000.0;
    let wished = units::m_per_min::from(area.wanted_rapids(axis)) * 1000.0;
    let mut found = vec![
        Setting {
            id: "feed-to-set",
            title: "Speed, to set",
            value: units::m_per_min::from(figures.settings.speed) * 1000.0,
            digits: 0,
            unit: "mm/min",
            from: match wished <= most {
                true => "your wanted rapids".to_owned(),
                false => format!("the most: your wanted {wished:.0} is out of reach"),
            },
        },
        Setting {
            id: "feed",
            title: "Speed, most",
            value: most,
            digits: 0,
            unit: "mm/min",
            from: format!("held by {}, margin kept", figures.limited_by.title()),
        },
    ];
    if let (Some(set), Some(ramp)) = (figures.settings.acceleration, figures.ramp) {
        let able = units::m_per_s2::from(ramp.acceleration()) * 1000.0;
        let wished = units::m_per_s2::from(area.acceleration) * 1000.0;
        found.push(Setting {
            id: "acceleration",
            title: "Acceleration",
            value: units::m_per_s2::from(set) * 1000.0,
            digits: 0,
            unit: "mm/s²",
            // The sheet shows whole millimetres.
            from: match able - wished {
                more if more > 0.5 => format!("the wanted one; {able:.0} is the most"),
                less if less < -0.5 => format!("the most: your wanted {wished:.0} is out of reach"),
                _ => "the wanted one".to_owned(),
            },
        });
    }
    found
}

/// What the motor and its driver are set to.
fn motor(picked: &Picked, axis: Axis, figures: &AxisFigures) -> Vec<Setting> {
    let chosen = &picked.axes[axis];
    let mut found = vec![
        Setting {
            id: "pulses",
            title: "Pulses",
            value: units::khz::from(figures.pulses),
            digits: 1,
            unit: "kHz",
            from: format!(
                "at the greatest speed; controller sends {:.0}, driver takes {:.0}",
                units::khz::from(picked.controller.pulses),
                units::khz::from(chosen.driver.pulses)
            ),
        },
        Setting {
            id: "turn",
            title: "Pulses a turn",
            value: figures.settings.pulses_a_turn,
            digits: 0,
            unit: "",
            from: match chosen.motor {
                Motor::Stepper(_) => format!("200 x {} microsteps", picked.build.drive.microsteps),
                Motor::Servo(_) => "set in the servo's drive".to_owned(),
            },
        },
    ];
    let (title, from) = match chosen.motor {
        Motor::Stepper(_) => ("Current, peak", "of a phase, as your driver is to be set"),
        Motor::Servo(_) => (
            "Current, rated",
            "the motor's data; set in the servo's drive",
        ),
    };
    found.push(Setting {
        id: "current",
        title,
        value: units::a::from(figures.settings.current),
        digits: 2,
        unit: "A",
        from: from.to_owned(),
    });
    if let Some(rms) = figures.settings.current_rms {
        found.push(Setting {
            id: "current-rms",
            title: "Current, RMS",
            value: units::a::from(rms),
            digits: 2,
            unit: "A",
            from: "the same: peak / 1.414; see which of the two your driver means".to_owned(),
        });
    }
    found
}

/// The columns of the correction.
const CORRECTION: [Column; 5] = [
    Column::new("axis", "Axis", Shape::Text),
    Column::new("old", "Old steps", Shape::Number),
    Column::new("commanded_mm", "Commanded", Shape::Number).kept(),
    Column::new("measured_mm", "Measured", Shape::ByHand).kept(),
    Column::new("new", "New steps", Shape::ByHand),
];

/// New steps from what was measured: a worked line, then room for each axis.
fn correction(paper: &Paper) -> Table {
    let axes = &paper.assessment.machine.axes;
    let commanded = |axis: Axis| units::mm::from(axes[axis].travel).min(COMMANDED_MM).floor();
    let (old, far) = (axes.x.settings.pulses_per_mm, commanded(Axis::X));
    let measured = (far * EXAMPLE * 100.0).round() / 100.0;
    let mut rows = Vec::new();
    if measured > 0.0 && old.is_finite() {
        let product = Formula::Times(vec![Formula::Here("old"), Formula::Here("commanded_mm")]);
        let quotient = Formula::Over(Box::new(product), Box::new(Formula::Here("measured_mm")));
        rows.push(Row::entry(
            "example",
            vec![
                Cell::text("such as X"),
                Cell::Number(old, 3),
                Cell::Number(far, 0),
                Cell::Number(measured, 2),
                Cell::Worked(Box::new(Cell::Number(old * far / measured, 3)), quotient),
            ],
        ));
    }
    rows.extend(Axis::EACH.map(|axis| {
        Row::entry(
            axis.title(),
            vec![
                Cell::text(axis.title()),
                Cell::finite(axes[axis].settings.pulses_per_mm, 3),
                Cell::Number(commanded(axis), 0),
                Cell::ByHand,
                Cell::ByHand,
            ],
        )
    }));
    Table {
        id: "correction",
        title: "Correcting the steps: new = old x commanded / measured".to_owned(),
        columns: CORRECTION.into(),
        rows,
    }
}

fn remarks(paper: &Paper) -> Vec<String> {
    let picked = paper.picked;
    let mut remarks = vec![
        "`gantrywright why FILE axes.X.settings` says how the settings of X came about; in the same way `why` tells of all other figures."
            .to_owned(),
        "Approach each measured end from the same side, so that play does not count. A correction of more than half a percent is no tolerance but a wrong lead or a wrong microstep switch (common practice)."
            .to_owned(),
        "Begin with a tenth of speed and acceleration. Raise them until the axis stalls, hand on the stop and tool out, and keep 70 % (common practice)."
            .to_owned(),
    ];
    let leads: Vec<_> = (picked.drives(Axis::Y).iter())
        .map(|drive| drive.travel_a_turn())
        .collect();
    let alike = leads.windows(2).all(|pair| pair[0] == pair[1]);
    if !alike {
        remarks.push(
            "The two sides of Y differ in travel per turn: one controller setting cannot suit both, and the gantry would rack at full force. The steps here are those of one side; make both alike before you switch on."
                .to_owned(),
        );
    } else if picked.motors(Axis::Y) > 1 {
        remarks.push(match picked.build.control.home_each_side {
            true => "Y has two motors: both take the same numbers, and each homes to its own switch.".to_owned(),
            false => "Y has two motors: both take the same numbers, and one switch homes both; square the gantry by hand before you switch on.".to_owned(),
        });
    }
    let stuck = |&axis: &Axis| paper.assessment.machine.axes[axis].ramp.is_none();
    if Axis::EACH.iter().any(stuck) {
        remarks.push(
            "An axis without an acceleration never moves as chosen: see the warnings before you set anything."
                .to_owned(),
        );
    }
    remarks
}
