//! The page of settings: each change holds and is saved at once.

use super::Task;
use super::browse::stepped;
use crate::screen::action::Action;
use crate::screen::around::around;
use crate::screen::state::{Layer, Notice, State};
use crate::store::settings::Settings;
use crate::units::Marks;
use crate::words::Words;

/// A row of the page.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Row {
    /// Metric or inches.
    Units,
    /// The mark before the fraction.
    Decimal,
    /// The mark between thousands.
    Thousands,
    /// Colours for which background.
    Theme,
    /// Whether the mouse is listened to.
    Mouse,
}

/// The rows in their order.
pub const ROWS: [Row; 5] = [
    Row::Units,
    Row::Decimal,
    Row::Thousands,
    Row::Theme,
    Row::Mouse,
];

/// Carries an action out on the page.
pub(super) fn act(state: &mut State, action: Action) -> Option<Task> {
    let Some(Layer::Settings(cursor)) = state.layers.last_mut() else {
        return None;
    };
    match action {
        Action::Back => {
            state.layers.pop();
            None
        }
        Action::NextPlace | Action::PreviousPlace => {
            let row = ROWS.get(*cursor).copied();
            row.and_then(|row| change(state, row, action == Action::NextPlace))
        }
        _ => {
            *cursor = stepped(*cursor, ROWS.len(), action, ROWS.len());
            None
        }
    }
}

fn change(state: &mut State, row: Row, on: bool) -> Option<Task> {
    // What holds now, by whatever it was asked for: the first change is seen.
    let (theme, mouse) = (state.wishes.theme(), state.wishes.mouse());
    let units = state.shown.system;
    let beside = &mut state.wishes.beside;
    let settings = &mut state.wishes.settings;
    // Who changes it here wants this now, whatever was asked for at the start.
    match row {
        Row::Units => beside.units = None,
        Row::Decimal | Row::Thousands => beside.marks = None,
        Row::Theme => beside.theme = None,
        Row::Mouse => {}
    }
    match row {
        Row::Units => settings.units = turned(units, on),
        Row::Theme => settings.theme = turned(theme, on),
        Row::Mouse => settings.mouse = Some(!mouse),
        Row::Decimal => {
            let all = [None, Some('.'), Some(',')];
            settings.decimal = next(&all, settings.decimal, on);
            if clashes(settings) {
                settings.thousands = None;
            }
        }
        Row::Thousands => {
            let signs = [Some(' '), Some('.'), Some(','), Some('\''), None];
            let all: Vec<Option<Option<char>>> =
                std::iter::once(None).chain(signs.map(Some)).collect();
            settings.thousands = next(&all, settings.thousands, on);
            if clashes(settings) {
                settings.thousands = next(&all, settings.thousands, on);
            }
        }
    }
    state.show_as_wished();
    // A number that stands in its field is written anew.
    state.number_field = None;
    match &state.wishes.file {
        Some(file) => Some(Task::Keep(file.clone(), state.wishes.settings.clone())),
        None => {
            let text = "not saved: there is no home folder; it holds until you leave";
            state.notice = Some(Notice::Failed(text.to_owned()));
            None
        }
    }
}

/// Whether both marks are set and cannot be told apart.
fn clashes(settings: &Settings) -> bool {
    let both = settings.decimal.zip(settings.thousands);
    both.is_some_and(|(decimal, thousands)| Marks::new(decimal, thousands).is_none())
}

fn turned<W: Words>(word: W, on: bool) -> Option<W> {
    Some(next(W::ALL, word, on))
}

/// The one behind or before one of several, round at the ends.
fn next<T: Copy + PartialEq>(all: &[T], now: T, on: bool) -> T {
    let at = all.iter().position(|one| *one == now).unwrap_or_default();
    all[around(at, all.len(), on)]
}
