//! How the masses came about: each part that was added up, and what one axis carries of the
//! next.

use super::{Ledger, Masses, densest};
use crate::build::{Axis, Picked};
use crate::catalogue::frame::{Layout, Rides};
use crate::explain::{Derivation, Input, Origin, Recorder};
use crate::units::{self, Mass};
use crate::words::Words as _;

const SOURCE: &str =
    "sum of the parts' masses; steel 7850 kg/m³ and tube sections as in EN 10219-2";
const LIMITS: &str = "Screws, cables, paint and swarf are not weighed: some per cent on top.";

/// Notes the moving mass of each axis, and the whole.
pub(super) fn note(
    picked: &Picked,
    masses: &Masses,
    workpiece: Mass,
    ledger: &Ledger,
    notes: &mut impl Recorder,
) {
    let on = |rides: Rides| {
        let entries = ledger.entries.iter();
        entries
            .filter(move |(on, _)| *on == rides)
            .map(|(_, input)| input.clone())
    };
    let moving = |axis: Axis| {
        let letter = axis.title();
        let path = path(axis);
        let title = format!("Mass that {letter} moves");
        Derivation::of(path, title, units::kg::amount(masses.moving[axis]))
    };
    let carries = |axis: Axis| {
        let title = format!("what {} moves, carried as well", axis.title());
        let mass = units::kg::amount(masses.moving[axis]);
        Input::new("M_c", title, mass, Origin::figure(path(axis)))
    };
    notes.note(|| {
        moving(Axis::Z)
            .by("Every part that moves with Z.", "M = Σ m_i")
            .with_each(on(Rides::Z))
            .from(SOURCE, LIMITS)
    });
    notes.note(|| {
        moving(Axis::X)
            .by(
                "Every part that moves with X, and all that Z moves.",
                "M = Σ m_i + M_c",
            )
            .with_each(on(Rides::X))
            .with_each([carries(Axis::Z)])
            .from(SOURCE, LIMITS)
    });
    notes.note(|| match picked.frame.layout {
        Layout::MovingGantry => moving(Axis::Y)
            .by(
                "Every part that moves with Y, and all that X moves.",
                "M = Σ m_i + M_c",
            )
            .with_each(on(Rides::Y))
            .with_each([carries(Axis::X)])
            .from(SOURCE, LIMITS),
        Layout::MovingTable => {
            let note = moving(Axis::Y)
                .by(
                    "Every part of the moving table, and the heaviest workpiece: the whole bed, \
                     as high as the tallest stock, of the densest material.",
                    "M_w = x·y·h·ρ; M = Σ m_i + M_w",
                )
                .with_each(on(Rides::Y));
            with_workpiece(note, picked, workpiece).from(SOURCE, LIMITS)
        }
    });
    notes.note(|| {
        let top = match picked.frame.layout {
            Layout::MovingGantry => Axis::Y,
            Layout::MovingTable => Axis::X,
        };
        let table = (top == Axis::X).then(|| on(Rides::Y));
        let title = "Mass of the machine, without table, cabinet and computer";
        Derivation::of("machine.mass_kg", title, units::kg::amount(masses.total))
            .by(
                "Every part that stands still, and all that moves; no workpiece.",
                "M = Σ m_i + M_c",
            )
            .with_each(on(Rides::Still))
            .with_each(table.into_iter().flatten())
            .with_each([carries(top)])
            .from(SOURCE, LIMITS)
    });
}

fn path(axis: Axis) -> String {
    format!("axes.{}.moving_mass_kg", axis.title())
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
