//! The three builds that an interview comes to, and how far the searches for them are.

use ratatui::style::Style;
use ratatui::text::Line;

use crate::explore::find;
use crate::explore::find::target::cautions;
use crate::explore::interview::{Proposal, told};
use crate::explore::reading::Reading;
use crate::screen::state::State;
use crate::screen::text;
use crate::screen::view::paint::Pen;
use crate::screen::view::seek::{STOPPING, seconds};
use crate::screen::view::split::{Split, named, row};
use crate::screen::view::what_if::answer::compared;
use crate::words::Words as _;

/// The three builds; how far the searches are while they run.
pub(in crate::screen::view) fn proposed(
    state: &State,
    pen: &Pen,
    width: usize,
    at: usize,
    height: Option<usize>,
) -> (String, Vec<Line<'static>>) {
    if state.interview.is_running() {
        return (
            "Looking for three builds".to_owned(),
            running(state, pen, width),
        );
    }
    let offers = state.interview.offers();
    let title = match offers.first().map(|first| first.fit().is_some()) {
        Some(true) => &*three(state),
        Some(false) if state.interview.was_stopped() => "Stopped before a build was found",
        Some(false) => "Nothing fits what you answered",
        None => "No build was found",
    };
    let mut split = Split {
        at,
        ..Split::default()
    };
    let builds = offers.iter().filter_map(|offer| {
        let name = match offer.fit() {
            Some(_) => offer.level.title().to_owned(),
            None => format!("near {}", offer.level.title()),
        };
        Some((name, offer.build()?.reading.clone()))
    });
    let lesser = state.interview.for_the_money();
    let bought = lesser
        .iter()
        .enumerate()
        .map(|(place, one)| (told::name(place, one), one.answer.reading.clone()));
    let builds: Vec<_> = builds.chain(bought).collect();
    if let Some((_, first)) = builds.first() {
        let currency = first.cost.currency;
        let warned: Vec<usize> = builds
            .iter()
            .map(|(_, reading)| cautions(reading))
            .collect();
        let (mut heads, mut rows) = compared(state, pen, currency, builds.into_iter());
        let now = (heads.len() == NOW).then(|| cautions(&Reading::of(&state.now)));
        let cells = now.into_iter().chain(warned).map(|many| many.to_string());
        let column = ["warns", ""].map(str::to_owned).into_iter().chain(cells);
        // The text below says it as well: where there is no room, that is enough.
        if heads.iter().all(|line| text::width(line) + WARNS <= width) {
            for (line, cell) in heads.iter_mut().chain(&mut rows).zip(column) {
                line.push_str(&format!("  {cell:>5}"));
            }
        }
        let above = heads.iter().map(|line| Line::from(pen.cut(line, width)));
        split.head = above.collect();
        let rows = rows.iter().enumerate().map(|(place, text)| {
            let text = pen.cut(text, width.saturating_sub(2));
            row(pen, &text, place == at)
        });
        split.rows = rows.collect();
    }
    for place in 0..offers.len() + lesser.len() {
        split.tell(told_of(state, pen, width, place), place == at);
    }
    (title.to_owned(), split.lines(pen, width, height))
}

/// How many builds there are for what was answered; those that are one and the same are no
/// choice.
fn three(state: &State) -> String {
    let proposal = state.interview.outcome().and_then(Result::ok);
    let alike = proposal.map_or_else(Vec::new, Proposal::alike);
    let mut same = alike.iter().filter(|one| one.is_same);
    match (same.next(), same.next()) {
        (None, _) => "Three builds for what you answered".to_owned(),
        (Some(one), None) => {
            let (later, earlier) = (one.level.title(), one.to.title());
            format!("Builds for what you answered: {later} is the same as {earlier}")
        }
        (Some(_), Some(_)) => "One build for what you answered: all three are the same".to_owned(),
    }
}

/// Columns that the number of cautions takes, with the space before it.
const WARNS: usize = 7;

/// Lines above the builds where what is open now is one of them, behind two of headings.
const NOW: usize = 3;

/// How long somebody may have to wait. Nobody knows beforehand how many builds need a look.
const LASTS: &str = "Most answers take a minute or two. Where nothing fits, each answer is left out \
    in turn to see which one forbids it, and that takes longer.";

/// How far the searches have come.
fn running(state: &State, pen: &Pen, width: usize) -> Vec<Line<'static>> {
    let mut lines = match &state.interview.far {
        None => pen.paragraph("It begins.", width, Style::new()),
        Some(far) => {
            let again = match far.again {
                true => ", once more: a stiffer frame came out cheaper",
                false => "",
            };
            let stage = format!(
                "{} of 3: {}{again}",
                far.level.index() + 1,
                far.level.title()
            );
            let assessed = match far.assessed {
                0 => "none yet: first a sound build is looked for".to_owned(),
                many => format!(
                    "{} builds so far, by all searches together",
                    find::told::count(u128::from(many))
                ),
            };
            let mut lines = named(pen, width, "stage", &stage);
            lines.extend(named(pen, width, "assessed", &assessed));
            lines.extend(named(pen, width, "time", &seconds(far.took)));
            lines.extend(pen.paragraph(LASTS, width, pen.theme.muted));
            lines
        }
    };
    // What is known already need not be waited for.
    if let Some(Ok(seen)) = state.interview.outlook() {
        lines.push(Line::default());
        for line in told::outlook(seen) {
            lines.extend(pen.paragraph(&line, width, pen.theme.marked));
        }
        let (lesser, answers) = (state.interview.lesser(), &state.interview.answers);
        for line in told::all_lesser(lesser, answers, &state.catalogue) {
            lines.extend(pen.paragraph(&line, width, Style::new()));
        }
    }
    if state.interview.is_stopping() {
        lines.push(Line::default());
        lines.extend(pen.paragraph(STOPPING, width, pen.theme.marked));
    }
    lines
}

/// Everything about the build under the cursor.
pub(in crate::screen::view) fn told_of(
    state: &State,
    pen: &Pen,
    width: usize,
    at: usize,
) -> Vec<Line<'static>> {
    /// Columns of a label.
    const LABEL: usize = 14;
    let Some(Ok(proposal)) = state.interview.outcome() else {
        return Vec::new();
    };
    let (answers, catalogue) = (&state.interview.answers, &state.catalogue);
    let beyond = at.checked_sub(proposal.offers.len());
    let lesser = beyond.and_then(|place| proposal.lesser.get(place));
    let all = match (proposal.offers.get(at), lesser) {
        (Some(offer), _) => told::offer(proposal, offer, answers, catalogue),
        (None, Some(lesser)) => told::lesser(proposal, lesser, answers, catalogue),
        (None, None) => return Vec::new(),
    };
    let along = told::along(proposal, catalogue).join("; ");
    let along = (!along.is_empty()).then_some(("so it fits", along));
    let mut lines = Vec::new();
    for (label, text) in all.into_iter().chain(along) {
        let wrapped = pen.wrap(&text, width.saturating_sub(LABEL + 3)).into_iter();
        lines.extend(wrapped.enumerate().map(|(line, text)| {
            let label = if line == 0 { label } else { "" };
            Line::from(format!(" {} {text}", pen.left(label, LABEL)))
        }));
    }
    lines.extend(pen.paragraph(told::CAUTION, width, pen.theme.muted));
    lines
}
