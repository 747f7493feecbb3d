//! Help, made from the keymap: what the keys do here, then everywhere.

use ratatui::text::{Line, Span};

use super::paint::Pen;
use super::warnings::Page;
use crate::rules::Severity;
use crate::screen::keymap::{Binding, Place, TABLE, here, keys};
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
    page.part(
        "The side pane",
        "COST: what all parts are likely to cost together, then the range in which that will lie.",
    );
    page.text("RAPIDS: how fast each axis moves without cutting, and what holds it there.");
    page.text("POWER: amperes with everything on at its most, of those that may flow for hours. Wall 1 and wall 2 are the mains circuits, motors is the supply of the motors.");
    page.lines.push(Line::default());
    page.lines
        .push(Line::styled(" All other keys", pen.theme.title));
    for binding in TABLE
        .iter()
        .filter(|binding| !binding.places.contains(&place))
    {
        let places: Vec<&str> = binding.places.iter().map(|place| place.title()).collect();
        row(
            &mut page,
            binding,
            &format!("{} ({})", binding.long, places.join(", ")),
        );
    }
    page.lines
}

fn bindings(page: &mut Page, place: Place) {
    for binding in here(place) {
        row(page, binding, binding.long);
    }
}

fn row(page: &mut Page, binding: &Binding, words: &str) {
    let mut names = keys(binding);
    if text::width(&names) > KEYS - 1 {
        page.lines
            .push(Line::styled(format!("   {names}"), page.pen.theme.key));
        names.clear();
    }
    let room = page.width.saturating_sub(KEYS + 4);
    for (row, line) in text::wrap(words, room).into_iter().enumerate() {
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
