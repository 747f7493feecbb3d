//! What the motor of an axis gives over its speed, and what is asked of it.

use super::Picture;
use super::pen::{At, EDGE, Fill, LINE, Pen, SIZE, SMALL, Stroke, WIDE};
use crate::build::Axis;
use crate::machine::axis::AxisFigures;
use crate::sheets::Paper;
use crate::units::{self, AngularVelocity, Torque, show};
use crate::words::Words as _;

/// Steps of the drawn curves.
const STEPS: u32 = 60;
/// The field of the chart.
const LEFT: f64 = 52.0;
const RIGHT: f64 = WIDE - EDGE - 6.0;
const TOP: f64 = 24.0;
const BOTTOM: f64 = 190.0;

/// The names of the three pictures in a file.
fn id(axis: Axis) -> &'static str {
    match axis {
        Axis::X => "torque-x",
        Axis::Y => "torque-y",
        Axis::Z => "torque-z",
    }
}

/// Draws the chart of an axis.
pub(super) fn picture(paper: &Paper, axis: Axis) -> Picture {
    let figures = &paper.assessment.machine.axes[axis];
    let curve = &figures.curve;
    let mut pen = Pen::new(id(axis));
    let (speeds, scale) = (speeds(figures), scale(figures));
    let needed = figures.needed_torque;
    scale.axes(&mut pen);
    let through = |of: &dyn Fn(AngularVelocity) -> Torque| -> Vec<(f64, f64)> {
        let points = speeds.iter();
        points
            .map(|&speed| scale.at(speed, of(speed)))
            .collect::<Vec<_>>()
    };
    pen.line(&through(&|speed| curve.pull_out(speed)), Stroke::Thick);
    pen.line(&through(&|speed| curve.usable(speed)), Stroke::Dashed);
    pen.line(&through(&|_| needed), Stroke::Dotted);
    let working = figures.turns_at(figures.rapid);
    let point = scale.at(working, needed);
    pen.line(&[(point.0, BOTTOM), point], Stroke::Thin);
    pen.circle(point, 4.5, Fill::Paper);
    pen.circle(point, 1.5, Fill::Dark);
    let next = keys(&mut pen, paper, axis);
    let title = format!("Torque of the {} motor", axis.title());
    let high = next - LINE + 8.0;
    Picture {
        is_scaled: true,
        ..Picture::new(id(axis), &title, about(paper, axis), pen, high)
    }
}

/// The speeds at which the curves of an axis are drawn.
pub fn speeds(figures: &AxisFigures) -> Vec<AngularVelocity> {
    let greatest = units::rpm::from(figures.curve.greatest_speed());
    let speeds = (0..=STEPS).map(|step| greatest * f64::from(step) / f64::from(STEPS));
    speeds.map(units::rpm::of).collect()
}

/// The scale of the chart of an axis: all of its curve, and what is asked of it.
pub fn scale(figures: &AxisFigures) -> Scale {
    let greatest = units::rpm::from(figures.curve.greatest_speed());
    let torques = speeds(figures).into_iter();
    let highest = torques
        .map(|speed| units::nm::from(figures.curve.pull_out(speed)))
        .fold(units::nm::from(figures.needed_torque), f64::max);
    Scale::new(greatest, highest)
}

fn keys(pen: &mut Pen, paper: &Paper, axis: Axis) -> f64 {
    let figures = &paper.assessment.machine.axes[axis];
    let nm = |torque: Torque| show::number(units::nm::from(torque), 2);
    let given = "what it gives before it falls out of step, or for a second or two";
    let y = pen.line_key(BOTTOM + 50.0, Stroke::Thick, given);
    let y = pen.line_key(y, Stroke::Dashed, "what of it may be used");
    let needed = format!(
        "{} N·m: needed to speed up at {} m/s²",
        nm(figures.needed_torque),
        show::typed(units::m_per_s2::from(paper.build.area.acceleration)),
    );
    let y = pen.line_key(y, Stroke::Dotted, &needed);
    pen.circle((EDGE + 13.0, y - 4.0), 4.5, Fill::Paper);
    pen.circle((EDGE + 13.0, y - 4.0), 1.5, Fill::Dark);
    let turning = figures.turns_at(figures.rapid);
    let point = format!(
        "at rapids: {} turns a minute, where {} N·m may be used",
        show::number(units::rpm::from(turning), 0),
        nm(figures.curve.usable(turning))
    );
    pen.lines((EDGE + 33.0, y), SIZE, WIDE - 2.0 * EDGE - 33.0, &point)
}

fn about(paper: &Paper, axis: Axis) -> String {
    let figures = &paper.assessment.machine.axes[axis];
    format!(
        "Rapids of {}: {} m/min, limited by {}.",
        axis.title(),
        show::number(units::m_per_min::from(figures.rapid), 1),
        figures.limited_by.title()
    )
}

/// Speeds in turns a minute and torques in N·m, as places on the sheet.
#[derive(Clone, Copy, Debug)]
pub struct Scale {
    /// From mark to mark on the axis of speeds.
    pub speed_step: f64,
    /// Where that axis ends.
    pub speed_most: f64,
    /// From mark to mark on the axis of torques.
    pub torque_step: f64,
    /// Where that axis ends.
    pub torque_most: f64,
}

impl Scale {
    /// The scale of a chart, by its greatest speed in turns a minute and torque in N·m.
    pub fn new(speed: f64, torque: f64) -> Self {
        let (speed_step, torque_step) = (round_step(speed / 4.0), round_step(torque / 4.0));
        let up = |most: f64, step: f64| (most / step - 1e-9).ceil().max(1.0) * step;
        Self {
            speed_step,
            speed_most: up(speed, speed_step),
            torque_step,
            torque_most: up(torque, torque_step),
        }
    }

    fn at(&self, speed: AngularVelocity, torque: Torque) -> (f64, f64) {
        self.place(units::rpm::from(speed), units::nm::from(torque))
    }

    fn place(&self, speed: f64, torque: f64) -> (f64, f64) {
        let (along, up) = self.shares(speed, torque);
        let x = LEFT + (RIGHT - LEFT) * along;
        let y = BOTTOM - (BOTTOM - TOP) * up;
        (x, y)
    }

    /// The shares of both axes, from 0 to 1, at which a speed and a torque stand.
    pub fn shares(&self, speed: f64, torque: f64) -> (f64, f64) {
        let share = |value: f64, most: f64| (value / most).clamp(0.0, 1.0);
        (
            share(speed, self.speed_most),
            share(torque, self.torque_most),
        )
    }

    /// How many steps the axes of speeds and torques have.
    pub fn steps(&self) -> (u32, u32) {
        (
            steps(self.speed_most, self.speed_step),
            steps(self.torque_most, self.torque_step),
        )
    }

    /// The two axes with their numbers, and hair lines across.
    fn axes(&self, pen: &mut Pen) {
        pen.text((EDGE, TOP - 11.0), At::Start, SMALL, "N·m");
        for place in 0..=steps(self.torque_most, self.torque_step) {
            let torque = self.torque_step * f64::from(place);
            let (left, y) = self.place(0.0, torque);
            pen.line(&[(left, y), (RIGHT, y)], Stroke::Thin);
            let text = show::number(torque, digits(self.torque_step));
            pen.text((left - 5.0, y + 4.0), At::End, SMALL, &text);
        }
        for place in 0..=steps(self.speed_most, self.speed_step) {
            let speed = self.speed_step * f64::from(place);
            let (x, bottom) = self.place(speed, 0.0);
            pen.line(&[(x, bottom), (x, bottom + 4.0)], Stroke::Plain);
            let at = if x > RIGHT - 20.0 {
                At::End
            } else {
                At::Middle
            };
            let text = show::number(speed, digits(self.speed_step));
            let x = if at == At::End { WIDE - EDGE } else { x };
            pen.text((x, bottom + 15.0), at, SMALL, &text);
        }
        let (left, bottom) = self.place(0.0, 0.0);
        pen.line(
            &[(left, TOP), (left, bottom), (RIGHT, bottom)],
            Stroke::Plain,
        );
        let middle = ((LEFT + RIGHT) / 2.0, bottom + 29.0);
        pen.text(middle, At::Middle, SMALL, "turns a minute");
    }
}

/// How many steps a range has; few, since it was rounded up from a handful.
fn steps(most: f64, step: f64) -> u32 {
    let count = (most / step).round();
    if count.is_finite() {
        count.clamp(1.0, 10.0) as u32
    } else {
        1
    }
}

/// The least of 1, 2, 2.5, 5 times a power of ten that is not below a number.
fn round_step(least: f64) -> f64 {
    if !least.is_finite() || least <= 0.0 {
        return 1.0;
    }
    let power = 10f64.powf(least.log10().floor());
    let steps = [1.0, 2.0, 2.5, 5.0, 10.0].map(|step| step * power);
    // A hair of leeway: a step that is met exactly must not be passed over.
    let found = steps.into_iter().find(|step| *step >= least * (1.0 - 1e-9));
    found.unwrap_or(10.0 * power)
}

/// Digits after the point that a step needs.
pub fn digits(step: f64) -> usize {
    [0usize, 1, 2, 3]
        .into_iter()
        .find(|&digits| {
            let shown = step * 10f64.powi(i32::try_from(digits).unwrap_or(0));
            (shown - shown.round()).abs() < 1e-6
        })
        .unwrap_or(4)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn steps_are_round_and_numbers_show_them_whole() {
        assert!((round_step(0.3) - 0.5).abs() < 1e-12);
        assert!((round_step(2.1) - 2.5).abs() < 1e-12);
        assert!((round_step(750.0) - 1000.0).abs() < 1e-9);
        assert!((round_step(0.0) - 1.0).abs() < 1e-12);
        assert_eq!((digits(0.25), digits(0.5), digits(100.0)), (2, 1, 0));
        assert_eq!(steps(4.0, 1.0), 4);
    }
}
