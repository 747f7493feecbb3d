//! How much is left where the tubes' walls are as thin as they may be.

use super::{LIMITS, figure, in_proportion, path, taken};
use crate::build::{Axis, Picked};
use crate::explain::{Derivation, Input, Origin, Recorder};
use crate::machine::section::worst_wall;
use crate::machine::stiffness::beam::per_length;
use crate::machine::stiffness::give::Springs;
use crate::machine::stiffness::{MachineStiffness, SpringName};
use crate::units;
use crate::words::Words;

/// The collet at mid-span, with the thinnest walls.
pub(super) fn at_collet(
    axis: Axis,
    figures: &MachineStiffness,
    thin: &Springs,
    picked: &Picked,
) -> Derivation {
    let in_axis = axis.title();
    let there = SpringName::ALL
        .iter()
        .map(|name| (name, thin.of(*name).reaching(0.0)));
    let there = there.filter(|(_, give)| *give > 0.0);
    let each = there.map(|(name, give)| {
        let stiffness = units::n_per_um::amount(per_length(give));
        taken(
            "k_i",
            &format!("{}, thinnest walls", name.title()),
            stiffness,
        )
    });
    let told = figure(
        "collet_thin_wall_n_per_um",
        axis,
        format!("stiffness at the collet in {in_axis}, thinnest walls"),
        figures.collet_thin_wall[axis],
    )
    .by(
        "the same springs with each tube's wall as it was measured, else as thin as the standard allows: T - 10 % up to 5 mm, T - 0.5 mm above",
        "1/k_thin = Σ 1/k_i with T_b and T_o; to compare: k",
    )
    .with_each(each)
    .with_each(walls(picked))
    .with(
        "k",
        "to compare: at nominal walls",
        units::n_per_um::amount(figures.collet[axis]),
        Origin::figure(path("collet_n_per_um", axis)),
    )
    .from(
        "EN 10219-2:2006, Table 2 and Annex B",
        "Both tubes thin all along; the tolerance of mass, 6 %, makes that rare.",
    );
    in_proportion(told, figures, axis)
}

/// The walls that the tubes have at worst.
fn walls(picked: &Picked) -> [Input; 2] {
    let beam = units::mm::amount(worst_wall(picked.beam_wall));
    let others = units::mm::amount(worst_wall(picked.base_wall));
    [
        Input::new(
            "T_b",
            "thinnest wall of the beam",
            beam,
            Origin::part(picked.beam_tube),
        ),
        Input::new(
            "T_o",
            "thinnest wall of the other tubes",
            others,
            Origin::part(picked.base_tube),
        ),
    ]
}

/// The thinnest walls at the worst place, at collet and tip.
pub(super) fn worst_of_all(
    axis: Axis,
    figures: &MachineStiffness,
    picked: &Picked,
    notes: &mut impl Recorder,
) {
    let cases = [
        (
            "collet_worst_thin_wall_n_per_um",
            "collet_worst_n_per_um",
            "the collet",
        ),
        (
            "tip_worst_thin_wall_n_per_um",
            "tip_worst_n_per_um",
            "the tip of the usual tool",
        ),
    ];
    let results = [
        figures.collet_worst_thin_wall[axis],
        figures.tip_worst_thin_wall[axis],
    ];
    let nominal = [figures.collet_worst[axis], figures.tip_worst[axis]];
    for (((key, of, at), result), nominal) in cases.into_iter().zip(results).zip(nominal) {
        notes.note(|| {
            let title = format!("stiffness at {at} in {}, worst place, thinnest walls", axis.title());
            let told = figure(key, axis, title, result)
                .by(
                    "as with usual walls, k, but with each tube's wall as it was measured, else as thin as the standard allows: T - 10 % up to 5 mm, T - 0.5 mm above; the least of the same places along the beam",
                    "k_thin = min k(a, T_b, T_o)",
                )
                .with("k", "with usual walls", units::n_per_um::amount(nominal), Origin::figure(path(of, axis)))
                .with_each(walls(picked))
                .from("EN 10219-2:2006, Table 2 and Annex B; springs in series", LIMITS);
            in_proportion(told, figures, axis)
        });
    }
}
