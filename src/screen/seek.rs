//! The page that finds the cheapest build: what is wanted, how far the search has come, what
//! was found.

use std::ops::ControlFlow;
use std::rc::Rc;
use std::time::{Duration, Instant};

use super::job::{Job, Running, job};
use super::papers::Source;
use crate::assessment::Assessment;
use crate::build::edit::difference;
use crate::build::{Build, Choice, Edit, choices};
use crate::catalogue::Catalogue;
use crate::explore::find::{self, Found, FoundBuild, Progress, Request, Space, Target, target};
use crate::explore::reading::{Measure, Reading};
use crate::explore::told::{Labelled, losses};
use crate::explore::trial::Bench;
use crate::machine::cutting::Verdict;
use crate::words::Words as _;

mod wanting;

pub use wanting::Wanting;

/// How much work a search may be before it gives up: about a minute of one processor. Whoever is
/// not content starts it again.
const EFFORT: u64 = 20_000_000;

/// How many times as long the same search works that gave up before.
pub const LONGER: u64 = 5;

/// A row of the page on which a search is put together.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Row {
    /// One of the targets, by its place.
    Target(usize),
    /// Another target.
    Add,
    /// Whether everything must be cut as well as now.
    Cuts,
    /// Whether there may be more cautions than now.
    Cautions,
    /// The figure that money is traded for.
    Against,
    /// What may change.
    Free,
    /// The search begins.
    Start,
}

/// How far a search has come, to be kept and shown.
#[derive(Clone, Debug)]
pub struct Far {
    /// All combinations.
    pub combinations: u128,
    /// Of those, how many are assessed or excluded.
    pub covered: u128,
    /// How many were assessed.
    pub assessed: u64,
    /// How long that took.
    pub took: Duration,
    /// The best so far: its figures, and what it changes.
    pub best: Option<(Reading, Vec<Edit>)>,
    /// After how long that was found.
    pub bettered: Duration,
}

/// What was found, and for what.
#[derive(Clone, Debug)]
pub struct Outcome {
    /// The build at hand when it was looked for.
    pub build: Build,
    /// What was looked for.
    pub request: Request,
    /// Of its targets, how many somebody asked for one by one; those behind are kept besides.
    pub asked: usize,
    /// Whether everything had to be cut as well as now.
    pub keeps_cuts: bool,
    /// How long it took.
    pub took: Duration,
    /// What was found, or why nothing could be looked for.
    pub found: Result<Found, String>,
}

/// A search that is running.
#[derive(Debug)]
struct Search {
    build: Build,
    request: Request,
    asked: usize,
    keeps_cuts: bool,
    begun: Instant,
    running: Running<Far, Result<Found, String>>,
}

/// What the page knows.
#[derive(Debug, Default)]
pub struct Seek {
    /// What the build must do.
    pub targets: Vec<Target>,
    /// Whether everything must be cut as well as it is now.
    pub keeps_cuts: bool,
    /// Whether there may be more cautions than there are now.
    pub more_cautions: bool,
    /// The figure that money is traded for.
    pub against: Option<Measure>,
    /// The choices that may change, where somebody said which; none for the usual ones.
    pub free: Option<Vec<&'static Choice>>,
    /// How far the search has come that is running.
    pub far: Option<Far>,
    search: Option<Search>,
    outcome: Option<Outcome>,
    /// What each build that was found does less well than the build at hand, which this is of.
    lost: Option<(Rc<Assessment>, Vec<Vec<Labelled>>)>,
}

impl Seek {
    /// The rows of the page.
    pub fn rows(&self) -> Vec<Row> {
        let targets = (0..self.targets.len()).map(Row::Target);
        let rest = [
            Row::Add,
            Row::Cuts,
            Row::Cautions,
            Row::Against,
            Row::Free,
            Row::Start,
        ];
        targets.chain(rest).collect()
    }

    /// All that a build must do: what was asked for, and what is kept of the one at hand.
    pub fn wanted(&self, catalogue: &Catalogue, now: &Assessment) -> Vec<Target> {
        let mut wanted = self.targets.clone();
        if self.keeps_cuts {
            wanted.extend(as_well_as_now(catalogue, now));
        }
        let bounded = |target: &Target| matches!(target, Target::Cautions(_));
        if !self.more_cautions && !self.targets.iter().any(bounded) {
            wanted.push(Target::Cautions(target::cautions(&Reading::of(now))));
        }
        wanted
    }

    /// The choices that may change.
    pub fn free(&self, catalogue: &Catalogue) -> Vec<&'static Choice> {
        let named = self.free.clone();
        named.unwrap_or_else(|| find::usual(catalogue))
    }

    /// What that leaves open for a build.
    pub fn space(&self, catalogue: &Catalogue, build: &Build) -> Space {
        Space::new(catalogue, build, &self.free(catalogue))
    }

    /// Lets a choice change, or keeps it as it is.
    pub fn turn(&mut self, catalogue: &Catalogue, choice: &'static Choice) {
        let mut free = self.free(catalogue);
        match free.iter().position(|known| known.id == choice.id) {
            Some(place) => {
                free.remove(place);
            }
            None => free.push(choice),
        }
        self.free = Some(free);
    }

    /// Lets every choice change; where all may, none.
    pub fn turn_all(&mut self, catalogue: &Catalogue) {
        let all = freeable(catalogue);
        let are_all = self.free(catalogue).len() == all.len();
        self.free = Some(if are_all { Vec::new() } else { all });
    }

    /// Goes on to the next figure that money is traded for, and to none behind the last.
    pub fn next_against(&mut self) {
        let all = Measure::ALL.iter().filter(|one| **one != Measure::Cost);
        let mut each = std::iter::once(None).chain(all.copied().map(Some));
        let _ = each.find(|one| *one == self.against);
        self.against = each.next().flatten();
    }

    /// Whether a search is running.
    pub fn is_running(&self) -> bool {
        self.search.is_some()
    }

    /// Whether the search that is running was asked to stop.
    pub fn is_stopping(&self) -> bool {
        let search = self.search.as_ref();
        search.is_some_and(|search| search.running.is_stopping())
    }

    /// Puts a search together, and keeps an eye on it from now on.
    pub fn start(&mut self, source: Source) -> Job {
        let mut request = Request {
            targets: self.wanted(source.catalogue, source.now),
            against: self.against,
            free: self.free(source.catalogue),
            effort: None,
        };
        request.effort = Some(
            self.gave_up(&request)
                .map_or(EFFORT, |effort| effort * LONGER),
        );
        let (catalogue, build) = (source.catalogue.clone(), source.build.clone());
        let (before, today) = (source.now.as_ref().clone(), source.today);
        let (asked, begun) = (request.clone(), Instant::now());
        let (running, job) = job(move |watch| {
            let bench = Bench {
                catalogue: &catalogue,
                build: &build,
                before: &before,
                today,
            };
            let found = find::find(&bench, &asked, &mut |progress: &Progress| {
                watch.tell(|| Far::of(progress, begun.elapsed()))
            });
            found.map_err(|error| error.to_string())
        });
        self.far = None;
        self.outcome = None;
        self.lost = None;
        self.search = Some(Search {
            build: source.build.clone(),
            request,
            asked: self.targets.len(),
            keeps_cuts: self.keeps_cuts,
            begun,
            running,
        });
        job
    }

    /// How much work the last search was given, where it looked for the same and gave up.
    fn gave_up(&self, request: &Request) -> Option<u64> {
        let outcome = self.outcome.as_ref()?;
        let known = &outcome.request;
        let ids = |of: &Request| of.free.iter().map(|choice| choice.id).collect::<Vec<_>>();
        let is_same = known.targets == request.targets
            && known.against == request.against
            && ids(known) == ids(request);
        let gave_up = outcome.found.as_ref().is_ok_and(|found| found.gave_up);
        known.effort.filter(|_| is_same && gave_up)
    }

    /// Asks the search to stop.
    pub fn stop(&self) {
        if let Some(search) = &self.search {
            search.running.stop();
        }
    }

    /// Waits for the search no longer.
    pub fn abandon(&mut self) {
        self.search = None;
        self.far = None;
    }

    /// Forgets what was found and what is looked for: parts or prices are others now.
    pub fn forget(&mut self) {
        self.stop();
        self.abandon();
        self.outcome = None;
        self.lost = None;
    }

    /// Takes up what the search has to say; a break says that it has ended.
    pub fn listen(&mut self) -> ControlFlow<()> {
        let Some(search) = &self.search else {
            return ControlFlow::Continue(());
        };
        if let Some(far) = search.running.progress() {
            self.far = Some(far.after(self.far.as_ref()));
        }
        let Some(found) = search.running.result() else {
            return ControlFlow::Continue(());
        };
        self.lost = None;
        if let Some(search) = self.search.take() {
            self.outcome = Some(Outcome {
                build: search.build,
                request: search.request,
                asked: search.asked,
                keeps_cuts: search.keeps_cuts,
                took: search.begun.elapsed(),
                found,
            });
        }
        self.far = None;
        ControlFlow::Break(())
    }

    /// Finds what each build that was found does less well than the build at hand, where that is
    /// not known: the build may be another one than when it was looked for.
    pub fn follow(&mut self, source: Source) {
        let lost = self.lost.as_ref();
        if lost.is_some_and(|(of, _)| Rc::ptr_eq(of, source.now)) {
            return;
        }
        let bench = source.bench();
        let listed = self.outcome.as_ref().map(Outcome::listed);
        let each = listed.into_iter().flatten().map(|one| {
            let edits = difference(bench.build, &one.build);
            losses(&bench, &edits, &one.assessment)
        });
        self.lost = Some((Rc::clone(source.now), each.collect()));
    }

    /// What the build found at a place does less well.
    pub fn lost(&self, place: usize) -> &[Labelled] {
        let lost = self.lost.as_ref().and_then(|(_, each)| each.get(place));
        lost.map_or(&[], Vec::as_slice)
    }

    /// What was found last.
    pub fn outcome(&self) -> Option<&Outcome> {
        self.outcome.as_ref()
    }
}

impl Far {
    fn of(progress: &Progress, took: Duration) -> Self {
        Self {
            combinations: progress.combinations,
            covered: progress.covered,
            assessed: progress.assessed,
            took,
            best: progress
                .best
                .map(|best| (best.reading.clone(), best.edits.clone())),
            bettered: took,
        }
    }

    /// The same, which comes after something that was known already.
    fn after(self, known: Option<&Self>) -> Self {
        let changes = |far: &Self| far.best.as_ref().map(|(_, edits)| edits.clone());
        let same = known.filter(|known| changes(known) == changes(&self));
        let bettered = same.map_or(self.took, |known| known.bettered);
        Self { bettered, ..self }
    }
}

impl Outcome {
    /// The builds that the page lists: what was found; where nothing fits, what would, with a
    /// target less strict.
    pub fn listed(&self) -> Vec<&FoundBuild> {
        let Ok(found) = &self.found else {
            return Vec::new();
        };
        let answers = found.answers.iter();
        match found.answers.is_empty() {
            true => found.relaxed.iter().map(|one| &one.answer).collect(),
            false => answers.collect(),
        }
    }

    /// Whether the build is still the one that was looked at: then what was found holds.
    pub fn is_of(&self, build: &Build) -> bool {
        self.build.purchases == build.purchases && difference(&self.build, build).is_empty()
    }
}

/// Each material that is cut at all now, as a target: at least as well as now.
pub fn as_well_as_now(catalogue: &Catalogue, now: &Assessment) -> Vec<Target> {
    let materials = catalogue.materials.values();
    let cut = materials.filter_map(|material| {
        let verdict = now.machine.cutting.verdict(&material.id);
        let wanted = Target::Cuts(material.id, verdict);
        (verdict > Verdict::No).then_some(wanted)
    });
    cut.collect()
}

/// Every choice that the page lets change: the usual ones, and what the frame is made of. What
/// protects people, wiring and settings are no way to save.
pub fn freeable(catalogue: &Catalogue) -> Vec<&'static Choice> {
    let usual = find::usual(catalogue);
    let is_usual = |choice: &Choice| usual.iter().any(|one| one.id == choice.id);
    let frame = find::frame(catalogue);
    let is_frame = |choice: &Choice| frame.iter().any(|one| one.id == choice.id);
    let all = choices::all().iter();
    all.filter(|choice| is_usual(choice) || is_frame(choice))
        .collect()
}
