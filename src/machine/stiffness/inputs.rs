//! What goes into the formula of each spring.

mod frame;

use super::SpringName;
use super::guide::Guide;
use super::model::{Model, total};
use crate::build::{Axis, Picked};
use crate::explain::{Input, Origin};
use crate::machine::section::steel_shear_modulus;
use crate::units::{self, Amount, Length};

/// A value that the formula takes from the geometry or from a step before.
pub(super) fn taken(symbol: &'static str, title: &str, value: Amount) -> Input {
    Input::new(symbol, title, value, Origin::Here)
}

/// What goes into a spring's formula.
pub(super) fn inputs(axis: Axis, name: SpringName, model: &Model, picked: &Picked) -> Vec<Input> {
    use SpringName::*;
    match name {
        Screw | Nut | Bearing | Twist | Coupling | Bracket | Rack | Belt | Motor => {
            super::drive_said::inputs(axis, name, model, picked)
        }
        CarriagesX | CarriagesY | CarriagesZ => carriages(name, model, picked),
        ZPlate => frame::z_plate(axis, model),
        Beam => frame::beam(axis, model),
        BeamTwist => frame::beam_twist(model),
        Uprights => frame::uprights(axis, model),
        Legs => frame::legs(axis, model),
        SideBeams => frame::side_beams(model),
        Yaw => yaw(model, picked),
        Table => frame::table(model),
    }
}

/// A length that the formula takes from the geometry.
fn mm(symbol: &'static str, title: &str, length: Length) -> Input {
    taken(symbol, title, units::mm::amount(length))
}

/// A length in metres likewise.
fn metres(symbol: &'static str, title: &str, length: f64) -> Input {
    mm(symbol, title, units::m::of(length))
}

/// The lever from the beam's axis down to the nose.
fn below(model: &Model) -> Input {
    mm(
        "h",
        "from the beam's axis down to the nose",
        model.levers.below,
    )
}

/// The lever from the beam's axis forward to the tool.
fn ahead(model: &Model) -> Input {
    mm(
        "e",
        "from the beam's axis forward to the tool",
        model.levers.ahead,
    )
}

/// The distance of the beam's supports.
fn span(model: &Model) -> Input {
    mm("L", "distance of the beam's supports", model.levers.span)
}

/// The carriages of an axis with their levers.
fn carriages(name: SpringName, model: &Model, picked: &Picked) -> Vec<Input> {
    let l = &model.levers;
    let (axis, levers) = match name {
        SpringName::CarriagesX => {
            let e = mm(
                "e",
                "from the X carriages forward to the tool",
                l.ahead_of_x,
            );
            (Axis::X, vec![below(model), e])
        }
        SpringName::CarriagesZ => {
            let h = metres(
                "h",
                "from the Z carriages' centre down to the nose",
                model.below_z(),
            );
            let e = mm(
                "e",
                "from the Z carriages forward to the tool",
                l.ahead_of_z,
            );
            (Axis::Z, vec![h, e])
        }
        _ => {
            let height = model.table.map_or(model.below_y(), |table| table.height);
            let h = metres("h", "height between Y carriages and cut", height.abs());
            (Axis::Y, vec![h, ahead(model)])
        }
    };
    guide(picked, axis, &model.guides[axis], levers)
}

/// The gantry turning aside on its Y carriages and drives.
fn yaw(model: &Model, picked: &Picked) -> Vec<Input> {
    let levers = vec![ahead(model), span(model)];
    let mut found = guide(picked, Axis::Y, &model.guides.y, levers);
    if let Some(second) = &model.second {
        let first = total(&model.drives.y);
        found.push(given("c_1", "all that one drive gives", first));
        found.push(given(
            "c_2",
            "all that the other drive gives",
            total(second),
        ));
    }
    found
}

/// What something gives for each newton.
pub(super) fn given(symbol: &'static str, title: &str, give: f64) -> Input {
    taken(symbol, title, Amount::of(give * 1e6, "µm/N"))
}

/// The shear modulus of steel.
fn shear() -> Input {
    let modulus = units::gpa::amount(steel_shear_modulus());
    let source = Origin::Constant("steel, handbooks of materials");
    Input::new("G", "shear modulus of steel", modulus, source)
}

/// Place of the tool for which the springs are stated.
fn middle() -> Input {
    taken("a", "place along the beam: mid-span", Amount::plain(0.5))
}

/// The inputs that every group of carriages has, before its levers.
fn guide(picked: &Picked, axis: Axis, guide: &Guide, levers: Vec<Input>) -> Vec<Input> {
    let (carriage, rail) = (picked.axes[axis].carriage, picked.axes[axis].rail);
    let (along, across) = guide.spreads();
    let mut found = vec![
        Input::new(
            "k_0",
            "rigidity of a carriage by its catalogue",
            units::n_per_um::amount(carriage.rigidity),
            Origin::part(carriage),
        ),
        Input::new(
            "j",
            "share of it that is left when installed",
            units::percent::amount(picked.build.drive.joint_factor),
            Origin::choice("carriage_joint_percent"),
        ),
        taken(
            "k_1",
            "one carriage installed",
            Amount::of(guide.each / 1e6, "N/µm"),
        ),
        Input::new(
            "n",
            "carriages",
            Amount::plain(guide.blocks),
            Origin::choice(axis.choice("carriages")),
        ),
        taken(
            "X²",
            "squared distances of all from their middle, along the travel, added up",
            Amount::of(along, "m²"),
        ),
        taken(
            "Y²",
            "squared distances of all from their middle, across the travel, added up",
            Amount::of(across, "m²"),
        ),
        Input::new(
            "l",
            "length of a carriage, over 0.65 of which its balls bear (common practice, from memory)",
            units::mm::amount(carriage.length),
            Origin::part(carriage),
        ),
        Input::new(
            "b",
            "width of the rail",
            units::mm::amount(rail.foot_width),
            Origin::part(rail),
        ),
        taken(
            "K",
            "against pitch and yaw",
            Amount::of(guide.against_pitch(), "N·m/rad"),
        ),
        taken(
            "K_r",
            "against roll",
            Amount::of(1.0 / guide.rolls(), "N·m/rad"),
        ),
        middle(),
    ];
    found.extend(levers);
    found
}
