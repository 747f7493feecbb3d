//! How an axis moves, as JSON.

use serde_json::{Value, json};

use super::n;
use crate::build::Axis;
use crate::machine::axis::AxisFigures;
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
