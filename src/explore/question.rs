//! The questions that builders ask most, ready to be asked: each knows from the build at hand
//! which changed builds answer it. Every answer is a set of full assessments.
//!
//! To add a question, add a [`Question`] to the list of its file under `question/`: in plain
//! words what is asked and why it matters, and a function that offers changed builds, or says
//! why the question does not arise. What must go along so that the change fits (drivers,
//! couplings, clamps) is found by [`Bench::settled`].

use std::rc::Rc;

use rust_decimal::Decimal;

use super::effect::missing_in;
use super::told::{self, Labelled};
use super::trial::{Bench, Trial};
use crate::assessment::Assessment;
use crate::build::{Axis, Build, edit, nearest};
use crate::catalogue::Step;
use crate::order::Order as _;
use crate::rules::{Finding, Severity};

mod area;
pub(super) mod control;
mod drive;
pub(super) mod drop;
mod faster;
mod money;
mod motors;
mod spindle;

pub use faster::{of as faster, reaches as reaches_wish};

/// One question.
pub struct Question {
    /// Its id on the command line.
    pub id: &'static str,
    /// The step it belongs to.
    pub step: Step,
    /// The question in plain words.
    pub title: &'static str,
    /// What it turns on, in plain words.
    pub why: &'static str,
    /// The changed builds that answer it, or why it does not arise.
    ask: fn(&Bench) -> Result<Vec<Offer>, String>,
}

/// How the title of a way begins that stands on top of others.
const ON_TOP: &str = "and ";

/// What stands behind the name of a choice that both sides of the gantry share.
pub const BOTH_SIDES: &str = " on both sides";

/// How the title begins of what saves only where something is there already.
pub const ONLY_IF: &str = "only if ";

/// What to say of a changed build.
type Note = Box<dyn Fn(&Bench, &Trial) -> String>;

/// One way to go, as a question offers it.
struct Offer {
    /// What it would be, in a few words.
    title: String,
    /// Builds that come to it; the one that brings least harm is shown.
    builds: Vec<Build>,
    /// What to say beside the figures.
    note: Option<Note>,
    /// Whether what must go along is left out, since the builds are meant as they are.
    as_is: bool,
    /// Whether it stands on top of the offer before it.
    on_top: bool,
    /// What is said above all ways where it is the first of them; empty where nothing is.
    headline: String,
}

impl Offer {
    fn new(title: impl Into<String>, builds: Vec<Build>) -> Self {
        Self {
            title: title.into(),
            builds,
            note: None,
            as_is: false,
            on_top: false,
            headline: String::new(),
        }
    }

    /// One build, changed from the one at hand.
    fn one(bench: &Bench, title: impl Into<String>, change: impl FnOnce(&mut Build)) -> Self {
        let mut build = bench.build.clone();
        change(&mut build);
        Self::new(title, vec![build])
    }

    fn with_note(mut self, note: impl Fn(&Bench, &Trial) -> String + 'static) -> Self {
        self.note = Some(Box::new(note));
        self
    }

    fn meant_so(mut self) -> Self {
        self.as_is = true;
        self
    }

    fn on_top(mut self) -> Self {
        self.on_top = true;
        self
    }
}

/// One way to go, and what comes of it.
#[derive(Clone, Debug)]
pub struct Alternative {
    /// What it would be, in a few words.
    pub title: String,
    /// What comes of it.
    pub trial: Trial,
    /// What else there is to say; empty where the figures say it all.
    pub note: String,
    /// Whether it goes on from the alternative before it, and so is told against that.
    pub on_top: bool,
    /// What it would be without those that it goes on from; none where it goes on from none.
    pub alone: Option<Alone>,
    /// What the machine does less well by it, under which label; told against its base.
    pub losses: Vec<Labelled>,
}

impl Alternative {
    /// Its title by itself, without what ties it to those that it goes on from.
    pub fn name(&self) -> &str {
        self.title.strip_prefix(ON_TOP).unwrap_or(&self.title)
    }

    /// Whether it stands apart from those that go on from each other: it is one only where
    /// something is there already.
    pub fn is_apart(&self) -> bool {
        self.title.starts_with(ONLY_IF)
    }
}

/// An alternative without those that it goes on from.
#[derive(Clone, Debug)]
pub struct Alone {
    /// The build at hand with its changes.
    pub build: Build,
    /// Change of the likely total.
    pub price: Decimal,
    /// Findings that it brings, worst first.
    pub added: Vec<Finding>,
}

/// What an alternative is told against.
#[derive(Clone, Copy, Debug)]
pub struct Base<'a> {
    /// The build before the change.
    pub build: &'a Build,
    /// Its assessment.
    pub assessment: &'a Assessment,
}

/// The answer to a question, for one build.
#[derive(Clone, Debug)]
pub struct Answer {
    /// The ways to go; none where the question does not arise.
    pub alternatives: Vec<Alternative>,
    /// Why it does not arise; empty where it does.
    pub apart: String,
    /// What holds of all ways together, above them; empty where nothing need be said.
    pub headline: String,
}

impl<'a> Base<'a> {
    /// A bench on which this is the build at hand.
    pub fn bench(&self, of: &Bench<'a>) -> Bench<'a> {
        Bench {
            build: self.build,
            before: self.assessment,
            ..*of
        }
    }
}

impl std::fmt::Debug for Question {
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        f.write_str(self.id)
    }
}

impl Question {
    /// The answer for a build.
    pub fn answer(&self, bench: &Bench) -> Answer {
        answered(bench, (self.ask)(bench))
    }
}

/// The answer to the question what to drop to pay a fifth less, where the saving began with
/// another machine than the one at hand: with the one before some of it was saved.
pub fn a_fifth_less(bench: &Bench, since: &Rc<Assessment>) -> Answer {
    answered(bench, drop::offers_since(bench, Some(since)))
}

/// The ways to go that are offered, with what comes of each.
fn answered(bench: &Bench, offers: Result<Vec<Offer>, String>) -> Answer {
    let offers = match offers {
        Ok(offers) => offers,
        Err(apart) => return Answer::apart(apart),
    };
    let headline = offers.first().map(|first| first.headline.clone());
    let ways = offers.into_iter().filter_map(|offer| {
        let trial = match (offer.as_is, offer.builds) {
            (true, builds) => builds
                .into_iter()
                .filter(|build| build != bench.build)
                .find_map(|build| bench.trial(build).ok()),
            (false, builds) => bench.best(builds),
        }?;
        let note = offer.note.as_ref().map(|note| note(bench, &trial));
        Some(Alternative {
            title: offer.title,
            trial,
            note: note.unwrap_or_default(),
            on_top: offer.on_top,
            alone: None,
            losses: Vec::new(),
        })
    });
    let mut alternatives: Vec<Alternative> = Vec::new();
    for one in ways {
        // Two offers may come to the same where only one axis can change.
        let known = |other: &Alternative| other.trial.build == one.trial.build;
        if !alternatives.iter().any(known) {
            alternatives.push(one);
        }
    }
    if alternatives.is_empty() {
        return Answer::apart("The catalogue has nothing else for it.".to_owned());
    }
    let mut answer = Answer {
        alternatives,
        apart: String::new(),
        headline: headline.unwrap_or_default(),
    };
    let places = 0..answer.alternatives.len();
    let told = places.map(|place| (answer.alone(bench, place), answer.losses(bench, place)));
    let told: Vec<(Option<Alone>, Vec<Labelled>)> = told.collect();
    for (one, told) in answer.alternatives.iter_mut().zip(told) {
        (one.alone, one.losses) = told;
    }
    answer
}

impl Answer {
    /// What the alternative at a place is told against: the build at hand, or the alternative
    /// before it where it goes on from that.
    pub fn base<'a>(&'a self, bench: &Bench<'a>, place: usize) -> Base<'a> {
        let earlier = place
            .checked_sub(1)
            .and_then(|place| self.alternatives.get(place));
        let on_top = self.alternatives.get(place).is_some_and(|one| one.on_top);
        match earlier.filter(|_| on_top) {
            Some(earlier) => Base {
                build: &earlier.trial.build,
                assessment: &earlier.trial.after,
            },
            None => Base {
                build: bench.build,
                assessment: bench.before,
            },
        }
    }

    /// The worst warning that the alternative at a place brings to the build at hand, together
    /// with those that it goes on from.
    pub fn worst(&self, bench: &Bench, place: usize) -> Option<Severity> {
        let one = self.alternatives.get(place)?;
        let brought = missing_in(&one.trial.after.findings, &bench.before.findings);
        brought.iter().map(|finding| finding.severity).min()
    }

    /// What those that the alternative at a place goes on from have brought already, which stands
    /// with it too.
    pub fn brought_before(&self, bench: &Bench, place: usize) -> Vec<Finding> {
        let after = self.alternatives.get(place).filter(|one| one.on_top);
        let after = after.map(|one| one.trial.after.findings.as_slice());
        let base = self.base(bench, place).assessment.findings.as_slice();
        let brought = missing_in(after.unwrap_or_default(), &bench.before.findings);
        let own = missing_in(after.unwrap_or_default(), base);
        missing_in(&brought, &own)
    }

    /// The alternative at a place without those that it goes on from.
    fn alone(&self, bench: &Bench, place: usize) -> Option<Alone> {
        let one = self.alternatives.get(place).filter(|one| one.on_top)?;
        let mut build = bench.build.clone();
        let edits = edit::difference(self.base(bench, place).build, &one.trial.build);
        edits.iter().for_each(|edit| edit.apply(&mut build));
        let trial = bench.trial(build).ok()?;
        Some(Alone {
            build: trial.build,
            price: trial.price,
            added: trial.added,
        })
    }

    /// What the machine does less well by the alternative at a place.
    fn losses(&self, bench: &Bench, place: usize) -> Vec<Labelled> {
        let Some(one) = self.alternatives.get(place) else {
            return Vec::new();
        };
        let base = self.base(bench, place);
        let edits = edit::difference(base.build, &one.trial.build);
        told::losses(&base.bench(bench), &edits, &one.trial.after)
    }

    fn apart(why: String) -> Self {
        Self {
            alternatives: Vec::new(),
            apart: why,
            headline: String::new(),
        }
    }
}

/// Every question, step by step, those about money last.
pub fn all() -> impl Iterator<Item = &'static Question> {
    const TOPICS: &[&[Question]] = &[
        area::QUESTIONS,
        drive::QUESTIONS,
        motors::QUESTIONS,
        faster::QUESTIONS,
        spindle::QUESTIONS,
        control::QUESTIONS,
        money::QUESTIONS,
    ];
    TOPICS.iter().copied().flatten()
}

/// Numbers that occur, rising, each once.
fn distinct(numbers: impl IntoIterator<Item = f64>) -> Vec<f64> {
    let mut found: Vec<f64> = numbers.into_iter().collect();
    found.order_by(f64::total_cmp);
    found.dedup();
    found
}

/// Whether an answer to a question what makes an axis faster reaches what is wanted, where the axis
/// falls short of it now; false of other questions.
pub fn brings_to_wish(
    question: &Question,
    build: &Build,
    now: &Assessment,
    after: &Assessment,
) -> bool {
    let mut axes = Axis::EACH.into_iter();
    let asked = axes.find(|axis| faster::of(*axis).id == question.id);
    asked.is_some_and(|axis| {
        !faster::reaches(build, now, axis) && faster::reaches(build, after, axis)
    })
}

/// The question of an id.
///
/// # Errors
/// Names the nearest id, or where all are listed.
pub fn find(id: &str) -> Result<&'static Question, String> {
    all().find(|question| question.id == id).ok_or_else(|| {
        let hint = nearest::hint(id, all().map(|question| question.id));
        let list = match hint.is_empty() {
            true => "; `gantrywright ask FILE` lists them all",
            false => "",
        };
        format!("there is no question {id:?}{hint}{list}")
    })
}
