//! How long a run is that no plan routes, and how thick: as the breaker or fuse before it
//! asks, and its earth as the standard does.

use super::lead::{Lead, Purpose};
use super::{BENDS, in_cabinet};
use crate::build::Picked;
use crate::machine::cable_load::CableLoad;
use crate::machine::conductor::{self, Laying};
use crate::machine::geometry::Geometry;
use crate::units::{self, Area, ElectricCurrent, ElectricPotential, Length};

/// Leakage above which a plug's earth alone is not enough: 3.5 mA (EN 61800-5-1,
/// EN 60335-1).
pub fn plug_earth() -> ElectricCurrent {
    units::ma::of(3.5)
}

/// A copper earth of this area is enough alone, whatever leaks (IEC 61800-5-1).
pub(super) fn strong_earth() -> Area {
    units::mm2::of(10.0)
}

/// The thinnest earth that is led on its own to the frame and its parts: 6 mm² of copper
/// (IEC 60364-5-54, 544.1, for bonding conductors).
pub(super) fn least_bond() -> Area {
    units::mm2::of(6.0)
}

/// Length of a mains lead as it is sold, and of the second earth beside it.
pub(super) fn mains_lead() -> Length {
    units::m::of(5.0)
}

/// A wire's tails and what it takes to enter and leave a duct.
pub(super) fn tails() -> Length {
    units::m::of(0.2)
}

/// Room above its current that a driver's fuse has (common practice: slow fuses, 125 %).
pub(super) const FUSE_ROOM: f64 = 1.25;

/// Least share of the breaker that a plug without a fuse of its own bears.
const FUSED_PLUG_SHARE: f64 = 0.8;

/// What guards the lead and all behind it: the circuit's breaker, or the fuse in a plug that
/// bears less than 80 % of the breaker, as where one breaker guards many sockets (BS 1363).
pub(super) fn guard(picked: &Picked) -> ElectricCurrent {
    let site = picked.site;
    // The allowance takes up what 0.8 of a breaker loses in binary.
    if site.plug < site.breaker * (FUSED_PLUG_SHARE - 1e-9) {
        site.plug
    } else {
        site.breaker
    }
}

/// Gives a run its load and thickens it until it bears its guard, or its current where it has
/// none, and keeps the drop fair.
pub(super) fn bear(
    lead: &mut Lead,
    current: ElectricCurrent,
    sent: ElectricPotential,
    direct: bool,
) {
    let laying = laying(lead.purpose);
    let must = lead.guard.unwrap_or(current);
    let length = lead.length;
    let with = |area| CableLoad {
        current,
        heating: current,
        lost: conductor::drop(area, length, current, conductor::warm()),
        sent,
        direct,
        three_phase: false,
    };
    let fair = with(lead.area).fair_drop();
    let least = lead.area * 0.999;
    let fits = |area: &Area| {
        *area >= least
            && conductor::ampacity(*area, laying, 1) >= must
            && with(*area).drop() <= fair
    };
    let thickest = || conductor::standard_areas().last().unwrap_or(lead.area);
    let area = conductor::standard_areas()
        .find(fits)
        .unwrap_or_else(thickest);
    lead.area = area;
    lead.load = Some(with(area));
    lead.ampacity = Some(conductor::ampacity(area, laying, 1));
}

/// How a run is laid: wires in the cabinet's ducts, a mains lead in the open.
pub(super) fn laying(purpose: Purpose) -> Laying {
    match purpose {
        Purpose::MainsFeed => Laying::OnSurface,
        _ => Laying::Enclosed,
    }
}

/// Area of the thickest mains lead.
pub(super) fn thickest_feed(leads: &[Lead]) -> Area {
    let feeds = leads
        .iter()
        .filter(|lead| lead.purpose == Purpose::MainsFeed);
    feeds
        .map(|lead| lead.area)
        .fold(Area::default(), |most, area| most.max(area))
}

/// Area of earths that are led on their own: as the thickest phase that they serve, which is
/// at most 16 mm² here, and never below what bonding wants.
pub(super) fn earth_area(picked: &Picked, leads: &[Lead]) -> Area {
    thickest_feed(leads)
        .max(picked.spindle_cable.area)
        .max(least_bond())
}

/// How long a run is.
pub(super) fn length(picked: &Picked, geometry: &Geometry, purpose: Purpose) -> Length {
    let cabinet = picked.cabinet;
    let floor = &geometry.footprint;
    match purpose {
        Purpose::MainsFeed | Purpose::SecondEarth => mains_lead(),
        Purpose::StopButton | Purpose::StopInput | Purpose::ToolSensor => {
            (in_cabinet() + (floor.x + floor.y) / 2.0) * BENDS
        }
        Purpose::FlowSwitch => (in_cabinet() + cooler_way()) * BENDS,
        Purpose::FrameEarth => (in_cabinet() + frame_way()) * BENDS,
        Purpose::EarthStrap => units::m::of(0.2),
        Purpose::BridgeEarth => units::m::of(1.0),
        _ => (cabinet.width + cabinet.height) / 2.0 * BENDS + tails(),
    }
}

/// From the cabinet to a cooler that stands beside it (common practice).
pub(super) fn cooler_way() -> Length {
    units::m::of(2.0)
}

/// From the cabinet to the nearest bare spot of the frame (common practice).
pub(super) fn frame_way() -> Length {
    units::m::of(1.0)
}
