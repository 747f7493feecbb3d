//! Warnings: listed, opened, mended, accepted. And safety notes, which no choice lifts.

use super::changing;
use super::page::Page;
use super::talk::{Place, Talk};
use crate::build::Edit;
use crate::explore::effect::same;
use crate::explore::remedy::{LOWERS_WISH, cure, lowers_wish};
use crate::explore::told;
use crate::rules::topics::Topic;
use crate::rules::{self, Finding, Severity};
use crate::screen::text::capital;
use crate::words::Words as _;

impl Talk {
    /// Lists them, the worst first.
    pub(super) fn warnings(&mut self) -> Page {
        let all = &self.now.findings;
        let mut page = Page::default();
        page.heading("Warnings");
        page.text(match all.is_empty() {
            true => "None: every rule is content.".to_owned(),
            false => format!("In all: {}. A number opens one.", rules::tally(all)),
        });
        let mut listed = Vec::new();
        for topic in self.about.topics() {
            let Some(first) = all.get(topic.first()) else {
                continue;
            };
            listed.push(first.clone());
            page.item(
                listed.len(),
                &format!("{}: {}.", said_of(first, topic), topic.title(all)),
            );
            topic.of(all).for_each(|one| page.under(&one.message));
        }
        let others = self.now.safety.len();
        page.text(format!(
            "Besides, {others} safety notes hold whatever is chosen: safety tells them."
        ));
        self.go(Place::Warnings(listed));
        page
    }

    /// The topic that a finding heads; none where it is gone.
    fn topic(&self, finding: &Finding) -> Option<Topic> {
        let all = &self.now.findings;
        let topics = self.about.topics().iter();
        let mut meant = topics.filter(|topic| topic.of(all).any(|one| same(one, finding)));
        meant.next().cloned()
    }

    /// Opens one: what it is, why it matters, what lifts it.
    pub(super) fn warning(&mut self, finding: Finding) -> Page {
        let Some(topic) = self.topic(&finding) else {
            return Page::of("This warning is gone. warnings lists those that are left.");
        };
        let all = &self.now.findings;
        let mut page = Page::default();
        let title = format!(
            "{}: {}",
            capital(&said_of(&finding, &topic)),
            topic.title(all)
        );
        page.heading(&title);
        topic.of(all).for_each(|one| page.text(&one.message));
        let accepted = all.get(topic.first()).and_then(|one| one.accepted.as_ref());
        if let Some(note) = accepted {
            let note = if note.is_empty() {
                "no reason given"
            } else {
                note
            };
            page.text(format!("Accepted: {note}. unaccept takes that back."));
            if finding.severity == Severity::Danger {
                page.text(COUNTS);
            }
        }
        let rule = finding.rule.told();
        page.text(format!("Why it matters: {}", rule.because));
        page.text(format!("What to do: {}", rule.instead));
        self.tell_remedy(&topic, &mut page);
        page.text(format!("What is watched: {}", rule.watches));
        page.text(format!("Where it comes from: {}", rule.from));
        if accepted.is_none() {
            let counts = match finding.severity {
                Severity::Danger => COUNTS,
                _ => "",
            };
            let keeps = "accept, with your reason behind it, keeps it as it is.";
            page.text(format!("{keeps} {counts}"));
        }
        self.go(Place::Warning(Box::new(finding)));
        page
    }

    /// What the remedy would change, and what that brings.
    fn tell_remedy(&self, topic: &Topic, page: &mut Page) {
        let edits = self.remedy(topic);
        if edits.is_empty() {
            page.text(
                "No remedy: no choice was found that lifts it without bringing something as bad.",
            );
        } else {
            let each = edits.iter().map(|edit| {
                let was = (edit.choice.get)(self.build());
                let was = edit.choice.show(&was, &self.catalogue);
                let will = edit.choice.show(&edit.value, &self.catalogue);
                format!("{} from {was} to {will}", edit.choice.title)
            });
            let each: Vec<String> = each.collect();
            page.text(format!(
                "Remedy: {}.{}",
                each.join("; "),
                self.brings(&edits)
            ));
        }
        let about = self.about.choices(topic.first());
        let names: Vec<String> = about
            .iter()
            .map(|choice| format!("{} ({})", choice.title, choice.id))
            .collect();
        if !names.is_empty() {
            page.text(format!(
                "Choices that it is about: {}. Type a name in brackets to open one.",
                names.join(", ")
            ));
        }
    }

    /// What edits cost, and which warnings they bring and lift.
    fn brings(&self, edits: &[Edit]) -> String {
        let mut build = self.build().clone();
        edits.iter().for_each(|edit| edit.apply(&mut build));
        let Ok(trial) = self.bench().trial(build) else {
            return String::new();
        };
        let bill = &trial.after.bill;
        let mut says = match bill.currency == self.now.bill.currency {
            true => format!(" It {}.", told::price(trial.price, bill.currency)),
            false => String::new(),
        };
        if let Some(warnings) = changing::warnings(&trial.added, &trial.lifted) {
            says.push_str(&format!(" {warnings}"));
        }
        if lowers_wish(edits) {
            says.push_str(&format!(" {LOWERS_WISH}"));
        }
        for (name, words) in told::losses(&self.bench(), edits, &trial.after) {
            let words = words.replace(" -> ", " to ");
            says.push_str(&format!(" Lost by that: {name}: {words}"));
        }
        says
    }

    /// The changes that lift a topic: of one rule on several axes, the first that any lifts.
    fn remedy(&self, topic: &Topic) -> Vec<Edit> {
        let bench = self.bench();
        let mut remedies = topic
            .of(&bench.before.findings)
            .map(|finding| cure(&bench, finding));
        remedies.find(|edits| !edits.is_empty()).unwrap_or_default()
    }

    /// The warning that is open, and its topic.
    pub(super) fn opened(&mut self, word: &str) -> Result<(Finding, Topic), Page> {
        let Place::Warning(finding) = self.place().clone() else {
            let why =
                format!("{word} goes with a warning: warnings lists them, a number opens one.");
            return Err(self.not_done(&why));
        };
        match self.topic(&finding) {
            Some(topic) => Ok((*finding, topic)),
            None => Err(self.not_done("this warning is gone already.")),
        }
    }

    /// Makes the changes that lift the warning.
    pub(super) fn lift(&mut self) -> Page {
        let (finding, topic) = match self.opened("lift") {
            Ok(opened) => opened,
            Err(page) => return page,
        };
        let edits = self.remedy(&topic);
        if edits.is_empty() {
            return self
                .not_done("no choice was found that lifts it without bringing something as bad.");
        }
        let mut page = self.make(&edits);
        if self.topic(&finding).is_none() {
            self.places.pop();
            page.then(self.left());
        }
        page
    }

    /// That warnings are left or none, after one is gone; the list behind holds those.
    fn left(&mut self) -> Page {
        let topics = self.about.topics();
        let listed = topics
            .iter()
            .filter_map(|topic| self.now.findings.get(topic.first()));
        let listed: Vec<Finding> = listed.cloned().collect();
        let says = match listed.is_empty() {
            true => "No warning is left. undo takes the change back.",
            false => "list says the warnings that are left; undo takes the change back.",
        };
        if let Some(Place::Warnings(known)) = self.places.last_mut() {
            *known = listed;
        }
        Page::of(says)
    }

    /// Opens the warning after one; behind the last, back to all of them.
    pub(super) fn next_warning(&mut self, finding: &Finding) -> Page {
        let all = &self.now.findings;
        let topics = self.about.topics();
        let here = topics
            .iter()
            .position(|topic| topic.of(all).any(|one| same(one, finding)));
        let next = here.and_then(|here| topics.get(here + 1));
        match next.and_then(|next| all.get(next.first())).cloned() {
            Some(next) => self.warning(next),
            None => {
                let mut page = Page::of("That was the last one.");
                page.then(self.warnings());
                page
            }
        }
    }

    /// Where the work can hurt, whatever is chosen.
    pub(super) fn safety(&self) -> Page {
        let mut page = Page::default();
        page.heading("Safety notes");
        page.text("No choice lifts these: they are about the work. Local codes and licensed practice come first.");
        for (place, note) in self.now.safety.iter().enumerate() {
            page.item(place + 1, &format!("{}.", note.title));
            page.under(note.text);
            page.under(format!("From: {}.", note.from));
        }
        page
    }
}

/// What is said where a danger is accepted.
const COUNTS: &str = "A danger counts all the same: nothing hides it.";

/// How bad, whether it follows from the one before, and whether somebody accepted it.
fn said_of(finding: &Finding, topic: &Topic) -> String {
    let follows = if topic.follows {
        "follows from that, "
    } else {
        ""
    };
    let accepted = if finding.accepted.is_some() {
        ", accepted"
    } else {
        ""
    };
    format!("{follows}{}{accepted}", finding.severity.title())
}
