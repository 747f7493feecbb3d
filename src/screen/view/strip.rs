//! The figures on a narrow screen: one line each for cost, the slowest axis, the fullest
//! circuit and the worst warning.

use ratatui::text::{Line, Span};

use super::paint::{Pen, under_cursor};
use super::pane::{arrow, carries, circuit_name, share, shows_remedy, slowest, with_remedy};
use crate::assessment::Assessment;
use crate::money::show as amounts;
use crate::rules::topics;
use crate::screen::state::{PaneRow, State};
use crate::screen::theme::mark;
use crate::units::{self, show};
use crate::words::Words;

/// The four lines. Where keys go to the pane, the last one is its row.
pub(super) fn strip(state: &State, pen: &Pen, width: usize) -> Vec<Line<'static>> {
    let (now, after) = state.before_after();
    let shown = match shows_remedy(state) {
        true => format!("{}: ", with_remedy(state)),
        false if state.shows_pinned() => "pinned: ".to_owned(),
        false => String::new(),
    };
    let finding = match state.pane_row() {
        Some(PaneRow::Finding(place)) => state.about.topics().get(place),
        _ => None,
    };
    let last = match finding {
        Some(topic) => format!(
            "{} of {}: {} {}",
            state.pane_cursor + 1,
            state.entries_listed().len(),
            state
                .now
                .findings
                .get(topic.first())
                .map_or("", |one| mark(one.severity)),
            topic.title(&state.now.findings)
        ),
        None => warnings(now, after),
    };
    let lines = [
        ("COST", format!("{shown}{}", cost(now, after))),
        ("RAPIDS", rapids(now, after, pen)),
        ("CIRCUITS", power(now, after)),
        ("WARNINGS", last),
    ];
    let count = lines.len();
    let named = lines.into_iter().enumerate().map(|(row, (name, text))| {
        let here = finding.is_some() && row + 1 == count;
        let arrow = if here { ">" } else { " " };
        let line = Line::from(vec![
            Span::styled(format!("{arrow}{name:<9}"), pen.theme.title),
            Span::raw(pen.left(&text, width.saturating_sub(11))),
        ]);
        if here {
            under_cursor(line, pen.theme.selected)
        } else {
            line
        }
    });
    named.collect()
}

fn cost(now: &Assessment, after: Option<&Assessment>) -> String {
    let of = |one: &Assessment| amounts::money(one.bill.total.likely, one.bill.currency);
    // Before and after fill the row by themselves; one figure leaves room for its range.
    match after {
        Some(after) => arrow(of(now), Some(of(after))),
        None => format!("{}, from {}", of(now), amounts::range(now.bill.total)),
    }
}

fn rapids(now: &Assessment, after: Option<&Assessment>, pen: &Pen) -> String {
    let of = |one: &Assessment| {
        let axis = slowest(one);
        let figures = &one.machine.axes[axis];
        (
            axis,
            pen.speller.bare(
                &show::number(units::m_per_min::from(figures.rapid), 1),
                "m/min",
            ),
            figures.limited_by.title(),
        )
    };
    let text = |one: &Assessment| {
        let (axis, speed, _) = of(one);
        format!("{} {speed}", axis.title())
    };
    let (_, _, limit) = of(after.unwrap_or(now));
    format!(
        "slowest {} {}, held by {limit}",
        arrow(text(now), after.map(text)),
        pen.speller.unit("m/min")
    )
}

fn power(now: &Assessment, after: Option<&Assessment>) -> String {
    let text = |one: &Assessment| match one.machine.electrics.fullest() {
        Some(circuit) => format!(
            "{} {} %",
            circuit_name(circuit),
            show::number(share(circuit) * 100.0, 0)
        ),
        None => "no circuit".to_owned(),
    };
    let shown = after.unwrap_or(now);
    let carried = carries(shown);
    // Both have no room here, and the share that follows tells the margin too.
    let words = match shown.lays_circuit() {
        true => carried.short,
        false => carried.words,
    };
    format!("{words}: {}", arrow(text(now), after.map(text)))
}

fn warnings(now: &Assessment, after: Option<&Assessment>) -> String {
    let heads = topics::heads(&after.unwrap_or(now).findings);
    let Some(worst) = heads.first() else {
        return "none".to_owned();
    };
    let alike = heads
        .iter()
        .filter(|finding| finding.severity == worst.severity)
        .count();
    let plural = if alike == 1 { "" } else { "s" };
    let all = arrow(
        topics::heads(&now.findings).len().to_string(),
        after.map(|after| topics::heads(&after.findings).len().to_string()),
    );
    format!(
        "{alike} {}{plural}, {all} in all: {} {}",
        worst.severity.title(),
        mark(worst.severity),
        worst.title()
    )
}
