//! Weighings and sweeps as JSON.

use serde_json::{Value, json};

use crate::assessment::json::n;
use crate::catalogue::Catalogue;
use crate::commands::json::{findings, reading};
use crate::explore::reading::Measure;
use crate::explore::sweep::Sweep;
use crate::explore::weigh::{Outcome, Weighing};
use crate::words::Words as _;

/// Every option of every choice.
pub(super) fn weighed(weighing: &Weighing, catalogue: &Catalogue, by: Measure) -> Value {
    let rows = super::order(weighing, by).into_iter().map(|row| {
        let (less, more) = row.neighbours(catalogue);
        let best = row.best(&weighing.before, by);
        let spans = Measure::ALL.iter().filter_map(|&measure| {
            let span = row.span(&weighing.before, measure)?;
            let told = json!({
                "least": n(span.least.0),
                "least_by": span.least.1.to_string(),
                "most": n(span.most.0),
                "most_by": span.most.1.to_string(),
            });
            Some((measure.id().to_owned(), told))
        });
        json!({
            "choice": row.choice.id,
            "title": row.choice.title,
            "now": row.now.to_string(),
            "next_less": less.map(|one| one.value.to_string()),
            "next_more": more.map(|one| one.value.to_string()),
            "best": best.map(|one| one.value.to_string()),
            // None where it costs nothing, or where nothing betters it.
            "for_one_unit_of_money": best
                .and_then(|one| one.worth(&weighing.before, by))
                .filter(|worth| worth.is_finite() && by != Measure::Cost)
                .map(n),
            "reaches": Value::Object(spans.collect()),
            "options": row.outcomes.iter().map(outcome).collect::<Value>(),
        })
    });
    let bought = weighing.bought.iter().map(|choice| choice.id);
    json!({
        "by": by.id(),
        "now": reading(&weighing.before),
        "bought": bought.collect::<Value>(),
        "choices": rows.collect::<Value>(),
    })
}

fn outcome(one: &Outcome) -> Value {
    json!({
        "value": one.value.to_string(),
        "price": one.price.to_string(),
        "after": reading(&one.reading),
        "new": findings(&one.added),
        "gone": findings(&one.lifted),
    })
}

/// A choice over a range.
pub(super) fn swept(sweep: &Sweep) -> Value {
    let points = sweep.points.iter().enumerate().map(|(place, point)| {
        let turned = |begins: bool| {
            let of_it = sweep.turns.iter();
            let of_it = of_it.filter(|turn| turn.point == place && turn.begins == begins);
            let each: Vec<_> = of_it.map(|turn| turn.finding.clone()).collect();
            findings(&each)
        };
        json!({
            "value": point.value.to_string(),
            "at": reading(&point.reading),
            "begins": turned(true),
            "ends": turned(false),
        })
    });
    json!({
        "choice": sweep.choice.id,
        "title": sweep.choice.title,
        "points": points.collect::<Value>(),
    })
}
