//! What goes into the formula of each spring.

use super::SpringName;
use super::beam::{Plane, bending_rigidity, torsion_rigidity};
use super::guide::Guide;
use super::model::{Model, total};
use crate::build::{Axis, Picked};
use crate::explain::{Input, Origin};
use crate::machine::section::steel_shear_modulus;
use crate::units::{self, Amount, Length};

/// A value that the formula takes from the geometry or from a step before.
pub(super) fn taken(symbol: &'static str, title: &str, value: Amount) -> Input {
    Input {
        symbol,
        title: title.to_owned(),
        value: value.into(),
        origin: Origin::Here,
    }
}

/// What goes into a spring's formula.
pub(super) fn inputs(axis: Axis, name: SpringName, model: &Model, picked: &Picked) -> Vec<Input> {
    use SpringName::*;
    let l = &model.levers;
    let mm = |symbol, title, length: Length| taken(symbol, title, units::mm::amount(length));
    let rigid = |symbol, title, value| taken(symbol, title, Amount::of(value, "N·m²"));
    let (h, e) = (
        mm("h", "from the beam's axis down to the nose", l.below),
        mm("e", "from the beam's axis forward to the tool", l.ahead),
    );
    let span = mm("L", "distance of the beam's supports", l.span);
    let plane = if axis == Axis::Y {
        Plane::Across
    } else {
        Plane::Up
    };
    match name {
        Screw | Nut | Bearing | Twist | Coupling | Bracket | Rack | Belt | Motor => {
            super::drive_said::inputs(axis, name, model, picked)
        }
        CarriagesX => guide(
            picked,
            Axis::X,
            &model.guides.x,
            vec![
                h,
                mm(
                    "e",
                    "from the X carriages forward to the tool",
                    l.ahead_of_x,
                ),
            ],
        ),
        CarriagesZ => guide(
            picked,
            Axis::Z,
            &model.guides.z,
            vec![
                mm(
                    "h",
                    "from the Z carriages' centre down to the nose",
                    units::m::of(model.below_z()),
                ),
                mm(
                    "e",
                    "from the Z carriages forward to the tool",
                    l.ahead_of_z,
                ),
            ],
        ),
        CarriagesY => {
            let height = model.table.map_or(model.below_y(), |table| table.height);
            guide(
                picked,
                Axis::Y,
                &model.guides.y,
                vec![
                    mm(
                        "h",
                        "height between Y carriages and cut",
                        units::m::of(height.abs()),
                    ),
                    e,
                ],
            )
        }
        ZPlate => vec![
            mm("l", "from the lower Z carriages to the clamp", l.overhang),
            mm(
                "d",
                if axis == Axis::Z {
                    "from the plate's middle forward to the tool"
                } else {
                    "from the upper edge of the clamp to the nose"
                },
                if axis == Axis::Z {
                    l.ahead_of_plate
                } else {
                    l.nose
                },
            ),
            mm(
                "s",
                "distance of the Z carriages",
                units::m::of(model.guides.z.span),
            ),
            rigid(
                "E I",
                "plate and rails",
                if axis == Axis::X {
                    model.plate.0
                } else {
                    model.plate.1
                },
            ),
        ],
        Beam => vec![
            h,
            span,
            shear(),
            rigid(
                "E I",
                "the beam's tube",
                bending_rigidity(model.beam.section, plane),
            ),
            taken(
                "As",
                "area that bears shear",
                units::mm2::amount(if plane == Plane::Up {
                    model.beam.section.shear_up()
                } else {
                    model.beam.section.shear_across()
                }),
            ),
            Input {
                symbol: "r",
                title: "share of a clamp that the ends hold".to_owned(),
                value: units::percent::amount(model.beam.fixity).into(),
                origin: Origin::choice("beam_ends_percent"),
            },
            taken("ab", "a (1 - a), a = 1/2 at mid-span", Amount::plain(0.25)),
        ],
        BeamTwist => vec![
            h,
            e,
            span,
            rigid(
                "G It",
                "the beam's tube",
                torsion_rigidity(model.beam.section),
            ),
            taken("ab", "a (1 - a), a = 1/2 at mid-span", Amount::plain(0.25)),
        ],
        Uprights => uprights(axis, model, vec![h, e, span]),
        Legs => model.legs.map_or_else(Vec::new, |legs| {
            vec![
                mm("H", "height of a leg", legs.height),
                taken("n", "legs", Amount::plain(legs.pieces)),
                rigid(
                    "E I",
                    "a leg",
                    bending_rigidity(
                        legs.section,
                        if axis == Axis::X {
                            Plane::Across
                        } else {
                            Plane::Up
                        },
                    ),
                ),
            ]
        }),
        SideBeams => side_beams(model),
        Yaw => {
            let mut found = guide(picked, Axis::Y, &model.guides.y, vec![e, span]);
            if let Some(second) = &model.second {
                found.push(given(
                    "c_1",
                    "all that one drive gives",
                    total(&model.drives.y),
                ));
                found.push(given(
                    "c_2",
                    "all that the other drive gives",
                    total(second),
                ));
            }
            found
        }
        Table => model.table.map_or_else(Vec::new, |table| {
            vec![
                mm(
                    "g",
                    "distance of the Y rails",
                    units::m::of(model.guides.y.gap),
                ),
                mm(
                    "s",
                    "distance of the Y carriages",
                    units::m::of(model.guides.y.span),
                ),
                rigid("E I_x", "a strip across the rails", table.rigidity.0),
                rigid("E I_y", "a strip along them", table.rigidity.1),
            ]
        }),
    }
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

/// The posts that carry the beam.
fn uprights(axis: Axis, model: &Model, levers: Vec<Input>) -> Vec<Input> {
    let mut found = levers;
    let rise = units::mm::amount(model.levers.rise);
    found.push(taken("H", "from the feet up to the beam's axis", rise));
    found.push(middle());
    let Some(posts) = model.uprights else {
        return found;
    };
    let rigid = |symbol, title, value| taken(symbol, title, Amount::of(value, "N·m²"));
    let portal = posts.portal;
    if axis != Axis::X {
        found.push(rigid("E I", "the posts of one side", posts.rigidity));
        return found;
    }
    let (top, foot) = portal.turns();
    found.extend([
        rigid(
            "E I",
            "a post, bent sideways",
            bending_rigidity(portal.leg, Plane::Across),
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
fn side_beams(model: &Model) -> Vec<Input> {
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
