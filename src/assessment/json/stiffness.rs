//! How far the tool gives, as JSON.

use serde_json::{Map, Value, json};

use super::n;
use crate::assessment::Assessment;
use crate::build::PerAxis;
use crate::units::{self, Stiffness};
use crate::words::Words;

pub(super) fn stiffness(assessment: &Assessment) -> Value {
    let figures = &assessment.machine.stiffness;
    let shares: Map<String, Value> = figures
        .springs
        .iter()
        .map(|(axis, springs)| {
            let each = springs.iter().map(|spring| {
                let share = n(units::percent::from(spring.share));
                (spring.name.id().to_owned(), share)
            });
            (axis.id().to_owned(), Value::Object(each.collect()))
        })
        .collect();
    let springs: Map<String, Value> = figures
        .springs
        .iter()
        .map(|(axis, springs)| {
            let each = springs.iter().map(|spring| {
                let stiffness = n(units::n_per_um::from(spring.stiffness));
                (spring.name.id().to_owned(), stiffness)
            });
            (axis.id().to_owned(), Value::Object(each.collect()))
        })
        .collect();
    json!({
        "collet_n_per_um": directions(&figures.collet),
        "collet_worst_n_per_um": directions(&figures.collet_worst),
        "tip_n_per_um": directions(&figures.tip),
        "tip_worst_n_per_um": directions(&figures.tip_worst),
        "collet_thin_wall_n_per_um": directions(&figures.collet_thin_wall),
        "collet_worst_thin_wall_n_per_um": directions(&figures.collet_worst_thin_wall),
        "tip_worst_thin_wall_n_per_um": directions(&figures.tip_worst_thin_wall),
        "first_mode_hz": n(units::hz::from(figures.first_mode)),
        "springs": springs,
        "shares": shares,
    })
}

fn directions(each: &PerAxis<Stiffness>) -> Value {
    let map: Map<String, Value> = each
        .iter()
        .map(|(axis, stiffness)| (axis.id().to_owned(), n(units::n_per_um::from(*stiffness))))
        .collect();
    Value::Object(map)
}
