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
            motor: three("stepper-23-3.0", "stepper-23-3.0", "stepper-23-1.9"),
            coupling: three("coupling-8x10", "coupling-8x10", "coupling-8x10"),
            driver: three("driver-80v-6a", "driver-80v-6a", "driver-80v-6a"),
            gantry: GantryDrive::EachSide,
            preloaded_nuts: true,
            stretched_screws: false,
            reduction: units::share::of(1.0),
            microsteps: 8,
            current_share: units::percent::of(100.0),
            working_share: units::percent::of(50.0),
            supply: id("supply-48v-600w"),
            supply_count: 1,
            braking_clamp: false,
        }
    }
}

rows! { Drive;
    part "guide_x" "Rails X" (drive.guide.x) {&[PartKind::Carriage]} [Cost MassX]
        "Rail and carriages of X. Size 15 carries a light machine; wide carriages tilt less; larger ones drag more.";
    count "carriages_x" "Carriages a rail X" (drive.carriages.x) {1.0 4.0 1.0} [Cost MassX Warnings]
        "How many carriages run on each X rail. One alone lets the axis rock.";
    maybe "rail_length_x_mm" "Rail in hand, X" (drive.rail_length.x) {mm Millimetre 50.0 20000.0 10.0 "cut to need"} [Warnings]
        "Length of X rail that you have already, if any. Too short a rail shortens the travel.";
    part "drive_x" "Drive X" (drive.drive.x) {LinearDrive::KINDS} [RapidX Cost ThrustX StepX]
        "What turns the motor into travel of X. A longer lead is faster, pushes less and steps coarser; long thin screws whip.";
    maybe "screw_length_x_mm" "Screw in hand, X" (drive.screw_length.x) {mm Millimetre 50.0 20000.0 10.0 "cut to need"} [RapidX Warnings]
        "Threaded length of the X screw that you have already, if any.";
    word "ends_x" "Screw ends X" (drive.ends.x) {ScrewEnds} [RapidX Cost]
        "How the X screw is held. Firmer ends let it turn faster before it whips; it does not matter for racks and belts.";
    part "motor_x" "Motor X" (drive.motor.x) {Motor::KINDS} [RapidX ThrustX Cost Supply]
        "What turns the X drive. More holding torque is not more speed: inductance and supply voltage decide that.";
    part "coupling_x" "Coupling X" (drive.coupling.x) {&[PartKind::Coupling]} [Warnings Cost]
        "What joins motor shaft and screw end of X. Its two bores must fit both.";
    part "driver_x" "Driver X" (drive.driver.x) {&[PartKind::Driver]} [RapidX Cost]
        "The electronics that feed the X motor. It must give the motor's current and bear the supply's voltage with room to spare.";
    part "guide_y" "Rails Y" (drive.guide.y) {&[PartKind::Carriage]} [Cost MassY]
        "Rail and carriages of Y. Size 15 carries a light machine; wide carriages tilt less; larger ones drag more.";
    count "carriages_y" "Carriages a rail Y" (drive.carriages.y) {1.0 4.0 1.0} [Cost MassY Warnings]
        "How many carriages run on each Y rail. One alone lets the axis rock.";
    maybe "rail_length_y_mm" "Rail in hand, Y" (drive.rail_length.y) {mm Millimetre 50.0 20000.0 10.0 "cut to need"} [Warnings]
        "Length of Y rail that you have already, if any. Too short a rail shortens the travel.";
    part "drive_y" "Drive Y" (drive.drive.y) {LinearDrive::KINDS} [RapidY Cost ThrustY StepY]
        "What turns the motor into travel of Y. A longer lead is faster, pushes less and steps coarser; long thin screws whip.";
    optional "drive_y2" "Second drive Y" (drive.second_drive) {LinearDrive::KINDS, "the same"} [RapidY Cost Warnings]
        "The drive on the other side of the gantry. It should be the same: different leads tear the gantry askew.";
    maybe "screw_length_y_mm" "Screw in hand, Y" (drive.screw_length.y) {mm Millimetre 50.0 20000.0 10.0 "cut to need"} [RapidY Warnings]
        "Threaded length of the Y screw that you have already, if any.";
    word "ends_y" "Screw ends Y" (drive.ends.y) {ScrewEnds} [RapidY Cost]
        "How the Y screw is held. Firmer ends let it turn faster before it whips; it does not matter for racks and belts.";
    part "motor_y" "Motor Y" (drive.motor.y) {Motor::KINDS} [RapidY ThrustY Cost Supply]
        "What turns the Y drive. More holding torque is not more speed: inductance and supply voltage decide that.";
    part "coupling_y" "Coupling Y" (drive.coupling.y) {&[PartKind::Coupling]} [Warnings Cost]
        "What joins motor shaft and screw end of Y. Its two bores must fit both.";
    part "driver_y" "Driver Y" (drive.driver.y) {&[PartKind::Driver]} [RapidY Cost]
        "The electronics that feed the Y motor. It must give the motor's current and bear the supply's voltage with room to spare.";
    part "guide_z" "Rails Z" (drive.guide.z) {&[PartKind::Carriage]} [Cost MassZ]
        "Rail and carriages of Z. Size 15 carries a light machine; wide carriages tilt less; larger ones drag more.";
    count "carriages_z" "Carriages a rail Z" (drive.carriages.z) {1.0 4.0 1.0} [Cost MassZ Warnings]
        "How many carriages run on each Z rail. One alone lets the axis rock.";
    maybe "rail_length_z_mm" "Rail in hand, Z" (drive.rail_length.z) {mm Millimetre 50.0 20000.0 10.0 "cut to need"} [Warnings]
        "Length of Z rail that you have already, if any. Too short a rail shortens the travel.";
    part "drive_z" "Drive Z" (drive.drive.z) {LinearDrive::KINDS} [RapidZ Cost ThrustZ StepZ]
        "What turns the motor into travel of Z. A longer lead is faster, pushes less and steps coarser; long thin screws whip.";
    maybe "screw_length_z_mm" "Screw in hand, Z" (drive.screw_length.z) {mm Millimetre 50.0 20000.0 10.0 "cut to need"} [RapidZ Warnings]
        "Threaded length of the Z screw that you have already, if any.";
    word "ends_z" "Screw ends Z" (drive.ends.z) {ScrewEnds} [RapidZ Cost]
        "How the Z screw is held. Firmer ends let it turn faster before it whips; it does not matter for racks and belts.";
    part "motor_z" "Motor Z" (drive.motor.z) {Motor::KINDS} [RapidZ ThrustZ Cost Supply]
        "What turns the Z drive. More holding torque is not more speed: inductance and supply voltage decide that.";
    part "coupling_z" "Coupling Z" (drive.coupling.z) {&[PartKind::Coupling]} [Warnings Cost]
        "What joins motor shaft and screw end of Z. Its two bores must fit both.";
    part "driver_z" "Driver Z" (drive.driver.z) {&[PartKind::Driver]} [RapidZ Cost]
        "The electronics that feed the Z motor. It must give the motor's current and bear the supply's voltage with room to spare.";
    word "gantry_drive" "Drive along Y" (drive.gantry) {GantryDrive} [Cost RapidY ThrustY Warnings]
        "Whether one drive in the centre or one on each side moves the gantry. A wide gantry on one drive racks.";
    flag "preloaded_nuts" "Preloaded nuts" (drive.preloaded_nuts) [Cost Warnings]
        "Nuts without play. A single nut moves a few hundredths before it pushes back.";
    flag "stretched_screws" "Stretched screws" (drive.stretched_screws) [Warnings]
        "Whether screws with both ends fixed are pulled tight, so that warming does not buckle them.";
    number "reduction" "Reduction" (drive.reduction) {share Plain 1.0 20.0 0.5} [RapidX RapidY StepX Cost]
        "Turns of the motor for one of the pinion or pulley. Racks want 3 to 5, or steps are coarse and the push weak; screws take none.";
    count "microsteps" "Microsteps" (drive.microsteps) {1.0 256.0 1.0} [StepX Warnings]
        "Into how many parts the driver splits a full step. It smooths motion; it does not make it exact.";
    number "current_percent" "Driver current" (drive.current_share) {percent Percent 20.0 100.0 5.0} [ThrustX RapidX Supply]
        "What the drivers are set to, as a share of the motor's rating. Less runs cooler and weaker.";
    number "working_share_percent" "Torque share used" (drive.working_share) {percent Percent 10.0 95.0 5.0} [ThrustX RapidX RapidY]
        "How much of the torque at which a stepper stalls you dare to use. A half is usual; it does not notice a lost step.";
    part "supply" "Motor supply" (drive.supply) {&[PartKind::Supply]} [RapidX RapidY Supply Cost]
        "Feeds the drivers. More volts keep torque at speed, up to what drivers and motors bear.";
    count "supply_count" "Number of supplies" (drive.supply_count) {1.0 4.0 1.0} [Supply Cost]
        "How many of these supplies share the motors.";
    flag "braking_clamp" "Clamp for braking" (drive.braking_clamp) [Cost Warnings]
        "A resistor that burns what braking motors feed back. Without it heavy servo axes push the voltage up.";
}
