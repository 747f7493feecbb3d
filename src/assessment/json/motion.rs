//! How an axis moves, as JSON.

use serde_json::{Map, Value, json};

use super::n;
use crate::build::Axis;
use crate::machine::axis::AxisFigures;
use crate::machine::axis::settings::Settings;
use crate::units;

/// Puts the figures of an axis's moves, torque and stops into its map.
pub(super) fn put(axis: Axis, figures: &AxisFigures, put: &mut impl FnMut(&str, Value)) {
    moves(figures, put);
    let half = units::m_per_s2::from(figures.half_acceleration);
    put("acceleration_half_rapids_m_per_s2", n(half));
    put(
        "needed_torque_nm",
        n(units::nm::from(figures.needed_torque)),
    );
    put("brake_torque_nm", n(units::nm::from(figures.brake_torque)));
    put("torque", torque(figures));
    if let Some(resonance) = &figures.resonance {
        let speed = units::m_per_min::from(resonance.speed);
        put("resonance_hz", n(units::hz::from(resonance.frequency)));
        put("resonance_m_per_min", n(speed));
    }
    if let Some(duty) = &figures.duty {
        put("rms_torque_nm", n(units::nm::from(duty.mean)));
    }
    put("kinetic_energy_j", n(units::j::from(figures.stop.kinetic)));
    put("brake_energy_j", n(units::j::from(figures.stop.fed_back)));
    // Nothing but Z bears weight.
    if axis == Axis::Z {
        put("back_torque_nm", n(units::nm::from(figures.back_torque)));
        put(
            "holding_torque_nm",
            n(units::nm::from(figures.holding_torque)),
        );
    }
}

/// What controller and driver of an axis are set to.
pub(super) fn settings(settings: &Settings) -> Value {
    let mut map = Map::new();
    let mut put = |key: &str, value: f64| map.insert(key.to_owned(), n(value));
    put("pulses_a_turn", settings.pulses_a_turn);
    put("pulses_per_mm", settings.pulses_per_mm);
    let speed = units::m_per_min::from(settings.speed);
    put("speed_mm_per_min", speed * 1000.0);
    if let Some(acceleration) = settings.acceleration {
        let acceleration = units::m_per_s2::from(acceleration);
        put("acceleration_mm_per_s2", acceleration * 1000.0);
    }
    put("current_a", units::a::from(settings.current));
    if let Some(rms) = settings.current_rms {
        put("current_rms_a", units::a::from(rms));
    }
    Value::Object(map)
}

fn moves(figures: &AxisFigures, put: &mut impl FnMut(&str, Value)) {
    let (Some(whole), Some((trapezoid, s_ramp))) = (figures.full_travel, figures.ramps) else {
        return;
    };
    let over = |ramp: crate::machine::motion::ramp::Ramp| {
        n(units::s::from(ramp.over(figures.travel).time))
    };
    put("full_travel_s", n(units::s::from(whole)));
    put("full_travel_trapezoid_s", over(trapezoid));
    put("full_travel_s_ramp_s", over(s_ramp));
    let short = figures.short_moves().map(|(length, one)| {
        json!({
            "move_mm": n(units::mm::from(length)),
            "time_s": n(units::s::from(one.time)),
            "share_at_rapids": n(units::share::from(one.share_at_speed())),
        })
    });
    put("short_moves", Value::Array(short.collect()));
}

fn torque(figures: &AxisFigures) -> Value {
    let points = figures.torque_points();
    let each = points.iter().map(|point| {
        json!({
            "rpm": n(units::rpm::from(point.turning)),
            "available_nm": n(units::nm::from(point.available)),
            "usable_nm": n(units::nm::from(point.usable)),
            "accelerating_nm": n(units::nm::from(point.accelerating)),
            "braking_nm": n(units::nm::from(point.braking)),
        })
    });
    Value::Array(each.collect())
}
