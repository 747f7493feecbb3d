//! How far a start or stop swings the frame: hard ramps leave waves behind every corner.

use std::f64::consts::PI;

use super::remedy::{in_turn, number, set};
use super::say;
use super::{Example, Fact, Facts, Remedies, Report, Rule, Severity};
use crate::build::Axis;
use crate::build::choices::control::RampShape;
use crate::catalogue::Step;
use crate::units::{self, Acceleration, Length};
use crate::words::Words as _;

/// Share of the wanted accuracy that a swing may take: one of several errors (common
/// practice).
const SHARE: f64 = 0.5;

/// The rules of this topic.
pub(super) const RULES: &[Rule] = &[Rule {
    id: "start-shakes-tool",
    title: "Starts and stops swing the tool",
    severities: &[Severity::Caution],
    step: Step::Drive,
    watches: "How far the frame swings under the wanted acceleration, as the ramp builds it up, against half of the wanted accuracy.",
    because: "The tool keeps swinging after every corner, and the part shows it as waves that no slower feed takes away.",
    from: "Swing = a/(2πf)² · (1 + |sin(πfT)/(πfT)|) with the first mode f and the ramp's build-up T, 0 for a trapezoid (mass on a spring, handbooks of mechanical vibration); half of the accuracy: common practice.",
    instead: "Accelerate more gently, let the ramp build up, or stiffen what gives most.",
    reads: &[
        Fact::Wishes,
        Fact::Frame,
        Fact::Guides,
        Fact::Drives,
        Fact::Geometry,
        Fact::Masses,
        Fact::Motors,
        Fact::Spindle,
        Fact::Controller,
    ],
    decided_by: None,
    check,
    remedies,
    example: Example {
        given: &[("tolerance_mm", "0.02")],
        choice: "acceleration_m_per_s2",
        fires: "1.6",
        quiet: "1.3",
    },
}];

/// How far the frame swings for each unit of acceleration: 0 where it has no mode.
fn swing_for(facts: &Facts) -> f64 {
    let mode = units::hz::from(facts.machine.stiffness.first_mode);
    if !mode.is_normal() {
        return 0.0;
    }
    let control = &facts.picked.build.control;
    let more = match control.ramp {
        RampShape::Trapezoid => 1.0,
        RampShape::SRamp => {
            let turn = PI * mode * units::s::from(control.build_up);
            (turn.sin() / turn).abs()
        }
    };
    (1.0 + more) / (2.0 * PI * mode).powi(2)
}

fn swing(facts: &Facts, acceleration: Acceleration) -> Length {
    units::m::of(units::m_per_s2::from(acceleration) * swing_for(facts))
}

fn check(facts: &Facts, report: &mut Report) {
    let area = &facts.picked.build.area;
    let swing = swing(facts, area.acceleration);
    if swing > area.tolerance * SHARE {
        report.say(
            Severity::Caution,
            format!(
                "{} swing the tool by {}, its first mode being {:.0} Hz; you want parts exact to {}",
                say::acceleration(area.acceleration),
                say::mm(swing, 3),
                units::hz::from(facts.machine.stiffness.first_mode),
                say::mm(area.tolerance, 3),
            ),
        );
    }
}

fn remedies(facts: &Facts, _: Option<Axis>) -> Remedies {
    let bearable = units::m::from(facts.picked.build.area.tolerance) * SHARE / swing_for(facts);
    in_turn([
        set(facts, "ramp", RampShape::SRamp.id()),
        number(facts, "acceleration_m_per_s2", bearable, false),
    ])
}
