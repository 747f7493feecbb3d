//! What matters most: a bar for each free choice, from the least to the greatest that it makes
//! of a figure, and all about the choice under the cursor.

use ratatui::style::Style;
use ratatui::text::Line;

use crate::build::Edit;
use crate::explore::reading::{Measure, Reading};
use crate::explore::told as telling;
use crate::explore::weigh::{Outcome, Weighed, Weighing};
use crate::money::show as amounts;
use crate::screen::state::State;
use crate::screen::text;
use crate::screen::view::paint::Pen;
use crate::screen::view::split::{Split, named, row};
use crate::screen::view::what_if::UNDER_WAY;
use crate::screen::what_if::Order;
use crate::units::show;
use crate::words::Words as _;

/// Columns of a choice's title.
const TITLE: usize = 18;
/// The longest bar.
const LONGEST: usize = 60;
/// What so much money buys is told.
const HUNDRED: f64 = 100.0;

/// The page.
pub(in crate::screen::view) fn page(
    state: &State,
    pen: &Pen,
    width: usize,
    (measure, order, at): (Measure, Order, usize),
    height: Option<usize>,
) -> (String, Vec<Line<'static>>) {
    let title = format!("What matters most: {}", measure.title());
    let Some(weighing) = state.what_if.weighing(&state.now) else {
        return (title, pen.paragraph(UNDER_WAY, width, Style::new()));
    };
    let rows = state.what_if.rows(&state.now, measure, order);
    let now = value(&weighing.before, measure);
    let sorted = match (order, measure) {
        (Order::Reach, _) => "what reaches farthest first",
        (Order::Worth, Measure::Cost) => "first what saves most for what the machine loses",
        (Order::Worth, _) => "the most for the money first",
    };
    let about = format!("Now {now}; {sorted}. | now, - less, + more, without dangers or faults.");
    let mut split = Split {
        head: pen.paragraph(&about, width, pen.theme.muted),
        at,
        ..Split::default()
    };
    if rows.is_empty() {
        let none = "No single choice moves it without a danger or a fault.";
        split.rows = pen.paragraph(none, width, Style::new());
        return (title, split.lines(pen, width, height));
    }
    let bars = Bars::of(pen, weighing, &rows, measure, width);
    for (place, weighed) in rows.iter().enumerate() {
        let text = bars.row(pen, &weighing.before, weighed, measure);
        split.rows.push(row(pen, &text, place == at));
    }
    split.told = told(state, pen, width, (measure, order, at));
    split.most = split.told.len();
    (title, split.lines(pen, width, height))
}

/// The scale of all bars.
struct Bars {
    scale: (f64, f64),
    number: usize,
    columns: usize,
}

impl Bars {
    fn of(
        pen: &Pen,
        weighing: &Weighing,
        rows: &[&Weighed],
        measure: Measure,
        width: usize,
    ) -> Self {
        let spans = || {
            rows.iter()
                .filter_map(|row| row.span(&weighing.before, measure))
        };
        let least = spans()
            .map(|span| span.least.0)
            .fold(f64::INFINITY, f64::min);
        let most = spans()
            .map(|span| span.most.0)
            .fold(f64::NEG_INFINITY, f64::max);
        let digits = digits(&weighing.before, measure);
        let unit = weighing.before.value(measure).map_or("", |now| now.unit);
        let told = |number| pen.speller.bare(&show::number(number, digits), unit);
        let shown = [least, most].map(|number| text::width(&told(number)));
        let number = shown.into_iter().max().unwrap_or_default();
        let taken = 2 + TITLE + 2 * (number + 1) + 1;
        Self {
            scale: (least, most),
            number,
            columns: width.saturating_sub(taken + 1).min(LONGEST),
        }
    }

    fn row(&self, pen: &Pen, before: &Reading, weighed: &Weighed, measure: Measure) -> String {
        let digits = digits(before, measure);
        let (Some(now), Some(span)) = (before.value(measure), weighed.span(before, measure)) else {
            return pen.left(weighed.choice.title, TITLE);
        };
        let reach = (span.least.0, span.most.0);
        let told = |number| pen.speller.bare(&show::number(number, digits), now.unit);
        format!(
            "{} {} {} {}",
            pen.left(weighed.choice.title, TITLE),
            pen.right(&told(span.least.0), self.number),
            telling::bar(reach, now.number, self.scale, self.columns),
            pen.right(&told(span.most.0), self.number),
        )
    }
}

fn digits(before: &Reading, measure: Measure) -> usize {
    before.value(measure).map_or(0, |value| value.digits)
}

/// A figure with its unit.
fn value(reading: &Reading, measure: Measure) -> String {
    match (measure, reading.value(measure)) {
        (_, None) => "nothing".to_owned(),
        (Measure::Cost, _) => amounts::money(reading.cost.likely, reading.cost.currency),
        (_, Some(value)) => format!(
            "{} {}",
            show::number(value.number, value.digits),
            value.unit
        ),
    }
}

/// All about the choice under the cursor.
pub(in crate::screen::view) fn told(
    state: &State,
    pen: &Pen,
    width: usize,
    (measure, order, at): (Measure, Order, usize),
) -> Vec<Line<'static>> {
    let rows = state.what_if.rows(&state.now, measure, order);
    let (Some(weighed), Some(weighing)) = (rows.get(at), state.what_if.weighing(&state.now)) else {
        return Vec::new();
    };
    let before = &weighing.before;
    let choice = weighed.choice;
    let name = |value| choice.show_short(value, &state.catalogue);
    let title = format!("{}: now {}", choice.title, name(&weighed.now));
    let mut lines = pen.paragraph(&title, width, pen.theme.title);
    let best = match (order, measure) {
        (Order::Worth, Measure::Cost) => {
            let thrifty = weighed.thriftiest(before);
            thrifty.map(|thrifty| (thrifty.one, thrifty.only_if_owned))
        }
        _ => weighed.best(before, measure).map(|best| (best, false)),
    };
    if let Some((best, only_if_owned)) = best {
        let text = format!(
            "{}: {}",
            name(&best.value),
            match measure {
                Measure::Cost => effect(before, best),
                _ => bettered(pen, before, best, measure),
            }
        );
        lines.extend(named(pen, width, "best", &text));
        if let Some((name, words)) = given_up(before, weighed, best) {
            lines.extend(named(pen, width, name, words));
        }
        if only_if_owned {
            let text = "it saves only if you own one: the work needs it";
            lines.extend(named(pen, width, "but", text));
        }
    }
    let (less, more) = weighed.neighbours(&state.catalogue);
    for (label, one) in [("next less", less), ("next more", more)] {
        if let Some(one) = one {
            let text = format!("{}: {}", name(&one.value), effect(before, one));
            lines.extend(named(pen, width, label, &text));
        }
    }
    if let Some(span) = weighed.span(before, measure) {
        let text = format!("least {}; most {}", name(span.least.1), name(span.most.1));
        lines.extend(named(pen, width, "reach", &text));
    }
    let (bad, all) = (weighed.unsound(), weighed.outcomes.len());
    if bad > 0 {
        let text = format!(
            "{bad} of {all} other options would bring a danger or a fault, unless something goes along with them."
        );
        lines.extend(named(pen, width, "not", &text));
    }
    lines
}

/// What an option takes away that no figure and no warning tells.
fn given_up(before: &Reading, weighed: &Weighed, one: &Outcome) -> Option<telling::Poorer> {
    let saves = one.price.is_sign_negative() && !one.price.is_zero();
    let told = telling::is_worse(before, &one.reading) || !one.added.is_empty();
    let edit = Edit {
        choice: weighed.choice,
        value: one.value.clone(),
    };
    telling::poorer(&edit, &weighed.now, saves && !told)
}

/// By how much an option betters a figure, and for how much money.
fn bettered(pen: &Pen, before: &Reading, one: &Outcome, measure: Measure) -> String {
    let price = telling::price(one.price, one.reading.cost.currency);
    let (Some(value), Some(gain)) = (before.value(measure), one.gain(before, measure)) else {
        return price;
    };
    let sign = if value.more_is_better == Some(false) {
        "-"
    } else {
        "+"
    };
    let gain = show::number(gain, value.digits);
    let worth = match one.worth(before, measure) {
        Some(worth) if worth.is_finite() => {
            let worth = show::number(worth * HUNDRED, value.digits);
            let worth = pen.speller.bare(&worth, value.unit);
            format!(", {worth} for 100 {}", one.reading.cost.currency)
        }
        _ => String::new(),
    };
    format!("{sign}{gain} {}, {price}{worth}", value.unit)
}

/// What an option does to every figure that it moves.
fn effect(before: &Reading, one: &Outcome) -> String {
    let mut parts = vec![telling::price(one.price, one.reading.cost.currency)];
    for &measure in Measure::ALL.iter().filter(|one| **one != Measure::Cost) {
        let (was, is) = (value(before, measure), value(&one.reading, measure));
        if was != is {
            parts.push(format!("{} {was} -> {is}", measure.title()));
        }
    }
    let warned = telling::warned(&one.added);
    if !warned.is_empty() {
        parts.push(format!("brings {}", warned.join(", ")));
    }
    parts.join("; ")
}
