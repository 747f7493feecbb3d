//! Remedies that exchange the spindle: one edit alone would leave a clamp, an inverter or a
//! cooler that do not fit, so a candidate changes all of them together.

use super::fit::same_size;
use super::voltage::same_class;
use super::{Facts, Remedies};
use crate::build::{Edit, Value, choices};
use crate::catalogue::spindle::{Cooling, EndMill, Spindle, Vfd};
use crate::catalogue::{Id, Part};
use crate::units::{self, AngularVelocity};

/// A candidate for every other spindle that suits, the cheapest first, with what it needs.
pub(super) fn other_spindles(facts: &Facts, suits: impl Fn(&Spindle) -> bool) -> Remedies {
    super::remedy::each_option(facts, "spindle")
        .into_iter()
        .flatten()
        .filter_map(|edit| {
            let Value::Part(Some(id)) = &edit.value else {
                return None;
            };
            let spindle = facts.picked.catalogue.spindles.get(id)?;
            if suits(spindle) {
                with_its_parts(facts, edit.clone(), spindle)
            } else {
                None
            }
        })
        .collect()
}

fn with_its_parts(facts: &Facts, edit: Edit, spindle: &Spindle) -> Option<Vec<Edit>> {
    let picked = facts.picked;
    let mut clamps = picked.catalogue.spindle_clamps.values();
    let clamp =
        clamps.find(|clamp| same_size(clamp.bore, spindle.body) && clamp.holds >= spindle.mass)?;
    if !spindle.needs_vfd() && !same_class(spindle.volts, picked.site.volts) {
        return None;
    }
    let mut edits = vec![edit];
    push(&mut edits, "spindle_clamp", Value::Part(Some(clamp.id)));
    let vfd = if spindle.needs_vfd() {
        Some(inverter_for(facts, spindle)?)
    } else {
        None
    };
    push(&mut edits, "vfd", Value::Part(vfd.map(|vfd| vfd.id)));
    if let Some(frequency) = spindle.rated_frequency() {
        push(
            &mut edits,
            "base_frequency_hz",
            Value::Number(Some(choices::tidy(units::hz::from(frequency)))),
        );
    }
    push(
        &mut edits,
        "cooler",
        Value::Part(cooler_for(facts, spindle)),
    );
    push(
        &mut edits,
        "spindle_speed_rpm",
        Value::Number(Some(choices::tidy(units::rpm::from(speed_on(
            facts, spindle,
        ))))),
    );
    push(&mut edits, "tool", Value::Part(tool_for(facts, spindle)));
    edits.retain(|edit| (edit.choice.get)(picked.build) != edit.value);
    Some(edits)
}

/// The usual speed, or the nearest that a spindle bears.
fn speed_on(facts: &Facts, spindle: &Spindle) -> AngularVelocity {
    let wished = facts.picked.build.spindle.speed;
    wished.max(spindle.least_speed).min(spindle.greatest_speed)
}

/// The usual tool, or the nearest in diameter whose shank a spindle's collets take.
fn tool_for(facts: &Facts, spindle: &Spindle) -> Option<Id> {
    let usual = facts.picked.tool;
    let apart =
        |tool: &EndMill| (units::um::from(tool.diameter) - units::um::from(usual.diameter)).abs();
    let fits = |tool: &&EndMill| spindle.takes(tool);
    let nearest = || {
        let tools = facts.picked.catalogue.end_mills.values().filter(fits);
        tools.min_by(|a, b| apart(a).total_cmp(&apart(b)))
    };
    let kept = Some(usual).filter(fits);
    kept.or_else(nearest).map(|tool| tool.id)
}

/// Whether an inverter feeds a spindle from the site's socket.
pub(super) fn feeds(facts: &Facts, vfd: &Vfd, spindle: &Spindle) -> bool {
    vfd.input_phases == 1
        && vfd.output >= spindle.current
        && same_class(vfd.output_voltage, spindle.volts)
        && same_class(vfd.input_voltage, facts.picked.site.volts)
}

/// The smallest inverter that feeds a spindle from the site's socket.
fn inverter_for<'a>(facts: &'a Facts, spindle: &Spindle) -> Option<&'a Vfd> {
    let output = |vfd: &Vfd| units::a::from(vfd.output);
    let all = facts.picked.catalogue.vfds.values();
    all.filter(|vfd| feeds(facts, vfd, spindle))
        .min_by(|a, b| output(a).total_cmp(&output(b)))
}

/// The cooler in hand where it will do, else the first with a watch; none for air.
fn cooler_for(facts: &Facts, spindle: &Spindle) -> Option<Id> {
    if spindle.cooling != Cooling::Water {
        return None;
    }
    let in_hand = facts.picked.cooler.filter(|cooler| cooler.watched);
    let first = || {
        facts
            .picked
            .catalogue
            .coolers
            .values()
            .find(|cooler| cooler.watched)
    };
    in_hand.or_else(first).map(|cooler| *cooler.id())
}

fn push(edits: &mut Vec<Edit>, choice: &str, value: Value) {
    if let Ok(choice) = choices::find(choice) {
        edits.push(Edit { choice, value });
    }
}
