//! Eyes and ears that last: protection on the list, and what noise does without it.

use super::remedy::{each_named, each_option, in_turn, number};
use super::say;
use super::spindle_set::other_spindles;
use super::{Example, Fact, Facts, Remedies, Report, Rule, Severity};
use crate::build::Axis;
use crate::catalogue::Step;
use crate::units::{self, SoundLevel};

/// Lower action value of daily noise exposure, dB(A): ear protection must be at hand
/// (Directive 2003/10/EC, article 3).
const LOWER_ACTION: f64 = 80.0;

/// The noise from which on hearing needs care, spread over a working day.
pub fn lower_action() -> SoundLevel {
    SoundLevel::dba(LOWER_ACTION)
}

/// Upper action value: ear protection must be worn.
const UPPER_ACTION: f64 = 85.0;

/// The rules of this topic.
pub(super) const RULES: &[Rule] = &[
    Rule {
        id: "no-eye-protection",
        title: "No protection for eyes and ears",
        severities: &[Severity::Caution],
        step: Step::Extras,
        watches: "Whether at least one person has goggles, ear defenders and a mask.",
        because: "A tool that breaks flies off as fast as its edge ran, and chips fly at every cut.",
        from: "EN ISO 16321-1 (eye protection), Directive 89/656/EEC.",
        instead: "Buy a set for each person in the room.",
        reads: &[Fact::Extras],
        decided_by: Some(&[]),
        check: protection,
        remedies: |facts, _| number(facts, "protection_sets", 1.0, true),
        example: Example {
            given: &[],
            choice: "protection_sets",
            fires: "0",
            quiet: "1",
        },
    },
    Rule {
        id: "noise-dose",
        title: "Noise beyond the action values",
        severities: &[Severity::Caution, Severity::Hint],
        step: Step::Extras,
        watches: "Daily noise from spindle and extractor running free, less what the enclosure keeps in, where nobody has ear protection.",
        because: "Hearing lost to noise does not come back; cutting is louder still than running free.",
        from: "LEX,8h = L + 10 · lg(hours / 8), levels added by energy; action values 80 and 85 dB(A): Directive 2003/10/EC.",
        instead: "Buy ear protection, build an enclosure, or take a quieter spindle or extractor.",
        reads: &[Fact::Spindle, Fact::Extras, Fact::Wishes],
        decided_by: Some(&["spindle"]),
        check: noise,
        remedies: quieter,
        example: Example {
            given: &[("protection_sets", "0")],
            choice: "hours_a_day",
            fires: "9.5",
            quiet: "8.5",
        },
    },
];

fn protection(facts: &Facts, report: &mut Report) {
    if facts.picked.build.extras.protection_sets == 0 {
        report.say(
            Severity::Caution,
            "no goggles, ear defenders and masks on the list",
        );
    }
}

/// Level of several sources together: their energies add.
fn together(levels: &[f64]) -> SoundLevel {
    let energy: f64 = levels.iter().map(|level| 10_f64.powf(level / 10.0)).sum();
    SoundLevel::dba(10.0 * energy.log10())
}

/// Level at one metre: the enclosure damps the spindle, the extractor stands outside it.
fn level(facts: &Facts) -> SoundLevel {
    let picked = facts.picked;
    let damping = picked
        .enclosure
        .map_or(0.0, |enclosure| enclosure.damping.as_dba());
    let mut levels = vec![picked.spindle.noise_dba.as_dba() - damping];
    levels.extend(
        picked
            .extractor
            .map(|extractor| extractor.noise_dba.as_dba()),
    );
    together(&levels)
}

/// Daily exposure: the level spread over eight hours.
fn daily(facts: &Facts) -> SoundLevel {
    let hours = units::hour::from(facts.picked.build.area.hours_a_day);
    SoundLevel::dba(level(facts).as_dba() + 10.0 * (hours / 8.0).log10())
}

fn noise(facts: &Facts, report: &mut Report) {
    if facts.picked.build.extras.protection_sets > 0 {
        return;
    }
    let (level, daily) = (level(facts).as_dba(), daily(facts).as_dba());
    if daily < LOWER_ACTION {
        return;
    }
    let (severity, action) = if daily < UPPER_ACTION {
        (
            Severity::Hint,
            format!("from {LOWER_ACTION:.0} on ear protection must be at hand"),
        )
    } else {
        (
            Severity::Caution,
            format!("from {UPPER_ACTION:.0} on it must be worn"),
        )
    };
    let hours = say::at_most(units::hour::from(facts.picked.build.area.hours_a_day), 1);
    report.say(
        severity,
        format!("{level:.0} dB(A) for {hours} h make a daily {daily:.1} dB(A): {action}"),
    );
}

fn quieter(facts: &Facts, _: Option<Axis>) -> Remedies {
    let now = facts.picked.spindle.noise_dba;
    in_turn([
        number(facts, "protection_sets", 1.0, true),
        each_option(facts, "enclosure"),
        other_spindles(facts, |spindle| spindle.noise_dba < now),
        each_named(facts, "extractor"),
    ])
}

#[cfg(test)]
mod tests {
    use super::*;

    /// Two equal sources are 3 dB louder than one; ten times the energy is 10 dB (ISO 1996-1).
    #[test]
    fn sound_levels_add_by_energy() {
        assert!((together(&[80.0, 80.0]).as_dba() - 83.01).abs() < 0.01);
        assert!((together(&[80.0; 10]).as_dba() - 90.0).abs() < 1e-9);
    }
}
