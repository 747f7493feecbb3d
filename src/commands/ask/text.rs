//! Questions and answers as pages of text: a table to compare by, then each way to go.

use crate::catalogue::Step;
use crate::commands::color::Paint;
use crate::commands::layout::{WIDTH, hanging, table};
use crate::explore::question::{self, Alternative, Answer, Question};
use crate::explore::reading::Reading;
use crate::explore::told;
use crate::explore::trial::Bench;
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
    let before = Reading::of(bench.before);
    page.push('\n');
    page.push_str(&compared(&before, &answer.alternatives));
    for (place, one) in answer.alternatives.iter().enumerate() {
        page.push('\n');
        page.push_str(&told_of(bench, &before, place, one, paint));
    }
    page
}

/// All ways to go below what is now.
fn compared(before: &Reading, alternatives: &[Alternative]) -> String {
    let row = |name: String, cells: [String; 7]| {
        let mut row = vec![name];
        row.extend(cells);
        row
    };
    let words = |name: &str, cells: [&str; 7]| row(name.to_owned(), cells.map(str::to_owned));
    let code = before.cost.currency.code().to_owned();
    let mut rows = vec![
        words(
            "",
            ["cost", "rapids", "m/min", "", "tip", "removal", "mains"],
        ),
        words("", [&code, "X", "Y", "Z", "N/µm", "cm³/min", "A"]),
        row("  now".to_owned(), told::row(before)),
    ];
    for (place, one) in alternatives.iter().enumerate() {
        let cells = told::row(&Reading::of(&one.trial.after));
        rows.push(row(format!("  {}", told::letter(place)), cells));
    }
    table("<>>>>>>>", &rows)
}

/// One way to go.
fn told_of(
    bench: &Bench,
    before: &Reading,
    place: usize,
    one: &Alternative,
    paint: Paint,
) -> String {
    let price = told::price(one.trial.price, one.trial.after.bill.currency);
    let letter = told::letter(place);
    let title = format!("{letter}  {}: {price}", one.title);
    let mut text = match title.len() <= WIDTH {
        true => format!("{}\n", paint.heading(&title)),
        false => hanging(&letter, 3, &format!("{}: {price}", one.title)),
    };
    let mut say = |label: &str, words: &str| {
        text.push_str(&hanging(&format!("   {label}"), LABEL, words));
    };
    say(
        "changes",
        &told::edits(bench.catalogue, &one.trial.edits).join("; "),
    );
    for (name, words) in told::moved(before, &one.trial) {
        say(name, &words);
    }
    for (label, findings) in [("new", &one.trial.added), ("gone", &one.trial.lifted)] {
        for words in told::warned(findings) {
            say(label, &words);
        }
    }
    say("note", &one.note);
    text
}
