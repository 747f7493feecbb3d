//! Tubes, plates and rail seats: whether the steel is what the rails need.
//!
//! A tube is not a rail seat: it is bowed, its wall may be a tenth thinner than its name, and
//! its rounded corners eat a good part of its width. All of that is within the standard.

use super::remedy::{in_turn, number, options_where, set};
use super::say;
use super::{Example, Fact, Facts, Remedies, Report, Rule, Severity, decided};
use crate::build::Axis;
use crate::build::choices::working_area::RailSeat;
use crate::catalogue::frame::{Follows, Role};
use crate::catalogue::material::Family;
use crate::catalogue::structure::Tube;
use crate::catalogue::{Id, Step};
use crate::machine::geometry::PlateCut;
use crate::machine::section::{Section, thinnest_wall, worst_wall};
use crate::units::{self, Length};
use crate::words::Words;

/// Thread in the wall: four fifths of the screw's diameter (common practice for steel).
const THREAD_SHARE: f64 = 0.8;

/// Stiffness that a thin wall may cost before metal cutting feels it (common practice).
const THIN_WALL_LOSS: f64 = 0.07;

/// Bow that EN 10219-2, Table 2 allows a tube, as a share of its length.
const TUBE_BOW: f64 = 0.0015;

/// Height by which two rails may differ at light preload, over 500 mm between them
/// (published rail catalogue, sizes 15 to 25).
const RAIL_TOLERANCE_MM: f64 = 0.085;

/// How much a metre of aluminium grows more than one of steel for each kelvin, in mm:
/// 0.023 - 0.012 (handbook values of linear expansion).
const GROWTH_MM_PER_M_K: f64 = 0.023 - 0.012;

/// Warming of a workshop from a winter morning to a summer afternoon, in kelvins (common
/// practice).
const WARMING_K: f64 = 15.0;

/// The rules of this topic.
pub(super) const RULES: &[Rule] = &[
    Rule {
        id: "rail-foot-wider-than-flat",
        title: "Rail hangs over the tube's edge",
        severities: &[Severity::Fault],
        step: Step::WorkingArea,
        watches: "The foot of the X rails on the beam, and of the Y rails on the base tube.",
        because: "A tube's corners are round: a rail that reaches into the rounding stands on nothing and twists under load.",
        from: "Flat = width less two outer corner radii, at most 2.4 times a wall up to 6 mm and 3 times above (EN 10219-2:2006, Table 2).",
        instead: "Take a wider tube, a thinner wall, or a smaller rail.",
        reads: &[Fact::Frame, Fact::Guides],
        decided_by: Some(&["guide_a"]),
        check: foot,
        remedies: foot_remedies,
        example: Example {
            given: &[("guide_x", "carriage-25-wide")],
            choice: "beam_tube",
            fires: "tube-80x40x4",
            quiet: "tube-80x40x3",
        },
    },
    Rule {
        id: "thread-in-thin-wall",
        title: "Too little thread for the rail screws",
        severities: &[Severity::Caution],
        step: Step::WorkingArea,
        watches: "The thinnest wall that a tube may have, against the screws of the X and Y rails, where no strip inside the tube takes them.",
        because: "A thread shorter than four fifths of the screw's diameter strips before the screw is tight, and a rail that creeps is a machine that rattles.",
        from: "Thread of at least 0.8 screw diameters in steel (common practice); thinnest wall by EN 10219-2:2006, Table 2: 10 % less up to 5 mm, 0.5 mm less above.",
        instead: "Back the wall with a thread strip, or take a thicker wall or a rail with smaller screws.",
        reads: &[Fact::Frame, Fact::Guides],
        decided_by: Some(&["guide_a"]),
        check: thread,
        remedies: thread_remedies,
        example: Example {
            given: &[],
            choice: "beam_tube",
            fires: "tube-80x80x3",
            quiet: "tube-80x80x4",
        },
    },
    Rule {
        id: "wall-thinner-than-named",
        title: "The beam's wall may be thin",
        severities: &[Severity::Hint],
        step: Step::WorkingArea,
        watches: "The stiffness at the collet with all tubes at the thinnest wall that the standard allows, where metal is to be cut.",
        because: "Metal needs all the stiffness that a beam has. A tube bought by its name may measure a tenth less.",
        from: "Springs in series with sections by EN 10219-2:2006, Annex B, at the wall of its Table 2 (10 % less up to 5 mm); 7 % is common practice.",
        instead: "Measure the wall when the tube arrives, and order the next thicker one where you need every bit.",
        reads: &[
            Fact::Frame,
            Fact::Wishes,
            Fact::Guides,
            Fact::Drives,
            Fact::Geometry,
            Fact::Motors,
            Fact::Spindle,
        ],
        decided_by: None,
        check: thin_wall,
        remedies: super::no_remedy,
        example: Example {
            given: &[("materials", "aluminium-6082")],
            choice: "travel_x_mm",
            fires: "2000",
            quiet: "1700",
        },
    },
    Rule {
        id: "rails-on-raw-tube",
        title: "Rails straight on the tube",
        severities: &[Severity::Caution],
        step: Step::WorkingArea,
        watches: "The bow that a tube of the beam's length may have, where rails are bolted straight to it.",
        because: "A rail follows what it is bolted to. On a bowed tube the carriages jam in one place and rattle in another.",
        from: "Bow of 0.15 % of the length, twist of 2 mm and 0.5 mm a metre (EN 10219-2:2006, Table 2); 0.085 mm between two rails at light preload (published rail catalogue).",
        instead: "Seat the rails on poured epoxy, on shims set with a dial gauge, or on machined pads.",
        reads: &[Fact::Frame, Fact::Geometry],
        decided_by: Some(decided::RAIL),
        check: raw_tube,
        remedies: raw_tube_remedies,
        example: Example {
            given: &[],
            choice: "rail_seat",
            fires: "raw-tube",
            quiet: "shims",
        },
    },
    Rule {
        id: "two-metals-one-beam",
        title: "Aluminium and steel grow apart",
        severities: &[Severity::Hint],
        step: Step::WorkingArea,
        watches: "Aluminium plates that carry a steel rail over their whole length, against the wanted accuracy.",
        because: "Aluminium grows twice as much with warmth as steel. Bolted together over their length, the two bend each other.",
        from: "23 against 12 µm per metre and kelvin (handbook values of linear expansion); 15 K between a cold morning and a warm afternoon (common practice).",
        instead: "Keep the room at one temperature, or fix the rail hard at one end and let the other screws give.",
        reads: &[Fact::Frame, Fact::Geometry, Fact::Wishes],
        decided_by: Some(decided::RAIL),
        check: two_metals,
        remedies: two_metals_remedies,
        example: Example {
            given: &[],
            choice: "tolerance_mm",
            fires: "0.05",
            quiet: "0.055",
        },
    },
];

/// The axes whose rails lie on a tube, with that tube and its choice.
fn on_tubes<'a>(facts: &Facts<'a>) -> [(Axis, &'a Tube, &'static str); 2] {
    let picked = facts.picked;
    [
        (Axis::X, picked.beam_tube, "beam_tube"),
        (Axis::Y, picked.base_tube, "base_tube"),
    ]
}

fn tube_of<'a>(facts: &Facts<'a>, axis: Axis) -> Option<(&'a Tube, &'static str)> {
    on_tubes(facts)
        .into_iter()
        .find(|(which, ..)| *which == axis)
        .map(|(_, tube, choice)| (tube, choice))
}

/// Tubes for a choice that pass a test: those no smaller than the present one first.
fn tubes(facts: &Facts, choice: &str, now: &Tube, fits: impl Fn(&Tube) -> bool) -> Remedies {
    let shelf = &facts.picked.catalogue.tubes;
    let no_smaller = |tube: &Tube| tube.height >= now.height && tube.width >= now.width;
    let of = |large: bool| {
        let passes = |id: &Id| {
            shelf
                .get(id)
                .is_some_and(|tube| no_smaller(tube) == large && fits(tube))
        };
        options_where(facts, choice, passes)
    };
    in_turn([of(true), of(false)])
}

fn foot(facts: &Facts, report: &mut Report) {
    for (axis, tube, _) in on_tubes(facts) {
        let foot = facts.picked.axes[axis].rail.foot_width;
        let flat = Section::of(tube).flat();
        if foot > flat {
            let message = format!(
                "{}: the rail's foot is {} wide, the flat of {} may be only {}",
                axis.title(),
                say::mm(foot, 0),
                tube.title,
                say::mm(flat, 1)
            );
            report.say_of(axis, Severity::Fault, message);
        }
    }
}

fn foot_remedies(facts: &Facts, axis: Option<Axis>) -> Remedies {
    let Some((axis, (tube, choice))) = axis.and_then(|axis| Some((axis, tube_of(facts, axis)?)))
    else {
        return Vec::new();
    };
    let foot = facts.picked.axes[axis].rail.foot_width;
    let flat = Section::of(tube).flat();
    let narrower = |id: &Id| rail_of(facts, id).is_some_and(|rail| rail.foot_width <= flat);
    in_turn([
        tubes(facts, choice, tube, |other| {
            Section::of(other).flat() >= foot
        }),
        options_where(facts, &axis.choice("guide"), narrower),
    ])
}

/// The rail that a carriage runs on.
fn rail_of<'a>(facts: &Facts<'a>, carriage: &Id) -> Option<&'a crate::catalogue::guide::Rail> {
    let catalogue = facts.picked.catalogue;
    catalogue
        .rails
        .get(&catalogue.carriages.get(carriage)?.rail)
}

/// The wall under the rails of X or Y: as measured, else the thinnest that may come.
fn wall_of(facts: &Facts, axis: Axis) -> Length {
    let picked = facts.picked;
    worst_wall(match axis {
        Axis::X => picked.beam_wall,
        Axis::Y | Axis::Z => picked.base_wall,
    })
}

fn thread(facts: &Facts, report: &mut Report) {
    if facts.picked.build.area.thread_strips {
        return;
    }
    for (axis, tube, _) in on_tubes(facts) {
        let screw = facts.picked.axes[axis].rail.screw;
        let wall = wall_of(facts, axis);
        if wall < screw * THREAD_SHARE {
            let message = format!(
                "{}: an M{} rail screw wants {} of thread, the wall of {} may measure {}",
                axis.title(),
                say::at_most(units::mm::from(screw), 1),
                say::mm(screw * THREAD_SHARE, 1),
                tube.title,
                say::mm(wall, 1)
            );
            report.say_of(axis, Severity::Caution, message);
        }
    }
}

fn thread_remedies(facts: &Facts, axis: Option<Axis>) -> Remedies {
    let Some((axis, (tube, choice))) = axis.and_then(|axis| Some((axis, tube_of(facts, axis)?)))
    else {
        return Vec::new();
    };
    let wanted = facts.picked.axes[axis].rail.screw * THREAD_SHARE;
    let wall = wall_of(facts, axis);
    let smaller =
        |id: &Id| rail_of(facts, id).is_some_and(|rail| wall >= rail.screw * THREAD_SHARE);
    in_turn([
        set(facts, "thread_strips", "yes"),
        tubes(facts, choice, tube, |other| {
            thinnest_wall(other.wall) >= wanted
        }),
        options_where(facts, &axis.choice("guide"), smaller),
    ])
}

fn thin_wall(facts: &Facts, report: &mut Report) {
    let tube = facts.picked.beam_tube;
    let (axis, loss) = facts.machine.stiffness.thin_wall_loss();
    if facts.wishes(Family::Metal) && loss > units::share::of(THIN_WALL_LOSS) {
        let message = format!(
            "{}: tubes as thin as the standard allows, a beam of {} at {}, take {} % of the collet's stiffness",
            axis.title(),
            tube.title,
            say::mm(thinnest_wall(tube.wall), 1),
            say::at_most(units::percent::from(loss), 1)
        );
        report.say(Severity::Hint, message);
    }
}

fn raw_tube(facts: &Facts, report: &mut Report) {
    let members = facts.machine.geometry.members.iter();
    let carriers = members.filter(|member| matches!(member.role, Role::Beam | Role::Side));
    let longest = carriers
        .map(|member| units::mm::from(member.length))
        .fold(0.0, f64::max);
    let bow = longest * TUBE_BOW;
    if facts.picked.build.area.rail_seat == RailSeat::RawTube && bow > RAIL_TOLERANCE_MM {
        let message = format!(
            "{} of tube may be bowed by {}; a pair of rails bears {RAIL_TOLERANCE_MM} mm",
            say::mm(units::mm::of(longest), 0),
            say::mm(units::mm::of(bow), 1)
        );
        report.say(Severity::Caution, message);
    }
}

fn raw_tube_remedies(facts: &Facts, _: Option<Axis>) -> Remedies {
    let seat = |value| set(facts, "rail_seat", value);
    in_turn([seat("epoxy-bed"), seat("shims"), seat("machined-pads")])
}

/// What an aluminium plate of a length grows more than steel, in millimetres.
fn outgrows(length: Length) -> f64 {
    GROWTH_MM_PER_M_K * WARMING_K * units::m::from(length)
}

/// The plates along a rail, with the length that they follow.
fn rail_plates<'a>(facts: &Facts<'a>) -> Vec<(Follows, &'a PlateCut)> {
    let cuts = &facts.machine.geometry.plates;
    let along = [Follows::RailX, Follows::RailY, Follows::RailZ];
    let pieces = facts
        .picked
        .frame
        .plate
        .iter()
        .filter(|piece| along.contains(&piece.follows));
    let cut = |mark: &str| cuts.iter().find(|plate| plate.mark == mark);
    pieces
        .filter_map(|piece| Some((piece.follows, cut(&piece.mark)?)))
        .collect()
}

fn two_metals(facts: &Facts, report: &mut Report) {
    let wanted = units::mm::from(facts.picked.build.area.tolerance);
    for (_, plate) in rail_plates(facts) {
        let more = outgrows(plate.length);
        if more > wanted {
            let [more, wanted] = say::lengths(units::mm::of(more), units::mm::of(wanted), 3);
            let message = format!(
                "{}: {} of aluminium outgrow their steel rail by {more} in {WARMING_K} K of warming; you want {wanted}",
                plate.title,
                say::mm(plate.length, 0),
            );
            report.say(Severity::Hint, message);
        }
    }
}

/// A shorter Z axis has a shorter plate; else the wanted accuracy gives way.
fn two_metals_remedies(facts: &Facts, _: Option<Axis>) -> Remedies {
    let area = &facts.picked.build.area;
    let bearable = units::mm::from(area.tolerance) / (GROWTH_MM_PER_M_K * WARMING_K) * 1e3;
    let longest = |of: Option<Follows>| {
        let plates = rail_plates(facts).into_iter();
        let asked = plates.filter(|(follows, _)| of.is_none_or(|one| one == *follows));
        asked
            .map(|(_, plate)| units::mm::from(plate.length))
            .fold(0.0, f64::max)
    };
    let pitch = units::mm::from(facts.picked.rail_pitch(Axis::Z));
    let cut = ((longest(Some(Follows::RailZ)) - bearable) / pitch).ceil() * pitch;
    let shorter = units::mm::from(area.travel.z) - cut;
    let looser = outgrows(units::mm::of(longest(None)));
    in_turn([
        number(facts, "travel_z_mm", shorter, false),
        number(facts, "tolerance_mm", looser, true),
    ])
}
