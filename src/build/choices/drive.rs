//! Step two: rails, screws, motors and their drivers.

use super::{Choice, Figure, Kind, id, rows};
use crate::build::PerAxis;
use crate::build::value::{NumberKind, Value};
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
    /// Whether a resistor takes up braking energy.
    pub braking_clamp: bool,
}

impl Default for Drive {
    fn default() -> Self {
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
                (concat!("The rail and carriages that guide ", $name, ": they carry the load and keep the axis straight."))
                "A small size tilts and wears under a heavy tool. A large one costs more and drags more; size 15 carries a light machine.";
            count (concat!("carriages_", $letter)) (concat!("Carriages a rail ", $name)) (drive.carriages.$axis) {1.0 4.0 1.0} [Cost $mass Warnings]
                (concat!("How many carriages run on each ", $name, " rail: two or more apart from each other keep the axis from rocking."))
                "One alone lets the axis rock. More than two need a very straight seat, or they work against each other.";
            maybe (concat!("rail_length_", $letter, "_mm")) (concat!("Rail in hand, ", $name)) (drive.rail_length.$axis) {mm 50.0 20000.0 10.0 "cut to need"} [Warnings]
                (concat!("The length of each ", $name, " rail that you have already: the plan takes it as it is, the bill still counts it until you mark there how much is in hand."))
                "Too short a rail shortens the travel. A number that you did not measure does so when it is too late.";
            part (concat!("drive_", $letter)) (concat!("Drive ", $name)) (drive.drive.$axis) {LinearDrive::KINDS} [$rapid Cost $thrust $step]
                (concat!("What turns the motor into travel of ", $name, ": its lead, the distance for one turn, trades speed for thrust."))
                "A long lead pushes less and steps coarser; a short one is slow, unless its nut may turn faster. Long thin screws whip.";
            maybe (concat!("screw_length_", $letter, "_mm")) (concat!("Screw in hand, ", $name)) (drive.screw_length.$axis) {mm 50.0 20000.0 10.0 "cut to need"} [$rapid Warnings]
                (concat!("The length of thread, without the ends, of each ", $name, " screw that you have already: the plan takes it as it is, the bill still counts it until you mark there how much is in hand."))
                "Too short a screw shortens the travel. Too long a one whips earlier than it need.";
            word (concat!("ends_", $letter)) (concat!("Screw ends ", $name)) (drive.ends.$axis) {ScrewEnds} [$rapid Cost]
                (concat!("How the two ends of the ", $name, " screw are held: firmer ends let it turn faster before it whips."))
                "A loose end whips at half the speed or less. Racks and belts have no such ends, so it changes nothing there.";
            part (concat!("motor_", $letter)) (concat!("Motor ", $name)) (drive.motor.$axis) {Motor::KINDS} [$rapid $thrust Cost Supply]
                (concat!("What turns the ", $name, " drive: it sets how hard and how fast the axis can push."))
                "Too weak and the axis stalls. More holding torque is not more speed: inductance and supply voltage decide that.";
            part (concat!("coupling_", $letter)) (concat!("Coupling ", $name)) (drive.coupling.$axis) {&[PartKind::Coupling]} [Warnings Cost]
                (concat!("What joins the motor's shaft to the screw end of ", $name, ", and takes up what is not quite in line."))
                "A bore that does not fit slips, or does not go on. A soft one lets the axis lag behind.";
            part (concat!("driver_", $letter)) (concat!("Driver ", $name)) (drive.driver.$axis) {&[PartKind::Driver]} [$rapid Cost]
                (concat!("The electronics that send current to the ", $name, " motor in step with the controller's pulses."))
                "Too little current and the motor is weak. Too little room above the supply's voltage, and braking destroys the driver.";
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
            "The drive on the other side of the gantry, where two sides push it."
            "It should be the same: another lead moves its side another way and tears the gantry askew.";
        word "gantry_drive" "Drive along Y" (drive.gantry) {GantryDrive} [Cost RapidY ThrustY Warnings]
            "Whether one drive in the centre or one on each side moves the gantry along Y."
            "A wide gantry on one drive racks: one side lags behind, and corners come out askew. Two cost a motor, a driver and a screw more.";
        number "carriage_joint_percent" "Carriage joints" (drive.joint_factor) {percent 5.0 100.0 5.0} [StiffnessY StiffnessX StiffnessZ]
            "How much of a carriage's catalogue rigidity is left on your frame, where screws, seat and tube wall give too: a third leaves 100 to 200 N/µm at size 15 (common practice, from memory)."
            "Set too high, the program promises a stiffer machine than you will build.";
        flag "preloaded_nuts" "Preloaded nuts" (drive.preloaded_nuts) [Cost StiffnessX Warnings]
            "Whether the screws' nuts are preloaded, which takes all play out of them."
            "A nut without preload moves a few hundredths of a millimetre before it pushes back: circles get a small step or flat in four places.";
        flag "stretched_screws" "Stretched screws" (drive.stretched_screws) [Warnings]
            "Whether screws with both ends fixed are pulled tight, so that warming does not buckle them."
            "A screw held at both ends and not stretched bows as it warms, and whips.";
        number "reduction" "Reduction" (drive.reduction) {share 1.0 20.0 0.5} [RapidX RapidY StepX Cost]
            "How many turns the motor makes for one of the pinion or pulley; screws take none."
            "Racks and belts without one take coarse steps and push weakly: 3 to 5 is usual. Too much of it makes them slow.";
        one_of "microsteps" "Microsteps" (drive.microsteps) {MICROSTEPS} [RapidX StepX Warnings]
            "Into how many parts the driver splits a full step of the motor: it smooths the motion."
            "Too few and the machine hums and shakes. Too many ask for more pulses than the controller can make; none make it more exact.";
        number "current_percent" "Driver current" (drive.current_share) {percent 20.0 100.0 5.0} [ThrustX RapidX Supply]
            "The current that the drivers are set to, as a share of the motor's rating."
            "Less runs cooler and weaker. The full rating without air around the motor can soften a printed mount.";
        number "working_share_percent" "Torque share used" (drive.working_share) {percent 10.0 95.0 5.0} [ThrustX RapidX RapidY]
            "How much of the torque at which a stepper stalls you dare to use: a half is usual (common practice)."
            "Above that, a dull tool or a dry rail makes it lose steps without noticing, and the piece is scrap.";
        number "closed_loop_share_percent" "Closed-loop share" (drive.closed_loop_share) {percent 10.0 95.0 5.0} [ThrustX RapidX RapidY]
            "The same for closed-loop steppers, which notice when they fall behind, and catch up or stop: so more may be used."
            "Set too high, the machine stops in mid-cut: beyond the torque at which they stall they stop all the same.";
        part "supply" "Motor supply" (drive.supply) {&[PartKind::Supply]} [RapidX RapidY Supply Cost]
            "What makes direct current for the drivers out of the mains; more volts keep the motors' torque at speed."
            "Too few volts and the rapids are slow. Too many destroy drivers, and warm the motors.";
        count "supply_count" "Number of supplies" (drive.supply_count) {1.0 4.0 1.0} [Supply Cost]
            "How many of these supplies share the motors."
            "Too few and the voltage sags. Wired to one strip they work in parallel, which only supplies made for it bear; else each must feed drivers of its own.";
        flag "braking_clamp" "Braking resistor" (drive.braking_clamp) [Cost Warnings]
            "A resistor that burns what braking motors send back into the supply."
            "Without it heavy axes push the voltage up as they stop, until drivers or the supply switch off or die.";
    };
    found.extend(rest);
    found
}
