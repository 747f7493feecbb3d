//! The side pane answers, without a key: what it costs at the door, what it cuts and how fast,
//! whether the socket carries it, what is worst, and what to do next. It also shows what the
//! thing under the cursor would make of that.

use ratatui::text::{Line, Span};
use rust_decimal::Decimal;

use super::differences::turn;
use super::paint::{Pen, under_cursor};
use crate::assessment::Assessment;
use crate::bill::Bill;
use crate::build::Axis;
use crate::money::show as amounts;
use crate::screen::action::Action;
use crate::screen::keymap::Place;
use crate::screen::next::next;
use crate::screen::state::{PaneRow, State};
use crate::screen::text;
use crate::units::show;
use crate::words::Words;

mod able;
mod listed;
mod power;
mod speeds;

use listed::{least, warnings};
use power::power;
pub(super) use power::{carries, circuit_name, share};
pub(super) use speeds::slowest;
use speeds::{axes, rapids};

/// The whole pane.
pub(super) fn pane(state: &State, pen: &Pen, width: usize, height: usize) -> Vec<Line<'static>> {
    let (now, after) = state.before_after();
    let layout = state.layout();
    let roomy = layout.is_some_and(|layout| layout.says_cuts());
    let tall = layout.is_some_and(|layout| layout.says_all());
    // On a low screen the warnings need the rows that would part the rest.
    let part = |lines: &mut Vec<Line>| {
        if roomy {
            lines.push(Line::default());
        }
    };
    let mut lines = money(state, (now, after), pen, width, tall);
    // Where the rows are that the cursor can stand on.
    let mut rows = vec![(PaneRow::Cost, 0)];
    part(&mut lines);
    let axes_at = |first: usize, row: fn(Axis) -> PaneRow| {
        let axes = Axis::EACH.into_iter().zip(first..);
        axes.map(move |(axis, line)| (row(axis), line))
    };
    rows.extend(axes_at(lines.len() + 1, PaneRow::Axis));
    lines.extend(rapids(now, after, pen, width));
    if tall {
        lines.push(Line::default());
        lines.extend(axes(now, after, pen, width));
        lines.push(Line::default());
        rows.extend(axes_at(lines.len() + 1, PaneRow::Stiffness));
        lines.extend(able::stiffness(now, after, pen, width));
    }
    let circuits = power::drawn(now, after);
    if roomy && state.wishes_material() {
        rows.push((PaneRow::Cuts, lines.len()));
        let below = circuits.len() + BELOW_CUTS + least(state, pen, width);
        let most = height.saturating_sub(lines.len() + below);
        lines.extend(able::cuts(state, (now, after), pen, width, most));
    }
    if tall && let Some(line) = able::job(now, after, pen, width) {
        rows.push((PaneRow::Job, lines.len()));
        lines.push(line);
    }
    part(&mut lines);
    rows.extend(
        circuits
            .iter()
            .zip(lines.len() + 1..)
            .map(|(circuit, line)| (PaneRow::Circuit(circuit.which), line)),
    );
    lines.extend(power((now, after), &circuits, pen, width));
    // The motors' supply ends the block, whatever circuits a preview adds.
    rows.push((PaneRow::Supply, lines.len() - 1));
    part(&mut lines);
    let here = state.pane_row().and_then(|here| {
        let mut rows = rows.iter();
        rows.find(|(row, _)| *row == here).map(|(_, line)| *line)
    });
    foot(state, pen, (width, height), roomy, &mut lines);
    let lines = lines.into_iter().enumerate();
    let marked = lines.map(|(row, line)| match Some(row) == here {
        true => under_cursor(indented(line, ">"), pen.theme.selected),
        false => indented(line, " "),
    });
    marked.collect()
}

/// What it costs; on a tall screen also what to expect, each step, and the first cut.
fn money(
    state: &State,
    (now, after): (&Assessment, Option<&Assessment>),
    pen: &Pen,
    width: usize,
    tall: bool,
) -> Vec<Line<'static>> {
    let mut lines = cost(state, (now, after), pen, width);
    lines.extend(spent(after.unwrap_or(now), pen, width));
    if tall {
        lines.push(expected(after.unwrap_or(now), pen, width));
        lines.extend(by_step(now, after, pen, width));
        lines.push(first_cut(now, after, pen, width));
    }
    lines
}

/// Lines below the row of cuts besides circuits and warnings: the socket, the supply, two that
/// part, what to do next.
const BELOW_CUTS: usize = 5;

/// The warnings, and in the last row, where there is room for it, what to do next.
fn foot(
    state: &State,
    pen: &Pen,
    (width, height): (usize, usize),
    roomy: bool,
    lines: &mut Vec<Line<'static>>,
) {
    let room = height.saturating_sub(lines.len() + usize::from(roomy));
    lines.extend(warnings(state, pen, width, room));
    if roomy {
        lines.resize(height.saturating_sub(1).max(lines.len()), Line::default());
        lines.push(what_next(state, pen, width));
    }
}

/// What to do next, and the key that leads there.
fn what_next(state: &State, pen: &Pen, width: usize) -> Line<'static> {
    const NEXT: &str = "NEXT ";
    let next = next(state);
    let key = next.key.map_or_else(String::new, |key| format!("{key} "));
    let room = width.saturating_sub(2 + NEXT.len() + text::width(&key));
    let fits = |words: &&String| text::width(words) <= room;
    let words = next.words.iter().find(fits).or(next.words.last());
    Line::from(vec![
        Span::styled(NEXT, pen.theme.title),
        Span::styled(key, pen.theme.key),
        Span::raw(words.map_or_else(String::new, |words| pen.cut(words, room))),
    ])
}

/// Whether what is shown is what the remedy of a warning would make of it.
pub(super) fn shows_remedy(state: &State) -> bool {
    state.preview.is_some() && state.finding().is_some()
}

/// That it is so, by the key that makes its changes.
pub(super) fn with_remedy(state: &State) -> String {
    format!("with {}", state.key_for(Place::Warnings, Action::Lift))
}

/// One column between the edge and the text.
fn indented(line: Line<'static>, with: &'static str) -> Line<'static> {
    let mut spans = Vec::with_capacity(1 + line.spans.len());
    spans.push(Span::raw(with));
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

/// A figure before, and where it differs the one after, with an arrow between.
pub(super) fn arrow(before: String, after: Option<String>) -> String {
    match before_after(before, after) {
        (before, Some(after)) => format!("{before} -> {after}"),
        (before, None) => before,
    }
}

/// How the row of an axis begins: its letter and a figure of which more is better, before and
/// after; with the columns that this takes.
fn of_axis(
    pen: &Pen,
    axis: Axis,
    (now, after): (f64, Option<f64>),
    unit: &str,
) -> (Vec<Span<'static>>, usize) {
    let told = |number: f64| pen.speller.bare(&show::number(number, 1), unit);
    let (before, then) = before_after(told(now), after.map(told));
    let head = format!("{} {}", axis.title(), pen.right(&before, 5));
    let mut used = text::width(&head);
    let mut spans = vec![Span::raw(head)];
    if let (Some(then), Some(after)) = (then, after) {
        let text = format!(" -> {}", pen.right(&then, text::width(&then).max(4)));
        used += text::width(&text);
        spans.push(Span::styled(text, turn(pen, now, after, Some(true))));
    }
    (spans, used)
}

fn cost(
    state: &State,
    (now, after): (&Assessment, Option<&Assessment>),
    pen: &Pen,
    width: usize,
) -> Vec<Line<'static>> {
    let before = now.bill.total;
    let currency = now.bill.currency;
    let now = amounts::whole(before.likely);
    let same_currency = after.is_none_or(|after| after.bill.currency == currency);
    let (now, then) = before_after(
        now,
        after.map(|after| amounts::whole(after.bill.total.likely)),
    );
    let mut spans = vec![Span::styled("COST", pen.theme.title)];
    let mut room = width.saturating_sub(6);
    let code = after.map_or(currency, |after| after.bill.currency);
    let figures = match &then {
        Some(then) if same_currency => format!("{now} -> {then} {code}"),
        Some(then) => format!("{now} {currency} -> {then} {code}"),
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
    if text::width(&figures) + AT_DOOR.len() < room {
        spans.push(Span::styled(AT_DOOR, pen.theme.muted));
        room -= AT_DOOR.len();
    }
    spans.push(Span::styled(pen.right(&figures, room), style));
    let shown = after.map_or(before, |after| after.bill.total);
    let range = format!("from {}", amounts::range(shown));
    let label = match shows_remedy(state) {
        true => format!("{}:", with_remedy(state)),
        false if state.shows_pinned() => pinned(&range, width).to_owned(),
        false => String::new(),
    };
    let room = width.saturating_sub(2 + text::width(&label));
    vec![
        Line::from(spans),
        Line::from(vec![
            Span::styled(label, pen.theme.title),
            Span::styled(pen.right(&range, room), pen.theme.muted),
        ]),
    ]
}

/// What the cost has in it, as long as there is room to say so.
const AT_DOOR: &str = " at your door";

/// What says that figures are shown against the pinned variant, as long as there is room.
fn pinned(range: &str, width: usize) -> &'static str {
    let room = width.saturating_sub(3 + text::width(range));
    let texts = ["pinned -> open", "pinned ->"];
    let fits = texts.into_iter().find(|text| text.len() <= room);
    fits.unwrap_or_default()
}

/// What was spent, its share, and what all of it comes to in the end; none before anything was
/// paid.
fn spent(shown: &Assessment, pen: &Pen, width: usize) -> Option<Line<'static>> {
    let bill = &shown.bill;
    if bill.spent.is_zero() {
        return None;
    }
    let share = bill.spent.checked_mul(Decimal::ONE_HUNDRED);
    let share = share.and_then(|share| share.checked_div(bill.forecast));
    let spent = amounts::whole(bill.spent);
    let spent = match share {
        Some(share) => format!("spent {spent}, {} %", amounts::whole(share)),
        None => format!("spent {spent}"),
    };
    let end = amounts::whole(bill.forecast);
    let room = width.saturating_sub(2 + text::width(&spent));
    let texts = [format!("in the end {end}"), format!("end {end}")];
    let fits = texts.iter().find(|end| text::width(end) < room);
    let end = fits.map_or("", String::as_str);
    Some(Line::from(format!("{spent}{}", pen.right(end, room))))
}

/// What of the cost the first cut cannot do without.
fn first_cut(
    now: &Assessment,
    after: Option<&Assessment>,
    pen: &Pen,
    width: usize,
) -> Line<'static> {
    let figures = arrow(
        amounts::whole(now.bill.first_cut),
        after.map(|after| amounts::whole(after.bill.first_cut)),
    );
    let name = pen.left("till first cut", 15);
    let room = width.saturating_sub(17);
    Line::styled(
        format!("{name}{}", pen.right(&figures, room)),
        pen.theme.muted,
    )
}

/// What such a bill comes to on average, and the range that eight of ten stay in.
fn expected(shown: &Assessment, pen: &Pen, width: usize) -> Line<'static> {
    let estimate = &shown.bill.estimate;
    let (low, high) = (amounts::whole(estimate.low), amounts::whole(estimate.high));
    let mean = format!("expect {}", amounts::whole(estimate.expected));
    let room = width.saturating_sub(2 + text::width(&mean));
    let texts = [
        format!("eight of ten {low} to {high}"),
        format!("8 of 10 {low} to {high}"),
    ];
    let fits = texts.iter().find(|range| text::width(range) < room);
    let range = fits.map_or("", String::as_str);
    Line::styled(format!("{mean}{}", pen.right(range, room)), pen.theme.muted)
}

/// What each step costs.
fn by_step(
    now: &Assessment,
    after: Option<&Assessment>,
    pen: &Pen,
    width: usize,
) -> Vec<Line<'static>> {
    let row = |name: &str, of: &dyn Fn(&Bill) -> Decimal| {
        let told = |one: &Assessment| amounts::whole(of(&one.bill));
        let figures = arrow(told(now), after.map(told));
        let name = pen.left(name, 14);
        Line::from(format!(
            "{name}{}",
            pen.right(&figures, width.saturating_sub(16))
        ))
    };
    let steps = now.bill.by_step().iter();
    let steps = steps.map(|&(step, _)| row(step.title(), &|bill| bill.of_step(step).likely));
    steps.collect()
}
