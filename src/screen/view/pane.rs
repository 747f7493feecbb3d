//! The side pane: cost, rapids, power, warnings, and what the thing under the cursor would
//! make of them.

use ratatui::text::{Line, Span};

use super::figures::turn;
use super::paint::{Pen, under_cursor};
use crate::assessment::Assessment;
use crate::build::{Axis, Figure};
use crate::machine::limits::LimitName;
use crate::money::show as amounts;
use crate::screen::state::{PaneRow, State};
use crate::screen::text;
use crate::units::{self, show};
use crate::words::Words;

mod listed;
mod power;

use listed::warnings;
use power::power;
pub(super) use power::{circuit_name, share};

/// Rows from which on the pane shows more than the least.
const TALL: usize = 30;

/// The whole pane.
pub(super) fn pane(state: &State, pen: &Pen, width: usize, height: usize) -> Vec<Line<'static>> {
    let after = state.preview.as_ref().map(|effect| &effect.after);
    let tall = height >= TALL;
    let mut lines = cost(state, after, pen, width);
    if tall {
        lines.extend(by_step(&state.now, after, pen, width));
    }
    lines.push(Line::default());
    let at = lines.len() + 1;
    lines.extend(rapids(&state.now, after, pen, width));
    let axes_at = |axis: Axis| {
        let order = [Axis::X, Axis::Y, Axis::Z];
        order
            .iter()
            .position(|other| *other == axis)
            .map(|row| at + row)
    };
    if tall {
        lines.push(Line::default());
        lines.extend(axes(&state.now, after, pen, width));
    }
    lines.push(Line::default());
    let circuits_at = lines.len() + 1;
    lines.extend(power(&state.now, after, pen, width));
    lines.push(Line::default());
    let here = match state.pane_row() {
        Some(PaneRow::Axis(axis)) => axes_at(axis),
        Some(PaneRow::Circuit(which)) => {
            let mut circuits = state.now.machine.electrics.circuits.iter();
            let row = circuits.position(|circuit| circuit.which == which);
            row.map(|row| circuits_at + row)
        }
        _ => None,
    };
    let room = height.saturating_sub(lines.len());
    lines.extend(warnings(state, pen, width, room));
    let lines = lines.into_iter().enumerate().map(|(row, line)| {
        if Some(row) == here {
            under_cursor(indented(line, ">"), pen.theme.selected)
        } else {
            indented(line, " ")
        }
    });
    lines.collect()
}

/// Whether what is shown is what the fix of a warning would make of it.
pub(super) fn shows_fix(state: &State) -> bool {
    state.preview.is_some() && state.finding().is_some()
}

/// One column between the edge and the text.
fn indented(line: Line<'static>, with: &'static str) -> Line<'static> {
    let mut spans = vec![Span::raw(with)];
    spans.extend(
        line.spans
            .into_iter()
            .map(|span| span.patch_style(line.style)),
    );
    Line::from(spans)
}

fn title(pen: &Pen, name: &str, rest: &str) -> Line<'static> {
    Line::from(vec![
        Span::styled(name.to_owned(), pen.theme.title),
        Span::styled(format!(" {rest}"), pen.theme.muted),
    ])
}

/// The text of a figure before, and of the one after where it differs.
fn before_after(before: String, after: Option<String>) -> (String, Option<String>) {
    let after = after.filter(|after| *after != before);
    (before, after)
}

fn cost(state: &State, after: Option<&Assessment>, pen: &Pen, width: usize) -> Vec<Line<'static>> {
    let before = state.now.bill.total;
    let now = amounts::whole(before.likely);
    let same_currency = after.is_none_or(|after| after.bill.currency == state.now.bill.currency);
    let (now, then) = before_after(
        now,
        after.map(|after| amounts::whole(after.bill.total.likely)),
    );
    let mut spans = vec![Span::styled("COST", pen.theme.title)];
    let code = after.map_or(state.now.bill.currency, |after| after.bill.currency);
    let figures = match &then {
        Some(then) if same_currency => format!("{now} -> {then} {code}"),
        Some(then) => format!("{now} {} -> {then} {code}", state.now.bill.currency),
        None => format!("{now} {code}"),
    };
    let style = match after {
        Some(after) if then.is_some() && same_currency => {
            if after.bill.total.likely < before.likely {
                pen.theme.good
            } else {
                pen.theme.worse
            }
        }
        _ => pen.theme.marked,
    };
    spans.push(Span::styled(
        pen.right(&figures, width.saturating_sub(6)),
        style,
    ));
    let shown = after.map_or(before, |after| after.bill.total);
    let range = format!("from {}", amounts::range(shown));
    let label = if shows_fix(state) { "with f:" } else { "" };
    let room = width.saturating_sub(2 + label.len());
    vec![
        Line::from(spans),
        Line::from(vec![
            Span::styled(label, pen.theme.title),
            Span::styled(pen.right(&range, room), pen.theme.muted),
        ]),
    ]
}

fn by_step(
    now: &Assessment,
    after: Option<&Assessment>,
    pen: &Pen,
    width: usize,
) -> Vec<Line<'static>> {
    let rows = now.bill.by_step().iter().map(|&(step, sum)| {
        let after = after.map(|after| amounts::whole(after.bill.of_step(step).likely));
        let (before, then) = before_after(amounts::whole(sum.likely), after);
        let figures = match then {
            Some(then) => format!("{before} -> {then}"),
            None => before,
        };
        let name = pen.left(step.title(), 14);
        Line::from(format!(
            "{name}{}",
            pen.right(&figures, width.saturating_sub(16))
        ))
    });
    rows.collect()
}

/// Fastest move of each axis, and what holds it back.
fn rapids(
    now: &Assessment,
    after: Option<&Assessment>,
    pen: &Pen,
    width: usize,
) -> Vec<Line<'static>> {
    let mut lines = vec![title(pen, "RAPIDS", "m/min, held by")];
    for (axis, figures) in now.machine.axes.iter() {
        let speed =
            |assessment: &Assessment| units::m_per_min::from(assessment.machine.axes[axis].rapid);
        let then = after.map(|after| show::number(speed(after), 1));
        let (before, then) = before_after(show::number(speed(now), 1), then);
        let limit = after.map_or(figures.limited_by, |after| {
            after.machine.axes[axis].limited_by
        });
        let mut spans = vec![Span::raw(format!(
            "{} {}",
            axis.title(),
            pen.right(&before, 5)
        ))];
        let mut used = 7;
        if let (Some(then), Some(after)) = (then, after) {
            let style = turn(pen, speed(now), speed(after), Some(true));
            let text = format!(" -> {}", pen.right(&then, 4));
            used += text::width(&text);
            spans.push(Span::styled(text, style));
        }
        let room = width.saturating_sub(used + 3);
        let held_by = match limit.title() {
            fits if text::width(fits) <= room => fits,
            _ => brief(limit),
        };
        spans.push(Span::styled(
            format!("  {}", pen.cut(held_by, room)),
            pen.theme.muted,
        ));
        lines.push(Line::from(spans));
    }
    lines
}

/// A limit in one word, where there is no room for its name.
fn brief(limit: LimitName) -> &'static str {
    match limit {
        LimitName::Whirl => "whirl",
        LimitName::Nut => "nut",
        LimitName::Motor => "torque",
        LimitName::MotorSpeed => "motor",
        LimitName::ControllerPulses => "controller",
        LimitName::DriverPulses => "driver",
        LimitName::Track => "track",
    }
}

/// A small table of what the axes are.
fn axes(
    now: &Assessment,
    after: Option<&Assessment>,
    pen: &Pen,
    width: usize,
) -> Vec<Line<'static>> {
    let column = width.saturating_sub(15) / 3;
    let head = format!(
        "{}{}{}{}",
        pen.left("EACH AXIS", 13),
        pen.right("X", column),
        pen.right("Y", column),
        pen.right("Z", column)
    );
    let rows: [(&str, [Figure; 3]); 3] = [
        (
            "thrust N",
            [Figure::ThrustX, Figure::ThrustY, Figure::ThrustZ],
        ),
        ("step µm", [Figure::StepX, Figure::StepY, Figure::StepZ]),
        ("moving kg", [Figure::MassX, Figure::MassY, Figure::MassZ]),
    ];
    let mut lines = vec![Line::styled(head, pen.theme.title)];
    for (name, figures) in rows {
        let mut spans = vec![Span::raw(pen.left(name, 13))];
        for figure in figures {
            let shown = after.unwrap_or(now);
            let (Some(before), Some(value)) = (now.figure(figure), shown.figure(figure)) else {
                continue;
            };
            let style = turn(pen, before.number, value.number, value.more_is_better);
            spans.push(Span::styled(
                pen.right(&super::figures::number(&value), column),
                style,
            ));
        }
        lines.push(Line::from(spans));
    }
    lines
}

/// The slowest axis.
pub(super) fn slowest(assessment: &Assessment) -> Axis {
    let speed = |axis: Axis| units::m_per_min::from(assessment.machine.axes[axis].rapid);
    let mut axes = [Axis::X, Axis::Y, Axis::Z];
    axes.sort_by(|a, b| speed(*a).total_cmp(&speed(*b)));
    axes[0]
}
