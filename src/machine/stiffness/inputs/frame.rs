//! What goes into the formulas of the frame's springs: plate, beam, posts, sides, table.

use super::{ahead, below, given, metres, middle, mm, shear, span, taken};
use crate::build::Axis;
use crate::explain::{Input, Origin};
use crate::machine::stiffness::beam::{Plane, bending_rigidity, torsion_rigidity};
use crate::machine::stiffness::model::Model;
use crate::units::{self, Amount};

/// A rigidity E I or G It.
fn rigid(symbol: &'static str, title: &str, value: f64) -> Input {
    taken(symbol, title, Amount::of(value, "N·m²"))
}

/// The product of the two shares of the beam at mid-span.
fn shares() -> Input {
    taken("ab", "a (1 - a), a = 1/2 at mid-span", Amount::plain(0.25))
}

/// The plate that holds the spindle.
pub(super) fn z_plate(axis: Axis, model: &Model) -> Vec<Input> {
    let l = &model.levers;
    let reach = match axis {
        Axis::Z => mm(
            "d",
            "from the plate's middle forward to the tool",
            l.ahead_of_plate,
        ),
        Axis::X | Axis::Y => mm("d", "from the upper edge of the clamp to the nose", l.nose),
    };
    let rigidity = match axis {
        Axis::X => model.plate.0,
        Axis::Y | Axis::Z => model.plate.1,
    };
    vec![
        mm("l", "from the lower Z carriages to the clamp", l.overhang),
        reach,
        metres("s", "distance of the Z carriages", model.guides.z.span),
        rigid("E I", "plate and rails", rigidity),
    ]
}

/// The beam between its ends.
pub(super) fn beam(axis: Axis, model: &Model) -> Vec<Input> {
    let section = model.beam.section;
    let (plane, area) = match axis {
        Axis::Y => (Plane::Across, section.shear_across()),
        Axis::X | Axis::Z => (Plane::Up, section.shear_up()),
    };
    vec![
        below(model),
        span(model),
        shear(),
        rigid("E I", "the beam's tube", bending_rigidity(section, plane)),
        taken("As", "area that bears shear", units::mm2::amount(area)),
        Input::new(
            "r",
            "share of a clamp that the ends hold",
            units::percent::amount(model.beam.fixity),
            Origin::choice("beam_ends_percent"),
        ),
        shares(),
    ]
}

/// The beam twisting between its ends.
pub(super) fn beam_twist(model: &Model) -> Vec<Input> {
    let rigidity = torsion_rigidity(model.beam.section);
    vec![
        below(model),
        ahead(model),
        span(model),
        rigid("G It", "the beam's tube", rigidity),
        shares(),
    ]
}

/// The legs below raised sides.
pub(super) fn legs(axis: Axis, model: &Model) -> Vec<Input> {
    let Some(legs) = model.legs else {
        return Vec::new();
    };
    let plane = match axis {
        Axis::X => Plane::Across,
        Axis::Y | Axis::Z => Plane::Up,
    };
    vec![
        mm("H", "height of a leg", legs.height),
        taken("n", "legs", Amount::plain(legs.pieces)),
        rigid("E I", "a leg", bending_rigidity(legs.section, plane)),
    ]
}

/// The moving table.
pub(super) fn table(model: &Model) -> Vec<Input> {
    let Some(table) = model.table else {
        return Vec::new();
    };
    vec![
        metres("g", "distance of the Y rails", model.guides.y.gap),
        metres("s", "distance of the Y carriages", model.guides.y.span),
        rigid("E I_x", "a strip across the rails", table.rigidity.0),
        rigid("E I_y", "a strip along them", table.rigidity.1),
    ]
}

/// The posts that carry the beam.
pub(super) fn uprights(axis: Axis, model: &Model) -> Vec<Input> {
    let mut found = vec![below(model), ahead(model), span(model)];
    let rise = units::mm::amount(model.levers.rise);
    found.push(taken("H", "from the feet up to the beam's axis", rise));
    found.push(middle());
    let Some(posts) = model.uprights else {
        return found;
    };
    let portal = posts.portal;
    if axis != Axis::X {
        found.push(rigid("E I", "the posts of one side", posts.rigidity));
        return found;
    }
    let (top, foot) = portal.turns();
    found.extend([
        rigid(
            "E I",
            "the posts of one side, bent sideways",
            portal.rigidity(),
        ),
        rigid(
            "E I_b",
            "the beam's tube",
            bending_rigidity(portal.beam.section, Plane::Up),
        ),
        taken(
            "t",
            "turn of a head for a radian of the post's chord",
            Amount::plain(top),
        ),
        taken("f", "turn of a foot likewise", Amount::plain(foot)),
    ]);
    if let Some(held) = portal.foot {
        let held = Amount::of(held.as_nm_per_rad(), "N·m/rad");
        found.push(taken(
            "K",
            "carriages of one side against roll of the foot",
            held,
        ));
    }
    found
}

/// The side beams between their supports.
pub(super) fn side_beams(model: &Model) -> Vec<Input> {
    let mut found = vec![middle(), given("c", "what one gives", model.sides.give())];
    let mm = |symbol, title, metres| taken(symbol, title, units::mm::amount(units::m::of(metres)));
    found.push(mm(
        "h",
        "height between Y carriages and nose",
        model.below_y().abs(),
    ));
    found.push(mm("L", "distance of the Y rails", model.guides.y.gap));
    if let Some(beam) = model.sides.beam {
        let rigidity = Amount::of(bending_rigidity(beam.section, Plane::Up), "N·m²");
        let area = units::mm2::amount(beam.section.shear_up());
        found.extend([
            mm("S", "distance of a side beam's supports", beam.length.value),
            taken("E I", "a side beam's tube", rigidity),
            taken("As", "area that bears shear", area),
            shear(),
        ]);
    }
    found
}
