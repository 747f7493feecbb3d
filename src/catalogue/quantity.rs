//! Quantity rules: how many of the small things a machine takes, and why. They are data,
//! so that a builder can see and change them; what they count is measured on the machine.

use rust_decimal::Decimal;
use serde::{Deserialize, Deserializer};

use super::Step;
use super::amounts::{how_many, yes};
use super::part::Id;
use super::text::Text;
use crate::money;

crate::words! {
    /// What a quantity rule counts on the machine.
    Count {
        Machine = "machine", "machine", "Once for the machine.";
        Motor = "motor", "motors", "Every axis motor.";
        Driver = "driver", "drivers", "Every motor driver.";
        Screw = "screw", "screws", "Every ball or lead screw.";
        ScrewToTurn = "screw-to-turn", "screws to be turned", "Every screw that is cut from stock; one that is sold by the piece has its ends and its nut.";
        BallNut = "ball-nut", "ball nuts", "Every ball nut.";
        PreloadedNut = "preloaded-nut", "preloaded nuts", "Every ball nut, where preloaded nuts are chosen.";
        Rack = "rack", "racks", "Every rack or belt drive.";
        Reduction = "reduction", "reductions", "Every rack or belt drive with a reduction above one.";
        RailHoleM4 = "rail-hole-m4", "M4 rail holes", "Holes of rails bolted with M4.";
        RailHoleM5 = "rail-hole-m5", "M5 rail holes", "Holes of rails bolted with M5.";
        RailHoleM6 = "rail-hole-m6", "M6 rail holes", "Holes of rails bolted with M6.";
        CarriageScrewM4 = "carriage-screw-m4", "M4 carriage screws", "Four for each carriage with M4 threads.";
        CarriageScrewM5 = "carriage-screw-m5", "M5 carriage screws", "Four for each carriage with M5 threads.";
        CarriageScrewM6 = "carriage-screw-m6", "M6 carriage screws", "Four for each carriage with M6 threads.";
        CarriageScrewM8 = "carriage-screw-m8", "M8 carriage screws", "Four for each carriage with M8 threads.";
        FrameJoint = "frame-joint", "frame joints", "Two for each steel member: one at each end.";
        FramePart = "frame-part", "frame parts", "Every steel member: each wants an earth strap.";
        SteelArea = "steel-area-m2", "m² of steel", "Outer surface of all tubes, for paint.";
        TubeCut = "tube-cut", "tube cuts", "One for each steel member, where the seller saws.";
        OwnSaw = "own-saw", "own saws", "One where whole bars are bought.";
        PlatePiece = "plate-piece", "plates", "Every aluminium plate to be cut and drilled.";
        PrintedPart = "printed-part", "printed parts", "Every printed part.";
        OwnPrint = "own-print", "parts printed at home", "Every printed part, where a printer of your own makes it.";
        PrinterToBuy = "printer-to-buy", "printers to buy", "One where a printer is bought for the machine.";
        ServicePrint = "service-print-kg", "kg printed by a service", "Mass of the printed parts, where a service prints them.";
        EpoxyBed = "epoxy-bed-l", "litres of bedding", "Epoxy under the rails, where that seat is chosen.";
        ShimmedRail = "shimmed-rail", "shimmed rails", "Rails seated on shims, where that seat is chosen.";
        MachinedRail = "machined-rail", "machined seats", "Rails seated on machined pads, where that seat is chosen.";
        ThreadStrip = "thread-strip-m", "m of thread strip", "Steel strip behind the X and Y rails, where it is chosen.";
        Switch = "switch", "switches", "Every limit and home switch.";
        Cable = "cable", "cables into the cabinet", "Every cable that enters the cabinet.";
        NumberedRun = "numbered-run", "runs of the wiring sheet", "Every cable and wire that has a number on the wiring sheet.";
        CoreEnd = "core-end", "clamped core ends", "Both ends of every core; none at a plug or on a lug.";
        Terminal = "terminal", "terminals in use", "Every terminal of the strips in the cabinet that a wire lands on.";
        CabinetWire = "cabinet-wire-m", "m of cabinet wire", "Single wires in the cabinet, all cores of all runs within it.";
        Connector = "connector", "detachable ends", "Every motor, switch and spindle that can be unplugged.";
        Chain = "chain", "chains", "Every cable chain.";
        Vfd = "vfd", "inverters", "Every frequency inverter.";
        VfdChoke = "vfd-choke", "line chokes", "One where a line choke is chosen.";
        MainsFilter = "mains-filter", "mains filters", "One where a mains filter is chosen.";
        WaterHose = "water-hose-m", "m of water hose", "Twice the spindle's route and two metres, for water cooling.";
        Water = "water", "water circuits", "One for a water-cooled spindle.";
        Antifreeze = "antifreeze", "antifreeze fills", "One where antifreeze is chosen.";
        CoolantLitre = "coolant-l", "litres of coolant", "What the cooler's circuit holds.";
        EmergencyStop = "emergency-stop", "emergency stops", "One where an emergency stop is chosen.";
        HardWiredStop = "hard-wired-stop", "circuits cut by the stop", "Every mains circuit that the emergency stop cuts by itself, none where it asks a program.";
        NoVoltRelease = "no-volt-release", "no-volt releases", "One where it is chosen: it holds the contactors of a hard-wired stop; without such, one for each circuit that it cuts.";
        ResidualA = "residual-a", "type A devices", "One for each circuit, where residual-current type A is chosen; none at a socket of North America.";
        ResidualF = "residual-f", "type F devices", "One for each circuit, where residual-current type F is chosen; none at a socket of North America.";
        ResidualB = "residual-b", "type B devices", "One for each circuit, where residual-current type B is chosen; none at a socket of North America.";
        GroundFault = "ground-fault", "ground-fault interrupters", "One for each circuit, at a socket of North America.";
        ReinforcedEarth = "reinforced-earth", "second earths", "One where a second protective conductor is chosen.";
        MovingBridge = "moving-bridge", "moving bridges", "Every moving part that wants an earth lead.";
        BrakingClamp = "braking-clamp", "braking resistors", "One where a braking resistor is chosen.";
        Isolator = "isolator", "isolators", "One where a link isolator is chosen.";
        SecondCircuit = "second-circuit", "second circuits", "One where a second circuit is used.";
        NewCircuit = "new-circuit", "circuits to be laid", "One where a second circuit is used, and nobody found one that is there.";
        DustHose = "dust-hose-m", "m of dust hose", "The route to the spindle and a metre, with an extractor.";
        Extractor = "extractor", "extractors", "One where an extractor is chosen.";
        HoseEarth = "hose-earth", "earthed hoses", "One where the hose is earthed.";
        MetalBin = "metal-bin", "metal bins", "One where metal and wood have bins of their own.";
        Bed = "bed-m2", "m² of table", "The working area, for wasteboards.";
        Shank = "shank", "shank sizes", "Every shank diameter among the usual tool and the first end mills: each wants its collet.";
        ToolSet = "tool-set", "starter sets", "One where a starter set of end mills is chosen.";
        HandTools = "hand-tools", "workshops without tools", "One where hand tools are bought.";
        FireWatch = "fire-watch", "fire-watch sets", "One where smoke alarm and extinguisher are chosen.";
        Protection = "protection", "sets of protection", "One for each person where eye and ear protection is chosen.";
        SpareSet = "spare-set", "spare sets", "One where spares are chosen.";
        TappedHole = "tapped-hole", "tapped holes", "Every tapped hole in the frame: taps and drills wear.";
        ToolChange = "tool-change", "tool changers", "One for a tool-changing spindle.";
        HomeSensorPair = "home-pair", "home pairs", "One where paired motors are homed each on its own.";
        Computer = "computer", "computers", "One where a computer is chosen.";
    }
}

/// One quantity rule: `each` for every one counted, and `plus` where any is counted, and a
/// spare share on top; then whole packs.
#[derive(Clone, Debug, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct QuantityRule {
    /// The part to buy.
    pub part: Id,
    /// The step it belongs to.
    pub step: Step,
    /// What is counted.
    pub per: Count,
    /// How many for each counted.
    #[serde(deserialize_with = "how_many")]
    pub each: Decimal,
    /// How many besides, where any is counted.
    #[serde(default, deserialize_with = "how_many")]
    pub plus: Decimal,
    /// Spares, in percent of the rest.
    #[serde(default, deserialize_with = "spares")]
    pub spare_percent: Decimal,
    /// Whether the first cut waits for it. What makes work nicer or is for later says no; what
    /// keeps people from harm never does.
    #[serde(default = "yes")]
    pub first_cut: bool,
    /// Whether one workshop takes it once, however many machines are built together: a drill
    /// does, a drill's worth of screws doesn't.
    #[serde(default)]
    pub shared: bool,
    /// Why this many, in words.
    pub why: Text,
    /// Where the rule comes from.
    pub source: Text,
}

fn spares<'de, D: Deserializer<'de>>(d: D) -> Result<Decimal, D::Error> {
    money::amount_within(d, Decimal::ZERO, Decimal::new(1000, 0))
}
