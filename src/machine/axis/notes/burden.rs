//! What one motor has to move, as figures of their own: mass, friction, weight and inertia.

use super::Told;
use crate::build::Axis;
use crate::catalogue::LinearDrive;
use crate::catalogue::frame::Layout;
use crate::explain::{Derivation, Input, Origin, Recorder};
use crate::machine::load::RAIL_FRICTION;
use crate::machine::mass::Masses;
use crate::units::{self, Amount};

/// Names of these figures in paths.
const MASS: &str = "carried_mass_kg";
const FRICTION: &str = "friction_n";
const WEIGHT: &str = "weight_n";
const INERTIA: &str = "rotating_inertia_kg_m2";

impl Told<'_, '_> {
    /// Of what the motor has to move and to get over, what a formula names: m carried mass,
    /// F friction, W weight, r travel for a radian, η efficiency, J inertia that turns, M drag.
    pub(in crate::machine) fn burden(&self, symbols: &[&'static str]) -> Vec<Input> {
        let each = symbols.iter().filter_map(|symbol| self.burden_of(symbol));
        each.collect()
    }

    fn burden_of(&self, symbol: &'static str) -> Option<Input> {
        let (load, drive) = (self.load, self.drive);
        let part = || Origin::part(self.part.part());
        let (title, amount, origin) = match symbol {
            "m" => (
                "mass on one motor, the most burdened",
                units::kg::amount(load.mass),
                self.mass_origin(),
            ),
            "F" => (
                "friction against that motor",
                units::n::amount(load.friction),
                self.figure(FRICTION),
            ),
            "W" => match self.axis {
                Axis::Z => ("weight", units::n::amount(load.weight), self.figure(WEIGHT)),
                Axis::X | Axis::Y => (
                    "weight: none along a level axis",
                    units::n::amount(load.weight),
                    Origin::Here,
                ),
            },
            "r" => (
                "travel for one radian of the motor",
                Amount::of(
                    units::mm::from(drive.travel_a_turn) / std::f64::consts::TAU,
                    "mm",
                ),
                part(),
            ),
            "η" => (
                "efficiency from torque to thrust",
                units::times::amount(drive.efficiency),
                part(),
            ),
            "J" => (
                "inertia that turns",
                units::kg_m2::amount(load.rotating),
                self.figure(INERTIA),
            ),
            "M" => {
                let doubled = matches!(self.part, LinearDrive::Ball(_))
                    && self.picked.build.drive.preloaded_nuts;
                let (title, origin) = match doubled {
                    true => (
                        "drag of nut and bearings, doubled by preloaded nuts",
                        Origin::choice("preloaded_nuts"),
                    ),
                    false => ("drag of nut and bearings", part()),
                };
                (title, units::nm::amount(drive.drag), origin)
            }
            _ => return None,
        };
        Some(Input::new(symbol, title, amount, origin))
    }

    /// Whether one motor carries all that the axis moves.
    fn carries_all(&self) -> bool {
        self.figures.motors < 2
    }

    fn mass_origin(&self) -> Origin {
        match self.carries_all() {
            true => self.figure("moving_mass_kg"),
            false => self.figure(MASS),
        }
    }
}

/// Tells of all of them.
pub(super) fn note(told: &Told, masses: &Masses, notes: &mut impl Recorder) {
    if !told.carries_all() {
        notes.note(|| mass(told, masses));
    }
    notes.note(|| friction(told));
    if told.axis == Axis::Z {
        notes.note(|| {
            let gravity = units::m_per_s2::amount(units::gravity());
            told.of(
                WEIGHT,
                "weight against the motor",
                units::n::amount(told.load.weight),
            )
            .by("mass times gravity", "W = m g")
            .with_each(told.burden(&["m"]))
            .with(
                "g",
                "gravity",
                gravity,
                Origin::Constant("standard gravity, ISO 80000-3"),
            )
            .from(
                "mechanics",
                "A counterweight or gas spring would take some of it; none is planned with.",
            )
        });
    }
    notes.note(|| inertia(told));
}

fn mass(told: &Told, masses: &Masses) -> Derivation {
    let whole = units::kg::amount(told.figures.moving_mass);
    let figure = told.of(
        MASS,
        "mass on one motor, the most burdened",
        units::kg::amount(told.load.mass),
    );
    let source = "mechanics of a beam on two supports";
    if told.picked.frame.layout == Layout::MovingTable {
        return figure
            .by("half of what the axis moves", "m = M/2")
            .with("M", "moving mass", whole, told.figure("moving_mass_kg"))
            .from(
                source,
                "A workpiece at the side of the table weighs more on one of them.",
            );
    }
    figure
        .by(
            "the X assembly at the end of its travel weighs on the nearer side by its share; the rest is halved",
            "m = q M_X + (M - M_X)/2",
        )
        .with("q", "share of the nearer side", Amount::plain(told.load.share), Origin::Plan(told.picked.frame.id.to_string()))
        .with("M_X", "what X moves", units::kg::amount(masses.moving.x), Origin::figure("axes.X.moving_mass_kg"))
        .with("M", "what Y moves", whole, told.figure("moving_mass_kg"))
        .from(source, "The two sides are taken as firmly coupled by the beam.")
}

fn friction(told: &Told) -> Derivation {
    let carriage = told.picked.axes[told.axis].carriage;
    let count = f64::from(told.carriages) / f64::from(told.figures.motors);
    let figure = told.of(
        FRICTION,
        "friction of rails and seals against one motor",
        units::n::amount(told.load.friction),
    );
    let figure = match told.axis {
        Axis::Z => figure.by(
            "the drag of the seals; hanging upright, no weight presses on the carriages",
            "F = n d",
        ),
        Axis::X | Axis::Y => figure
            .by(
                "friction of the balls under the weight, and the drag of the seals",
                "F = µ m g + n d",
            )
            .with(
                "µ",
                "friction of the balls",
                Amount::plain(RAIL_FRICTION),
                Origin::Constant("published rail catalogue"),
            )
            .with_each(told.burden(&["m"]))
            .with(
                "g",
                "gravity",
                units::m_per_s2::amount(units::gravity()),
                Origin::Constant("standard gravity, ISO 80000-3"),
            ),
    };
    figure
        .with(
            "n",
            "carriages for each motor",
            Amount::plain(count),
            Origin::choice(told.axis.choice("carriages")),
        )
        .with(
            "d",
            "drag of a carriage's seals",
            units::n::amount(carriage.drag),
            Origin::part(carriage),
        )
        .from(
            "published rail catalogue",
            "Preload and grease of cold mornings drag more.",
        )
}

fn inertia(told: &Told) -> Derivation {
    let chosen = &told.picked.axes[told.axis];
    let coupling = match chosen.drive.is_screw() {
        true => chosen.coupling.inertia,
        false => units::kg_m2::of(0.0),
    };
    let kg_m2 = units::kg_m2::amount;
    let figure = told
        .of(
            INERTIA,
            "inertia that turns with one motor",
            kg_m2(told.load.rotating),
        )
        .with(
            "J_r",
            "rotor",
            kg_m2(chosen.motor.rotor_inertia()),
            Origin::part(chosen.motor.part()),
        );
    let figure = match chosen.drive.is_screw() {
        true => figure
            .by("rotor, screw and coupling; the screw as a steel bar, J_s = π ρ d⁴ L/32 at the mean of root and outer diameter", "J = J_r + J_s + J_c")
            .with("J_s", "screw", kg_m2(told.drive.inertia), Origin::part(told.part.part()))
            .with("J_c", "coupling", kg_m2(coupling), Origin::part(chosen.coupling)),
        false => figure
            .by("rotor, and pinion or pulleys seen through any reduction", "J = J_r + J_s")
            .with("J_s", "pinion or pulleys, with the reduction", kg_m2(told.drive.inertia), Origin::part(told.part.part())),
    };
    figure.from(
        "mechanics; data of motor and coupling",
        "What moves along counts as mass, not here.",
    )
}
