//! How many small parts a machine takes: counts worked by hand from the trade's formulas
//! (common practice), what a file of the builder's own changes, and what is true of every build.

use crate::common;
use gantrywright::bill::Bill;
use gantrywright::build::purchases::{Purchase, Status};
use gantrywright::build::{Axis, Build};
use gantrywright::catalogue::extras::SundryGroup;
use gantrywright::catalogue::quantity::{Count, QuantityRule};
use gantrywright::catalogue::{Catalogue, CatalogueFile, Id};
use gantrywright::store::examples;
use rust_decimal::Decimal;

fn bill(catalogue: &Catalogue, build: &Build) -> Bill {
    let assessment = gantrywright::assessment::assess(catalogue, build, common::today());
    assessment.expect("an assessment").bill
}

fn example(catalogue: &Catalogue, name: &str) -> Build {
    let example = examples::find(name).expect("an example");
    example.build(catalogue).expect("a build")
}

fn decimal(text: &str) -> Decimal {
    text.parse().expect("a number")
}

/// All that is needed of a part, over the steps.
fn needed(bill: &Bill, part: &str) -> Decimal {
    let lines = bill.lines.iter().filter(|line| line.part.as_str() == part);
    lines.map(|line| line.needed).sum()
}

/// The pier example has 12 members and 28 printed parts, four motors and screws with ball nuts,
/// two chains, 12 carriages with M6 threads, and pairs of size-20 rails of 1080, 900 and 360 mm:
/// L / 60 holes a rail, half a pitch from either end, make 2 (18 + 15 + 6) = 78.
#[test]
fn counts_worked_by_hand() {
    let catalogue = common::catalogue();
    let bill = bill(&catalogue, &example(&catalogue, "pier-allrounder"));
    for (part, needed, quantity) in [
        // 78 holes, 10 a nut, 4 a motor, 6 a printed part, 6 a chain: 314, and 15 %; packs of 50.
        ("screw-m5x20", "361.1", "400"),
        // 4 a carriage, 8 a screw for its bearing blocks: 80, and 15 %.
        ("screw-m6x25", "92", "100"),
        // Four bolts at both ends of 12 members: 96, and 15 %; packs of 25.
        ("bolt-frame-m8", "110.4", "125"),
        // A washer under each head and nut.
        ("washer-m8", "220.8", "300"),
        // Two taps for 60 holes: 78 / 30.
        ("tap-m5", "2.5974", "3"),
        // A drill for 40 holes: 78 / 40, and four bolt holes at each of 24 joints.
        ("tap-drill", "1.95", "2"),
        ("drill-9mm", "2.4", "3"),
        // Four motors, four switches, a tool-length sensor and a spindle unplug, and a pair more.
        ("connector-pair", "11", "11"),
        // A fuse a driver, and as many in the drawer; packs of ten.
        ("fuse-cartridge", "8", "10"),
        ("earth-strap", "12", "12"),
        // Inverter: mains, motor and control cable.
        ("ferrite", "3", "3"),
        ("chain-end-pair", "2", "2"),
        // 0.8 m x 0.6 m of bed.
        ("wasteboard", "0.48", "1"),
        ("board-insert-m6", "12.672", "25"),
        // The usual tool and the first end mills all have shanks of 6 mm.
        ("collet", "1", "1"),
        // Three people.
        ("half-mask-filters", "6", "6"),
    ] {
        let lines: Vec<_> = bill
            .lines
            .iter()
            .filter(|line| line.part.as_str() == part)
            .collect();
        assert_eq!(lines.len(), 1, "{part}");
        assert_eq!(lines[0].needed, decimal(needed), "{part}");
        assert_eq!(lines[0].quantity, decimal(quantity), "{part}");
    }
    // Steel is 1.22 m of 100 and 6.3 m of 80 mm square tube; rounded corners take some of it off.
    let primer = needed(&bill, "paint-primer");
    let sharp =
        (decimal("1.22") * decimal("0.4") + decimal("6.3") * decimal("0.32")) / decimal("8");
    assert!(
        primer < sharp && primer > sharp * decimal("0.93"),
        "{primer} of {sharp}"
    );
}

#[test]
fn a_collet_for_each_size_of_shank() {
    let catalogue = common::catalogue();
    let collets = |tool: &str, starter: &str| {
        let edits = [("tool", tool), ("starter_tools", starter)];
        needed(
            &bill(&catalogue, &common::build(&catalogue, &edits)),
            "collet",
        )
    };
    assert_eq!(collets("mill-6mm-2f", "yes"), Decimal::ONE);
    assert_eq!(collets("mill-8mm-2f", "yes"), Decimal::TWO);
    assert_eq!(collets("mill-6.35mm-2f", "yes"), Decimal::TWO);
    assert_eq!(collets("mill-8mm-2f", "no"), Decimal::ONE);
}

/// Printed at home: plastic with a fifth more, power and wear. By a service: mass alone.
#[test]
fn prints_are_paid_once() {
    let catalogue = common::catalogue();
    let from = |who: &str| {
        bill(
            &catalogue,
            &common::build(&catalogue, &[("prints_from", who)]),
        )
    };
    let (own, buy, service) = (
        from("own-printer"),
        from("printer-to-buy"),
        from("printing-service"),
    );
    let plastic = needed(&own, "filament-asa");
    assert!(plastic > Decimal::ZERO);
    assert_eq!(needed(&own, "tool-3d-printer"), Decimal::ZERO);
    assert_eq!(needed(&buy, "filament-asa"), plastic);
    assert_eq!(needed(&buy, "tool-3d-printer"), Decimal::ONE);
    assert_eq!(needed(&service, "filament-asa"), Decimal::ZERO);
    assert_eq!(needed(&service, "print-power-wear"), Decimal::ZERO);
    let mass = needed(&service, "service-print");
    assert!(
        (mass * decimal("1.2") - plastic).abs() < decimal("0.002"),
        "{mass} of {plastic}"
    );
    // What holds the parts is needed whoever prints them.
    assert_eq!(
        needed(&service, "heat-insert-m5"),
        needed(&own, "heat-insert-m5")
    );
}

#[test]
fn a_tool_in_hand_costs_nothing_and_the_others_stay() {
    let catalogue = common::catalogue();
    let mut build = Build::default();
    let before = bill(&catalogue, &build);
    let tool = Id::new("tool-dial-gauge").expect("an id");
    let owned = Purchase {
        status: Some(Status::HaveIt),
        ..Purchase::default()
    };
    build.purchases.parts.insert(tool, owned);
    let after = bill(&catalogue, &build);
    let line = after.line("tool-dial-gauge").expect("still listed");
    assert_eq!((line.have, line.buy), (Decimal::ONE, Decimal::ZERO));
    assert_eq!(line.total.likely, Decimal::ZERO);
    assert_eq!(before.lines.len(), after.lines.len());
    assert!(after.total.likely < before.total.likely);
}

#[test]
fn one_workshop_takes_its_tools_once() {
    let catalogue = common::catalogue();
    let together = |machines: &str| {
        let edits = [("machines", machines), ("prints_from", "printer-to-buy")];
        bill(&catalogue, &common::build(&catalogue, &edits))
    };
    let (one, three) = (together("1"), together("3"));
    for rule in &catalogue.quantities {
        let part = rule.part.as_str();
        let rules = catalogue
            .quantities
            .iter()
            .filter(|other| other.part == rule.part);
        if rules.count() > 1 {
            continue;
        }
        let times = if rule.shared {
            Decimal::ONE
        } else {
            decimal("3")
        };
        assert_eq!(needed(&three, part), needed(&one, part) * times, "{part}");
    }
}

/// Who is kept from harm is not put off; what only makes work nicer is.
#[test]
fn the_first_cut_waits_for_safety_and_not_for_comfort() {
    let catalogue = common::catalogue();
    let edits = [
        ("spares", "yes"),
        ("enclosure", "enclosure-plywood"),
        ("computer", "computer-shop-pc"),
    ];
    let bill = bill(&catalogue, &common::build(&catalogue, &edits));
    let first = |part: &str| {
        bill.line(part)
            .unwrap_or_else(|| panic!("no {part}"))
            .first_cut
    };
    for part in [
        "wasteboard-spare",
        "spare-set",
        "pendant",
        "enclosure-plywood",
        "tool-sensor-dry",
    ] {
        assert!(!first(part), "{part}");
    }
    for part in [
        "paint-top",
        "extractor-shop-1200w",
        "dust-hose",
        "dust-shoe",
        "dust-hose-earthed",
        "emergency-stop",
        "contactor",
        "breaker",
        "earth-strap",
        "smoke-alarm",
        "fire-extinguisher",
        "eye-protection",
        "ear-protection",
        "half-mask",
        "wasteboard",
        "screw-m5x20",
    ] {
        assert!(first(part), "{part}");
    }
    for rule in catalogue.quantities.iter().filter(|rule| !rule.first_cut) {
        let group = catalogue.sundries.get(&rule.part).map(|part| part.group);
        assert_ne!(group, Some(SundryGroup::Safety), "{}", rule.part);
        assert_ne!(group, Some(SundryGroup::Earth), "{}", rule.part);
    }
}

fn overlaid(rule: &str) -> Catalogue {
    let mut catalogue = common::catalogue();
    let file = CatalogueFile::read(rule).expect("a file");
    catalogue.absorb(file);
    catalogue
}

fn overlay(per: &str, each: &str) -> String {
    format!(
        "[[quantity]]\npart = \"ring-lug-m6\"\nstep = \"control\"\nper = \"{per}\"\neach = \"{each}\"\nwhy = \"own\"\nsource = \"own\"\n"
    )
}

#[test]
fn a_file_replaces_a_rule_by_part_and_count() {
    let shipped = common::catalogue();
    let build = Build::default();
    let of = |catalogue: &Catalogue| {
        let rules: Vec<&QuantityRule> = catalogue.quantities.iter().collect();
        let place = |per| {
            let same =
                |rule: &&QuantityRule| rule.part.as_str() == "ring-lug-m6" && rule.per == per;
            rules.iter().position(same)
        };
        (rules.len(), place(Count::MovingBridge))
    };
    let lugs = |catalogue: &Catalogue| needed(&bill(catalogue, &build), "ring-lug-m6");
    let before = lugs(&shipped);
    let own = overlaid(&overlay("moving-bridge", "5"));
    assert_eq!(of(&own), of(&shipped), "in the same place");
    let bridges = (lugs(&own) - before) / decimal("3");
    assert!(bridges >= Decimal::ONE, "{bridges}");
    // A count that no shipped rule of the part has is one more rule.
    let more = overlaid(&overlay("chain", "1"));
    assert_eq!(more.quantities.len(), shipped.quantities.len() + 1);
    assert_eq!(lugs(&more), before + decimal("2"));
}

#[test]
fn none_for_each_drops_the_line() {
    let build = Build::default();
    let drop = "[[quantity]]\npart = \"thread-lock\"\nstep = \"working-area\"\nper = \"machine\"\neach = \"0\"\nwhy = \"own\"\nsource = \"own\"\n";
    let bill_before = bill(&common::catalogue(), &build);
    let bill_after = bill(&overlaid(drop), &build);
    assert!(bill_before.line("thread-lock").is_some());
    assert!(bill_after.line("thread-lock").is_none());
    assert_eq!(bill_after.lines.len() + 1, bill_before.lines.len());
}

/// A rule that somebody sets to zero where the machine may not do without is told of.
#[test]
fn no_earth_straps_is_a_fault() {
    let drop = "[[quantity]]\npart = \"earth-strap\"\nstep = \"control\"\nper = \"frame-part\"\neach = \"0\"\nwhy = \"own\"\nsource = \"own\"\n";
    let catalogue = overlaid(drop);
    let assessment = common::assessed(&catalogue, &[]);
    let told = assessment
        .findings
        .iter()
        .find(|finding| finding.rule == "bill-incomplete");
    assert!(told.expect("a finding").message.contains("no earth straps"));
}

#[test]
fn more_travel_never_takes_fewer_fasteners() {
    let catalogue = common::catalogue();
    let fasteners: Vec<&str> = catalogue
        .sundries
        .values()
        .filter(|part| part.group == SundryGroup::Fasteners)
        .map(|part| part.id.as_str())
        .collect();
    for (number, build) in common::random_builds(&catalogue, 61, 40).iter().enumerate() {
        let before = bill(&catalogue, build);
        for axis in Axis::EACH {
            let mut longer = build.clone();
            longer.area.travel[axis] *= 1.3;
            let after = bill(&catalogue, &longer);
            for part in &fasteners {
                let (less, more) = (needed(&before, part), needed(&after, part));
                assert!(
                    more >= less,
                    "build {number}, {axis:?}: {part} {less} to {more}"
                );
            }
        }
    }
}

#[test]
fn quantities_are_never_negative_and_packs_are_whole() {
    let catalogue = common::catalogue();
    for (number, build) in common::random_builds(&catalogue, 62, 120)
        .iter()
        .enumerate()
    {
        for line in &bill(&catalogue, build).lines {
            let told = format!("build {number}: {}", line.part);
            assert!(line.needed > Decimal::ZERO, "{told}");
            assert!(
                line.have >= Decimal::ZERO && line.buy >= Decimal::ZERO,
                "{told}"
            );
            assert!(line.quantity >= line.needed, "{told}");
            let offer = catalogue
                .book_of(&line.part)
                .and_then(|book| book.offer(&line.part)?.pack);
            let usual = catalogue.sundries.get(&line.part).map(|part| part.pack);
            if let Some(pack) = offer.or(usual) {
                assert_eq!(
                    line.buy % pack,
                    Decimal::ZERO,
                    "{told}: {} of {pack}",
                    line.buy
                );
            }
        }
    }
}
