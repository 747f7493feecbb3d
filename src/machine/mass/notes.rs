//! How the masses came about: each part that was added up, and what one axis carries of the
//! next.

use super::{Ledger, Masses, densest};
use crate::build::{Axis, Picked};
use crate::catalogue::frame::{Layout, Rides};
use crate::explain::{Derivation, Input, Origin, Recorder};
use crate::machine::axis_path;
use crate::units::{self, Mass};
use crate::words::Words as _;

const SOURCE: &str =
    "sum of the parts' masses; steel 7850 kg/m³ and tube sections as in EN 10219-2";
const LIMITS: &str = "Bolts, cables, paint and swarf are not weighed: some per cent on top.";

/// Notes the moving mass of each axis, and the whole.
pub(super) fn note(
    picked: &Picked,
    masses: &Masses,
    workpiece: Mass,
    ledger: &Ledger,
    notes: &mut impl Recorder,
) {
    notes.note(|| {
        moving(masses, Axis::Z)
            .by("Every part that moves with Z.", "M = Σ m_i")
            .with_each(ledger.on(Rides::Z))
            .from(SOURCE, LIMITS)
    });
    notes.note(|| carrying(masses, ledger, Axis::X, Axis::Z));
    notes.note(|| match picked.frame.layout {
        Layout::MovingGantry => carrying(masses, ledger, Axis::Y, Axis::X),
        Layout::MovingTable => {
            let note = moving(masses, Axis::Y)
                .by(
                    "Every part of the moving table, and the heaviest workpiece: the whole table, \
                     as high as the tallest stock, of the densest material.",
                    "M_w = x·y·h·ρ; M = Σ m_i + M_w",
                )
                .with_each(ledger.on(Rides::Y));
            with_workpiece(note, picked, workpiece).from(SOURCE, LIMITS)
        }
    });
    notes.note(|| total(picked, masses, ledger));
}

impl Ledger {
    /// What was put on one thing.
    fn on(&self, rides: Rides) -> impl Iterator<Item = Input> {
        let entries = self.entries.iter();
        entries
            .filter(move |(on, _)| *on == rides)
            .map(|(_, input)| input.clone())
    }
}

fn moving(masses: &Masses, axis: Axis) -> Derivation {
    let title = format!("Mass that {} moves", axis.title());
    Derivation::of(path(axis), title, units::kg::amount(masses.moving[axis]))
}

/// The mass of an axis that carries another one.
fn carrying(masses: &Masses, ledger: &Ledger, axis: Axis, other: Axis) -> Derivation {
    let (letter, carried) = (axis.title(), other.title());
    let words = format!("Every part that moves with {letter}, and all that {carried} moves.");
    moving(masses, axis)
        .by(words, "M = Σ m_i + M_c")
        .with_each(ledger.on(axis.into()))
        .with_each([carried_by(masses, other)])
        .from(SOURCE, LIMITS)
}

/// What an axis moves, as something that is carried.
fn carried_by(masses: &Masses, axis: Axis) -> Input {
    let title = format!("what {} moves, carried as well", axis.title());
    let mass = units::kg::amount(masses.moving[axis]);
    Input::new("M_c", title, mass, Origin::figure(path(axis)))
}

fn total(picked: &Picked, masses: &Masses, ledger: &Ledger) -> Derivation {
    // A moving table carries no other axis: its parts are added one by one.
    let (top, table) = match picked.frame.layout {
        Layout::MovingGantry => (Axis::Y, None),
        Layout::MovingTable => (Axis::X, Some(ledger.on(Rides::Y))),
    };
    let title = "Mass of the machine, without stand, cabinet and computer";
    Derivation::of("machine.mass_kg", title, units::kg::amount(masses.total))
        .by(
            "Every part that stands still, and all that moves; no workpiece.",
            "M = Σ m_i + M_c",
        )
        .with_each(ledger.on(Rides::Still))
        .with_each(table.into_iter().flatten())
        .with_each([carried_by(masses, top)])
        .from(SOURCE, LIMITS)
}

fn path(axis: Axis) -> String {
    axis_path(axis, "moving_mass_kg")
}

/// What the heaviest workpiece follows from.
fn with_workpiece(note: Derivation, picked: &Picked, workpiece: Mass) -> Derivation {
    let area = &picked.build.area;
    let density = densest(picked);
    let of = picked
        .materials
        .iter()
        .find(|material| material.density == density);
    let mm = units::mm::amount;
    note.with(
        "x",
        "travel X that you wish",
        mm(area.travel.x),
        Origin::choice("travel_x_mm"),
    )
    .with(
        "y",
        "travel Y that you wish",
        mm(area.travel.y),
        Origin::choice("travel_y_mm"),
    )
    .with(
        "h",
        "tallest stock",
        mm(area.stock_height),
        Origin::choice("stock_height_mm"),
    )
    .with(
        "ρ",
        "density of the densest material that you cut",
        units::kg_per_m3::amount(density),
        of.map_or_else(
            || Origin::choice("materials"),
            |material| Origin::part(*material),
        ),
    )
    .with(
        "M_w",
        "heaviest workpiece",
        units::kg::amount(workpiece),
        Origin::Here,
    )
}
