//! The curve of one figure over a range, drawn in dots where the terminal has them.

use ratatui::buffer::Buffer;
use ratatui::layout::Rect;
use ratatui::style::{Color, Style};
use ratatui::symbols::Marker;
use ratatui::text::Line;
use ratatui::widgets::Widget as _;
use ratatui::widgets::canvas::{Canvas, Line as Stroke};

use crate::explore::reading::Measure;
use crate::explore::sweep::Sweep;
use crate::screen::glyphs::Glyphs;
use crate::screen::text;
use crate::screen::view::paint::Pen;
use crate::units::show;

/// Columns of the curve at most.
const WIDE: usize = 100;

/// The curve, its greatest and least number beside it, and marks below.
pub(super) fn curve(
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
        return pen.paragraph(
            "Nothing to draw: this machine has no such figure here.",
            width,
            Style::new(),
        );
    }
    let unit = (0..sweep.points.len())
        .find_map(value)
        .map_or("", |value| value.unit);
    let labels = [most, least].map(|number| {
        let number = show::number(number, digits);
        pen.speller.bare(&number, unit)
    });
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
                    let color = Color::Reset;
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
