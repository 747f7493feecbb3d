//! How fast each axis moves and what holds it there, and a small table of the axes.

use ratatui::style::Style;
use ratatui::text::{Line, Span};

use super::{of_axis, title};
use crate::assessment::Assessment;
use crate::build::{Axis, Figure};
use crate::machine::limits::LimitName;
use crate::order::Order as _;
use crate::screen::text;
use crate::screen::view::differences::{number, turn};
use crate::screen::view::paint::Pen;
use crate::units;
use crate::words::Words;

/// Fastest move of each axis, and what holds it back.
pub(super) fn rapids(
    now: &Assessment,
    after: Option<&Assessment>,
    pen: &Pen,
    width: usize,
) -> Vec<Line<'static>> {
    let head = format!("{}, held by", pen.speller.unit("m/min"));
    let mut lines = vec![title(pen, "RAPIDS", &head)];
    for (axis, figures) in now.machine.axes.iter() {
        let speed =
            |assessment: &Assessment| units::m_per_min::from(assessment.machine.axes[axis].rapid);
        let limit = after.map_or(figures.limited_by, |after| {
            after.machine.axes[axis].limited_by
        });
        let both = (speed(now), after.map(speed));
        let (mut spans, used) = of_axis(pen, axis, both, "m/min");
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
        LimitName::Whirl => "whip",
        LimitName::Nut => "nut",
        LimitName::Motor => "torque",
        LimitName::MotorSpeed => "motor",
        LimitName::ControllerPulses => "controller",
        LimitName::DriverPulses => "driver",
        LimitName::Track => "track",
    }
}

/// A small table of what the axes are.
pub(super) fn axes(
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
    let thrust = [Figure::ThrustX, Figure::ThrustY, Figure::ThrustZ];
    let step = [Figure::StepX, Figure::StepY, Figure::StepZ];
    let mass = [Figure::MassX, Figure::MassY, Figure::MassZ];
    let rows = [
        ("thrust", "N", thrust),
        ("step", "µm", step),
        ("moving", "kg", mass),
    ];
    let mut lines = vec![Line::styled(head, pen.theme.title)];
    for (name, unit, figures) in rows {
        let name = format!("{name} {}", pen.speller.unit(unit));
        let mut spans = vec![Span::raw(pen.left(&name, 13))];
        for figure in figures {
            let shown = after.unwrap_or(now);
            let (Some(before), Some(value)) = (now.figure(figure), shown.figure(figure)) else {
                continue;
            };
            let told = |value| pen.speller.bare(&number(value), unit);
            let (was, will) = (told(&before), told(&value));
            // There is no room for both: the arrow says that it is the one after.
            let (text, style) = match was == will {
                true => (will, Style::new()),
                false => (
                    format!("->{will}"),
                    turn(pen, before.number, value.number, value.more_is_better),
                ),
            };
            spans.push(Span::styled(pen.right(&text, column), style));
        }
        lines.push(Line::from(spans));
    }
    lines
}

/// The slowest axis.
pub(in crate::screen::view) fn slowest(assessment: &Assessment) -> Axis {
    let speed = |axis: Axis| units::m_per_min::from(assessment.machine.axes[axis].rapid);
    let mut axes = Axis::EACH;
    axes.order_by(|a, b| speed(*a).total_cmp(&speed(*b)));
    axes[0]
}
