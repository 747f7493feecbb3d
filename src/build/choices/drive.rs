//! Step two: rails, screws, motors and their drivers.

use super::{Choice, Figure, Kind, rows};
use crate::build::PerAxis;
use crate::build::value::{NumberKind, NumberUnit, Value};
use crate::catalogue::{Id, LinearDrive, Motor, PartKind, Step};
use crate::units::{self, Length, Ratio};
use crate::words::Words;

crate::words! {
    /// How the two ends of a screw are held.
    ScrewEnds {
        FixedFree = "fixed-free", "fixed and free", "One end fixed, the other free: fit for short screws only, as on Z, since the free end whips first.";
        FixedSupported = "fixed-supported", "fixed and supported", "The usual way: one end fixed, the other supported so that it may slide as the screw warms.";
        FixedFixed = "fixed-fixed", "both ends fixed", "Highest speed and stiffness; the screw must be stretched or it buckles when warm.";
    }
}

crate::words! {
    /// How the gantry (or table) is driven along Y.
    GantryDrive {
        Centre = "centre", "one in the centre", "One drive: cheaper, but the gantry can rack.";
        EachSide = "each-side", "one on each side", "Two drives: no racking, and each side can be homed square.";
    }
}

/// The divisions of a full step that drivers offer: powers of two, and those that make round
/// numbers of pulses a turn (common practice).
const MICROSTEPS: &[f64] = &[
    1.0, 2.0, 4.0, 5.0, 8.0, 10.0, 16.0, 20.0, 25.0, 32.0, 40.0, 50.0, 64.0, 100.0, 125.0, 128.0,
    200.0, 256.0,
];

/// The choices of the drive step.
#[derive(Clone, Debug, PartialEq)]
pub struct Drive {
    /// Carriage (and with it the rail) of each axis.
    pub guide: PerAxis<Id>,
    /// Carriages on each rail.
    pub carriages: PerAxis<u32>,
    /// Rail in hand, where there is one.
    pub rail_length: PerAxis<Option<Length>>,
    /// Linear drive of each axis.
    pub drive: PerAxis<Id>,
    /// The other side's drive on Y, where it differs.
    pub second_drive: Option<Id>,
    /// Thread in hand, where there is one.
    pub screw_length: PerAxis<Option<Length>>,
    /// How the screws are held.
    pub ends: PerAxis<ScrewEnds>,
    /// Motor of each axis.
    pub motor: PerAxis<Id>,
    /// Coupling of each axis.
    pub coupling: PerAxis<Id>,
    /// Driver of each axis.
    pub driver: PerAxis<Id>,
    /// One drive or two along Y.
    pub gantry: GantryDrive,
    /// Share of a carriage's catalogue rigidity that is left when it is bolted to the frame.
    pub joint_factor: Ratio,
    /// Whether ball nuts are preloaded.
    pub preloaded_nuts: bool,
    /// Whether screws with both ends fixed are stretched.
    pub stretched_screws: bool,
    /// Reduction between motor and pinion or pulley.
    pub reduction: Ratio,
    /// Microsteps a full step.
    pub microsteps: u32,
    /// Current that the drivers are set to, as a share of the motor's rating.
    pub current_share: Ratio,
    /// Share of the pull-out torque that may be used.
    pub working_share: Ratio,
    /// The same for closed-loop steppers, which notice when they fall behind.
    pub closed_loop_share: Ratio,
    /// The motors' supply.
    pub supply: Id,
    /// How many supplies.
    pub supply_count: u32,
    /// Whether a clamp takes up braking energy.
    pub braking_clamp: bool,
}

impl Default for Drive {
    fn default() -> Self {
        let id = |text: &str| Id::new(text).unwrap_or_else(|error| unreachable!("{error}"));
        let three = |x: &str, y: &str, z: &str| PerAxis {
            x: id(x),
            y: id(y),
            z: id(z),
        };
        Self {
            guide: three("carriage-15-wide", "carriage-15-wide", "carriage-15-wide"),
            carriages: PerAxis { x: 2, y: 2, z: 2 },
            rail_length: PerAxis::default(),
            drive: three("ball-screw-16x10", "ball-screw-16x10", "ball-screw-16x5"),
            second_drive: None,
            screw_length: PerAxis::default(),
            ends: PerAxis {
                x: ScrewEnds::FixedSupported,
                y: ScrewEnds::FixedSupported,
                z: ScrewEnds::FixedSupported,
            },
            motor: three("stepper-23-3.0", "stepper-23-3.0", "stepper-23-3.0"),
            coupling: three("coupling-8x10", "coupling-8x10", "coupling-8x10"),
            driver: three("driver-80v-6a", "driver-80v-6a", "driver-80v-6a"),
            gantry: GantryDrive::EachSide,
            joint_factor: units::percent::of(33.0),
            preloaded_nuts: true,
            stretched_screws: false,
            reduction: units::share::of(1.0),
            microsteps: 8,
            current_share: units::percent::of(100.0),
            working_share: units::percent::of(50.0),
            closed_loop_share: units::percent::of(80.0),
            supply: id("supply-48v-600w"),
            supply_count: 1,
            braking_clamp: false,
        }
    }
}

/// The rows of one axis.
macro_rules! axis_rows {
    ($letter:literal $name:literal $axis:ident $rapid:ident $thrust:ident $step:ident $mass:ident) => {
        rows! { Drive;
            part (concat!("guide_", $letter)) (concat!("Rails ", $name)) (drive.guide.$axis) {&[PartKind::Carriage]} [Cost $mass]
                (concat!("Rail and carriages of ", $name, ". Size 15 carries a light machine; wide carriages tilt less; larger ones drag more."));
            count (concat!("carriages_", $letter)) (concat!("Carriages a rail ", $name)) (drive.carriages.$axis) {1.0 4.0 1.0} [Cost $mass Warnings]
                (concat!("How many carriages run on each ", $name, " rail. One alone lets the axis rock."));
            maybe (concat!("rail_length_", $letter, "_mm")) (concat!("Rail in hand, ", $name)) (drive.rail_length.$axis) {mm Millimetre 50.0 20000.0 10.0 "cut to need"} [Warnings]
                (concat!("Length of ", $name, " rail that you have already, if any. Too short a rail shortens the travel."));
            part (concat!("drive_", $letter)) (concat!("Drive ", $name)) (drive.drive.$axis) {LinearDrive::KINDS} [$rapid Cost $thrust $step]
                (concat!("What turns the motor into travel of ", $name, ". A longer lead is faster, pushes less and steps coarser; long thin screws whip."));
            maybe (concat!("screw_length_", $letter, "_mm")) (concat!("Screw in hand, ", $name)) (drive.screw_length.$axis) {mm Millimetre 50.0 20000.0 10.0 "cut to need"} [$rapid Warnings]
                (concat!("Threaded length of the ", $name, " screw that you have already, if any."));
            word (concat!("ends_", $letter)) (concat!("Screw ends ", $name)) (drive.ends.$axis) {ScrewEnds} [$rapid Cost]
                (concat!("How the ", $name, " screw is held. Firmer ends let it turn faster before it whips; it does not matter for racks and belts."));
            part (concat!("motor_", $letter)) (concat!("Motor ", $name)) (drive.motor.$axis) {Motor::KINDS} [$rapid $thrust Cost Supply]
                (concat!("What turns the ", $name, " drive. More holding torque is not more speed: inductance and supply voltage decide that."));
            part (concat!("coupling_", $letter)) (concat!("Coupling ", $name)) (drive.coupling.$axis) {&[PartKind::Coupling]} [Warnings Cost]
                (concat!("What joins motor shaft and screw end of ", $name, ". Its two bores must fit both."));
            part (concat!("driver_", $letter)) (concat!("Driver ", $name)) (drive.driver.$axis) {&[PartKind::Driver]} [$rapid Cost]
                (concat!("The electronics that feed the ", $name, " motor. It must give the motor's current and bear the supply's voltage with room to spare."));
        }
    };
}

/// The rows of this step.
pub(super) fn rows() -> Vec<Choice> {
    let mut found: Vec<Choice> = axis_rows!("x" "X" x RapidX ThrustX StepX MassX);
    found.extend(axis_rows!("y" "Y" y RapidY ThrustY StepY MassY));
    found.extend(axis_rows!("z" "Z" z RapidZ ThrustZ StepZ MassZ));
    let rest: Vec<Choice> = rows! { Drive;
        optional "drive_y2" "Second drive Y" (drive.second_drive) {LinearDrive::KINDS, "the same"} [RapidY Cost Warnings]
            "The drive on the other side of the gantry. It should be the same: different leads tear the gantry askew.";
        word "gantry_drive" "Drive along Y" (drive.gantry) {GantryDrive} [Cost RapidY ThrustY Warnings]
            "Whether one drive in the centre or one on each side moves the gantry. A wide gantry on one drive racks.";
        number "carriage_joint_percent" "Carriage joints" (drive.joint_factor) {percent Percent 5.0 100.0 5.0} [StiffnessY StiffnessX StiffnessZ]
            "How much of a carriage's catalogue rigidity is left on your frame: screws, seat and tube wall give too. A third leaves 100 to 200 N/µm at size 15 (common practice, from memory).";
        flag "preloaded_nuts" "Preloaded nuts" (drive.preloaded_nuts) [Cost StiffnessX Warnings]
            "Nuts without play. A single nut moves a few hundredths before it pushes back.";
        flag "stretched_screws" "Stretched screws" (drive.stretched_screws) [Warnings]
            "Whether screws with both ends fixed are pulled tight, so that warming does not buckle them.";
        number "reduction" "Reduction" (drive.reduction) {share Plain 1.0 20.0 0.5} [RapidX RapidY StepX Cost]
            "Turns of the motor for one of the pinion or pulley. Racks want 3 to 5, or steps are coarse and the push weak; screws take none.";
        one_of "microsteps" "Microsteps" (drive.microsteps) {MICROSTEPS} [RapidX StepX Warnings]
            "Into how many parts the driver splits a full step. It smooths motion; it does not make it exact.";
        number "current_percent" "Driver current" (drive.current_share) {percent Percent 20.0 100.0 5.0} [ThrustX RapidX Supply]
            "What the drivers are set to, as a share of the motor's rating. Less runs cooler and weaker.";
        number "working_share_percent" "Torque share used" (drive.working_share) {percent Percent 10.0 95.0 5.0} [ThrustX RapidX RapidY]
            "How much of the torque at which a stepper stalls you dare to use. A half is usual; it does not notice a lost step.";
        number "closed_loop_share_percent" "Closed-loop share" (drive.closed_loop_share) {percent Percent 10.0 95.0 5.0} [ThrustX RapidX RapidY]
            "The same for closed-loop steppers. They notice when they fall behind, and catch up or stop, so more may be used; beyond the torque at which they stall they stop all the same.";
        part "supply" "Motor supply" (drive.supply) {&[PartKind::Supply]} [RapidX RapidY Supply Cost]
            "Feeds the drivers. More volts keep torque at speed, up to what drivers and motors bear.";
        count "supply_count" "Number of supplies" (drive.supply_count) {1.0 4.0 1.0} [Supply Cost]
            "How many of these supplies share the motors. Wired to one strip they are in parallel, which only supplies made for it stand; else each feeds drivers of its own.";
        flag "braking_clamp" "Clamp for braking" (drive.braking_clamp) [Cost Warnings]
            "A resistor that burns what braking motors feed back. Without it heavy servo axes push the voltage up.";
    };
    found.extend(rest);
    found
}
