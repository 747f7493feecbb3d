//! What a search came to, as JSON. Counts of combinations are strings: they grow larger than
//! what every reader of JSON holds exactly.

use serde_json::{Value, json};

use crate::build::{Choice, Edit};
use crate::commands::json::{findings, reading};
use crate::explore::effect::missing_in;
use crate::explore::find::{Because, Found, FoundBuild, Request};
use crate::explore::reading::Reading;
use crate::explore::trial::Bench;
use crate::words::Words as _;

/// Everything that a search came to.
pub(super) fn found(bench: &Bench, request: &Request, found: &Found) -> Value {
    let free = found
        .space
        .free
        .iter()
        .map(|one| json!({ "choice": one.choice.id, "options": one.options.len() }));
    let bought = found.space.bought.iter().map(|choice| choice.id);
    let excluded = found
        .excluded
        .iter()
        .map(|(why, many)| excluded(why, *many, request));
    let builds = found.answers.iter().map(|one| answer(bench, one));
    let relaxed = found.relaxed.iter().map(|one| {
        let target = request.targets.get(one.target);
        json!({
            "target": target.map(|target| target.text()),
            "to": one.to.text(),
            "build": answer(bench, &one.answer),
        })
    });
    json!({
        "targets": request.targets.iter().map(|one| one.text()).collect::<Vec<_>>(),
        "against": request.against.map(|measure| measure.id()),
        "free": free.collect::<Value>(),
        "bought": bought.collect::<Vec<_>>(),
        "combinations": found.space.combinations().to_string(),
        "assessed": found.assessed,
        "excluded": excluded.collect::<Value>(),
        "met": found.leaves.to_string(),
        "searches": found.searches,
        "proven": found.is_proven(),
        "now": reading(&Reading::of(bench.before)),
        "builds": builds.collect::<Value>(),
        "relaxed": relaxed.collect::<Value>(),
        "fixed": findings(&found.fixed),
    })
}

fn excluded(why: &Because, many: u128, request: &Request) -> Value {
    let target = |place: usize| request.targets.get(place).map(|target| target.text());
    let (because, of) = match why {
        Because::Dearer => ("dearer", None),
        Because::Rule(id) => ("rule", Some(id.to_string())),
        Because::Target(place) => ("target", target(*place)),
        Because::NoBetter => ("no-better", None),
        Because::Follows => ("follows", None),
    };
    json!({ "because": because, "of": of, "combinations": many.to_string() })
}

fn answer(bench: &Bench, one: &FoundBuild) -> Value {
    let price = one.reading.cost.likely - bench.before.bill.total.likely;
    let mut figures = reading(&one.reading);
    let cost = figures
        .as_object_mut()
        .and_then(|figures| figures.shift_remove("cost"));
    json!({
        "edits": one.edits.iter().map(|edit| edited(bench, edit)).collect::<Value>(),
        "price": price.to_string(),
        "cost": cost,
        "figures": figures,
        "new": findings(&missing_in(&one.assessment.findings, &bench.before.findings)),
        "gone": findings(&missing_in(&bench.before.findings, &one.assessment.findings)),
    })
}

fn edited(bench: &Bench, edit: &Edit) -> Value {
    let choice: &Choice = edit.choice;
    json!({
        "choice": choice.id,
        "was": (choice.get)(bench.build).to_string(),
        "value": edit.value.to_string(),
    })
}
