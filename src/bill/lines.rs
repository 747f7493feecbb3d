//! The lines of the bill: the chosen parts with quantities from the geometry, and the small
//! ones by the quantity rules.

use rust_decimal::Decimal;

use super::Line;
use super::count::{count, decimal};
use crate::build::{Axis, Picked};
use crate::catalogue::{Id, Part, Step, Unit};
use crate::machine::Machine;
use crate::machine::geometry::{drive_length, supports};
use crate::money::{Currency, MoneyError, PriceRange};
use crate::units::{self, Length};
use crate::words::Words;

/// Every line, in the order of the steps; lines of one part in one step are joined.
///
/// # Errors
/// Where a price cannot be stated in the currency.
pub fn all(
    picked: &Picked,
    machine: &Machine,
    currency: Currency,
) -> Result<Vec<Line>, MoneyError> {
    let mut list = List {
        picked,
        currency,
        lines: Vec::new(),
    };
    working_area(&mut list, picked, machine)?;
    for axis in Axis::EACH {
        drive(&mut list, picked, machine, axis)?;
    }
    let supplies = Decimal::from(picked.build.drive.supply_count);
    list.add(picked.supply, Step::Drive, supplies, "feeds the motors")?;
    spindle(&mut list, picked)?;
    control(&mut list, picked, machine)?;
    extras(&mut list, picked)?;
    by_rules(&mut list, picked, machine)?;
    list.lines.retain(|line| !line.quantity.is_zero());
    list.lines.sort_by_key(|line| line.step);
    Ok(list.lines)
}

/// The lines so far.
struct List<'a, 'c> {
    picked: &'a Picked<'c>,
    currency: Currency,
    lines: Vec<Line>,
}

impl List<'_, '_> {
    /// Adds to the line of a part in a step.
    fn add(
        &mut self,
        part: &dyn Part,
        step: Step,
        needed: Decimal,
        why: &str,
    ) -> Result<(), MoneyError> {
        self.add_packed(part, step, needed, Decimal::ZERO, why)
    }

    fn add_packed(
        &mut self,
        part: &dyn Part,
        step: Step,
        needed: Decimal,
        pack: Decimal,
        why: &str,
    ) -> Result<(), MoneyError> {
        let known = self
            .lines
            .iter()
            .position(|line| line.part == *part.id() && line.step == step);
        let place = match known {
            Some(place) => {
                let line = &mut self.lines[place];
                line.needed += needed;
                if !line.why.contains(why) {
                    line.why = format!("{}; {why}", line.why);
                }
                place
            }
            None => {
                self.lines.push(Line {
                    part: part.id().clone(),
                    title: part.title().to_owned(),
                    step,
                    needed,
                    quantity: Decimal::ZERO,
                    unit: part.unit(),
                    price: self.price(part.id())?,
                    total: PriceRange::zero(self.currency),
                    why: why.to_owned(),
                });
                self.lines.len() - 1
            }
        };
        let line = &mut self.lines[place];
        line.quantity = bought(line.needed, line.unit, pack);
        if let Some(price) = line.price {
            line.total = price.range.times(line.quantity)?;
        }
        Ok(())
    }

    /// The price of a part in the last book that has it.
    fn price(&self, part: &Id) -> Result<Option<crate::catalogue::prices::Price>, MoneyError> {
        let books = self.picked.catalogue.price_books.values().rev();
        books
            .into_iter()
            .find_map(|book| book.price(part, self.currency))
            .transpose()
    }
}

/// What is bought of what is needed: whole pieces and packs; lengths and masses to the
/// centimetre and ten grams, upwards.
fn bought(needed: Decimal, unit: Unit, pack: Decimal) -> Decimal {
    if pack > Decimal::ZERO {
        return (needed / pack).ceil() * pack;
    }
    match unit {
        Unit::Piece => needed.ceil(),
        Unit::Metre | Unit::Kilogram | Unit::Litre => {
            (needed * Decimal::ONE_HUNDRED).ceil() / Decimal::ONE_HUNDRED
        }
    }
}

fn metres(length: Length, pieces: u32) -> Decimal {
    decimal(units::m::from(length)) * Decimal::from(pieces)
}

fn working_area(list: &mut List, picked: &Picked, machine: &Machine) -> Result<(), MoneyError> {
    let step = Step::WorkingArea;
    for member in &machine.geometry.members {
        if let Some(tube) = picked.catalogue.tubes.get(&member.tube) {
            list.add(
                tube,
                step,
                metres(member.length, member.pieces),
                &member.title,
            )?;
        }
    }
    for plate in &machine.geometry.plates {
        let volume = plate.width * plate.length * picked.plate.thickness;
        let mass = units::kg::from(volume * picked.plate.density) * f64::from(plate.pieces);
        list.add(picked.plate, step, decimal(mass), &plate.title)?;
    }
    // Failed prints: a fifth on top (common practice).
    let mass: f64 = machine
        .geometry
        .prints
        .iter()
        .map(|print| {
            units::kg::from(print.volume * picked.filament.density) * f64::from(print.pieces)
        })
        .sum();
    list.add(
        picked.filament,
        step,
        decimal(mass * 1.2),
        "printed parts, a fifth more for failed prints",
    )
}

fn drive(
    list: &mut List,
    picked: &Picked,
    machine: &Machine,
    axis: Axis,
) -> Result<(), MoneyError> {
    let step = Step::Drive;
    let chosen = &picked.axes[axis];
    let rails = &machine.geometry.rails[axis];
    let motors = picked.motors(axis);
    let letter = axis.title();
    let why = |what: &str| format!("{what} {letter}");
    list.add(
        chosen.rail,
        step,
        metres(rails.length, rails.rails),
        &why("rails"),
    )?;
    list.add(
        chosen.carriage,
        step,
        Decimal::from(rails.carriages),
        &why("carriages"),
    )?;
    for drive in picked.drives(axis) {
        let length = drive_length(picked, &machine.geometry, axis, drive);
        list.add(drive.part(), step, metres(length, 1), &why("drive"))?;
        for (unit, pieces) in supports(picked, drive, axis) {
            list.add(unit, step, Decimal::from(pieces), &why("screw ends"))?;
        }
        if drive.is_screw() {
            list.add(chosen.coupling, step, Decimal::ONE, &why("coupling"))?;
        }
    }
    list.add(
        chosen.motor.part(),
        step,
        Decimal::from(motors),
        &why("motor"),
    )?;
    list.add(chosen.driver, step, Decimal::from(motors), &why("driver"))
}

fn spindle(list: &mut List, picked: &Picked) -> Result<(), MoneyError> {
    let step = Step::Spindle;
    let one = Decimal::ONE;
    list.add(picked.spindle, step, one, "turns the tool")?;
    if let Some(vfd) = picked.vfd {
        list.add(vfd, step, one, "feeds the spindle")?;
    }
    list.add(picked.clamp, step, one, "holds the spindle")?;
    if let Some(cooler) = picked.cooler {
        list.add(cooler, step, one, "cools the spindle")?;
    }
    list.add(picked.tool, step, one, "the usual tool")
}

fn control(list: &mut List, picked: &Picked, machine: &Machine) -> Result<(), MoneyError> {
    let step = Step::Control;
    let one = Decimal::ONE;
    list.add(picked.controller, step, one, "commands the machine")?;
    if let Some(computer) = picked.computer {
        list.add(computer, step, one, "stands beside the machine")?;
    }
    let switches: u32 = machine
        .geometry
        .switches
        .iter()
        .map(|(_, count)| count)
        .sum();
    list.add(
        picked.switch,
        step,
        Decimal::from(switches),
        "one for each homed end",
    )?;
    for run in &machine.geometry.runs {
        if let Some(cable) = picked.catalogue.cables.get(&run.cable) {
            list.add(cable, step, metres(run.length, 1), &run.title())?;
        }
    }
    for chain in &machine.geometry.chains {
        let why = format!("chain {}", chain.axis.title());
        list.add(picked.chain, step, metres(chain.length, 1), &why)?;
    }
    list.add(picked.cabinet, step, one, "houses the electronics")?;
    if let Some(fan) = picked.fan {
        list.add(fan, step, one, "cools the cabinet")?;
    }
    Ok(())
}

fn extras(list: &mut List, picked: &Picked) -> Result<(), MoneyError> {
    let parts: [(Option<&dyn Part>, &str); 6] = [
        (
            picked.extractor.map(|part| part as &dyn Part),
            "draws off dust and chips",
        ),
        (
            picked.coolant.map(|part| part as &dyn Part),
            "cools the cut",
        ),
        (
            picked.enclosure.map(|part| part as &dyn Part),
            "keeps noise and chips in",
        ),
        (
            picked.table.map(|part| part as &dyn Part),
            "carries the machine",
        ),
        (
            picked.tool_sensor.map(|part| part as &dyn Part),
            "measures the tool",
        ),
        (
            picked.workholding.map(|part| part as &dyn Part),
            "holds the workpiece",
        ),
    ];
    for (part, why) in parts {
        if let Some(part) = part {
            list.add(part, Step::Extras, Decimal::ONE, why)?;
        }
    }
    Ok(())
}

fn by_rules(list: &mut List, picked: &Picked, machine: &Machine) -> Result<(), MoneyError> {
    for rule in &picked.catalogue.quantities {
        let counted = count(picked, machine, rule.per);
        let Some(sundry) = picked.catalogue.sundries.get(&rule.part) else {
            continue;
        };
        if counted.is_zero() {
            continue;
        }
        let spare = Decimal::ONE + rule.spare_percent / Decimal::ONE_HUNDRED;
        let needed = (rule.each * counted + rule.plus) * spare;
        list.add_packed(sundry, rule.step, needed, sundry.pack, &rule.why)?;
    }
    Ok(())
}
