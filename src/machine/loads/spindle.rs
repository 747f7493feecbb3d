//! What the spindle draws from the wall.

use super::{Start, States, inrush};
use crate::build::Picked;
use crate::units::{self, ElectricCurrent, Power, Ratio};

/// Share of a spindle's rated power in usual routing (common practice).
pub const TYPICAL_SHARE: f64 = 0.4;

/// Power factor of brushed hand routers (common practice).
const BRUSHED_POWER_FACTOR: f64 = 0.95;

/// What the spindle draws from the wall.
#[derive(Clone, Copy, Debug)]
pub struct SpindleDraw {
    /// Share of the rated shaft power in each state.
    pub share: States<f64>,
    /// Power at the plug.
    pub power: States<Power>,
    /// Its power factor.
    pub power_factor: Ratio,
    /// How it starts.
    pub start: Start,
    /// What inverter and filter leak to earth.
    pub leakage: ElectricCurrent,
    /// Heat of the inverter in usual work.
    pub heat: Power,
}

impl SpindleDraw {
    /// Input power rises from the no-load power at idle to shaft power over efficiency at
    /// full load, and passes the inverter. The motor's efficiency at full load holds its
    /// no-load loss already: adding that again would count it twice.
    pub fn of(picked: &Picked) -> Self {
        let spindle = picked.spindle;
        let full_load = spindle.power / spindle.efficiency;
        let cap = units::share::from(picked.build.spindle.power_cap);
        let share = States {
            idle: 0.0,
            typical: cap.min(TYPICAL_SHARE),
            full: cap,
        };
        let motor = share.map(|share| spindle.no_load + (full_load - spindle.no_load) * share);
        match picked.inverter() {
            Some(vfd) => {
                let power = motor.map(|power| power / vfd.efficiency);
                Self {
                    share,
                    power,
                    power_factor: if picked.build.spindle.choke {
                        vfd.power_factor_choke
                    } else {
                        vfd.power_factor
                    },
                    start: inrush::inverter(vfd),
                    leakage: leakage(picked),
                    heat: power.typical - motor.typical,
                }
            }
            None => Self {
                share,
                power: motor,
                power_factor: units::share::of(BRUSHED_POWER_FACTOR),
                start: inrush::router(),
                leakage: leakage(picked),
                heat: Power::default(),
            },
        }
    }
}

/// What the inverter and the mains filter before it leak.
fn leakage(picked: &Picked) -> ElectricCurrent {
    let inverter = picked
        .inverter()
        .map_or(ElectricCurrent::default(), |vfd| vfd.leakage);
    inverter + filter_leakage(picked)
}

/// What the mains filter leaks, where one is chosen.
pub(super) fn filter_leakage(picked: &Picked) -> ElectricCurrent {
    let filter = picked.catalogue.sundries.get("mains-filter");
    filter
        .filter(|_| picked.build.control.filter)
        .and_then(|part| part.leakage)
        .unwrap_or_default()
}
