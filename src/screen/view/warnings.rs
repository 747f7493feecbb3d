//! The list of warnings, and one warning in full.

use ratatui::text::{Line, Span};

use super::figures::in_words;
use super::paint::{Pen, under_cursor};
use crate::money::show as amounts;
use crate::rules::{self, Finding};
use crate::screen::options::named;
use crate::screen::state::State;
use crate::screen::text;
use crate::screen::theme::mark;
use crate::words::Words;

/// A finding in a few words: the title of its rule, and the axis.
pub(super) fn short(finding: &Finding) -> String {
    let title = rules::find(finding.rule).map_or(finding.rule, |rule| rule.title);
    match finding.axis {
        Some(axis) => format!("{}: {title}", axis.title()),
        None => title.to_owned(),
    }
}

/// Every finding, worst first, two lines for the one under the cursor; only those in view
/// where a height is given.
pub(super) fn list(
    state: &State,
    pen: &Pen,
    width: usize,
    cursor: usize,
    height: Option<usize>,
) -> Vec<Line<'static>> {
    let findings = &state.now.findings;
    if findings.is_empty() {
        return vec![Line::from(" Nothing to warn of.")];
    }
    let mut blocks: Vec<Vec<Line>> = Vec::new();
    for (place, finding) in findings.iter().enumerate() {
        blocks.push(block(pen, finding, width, place == cursor));
    }
    let mut first = 0;
    if let Some(height) = height {
        let rows = |from: usize| blocks[from..=cursor].iter().map(Vec::len).sum::<usize>();
        while first < cursor && rows(first) > height {
            first += 1;
        }
    }
    blocks.into_iter().skip(first).flatten().collect()
}

fn block(pen: &Pen, finding: &Finding, width: usize, here: bool) -> Vec<Line<'static>> {
    let style = if finding.counts() {
        pen.theme.severity(finding.severity)
    } else {
        pen.theme.muted
    };
    let word = match &finding.accepted {
        Some(_) => format!("{}, accepted", finding.severity.title()),
        None => finding.severity.title().to_owned(),
    };
    let arrow = if here { ">" } else { " " };
    let head = vec![
        Span::raw(arrow),
        Span::styled(format!("{:<2} ", mark(finding.severity)), style),
        Span::styled(format!("{word} "), style),
        Span::raw(pen.left(
            &short(finding),
            width.saturating_sub(5 + text::width(&word)),
        )),
    ];
    let head = Line::from(head);
    if !here {
        return vec![head];
    }
    let mut lines = vec![under_cursor(head, pen.theme.selected)];
    let message = pen.wrap(&finding.message, width.saturating_sub(5));
    lines.extend(
        message
            .into_iter()
            .map(|line| Line::from(format!("    {line}"))),
    );
    lines
}

/// One warning: what, why, where from, what to do.
pub(super) fn whole(state: &State, pen: &Pen, width: usize, place: usize) -> Vec<Line<'static>> {
    let Some(finding) = state.now.findings.get(place) else {
        return vec![Line::from(" This warning is gone.")];
    };
    let mut page = Page {
        pen,
        width,
        lines: Vec::new(),
    };
    let word = finding.severity.word();
    page.lines.push(Line::from(vec![
        Span::styled(
            format!(" {} {}", mark(finding.severity), word.title),
            pen.theme.severity(finding.severity),
        ),
        Span::styled(
            format!(
                "  {}",
                pen.cut(
                    &short(finding),
                    width.saturating_sub(6 + text::width(word.title))
                )
            ),
            pen.theme.marked,
        ),
    ]));
    page.text(&finding.message);
    if let Some(note) = &finding.accepted {
        let note = if note.is_empty() { "no note" } else { note };
        page.part("Accepted", note);
    }
    if let Some(rule) = rules::find(finding.rule) {
        page.part("Why it matters", rule.because);
        page.part("What to do instead", rule.instead);
        remedy(&mut page, state);
        choices(&mut page, state);
        page.part("What is watched", rule.watches);
        page.part("Where it comes from", rule.from);
    }
    page.part(
        "What the word means",
        &format!("{}: {}", word.title, word.plain),
    );
    page.lines
}

/// The changes that would lift the warning, and what they bring.
fn remedy(page: &mut Page, state: &State) {
    if state.remedy.is_empty() {
        page.part(
            "By one key",
            "No choice was found that lifts it without bringing something as bad.",
        );
        return;
    }
    let mut changes = Vec::new();
    for edit in &state.remedy {
        let before = (edit.choice.get)(state.build());
        let (from, to) = (
            named(edit.choice, &before, &state.catalogue),
            named(edit.choice, &edit.value, &state.catalogue),
        );
        changes.push(format!("{}: {from} -> {to}", edit.choice.title));
    }
    page.part("By one key, f", &changes.join("; "));
    if let Some(effect) = &state.preview {
        let price = match amounts::change(effect.price) {
            same if same == "same" => "the cost stays the same".to_owned(),
            change => format!("{change} {}", effect.after.bill.currency),
        };
        let words = in_words(&effect.added, &effect.lifted);
        page.text(&format!("That changes: {price}; {words}."));
    }
}

/// Which choices it is about, and the key that goes there.
fn choices(page: &mut Page, state: &State) {
    let all = state.choices_of_finding();
    let Some(first) = state.choice_of_finding() else {
        return;
    };
    let names: Vec<&str> = all.iter().map(|choice| choice.title).collect();
    let step = first.step;
    page.part(
        "Choices that it is about",
        &format!(
            "{}. The key g goes to {}, in step {}, {}.",
            names.join(", "),
            first.title,
            step.index() + 1,
            step.title()
        ),
    );
}

/// Lines of a page, paragraph by paragraph.
pub(super) struct Page<'a> {
    pub(super) pen: &'a Pen,
    pub(super) width: usize,
    pub(super) lines: Vec<Line<'static>>,
}

impl Page<'_> {
    /// A paragraph.
    pub(super) fn text(&mut self, words: &str) {
        let lines = self.pen.wrap(words, self.width.saturating_sub(4));
        self.lines.extend(
            lines
                .into_iter()
                .map(|line| Line::from(format!("   {line}"))),
        );
    }

    /// A paragraph with a heading.
    pub(super) fn part(&mut self, title: &str, words: &str) {
        self.lines.push(Line::default());
        self.lines
            .push(Line::styled(format!(" {title}"), self.pen.theme.title));
        self.text(words);
    }
}
