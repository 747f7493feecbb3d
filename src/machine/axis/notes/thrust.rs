//! How the push of an axis on the tool comes about.

use crate::explain::{Derivation, Origin, Recorder};
use crate::machine::limits::Limited;
use crate::machine::torque::TorqueCurve;
use crate::units::{self, Amount, Force};
use crate::words::Words;

/// Tells of the thrust of the weaker drive, with the margin and without.
pub(in crate::machine::axis) fn note_thrust(
    limited: &Limited,
    (kept, pull_out): (Force, Force),
    notes: &mut impl Recorder,
) {
    notes.note(|| thrust(limited, "thrust_n", kept, true));
    notes.note(|| thrust(limited, "pull_out_thrust_n", pull_out, false));
}

fn thrust(limited: &Limited, figure: &str, force: Force, margin: bool) -> Derivation {
    let (picked, axis) = (limited.picked, limited.axis);
    let (load, drive, curve) = (limited.load, limited.drive, limited.curve);
    let feed = picked.build.area.wanted_feed(axis);
    let turning = drive.turns_at(feed);
    let (torque, which, kept) = match (margin, curve) {
        (true, TorqueCurve::Stepper(_)) => (
            curve.lasting(turning),
            "share of the pull-out torque",
            "margin kept",
        ),
        (true, TorqueCurve::Servo(_)) => (curve.lasting(turning), "torque for ever", "for ever"),
        (false, TorqueCurve::Stepper(_)) => (
            curve.pull_out(turning),
            "pull-out torque",
            "where it stalls",
        ),
        (false, TorqueCurve::Servo(_)) => (
            curve.pull_out(turning),
            "peak torque",
            "for a second or two",
        ),
    };
    let part = Origin::part(picked.axes[axis].motor.part());
    let through = Origin::part(limited.part.part());
    let steady = units::nm::amount(load.steady_torque(drive));
    let arm = Amount::of(
        units::mm::from(drive.travel_a_turn) / std::f64::consts::TAU,
        "mm",
    );
    let title = format!(
        "{}: push on the tool at the cutting feed, {kept}",
        axis.title()
    );
    Derivation::of(format!("axes.{}.{figure}", axis.id()), title, units::n::amount(force))
        .by(
            "torque at the wanted cutting feed, less friction, weight and drag, through the drive; with the tool where this motor bears most of it",
            "F = (T - T₀) η/(r s), not below zero",
        )
        .with("T", which, units::nm::amount(torque), part)
        .with("n", "speed of the motor at that feed", units::rpm::amount(turning), Origin::choice("cutting_feed_m_per_min"))
        .with("T₀", "torque for friction, weight and drag", steady, Origin::Here)
        .with("η", "efficiency from torque to thrust", units::times::amount(drive.efficiency), through.clone())
        .with("r", "travel for one radian of the motor", arm, through)
        .with("s", "share of a force on the tool that this motor bears", Amount::plain(load.share), Origin::Plan(picked.frame.id.to_string()))
        .from("mechanics; torque as for the limit by motor torque", "At a steady feed; turning corners takes acceleration besides.")
}
