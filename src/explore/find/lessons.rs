//! What a search learns from builds that are out: as long as the choices that alone decide the
//! reason keep their values, no build need be looked at again.

use std::collections::HashMap;

use super::way::bits;
use super::{Because, Space};
use crate::build::{Axis, Build, Choice, Value};
use crate::catalogue::{FastHash, Id, Step};
use crate::explore::reading::Measure;
use crate::rules::{RuleId, find as rule, motion, own};

/// Why a build is out, the choices that alone decide that, by their turn, and how it stands
/// there where a figure is too poor.
pub(super) struct Lesson {
    pub(super) because: Because,
    pub(super) scope: Vec<usize>,
    pub(super) value: Option<f64>,
    /// The axis that is too weak for its load, where that is the reason.
    pub(super) weak: Option<Axis>,
}

impl Lesson {
    /// One without a figure.
    pub(super) fn plain(because: Because, scope: Vec<usize>) -> Self {
        Self {
            because,
            scope,
            value: None,
            weak: None,
        }
    }

    /// One of an axis that is too slow without cutting, and how fast it is.
    pub(super) fn of_rapids(space: &Space, because: Because, axis: Axis, value: f64) -> Self {
        Self {
            because,
            scope: of_rapids(space, axis),
            value: Some(value),
            weak: Some(axis),
        }
    }
}

/// Lessons of one reason and scope: combination of options, and the figure there.
struct Shelf {
    because: Because,
    scope: Vec<usize>,
    bits: u128,
    seen: HashMap<u128, Option<f64>, FastHash>,
}

/// All lessons, by the turn of the last choice that decides them: no sooner is one known to
/// hold.
pub(super) struct Lessons {
    sizes: Vec<usize>,
    at: Vec<Vec<Shelf>>,
}

impl Lessons {
    pub(super) fn new(space: &Space) -> Self {
        Self {
            sizes: space.sizes(),
            at: space.free.iter().map(|_| Vec::new()).collect(),
        }
    }

    /// Keeps a lesson of a build; one that nothing free decides is nobody's, and one of more
    /// combinations than can be numbered is not kept.
    pub(super) fn learn(&mut self, lesson: &Lesson, options: &[usize]) {
        let Some(&last) = lesson.scope.last() else {
            return;
        };
        if !is_numbered(&self.sizes, &lesson.scope) {
            return;
        }
        let key = key(&self.sizes, &lesson.scope, options);
        let shelves = &mut self.at[last];
        let known = shelves
            .iter_mut()
            .find(|one| one.because == lesson.because && one.scope == lesson.scope);
        match known {
            Some(shelf) => {
                shelf.seen.insert(key, lesson.value);
            }
            None => {
                // Small scopes come first: they blame the fewest choices.
                let wider = |one: &Shelf| one.scope.len() <= lesson.scope.len();
                let place = shelves.partition_point(wider);
                let shelf = Shelf {
                    because: lesson.because.clone(),
                    scope: lesson.scope.clone(),
                    bits: bits(lesson.scope.iter().copied()),
                    seen: std::iter::once((key, lesson.value)).collect(),
                };
                shelves.insert(place, shelf);
            }
        }
    }

    /// Why every build with these options up to a turn is out, where a lesson says so, and the
    /// choices that decide it, a bit for each; all of them are among those that are `made`.
    /// `holds` tells whether a figure is good enough by now.
    pub(super) fn exclude(
        &self,
        turn: usize,
        options: &[usize],
        made: u128,
        holds: impl Fn(&Because, f64) -> bool,
    ) -> Option<(&Because, u128)> {
        let out = |shelf: &&Shelf| {
            if shelf.bits & !made != 0 {
                return false;
            }
            let key = key(&self.sizes, &shelf.scope, options);
            let known = shelf.seen.get(&key);
            known.is_some_and(|value| value.is_none_or(|value| !holds(&shelf.because, value)))
        };
        let found = self.at[turn].iter().find(out)?;
        Some((&found.because, found.bits))
    }
}

/// Whether each combination of a scope has a number of its own: with very many choices there are
/// more of them than numbers.
pub(super) fn is_numbered(sizes: &[usize], scope: &[usize]) -> bool {
    let mut each = scope.iter().map(|&turn| sizes[turn] as u128);
    let all = each.try_fold(1, |all: u128, many| all.checked_mul(many));
    all.is_some()
}

/// The place of a combination among those of a scope that [`is_numbered`].
pub(super) fn key(sizes: &[usize], scope: &[usize], options: &[usize]) -> u128 {
    let each = scope.iter();
    each.fold(0, |key, &turn| {
        key * sizes[turn] as u128 + options[turn] as u128
    })
}

/// The turns of the free choices among some.
pub(super) fn turns(space: &Space, deciding: impl Fn(&Choice) -> bool) -> Vec<usize> {
    let each = space.free.iter().enumerate();
    let deciding = each.filter(|(_, one)| deciding(one.choice));
    deciding.map(|(turn, _)| turn).collect()
}

/// The choices that may name a part; all, where none does.
pub(super) fn naming(space: &Space, part: &Id) -> Vec<usize> {
    let named = Value::Part(Some(*part));
    let each = space.free.iter().enumerate();
    let naming = each.filter(|(_, one)| one.options.contains(&named));
    let found: Vec<usize> = naming.map(|(turn, _)| turn).collect();
    match found.is_empty() {
        true => turns(space, |_| true),
        false => found,
    }
}

/// What alone decides the finding of a rule; none where the rule does not say.
pub(super) fn of_rule(
    space: &Space,
    id: &RuleId,
    axis: Option<Axis>,
    build: &Build,
) -> Option<Vec<usize>> {
    let deciding = match id {
        RuleId::BuiltIn(rule) => rule.deciders_in(axis, build)?,
        RuleId::Own(rule) => own::deciders(rule)?,
    };
    Some(turns(space, |choice| {
        is_elsewhere(choice) || deciding.iter().any(|one| one.id == choice.id)
    }))
}

/// What alone decides how fast an axis is without cutting.
fn of_rapids(space: &Space, axis: Axis) -> Vec<usize> {
    let deciding = motion(axis);
    turns(space, |choice| {
        is_elsewhere(choice) || deciding.iter().any(|id| id == choice.id)
    })
}

/// What alone decides a figure. Cost and all that has no list of its own hang on everything.
pub(super) fn of_measure(space: &Space, measure: Measure) -> Vec<usize> {
    let draws = rule("circuit-overloaded").and_then(|rule| rule.deciders(None));
    turns(space, |choice| {
        is_elsewhere(choice)
            || match measure {
                Measure::Cost | Measure::Rapids => true,
                Measure::Stiffness => decides_stiffness(choice),
                Measure::Removal => decides_cuts(choice),
                Measure::Current => draws
                    .as_ref()
                    .is_none_or(|draws| draws.iter().any(|one| one.id == choice.id)),
            }
    })
}

/// What alone decides how well materials are cut.
pub(super) fn of_cuts(space: &Space) -> Vec<usize> {
    turns(space, |choice| is_elsewhere(choice) || decides_cuts(choice))
}

/// What alone decides how much room the machine takes.
pub(super) fn of_footprint(space: &Space) -> Vec<usize> {
    turns(space, |choice| {
        choice.step != Step::Control && choice.id != "supply" && choice.id != "vfd"
    })
}

/// Lists of what decides speak of drive, spindle and control; whatever else is free may decide
/// anything.
pub(super) fn is_elsewhere(choice: &Choice) -> bool {
    !matches!(choice.step, Step::Drive | Step::Spindle | Step::Control)
}

fn decides_stiffness(choice: &Choice) -> bool {
    match choice.step {
        Step::Drive => !matches!(choice.id, "supply" | "supply_count" | "braking_clamp"),
        _ => matches!(choice.id, "spindle" | "spindle_clamp" | "tool"),
    }
}

fn decides_cuts(choice: &Choice) -> bool {
    matches!(choice.step, Step::Drive | Step::Spindle) || choice.id == "controller"
}
