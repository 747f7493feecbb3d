//! How the thrust of an axis on the tool comes about.

use crate::explain::{Derivation, Origin, Recorder};
use crate::machine::axis_path;
use crate::machine::limits::Limited;
use crate::machine::torque::TorqueCurve;
use crate::machine::torque::notes::{self as torque, Asked};
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
    let (asked, found) = match margin {
        true => (Asked::LastingThrust, curve.lasting(turning)),
        false => (Asked::GreatestThrust, curve.pull_out(turning)),
    };
    let (which, kept) = match (margin, curve) {
        (true, TorqueCurve::Stepper(_)) => ("share of the pull-out torque", "margin kept"),
        (true, TorqueCurve::Servo(_)) => ("torque for ever", "for ever"),
        (false, TorqueCurve::Stepper(_)) => ("pull-out torque", "where it stalls"),
        (false, TorqueCurve::Servo(_)) => ("peak torque", "for a second or two"),
    };
    let through = Origin::part(limited.part.part());
    let steady = units::nm::amount(load.steady_torque(drive));
    let arm = units::mm::from(drive.travel_a_turn) / std::f64::consts::TAU;
    let arm = Amount::of(arm, "mm");
    let title = format!(
        "{}: thrust on the tool at the cutting feed, {kept}",
        axis.title()
    );
    Derivation::of(axis_path(axis, figure), title, units::n::amount(force))
        .by(
            "torque at the wanted cutting feed, less friction, weight and drag, through the drive; with the tool where this motor bears most of it; Z plunges with a third of the feed",
            torque::formula(asked, curve),
        )
        .with("T", which, units::nm::amount(found), Origin::Here)
        .with("n", "speed of the motor at that feed", units::rpm::amount(turning), Origin::choice("cutting_feed_m_per_min"))
        .with_each(torque::inputs(picked, axis, curve, turning, asked))
        .with("T₀", "torque for friction, weight and drag", steady, Origin::Here)
        .with("η", "efficiency from torque to thrust", units::times::amount(drive.efficiency), through.clone())
        .with("r", "travel for one radian of the motor", arm, through)
        .with("q", "share of a force on the tool that this motor bears", Amount::plain(load.share), Origin::Plan(picked.frame.id.to_string()))
        .from(torque::source(curve), "At a steady feed; turning corners takes acceleration besides.")
}
