//! What goes into the formula of each spring.

use super::SpringName;
use super::beam::{Plane, bending_rigidity, torsion_rigidity};
use super::guide::Guide;
use super::model::Model;
use crate::build::{Axis, Picked};
use crate::explain::{Input, Origin};
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
    let post = model.uprights.map_or(0.0, |uprights| uprights.rigidity);
    let plane = if axis == Axis::Y {
        Plane::Across
    } else {
        Plane::Up
    };
    match name {
        Screw | Nut | Bearing | Twist | Coupling | Bracket | Rack | Belt | Motor => {
            super::drive_inputs::of(axis, name, model, picked)
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
            taken("ab", "a (1 - a) at mid-span", Amount::plain(0.25)),
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
            taken("ab", "a (1 - a) at mid-span", Amount::plain(0.25)),
        ],
        Uprights => vec![
            mm("H", "from the feet up to the beam's axis", l.rise),
            h,
            e,
            span,
            rigid("E I", "the posts of one side", post),
            rigid(
                "E I_b",
                "the beam's tube",
                bending_rigidity(model.beam.section, Plane::Up),
            ),
        ],
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
        SideBeams => vec![
            mm(
                "S",
                "distance of a side beam's supports",
                model
                    .sides
                    .beam
                    .map_or(units::mm::of(0.0), |beam| beam.length),
            ),
            mm(
                "h",
                "height between Y carriages and nose",
                units::m::of(model.below_y().abs()),
            ),
            mm(
                "L",
                "distance of the Y rails",
                units::m::of(model.guides.y.gap),
            ),
            taken(
                "c",
                "what one gives",
                Amount::of(model.sides.give() * 1e6, "µm/N"),
            ),
        ],
        Yaw => vec![
            e,
            span,
            taken(
                "K",
                "carriages and drives against turning",
                Amount::of(model.against_yaw(), "N·m/rad"),
            ),
        ],
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

/// The inputs that every group of carriages has, before its levers.
fn guide(picked: &Picked, axis: Axis, guide: &Guide, levers: Vec<Input>) -> Vec<Input> {
    let carriage = picked.axes[axis].carriage;
    let mut found = vec![
        Input {
            symbol: "k_0",
            title: "rigidity of a carriage by its catalogue".to_owned(),
            value: units::n_per_um::amount(carriage.rigidity).into(),
            origin: Origin::part(carriage),
        },
        Input {
            symbol: "j",
            title: "share of it that is left when installed".to_owned(),
            value: units::percent::amount(picked.build.drive.joint_factor).into(),
            origin: Origin::choice("carriage_joint_percent"),
        },
        taken(
            "k",
            "one carriage installed, j k_0",
            Amount::of(guide.each / 1e6, "N/µm"),
        ),
        Input {
            symbol: "n",
            title: "carriages".to_owned(),
            value: Amount::plain(guide.blocks).into(),
            origin: Origin::choice(axis.choice("carriages")),
        },
        taken(
            "K",
            "against pitch and yaw, k Σx² + n k (0.65 block)²/12",
            Amount::of(guide.against_pitch(), "N·m/rad"),
        ),
        taken(
            "K_r",
            "against roll, k Σy² + n k (rail width/2)²",
            Amount::of(1.0 / guide.rolls(), "N·m/rad"),
        ),
    ];
    found.extend(levers);
    found
}
