//! The shipped catalogue: whole, without flaws, as large as the trade needs, with a price for
//! every part and parts that mate.

use crate::common;
use std::collections::HashSet;

use gantrywright::build::Value;
use gantrywright::build::choices::{self, Kind};
use gantrywright::catalogue::control::{Contact, Link, SensorType, SwitchPrinciple};
use gantrywright::catalogue::linear_drive::ScrewMake;
use gantrywright::catalogue::motor::{Flange, Supply};
use gantrywright::catalogue::part::SHORT_COLUMNS;
use gantrywright::catalogue::prices::Basis;
use gantrywright::catalogue::quantity::Count;
use gantrywright::catalogue::spindle::{Cooling, SpindleKind};
use gantrywright::catalogue::wiring::Cable;
use gantrywright::catalogue::{Catalogue, Motor, Part as _, PartKind, check};
use gantrywright::units;
use gantrywright::words::Words;
use unicode_width::UnicodeWidthStr as _;

#[test]
fn the_shipped_catalogue_has_no_flaws() {
    let flaws = check::flaws(&common::catalogue());
    assert!(flaws.is_empty(), "{flaws:#?}");
}

#[test]
fn every_record_says_where_its_data_come_from() {
    let catalogue = common::catalogue();
    for &kind in PartKind::ALL {
        for part in catalogue.of_kind(kind) {
            let source = part.source();
            assert!(source.len() > 10, "{} has no source", part.id());
        }
    }
}

#[test]
fn every_part_that_is_picked_says_what_it_is_good_for() {
    let catalogue = common::catalogue();
    for choice in choices::all() {
        for value in choice.options(&catalogue) {
            if let Value::Part(Some(_)) = value {
                assert!(
                    choice.plain(&value, &catalogue).is_some(),
                    "{value} has no note"
                );
                let title = choice.show(&value, &catalogue);
                assert!(
                    title.chars().count() <= 44,
                    "{title:?} is too long for 80 columns"
                );
            }
        }
    }
}

#[test]
fn every_option_fits_a_list_and_differs_from_its_neighbours() {
    let catalogue = common::catalogue();
    for choice in choices::all() {
        // Two marks and a margin beside a short name leave 18 columns of the 47.
        assert!(choice.title.width() <= 18, "{:?}", choice.title);
        let mut options = choice.options(&catalogue);
        match choice.kind {
            Kind::Parts(kind) => options.extend(
                catalogue
                    .of_kind(kind)
                    .iter()
                    .map(|part| Value::Parts(vec![*part.id()])),
            ),
            Kind::Number(_) | Kind::Amount => options.push(Value::Number(None)),
            Kind::Part { .. } | Kind::Word(_) | Kind::Flag => {}
        }
        let mut seen = HashSet::new();
        for value in options {
            let short = choice.show_short(&value, &catalogue);
            assert!(short.width() <= SHORT_COLUMNS, "{value}: {short:?}");
            assert!(
                seen.insert(short.clone()),
                "{short:?} twice in {}",
                choice.id
            );
        }
        assert!(!seen.is_empty(), "{} shows nothing", choice.id);
    }
}

#[test]
fn lists_take_the_short_name_and_bills_the_title() {
    let catalogue = common::catalogue();
    let drive = choices::find("drive_x").expect("a choice");
    let screw = drive
        .parse("ball-screw-16x10", &catalogue, None)
        .expect("a part");
    assert_eq!(drive.show_short(&screw, &catalogue), "16x10 mm ball screw");
    assert_eq!(
        drive.show(&screw, &catalogue),
        "16 x 10 mm ball screw, rolled"
    );
    // Without a short name of its own a part is listed by its title.
    let softwood = &catalogue.materials["softwood"];
    assert_eq!(softwood.own_short(), None);
    assert_eq!(softwood.short(), "softwood");
}

#[test]
fn a_short_name_is_neither_empty_nor_wider_than_a_list() {
    let messages = |short: &str| {
        let mut catalogue = common::catalogue();
        let tube = catalogue.tubes.get_mut("tube-80x80x4").expect("a tube");
        tube.short = Some(short.into());
        let flaws = check::flaws(&catalogue);
        let texts = flaws.into_iter().map(|flaw| flaw.message);
        texts.collect::<Vec<_>>()
    };
    let refused = ["short takes 1 to 22 columns"];
    assert_eq!(messages(" "), refused);
    assert_eq!(messages("twenty-three columns, x"), refused);
    // Twelve letters of two columns each.
    assert_eq!(messages(&"\u{6728}".repeat(12)), refused);
    assert!(messages("twenty-two columns, xy").is_empty());
}

#[test]
fn it_is_as_large_as_the_trade_needs() {
    let c = common::catalogue();
    let closed = c
        .steppers
        .values()
        .filter(|motor| motor.closed_loop)
        .count();
    let brakes = c
        .servos
        .values()
        .filter(|motor| motor.brake.is_some())
        .count();
    let walls = |mm: f64| {
        c.tubes
            .values()
            .any(|tube| (units::mm::from(tube.wall) - mm).abs() < 0.01)
    };
    let improvised = c
        .supplies
        .values()
        .filter(|supply| supply.improvised)
        .count();
    let least: [(&str, usize, usize); 22] = [
        ("tubes", c.tubes.len(), 20),
        ("plates", c.plates.len(), 3),
        ("angles", c.angles.len(), 1),
        ("rails", c.rails.len(), 3),
        ("carriages", c.carriages.len(), 6),
        ("ball screws", c.ball_screws.len(), 12),
        ("lead screws", c.lead_screws.len(), 1),
        ("racks", c.racks.len(), 3),
        ("belts", c.belts.len(), 2),
        ("steppers", c.steppers.len() - closed, 10),
        ("closed-loop steppers", closed, 2),
        ("servos", c.servos.len(), 4),
        ("servos with brake", brakes, 1),
        ("servos without brake", c.servos.len() - brakes, 1),
        ("drivers", c.drivers.len(), 8),
        ("supplies", c.supplies.len(), 8),
        ("improvised supplies", improvised, 1),
        ("spindles", c.spindles.len(), 10),
        ("inverters", c.vfds.len(), 6),
        ("controllers", c.controllers.len(), 6),
        ("materials", c.materials.len(), 10),
        ("sites", c.sites.len(), 5),
    ];
    for (what, there, wanted) in least {
        assert!(there >= wanted, "{there} {what}, {wanted} wanted");
    }
    assert!(c.frames.len() >= 3);
    assert!([2.0, 3.0, 4.0, 5.0].into_iter().all(walls));
}

#[test]
fn every_named_kind_is_there() {
    let c = common::catalogue();
    for id in ["ball-screw-12x4", "ball-screw-32x10", "lead-screw-12x3"] {
        assert!(c.part(id).is_some(), "{id}");
    }
    for make in ScrewMake::ALL {
        assert!(
            c.ball_screws.values().any(|screw| screw.make == *make),
            "{make:?}"
        );
    }
    for flange in [
        Flange::Nema17,
        Flange::Nema23,
        Flange::Nema24,
        Flange::Nema34,
    ] {
        assert!(
            c.steppers.values().any(|motor| motor.flange == flange),
            "{flange:?}"
        );
    }
    for volts in [24.0, 36.0, 48.0, 60.0, 70.0] {
        let fits = |supply: &Supply| (units::v::from(supply.volts) - volts).abs() < 0.1;
        assert!(c.supplies.values().any(fits), "{volts} V");
    }
    for link in Link::ALL {
        assert!(
            c.controllers
                .values()
                .any(|controller| controller.link == *link),
            "{link:?}"
        );
    }
    for principle in SwitchPrinciple::ALL {
        assert!(
            c.switches
                .values()
                .any(|switch| switch.principle == *principle),
            "{principle:?}"
        );
    }
    for contact in Contact::ALL {
        assert!(
            c.switches.values().any(|switch| switch.contact == *contact),
            "{contact:?}"
        );
    }
    for output in SensorType::ALL {
        assert!(
            c.switches.values().any(|switch| switch.output == *output),
            "{output:?}"
        );
    }
    for kind in SpindleKind::ALL {
        assert!(
            c.spindles.values().any(|spindle| spindle.kind == *kind),
            "{kind:?}"
        );
    }
    for cooling in Cooling::ALL {
        assert!(
            c.spindles
                .values()
                .any(|spindle| spindle.cooling == *cooling),
            "{cooling:?}"
        );
    }
    for (shielded, flexible) in [(true, true), (true, false), (false, true), (false, false)] {
        let fits = |cable: &Cable| (cable.shielded, cable.flexible) == (shielded, flexible);
        assert!(c.cables.values().any(fits), "{shielded} {flexible}");
    }
}

#[test]
fn the_invented_book_prices_every_part() {
    let catalogue = common::catalogue();
    for &kind in PartKind::ALL.iter().filter(|kind| kind.is_bought()) {
        for part in catalogue.of_kind(kind) {
            let book = catalogue.book_of(part.id());
            let book = book.unwrap_or_else(|| panic!("{} has no price", part.id()));
            assert_eq!(book.basis, Basis::Invented);
            assert!(book.supplier.is_some(), "{} has no supplier", book.id);
        }
    }
    for book in catalogue.price_books.values() {
        for site in catalogue.sites.values() {
            let known = site.currency == book.currency || book.rates.contains_key(&site.currency);
            assert!(known, "{}: no rate for {}", book.id, site.currency);
        }
    }
}

#[test]
fn every_count_is_used_by_a_quantity_rule() {
    let catalogue = common::catalogue();
    for &count in Count::ALL {
        assert!(
            catalogue.quantities.iter().any(|rule| rule.per == count),
            "{}",
            count.id()
        );
    }
}

fn fits(catalogue: &Catalogue, motor: &Motor) -> bool {
    catalogue.drivers.values().any(|driver| {
        driver.drives.contains(&motor.kind()) && driver.greatest_current >= motor.current()
    })
}

#[test]
fn every_part_has_its_mates() {
    let catalogue = common::catalogue();
    let steppers = catalogue.steppers.values().map(Motor::Stepper);
    for motor in steppers.chain(catalogue.servos.values().map(Motor::Servo)) {
        assert!(
            fits(&catalogue, &motor),
            "{} has no driver",
            motor.part().id()
        );
    }
    let same =
        |a: units::Length, b: units::Length| (units::mm::from(a) - units::mm::from(b)).abs() < 0.05;
    for spindle in catalogue.spindles.values() {
        let clamp = catalogue
            .spindle_clamps
            .values()
            .any(|clamp| same(clamp.bore, spindle.body) && clamp.holds >= spindle.mass);
        assert!(clamp, "{} has no clamp", spindle.id);
        let vfd = !spindle.needs_vfd()
            || catalogue.vfds.values().any(|vfd| {
                vfd.output >= spindle.current && vfd.output_voltage >= spindle.volts * 0.99
            });
        assert!(vfd, "{} has no inverter", spindle.id);
    }
    for screw in catalogue.ball_screws.values() {
        let units = catalogue
            .support_units
            .values()
            .filter(|unit| same(unit.bore, screw.support_bore))
            .count();
        assert_eq!(
            units, 2,
            "{} wants a fixed and a floating support",
            screw.id
        );
    }
}
