//! Figures as bars: the torque of a motor over its speed, and lists with a bar for each. The
//! number stands beside every bar, so neither colour nor length carries anything alone.

use ratatui::style::Style;
use ratatui::text::{Line, Span};

use crate::build::Axis;
use crate::machine::axis::AxisFigures;
use crate::screen::state::State;
use crate::screen::text;
use crate::screen::view::differences::bar;
use crate::screen::view::page::Page;
use crate::screen::view::paint::Pen;
use crate::units::{self, AngularVelocity, Torque, show};

/// Columns of a speed before its bar.
const SPEED: usize = 7;
/// Columns of a torque behind its bar.
const TORQUE: usize = 7;
/// A bar is no longer than this: on a wide page it would only stretch.
const LONGEST: usize = 48;
/// Under so many columns a bar tells nothing.
const SHORTEST: usize = 6;

/// What the motor of an axis may give at each speed, against what speeding the axis up takes.
pub(super) fn torque(page: &mut Page, state: &State, axis: Axis) {
    let figures = &state.now.machine.axes[axis];
    let points = figures.torque_points();
    let top = points
        .iter()
        .map(|point| nm(point.usable))
        .fold(0.0, f64::max);
    let room = page.width.saturating_sub(3 + SPEED + 2 + TORQUE + 1);
    let columns = room.min(LONGEST);
    if top <= 0.0 || columns < SHORTEST {
        return;
    }
    let needed = nm(figures.needed_torque);
    let (mark, here) = (page.pen.glyphs.down(), working_point(figures));
    let read = page.pen.speller.clone();
    let unit = read.unit("N·m");
    let told = |torque| read.bare(&show::number(torque, 2), "N·m");
    page.part(
        "Torque of one motor over its speed",
        &format!(
            "Bars: what may be used, in {unit}, by rpm. {mark} marks the {} {unit} that speeding up \
             takes; > is where the rapids are.",
            told(needed)
        ),
    );
    let mut rows: Vec<(AngularVelocity, Torque, bool)> = points
        .iter()
        .map(|point| (point.turning, point.usable, false))
        .collect();
    if let Some((turning, usable)) = here {
        let after = |row: &(AngularVelocity, Torque, bool)| row.0 > turning;
        let place = rows.iter().position(after).unwrap_or(rows.len());
        rows.insert(place, (turning, usable, true));
    }
    for (turning, usable, here) in rows {
        let drawn = marked(page.pen, nm(usable) / top, needed / top, columns);
        let style = match here {
            true => page.pen.theme.marked,
            false => Style::new(),
        };
        let speed = show::number(units::rpm::from(turning), 0);
        let line = format!(
            " {} {}  {drawn}{}",
            if here { ">" } else { " " },
            page.pen.right(&speed, SPEED),
            page.pen.right(&told(nm(usable)), TORQUE)
        );
        page.lines.push(Line::styled(line, style));
    }
}

fn nm(torque: Torque) -> f64 {
    units::nm::from(torque)
}

/// Speed of the motor at the rapids, and what it may give there.
fn working_point(figures: &AxisFigures) -> Option<(AngularVelocity, Torque)> {
    let turning = figures.turns_at(figures.rapid);
    let usable = figures.curve.usable(turning);
    turning.is_finite().then_some((turning, usable))
}

/// A bar with a mark at another share; none where that lies beyond the bar's end.
fn marked(pen: &Pen, share: f64, mark: f64, columns: usize) -> String {
    let drawn = bar(pen, share, columns);
    if !(0.0..=1.0).contains(&mark) {
        return drawn;
    }
    let at = ((mark * columns as f64).round() as usize).min(columns.saturating_sub(1));
    let cells = drawn.chars().enumerate().map(|(place, cell)| match place {
        place if place == at => pen.glyphs.down().to_owned(),
        _ => cell.to_string(),
    });
    cells.collect()
}

/// One row of a list with bars.
pub(super) struct Row {
    /// Its name.
    pub(super) name: String,
    /// The number as it is shown.
    pub(super) shown: String,
    /// The share of the longest bar.
    pub(super) share: f64,
}

/// A list with a bar for each row; names as wide as the widest, as long as that leaves a bar.
pub(super) fn bars(page: &mut Page, rows: &[Row]) {
    let widest = |of: fn(&Row) -> &str| {
        let widths = rows.iter().map(|row| text::width(&page.pen.spell(of(row))));
        widths.max().unwrap_or(0)
    };
    let number = widest(|row| &row.shown);
    let most = page.width.saturating_sub(3 + 1 + number + 2 + 1 + SHORTEST);
    let name = widest(|row| &row.name).min(most);
    let columns = page
        .width
        .saturating_sub(3 + name + 1 + number + 2 + 1)
        .min(LONGEST);
    for row in rows {
        let mut line = format!(
            "   {} {}",
            page.pen.left(&row.name, name),
            page.pen.right(&row.shown, number)
        );
        if columns >= SHORTEST {
            line.push_str("  ");
            line.push_str(&bar(page.pen, row.share, columns));
        }
        page.lines.push(Line::from(Span::raw(line)));
    }
}
