//! Step one: how large, out of what, for what, and where it stands.

use super::{Choice, Figure, Kind, id, rows};
use crate::build::value::{NumberKind, Value};
use crate::build::{Axis, PerAxis};
use crate::catalogue::{Id, PartKind, Step};
use crate::money::Money;
use crate::units::{self, Acceleration, Force, Length, Ratio, Time, Velocity};
use crate::words::Words;

crate::words! {
    /// How the rails are seated on the tubes.
    RailSeat {
        RawTube = "raw-tube", "straight on the tube", "The rail follows the tube's bow and twist: 0.15 % of the length is allowed by the standard.";
        Shims = "shims", "shimmed", "Thin strips under each screw, set with a dial gauge: slow but cheap.";
        EpoxyBed = "epoxy-bed", "epoxy bed", "Self-levelling epoxy poured on the tube: flat without a machine shop.";
        MachinedPads = "machined-pads", "machined pads", "Welded pads milled flat in one set-up: the best and dearest seat.";
    }
}

crate::words! {
    /// How steel tube is bought.
    TubeSupply {
        CutToLength = "cut-to-length", "cut to length", "The seller saws: you pay each metre and each cut, and nothing is left over.";
        WholeBars = "whole-bars", "whole bars", "You saw: you pay for whole bars, keep the offcuts, and need a saw that cuts square.";
    }
}

crate::words! {
    /// Who prints the printed parts.
    PrintsFrom {
        OwnPrinter = "own-printer", "a printer you have", "You pay plastic, power and wear.";
        PrinterToBuy = "printer-to-buy", "a printer to buy", "The printer goes on the bill, and stays in the workshop for the next project.";
        Service = "printing-service", "a printing service", "You send the models and pay by the gram: dearer by far than plastic, far cheaper than a printer.";
    }
}

crate::words! {
    /// What the builder has built before.
    Experience {
        FirstBuild = "first-build", "this is my first", "Plan a quarter in reserve, and avoid what needs tuning.";
        Some = "some", "I have built one", "You know which parts get forgotten.";
        Many = "many", "I have built several", "The program keeps beginners' hints to itself.";
    }
}

crate::words! {
    /// Whether a second circuit is at the machine.
    SecondCircuit {
        Usual = "as-usual", "not looked at", "The program counts on what is usual at such a socket: look before you buy.";
        There = "there", "there is one", "A socket in reach hangs on another breaker: switch one off, and the other still works. Then none is laid.";
        Laid = "to-be-laid", "one will be laid", "A licensed electrician lays one: it is on the bill as soon as something hangs on it.";
        Missing = "none", "there is none", "All sockets in reach hang on one breaker, so all loads do.";
    }
}

/// The working area, the frame, the site and the wishes.
#[derive(Clone, Debug, PartialEq)]
pub struct WorkingArea {
    /// The wall socket.
    pub site: Id,
    /// Whether a second circuit is at the machine.
    pub second_circuit: SecondCircuit,
    /// Where the goods are delivered to.
    pub destination: Id,
    /// Tax on sales there, where it differs from the usual one.
    pub tax: Option<Ratio>,
    /// How many machines are built together.
    pub machines: u32,
    /// X, Y and Z travel.
    pub travel: PerAxis<Length>,
    /// Free height under the beam.
    pub clearance: Length,
    /// The frame plan.
    pub frame: Id,
    /// The tube of the beam.
    pub beam_tube: Id,
    /// The tube of everything else.
    pub base_tube: Id,
    /// How tube is bought.
    pub tube_supply: TubeSupply,
    /// Width of the saw's cut.
    pub saw_kerf: Length,
    /// What is cut off at each end of a new bar.
    pub end_trim: Length,
    /// Plate for Z and the carriages.
    pub plate: Id,
    /// Printing material.
    pub filament: Id,
    /// Who prints the printed parts.
    pub prints_from: PrintsFrom,
    /// How far the beam's ends are from hinged (0) to clamped (1).
    pub end_fixity: Ratio,
    /// How the rails are seated.
    pub rail_seat: RailSeat,
    /// Whether steel strips inside the tubes take the rails' screws.
    pub thread_strips: bool,
    /// What is to be cut.
    pub materials: Vec<Id>,
    /// How exact parts must come out.
    pub tolerance: Length,
    /// The tallest stock.
    pub stock_height: Length,
    /// Wanted rapids of X and Y.
    pub rapid_wish: Velocity,
    /// Wanted rapids of Z.
    pub rapid_wish_z: Velocity,
    /// Wanted cutting feed.
    pub cutting_feed: Velocity,
    /// Wanted acceleration.
    pub acceleration: Acceleration,
    /// The cutting force that the axes must push.
    pub cutting_force: Force,
    /// Room for the machine, in the machine's X direction.
    pub room_x: Length,
    /// Room in the machine's Y direction.
    pub room_y: Length,
    /// Narrowest door on the way.
    pub door: Length,
    /// Whether the room can freeze.
    pub freezes: bool,
    /// Whether the frame is painted.
    pub paint: bool,
    /// Hours of cutting on a working day.
    pub hours_a_day: Time,
    /// Working days a year.
    pub days_a_year: u32,
    /// What may be spent.
    pub budget: Option<Money>,
    /// What is put aside for it every month.
    pub monthly_budget: Option<Money>,
    /// Money kept back, as a share of the cost.
    pub reserve: Ratio,
    /// What the builder has built before.
    pub experience: Experience,
}

impl Default for WorkingArea {
    fn default() -> Self {
        Self {
            site: id("site-230v-16a"),
            second_circuit: SecondCircuit::Usual,
            destination: id("destination-eu"),
            tax: None,
            machines: 1,
            travel: PerAxis {
                x: units::mm::of(600.0),
                y: units::mm::of(600.0),
                z: units::mm::of(120.0),
            },
            clearance: units::mm::of(120.0),
            frame: id("raised-sides"),
            beam_tube: id("tube-80x80x4"),
            base_tube: id("tube-80x80x4"),
            tube_supply: TubeSupply::CutToLength,
            saw_kerf: units::mm::of(2.0),
            end_trim: units::mm::of(10.0),
            plate: id("plate-25"),
            filament: id("filament-asa"),
            prints_from: PrintsFrom::OwnPrinter,
            end_fixity: units::percent::of(67.0),
            rail_seat: RailSeat::EpoxyBed,
            thread_strips: false,
            materials: vec![id("softwood"), id("plywood")],
            tolerance: units::mm::of(0.1),
            stock_height: units::mm::of(50.0),
            rapid_wish: units::m_per_min::of(6.0),
            rapid_wish_z: units::m_per_min::of(3.0),
            cutting_feed: units::m_per_min::of(3.0),
            acceleration: units::m_per_s2::of(0.5),
            cutting_force: units::n::of(100.0),
            room_x: units::mm::of(2500.0),
            room_y: units::mm::of(2500.0),
            door: units::mm::of(800.0),
            freezes: false,
            paint: true,
            hours_a_day: units::hour::of(2.0),
            days_a_year: 50,
            budget: None,
            monthly_budget: None,
            reserve: units::percent::of(25.0),
            experience: Experience::FirstBuild,
        }
    }
}

/// Share of the cutting feed with which a tool goes down into the stock (common practice).
const PLUNGE_SHARE: f64 = 1.0 / 3.0;

impl WorkingArea {
    /// Wanted feed of an axis while cutting: Z plunges with a third of it.
    pub fn wanted_feed(&self, axis: Axis) -> Velocity {
        if axis == Axis::Z {
            self.cutting_feed * PLUNGE_SHARE
        } else {
            self.cutting_feed
        }
    }

    /// Wanted rapids of an axis.
    pub fn wanted_rapids(&self, axis: Axis) -> Velocity {
        if axis == Axis::Z {
            self.rapid_wish_z
        } else {
            self.rapid_wish
        }
    }
}

/// The rows of this step.
pub(super) fn rows() -> Vec<Choice> {
    rows! { WorkingArea;
        part "site" "Wall socket" (area.site) {&[PartKind::Site]} [Mains Cost Warnings]
            "The socket and breaker that feed the machine: they cap how much power spindle, motors and extractor may draw together."
            "A socket that is too weak trips in mid-cut and ruins the piece. Read the breaker in your own fuse box before you pick.";
        word "second_circuit" "Second circuit" (area.second_circuit) {SecondCircuit} [Cost Warnings]
            "Whether a second socket behind another breaker is in reach of the machine: it carries as much again."
            "If nobody looks, the extractor is planned on a circuit that is not there. Two sockets on one breaker are one circuit.";
        number "travel_x_mm" "Travel X" (area.travel.x) {mm 50.0 10000.0 50.0} [Cost RapidX MassX Footprint Cables]
            "How far the tool reaches along the beam: with the other two travels it decides how large a piece you can cut."
            "Too little and the work does not fit. Too much costs rail, screw and stiffness: a beam twice as long bends eight times as far.";
        number "travel_y_mm" "Travel Y" (area.travel.y) {mm 50.0 10000.0 50.0} [Cost RapidY MassY Footprint Cables]
            "How far the tool reaches from front to back: it decides how long a piece you can cut."
            "Too little and the work does not fit. Too much needs long screws, and those whip, which slows the rapids.";
        number "travel_z_mm" "Travel Z" (area.travel.z) {mm 20.0 10000.0 10.0} [Cost RapidZ MassZ]
            "How far the tool moves up and down: it must clear the stock with the longest tool clamped."
            "Too little and tall stock does not pass under the tool. Too much makes the spindle hang far out and vibrate.";
        number "clearance_mm" "Height under beam" (area.clearance) {mm 20.0 10000.0 10.0} [Mass Footprint Warnings]
            "The free height between table and beam, which the stock must pass."
            "Too low and the work hits the beam. Too high and the tall uprights bend under the cut.";
        part "frame_plan" "Frame plan" (area.frame) {&[PartKind::Frame]} [Cost Mass Footprint MassY]
            "The layout of the frame: which parts stand still and which travel, and so how much mass each axis moves."
            "A layout that moves much mass is slow, or asks for larger motors. It cannot be changed once the tubes are cut.";
        part "beam_tube" "Beam tube" (area.beam_tube) {&[PartKind::Tube]} [StiffnessY Mass Cost MassY]
            "The steel tube across the machine that carries the tool; its bending and twisting are a large part of what gives, more the longer it is."
            "A slender one lets the tool shiver and leave marks. A larger side stiffens far more than a thicker wall.";
        part "base_tube" "Base tube" (area.base_tube) {&[PartKind::Tube]} [Mass Cost StiffnessY]
            "The steel tube of sides, cross members and uprights, on which the rails are screwed."
            "Too narrow and the rail's foot hangs over its flat. Too weak and the frame twists when the gantry moves.";
        word "tube_supply" "How tube is bought" (area.tube_supply) {TubeSupply} [Cost]
            "Whether the seller saws the tubes for so much a cut, or you buy whole bars and saw them yourself."
            "A saw that does not cut square makes a frame that is not square. The list of cuts shows what either way costs.";
        number "saw_kerf_mm" "Saw cut width" (area.saw_kerf) {mm 0.0 10.0 0.1} [Cost]
            "The width that the saw turns to chips at each cut: about 1 mm with a band saw, 2 to 3 mm with a disc (common practice)."
            "Set too small, the last piece of a bar comes out short. It counts only where you saw whole bars.";
        number "end_trim_mm" "Bar end cut off" (area.end_trim) {mm 0.0 500.0 1.0} [Cost]
            "What is cut off at each end of a new bar, since the mill's ends are rough and not square: about 10 mm (common practice)."
            "Without it a piece starts at a crooked end. Set too large, you pay for steel that goes to scrap.";
        part "plate" "Plate" (area.plate) {&[PartKind::Plate]} [StiffnessY MassZ Cost]
            "The aluminium plate that the Z axis and the gantry are made of: it holds the spindle upright."
            "Thin plate lets the spindle nod under the cut. Thick plate must be moved by the motors.";
        part "filament" "Printing material" (area.filament) {&[PartKind::Filament]} [Cost Warnings]
            "The plastic that brackets and mounts are printed from: motors get warm, and it must stay hard."
            "A plastic that softens lets the motor sag, and its screw or belt runs askew.";
        word "prints_from" "Who prints parts" (area.prints_from) {PrintsFrom} [Cost]
            "Who prints the brackets and mounts: you on your own printer, you on one that you buy, or a printing service."
            "Without a printer the parts are missing when you want to assemble. A service costs far more than the plastic.";
        number "beam_ends_percent" "Beam end fixity" (area.end_fixity) {percent 0.0 100.0 5.0} [StiffnessY StiffnessZ StiffnessX]
            "How firmly the beam's ends are held: 0 is a hinge, 100 a clamp that never turns; 67 makes the beam half as soft as on hinges (common practice)."
            "Set too high, the program promises stiffness that bolted joints do not give.";
        word "rail_seat" "Seat of the rails" (area.rail_seat) {RailSeat} [Cost Warnings]
            "How the rails get a straight seat on a tube that is neither straight nor flat."
            "On a bad seat the carriages jam or wear out early, and the tool follows every bow of the tube.";
        flag "thread_strips" "Thread strips" (area.thread_strips) [Cost Warnings MassY]
            "Flat steel inside the tubes behind the rails, tapped together with the wall, so that the rails' screws hold."
            "Without it, screws tear out of a wall that is too thin. With it, each strip must be pushed into its tube before that is closed.";
        parts "materials" "What you cut" (area.materials) {PartKind::Material} [Warnings]
            "The materials that you want to cut: the hardest decides how stiff and strong the machine must be."
            "Leave one out and the machine may not cut it. Wood and boards ask for dust extraction as well.";
        number "tolerance_mm" "Wanted accuracy" (area.tolerance) {mm 0.005 5.0 0.01} [Warnings]
            "How exact parts must come out: it decides which play in nuts, rails and switches is too much."
            "Asked too fine, it makes everything dearer. Asked too coarse, lids and joints will not fit.";
        number "stock_height_mm" "Tallest stock" (area.stock_height) {mm 1.0 2000.0 5.0} [Warnings]
            "The tallest piece that you want to lay on the table."
            "Set too low, the real piece does not pass under the beam with the tool above it.";
        number "rapid_wish_m_per_min" "Wanted rapids X, Y" (area.rapid_wish) {m_per_min 0.5 200.0 1.0} [Warnings]
            "The speed between cuts that you will set in the controller for X and Y: it shortens every job with many moves."
            "Set above what a screw or motor bears, the screw whips or the motor stalls. Set low, you only wait longer.";
        number "rapid_wish_z_m_per_min" "Wanted rapids Z" (area.rapid_wish_z) {m_per_min 0.1 200.0 0.5} [Warnings]
            "The speed up and down that you will set in the controller; Z moves short ways, so half of X and Y is usual."
            "Set above what the Z motor bears, the axis stalls and the tool digs into the piece.";
        number "cutting_feed_m_per_min" "Cutting feed" (area.cutting_feed) {m_per_min 0.05 100.0 0.5} [ThrustX ThrustY Warnings]
            "The speed of the tool through the material while it cuts."
            "Too slow and the edge rubs and burns. Too fast and the motors, which lose force with speed, cannot push it.";
        number "acceleration_m_per_s2" "Acceleration" (area.acceleration) {m_per_s2 0.05 30.0 0.1} [RapidY RapidX Warnings]
            "How briskly an axis starts and stops: short moves never reach full speed without it."
            "Too much makes steppers lose steps and shakes the frame. Too little makes jobs with many corners slow.";
        number "cutting_force_n" "Cutting force" (area.cutting_force) {n 5.0 5000.0 10.0} [Warnings]
            "The thrust that the tool asks of an axis, in newtons: about 50 in softwood, 100 in hardwood and light cuts in aluminium, 200 and more in steel."
            "Set too low, the motors stall in the first hard cut. Set too high, you buy larger ones than you need.";
        number "room_x_mm" "Room, machine's X" (area.room_x) {mm 300.0 50000.0 100.0} [Warnings]
            "The floor that you have in the machine's left-right direction: the machine and you must both fit."
            "Too little room and you cannot walk past two sides of it, to clear chips or reach the stop button.";
        number "room_y_mm" "Room, machine's Y" (area.room_y) {mm 300.0 50000.0 100.0} [Warnings]
            "The floor that you have in the machine's front-back direction: the machine and you must both fit."
            "Too little room and the moving table or gantry hits the wall, or pins somebody against it.";
        number "door_mm" "Narrowest door" (area.door) {mm 300.0 10000.0 50.0} [Warnings]
            "The narrowest door on the way in, which the largest welded piece must pass."
            "A welded frame that does not pass stays outside, or is cut apart again.";
        flag "room_freezes" "Room can freeze" (area.freezes) [Warnings]
            "Whether the room falls below zero in winter, when water in hoses turns to ice."
            "Frozen cooling water bursts a spindle from inside. If you say yes for nothing, you are told to buy antifreeze that you do not need.";
        flag "paint" "Paint the frame" (area.paint) [Cost]
            "Whether the frame is painted: bare steel rusts within weeks in a damp workshop."
            "Without it rust creeps under the rails. Paint on the rail seats is as bad, since it is never even: leave those bare.";
        number "hours_a_day" "Hours cut a day" (area.hours_a_day) {hour 0.1 24.0 0.5} [Energy Warnings]
            "How long you cut on a working day: it decides what running costs and how much noise reaches your ears."
            "Set too low, running costs and wear come as a surprise. Noise harms by level and time together.";
        count "days_a_year" "Days cut a year" (area.days_a_year) {0.0 366.0 5.0} [Energy]
            "On how many days a year the machine works: with the hours a day it decides what running costs."
            "Set too low, tools, filters and power for a year cost more than you were told.";
        part "destination" "Delivered to" (area.destination) {&[PartKind::Destination]} [Cost]
            "The country that the goods are delivered to, whose tax, duty and fees come on top of their price."
            "With the wrong one the total may be off by a third. The rates are general information as of their date: check them with your customs and tax office.";
        maybe "tax_percent" "Sales tax" (area.tax) {percent 0.0 50.0 0.5 "the usual one there"} [Cost]
            "The value-added or sales tax where you live, in place of the usual one of the destination."
            "A wrong rate makes every price of the bill wrong by as much.";
        count "machines" "Machines together" (area.machines) {1.0 50.0 1.0} [Cost]
            "How many of this machine are built together, as clubs do: packs, parcels and workshop tools are shared."
            "Cost and parts are those of all of them together. Left at more than one, the total looks far too high.";
        amount "monthly_budget" "Budget a month" (area.monthly_budget) [Warnings]
            "What you put aside every month, if you buy in stages: it puts orders off until the money is there."
            "Set too high, parts are ordered before you can pay them. Without it everything is ordered as soon as its turn comes.";
        amount "budget" "Budget" (area.budget) [Warnings]
            "What you may spend in all, such as 3500 EUR; the program then warns before the money is gone, not after."
            "Without one, nothing warns you. Many first machines stop halfway because the last quarter was never counted.";
        number "reserve_percent" "Reserve" (area.reserve) {percent 0.0 200.0 5.0} [Warnings]
            "Money kept back besides the cost for what nobody foresaw, as a share of it."
            "Without it one broken part stops the build. First builds need about a quarter (common practice).";
        word "experience" "Your experience" (area.experience) {Experience} [Warnings]
            "What you have built before: it decides which hints you get."
            "Claimed too high, the program keeps silent about what first-time builders forget.";
    }
}
