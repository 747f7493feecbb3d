//! The questions, asked line by line. What is asked goes to standard error, so that an answer
//! in JSON on standard output stays alone.

use std::io::{self, BufRead, Write};

use super::{Desk, skipped};
use crate::build::Build;
use crate::build::value::BadValue;
use crate::commands::Failure;
use crate::commands::input::line;
use crate::commands::layout::hanging;
use crate::commands::watch;
use crate::explore::find::Progress;
use crate::explore::interview::{
    self, Answers, InterviewError, Level, Listed, Outlook, Prompt, Proposal,
};
use crate::money::Currency;
use crate::store::visible;
use crate::words::Words as _;

/// What a look comes to; nothing where it was stopped.
type Looked = Result<Option<Outlook>, InterviewError>;

/// Asks every question; then any of them again that is named. False where somebody leaves
/// before the end.
pub(super) fn ask(
    answers: &mut Answers,
    desk: &Desk,
    input: &mut dyn BufRead,
    out: &mut dyn Write,
) -> Result<bool, Failure> {
    let all = interview::all();
    let head = "Enter keeps what stands in brackets. back goes back one question, skip takes an \
                answer away, quit leaves.";
    say(out, &hanging("", 0, head))?;
    let mut at = 0;
    while let Some(prompt) = all.get(at) {
        let listed = desk.listed(prompt, answers)?;
        say(out, &question(prompt, at, answers, desk, &listed))?;
        let Some(line) = line(input)? else {
            return left(out);
        };
        match line.trim() {
            "quit" => return left(out),
            "back" => at = at.saturating_sub(1),
            "" => at += 1,
            "skip" => {
                answers.skip(prompt);
                at += 1;
            }
            text => match given(answers, prompt, text, desk, &listed) {
                Ok(()) => {
                    look(prompt, answers, desk, out)?;
                    at += 1;
                }
                Err(error) => say(out, &hanging("  ! ", 4, &error.to_string()))?,
            },
        }
    }
    loop {
        say(out, &summary(answers, desk))?;
        let Some(line) = line(input)? else {
            return left(out);
        };
        let text = line.trim();
        let prompt = match text.parse::<usize>() {
            Ok(number) => number.checked_sub(1).and_then(|place| all.get(place)),
            Err(_) => all.iter().find(|prompt| prompt.id == text),
        };
        match (text, prompt) {
            ("", _) => return Ok(true),
            ("quit", _) => return left(out),
            (_, Some(prompt)) => {
                if !again(prompt, answers, desk, input, out)? {
                    return left(out);
                }
            }
            _ => {
                let message = format!("{text:?} is no number of a question");
                say(out, &hanging("  ! ", 4, &message))?;
            }
        }
    }
}

/// Takes an answer as somebody at this desk types it.
fn given(
    answers: &mut Answers,
    prompt: &'static Prompt,
    text: &str,
    desk: &Desk,
    listed: &[Listed],
) -> Result<(), BadValue> {
    let shown = desk.speller.shown();
    answers.give_as(prompt, text, (&desk.catalogue, listed), shown)
}

/// Says what an answer costs, and what all so far come to; where the money does not do, what
/// each of them costs. Ctrl-C ends the look, not the questions.
fn look(
    prompt: &'static Prompt,
    answers: &Answers,
    desk: &Desk,
    out: &mut dyn Write,
) -> Result<(), Failure> {
    let currency = answers.currency(&desk.catalogue);
    let mut found = looked(answers, desk, currency, &|one| one.id == prompt.id)?;
    if let Ok(Some(seen)) = &found
        && seen.missing().is_some()
    {
        found = looked(answers, desk, currency, &|_| true)?;
    }
    let lines = match found {
        Ok(Some(seen)) => {
            let share = interview::told::share(&seen, prompt).into_iter();
            let mut lines: Vec<String> = share.chain(interview::told::outlook(&seen)).collect();
            if seen.falls_short() {
                lines.extend(lesser(answers, desk, currency, seen.build.as_ref())?);
            }
            lines
        }
        Ok(None) => vec!["The look at what it costs was stopped.".to_owned()],
        Err(error) => vec![error.to_string()],
    };
    for line in lines {
        say(out, &desk.speller.text(&hanging("", 2, &line)))?;
    }
    Ok(())
}

/// Looks what the answers come to, with a line of progress where that takes long.
fn looked(
    answers: &Answers,
    desk: &Desk,
    currency: Currency,
    of: &dyn Fn(&Prompt) -> bool,
) -> Result<Looked, Failure> {
    watch::watched(currency, |watch| {
        let (catalogue, free) = (&desk.catalogue, &desk.free);
        interview::outlook(catalogue, answers, free, desk.today, of, &mut || {
            watch(&Progress::BEGINNING)
        })
    })
}

/// What the money buys, in words, with a line of progress where that takes long.
fn lesser(
    answers: &Answers,
    desk: &Desk,
    currency: Currency,
    known: Option<&Build>,
) -> Result<Vec<String>, Failure> {
    let (catalogue, free) = (&desk.catalogue, &desk.free);
    let found = watch::watched(currency, |watch| {
        interview::lesser(catalogue, answers, free, desk.today, known, &mut || {
            watch(&Progress::BEGINNING)
        })
    })?;
    Ok(match found {
        Ok(Some(all)) => interview::told::all_lesser(&all, answers, catalogue),
        Ok(None) => vec!["The look at what your money buys was stopped.".to_owned()],
        Err(error) => vec![error.to_string()],
    })
}

/// Asks one question again, until its answer can be used. False where somebody leaves.
fn again(
    prompt: &'static Prompt,
    answers: &mut Answers,
    desk: &Desk,
    input: &mut dyn BufRead,
    out: &mut dyn Write,
) -> Result<bool, Failure> {
    let place = interview::all().iter().position(|one| one.id == prompt.id);
    loop {
        let listed = desk.listed(prompt, answers)?;
        let place = place.unwrap_or_default();
        say(out, &question(prompt, place, answers, desk, &listed))?;
        let Some(line) = line(input)? else {
            return Ok(false);
        };
        match line.trim() {
            "quit" => return Ok(false),
            "" | "back" => return Ok(true),
            "skip" => {
                answers.skip(prompt);
                return Ok(true);
            }
            text => match given(answers, prompt, text, desk, &listed) {
                Ok(()) => {
                    look(prompt, answers, desk, out)?;
                    return Ok(true);
                }
                Err(error) => say(out, &hanging("  ! ", 4, &error.to_string()))?,
            },
        }
    }
}

/// Which of the builds is opened; none where Enter alone is pressed.
pub(super) fn pick(
    proposal: &Proposal,
    input: &mut dyn BufRead,
    out: &mut dyn Write,
) -> Result<Option<Level>, Failure> {
    let there = proposal.offers.iter().filter(|one| one.build().is_some());
    let levels: Vec<Level> = there.map(|offer| offer.level).collect();
    if levels.is_empty() {
        return Ok(None);
    }
    let names: Vec<&str> = levels.iter().map(|level| level.id()).collect();
    loop {
        let text = format!("\nOpen one of them: {}; Enter leaves. > ", names.join(", "));
        say(out, &text)?;
        let Some(line) = line(input)? else {
            return Ok(None);
        };
        match line.trim() {
            "" | "quit" => return Ok(None),
            text => {
                let begun = |level: &&Level| level.id().starts_with(text);
                match levels.iter().find(begun) {
                    Some(level) => return Ok(Some(*level)),
                    None => say(
                        out,
                        &hanging("  ! ", 4, &format!("{text:?} is none of them")),
                    )?,
                }
            }
        }
    }
}

/// A question with why it matters, what may be picked, and what holds if Enter is pressed.
fn question(
    prompt: &Prompt,
    place: usize,
    answers: &Answers,
    desk: &Desk,
    listed: &[Listed],
) -> String {
    let of = interview::all().len();
    let mut text = String::from("\n");
    text.push_str(&hanging(
        "",
        0,
        &format!("{} of {of}. {}", place + 1, prompt.title),
    ));
    text.push_str(&hanging("", 2, prompt.why));
    let how = prompt.how(desk.speller.shown(), answers.currency(&desk.catalogue));
    text.push_str(&hanging("", 2, &how));
    text.push_str(&super::text::picks(listed));
    let shown = visible(&answers.shown(prompt, &desk.catalogue)).into_owned();
    let held = match answers.given(prompt.id) {
        Some(_) => format!("[{shown}]"),
        None if answers.follows(prompt) => format!("[assumed from where the parts go: {shown}]"),
        None => format!("[as usual: {shown}]"),
    };
    let held = hanging("", 2, &held);
    text.push_str(held.trim_end());
    text.push_str(" > ");
    desk.speller.text(&text)
}

/// All answers, to be looked over.
fn summary(answers: &Answers, desk: &Desk) -> String {
    let mut text = String::from("\n");
    for (place, (prompt, shown, given)) in interview::told::answers(answers, &desk.catalogue)
        .into_iter()
        .enumerate()
    {
        let label = format!("{:>2}  {}", place + 1, prompt.short);
        let usual = skipped(prompt, answers, given);
        text.push_str(&hanging(&label, 22, &format!("{shown}{usual}")));
    }
    text.push_str("Enter looks for the builds; a number changes that answer. > ");
    desk.speller.text(&text)
}

fn left(out: &mut dyn Write) -> Result<bool, Failure> {
    say(out, "\nNothing was planned.\n")?;
    Ok(false)
}

fn say(out: &mut dyn Write, text: &str) -> Result<(), Failure> {
    let fail = |error: io::Error| Failure::new(format!("standard error: {error}"));
    out.write_all(text.as_bytes()).map_err(fail)?;
    out.flush().map_err(fail)
}

#[cfg(test)]
mod tests;
