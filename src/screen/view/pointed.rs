//! What stands where the pointer is. The places are those of the layout, and the rows are the
//! lines that are drawn there: nothing is measured a second time.

use ratatui::layout::{Position, Rect};
use ratatui::style::Modifier;
use ratatui::text::Line;

use super::{as_printed, bare, choices, keys, layers, options, pane, title};
use crate::catalogue::Step;
use crate::screen::key::Key;
use crate::screen::state::State;

/// What stands somewhere on the screen.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Pointed {
    /// The name of a step.
    Step(Step),
    /// A key in the row of keys.
    Key(Key),
    /// A row of a list, counted from the top of what is drawn there.
    Row(Rows, usize),
    /// Nothing that anything can be done with.
    Nothing,
}

/// A place with rows.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Rows {
    /// The choices of a step.
    Choices,
    /// The options of a choice.
    Options,
    /// The side pane.
    Pane,
    /// What lies over the main screen.
    Layer,
}

/// What stands in a column and row of the screen.
pub fn pointed(state: &State, at: Position) -> Pointed {
    let Some(layout) = state.drawn() else {
        return Pointed::Nothing;
    };
    let pen = bare(state);
    let column = |area: Rect| usize::from(at.x - area.x);
    let width = |area: Rect| usize::from(area.width);
    if layout.steps.contains(at) {
        let area = layout.steps;
        let step = title::step_at(state, &pen, width(area), column(area));
        return step.map_or(Pointed::Nothing, Pointed::Step);
    }
    if layout.keys.contains(at) {
        let area = layout.keys;
        let key = keys::key_at(state, width(area), column(area));
        return key.map_or(Pointed::Nothing, Pointed::Key);
    }
    let areas = Rows::ALL
        .into_iter()
        .filter_map(|of| Some((of, of.area(state)?)));
    for (of, area) in areas {
        if area.contains(at) {
            return Pointed::Row(of, usize::from(at.y - area.y));
        }
    }
    Pointed::Nothing
}

/// The rows of a place as text without the sign of the cursor, and the one under the cursor.
pub fn rows(state: &State, of: Rows) -> (Vec<String>, Option<usize>) {
    let Some(area) = of.area(state) else {
        return (Vec::new(), None);
    };
    let (width, height) = (usize::from(area.width), usize::from(area.height));
    let pen = as_printed(state, &bare(state));
    let lines = match of {
        Rows::Choices => choices::choices(state, &pen, width, height),
        Rows::Options => options::options(state, &pen, width, height),
        Rows::Pane => pane::pane(state, &pen, width, height),
        Rows::Layer => layers::lines(state, &pen, width, Some(height)),
    };
    let here = lines.iter().position(is_under_cursor);
    let told = |line: &Line| {
        let text = line.to_string();
        text.strip_prefix(['>', ' ']).unwrap_or(&text).to_owned()
    };
    (lines.iter().map(told).collect(), here)
}

impl Rows {
    const ALL: [Self; 4] = [Self::Choices, Self::Options, Self::Pane, Self::Layer];

    /// Where its rows are drawn; none while something else is there.
    fn area(self, state: &State) -> Option<Rect> {
        let layout = state.drawn()?;
        let main = state.layers.is_empty();
        match self {
            Self::Choices => main.then_some(layout.choices),
            Self::Options => main.then_some(layout.options),
            Self::Pane => layout.pane.filter(|_| main),
            Self::Layer => (!main).then_some(layout.left),
        }
    }
}

/// Whether a line is the one under the cursor: it alone is reversed from its first column on,
/// and bears the sign there.
fn is_under_cursor(line: &Line) -> bool {
    let first = line.spans.iter().find(|span| !span.content.is_empty());
    first.is_some_and(|span| {
        let style = line.style.patch(span.style);
        span.content.starts_with('>') && style.add_modifier.contains(Modifier::REVERSED)
    })
}
