//! What the quantity rules count, measured on one machine.

use rust_decimal::Decimal;
use rust_decimal::prelude::FromPrimitive;

use crate::build::choices::control::{EmergencyStop, ResidualType};
use crate::build::choices::working_area::{PrintsFrom, RailSeat, TubeSupply};
use crate::build::{Axis, Picked};
use crate::catalogue::frame::RunEnd;
use crate::catalogue::quantity::Count;
use crate::catalogue::site::EarthProtection;
use crate::catalogue::spindle::{Cooling, SpindleKind};
use crate::catalogue::{LinearDrive, Part};
use crate::machine::Machine;
use crate::machine::section::Section;
use crate::machine::terminals;
use crate::machine::wiring::is_cut;
use crate::machine::wiring::lead::{Lead, Purpose};
use crate::units::{self, Length, Mass};

/// How many of what a rule counts this machine has.
pub fn count(picked: &Picked, machine: &Machine, what: Count) -> Decimal {
    let build = picked.build;
    let geometry = &machine.geometry;
    let whole = |count: u32| Decimal::from(count);
    let once = |yes: bool| Decimal::from(u32::from(yes));
    let drives = || {
        let each = Axis::EACH.iter().flat_map(|&axis| picked.drives(axis));
        each.map(|drive| drives_like(picked, &drive, what)).sum()
    };
    let motors: u32 = Axis::EACH.iter().map(|&axis| picked.motors(axis)).sum();
    let circuits = machine.electrics.circuits.len() as u32;
    let stands_before = |what| once(picked.site.earth_protection == what) * whole(circuits);
    let residual = |kind| {
        once(build.control.residual == kind) * stands_before(EarthProtection::ResidualDevice)
    };
    let water = picked.spindle.cooling == Cooling::Water;
    match what {
        Count::Machine => Decimal::ONE,
        Count::Motor | Count::Driver => whole(motors),
        Count::Screw
        | Count::ScrewToTurn
        | Count::BallNut
        | Count::PreloadedNut
        | Count::Rack
        | Count::Reduction => drives(),
        Count::RailHoleM4 => rail_holes(picked, machine, 4.0),
        Count::RailHoleM5 => rail_holes(picked, machine, 5.0),
        Count::RailHoleM6 => rail_holes(picked, machine, 6.0),
        Count::CarriageScrewM4 => carriage_screws(picked, machine, 4.0),
        Count::CarriageScrewM5 => carriage_screws(picked, machine, 5.0),
        Count::CarriageScrewM6 => carriage_screws(picked, machine, 6.0),
        Count::CarriageScrewM8 => carriage_screws(picked, machine, 8.0),
        Count::FrameJoint => members(machine) * Decimal::TWO,
        Count::FramePart => members(machine),
        Count::TubeCut => {
            once(build.area.tube_supply == TubeSupply::CutToLength) * members(machine)
        }
        Count::OwnSaw => once(build.area.tube_supply == TubeSupply::WholeBars),
        Count::SteelArea => once(build.area.paint) * steel_area(picked, machine),
        Count::PlatePiece => whole(geometry.plates.iter().map(|plate| plate.pieces).sum()),
        Count::PrintedPart => prints(machine),
        Count::OwnPrint => once(build.area.prints_from != PrintsFrom::Service) * prints(machine),
        Count::PrinterToBuy => once(build.area.prints_from == PrintsFrom::PrinterToBuy),
        Count::ServicePrint => {
            let mass = units::kg::from(printed_mass(picked, machine));
            once(build.area.prints_from == PrintsFrom::Service) * decimal(mass)
        }
        Count::EpoxyBed => {
            once(build.area.rail_seat == RailSeat::EpoxyBed) * epoxy(picked, machine)
        }
        Count::ShimmedRail => {
            once(build.area.rail_seat == RailSeat::Shims) * whole(rails_on_tube(machine))
        }
        Count::MachinedRail => {
            once(build.area.rail_seat == RailSeat::MachinedPads) * whole(rails_on_tube(machine))
        }
        Count::ThreadStrip => once(build.area.thread_strips) * strips(machine),
        Count::Switch => whole(switches(machine)),
        Count::NumberedRun => whole((geometry.runs.len() + machine.leads.len()) as u32),
        Count::Cable => {
            let entering = machine.leads.iter().filter(|lead| lead.enters());
            whole((geometry.runs.len() + entering.count()) as u32)
        }
        Count::CoreEnd => {
            let planned = geometry.runs.iter().map(|run| run.ferrules());
            let others = machine.leads.iter().map(|lead| lead.ferrules());
            whole(planned.chain(others).sum())
        }
        Count::Terminal => whole(terminals::bought(picked, machine) as u32),
        Count::CabinetWire => metres(machine.leads.iter().map(|lead| lead.wire()).sum()),
        Count::Connector => whole(geometry.runs.len() as u32),
        Count::Chain => whole(geometry.chains.len() as u32),
        Count::Vfd => once(picked.vfd.is_some()),
        Count::VfdChoke => once(build.spindle.choke && picked.vfd.is_some()),
        Count::MainsFilter => once(build.control.filter),
        Count::Water => once(water),
        Count::WaterHose => once(water) * metres(spindle_route(machine) * 2.0 + units::m::of(2.0)),
        Count::Antifreeze => once(build.spindle.antifreeze && water),
        Count::CoolantLitre => picked.cooler.map_or(Decimal::ZERO, |cooler| {
            decimal(units::cm3::from(cooler.coolant) / 1000.0)
        }),
        Count::EmergencyStop => once(build.control.emergency_stop != EmergencyStop::None),
        Count::HardWiredStop => stop_circuits(picked, machine),
        Count::NoVoltRelease => releases(picked, machine),
        Count::ResidualA => residual(ResidualType::A),
        Count::ResidualF => residual(ResidualType::F),
        Count::ResidualB => residual(ResidualType::B),
        Count::GroundFault => stands_before(EarthProtection::GroundFault),
        Count::ReinforcedEarth => once(build.control.second_earth),
        Count::MovingBridge => {
            let of = |lead: &&Lead| lead.purpose == Purpose::BridgeEarth;
            whole(machine.leads.iter().filter(of).count() as u32)
        }
        Count::BrakingClamp => once(build.drive.braking_clamp),
        Count::Isolator => once(build.control.isolator),
        Count::SecondCircuit => once(circuits > 1),
        Count::NewCircuit => {
            let circuits = machine.electrics.circuits.iter();
            whole(circuits.filter(|circuit| !circuit.there).count() as u32)
        }
        Count::Extractor => once(picked.extractor.is_some()),
        Count::DustHose => {
            once(picked.extractor.is_some()) * metres(spindle_route(machine) + units::m::of(1.0))
        }
        Count::HoseEarth => once(build.extras.earthed_hose && picked.extractor.is_some()),
        Count::MetalBin => once(build.extras.separate_bins),
        Count::Bed => once(build.extras.wasteboard) * decimal(units::m2::from(geometry.bed)),
        Count::Shank => shanks(picked),
        Count::ToolSet => once(build.extras.starter_tools),
        Count::HandTools => once(build.extras.hand_tools),
        Count::FireWatch => once(build.extras.fire_watch),
        Count::Protection => whole(build.extras.protection_sets),
        Count::SpareSet => once(build.extras.spares),
        Count::TappedHole => Axis::EACH.iter().map(|&axis| holes(machine, axis)).sum(),
        Count::ToolChange => once(picked.spindle.kind == SpindleKind::ToolChanger),
        Count::HomeSensorPair => once(build.control.home_each_side && picked.motors(Axis::Y) > 1),
        Count::Computer => once(picked.computer.is_some()),
    }
}

/// One where a drive is of the kind that a rule counts, else nothing.
pub(super) fn drives_like(picked: &Picked, drive: &LinearDrive, what: Count) -> Decimal {
    let choices = &picked.build.drive;
    let ball = matches!(drive, LinearDrive::Ball(_));
    let fits = match what {
        Count::Screw => drive.is_screw(),
        Count::ScrewToTurn => drive.is_screw() && piece_of(picked, drive.part()).is_none(),
        Count::BallNut => ball,
        Count::PreloadedNut => ball && choices.preloaded_nuts,
        Count::Rack => !drive.is_screw(),
        Count::Reduction => !drive.is_screw() && choices.reduction > units::share::of(1.0),
        _ => false,
    };
    Decimal::from(u32::from(fits))
}

/// The piece that a part is sold by, where it is not sold by the measure. A screw that is sold so
/// comes with its nut and with its ends turned.
pub(super) fn piece_of(picked: &Picked, part: &dyn Part) -> Option<Decimal> {
    let (_, offer) = picked.catalogue.offer_of(part.id())?;
    offer.pack.filter(|piece| !piece.is_zero())
}

/// A decimal from a computed quantity, to the thousandth.
pub fn decimal(value: f64) -> Decimal {
    // Turning binary fractions into decimals is slow. Where the thousandths are beyond doubt,
    // they are counted instead; close to a half, or where numbers get large, the decimals decide.
    let thousandths = value * 1000.0;
    if 1e-3 < value && value < 1e6 {
        let near = thousandths.round();
        if near / 1000.0 == value {
            return thousandths_in_few_digits(near as i64);
        }
        let below = thousandths.floor();
        let rest = thousandths - below;
        if (0.01..0.49).contains(&rest) || (0.51..0.99).contains(&rest) {
            return Decimal::new(below as i64 + i64::from(rest > 0.5), 3);
        }
    }
    Decimal::from_f64(value).unwrap_or_default().round_dp(3)
}

/// So many thousandths, without zeros at the end.
fn thousandths_in_few_digits(thousandths: i64) -> Decimal {
    let (mut digits, mut scale) = (thousandths, 3);
    while scale > 0 && digits % 10 == 0 {
        (digits, scale) = (digits / 10, scale - 1);
    }
    Decimal::new(digits, scale)
}

fn metres(length: Length) -> Decimal {
    decimal(units::m::from(length))
}

/// Mounting holes of an axis's rails.
fn holes(machine: &Machine, axis: Axis) -> Decimal {
    let cut = &machine.geometry.rails[axis];
    Decimal::from(cut.holes()) * Decimal::from(cut.rails)
}

/// Circuits that the contactor parts, be it that of the stop or that of a no-volt release.
fn cut_circuits(picked: &Picked, machine: &Machine) -> Decimal {
    let circuits = machine.electrics.circuits.iter();
    let cut = circuits.filter(|one| is_cut(picked, &machine.electrics, one.which));
    Decimal::from(cut.count())
}

fn stop_circuits(picked: &Picked, machine: &Machine) -> Decimal {
    match picked.build.control.emergency_stop {
        EmergencyStop::HardWired => cut_circuits(picked, machine),
        EmergencyStop::Input | EmergencyStop::None => Decimal::ZERO,
    }
}

/// A release beside a hard-wired stop holds the coils of its contactors; one that stands alone
/// parts one circuit.
fn releases(picked: &Picked, machine: &Machine) -> Decimal {
    let control = &picked.build.control;
    match (control.no_volt_release, control.emergency_stop) {
        (false, _) => Decimal::ZERO,
        (true, EmergencyStop::HardWired) => Decimal::ONE,
        (true, EmergencyStop::Input | EmergencyStop::None) => {
            cut_circuits(picked, machine).max(Decimal::ONE)
        }
    }
}

/// What of a count is for the runs to inverters and to drivers that are fed by the mains: other
/// options bring those in place of other runs. Of terminals the least, see
/// [`terminals::least_bought`].
pub(super) fn to_feeds(picked: &Picked, machine: &Machine, what: Count) -> Decimal {
    let feeds = |lead: &&Lead| {
        matches!(
            lead.purpose,
            Purpose::DriverMains | Purpose::InverterIn | Purpose::SpindleSignals
        )
    };
    let leads = machine.leads.iter().filter(feeds);
    match what {
        Count::CoreEnd => Decimal::from(leads.map(|lead| lead.ferrules()).sum::<u32>()),
        Count::NumberedRun => Decimal::from(leads.count()),
        Count::CabinetWire => metres(leads.map(|lead| lead.wire()).sum()),
        Count::Terminal => {
            let numbers: Vec<usize> = leads.map(|lead| lead.number).collect();
            let theirs = |run| numbers.contains(&run);
            decimal(terminals::least_bought(picked, machine, theirs))
        }
        _ => Decimal::ZERO,
    }
}

fn same_thread(thread: Length, millimetres: f64) -> bool {
    (units::mm::from(thread) - millimetres).abs() < 0.1
}

fn rail_holes(picked: &Picked, machine: &Machine, thread: f64) -> Decimal {
    let of = |axis: &&Axis| same_thread(picked.axes[**axis].rail.screw, thread);
    Axis::EACH
        .iter()
        .filter(of)
        .map(|&axis| holes(machine, axis))
        .sum()
}

fn carriage_screws(picked: &Picked, machine: &Machine, thread: f64) -> Decimal {
    let of = |axis: &&Axis| same_thread(picked.axes[**axis].carriage.screw, thread);
    Axis::EACH
        .iter()
        .filter(of)
        .map(|&axis| Decimal::from(machine.geometry.rails[axis].carriages) * Decimal::from(4))
        .sum()
}

/// Steel members, each sawn off once.
pub(super) fn members(machine: &Machine) -> Decimal {
    let members = machine.geometry.members.iter();
    members.map(|member| Decimal::from(member.pieces)).sum()
}

/// Rails that lie on steel tube: X and Y; those of Z lie on the plate.
fn rails_on_tube(machine: &Machine) -> u32 {
    let rails = &machine.geometry.rails;
    rails.x.rails + rails.y.rails
}

/// Strips behind the rails of X and Y, in metres.
fn strips(machine: &Machine) -> Decimal {
    let rails = &machine.geometry.rails;
    let each = [rails.x, rails.y].map(|cut| units::m::from(cut.length) * f64::from(cut.rails));
    decimal(each.iter().sum())
}

fn prints(machine: &Machine) -> Decimal {
    let prints = machine.geometry.prints.iter();
    Decimal::from(prints.map(|print| print.pieces).sum::<u32>())
}

/// Mass of all printed parts of one machine.
pub fn printed_mass(picked: &Picked, machine: &Machine) -> Mass {
    let prints = machine.geometry.prints.iter();
    prints
        .map(|print| print.mass(picked.filament.density) * f64::from(print.pieces))
        .sum()
}

/// Different diameters among the shanks of the usual tool and of the first end mills, where
/// those are bought.
fn shanks(picked: &Picked) -> Decimal {
    let mut found = vec![picked.tool.shank];
    if picked.build.extras.starter_tools {
        let catalogue = picked.catalogue;
        let rules = catalogue.quantities.iter();
        for rule in rules.filter(|rule| rule.per == Count::ToolSet) {
            let tool = catalogue.sundries.get(&rule.part);
            found.extend(tool.and_then(|tool| tool.shank));
        }
    }
    let mut sizes: Vec<i64> = found
        .into_iter()
        // To a hundredth of a millimetre: 6.35 and 6 want two collets.
        .map(|shank| (units::mm::from(shank) * 100.0).round() as i64)
        .collect();
    sizes.sort_unstable();
    sizes.dedup();
    Decimal::from(sizes.len())
}

/// Limit and home switches, all axes together.
pub(super) fn switches(machine: &Machine) -> u32 {
    machine
        .geometry
        .switches
        .iter()
        .map(|(_, count)| count)
        .sum()
}

/// Outer surface of every tube, in m².
fn steel_area(picked: &Picked, machine: &Machine) -> Decimal {
    let each = machine.geometry.members.iter().map(|member| {
        let tube = picked
            .catalogue
            .tubes
            .get(&member.tube)
            .unwrap_or(picked.base_tube);
        let surface = Section::of(tube).outline() * member.length;
        units::m2::from(surface) * f64::from(member.pieces)
    });
    decimal(each.sum())
}

/// A bed 3 mm thick under every rail on tube, as wide as its foot, in litres.
fn epoxy(picked: &Picked, machine: &Machine) -> Decimal {
    let each = [Axis::X, Axis::Y].into_iter().map(|axis| {
        let cut = &machine.geometry.rails[axis];
        let bed = picked.axes[axis].rail.foot_width * cut.length * units::mm::of(3.0);
        units::cm3::from(bed) * f64::from(cut.rails) / 1000.0
    });
    decimal(each.sum())
}

fn spindle_route(machine: &Machine) -> Length {
    let run = machine
        .geometry
        .runs
        .iter()
        .find(|run| run.to == RunEnd::Spindle);
    run.map_or(units::m::of(0.0), |run| run.way)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn quantities_have_the_digits_of_the_general_conversion() {
        // Whole numbers, few digits, halves of a thousandth, and fractions without an end.
        let over = [
            1.0, 3.0, 7.0, 10.0, 64.0, 100.0, 1000.0, 2000.0, 1e4, 65_536.0, 1e9,
        ];
        for digits in (0..20_000i64).chain((1..2_000).map(|step| step * 7_654_321)) {
            for divisor in over {
                for value in [digits as f64 / divisor, -(digits as f64) / divisor] {
                    let known = Decimal::from_f64(value).unwrap_or_default().round_dp(3);
                    assert_eq!(decimal(value).serialize(), known.serialize(), "{value}");
                }
            }
        }
        for odd in [f64::NAN, f64::INFINITY, 1e300, 1e-300, 5e8 + 0.3] {
            let known = Decimal::from_f64(odd).unwrap_or_default().round_dp(3);
            assert_eq!(decimal(odd).serialize(), known.serialize(), "{odd}");
        }
    }
}
