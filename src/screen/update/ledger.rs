//! The page of the bill: its order, what it lists, and what is written down about a line.

use super::browse::stepped;
use super::{put, say_done};
use crate::build::Build;
use crate::build::purchases::{Purchase, Status};
use crate::catalogue::Id;
use crate::screen::action::Action;
use crate::screen::form::{Form, written};
use crate::screen::keymap::Place;
use crate::screen::ledger::{Asked, Entry, Sort};
use crate::screen::state::{Layer, Notice, PickOf, State};
use crate::screen::typed::Typed;
use crate::screen::view;
use crate::screen::view::ledger::quantity;
use crate::words::Words;

/// Opens the page, with every line on it.
pub(super) fn open(state: &mut State) {
    state.ledger.word = Typed::default();
    state.ledger.to_top();
    state.layers.push(Layer::Bill);
}

/// Lists the bill anew while its page is open.
pub(super) fn follow(state: &mut State) {
    let is_bill = |layer: &Layer| matches!(layer, Layer::Bill | Layer::BillFind);
    if state.layers.iter().any(is_bill) {
        state.ledger.follow(&state.catalogue, &state.now);
    }
}

/// Carries an action out on the pages of the bill.
pub(super) fn act(state: &mut State, place: Place, action: Action) {
    match (place, action) {
        (Place::BillFind, Action::Back) => {
            state.ledger.word = Typed::default();
            state.layers.pop();
        }
        (Place::BillFind, Action::Enter) | (_, Action::Back) => {
            state.layers.pop();
        }
        (Place::Bill, Action::Find) => state.layers.push(Layer::BillFind),
        (_, Action::Sort) => {
            state.ledger.sort = next(state.ledger.sort);
            state.ledger.to_top();
        }
        (_, Action::AskFirst) => {
            state.ledger.sort = match state.ledger.sort {
                Sort::ByDoubt => Sort::ByStep,
                _ => Sort::ByDoubt,
            };
            state.ledger.to_top();
        }
        (_, Action::Show) => {
            state.ledger.show = next(state.ledger.show);
            state.ledger.to_top();
        }
        (Place::Bill, Action::Enter) => {
            if let Some(entry) = state.ledger.current().cloned() {
                state.layers.push(Layer::Entry(entry, 0));
            }
        }
        (Place::Entry, Action::Enter) => {
            if let Some((entry, asked)) = pointed(state) {
                ask(state, &entry, asked);
            }
        }
        (Place::Pick, Action::Enter) => pick(state),
        (Place::Form, Action::Enter) => write_down(state),
        (Place::Form, Action::NextPlace | Action::Down) => turn(state, true),
        (Place::Form, Action::PreviousPlace | Action::Up) => turn(state, false),
        (_, Action::Have) => have(state),
        (_, Action::Price) => ask_here(state, Asked::Price),
        (_, Action::Pay) => ask_here(state, Asked::Payment),
        (_, Action::Status) => ask_here(state, Asked::Status),
        _ => walk(state, action),
    }
}

/// The next of a closed list, round at the end.
fn next<W: Words>(one: W) -> W {
    W::ALL[(one.index() + 1) % W::ALL.len()]
}

/// What keys on the bill are about: the open line, or the one under the cursor.
fn entry(state: &State) -> Option<Entry> {
    match state.layers.last() {
        Some(Layer::Entry(entry, _)) => Some(entry.clone()),
        _ => state.ledger.current().cloned(),
    }
}

/// The field under the cursor on the page of a line; none while the text below is read.
fn pointed(state: &State) -> Option<(Entry, Asked)> {
    let Some(Layer::Entry(entry, stop)) = state.layers.last() else {
        return None;
    };
    let asked = entry.asked(state.build()).get(*stop)?;
    Some((entry.clone(), *asked))
}

fn ask_here(state: &mut State, asked: Asked) {
    let Some(entry) = entry(state) else { return };
    if entry.asked(state.build()).contains(&asked) {
        ask(state, &entry, asked);
    } else {
        let text =
            "freight, duty and tax have no price or status of their own: write down what was paid";
        state.notice = Some(Notice::Failed(text.to_owned()));
    }
}

fn ask(state: &mut State, entry: &Entry, asked: Asked) {
    let layer = match (Form::of(state, entry, asked), asked) {
        (Some(form), _) => Layer::Form(form),
        (None, Asked::Status) => {
            let status = entry.purchase(state.build()).map(Purchase::status);
            let at = status.map_or(0, Words::index);
            Layer::Pick(entry.clone(), PickOf::Status, at)
        }
        (None, _) => {
            let own = entry.purchase(state.build());
            let own = own.and_then(|one| one.supplier.as_ref());
            let at = own.and_then(|id| state.catalogue.suppliers.get_index_of(id));
            Layer::Pick(entry.clone(), PickOf::Supplier, at.map_or(0, |at| at + 1))
        }
    };
    state.layers.push(layer);
}

/// Puts a changed build in place and says what was done.
fn done(state: &mut State, build: Build, text: String) -> bool {
    if build == *state.build() {
        return true;
    }
    let taken = put(state, build);
    if taken {
        say_done(state, &text);
    }
    taken
}

/// Changes what is known of a part, and forgets it where nothing is left to know.
fn changed(build: &Build, id: &Id, change: impl FnOnce(&mut Purchase)) -> Build {
    let mut build = build.clone();
    let part = build.purchases.parts.entry(*id).or_default();
    change(part);
    if *part == Purchase::default() {
        build.purchases.parts.shift_remove(id);
    }
    build
}

/// Marks a line as in hand, or takes that back.
fn have(state: &mut State) {
    let Some(entry) = entry(state) else { return };
    let Entry::Part(id, _) = &entry else {
        let text = "only parts can lie in the workshop";
        state.notice = Some(Notice::Failed(text.to_owned()));
        return;
    };
    let status = entry.purchase(state.build()).map(Purchase::status);
    let status = status.unwrap_or(Status::ToBuy);
    if status.is_committed() {
        let key = state.key_for(state.place(), Action::Status);
        let text = format!(
            "it is {} already: its status (key {key}) says when it is here",
            status.title()
        );
        state.notice = Some(Notice::Failed(text));
        return;
    }
    let title = entry.title(&state.catalogue);
    let (to, text) = match status {
        Status::HaveIt => (None, format!("no longer in hand: {title}")),
        _ => (Some(Status::HaveIt), have_told(state, &entry, &title)),
    };
    let build = changed(state.build(), id, |part| {
        part.status = to;
        part.have = None;
    });
    let place = state.ledger.cursor;
    state.ledger.stays = matches!(state.layers.last(), Some(Layer::Bill));
    if done(state, build, text) && state.ledger.stays {
        follow(state);
        let now = state.ledger.entries().iter().position(|one| **one == entry);
        if let (true, Some(Notice::Done(text))) = (now != Some(place), &mut state.notice) {
            text.push_str("; sorted anew, its line went elsewhere, the cursor stayed");
        }
    }
    state.ledger.stays = false;
}

/// That all of a line is in hand now: how much that is, and where less is said.
fn have_told(state: &State, entry: &Entry, title: &str) -> String {
    let line = entry.line(&state.now);
    let Some(line) = line.filter(|line| line.needed != rust_decimal::Decimal::ONE) else {
        return format!("have it: {title}");
    };
    let all = quantity(&state.speller, line.needed, line.unit);
    let place = Place::Bill;
    let open = state.keymap.key_of(place, Action::Enter);
    let open = open.filter(|_| matches!(state.layers.last(), Some(Layer::Bill)));
    let open = open.map_or_else(String::new, |key| format!("{key}, then "));
    let field = Asked::Have.title();
    format!("have it: all {all} of {title}; is it less? {open}{field}")
}

/// Takes the status or the supplier under the cursor.
fn pick(state: &mut State) {
    let Some(Layer::Pick(entry, of, at)) = state.layers.last().cloned() else {
        return;
    };
    let today = state.today;
    let bought = entry.line(&state.now).map(|line| line.buy);
    let sender = entry.sender(&state.now);
    let title = entry.title(&state.catalogue);
    let (build, text) = match of {
        PickOf::Status => {
            let Some(&status) = Status::ALL.get(at) else {
                return;
            };
            let build = changed(state.build(), entry.id(), |part| {
                let before = part.status();
                // What follows from the prices need not be said.
                part.status = Some(status).filter(|_| status != Status::ToBuy);
                if part.status() != status {
                    part.status = Some(status);
                }
                if status == Status::Ordered && !before.is_committed() {
                    part.ordered_on = part.ordered_on.or(Some(today));
                    part.ordered = part.ordered.or(bought);
                    part.supplier = part.supplier.take().or(sender);
                }
            });
            (build, format!("{}: {title}", status.title()))
        }
        PickOf::Supplier => {
            let supplier = at.checked_sub(1).and_then(|place| {
                let (id, _) = state.catalogue.suppliers.get_index(place)?;
                Some(*id)
            });
            let build = changed(state.build(), entry.id(), |part| part.supplier = supplier);
            (build, format!("supplier written down: {title}"))
        }
    };
    if done(state, build, text) {
        state.layers.pop();
    }
}

/// Writes a form down; where a field cannot be read, goes there and says why.
fn write_down(state: &mut State) {
    let Some(Layer::Form(form)) = state.layers.last().cloned() else {
        return;
    };
    match written(state, &form) {
        Ok((build, text)) => {
            let title = form.entry.title(&state.catalogue);
            if done(state, build, format!("{text}: {title}")) {
                state.layers.pop();
            }
        }
        Err(why) => {
            let wrong = form.wrong(state);
            if let (Some(at), Some(Layer::Form(form))) = (wrong, state.layers.last_mut()) {
                form.at = at;
            }
            state.notice = Some(Notice::Failed(why));
        }
    }
}

fn turn(state: &mut State, on: bool) {
    if let Some(Layer::Form(form)) = state.layers.last_mut() {
        form.turn(on);
    }
}

fn walk(state: &mut State, action: Action) {
    let page = state.page_rows();
    let length = match state.layers.last() {
        Some(Layer::Entry(..)) => view::layer_length(state),
        _ => 0,
    };
    let entries = state.ledger.entries().len();
    let suppliers = state.catalogue.suppliers.len() + 1;
    let asked = match state.layers.last() {
        Some(Layer::Entry(entry, _)) => entry.asked(state.build()).len(),
        _ => 0,
    };
    match state.layers.last_mut() {
        Some(Layer::Bill | Layer::BillFind) => {
            state.ledger.cursor = stepped(state.ledger.cursor, entries, action, page / 2);
        }
        Some(Layer::Entry(_, stop)) => {
            let hidden = length.saturating_sub(page + 1);
            *stop = stepped(*stop, asked + hidden, action, page / 2);
        }
        Some(Layer::Pick(_, of, at)) => {
            let count = match of {
                PickOf::Status => Status::ALL.len(),
                PickOf::Supplier => suppliers,
            };
            *at = stepped(*at, count, action, page / 2);
        }
        _ => {}
    }
}
