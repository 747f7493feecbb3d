//! What a setting that costs nothing makes cheaper. A motor that is too slow for so many
//! microsteps lifts nothing alone; with fewer of them it may be the cheapest cure of all. Whoever
//! takes the setting first finds that out, and nobody should have to guess the order.

use rust_decimal::Decimal;

use super::{Cure, best, gain, reaches};
use crate::build::{Axis, edit};
use crate::explore::trial::{Bench, is_bought};
use crate::explore::weigh;

/// The best setting that costs nothing, each with one more change: the cheapest that is faster
/// still, and the cheapest that reaches the wish, where no known cure is as good.
pub(super) fn after_a_setting(bench: &Bench, axis: Axis, known: &[Cure]) -> Vec<Cure> {
    let free = known.iter().filter(|cure| is_free_setting(bench, cure));
    let Some(first) = free.max_by(|a, b| a.gain.total_cmp(&b.gain)) else {
        return Vec::new();
    };
    let Ok(after) = bench.assess(&first.build) else {
        return Vec::new();
    };
    if reaches(bench.build, &after, axis) {
        return Vec::new();
    }
    let set = Bench {
        build: &first.build,
        before: &after,
        ..*bench
    };
    let is_set = |id: &str| {
        let edits = edit::difference(bench.build, &first.build);
        edits.iter().any(|edit| edit.choice.id == id)
    };
    let open = weigh::free().filter(|choice| !is_set(choice.id) && !is_bought(bench.build, choice));
    let further = open.flat_map(|choice| best(&set, axis, choice));
    let both = further.filter_map(|further| {
        let trial = bench.trial(further.build).ok()?;
        let gain = gain(bench, axis, trial.after.machine.axes[axis].rapid)?;
        let beats = |one: &Cure| one.price <= trial.price && one.gain >= gain;
        let reaches = reaches(bench.build, &trial.after, axis);
        (trial.is_sound() && !known.iter().any(beats)).then(|| {
            let cure = Cure {
                title: format!("{}, and {}", first.title, further.title),
                warnings: trial.added.len(),
                price: trial.price,
                build: trial.build,
                gain,
            };
            (cure, reaches)
        })
    });
    let (reach, short): (Vec<_>, Vec<_>) = both.partition(|(_, reaches)| *reaches);
    let cheapest = |of: Vec<(Cure, bool)>| {
        let each = of.into_iter().map(|(cure, _)| cure);
        each.min_by_key(|cure| (cure.price, cure.warnings))
    };
    let (reach, short) = (cheapest(reach), cheapest(short));
    // What falls short is worth naming only where it costs less.
    let cheaper = |cure: &Cure| reach.as_ref().is_none_or(|reach| cure.price < reach.price);
    let short = short.filter(cheaper);
    reach.into_iter().chain(short).collect()
}

/// Whether a cure is one choice that nothing is bought for and that brings no warning.
fn is_free_setting(bench: &Bench, cure: &Cure) -> bool {
    let edits = edit::difference(bench.build, &cure.build);
    cure.price == Decimal::ZERO && cure.warnings == 0 && edits.len() == 1
}
