//! The pages of the interview: the questions with their answers, one being answered.

use ratatui::style::Style;
use ratatui::text::Line;

use super::paint::Pen;
use super::split::{Split, row};
use crate::explore::interview::{self, MONEY, Prompt, told};
use crate::screen::interview::{Manner, Picking, manner};
use crate::screen::state::State;
use crate::screen::typed::Typed;

pub(super) mod proposed;

/// The row of the field in which an answer is typed, and the column where it begins.
pub(super) const FIELD: (usize, usize) = (1, 4);

/// Columns of a question in the list.
const NAME: usize = 15;

/// The least rows of the list, whatever is said below it.
const ROWS: usize = 7;

/// Everything about the question under the cursor.
pub(super) fn asked(state: &State, pen: &Pen, width: usize, at: usize) -> Vec<Line<'static>> {
    let all = told::answers(&state.interview.answers, &state.catalogue);
    let one = all.get(at);
    one.map_or_else(Vec::new, |(prompt, shown, given)| {
        about(state, pen, width, (prompt, shown, *given))
    })
}

/// The questions with their answers.
pub(super) fn page(
    state: &State,
    pen: &Pen,
    width: usize,
    at: usize,
    height: Option<usize>,
) -> (String, Vec<Line<'static>>) {
    let answers = &state.interview.answers;
    let mut split = Split {
        least: ROWS,
        ..Split::default()
    };
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
        // What the money lacks takes more only while it is read.
        if prompt.id != MONEY {
            split.most = split.most.max(about.len());
        }
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
        split.told = pen.paragraph(text, width, Style::new());
    }
    let title = format!("A first machine: {said} of {last} answered");
    (title, split.lines(pen, width, height))
}

/// Rows above the questions, as many whatever there is to say: the list stays where it is.
const HEAD: usize = 2;

/// In which order the questions stand.
const ORDER: &str = "The weightiest questions come first. Answer in any order, or skip them.";

/// What the answers so far come to in money, and whether the money does; while nothing is known,
/// in which order the questions stand.
fn money(state: &State, pen: &Pen, width: usize) -> Vec<Line<'static>> {
    /// Rows of a screen that has room for both lines.
    const ROOMY: u16 = 24;
    let mut lines = match state.interview.outlook() {
        Some(Ok(seen)) => {
            let style = match seen.missing() {
                Some(_) => pen.theme.marked,
                None => Style::new(),
            };
            let first = told::outlook(seen).into_iter().take(1);
            let each = first.chain(told::missing(seen));
            each.flat_map(|line| pen.paragraph(&line, width, style))
                .collect()
        }
        Some(Err(error)) => pen.paragraph(error, width, pen.theme.marked),
        None if state.interview.is_looking() => {
            let text = "A quick look for what this costs: looking. You can go on meanwhile.";
            pen.paragraph(text, width, pen.theme.muted)
        }
        None => pen.paragraph(ORDER, width, pen.theme.muted),
    };
    match state.size.height < ROOMY {
        true => lines.truncate(1),
        false if lines.len() < HEAD => lines.resize(HEAD, Line::default()),
        false => {}
    }
    lines
}

/// Of a quick look that found nothing for the money.
const NOTHING_BOUGHT: &str = "A quick look found nothing for your money, whichever answer gives \
    way. The question \"owned already\" mostly saves most; the search at the end looks further.";

/// Of the question on the money, where that does not do: what would help, and what it buys.
fn short_of_money(state: &State) -> Vec<String> {
    let Some(Ok(seen)) = state.interview.outlook() else {
        // What was said of other answers holds no more.
        let is_asked =
            state.interview.is_looking() && state.interview.answers.given(MONEY).is_some();
        let text = "Whether your money does, and what would help if not: looking.";
        return is_asked.then(|| text.to_owned()).into_iter().collect();
    };
    if !seen.falls_short() {
        return Vec::new();
    }
    let mut lines: Vec<String> = told::outlook(seen).into_iter().skip(1).collect();
    let lesser = state.interview.lesser();
    match state.interview.is_looking() {
        true => lines.push("What your money buys instead: looking.".to_owned()),
        false => {
            let answers = &state.interview.answers;
            lines.extend(told::all_lesser(lesser, answers, &state.catalogue));
            if lesser.is_empty() {
                lines.push(NOTHING_BOUGHT.to_owned());
            }
        }
    }
    lines
}

/// A question in full.
fn about(
    state: &State,
    pen: &Pen,
    width: usize,
    (prompt, shown, given): (&Prompt, &str, bool),
) -> Vec<Line<'static>> {
    let mut lines = pen.paragraph(prompt.title, width, pen.theme.title);
    if prompt.id == MONEY {
        let short = short_of_money(state);
        let short = short.iter();
        lines.extend(short.flat_map(|line| pen.paragraph(line, width, pen.theme.marked)));
    }
    lines.extend(pen.paragraph(prompt.why, width, Style::new()));
    let text = match given {
        true => format!("You said: {shown}."),
        false if state.interview.answers.follows(prompt) => {
            format!("Skipped; assumed from where the parts go: {shown}.")
        }
        false => format!("Skipped; assumed as usual: {shown}."),
    };
    let seen = state.interview.outlook().and_then(Result::ok);
    if let Some(cost) = seen.and_then(|seen| told::share(seen, prompt)) {
        lines.extend(pen.paragraph(&cost, width, Style::new()));
    }
    let answers = &state.interview.answers;
    let lesser = state.interview.lesser();
    if let Some(line) = told::gives_way(lesser, prompt, answers, &state.catalogue) {
        lines.extend(pen.paragraph(&line, width, pen.theme.marked));
    }
    lines.extend(pen.paragraph(&text, width, pen.theme.muted));
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
        let mut about = pen.paragraph(picking.prompt.why, width, Style::new());
        about.extend(pen.paragraph(&one.plain, width, pen.theme.muted));
        split.tell(about, here);
    }
    let mut head = pen.paragraph(picking.prompt.title, width, pen.theme.title);
    if several {
        let text = "Enter ticks, a ticks all or none; esc goes on with what is ticked.";
        head.extend(pen.paragraph(text, width, pen.theme.muted));
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
    typed: &Typed,
) -> (String, Vec<Line<'static>>) {
    let room = width.saturating_sub(FIELD.1 + 1);
    let field = Line::from(vec!["  > ".into(), pen.field(typed, room)]);
    let mut lines = vec![field, Line::default()];
    lines.extend(pen.paragraph(prompt.title, width, pen.theme.title));
    lines.extend(pen.paragraph(prompt.why, width, Style::new()));
    let currency = state.interview.answers.currency(&state.catalogue);
    let how = prompt.how(state.shown, currency);
    lines.extend(pen.paragraph(&how, width, Style::new()));
    let usual = interview::Answers::default().shown(prompt, &state.catalogue);
    let text = format!("Empty takes the answer back; as usual: {usual}.");
    lines.extend(pen.paragraph(&text, width, pen.theme.muted));
    (heading(prompt), lines)
}

/// Which of the questions it is.
fn heading(prompt: &Prompt) -> String {
    let all = interview::all();
    let place = all.iter().position(|one| one.id == prompt.id);
    let number = place.unwrap_or_default() + 1;
    format!("Question {number} of {}", all.len())
}
