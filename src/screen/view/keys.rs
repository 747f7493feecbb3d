//! The last row: the keys that do something right now.

use ratatui::text::{Line, Span};

use super::derivation::{choice_of_input, figure_of_input, input_pointed};
use super::paint::Pen;
use crate::build::purchases::Status;
use crate::catalogue::Step;
use crate::explain::Input;
use crate::screen::action::{Action, TextMove};
use crate::screen::figures::Row;
use crate::screen::form::Content;
use crate::screen::interview::{Manner, manner};
use crate::screen::key::Key;
use crate::screen::keymap::{Binding, Place};
use crate::screen::ledger::{Asked, Entry};
use crate::screen::savings::DROP;
use crate::screen::seek;
use crate::screen::state::{Focus, Layer, State};
use crate::screen::text;
use crate::screen::update::{better, can_change_own, can_copy, can_go, can_take};
use crate::words::Words as _;

mod there;

use there::is_anything;

/// A key in the row.
struct Shown<'k> {
    binding: &'k Binding,
    /// How it is called.
    name: String,
    /// What it does, in a word.
    label: &'static str,
}

impl Shown<'_> {
    /// Columns that it takes: its name, its word, and blanks around them.
    fn columns(&self) -> usize {
        text::width(&self.name) + text::width(self.label) + 3
    }
}

/// As many keys as fit, help and the way back always among them.
pub(super) fn keys(state: &State, pen: &Pen, width: usize) -> Line<'static> {
    let mut spans = Vec::new();
    for key in shown(state, width) {
        spans.push(Span::styled(format!(" {}", key.name), pen.theme.key));
        spans.push(Span::raw(format!(" {} ", key.label)));
    }
    Line::from(spans)
}

/// The key that stands in a column of the row of keys.
pub(super) fn key_at(state: &State, width: usize, column: usize) -> Option<Key> {
    let mut end = 0;
    let mut shown = shown(state, width).into_iter();
    let here = shown.find(|key| {
        end += key.columns();
        column < end
    })?;
    here.binding.keys.first().copied()
}

/// The keys that the row has room for.
fn shown(state: &State, width: usize) -> Vec<Shown<'_>> {
    // To find it the whole page of a derivation is laid out.
    let input = match state.place() {
        Place::Derivation => input_pointed(state),
        _ => None,
    };
    let shown = |binding| {
        let label = label(state, binding);
        let is_shown = !label.is_empty() && is_true(state, input, binding.action);
        is_shown.then(|| Shown {
            binding,
            name: first_key(state, binding),
            label,
        })
    };
    let (help, others): (Vec<Shown>, Vec<Shown>) = state
        .keymap
        .here(state.place())
        .filter_map(shown)
        .partition(|key| key.binding.action == Action::Help);
    let is_back = |key: &Shown| key.binding.action == Action::Back;
    let kept = help.iter().chain(others.iter().filter(|key| is_back(key)));
    let kept = kept.map(Shown::columns).sum();
    let mut room = width.saturating_sub(kept);
    let mut row = Vec::new();
    for key in others {
        let needed = match is_back(&key) {
            true => 0,
            false => key.columns(),
        };
        if needed <= room {
            room -= needed;
            row.push(key);
        }
    }
    row.extend(help);
    row
}

fn first_key(state: &State, binding: &Binding) -> String {
    // One word for the five keys that go to a step, where all of them are the usual ones.
    let usual = |(&step, digit): (&Step, char)| {
        let key = state.keymap.key_of(state.place(), Action::Step(step));
        key == Some(Key::Char(digit))
    };
    if binding.action == Action::Step(Step::WorkingArea)
        && Step::ALL.iter().zip('1'..='5').all(usual)
    {
        return "1-5".to_owned();
    }
    binding
        .keys
        .first()
        .map(ToString::to_string)
        .unwrap_or_default()
}

fn label(state: &State, binding: &Binding) -> &'static str {
    match binding.action {
        Action::Have if has_it(state) => "have not",
        Action::Text(TextMove::Right) if is_pick(state) => "change",
        Action::Back if matches!(state.place(), Place::Searching | Place::Proposing) => "stop",
        Action::Back if ticks_several(state) && !binding.short.is_empty() => "done",
        Action::Enter if ticks_several(state) => "tick",
        Action::Enter if state.place() == Place::Seek => on_seek(state),
        Action::Enter if is_of_savings(state) => "take to here",
        Action::Pin if is_pinned(state) => "unpin",
        Action::Enter if state.place() == Place::Variants && is_open(state) => "choices",
        Action::Show if state.place() == Place::Compare => match state.variants.all {
            true => "what differs",
            false => "everything",
        },
        Action::Better => better(state).unwrap_or_default(),
        Action::Enter if state.place() == Place::Figure => better(state).unwrap_or_default(),
        Action::Accept if is_accepted(state) => "no longer accept",
        Action::Enter
            if state.place() == Place::Figures
                && matches!(state.figures.current(), Some(Row::Group { open: true, .. })) =>
        {
            "close"
        }
        Action::Enter if state.place() == Place::Find => match state.focus {
            Focus::Options
                if state
                    .options
                    .current()
                    .is_some_and(|row| row.ticked.is_some()) =>
            {
                "tick"
            }
            Focus::Options => "take",
            _ => "open it",
        },
        _ => binding.short,
    }
}

/// Whether the finding under the cursor is accepted.
fn is_accepted(state: &State) -> bool {
    let finding = state.finding();
    finding.is_some_and(|finding| finding.accepted.is_some())
}

/// Whether the list of answers is one of which several are ticked.
fn ticks_several(state: &State) -> bool {
    match state.layers.last() {
        Some(Layer::Picking(picking)) => manner(picking.prompt) == Manner::Several,
        Some(Layer::Freed(_)) => true,
        _ => false,
    }
}

/// Whether the page is the list of what to drop, whose rows stand on top of each other.
fn is_of_savings(state: &State) -> bool {
    matches!(state.layers.last(), Some(Layer::Answer(one, _)) if one.id == DROP)
}

/// Whether the field of a form that the cursor is in has answers to go through.
fn is_pick(state: &State) -> bool {
    if let Some(Layer::Target(wanting)) = state.layers.last() {
        return !wanting.in_amount || wanting.picked().is_some();
    }
    let Some(Layer::Form(form)) = state.layers.last() else {
        return false;
    };
    let field = form.fields.get(form.at);
    field.is_some_and(|field| matches!(field.content, Content::Pick(..)))
}

/// Whether the variant under the cursor is the open one.
fn is_open(state: &State) -> bool {
    let row = state.variants.current();
    row.is_some_and(|row| row.name == state.build().variant())
}

/// Whether the variant under the cursor is pinned.
fn is_pinned(state: &State) -> bool {
    let row = state.variants.current().map(|row| row.name.as_str());
    row.is_some() && row == state.build().variants.baseline()
}

/// Whether an action would do something now, the input of a derivation under the cursor.
fn is_true(state: &State, input: Option<&Input>, action: Action) -> bool {
    match action {
        Action::Enter if !is_anything(state) => false,
        Action::Enter if state.place() == Place::Derivation => figure_of_input(state, input),
        Action::Explain => state.figure_pointed().is_some(),
        Action::GoTo if state.place() == Place::Derivation => {
            choice_of_input(state, input).is_some()
        }
        // There is room for one of the two: what is on its way cannot be marked as in hand.
        Action::Status if state.place() == Place::Bill => {
            is_for(state, Action::Status) && !is_for(state, Action::Have)
        }
        Action::Have | Action::Price | Action::Pay | Action::Status => is_for(state, action),
        Action::Enter if state.place() == Place::Entry => {
            let Some(Layer::Entry(entry, stop)) = state.layers.last() else {
                return false;
            };
            *stop < entry.asked(state.build()).len()
        }
        Action::Remove if state.place() == Place::Seek => {
            matches!(seek_row(state), Some(seek::Row::Target(_)))
        }
        Action::OwnPart => can_copy(state),
        Action::ChangeOwn => can_change_own(state),
        Action::Remove if matches!(state.place(), Place::Options | Place::Checklist) => {
            can_change_own(state)
        }
        // Enter does it on its own row, and is shown there.
        Action::Add => seek_row(state) != Some(seek::Row::Add),
        Action::Start => seek_row(state) != Some(seek::Row::Start),
        Action::Keep if state.place() == Place::Found => can_take(state),
        Action::Remove => can_go(state),
        Action::Compare | Action::Mark => !state.build().variants.is_empty(),
        Action::GoOn => state.wishes.last().is_some() && !state.is_unsaved(),
        Action::Undo => state.history.can_undo(),
        Action::Redo => state.history.can_redo(),
        Action::GoTo
            if matches!(
                state.layers.last(),
                Some(Layer::Answer(..) | Layer::Weigh { .. } | Layer::Sweep { .. })
            ) =>
        {
            is_anything(state)
        }
        Action::Alone => is_of_savings(state),
        Action::All => ticks_several(state),
        Action::GoTo => state.choice_of_finding().is_some(),
        Action::Lift => !state.remedy.edits.is_empty(),
        Action::Accept => state.finding().is_some(),
        Action::Save => state.is_unsaved(),
        Action::Warnings => !state.now.findings.is_empty(),
        _ => true,
    }
}

/// The row under the cursor of the page on which a search is put together.
fn seek_row(state: &State) -> Option<seek::Row> {
    match state.layers.last() {
        Some(Layer::Seek(at)) => state.seek.rows().get(*at).copied(),
        _ => None,
    }
}

/// What Enter does there.
fn on_seek(state: &State) -> &'static str {
    match seek_row(state) {
        Some(seek::Row::Add) => "add",
        Some(seek::Row::Start) => "search",
        Some(seek::Row::Against) => "next",
        Some(seek::Row::Cuts | seek::Row::Cautions) => "tick",
        _ => "change",
    }
}

/// What the keys of the bill are about.
fn entry(state: &State) -> Option<&Entry> {
    match state.layers.last() {
        Some(Layer::Entry(entry, _)) => Some(entry),
        Some(Layer::Bill) => state.ledger.current(),
        _ => None,
    }
}

fn status(state: &State) -> Status {
    let purchase = entry(state).and_then(|entry| entry.purchase(state.build()));
    purchase.map_or(Status::ToBuy, |one| one.status())
}

/// Whether the part under the cursor is marked as in hand.
fn has_it(state: &State) -> bool {
    status(state) == Status::HaveIt
}

/// Whether this can be written down about what is under the cursor.
fn is_for(state: &State, action: Action) -> bool {
    let Some(entry) = entry(state) else {
        return false;
    };
    let asked = match action {
        Action::Have => Asked::Have,
        Action::Price => Asked::Price,
        Action::Pay => Asked::Payment,
        _ => Asked::Status,
    };
    let can = entry.asked(state.build()).contains(&asked);
    can && (action != Action::Have || !status(state).is_committed())
}
