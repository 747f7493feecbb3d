//! The wall socket's voltage: whether every part that plugs into it is made for it.

use super::cabinet::like_supplies;
use super::dust_and_fire::extractors;
use super::inverter;
use super::remedy::options_where;
use super::say;
use super::voltage::{same_class, within};
use super::{Example, Fact, Facts, Remedies, Report, Rule, Severity};
use crate::build::Axis;
use crate::catalogue::motor::FeedKind;
use crate::catalogue::{Id, Step};
use crate::units::ElectricPotential;

/// The rules of this topic.
pub(super) const RULES: &[Rule] = &[
    Rule {
        id: "supply-voltage-wrong-for-spindle",
        title: "Inverter or hand router not made for the socket",
        severities: &[Severity::Fault],
        step: Step::Control,
        watches: "The inverter's input, or the hand router's voltage, against the socket.",
        because: "Too high a voltage destroys it at once; too low a one leaves it without power or stops it with a fault.",
        from: "Voltage classes 100 to 127 V, 200 to 240 V, 380 to 480 V, 10 % stray (EN 50160).",
        instead: "Take an inverter or a hand router that is made for your socket.",
        reads: &[Fact::Site, Fact::Spindle, Fact::Inverter],
        decided_by: Some(&["spindle", "vfd"]),
        check: spindle_feed,
        remedies: inverter::other_inverter,
        example: Example {
            given: &[],
            choice: "vfd",
            fires: "vfd-2.2kw-400",
            quiet: "vfd-2.2kw-230",
        },
    },
    Rule {
        id: "supply-not-for-this-socket",
        title: "Motor supply not made for the socket",
        severities: &[Severity::Fault],
        step: Step::Control,
        watches: "The mains voltages that the motors' supply takes against the socket.",
        because: "It does not start, or burns out when it is plugged in.",
        from: "Data sheet of the supply; classes as for the inverter.",
        instead: "Take a supply that is made for your socket.",
        reads: &[Fact::Site, Fact::Supply, Fact::Drivers],
        decided_by: Some(&["supply", "driver_a"]),
        check: supply,
        remedies: |facts, _| like_supplies(facts),
        example: Example {
            given: &[("site", "site-120v-20a")],
            choice: "supply",
            fires: "supply-70v-800w",
            quiet: "supply-60v-600w",
        },
    },
    Rule {
        id: "extractor-not-for-this-socket",
        title: "Extractor not made for the socket",
        severities: &[Severity::Fault],
        step: Step::Control,
        watches: "The extractor's mains voltage against the socket.",
        because: "Its motor burns out on twice its voltage, and hardly turns on half of it.",
        from: "Data sheet of the extractor; classes as for the inverter.",
        instead: "Take an extractor that is made for your socket.",
        reads: &[Fact::Site, Fact::Extras],
        decided_by: Some(&[]),
        check: extractor,
        remedies: |facts, _| extractors(facts),
        example: Example {
            given: &[],
            choice: "extractor",
            fires: "extractor-shop-120v",
            quiet: "extractor-shop-1200w",
        },
    },
    Rule {
        id: "driver-not-for-this-socket",
        title: "Mains-fed driver not made for the socket",
        severities: &[Severity::Fault],
        step: Step::Control,
        watches: "The voltage range of mains-fed servo drivers against the socket.",
        because: "Below its range a driver refuses to start, above it it burns.",
        from: "Data sheet of the driver, 10 % stray (EN 50160).",
        instead: "Take a driver for your socket's voltage, or motors fed by a DC supply.",
        reads: &[Fact::Site, Fact::Drivers],
        decided_by: Some(&["driver_a"]),
        check: drivers,
        remedies: other_drivers,
        example: Example {
            given: &[("site", "site-120v-20a"), ("motor_x", "servo-400w")],
            choice: "driver_x",
            fires: "driver-servo-400w",
            quiet: "driver-servo-400w-wide",
        },
    },
];

fn spindle_feed(facts: &Facts, report: &mut Report) {
    let socket = facts.picked.site.volts;
    let spindle = facts.picked.spindle;
    let wrong = |what: &str, made_for: ElectricPotential| {
        format!(
            "{what} is made for {}, the socket gives {}",
            say::volts(made_for),
            say::volts(socket)
        )
    };
    if let Some(vfd) = facts.picked.inverter() {
        if !same_class(vfd.input_voltage, socket) {
            report.say(Severity::Fault, wrong("the inverter", vfd.input_voltage));
        }
    } else if !spindle.needs_vfd() && !same_class(spindle.volts, socket) {
        report.say(Severity::Fault, wrong("the hand router", spindle.volts));
    }
}

fn supply(facts: &Facts, report: &mut Report) {
    let picked = facts.picked;
    let feeds = picked
        .axes
        .iter()
        .any(|(_, axis)| axis.driver.feed == FeedKind::Dc);
    let takes = |volts: &ElectricPotential| same_class(*volts, picked.site.volts);
    if feeds && !picked.supply.mains.iter().any(takes) {
        let made: Vec<String> = picked
            .supply
            .mains
            .iter()
            .map(|volts| say::volts(*volts))
            .collect();
        report.say(
            Severity::Fault,
            format!(
                "{}: it takes {}, the socket gives {}",
                picked.supply.title,
                say::list(&made),
                say::volts(picked.site.volts)
            ),
        );
    }
}

fn extractor(facts: &Facts, report: &mut Report) {
    let socket = facts.picked.site.volts;
    if let Some(extractor) = facts.picked.extractor
        && !same_class(extractor.volts, socket)
    {
        report.say(
            Severity::Fault,
            format!(
                "{}: it is made for {}, the socket gives {}",
                extractor.title,
                say::volts(extractor.volts),
                say::volts(socket)
            ),
        );
    }
}

fn drivers(facts: &Facts, report: &mut Report) {
    let socket = facts.picked.site.volts;
    for (axis, chosen) in facts.picked.axes.iter() {
        let driver = chosen.driver;
        let fits = within(socket, driver.least_voltage, driver.greatest_voltage);
        if driver.feed == FeedKind::Mains && !fits {
            report.say_of(
                axis,
                Severity::Fault,
                format!(
                    "{}: it takes {} to {}, the socket gives {}",
                    driver.title,
                    say::volts(driver.least_voltage),
                    say::volts(driver.greatest_voltage),
                    say::volts(socket)
                ),
            );
        }
    }
}

/// Other drivers of the same kinds of motors.
fn other_drivers(facts: &Facts, axis: Option<Axis>) -> Remedies {
    let Some(axis) = axis else { return Vec::new() };
    let picked = facts.picked;
    let kinds = &picked.axes[axis].driver.drives;
    let same_kinds = |id: &Id| {
        let driver = picked.catalogue.drivers.get(id);
        driver.is_some_and(|driver| kinds.iter().all(|kind| driver.drives.contains(kind)))
    };
    options_where(facts, &axis.choice("driver"), same_kinds)
}
