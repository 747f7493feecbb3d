//! Brings what is derived from the build up to date after each message: the lists, the
//! effects of the options in view, the preview. Drawing finds everything ready.

use std::rc::Rc;

use crate::build::Edit;
use crate::build::choices::{self, Choice, Kind};
use crate::catalogue::{Catalogue, Part, PartKind};
use crate::explore::effect::turned;
use crate::explore::told::losses;
use crate::explore::trial::Bench;
use crate::order::Order as _;
use crate::screen::options::{self, OptionRow};
use crate::screen::papers::Source;
use crate::screen::state::{Focus, Layer, NumberField, PaneRow, Remedy, State};
use crate::screen::text::fits;
use crate::screen::typed::Typed;

/// Rows that are worked out on a screen too small to show any.
const UNSEEN: usize = 1;

/// Brings the derived parts of the state up to date.
pub fn refresh(state: &mut State) {
    list_choices(state);
    super::ledger::follow(state);
    super::papers::follow(state);
    super::figures::keep_up(state);
    super::variants::follow(state);
    super::what_if::follow(state);
    follow_warnings(state);
    list_options(state);
    let topics = state.about.topics().len();
    let rows = state.pane_rows().len();
    state.pane_cursor = state.pane_cursor.min(rows.saturating_sub(1));
    if state.focus == Focus::Pane && rows == 0 {
        state.focus = Focus::Choices;
    }
    for layer in &mut state.layers {
        if let Layer::Warnings(cursor) | Layer::Warning(cursor, _) = layer {
            *cursor = (*cursor).min(topics.saturating_sub(1));
        }
    }
    look_at_options(state);
    preview(state);
    super::pictures::follow(state);
    let source = Source {
        catalogue: &state.catalogue,
        build: state.history.now(),
        now: &state.now,
        today: state.today,
    };
    match state.layers.last() {
        Some(Layer::Figure(PaneRow::Stiffness(axis), _)) => state.stiffer.follow(source, *axis),
        Some(Layer::Found(_)) => state.seek.follow(source),
        _ => {}
    }
}

/// Finds the warnings of the build as it stands. A page of one stays with its warning, wherever that
/// stands in the list now, and is closed where it is gone.
fn follow_warnings(state: &mut State) {
    let read = match state.layers.last() {
        Some(Layer::Warning(place, _)) => state.about.rule(*place).cloned(),
        _ => None,
    };
    state.about.follow(
        &state.catalogue,
        state.history.now(),
        &state.now,
        state.today,
    );
    let about = &state.about;
    if let (Some(read), Some(Layer::Warning(place, _))) = (read, state.layers.last_mut()) {
        let of_it = |place: &usize| about.rule(*place) == Some(&read);
        match (0..about.topics().len()).find(of_it) {
            Some(now) => *place = now,
            None => drop(state.layers.pop()),
        }
    }
}

fn heights(state: &State) -> (usize, usize) {
    match state.layout() {
        Some(layout) => (layout.choices.height.into(), layout.options.height.into()),
        None => (UNSEEN, UNSEEN),
    }
}

fn list_choices(state: &mut State) {
    let focused = state.choice();
    let searched = match (&state.find, state.focus) {
        (Some(find), Focus::Choices) => Some(find.value().to_lowercase()),
        _ => None,
    };
    state.choices.rows = match searched {
        Some(part) => found(&part, &state.catalogue),
        None => choices::of_step(state.step).collect(),
    };
    let same = |choice: &&Choice| focused.is_some_and(|focused| focused.id == choice.id);
    if let Some(place) = state.choices.rows.iter().position(same) {
        state.choices.cursor = place;
    }
    // The heading of what was measured takes a row.
    let headings = usize::from(state.measured_from().is_some());
    state
        .choices
        .settle(heights(state).0.saturating_sub(headings));
    if let Some(choice) = state.choice() {
        state.step = choice.step;
    }
}

/// The choices of every step that fit what is looked for, the nearest first: one that bears it as
/// its id, those with it in their name, in what they say of themselves, in what goes wrong with
/// them, in the name of a part of one's own that they offer; then those that speak of a word of
/// the glossary whose meaning has it.
fn found(part: &str, catalogue: &Catalogue) -> Vec<&'static Choice> {
    let meant = meant(part, catalogue);
    let rank = |choice: &Choice| {
        let by_word = || {
            let said = [choice.title, choice.why].map(str::to_lowercase);
            meant.iter().any(|word| speaks_of(&said, word))
        };
        let ranks = [
            choice.id == part,
            fits(choice.title, part) || fits(choice.id, part),
            begins_a_word(choice.why, part),
            begins_a_word(choice.poor, part),
            has_own(choice, part, catalogue),
        ];
        let place = ranks.iter().position(|fits| *fits);
        place.or_else(|| by_word().then_some(ranks.len()))
    };
    let all = choices::all().iter();
    let mut rows: Vec<(usize, &Choice)> = all
        .filter_map(|choice| Some((rank(choice)?, choice)))
        .collect();
    rows.order_by_key(|(rank, _)| *rank);
    rows.into_iter().map(|(_, choice)| choice).collect()
}

/// Whether a part of one's own that the choice offers is called so.
fn has_own(choice: &Choice, part: &str, catalogue: &Catalogue) -> bool {
    let kinds: &[PartKind] = match &choice.kind {
        Kind::Part { kinds, .. } => kinds,
        Kind::Parts(kind) => std::slice::from_ref(kind),
        _ => return false,
    };
    let mut own = catalogue
        .own
        .keys()
        .filter_map(|id| catalogue.part(id.as_str()));
    let called = |(kind, one): (PartKind, &dyn Part)| {
        kinds.contains(&kind) && (fits(one.title(), part) || fits(one.short(), part))
    };
    !part.trim().is_empty() && own.any(called)
}

/// The words of the glossary that mean what is looked for. Of less than four letters too much
/// would be meant.
fn meant(part: &str, catalogue: &Catalogue) -> Vec<String> {
    if part.trim().chars().count() < 4 {
        return Vec::new();
    }
    let entries = catalogue.glossary.iter();
    let meaning = entries.filter(|entry| {
        begins_a_word(&entry.word, part)
            || entry.also.iter().any(|word| begins_a_word(word, part))
            || begins_a_word(&entry.means, part)
    });
    meaning.map(|entry| entry.word.to_lowercase()).collect()
}

/// Whether a choice speaks of a word, in its name or in what it says of itself, both in small
/// letters.
fn speaks_of(said: &[String], word: &str) -> bool {
    said.iter().any(|text| {
        let begins = |(at, _): (usize, &str)| !text[..at].ends_with(char::is_alphanumeric);
        text.match_indices(word).any(begins)
    })
}

/// Whether each word that is looked for begins a word of a text: "volt" fits "voltage", and "rail"
/// not "trailing".
fn begins_a_word(text: &str, part: &str) -> bool {
    let text = text.to_lowercase();
    let begins = |wanted: &str| {
        let mut words = text.split(|c: char| !c.is_alphanumeric());
        words.any(|word| word.starts_with(wanted))
    };
    !part.trim().is_empty() && part.split_whitespace().all(begins)
}

fn list_options(state: &mut State) {
    let Some(choice) = state.choice() else {
        state.options.rows.clear();
        state.previews.list(None, "");
        state.number_field = None;
        return;
    };
    match choice.kind {
        Kind::Number(_) | Kind::Amount => {
            state.previews.list(None, "");
            list_ladder(state, choice);
        }
        _ => {
            state.number_field = None;
            let searched = match (&state.find, state.focus) {
                (Some(find), Focus::Options) => find.value().to_lowercase(),
                _ => String::new(),
            };
            // Most keys leave the list as it is, with what its rows tell.
            if !state.previews.list(Some(choice), &searched) {
                let mut rows = options::listed(choice, state.build(), &state.catalogue);
                // Where there is little room a row shows its short name.
                if !searched.is_empty() {
                    rows.retain(|row| fits(&format!("{} {}", row.full, row.short), &searched));
                }
                state.options.rows = rows;
            }
            if state.focus != Focus::Options {
                let now = state.options.rows.iter().position(|row| row.now);
                state.options.cursor = now.unwrap_or(0);
            }
            let height = heights(state).1;
            state.options.settle(height);
        }
    }
}

fn list_ladder(state: &mut State, choice: &'static Choice) {
    let now = (choice.get)(state.build());
    if state.focus != Focus::Options || state.number_field.is_none() {
        state.number_field = Some(NumberField {
            typed: Typed::proposed(options::typed(choice, &now, state.shown)),
            value: Ok(now),
        });
    }
    // The field takes the first row.
    let rungs = heights(state).1.saturating_sub(1);
    let value = state
        .number_field
        .as_ref()
        .and_then(|entry| entry.value.as_ref().ok());
    let (rows, cursor) = match value {
        Some(value) => options::ladder(
            choice,
            value,
            rungs,
            state.build(),
            (state.cost(), state.shown),
        ),
        None => (Vec::new(), 0),
    };
    state.options.rows = rows;
    state.options.cursor = cursor;
    state.options.top = 0;
}

/// Works out what the rows of the options in view tell.
fn look_at_options(state: &mut State) {
    let Some(choice) = state.choice() else { return };
    let height = heights(state).1;
    let under_cursor = option_at(state, state.options.cursor);
    let bench = Bench {
        catalogue: &state.catalogue,
        build: state.history.now(),
        before: &state.now,
        today: state.today,
    };
    let in_view = state.options.rows.iter_mut();
    let in_view = in_view.skip(state.options.top).take(height);
    let untold = in_view.filter(|row| !row.now && row.glance.is_none());
    let rows: Vec<&mut OptionRow> = untold.collect();
    if rows.is_empty() {
        return;
    }
    let edits = rows.iter().map(|row| Edit {
        choice,
        value: row.value.clone(),
    });
    let edits: Vec<Edit> = edits.collect();
    let glances = state.previews.glances(bench, &edits, under_cursor.as_ref());
    for (row, glance) in rows.into_iter().zip(glances) {
        row.glance = Some(glance);
    }
}

/// What taking the option at a place of the list would be, where somebody goes over options; none
/// where there is none, or the build has it.
fn option_at(state: &State, place: usize) -> Option<Edit> {
    if state.focus != Focus::Options || !state.layers.is_empty() {
        return None;
    }
    let row = state.options.rows.get(place).filter(|row| !row.now)?;
    Some(Edit {
        choice: state.choice()?,
        value: row.value.clone(),
    })
}

/// Works out, while nobody waits for it, what the next key over options will most likely ask for:
/// the effects of those before and behind the cursor.
pub fn look_ahead(state: &mut State) {
    let cursor = state.options.cursor;
    let beside = [cursor.wrapping_add(1), cursor.wrapping_sub(1)];
    let beside = beside.map(|place| option_at(state, place));
    let bench = Bench {
        catalogue: &state.catalogue,
        build: state.history.now(),
        before: &state.now,
        today: state.today,
    };
    for edit in beside.into_iter().flatten() {
        state.previews.effect(bench, &[edit]);
    }
}

/// Finds what the thing under the cursor would change.
fn preview(state: &mut State) {
    state.preview = None;
    state.remedy = Remedy::default();
    let bench = Bench {
        catalogue: &state.catalogue,
        build: state.history.now(),
        before: &state.now,
        today: state.today,
    };
    if let Some(topic) = state.topic().cloned() {
        // Of one rule on several axes, the first that a change lifts.
        let findings = &bench.before.findings;
        let lifted = topic.of(findings).find_map(|finding| {
            let edits = state.previews.remedy(bench, finding);
            (!edits.is_empty()).then_some((finding, edits))
        });
        let finding = lifted.as_ref().map(|(finding, _)| *finding);
        let finding = finding.or_else(|| topic.of(findings).next());
        state.remedy.edits = lifted.map(|(_, edits)| edits).unwrap_or_default();
        let effect = state.previews.effect(bench, &state.remedy.edits);
        state.preview = effect.and_then(Result::ok);
        if let Some(effect) = &state.preview {
            state.remedy.lost = losses(&bench, &state.remedy.edits, &effect.after);
        }
        let is_read = matches!(state.layers.last(), Some(Layer::Warning(..)));
        if let Some(finding) = finding.filter(|_| is_read) {
            state.remedy.unfit = state.previews.unfit(bench, finding);
        }
    } else if let (Some(Layer::Variants), Some(row)) =
        (state.layers.last(), state.variants.current())
    {
        let other = row.name != state.build().variant();
        let after = row.assessment.as_ref().ok().filter(|_| other);
        state.preview = after.map(|after| Rc::new(turned(&state.now, after.as_ref().clone())));
    } else if let Some(edit) = option_at(state, state.options.cursor) {
        let effect = state.previews.effect(bench, &[edit]);
        state.preview = effect.and_then(Result::ok);
    }
}
