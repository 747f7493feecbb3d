//! What stands behind a row of the side pane: all that holds an axis back, all that gives
//! under a force, what each material allows, and all that hangs on a mains circuit.

use ratatui::text::Line;

use super::page::Page;
use super::paint::Pen;
use super::what_if::UNDER_WAY;
use crate::assessment::Assessment;
use crate::build::Axis;
use crate::build::choices::control::OnCircuit;
use crate::explore::question;
use crate::explore::told as telling;
use crate::order::Order as _;
use crate::rules::Finding;
use crate::screen::action::Action;
use crate::screen::keymap::Place;
use crate::screen::state::{PaneRow, State};
use crate::screen::theme::mark;
use crate::units::{self, show};
use crate::words::Words;

mod able;
mod plot;

/// Title and lines of the page behind a row.
pub(super) fn figure(
    state: &State,
    pen: &Pen,
    width: usize,
    row: PaneRow,
) -> (String, Vec<Line<'static>>) {
    match row {
        PaneRow::Axis(of) => (
            format!("Rapids of {}", of.title()),
            axis(state, pen, width, of),
        ),
        PaneRow::Stiffness(of) => (
            format!("Stiffness in {}", of.title()),
            able::stiffness(state, pen, width, of),
        ),
        PaneRow::Cuts => ("What it cuts".to_owned(), able::cuts(state, pen, width)),
        PaneRow::Job => ("The job's time".to_owned(), able::job(state, pen, width)),
        PaneRow::Circuit(which) => (
            "What the circuit carries".to_owned(),
            circuit(state, pen, width, which),
        ),
        // These open pages of their own.
        PaneRow::Cost | PaneRow::Supply | PaneRow::Finding(_) => (String::new(), Vec::new()),
    }
}

/// Every limit of an axis, the one that holds it first, and the warnings about the axis.
fn axis(state: &State, pen: &Pen, width: usize, axis: Axis) -> Vec<Line<'static>> {
    let figures = &state.now.machine.axes[axis];
    let mut page = Page::new(pen, width);
    let speed = |velocity| show::number(units::m_per_min::from(velocity), 1);
    page.lines.push(Line::styled(
        format!(
            " {}: {} m/min, held by {}",
            axis.title(),
            speed(figures.rapid),
            figures.held_by()
        ),
        pen.theme.marked,
    ));
    if let Some(next) = figures.held_next() {
        let (first, next, at) = (figures.held_by(), next.told(), speed(next.speed));
        page.text(&match at == speed(figures.rapid) {
            true => format!("{next} holds it at {at} m/min as well: what helps must lift both."),
            false => format!(
                "With {first} lifted on this drive, {next} would hold it next, at {at} m/min."
            ),
        });
    }
    let wanted = speed(state.build().area.wanted_rapids(axis));
    page.text(
        &match question::reaches_wish(state.build(), &state.now, axis) {
            true => format!("You want {wanted} m/min, and the controller is set to that: it has as much, so it need not be faster."),
            false => format!("You want {wanted} m/min: it falls short of that."),
        },
    );
    cures(&mut page, state, axis);
    page.part("What holds it", "The lowest of these holds it. To be faster, change what the lowest is about; the next one then holds.");
    let mut limits = figures.limits.clone();
    limits.order_by(|a, b| a.speed.value.total_cmp(&b.speed.value));
    for limit in limits {
        page.part(
            &format!("{} m/min  {}", speed(limit.speed), limit.told()),
            limit.name.word().plain,
        );
    }
    plot::torque(&mut page, state, axis);
    let about = |finding: &&Finding| finding.axis == Some(axis);
    findings(&mut page, state.now.findings.iter().filter(about));
    page.lines
}

/// What makes an axis faster, the cheapest first, and the key that takes one of them.
fn cures(page: &mut Page, state: &State, axis: Axis) {
    let question = question::faster(axis);
    let Some(answer) = state.what_if.answer(question, &state.now) else {
        page.part("What makes it faster", UNDER_WAY);
        return;
    };
    if answer.alternatives.is_empty() {
        page.part("What makes it faster", &answer.apart);
        return;
    }
    let key = state.keymap.key_of(Place::Figure, Action::Enter);
    let key = key.map(|key| key.to_string()).unwrap_or_default();
    let text = format!(
        "One part, or several together, the cheapest first. {key} shows what each loses, and takes one."
    );
    page.part("What makes it faster", &text);
    for one in &answer.alternatives {
        let after = &one.trial.after;
        let price = telling::price(one.trial.price, after.bill.currency);
        let speed = |of: &Assessment| {
            let rapid = units::m_per_min::from(of.machine.axes[axis].rapid);
            show::number(rapid, 1)
        };
        let rapid = format!("{} -> {}", speed(&state.now), speed(after));
        let new = match telling::warned(&one.trial.added).as_slice() {
            [] => String::new(),
            each => format!("; brings {}", each.join(", ")),
        };
        let lost = telling::lost(state.build(), &one.trial.edits).into_iter();
        let lost: String = lost.map(|lost| format!(" Given up: {lost}")).collect();
        let reaches = match question::brings_to_wish(question, state.build(), &state.now, after) {
            true => ": it reaches what you want",
            false => "",
        };
        page.text(&format!(
            "{}. {rapid} m/min{reaches}, {price}{new}.{lost}",
            one.title
        ));
    }
}

/// Every load of a circuit, in usual work and at most.
fn circuit(state: &State, pen: &Pen, width: usize, which: OnCircuit) -> Vec<Line<'static>> {
    let mut circuits = state.now.machine.electrics.circuits.iter();
    let Some(circuit) = circuits.find(|circuit| circuit.which == which) else {
        return vec![Line::from(" This circuit is gone.")];
    };
    let mut page = Page::new(pen, width);
    let amps = |current| format!("{} A", show::number(units::a::from(current), 1));
    page.lines.push(Line::styled(
        format!(
            " {}: {} V, breaker of {}",
            circuit.which.title(),
            show::number(units::v::from(circuit.volts), 0),
            amps(circuit.breaker)
        ),
        pen.theme.marked,
    ));
    page.text(&format!(
        "Of that, {} may flow for hours; the rest is a margin.",
        amps(circuit.allowed)
    ));
    page.lines.push(Line::default());
    let (usual, most) = (9, 9);
    let name = width.saturating_sub(3 + usual + most + 1);
    let row = |title: &str, typical: &str, full: &str| {
        format!(
            "   {}{}{}",
            pen.left(title, name),
            pen.right(typical, usual),
            pen.right(full, most)
        )
    };
    page.lines.push(Line::styled(
        row("What hangs on it", "usually", "at most"),
        pen.theme.title,
    ));
    for load in &circuit.loads {
        page.lines.push(Line::from(row(
            load.name.title(),
            &amps(load.current.typical),
            &amps(load.current.full),
        )));
    }
    page.lines.push(Line::styled(
        row("In all", &amps(circuit.typical()), &amps(circuit.full())),
        pen.theme.marked,
    ));
    page.lines
}

/// The warnings that belong to it.
fn findings<'a>(page: &mut Page, findings: impl Iterator<Item = &'a Finding>) {
    let mut first = true;
    for finding in findings {
        if std::mem::take(&mut first) {
            page.lines.push(Line::default());
            page.lines
                .push(Line::styled(" Warnings about it", page.pen.theme.title));
        }
        let style = page.pen.theme.severity(finding.severity);
        let mark = mark(finding.severity);
        let room = page.width.saturating_sub(7);
        let title = page.pen.wrap(&finding.title(), room);
        let lines = title.into_iter().enumerate();
        page.lines.extend(lines.map(|(line, title)| {
            let mark = if line == 0 { mark } else { "" };
            Line::styled(format!("   {mark:<2} {title}"), style)
        }));
    }
}
