//! Dust, sparks and fire: what wood and metal do to lungs and workshop.

use super::remedy::{each_named, each_option, in_turn, part_of, set};
use super::say;
use super::{Example, Fact, Facts, Remedies, Report, Rule, Severity};
use crate::build::{Axis, Edit};
use crate::catalogue::Step;
use crate::catalogue::extras::{CoolantKind, DustClass, Extractor};
use crate::catalogue::material::{Family, Material};
use crate::order::Order as _;
use crate::units;
use crate::words::Words;

/// The rules of this topic.
pub(super) const RULES: &[Rule] = &[
    Rule {
        id: "wood-without-extraction",
        title: "Wood without dust extraction",
        severities: &[Severity::Danger],
        step: Step::Extras,
        watches: "Wood or boards among the wishes, and no extractor.",
        because: "Fine wood dust can cause cancer of the nose, harms the lungs, and in the air or the bin it can catch fire.",
        from: "Hardwood dust limit 2 mg/m³ over a shift: Directive 2004/37/EC as amended by (EU) 2017/2398.",
        instead: "Add a dust extractor with a fine filter, class M or better.",
        reads: &[Fact::Wishes, Fact::Extras],
        decided_by: Some(&[]),
        check: no_extraction,
        remedies: extract,
        example: Example {
            given: &[],
            choice: "extractor",
            fires: "none",
            quiet: "extractor-shop-1200w",
        },
    },
    Rule {
        id: "filter-too-coarse",
        title: "Filter too coarse for this dust",
        severities: &[Severity::Caution],
        step: Step::Extras,
        watches: "Hardwood or boards among the wishes, and the dust class of the extractor.",
        because: "A coarse filter blows the finest dust back into the room, and that is what reaches the lungs.",
        from: "IEC 60335-2-69, Annex AA (class L lets 1 % through, M 0.1 %: from memory); class M for wood dust by common practice.",
        instead: "Take an extractor of class M, or lead its air out of the room.",
        reads: &[Fact::Wishes, Fact::Extras],
        decided_by: Some(&[]),
        check: coarse_filter,
        remedies: |facts, _| extractors(facts),
        example: Example {
            given: &[],
            choice: "extractor",
            fires: "extractor-shop-1000w",
            quiet: "extractor-shop-1200w",
        },
    },
    Rule {
        id: "metal-sparks-in-wood-dust",
        title: "Metal chips and wood dust in one bin",
        severities: &[Severity::Danger],
        step: Step::Extras,
        watches: "Wood and metal among the wishes, an extractor, and one bin for both.",
        because: "A hot metal chip smoulders in wood dust for hours, and the airflow feeds it.",
        from: "Common practice; fire insurers' guidance for workshops.",
        instead: "Never draw metal chips into the wood extractor: sweep them up, or use a second extractor with a bin of its own.",
        reads: &[Fact::Wishes, Fact::Extras],
        decided_by: Some(&[]),
        check: one_bin,
        remedies: |facts, _| set(facts, "separate_bins", "yes"),
        example: Example {
            given: &[("materials", "softwood,aluminium-6082")],
            choice: "separate_bins",
            fires: "no",
            quiet: "yes",
        },
    },
    Rule {
        id: "hose-not-earthed",
        title: "Dust hose without an earth wire",
        severities: &[Severity::Caution],
        step: Step::Extras,
        watches: "An extractor whose plastic hose carries no earth wire.",
        because: "Moving chips charge the hose: it gives shocks, resets controllers, and can light fine dust.",
        from: "IEC TS 60079-32-1 on static electricity; common practice.",
        instead: "Lead a bare wire along the hose to earth, or take a conductive hose.",
        reads: &[Fact::Extras],
        decided_by: Some(&[]),
        check: hose,
        remedies: |facts, _| set(facts, "earthed_hose", "yes"),
        example: Example {
            given: &[],
            choice: "earthed_hose",
            fires: "no",
            quiet: "yes",
        },
    },
    Rule {
        id: "coolant-with-mdf",
        title: "Wet coolant with wood",
        severities: &[Severity::Caution],
        step: Step::Extras,
        watches: "Mist or flood coolant where wood is cut as well.",
        because: "Board swells, wet dust clogs the extractor and cakes on the rails.",
        from: "Common practice.",
        instead: "Take an air blast, or keep wet coolant to a machine for metal.",
        reads: &[Fact::Wishes, Fact::Extras],
        decided_by: Some(&[]),
        check: wet,
        remedies: |facts, _| {
            in_turn([set(facts, "coolant", "none"), each_option(facts, "coolant")])
        },
        example: Example {
            given: &[],
            choice: "coolant",
            fires: "coolant-mist",
            quiet: "coolant-air-blast",
        },
    },
    Rule {
        id: "no-fire-watch",
        title: "No smoke alarm, no extinguisher",
        severities: &[Severity::Danger, Severity::Caution],
        step: Step::Extras,
        watches: "Smoke alarm and extinguisher: where the machine runs unattended, and where wood is cut.",
        because: "A dull tool lights dust that smoulders unseen, long after the job.",
        from: "Common practice.",
        instead: "Put an alarm over the machine and an extinguisher by the door, and stay in the room.",
        reads: &[Fact::Wishes, Fact::Extras],
        decided_by: Some(&[]),
        check: fire_watch,
        remedies: |facts, _| set(facts, "fire_watch", "yes"),
        example: Example {
            given: &[("unattended", "yes")],
            choice: "fire_watch",
            fires: "no",
            quiet: "yes",
        },
    },
    Rule {
        id: "nobody-there",
        title: "The machine cuts with nobody there",
        severities: &[Severity::Caution],
        step: Step::Extras,
        watches: "Whether the machine is meant to run unattended.",
        because: "A smoke alarm tells of a fire and puts none out: a broken tool, a loose piece or a clogged hose wants a hand at the stop within seconds.",
        from: "Common practice.",
        instead: "Stay in the room while it cuts, and stop it before you leave.",
        reads: &[Fact::Extras],
        decided_by: Some(&[]),
        check: nobody_there,
        remedies: |facts, _| set(facts, "unattended", "no"),
        example: Example {
            given: &[],
            choice: "unattended",
            fires: "yes",
            quiet: "no",
        },
    },
];

fn names(materials: &[&Material]) -> String {
    let names: Vec<&str> = materials
        .iter()
        .map(|material| material.title.as_str())
        .collect();
    say::list(&names)
}

fn no_extraction(facts: &Facts, report: &mut Report) {
    let wood = facts.wishes_for(Family::Wood);
    if wood.is_empty() || facts.picked.extractor.is_some() {
        return;
    }
    let limited = wood.iter().any(|material| material.hardwood_dust);
    let limit = if limited {
        "; hardwood dust is limited to 2 mg/m³"
    } else {
        ""
    };
    report.say(
        Severity::Danger,
        format!("{} wanted, and no dust extraction{limit}", names(&wood)),
    );
}

fn coarse_filter(facts: &Facts, report: &mut Report) {
    let Some(extractor) = facts.picked.extractor else {
        return;
    };
    let mut wood = facts.wishes_for(Family::Wood);
    wood.retain(|material| material.hardwood_dust);
    if wood.is_empty() || is_fine(extractor) {
        return;
    }
    let has = extractor
        .dust_class
        .map_or("states no dust class", |_| "is of dust class L");
    report.say(
        Severity::Caution,
        format!("{} wanted, and the extractor {has}", names(&wood)),
    );
}

/// Every other extractor, the cheapest first of those whose filter holds the dust back that is
/// expected, then the others.
pub(super) fn extractors(facts: &Facts) -> Remedies {
    let fine = |edits: &Vec<Edit>| {
        let shelf = &facts.picked.catalogue.extractors;
        let extractor = edits.first().and_then(|edit| part_of(edit, shelf));
        extractor.is_some_and(is_fine)
    };
    let harms = |material: &&Material| material.hardwood_dust;
    let mut found = each_named(facts, "extractor");
    if facts.wishes_for(Family::Wood).iter().any(harms) {
        found.order_by_key(|edits| !fine(edits));
    }
    found
}

/// Whether a filter holds the dust of hardwood and board back.
fn is_fine(extractor: &Extractor) -> bool {
    extractor
        .dust_class
        .is_some_and(|class| class >= DustClass::M)
}

/// Every extractor, alone and with a bin of its own for metal.
fn extract(facts: &Facts, _: Option<Axis>) -> Remedies {
    let alone = extractors(facts);
    let own_bin = super::edit(facts, "separate_bins", "yes");
    let both = alone
        .iter()
        .map(|edits| [edits.clone(), own_bin.clone()].concat());
    alone.iter().cloned().chain(both).collect()
}

fn one_bin(facts: &Facts, report: &mut Report) {
    let metal = facts.wishes_for(Family::Metal);
    let mixed = facts.wishes(Family::Wood) && !metal.is_empty();
    if mixed && facts.picked.extractor.is_some() && !facts.picked.build.extras.separate_bins {
        report.say(
            Severity::Danger,
            format!(
                "hot chips of {} fall into one bin with wood dust",
                names(&metal)
            ),
        );
    }
}

fn hose(facts: &Facts, report: &mut Report) {
    let Some(extractor) = facts.picked.extractor else {
        return;
    };
    if !facts.picked.build.extras.earthed_hose {
        report.say(
            Severity::Caution,
            format!(
                "{:.0} m³/h through a {:.0} mm plastic hose charge it, and no wire leads that away",
                extractor.air.as_m3_per_h(),
                units::mm::from(extractor.hose)
            ),
        );
    }
}

fn wet(facts: &Facts, report: &mut Report) {
    let wood = facts.wishes_for(Family::Wood);
    let Some(coolant) = facts.picked.coolant else {
        return;
    };
    if coolant.kind != CoolantKind::AirBlast && !wood.is_empty() {
        report.say(
            Severity::Caution,
            format!(
                "{} coolant, and {} to cut",
                coolant.kind.title(),
                names(&wood)
            ),
        );
    }
}

fn nobody_there(facts: &Facts, report: &mut Report) {
    if facts.picked.build.extras.unattended {
        report.say(
            Severity::Caution,
            "it is meant to run unattended: an alarm tells, and puts nothing out",
        );
    }
}

fn fire_watch(facts: &Facts, report: &mut Report) {
    let extras = &facts.picked.build.extras;
    if extras.fire_watch {
        return;
    }
    if extras.unattended {
        report.say(
            Severity::Danger,
            "the machine runs with nobody in the room, without smoke alarm and extinguisher",
        );
    } else if facts.wishes(Family::Wood) {
        report.say(
            Severity::Caution,
            "wood is cut, and there is neither smoke alarm nor extinguisher",
        );
    }
}
