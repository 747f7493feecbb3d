//! Circuits, supplies, the cabinet and the cable runs, as JSON.

use serde_json::{Map, Value, json};

use super::n;
use crate::assessment::Assessment;
use crate::machine::circuit::Circuit;
use crate::machine::conductor;
use crate::machine::inverter::InverterSettings;
use crate::machine::loads::CircuitLoad;
use crate::machine::supply::SupplyFigures;
use crate::machine::wiring::CableRun;
use crate::machine::wiring::lead::{Lead, Purpose};
use crate::units;
use crate::words::Words;

/// Circuits, supplies, cabinet.
pub(super) fn power(assessment: &Assessment) -> Value {
    let electrics = &assessment.machine.electrics;
    let losses = &electrics.cabinet.losses;
    let mut map = Map::new();
    let mut put = |key: &str, value: Value| map.insert(key.to_owned(), value);
    let circuits: Vec<Value> = electrics.circuits.iter().map(circuit).collect();
    put("circuits", Value::Array(circuits));
    put("supplies", json!([supply(&electrics.supply)]));
    put(
        "spindle_input_w",
        n(units::w::from(electrics.spindle_input)),
    );
    if let Some(settings) = &electrics.inverter {
        put("inverter", inverter(settings));
    }
    put(
        "cabinet_heat_w",
        n(units::w::from(electrics.cabinet.losses.total())),
    );
    put(
        "cabinet_losses_w",
        json!({
            "drivers": n(units::w::from(losses.drivers)),
            "supplies": n(units::w::from(losses.supplies)),
            "inverter": n(units::w::from(losses.inverter)),
            "controller": n(units::w::from(losses.controller)),
            "fan": n(units::w::from(losses.fan)),
        }),
    );
    if let (Some(surface), Some(rise)) = (electrics.cabinet.surface, electrics.cabinet.rise) {
        put("cabinet_surface_m2", n(units::m2::from(surface)));
        put("cabinet_rise_k", n(units::kelvin::from(rise)));
    }
    put(
        "cabinet_air_m3_per_h",
        n(electrics.cabinet.air_needed.as_m3_per_h()),
    );
    Value::Object(map)
}

/// What the spindle's inverter is told.
fn inverter(settings: &InverterSettings) -> Value {
    let mut map = Map::new();
    let mut put = |key: &str, value: f64| map.insert(key.to_owned(), n(value));
    put("base_hz", units::hz::from(settings.base));
    put("least_hz", units::hz::from(settings.least));
    put("greatest_hz", units::hz::from(settings.greatest));
    if let Some(limit) = settings.limit {
        put("limit_a", units::a::from(limit));
    }
    Value::Object(map)
}

fn circuit(circuit: &Circuit) -> Value {
    let loads: Vec<Value> = circuit.loads.iter().map(load).collect();
    json!({
        "name": circuit.which.id(),
        "volts": n(units::v::from(circuit.volts)),
        "breaker_a": n(units::a::from(circuit.breaker)),
        "current_a": n(units::a::from(circuit.full())),
        "typical_a": n(units::a::from(circuit.typical())),
        "idle_a": n(units::a::from(circuit.idle())),
        "allowed_a": n(units::a::from(circuit.allowed)),
        "inrush_a": n(units::a::from(circuit.starting.current)),
        "trip_a": n(units::a::from(circuit.trip)),
        "leakage_ma": n(units::ma::from(circuit.leakage())),
        "loads": loads,
    })
}

fn load(load: &CircuitLoad) -> Value {
    json!({
        "name": load.name.id(),
        "at_once": load.at_once,
        "idle_a": n(units::a::from(load.current.idle)),
        "typical_a": n(units::a::from(load.current.typical)),
        "full_a": n(units::a::from(load.current.full)),
        "inrush_a": n(units::a::from(load.inrush)),
        "leakage_ma": n(units::ma::from(load.leakage)),
    })
}

fn supply(supply: &SupplyFigures) -> Value {
    let mut map = Map::new();
    let mut put = |key: &str, value: Value| map.insert(key.to_owned(), value);
    put("name", "motors".into());
    put("volts", n(units::v::from(supply.volts)));
    put("needed_a", n(units::a::from(supply.needed)));
    put("two_thirds_a", n(units::a::from(supply.by_rule)));
    put("real_a", n(units::a::from(supply.by_power)));
    put("rated_a", n(units::a::from(supply.rated)));
    put("braking_volts", n(units::v::from(supply.braking.volts)));
    if let Some(bear) = supply.drivers_bear {
        put("drivers_bear_v", n(units::v::from(bear)));
    }
    if let Some(bear) = supply.motors_bear {
        put("motors_bear_v", n(units::v::from(bear)));
    }
    Value::Object(map)
}

/// Every cable run.
pub(super) fn cables(assessment: &Assessment) -> Value {
    let machine = &assessment.machine;
    let planned = machine.geometry.runs.iter().map(run);
    planned.chain(machine.leads.iter().map(lead)).collect()
}

/// A run that no plan routes.
fn lead(lead: &Lead) -> Value {
    let (from, to) = lead.ends();
    let mut map = Map::new();
    let mut put = |key: &str, value: Value| map.insert(key.to_owned(), value);
    put("run", lead.mark().into());
    put("purpose", lead.purpose.id().into());
    put("title", lead.title().into());
    put("from", lead.end(from).into());
    put("to", lead.end(to).into());
    put("length_m", n(units::m::from(lead.length)));
    if lead.pieces > 1 {
        put("pieces", lead.pieces.into());
    }
    put("cores", lead.cores.into());
    put("area_mm2", n(units::mm2::from(lead.area)));
    put("shielded", lead.shielded.into());
    put("in_chain", (lead.purpose == Purpose::BridgeEarth).into());
    put("gland", lead.enters().into());
    put("ferrules", lead.ferrules().into());
    if let Some(area) = lead.earth_area {
        put("earth_area_mm2", n(units::mm2::from(area)));
    }
    if let (Some(load), Some(ampacity)) = (lead.load, lead.ampacity) {
        put("current_a", n(units::a::from(load.current)));
        put("ampacity_a", n(units::a::from(ampacity)));
        put("drop_percent", n(units::percent::from(load.drop())));
        if let Some(guard) = lead.guard {
            put("fuse_a", n(units::a::from(guard)));
        }
    }
    Value::Object(map)
}

fn run(run: &CableRun) -> Value {
    let mut map = Map::new();
    let mut put = |key: &str, value: Value| map.insert(key.to_owned(), value);
    put("run", run.mark.clone().into());
    put("from", "cabinet".into());
    put("to", run.title().into());
    put("cable", run.cable.as_str().into());
    put("length_m", n(units::m::from(run.length)));
    put("cores", run.cores.into());
    put("area_mm2", n(units::mm2::from(run.area)));
    put("shielded", run.shielded.into());
    put("in_chain", (!run.chains.is_empty()).into());
    put("shield_bond", run.bond().id().into());
    put("gland", true.into());
    put("ferrules", run.ferrules().into());
    let (Some(load), Some(sizing)) = (run.load, run.sizing) else {
        return Value::Object(map);
    };
    put("current_a", n(units::a::from(load.current)));
    put("ampacity_a", n(units::a::from(sizing.ampacity)));
    put("grouped_with", (run.touching - 1).into());
    put("drop_percent", n(units::percent::from(load.drop())));
    let areas = [
        ("area_by_current_mm2", sizing.by_current),
        ("area_by_drop_mm2", sizing.by_drop),
        ("needed_area_mm2", sizing.needed()),
    ];
    for (key, area) in areas {
        if let Some(area) = area {
            put(key, n(units::mm2::from(area)));
        }
    }
    if let Some(gauge) = sizing.needed().and_then(conductor::gauge_for) {
        put("needed_awg", gauge.into());
    }
    if let Some(fuse) = sizing.fuse {
        put("fuse_a", n(units::a::from(fuse)));
    }
    Value::Object(map)
}
