//! The cabinet: cool enough, closed, and with a supply in it that somebody vouches for.

use super::remedy::{each_option, in_turn, part_of, together};
use super::say;
use super::{Example, Fact, Facts, Remedies, Report, Rule, Severity};
use crate::build::Axis;
use crate::catalogue::Step;
use crate::catalogue::material::Family;
use crate::catalogue::wiring::CabinetMaterial;
use crate::machine::cabinet::allowed_rise;
use crate::order::Order as _;
use crate::units;

/// The rules of this topic.
pub(super) const RULES: &[Rule] = &[
    Rule {
        id: "cabinet-too-hot",
        title: "Cabinet gets too hot",
        severities: &[Severity::Caution],
        step: Step::Control,
        watches: "How much warmer than the room the cabinet gets in usual work.",
        because: "Drivers and inverters switch off when hot, in mid-cut, and their capacitors age twice as fast for every 10 K.",
        from: "ΔT = P / (k · A + air / 3.1) > 15 K: 40 °C around the devices in a room of 25 °C; surface by IEC 60890, k by enclosure makers.",
        instead: "Add a filtered fan, take a larger cabinet, or one of painted steel or aluminium.",
        reads: &[
            Fact::Cabinet,
            Fact::Controller,
            Fact::Inverter,
            Fact::Spindle,
            Fact::Supply,
            Fact::Drivers,
            Fact::Motors,
            Fact::Axes,
        ],
        decided_by: None,
        check: hot,
        remedies: cooler_cabinet,
        example: Example {
            given: &[],
            choice: "fan",
            fires: "none",
            quiet: "fan-50",
        },
    },
    Rule {
        id: "cabinet-open-or-wood",
        title: "Electronics in the open or in wood",
        severities: &[Severity::Danger, Severity::Caution],
        step: Step::Control,
        watches: "Electronics on an open board or in a wooden box.",
        because: "Chips and fingers reach live parts, and metal chips short them. Wood shields nothing and cannot be earthed.",
        from: "IEC 60204-1: live parts enclosed, at least IP2X; common practice.",
        instead: "Take a closed metal cabinet and earth it.",
        reads: &[Fact::Cabinet, Fact::Wishes],
        decided_by: Some(&["cabinet"]),
        check: open,
        remedies: |facts, _| each_option(facts, "cabinet"),
        example: Example {
            given: &[],
            choice: "cabinet",
            fires: "cabinet-wood",
            quiet: "cabinet-plastic-500x400",
        },
    },
    Rule {
        id: "improvised-supply",
        title: "Altered second-hand supply",
        severities: &[Severity::Danger],
        step: Step::Control,
        watches: "A supply that was made for another use and altered.",
        because: "Whoever altered it answers for its insulation and earth; in series, a case can be live.",
        from: "Common practice.",
        instead: "Take a supply made for the purpose, or have a licensed electrician test insulation and earth.",
        reads: &[Fact::Supply],
        decided_by: Some(&["supply"]),
        check: altered,
        remedies: |facts, _| like_supplies(facts),
        example: Example {
            given: &[],
            choice: "supply",
            fires: "supply-48v-second-hand",
            quiet: "supply-48v-600w",
        },
    },
];

fn hot(facts: &Facts, report: &mut Report) {
    let electrics = &facts.machine.electrics;
    let Some(rise) = electrics.cabinet.rise else {
        return;
    };
    let (rise, may) = (
        units::kelvin::from(rise),
        units::kelvin::from(allowed_rise()),
    );
    if rise > may {
        report.say(
            Severity::Caution,
            format!(
                "{} make the cabinet {rise:.0} K warmer than the room, {may:.0} K are fair; {:.0} m³/h of air would do",
                say::watts(electrics.cabinet.losses.total()),
                electrics.cabinet.air_needed.as_m3_per_h()
            ),
        );
    }
}

fn cooler_cabinet(facts: &Facts, _: Option<Axis>) -> Remedies {
    let (fans, cabinets) = (each_option(facts, "fan"), each_option(facts, "cabinet"));
    let both = together(&cabinets, &fans);
    in_turn([each_option(facts, "cabinet_mounting"), fans, cabinets, both])
}

fn open(facts: &Facts, report: &mut Report) {
    match facts.picked.cabinet.material {
        CabinetMaterial::OpenBoard => {
            let metals = facts.wishes_for(Family::Metal);
            let metals: Vec<&str> = metals.iter().map(|metal| metal.title.as_str()).collect();
            let chips = match metals.is_empty() {
                true => String::new(),
                false => format!(", and chips of {} fall on them", say::list(&metals)),
            };
            report.say(
                Severity::Danger,
                format!("live parts lie open to fingers and dust{chips}"),
            );
        }
        CabinetMaterial::Wood => {
            report.say(
                Severity::Caution,
                "a wooden box shields nothing and cannot be earthed",
            );
        }
        CabinetMaterial::Steel
        | CabinetMaterial::Stainless
        | CabinetMaterial::Aluminium
        | CabinetMaterial::Plastic => {}
    }
}

/// Other supplies: those of the same voltage and no less current first, then by nearness of
/// voltage.
pub(super) fn like_supplies(facts: &Facts) -> Remedies {
    let now = facts.picked.supply;
    let mut found = each_option(facts, "supply");
    found.order_by_key(|edits| {
        let other = edits
            .first()
            .and_then(|edit| part_of(edit, &facts.picked.catalogue.supplies));
        other.map(|other| {
            let apart = units::v::from(other.volts) - units::v::from(now.volts);
            (apart.abs() as u64, other.current < now.current)
        })
    });
    found
}

fn altered(facts: &Facts, report: &mut Report) {
    let supply = facts.picked.supply;
    if supply.improvised {
        report.say(
            Severity::Danger,
            format!(
                "{}: nobody vouches for its insulation and earth",
                supply.title
            ),
        );
    }
}
