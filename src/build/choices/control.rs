//! Step four: what commands the machine, what protects it, its wiring and the mains.

use super::{Choice, Figure, Kind, id, rows};
use crate::build::value::{NumberKind, Value};
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
        C = "curve-c", "curve C", "Trips at 5 to 10 times its rating: bears the start of motors.";
        D = "curve-d", "curve D", "Trips at 10 to 20 times its rating: needs a strong supply.";
    }
}

crate::words! {
    /// Which circuit a load hangs on.
    OnCircuit {
        First = "first", "first circuit", "The circuit of the socket beside the machine.";
        Second = "second", "second circuit", "The circuit of another breaker, not only another socket of the same one.";
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
            "What turns the job into step pulses, and watches switches and stop button."
            "One with too few axes or inputs leaves a motor or switch without a place. Pulses that are too slow hold the rapids down.";
        word "ramp" "Speed ramp" (control.ramp) {RampShape} [Warnings]
            "How the controller lets an axis speed up and slow down."
            "A trapezoid gives the frame a small blow at every start. An S-ramp takes longer over short moves.";
        number "build_up_s" "S-ramp builds up" (control.build_up) {s 0.001 2.0 0.01} [Warnings]
            "The time in which the acceleration of an S-ramp reaches its full value; a trapezoid has none."
            "Too short and the frame is shaken as before. Too long and short moves crawl.";
        optional "computer" "Computer" (control.computer) {&[PartKind::Computer], "none, or one in hand"} [Cost Mains Warnings]
            "The computer beside the machine that sends it the job; stand-alone controllers need none."
            "One that pauses in mid-cut stops the tool in the material, where it burns. Parallel ports need an old one.";
        optional "cam_licence" "Tool-path program" (control.cam_licence) {&[PartKind::Licence], "none, or a free one"} [Cost]
            "The program that makes tool paths from a drawing; many are paid by the year."
            "Without one, a drawing cannot be cut. The first year is on the bill, every further one is running cost.";
        flag "link_isolator" "Isolated link" (control.isolator) [Cost Warnings]
            "A part in a USB line that lets data through but no current."
            "Without it an inverter's noise can break the connection in mid-cut.";
        part "switch" "Limit switches" (control.switch) {&[PartKind::Switch]} [Cost Warnings]
            "The switches that tell the controller where an axis begins and ends."
            "The wrong type does not work with the controller's inputs. One that is open at rest does not notice a broken wire.";
        word "limit_ends" "Switch positions" (control.limit_ends) {LimitEnds} [Cost Cables Warnings]
            "Whether each axis has a switch at its home end only, or at both ends."
            "With one, nothing but software keeps the far end, and only once the machine is homed.";
        flag "home_each_side" "Home both Y sides" (control.home_each_side) [Cost Cables Warnings]
            "A switch for each of two Y motors, so that the gantry squares itself at every start."
            "Without it a gantry that was pushed askew stays so, and rectangles come out slanted.";
        word "emergency_stop" "Emergency stop" (control.emergency_stop) {EmergencyStop} [Cost Warnings]
            "The red button that stops everything: it must cut the power by itself, not ask the software."
            "Software that hangs does not hear it, and the tool runs on. Then only the plug is left, or two of them on two circuits.";
        flag "no_volt_release" "No-volt release" (control.no_volt_release) [Cost Warnings]
            "A switch that keeps the machine off when power comes back after an outage, until somebody starts it."
            "Without it the tool starts by itself while a hand may be near.";
        part "motor_cable" "Motor cable" (control.motor_cable) {&[PartKind::Cable]} [Cost Warnings]
            "The four cores to each motor, most of which bend with the machine all day."
            "Thin ones get hot, unshielded ones disturb the switches, stiff ones break in a chain.";
        part "switch_cable" "Switch cable" (control.switch_cable) {&[PartKind::Cable]} [Cost Warnings]
            "The thin cores to each switch and sensor."
            "Without a shield the switches report what is not so. Not made for chains, they break where nobody sees it.";
        part "spindle_cable" "Spindle cable" (control.spindle_cable) {&[PartKind::Cable]} [Cost Warnings]
            "The cable from the inverter to the spindle, the noisiest of all: it needs a shield on both ends and an earth core inside."
            "Without them it disturbs switches and computer, and the spindle's body may bring a shock.";
        part "chain" "Cable chain" (control.chain) {&[PartKind::Chain]} [Cost Warnings]
            "What carries the cables to what moves, and keeps them from kinking."
            "A bend that is too tight breaks the thickest cable. Stuffed full, the cables rub through.";
        part "cabinet" "Cabinet" (control.cabinet) {&[PartKind::Cabinet]} [Heat Cost Warnings]
            "The box that keeps chips and fingers away from live parts, and sheds their heat."
            "Too small and it overheats. Plastic does not shield, and cannot be earthed.";
        optional "fan" "Cabinet fan" (control.fan) {&[PartKind::Fan], "none"} [Heat Cost]
            "What moves filtered air through the cabinet."
            "Without it hot inverters and supplies switch off in mid-cut, or die early.";
        word "cabinet_mounting" "Cabinet mounting" (control.mounting) {Mounting} [Heat]
            "Whether the cabinet's back lies on a wall or has air behind it, which sheds a little more heat."
            "If you say free standing and it hangs on a wall, it gets warmer than the program says.";
        word "spindle_circuit" "Spindle circuit" (control.spindle_circuit) {OnCircuit} [Mains Cost Warnings]
            "The circuit that feeds the spindle; a second one carries as much again, if it really has a breaker of its own."
            "On one that is full already, the breaker trips in the hardest cut.";
        word "extractor_circuit" "Extractor circuit" (control.extractor_circuit) {OnCircuit} [Mains Cost Warnings]
            "The circuit that feeds the extractor: after the spindle the hungriest load."
            "Spindle and extractor together are too much for many a socket. Two sockets on one breaker are one circuit.";
        word "motor_circuit" "Motor circuit" (control.motor_circuit) {OnCircuit} [Mains Cost Warnings]
            "The circuit that feeds the motors' supply, and drivers that run on the mains themselves."
            "On one that trips, the axes stop in mid-cut while the spindle may keep turning.";
        word "controller_circuit" "Controller circuit" (control.controller_circuit) {OnCircuit} [Mains Cost Warnings]
            "The circuit that feeds the controller and the cabinet's fan: little current, but it must stay up to stop the rest."
            "On one that trips, nobody is left to stop what still runs.";
        word "computer_circuit" "Computer circuit" (control.computer_circuit) {OnCircuit} [Mains Cost Warnings]
            "The circuit that feeds the computer and its screen."
            "On one that trips, the job is lost with the tool in the material.";
        word "cooler_circuit" "Cooler circuit" (control.cooler_circuit) {OnCircuit} [Mains Cost Warnings]
            "The circuit that feeds the pump of a water-cooled spindle."
            "On one that trips, the spindle runs hot unless something watches the flow.";
        word "coolant_circuit" "Coolant circuit" (control.coolant_circuit) {OnCircuit} [Mains Cost Warnings]
            "The circuit that feeds the pump or compressor of the cutting coolant."
            "A compressor on a full circuit trips it when it starts.";
        word "compressor_circuit" "Compressor circuit" (control.compressor_circuit) {OnCircuit} [Mains Cost Warnings]
            "The circuit that feeds the compressor of a tool-changing spindle."
            "A compressor on a full circuit trips it when it starts, in mid-cut.";
        flag "spindle_at_once" "Spindle adds up" (control.spindle_at_once) [Mains Warnings]
            "Whether the spindle runs while everything else does, so that its current adds up with the rest; of loads that say no, only the largest on each circuit counts."
            "If you say no and nothing makes it so, the breaker trips when both run after all.";
        flag "extractor_at_once" "Extractor adds up" (control.extractor_at_once) [Mains Warnings]
            "Whether the extractor runs while everything else does, so that its current adds up with the rest; say no for two loads that never run together, such as coolant and extractor."
            "If you say no to what does run with the spindle, the socket looks stronger than it is.";
        flag "coolant_at_once" "Coolant adds up" (control.coolant_at_once) [Mains Warnings]
            "Whether the cutting coolant runs while everything else does, so that its current adds up with the rest; say no here and at the load that it takes turns with."
            "If you say no to what does run with the rest, the socket looks stronger than it is.";
        flag "compressor_at_once" "Compressor adds up" (control.compressor_at_once) [Mains Warnings]
            "Whether a tool changer's compressor runs while everything else does, so that its current adds up with the rest."
            "It takes turns only if a switch makes it. If you say no without one, the breaker trips when it starts.";
        word "breaker_curve" "Breaker curve" (control.curve) {BreakerCurve} [Warnings]
            "How much starting current the breaker lets pass before it trips; the letters are those of IEC breakers, in North America ask the electrician."
            "Too quick, and every start of the spindle trips it. Too slow, and a fault may not: ask your electrician before changing one.";
        word "residual_type" "Residual device" (control.residual) {ResidualType} [Cost Warnings]
            "The device that cuts the power when current leaks to earth, and saves lives."
            "An inverter blinds the simple types: then it does not trip when it must. In North America it changes nothing: a ground-fault circuit interrupter (GFCI) stands on the bill in its place, which a licensed electrician fits as your local code asks.";
        flag "mains_filter" "Mains filter" (control.filter) [Cost Warnings]
            "What keeps the inverter's noise out of the house wiring."
            "Without it, radio and other devices in the house may be disturbed. It leaks a little current to earth all the time.";
        flag "second_earth" "Second earth" (control.second_earth) [Cost Warnings]
            "A second protective conductor, firmly connected, so that one broken wire leaves nobody without."
            "Filters can leak more than 3.5 mA: with one wire broken, that flows through whoever touches the frame.";
    }
}
