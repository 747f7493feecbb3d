//! The assessment as JSON: stable names in snake case, units in the names, money as decimal
//! strings. A group that is not computed is absent, never zero.

use serde_json::{Map, Value, json};

use super::Assessment;
use crate::bill::yearly::Yearly;
use crate::build::choices::section;
use crate::build::{Axis, Build, Edit};
use crate::machine::axis::AxisFigures;
use crate::units;
use crate::words::Words;

mod cuts;
mod cutting;
mod motion;
mod power;
mod stiffness;

/// The whole assessment; `remedies` holds the tried remedy of each finding, by its place among
/// them, and may hold fewer: those then have none.
pub fn json(build: &Build, assessment: &Assessment, remedies: &[Vec<Edit>]) -> Value {
    let bill = &assessment.bill;
    let mut all = json!({
        "format": 1,
        "title": build.title,
        "currency": bill.currency.code(),
        "cost": cost(assessment),
        "axes": axes(assessment),
        "stiffness": stiffness::stiffness(assessment),
        "cutting": cutting::cutting(assessment),
        "power": power::power(assessment),
        "machine": machine(assessment),
        "findings": findings(assessment, remedies),
        "safety": safety(assessment),
        "bill": lines(assessment),
        "consignments": consignments(assessment),
        "ordering": ordering(assessment),
        "cables": power::cables(assessment),
    });
    if !build.variants.is_empty() {
        all["variant"] = build.variant().into();
    }
    if !assessment.machine.measured.is_empty() {
        all["measured"] = measured(assessment);
    }
    if let Some(cuts) = cuts::cuts(assessment) {
        all["cuts"] = cuts;
    }
    if let Some(job) = cutting::job(assessment) {
        all["job"] = job;
    }
    all
}

/// A number rounded to six significant digits: what a formula gives beyond is noise.
pub(crate) fn n(value: f64) -> Value {
    // Nothing has no sign.
    let rounded: f64 = format!("{value:.5e}").parse().unwrap_or(value) + 0.0;
    serde_json::Number::from_f64(rounded).map_or(Value::Null, Value::Number)
}

fn money(amount: rust_decimal::Decimal) -> Value {
    Value::String(amount.to_string())
}

fn cost(assessment: &Assessment) -> Value {
    let bill = &assessment.bill;
    let steps: Map<String, Value> = bill
        .by_step()
        .iter()
        .map(|(step, sum)| (section(*step).to_owned(), money(sum.likely)))
        .collect();
    let mut cost = json!({
        "low": money(bill.total.low),
        "likely": money(bill.total.likely),
        "high": money(bill.total.high),
        "expected": money(bill.estimate.expected),
        "range80": [money(bill.estimate.low), money(bill.estimate.high)],
        "spent": money(bill.spent),
        "to_spend": money(bill.to_spend),
        "forecast": money(bill.forecast),
        "first_cut": money(bill.first_cut),
        "by_step": steps,
        "goods": money(bill.goods.likely),
        "freight": money(bill.freight.likely),
        "duty": money(bill.duty.likely),
        "tax": money(bill.tax.likely),
        "invented_share": money(bill.invented_share()),
    });
    let months = bill.ordering.months.iter();
    let months = months.map(|month| json!({ "name": month.name, "amount": money(month.amount) }));
    cost["by_month"] = Value::Array(months.collect());
    cost["running_a_year"] = running(&bill.yearly);
    if bill.machines > 1 {
        cost["per_machine"] = money(bill.per_machine());
    }
    cost
}

/// What running the machines costs a year; what nobody named a price for is absent.
fn running(yearly: &Yearly) -> Value {
    let each = yearly.lines.iter().map(|line| {
        json!({
            "part": line.part.as_str(),
            "title": line.title,
            "quantity": line.quantity.normalize().to_string(),
            "unit": line.unit.id(),
            "total": line.total.map(money),
            "why": line.why,
        })
    });
    let mut map = Map::new();
    let mut put = |key: &str, value: Value| map.insert(key.to_owned(), value);
    put("power_kwh", n(units::kwh::from(yearly.energy)));
    if let Some(power) = yearly.power {
        put("power", money(power));
    }
    put("wear", money(yearly.wear));
    if let Some(licences) = yearly.licences {
        put("licences", money(licences));
    }
    put("total", money(yearly.total));
    put("lines", Value::Array(each.collect()));
    Value::Object(map)
}

/// What to order when.
fn ordering(assessment: &Assessment) -> Value {
    let each = assessment.bill.ordering.stages.iter().map(|stage| {
        json!({
            "name": stage.id.as_str(),
            "title": stage.title,
            "state": stage.state.id(),
            "waits_for": stage.waits_for,
            "open": money(stage.open),
            "on_top": money(stage.on_top),
            "lead_days": stage.lead_days,
            "order_on": stage.order_on.to_string(),
            "here_by": stage.here_by.to_string(),
            "why": stage.why,
        })
    });
    Value::Array(each.collect())
}

/// What comes on top of the goods, by supplier.
fn consignments(assessment: &Assessment) -> Value {
    let each = assessment.bill.consignments.iter().map(|one| {
        json!({
            "name": one.supplier.as_str(),
            "title": one.title,
            "goods": money(one.goods.likely),
            "parcels": one.parcels.to_string(),
            "freight": money(one.freight.likely),
            "duty": money(one.duty.likely),
            "tax": money(one.tax.likely),
        })
    });
    Value::Array(each.collect())
}

fn axes(assessment: &Assessment) -> Value {
    let each = assessment.machine.axes.iter();
    let map: Map<String, Value> = each
        .map(|(axis, figures)| (axis.id().to_owned(), axis_json(assessment, axis, figures)))
        .collect();
    Value::Object(map)
}

fn axis_json(assessment: &Assessment, axis: Axis, figures: &AxisFigures) -> Value {
    let limits: Map<String, Value> = figures
        .limits
        .iter()
        .map(|limit| {
            (
                limit.name.id().to_owned(),
                n(units::m_per_min::from(limit.speed)),
            )
        })
        .collect();
    let cut = &assessment.machine.geometry.rails[axis];
    let mut map = Map::new();
    let mut put = |key: &str, value: Value| {
        map.insert(key.to_owned(), value);
    };
    put("travel_mm", n(units::mm::from(figures.travel)));
    put("rail_mm", n(units::mm::from(cut.length)));
    put("rail_pitch_mm", n(units::mm::from(cut.pitch)));
    put("moving_mass_kg", n(units::kg::from(figures.moving_mass)));
    put("rapid_m_per_min", n(units::m_per_min::from(figures.rapid)));
    put("limited_by", figures.limited_by.id().into());
    put("limits_m_per_min", Value::Object(limits));
    put(
        "acceleration_m_per_s2",
        n(units::m_per_s2::from(figures.acceleration)),
    );
    put("step_um", n(units::um::from(figures.step)));
    put("pulses_khz", n(units::khz::from(figures.pulses)));
    put("settings", motion::settings(&figures.settings));
    put("thrust_n", n(units::n::from(figures.thrust)));
    put(
        "pull_out_thrust_n",
        n(units::n::from(figures.pull_out_thrust)),
    );
    put(
        "inertia_ratio",
        n(units::times::from(figures.inertia_ratio)),
    );
    if let Some(whirl) = figures.drive.whirl {
        put("whirl_rpm", n(units::rpm::from(whirl)));
    }
    put("drops_without_power", figures.drops.into());
    motion::put(axis, figures, &mut put);
    let life = &assessment.machine.life[axis];
    if let (Some(nut), Some(hours)) = (life.nut, life.nut_hours) {
        put("nut_life_km", n(units::km::from(nut)));
        put("nut_life_h", n(units::hour::from(hours)));
    }
    put("carriage_life_km", n(units::km::from(life.carriage)));
    put("carriage_life_h", n(units::hour::from(life.carriage_hours)));
    Value::Object(map)
}

fn machine(assessment: &Assessment) -> Value {
    let geometry = &assessment.machine.geometry;
    let floor = geometry.footprint;
    json!({
        "footprint_mm": [n(units::mm::from(floor.x)), n(units::mm::from(floor.y)), n(units::mm::from(floor.z))],
        "mass_kg": n(units::kg::from(assessment.machine.masses.total)),
        "beam_wall_mm": n(units::mm::from(geometry.beam_wall.used())),
        "base_wall_mm": n(units::mm::from(geometry.base_wall.used())),
        "chain_m": n(units::m::from(geometry.chain_length())),
    })
}

/// What was measured, by the choice that holds it, beside what the model says.
fn measured(assessment: &Assessment) -> Value {
    let each = assessment.machine.measured.iter().map(|compared| {
        let row = json!({
            "figure": compared.figure,
            "unit": compared.measured.unit,
            "measured": n(compared.measured.number),
            "modelled": n(compared.modelled.number),
            "off_percent": n(units::percent::from(compared.off())),
        });
        (compared.choice.clone(), row)
    });
    Value::Object(each.collect())
}

fn findings(assessment: &Assessment, remedies: &[Vec<Edit>]) -> Value {
    let each = assessment
        .findings
        .iter()
        .enumerate()
        .map(|(place, finding)| {
            let rule = finding.rule.told();
            let edits = remedies.get(place).into_iter().flatten();
            let edits: Vec<Value> = edits
                .map(|edit| json!({ "choice": edit.choice.id, "value": edit.value.to_string() }))
                .collect();
            json!({
                "rule": finding.rule.as_str(),
                "severity": finding.severity.id(),
                "step": section(finding.step),
                "axis": finding.axis.map(Words::id),
                "message": finding.message,
                "do": rule.instead,
                "source": rule.from,
                "accepted": finding.accepted,
                "follows_from": finding.cause,
                "remedy": edits,
            })
        });
    Value::Array(each.collect())
}

fn safety(assessment: &Assessment) -> Value {
    let each = assessment.safety.iter().map(|note| {
        json!({
            "id": note.id,
            "step": section(note.step),
            "title": note.title,
            "text": note.text,
            "source": note.from,
        })
    });
    Value::Array(each.collect())
}

fn lines(assessment: &Assessment) -> Value {
    let each = assessment.bill.lines.iter().map(|line| {
        let mut map = Map::new();
        let mut put = |key: &str, value: Value| map.insert(key.to_owned(), value);
        put("part", line.part.as_str().into());
        put("title", line.title.as_str().into());
        put("step", section(line.step).into());
        put("quantity", Value::String(line.quantity.normalize().to_string()));
        put("unit", line.unit.id().into());
        if !line.have.is_zero() {
            put("have", Value::String(line.have.normalize().to_string()));
            put("buy", Value::String(line.buy.normalize().to_string()));
        }
        if let Some(price) = &line.price {
            let range = price.range;
            put("unit_price", json!({ "low": money(range.low), "likely": money(range.likely), "high": money(range.high) }));
            put("basis", price.basis.id().into());
            put("date", price.date.to_string().into());
            if let Some(supplier) = &price.supplier {
                put("supplier", supplier.as_str().into());
            }
            if price.used {
                put("second_hand", true.into());
            }
        }
        put("total", json!({ "low": money(line.total.low), "likely": money(line.total.likely), "high": money(line.total.high) }));
        if !line.paid.is_zero() {
            put("paid", money(line.paid));
        }
        put("status", line.status.id().into());
        put("first_cut", line.first_cut.into());
        put("shared", line.shared.into());
        put("why", line.why.as_str().into());
        Value::Object(map)
    });
    Value::Array(each.collect())
}
