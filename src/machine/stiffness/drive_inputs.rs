//! What goes into the springs of a drive.

use super::SpringName;
use super::drive::{PLAY_SHARE, ROTOR_TEETH, TOOTH};
use super::inputs::taken;
use super::model::Model;
use crate::build::{Axis, Picked};
use crate::catalogue::LinearDrive;
use crate::explain::{Input, Origin};
use crate::units::{self, Amount};
use crate::words::Words;

/// The inputs of one spring of an axis's drive.
pub(super) fn of(axis: Axis, name: SpringName, model: &Model, picked: &Picked) -> Vec<Input> {
    let drive = picked.axes[axis].drive;
    let part = Origin::part(drive.part());
    let own = model.drives[axis].parts.iter();
    let alone: f64 = own.filter(|(n, _)| *n == name).map(|(_, give)| give).sum();
    let mut found = vec![taken(
        "c_1",
        &format!("{} of one drive", name.title()),
        Amount::of(alone * 1e6, "µm/N"),
    )];
    if axis == Axis::Y && model.second.is_some() {
        found.push(taken(
            "w",
            "share with both drives at mid-span, a quarter of each",
            Amount::plain(0.25),
        ));
    }
    found.push(Input {
        symbol: "P",
        title: "travel for one turn".to_owned(),
        value: units::mm::amount(drive.travel_a_turn()).into(),
        origin: part.clone(),
    });
    found.extend(data(axis, name, picked, drive, part));
    found
}

/// The figures of parts and choices that a spring rests on.
fn data(
    axis: Axis,
    name: SpringName,
    picked: &Picked,
    drive: LinearDrive,
    part: Origin,
) -> Vec<Input> {
    let input = |symbol, title: &str, value, origin| Input {
        symbol,
        title: title.to_owned(),
        value,
        origin,
    };
    let root = match drive {
        LinearDrive::Ball(screw) => Some((screw.root, screw.nut_rigidity)),
        LinearDrive::Lead(screw) => Some((screw.root, screw.nut_rigidity)),
        LinearDrive::Rack(_) | LinearDrive::Belt(_) => None,
    };
    let coupling = picked.axes[axis].coupling;
    match (name, drive, root) {
        (SpringName::Screw | SpringName::Twist, _, Some((root, _))) => {
            vec![input(
                "d",
                "root diameter",
                units::mm::amount(root).into(),
                part,
            )]
        }
        (SpringName::Nut, _, Some((_, nut))) => vec![
            input(
                "k_nut",
                "nut's rigidity",
                units::n_per_um::amount(nut).into(),
                part,
            ),
            input(
                "x",
                "of which a single nut with play keeps",
                Amount::plain(PLAY_SHARE).into(),
                Origin::Constant("common practice: 0.4 to 0.5"),
            ),
        ],
        (SpringName::Coupling, ..) => vec![input(
            "k_c",
            "torsion of the coupling",
            Amount::of(coupling.torsion.as_nm_per_rad(), "N·m/rad").into(),
            Origin::part(coupling),
        )],
        (SpringName::Bracket, ..) => vec![input(
            "E",
            "modulus of the printed plastic",
            units::gpa::amount(picked.filament.modulus).into(),
            Origin::part(picked.filament),
        )],
        (SpringName::Rack, LinearDrive::Rack(rack), _) => vec![
            input(
                "b",
                "width of the teeth",
                units::mm::amount(rack.face).into(),
                part,
            ),
            input(
                "c'",
                "stiffness of a pair of teeth for each width",
                Amount::of(TOOTH / 1e9, "N/(mm·µm)").into(),
                Origin::Constant("ISO 6336-1"),
            ),
        ],
        (SpringName::Belt, LinearDrive::Belt(belt), _) => vec![input(
            "E A",
            "force for unit strain",
            units::n::amount(belt.spring_rate).into(),
            part,
        )],
        (SpringName::Motor, ..) => vec![input(
            "p",
            "rotor teeth",
            Amount::plain(ROTOR_TEETH).into(),
            Origin::Constant("1.8° stepper"),
        )],
        _ => Vec::new(),
    }
}
