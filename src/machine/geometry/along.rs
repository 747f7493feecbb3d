//! What lies along an axis: its rails and its screws, racks or belts, and what holds them.

use super::{Stations, same_size};
use crate::build::choices::drive::ScrewEnds;
use crate::build::{Axis, PerAxis, Picked};
use crate::catalogue::LinearDrive;
use crate::catalogue::frame::AxisPlan;
use crate::catalogue::linear_drive::{BallScrew, SupportHold, SupportUnit};
use crate::explain::{Derivation, Input, Origin, Recorder};
use crate::machine::axis_path;
use crate::units::{self, Length};
use crate::words::Words as _;

/// The rails of one axis.
#[derive(Clone, Copy, Debug)]
pub struct RailCut {
    /// How many.
    pub rails: u32,
    /// The least length for the travel.
    pub needed: Length,
    /// The length that there will be: cut to need, or in hand.
    pub length: Length,
    /// Travel that this length allows.
    pub allows: Length,
    /// Distance of its mounting holes.
    pub pitch: Length,
    /// Where its mounting holes stand; none where it is too short for one.
    pub stations: Option<Stations>,
    /// Carriages in all on the axis.
    pub carriages: u32,
    /// Distance of the outer carriages of a rail; none apart where it has but one.
    pub span: Length,
}

impl RailCut {
    /// Mounting holes of one rail.
    pub fn holes(&self) -> u32 {
        self.stations.map_or(0, |stations| stations.holes)
    }
}

/// A ball or lead screw of one axis.
#[derive(Clone, Copy, Debug)]
pub struct ScrewCut {
    /// The least threaded length for the travel.
    pub needed: Length,
    /// The threaded length that there will be.
    pub thread: Length,
    /// What the thread must hold besides the travel: nut and margins.
    pub extra: Length,
    /// Travel that this length allows.
    pub allows: Length,
    /// Distance between its bearings: the length that whirls.
    pub between_bearings: Length,
    /// The nut's greatest distance from the fixed bearing: the length that buckles.
    pub farthest_nut: Length,
}

/// How an axis is laid out in the plan.
pub fn plan_of<'c>(picked: &Picked<'c>, axis: Axis) -> &'c AxisPlan {
    match axis {
        Axis::X => &picked.frame.x,
        Axis::Y => &picked.frame.y,
        Axis::Z => &picked.frame.z,
    }
}

/// Distance of the outer carriages of a rail; one carriage a rail has no span.
fn span(picked: &Picked, axis: Axis) -> Length {
    if picked.build.drive.carriages[axis] > 1 {
        plan_of(picked, axis).carriage_span
    } else {
        units::mm::of(0.0)
    }
}

/// What the rail must hold besides the travel: outer carriages, one carriage, two margins.
fn rail_extra(picked: &Picked, axis: Axis) -> Length {
    let margins = plan_of(picked, axis).end_margin * 2.0;
    span(picked, axis) + picked.axes[axis].carriage.length + margins
}

/// A thousandth of a part absorbs what binary fractions take from a whole number or add to it.
const HAIR: f64 = 1e-3;

/// How many whole times a part goes into a length. The catalogue sees to it that no part is
/// so small that the count would leave its type; whoever skips that gets the type's most.
pub(super) fn whole_times(length: Length, part: Length) -> u32 {
    (units::times::from(length / part) + HAIR).floor() as u32
}

pub(super) fn rail(picked: &Picked, axis: Axis, notes: &mut impl Recorder) -> RailCut {
    let plan = plan_of(picked, axis);
    let extra = rail_extra(picked, axis);
    let needed = picked.build.area.travel[axis] + extra;
    let pitch = picked.rail_pitch(axis);
    let pitches = (units::times::from(needed / pitch) - HAIR).ceil();
    let length = picked.build.drive.rail_length[axis].unwrap_or(pitch * pitches);
    notes.note(|| rail_note(picked, axis, needed, length, pitches));
    notes.note(|| pitch_note(picked, axis));
    RailCut {
        rails: plan.rails,
        needed,
        length,
        allows: not_below_zero(length - extra),
        pitch,
        stations: Stations::of(length, pitch, picked.axes[axis].rail.screw),
        carriages: plan.rails * picked.build.drive.carriages[axis],
        span: span(picked, axis),
    }
}

/// Where the hole pitch of a rail comes from.
fn pitch_note(picked: &Picked, axis: Axis) -> Derivation {
    let (rail, letter) = (picked.axes[axis].rail, axis.title());
    let by_type = units::mm::amount(rail.hole_pitch);
    let pitch = units::mm::amount(picked.rail_pitch(axis));
    let note = Derivation::of(
        axis_path(axis, "rail_pitch_mm"),
        format!("Hole pitch of the rails of {letter}"),
        pitch,
    );
    let note = match picked.build.measured.rail_pitch[axis] {
        Some(_) => note
            .by("As measured on the rail that arrived.", "p")
            .with(
                "p",
                "measured",
                pitch,
                Origin::Measured(axis.choice("measured_rail_pitch") + "_mm"),
            )
            .instead_of(by_type),
        None => note.by("As the type of rail has it.", "p").with(
            "p",
            "hole pitch",
            pitch,
            Origin::part(rail),
        ),
    };
    note.from(
        "the part's data, or your own measurement",
        "Rails of one size differ from maker to maker: measure before you drill.",
    )
}

/// How the length of a rail came about.
fn rail_note(
    picked: &Picked,
    axis: Axis,
    needed: Length,
    length: Length,
    pitches: f64,
) -> Derivation {
    let (plan, chosen) = (plan_of(picked, axis), &picked.axes[axis]);
    let letter = axis.title();
    let from_plan = || Origin::Plan(picked.frame.id.to_string());
    let mm = units::mm::amount;
    let note = Derivation::of(
        axis_path(axis, "rail_mm"),
        format!("Length of one rail of {letter}"),
        mm(length),
    );
    let travel = axis.choice("travel") + "_mm";
    let inputs = |note: Derivation| {
        let t = picked.build.area.travel[axis];
        note.with("t", "travel that you wish", mm(t), Origin::choice(travel))
            .with(
                "s",
                "distance of the outer carriages of a rail",
                mm(span(picked, axis)),
                from_plan(),
            )
            .with(
                "c",
                "length of a carriage",
                mm(chosen.carriage.length),
                Origin::part(chosen.carriage),
            )
            .with("m", "margin at each end", mm(plan.end_margin), from_plan())
            .with("L0", "least length", mm(needed), Origin::Here)
    };
    if picked.build.drive.rail_length[axis].is_some() {
        let id = axis.choice("rail_length") + "_mm";
        return inputs(
            note.by(
                "The length of the rail that is in hand.",
                "L = L_hand; to compare: L0 = t + s + c + 2·m",
            )
            .with("L_hand", "rail in hand", mm(length), Origin::choice(id)),
        )
        .from(
            "your own rail; the least length L0 is there to compare",
            "The distance of its holes is taken from its type, unless you measured it.",
        );
    }
    inputs(note.by(
        "Travel, distance of the outer carriages, one carriage and a margin at each end, \
         up to a whole number of hole pitches.",
        "L = n·p; n = ⌈L0 / p⌉; L0 = t + s + c + 2·m",
    ))
    .with(
        "p",
        "distance of the rail's holes",
        mm(picked.rail_pitch(axis)),
        Origin::figure(axis_path(axis, "rail_pitch_mm")),
    )
    .with(
        "n",
        "whole hole pitches",
        units::Amount::plain(pitches),
        Origin::Here,
    )
    .from(
        "geometry; rails are cut at whole hole pitches (common practice)",
        "Bellows, wipers and stops that stand out need a wider margin in the plan.",
    )
}

/// The travel that there will be: the wish, or less where a rail or a screw in hand is too
/// short for it.
pub(super) fn travel(
    picked: &Picked,
    rails: &PerAxis<RailCut>,
    axis: Axis,
    notes: &mut impl Recorder,
) -> Length {
    let rail = &rails[axis];
    let screws = screws(picked, axis).map(|cut| cut.allows);
    let travel = screws
        .chain([rail.allows])
        .fold(picked.build.area.travel[axis], |least, one| least.min(one));
    notes.note(|| travel_note(picked, rail, axis, travel));
    travel
}

/// The screws of an axis, one for each drive that has one.
fn screws(picked: &Picked, axis: Axis) -> impl Iterator<Item = ScrewCut> {
    let drives = picked.drives(axis).into_iter();
    drives.filter_map(move |drive| screw_cut(picked, axis, drive))
}

/// How the travel came about.
fn travel_note(picked: &Picked, rail: &RailCut, axis: Axis, travel: Length) -> Derivation {
    let letter = axis.title();
    let mm = units::mm::amount;
    let screw_from = || match picked.build.drive.screw_length[axis] {
        Some(_) => Origin::choice(axis.choice("screw_length") + "_mm"),
        None => Origin::Here,
    };
    // Of a pair that is alike one speaks for both; of two that differ each is told of.
    let mut screws: Vec<ScrewCut> = screws(picked, axis).collect();
    screws.dedup_by(|one, other| one.thread == other.thread && one.extra == other.extra);
    let screws = screws.into_iter().flat_map(|cut| {
        [
            Input::new("S_i", "thread of the screw", mm(cut.thread), screw_from()),
            Input::new(
                "e_i",
                "what the screw holds besides: nut and margins",
                mm(cut.extra),
                Origin::Here,
            ),
            Input::new(
                "a_i",
                "travel that the screw allows",
                mm(cut.allows),
                Origin::Here,
            ),
        ]
    });
    Derivation::of(
        axis_path(axis, "travel_mm"),
        format!("Travel of {letter}"),
        mm(travel),
    )
    .by(
        "The wish, or what rail and screws allow where one in hand is too short for it.",
        "T = min(t, a_R, a_i), a_R = L - e_R, a_i = S_i - e_i, neither below zero",
    )
    .with(
        "t",
        "travel that you wish",
        mm(picked.build.area.travel[axis]),
        Origin::choice(axis.choice("travel") + "_mm"),
    )
    .with(
        "L",
        "length of a rail",
        mm(rail.length),
        Origin::figure(axis_path(axis, "rail_mm")),
    )
    .with(
        "e_R",
        "what the rail holds besides: carriages and margins",
        mm(rail_extra(picked, axis)),
        Origin::Plan(picked.frame.id.to_string()),
    )
    .with(
        "a_R",
        "travel that the rail allows",
        mm(rail.allows),
        Origin::Here,
    )
    .with_each(screws)
    .from(
        "geometry",
        "Nothing is kept for soft limits within the travel; the margins lie outside it.",
    )
}

/// The screw of one drive of an axis; none for racks and belts.
pub fn screw_cut(picked: &Picked, axis: Axis, drive: LinearDrive) -> Option<ScrewCut> {
    match drive {
        LinearDrive::Ball(screw) => Some(cut_for(picked, axis, ball_nut(picked, screw))),
        LinearDrive::Lead(screw) => Some(cut_for(picked, axis, screw.nut_length)),
        LinearDrive::Rack(_) | LinearDrive::Belt(_) => None,
    }
}

/// Length of a ball nut: a preloaded one is a pair.
pub(in crate::machine) fn ball_nut(picked: &Picked, screw: &BallScrew) -> Length {
    let nuts = if picked.build.drive.preloaded_nuts {
        2.0
    } else {
        1.0
    };
    screw.nut_length * nuts
}

/// The screw of an axis for a nut of some length.
pub(in crate::machine) fn cut_for(picked: &Picked, axis: Axis, nut: Length) -> ScrewCut {
    let plan = plan_of(picked, axis);
    let extra = nut + plan.end_margin * 2.0;
    let needed = picked.build.area.travel[axis] + extra;
    let thread = picked.build.drive.screw_length[axis].unwrap_or(needed);
    ScrewCut {
        needed,
        thread,
        extra,
        allows: not_below_zero(thread - extra),
        between_bearings: thread + plan.bearing_margin,
        farthest_nut: thread + plan.bearing_margin / 2.0 - plan.end_margin,
    }
}

/// Too short a rail or screw allows no travel at all.
fn not_below_zero(travel: Length) -> Length {
    travel.max(units::mm::of(0.0))
}

/// The support unit of a kind that fits the ends of a drive's screw; none for racks and belts,
/// nor where the catalogue has none that fits.
pub(in crate::machine) fn support_unit<'c>(
    picked: &Picked<'c>,
    drive: LinearDrive,
    hold: SupportHold,
) -> Option<&'c SupportUnit> {
    let bore = drive.screw()?.support_bore;
    let fits = |unit: &&SupportUnit| unit.hold == hold && same_size(unit.bore, bore);
    picked.catalogue.support_units.values().find(fits)
}

/// The support units that fit the ends of a drive's screw, as its ends are held, and how many
/// of each; fewer than asked for where the catalogue has none that fit.
pub fn supports<'c>(
    picked: &Picked<'c>,
    drive: LinearDrive,
    axis: Axis,
) -> Vec<(&'c SupportUnit, u32)> {
    let wanted = holds(picked.build.drive.ends[axis]).iter();
    wanted
        .filter_map(|&(hold, pieces)| Some((support_unit(picked, drive, hold)?, pieces)))
        .collect()
}

/// The kinds of support unit that the ends of a drive's screw want, as they are held, and of which
/// the catalogue has none that fits; none for racks and belts.
pub fn supports_lacking(picked: &Picked, drive: LinearDrive, axis: Axis) -> Vec<SupportHold> {
    let wanted = holds(picked.build.drive.ends[axis]).iter();
    wanted
        .map(|(hold, _)| *hold)
        .filter(|hold| drive.is_screw() && support_unit(picked, drive, *hold).is_none())
        .collect()
}

/// What holds the ends of a screw, and how many of each.
fn holds(ends: ScrewEnds) -> &'static [(SupportHold, u32)] {
    match ends {
        ScrewEnds::FixedFree => &[(SupportHold::Fixed, 1)],
        ScrewEnds::FixedSupported => &[(SupportHold::Fixed, 1), (SupportHold::Floating, 1)],
        ScrewEnds::FixedFixed => &[(SupportHold::Fixed, 2)],
    }
}
