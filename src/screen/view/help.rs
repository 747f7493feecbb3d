//! Help, made from the keymap: what the keys do here, then everywhere.

use ratatui::text::{Line, Span};

use super::paint::Pen;
use super::warnings::Page;
use crate::rules::Severity;
use crate::screen::keymap::{Binding, Place, here, keys};
use crate::screen::text;
use crate::screen::theme::mark;
use crate::words::Words;

/// Columns of the keys.
const KEYS: usize = 17;

/// The whole help, for a place first.
pub(super) fn help(pen: &Pen, width: usize, place: Place) -> Vec<Line<'static>> {
    let mut page = Page {
        pen,
        width,
        lines: Vec::new(),
    };
    page.lines.push(Line::styled(
        format!(" Here: {}", place.title()),
        pen.theme.title,
    ));
    page.text(place.word().plain);
    bindings(&mut page, place);
    page.part("The marks", "");
    for &severity in Severity::ALL {
        let text = format!(
            "{:<2} {:<8} {}",
            mark(severity),
            severity.title(),
            severity.word().plain
        );
        page.text(&text);
    }
    page.text("Before a mark, + says that an option adds such a warning, - that it lifts one; of several the worst is shown.");
    page.text("The cost is what is likely; low to high is the range in which it will lie.");
    for &other in Place::ALL.iter().filter(|other| **other != place) {
        page.lines.push(Line::default());
        page.lines.push(Line::styled(
            format!(" In: {}", other.title()),
            pen.theme.title,
        ));
        bindings(&mut page, other);
    }
    page.lines
}

fn bindings(page: &mut Page, place: Place) {
    for binding in here(place) {
        row(page, binding);
    }
}

fn row(page: &mut Page, binding: &Binding) {
    let mut names = keys(binding);
    if text::width(&names) > KEYS - 1 {
        page.lines
            .push(Line::styled(format!("   {names}"), page.pen.theme.key));
        names.clear();
    }
    let room = page.width.saturating_sub(KEYS + 4);
    for (row, line) in text::wrap(binding.long, room).into_iter().enumerate() {
        let name = if row == 0 { names.as_str() } else { "" };
        page.lines.push(Line::from(vec![
            Span::styled(
                format!("   {}", page.pen.left(name, KEYS)),
                page.pen.theme.key,
            ),
            Span::raw(line),
        ]));
    }
}
