//! Help, made from the keymap: what the keys do here, then everywhere.

use ratatui::style::Style;
use ratatui::text::{Line, Span};

use super::own_part;
use super::page::Page;
use super::paint::Pen;
use super::words;
use super::{settings, what_if};
use crate::rules::Severity;
use crate::screen::action::Action;
use crate::screen::help::HelpPage;
use crate::screen::keymap::{Binding, Keymap, LAYERS, Place, keys};
use crate::screen::state::{Layer, State};
use crate::screen::text;
use crate::screen::theme::mark;
use crate::units::System;
use crate::words::Words;

/// Columns of the keys.
const KEYS: usize = 17;

/// A page of the help about a place.
pub(super) fn help(
    state: &State,
    pen: &Pen,
    width: usize,
    (place, at): (Place, HelpPage),
) -> Vec<Line<'static>> {
    let mut page = Page::new(pen, width);
    match at {
        HelpPage::Here => {
            if place == Place::Bill {
                since(&mut page, state);
            }
            here(&mut page, state, place);
        }
        HelpPage::Keys => {
            title(&mut page, &format!("Every key here: {}", place.title()));
            bindings(&mut page, &state.keymap, place);
        }
        HelpPage::Marks => {
            marks(&mut page);
            side_pane(&mut page, state);
        }
        HelpPage::Elsewhere => elsewhere(&mut page, state, place),
    }
    page.lines
}

fn title(page: &mut Page, text: &str) {
    let text = page.pen.cut(&format!(" {text}"), page.width);
    page.lines.push(Line::styled(text, page.pen.theme.title));
}

/// What moved since the build was saved; nothing where nothing did.
fn since(page: &mut Page, state: &State) {
    let Some(moved) = &state.file.moved else {
        return;
    };
    title(page, &format!("SINCE {}", moved.since));
    for sentence in moved.sentences(&state.catalogue) {
        let lines = page.pen.paragraph(&sentence, page.width, Style::new());
        page.lines.extend(lines);
    }
    page.lines.push(Line::default());
}

/// What the place is for, the keys that count most there, and what is under the cursor.
fn here(page: &mut Page, state: &State, place: Place) {
    title(page, &format!("Here: {}", place.title()));
    page.text(place.word().plain);
    let named = state.keymap.here(place);
    let is_step = |action| matches!(action, Action::Step(_));
    let named = named.filter(|one| !one.short.is_empty() && !is_step(one.action));
    let named = named.filter_map(|binding| {
        let key = binding.keys.first()?;
        Some(format!("{key} {}", binding.short))
    });
    let named: Vec<String> = named.collect();
    page.text(&format!("Keys: {}.", named.join(", ")));
    if !matches!(
        place,
        Place::Pane | Place::BillFind | Place::Form | Place::Target | Place::OwnPart
    ) && !LAYERS.contains(&place)
    {
        under_cursor(page, state);
    }
    let mut forms = state.layers.iter().rev().filter_map(|layer| match layer {
        Layer::OwnPart(form) => Some(form),
        _ => None,
    });
    if let (Place::OwnPart, Some(form)) = (place, forms.next()) {
        for text in own_part::sentences(state, form) {
            page.text(&text);
        }
    }
    if let Some(task) = state.task() {
        page.part(&task.title, &task.how);
        for (name, words) in [("Expect", &task.expect), ("Why", &task.why)] {
            if !words.is_empty() {
                page.text(&format!("{name}: {words}"));
            }
        }
    }
    if let (Place::Glossary | Place::WordFind, Some(word)) = (place, state.glossary.current())
        && let Some(entry) = state.catalogue.glossary.get(word)
    {
        page.part(&entry.word, &entry.means);
    }
    if let (Place::Settings, Some((name, words))) = (place, settings::in_full(state)) {
        page.part(name, &words);
    }
    let told = what_if::told(state, page.pen, page.width);
    if !told.is_empty() {
        page.lines.push(Line::default());
        page.lines.extend(told);
    }
}

/// How the side pane is read.
fn side_pane(page: &mut Page, state: &State) {
    page.part(
        "The side pane",
        "COST: what all parts are likely to cost together, with freight, duty and tax to your door, then the range in which that will lie. Once something was paid: what was spent, and what all of it comes to in the end.",
    );
    page.text("RAPIDS: how fast each axis moves without cutting, and what holds it there. Enter on an axis lists what makes it faster, and all that holds it.");
    let force = match state.shown.system {
        System::Metric => "newtons on the collet push it aside by a thousandth of a millimetre",
        System::Inch => {
            "pounds of force on the collet push it aside by a mil, a thousandth of an inch"
        }
    };
    page.text(&format!("STIFFNESS: how many {force}, and what gives most. More is stiffer. Enter on an axis lists all that gives."));
    page.text("CUTS: how much of the hardest material that you want to cut a minute removes, and how well that goes. Enter tells of every material. JOB: the minutes that the named job takes.");
    page.text("CIRCUITS: whether the wall carries it, and how many amperes are to spare, or over what may flow, on the fullest circuit; that the second must be laid first; or that something hangs on the second and there is none. Below it the amperes with everything on at its most, of those that may flow for hours. First and second are the mains circuits, motors is the supply of the motors. Enter on a circuit lists what hangs on it.");
    page.text("WARNINGS: how many there are, the worst first. NEXT: what to do now, and the key that leads there.");
    let explain = state.key_for(Place::Pane, Action::Explain);
    page.text(&format!("What has no room here stands on the page of figures. The key {explain} shows how the figure under the cursor came about."));
}

/// The keys of all other places.
fn elsewhere(page: &mut Page, state: &State, place: Place) {
    title(page, "Keys in other places");
    page.text("Any of them can be another one: gantrywright keys lists them all and tells how.");
    // What closes, moves and types is the same everywhere and stands above.
    let known: Vec<&str> = state
        .keymap
        .here(place)
        .map(|binding| binding.long)
        .collect();
    for binding in state.keymap.rows().iter().filter(|binding| {
        !binding.places.contains(&place)
            && !known.contains(&binding.long)
            && !matches!(binding.action, Action::Text(_))
    }) {
        let places: Vec<&str> = binding.places.iter().map(|place| place.title()).collect();
        row(
            page,
            binding,
            &format!("{} ({})", binding.long, places.join(", ")),
        );
    }
}

/// The whole text about the choice and the option under the cursor.
fn under_cursor(page: &mut Page, state: &State) {
    let Some(choice) = state.choice() else { return };
    page.part(choice.title, choice.why);
    page.text(choice.poor);
    if let Some(option) = words::option(state) {
        page.text(&option);
    }
    for (title, findings) in words::brought(state) {
        page.lines.push(Line::default());
        self::title(page, title);
        for finding in findings {
            let (mark, word) = (mark(finding.severity), finding.severity.title());
            page.text(&format!("{mark} {word}: {}", finding.message));
        }
    }
}

fn marks(page: &mut Page) {
    title(page, "The marks");
    for &severity in Severity::ALL {
        let text = format!(
            "{:<2} {}: {}",
            mark(severity),
            severity.title(),
            severity.word().plain
        );
        page.text(&text);
    }
    page.text("Before a mark, + says that an option adds such a warning, - that it lifts one; of several the worst is shown.");
    page.text("*  A part of your own: it stands in your own folder.");
}

fn bindings(page: &mut Page, keymap: &Keymap, place: Place) {
    for binding in keymap.here(place) {
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
    for (row, line) in page.pen.wrap(words, room).into_iter().enumerate() {
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
