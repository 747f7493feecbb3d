//! An answer: the ways to go below what is now, and the one under the cursor in full.

use ratatui::style::Style;
use ratatui::text::Line;

use crate::build::edit::difference;
use crate::explore::effect::missing_in;
use crate::explore::question::{self, Alternative, Answer, BOTH_SIDES, ONLY_IF, Question};
use crate::explore::reading::Reading;
use crate::explore::told::{self as telling, NO_WARNING};
use crate::explore::trial::Bench;
use crate::money::Currency;
use crate::rules::Severity;
use crate::screen::action::Action;
use crate::screen::keymap::Place;
use crate::screen::savings::DROP;
use crate::screen::state::State;
use crate::screen::text;
use crate::screen::theme::mark;
use crate::screen::view::paint::Pen;
use crate::screen::view::split::{Split, named, row};
use crate::screen::view::what_if::UNDER_WAY;
use crate::units::respell::COMPARED;

/// The least rows of the list of savings: what is said below takes less there.
const ROWS: usize = 6;

/// Columns of the arrow in front of a row.
const ARROW: usize = 2;

/// The page.
pub(in crate::screen::view) fn page(
    state: &State,
    pen: &Pen,
    width: usize,
    (question, at): (&Question, usize),
    height: Option<usize>,
) -> (String, Vec<Line<'static>>) {
    let title = question.title.to_owned();
    let Some(answer) = state.what_if.answer(question, &state.now) else {
        return (title, pen.paragraph(UNDER_WAY, width, Style::new()));
    };
    if answer.alternatives.is_empty() {
        let mut lines = pen.paragraph(question.why, width, Style::new());
        lines.push(Line::default());
        let apart = format!("It does not arise: {}", answer.apart);
        lines.extend(pen.paragraph(&apart, width, pen.theme.marked));
        return (title, lines);
    }
    let (heads, rows) = table(state, pen, answer);
    let mut head = pen.paragraph(&answer.headline, width, pen.theme.marked);
    head.extend(pointer(state, pen, width, question));
    head.extend(heads.iter().map(|line| Line::from(pen.cut(line, width))));
    let bench = bench(state);
    let mut split = Split {
        head,
        ..Split::default()
    };
    if question.id == DROP {
        split.least = ROWS;
    }
    let mut reaching = Vec::new();
    for (place, (text, one)) in rows.iter().zip(&answer.alternatives).enumerate() {
        let apart =
            |place: usize| (answer.alternatives.get(place)).is_some_and(Alternative::is_apart);
        if place > 0 && apart(place) && !apart(place - 1) {
            split.heading(pen, APART);
        }
        let base = answer.base(&bench, place);
        let reaches =
            question::brings_to_wish(question, bench.build, bench.before, &one.trial.after);
        let name = Name {
            title: one.name(),
            more: difference(base.build, &one.trial.build)
                .len()
                .saturating_sub(1),
            reaches,
            worst: answer.worst(&bench, place),
        };
        if reaches {
            reaching.push(letter(answer, place));
        }
        if place == at {
            split.at = split.rows.len();
        }
        let text = name.behind(pen, text, width);
        split.rows.push(row(pen, &text, place == at));
        split.tell(told(state, pen, width, question, place), place == at);
    }
    let title = match reaching.as_slice() {
        [] => title,
        [only] => format!("{title} {only} reaches it"),
        several => format!("{title} {} reach it", several.join(", ")),
    };
    (title, split.lines(pen, width, height))
}

/// What stands above the rows that save only where something is there already.
const APART: &str = "Only if it is so, each by itself:";

/// The letter of a way; none where it stands apart.
fn letter(answer: &Answer, place: usize) -> String {
    match answer
        .alternatives
        .get(place)
        .is_some_and(Alternative::is_apart)
    {
        true => String::new(),
        false => telling::letter(place),
    }
}

/// The build at hand.
fn bench(state: &State) -> Bench<'_> {
    Bench {
        catalogue: &state.catalogue,
        build: state.build(),
        before: &state.now,
        today: state.today,
    }
}

/// What a row stands for.
struct Name<'a> {
    title: &'a str,
    /// How many choices it changes besides the one that it is named by.
    more: usize,
    /// Whether it reaches a speed that is wanted.
    reaches: bool,
    /// How bad the worst warning is that it brings.
    worst: Option<Severity>,
}

impl Name<'_> {
    /// It behind the figures of its row, as much of it as has room.
    fn behind(&self, pen: &Pen, figures: &str, width: usize) -> String {
        let title = self.title;
        let choice = match title.split_once(": ") {
            Some((condition, choice)) if condition.starts_with(ONLY_IF) => choice,
            Some((choice, _)) => choice,
            None => title,
        };
        let more = match self.more {
            0 => String::new(),
            more => format!(" +{more} more"),
        };
        let figures = match self.worst {
            Some(worst) => &format!("{figures} +{}", mark(worst)),
            None => figures,
        };
        let mut texts = Vec::new();
        if self.reaches {
            texts.push(format!("{figures}  reaches it: {title}"));
            texts.push(format!("{figures}  reaches it: {choice}{more}"));
        }
        texts.push(format!("{figures}  {title}"));
        texts.push(format!("{figures}  {choice}{more}"));
        let short = choice.trim_end_matches(BOTH_SIDES);
        texts.push(format!("{figures}  {short}{more}"));
        texts.push(format!("{figures}  {short}"));
        texts.push(figures.to_owned());
        pen.first_that_fits(&texts, width.saturating_sub(ARROW))
    }
}

/// Of the question about savings: what it does, and where else to go.
fn pointer(state: &State, pen: &Pen, width: usize, question: &Question) -> Vec<Line<'static>> {
    let key = |action| state.keymap.key_of(Place::Answer, action);
    let keys = [Action::Enter, Action::Alone, Action::Seek, Action::Spend].map(key);
    match (question.id, keys) {
        (DROP, [Some(take), Some(alone), Some(search), Some(ways)]) => {
            let text = format!(
                "{take} takes a row and all above it, {alone} the row alone. {search} searches instead; {ways} shows all ways."
            );
            pen.paragraph(&text, width, pen.theme.muted)
        }
        _ => Vec::new(),
    }
}

/// Two lines of headings, what is now, and each way to go.
fn table(state: &State, pen: &Pen, answer: &Answer) -> (Vec<String>, Vec<String>) {
    let each = answer.alternatives.iter().enumerate();
    let each = each.map(|(place, one)| (letter(answer, place), Reading::of(&one.trial.after)));
    compared(state, pen, state.now.bill.currency, each)
}

/// Builds by their names, counted in one money, and the lines that stand above them: two of
/// headings, and what is now, unless it is counted in other money, since the sums could not be
/// compared. Columns are as wide as their widest cell; only the lines above stand in by an arrow.
pub(in crate::screen::view) fn compared(
    state: &State,
    pen: &Pen,
    currency: Currency,
    builds: impl Iterator<Item = (String, Reading)>,
) -> (Vec<String>, Vec<String>) {
    let read = &pen.speller;
    let heads = telling::row_heads(&currency).into_iter();
    let heads = heads.map(|row| {
        let [a, b, c, d, e, f, g] = row.map(|cell| pen.spell(read.unit(cell)));
        [String::new(), a, b, c, d, e, f, g]
    });
    let mut rows: Vec<[String; 8]> = heads.collect();
    let with = |name: String, reading: &Reading| {
        let [a, b, c, d, e, f, g] = read.cells(telling::row(reading), COMPARED);
        [name, a, b, c, d, e, f, g]
    };
    if currency == state.now.bill.currency {
        rows.push(with("now".to_owned(), &Reading::of(&state.now)));
    }
    let above = rows.len();
    rows.extend(builds.map(|(name, reading)| with(name, &reading)));
    let widths: Vec<usize> = (0..8)
        .map(|column| {
            let cells = rows.iter().map(|row| text::width(&row[column]));
            cells.max().unwrap_or_default()
        })
        .collect();
    let line = |row: &[String; 8]| {
        let cells = row.iter().zip(&widths).enumerate();
        let cells = cells.map(|(column, (cell, &width))| match column {
            0 => pen.left(cell, width),
            _ => pen.right(cell, width),
        });
        cells.collect::<Vec<_>>().join("  ")
    };
    let mut lines = rows.iter().map(line);
    let above = lines.by_ref().take(above);
    let above = above.map(|line| format!("  {line}")).collect();
    (above, lines.collect())
}

/// The way under the cursor, in full.
pub(in crate::screen::view) fn told(
    state: &State,
    pen: &Pen,
    width: usize,
    question: &Question,
    at: usize,
) -> Vec<Line<'static>> {
    let Some(answer) = state.what_if.answer(question, &state.now) else {
        return Vec::new();
    };
    let Some(one) = answer.alternatives.get(at) else {
        return Vec::new();
    };
    let bench = bench(state);
    let base = answer.base(&bench, at);
    let after = &one.trial.after;
    let price = after.bill.total.likely - base.assessment.bill.total.likely;
    let price = telling::price(price, after.bill.currency);
    let title = match letter(answer, at).as_str() {
        "" => format!("{}: {price}", one.title),
        letter => format!("{letter}. {}: {price}", one.title),
    };
    let mut lines = pen.paragraph(&title, width, pen.theme.title);
    let (added, lifted) = (
        missing_in(&after.findings, &base.assessment.findings),
        missing_in(&base.assessment.findings, &after.findings),
    );
    if let Some(alone) = &one.alone {
        let words = telling::alone(alone, after.bill.currency);
        lines.extend(named(pen, width, "alone", &words));
    }
    lines.extend(named(pen, width, "note", &one.note));
    if added.is_empty() {
        lines.extend(named(pen, width, "new", NO_WARNING));
    }
    let earlier = answer.brought_before(&bench, at);
    for (name, findings) in [("new", &added), ("before", &earlier), ("gone", &lifted)] {
        for words in telling::warned(findings) {
            lines.extend(named(pen, width, name, &words));
        }
    }
    let edits = difference(base.build, &one.trial.build);
    let told = one.losses.iter().cloned();
    let figures = telling::moved(&Reading::of(base.assessment), &Reading::of(after));
    for (name, words) in told
        .chain(figures)
        .chain(telling::moves(base.assessment, after))
        .chain(telling::gains(base.assessment, after, &state.catalogue))
    {
        lines.extend(named(pen, width, name, &words));
    }
    if let Some(words) = telling::money(base.assessment, after) {
        lines.extend(named(pen, width, "parts", &words));
    }
    let edits = telling::changes(&state.catalogue, base.build, &edits);
    lines.extend(named(pen, width, "changes", &edits));
    lines
}
