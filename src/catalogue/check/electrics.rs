//! Motors, their drivers and supplies, spindles and inverters, controllers and switches.

use super::Flaws;
use crate::catalogue::Catalogue;
use crate::units;

/// A driver that turns more than this into heat is a heater.
const MOST_LOSS_PERCENT: f64 = 50.0;

pub(super) fn motors(catalogue: &Catalogue, found: &mut Flaws) {
    for motor in catalogue.steppers.values() {
        found.ordered(
            &motor.id,
            ("detent_nm", motor.detent),
            ("holding_nm", motor.holding),
        );
    }
    for motor in catalogue.servos.values() {
        found.ordered(
            &motor.id,
            ("rated_nm", motor.rated),
            ("peak_nm", motor.peak),
        );
        found.ordered(
            &motor.id,
            ("rated_rpm", motor.rated_speed),
            ("greatest_rpm", motor.greatest_speed),
        );
    }
    for driver in catalogue.drivers.values() {
        found.ordered(
            &driver.id,
            ("least_v", driver.least_voltage),
            ("greatest_v", driver.greatest_voltage),
        );
        found.ordered(
            &driver.id,
            ("least_a", driver.least_current),
            ("greatest_a", driver.greatest_current),
        );
        let useful = driver.loss <= units::percent::of(MOST_LOSS_PERCENT);
        let message = format!("loss_percent must not be above {MOST_LOSS_PERCENT}");
        found.part(&driver.id, useful, &message);
        let message = "drives must name a kind of motor";
        found.part(&driver.id, !driver.drives.is_empty(), message);
    }
    for supply in catalogue.supplies.values() {
        let message = "mains_v must name a mains voltage, such as [230]";
        found.part(&supply.id, !supply.mains.is_empty(), message);
        if let Some(trip) = supply.trip {
            found.ordered(&supply.id, ("volts_v", supply.volts), ("trip_v", trip));
        }
    }
}

pub(super) fn spindles(catalogue: &Catalogue, found: &mut Flaws) {
    for spindle in catalogue.spindles.values() {
        found.ordered(
            &spindle.id,
            ("least_rpm", spindle.least_speed),
            ("greatest_rpm", spindle.greatest_speed),
        );
        let even = spindle.poles.is_none_or(|poles| poles % 2 == 0);
        found.part(&spindle.id, even, "poles come in pairs: 2, 4, 6 and so on");
    }
    for vfd in catalogue.vfds.values() {
        let known = vfd.input_phases != 2;
        found.part(&vfd.id, known, "input_phases is 1 or 3");
        found.ordered(
            &vfd.id,
            ("power_factor", vfd.power_factor),
            ("power_factor_choke", vfd.power_factor_choke),
        );
    }
}

pub(super) fn control(catalogue: &Catalogue, found: &mut Flaws) {
    for controller in catalogue.controllers.values() {
        found.ordered(
            &controller.id,
            ("home_inputs", controller.home_inputs),
            ("inputs", controller.inputs),
        );
    }
    for switch in catalogue.switches.values() {
        found.ordered(
            &switch.id,
            ("least_v", switch.least_voltage),
            ("greatest_v", switch.greatest_voltage),
        );
    }
}
