//! One choice over a range: a curve of one figure, or a table of all of them, and the point
//! under the cursor in full. Below the curve marks tell where warnings begin or end.

use ratatui::buffer::Buffer;
use ratatui::layout::Rect;
use ratatui::style::Style;
use ratatui::symbols::Marker;
use ratatui::text::Line;
use ratatui::widgets::Widget as _;
use ratatui::widgets::canvas::{Canvas, Line as Stroke};

use super::{Split, named, row, rule, words};
use crate::build::{Choice, Kind, Value};
use crate::explore::reading::Measure;
use crate::explore::sweep::Sweep;
use crate::explore::told as telling;
use crate::money::show as amounts;
use crate::screen::glyphs::Glyphs;
use crate::screen::state::State;
use crate::screen::text;
use crate::screen::view::paint::Pen;
use crate::units::show;
use crate::words::Words as _;

/// The most columns of a value in the table.
const VALUE: usize = 25;
/// Rows of the curve: at least and at most.
const HIGH: [usize; 2] = [3, 16];
/// Columns of the curve at most.
const WIDE: usize = 100;

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
            return (
                choice.title.to_owned(),
                words(pen, width, why, Style::new()),
            );
        }
        None => return (choice.title.to_owned(), Vec::new()),
    };
    let is_number = matches!(choice.kind, Kind::Number(_) | Kind::Amount);
    let told = told(state, pen, width, choice, at);
    let most = (0..sweep.points.len())
        .map(|place| self::told(state, pen, width, choice, place).len())
        .max()
        .unwrap_or_default();
    if table || !is_number || sweep.points.len() < 2 {
        let split = Split {
            head: heading(pen, state, sweep, width),
            rows: rows(pen, state, sweep, at, width),
            at,
            told,
            most,
        };
        return (choice.title.to_owned(), split.lines(pen, width, height));
    }
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
    lines.extend(words(pen, width, &legend, pen.theme.muted));
    let room = whole.saturating_sub(lines.len());
    let room = room.saturating_sub(1);
    lines.push(rule(pen, width, 0, told.len() > room));
    lines.extend(told.into_iter().take(room));
    (title, lines)
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
    match sweep.points.get(place).map(|point| &point.value) {
        Some(Value::Amount(Some(money))) => amounts::money(money.amount, money.currency),
        Some(value) => sweep.choice.show_short(value, &state.catalogue),
        None => String::new(),
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
const CELLS: [usize; 7] = [7, 5, 5, 5, 6, 7, 5];

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
    let code = state.now.bill.currency.code();
    let names = ["cost", "rapid", "m/min", "", "tip", "removal", "mains"];
    let units = [code, "X", "Y", "Z", "N/µm", "cm³/min", "A"];
    let blank = " ".repeat(value_columns(pen, state, sweep) + 4);
    let room = width.saturating_sub(blank.len());
    [names, units]
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
            cells(pen, telling::row(&point.reading), room),
        );
        row(pen, &text, place == at)
    });
    each.collect()
}

/// The curve, its greatest and least number beside it, and marks below.
fn curve(
    pen: &Pen,
    sweep: &Sweep,
    measure: Measure,
    at: usize,
    (width, high): (usize, usize),
) -> Vec<Line<'static>> {
    let value = |place: usize| sweep.points[place].reading.value(measure);
    let numbers: Vec<(f64, f64)> = (0..sweep.points.len())
        .filter_map(|place| Some((sweep.at(place), value(place)?.number)))
        .collect();
    let digits = (0..sweep.points.len()).find_map(value);
    let digits = digits.map_or(0, |value| value.digits);
    let least = numbers
        .iter()
        .map(|(_, y)| *y)
        .fold(f64::INFINITY, f64::min);
    let most = numbers
        .iter()
        .map(|(_, y)| *y)
        .fold(f64::NEG_INFINITY, f64::max);
    if numbers.len() < 2 || !least.is_finite() || !most.is_finite() {
        return words(
            pen,
            width,
            "Nothing to draw: this machine has no such figure here.",
            Style::new(),
        );
    }
    let labels = [most, least].map(|number| show::number(number, digits));
    let label = labels
        .iter()
        .map(|one| text::width(one))
        .max()
        .unwrap_or_default();
    let wide = width.saturating_sub(label + 4).clamp(1, WIDE);
    let from = sweep.at(0);
    let to = sweep.at(sweep.points.len() - 1);
    let drawn = strokes(pen, &numbers, (from, to), (least, most), (wide, high));
    let last = high.saturating_sub(1);
    let mut lines: Vec<Line> = drawn
        .into_iter()
        .enumerate()
        .map(|(place, drawn)| {
            let text = match place {
                // A flat line lies in the middle.
                place if most <= least && place != high / 2 => "",
                place if most <= least && place == high / 2 => labels[0].as_str(),
                0 => labels[0].as_str(),
                place if place == last => labels[1].as_str(),
                _ => "",
            };
            Line::from(format!(
                " {} {}{drawn}",
                pen.right(text, label),
                pen.glyphs.down()
            ))
        })
        .collect();
    let column = |place: usize| {
        let share = (sweep.at(place) - from) / (to - from).max(f64::MIN_POSITIVE);
        (share * (wide - 1) as f64).round() as usize
    };
    let mut marks: Vec<char> = vec![' '; wide];
    for turn in &sweep.turns {
        if let Some(mark) = marks.get_mut(column(turn.point)) {
            *mark = '!';
        }
    }
    if let Some(mark) = marks.get_mut(column(at)) {
        *mark = if *mark == '!' { '#' } else { '^' };
    }
    let marks: String = marks.into_iter().collect();
    let blank = " ".repeat(label + 1);
    lines.push(Line::styled(format!("{blank}  {marks}"), pen.theme.marked));
    lines
}

/// The curve as rows of characters: dots of a raster where the terminal has them.
fn strokes(
    pen: &Pen,
    numbers: &[(f64, f64)],
    x: (f64, f64),
    (least, most): (f64, f64),
    (wide, high): (usize, usize),
) -> Vec<String> {
    let size = |cells: usize| u16::try_from(cells).unwrap_or(u16::MAX);
    let area = Rect::new(0, 0, size(wide), size(high));
    let mut buffer = Buffer::empty(area);
    // A flat line is drawn in the middle.
    let rim = if most > least { 0.0 } else { 1.0 };
    let marker = match pen.glyphs {
        Glyphs::Unicode => Marker::Braille,
        Glyphs::Ascii => Marker::Dot,
    };
    Canvas::default()
        .marker(marker)
        .x_bounds([x.0, x.1])
        .y_bounds([least - rim, most + rim])
        .paint(|context| {
            for pair in numbers.windows(2) {
                if let [(x1, y1), (x2, y2)] = *pair {
                    let color = ratatui::style::Color::Reset;
                    context.draw(&Stroke {
                        x1,
                        y1,
                        x2,
                        y2,
                        color,
                    });
                }
            }
        })
        .render(area, &mut buffer);
    let rows = (0..area.height).map(|y| {
        let cells = (0..area.width).map(|x| match buffer[(x, y)].symbol() {
            // Braille without dots is no blank in every typeface.
            "\u{2800}" => " ",
            "•" if pen.glyphs == Glyphs::Ascii => "*",
            symbol => symbol,
        });
        cells.collect::<String>().trim_end().to_owned()
    });
    rows.collect()
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
    let now = choice.show_short(&(choice.get)(state.build()), &state.catalogue);
    let title = format!("{}: {}, now {now}", choice.title, value(state, sweep, at));
    let mut lines = words(pen, width, &title, pen.theme.title);
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
    lines.extend(words(pen, width, &figures, Style::new()));
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
