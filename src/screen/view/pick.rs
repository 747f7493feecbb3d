//! A list from which the status or the supplier of a line is picked.

use ratatui::text::Line;

use super::entry::NAME;
use super::paint::{Pen, under_cursor};
use crate::build::purchases::Status;
use crate::screen::ledger::{Asked, Entry};
use crate::screen::state::{PickOf, State};
use crate::words::Words as _;

/// A list to pick from, each answer with a sentence where there is one.
pub(super) fn page(
    state: &State,
    pen: &Pen,
    width: usize,
    (entry, of, at): (&Entry, PickOf, usize),
    height: Option<usize>,
) -> (String, Vec<Line<'static>>, usize) {
    let answers: Vec<(String, String)> = match of {
        PickOf::Status => Status::WORDS
            .iter()
            .map(|word| (word.title.to_owned(), word.plain.to_owned()))
            .collect(),
        PickOf::Supplier => {
            let nobody = ("As the price says".to_owned(), String::new());
            let all = state.catalogue.suppliers.values();
            let each = all.map(|one| {
                let [least, most] = one.lead_days;
                let days = format!("{least} to {most} days to the door");
                (one.title.to_string(), days)
            });
            std::iter::once(nobody).chain(each).collect()
        }
    };
    let name = match of {
        PickOf::Status => NAME,
        PickOf::Supplier => width.saturating_sub(30),
    };
    let (lines, top) = rows(pen, width, name, &answers, at, height);
    let title = format!("{}: {}", of_title(of), entry.title(&state.catalogue));
    (title, lines, top)
}

fn of_title(of: PickOf) -> &'static str {
    match of {
        PickOf::Status => Asked::Status.title(),
        PickOf::Supplier => Asked::Supplier.title(),
    }
}

/// Answers below each other, the one under the cursor marked, each with its sentence beside it;
/// and how far they are scrolled so that the cursor's is in view.
pub(super) fn rows(
    pen: &Pen,
    width: usize,
    name: usize,
    answers: &[(String, String)],
    at: usize,
    height: Option<usize>,
) -> (Vec<Line<'static>>, usize) {
    let mut lines = Vec::new();
    let mut ends = Vec::new();
    for (place, (title, plain)) in answers.iter().enumerate() {
        let here = place == at;
        let room = width.saturating_sub(name + 3);
        let words = pen.wrap(plain, room);
        for row in 0..words.len().max(1) {
            let title = if row == 0 { title.as_str() } else { "" };
            let arrow = if here && row == 0 { ">" } else { " " };
            let word = words.get(row).map_or("", String::as_str);
            let line = Line::from(format!(
                "{arrow} {} {}",
                pen.left(title, name),
                pen.left(word, room)
            ));
            lines.push(match here {
                true => under_cursor(line, pen.theme.selected),
                false => line,
            });
        }
        ends.push(lines.len());
    }
    let end = ends.get(at).copied().unwrap_or_default();
    let top = height.map_or(0, |height| end.saturating_sub(height));
    (lines, top)
}
