//! What asks for each part, before needs of one part are joined to a line: a search knows by
//! that which choices decide a need, and what it costs at least while others are open.

use rust_decimal::Decimal;

use super::list::List;
use super::{by_rules, lines};
use crate::build::{Axis, Picked};
use crate::catalogue::frame::RunEnd;
use crate::catalogue::{Part, Step};
use crate::explain::Silent;
use crate::machine::Machine;
use crate::machine::geometry::Geometry;
use crate::money::MoneyError;
use crate::units::Length;
use crate::words::Words as _;

/// What asks for a part.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash, PartialOrd, Ord)]
pub enum Source {
    /// The rails of an axis.
    Rails(Axis),
    /// Its carriages.
    Carriages(Axis),
    /// One of its drives: a screw, a rack or a belt.
    Drive(Axis, usize),
    /// What rules ask for one of its drives: a motor plate for a rack, preload for a nut.
    Fitting(Axis, usize),
    /// What holds the ends of that screw.
    Ends(Axis, usize),
    /// The coupling of that screw.
    Coupling(Axis, usize),
    /// Its motors.
    Motor(Axis),
    /// Their drivers.
    Driver(Axis),
    /// The motors' supply.
    Supply,
    /// The spindle.
    Spindle,
    /// Its inverter.
    Vfd,
    /// Its clamp.
    Clamp,
    /// Its cooler.
    Cooler,
    /// The usual tool.
    Tool,
    /// The controller.
    Controller,
    /// The computer.
    Computer,
    /// The licence of the program that makes tool paths.
    Licence,
    /// Limit and home switches.
    Switches,
    /// The cable to an end that the plan routes.
    Run(RunEnd),
    /// Cables for signals that no plan routes.
    Leads,
    /// Cable chains.
    Chains,
    /// The cabinet.
    Cabinet,
    /// Its fan.
    Fan,
    /// A quantity rule, by its place in the catalogue.
    Rule(usize),
    /// The same, for the runs to inverters and to drivers that are fed by the mains.
    Feeds(usize),
    /// Frame and extras.
    Rest,
}

impl Source {
    /// All but quantity rules.
    pub fn all() -> Vec<Self> {
        let mut all = Vec::new();
        for axis in Axis::EACH {
            all.extend([Self::Rails(axis), Self::Carriages(axis)]);
            for which in 0..2 {
                all.extend([Self::Drive(axis, which), Self::Ends(axis, which)]);
                all.extend([Self::Fitting(axis, which), Self::Coupling(axis, which)]);
            }
            all.extend([Self::Motor(axis), Self::Driver(axis)]);
        }
        all.extend([
            Self::Supply,
            Self::Spindle,
            Self::Vfd,
            Self::Clamp,
            Self::Cooler,
        ]);
        all.extend([Self::Tool, Self::Controller, Self::Computer, Self::Licence]);
        all.extend(RunEnd::ALL.iter().map(|&end| Self::Run(end)));
        all.extend([
            Self::Switches,
            Self::Leads,
            Self::Chains,
            Self::Cabinet,
            Self::Fan,
        ]);
        all.push(Self::Rest);
        all
    }

    /// The axis that it belongs to, where it is a part of a drive.
    pub fn axis(self) -> Option<Axis> {
        match self {
            Self::Rails(axis)
            | Self::Carriages(axis)
            | Self::Drive(axis, _)
            | Self::Fitting(axis, _)
            | Self::Ends(axis, _)
            | Self::Coupling(axis, _)
            | Self::Motor(axis)
            | Self::Driver(axis) => Some(axis),
            _ => None,
        }
    }

    /// The choices that name its part, and what its quantity follows from; none where a plan, a
    /// rule or another step does.
    pub fn named_by(self) -> Vec<String> {
        let plain = |id: &str| vec![id.to_owned()];
        let drive = |axis: Axis, which: usize| match which {
            0 => vec![axis.choice("drive")],
            _ => vec!["drive_y2".to_owned(), axis.choice("drive")],
        };
        match self {
            Self::Rails(axis) | Self::Carriages(axis) => vec![axis.choice("guide")],
            Self::Drive(axis, which) => {
                // A rail decides how long what drives along it is; the ends and a second nut,
                // how far a screw reaches past it.
                let mut named = drive(axis, which);
                named.extend([axis.choice("guide"), axis.choice("ends")]);
                named.push("preloaded_nuts".to_owned());
                named
            }
            Self::Fitting(axis, which) => {
                let mut named = drive(axis, which);
                named.push("preloaded_nuts".to_owned());
                named
            }
            Self::Ends(axis, which) => {
                let mut named = drive(axis, which);
                named.push(axis.choice("ends"));
                named
            }
            Self::Coupling(axis, which) => {
                // Only a screw has one.
                let mut named = drive(axis, which);
                named.push(axis.choice("coupling"));
                named
            }
            Self::Motor(axis) => vec![axis.choice("motor")],
            Self::Driver(axis) => vec![axis.choice("driver")],
            Self::Supply => plain("supply"),
            Self::Spindle => plain("spindle"),
            Self::Vfd => plain("vfd"),
            Self::Clamp => plain("spindle_clamp"),
            Self::Cooler => plain("cooler"),
            Self::Tool => plain("tool"),
            Self::Controller => plain("controller"),
            Self::Computer => plain("computer"),
            Self::Licence => plain("cam_licence"),
            Self::Switches => plain("switch"),
            Self::Run(RunEnd::MotorX | RunEnd::MotorY | RunEnd::MotorZ) => plain("motor_cable"),
            Self::Run(RunEnd::Spindle) => plain("spindle_cable"),
            Self::Run(_) | Self::Leads => plain("switch_cable"),
            Self::Chains => plain("chain"),
            Self::Cabinet => plain("cabinet"),
            Self::Fan => plain("fan"),
            Self::Rule(_) | Self::Feeds(_) | Self::Rest => Vec::new(),
        }
    }
}

/// One need, of all machines together.
#[derive(Clone, Copy)]
pub struct Asked<'c> {
    /// What asks for it.
    pub source: Source,
    /// The part.
    pub part: &'c dyn Part,
    /// The step of its line.
    pub step: Step,
    /// How much of it is needed.
    pub needed: Decimal,
    /// Pieces in a pack; nothing where it comes singly.
    pub pack: Decimal,
    /// The longest piece, where it is cut.
    pub longest: Length,
}

/// Every need of a machine.
///
/// # Errors
/// Where a quantity is past counting.
pub fn asked<'c>(picked: &Picked<'c>, machine: &Machine) -> Result<Vec<Asked<'c>>, MoneyError> {
    listed(picked, |list| lines::fill(list, machine))
}

/// The needs of one axis alone: those whose source has an axis ([`Source::axis`]).
///
/// # Errors
/// As [`asked`].
pub fn of_axis<'c>(
    picked: &Picked<'c>,
    geometry: &Geometry,
    axis: Axis,
) -> Result<Vec<Asked<'c>>, MoneyError> {
    listed(picked, |list| {
        lines::drive::drive(list, geometry, axis)?;
        by_rules::add_fittings(list, axis)
    })
}

fn listed<'c>(
    picked: &Picked<'c>,
    fill: impl FnOnce(&mut List<'_, 'c, '_, Silent>) -> Result<(), MoneyError>,
) -> Result<Vec<Asked<'c>>, MoneyError> {
    let mut list = List {
        picked,
        needs: Vec::new(),
        told: Vec::new(),
        notes: &mut Silent,
        source: Source::Rest,
        asked: Some(Vec::with_capacity(256)),
    };
    fill(&mut list)?;
    Ok(list.asked.unwrap_or_default())
}
