//! From a figure, wherever it stands, to what betters it: for rapids what makes the axis faster,
//! for a warning what lifts it, for the cost the ways to spend less, for others the choices by what
//! they give for their money.

use super::{savings, what_if};
use crate::build::choices;
use crate::build::{Axis, Choice};
use crate::explore::question;
use crate::explore::reading::Measure;
use crate::screen::figures::Row;
use crate::screen::state::{Layer, Notice, PaneRow, State};
use crate::screen::what_if::Order;
use crate::words::Words as _;

/// What betters a figure.
enum Cure {
    /// The ways to spend less.
    Spend,
    /// What makes an axis faster.
    Faster(Axis),
    /// The choices, by what they give of a measure for their money.
    Weigh(Measure),
    /// The options of a choice, one beside the other.
    Over(&'static Choice),
    /// What lifts a warning.
    Lift(usize),
}

/// Goes there from the figure under the cursor.
pub(super) fn open(state: &mut State) {
    match cure(state) {
        Some(Cure::Spend) => savings::open(state),
        Some(Cure::Faster(axis)) => {
            let answer = Layer::Answer(question::faster(axis), 0);
            state.layers.push(answer);
        }
        Some(Cure::Weigh(measure)) => state.layers.push(Layer::Weigh {
            measure,
            order: Order::Worth,
            cursor: 0,
        }),
        Some(Cure::Over(choice)) => what_if::go_through(state, choice, None),
        Some(Cure::Lift(place)) => {
            state.layers.push(Layer::Warnings(place));
            state.layers.push(Layer::Warning(place, 0));
        }
        None => {
            let text = "no page improves this figure by itself".to_owned();
            state.notice = Some(Notice::Failed(text));
        }
    }
}

/// What the way from the figure under the cursor is called in the row of keys; none where there is
/// no such way.
pub(in crate::screen) fn better(state: &State) -> Option<&'static str> {
    Some(match cure(state)? {
        Cure::Spend => "spend less",
        Cure::Faster(_) => "make it faster",
        Cure::Weigh(Measure::Stiffness) => "make it stiffer",
        Cure::Weigh(Measure::Current) => "draw less",
        Cure::Weigh(_) => "cut more",
        Cure::Over(_) => "other supplies",
        Cure::Lift(_) => "lift it",
    })
}

fn cure(state: &State) -> Option<Cure> {
    match state.layers.last() {
        Some(Layer::Figure(row, _)) => of_row(*row),
        Some(Layer::Derivation(path, _)) => of_path(path),
        Some(Layer::Figures) => match state.figures.current() {
            Some(Row::Figure { path, .. }) => of_path(path),
            _ => None,
        },
        Some(_) => None,
        None => of_row(state.pane_row()?),
    }
}

fn of_row(row: PaneRow) -> Option<Cure> {
    Some(match row {
        PaneRow::Cost => Cure::Spend,
        PaneRow::Axis(axis) => Cure::Faster(axis),
        PaneRow::Stiffness(_) => Cure::Weigh(Measure::Stiffness),
        PaneRow::Cuts | PaneRow::Job => Cure::Weigh(Measure::Removal),
        PaneRow::Circuit(_) => Cure::Weigh(Measure::Current),
        PaneRow::Supply => Cure::Over(choices::find("supply").ok()?),
        PaneRow::Finding(place) => Cure::Lift(place),
    })
}

/// By the path of a figure in the JSON of `assess`.
fn of_path(path: &str) -> Option<Cure> {
    let (group, rest) = path.split_once('.')?;
    let row = match group {
        "cost" => PaneRow::Cost,
        "axes" => {
            let (axis, figure) = rest.split_once('.')?;
            let is_speed = ["rapid", "limit", "full_travel"];
            if !is_speed.iter().any(|begin| figure.starts_with(begin)) {
                return None;
            }
            PaneRow::Axis(Axis::from_id(axis)?)
        }
        "stiffness" => PaneRow::Stiffness(Axis::X),
        "cutting" => PaneRow::Cuts,
        "job" => PaneRow::Job,
        "power" if rest.starts_with("supplies.motors") => PaneRow::Supply,
        "power" if rest.starts_with("circuits") => return Some(Cure::Weigh(Measure::Current)),
        _ => return None,
    };
    of_row(row)
}
