//! What the pages of "what if" show: the answer, the weighing or the sweep that is open. Each
//! takes hundreds of assessments, so it is worked out when its page opens, and kept until the
//! build changes.

use std::rc::Rc;

use super::papers::Source;
use super::savings::DROP;
use super::state::{Layer, PaneRow};
use crate::assessment::Assessment;
use crate::build::{Axis, Choice, Value, choices};
use crate::catalogue::Step;
use crate::explore::question::{self, Answer, Question};
use crate::explore::reading::Measure;
use crate::explore::sweep::{self, Sweep};
use crate::explore::trial::Bench;
use crate::explore::weigh::{self, Weighed, Weighing};
use crate::words::Words as _;

/// One row of the page's list.
#[derive(Clone, Copy, Debug)]
pub enum Ask {
    /// One of the questions.
    Question(&'static Question),
    /// What matters most: every free choice weighed.
    Weigh,
    /// The cheapest build that does what is wanted.
    Seek,
    /// One choice over its range.
    Sweep(&'static Choice),
}

/// The choices that are offered over their range without going through what matters most: wishes
/// that move a figure, which are no free choices, and the voltage of the motors.
const RANGES: &[&str] = &[
    "travel_x_mm",
    "travel_y_mm",
    "travel_z_mm",
    "acceleration_m_per_s2",
    "supply",
];

/// The rows of the list: the same order from every step.
pub fn asks() -> Vec<Ask> {
    let questions = question::all().map(Ask::Question);
    let ranges = RANGES.iter().filter_map(|id| choices::find(id).ok());
    questions
        .chain([Ask::Weigh, Ask::Seek])
        .chain(ranges.map(Ask::Sweep))
        .collect()
}

/// The first row of the list that is about a step; the first of all where none is.
pub fn first_of(step: Step) -> usize {
    let is_of = |ask: &Ask| matches!(ask, Ask::Question(question) if question.step == step);
    asks().iter().position(is_of).unwrap_or_default()
}

/// The values of a range of a choice.
fn over(choice: &Choice, range: &str, bench: &Bench) -> Result<Vec<Value>, String> {
    let (_, values) = sweep::parse(&format!("{}={range}", choice.id), bench)?;
    Ok(values)
}

/// How the rows of the weighing stand.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Order {
    /// The choice that reaches farthest first.
    Reach,
    /// What costs nothing first, then what money buys most of.
    Worth,
}

/// What was worked out last, and for which assessment.
#[derive(Debug, Default)]
pub struct WhatIf {
    answer: Option<(Rc<Assessment>, &'static str, Answer)>,
    weighing: Option<(Rc<Assessment>, Weighing)>,
    sweep: Option<(Rc<Assessment>, &'static str, Result<Sweep, String>)>,
    /// What the machine was when the pages of savings were opened, while one of them is open.
    when_opened: Option<Rc<Assessment>>,
    /// The range that somebody typed, and of which choice.
    range: Option<(&'static str, String)>,
    /// Whether somebody draws the page before an answer that takes long, and asks again.
    pub draws_first: bool,
    /// Whether such an answer waits for that.
    waiting: bool,
}

/// Whether what a layer shows is worked out here.
fn is_worked_out(layer: &Layer) -> bool {
    matches!(
        layer,
        Layer::Answer(..)
            | Layer::Figure(PaneRow::Axis(_), _)
            | Layer::Weigh { .. }
            | Layer::Sweep { .. }
    )
}

/// Whether that takes longer than a blink: every free choice is tried, or one after the other is
/// dropped. Of the shipped examples that takes half a second, other answers a hundredth of one.
fn takes_long(layer: &Layer) -> bool {
    let is_faster = |one: &Question| {
        Axis::ALL
            .iter()
            .any(|axis| question::faster(*axis).id == one.id)
    };
    match layer {
        Layer::Answer(question, _) => question.id == DROP || is_faster(question),
        Layer::Figure(PaneRow::Axis(_), _) | Layer::Weigh { .. } => true,
        _ => false,
    }
}

impl WhatIf {
    /// Works out what the topmost of these layers shows, where it is not known. One answer and one
    /// sweep are kept: those of a page below are worked out again once it is seen again.
    pub fn follow(&mut self, source: Source, layers: &[Layer]) {
        let saves = |layer: &Layer| match layer {
            Layer::Answer(question, _) => question.id == DROP,
            layer => matches!(layer, Layer::Savings(_)),
        };
        match layers.iter().any(saves) {
            true => {
                self.when_opened
                    .get_or_insert_with(|| Rc::clone(source.now));
            }
            // Whoever comes back has the fifth counted anew.
            false if self.when_opened.take().is_some() => self.answer = None,
            false => {}
        }
        let shown = layers.iter().rev().find(|layer| is_worked_out(layer));
        let unknown = shown.filter(|layer| !self.is_known(source, layer));
        let waits = self.draws_first && !self.waiting && unknown.is_some_and(takes_long);
        self.waiting = waits;
        if let Some(layer) = unknown.filter(|_| !waits) {
            self.work_out(source, layer);
        }
    }

    /// Whether what a layer shows was worked out for the build as it stands.
    fn is_known(&self, source: Source, layer: &Layer) -> bool {
        let now = source.now;
        match *layer {
            Layer::Answer(question, _) => self.answer(question, now).is_some(),
            Layer::Figure(PaneRow::Axis(axis), _) => {
                self.answer(question::faster(axis), now).is_some()
            }
            Layer::Weigh { .. } => self.weighing(now).is_some(),
            Layer::Sweep { choice, .. } => self.sweep(choice, now).is_some(),
            _ => true,
        }
    }

    fn work_out(&mut self, source: Source, layer: &Layer) {
        let bench = source.bench();
        let now = || Rc::clone(source.now);
        match *layer {
            Layer::Answer(question, _) => {
                let answer = match question.id {
                    DROP => {
                        let since = self.when_opened.as_ref().unwrap_or(source.now);
                        question::a_fifth_less(&bench, since)
                    }
                    _ => question.answer(&bench),
                };
                self.answer = Some((now(), question.id, answer));
            }
            Layer::Figure(PaneRow::Axis(axis), _) => {
                let question = question::faster(axis);
                self.answer = Some((now(), question.id, question.answer(&bench)));
            }
            Layer::Weigh { .. } => {
                let free: Vec<&'static Choice> = weigh::free().collect();
                self.weighing = Some((now(), weigh::weigh(&bench, &free)));
            }
            Layer::Sweep { choice, .. } => {
                let values = match self.range(choice) {
                    Some(range) => over(choice, range, &bench),
                    None => sweep::usual(choice, &bench),
                };
                let swept = values.map(|values| sweep::sweep(&bench, choice, values));
                self.sweep = Some((now(), choice.id, swept));
            }
            _ => {}
        }
    }

    /// The machine of when the pages of savings were opened, while one of them is open.
    pub fn when_opened(&self) -> Option<&Assessment> {
        self.when_opened.as_deref()
    }

    /// Whether an answer is worked out as soon as the page was drawn.
    pub fn is_waiting(&self) -> bool {
        self.waiting
    }

    /// The range that somebody typed for a choice.
    pub fn range(&self, choice: &Choice) -> Option<&str> {
        let (id, range) = self.range.as_ref()?;
        (*id == choice.id).then_some(range)
    }

    /// Goes over another range of a choice from now on; over what is usual where none is named.
    ///
    /// # Errors
    /// Says what is wrong with the text.
    pub fn go_over(
        &mut self,
        source: Source,
        choice: &'static Choice,
        range: &str,
    ) -> Result<(), String> {
        let range = range.trim();
        if !range.is_empty() {
            over(choice, range, &source.bench())?;
        }
        self.range = (!range.is_empty()).then(|| (choice.id, range.to_owned()));
        self.sweep = None;
        Ok(())
    }

    /// The answer to a question, where it is known for this assessment.
    pub fn answer(&self, question: &Question, now: &Rc<Assessment>) -> Option<&Answer> {
        let (of, id, answer) = self.answer.as_ref()?;
        (*id == question.id && Rc::ptr_eq(of, now)).then_some(answer)
    }

    /// The weighing, where it is known for this assessment.
    pub fn weighing(&self, now: &Rc<Assessment>) -> Option<&Weighing> {
        let (of, weighing) = self.weighing.as_ref()?;
        Rc::ptr_eq(of, now).then_some(weighing)
    }

    /// The sweep of a choice, where it is known for this assessment; or why there is none.
    pub fn sweep(&self, choice: &Choice, now: &Rc<Assessment>) -> Option<Result<&Sweep, &str>> {
        let (of, id, swept) = self.sweep.as_ref()?;
        let known = *id == choice.id && Rc::ptr_eq(of, now);
        known.then(|| swept.as_ref().map_err(String::as_str))
    }

    /// The rows of the weighing in an order.
    pub fn rows(&self, now: &Rc<Assessment>, measure: Measure, order: Order) -> Vec<&Weighed> {
        let Some(weighing) = self.weighing(now) else {
            return Vec::new();
        };
        match order {
            // Of savings not the greatest is the best, but the one that costs the machine least.
            Order::Worth if measure == Measure::Cost => weighing.by_thrift(),
            Order::Worth => weighing.ranked(measure),
            Order::Reach => {
                let rows = weighing.by_span(measure).into_iter();
                rows.map(|(row, _)| row).collect()
            }
        }
    }
}
