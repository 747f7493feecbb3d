//! Changes, and what they change: told after each one in a few lines.

use std::rc::Rc;

use super::page::Page;
use super::talk::{Place, Talk};
use crate::assessment::{Assessment, assess};
use crate::build::{Build, Edit};
use crate::explore::effect::missing_in;
use crate::explore::reading::Reading;
use crate::explore::told;
use crate::money::show as amounts;
use crate::rules::Finding;
use crate::screen::differences::differences;
use crate::screen::text::capital;
use crate::store::build_file::check_money;

impl Talk {
    /// Puts a changed build in place, and gives the assessment before.
    ///
    /// # Errors
    /// Why it cannot be taken; the build then stays as it was.
    pub(super) fn put(&mut self, build: Build) -> Result<Rc<Assessment>, String> {
        // What is saved must open again.
        check_money(&build, &self.catalogue)?;
        let after =
            assess(&self.catalogue, &build, self.today).map_err(|error| error.to_string())?;
        self.history.put(build);
        let before = std::mem::replace(&mut self.now, Rc::new(after));
        self.follow();
        Ok(before)
    }

    /// Makes edits together, as one step of undo, and tells what they change.
    pub(super) fn make(&mut self, edits: &[Edit]) -> Page {
        let before = self.build().clone();
        let mut build = before.clone();
        edits.iter().for_each(|edit| edit.apply(&mut build));
        if build == before {
            let already = edits.iter().map(|edit| {
                let value = edit.choice.show(&edit.value, &self.catalogue);
                format!("{} is {value} already. Nothing changed.", edit.choice.title)
            });
            return Page::of(already.collect::<Vec<_>>().join(" "));
        }
        match self.put(build) {
            Err(why) => self.not_done(&format!("{why}.")),
            Ok(was) => {
                let mut page = Page::default();
                for edit in edits {
                    page.text(self.turned(edit, &before));
                }
                page.then(self.changes(&was));
                page
            }
        }
    }

    /// An edit that was made: what the choice is now, and what it was.
    fn turned(&self, edit: &Edit, before: &Build) -> String {
        let value = |build| edit.choice.show(&(edit.choice.get)(build), &self.catalogue);
        let (was, is) = (value(before), value(self.build()));
        format!("{}: now {is}; it was {was}.", edit.choice.title)
    }

    /// What changed against an assessment: cost and figures in one line, warnings in another.
    pub(super) fn changes(&self, before: &Assessment) -> Page {
        let mut page = Page::default();
        page.text(self.figures_changed(before));
        let (was, is) = (&before.findings, &self.now.findings);
        let (new, gone) = (missing_in(is, was), missing_in(was, is));
        let tally = crate::rules::tally(is);
        let says = match warnings(&new, &gone) {
            Some(says) => format!("{says} Now: {tally}."),
            None => format!("Warnings as before: {tally}."),
        };
        page.text(says);
        page
    }

    fn figures_changed(&self, before: &Assessment) -> String {
        let (was, is) = (&before.bill, &self.now.bill);
        let cost = amounts::money(is.total.likely, is.currency);
        let mut says = match was.currency == is.currency {
            true => {
                let price = told::price(is.total.likely - was.total.likely, is.currency);
                format!("It {price}, {cost} in all.")
            }
            false => format!("It costs {cost} in all, in another currency than before."),
        };
        let moved = told::differing(&Reading::of(before), &Reading::of(&self.now)).into_iter();
        let moved = moved.filter(|(name, ..)| *name != "cost");
        let moved: Vec<String> = moved
            .map(|(name, from, to)| format!("{name} from {from} to {to}"))
            .collect();
        if !moved.is_empty() {
            says.push_str(&format!(" {}.", capital(&moved.join("; "))));
        }
        says
    }

    /// Takes the last change back, or makes it again.
    pub(super) fn turn_back(&mut self, back: bool) -> Page {
        let before = self.build().clone();
        let moved = match back {
            true => self.history.undo(),
            false => self.history.redo(),
        };
        if !moved {
            let what = if back { "take back" } else { "make again" };
            return self.not_done(&format!("there is nothing to {what}."));
        }
        // Every build of the history was assessed with the same catalogue and day before.
        let Ok(after) = assess(&self.catalogue, self.build(), self.today) else {
            return self.not_done("this build can no longer be assessed.");
        };
        let was = std::mem::replace(&mut self.now, Rc::new(after));
        self.follow();
        // Either way it is the change as it was made that is named.
        let (from, to) = match back {
            true => (self.build(), &before),
            false => (&before, self.build()),
        };
        let verb = if back { "Taken back" } else { "Made again" };
        let names = differences(&self.catalogue, from, to).join(", ");
        let mut page = Page::of(format!("{verb}: {names}."));
        page.then(self.changes(&was));
        page
    }

    /// After a choice was taken: back to its list, where Enter opens the next one.
    pub(super) fn taken(&mut self, mut page: Page) -> Page {
        if let Place::Choice(_) = self.place() {
            self.places.pop();
            if let Place::Step(step) = *self.place() {
                page.then(self.again(step));
            }
        }
        page
    }
}

/// What a change brings and lifts, in words; none where it does neither.
pub(super) fn warnings(new: &[Finding], gone: &[Finding]) -> Option<String> {
    let each = [("New", new), ("Gone", gone)].into_iter();
    let said = each.filter(|(_, findings)| !findings.is_empty());
    let said: Vec<String> = said
        .map(|(word, findings)| format!("{word}: {}.", told::warned(findings).join("; ")))
        .collect();
    (!said.is_empty()).then(|| said.join(" "))
}
