//! The list of warnings, and one warning in full.

use ratatui::text::{Line, Span};

use super::differences::in_words;
use super::page::Page;
use super::paint::{Pen, under_cursor};
use crate::build::Edit;
use crate::explore::remedy::{LOWERS_WISH, Unfit, Why, lowers_wish};
use crate::explore::told as telling;
use crate::money::show as amounts;
use crate::rules::topics::Topic;
use crate::screen::action::Action;
use crate::screen::keymap::Place;
use crate::screen::state::State;
use crate::screen::text;
use crate::screen::theme::mark;
use crate::words::Words;

/// Every topic, worst first, what follows from a cause indented below it; the one under the
/// cursor with its messages. Only those in view where a height is given.
pub(super) fn list(
    state: &State,
    pen: &Pen,
    width: usize,
    cursor: usize,
    height: Option<usize>,
) -> Vec<Line<'static>> {
    let topics = state.about.topics();
    if topics.is_empty() {
        return vec![Line::from(" Nothing to warn of.")];
    }
    let mut blocks: Vec<Vec<Line>> = Vec::new();
    for (place, topic) in topics.iter().enumerate() {
        blocks.push(block(state, pen, topic, width, place == cursor));
    }
    let mut first = 0;
    if let Some(height) = height {
        let rows = |from: usize| blocks[from..=cursor].iter().map(Vec::len).sum::<usize>();
        while first < cursor && rows(first) > height {
            first += 1;
        }
    }
    blocks.into_iter().skip(first).flatten().collect()
}

fn block(state: &State, pen: &Pen, topic: &Topic, width: usize, here: bool) -> Vec<Line<'static>> {
    let findings = &state.now.findings;
    let Some(finding) = findings.get(topic.first()) else {
        return Vec::new();
    };
    let style = if finding.counts() {
        pen.theme.severity(finding.severity)
    } else {
        pen.theme.muted
    };
    let arrow = if here { ">" } else { " " };
    let (mark, word) = match (topic.follows, &finding.accepted) {
        (true, None) => ("", "also".to_owned()),
        (true, Some(_)) => ("", "also, accepted".to_owned()),
        (false, Some(_)) => (
            mark(finding.severity),
            format!("{}, accepted", finding.severity.title()),
        ),
        (false, None) => (mark(finding.severity), finding.severity.title().to_owned()),
    };
    let indent = if topic.follows { "  " } else { "" };
    let used = 5 + text::width(indent) + text::width(&word);
    let room = width.saturating_sub(used);
    let mut title = pen.wrap(&topic.title(findings), room).into_iter();
    let head = vec![
        Span::raw(arrow),
        Span::styled(format!("{indent}{mark:<2} "), style),
        Span::styled(format!("{word} "), style),
        Span::raw(pen.left(&title.next().unwrap_or_default(), room)),
    ];
    let head = Line::from(head);
    let rest = title.map(|line| Line::from(format!("{}{line}", " ".repeat(used))));
    if !here {
        return std::iter::once(head).chain(rest).collect();
    }
    let mut lines = vec![under_cursor(head, pen.theme.selected)];
    lines.extend(rest);
    for finding in topic.of(findings) {
        let columns = width.saturating_sub(5 + text::width(indent));
        let message = pen.wrap(&finding.message, columns);
        lines.extend(
            message
                .into_iter()
                .map(|line| Line::from(format!("    {indent}{line}"))),
        );
    }
    lines
}

/// One warning: what, why, where from, what to do, and what follows from it.
pub(super) fn whole(state: &State, pen: &Pen, width: usize, place: usize) -> Vec<Line<'static>> {
    let findings = &state.now.findings;
    let topic = state.about.topics().get(place);
    let Some((topic, finding)) =
        topic.and_then(|topic| Some((topic, findings.get(topic.first())?)))
    else {
        return vec![Line::from(" This warning is gone.")];
    };
    let mut page = Page::new(pen, width);
    let word = finding.severity.word();
    let used = 6 + text::width(word.title);
    let title = pen.wrap(&topic.title(findings), width.saturating_sub(used));
    let mut title = title.into_iter();
    page.lines.push(Line::from(vec![
        Span::styled(
            format!(" {} {}", mark(finding.severity), word.title),
            pen.theme.severity(finding.severity),
        ),
        Span::styled(
            format!("  {}", title.next().unwrap_or_default()),
            pen.theme.marked,
        ),
    ]));
    page.lines.extend(title.map(|line| {
        let line = format!("{}{line}", " ".repeat(used));
        Line::styled(line, pen.theme.marked)
    }));
    topic.of(findings).for_each(|one| page.text(&one.message));
    if let Some(note) = &finding.accepted {
        let note = if note.is_empty() { "no note" } else { note };
        page.part("Accepted", note);
    }
    let rule = finding.rule.told();
    page.part("Why it matters", rule.because);
    page.part("What to do instead", rule.instead);
    remedy(&mut page, state);
    unfit(&mut page, state);
    choices(&mut page, state);
    entry(&mut page, state, place);
    page.part("What is watched", rule.watches);
    page.part("Where it comes from", rule.from);
    page.part(
        "What the word means",
        &format!("{}: {}", word.title, word.plain),
    );
    page.lines
}

/// What else is in the entry: the cause that this follows from, or what follows from it.
fn entry(page: &mut Page, state: &State, place: usize) {
    let (topics, findings) = (state.about.topics(), &state.now.findings);
    if topics.get(place).is_some_and(|topic| topic.follows) {
        let heads = topics.iter().take(place).rev();
        if let Some(head) = heads.into_iter().find(|topic| !topic.follows) {
            let text = format!("{}. Lifting that may lift this too.", head.title(findings));
            page.part("What it follows from", &text);
        }
        return;
    }
    let mut followers = state.followers(place).peekable();
    if followers.peek().is_none() {
        return;
    }
    page.part(
        "What follows from it",
        "Lifting the cause may lift these too. Each can be opened in the list of warnings.",
    );
    for topic in followers.filter_map(|place| topics.get(place)) {
        page.text(&format!("also: {}", topic.title(findings)));
        for finding in topic.of(findings) {
            page.within(2, &finding.message);
        }
        let first = findings.get(topic.first());
        if let Some(rule) = first.map(|first| first.rule.told()) {
            page.within(2, &format!("To lift it alone: {}", rule.instead));
        }
    }
}

/// The changes that would lift the warning, and what they bring.
fn remedy(page: &mut Page, state: &State) {
    if state.remedy.edits.is_empty() {
        page.part(
            "By one key",
            "No choice was found that lifts it without bringing something as bad.",
        );
        return;
    }
    let mut changes = Vec::new();
    for edit in &state.remedy.edits {
        let before = (edit.choice.get)(state.build());
        let (from, to) = (
            edit.choice.show(&before, &state.catalogue),
            edit.choice.show(&edit.value, &state.catalogue),
        );
        changes.push(format!("{}: {from} -> {to}", edit.choice.title));
    }
    let key = state.key_for(Place::Warning, Action::Lift);
    page.part(&format!("By one key, {key}"), &changes.join("; "));
    if lowers_wish(&state.remedy.edits) {
        page.text(LOWERS_WISH);
    }
    if let Some(effect) = &state.preview {
        let price = match amounts::change(effect.price) {
            same if same == "same" => "the cost stays the same".to_owned(),
            change => format!("{change} {}", effect.after.bill.currency),
        };
        let words = in_words(&effect.added, &effect.lifted);
        page.text(&format!("That changes: {price}; {words}."));
    }
    for (name, words) in &state.remedy.lost {
        page.text(&format!("Lost by that: {name}: {words}"));
    }
}

/// What its rule names besides, and why no key does that.
fn unfit(page: &mut Page, state: &State) {
    let edits = &state.remedy.edits;
    let remedied = |edit: &Edit| edits.iter().any(|one| one.choice.id == edit.choice.id);
    // One half of a remedy is told with the other.
    let is_told = |one: &Unfit| one.edits.iter().all(remedied);
    let others = state.remedy.unfit.iter().filter(|one| !is_told(one));
    for (place, one) in others.enumerate() {
        let text = not_offered(state, one);
        match place {
            0 => page.part("What was tried and is not offered", &text),
            _ => page.text(&text),
        }
    }
}

/// A change that was tried, and what is wrong with it.
fn not_offered(state: &State, one: &Unfit) -> String {
    let changes = telling::changes(&state.catalogue, state.build(), &one.edits);
    match &one.why {
        Why::Stays if one.tried > 1 => {
            let names: Vec<&str> = one.edits.iter().map(|edit| edit.choice.title).collect();
            let (names, tried) = (names.join(", "), one.tried);
            format!("{names}: none of the {tried} others that were tried lifts it alone.")
        }
        Why::Stays => format!("{changes}. That alone does not lift it."),
        Why::Refused(why) => format!("{changes}. That cannot be chosen: {why}."),
        Why::Brings(new) => {
            let new = telling::warned(std::slice::from_ref(new)).join("; ");
            format!("{changes}. That lifts it and brings another, {new}.")
        }
    }
}

/// Which choices it is about, and the key that goes there.
fn choices(page: &mut Page, state: &State) {
    let all = state.choices_of_finding();
    let Some(first) = state.choice_of_finding() else {
        return;
    };
    let names: Vec<&str> = all.iter().map(|choice| choice.title).collect();
    let step = first.step;
    page.part(
        "Choices that it is about",
        &format!(
            "{}. The key {} goes to {}, in step {}, {}.",
            names.join(", "),
            state.key_for(Place::Warning, Action::GoTo),
            first.title,
            step.index() + 1,
            step.title()
        ),
    );
}

/// Where the work can hurt, whatever is chosen.
pub(super) fn safety(state: &State, pen: &Pen, width: usize) -> Vec<Line<'static>> {
    let mut page = Page::new(pen, width);
    page.text("No choice lifts these: they are about the work, not about the build.");
    for note in &state.now.safety {
        page.part(note.title, note.text);
        page.text(&format!("From: {}.", note.from));
    }
    page.lines
}
