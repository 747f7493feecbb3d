//! The pages of the interview: the answers so far, the searches for the three builds, what they
//! came to.

use std::ops::ControlFlow;

use jiff::civil::Date;

use super::job::{Job, Running, Watch, job};
use crate::build::{Choice, Kind, choices};
use crate::catalogue::Catalogue;
use crate::explore::find::Progress;
use crate::explore::interview::{
    self, Answers, Lesser, Listed, Offer, Outlook, Prompt, Proposal, Takes,
};

mod count;
mod opened;

use count::Count;
pub use count::Far;

/// A list from which an answer is picked.
#[derive(Clone, Debug)]
pub struct Picking {
    /// The question.
    pub prompt: &'static Prompt,
    /// What may be picked.
    pub listed: Vec<Listed>,
    /// The cursor.
    pub cursor: usize,
}

/// What the pages know.
#[derive(Debug, Default)]
pub struct Interview {
    /// The answers so far.
    pub answers: Answers,
    /// The choices that the searches may change; none for the usual ones.
    pub free: Vec<&'static Choice>,
    /// Where the cursor was when the page was left.
    pub left_at: Option<usize>,
    /// The question whose list was left last, and where the cursor was in it.
    pub picked_at: Option<(&'static str, usize)>,
    /// How far the searches have come that are running.
    pub far: Option<Far>,
    running: Option<Running<Far, Result<Proposal, String>>>,
    outcome: Option<(Answers, Result<Proposal, String>)>,
    looking: Option<(Answers, Running<Outlook, Seen>)>,
    seen: Option<(Answers, Seen)>,
}

/// What a look at the money comes to; nothing where it was stopped.
type Seen = Result<Option<Looked>, String>;

/// What the answers come to in money.
#[derive(Debug)]
struct Looked {
    outlook: Outlook,
    /// What the money buys, where it does not do; none while that is being looked for.
    lesser: Option<Vec<Lesser>>,
}

/// How a question is answered on the screen.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Manner {
    /// By yes or no, in its row.
    Turn,
    /// From a list, one of it.
    One,
    /// From a list, any number of it.
    Several,
    /// By typing.
    Typed,
}

/// How a question is answered.
pub fn manner(prompt: &Prompt) -> Manner {
    match prompt.takes {
        Takes::Quiet => Manner::Turn,
        Takes::Tools => Manner::Several,
        Takes::Choices(&[id]) => match choices::find(id).map(|choice| choice.kind) {
            Ok(Kind::Flag) => Manner::Turn,
            Ok(Kind::Parts(_)) => Manner::Several,
            Ok(Kind::Number(_) | Kind::Amount) => Manner::Typed,
            _ => Manner::One,
        },
        Takes::Choices(_) => Manner::Typed,
    }
}

impl Picking {
    /// Whether something is part of the answer.
    pub fn is_ticked(&self, answers: &Answers, one: &Listed) -> bool {
        let typed = answers.typed(self.prompt);
        typed.split(',').any(|id| id == one.id)
    }

    /// The answer with what is under the cursor ticked, or its tick taken away, as it is typed.
    pub fn turned(&self, answers: &Answers) -> String {
        let here = self.listed.get(self.cursor);
        let ticked = self.listed.iter().filter(|one| {
            let is_here = here.is_some_and(|here| here.id == one.id);
            self.is_ticked(answers, one) != is_here
        });
        typed(ticked)
    }

    /// The answer with all of the list ticked; where all is, with none, as it is typed.
    pub fn all_turned(&self, answers: &Answers) -> String {
        let all = self.listed.iter();
        let is_full = all.clone().all(|one| self.is_ticked(answers, one));
        typed(all.filter(|_| !is_full))
    }
}

/// What is ticked, as it is typed.
fn typed<'l>(ticked: impl Iterator<Item = &'l Listed>) -> String {
    let ids: Vec<&str> = ticked.map(|one| one.id.as_str()).collect();
    match ids.is_empty() {
        true => "none".to_owned(),
        false => ids.join(","),
    }
}

impl Interview {
    /// The rows of the page: the questions, then the one that begins the search.
    pub fn rows(&self) -> usize {
        interview::all().len() + 1
    }

    /// Goes on from not said to yes, to no, and back.
    pub fn turn(&mut self, prompt: &'static Prompt, catalogue: &Catalogue) {
        let said = self.answers.given(prompt.id).is_some();
        let next = match (said, self.answers.typed(prompt).as_str()) {
            (false, _) => "yes",
            (true, "yes") => "no",
            (true, _) => "",
        };
        // Each of these is a word that such a question takes.
        let _ = self.answers.give(prompt, next, catalogue, &[]);
    }

    /// Whether the searches are running.
    pub fn is_running(&self) -> bool {
        self.running.is_some()
    }

    /// Whether they were asked to stop.
    pub fn is_stopping(&self) -> bool {
        self.running.as_ref().is_some_and(Running::is_stopping)
    }

    /// Puts the searches together, and keeps an eye on them from now on.
    pub fn start(&mut self, catalogue: &Catalogue, today: Date) -> Job {
        let (catalogue, answers) = (catalogue.clone(), self.answers.clone());
        let free = self.free.clone();
        let (running, job) = job(move |watch| {
            let plan = interview::plan(&catalogue, &answers, &free, today);
            let proposal = plan.and_then(|plan| {
                let mut count = Count::new();
                let mut tell = |level, progress: &Progress| {
                    let far = count.heard(level, progress);
                    watch.tell(|| far)
                };
                interview::propose(&catalogue, plan, today, &mut tell)
            });
            proposal.map_err(|error| error.to_string())
        });
        self.far = None;
        self.outcome = None;
        self.looking = None;
        self.running = Some(running);
        job
    }

    /// Begins a look at what the answers cost, where there is something to look at that was not
    /// looked at yet; one for other answers is stopped.
    pub fn look(&mut self, catalogue: &Catalogue, today: Date) -> Option<Job> {
        // One that a search cut short is taken up again.
        let is_whole = |seen: &Seen| match seen {
            Ok(Some(looked)) => looked.lesser.is_some(),
            Ok(None) => false,
            Err(_) => true,
        };
        let known = self.seen.as_ref();
        let known = known.is_some_and(|(of, seen)| *of == self.answers && is_whole(seen));
        let known = known && self.looking.is_none();
        if known || self.answers == Answers::default() || self.is_running() {
            self.looking = None;
            return None;
        }
        let under_way = self.looking.as_ref();
        if under_way.is_some_and(|(answers, _)| *answers == self.answers) {
            return None;
        }
        let (catalogue, answers) = (catalogue.clone(), self.answers.clone());
        let free = self.free.clone();
        let (running, job) = job(move |watch: &Watch<Outlook>| {
            looked(&catalogue, &answers, &free, today, watch).map_err(|error| error.to_string())
        });
        self.looking = Some((self.answers.clone(), running));
        Some(job)
    }

    /// Whether a look at the money is under way.
    pub fn is_looking(&self) -> bool {
        self.looking.is_some()
    }

    /// What the answers so far come to in money, as far as that was looked at.
    pub fn outlook(&self) -> Option<Result<&Outlook, &str>> {
        let (answers, seen) = self.seen.as_ref()?;
        if *answers != self.answers {
            return None;
        }
        match seen {
            Ok(seen) => seen.as_ref().map(|seen| Ok(&seen.outlook)),
            Err(error) => Some(Err(error.as_str())),
        }
    }

    /// What the money buys where it does not do; nothing where that is not known, or it does.
    pub fn lesser(&self) -> &[Lesser] {
        match &self.seen {
            Some((answers, Ok(Some(seen)))) if *answers == self.answers => {
                seen.lesser.as_deref().unwrap_or_default()
            }
            _ => &[],
        }
    }

    /// Takes up what a look came to.
    pub fn listen_to_look(&mut self) {
        let Some((answers, running)) = &self.looking else {
            return;
        };
        // What all comes to is told before what the money buys.
        if let Some(outlook) = running.progress() {
            let lesser = None;
            self.seen = Some((answers.clone(), Ok(Some(Looked { outlook, lesser }))));
        }
        if let Some(seen) = running.result()
            && let Some((answers, _)) = self.looking.take()
        {
            self.seen = Some((answers, seen));
        }
    }

    /// Asks the searches to stop.
    pub fn stop(&self) {
        if let Some(running) = &self.running {
            running.stop();
        }
    }

    /// Waits for them no longer, nor for a look at the money.
    pub fn abandon(&mut self) {
        self.running = None;
        self.far = None;
        self.looking = None;
    }

    /// Forgets what was found and what is looked for: parts or prices are others now.
    pub fn forget(&mut self) {
        self.stop();
        self.abandon();
        (self.outcome, self.seen) = (None, None);
    }

    /// Takes up what the searches have to say; a break says that they have ended.
    pub fn listen(&mut self) -> ControlFlow<()> {
        let Some(running) = &self.running else {
            return ControlFlow::Continue(());
        };
        self.far = running.progress().or(self.far.take());
        let Some(found) = running.result() else {
            return ControlFlow::Continue(());
        };
        self.settle(found);
        ControlFlow::Break(())
    }

    /// Keeps what the searches came to.
    pub fn settle(&mut self, found: Result<Proposal, String>) {
        self.abandon();
        self.outcome = Some((self.answers.clone(), found));
    }

    /// What was found last, while the answers are still those that it was found for.
    pub fn outcome(&self) -> Option<Result<&Proposal, &str>> {
        let (answers, found) = self.outcome.as_ref()?;
        let found = found.as_ref().map_err(String::as_str);
        (*answers == self.answers).then_some(found)
    }

    /// Whether the searches for that were stopped before they had found anything.
    pub fn was_stopped(&self) -> bool {
        let Some(Ok(Proposal { offers, .. })) = self.outcome() else {
            return false;
        };
        let stopped = |offer: &Offer| offer.searched.found.was_stopped();
        // Stopped in its first moments a search leaves no offer at all.
        let is_early = offers.is_empty() || offers.iter().any(stopped);
        is_early && offers.iter().all(|offer| offer.searched.answer().is_none())
    }

    /// The offers of that.
    pub fn offers(&self) -> &[Offer] {
        match self.outcome() {
            Some(Ok(proposal)) => &proposal.offers,
            _ => &[],
        }
    }

    /// The builds that the money buys, where what was found costs more.
    pub fn for_the_money(&self) -> &[Lesser] {
        match self.outcome() {
            Some(Ok(proposal)) => &proposal.lesser,
            _ => &[],
        }
    }

    /// Whether a question was answered, and not left as usual.
    pub fn is_said(&self, prompt: &Prompt) -> bool {
        self.answers.given(prompt.id).is_some()
    }
}

/// Looks what answers come to in money, and where that is too much, what the money buys.
fn looked(
    catalogue: &Catalogue,
    answers: &Answers,
    free: &[&'static Choice],
    today: Date,
    watch: &Watch<Outlook>,
) -> Result<Option<Looked>, interview::InterviewError> {
    let mut go_on = || watch.go_on();
    let outlook = interview::outlook(catalogue, answers, free, today, &|_| true, &mut go_on)?;
    let Some(outlook) = outlook else {
        return Ok(None);
    };
    if !outlook.falls_short() {
        let lesser = Some(Vec::new());
        return Ok(Some(Looked { outlook, lesser }));
    }
    let mut go_on = || watch.tell(|| outlook.clone());
    let known = outlook.build.as_ref();
    let lesser = interview::lesser(catalogue, answers, free, today, known, &mut go_on)?;
    Ok(lesser.map(|lesser| Looked {
        outlook,
        lesser: Some(lesser),
    }))
}
