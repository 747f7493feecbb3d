//! The lines of the step drive: what each axis slides on, and what moves it.

use rust_decimal::Decimal;

use super::metres;
use crate::bill::asked::Source;
use crate::bill::count::piece_of;
use crate::bill::list::{List, bought};
use crate::build::{Axis, Picked};
use crate::catalogue::{Part, Step};
use crate::explain::{Input, Origin, Recorder};
use crate::machine::geometry::{Geometry, supports};
use crate::money::MoneyError;
use crate::units;
use crate::words::Words as _;

/// Rails, carriages, drives, motors and drivers of an axis.
pub(in crate::bill) fn drive(
    list: &mut List<'_, '_, '_, impl Recorder>,
    geometry: &Geometry,
    axis: Axis,
) -> Result<(), MoneyError> {
    let picked = list.picked;
    let step = Step::Drive;
    let chosen = &picked.axes[axis];
    let rails = &geometry.rails[axis];
    let motors = picked.motors(axis);
    let letter = axis.title();
    let why = |what: &str| format!("{what} {letter}");
    list.source = Source::Rails(axis);
    list.add_along(
        chosen.rail,
        step,
        metres(rails.length, rails.rails),
        &why("rails"),
        || {
            let title = format!(
                "length of a rail of {letter}, of which there are {}",
                rails.rails
            );
            let from = Origin::figure(format!("axes.{letter}.rail_mm"));
            Input::new("L_i", title, units::mm::amount(rails.length), from)
        },
    )?;
    list.as_long_as(chosen.rail, rails.length);
    list.source = Source::Carriages(axis);
    list.add(
        chosen.carriage,
        step,
        Decimal::from(rails.carriages),
        &why("carriages"),
        || Origin::choice(axis.choice("carriages")),
    )?;
    drives(list, geometry, axis)?;
    list.source = Source::Motor(axis);
    list.add(
        chosen.motor.part(),
        step,
        Decimal::from(motors),
        &why("motor"),
        || Origin::choice(axis.choice("motor")),
    )?;
    list.source = Source::Driver(axis);
    list.add(
        chosen.driver,
        step,
        Decimal::from(motors),
        &why("driver"),
        || Origin::choice(axis.choice("driver")),
    )
}

/// Screws, racks or belts of an axis, with what holds and turns a screw.
fn drives(
    list: &mut List<'_, '_, '_, impl Recorder>,
    geometry: &Geometry,
    axis: Axis,
) -> Result<(), MoneyError> {
    let picked = list.picked;
    let step = Step::Drive;
    let why = |what: &str| format!("{what} {}", axis.title());
    let drives = picked.drives(axis);
    let driven = match drives.as_slice() {
        [one, other] if one.part().id() == other.part().id() => why("drive") + ", one on each side",
        [_, _] => why("drive") + ", one side",
        _ => why("drive"),
    };
    let cuts = &geometry.drives[axis];
    for (which, (drive, cut)) in drives.into_iter().zip(cuts).enumerate() {
        list.source = Source::Drive(axis, which);
        let needed = match drive.is_screw() {
            true => whole_pieces(picked, drive.part(), metres(cut.to_order, 1))?,
            false => metres(cut.to_order, 1),
        };
        list.add(drive.part(), step, needed, &driven, || {
            Origin::choice(axis.choice("drive"))
        })?;
        list.as_long_as(drive.part(), cut.to_order);
        list.source = Source::Ends(axis, which);
        for (unit, pieces) in supports(picked, drive, axis) {
            list.add(
                unit,
                step,
                Decimal::from(pieces),
                &why("screw ends"),
                || Origin::choice(axis.choice("ends")),
            )?;
        }
        if drive.is_screw() {
            list.source = Source::Coupling(axis, which);
            list.add(
                picked.axes[axis].coupling,
                step,
                Decimal::ONE,
                &why("coupling"),
                || Origin::choice(axis.choice("coupling")),
            )?;
        }
    }
    Ok(())
}

/// What of a screw is taken for one side of an axis: where it is sold by the piece, a whole one.
/// What is cut off of it has neither a nut nor turned ends: no second screw comes out of it.
fn whole_pieces(picked: &Picked, part: &dyn Part, needed: Decimal) -> Result<Decimal, MoneyError> {
    match piece_of(picked, part) {
        Some(piece) => bought(needed, part.unit(), piece).ok_or(MoneyError::Overflow),
        None => Ok(needed),
    }
}
