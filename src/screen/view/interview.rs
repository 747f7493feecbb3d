//! The pages of the interview: the questions with their answers, one being answered, how far the
//! searches are, the three builds.

use ratatui::style::Style;
use ratatui::text::Line;

use super::paint::Pen;
use super::what_if::answer::compared;
use super::what_if::{Split, named, row, words};
use crate::explore::find::target::cautions;
use crate::explore::find::told as counted;
use crate::explore::interview::{self, Prompt, told};
use crate::explore::reading::Reading;
use crate::money::Currency;
use crate::screen::interview::{Manner, Picking, manner};
use crate::screen::state::State;
use crate::screen::text;
use crate::words::Words as _;

/// The row of the field in which an answer is typed, and the column where it begins.
pub(super) const FIELD: (u16, usize) = (1, 4);

/// Columns of a question in the list.
const NAME: usize = 15;

/// The questions with their answers.
pub(super) fn page(
    state: &State,
    pen: &Pen,
    width: usize,
    at: usize,
    height: Option<usize>,
) -> (String, Vec<Line<'static>>) {
    let answers = &state.interview.answers;
    let mut split = Split::default();
    let all = told::answers(answers, &state.catalogue);
    let said = all.iter().filter(|(_, _, given)| *given).count();
    for (place, (prompt, shown, given)) in all.iter().enumerate() {
        let usual = match (given, answers.follows(prompt)) {
            (true, _) => "",
            (false, true) => "(assumed there) ",
            (false, false) => "(as usual) ",
        };
        if place == at {
            split.at = split.rows.len();
        }
        let answer = format!("{usual}{shown}");
        let lines = pen
            .wrap(&answer, width.saturating_sub(NAME + 4))
            .into_iter();
        split.rows.extend(lines.enumerate().map(|(line, text)| {
            let name = if line == 0 { prompt.short } else { "" };
            let text = format!("{} {text}", pen.left(name, NAME));
            match line {
                0 => row(pen, &text, place == at),
                _ => Line::from(format!("  {text}")),
            }
        }));
        let about = about(state, pen, width, (prompt, shown, *given));
        split.most = split.most.max(about.len());
        if place == at {
            split.told = about;
        }
    }
    split.head = money(state, pen, width);
    let last = all.len();
    split
        .rows
        .push(row(pen, "Find three builds for it", at == last));
    if at == last {
        split.at = split.rows.len() - 1;
        let text = "Thrifty, balanced and stiff: each the cheapest of all drives, spindles and controls that do what you answered. Your build stays as it is until you open one of them.";
        split.told = words(pen, width, text, Style::new());
    }
    let title = format!("A first machine: {said} of {last} answered");
    (title, split.lines(pen, width, height))
}

/// What the answers so far come to in money, and whether the money does.
fn money(state: &State, pen: &Pen, width: usize) -> Vec<Line<'static>> {
    /// Rows of a screen that has room for what would help.
    const ROOMY: u16 = 24;
    let seen = match state.interview.outlook() {
        Some(Ok(seen)) => seen,
        Some(Err(error)) => return words(pen, width, error, pen.theme.marked),
        None if state.interview.is_looking() => {
            let text = "Cheapest that does this so far: looking. You can go on meanwhile.";
            return words(pen, width, text, pen.theme.muted);
        }
        None => return Vec::new(),
    };
    let style = match seen.missing() {
        Some(_) => pen.theme.marked,
        None => Style::new(),
    };
    let lines = told::outlook(seen);
    let shown = if state.size.height < ROOMY {
        1
    } else {
        lines.len()
    };
    let each = lines.iter().take(shown);
    each.flat_map(|line| words(pen, width, line, style))
        .collect()
}

/// A question in full.
fn about(
    state: &State,
    pen: &Pen,
    width: usize,
    (prompt, shown, given): (&Prompt, &str, bool),
) -> Vec<Line<'static>> {
    let mut lines = words(pen, width, prompt.title, pen.theme.title);
    lines.extend(words(pen, width, prompt.why, Style::new()));
    let text = match given {
        true => format!("You said: {shown}."),
        false if state.interview.answers.follows(prompt) => {
            format!("Skipped; assumed from where the parts go: {shown}.")
        }
        false => format!("Skipped; assumed as usual: {shown}."),
    };
    let seen = state.interview.outlook().and_then(Result::ok);
    if let Some(cost) = seen.and_then(|seen| told::share(seen, prompt)) {
        lines.extend(words(pen, width, &cost, Style::new()));
    }
    lines.extend(words(pen, width, &text, pen.theme.muted));
    lines
}

/// A list from which an answer is picked.
pub(super) fn picking(
    state: &State,
    pen: &Pen,
    width: usize,
    picking: &Picking,
    height: Option<usize>,
) -> (String, Vec<Line<'static>>) {
    let several = manner(picking.prompt) == Manner::Several;
    let mut split = Split {
        at: picking.cursor,
        ..Split::default()
    };
    for (place, one) in picking.listed.iter().enumerate() {
        let here = place == picking.cursor;
        let ticked = picking.is_ticked(&state.interview.answers, one);
        let mark = match (several, ticked) {
            (true, true) => "[x] ",
            (true, false) => "[ ] ",
            (false, true) => "* ",
            (false, false) => "  ",
        };
        let text = pen.cut(&format!("{mark}{}", one.title), width.saturating_sub(3));
        split.rows.push(row(pen, &text, here));
        let mut about = words(pen, width, picking.prompt.why, Style::new());
        about.extend(words(pen, width, &one.plain, pen.theme.muted));
        split.most = split.most.max(about.len());
        if here {
            split.told = about;
        }
    }
    let mut head = words(pen, width, picking.prompt.title, pen.theme.title);
    if several {
        let text = "Enter ticks; esc goes back with what is ticked.";
        head.extend(words(pen, width, text, pen.theme.muted));
    }
    split.head = head;
    (heading(picking.prompt), split.lines(pen, width, height))
}

/// The field in which an answer is typed.
pub(super) fn saying(
    state: &State,
    pen: &Pen,
    width: usize,
    prompt: &Prompt,
    input: &tui_input::Input,
) -> (String, Vec<Line<'static>>) {
    let room = width.saturating_sub(FIELD.1 + 1);
    let field = Line::from(vec!["  > ".into(), pen.field(input, room)]);
    let mut lines = vec![field, Line::default()];
    lines.extend(words(pen, width, prompt.title, pen.theme.title));
    lines.extend(words(pen, width, prompt.why, Style::new()));
    let currency = state.interview.answers.currency(&state.catalogue);
    let how = prompt.how(state.shown, currency);
    lines.extend(words(pen, width, &how, Style::new()));
    let usual = interview::Answers::default().shown(prompt, &state.catalogue);
    let text = format!("Empty takes the answer back; as usual: {usual}.");
    lines.extend(words(pen, width, &text, pen.theme.muted));
    (heading(prompt), lines)
}

/// Which of the questions it is.
fn heading(prompt: &Prompt) -> String {
    let all = interview::all();
    let place = all.iter().position(|one| one.id == prompt.id);
    let number = place.unwrap_or_default() + 1;
    format!("Question {number} of {}", all.len())
}

/// The three builds; how far the searches are while they run.
pub(super) fn proposed(
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
        Some(true) => "Three builds for what you answered",
        Some(false) if state.interview.was_stopped() => "Stopped before a build was found",
        Some(false) => "Nothing fits what you answered",
        None => "No build was found",
    };
    let mut split = Split {
        at,
        told: told_of(state, pen, width, at),
        ..Split::default()
    };
    let builds = offers.iter().filter_map(|offer| {
        let name = match offer.fit() {
            Some(_) => offer.level.title().to_owned(),
            None => format!("near {}", offer.level.title()),
        };
        Some((name, offer.build()?.reading.clone()))
    });
    let builds: Vec<_> = builds.collect();
    if !builds.is_empty() {
        let warned: Vec<usize> = builds
            .iter()
            .map(|(_, reading)| cautions(reading))
            .collect();
        let money = builds.first().map(|(_, reading)| reading.cost.currency);
        let table = compared(state, pen, builds.into_iter());
        let (mut table, heads) = in_money(state, table, money);
        let now = (heads == NOW).then(|| cautions(&Reading::of(&state.now)));
        let cells = now.into_iter().chain(warned).map(|many| many.to_string());
        let column = ["warns", ""].map(str::to_owned).into_iter().chain(cells);
        // The text below says it as well: where there is no room, that is enough.
        let room = |line: &String| text::width(line) + WARNS <= width;
        if table.iter().all(room) {
            for (line, cell) in table.iter_mut().zip(column) {
                line.push_str(&format!("  {cell:>5}"));
            }
        }
        let mut table = table.into_iter();
        let head = table.by_ref().take(heads);
        split.head = head.map(|line| Line::from(pen.cut(&line, width))).collect();
        let rows = table.enumerate().map(|(place, text)| {
            let text = text.strip_prefix("  ").unwrap_or(&text);
            row(pen, &pen.cut(text, width.saturating_sub(2)), place == at)
        });
        split.rows = rows.collect();
    }
    let lengths = (0..offers.len()).map(|place| told_of(state, pen, width, place).len());
    split.most = lengths.max().unwrap_or_default();
    (title.to_owned(), split.lines(pen, width, height))
}

/// Columns that the number of cautions takes, with the space before it.
const WARNS: usize = 7;

/// Lines above the builds: two of headings, and what is open now.
const NOW: usize = 3;

/// The table in the money of the builds that it shows, with how many lines stand above them.
/// What is open now is left out where it is counted in other money: the sums could not be
/// compared.
fn in_money(
    state: &State,
    mut table: Vec<String>,
    money: Option<Currency>,
) -> (Vec<String>, usize) {
    let here = state.now.bill.currency;
    match money.filter(|money| *money != here) {
        None => (table, NOW),
        Some(money) => {
            if let Some(units) = table.get_mut(1) {
                *units = units.replacen(here.code(), money.code(), 1);
            }
            table.remove(NOW - 1);
            (table, NOW - 1)
        }
    }
}

/// How far the searches have come.
fn running(state: &State, pen: &Pen, width: usize) -> Vec<Line<'static>> {
    let mut lines = match &state.interview.far {
        None => words(pen, width, "It begins.", Style::new()),
        Some(far) if far.combinations == 0 => {
            let text =
                "A cheap build that does it is looked for first: what costs more is out then.";
            words(pen, width, text, Style::new())
        }
        Some(far) => {
            let settled = counted::share(far.covered, far.combinations);
            let all = counted::count(far.combinations);
            let assessed = counted::count(u128::from(far.assessed));
            let mut lines = named(pen, width, "build", far.level.title());
            lines.extend(named(
                pen,
                width,
                "settled",
                &format!("{settled} of {all} builds"),
            ));
            lines.extend(named(pen, width, "assessed", &assessed));
            lines
        }
    };
    if state.interview.is_stopping() {
        lines.push(Line::default());
        let text = "Stopping; esc again waits no longer.";
        lines.extend(words(pen, width, text, pen.theme.marked));
    }
    lines
}

/// Everything about the build under the cursor.
pub(super) fn told_of(state: &State, pen: &Pen, width: usize, at: usize) -> Vec<Line<'static>> {
    /// Columns of a label.
    const LABEL: usize = 14;
    let Some(Ok(proposal)) = state.interview.outcome() else {
        return Vec::new();
    };
    let Some(offer) = proposal.offers.get(at) else {
        return Vec::new();
    };
    let answers = &state.interview.answers;
    let mut lines = Vec::new();
    for (label, text) in told::offer(proposal, offer, answers, &state.catalogue) {
        let wrapped = pen.wrap(&text, width.saturating_sub(LABEL + 3)).into_iter();
        lines.extend(wrapped.enumerate().map(|(line, text)| {
            let label = if line == 0 { label } else { "" };
            Line::from(format!(" {} {text}", pen.left(label, LABEL)))
        }));
    }
    lines.extend(words(pen, width, told::CAUTION, pen.theme.muted));
    lines
}
