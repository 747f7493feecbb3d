//! The side pane: cost, rapids, power, warnings, and what the thing under the cursor would
//! make of them.

use ratatui::style::Style;
use ratatui::text::{Line, Span};
use uom::si::ratio::ratio;

use super::figures::{bar, counts, turn};
use super::paint::{Pen, under_cursor};
use super::warnings::short;
use crate::assessment::Assessment;
use crate::build::{Axis, Figure};
use crate::machine::electrics::Circuit;
use crate::rules::{Finding, Severity};
use crate::screen::state::{Focus, State, counts as still_counts};
use crate::screen::text;
use crate::screen::theme::mark;
use crate::units::{self, show};
use crate::words::Words;

/// Heading of the warnings.
const WARNINGS: &str = "WARNINGS";

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
    lines.extend(rapids(&state.now, after, pen, width));
    if tall {
        lines.push(Line::default());
        lines.extend(axes(&state.now, after, pen, width));
    }
    lines.push(Line::default());
    lines.extend(power(&state.now, after, pen, width));
    lines.push(Line::default());
    let room = height.saturating_sub(lines.len());
    lines.extend(warnings(state, pen, width, room, tall));
    lines.into_iter().map(indented).collect()
}

/// One column between the edge and the text.
fn indented(line: Line<'static>) -> Line<'static> {
    let mut spans = vec![Span::raw(" ")];
    spans.extend(line.spans.into_iter().map(|span| span.patch_style(line.style)));
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
    let now = show::whole(before.likely);
    let same_currency = after.is_none_or(|after| after.bill.currency == state.now.bill.currency);
    let (now, then) = before_after(now, after.map(|after| show::whole(after.bill.total.likely)));
    let mut spans = vec![Span::styled("COST", pen.theme.title)];
    let code = after.map_or(state.now.bill.currency, |after| after.bill.currency);
    let figures = match &then {
        Some(then) if same_currency => format!("{now} -> {then} {code}"),
        Some(then) => format!("{now} {} -> {then} {code}", state.now.bill.currency),
        None => format!("{now} {code}"),
    };
    let style = match after {
        Some(after) if then.is_some() && same_currency => {
            if after.bill.total.likely < before.likely { pen.theme.good } else { pen.theme.worse }
        }
        _ => pen.theme.marked,
    };
    spans.push(Span::styled(pen.right(&figures, width.saturating_sub(6)), style));
    let shown = after.map_or(before, |after| after.bill.total);
    let range = format!("from {}", show::range(shown));
    vec![Line::from(spans), Line::styled(pen.right(&range, width.saturating_sub(2)), pen.theme.muted)]
}

fn by_step(now: &Assessment, after: Option<&Assessment>, pen: &Pen, width: usize) -> Vec<Line<'static>> {
    let rows = now.bill.by_step().into_iter().map(|(step, sum)| {
        let after = after.map(|after| show::whole(after.bill.of_step(step).likely));
        let (before, then) = before_after(show::whole(sum.likely), after);
        let figures = match then {
            Some(then) => format!("{before} -> {then}"),
            None => before,
        };
        let name = pen.left(step.title(), 14);
        Line::from(format!("{name}{}", pen.right(&figures, width.saturating_sub(16))))
    });
    rows.collect()
}

/// Fastest move of each axis, and what holds it back.
fn rapids(now: &Assessment, after: Option<&Assessment>, pen: &Pen, width: usize) -> Vec<Line<'static>> {
    let mut lines = vec![title(pen, "RAPIDS", "m/min, held by")];
    for (axis, figures) in now.machine.axes.iter() {
        let speed = |assessment: &Assessment| units::m_per_min::from(assessment.machine.axes[axis].rapid);
        let then = after.map(|after| show::number(speed(after), 1));
        let (before, then) = before_after(show::number(speed(now), 1), then);
        let limit = after.map_or(figures.limited_by, |after| after.machine.axes[axis].limited_by);
        let mut spans = vec![Span::raw(format!("{} {}", axis.title(), pen.right(&before, 5)))];
        let mut used = 7;
        if let (Some(then), Some(after)) = (then, after) {
            let style = turn(pen, speed(now), speed(after), Some(true));
            let text = format!(" -> {}", pen.right(&then, 4));
            used += text::width(&text);
            spans.push(Span::styled(text, style));
        }
        spans.push(Span::styled(format!("  {}", pen.cut(limit.title(), width.saturating_sub(used + 3))), pen.theme.muted));
        lines.push(Line::from(spans));
    }
    lines
}

/// A small table of what the axes are.
fn axes(now: &Assessment, after: Option<&Assessment>, pen: &Pen, width: usize) -> Vec<Line<'static>> {
    let column = width.saturating_sub(15) / 3;
    let head = format!("{}{}{}{}", pen.left("AXES", 13), pen.right("X", column), pen.right("Y", column), pen.right("Z", column));
    let rows: [(&str, [Figure; 3]); 3] = [
        ("thrust N", [Figure::ThrustX, Figure::ThrustY, Figure::ThrustZ]),
        ("step µm", [Figure::StepX, Figure::StepY, Figure::StepZ]),
        ("moving kg", [Figure::MassX, Figure::MassY, Figure::MassZ]),
    ];
    let mut lines = vec![Line::styled(head, pen.theme.title)];
    for (name, figures) in rows {
        let mut spans = vec![Span::raw(pen.left(name, 13))];
        for figure in figures {
            let shown = after.unwrap_or(now);
            let (Some(before), Some(value)) = (now.figure(figure), shown.figure(figure)) else { continue };
            let style = turn(pen, before.number, value.number, value.more_is_better);
            spans.push(Span::styled(pen.right(&super::figures::number(&value), column), style));
        }
        lines.push(Line::from(spans));
    }
    lines
}

/// Current of each circuit, and of the motors' supply, against what may flow for hours.
fn power(now: &Assessment, after: Option<&Assessment>, pen: &Pen, width: usize) -> Vec<Line<'static>> {
    let mut lines = vec![title(pen, "POWER", "A at most, of allowed")];
    let circuits = &now.machine.electrics.circuits;
    let of = |assessment: &Assessment, like: &Circuit| {
        let mut all = assessment.machine.electrics.circuits.iter();
        all.find(|circuit| circuit.which == like.which).map(load_of_circuit)
    };
    for circuit in circuits {
        let then = after.map(|after| of(after, circuit).unwrap_or_default());
        lines.push(load(pen, circuit_name(circuit), load_of_circuit(circuit), then, width));
    }
    let new = after.iter().flat_map(|after| &after.machine.electrics.circuits);
    for circuit in new.filter(|new| circuits.iter().all(|old| old.which != new.which)) {
        lines.push(load(pen, circuit_name(circuit), Load::default(), Some(load_of_circuit(circuit)), width));
    }
    let supply = |assessment: &Assessment| {
        let supply = assessment.machine.electrics.supply;
        Load { amps: units::a::from(supply.needed), allowed: units::a::from(supply.rated) }
    };
    lines.push(load(pen, "motors", supply(now), after.map(supply), width));
    lines
}

/// Amperes against what may flow.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
struct Load {
    amps: f64,
    allowed: f64,
}

fn load_of_circuit(circuit: &Circuit) -> Load {
    Load { amps: units::a::from(circuit.full()), allowed: units::a::from(circuit.allowed) }
}

/// The short name of a circuit.
pub(super) fn circuit_name(circuit: &Circuit) -> &'static str {
    match circuit.which {
        crate::build::choices::control::OnCircuit::First => "wall 1",
        crate::build::choices::control::OnCircuit::Second => "wall 2",
    }
}

fn load(pen: &Pen, name: &str, now: Load, after: Option<Load>, width: usize) -> Line<'static> {
    let shown = after.unwrap_or(now);
    let share = if shown.allowed > 0.0 { shown.amps / shown.allowed } else { 0.0 };
    let style = match share {
        over if over > 1.0 => pen.theme.severity(Severity::Fault),
        near if near > 0.9 => pen.theme.severity(Severity::Caution),
        _ => Style::new(),
    };
    let percent = format!("{} %", show::number(share * 100.0, 0));
    let (before, then) =
        before_after(show::number(now.amps, 1), after.map(|after| show::number(after.amps, 1)));
    let text = match then {
        Some(then) => format!("{before} -> {then} of {}", show::number(shown.allowed, 1)),
        None => format!("{before:>4} of {:>4}", show::number(shown.allowed, 1)),
    };
    let mut spans = vec![Span::raw(pen.left(name, 7)), Span::styled(text.clone(), style)];
    let columns = width.saturating_sub(2 + 7 + text::width(&text) + 1 + 6);
    let drawn = if columns >= 4 { bar(pen, share, columns.min(16)) } else { String::new() };
    let gap = width.saturating_sub(2 + 7 + text::width(&text) + text::width(&drawn) + 6);
    spans.push(Span::raw(" ".repeat(gap)));
    spans.push(Span::styled(drawn, style));
    spans.push(Span::styled(pen.right(&percent, 6), style));
    Line::from(spans)
}

/// Counts by severity, what the preview lifts and adds, then the worst ones.
fn warnings(state: &State, pen: &Pen, width: usize, room: usize, tall: bool) -> Vec<Line<'static>> {
    let shown = state.preview.as_ref().map_or(&state.now.findings, |effect| &effect.after.findings);
    let mut lines: Vec<Line> = Vec::new();
    for summary in text::wrap(&format!("{WARNINGS} {}", counts(shown)), width.saturating_sub(2)) {
        lines.push(match summary.strip_prefix(WARNINGS) {
            Some(rest) => Line::from(vec![
                Span::styled(WARNINGS, pen.theme.title),
                Span::raw(rest.to_owned()),
            ]),
            None => Line::from(summary),
        });
    }
    if let Some(effect) = &state.preview {
        for (sign, findings) in [("+", &effect.added), ("-", &effect.lifted)] {
            for finding in findings {
                let style = match sign {
                    "+" => pen.theme.severity(finding.severity),
                    _ => pen.theme.good,
                };
                let text = format!("{sign}{:<2} {}", mark(finding.severity), short(finding));
                lines.push(Line::styled(pen.cut(&text, width.saturating_sub(2)), style));
            }
        }
        if lines.len() > room {
            lines.truncate(room);
        }
        if !(effect.added.is_empty() && effect.lifted.is_empty()) {
            return lines;
        }
    }
    let room = room.saturating_sub(lines.len());
    lines.extend(listed(state, pen, width.saturating_sub(2), room, tall));
    lines
}

/// The findings that fit, worst first; from the cursor's on where keys go to the pane.
fn listed(state: &State, pen: &Pen, width: usize, room: usize, full: bool) -> Vec<Line<'static>> {
    let findings = &state.now.findings;
    let active = state.focus == Focus::Pane && state.layers.is_empty();
    let blocks: Vec<Vec<Line>> = findings
        .iter()
        .enumerate()
        .map(|(place, finding)| block(pen, finding, width, full, active && place == state.pane_cursor))
        .collect();
    // In the pane the cursor's row must be in view: leave out rows above it until it is.
    let mut first = 0;
    if active {
        let height = |from: usize| blocks[from..=state.pane_cursor].iter().map(Vec::len).sum::<usize>();
        while first < state.pane_cursor && height(first) > room {
            first += 1;
        }
    }
    let mut lines: Vec<Line> = Vec::new();
    let mut shown = first;
    for block in &blocks[first..] {
        let rest = blocks.len() - shown;
        let keep_row = usize::from(rest > 1);
        if lines.len() + block.len() + keep_row > room {
            break;
        }
        lines.extend(block.iter().cloned());
        shown += 1;
    }
    if shown < blocks.len() && lines.len() < room {
        lines.push(Line::styled(format!("and {} more", blocks.len() - shown), pen.theme.muted));
    }
    lines
}

fn block(pen: &Pen, finding: &Finding, width: usize, full: bool, here: bool) -> Vec<Line<'static>> {
    let arrow = if here { ">" } else { "" };
    let mark = format!("{arrow}{}", mark(finding.severity));
    let style = if still_counts(finding) { pen.theme.severity(finding.severity) } else { pen.theme.muted };
    let room = width.saturating_sub(4);
    let texts = if full {
        text::wrap(&finding.message, room)
    } else {
        vec![pen.cut(&short(finding), room)]
    };
    let lines = texts.into_iter().enumerate().map(|(row, text)| {
        let mark = if row == 0 { mark.as_str() } else { "" };
        let line = Line::from(vec![Span::styled(format!("{mark:<3}"), style), Span::raw(format!(" {text}"))]);
        if here { under_cursor(line, pen.theme.selected) } else { line }
    });
    lines.collect()
}

/// The slowest axis.
pub(super) fn slowest(assessment: &Assessment) -> Axis {
    let speed = |axis: Axis| units::m_per_min::from(assessment.machine.axes[axis].rapid);
    let mut axes = [Axis::X, Axis::Y, Axis::Z];
    axes.sort_by(|a, b| speed(*a).total_cmp(&speed(*b)));
    axes[0]
}

/// The share of a circuit that is used at most.
pub(super) fn share(circuit: &Circuit) -> f64 {
    circuit.fill().get::<ratio>()
}
