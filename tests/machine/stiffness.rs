//! Stiffness over whole builds: the changes that stiffen a machine most for their money do so.

use crate::common;
use gantrywright::assessment::{Assessment, assess};
use gantrywright::build::{Axis, Build, Edit, choices};
use gantrywright::explore::stiffer::{Stiffer, stiffer};
use gantrywright::explore::trial::Bench;
use gantrywright::rules::Severity;
use gantrywright::units;
use rust_decimal::prelude::ToPrimitive;

/// Newtons a micrometre for each unit of money, of a change tried here.
fn worth(before: &Assessment, after: &Assessment, axis: Axis) -> Option<f64> {
    let collet = |a: &Assessment| units::n_per_um::from(a.machine.stiffness.collet[axis]);
    let likely = |a: &Assessment| a.bill.total.likely.to_f64().expect("a number");
    let (added, cost) = (
        collet(after) - collet(before),
        likely(after) - likely(before),
    );
    let unsound = |a: &Assessment, severity| a.open(severity).count();
    let sound = [Severity::Danger, Severity::Fault]
        .iter()
        .all(|severity| unsound(after, *severity) <= unsound(before, *severity));
    // Less than a twentieth is not worth the work.
    (added >= collet(before) * 0.05 && sound).then_some(if cost > 0.0 {
        added / cost
    } else {
        f64::INFINITY
    })
}

#[test]
fn the_best_changes_stiffen_most_for_their_money() {
    let (catalogue, build) = (common::catalogue(), Build::default());
    let today = common::today();
    let before = assess(&catalogue, &build, today).expect("an assessment");
    let bench = Bench {
        catalogue: &catalogue,
        build: &build,
        before: &before,
        today,
    };
    for axis in Axis::EACH {
        let best: Vec<Stiffer> = stiffer(&bench, axis);
        assert!((1..=3).contains(&best.len()), "{axis:?}");
        assert!(best.is_sorted_by(|a, b| a.worth() >= b.worth()), "{best:?}");
        for one in &best {
            let after = assess(&catalogue, &one.edit.applied(&build), today).expect("one");
            let collet = |a: &Assessment| a.machine.stiffness.collet[axis];
            assert_eq!(collet(&after), one.after);
            assert_eq!(collet(&after) - collet(&before), one.added);
            let cost = after.bill.total.likely - before.bill.total.likely;
            assert_eq!(cost, one.cost);
        }
        for id in ["plate", "beam_tube", "guide_y", "drive_y", "frame_plan"] {
            let choice = choices::find(id).expect("a choice");
            for value in choice.options(&catalogue) {
                let edit = Edit { choice, value };
                let after = assess(&catalogue, &edit.applied(&build), today).expect("one");
                if let Some(worth) = worth(&before, &after, axis) {
                    assert!(
                        worth <= best[0].worth() * (1.0 + 1e-9),
                        "{axis:?} {edit:?}: {worth}"
                    );
                }
            }
        }
    }
}
