//! Draws the state. Nothing is worked out here and nothing is changed: every figure stands
//! ready in the state. Small functions give lines of text; [`Composed`] puts
//! them on the grid.

use ratatui::Frame;
use ratatui::layout::{Position, Rect};
use ratatui::text::Line;

use super::action::Action;
use super::glyphs::Glyphs;
use super::keymap::Place;
use super::layout::{LEAST, Layout};
use super::state::{Layer, PaneRow, State};
use super::text;
use super::theme::Colours;
pub use composed::{Composed, Strip};
pub use derivation::{input_pointed, stops_of_derivation};
use paint::{FIND_COLUMN, Pen};
pub use pointed::{Pointed, Rows, pointed, rows};

mod beside;
mod bill;
mod choices;
mod composed;
mod derivation;
mod differences;
mod drawing;
mod entry;
mod figure;
mod figures;
mod form;
mod glossary;
mod help;
mod interview;
mod keys;
mod layers;
pub(in crate::screen) mod ledger;
mod options;
mod own_part;
mod page;
pub mod paint;
mod pane;

mod pick;
mod pictures;
mod pointed;
mod savings;
mod seek;
mod settings;
mod sheets;
mod split;
mod strip;
mod tasks;
mod title;
mod totals;
mod variants;
mod warnings;
mod what_if;
mod words;

/// Draws the whole screen on a grid of the size that the state has.
pub fn view(frame: &mut Frame, state: &State, pen: &Pen) {
    let composed = compose(state, pen);
    composed.paint_on(frame.buffer_mut());
    if let Some(cursor) = composed.cursor {
        frame.set_cursor_position(cursor);
    }
}

/// What the whole screen shows.
pub fn compose(state: &State, pen: &Pen) -> Composed {
    let pen = &pen.wished(state.speller.clone(), state.wishes.theme());
    let mut composed = Composed::new(pen.clone(), state.size);
    let Some(layout) = state.drawn() else {
        too_small(&mut composed, state, pen);
        return composed;
    };
    around(&mut composed, &layout, state, pen);
    let area = layout.left;
    let line = Rect { height: 1, ..area };
    match state.layers.last() {
        None => {
            let above = words::above(state, pen, area.width.into());
            let notice = notice_area(&layout, above.len());
            let lines = [
                layout.heading,
                Rect {
                    y: notice.y,
                    ..line
                },
            ];
            edges(&mut composed, &layout, lines, state, pen);
            main(&mut composed, &layout, (notice, above), state, pen);
        }
        Some(top) => {
            let foot = Rect {
                y: area.bottom() - 1,
                ..line
            };
            edges(&mut composed, &layout, [line, foot], state, pen);
            let pen = &as_printed(state, pen);
            let lines = layers::lines(state, pen, area.width.into(), Some(area.height.into()));
            match top {
                Layer::Sheet(..) => composed.put_metric(area, lines),
                _ => composed.put(area, lines),
            }
        }
    }
    composed.cursor = cursor(state, &layout);
    composed
}

/// The pen for the topmost layer: a sheet stands in its units already, and is drawn as it is.
fn as_printed(state: &State, pen: &Pen) -> Pen {
    match state.layers.last() {
        Some(Layer::Sheet(..)) => pen.metric(),
        _ => pen.clone(),
    }
}

/// What stands around the left side: title, steps, keys and figures.
fn around(composed: &mut Composed, layout: &Layout, state: &State, pen: &Pen) {
    composed.put(
        layout.title,
        vec![title::title(state, pen, layout.title.width.into())],
    );
    composed.put(
        layout.steps,
        vec![title::steps(state, pen, layout.steps.width.into())],
    );
    composed.put(
        layout.top_line,
        vec![pen.line(layout, layout.top_line.width.into())],
    );
    composed.put(
        layout.keys,
        vec![keys::keys(state, pen, layout.keys.width.into())],
    );
    if let Some(area) = layout.strip {
        composed.put(area, strip::strip(state, pen, area.width.into()));
    }
    if let Some(area) = layout.pane {
        composed.put(
            area,
            pane::pane(state, pen, area.width.into(), area.height.into()),
        );
    }
    if let Some(area) = layout.bill {
        composed.put(
            area,
            bill::column(state, pen, area.width.into(), area.height.into()),
        );
    }
}

/// The lines that go down, and where those across on the left side meet them.
fn edges(composed: &mut Composed, layout: &Layout, across: [Rect; 2], state: &State, pen: &Pen) {
    for area in [layout.pane, layout.bill].into_iter().flatten() {
        let edge = Rect {
            x: area.x - 1,
            width: 1,
            ..area
        };
        composed.put(edge, pen.edge(area.height.into()));
    }
    if let Some(pane) = layout.pane {
        let picture = layout.picture.filter(|_| state.layers.is_empty());
        let picture = picture.map(|area| Rect { height: 1, ..area });
        for line in across.into_iter().chain(picture) {
            composed.put(
                Rect {
                    x: pane.x - 1,
                    width: 1,
                    ..line
                },
                vec![Line::styled(pen.glyphs.side(), pen.theme.line)],
            );
        }
    }
}

/// Where a message of so many lines stands: one in the line above the words, a longer one
/// over the words, and over the options where even that is too little.
fn notice_area(layout: &Layout, lines: usize) -> Rect {
    let rows = u16::try_from(lines).unwrap_or(u16::MAX);
    let room = match rows {
        1 => return layout.notice,
        rows => rows.clamp(1 + layout.words.height, layout.left.height),
    };
    Rect {
        y: layout
            .words
            .bottom()
            .saturating_sub(room)
            .max(layout.left.y),
        height: room,
        ..layout.left
    }
}

fn main(
    composed: &mut Composed,
    layout: &Layout,
    (notice, above): (Rect, Vec<Line<'static>>),
    state: &State,
    pen: &Pen,
) {
    let width = usize::from(layout.left.width);
    composed.put(
        Rect {
            height: 1,
            width: layout.left.width.saturating_sub(2),
            x: layout.left.x + 2,
            y: layout.top_line.y,
        },
        vec![choices::place(state, pen, layout.choices.height.into())],
    );
    composed.put(
        layout.choices,
        choices::choices(state, pen, width, layout.choices.height.into()),
    );
    composed.put(
        layout.heading,
        vec![options::heading(
            state,
            pen,
            width,
            layout.options.height.into(),
        )],
    );
    composed.put(
        layout.options,
        options::options(state, pen, width, layout.options.height.into()),
    );
    if notice == layout.notice {
        composed.put(
            layout.words,
            words::words(state, pen, width, layout.words.height.into()),
        );
    }
    composed.put(notice, above);
    if let Some(area) = layout.picture {
        composed.put(area, pictures::live::lines(state, pen, area));
    }
}

/// How many lines the topmost layer has in all.
pub fn layer_length(state: &State) -> usize {
    let width = state
        .drawn()
        .map_or(1, |layout| usize::from(layout.left.width));
    layers::lines(state, &bare(state), width, None).len()
}

/// A pen without colours, for counting lines: its letters take as much room as those that are
/// drawn.
fn bare(state: &State) -> Pen {
    Pen {
        speller: state.speller.clone(),
        ..Pen::new(Colours::None, state.glyphs)
    }
}

/// What the topmost layer says, as running text.
pub fn text_of_layer(state: &State) -> String {
    running(layers::lines(state, &legible(), LEGIBLE, None))
}

/// What there is to say about a row of the side pane that has a page of its own.
pub fn text_of_row(state: &State, row: PaneRow) -> String {
    let (title, lines) = figure::figure(state, &legible(), LEGIBLE, row);
    format!("{title}. {}", running(lines))
}

/// What there is to say about the option under the cursor.
pub fn text_of_option(state: &State) -> Option<String> {
    words::option(state)
}

/// Columns of lines that are read, not shown: nothing in them is cut.
const LEGIBLE: usize = 200;

/// A pen that leaves letters as they are.
fn legible() -> Pen {
    Pen::new(Colours::None, Glyphs::Unicode)
}

fn running(lines: Vec<Line<'static>>) -> String {
    let lines: Vec<String> = lines.iter().map(ToString::to_string).collect();
    lines.join(" ")
}

/// Lines of a layer between its heading and the line below it.
fn body_of(height: usize) -> usize {
    height.saturating_sub(2)
}

/// Where the terminal's cursor stands: in the field that is being typed in.
fn cursor(state: &State, layout: &Layout) -> Option<Position> {
    let typed = state.typed()?;
    let field = field(state, layout)?;
    let column = text::column_in_view(typed.as_input(), field.width.into());
    Some(Position {
        x: field.x + u16::try_from(column).ok()?,
        y: field.y,
    })
}

/// Where the text of that field stands.
fn field(state: &State, layout: &Layout) -> Option<Rect> {
    // Behind most fields the line is empty.
    let whole = |area: Rect, row: usize, before: usize| {
        let before = u16::try_from(before).ok()?;
        Some(Rect {
            x: area.x + before,
            y: area.y + u16::try_from(row).ok()?,
            width: area.width.saturating_sub(before + 1),
            height: 1,
        })
    };
    let part = |field: Rect, columns: usize| {
        let width = u16::try_from(columns).ok()?;
        Some(Rect { width, ..field })
    };
    let left = layout.left;
    match (state.layers.last(), state.place()) {
        (Some(Layer::Note(..) | Layer::Name(..)), _) => {
            whole(left, layers::FIELD_ROW, layers::FIELD_COLUMN)
        }
        (Some(Layer::Saying(..)), _) => whole(left, interview::FIELD.0, interview::FIELD.1),
        (Some(Layer::Range(..)), _) => {
            whole(left, what_if::sweep::FIELD.0, what_if::sweep::FIELD.1)
        }
        (Some(Layer::WordFind | Layer::FigureFind | Layer::BillFind), _) => {
            whole(left, 1, FIND_COLUMN)
        }
        (Some(Layer::Form(form)), _) => whole(left, form.at + 1, form::COLUMN),
        (Some(Layer::OwnPart(form)), _) => {
            let width = left.width.into();
            let notice = words::notice(state, &bare(state), width).len();
            let body = usize::from(left.height).saturating_sub(1 + notice);
            let line = own_part::cursor_row(state, &bare(state), width, form, body);
            let columns = own_part::field_columns(state, form.rows.get(form.at)?, width);
            part(whole(left, line, own_part::COLUMN)?, columns)
        }
        (Some(Layer::Naming(naming)), _) => {
            whole(left, 1 + usize::from(naming.in_note), variants::COLUMN)
        }
        (Some(Layer::Target(_)), _) => whole(left, 2, seek::COLUMN),
        (None, Place::Number) => {
            let area = layout.options;
            let (pen, choice) = (bare(state), state.choice()?);
            let columns = options::field_columns(state, &pen, area.width.into(), choice);
            part(whole(area, 0, options::FIELD_COLUMN)?, columns)
        }
        (None, Place::Find) => whole(layout.notice, 0, words::FIELD_COLUMN),
        _ => None,
    }
}

fn too_small(composed: &mut Composed, state: &State, pen: &Pen) {
    let area = Rect::from((Position::ORIGIN, state.size));
    let keys = match state.is_unsaved() {
        true => "Other keys do nothing: something is not saved yet.".to_owned(),
        false => {
            let key = state.key_for(Place::Choices, Action::Quit);
            format!("{key} quits; other keys do nothing.")
        }
    };
    let text = format!(
        "This needs {} columns and {} rows; there are {} and {}. Make the window larger: your work is kept. {keys}",
        LEAST.width, LEAST.height, state.size.width, state.size.height
    );
    let lines: Vec<Line> = pen
        .wrap(&text, area.width.into())
        .into_iter()
        .map(Line::from)
        .collect();
    composed.put(area, lines);
}
