//! The cheapest cure often brings a warning that one further change lifts: then both are offered
//! together, since whoever takes the one looks for the other next.

use super::pairs::said;
use super::{Cure, gain};
use crate::build::{Axis, Edit};
use crate::explore::effect::missing_in;
use crate::explore::remedy::{cure, remedies};
use crate::explore::told;
use crate::explore::trial::{Bench, is_bought};
use crate::explore::weigh::is_free;

/// A cure together with the cheapest remedy of a warning that it brings; none where it brings none, where no
/// remedy helps that leaves all wishes as they are, or where a known cure brings as few warnings, is
/// as fast and costs no more.
pub(super) fn mended(bench: &Bench, axis: Axis, one: &Cure, known: &[Cure]) -> Option<Cure> {
    let trial = bench.trial(one.build.clone()).ok()?;
    let asked = |edit: &Edit| {
        trial
            .edits
            .iter()
            .any(|one| one.choice.id == edit.choice.id)
    };
    let open =
        |edit: &Edit| !asked(edit) && is_free(edit.choice) && !is_bought(bench.build, edit.choice);
    let changed = Bench {
        build: &trial.build,
        before: &trial.after,
        ..*bench
    };
    let each = trial.added.iter().flat_map(|finding| {
        let lift = remedies(&changed, finding);
        match lift.is_empty() {
            // Two changes may lift together what none lifts alone.
            true => vec![cure(&changed, finding)],
            false => lift,
        }
    });
    let mended = each.filter_map(|edits| {
        if edits.is_empty() || !edits.iter().all(open) {
            return None;
        }
        let mut build = trial.build.clone();
        edits.iter().for_each(|edit| edit.apply(&mut build));
        let mended = bench.trial(build).ok()?;
        let fewer = mended.added.len() < trial.added.len();
        let gain = gain(bench, axis, mended.after.machine.axes[axis].rapid)?;
        let along = edits
            .iter()
            .map(|edit| said(bench, edit.choice, &edit.value));
        let along = along.collect::<Vec<_>>().join(", ");
        let lifted = told::warned(&missing_in(&trial.added, &mended.added)).join("; ");
        (fewer && mended.is_sound()).then(|| Cure {
            title: format!("{}, and {along}", one.title),
            warnings: mended.added.len(),
            note: format!("\"{along}\" lifts what the rest brings ({lifted})."),
            price: mended.price,
            build: mended.build,
            gain,
        })
    });
    let mended = mended.min_by_key(|cure| (cure.warnings, cure.price))?;
    let beats = |other: &Cure| {
        other.warnings <= mended.warnings
            && other.price <= mended.price
            && other.gain >= mended.gain
    };
    (!known.iter().any(beats)).then_some(mended)
}
