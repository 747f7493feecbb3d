//! How differences look: before and after, lifted and added warnings.

use ratatui::style::Style;
use ratatui::text::Span;

use super::paint::Pen;
use crate::assessment::FigureValue;
use crate::rules::{Finding, Severity, tally};
use crate::screen::theme::mark;
use crate::units::show;

/// From here on a digit after the point tells nothing, and takes the gap between columns.
const WHOLE: f64 = 1000.0;

/// The number of a figure, without its unit.
pub(super) fn number(figure: &FigureValue) -> String {
    match figure.number.abs() >= WHOLE {
        true => show::number(figure.number, 0),
        false => show::number(figure.number, figure.digits),
    }
}

/// The style of a figure after a change: better, worse, or neither.
pub(super) fn turn(pen: &Pen, before: f64, after: f64, more_is_better: Option<bool>) -> Style {
    match more_is_better {
        Some(more) if before != after => {
            if (after > before) == more {
                pen.theme.good
            } else {
                pen.theme.worse
            }
        }
        _ => Style::new(),
    }
}

/// The worst severity among findings.
fn worst(findings: &[Finding]) -> Option<Severity> {
    findings.iter().map(|finding| finding.severity).min()
}

/// The worst warning added and the worst one lifted, as marks: `+!! -~`.
pub(super) fn marks(pen: &Pen, added: &[Finding], lifted: &[Finding]) -> Vec<Span<'static>> {
    let mut spans = Vec::new();
    if let Some(worst) = worst(added) {
        let style = pen.theme.severity(worst);
        spans.push(Span::styled(format!("+{}", mark(worst)), style));
    }
    if let Some(worst) = worst(lifted) {
        let gap = if spans.is_empty() { "" } else { " " };
        spans.push(Span::styled(
            format!("{gap}-{}", mark(worst)),
            pen.theme.good,
        ));
    }
    spans
}

/// What is added and lifted, in words: `adds 1 danger, lifts 2 cautions`.
pub(super) fn in_words(added: &[Finding], lifted: &[Finding]) -> String {
    let parts: Vec<String> = [("adds", added), ("lifts", lifted)]
        .into_iter()
        .filter(|(_, findings)| !findings.is_empty())
        .map(|(verb, findings)| format!("{verb} {}", tally(findings)))
        .collect();
    match parts.is_empty() {
        true => "the warnings stay the same".to_owned(),
        false => parts.join(", "),
    }
}

/// A bar of so many columns, filled to a share.
pub(super) fn bar(pen: &Pen, share: f64, columns: usize) -> String {
    let filled = (share.clamp(0.0, 1.0) * columns as f64).round() as usize;
    pen.glyphs.full().repeat(filled) + &pen.glyphs.empty().repeat(columns - filled)
}
