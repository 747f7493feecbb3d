//! Warnings that are accepted with a reason: they stay listed and no longer count, but for
//! dangers.

use super::page::Page;
use super::talk::{Ask, Place, Talk};
use crate::rules::{self, RuleId};

impl Talk {
    /// Accepts the warning that is open; asks for the reason where none is given.
    pub(super) fn accept(&mut self, note: &str) -> Page {
        let (finding, topic) = match self.opened("accept") {
            Ok(opened) => opened,
            Err(page) => return page,
        };
        let first = self.now.findings.get(topic.first());
        if first.is_some_and(|one| one.accepted.is_some()) && note.is_empty() {
            return Page::of("It is accepted already. unaccept takes that back.");
        }
        match note {
            "" => {
                let ask = Ask::Note(finding.rule);
                self.places.push(Place::Ask(ask.clone()));
                self.asked(&ask)
            }
            note => self.keep(&finding.rule, Some(note)),
        }
    }

    /// The reason that was asked for.
    pub(super) fn accepted(&mut self, rule: &RuleId, note: &str) -> Page {
        self.places.pop();
        self.keep(rule, Some(note))
    }

    /// No longer accepts the warning that is open.
    pub(super) fn unaccept(&mut self) -> Page {
        match self.opened("unaccept") {
            Ok((finding, _)) => self.keep(&finding.rule, None),
            Err(page) => page,
        }
    }

    /// Writes down why a rule's warnings are accepted, or that they are no longer.
    fn keep(&mut self, rule: &RuleId, note: Option<&str>) -> Page {
        let mut build = self.build().clone();
        match note {
            Some(note) => {
                build
                    .accepted
                    .insert(rule.to_string(), note.trim().to_owned());
            }
            None if build.accepted.shift_remove(rule.as_str()).is_none() => {
                return self.not_done("it is not accepted.");
            }
            None => {}
        }
        match self.put(build) {
            Err(why) => self.not_done(&format!("{why}.")),
            Ok(_) => {
                let tally = rules::tally(&self.now.findings);
                Page::of(match note {
                    Some(_) => format!("Accepted; it stays listed. Now: {tally}."),
                    None => format!("No longer accepted. Now: {tally}."),
                })
            }
        }
    }
}
