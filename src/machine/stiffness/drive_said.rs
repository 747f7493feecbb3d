//! How the springs of a drive come about: formula, source, and what goes in.
//!
//! Each is worked out as what one drive gives, c. Of a pair with the tool at mid-span each
//! side takes half of the force at half of the lever: a quarter of each, which is half of c.

use super::SpringName;
use super::drive::{PLAY_SHARE, TOOTH, bracket_shape, smallest_bearing};
use super::formulas::{Said, said};
use super::inputs::{given, taken};
use super::model::Model;
use crate::build::choices::drive::ScrewEnds;
use crate::build::{Axis, Picked};
use crate::catalogue::LinearDrive;
use crate::catalogue::linear_drive::SupportHold;
use crate::explain::{Input, Origin};
use crate::machine::axis_path;
use crate::machine::feed::torque_curve;
use crate::machine::geometry::along::support_unit;
use crate::machine::geometry::screw_cut;
use crate::machine::section::{steel_modulus, steel_shear_modulus};
use crate::machine::stepper::ROTOR_TEETH;
use crate::machine::torque::TorqueCurve;
use crate::units::{self, Amount, Stiffness};
use crate::words::Words as _;

/// Formula, source and limits of a spring of an axis's drive.
pub(super) fn formula(axis: Axis, name: SpringName, picked: &Picked) -> Said {
    use SpringName::*;
    const SCREW: &str = "ISO 3408-4 and published screw catalogues";
    let both_fixed = picked.build.drive.ends[axis] == ScrewEnds::FixedFixed;
    match name {
        Nut if plays(axis, picked) => said(
            "the share of the nut's rigidity that is left where it has play",
            "k = 1/(w c), c = 1/(x k_n)",
            "published nut rigidities; play: 0.4 to 0.5, common practice",
            "Balls stiffen with load.",
        ),
        Nut => said(
            "the nut's rigidity",
            "k = 1/(w c), c = 1/k_n",
            "published nut rigidities",
            "Balls stiffen with load.",
        ),
        Bearing => said(
            "the fixed bearing unit's rigidity, twice where both ends are fixed",
            "k = 1/(w c), c = 1/(z k_b)",
            "typical of published data sheets, from memory",
            "Weakly known.",
        ),
        Twist => said(
            "the screw twists between motor and nut",
            "k = 1/(w c), c = (P/(2π))² 32 l/(G π d⁴)",
            SCREW,
            "Worst place of the nut, root diameter.",
        ),
        Coupling => said(
            "the coupling twists",
            "k = 1/(w c), c = (P/(2π))²/k_c",
            "typical of published data sheets, from memory",
            "Plastic spiders stiffen with load.",
        ),
        Bracket => said(
            "the printed bracket is squeezed behind the bearing, each end's by its half where both are fixed",
            "k = 1/(w c), c = b/(z E)",
            "E A/t of a block",
            "Plastics creep; bending of the bracket is left out.",
        ),
        Rack => said(
            "the teeth of rack and pinion bend",
            "k = 1/(w c), c = 1/(c' b)",
            "ISO 6336-1, tooth stiffness of steel spur gears",
            "Less under light loads; shaft and arm of the pinion are taken as stiff.",
        ),
        Belt => said(
            "both halves of the belt stretch, the pulley in the middle",
            "k = 1/(w c), c = L/(4 E A)",
            "published belt data, k = E A (1/L1 + 1/L2)",
            "Teeth in mesh are taken as stiff.",
        ),
        Motor => said(
            "the rotor lags behind the field, a spring of rotor teeth times the amplitude of the torque",
            "k = 1/(w c), c = (P/(2π))²/(50 T_p/f₁)",
            "two-phase hybrid stepper of 50 teeth: handbook of stepping motors",
            "Around the step; a servo's loop is taken as stiff.",
        ),
        _ if both_fixed => said(
            "the screw, held at both ends, stretches and is squeezed on either side of a nut in the middle",
            "k = 1/(w c), c = l/(π d² E)",
            SCREW,
            "Worst place of the nut, root diameter.",
        ),
        _ => said(
            "the screw stretches between nut and fixed bearing",
            "k = 1/(w c), c = 4 l/(π d² E)",
            SCREW,
            "Worst place of the nut, root diameter.",
        ),
    }
}

/// Whether the nut of an axis is a single ball nut, which has play.
fn plays(axis: Axis, picked: &Picked) -> bool {
    matches!(picked.axes[axis].drive, LinearDrive::Ball(_)) && !picked.build.drive.preloaded_nuts
}

/// The inputs of one spring of an axis's drive.
pub(super) fn inputs(axis: Axis, name: SpringName, model: &Model, picked: &Picked) -> Vec<Input> {
    let own = |drive: &super::drive::DriveGive| -> f64 {
        let parts = drive.parts.iter().filter(|(one, _)| *one == name);
        parts.map(|(_, give)| give).sum()
    };
    let first = own(&model.drives[axis]);
    let second = model.second.as_ref().filter(|_| axis == Axis::Y).map(own);
    let mut found = Vec::with_capacity(8);
    match second {
        Some(second) => {
            let title = "two drives at mid-span, a quarter of each";
            found.push(taken("w", title, Amount::plain(0.5)));
            let title = match second == first {
                true => format!("{} of one drive", name.title()),
                false => format!(
                    "{} of one drive, the mean of {} and, of the other, {}",
                    name.title(),
                    Amount::of(first * 1e6, "µm/N"),
                    Amount::of(second * 1e6, "µm/N"),
                ),
            };
            found.push(given("c", &title, (first + second) / 2.0));
        }
        None => {
            found.push(taken("w", "one drive bears it all", Amount::plain(1.0)));
            found.push(given("c", &format!("{} of the drive", name.title()), first));
        }
    }
    let turn = units::mm::amount(picked.travel_a_motor_turn(picked.axes[axis].drive));
    let part = Origin::part(picked.axes[axis].drive.part());
    found.push(Input::new(
        "P",
        "travel for one turn of the motor",
        turn,
        part,
    ));
    found.extend(data(axis, name, model, picked));
    found
}

/// The figures of parts and choices that a spring rests on.
fn data(axis: Axis, name: SpringName, model: &Model, picked: &Picked) -> Vec<Input> {
    let drive = picked.axes[axis].drive;
    let part = Origin::part(drive.part());
    match (name, drive) {
        (SpringName::Screw | SpringName::Twist, _) => screw(axis, name, picked),
        (SpringName::Nut, LinearDrive::Ball(ball)) => nut(ball.nut_rigidity, part),
        (SpringName::Nut, LinearDrive::Lead(lead)) => nut(lead.nut_rigidity, part),
        (SpringName::Bearing, _) => {
            let unit = support_unit(picked, drive, SupportHold::Fixed)
                .filter(|unit| unit.rigidity.is_some());
            let origin = match unit {
                Some(unit) => Origin::part(unit),
                None => Origin::Constant("the smallest unit, from memory"),
            };
            let rigidity = unit.and_then(|unit| unit.rigidity);
            let rigidity = rigidity.unwrap_or_else(smallest_bearing);
            let rigidity = units::n_per_um::amount(rigidity);
            vec![
                fixed_ends(axis, picked),
                Input::new("k_b", "rigidity of a fixed bearing unit", rigidity, origin),
            ]
        }
        (SpringName::Coupling, _) => {
            let coupling = picked.axes[axis].coupling;
            let torsion = Amount::of(coupling.torsion.as_nm_per_rad(), "N·m/rad");
            vec![Input::new(
                "k_c",
                "torsion of the coupling",
                torsion,
                Origin::part(coupling),
            )]
        }
        (SpringName::Bracket, _) => {
            let shape = Amount::of(bracket_shape(picked, axis), "1/m");
            let plan = Origin::Plan(picked.frame.id.to_string());
            let modulus = units::gpa::amount(picked.filament.modulus);
            vec![
                fixed_ends(axis, picked),
                Input::new(
                    "b",
                    "thickness over area of the printed blocks, added up",
                    shape,
                    plan,
                ),
                Input::new(
                    "E",
                    "modulus of the printed plastic",
                    modulus,
                    Origin::part(picked.filament),
                ),
            ]
        }
        (SpringName::Rack, LinearDrive::Rack(rack)) => {
            let tooth = Amount::of(TOOTH / 1e9, "N/(mm·µm)");
            vec![
                Input::new(
                    "b",
                    "width of the teeth",
                    units::mm::amount(rack.face),
                    part,
                ),
                Input::new(
                    "c'",
                    "stiffness of a pair of teeth for each width",
                    tooth,
                    Origin::Constant("ISO 6336-1"),
                ),
            ]
        }
        (SpringName::Belt, LinearDrive::Belt(belt)) => {
            let rail = Origin::figure(axis_path(axis, "rail_mm"));
            let length = model.rails[axis];
            vec![
                Input::new(
                    "E A",
                    "force for unit strain",
                    units::n::amount(belt.spring_rate),
                    part,
                ),
                Input::new("L", "belt along the rail", units::mm::amount(length), rail),
            ]
        }
        (SpringName::Motor, _) => motor(axis, picked),
        _ => Vec::new(),
    }
}

/// How many ends of the screw are fixed.
fn fixed_ends(axis: Axis, picked: &Picked) -> Input {
    let ends = picked.build.drive.ends[axis];
    let count = match ends {
        ScrewEnds::FixedFixed => 2.0,
        ScrewEnds::FixedFree | ScrewEnds::FixedSupported => 1.0,
    };
    let title = format!("fixed ends: {}", ends.title());
    Input::new(
        "z",
        title,
        Amount::plain(count),
        Origin::choice(axis.choice("ends")),
    )
}

fn screw(axis: Axis, name: SpringName, picked: &Picked) -> Vec<Input> {
    let drive = picked.axes[axis].drive;
    let Some(of_drive) = drive.screw() else {
        return Vec::new();
    };
    let handbook = || Origin::Constant("steel, handbooks of materials");
    let both = picked.build.drive.ends[axis] == ScrewEnds::FixedFixed;
    let cut = screw_cut(picked, axis, drive);
    let mut found = vec![Input::new(
        "d",
        "root diameter",
        units::mm::amount(of_drive.root),
        Origin::part(drive.part()),
    )];
    let (title, length) = match name == SpringName::Screw && both {
        true => (
            "distance of the bearings",
            cut.map(|cut| cut.between_bearings),
        ),
        false => (
            "from the fixed bearing to the farthest nut",
            cut.map(|cut| cut.farthest_nut),
        ),
    };
    found.extend(length.map(|length| taken("l", title, units::mm::amount(length))));
    found.push(Input::new(
        "E",
        "elastic modulus of steel",
        units::gpa::amount(steel_modulus()),
        handbook(),
    ));
    found.push(Input::new(
        "G",
        "shear modulus of steel",
        units::gpa::amount(steel_shear_modulus()),
        handbook(),
    ));
    found
}

fn nut(rigidity: Stiffness, part: Origin) -> Vec<Input> {
    let practice = Origin::Constant("common practice: 0.4 to 0.5");
    let title = "share that a single nut with play keeps";
    vec![
        Input::new(
            "k_n",
            "nut's rigidity",
            units::n_per_um::amount(rigidity),
            part,
        ),
        Input::new("x", title, Amount::plain(PLAY_SHARE), practice),
    ]
}

fn motor(axis: Axis, picked: &Picked) -> Vec<Input> {
    let TorqueCurve::Stepper(curve) = torque_curve(picked, axis) else {
        return Vec::new();
    };
    let plateau = Origin::figure(axis_path(axis, "motor.plateau_nm"));
    let fitted = Origin::Constant("published torque curves of NEMA 17, 23 and 34 motors");
    let torque = units::nm::amount(curve.fitted_plateau());
    let fit = units::times::amount(curve.fits().0);
    let teeth = Amount::plain(ROTOR_TEETH);
    vec![
        Input::new(
            "T_p",
            "torque that the current allows, fitted",
            torque,
            plateau,
        ),
        Input::new(
            "f₁",
            "that fit, taken out again: the spring rests on the torque at rest",
            fit,
            fitted,
        ),
        Input::new("50", "rotor teeth", teeth, Origin::Constant("1.8° stepper")),
    ]
}
