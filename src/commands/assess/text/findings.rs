//! Findings as text: one entry for one cause, what follows from it indented below.

use unicode_width::UnicodeWidthStr as _;

use super::Extras;
use crate::assessment::Assessment;
use crate::build::Edit;
use crate::commands::color::Paint;
use crate::commands::layout::{hanging, painted};
use crate::explore::remedy::{Unfit, Why};
use crate::rules::topics::{Topic, topics};
use crate::rules::{self, Finding};
use crate::words::Words as _;

/// The columns that labels of findings take.
const INDENT: usize = 10;
/// The columns that the labels of what follows from a cause take.
const DEEPER: usize = 12;

/// Every entry, the worst first.
pub(super) fn findings(assessment: &Assessment, extras: &Extras, paint: Paint) -> String {
    let remedies = extras.remedies;
    let all = &assessment.findings;
    if all.is_empty() {
        return hanging("", 2, "None: every rule is content.");
    }
    let mut said = hanging("", 2, &format!("{}.", rules::tally(all)));
    // The remedies told in this entry: what lifts the cause often lifts what follows.
    let mut told = Vec::new();
    for topic in topics(all) {
        if !topic.follows {
            told.clear();
        }
        let new: Vec<String> = arguments(&topic, remedies)
            .filter(|remedy| !told.contains(remedy))
            .collect();
        if topic.follows {
            said.push_str(&follower(all, &topic, &new));
        } else {
            said.push('\n');
            said.push_str(&head(all, &topic, &new, paint));
            let mut places = topic.places.iter();
            let unfit = places.find_map(|place| extras.unfit.get(*place)?.as_ref());
            if let Some(unfit) = unfit {
                said.push_str(&hanging("  remedy", INDENT, &why_not(unfit)));
            }
        }
        told.extend(new);
    }
    said
}

/// The head of an entry: every message of its rule, and what to do.
fn head(all: &[Finding], topic: &Topic, remedies: &[String], paint: Paint) -> String {
    let mut said = String::new();
    for (number, finding) in topic.of(all).enumerate() {
        said.push_str(&match number {
            0 => {
                let word = paint.severity(finding.severity);
                let looks = finding.severity.title().width();
                painted(&word, looks, INDENT, &finding.message)
            }
            _ => hanging("", INDENT, &finding.message),
        });
    }
    let Some(first) = all.get(topic.first()) else {
        return said;
    };
    said.push_str(&hanging("  do", INDENT, first.rule.told().instead));
    for remedy in remedies {
        said.push_str(&hanging("  remedy", INDENT, remedy));
    }
    if let Some(note) = &first.accepted {
        let note = if note.is_empty() {
            "without a note"
        } else {
            note
        };
        said.push_str(&hanging("  accepted", DEEPER, note));
    }
    said + &hanging("  rule", INDENT, &first.rule)
}

/// Why what a rule names is not offered.
fn why_not(unfit: &Unfit) -> String {
    let edits: Vec<String> = unfit.edits.iter().map(as_argument).collect();
    let edits = edits.join(" ");
    match &unfit.why {
        Why::Stays => format!("not offered: {edits} does not lift it"),
        Why::Refused(why) => format!("not offered: {edits} cannot be chosen: {why}"),
        Why::Brings(new) => {
            let severity = new.severity.title();
            format!(
                "not offered: {edits} brings another {severity}: {}",
                new.message
            )
        }
    }
}

/// What follows from the head of its entry, in short.
fn follower(all: &[Finding], topic: &Topic, remedies: &[String]) -> String {
    let Some(first) = all.get(topic.first()) else {
        return String::new();
    };
    let note = match &first.accepted {
        Some(_) => ", accepted",
        None => "",
    };
    let text = format!("{}{note} ({})", topic.title(all), first.rule);
    let mut said = hanging("  also:", INDENT, &text);
    for remedy in remedies {
        said.push_str(&hanging("    remedy", DEEPER, remedy));
    }
    said
}

/// The remedies of a topic as they are typed in a shell, each once.
fn arguments<'a>(topic: &'a Topic, remedies: &'a [Vec<Edit>]) -> impl Iterator<Item = String> + 'a {
    let own = |place: &usize| remedies.get(*place).filter(|edits| !edits.is_empty());
    let all: Vec<&Vec<Edit>> = topic.places.iter().filter_map(own).collect();
    let text = |edits: &Vec<Edit>| edits.iter().map(as_argument).collect::<Vec<_>>().join(" ");
    let mut texts: Vec<String> = Vec::new();
    for edits in all {
        let text = text(edits);
        if !texts.contains(&text) {
            texts.push(text);
        }
    }
    texts.into_iter()
}

/// An edit as it is typed in a shell.
pub(super) fn as_argument(edit: &Edit) -> String {
    let pair = edit.to_string();
    if pair.contains(char::is_whitespace) {
        format!("--set '{pair}'")
    } else {
        format!("--set {pair}")
    }
}
