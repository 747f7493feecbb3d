//! How the figures of stiffness came about, told to whoever listens.

use super::beam::per_length;
use super::give::Springs;
use super::inputs::{inputs, taken};
use super::mode::Mode;
use super::model::Model;
use super::{MachineStiffness, Spring, SpringName, tool};
use crate::build::{Axis, Picked};
use crate::explain::{Derivation, Input, Origin, Recorder};
use crate::units::{self, Amount, Stiffness};
use crate::words::Words;

mod thin;

/// Where the whole model ends.
const LIMITS: &str = "Springs in series, each counted once; joints are in the carriages' joint factor alone. X plate, clamp, spindle body and welds are taken as stiff; measured machines come out softer more often than stiffer.";

/// Notes every figure of a machine's stiffness.
pub(super) fn all(
    figures: &MachineStiffness,
    (model, thin): (&Model, &Model),
    picked: &Picked,
    mode: &Mode,
    notes: &mut impl Recorder,
) {
    if !notes.listens() {
        return;
    }
    for axis in Axis::EACH {
        for spring in &figures.springs[axis] {
            notes.note(|| one(axis, spring, model, picked));
            notes.note(|| share(axis, spring, figures));
        }
        let thin = thin.springs(axis, units::share::of(0.5));
        together(axis, figures, &thin, picked, notes);
    }
    notes.note(|| first_mode(mode));
}

fn path(of: &str, axis: Axis) -> String {
    format!("stiffness.{of}.{}", axis.id())
}

fn spring_path(axis: Axis, name: SpringName) -> String {
    format!("stiffness.springs.{}.{}", axis.id(), name.id())
}

fn one(axis: Axis, spring: &Spring, model: &Model, picked: &Picked) -> Derivation {
    let said = super::formulas::formula(axis, spring.name, model, picked);
    // One list serves the formulas of all directions: each takes what it names.
    let named = inputs(axis, spring.name, model, picked)
        .into_iter()
        .filter(|input| names(said.formula, input.symbol));
    Derivation::of(
        spring_path(axis, spring.name),
        format!(
            "stiffness of {} in {}, seen from the collet",
            spring.name.title(),
            axis.title()
        ),
        units::n_per_um::amount(spring.stiffness),
    )
    .by(said.words, said.formula)
    .with_each(named)
    .from(said.source, said.limits)
}

fn share(axis: Axis, spring: &Spring, figures: &MachineStiffness) -> Derivation {
    let whole = path("collet_n_per_um", axis);
    Derivation::of(
        format!("stiffness.shares.{}.{}", axis.id(), spring.name.id()),
        format!(
            "share of {} in all that gives in {}",
            spring.name.title(),
            axis.title()
        ),
        units::percent::amount(spring.share),
    )
    .by(
        "stiffness of the whole by that of the spring alone",
        "k / k_i",
    )
    .with(
        "k",
        "stiffness at the collet, by the model",
        units::n_per_um::amount(figures.modelled[axis].unwrap_or(figures.collet[axis])),
        match figures.modelled[axis] {
            Some(_) => Origin::Here,
            None => Origin::figure(whole),
        },
    )
    .with(
        "k_i",
        "the spring alone",
        units::n_per_um::amount(spring.stiffness),
        Origin::figure(spring_path(axis, spring.name)),
    )
    .from("springs in series", "")
}

/// Collet and tip, mid-span and worst place, and the thin wall.
fn together(
    axis: Axis,
    figures: &MachineStiffness,
    thin: &Springs,
    picked: &Picked,
    notes: &mut impl Recorder,
) {
    let in_axis = axis.title();
    notes.note(|| {
        let each = figures.springs[axis].iter().map(|spring| {
            Input::new(
                "k_i",
                spring.name.title(),
                units::n_per_um::amount(spring.stiffness),
                Origin::figure(spring_path(axis, spring.name)),
            )
        });
        let derivation = figure(
            "collet_n_per_um",
            axis,
            format!("stiffness at the collet in {in_axis}, mid-span"),
            figures.collet[axis],
        );
        match figures.modelled[axis] {
            Some(modelled) => measured(derivation, axis, picked, modelled).with_each(each),
            None => derivation
                .by("what the springs give adds up", "1/k = Σ 1/k_i")
                .with_each(each)
                .from("springs in series, any handbook of mechanics", LIMITS),
        }
    });
    notes.note(|| worst_place(axis, figures));
    notes.note(|| thin::at_collet(axis, figures, thin, picked));
    notes.note(|| {
        let told = tip("tip_n_per_um", axis, "mid-span", figures.tip[axis], picked);
        in_proportion(told, figures, axis)
    });
    thin::worst_of_all(axis, figures, picked, notes);
    notes.note(|| {
        let (worst, place) = (figures.tip_worst[axis], "worst place");
        let told = tip("tip_worst_n_per_um", axis, place, worst, picked);
        in_proportion(told, figures, axis)
    });
}

/// The collet at the worst place along the beam.
fn worst_place(axis: Axis, figures: &MachineStiffness) -> Derivation {
    let in_axis = axis.title();
    let told = figure(
        "collet_worst_n_per_um",
        axis,
        format!("stiffness at the collet in {in_axis}, worst place"),
        figures.collet_worst[axis],
    )
    .by(
        "the least of mid-span, both ends of the X travel and halfway between",
        "k = min(k(1/2), k(a_0), k(1 - a_0), k(1/4 + a_0/2), k(3/4 - a_0/2))",
    )
    .with_each(place_inputs(axis, figures))
    .from("springs in series, any handbook of mechanics", LIMITS);
    in_proportion(told, figures, axis)
}

/// The stiffness at the collet where the builder measured it.
fn measured(
    derivation: Derivation,
    axis: Axis,
    picked: &Picked,
    modelled: Stiffness,
) -> Derivation {
    let measured = &picked.build.measured;
    let give = measured.give[axis].unwrap_or_default();
    derivation
        .by(
            "your pull by what the collet gave under it; the springs k_i of the model are there to compare",
            "k = F / x",
        )
        .with("F", "pull", units::n::amount(measured.pull), Origin::Measured("measured_pull_n".to_owned()))
        .with("x", "what it gave", units::um::amount(give), Origin::Measured(axis.choice("measured_give") + "_um"))
        .instead_of(units::n_per_um::amount(modelled))
        .from("your own measurement", "As good as scale, dial gauge and hand; it holds where you pulled, at mid-span.")
}

/// Where the collet was measured, the factor by which all else follows.
fn in_proportion(mut derivation: Derivation, figures: &MachineStiffness, axis: Axis) -> Derivation {
    let Some(modelled) = figures.modelled[axis] else {
        return derivation;
    };
    let by = (figures.collet[axis] / modelled).value;
    derivation
        .words
        .push_str("; the machine's part is q times the model's, as measured at the collet");
    derivation.inputs.push(taken(
        "q",
        "measured by modelled stiffness at the collet",
        Amount::plain(by),
    ));
    derivation
}

fn figure(of: &str, axis: Axis, title: String, result: Stiffness) -> Derivation {
    Derivation::of(path(of, axis), title, units::n_per_um::amount(result))
}

/// Whether a formula names a symbol: as a whole, not as a part of another one.
fn names(formula: &str, symbol: &str) -> bool {
    let is_letter = |c: char| c.is_alphabetic() || c == '_';
    formula.match_indices(symbol).any(|(start, found)| {
        let before = formula[..start].chars().next_back();
        let mut after = formula[start + found.len()..].chars();
        let after = after.next();
        let goes_on = |c: char| is_letter(c) || c.is_ascii_digit() || c == '\'';
        !before.is_some_and(is_letter) && !after.is_some_and(goes_on)
    })
}

/// The stiffness at each place along the beam where the tool may be.
fn place_inputs(axis: Axis, figures: &MachineStiffness) -> Vec<Input> {
    let end = (figures.levers.margin / figures.levers.span).value;
    let nearest = "the nearest that the tool comes to a support, as a share of their distance";
    let symbols = [
        "k(1/2)",
        "k(a_0)",
        "k(1 - a_0)",
        "k(1/4 + a_0/2)",
        "k(3/4 - a_0/2)",
    ];
    let each = symbols.into_iter().zip(figures.gives[axis]).enumerate();
    let each = each.map(|(place, (symbol, give))| {
        let stiffness = units::n_per_um::amount(per_length(give.reaching(0.0)));
        let origin = match place {
            0 => Origin::figure(path("collet_n_per_um", axis)),
            _ => Origin::Here,
        };
        Input::new(symbol, "stiffness with the tool there", stiffness, origin)
    });
    let first = taken("a_0", nearest, Amount::plain(end));
    std::iter::once(first).chain(each).collect()
}

fn tip(of: &str, axis: Axis, place: &str, result: Stiffness, picked: &Picked) -> Derivation {
    let reach = picked.tool.reach;
    let bending = per_length(tool::gives(picked.tool, axis));
    let machine = per_length(1.0 / result.value - 1.0 / bending.value);
    let own = match axis {
        Axis::X | Axis::Y => "1/k = 1/k_m + 1/k_t, 1/k_t = 64/(3 π E) (l³/(0.8 D)⁴ + (r³ - l³)/d⁴)",
        Axis::Z => "1/k = 1/k_m + 1/k_t, 1/k_t = 4/(π E) (l/(0.8 D)² + (r - l)/d²)",
    };
    let title = format!(
        "stiffness at the tip of the usual tool in {}, {place}",
        axis.title()
    );
    figure(of, axis, title, result)
        .by("the machine at the tip, whose levers are longer by the tool's reach, in series with the tool", own)
        .with("k_m", "the machine at the tip, the tool taken as stiff", units::n_per_um::amount(machine), Origin::Here)
        .with("r", "what the tool stands out of the collet", units::mm::amount(reach), Origin::part(picked.tool))
        .with("D", "its diameter", units::mm::amount(picked.tool.diameter), Origin::part(picked.tool))
        .with("l", "length of its edges out of the collet", units::mm::amount(tool::edges(picked.tool)), Origin::part(picked.tool))
        .with("d", "its shank", units::mm::amount(picked.tool.shank), Origin::part(picked.tool))
        .with("E", "elastic modulus of carbide", units::gpa::amount(tool::carbide_modulus()), Origin::Constant("handbook value of cemented carbide"))
        .with("k_t", "the tool alone", units::n_per_um::amount(bending), Origin::Here)
        .from("cantilever in two pieces, any handbook of mechanics; core of 0.8 D: common practice", LIMITS)
}

fn first_mode(mode: &Mode) -> Derivation {
    let titles = ["Z axis", "X axis", "gantry without its beam", "beam"];
    let parts = titles.iter().zip(mode.masses).zip(mode.gives);
    let each = parts.flat_map(|((title, mass), give)| {
        [
            Input::new(
                "m_i",
                format!("mass of {title}"),
                units::kg::amount(mass),
                Origin::Here,
            ),
            Input::new(
                "c_i",
                format!("what {title} gives at its centre"),
                Amount::of(give * 1e6, "µm/N"),
                Origin::Here,
            ),
        ]
    });
    Derivation::of(
        "stiffness.first_mode_hz",
        format!("first mode, in {}", mode.axis.title()),
        units::hz::amount(mode.frequency),
    )
    .by(
        "each mass on the springs between it and the ground, summed; the lowest of X, Y and Z",
        "f = 1/(2π √(Σ m_i c_i))",
    )
    .with_each(each)
    .from(
        "Dunkerley's formula; a beam counts with 17/35 of its mass: handbook of vibrations",
        "Never above the modes of this model; in practice gantries ring at half of it or less, for joints and floor give too. Where the collet was measured, all gives follow in proportion.",
    )
}
