//! The pages of the search for the cheapest build: what is wanted, what may change, the search
//! itself, what is taken from it.

use super::browse::stepped;
use super::{Task, put, take, takes_back};
use crate::build::variants::clash;
use crate::explore::find;
use crate::explore::reading::Reading;
use crate::explore::told as telling;
use crate::screen::action::Action;
use crate::screen::keymap::Place;
use crate::screen::papers::Source;
use crate::screen::seek::{Row, Wanting, freeable};
use crate::screen::state::{Layer, Notice, State};
use crate::units;

/// The name of a build that is kept as a variant, with a number where it is taken.
const KEPT: &str = "found";

/// Opens the page.
pub(super) fn open(state: &mut State) {
    // Whoever was here before goes on from there: the last row begins the search.
    let cursor = match state.seek.targets.is_empty() {
        true => 0,
        false => state.seek.rows().len() - 1,
    };
    state.layers.push(Layer::Seek(cursor));
}

/// Opens the page for somebody who wants to spend less: what the machine cuts now it goes on
/// cutting, unless somebody says otherwise.
pub(super) fn open_to_save(state: &mut State) {
    state.seek.keeps_cuts |= state.seek.targets.is_empty();
    open(state);
    point_at(state, Row::Start);
}

/// Carries an action out on these pages.
pub(super) fn act(state: &mut State, place: Place, action: Action) -> Option<Task> {
    match (place, action) {
        (Place::Searching, Action::Back) => stop(state),
        (_, Action::Back) => {
            state.layers.pop();
        }
        (Place::Seek, Action::Start) => return start(state),
        (Place::Seek, Action::Enter) => return enter(state),
        (Place::Seek, Action::Add) => ask(state, None),
        (Place::Seek, Action::Remove) => remove(state),
        (Place::Target, Action::Enter) => want(state),
        (Place::Target, Action::NextPlace | Action::PreviousPlace | Action::Up | Action::Down) => {
            if let Some(Layer::Target(wanting)) = state.layers.last_mut() {
                wanting.turn();
            }
        }
        (Place::Freed, Action::Mark) => free(state),
        (Place::Freed, Action::All) => state.seek.turn_all(&state.catalogue),
        (Place::Found, Action::Enter) => take_found(state),
        (Place::Found, Action::Keep) => keep_found(state),
        _ => walk(state, action),
    }
    None
}

fn enter(state: &mut State) -> Option<Task> {
    let Some(Layer::Seek(at)) = state.layers.last() else {
        return None;
    };
    match state.seek.rows().get(*at) {
        Some(Row::Target(place)) => ask(state, Some(*place)),
        Some(Row::Add) => ask(state, None),
        Some(Row::Cuts) => state.seek.keeps_cuts = !state.seek.keeps_cuts,
        Some(Row::Cautions) => state.seek.more_cautions = !state.seek.more_cautions,
        Some(Row::Against) => state.seek.next_against(),
        Some(Row::Free) => state.layers.push(Layer::Freed(0)),
        Some(Row::Start) => return start(state),
        None => {}
    }
    None
}

/// Opens the fields of a target, or of another one.
fn ask(state: &mut State, place: Option<usize>) {
    let known = place.and_then(|place| Some((place, state.seek.targets.get(place)?)));
    let wanting = Wanting::new(&state.catalogue, known, state.shown);
    state.layers.push(Layer::Target(wanting));
    follow_figure(state);
}

/// Goes to the next answer of the field under the cursor; false where that takes text.
pub(super) fn change(state: &mut State, on: bool) -> bool {
    let Some(Layer::Target(wanting)) = state.layers.last_mut() else {
        return false;
    };
    let changed = wanting.change(on);
    if changed {
        follow_figure(state);
    }
    changed
}

/// Puts the figure of the build as it stands into the field, where nobody typed one.
fn follow_figure(state: &mut State) {
    let footprint = &state.now.machine.geometry.footprint;
    let room = (units::mm::from(footprint.x), units::mm::from(footprint.y));
    let now = Reading::of(&state.now);
    if let Some(Layer::Target(wanting)) = state.layers.last_mut() {
        wanting.follow(&now, room);
    }
}

/// Takes the target as its fields say it.
fn want(state: &mut State) {
    let Some(Layer::Target(wanting)) = state.layers.last() else {
        return;
    };
    let place = wanting.place;
    match wanting.read(&state.catalogue) {
        Err(why) => state.notice = Some(Notice::Failed(why)),
        Ok(target) => {
            state.layers.pop();
            let targets = &mut state.seek.targets;
            match place.and_then(|place| targets.get_mut(place)) {
                Some(known) => *known = target,
                None => targets.push(target),
            }
            // On to the row that begins the search: often that is all.
            point_at(state, Row::Start);
        }
    }
}

fn point_at(state: &mut State, row: Row) {
    let place = state.seek.rows().iter().position(|one| *one == row);
    if let (Some(place), Some(Layer::Seek(at))) = (place, state.layers.last_mut()) {
        *at = place;
    }
}

fn remove(state: &mut State) {
    if let Some(Layer::Seek(at)) = state.layers.last()
        && let Some(Row::Target(place)) = state.seek.rows().get(*at)
    {
        state.seek.targets.remove(*place);
    }
}

/// Lets the choice under the cursor change, or keeps it.
fn free(state: &mut State) {
    if let Some(Layer::Freed(at)) = state.layers.last()
        && let Some(choice) = freeable(&state.catalogue).get(*at)
    {
        state.seek.turn(&state.catalogue, choice);
    }
}

/// Begins the search.
fn start(state: &mut State) -> Option<Task> {
    if state.seek.free(&state.catalogue).is_empty() {
        let text = "nothing may change: tick choices under \"What may change\"";
        state.notice = Some(Notice::Failed(text.to_owned()));
        return None;
    }
    let source = Source {
        catalogue: &state.catalogue,
        build: state.history.now(),
        now: &state.now,
        today: state.today,
    };
    let job = state.seek.start(source);
    state.layers.push(Layer::Found(0));
    Some(Task::Start(job))
}

/// Stops the search; the second time, waits for it no longer.
fn stop(state: &mut State) {
    match state.seek.is_stopping() {
        false => state.seek.stop(),
        true => {
            state.seek.abandon();
            state.layers.pop();
        }
    }
}

/// Takes up what the search has to say.
pub(super) fn listen(state: &mut State) {
    if state.seek.listen().is_continue() {
        return;
    }
    let Some(outcome) = state.seek.outcome() else {
        return;
    };
    let text = match &outcome.found {
        Err(error) => Some(Notice::Failed(format!("not searched: {error}"))),
        Ok(found) if found.cancelled && found.answers.is_empty() => {
            Some(Notice::Done("stopped before anything was found".to_owned()))
        }
        Ok(_) => None,
    };
    if let Some(text) = text {
        state.notice = Some(text);
        state
            .layers
            .retain(|layer| !matches!(layer, Layer::Found(_)));
    }
}

/// Whether there is a build that can be taken.
pub(in crate::screen) fn can_take(state: &State) -> bool {
    let outcome = state.seek.outcome();
    outcome.is_some_and(|outcome| outcome.is_of(state.build()) && !outcome.listed().is_empty())
}

/// The build under the cursor as changes, with what it does to the cost in words.
fn chosen(state: &mut State) -> Option<(Vec<crate::build::Edit>, String)> {
    let Some(&Layer::Found(at)) = state.layers.last() else {
        return None;
    };
    let outcome = state.seek.outcome()?;
    if !outcome.is_of(state.history.now()) {
        let text = "the build was changed since: search again";
        state.notice = Some(Notice::Failed(text.to_owned()));
        return None;
    }
    let one = *outcome.listed().get(at)?;
    let cost = one.reading.cost;
    let price = cost.likely - state.now.bill.total.likely;
    Some((one.edits.clone(), telling::price(price, cost.currency)))
}

/// Takes the build under the cursor as one step of undo.
fn take_found(state: &mut State) {
    let Some((edits, price)) = chosen(state) else {
        return;
    };
    if edits.is_empty() {
        let text = "it is the build that you have";
        state.notice = Some(Notice::Done(text.to_owned()));
        return;
    }
    if take(state, &edits) {
        state.layers.pop();
        let text = format!("taken: it {price}; {}", takes_back(state, edits.len()));
        state.notice = Some(Notice::Done(text));
    }
}

/// Keeps the build under the cursor as a variant; what is open stays open.
fn keep_found(state: &mut State) {
    let Some((edits, price)) = chosen(state) else {
        return;
    };
    let build = state.build();
    let names = build.variant_names();
    let name = (1..)
        .map(|count| match count {
            1 => KEPT.to_owned(),
            more => format!("{KEPT} {more}"),
        })
        .find(|name| clash(name, names.iter().copied()).is_none());
    let (Some(name), Some(outcome)) = (name, state.seek.outcome()) else {
        return;
    };
    let currency = state.now.bill.currency;
    let asked = outcome.request.targets.iter().take(outcome.asked);
    let asked = asked.map(|target| find::told::wanted(target, &state.catalogue, currency));
    let kept = outcome
        .keeps_cuts
        .then(|| "cuts as well as before".to_owned());
    let wanted: Vec<String> = asked.chain(kept).collect();
    let note = match wanted.is_empty() {
        true => format!("found as the cheapest; when found it {price}"),
        false => format!("found for {}; when found it {price}", wanted.join("; ")),
    };
    let open = build.variant().to_owned();
    let kept = build.branched(&open, &name, &note).and_then(|mut kept| {
        edits.iter().for_each(|edit| edit.apply(&mut kept));
        kept.switched(&open)
    });
    match kept {
        Err(why) => state.notice = Some(Notice::Failed(why)),
        Ok(kept) => {
            if put(state, kept) {
                let key = state.key_for(Place::Found, Action::Variants);
                let text = format!(
                    "kept as the variant \"{name}\"; {key} lists them; what it shares with {open} follows {open}"
                );
                state.notice = Some(Notice::Done(text));
            }
        }
    }
}

/// How many rows the cursor of a layer can stand on.
fn rows_of(state: &State) -> usize {
    match state.layers.last() {
        Some(Layer::Seek(_)) => state.seek.rows().len(),
        Some(Layer::Freed(_)) => freeable(&state.catalogue).len(),
        Some(Layer::Found(_)) => {
            let outcome = state.seek.outcome();
            outcome.map_or(0, |outcome| outcome.listed().len())
        }
        _ => 0,
    }
}

fn walk(state: &mut State, action: Action) {
    let page = state.page_rows();
    let rows = rows_of(state);
    if let Some(Layer::Seek(cursor) | Layer::Freed(cursor) | Layer::Found(cursor)) =
        state.layers.last_mut()
    {
        *cursor = stepped(*cursor, rows, action, page / 2);
    }
}
