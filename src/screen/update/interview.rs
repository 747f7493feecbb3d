//! The pages of the interview: which question is answered how, the searches, what is taken.

use std::path::Path;

use super::browse::stepped;
use super::{Task, put, say_done};
use crate::catalogue::Step;
use crate::explore::interview::{self, Prompt};
use crate::screen::action::Action;
use crate::screen::interview::{Manner, Picking, manner};
use crate::screen::keymap::Place;
use crate::screen::state::{Layer, Notice, State};
use crate::screen::typed::Typed;

/// Opens the page: where it was left; the first time at the first question that was not answered.
pub(super) fn open(state: &mut State) -> Option<Task> {
    let said = |prompt: &Prompt| state.interview.is_said(prompt);
    let first = interview::all().iter().position(|prompt| !said(prompt));
    // Whoever comes back after the searches finds what they came to.
    let cursor = match state.interview.outcome() {
        Some(_) => state.interview.rows() - 1,
        None => state.interview.left_at.or(first).unwrap_or_default(),
    };
    state.layers.push(Layer::Interview(cursor));
    look(state)
}

/// Looks what the answers cost, while somebody sees the page on which it is told.
fn look(state: &mut State) -> Option<Task> {
    if state.place() != Place::Interview {
        return None;
    }
    let job = state.interview.look(&state.catalogue, state.today);
    job.map(Task::Start)
}

/// Says to whoever has no build yet that there is an interview.
pub(in crate::screen) fn welcome(state: &mut State) {
    // What was lost comes before what could be begun.
    if !state.recovery.is_empty() {
        return;
    }
    if state.is_untouched() {
        let key = |action| state.key_for(Place::Choices, action);
        let asks = key(Action::Interview);
        let text = match state.wishes.last().and_then(Path::file_name) {
            Some(last) => format!(
                "{} goes on with {}; {asks} asks what a new machine must do",
                key(Action::GoOn),
                last.to_string_lossy()
            ),
            None => {
                format!("a first machine? {asks} asks what you need and finds three builds for it")
            }
        };
        state.notice.get_or_insert(Notice::Done(text));
    }
}

/// Carries an action out on these pages.
pub(super) fn act(state: &mut State, place: Place, action: Action) -> Option<Task> {
    match (place, action) {
        (Place::Proposing, Action::Back) => stop(state),
        (Place::Picking, Action::Back) => leave_list(state),
        (_, Action::Back) => {
            if let Some(Layer::Interview(at)) = state.layers.pop() {
                state.interview.left_at = Some(at);
            }
        }
        (Place::Interview, Action::Start) => return start(state),
        (Place::Interview, Action::Enter) => return enter(state),
        (Place::Interview, Action::Remove) => {
            if let Some(prompt) = pointed(state) {
                state.interview.answers.skip(prompt);
            }
        }
        (Place::Picking, Action::Enter | Action::All) => pick(state, action == Action::All),
        (Place::Saying, Action::Enter) => say(state),
        (Place::Proposed, Action::Enter) => take_offer(state),
        _ => walk(state, action),
    }
    look(state)
}

/// The question under the cursor.
fn pointed(state: &State) -> Option<&'static Prompt> {
    match state.layers.last()? {
        Layer::Interview(at) => interview::all().get(*at),
        _ => None,
    }
}

fn enter(state: &mut State) -> Option<Task> {
    let Some(prompt) = pointed(state) else {
        return start(state);
    };
    let answers = &state.interview.answers;
    match manner(prompt) {
        Manner::Turn => {
            state.interview.turn(prompt, &state.catalogue);
            return look(state);
        }
        Manner::Typed => {
            let text = match answers.given(prompt.id) {
                Some(_) => answers.field(prompt, state.shown),
                None => String::new(),
            };
            state
                .layers
                .push(Layer::Saying(prompt, Typed::proposed(text)));
        }
        Manner::One | Manner::Several => {
            match interview::listed(prompt, answers, &state.catalogue, state.today) {
                Ok(listed) => {
                    let left = state.interview.picked_at;
                    let left = left.filter(|(id, at)| *id == prompt.id && *at < listed.len());
                    let mut picking = Picking {
                        prompt,
                        listed,
                        cursor: 0,
                    };
                    // What is ticked lies under the cursor, and a list that was left is as it was.
                    let mut each = picking.listed.iter();
                    let ticked = each.position(|one| picking.is_ticked(answers, one));
                    picking.cursor = left.map(|(_, at)| at).or(ticked).unwrap_or_default();
                    state.layers.push(Layer::Picking(picking));
                }
                Err(error) => state.notice = Some(Notice::Failed(error.to_string())),
            }
        }
    }
    None
}

/// Takes what is under the cursor of a list as the answer, or as a part of it; or all of a list
/// of which several may be ticked.
fn pick(state: &mut State, all: bool) {
    let Some(Layer::Picking(picking)) = state.layers.last() else {
        return;
    };
    let picking = picking.clone();
    let several = manner(picking.prompt) == Manner::Several;
    let answers = &mut state.interview.answers;
    let text = match (several, picking.listed.get(picking.cursor)) {
        (_, None) => return,
        (true, _) if all => picking.all_turned(answers),
        (true, _) => picking.turned(answers),
        (false, _) if all => return,
        (false, Some(one)) => one.id.clone(),
    };
    let given = answers.give(picking.prompt, &text, &state.catalogue, &picking.listed);
    match given {
        Err(error) => state.notice = Some(Notice::Failed(error.to_string())),
        Ok(()) if several => {}
        Ok(()) => on(state),
    }
}

/// Leaves a list: on to the next question where something was ticked in it.
fn leave_list(state: &mut State) {
    let Some(Layer::Picking(picking)) = state.layers.last() else {
        return;
    };
    let (prompt, cursor) = (picking.prompt, picking.cursor);
    if manner(prompt) == Manner::Several && state.interview.is_said(prompt) {
        state.interview.picked_at = Some((prompt.id, cursor));
        on(state);
    } else {
        state.layers.pop();
    }
}

/// Takes the text of the field as the answer.
fn say(state: &mut State) {
    let Some(Layer::Saying(prompt, typed)) = state.layers.last() else {
        return;
    };
    let (prompt, text) = (*prompt, typed.value().to_owned());
    let answers = &mut state.interview.answers;
    match answers.give_as(prompt, &text, (&state.catalogue, &[]), state.shown) {
        Err(error) => state.notice = Some(Notice::Failed(error.to_string())),
        Ok(()) => on(state),
    }
}

/// Back to the list, and on to the next question.
fn on(state: &mut State) {
    state.layers.pop();
    let rows = state.interview.rows();
    if let Some(Layer::Interview(at)) = state.layers.last_mut() {
        *at = (*at + 1).min(rows - 1);
    }
}

/// Begins the searches, or shows what they came to where nothing changed since; searches that
/// were stopped too early begin anew.
fn start(state: &mut State) -> Option<Task> {
    state.layers.push(Layer::Proposed(0));
    let is_known = matches!(state.interview.outcome(), Some(Ok(_)));
    if is_known && !state.interview.was_stopped() {
        return None;
    }
    Some(Task::Start(
        state.interview.start(&state.catalogue, state.today),
    ))
}

/// Stops the searches; the second time, waits for them no longer.
fn stop(state: &mut State) {
    match state.interview.is_stopping() {
        false => state.interview.stop(),
        true => {
            state.interview.abandon();
            state.layers.pop();
        }
    }
}

/// Takes up what the searches have to say.
pub(super) fn listen(state: &mut State) {
    state.interview.listen_to_look();
    if state.interview.listen().is_continue() {
        return;
    }
    let notice = match state.interview.outcome() {
        Some(Err(error)) => Some(Notice::Failed(error.to_owned())),
        Some(Ok(proposal)) if proposal.offers.is_empty() => {
            let text = "stopped before anything was found";
            Some(Notice::Done(text.to_owned()))
        }
        _ => None,
    };
    if notice.is_some() {
        state.notice = notice;
        state
            .layers
            .retain(|layer| !matches!(layer, Layer::Proposed(_)));
    }
}

/// Opens the build under the cursor in the five steps, as one step of undo. It is another
/// machine than the one in the file, so that saving asks for a name.
fn take_offer(state: &mut State) {
    let Some(&Layer::Proposed(at)) = state.layers.last() else {
        return;
    };
    let Some((build, text)) = state.interview.opens(at) else {
        let text = "there is no such build: nothing fits";
        state.notice = Some(Notice::Failed(text.to_owned()));
        return;
    };
    if put(state, build) {
        opened(state);
        say_done(state, &text);
    }
}

/// Shows a build that was just opened: another machine than the one in the file, so that nothing
/// that is known of that file holds for it. The parts of a bundle are still at hand, and go along.
fn opened(state: &mut State) {
    state.layers.clear();
    state.step = Step::WorkingArea;
    (state.file.path, state.file.original, state.file.moved) = (None, None, None);
    (state.file.held, state.file.theirs) = (None, None);
}

fn walk(state: &mut State, action: Action) {
    let page = state.page_rows();
    let rows = state.interview.rows();
    let offers = state.interview.offers().len() + state.interview.for_the_money().len();
    match state.layers.last_mut() {
        Some(Layer::Interview(cursor)) => *cursor = stepped(*cursor, rows, action, page / 2),
        Some(Layer::Proposed(cursor)) => *cursor = stepped(*cursor, offers, action, page / 2),
        Some(Layer::Picking(picking)) => {
            let rows = picking.listed.len();
            picking.cursor = stepped(picking.cursor, rows, action, page / 2);
        }
        _ => {}
    }
}
