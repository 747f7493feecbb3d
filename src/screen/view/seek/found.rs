//! What a search came to: how far it is while it runs; then the builds below the one at hand,
//! and the one under the cursor in full.

use std::time::Duration;

use ratatui::style::Style;
use ratatui::text::Line;
use rust_decimal::Decimal;
use rust_decimal::prelude::ToPrimitive as _;

use crate::explore::effect::missing_in;
use crate::explore::find::{self, Found, FoundBuild};
use crate::explore::reading::Reading;
use crate::explore::told as telling;
use crate::rules::Severity;
use crate::screen::action::Action;
use crate::screen::keymap::Place;
use crate::screen::seek::{Far, Outcome};
use crate::screen::state::State;
use crate::screen::view::paint::Pen;
use crate::screen::view::seek::{STOPPING, seconds};
use crate::screen::view::split::{Split, named, row};
use crate::screen::view::what_if::answer::compared;
use crate::units::show;
use crate::words::Words as _;

/// The most rows of reasons for excluding.
const REASONS: usize = 5;

/// The page.
pub(in crate::screen::view) fn page(
    state: &State,
    pen: &Pen,
    width: usize,
    at: usize,
    height: Option<usize>,
) -> (String, Vec<Line<'static>>) {
    if state.seek.is_running() {
        return ("Search under way".to_owned(), running(state, pen, width));
    }
    let Some(outcome) = state.seek.outcome() else {
        return ("Search".to_owned(), Vec::new());
    };
    let found = match &outcome.found {
        Ok(found) => found,
        Err(error) => {
            return (
                "Search".to_owned(),
                pen.paragraph(error, width, Style::new()),
            );
        }
    };
    let title = find::told::headline(found, &outcome.request);
    let kept = find::told::frame_kept(&outcome.request.free, &state.catalogue);
    let frame = match kept.is_empty() {
        true => "",
        false => " The frame stayed as it is: esc, then \"What may change\", frees it.",
    };
    let how = format!(
        "{} It took {}.{frame}",
        find::told::how(found),
        seconds(outcome.took)
    );
    let mut head = pen.paragraph(&how, width, pen.theme.muted);
    if !outcome.is_of(state.build()) {
        let text = "The build was changed since: what is shown is against the one of now.";
        head.extend(pen.paragraph(text, width, pen.theme.marked));
    }
    let listed = outcome.listed();
    if listed.is_empty() {
        head.extend(nothing(state, pen, width, found));
        head.extend(excluded(state, pen, width, outcome));
        return (title, head);
    }
    if found.answers.is_empty() {
        let text = "With one target less strict something fits:";
        head.extend(pen.paragraph(text, width, Style::new()));
    }
    let builds = listed.iter().enumerate();
    let builds = builds.map(|(place, one)| ((place + 1).to_string(), one.reading.clone()));
    let (heads, rows) = compared(state, pen, state.now.bill.currency, builds);
    head.extend(heads.iter().map(|line| Line::from(pen.cut(line, width))));
    let rows = rows.iter().enumerate().map(|(place, text)| {
        let text = pen.cut(text, width.saturating_sub(2));
        row(pen, &text, place == at)
    });
    let rows = rows.collect();
    let mut split = Split {
        head,
        rows,
        at,
        ..Split::default()
    };
    for place in 0..listed.len() {
        split.tell(told(state, pen, width, place), place == at);
    }
    (title, split.lines(pen, width, height))
}

/// How far the search has come.
fn running(state: &State, pen: &Pen, width: usize) -> Vec<Line<'static>> {
    let mut lines = match &state.seek.far {
        None => pen.paragraph("It begins.", width, Style::new()),
        Some(far) => so_far(state, pen, width, far),
    };
    if state.seek.is_stopping() {
        lines.push(Line::default());
        lines.extend(pen.paragraph(STOPPING, width, pen.theme.marked));
    }
    lines
}

/// The counts and the best build so far.
fn so_far(state: &State, pen: &Pen, width: usize, far: &Far) -> Vec<Line<'static>> {
    let Far {
        combinations,
        covered,
        assessed,
        took,
        best,
        bettered,
    } = far;
    let mut lines = Vec::new();
    let plain = Style::new();
    let settled = match combinations {
        0 => "counting the builds".to_owned(),
        all => format!(
            "{} of {} builds",
            find::told::share(*covered, *all),
            find::told::count(*all)
        ),
    };
    lines.extend(named(pen, width, "settled", &settled));
    let counted = find::told::count(u128::from(*assessed));
    let text = format!("{counted}; the others are excluded many at once");
    lines.extend(named(pen, width, "assessed", &text));
    lines.extend(named(
        pen,
        width,
        "time",
        &time(*covered, *combinations, *took),
    ));
    let text = "It ends by itself when all are settled, or gives up after some minutes; \
                esc ends it now, and keeps the best so far.";
    lines.extend(named(pen, width, "end", text));
    lines.push(Line::default());
    match best {
        None => lines.extend(pen.paragraph("Nothing that fits was found yet.", width, plain)),
        Some((reading, edits)) => {
            let price = reading.cost.likely - state.now.bill.total.likely;
            let price = telling::price(price, reading.cost.currency);
            let text = match edits.is_empty() {
                true => "The best so far: the build that you have".to_owned(),
                false => format!("The best so far, {}: it {price}", since(*bettered, *took)),
            };
            lines.extend(pen.paragraph(&text, width, pen.theme.title));
            lines.extend(figures(state, pen, width, reading));
            // What each becomes is told when the search has ended: it would not fit here.
            let changes = find::told::changes(&state.catalogue, state.build(), edits);
            let choices: Vec<&str> = changes.iter().map(|(choice, _)| *choice).collect();
            if !choices.is_empty() {
                lines.extend(named(pen, width, "changes", &choices.join(", ")));
            }
        }
    }
    lines
}

/// When the best was found: whether to go on waiting hangs on it.
fn since(found: Duration, now: Duration) -> String {
    match now.saturating_sub(found).as_secs() {
        0..5 => "found just now".to_owned(),
        _ => format!(
            "found after {} and not bettered for {}",
            seconds(found),
            seconds(now.saturating_sub(found))
        ),
    }
}

/// How long it took so far, and at that pace how long it still takes. Pace tells something only
/// in the middle: at first next to nothing is settled, and the last builds are the hardest.
fn time(covered: u128, all: u128, took: Duration) -> String {
    /// From so much on pace tells something.
    const FROM: f64 = 0.02;
    /// Up to so much.
    const TO: f64 = 0.98;
    let so_far = format!("{} so far", seconds(took));
    let share = match all {
        0 => 0.0,
        all => covered as f64 / all as f64,
    };
    match share {
        few if few < FROM => format!("{so_far}; how long is not known yet"),
        most if most > TO => format!("{so_far}; nearly all settled, but the rest is the hardest"),
        share => {
            let left = took.mul_f64((1.0 - share) / share);
            format!("{so_far}; at this pace about {} more", seconds(left))
        }
    }
}

fn figures(state: &State, pen: &Pen, width: usize, after: &Reading) -> Vec<Line<'static>> {
    let before = find::told::figures(&Reading::of(&state.now));
    let both = before.into_iter().zip(find::told::figures(after));
    both.flat_map(|((name, was), (_, is))| {
        let text = match was == is {
            true => format!("{is}, as now"),
            false => format!("{was} -> {is}"),
        };
        named(pen, width, name, &text)
    })
    .collect()
}

/// Where nothing fits, and no single target is to blame.
fn nothing(state: &State, pen: &Pen, width: usize, found: &Found) -> Vec<Line<'static>> {
    let mut lines = vec![Line::default()];
    if found.fixed.is_empty() {
        let early = format!(
            "{} Let fewer choices change, those that the targets hang on, or look again: it works longer then.",
            find::told::TOO_EARLY
        );
        let text = match outcome_targets(state) {
            _ if found.gave_up => early.as_str(),
            _ if found.cancelled => find::told::TOO_EARLY,
            0 | 1 => "Let more choices change, or ask for less.",
            _ => {
                "No single target is to blame: ask for less in two or more, or let more choices change."
            }
        };
        lines.extend(pen.paragraph(text, width, Style::new()));
        return lines;
    }
    let text =
        "These stand whatever is chosen; change what they are about, or let more choices change:";
    lines.extend(pen.paragraph(text, width, Style::new()));
    for finding in &found.fixed {
        let text = format!("{}: {}", finding.severity.title(), finding.message);
        lines.extend(pen.paragraph(&text, width, pen.theme.severity(finding.severity)));
    }
    lines
}

/// How many targets the search had that is shown.
fn outcome_targets(state: &State) -> usize {
    let outcome = state.seek.outcome();
    outcome.map_or(0, |outcome| outcome.request.targets.len())
}

/// The build under the cursor, in full.
pub(in crate::screen::view) fn told(
    state: &State,
    pen: &Pen,
    width: usize,
    at: usize,
) -> Vec<Line<'static>> {
    let Some(outcome) = state.seek.outcome() else {
        return Vec::new();
    };
    let listed = outcome.listed();
    let Some(one) = listed.get(at) else {
        return Vec::new();
    };
    let mut lines = gives_way(state, pen, width, outcome, at);
    let price = one.reading.cost.likely - state.now.bill.total.likely;
    let price = telling::price(price, one.reading.cost.currency);
    let text = format!("{}. Against the build at hand it {price}", at + 1);
    lines.extend(pen.paragraph(&text, width, pen.theme.title));
    if let Some(text) = a_fifth(state, one) {
        lines.extend(pen.paragraph(&text, width, Style::new()));
    }
    lines.extend(warned(state, pen, width, one));
    // Which cuts become slower, and what no figure tells.
    for (name, words) in state.seek.lost(at) {
        lines.extend(named(pen, width, name, words));
    }
    lines.extend(figures(state, pen, width, &one.reading));
    for (name, words) in telling::moves(&state.now, &one.assessment) {
        lines.extend(named(pen, width, name, &words));
    }
    if one.edits.is_empty() {
        lines.extend(named(
            pen,
            width,
            "changes",
            "none: it is the build at hand",
        ));
    }
    for (place, (choice, change)) in
        find::told::changes(&state.catalogue, &outcome.build, &one.edits)
            .into_iter()
            .enumerate()
    {
        let name = if place == 0 { "changes" } else { "" };
        lines.extend(named(pen, width, name, &format!("{choice}: {change}")));
    }
    lines.extend(excluded(state, pen, width, outcome));
    lines
}

/// For whoever came to pay a fifth less: how much of it that is, and how to go on where it is less.
fn a_fifth(state: &State, one: &FoundBuild) -> Option<String> {
    /// A fifth, in hundredths.
    const WANTED: f64 = 20.0;
    let since = state.what_if.when_opened()?.bill.total.likely;
    let share = (since - one.reading.cost.likely) * Decimal::ONE_HUNDRED;
    let share = share.checked_div(since)?.to_f64()?;
    let percent = show::number(share, 0);
    if share >= WANTED {
        return Some(format!("That saves {percent} % in all: a fifth and more."));
    }
    let key = |place, action| state.keymap.key_of(place, action);
    let (take, list) = (
        key(Place::Found, Action::Enter)?,
        key(Place::Seek, Action::Spend)?,
    );
    Some(format!(
        "That saves {percent} % in all: no fifth. {take} takes it; then {list} leads to the list of \
         what else to drop."
    ))
}

/// Why most builds needed no look.
fn excluded(state: &State, pen: &Pen, width: usize, outcome: &Outcome) -> Vec<Line<'static>> {
    let Ok(found) = &outcome.found else {
        return Vec::new();
    };
    let (catalogue, currency) = (&state.catalogue, state.cost().currency);
    let reasons = find::told::reasons(found, &outcome.request, catalogue, currency, REASONS);
    if reasons.is_empty() {
        return Vec::new();
    }
    let mut lines = vec![Line::default()];
    let text = "Excluded many at once, since all of them";
    lines.extend(pen.paragraph(text, width, pen.theme.title));
    for (share, why) in reasons {
        lines.extend(pen.paragraph(&format!("{share}: {why}"), width, Style::new()));
    }
    lines
}

/// Where nothing fits: which target gave way for this build, and how far.
fn gives_way(
    state: &State,
    pen: &Pen,
    width: usize,
    outcome: &Outcome,
    at: usize,
) -> Vec<Line<'static>> {
    let Ok(found) = &outcome.found else {
        return Vec::new();
    };
    if !found.answers.is_empty() {
        return Vec::new();
    }
    let one = found.relaxed.get(at);
    let both = one.and_then(|one| Some((outcome.request.targets.get(one.target)?, &one.to)));
    both.map_or_else(Vec::new, |(was, to)| {
        let currency = state.cost().currency;
        let text = find::told::relaxed(was, to, &state.catalogue, currency);
        pen.paragraph(&text, width, pen.theme.severity(Severity::Caution))
    })
}

/// Warnings that a build brings and lifts.
fn warned(state: &State, pen: &Pen, width: usize, one: &FoundBuild) -> Vec<Line<'static>> {
    let (these, those) = (&one.assessment.findings, &state.now.findings);
    let both = [
        ("new", missing_in(these, those)),
        ("gone", missing_in(those, these)),
    ];
    both.into_iter()
        .flat_map(|(name, findings)| {
            let words = telling::warned(&findings).into_iter();
            words.flat_map(move |words| named(pen, width, name, &words))
        })
        .collect()
}
