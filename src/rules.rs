//! What is wrong with it: the rules, each a small documented unit, and the findings that
//! they report.
//!
//! To add a rule, write it in the file of its topic under `rules/` and list it in that
//! file's `RULES`. Screen, commands, docs and tests pick it up from there.

pub mod facts;
pub mod remedy;
pub mod topics;

mod balance;
mod cabinet;
mod cables;
mod causes;
mod chain;
mod completeness;
mod control;
mod cuts;
mod cutting_speed;
mod cutting_tool;
mod decided;
mod deliveries;
mod drive;
mod drivers;
mod dust_and_fire;
mod earth;
mod exactness;
mod fit;
mod frame;
mod frame_plan;
mod guides;
mod in_hand;
mod inverter;
mod inverter_setting;
mod job;
mod machine_fit;
mod mains;
mod mains_voltage;
mod mating;
mod measured;
mod money;
mod motion;
mod motors;
pub mod own;
mod prints;
mod protection;
mod purchases;
mod racks;
mod rapids;
mod safety;
pub mod safety_notes;
mod say;
mod screw_lengths;
mod screws;
mod shake;
mod softness;
mod spindle;
mod spindle_set;
mod supply;
mod switches;
mod told;
mod turns;
mod voltage;
mod wiring;
mod workshop;

use crate::build::{Axis, Edit};
use crate::catalogue::{Catalogue, Step};
use crate::words::Words;

pub use crate::catalogue::own_rule::Severity;
pub use causes::pairs;
pub use decided::{motion, narrower};
pub use facts::Facts;
pub(crate) use machine_fit::ACCESS_MM;
pub use protection::lower_action;
pub use remedy::Remedies;
pub use told::{RuleId, Told};

/// The rule that something hangs on a circuit that is not there.
pub const NO_SECOND_CIRCUIT: &str = "second-circuit-not-there";

crate::words! {
    /// What a rule looks at, for whoever asks; what a search may learn from it stands in its
    /// `decided_by`.
    Fact {
        Wishes = "wishes", "wishes", "Materials, accuracy, stock, feeds, room, door, experience.";
        Site = "site", "site", "Voltage, breaker, plug.";
        Geometry = "geometry", "geometry", "Lengths, footprint, clearances.";
        Frame = "frame", "frame", "Plan, tubes, plate, prints, rail seats.";
        Guides = "guides", "guides", "Rails and carriages.";
        Drives = "drives", "drives", "Screws, racks, belts, their ends and nuts.";
        Masses = "masses", "masses", "What each axis moves.";
        Axes = "axes", "axes", "Speeds, forces, steps, torque.";
        Motors = "motors", "motors", "Motors and couplings.";
        Drivers = "drivers", "drivers", "Motor drivers and how they are set.";
        Supply = "supply", "supply", "The motors' supply.";
        Spindle = "spindle", "spindle", "Spindle, clamp, cooling, usual tool and speed.";
        Inverter = "inverter", "inverter", "The inverter and how it is set.";
        Controller = "controller", "controller", "Controller, computer, switches.";
        Mains = "mains", "mains", "Circuits, residual-current device, leakage.";
        Wiring = "wiring", "wiring", "Cables, chains, runs.";
        Cabinet = "cabinet", "cabinet", "Cabinet, fan, heat.";
        Extras = "extras", "extras", "Dust, stand, sensor, coolant, safety.";
        Bill = "bill", "bill", "Lines, prices, budget, reserve.";
    }
}

/// One rule.
pub struct Rule {
    /// Its id: words that name the problem.
    pub id: &'static str,
    /// The problem in a few words.
    pub title: &'static str,
    /// The severities it may report, worst first.
    pub severities: &'static [Severity],
    /// The step it belongs to.
    pub step: Step,
    /// What it watches.
    pub watches: &'static str,
    /// Why that matters.
    pub because: &'static str,
    /// Its formula or threshold, and the published source; "common practice" where none is.
    pub from: &'static str,
    /// What to do instead.
    pub instead: &'static str,
    /// What it looks at.
    pub reads: &'static [Fact],
    /// The choices of the steps drive, spindle and control, what is measured excepted, that
    /// alone decide whether it fires, on which axis and how severely, as long as everything
    /// else stays as it is: the other steps, what is measured, purchases, the day and the
    /// catalogue. A name that ends in `_a` or `_a_mm` stands for the axis of the finding,
    /// `motor_a` for `motor_x` in one on X, and for all three in one on the whole machine.
    /// `drives_a` are all drives of the axis: on Y `drive_y2` and `gantry_drive` too;
    /// `like_drives_a` the same where both drives of Y are one part. Names of one axis may
    /// stand beside. A choice too many does no harm, one too few makes a search wrong.
    /// An empty list: none of them decides it, only the other steps, what is measured, purchases,
    /// the day or the catalogue. None: undeclared, and a search learns nothing from it but about
    /// the one build; so with money. `motion_a` is all that decides how the
    /// axis moves, its load among it. What else a finding at hand says, [`narrower`] knows. See
    /// [`Rule::deciders`].
    pub decided_by: Option<&'static [&'static str]>,
    /// Looks at the facts and reports.
    pub check: fn(&Facts, &mut Report),
    /// Edits that may lift its finding, best first; they are tried before they are offered.
    pub remedies: fn(&Facts, Option<Axis>) -> Remedies,
    /// Two builds that differ in one choice, one on each side of the threshold.
    pub example: Example,
}

impl Rule {
    /// What it says of itself.
    pub fn told(&self) -> Told<'static> {
        Told {
            title: self.title,
            watches: self.watches,
            because: self.because,
            from: self.from,
            instead: self.instead,
        }
    }
}

/// Two builds on either side of a rule's threshold: the default build with `given`, and then
/// `choice` set once to `fires` and once to `quiet`.
#[derive(Clone, Copy, Debug)]
pub struct Example {
    /// Edits made first, as choice and value.
    pub given: &'static [(&'static str, &'static str)],
    /// The choice in which the two differ.
    pub choice: &'static str,
    /// The value with which the rule fires.
    pub fires: &'static str,
    /// The value with which it is quiet.
    pub quiet: &'static str,
}

impl Example {
    /// For rules that no choice moves, only prices and dates: they have tests of their own.
    pub const BY_DATA: Self = Self {
        given: &[],
        choice: "",
        fires: "",
        quiet: "",
    };

    /// Whether prices and dates alone move the rule.
    pub fn is_by_data(&self) -> bool {
        self.choice.is_empty()
    }
}

/// What one rule found.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Finding {
    /// The rule, by its id.
    pub rule: RuleId,
    /// How bad it is.
    pub severity: Severity,
    /// The step it belongs to.
    pub step: Step,
    /// The axis, where it is about one.
    pub axis: Option<Axis>,
    /// The finding in one sentence with its numbers.
    pub message: String,
    /// The builder's note, where the finding was accepted.
    pub accepted: Option<String>,
    /// The rule whose finding this one follows from; none at the head of an entry.
    pub cause: Option<&'static str>,
}

impl Finding {
    /// It in a few words: the axis, then the title of its rule.
    pub fn title(&self) -> String {
        let title = self.rule.title();
        match self.axis {
            Some(axis) => format!("{}: {title}", axis.title()),
            None => title.to_owned(),
        }
    }

    /// Whether it still counts: an accepted one does not, but nothing hides a danger.
    pub fn counts(&self) -> bool {
        self.accepted.is_none() || self.severity == Severity::Danger
    }
}

/// How many entries there are of each severity, in words: `1 danger, 2 faults, 1 accepted`.
/// Findings that follow from another one are not counted.
pub fn tally(findings: &[Finding]) -> String {
    let heads = topics::heads(findings);
    let mut parts = Vec::new();
    for &severity in Severity::ALL {
        let alike = |head: &&&Finding| head.severity == severity && head.counts();
        match heads.iter().filter(alike).count() {
            0 => {}
            1 => parts.push(format!("1 {}", severity.title())),
            many => parts.push(format!("{many} {}s", severity.title())),
        }
    }
    match heads.iter().filter(|head| !head.counts()).count() {
        0 => {}
        accepted => parts.push(format!("{accepted} accepted")),
    }
    if parts.is_empty() {
        "none".to_owned()
    } else {
        parts.join(", ")
    }
}

/// Where a rule puts its findings.
#[derive(Debug, Default)]
pub struct Report {
    found: Vec<(Severity, Option<Axis>, String)>,
}

impl Report {
    /// Reports something about the whole machine.
    pub fn say(&mut self, severity: Severity, message: impl Into<String>) {
        self.found.push((severity, None, message.into()));
    }

    /// Reports something about one axis.
    pub fn say_of(&mut self, axis: Axis, severity: Severity, message: impl Into<String>) {
        self.found.push((severity, Some(axis), message.into()));
    }
}

/// Every rule, topic by topic.
pub fn all() -> impl Iterator<Item = &'static Rule> {
    const TOPICS: &[&[Rule]] = &[
        frame::RULES,
        softness::RULES,
        frame_plan::RULES,
        prints::RULES,
        machine_fit::RULES,
        measured::RULES,
        guides::RULES,
        rapids::RULES,
        drive::RULES,
        exactness::RULES,
        screws::RULES,
        screw_lengths::RULES,
        in_hand::RULES,
        racks::RULES,
        motors::RULES,
        motion::RULES,
        shake::RULES,
        drivers::RULES,
        supply::RULES,
        mating::RULES,
        spindle::RULES,
        inverter::RULES,
        inverter_setting::RULES,
        cutting_tool::RULES,
        cutting_speed::RULES,
        cuts::RULES,
        control::RULES,
        switches::RULES,
        safety::RULES,
        mains::RULES,
        mains_voltage::RULES,
        turns::RULES,
        earth::RULES,
        cables::RULES,
        wiring::RULES,
        chain::RULES,
        cabinet::RULES,
        dust_and_fire::RULES,
        workshop::RULES,
        job::RULES,
        protection::RULES,
        money::RULES,
        balance::RULES,
        completeness::RULES,
        purchases::RULES,
        deliveries::RULES,
    ];
    TOPICS.iter().copied().flatten()
}

/// The rule of an id.
pub fn find(id: &str) -> Option<&'static Rule> {
    all().find(|rule| rule.id == id)
}

/// The ids of all rules, those of one's own last.
pub fn ids(catalogue: &Catalogue) -> impl Iterator<Item = &str> {
    let own = catalogue.own_rules.iter().map(|rule| rule.id.as_str());
    all().map(|rule| rule.id).chain(own)
}

/// Every finding of every rule, one's own too, worst first, what follows from one behind it.
pub fn findings(facts: &Facts, read: own::Read) -> Vec<Finding> {
    let mut found = Vec::new();
    for rule in all() {
        let mut report = Report::default();
        (rule.check)(facts, &mut report);
        let accepted = facts.picked.build.accepted.get(rule.id);
        found.extend(
            report
                .found
                .into_iter()
                .map(|(severity, axis, message)| Finding {
                    rule: RuleId::BuiltIn(rule),
                    severity,
                    step: rule.step,
                    axis,
                    message,
                    accepted: accepted.cloned(),
                    cause: None,
                }),
        );
    }
    found.extend(own::findings(facts, read));
    causes::group(found)
}

/// What may lift a finding, best first; none of it is tried yet.
pub fn candidates(facts: &Facts, finding: &Finding) -> Remedies {
    match &finding.rule {
        RuleId::BuiltIn(rule) => (rule.remedies)(facts, finding.axis),
        RuleId::Own(rule) => own::remedies(rule, facts),
    }
}

/// No remedy: the finding asks for work or thought, not for another choice.
fn no_remedy(_: &Facts, _: Option<Axis>) -> Remedies {
    Vec::new()
}

/// One edit as a candidate, for rules whose remedy is always the same.
fn edit(facts: &Facts, choice: &str, value: &str) -> Vec<Edit> {
    Edit::parse(choice, value, facts.picked.catalogue)
        .into_iter()
        .collect()
}
