//! The lines of the bill: the chosen parts with quantities from the geometry, and the small
//! ones by the quantity rules.

pub(super) mod drive;

use rust_decimal::Decimal;

use self::drive::drive;
use super::asked::Source;
use super::by_rules;
use super::count::{decimal, printed_mass, switches};
use super::list::{List, Manner, Need, Told};
use super::notes;
use crate::build::choices::working_area::PrintsFrom;
use crate::build::{Axis, Picked};
use crate::catalogue::{Part, Step};
use crate::explain::{Input, Origin, Recorder, Worth};
use crate::machine::Machine;
use crate::machine::geometry::lengths::chain_path;
use crate::machine::printing::FOR_FAILED;
use crate::machine::wiring::lead::Made;
use crate::money::MoneyError;
use crate::order::Order as _;
use crate::units::{self, Length};
use crate::words::Words;

/// About how many lines the choices make besides those of the quantity rules.
const CHOSEN: usize = 50;

/// All that the machines take, in the order of the steps, and what asked for it; needs of one
/// part in one step are joined.
///
/// # Errors
/// Where a quantity is past counting.
pub(super) fn all<'c>(
    picked: &Picked<'c>,
    machine: &Machine,
    notes: &mut impl Recorder,
) -> Result<(Vec<Need<'c>>, Vec<Told>), MoneyError> {
    let mut list = List {
        picked,
        needs: Vec::with_capacity(picked.catalogue.quantities.len() + CHOSEN),
        told: Vec::new(),
        notes,
        source: Source::Rest,
        asked: None,
    };
    fill(&mut list, machine)?;
    let List {
        mut needs, told, ..
    } = list;
    needs.retain(|need| !need.needed.is_zero());
    needs.order_by_key(|need| need.step);
    Ok((needs, told))
}

/// Adds all that the machines take to a list.
pub(super) fn fill(
    list: &mut List<'_, '_, '_, impl Recorder>,
    machine: &Machine,
) -> Result<(), MoneyError> {
    let picked = list.picked;
    working_area(list, machine)?;
    for axis in Axis::EACH {
        drive(list, &machine.geometry, axis)?;
    }
    list.source = Source::Supply;
    let supplies = Decimal::from(picked.build.drive.supply_count);
    list.add(
        picked.supply,
        Step::Drive,
        supplies,
        "feeds the motors",
        || Origin::choice("supply_count"),
    )?;
    spindle(list)?;
    control(list, machine)?;
    list.source = Source::Rest;
    extras(list)?;
    by_rules::add(list, machine)
}

fn plan(picked: &Picked) -> Origin {
    Origin::Plan(picked.frame.id.to_string())
}

fn metres(length: Length, pieces: u32) -> Decimal {
    decimal(units::m::from(length)) * Decimal::from(pieces)
}

fn working_area(
    list: &mut List<'_, '_, '_, impl Recorder>,
    machine: &Machine,
) -> Result<(), MoneyError> {
    let picked = list.picked;
    let step = Step::WorkingArea;
    for member in &machine.geometry.members {
        if let Some(tube) = picked.catalogue.tubes.get(&member.tube) {
            list.add(
                tube,
                step,
                metres(member.length, member.pieces),
                &member.title,
                || plan(picked),
            )?;
            list.as_long_as(tube, member.length);
        }
    }
    for plate in &machine.geometry.plates {
        let mass = units::kg::from(plate.mass) * f64::from(plate.pieces);
        list.add(picked.plate, step, decimal(mass), &plate.title, || {
            plan(picked)
        })?;
    }
    if picked.build.area.prints_from == PrintsFrom::Service {
        // A service buys its own plastic; a quantity rule counts its work by mass.
        return Ok(());
    }
    // Failed prints: a fifth on top (common practice).
    let mass = units::kg::from(printed_mass(picked, machine));
    list.add(
        picked.filament,
        step,
        decimal(mass * FOR_FAILED),
        "printed parts, a fifth more for failed prints",
        || plan(picked),
    )
}

fn spindle(list: &mut List<'_, '_, '_, impl Recorder>) -> Result<(), MoneyError> {
    let picked = list.picked;
    let step = Step::Spindle;
    let one = Decimal::ONE;
    list.source = Source::Spindle;
    list.add(picked.spindle, step, one, "turns the tool", || {
        Origin::choice("spindle")
    })?;
    if let Some(vfd) = picked.vfd {
        list.source = Source::Vfd;
        list.add(vfd, step, one, "feeds the spindle", || {
            Origin::choice("vfd")
        })?;
    }
    list.source = Source::Clamp;
    list.add(picked.clamp, step, one, "holds the spindle", || {
        Origin::choice("spindle_clamp")
    })?;
    if let Some(cooler) = picked.cooler {
        list.source = Source::Cooler;
        list.add(cooler, step, one, "cools the spindle", || {
            Origin::choice("cooler")
        })?;
    }
    list.source = Source::Tool;
    list.add(picked.tool, step, one, "the usual tool", || {
        Origin::choice("tool")
    })
}

fn control(
    list: &mut List<'_, '_, '_, impl Recorder>,
    machine: &Machine,
) -> Result<(), MoneyError> {
    let picked = list.picked;
    let step = Step::Control;
    let one = Decimal::ONE;
    list.source = Source::Controller;
    list.add(picked.controller, step, one, "commands the machine", || {
        Origin::choice("controller")
    })?;
    if let Some(computer) = picked.computer {
        list.source = Source::Computer;
        list.add(computer, step, one, "stands beside the machine", || {
            Origin::choice("computer")
        })?;
    }
    if let Some(licence) = picked.licence {
        list.source = Source::Licence;
        let why = "makes tool paths: its first year";
        let manner = Manner {
            shared: true,
            first_cut: false,
        };
        list.add_packed(licence, step, one, Decimal::ZERO, manner, why, || {
            let number = Worth::Exact(one, notes::unit(licence.unit()));
            vec![Input::new(
                "n_i",
                why,
                number,
                Origin::choice("cam_licence"),
            )]
        })?;
    }
    list.source = Source::Switches;
    list.add(
        picked.switch,
        step,
        Decimal::from(switches(machine)),
        "one for each homed end",
        || Origin::choice("limit_ends"),
    )?;
    cables(list, machine)?;
    list.source = Source::Cabinet;
    list.add(picked.cabinet, step, one, "houses the electronics", || {
        Origin::choice("cabinet")
    })?;
    if let Some(fan) = picked.fan {
        list.source = Source::Fan;
        list.add(fan, step, one, "cools the cabinet", || {
            Origin::choice("fan")
        })?;
    }
    Ok(())
}

/// Cables by the metre, those that a plan routes and the others, and the chains they lie in.
fn cables(list: &mut List<'_, '_, '_, impl Recorder>, machine: &Machine) -> Result<(), MoneyError> {
    let picked = list.picked;
    let step = Step::Control;
    for run in &machine.geometry.runs {
        if let Some(cable) = picked.catalogue.cables.get(&run.cable) {
            list.source = Source::Run(run.to);
            list.add_along(cable, step, metres(run.length, 1), &run.title(), || {
                let from = Origin::figure(format!("cables.{}.length_m", run.mark));
                let title = format!("length of cable {}", run.mark);
                Input::new("L_i", title, units::m::amount(run.length), from)
            })?;
        }
    }
    for lead in machine
        .leads
        .iter()
        .filter(|lead| lead.made == Made::SwitchCable)
    {
        list.source = Source::Leads;
        let cable = picked.switch_cable;
        list.add_along(
            cable,
            step,
            metres(lead.length, 1),
            lead.purpose.title(),
            || {
                let from = Origin::figure(format!("cables.{}.length_m", lead.mark()));
                let title = format!("length of cable {}", lead.mark());
                Input::new("L_i", title, units::m::amount(lead.length), from)
            },
        )?;
    }
    for chain in &machine.geometry.chains {
        let why = format!("chain {}", chain.axis.title());
        list.source = Source::Chains;
        list.add_along(picked.chain, step, metres(chain.length, 1), &why, || {
            let from = Origin::figure(chain_path(chain.axis));
            let title = format!("length of the chain of {}", chain.axis.title());
            Input::new("L_i", title, units::m::amount(chain.length), from)
        })?;
    }
    Ok(())
}

fn extras<'c>(list: &mut List<'_, 'c, '_, impl Recorder>) -> Result<(), MoneyError> {
    let picked = list.picked;
    let parts: [(Option<&'c dyn Part>, Manner, &str, &str); 6] = [
        (
            picked.extractor.map(|part| part as &'c dyn Part),
            Manner::USUAL,
            "draws off dust and chips",
            "extractor",
        ),
        (
            picked.coolant.map(|part| part as &'c dyn Part),
            Manner::LATER,
            "cools the cut",
            "coolant",
        ),
        (
            picked.enclosure.map(|part| part as &'c dyn Part),
            Manner::LATER,
            "keeps noise and chips in",
            "enclosure",
        ),
        (
            picked.table.map(|part| part as &'c dyn Part),
            Manner::USUAL,
            "carries the machine",
            "table",
        ),
        (
            picked.tool_sensor.map(|part| part as &'c dyn Part),
            Manner::LATER,
            "measures the tool",
            "tool_sensor",
        ),
        (
            picked.workholding.map(|part| part as &'c dyn Part),
            Manner::USUAL,
            "holds the workpiece",
            "workholding",
        ),
    ];
    for (part, manner, why, choice) in parts {
        if let Some(part) = part {
            list.add_in_manner(part, Step::Extras, Decimal::ONE, manner, why, || {
                Origin::choice(choice)
            })?;
        }
    }
    Ok(())
}
