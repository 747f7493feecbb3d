//! The pages of "what if": which question is open, what is taken from its answer.

use super::browse::stepped;
use super::{put, say_done, take, takes_back};
use crate::build::{Choice, Edit, Kind, Value};
use crate::explore::reading::Measure;
use crate::explore::told as telling;
use crate::screen::action::Action;
use crate::screen::keymap::Place;
use crate::screen::options;
use crate::screen::papers::Source;
use crate::screen::state::{Layer, Notice, State};
use crate::screen::what_if::{Ask, Order, asks};
use crate::units::{Shown, entry};
use crate::words::Words as _;

/// Works out what the pages show, while one is open.
pub(super) fn follow(state: &mut State) {
    let source = Source {
        catalogue: &state.catalogue,
        build: state.history.now(),
        now: &state.now,
        today: state.today,
    };
    state.what_if.follow(source, &state.layers);
    let rows: Vec<usize> = (0..state.layers.len())
        .map(|place| rows_of(state, place))
        .collect();
    // Of a page below the one that is seen nothing may be known: its cursor waits where it is.
    let known = state
        .layers
        .iter_mut()
        .zip(rows)
        .filter(|(_, rows)| *rows > 0);
    for (layer, rows) in known {
        if let Layer::Answer(_, cursor)
        | Layer::Weigh { cursor, .. }
        | Layer::Sweep { cursor, .. } = layer
        {
            *cursor = (*cursor).min(rows - 1);
        }
    }
}

/// Works out what the page only says so far that it is being worked out: a key that comes before
/// it is meant for what will stand there, unless it leaves.
pub(super) fn hurry(state: &mut State, action: Option<Action>) {
    if state.what_if.is_waiting() && !matches!(action, Some(Action::Back | Action::Quit)) {
        follow(state);
    }
}

/// How many rows the cursor of a layer can stand on; 0 where that is not known either.
fn rows_of(state: &State, place: usize) -> usize {
    match state.layers.get(place) {
        Some(Layer::WhatIf(_)) => asks().len(),
        Some(Layer::Answer(question, _)) => {
            let answer = state.what_if.answer(question, &state.now);
            answer.map_or(0, |answer| answer.alternatives.len())
        }
        Some(Layer::Weigh { measure, order, .. }) => {
            state.what_if.rows(&state.now, *measure, *order).len()
        }
        Some(Layer::Sweep { choice, .. }) => match state.what_if.sweep(choice, &state.now) {
            Some(Ok(sweep)) => sweep.points.len(),
            _ => 0,
        },
        _ => 0,
    }
}

/// Carries an action out on these pages.
pub(super) fn act(state: &mut State, place: Place, action: Action) {
    match (place, action) {
        (_, Action::Back) => {
            state.layers.pop();
        }
        (Place::WhatIf, Action::Enter) => open(state),
        (Place::Answer, Action::Enter) => take_alternative(state),
        (Place::Answer, Action::Alone) => take_alone(state),
        (Place::Weigh, Action::Enter) => open_sweep(state),
        (Place::Sweep, Action::Enter) => take_point(state),
        (Place::Sweep, Action::Range) => ask_range(state),
        (Place::Range, Action::Enter) => take_range(state),
        (_, Action::Measure) => {
            if let Some(Layer::Weigh { measure, .. } | Layer::Sweep { measure, .. }) =
                state.layers.last_mut()
            {
                *measure = next(*measure);
            }
        }
        (_, Action::Sort) => {
            if let Some(Layer::Weigh { order, cursor, .. }) = state.layers.last_mut() {
                *cursor = 0;
                *order = match order {
                    Order::Reach => Order::Worth,
                    Order::Worth => Order::Reach,
                };
            }
        }
        (_, Action::Table) => {
            if let Some(Layer::Sweep { table, .. }) = state.layers.last_mut() {
                *table = !*table;
            }
        }
        _ => walk(state, action),
    }
}

fn next(measure: Measure) -> Measure {
    let all = Measure::ALL;
    all[(measure.index() + 1) % all.len()]
}

fn walk(state: &mut State, action: Action) {
    let page = state.page_rows();
    let rows = rows_of(state, state.layers.len().saturating_sub(1));
    if let Some(
        Layer::WhatIf(cursor)
        | Layer::Answer(_, cursor)
        | Layer::Weigh { cursor, .. }
        | Layer::Sweep { cursor, .. },
    ) = state.layers.last_mut()
    {
        *cursor = stepped(*cursor, rows, action, page / 2);
    }
}

/// Opens what is under the cursor of the list.
fn open(state: &mut State) {
    let Some(Layer::WhatIf(cursor)) = state.layers.last() else {
        return;
    };
    let layer = match asks().get(*cursor) {
        Some(Ask::Question(question)) => Layer::Answer(question, 0),
        Some(Ask::Weigh) => Layer::Weigh {
            measure: Measure::Stiffness,
            order: Order::Reach,
            cursor: 0,
        },
        Some(Ask::Seek) => return super::seek::open(state),
        Some(Ask::Sweep(choice)) => return go_through(state, choice, None),
        None => return,
    };
    state.layers.push(layer);
}

/// Goes to the choice that the row under the cursor is about.
pub(super) fn go_to(state: &mut State) {
    let choice = match state.layers.last() {
        Some(Layer::Answer(question, cursor)) => {
            let answer = state.what_if.answer(question, &state.now);
            let one = answer.and_then(|answer| answer.alternatives.get(*cursor));
            one.and_then(|one| one.trial.edits.first())
                .map(|edit| edit.choice)
        }
        Some(Layer::Weigh {
            measure,
            order,
            cursor,
        }) => {
            let rows = state.what_if.rows(&state.now, *measure, *order);
            rows.get(*cursor).map(|row| row.choice)
        }
        Some(Layer::Sweep { choice, .. }) => Some(*choice),
        _ => None,
    };
    match choice {
        Some(choice) => super::browse::go_to_choice(state, choice),
        None => state.notice = Some(Notice::Failed("no choice is about this".to_owned())),
    }
}

/// Takes the alternative under the cursor as one step of undo, and goes back to the questions.
fn take_alternative(state: &mut State) {
    let Some(Layer::Answer(question, cursor)) = state.layers.last() else {
        return;
    };
    let Some(answer) = state.what_if.answer(question, &state.now) else {
        return;
    };
    let Some(one) = answer.alternatives.get(*cursor) else {
        return;
    };
    let (build, name) = (one.trial.build.clone(), one.name());
    // Those that it goes on from are taken along.
    let rows = answer.alternatives[..=*cursor].iter().rev();
    let along = rows.take_while(|row| row.on_top).count();
    let taken = match along {
        0 => name.to_owned(),
        1 => format!("{name}, with the row above it"),
        rows => format!("{name}, with the {rows} rows above it"),
    };
    let changes = one.trial.edits.len();
    if put(state, build) {
        state.layers.pop();
        // The page below is another one now: whoever comes back reads it from its first line.
        if let Some(Layer::Figure(_, top)) = state.layers.last_mut() {
            *top = 0;
        }
        let back = takes_back(state, changes);
        state.notice = Some(Notice::Done(format!("taken: {taken}; {back}")));
    }
}

/// Takes the row under the cursor alone as one step of undo, and stays on the page: what else
/// could be dropped is counted anew.
fn take_alone(state: &mut State) {
    let Some(Layer::Answer(question, cursor)) = state.layers.last() else {
        return;
    };
    let answer = state.what_if.answer(question, &state.now);
    let Some(one) = answer.and_then(|answer| answer.alternatives.get(*cursor)) else {
        return;
    };
    let (build, price) = match &one.alone {
        Some(alone) => (alone.build.clone(), alone.price),
        None => (one.trial.build.clone(), one.trial.price),
    };
    let title = one.name();
    let price = telling::price(price, state.now.bill.currency);
    let text = format!("taken alone: {title}, which {price}");
    if put(state, build) {
        say_done(state, &text);
    }
}

/// Goes through the values of the choice under the cursor.
fn open_sweep(state: &mut State) {
    let Some(&Layer::Weigh {
        measure,
        order,
        cursor,
    }) = state.layers.last()
    else {
        return;
    };
    let rows = state.what_if.rows(&state.now, measure, order);
    if let Some(choice) = rows.get(cursor).map(|row| row.choice) {
        go_through(state, choice, Some(measure));
    }
}

/// Goes through the values of a choice, by a figure or by the one that it changes most. The cursor
/// stands on what is chosen.
pub(super) fn go_through(state: &mut State, choice: &'static Choice, by: Option<Measure>) {
    state.layers.push(Layer::Sweep {
        choice,
        measure: by.unwrap_or(Measure::Cost),
        table: false,
        cursor: 0,
    });
    follow(state);
    if let (None, Some(Ok(sweep))) = (by, state.what_if.sweep(choice, &state.now)) {
        let most = sweep.most_moved();
        if let Some(Layer::Sweep { measure, .. }) = state.layers.last_mut() {
            *measure = most;
        }
    }
    stand_on_what_is_chosen(state);
}

/// Puts the cursor of a sweep on what is chosen, or next to it.
fn stand_on_what_is_chosen(state: &mut State) {
    let Some(&Layer::Sweep { choice, .. }) = state.layers.last() else {
        return;
    };
    let now = (choice.get)(state.build());
    let Some(Ok(sweep)) = state.what_if.sweep(choice, &state.now) else {
        return;
    };
    let here = sweep.points.iter().position(|point| point.value == now);
    // What is chosen may lie between two points: the one before it is nearest below.
    let here = here.or_else(|| {
        let below = |place: &usize| match now {
            Value::Number(Some(number)) => sweep.at(*place) < number,
            _ => false,
        };
        (0..sweep.points.len()).rev().find(below)
    });
    if let Some(Layer::Sweep { cursor, .. }) = state.layers.last_mut() {
        *cursor = here.unwrap_or_default();
    }
}

/// Asks for the range to go over; what is gone over now stands there already.
fn ask_range(state: &mut State) {
    let Some(&Layer::Sweep { choice, .. }) = state.layers.last() else {
        return;
    };
    if !matches!(choice.kind, Kind::Number(_) | Kind::Amount) {
        let text = format!("{}: all its options are shown", choice.title);
        state.notice = Some(Notice::Failed(text));
        return;
    }
    let typed = state.what_if.range(choice).map(str::to_owned);
    let shown = || match state.what_if.sweep(choice, &state.now)? {
        Ok(sweep) => {
            let (first, last) = (sweep.points.first()?, sweep.points.last()?);
            let ends = [first, last].map(|end| options::typed(choice, &end.value, state.shown));
            Some(format!(
                "{}..{}/{}",
                ends[0],
                ends[1],
                sweep.points.len() - 1
            ))
        }
        Err(_) => None,
    };
    let text = typed.or_else(shown).unwrap_or_default();
    state.layers.push(Layer::Range(choice, text.into()));
}

/// Goes over the range that is typed.
fn take_range(state: &mut State) {
    let Some(Layer::Range(choice, typed)) = state.layers.last() else {
        return;
    };
    let (choice, text) = (*choice, typed.value().to_owned());
    let source = Source {
        catalogue: &state.catalogue,
        build: state.history.now(),
        now: &state.now,
        today: state.today,
    };
    let text = match plain_range(choice, &text, state.shown) {
        Ok(text) => text,
        Err(error) => {
            state.notice = Some(Notice::Failed(error));
            return;
        }
    };
    match state.what_if.go_over(source, choice, &text) {
        Err(error) => state.notice = Some(Notice::Failed(error)),
        Ok(()) => {
            state.layers.pop();
            follow(state);
            stand_on_what_is_chosen(state);
        }
    }
}

/// A range as commands take it: with the units that it was typed in, and a point.
fn plain_range(choice: &Choice, text: &str, shown: Shown) -> Result<String, String> {
    let (Kind::Number(kind), Some((from, to))) = (choice.kind, text.split_once("..")) else {
        return Ok(text.to_owned());
    };
    if shown.is_plain() {
        return Ok(text.to_owned());
    }
    let unit = kind.unit;
    let (to, steps) = match to.rsplit_once('/') {
        Some((to, steps)) if steps.trim().parse::<u32>().is_ok() => (to, format!("/{steps}")),
        _ => (to, String::new()),
    };
    let plain = |text: &str| {
        let read = entry::as_plain(text, unit, shown);
        read.map_err(|error| format!("{text:?}: {error}"))
    };
    let from = plain(&entry::sharing(from, to))?;
    Ok(format!("{from}..{}{steps}", plain(to)?))
}

/// Takes the value under the cursor.
fn take_point(state: &mut State) {
    let Some(&Layer::Sweep { choice, cursor, .. }) = state.layers.last() else {
        return;
    };
    let Some(Ok(sweep)) = state.what_if.sweep(choice, &state.now) else {
        return;
    };
    let Some(point) = sweep.points.get(cursor) else {
        return;
    };
    let value = point.value.clone();
    let shown = choice.show_short(&value, &state.catalogue);
    if take(state, &[Edit { choice, value }]) {
        state.layers.pop();
        say_done(state, &format!("taken: {} {shown}", choice.title));
    }
}
