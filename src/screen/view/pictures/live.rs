//! The picture below the lists of a step: the machine to scale while its size is chosen, the
//! torque of an axis while it is driven. What is previewed is drawn in another stroke.

use ratatui::layout::Rect;
use ratatui::text::{Line, Span};

use super::legend::{self, Legend};
use super::{machine, torque};
use crate::build::Axis;
use crate::catalogue::Step;
use crate::screen::origin::axis_of;
use crate::screen::state::State;
use crate::screen::view::drawing::Stroke;
use crate::screen::view::paint::Pen;
use crate::sheets::pictures::seen::Scene;
use crate::words::Words as _;

/// Columns that the legend beside the two views takes at least.
const LEGEND: usize = 25;

/// The lines of the picture.
pub(in crate::screen::view) fn lines(state: &State, pen: &Pen, area: Rect) -> Vec<Line<'static>> {
    let (width, rows) = (usize::from(area.width), usize::from(area.height));
    let size = (width, rows.saturating_sub(1));
    let (title, mut drawn) = match state.step {
        Step::Drive => {
            let axis = axis_in_view(state);
            let title = format!("Torque of a motor of {} over its speed", axis.title());
            (title, driven(state, pen, size, axis))
        }
        _ => (
            "The machine to scale: from above, from the front".to_owned(),
            sized(state, pen, size),
        ),
    };
    drawn.truncate(size.1);
    let heading = pen.heading(&title, width, pen.theme.title);
    std::iter::once(heading).chain(drawn).collect()
}

/// The axis that the choice under the cursor is about; X where it is about none or all.
fn axis_in_view(state: &State) -> Axis {
    state.choice().and_then(axis_of).unwrap_or(Axis::X)
}

fn driven(
    state: &State,
    pen: &Pen,
    (width, rows): (usize, usize),
    axis: Axis,
) -> Vec<Line<'static>> {
    let figures = &state.now.machine.axes[axis];
    let preview = state.preview.as_ref();
    let after = preview.map(|effect| &effect.after.machine.axes[axis]);
    let columns = (width * 3 / 5).min(width.saturating_sub(LEGEND + 4));
    let drawing = torque::chart(pen, (figures, after), (columns, rows));
    legend::with((width, rows), drawing, |width| {
        let mut legend = Legend::new(pen, width);
        torque::keys(&mut legend, state, pen, axis);
        if let Some(after) = after {
            torque::keys_after(&mut legend, pen, after);
        }
        legend.lines()
    })
}

fn sized(state: &State, pen: &Pen, (width, rows): (usize, usize)) -> Vec<Line<'static>> {
    let Some(scene) = state.pictures.now() else {
        return Vec::new();
    };
    let after = state.pictures.after();
    let mut all = vec![&scene.plan, &scene.front];
    all.extend(
        after
            .into_iter()
            .flat_map(|after| [&after.plan, &after.front]),
    );
    let half = (width.saturating_sub(LEGEND + 6) / 2, rows);
    let per_mm = machine::per_mm(&all, half);
    let plan = (&scene.plan, after.map(|after| &after.plan));
    let front = (&scene.front, after.map(|after| &after.front));
    let plan = machine::draw(pen, plan, half, (per_mm, 0));
    let front = machine::draw(pen, front, half, (per_mm, 0));
    let both = side_by_side(plan, front, rows);
    legend::with((width, rows), both, |width| {
        let mut legend = Legend::new(pen, width);
        legend.scale(per_mm);
        reach(&mut legend, pen, scene, false);
        if let Some(after) = after {
            reach(&mut legend, pen, after, true);
        }
        legend.lines()
    })
}

/// Working area and outer size in few words; of what would be, in its own stroke.
fn reach(legend: &mut Legend, pen: &Pen, scene: &Scene, after: bool) {
    let [x, y, _] = scene.travel;
    let area = format!("working area {}", machine::by(x, y));
    let (plan, front) = (&scene.plan.outer, &scene.front.outer);
    let size = machine::by(plan.right - plan.left, plan.high - plan.low);
    let outer = format!(
        "outer size {size}, {} high",
        machine::mm(front.high - front.low)
    );
    if after {
        let text = format!("after: {area}, {outer}");
        legend.stroke(Stroke::After, pen.theme.good, &text);
        return;
    }
    legend.stroke(Stroke::Dashed, pen.theme.title, &area);
    legend.stroke(Stroke::Dotted, pen.theme.muted, &outer);
}

/// Two drawings beside each other, both down to the last row.
fn side_by_side(
    left: Vec<Line<'static>>,
    right: Vec<Line<'static>>,
    rows: usize,
) -> Vec<Line<'static>> {
    let wide = left.iter().map(Line::width).max().unwrap_or(0);
    let high = left.len().max(right.len()).min(rows);
    // The sizes below stand in one row.
    let mut left = lowered(left, high).into_iter();
    let mut right = lowered(right, high).into_iter();
    (0..high)
        .map(|_| {
            let mut line = left.next().unwrap_or_default();
            let gap = (wide + 2).saturating_sub(line.width());
            line.spans.push(Span::raw(" ".repeat(gap)));
            line.spans
                .extend(legend::spans(right.next().unwrap_or_default()));
            line
        })
        .collect()
}

fn lowered(drawing: Vec<Line<'static>>, high: usize) -> Vec<Line<'static>> {
    let above = high.saturating_sub(drawing.len());
    let blank = std::iter::repeat_n(Line::default(), above);
    blank.chain(drawing).collect()
}
