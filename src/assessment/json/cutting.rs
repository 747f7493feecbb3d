//! What the tools can do, and the time of the named job, as JSON.

use serde_json::{Value, json};

use super::n;
use crate::assessment::Assessment;
use crate::machine::cutting::Cut;
use crate::units;
use crate::words::Words;

pub(super) fn cutting(assessment: &Assessment) -> Value {
    let each = assessment.machine.cutting.cuts.iter().map(cut);
    Value::Array(each.collect())
}

fn cut(cut: &Cut) -> Value {
    json!({
        "material": cut.material.as_str(),
        "tool": cut.tool.as_str(),
        "tool_mm": n(units::mm::from(cut.diameter)),
        "engagement": cut.engagement.id(),
        "verdict": cut.verdict.id(),
        "limited_by": cut.limited_by.id(),
        "rpm": n(units::rpm::from(cut.turning)),
        "feed_mm_per_min": n(units::m_per_min::from(cut.feed) * 1000.0),
        "depth_mm": n(units::mm::from(cut.depth)),
        "width_mm": n(units::mm::from(cut.width)),
        "removal_cm3_per_min": n(units::cm3_per_min::from(cut.removal)),
        "tooth_feed_mm": n(units::mm::from(cut.tooth_feed)),
        "mean_chip_mm": n(units::mm::from(cut.mean_chip)),
        "power_w": n(units::w::from(cut.power)),
        "force_n": n(units::n::from(cut.force)),
        "deflection_um": n(units::um::from(cut.deflection)),
        "tooth_passing_hz": n(units::hz::from(cut.tooth_passing)),
        "reached": n(units::share::from(cut.reached)),
    })
}

pub(super) fn job(assessment: &Assessment) -> Option<Value> {
    let job = assessment.machine.job.as_ref()?;
    let minutes = |time| n(units::minute::from(time));
    Some(json!({
        "tool": job.tool.as_str(),
        "roughing_min": minutes(job.roughing),
        "finishing_min": minutes(job.finishing),
        "moves_min": minutes(job.moves),
        "changes_min": minutes(job.changes),
        "lengths_min": minutes(job.lengths),
        "total_min": minutes(job.total),
        "held_by": job.held_by,
    }))
}
