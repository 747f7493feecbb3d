//! How far the tool gives, as JSON.

use serde_json::{Map, Value, json};

use super::n;
use crate::assessment::Assessment;
use crate::build::PerAxis;
use crate::machine::stiffness::Spring;
use crate::units::{self, Stiffness};
use crate::words::Words;

pub(super) fn stiffness(assessment: &Assessment) -> Value {
    let figures = &assessment.machine.stiffness;
    let of_springs = |value: fn(&Spring) -> f64| {
        let each = figures.springs.iter().map(|(axis, springs)| {
            let named = |spring: &Spring| (spring.name.id().to_owned(), n(value(spring)));
            let springs: Map<String, Value> = springs.iter().map(named).collect();
            (axis.id().to_owned(), Value::Object(springs))
        });
        Value::Object(each.collect())
    };
    json!({
        "collet_n_per_um": directions(&figures.collet),
        "collet_worst_n_per_um": directions(&figures.collet_worst),
        "tip_n_per_um": directions(&figures.tip),
        "tip_worst_n_per_um": directions(&figures.tip_worst),
        "collet_thin_wall_n_per_um": directions(&figures.collet_thin_wall),
        "collet_worst_thin_wall_n_per_um": directions(&figures.collet_worst_thin_wall),
        "tip_worst_thin_wall_n_per_um": directions(&figures.tip_worst_thin_wall),
        "first_mode_hz": n(units::hz::from(figures.first_mode)),
        "springs": of_springs(|spring| units::n_per_um::from(spring.stiffness)),
        "shares": of_springs(|spring| units::percent::from(spring.share)),
    })
}

fn directions(each: &PerAxis<Stiffness>) -> Value {
    let map: Map<String, Value> = each
        .iter()
        .map(|(axis, stiffness)| (axis.id().to_owned(), n(units::n_per_um::from(*stiffness))))
        .collect();
    Value::Object(map)
}
