//! What a setting that costs nothing makes cheaper. A motor that is too slow for so many
//! microsteps lifts nothing alone, and fewer of them may lift nothing for the motor that is
//! there; together they may be the cheapest cure of all. Whoever takes the setting first finds
//! that out, and nobody should have to guess the order.

use super::{Cure, MARGINS, SHORT, best, gain, reaches, said, with};
use crate::assessment::Assessment;
use crate::build::choices::Kind;
use crate::build::{Axis, Build};
use crate::explore::effect::missing_in;
use crate::explore::trial::{Bench, is_bought};
use crate::explore::weigh;
use crate::units;

/// A setting that costs nothing, taken.
struct Free {
    /// Its choice.
    id: &'static str,
    title: String,
    build: Build,
    after: Assessment,
}

/// The best setting that costs nothing, with one more change: the cheapest that reaches the wish,
/// and the cheapest of all where that is cheaper still; what no known cure is as good as.
pub(super) fn after_a_setting(bench: &Bench, axis: Axis, known: &[Cure]) -> Vec<Cure> {
    if reaches(bench.build, bench.before, axis) {
        return Vec::new();
    }
    let Some(free) = best_free(bench, axis) else {
        return Vec::new();
    };
    if reaches(bench.build, &free.after, axis) {
        return Vec::new();
    }
    let set = Bench {
        build: &free.build,
        before: &free.after,
        ..*bench
    };
    let open = weigh::free().filter(|one| one.id != free.id && !is_bought(bench.build, one));
    let further = open.flat_map(|choice| best(&set, axis, choice));
    let both = further.filter_map(|further| {
        let trial = bench.trial(further.build).ok()?;
        let gain = gain(bench, axis, trial.after.machine.axes[axis].rapid)?;
        let beats = |one: &Cure| one.price <= trial.price && one.gain >= gain;
        let reaches = reaches(bench.build, &trial.after, axis);
        (trial.is_sound() && !known.iter().any(beats)).then(|| {
            let cure = Cure {
                title: format!("{}, and {}", free.title, further.title),
                warnings: trial.added.len(),
                note: further.note,
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

/// The setting by which most is gained for nothing: it costs nothing, brings no warning and makes
/// no axis slower, and this axis or another one faster. None where there is none.
fn best_free(bench: &Bench, axis: Axis) -> Option<Free> {
    let rapids = |of: &Assessment| {
        Axis::EACH.map(|axis| units::m_per_min::from(of.machine.axes[axis].rapid))
    };
    let was = rapids(bench.before);
    let settings = weigh::free().filter(|choice| {
        let is_setting = matches!(choice.kind, Kind::Number(_) | Kind::Word(_) | Kind::Flag);
        is_setting && !MARGINS.contains(&choice.id) && !is_bought(bench.build, choice)
    });
    let tried = settings.flat_map(|choice| {
        let values = weigh::options(choice, bench.catalogue, bench.build).into_iter();
        values.filter_map(move |value| {
            let build = with(bench, choice, &value);
            let after = bench.assess(&build).ok()?;
            let free = after.bill.total.likely == bench.before.bill.total.likely;
            let harmless = missing_in(&after.findings, &bench.before.findings).is_empty();
            let title = said(bench, choice, &value);
            let id = choice.id;
            (free && harmless).then_some(Free {
                id,
                title,
                build,
                after,
            })
        })
    });
    let gained = tried.filter_map(|free| {
        let is = rapids(&free.after);
        let slower = was
            .iter()
            .zip(&is)
            .any(|(was, is)| *is < was * (1.0 - SHORT));
        let all: f64 = was.iter().zip(&is).map(|(was, is)| is - was).sum();
        let own = units::m_per_min::from(
            free.after.machine.axes[axis].rapid - bench.before.machine.axes[axis].rapid,
        );
        (!slower && all > SHORT).then_some(((own, all), free))
    });
    let most = gained.max_by(|((own, all), _), ((other, others), _)| {
        own.total_cmp(other).then(all.total_cmp(others))
    });
    most.map(|(_, free)| free)
}
