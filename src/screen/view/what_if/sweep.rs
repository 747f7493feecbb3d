//! One choice over a range: a curve of one figure, or a table of all of them, and the point
//! under the cursor in full. Below the curve marks tell where warnings begin or end.

use ratatui::style::Style;
use ratatui::text::Line;

mod curve;

use curve::curve;

use crate::build::{Choice, Kind, Value};
use crate::explore::reading::Measure;
use crate::explore::sweep::{MOST_STEPS, STEPS, Sweep};
use crate::explore::told as telling;
use crate::money::show as amounts;
use crate::screen::options;
use crate::screen::state::State;
use crate::screen::text;
use crate::screen::typed::Typed;
use crate::screen::view::paint::Pen;
use crate::screen::view::split::{Split, named, row, rule};
use crate::units::respell::COMPARED;
use crate::units::show;
use crate::words::Words as _;

/// The most columns of a value in the table.
const VALUE: usize = 25;
/// Rows of the curve: at least and at most.
const HIGH: [usize; 2] = [3, 16];

/// The page.
pub(in crate::screen::view) fn page(
    state: &State,
    pen: &Pen,
    width: usize,
    (choice, measure, table, at): (&Choice, Measure, bool, usize),
    height: Option<usize>,
) -> (String, Vec<Line<'static>>) {
    let sweep = match state.what_if.sweep(choice, &state.now) {
        Some(Ok(sweep)) => sweep,
        Some(Err(why)) => {
            let is_number = matches!(choice.kind, Kind::Number(_) | Kind::Amount);
            let why = match is_number {
                true => format!("{why}: n on this page"),
                false => why.to_owned(),
            };
            return (
                choice.title.to_owned(),
                pen.paragraph(&why, width, Style::new()),
            );
        }
        None => return (choice.title.to_owned(), Vec::new()),
    };
    let is_number = matches!(choice.kind, Kind::Number(_) | Kind::Amount);
    let mut split = Split {
        at,
        ..Split::default()
    };
    for place in 0..sweep.points.len() {
        split.tell(told(state, pen, width, choice, place), place == at);
    }
    if table || !is_number || sweep.points.len() < 2 {
        split.head = heading(pen, state, sweep, width);
        split.rows = rows(pen, state, sweep, at, width);
        return (choice.title.to_owned(), split.lines(pen, width, height));
    }
    let Split { told, most, .. } = split;
    let unit = unit(sweep, measure);
    let title = format!("{} in {unit} over {}", measure.title(), choice.title);
    let whole = height.unwrap_or(HIGH[1] + 3 + told.len());
    // The curve keeps its least height; the text below takes what it needs of the rest.
    let high = whole.saturating_sub(3 + most).clamp(HIGH[0], HIGH[1]);
    let mut lines = curve(pen, sweep, measure, at, (width, high));
    let legend = format!(
        "{} to {}; ^ is here, ! warnings begin or end, # both",
        value(state, sweep, 0),
        value(state, sweep, sweep.points.len() - 1)
    );
    lines.extend(pen.paragraph(&legend, width, pen.theme.muted));
    let room = whole.saturating_sub(lines.len());
    let room = room.saturating_sub(1);
    lines.push(rule(pen, width, 0, told.len() > room));
    lines.extend(told.into_iter().take(room));
    (title, lines)
}

/// Where the field of a range stands: its row, and the columns before it.
pub(in crate::screen::view) const FIELD: (usize, usize) = (1, 4);

/// The field in which a range is typed.
pub(in crate::screen::view) fn range(
    state: &State,
    pen: &Pen,
    width: usize,
    choice: &Choice,
    typed: &Typed,
) -> (String, Vec<Line<'static>>) {
    let room = width.saturating_sub(FIELD.1 + 1);
    let field = Line::from(vec!["  > ".into(), pen.field(typed, room)]);
    let mut lines = vec![field, Line::default()];
    let taken = options::taken(choice, state.now.bill.currency);
    for text in [
        format!("From, to, and into how many steps: 400..1200/16. It takes {taken}."),
        format!("Without a number of steps it is {STEPS}, at most {MOST_STEPS}."),
        "Empty goes back to what is usual: from half of what is chosen to twice as much."
            .to_owned(),
    ] {
        lines.extend(pen.paragraph(&text, width, pen.theme.muted));
    }
    (format!("Range of {}", choice.title), lines)
}

/// The unit of a figure.
fn unit(sweep: &Sweep, measure: Measure) -> String {
    let reading = sweep.points.first().map(|first| &first.reading);
    let unit = reading.and_then(|reading| match measure {
        Measure::Cost => Some(reading.cost.currency.code()),
        _ => Some(reading.value(measure)?.unit),
    });
    unit.unwrap_or_default().to_owned()
}

/// How a point's value is shown.
fn value(state: &State, sweep: &Sweep, place: usize) -> String {
    let point = sweep.points.get(place);
    point.map_or_else(String::new, |point| shown(state, sweep, &point.value))
}

fn shown(state: &State, sweep: &Sweep, value: &Value) -> String {
    match value {
        Value::Amount(Some(money)) => amounts::money(money.amount, money.currency),
        value => sweep.choice.show_short(value, &state.catalogue),
    }
}

/// Columns that the values of all points take.
fn value_columns(pen: &Pen, state: &State, sweep: &Sweep) -> usize {
    let shown = (0..sweep.points.len()).map(|place| pen.spell(&value(state, sweep, place)));
    shown
        .map(|one| text::width(&one))
        .max()
        .unwrap_or_default()
        .min(VALUE)
}

/// Columns of the cells of the table.
const CELLS: [usize; 7] = [7, 6, 5, 5, 6, 7, 5];

/// As many cells as there is room for: the text below the table has them all.
fn cells(pen: &Pen, cells: [String; 7], room: usize) -> String {
    let mut row = String::new();
    for (cell, columns) in cells.iter().zip(CELLS) {
        if text::width(&row) + columns + 1 > room {
            break;
        }
        row.push(' ');
        row.push_str(&pen.right(cell, columns));
    }
    row
}

fn heading(pen: &Pen, state: &State, sweep: &Sweep, width: usize) -> Vec<Line<'static>> {
    let read = &pen.speller;
    let blank = " ".repeat(value_columns(pen, state, sweep) + 4);
    let room = width.saturating_sub(blank.len());
    telling::row_heads(&state.now.bill.currency)
        .map(|row| row.map(|cell| read.unit(cell)))
        .map(|row| {
            Line::from(format!(
                "{blank}{}",
                cells(pen, row.map(str::to_owned), room)
            ))
        })
        .to_vec()
}

fn rows(pen: &Pen, state: &State, sweep: &Sweep, at: usize, width: usize) -> Vec<Line<'static>> {
    let columns = value_columns(pen, state, sweep);
    let room = width.saturating_sub(columns + 4);
    let each = sweep.points.iter().enumerate().map(|(place, point)| {
        let turns = sweep.turns.iter().any(|turn| turn.point == place);
        let mark = if turns { "!" } else { " " };
        let text = format!(
            "{mark} {}{}",
            pen.left(&value(state, sweep, place), columns),
            cells(
                pen,
                pen.speller.cells(telling::row(&point.reading), COMPARED),
                room
            ),
        );
        row(pen, &text, place == at)
    });
    each.collect()
}

/// The point under the cursor in full.
pub(in crate::screen::view) fn told(
    state: &State,
    pen: &Pen,
    width: usize,
    choice: &Choice,
    at: usize,
) -> Vec<Line<'static>> {
    let Some(Ok(sweep)) = state.what_if.sweep(choice, &state.now) else {
        return Vec::new();
    };
    let Some(point) = sweep.points.get(at) else {
        return Vec::new();
    };
    let now = shown(state, sweep, &(choice.get)(state.build()));
    let title = format!("{}: {}, now {now}", choice.title, value(state, sweep, at));
    let mut lines = pen.paragraph(&title, width, pen.theme.title);
    let reading = &point.reading;
    let figures = Measure::ALL.iter().filter_map(|&measure| {
        let value = reading.value(measure)?;
        let unit = match measure {
            Measure::Cost => reading.cost.currency.code(),
            _ => value.unit,
        };
        let number = show::number(value.number, value.digits);
        Some(format!("{} {number} {unit}", measure.title()))
    });
    let figures = figures.collect::<Vec<_>>().join("; ");
    lines.extend(pen.paragraph(&figures, width, Style::new()));
    for (begins, name) in [(true, "begins"), (false, "ends")] {
        let turns = sweep.turns.iter();
        let turns = turns.filter(|turn| turn.point == at && turn.begins == begins);
        let findings: Vec<_> = turns.map(|turn| turn.finding.clone()).collect();
        for words in telling::warned(&findings) {
            lines.extend(named(pen, width, name, &words));
        }
    }
    lines
}
