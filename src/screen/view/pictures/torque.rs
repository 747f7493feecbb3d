//! What the motor of an axis gives over its speed, what is asked of it, and where its rapids
//! stand on that curve.

use ratatui::style::Style;
use ratatui::text::Line;

use super::legend::{self, Legend};
use super::{MOST, Size, table};
use crate::build::Axis;
use crate::machine::axis::AxisFigures;
use crate::order::Order as _;
use crate::screen::state::State;
use crate::screen::text;
use crate::screen::view::drawing::{Canvas, DOTS, Stroke};
use crate::screen::view::paint::Pen;
use crate::sheets::pictures::torque::{Scale, digits, scale, speeds};
use crate::units::{self, AngularVelocity, Torque, Velocity, show};
use crate::words::Words as _;

/// Marks the working point.
const POINT: &str = "O";
/// Marks where it would be.
const POINT_AFTER: &str = "@";

/// The chart with its legend.
pub(super) fn picture(
    state: &State,
    pen: &Pen,
    (width, rows): Size,
    axis: Axis,
) -> Vec<Line<'static>> {
    let figures = &state.now.machine.axes[axis];
    let columns = legend::left_over(width, 8);
    let size = (columns.min(MOST.0), rows.min(MOST.1 / 2));
    let drawing = chart(pen, (figures, None), size);
    legend::with((width, rows), drawing, |width| {
        let mut legend = Legend::new(pen, width);
        keys(&mut legend, state, pen, axis);
        legend.text("Limits of the rapids, the lowest first:", pen.theme.title);
        for (name, speed) in limits(figures) {
            legend.text(&format!("{speed} {name}"), Style::new());
        }
        legend.lines()
    })
}

/// The limits of an axis and their speeds, the lowest first.
fn limits(figures: &AxisFigures) -> Vec<(&'static str, String)> {
    let mut limits: Vec<_> = figures.limits.iter().collect();
    limits.order_by(|a, b| a.speed.value.total_cmp(&b.speed.value));
    let told = limits.into_iter();
    told.map(|limit| (limit.name.title(), m_per_min(limit.speed)))
        .collect()
}

fn m_per_min(speed: Velocity) -> String {
    format!("{} m/min", show::number(units::m_per_min::from(speed), 1))
}

fn nm(torque: Torque) -> String {
    show::number(units::nm::from(torque), 2)
}

fn rpm(speed: AngularVelocity) -> String {
    show::number(units::rpm::from(speed), 0)
}

/// What each line stands for.
pub(super) fn keys(legend: &mut Legend, state: &State, pen: &Pen, axis: Axis) {
    let figures = &state.now.machine.axes[axis];
    let rapids = format!(
        "Rapids of {}: {}, held by {}",
        axis.title(),
        m_per_min(figures.rapid),
        figures.limited_by.title()
    );
    legend.text(&rapids, pen.theme.marked);
    legend.stroke(
        Stroke::Thick,
        Style::new(),
        "what the motor gives at most: it falls out of step, or for a second or two",
    );
    legend.stroke(
        Stroke::Dashed,
        pen.theme.title,
        "what of it may be used, with a margin",
    );
    let needed = format!(
        "{} N·m needed to speed up at {} m/s²",
        nm(figures.needed_torque),
        show::typed(units::m_per_s2::from(state.build().area.acceleration))
    );
    legend.stroke(Stroke::Dotted, Style::new(), &needed);
    let turning = figures.turns_at(figures.rapid);
    let point = format!(
        "at rapids: {} rpm, where {} N·m may be used",
        rpm(turning),
        nm(figures.curve.usable(turning))
    );
    legend.sign(POINT, pen.theme.marked, &point);
}

/// What would be, in the legend of a chart that shows it.
pub(super) fn keys_after(legend: &mut Legend, pen: &Pen, after: &AxisFigures) {
    let style = pen.theme.good;
    let rapids = format!(
        "after: {}, held by {}",
        m_per_min(after.rapid),
        after.limited_by.title()
    );
    legend.text(&rapids, style);
    legend.stroke(Stroke::After, style, "after: what may be used");
    let point = format!("after: {} rpm", rpm(after.turns_at(after.rapid)));
    legend.sign(POINT_AFTER, style, &point);
}

/// The chart in so many cells, with what would be as another curve.
pub(super) fn chart(
    pen: &Pen,
    (figures, after): (&AxisFigures, Option<&AxisFigures>),
    (columns, rows): Size,
) -> Vec<Line<'static>> {
    let mut of = scale(figures);
    if let Some(after) = after.map(scale) {
        of = Scale::new(
            of.speed_most.max(after.speed_most),
            of.torque_most.max(after.torque_most),
        );
    }
    let rows = rows.max(5);
    let labels = Labels::of(pen, &of);
    let columns = columns.max(labels.wide + 12);
    let field = Field {
        scale: of,
        left: ((labels.wide + 1) * DOTS.0) as f64,
        right: (columns * DOTS.0) as f64 - 4.0,
        top: DOTS.1 as f64 + 1.0,
        bottom: ((rows - 1) * DOTS.1) as f64 - 2.0,
    };
    let mut canvas = Canvas::new(pen.glyphs, columns, rows);
    field.axes(&mut canvas, &labels, (columns, rows));
    let needed = figures.needed_torque;
    let curve = &figures.curve;
    let mut draw = |figures, stroke, style, of: &dyn Fn(AngularVelocity) -> Torque| {
        field.curve(&mut canvas, figures, (stroke, style), of);
    };
    let plain = Style::new();
    draw(figures, Stroke::Thick, plain, &|at| curve.pull_out(at));
    draw(figures, Stroke::Dashed, pen.theme.title, &|at| {
        curve.usable(at)
    });
    draw(figures, Stroke::Dotted, plain, &|_| needed);
    if let Some(after) = after {
        draw(after, Stroke::After, pen.theme.good, &|at| {
            after.curve.usable(at)
        });
    }
    for (figures, sign, style) in [
        (after, POINT_AFTER, pen.theme.good),
        (Some(figures), POINT, pen.theme.marked),
    ] {
        let Some(figures) = figures else { continue };
        field.point(&mut canvas, figures, sign, style);
    }
    canvas.lines()
}

/// The numbers along both axes, as they stand on the grid.
struct Labels {
    torques: Vec<String>,
    speeds: Vec<String>,
    unit: String,
    /// Columns of the widest torque.
    wide: usize,
}

impl Labels {
    fn of(pen: &Pen, scale: &Scale) -> Self {
        let (speeds, torques) = scale.steps();
        let each = |count: u32, step: f64| {
            let marks = (0..=count).map(move |place| step * f64::from(place));
            marks
                .map(|mark| show::number(mark, digits(step)))
                .collect::<Vec<_>>()
        };
        let torques: Vec<String> = each(torques, scale.torque_step)
            .iter()
            .map(|mark| pen.speller.bare(mark, "N·m"))
            .collect();
        let speeds = each(speeds, scale.speed_step);
        let unit = pen.spell(pen.speller.unit("N·m"));
        let widths = torques.iter().chain([&unit]).map(|one| text::width(one));
        Self {
            wide: widths.max().unwrap_or(0),
            speeds: speeds.iter().map(|mark| pen.spell(mark)).collect(),
            torques,
            unit,
        }
    }
}

/// Where the chart lies, in dots.
struct Field {
    scale: Scale,
    left: f64,
    right: f64,
    top: f64,
    bottom: f64,
}

impl Field {
    fn at(&self, speed: f64, torque: f64) -> (f64, f64) {
        let (along, up) = self.scale.shares(speed, torque);
        let x = self.left + (self.right - self.left) * along;
        (x, self.bottom - (self.bottom - self.top) * up)
    }

    fn axes(&self, canvas: &mut Canvas, labels: &Labels, (columns, rows): Size) {
        let style = Style::new();
        let corner = (self.left, self.bottom);
        canvas.line((self.left, self.top), corner, Stroke::Plain, style);
        canvas.line(corner, (self.right, self.bottom), Stroke::Plain, style);
        canvas.word((0, 0), &labels.unit, style);
        let row = |y: f64| (y / DOTS.1 as f64).max(0.0) as usize;
        let mut free = rows;
        for (place, label) in labels.torques.iter().enumerate() {
            let torque = self.scale.torque_step * place as f64;
            let (x, y) = self.at(0.0, torque);
            // In a low chart not every mark has a row of its own.
            if row(y) >= free || row(y) == 0 {
                continue;
            }
            free = row(y);
            canvas.line((x - 1.0, y), (x, y), Stroke::Plain, style);
            let column = labels.wide.saturating_sub(text::width(label));
            canvas.word((column, row(y)), label, style);
        }
        let unit = "rpm";
        let last = columns.saturating_sub(unit.len());
        canvas.word((last, rows - 1), unit, style);
        let mut free = 0;
        for (place, label) in labels.speeds.iter().enumerate() {
            let speed = self.scale.speed_step * place as f64;
            let (x, y) = self.at(speed, 0.0);
            let long = text::width(label);
            let column = ((x / DOTS.0 as f64) as usize).saturating_sub(long / 2);
            if column < free || column + long >= last {
                continue;
            }
            free = column + long + 1;
            canvas.line((x, y), (x, y + 1.0), Stroke::Plain, style);
            canvas.word((column, rows - 1), label, style);
        }
    }

    fn curve(
        &self,
        canvas: &mut Canvas,
        figures: &AxisFigures,
        (stroke, style): (Stroke, Style),
        of: &dyn Fn(AngularVelocity) -> Torque,
    ) {
        let points: Vec<(f64, f64)> = speeds(figures)
            .into_iter()
            .map(|speed| self.at(units::rpm::from(speed), units::nm::from(of(speed))))
            .collect();
        // A straight line is drawn in one go, or its dots would bunch.
        let flat = points.iter().all(|point| point.1 == self.at(0.0, 0.0).1);
        let same = points.windows(2).all(|pair| pair[0].1 == pair[1].1);
        if let (true, false, Some(first), Some(last)) = (same, flat, points.first(), points.last())
        {
            canvas.line(*first, *last, stroke, style);
            return;
        }
        let mut along = 0.0;
        for pair in points.windows(2) {
            let [from, to] = [pair[0], pair[1]];
            canvas.stretch(from, to, (stroke, along), style);
            along += (to.0 - from.0).abs().max((to.1 - from.1).abs());
        }
    }

    fn point(&self, canvas: &mut Canvas, figures: &AxisFigures, sign: &str, style: Style) {
        let turning = units::rpm::from(figures.turns_at(figures.rapid));
        if !turning.is_finite() {
            return;
        }
        let (x, y) = self.at(turning, units::nm::from(figures.needed_torque));
        canvas.line((x, self.bottom), (x, y), Stroke::Plain, style);
        let cell = |at: f64, dots: usize| (at / dots as f64).max(0.0) as usize;
        canvas.word((cell(x, DOTS.0), cell(y, DOTS.1)), sign, style);
    }
}

/// The same numbers as a table.
pub(super) fn table(state: &State, pen: &Pen, width: usize, axis: Axis) -> Vec<Line<'static>> {
    let figures = &state.now.machine.axes[axis];
    let unit = pen.speller.unit("N·m").to_owned();
    let told = |torque| pen.speller.bare(&nm(torque), "N·m");
    let points = figures.torque_points();
    let rows = points.iter().map(|point| {
        vec![
            format!("{} rpm", rpm(point.turning)),
            told(point.available),
            told(point.usable),
            told(point.accelerating),
        ]
    });
    let rows: Vec<Vec<String>> = rows.collect();
    let heads = ["At", "at most", "may be used", "needed"];
    let mut lines = vec![Line::styled(
        pen.cut(&format!(" Torque of one motor, in {unit}"), width),
        pen.theme.title,
    )];
    lines.extend(table::table(pen, width, &heads, &rows));
    let turning = figures.turns_at(figures.rapid);
    let mut rows = vec![
        vec![
            "Motor at the rapids".to_owned(),
            format!("{} rpm", rpm(turning)),
        ],
        vec![
            "Torque that may be used there".to_owned(),
            format!("{} N·m", nm(figures.curve.usable(turning))),
        ],
    ];
    rows.extend(
        limits(figures)
            .into_iter()
            .map(|(name, speed)| vec![format!("Limit: {name}"), speed]),
    );
    lines.extend(table::table(
        pen,
        width,
        &["Rapids", &m_per_min(figures.rapid)],
        &rows,
    ));
    lines
}
