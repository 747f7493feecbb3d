//! Remedies that exchange the spindle: one edit alone would leave a clamp, an inverter or a
//! cooler that do not fit, so a candidate changes all of them together.

use super::voltage::same_class;
use super::{Facts, Remedies};
use crate::build::{Edit, Value, choices};
use crate::catalogue::spindle::{Cooling, Spindle, Vfd};
use crate::catalogue::{Id, Part};
use crate::units;

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
    let clamp = picked.catalogue.spindle_clamps.values().find(|clamp| {
        (units::mm::from(clamp.bore) - units::mm::from(spindle.body)).abs() < 0.5
            && clamp.holds >= spindle.mass
    })?;
    let mut edits = vec![edit];
    push(
        &mut edits,
        "spindle_clamp",
        Value::Part(Some(clamp.id.clone())),
    );
    let vfd = if spindle.needs_vfd() {
        Some(inverter_for(facts, spindle)?)
    } else {
        None
    };
    push(
        &mut edits,
        "vfd",
        Value::Part(vfd.map(|vfd| vfd.id.clone())),
    );
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
    let wished = picked.build.spindle.speed;
    let speed = if wished > spindle.greatest_speed {
        spindle.greatest_speed
    } else if wished < spindle.least_speed {
        spindle.least_speed
    } else {
        wished
    };
    push(
        &mut edits,
        "spindle_speed_rpm",
        Value::Number(Some(choices::tidy(units::rpm::from(speed)))),
    );
    edits.retain(|edit| (edit.choice.get)(picked.build) != edit.value);
    Some(edits)
}

/// The smallest inverter that feeds a spindle from the site's socket.
fn inverter_for<'a>(facts: &'a Facts, spindle: &Spindle) -> Option<&'a Vfd> {
    let fits = |vfd: &&Vfd| {
        vfd.input_phases == 1
            && vfd.output >= spindle.current
            && same_class(vfd.output_voltage, spindle.volts)
            && same_class(vfd.input_voltage, facts.picked.site.volts)
    };
    let by_output =
        |a: &&Vfd, b: &&Vfd| units::a::from(a.output).total_cmp(&units::a::from(b.output));
    facts
        .picked
        .catalogue
        .vfds
        .values()
        .filter(fits)
        .min_by(by_output)
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
    in_hand.or_else(first).map(|cooler| cooler.id().clone())
}

fn push(edits: &mut Vec<Edit>, choice: &str, value: Value) {
    if let Ok(choice) = choices::find(choice) {
        edits.push(Edit { choice, value });
    }
}
