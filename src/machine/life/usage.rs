//! The use for which life is stated: how the running hours of an axis divide into cutting,
//! rapids and the ramps between them.

use crate::build::{Axis, PerAxis, Picked};
use crate::machine::axis::AxisFigures;
use crate::units::{self, Velocity};

/// Share of the hours in which the axis cuts at the wanted feed (common practice).
pub(super) const CUTTING: f64 = 0.7;

/// Share in which it goes at rapids (common practice).
pub(super) const RAPIDS: f64 = 0.2;

/// Share in which it speeds up or slows down, at half its rapids on average (common practice).
pub(super) const RAMPS: f64 = 0.1;

/// What an axis does in one hour of use, phase by phase.
pub(super) struct Usage {
    /// Wanted cutting feed.
    pub(super) feed: Velocity,
    /// Rapids.
    pub(super) rapid: Velocity,
    /// Share of all travel that each phase makes: cutting, rapids, ramps.
    pub(super) travel: [f64; 3],
}

impl Usage {
    pub(super) fn of(picked: &Picked, axes: &PerAxis<AxisFigures>, axis: Axis) -> Self {
        Self::at(picked.build.area.wanted_feed(axis), axes[axis].rapid)
    }

    pub(super) fn at(feed: Velocity, rapid: Velocity) -> Self {
        let (cut, fast) = (units::m_per_min::from(feed), units::m_per_min::from(rapid));
        let ways = [CUTTING * cut, RAPIDS * fast, RAMPS * fast / 2.0];
        let sum: f64 = ways.iter().sum();
        Self {
            feed,
            rapid,
            travel: ways.map(|way| way / sum),
        }
    }

    /// Speed over all hours of use.
    pub(super) fn mean_speed(&self) -> Velocity {
        self.feed * CUTTING + self.rapid * (RAPIDS + RAMPS / 2.0)
    }

    /// The cubic mean of a load over the travel: (Σ F³ s)^(1/3), s the shares of travel.
    pub(super) fn cubic_mean(&self, loads: [f64; 3]) -> f64 {
        let each = self.travel.iter().zip(loads);
        each.map(|(share, load)| share * load.powi(3))
            .sum::<f64>()
            .cbrt()
    }
}
