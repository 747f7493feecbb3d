//! Step four: what commands the machine, what protects it, its wiring and the mains.

use super::{Choice, Figure, Kind, rows};
use crate::build::value::{NumberKind, NumberUnit, Value};
use crate::catalogue::{Id, PartKind, Step};
use crate::units::{self, Time};
use crate::words::Words;

crate::words! {
    /// Which ends of an axis have switches.
    LimitEnds {
        HomeOnly = "home-end", "home end only", "One switch an axis: the far end is kept by software once the machine is homed.";
        Both = "both-ends", "both ends", "A switch at each end: stops the axis even before homing.";
    }
}

crate::words! {
    /// How the machine is stopped in an emergency.
    EmergencyStop {
        None = "none", "none", "No emergency stop: nothing stops a runaway.";
        Input = "software-input", "button to controller", "Software decides whether to stop: it may hang.";
        HardWired = "hard-wired", "hard-wired, cuts power", "A latching button that drops a contactor in the power path.";
    }
}

crate::words! {
    /// Type of the residual-current device before the machine (IEC 60755, IEC 62423).
    ResidualType {
        Ac = "type-ac", "type AC", "Sees alternating fault current only: blind behind an inverter.";
        A = "type-a", "type A", "Sees pulsating current too: the least behind a single-phase inverter.";
        F = "type-f", "type F", "Made for single-phase inverters.";
        B = "type-b", "type B", "Sees smooth direct current too: needed behind three-phase inverters.";
    }
}

crate::words! {
    /// Trip curve of the breaker (IEC 60898-1).
    BreakerCurve {
        B = "curve-b", "curve B", "Trips at 3 to 5 times its rating: the usual one in homes.";
        C = "curve-c", "curve C", "Trips at 5 to 10 times: bears the start of motors.";
        D = "curve-d", "curve D", "Trips at 10 to 20 times: needs a strong supply.";
    }
}

crate::words! {
    /// Which circuit a load hangs on.
    OnCircuit {
        First = "first", "first circuit", "The circuit of the socket beside the machine.";
        Second = "second", "second circuit", "Another breaker's circuit: on another fuse, not only another socket.";
    }
}

crate::words! {
    /// How the cabinet stands, and so which of its sides shed heat (IEC 60890).
    Mounting {
        Wall = "on-wall", "on a wall", "Its back sheds no heat.";
        Free = "free-standing", "free standing", "All sides shed heat.";
    }
}

crate::words! {
    /// How the controller lets an axis speed up and slow down.
    RampShape {
        Trapezoid = "trapezoid", "trapezoid", "The whole acceleration at once: quickest, but every start and stop is a small blow to the frame.";
        SRamp = "s-ramp", "S-ramp", "The acceleration builds up and fades: gentler on frame and motors, a little slower.";
    }
}

/// The choices of the control step.
#[derive(Clone, Debug, PartialEq)]
pub struct Control {
    /// Motion controller.
    pub controller: Id,
    /// How it lets an axis speed up and slow down.
    pub ramp: RampShape,
    /// Time in which the acceleration of an S-ramp builds up.
    pub build_up: Time,
    /// Computer beside it.
    pub computer: Option<Id>,
    /// Program for tool paths that is paid by the year.
    pub cam_licence: Option<Id>,
    /// Whether the link is isolated by a part of its own.
    pub isolator: bool,
    /// Limit and home switches.
    pub switch: Id,
    /// Which ends have one.
    pub limit_ends: LimitEnds,
    /// Whether paired Y motors are homed each on its own.
    pub home_each_side: bool,
    /// Emergency stop.
    pub emergency_stop: EmergencyStop,
    /// No-volt release.
    pub no_volt_release: bool,
    /// Cable to the motors.
    pub motor_cable: Id,
    /// Cable to the switches.
    pub switch_cable: Id,
    /// Cable to the spindle.
    pub spindle_cable: Id,
    /// Cable chain.
    pub chain: Id,
    /// Cabinet.
    pub cabinet: Id,
    /// Its fan.
    pub fan: Option<Id>,
    /// How the cabinet stands.
    pub mounting: Mounting,
    /// Circuit of the spindle.
    pub spindle_circuit: OnCircuit,
    /// Circuit of the extractor.
    pub extractor_circuit: OnCircuit,
    /// Circuit of the motors' supply and of mains-fed drivers.
    pub motor_circuit: OnCircuit,
    /// Circuit of controller and cabinet fan.
    pub controller_circuit: OnCircuit,
    /// Circuit of the computer.
    pub computer_circuit: OnCircuit,
    /// Circuit of the spindle's cooler.
    pub cooler_circuit: OnCircuit,
    /// Circuit of the cutting coolant.
    pub coolant_circuit: OnCircuit,
    /// Circuit of a tool changer's compressor.
    pub compressor_circuit: OnCircuit,
    /// Whether the spindle runs while everything else does.
    pub spindle_at_once: bool,
    /// Whether the extractor does.
    pub extractor_at_once: bool,
    /// Whether the cutting coolant does.
    pub coolant_at_once: bool,
    /// Whether the compressor does.
    pub compressor_at_once: bool,
    /// Trip curve of the breakers.
    pub curve: BreakerCurve,
    /// Residual-current device.
    pub residual: ResidualType,
    /// Mains filter.
    pub filter: bool,
    /// Second protective conductor.
    pub second_earth: bool,
}

impl Default for Control {
    fn default() -> Self {
        let id = |text: &str| Id::new(text).unwrap_or_else(|error| unreachable!("{error}"));
        Self {
            controller: id("controller-ethernet-4"),
            ramp: RampShape::Trapezoid,
            build_up: units::s::of(0.05),
            computer: Some(id("computer-shop-pc")),
            cam_licence: Some(id("cam-licence")),
            isolator: false,
            switch: id("switch-inductive-npn-nc"),
            limit_ends: LimitEnds::HomeOnly,
            home_each_side: true,
            emergency_stop: EmergencyStop::HardWired,
            no_volt_release: true,
            motor_cable: id("cable-motor-4x1.0-shielded-flex"),
            switch_cable: id("cable-signal-4x0.34-shielded-flex"),
            spindle_cable: id("cable-4x1.5-shielded-flex"),
            chain: id("chain-25x57"),
            cabinet: id("cabinet-steel-600x400"),
            fan: Some(id("fan-50")),
            mounting: Mounting::Wall,
            spindle_circuit: OnCircuit::First,
            extractor_circuit: OnCircuit::Second,
            motor_circuit: OnCircuit::First,
            controller_circuit: OnCircuit::First,
            computer_circuit: OnCircuit::First,
            cooler_circuit: OnCircuit::First,
            coolant_circuit: OnCircuit::First,
            compressor_circuit: OnCircuit::First,
            spindle_at_once: true,
            extractor_at_once: true,
            coolant_at_once: true,
            compressor_at_once: true,
            curve: BreakerCurve::C,
            residual: ResidualType::F,
            filter: false,
            second_earth: true,
        }
    }
}

/// The rows of this step.
pub(super) fn rows() -> Vec<Choice> {
    rows! { Control;
        part "controller" "Controller" (control.controller) {&[PartKind::Controller]} [Cost RapidX Warnings]
            "Turns the job into step pulses. It needs an axis for each motor that moves on its own, enough inputs, and pulses fast enough.";
        word "ramp" "Speed ramp" (control.ramp) {RampShape} [Warnings]
            "How the controller starts and stops an axis. An S-ramp shakes the frame less and takes longer over short moves.";
        number "build_up_s" "S-ramp builds up" (control.build_up) {s Second 0.001 2.0 0.01} [Warnings]
            "The time in which the acceleration of an S-ramp reaches its full value. Longer is gentler and slower; a trapezoid has none.";
        optional "computer" "Computer" (control.computer) {&[PartKind::Computer], "none, or one in hand"} [Cost Mains Warnings]
            "The computer beside the machine. Stand-alone controllers need none; parallel ports need an old one.";
        optional "cam_licence" "Tool-path program" (control.cam_licence) {&[PartKind::Licence], "none, or a free one"} [Cost]
            "The program that makes tool paths from a drawing. Many are paid by the year: the first year is on the bill, every further one is running cost.";
        flag "link_isolator" "Isolated link" (control.isolator) [Cost Warnings]
            "An isolator in a USB line. Without it an inverter's noise can break the connection in mid-cut.";
        part "switch" "Limit switches" (control.switch) {&[PartKind::Switch]} [Cost Warnings]
            "Tell the controller where an axis begins. Normally closed ones notice a broken wire; the type must fit the inputs.";
        word "limit_ends" "Switches at" (control.limit_ends) {LimitEnds} [Cost Cables Warnings]
            "Whether each axis has a switch at its home end only, or at both.";
        flag "home_each_side" "Home both Y sides" (control.home_each_side) [Cost Cables Warnings]
            "A switch for each of two Y motors, so that the gantry squares itself at every start.";
        word "emergency_stop" "Emergency stop" (control.emergency_stop) {EmergencyStop} [Cost Warnings]
            "The red button. It must cut the power by itself, not ask the software.";
        flag "no_volt_release" "No-volt release" (control.no_volt_release) [Cost Warnings]
            "Keeps the machine off when power comes back after an outage, until somebody starts it.";
        part "motor_cable" "Motor cable" (control.motor_cable) {&[PartKind::Cable]} [Cost Warnings]
            "Four cores to each motor. Thin ones get hot, unshielded ones disturb the switches, stiff ones break in a chain.";
        part "switch_cable" "Switch cable" (control.switch_cable) {&[PartKind::Cable]} [Cost Warnings]
            "Thin cores to each switch. Shielded and made for chains.";
        part "spindle_cable" "Spindle cable" (control.spindle_cable) {&[PartKind::Cable]} [Cost Warnings]
            "From inverter to spindle: the noisiest cable of all. Shield on both ends, earth core inside.";
        part "chain" "Cable chain" (control.chain) {&[PartKind::Chain]} [Cost Warnings]
            "Carries the cables to what moves. Its bend must suit the thickest cable, and it must not be stuffed.";
        part "cabinet" "Cabinet" (control.cabinet) {&[PartKind::Cabinet]} [Heat Cost Warnings]
            "Keeps chips and fingers away from live parts, and sheds the heat. Metal ones shield and can be earthed.";
        optional "fan" "Cabinet fan" (control.fan) {&[PartKind::Fan], "none"} [Heat Cost]
            "Moves filtered air through the cabinet. Hot inverters switch off in mid-cut.";
        word "cabinet_mounting" "Cabinet stands" (control.mounting) {Mounting} [Heat]
            "Whether its back lies on a wall or has air behind it. A box in the open sheds a little more heat.";
        word "spindle_circuit" "Spindle hangs on" (control.spindle_circuit) {OnCircuit} [Mains Cost Warnings]
            "The circuit that feeds the spindle. A second one carries as much again, if it really is another breaker's.";
        word "extractor_circuit" "Extractor hangs on" (control.extractor_circuit) {OnCircuit} [Mains Cost Warnings]
            "The circuit that feeds the extractor: after the spindle the hungriest load.";
        word "motor_circuit" "Motors hang on" (control.motor_circuit) {OnCircuit} [Mains Cost Warnings]
            "The circuit that feeds the motors' supply, and drivers that the mains feed.";
        word "controller_circuit" "Control hangs on" (control.controller_circuit) {OnCircuit} [Mains Cost Warnings]
            "The circuit that feeds the controller and the cabinet's fan. Little current, but it must stay up to stop the rest.";
        word "computer_circuit" "Computer hangs on" (control.computer_circuit) {OnCircuit} [Mains Cost Warnings]
            "The circuit that feeds the computer and its screen.";
        word "cooler_circuit" "Cooler hangs on" (control.cooler_circuit) {OnCircuit} [Mains Cost Warnings]
            "The circuit that feeds the pump of a water-cooled spindle.";
        word "coolant_circuit" "Coolant hangs on" (control.coolant_circuit) {OnCircuit} [Mains Cost Warnings]
            "The circuit that feeds the pump or compressor of the cutting coolant.";
        word "compressor_circuit" "Compressor is on" (control.compressor_circuit) {OnCircuit} [Mains Cost Warnings]
            "The circuit that feeds the compressor of a tool-changing spindle.";
        flag "spindle_at_once" "Spindle at once" (control.spindle_at_once) [Mains Warnings]
            "Whether the spindle runs while everything else does. Loads that say no take turns: on each circuit only the largest of them counts.";
        flag "extractor_at_once" "Extractor at once" (control.extractor_at_once) [Mains Warnings]
            "Whether the extractor runs while everything else does. Say no for two loads that never run together, such as coolant and extractor.";
        flag "coolant_at_once" "Coolant at once" (control.coolant_at_once) [Mains Warnings]
            "Whether the cutting coolant runs while everything else does. Say no here and at the load that it takes turns with.";
        flag "compressor_at_once" "Compressor at once" (control.compressor_at_once) [Mains Warnings]
            "Whether a tool changer's compressor runs while everything else does. It takes turns only if a switch makes it.";
        word "breaker_curve" "Breaker curve" (control.curve) {BreakerCurve} [Warnings]
            "How much starting current the breaker lets pass. Ask your electrician before changing one.";
        word "residual_type" "Residual device" (control.residual) {ResidualType} [Cost Warnings]
            "The device that cuts power when current leaks to earth, and saves lives. Inverters blind the simple types.";
        flag "mains_filter" "Mains filter" (control.filter) [Cost Warnings]
            "Keeps the inverter's noise out of the house wiring. It leaks a little current to earth.";
        flag "second_earth" "Second earth" (control.second_earth) [Cost Warnings]
            "A second protective conductor, firmly connected. Needed where filters leak more than 3.5 mA.";
    }
}
