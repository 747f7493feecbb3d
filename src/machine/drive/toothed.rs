//! Racks and belts: what turns behind the motor, and what force their teeth and cords bear.

use super::{DriveFigures, bar_inertia, disc_inertia};
use crate::build::{Axis, Picked};
use crate::catalogue::LinearDrive;
use crate::catalogue::linear_drive::{Belt, Rack};
use crate::units::{
    self, AngularVelocity, Force, Length, MassDensity, MomentOfInertia, Ratio, Torque, Velocity,
};
use std::f64::consts::PI;

/// Width of pinions and pulleys (common practice).
const WIDTH_MM: f64 = 25.0;

/// Share of the power that one stage of a belt reduction keeps (common practice).
const STAGE_EFFICIENCY: f64 = 0.96;

/// The largest ratio of one stage; beyond it the large pulley gets out of hand, and two
/// stages share the ratio (common practice).
const GREATEST_STAGE: f64 = 6.0;

/// Pitch diameter of the motor's pulley of a reduction: 20 teeth of 5 mm pitch, 5 z/π
/// (ISO 13050).
const MOTOR_PULLEY_MM: f64 = 100.0 / PI;

/// Inertia of the large pulley against a solid disc of its pitch circle: it has spokes or
/// holes (common practice, from memory).
const LARGE_PULLEY_SHARE: f64 = 0.5;

/// Aluminium, of which pulleys are made: 2 700 kg/m³ (handbooks of materials).
fn aluminium() -> MassDensity {
    units::kg_per_m3::of(2700.0)
}

/// Most teeth that count as sharing the force (belt makers' sheets).
const MOST_TEETH_IN_MESH: f64 = 12.0;

/// What a tooth of a 5 mm pitch polyurethane belt with steel cords bears at a speed of the
/// pulley, against standstill: 36.80, 33.13, 30.87, 29.31, 26.05 N a centimetre of width at
/// these speeds (belt makers' sheets). Between them in a straight line, beyond the last as
/// there.
const TOOTH_FORCES: [(f64, f64); 5] = [
    (0.0, 36.80),
    (200.0, 33.13),
    (300.0, 30.87),
    (500.0, 29.31),
    (1000.0, 26.05),
];

/// A belt reduction between motor and pinion or pulley.
struct Reduction {
    ratio: f64,
    efficiency: f64,
    inertia: f64,
}

impl Reduction {
    /// One stage up to a ratio of 6, two equal ones above, each of a small pulley on the
    /// faster shaft and a large one on the slower, as seen by the motor.
    fn of(picked: &Picked) -> Self {
        let whole = units::times::from(picked.build.drive.reduction);
        if whole <= 1.0 {
            return Self {
                ratio: 1.0,
                efficiency: 1.0,
                inertia: 0.0,
            };
        }
        let small = disc_inertia(units::mm::of(MOTOR_PULLEY_MM), width(), aluminium());
        // The large one has q⁴ times the inertia, of which the motor sees 1/q².
        let stage = |q: f64| units::kg_m2::from(small) * (1.0 + LARGE_PULLEY_SHARE * q * q);
        if whole <= GREATEST_STAGE {
            return Self {
                ratio: whole,
                efficiency: STAGE_EFFICIENCY,
                inertia: stage(whole),
            };
        }
        let each = whole.sqrt();
        Self {
            ratio: whole,
            efficiency: STAGE_EFFICIENCY * STAGE_EFFICIENCY,
            inertia: stage(each) * (1.0 + 1.0 / whole),
        }
    }
}

fn width() -> Length {
    units::mm::of(WIDTH_MM)
}

/// What racks and belts have in common.
struct Toothed<'c> {
    drive: LinearDrive<'c>,
    efficiency: Ratio,
    drag: Torque,
    speed: Velocity,
    force: Force,
    play: Length,
    inertia: MomentOfInertia,
}

impl Toothed<'_> {
    /// Behind a reduction inertia shrinks with the square of the ratio.
    fn figures(self, picked: &Picked) -> DriveFigures {
        let reduction = Reduction::of(picked);
        let through = self.efficiency * reduction.efficiency;
        let seen = self.inertia / (reduction.ratio * reduction.ratio);
        DriveFigures {
            travel_a_turn: picked.travel_a_motor_turn(self.drive),
            efficiency: through,
            back_efficiency: through,
            inertia: seen + units::kg_m2::of(reduction.inertia),
            drag: self.drag / reduction.ratio,
            whirl: None,
            nut: None,
            track: Some(self.speed),
            greatest_force: self.force,
            play: self.play,
        }
    }
}

/// A rack: its pinion is taken as a solid steel disc of its pitch circle.
pub(super) fn rack(picked: &Picked, rack: &Rack) -> DriveFigures {
    let drive = LinearDrive::Rack(rack);
    let diameter = drive.travel_a_turn() / PI;
    let tooth = Toothed {
        drive,
        efficiency: rack.efficiency,
        drag: rack.drag,
        speed: rack.speed,
        force: rack.force,
        play: rack.play,
        inertia: bar_inertia(diameter, diameter, width()),
    };
    tooth.figures(picked)
}

/// A belt: pulley and idler are taken as aluminium discs of the pulley's pitch circle.
pub(super) fn belt(picked: &Picked, axis: Axis, belt: &Belt) -> DriveFigures {
    let drive = LinearDrive::Belt(belt);
    let around = drive.travel_a_turn();
    let wanted = picked.build.area.wanted_rapids(axis);
    let turns = units::rpm::of(units::m_per_min::from(wanted) / units::m::from(around));
    let teeth = tooth_limit(belt, turns);
    let tooth = Toothed {
        drive,
        efficiency: belt.efficiency,
        drag: belt.drag,
        speed: belt.speed,
        force: teeth
            .filter(|force| *force < belt.force)
            .unwrap_or(belt.force),
        play: units::um::of(0.0),
        inertia: disc_inertia(around / PI, width(), aluminium()) * 2.0,
    };
    tooth.figures(picked)
}

/// The force at which the teeth in mesh shear, with the belt halfway around its pulley; none
/// where the belt's data do not say what a tooth bears.
pub fn tooth_limit(belt: &Belt, turns: AngularVelocity) -> Option<Force> {
    let in_mesh = (f64::from(belt.teeth) / 2.0)
        .floor()
        .min(MOST_TEETH_IN_MESH);
    let share = tooth_share(units::rpm::from(turns));
    belt.tooth_force.map(|force| force * in_mesh * share)
}

fn tooth_share(rpm: f64) -> f64 {
    let standing = TOOTH_FORCES[0].1;
    for pair in TOOTH_FORCES.windows(2) {
        let [(slow, above), (fast, below)] = [pair[0], pair[1]];
        if rpm <= fast {
            let part = ((rpm - slow) / (fast - slow)).clamp(0.0, 1.0);
            return (above + (below - above) * part) / standing;
        }
    }
    TOOTH_FORCES[TOOTH_FORCES.len() - 1].1 / standing
}
