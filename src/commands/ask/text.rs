//! Questions and answers as pages of text: a table to compare by, then each way to go.

use unicode_width::UnicodeWidthStr as _;

use crate::build::edit::difference;
use crate::catalogue::Step;
use crate::commands::color::Paint;
use crate::commands::layout::{WIDTH, compared_heads, compared_row, hanging, table};
use crate::explore::effect::missing_in;
use crate::explore::question::{self, Answer, Question};
use crate::explore::reading::Reading;
use crate::explore::told;
use crate::explore::trial::Bench;
use crate::store::visible;
use crate::words::Words as _;

/// Columns of an id in the list.
const ID: usize = 20;

/// Columns in front of what is said about an alternative.
const LABEL: usize = 14;

/// Every question, step by step.
pub(super) fn list(paint: Paint) -> String {
    let mut page = String::new();
    for &step in Step::ALL {
        let own = question::all().filter(|question| question.step == step);
        page.push_str(&paint.heading(step.title()));
        page.push('\n');
        for question in own {
            page.push_str(&hanging(&format!("  {}", question.id), ID, question.title));
        }
    }
    let how = "Ask one of a build: gantrywright ask FILE QUESTION";
    format!("{page}\n{how}\n")
}

/// One answer.
pub(super) fn answer(question: &Question, bench: &Bench, answer: &Answer, paint: Paint) -> String {
    let mut page = format!("{}\n", paint.heading(question.title));
    page.push_str(&hanging("", 0, question.why));
    if answer.alternatives.is_empty() {
        page.push('\n');
        page.push_str(&hanging("It does not arise: ", 0, &answer.apart));
        return page;
    }
    if !answer.headline.is_empty() {
        page.push('\n');
        page.push_str(&hanging("", 0, &answer.headline));
    }
    page.push('\n');
    page.push_str(&compared(question, bench, answer, paint));
    for place in 0..answer.alternatives.len() {
        page.push('\n');
        page.push_str(&told_of(bench, answer, place, paint));
    }
    page
}

/// All ways to go below what is now; behind each whether it reaches what is wished, and how bad
/// the worst warning is that it brings.
fn compared(question: &Question, bench: &Bench, answer: &Answer, paint: Paint) -> String {
    let numbers = &paint.numbers();
    let before = Reading::of(bench.before);
    let mut rows = compared_heads(numbers, before.cost.currency);
    rows.push(compared_row("  now".to_owned(), &before, numbers));
    for (place, one) in answer.alternatives.iter().enumerate() {
        let name = format!("  {}", told::letter(place));
        let mut row = compared_row(name, &Reading::of(&one.trial.after), numbers);
        let after = &one.trial.after;
        let reaches = question::brings_to_wish(question, bench.build, bench.before, after);
        let reaches = reaches.then(|| "reaches it".to_owned());
        let brings = answer.worst(bench, place);
        let brings = brings.map(|worst| format!("new {}", worst.title()));
        let each: Vec<String> = reaches.into_iter().chain(brings).collect();
        row.push(each.join(", "));
        rows.push(row);
    }
    table("<>>>>>>><", &rows)
}

/// One way to go.
fn told_of(bench: &Bench, answer: &Answer, place: usize, paint: Paint) -> String {
    let (one, base) = (&answer.alternatives[place], answer.base(bench, place));
    let after = &one.trial.after;
    let price = after.bill.total.likely - base.assessment.bill.total.likely;
    let title = format!("{}: {}", one.title, told::price(price, after.bill.currency));
    let letter = format!("{}  ", told::letter(place));
    let looks = letter.width() + title.width();
    let mut text = match looks <= WIDTH {
        true => format!(
            "{}\n",
            paint.heading(&format!("{letter}{}", visible(&title)))
        ),
        false => hanging(letter.trim_end(), letter.width(), &title),
    };
    let mut say = |label: &str, words: &str| {
        text.push_str(&hanging(&format!("   {label}"), LABEL, words));
    };
    let edits = difference(base.build, &one.trial.build);
    say(
        "changes",
        &told::changes(bench.catalogue, base.build, &edits),
    );
    for (name, words) in told::moved(&Reading::of(base.assessment), &Reading::of(after)) {
        // Turned before it is laid out, or what stands left in its column would move.
        say(name, &paint.numbers().spell(&words));
    }
    for (name, words) in told::moves(base.assessment, after) {
        say(name, &paint.numbers().spell(&words));
    }
    let (added, lifted) = (
        missing_in(&after.findings, &base.assessment.findings),
        missing_in(&base.assessment.findings, &after.findings),
    );
    let parts = told::money(base.assessment, after);
    if let Some(words) = parts {
        say("parts", &paint.numbers().spell(&words));
    }
    for (label, words) in told::gains(base.assessment, after, bench.catalogue) {
        say(label, &paint.numbers().spell(&words));
    }
    for (label, words) in &one.losses {
        say(label, &paint.numbers().spell(words));
    }
    if let Some(alone) = &one.alone {
        say("alone", &told::alone(alone, after.bill.currency));
    }
    if added.is_empty() {
        say("new", told::NO_WARNING);
    }
    let earlier = answer.brought_before(bench, place);
    for (label, findings) in [("new", added), ("before", earlier), ("gone", lifted)] {
        for words in told::warned(&findings) {
            say(label, &words);
        }
    }
    say("note", &one.note);
    text
}
